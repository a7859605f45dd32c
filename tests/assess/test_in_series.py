"""The bending of a post in series with its contact, on curves that are known in closed form."""

from dataclasses import replace

import numpy as np
import pytest

from contactfe.assess.beam import bends, post_stiffness
from contactfe.assess.in_series import whole_way
from contactfe.case import Section
from contactfe.hand import cantilever
from contactfe.solve.curve import ForceApproach
from tests.alongcases import STEEL, case

TUBE = Section("tube", 150.0, wall=30.0)


def power(stiffness: float, exponent: float = 1.0, end: float = 2000.0) -> ForceApproach:
    """q = kδⁿ up to ``end`` N/mm."""
    q = end * np.linspace(0.02, 1.0, 100) ** 2
    way = (q / stiffness) ** (1.0 / exponent)
    return ForceApproach(q, way, exponent * q / way)


def bare():
    """The case without [along]."""
    return replace(case(), along=None)


def test_an_even_load_adds_the_deflection_of_the_cantilever():
    of = bare()
    way = whole_way(of, TUBE, power(1e4, 1.1))
    c, L = of.effective_length, of.cantilever.length
    for q in (3.0, 400.0, 1234.5):
        bent = cantilever.deflection(q * c, L, 150.0, 90.0, 210e3, 0.3)
        travel = (q / 1e4) ** (1 / 1.1) + bent
        # Cubics in logarithms between 100 points.
        assert way.curve.line_load_at(travel) == pytest.approx(q, rel=2e-5)
        assert way.bending_at(travel) == pytest.approx(bent, rel=1e-3)
        assert way.peak_over_mean(q) == 1.0
    tangent = 1 / (1 / (1.1 * 1234.5 / (1234.5 / 1e4) ** (1 / 1.1)) + bent / 1234.5)
    assert way.curve.tangent_at(travel) == pytest.approx(tangent, rel=1e-4)
    assert post_stiffness(of, TUBE) == pytest.approx(1234.5 * c / bent, rel=1e-12)


def test_without_a_cantilever_on_one_plate_nothing_is_added():
    curve = power(1e4)
    for of, section in (
        (replace(bare(), cantilever=None), TUBE),
        (bare(), replace(TUBE, held_by="opposed")),
        (bare(), replace(TUBE, held_by="stiff core")),
        (bare(), replace(TUBE, mesh="drawn.msh")),
    ):
        assert not bends(of, section)
        way = whole_way(of, section, curve)
        assert way.curve is curve
        assert not way.bending.any()


class TestAgainstATiltedPlate:
    """A post so stiff that it does not bend: a wedge pressed into a bed of springs."""

    k, tilt, c = 4000.0, 0.002, 200.0

    def way(self):
        stiff = {**STEEL, "young": "1e9 GPa"}
        of = case(
            post={"held_by": "beam shear", **stiff}, along={"tilt": f"{self.tilt} rad"},
            load={"force": "150 kN", "effective_length": f"{self.c} mm"},
        )  # fmt: skip
        return whole_way(of, TUBE, power(self.k))

    @pytest.mark.parametrize("share", [0.2, 0.6, 0.95])
    def test_in_part(self, share):
        touching = share * self.c
        q = self.k * self.tilt * touching**2 / (2 * self.c)
        curve = self.way().curve
        # Thirty forces, and a kink in the slope where the wedge touches as a whole.
        assert curve.approach_at(q) == pytest.approx(self.tilt * touching, rel=3e-3)
        # The ratio is read off straight lines between the forces.
        assert self.way().peak_over_mean(q) == pytest.approx(2 * self.c / touching, rel=1e-2)

    def test_as_a_whole(self):
        way, half = self.way(), self.tilt * self.c / 2
        # The end is where the peak is that of the law's: 2000 N/mm.
        mean = 2000.0 - self.k * half
        assert way.curve.line_load[-1] == pytest.approx(mean, rel=2e-3)
        assert way.peak[-1] <= 2000.0
        q = 0.9 * mean
        assert way.curve.approach_at(q) == pytest.approx(q / self.k + half, rel=1e-3)
        assert way.peak_over_mean(q) == pytest.approx(1 + self.k * half / q, rel=1e-3)


def test_a_straight_plate_is_touched_nearer_the_root_and_gives_way_less():
    of = case(along={})
    curve = power(4000.0)
    along, even = whole_way(of, TUBE, curve), whole_way(replace(of, along=None), TUBE, curve)
    q = along.curve.line_load[-1] / 2
    assert along.peak_over_mean(q) > 1.2
    assert curve.approach_at(q) < along.curve.approach_at(q) < even.curve.approach_at(q)
    # The travel is the post's deflection and the approach in the middle of the contact, of which
    # the second is negative where they have parted there.
    travel = float(along.curve.approach_at(q))
    assert along.bending_at(travel) > 0.0
    # Work: the slope is that of the travel itself.
    h = 1e-3 * q
    two = along.curve.approach_at([q - h, q + h])
    slope = 2 * h / float(np.diff(two)[0])
    assert along.curve.tangent_at(travel) == pytest.approx(slope, rel=1e-4)
