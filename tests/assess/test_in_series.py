"""The bending of a post in series with its contact, on curves that are known in closed form."""

from dataclasses import replace

import numpy as np
import pytest

from contactfe.assess.beam import bends, post_stiffness
from contactfe.assess.in_series import tilts, whole_way
from contactfe.case import Corner, Section
from contactfe.hand import cantilever
from contactfe.solve.curve import ForceApproach
from tests.alignments import STEEL, case

TUBE = Section("tube", 150.0, wall=30.0)


def power(stiffness: float, exponent: float = 1.0, end: float = 2000.0) -> ForceApproach:
    """q = kδⁿ up to ``end`` N/mm."""
    q = end * np.linspace(0.02, 1.0, 100) ** 2
    approach = (q / stiffness) ** (1.0 / exponent)
    return ForceApproach(q, approach, exponent * q / approach)


def short(length: str = "20 mm"):
    """A post of 450 mm whose contact has that length."""
    return case(alignment=None, load={"force": "15 kN", "contact_length": length})


def test_a_soft_contact_bears_evenly():
    """In series with the cantilever: δ = q/k + qc (L³/3EI + L/κGA)."""
    of, k, q = short(), 1.0, 700.0
    way = whole_way(of, TUBE, power(k))
    bent = cantilever.deflection(q * 20.0, 450.0, 150.0, 90.0, 210e3, 0.3)
    displacement = float(way.curve.approach_at(q))
    # The contact gives way by 700 mm, evenly but for what the post turns over 20 mm.
    assert displacement - q / k == pytest.approx(bent, rel=2e-3)
    assert way.bending_at(displacement) == pytest.approx(bent, rel=2e-3)
    assert way.peak_over_mean(q) == pytest.approx(1.0, abs=1e-4)
    assert post_stiffness(of, TUBE) == pytest.approx(q * 20.0 / bent, rel=1e-12)
    slope = 1 / (1 / k + bent / q)
    assert way.curve.tangent_at(displacement) == pytest.approx(slope, rel=1e-4)


def test_a_stiff_contact_bears_at_its_edge_towards_the_root():
    """The cantilever alone, struck half the contact's length nearer the root."""
    q, c = 700.0, 160.0
    way = whole_way(short("160 mm"), TUBE, power(1e7))
    edge = cantilever.deflection(q * c, 450.0 - c / 2, 150.0, 90.0, 210e3, 0.3)
    # The patch is a few millimetres long, and the contact itself gives a little.
    assert way.curve.approach_at(q) == pytest.approx(edge, rel=2e-2)
    even = cantilever.deflection(q * c, 450.0, 150.0, 90.0, 210e3, 0.3)
    assert edge < 0.65 * even


def test_without_a_cantilever_on_one_plate_nothing_is_added():
    curve = power(1e4)
    for of, section in (
        (replace(short(), cantilever=None), TUBE),
        (replace(short(), corner=Corner(100.0)), TUBE),
        (short(), replace(TUBE, held_by="diametral")),
        (short(), replace(TUBE, held_by="rigid core")),
        (short(), replace(TUBE, mesh="drawn.msh")),
    ):
        assert not bends(of, section)
        assert tilts(replace(of, alignment=case().alignment), section) == (0.0,)
        way = whole_way(of, section, curve)
        assert way.curve is curve
        assert way.peak_over_mean(500.0) == 1.0
        assert not way.bending.any()


class TestAgainstATiltedPlate:
    """A post so stiff that it does not bend: a wedge pressed into a bed of springs."""

    k, tilt, c = 4000.0, 0.002, 200.0

    def way(self, tilt=tilt):
        stiff = {**STEEL, "young": "1e9 GPa"}
        of = case(
            post={"held_by": "beam shear", **stiff}, alignment=None,
            load={"force": "150 kN", "contact_length": f"{self.c} mm"},
        )  # fmt: skip
        return whole_way(of, TUBE, power(self.k), tilt)

    @pytest.mark.parametrize("share", [0.2, 0.6, 0.95])
    def test_in_part(self, share):
        touching = share * self.c
        q = self.k * self.tilt * touching**2 / (2 * self.c)
        curve = self.way().curve
        # Thirty forces, and a kink in the slope where the wedge touches as a whole.
        assert curve.approach_at(q) == pytest.approx(self.tilt * touching, rel=3e-3)
        # The ratio is read off straight lines between the forces.
        assert self.way().peak_over_mean(q) == pytest.approx(2 * self.c / touching, rel=1e-2)

    def test_the_other_way_round_it_is_the_same(self):
        one, other = self.way(), self.way(-self.tilt)
        # Thirty forces of the same problem in a mirror.
        assert other.curve.approach == pytest.approx(one.curve.approach, rel=1e-6)
        assert other.curve.line_load == pytest.approx(one.curve.line_load, rel=1e-6)

    def test_as_a_whole(self):
        way, half = self.way(), self.tilt * self.c / 2
        q = 1800.0
        assert way.curve.approach_at(q) == pytest.approx(q / self.k + half, rel=1e-3)
        assert way.peak_over_mean(q) == pytest.approx(1 + self.k * half / q, rel=1e-3)
        # Slices may be pressed past the end of the section's curve, the mean may not.
        assert way.curve.line_load[-1] == pytest.approx(2000.0)
        assert way.peak[-1] == pytest.approx(2000.0 + self.k * half, rel=1e-3)

    def test_it_may_lean_either_way(self):
        of = case(alignment={"tilt": "0.3 deg", "misalignment": "0.1 deg"})
        assert np.rad2deg(tilts(of, TUBE)) == pytest.approx([0.3, 0.2, 0.4])
        assert np.rad2deg(tilts(case(alignment={"tilt": "0.3 deg"}), TUBE)) == pytest.approx([0.3])
        assert tilts(short(), TUBE) == (0.0,)
