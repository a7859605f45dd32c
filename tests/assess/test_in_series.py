"""The bending of a post in series with its contact, on curves that are known in closed form."""

from dataclasses import replace

import numpy as np
import pytest

from contactfe.assess.beam import bends, post_stiffness
from contactfe.assess.in_series import InSeries, in_series, tilts
from contactfe.case import Corner, Section
from contactfe.hand import cantilever
from contactfe.solve.force_approach import ForceApproach
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
    found = in_series(of, TUBE, power(k))
    bent = cantilever.deflection(q * 20.0, 450.0, 150.0, 90.0, 210e3, 0.3)
    displacement = float(found.curve.approach_at(q))
    # The contact gives way by 700 mm, evenly but for what the post turns over 20 mm.
    assert displacement - q / k == pytest.approx(bent, rel=2e-3)
    assert found.bending_at(displacement) == pytest.approx(bent, rel=2e-3)
    assert found.peak_at(q) == pytest.approx(q, rel=1e-4)
    assert post_stiffness(of, TUBE) == pytest.approx(q * 20.0 / bent, rel=1e-12)
    slope = 1 / (1 / k + bent / q)
    assert found.curve.tangent_at(displacement) == pytest.approx(slope, rel=1e-4)


def test_a_stiff_contact_bears_at_its_edge_towards_the_root():
    """The cantilever alone, struck half the contact's length nearer the root."""
    q, c = 700.0, 160.0
    found = in_series(short("160 mm"), TUBE, power(1e7))
    edge = cantilever.deflection(q * c, 450.0 - c / 2, 150.0, 90.0, 210e3, 0.3)
    # The patch is a few millimetres long, and the contact itself gives a little.
    assert found.curve.approach_at(q) == pytest.approx(edge, rel=2e-2)
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
        found = in_series(of, section, curve)
        assert found.curve is curve
        assert found.peak_at(500.0) == 500.0
        assert not found.bending.any()


class TestAgainstATiltedPlate:
    """A post so stiff that it does not bend: a wedge pressed into a bed of springs."""

    k, tilt, c = 4000.0, 0.002, 200.0

    def pressed(self, tilt=tilt):
        stiff = {**STEEL, "young": "1e9 GPa"}
        of = case(
            post={"held_by": "beam shear", **stiff}, alignment=None,
            load={"force": "150 kN", "contact_length": f"{self.c} mm"},
        )  # fmt: skip
        return in_series(of, TUBE, power(self.k), tilt)

    @pytest.mark.parametrize("share", [0.2, 0.6, 0.95])
    def test_in_part(self, share):
        touching = share * self.c
        q = self.k * self.tilt * touching**2 / (2 * self.c)
        curve = self.pressed().curve
        # Thirty forces, and a kink in the slope where the wedge touches as a whole.
        assert curve.approach_at(q) == pytest.approx(self.tilt * touching, rel=3e-3)
        # The ratio is read off straight lines between the forces.
        assert self.pressed().peak_at(q) == pytest.approx(q * 2 * self.c / touching, rel=1e-2)

    def test_the_other_way_round_it_is_the_same(self):
        one, other = self.pressed(), self.pressed(-self.tilt)
        # Thirty forces of the same problem in a mirror.
        assert other.curve.approach == pytest.approx(one.curve.approach, rel=1e-6)
        assert other.curve.line_load == pytest.approx(one.curve.line_load, rel=1e-6)

    def test_as_a_whole(self):
        found, half = self.pressed(), self.tilt * self.c / 2
        q = 1800.0
        assert found.curve.approach_at(q) == pytest.approx(q / self.k + half, rel=1e-3)
        assert found.peak_at(q) == pytest.approx(q + self.k * half, rel=1e-3)
        # Slices may be pressed past the end of the section's curve, the mean may not.
        assert found.curve.line_load[-1] == pytest.approx(2000.0)
        assert found.peak[-1] == pytest.approx(2000.0 + self.k * half, rel=1e-3)

    def test_it_may_lean_either_way(self):
        of = case(alignment={"tilt": "0.3 deg", "misalignment": "0.1 deg"})
        assert np.rad2deg(tilts(of, TUBE)) == pytest.approx([0.3, 0.2, 0.4])
        assert np.rad2deg(tilts(case(alignment={"tilt": "0.3 deg"}), TUBE)) == pytest.approx([0.3])
        assert tilts(short(), TUBE) == (0.0,)


def test_a_post_that_hardly_bends_leaves_the_curve_what_it_is():
    stiff = {**STEEL, "young": "1e12 GPa"}
    of = case(
        post={"held_by": "beam shear", **stiff}, alignment=None,
        load={"force": "150 kN", "contact_length": "200 mm"},
    )  # fmt: skip
    curve = power(4000.0, 1.2)
    found = in_series(of, TUBE, curve)
    q = np.linspace(0.0, 2000.0, 50)
    assert found.curve.approach_at(q) == pytest.approx(curve.approach_at(q), rel=1e-6)
    assert found.peak == pytest.approx(found.curve.line_load, rel=1e-6)
    assert np.all(found.bending < 1e-6 * found.curve.approach)


def test_the_peak_line_load_is_that_of_the_curve():
    """Twice the mean at 100 N/mm and 1.5 times at 200; straight between."""
    q = np.array([100.0, 200.0])
    curve = ForceApproach(q, q / 1e3, 0.0 * q + 1e3)
    series = InSeries(curve, np.array([200.0, 300.0]), 0.0 * q)
    assert series.peak_at(150.0) == pytest.approx(1.75 * 150.0)
    assert series.peak_at(250.0) == pytest.approx(1.5 * 250.0)
    # Under 200 N/mm at most 100 of mean.
    assert series.law_up_to(200.0, 1200.0).end == pytest.approx(0.1)
