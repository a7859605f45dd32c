"""The bending of a post in series with its contact, on curves that are known in closed form.

In plane stress where it is that of a beam: there the neighbours of a slice are left out.
"""

from dataclasses import replace

import numpy as np
import pytest
from alignments import STEEL, case

from contactfe.assess.along import posts_along
from contactfe.assess.beam import beam_of, bends, post_stiffness
from contactfe.assess.bodies import Bodies
from contactfe.assess.in_series import InSeries, in_series, tilts
from contactfe.case import Corner, Section
from contactfe.hand import cantilever
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import press

TUBE = Section("tube", 150.0, wall=30.0)


def power(stiffness: float, exponent: float = 1.0, end: float = 2000.0) -> ForceApproach:
    """q = kδⁿ up to ``end`` N/mm."""
    q = end * np.linspace(0.02, 1.0, 100) ** 2
    approach = (q / stiffness) ** (1.0 / exponent)
    return ForceApproach(q, approach, exponent * q / approach)


BEAM = {"state": "plane stress"}


def short(length: str = "20 mm", **tables):
    """A post of 450 mm whose contact has that length."""
    load = {"force": "15 kN", "contact_length": length}
    return case(**{"alignment": None, "load": load, "model": BEAM} | tables)


def series(of, section, curve, tilt=0.0):
    return in_series(of, section, Bodies(of), curve, tilt)


def test_a_soft_contact_bears_evenly():
    """In series with the cantilever: δ = q/k + qc (L³/3EI + L/κGA)."""
    of, k, q = short(), 1.0, 700.0
    found = series(of, TUBE, power(k))
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
    found = series(short("160 mm"), TUBE, power(1e7))
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
        found = series(of, section, curve)
        assert found.curve is curve
        assert found.peak_at(500.0) == 500.0
        assert not found.bending.any()


class TestAgainstATiltedPlate:
    """A post so stiff that it does not bend: a wedge pressed into a bed of springs."""

    k, tilt, c = 4000.0, 0.002, 200.0

    def pressed(self, tilt=tilt):
        stiff = {**STEEL, "young": "1e9 GPa"}
        of = case(
            post={"held_by": "beam shear", **stiff}, alignment=None, model=BEAM,
            load={"force": "150 kN", "contact_length": f"{self.c} mm"},
        )  # fmt: skip
        return series(of, TUBE, power(self.k), tilt)

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
        post={"held_by": "beam shear", **stiff}, alignment=None, model=BEAM,
        load={"force": "150 kN", "contact_length": "200 mm"},
    )  # fmt: skip
    curve = power(4000.0, 1.2)
    found = series(of, TUBE, curve)
    q = np.linspace(0.0, 2000.0, 50)
    assert found.curve.approach_at(q) == pytest.approx(curve.approach_at(q), rel=1e-6)
    assert found.peak == pytest.approx(found.curve.line_load, rel=1e-6)
    assert np.all(found.bending < 1e-6 * found.curve.approach)


@pytest.fixture(scope="module")
def bodies():
    """Made once: what they are kept under knows no tip."""
    return Bodies(short("160 mm", model={"state": "plane strain"}))


class TestOfAPostInThreeDimensions:
    """Its slices share their ring bending, which a curve of a slice has in full."""

    q, curve = 700.0, power(1e4, 1.05)

    def of(self, **tables):
        return short("160 mm", model={"state": "plane strain"}, **tables)

    def tipped(self, tip):
        return self.of(cantilever={"length": "450 mm", "tip": tip})

    @pytest.mark.parametrize("tilt", [0.0, 0.004])
    def test_it_is_pressed_with_the_contact_alone_and_its_own_influence(self, bodies, tilt):
        of = self.tipped("80 mm")
        (post,) = posts_along(of, TUBE, bodies, bent=True)
        found = in_series(of, TUBE, bodies, self.curve, tilt)
        ring = float(post.bar.prism.slices[0, 0])
        assert 0.05 < ring * 1e4 < 0.5  # a good part of the curve's compliance, and less than it
        alone = replace(self.curve, past_end="tangent").without(ring)
        pressed = press(
            beam_of(of, TUBE), alone, self.q * 160.0, 450.0, 160.0, tilt, given=post.bar.influence
        )
        at = float(found.curve.approach_at(self.q))
        # Fifty forces; where the plate is tilted the post parts from it under the least of them.
        assert found.peak_at(self.q) == pytest.approx(pressed.line_load.max(), rel=2e-3)
        bent = float(np.interp(450.0, pressed.z, pressed.deflection))
        assert found.bending_at(at) == pytest.approx(bent, rel=2e-3)

    def test_where_its_tip_is_not_known_it_is_the_stiffer(self, bodies):
        """What stands beyond the contact holds the end of it round, which is little of the bend."""
        flush, far, either = (
            in_series(of, TUBE, bodies, self.curve).curve.end
            for of in (self.tipped("80 mm"), self.tipped("2 m"), self.of())
        )
        assert either == far < flush

    def test_of_a_solid_it_is_the_beam_within_little(self):
        """No ring to share: what is left is the shear of a short beam and its clamped root."""
        solid = Section("solid", 150.0)
        beam = series(short("160 mm"), solid, self.curve)
        found = series(self.tipped("80 mm"), solid, self.curve)
        assert found.curve.end == pytest.approx(beam.curve.end, rel=0.03)


def test_the_peak_line_load_is_that_of_the_curve():
    """Twice the mean at 100 N/mm and 1.5 times at 200; straight between."""
    q = np.array([100.0, 200.0])
    curve = ForceApproach(q, q / 1e3, 0.0 * q + 1e3)
    series = InSeries(curve, np.array([200.0, 300.0]), 0.0 * q)
    assert series.peak_at(150.0) == pytest.approx(1.75 * 150.0)
    assert series.peak_at(250.0) == pytest.approx(1.5 * 250.0)
    # Under 200 N/mm at most 100 of mean.
    assert series.law_up_to(200.0, 1200.0).end == pytest.approx(0.1)
