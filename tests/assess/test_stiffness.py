"""Stiffness of a section: beside closed forms, its shares, and what stands for it elsewhere."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from bodies import case
from motions import FIXED, moving, of_sections
from restated import restated

import contactfe.assess.stiffness as stiffness_module
from contactfe.assess.bodies import Bodies
from contactfe.assess.follow import follow_load, square, times_allowed
from contactfe.assess.gap_element import linear, power_law, table
from contactfe.assess.in_series import in_series
from contactfe.assess.shares import shares
from contactfe.assess.stiffness import _at_load, force_approach, section_stiffness, stiffness
from contactfe.case import Cantilever, Corner
from contactfe.case.impact import peak_force
from contactfe.errors import InputError, SolveError
from contactfe.hand import approach, approach_hold, hertz, strip, strip_deflection
from contactfe.section.grading import Patch
from contactfe.solve.force_approach import ForceApproach

E, NU, STATE = 200e3, 0.3, "plane strain"
E_STAR = float(hertz.contact_modulus(E, NU, E, NU, STATE))
RADIUS, LOAD = 75.0, 600.0


def followed(of, most=1.25, bodies=None):
    """The first section on the coarse level, which is as good as the fine one but for its peak."""
    return follow_load(of, of.sections[0], bodies or Bodies(square(of)), most=most, scale=2.0)


@pytest.fixture(scope="module")
def solid():
    return case([(2 * RADIUS, None)], line_load=LOAD, plate=(900.0, 150.0))


@pytest.fixture(scope="module")
def bodies(solid):
    """Meshed once for all that is asked of the solid on its bed."""
    return Bodies(solid)


@pytest.fixture(scope="module")
def on_the_bed(solid, bodies):
    return followed(solid, bodies=bodies)


@pytest.fixture(scope="module")
def assessed(solid, bodies):
    return section_stiffness(solid, solid.sections[0], bodies, points=40)


def two_bodies(q):
    """Post to its hold and plate to its base, by hand."""
    a = hertz.half_width(q, RADIUS, E_STAR)
    post = approach_hold.solid(q, RADIUS, a, E, NU, "beam shear", STATE)
    return post + approach.layer(q, 150.0, a, E, NU, STATE)


def test_a_solid_on_a_bed_is_the_two_bodies_of_the_hand_formulas(on_the_bed):
    for times in (0.2, 0.5, 1.0, 1.25):
        q = times * LOAD
        # 0.02 % measured at 4 elements in a half-width, 0.1 % at the 2 of a fifth of the load.
        off = 2e-3 if times < 0.5 else 5e-4
        assert on_the_bed.curve.approach_at(q) == pytest.approx(two_bodies(q), rel=off)
        slope = 2e-3 * q / (two_bodies(1.001 * q) - two_bodies(0.999 * q))
        at = on_the_bed.curve.approach_at(q)
        assert on_the_bed.curve.tangent_at(at) == pytest.approx(slope, rel=2e-3)


def test_a_solid_on_a_bed_has_no_ring_and_no_bending(on_the_bed):
    for times in (0.3, 1.0):
        parts = shares(on_the_bed, times)
        # A tenth of a percent of the whole; at 0.3 the half-width is known to a fifth of one.
        assert abs(parts.ring) < 1e-3 * parts.total
        assert abs(parts.plate_bending) < 1e-3 * parts.total
        assert parts.contact == pytest.approx(parts.total, rel=1e-3)
        assert parts.total == pytest.approx(on_the_bed.curve.approach_at(times * LOAD), rel=1e-12)


def test_each_body_has_its_own_steel_and_the_post_its_own_hold():
    """A solid pressed from both sides, on a bed half as stiff: still neither ring nor bending."""
    of = case(
        [(2 * RADIUS, None)], line_load=LOAD, plate=(900.0, 150.0), held_by="diametral",
        plate_young=E / 2,
    )  # fmt: skip
    parts = shares(followed(of), 1.0)
    assert abs(parts.ring) < 1e-3 * parts.total
    assert abs(parts.plate_bending) < 1e-3 * parts.total


@pytest.mark.parametrize(
    ("held_by", "factor"),
    # Work of the bending moment of a thin ring, ∫M² R dφ/(E'I q²), with M/(qR) after Roark, 7th
    # ed., Table 9.2 (from memory, not seen): diametral, a side of it, cos φ/2 less its mean 1/π;
    # beam shear (1 + cos φ/2 − (π − φ) sin φ)/(2π) with φ from the load.
    [("diametral", np.pi / 8 - 1 / np.pi), ("beam shear", np.pi / 12 - 11 / (16 * np.pi))],
)
def test_of_a_thin_tube_the_ring_is_that_of_a_thin_ring(held_by, factor):
    wall, q = 5.0, 60.0
    tube = followed(case([(2 * RADIUS, wall)], line_load=q, held_by=held_by))
    stiffness = E / (1 - NU**2) * wall**3 / 12
    ring = factor * q * (RADIUS - wall / 2) ** 3 / stiffness
    # h/R = 0.07: thin rings leave out shear and thrust, 0.9 % measured under beam shear.
    assert shares(tube, 1.0).ring == pytest.approx(ring, rel=1.5e-2)


def test_on_elastic_supports_the_rest_is_how_the_plate_bends_and_settles(monkeypatch):
    spring, q, at = 900.0, 300.0, 60.0
    of = case(
        [(2 * RADIUS, None)], line_load=q, plate=(480.0, 50.0), plate_held="elastic supports",
        offset=at, spring=spring,
    )  # fmt: skip
    D = strip.bending_stiffness(50.0, E, NU, STATE)
    S = strip.shear_stiffness(50.0, E, NU)
    bent = float(strip_deflection.deflection(at, q, 480.0, at, "supported", D, S))
    settled = float(strip_deflection.settlement(at, q, 480.0, at, spring))
    # The beam's shear coefficient under a line load is no better than that; 1.4 % measured.
    found = followed(of)
    parts = shares(found, 1.0)
    assert parts.plate_bending - settled == pytest.approx(bent, rel=2e-2)
    # Down to its back only: what the back does is the bending.
    a = found.patch(1.0).half_width
    assert parts.contact_plate == pytest.approx(float(approach.strip(q, 50.0, a, E, NU, STATE)))
    # What the plate moves on its supports as a rigid body, in proportion to the load, is no
    # displacement that must be small: that of the rest would allow 0.8 of the curve.
    gives = float(found.curve.approach_at(1.25 * q)) - 1.25 * settled
    monkeypatch.setattr("contactfe.assess.follow.LARGEST_DISPLACEMENT", 0.8 * gives / RADIUS)
    assert times_allowed(found) == pytest.approx(0.8 * 1.25, rel=1e-4)


def test_lengths_and_loads_times_as_much_give_an_approach_as_much_more(on_the_bed):
    twice = case([(4 * RADIUS, None)], line_load=2 * LOAD, plate=(1800.0, 300.0))
    small, large = on_the_bed.curve, followed(twice).curve
    q = np.geomspace(0.1, 1.25, 9) * LOAD
    # The half-width is on the same grid of ratios, so the meshes differ by what gmsh rounds.
    assert large.approach_at(2 * q) == pytest.approx(2 * small.approach_at(q), rel=3e-4)
    slopes = (c.tangent_at(c.approach_at(n * q)) for c, n in ((large, 2), (small, 1)))
    assert next(slopes) == pytest.approx(next(slopes), rel=1e-3)


def test_friction_and_angle_are_left_out(on_the_bed, solid, bodies):
    rough = replace(solid, contact=replace(solid.contact, friction=0.3, angle=0.2))
    curve = force_approach(rough, rough.sections[0], bodies, scale=2.0)
    assert curve.approach == pytest.approx(on_the_bed.curve.approach, rel=1e-12)


def test_far_past_the_load_the_mesh_goes_along(solid):
    far = followed(solid, most=4.0)
    assert far.curve.line_load[-1] == pytest.approx(4 * LOAD)
    assert far.patch(4.0).half_width < 1.25 * far.level.patches[0].half_width
    q = np.array([1.0, 2.5, 4.0]) * LOAD
    assert far.curve.approach_at(q) == pytest.approx(two_bodies(q), rel=1e-3)


def test_a_patch_counts_from_where_seventeen_nodes_touch(on_the_bed):
    first = on_the_bed.resolved
    assert 0.0 < first < 1.0
    touching = [
        np.count_nonzero(on_the_bed.state(times * first)[0]) for times in (1 - 1e-6, 1 + 1e-6)
    ]
    assert touching[0] < 17 <= touching[1]


@pytest.mark.parametrize("wrong", [Patch(0.0, 1.1), Patch(0.3, 0.73)])
def test_a_patch_that_was_expected_elsewhere_or_wider_is_meshed_for_anew(solid, bodies, wrong):
    """Hertz's is 0.73 mm wide, in the middle."""
    found = follow_load(solid, solid.sections[0], bodies, scale=2.0, expected=(wrong,))
    (meshed,) = found.level.patches
    a = float(hertz.half_width(LOAD, RADIUS, E_STAR))
    assert meshed.half_width == pytest.approx(a, rel=0.15)
    assert abs(meshed.centre) < 0.15 * a


def test_in_a_corner_both_loads_grow_and_the_first_plate_counts():
    both = case([(2 * RADIUS, None)], line_load=LOAD, plate=(900.0, 150.0), corner=400.0)
    found = followed(both)
    curve = found.curve
    # Each plate has its own patch, by Hertz: the nodes of the second are not those of the first.
    for number, q in enumerate((LOAD, 400.0)):
        a = float(hertz.half_width(q, RADIUS, E_STAR))
        assert found.patch(1.0, number).half_width == pytest.approx(a, rel=0.01)
    assert curve.line_load[-1] == pytest.approx(1.25 * LOAD)
    # The second plate presses the post out towards the first by some 2 % of the approach, so the
    # first has less to go; alone it would have all of it.
    assert 0.95 < float(curve.approach_at(LOAD) / two_bodies(LOAD)) < 0.995


def test_a_curve_past_the_range_of_the_model_is_refused_or_ends_early(solid):
    # A patch of a tenth of the radius is the most: this one has 0.095 of it.
    heavy = restated(solid, line_load=float(np.pi * E_STAR * RADIUS * 0.095**2 / 4))
    section = heavy.sections[0]
    with pytest.raises(InputError, match=r" 1\.25 times .* 1\.\d+ times"):
        force_approach(heavy, section, Bodies(heavy), scale=2.0)
    allowed = times_allowed(followed(heavy))
    assert allowed == pytest.approx((0.1 / 0.095) ** 2, rel=3e-2)  # as a/R is no longer small
    assert force_approach(heavy, section, Bodies(heavy), most=1.05, scale=2.0) is not None
    with pytest.raises(InputError, match=r"half-width of 0\.1"):
        followed(restated(heavy, line_load=1.5 * heavy.line_load))
    with pytest.raises(InputError, match=r" 1 times .*0\.5"):
        force_approach(solid, solid.sections[0], Bodies(solid), most=0.5)


def test_a_displacement_past_the_range_of_the_model_is_refused(solid, bodies, monkeypatch):
    monkeypatch.setattr("contactfe.assess.limits.LARGEST_DISPLACEMENT", 1e-4)
    with pytest.raises(InputError, match=r"give way by 0\.0198"):
        followed(solid, bodies=bodies)
    monkeypatch.undo()
    # It grows with the load: 0.0248 mm at the end of the curve, 0.00025 of the radius.
    monkeypatch.setattr("contactfe.assess.follow.LARGEST_DISPLACEMENT", 3e-4)
    displacement = 1.25 * 3e-4 * RADIUS / float(two_bodies(1.25 * LOAD))
    assert times_allowed(followed(solid, bodies=bodies)) == pytest.approx(displacement, rel=1e-3)
    shorter = section_stiffness(solid, solid.sections[0], bodies, points=10)
    assert shorter.ends_at == pytest.approx(0.98 * displacement, rel=1e-3)
    assert shorter.curve.line_load[-1] == pytest.approx(shorter.ends_at * LOAD)
    # The levels are put side by side at equal loads, though one goes further: 0.6 % is what the
    # uncertainty comes to where few nodes touch.
    assert np.all(shorter.uncertainties < 0.02 * shorter.curve.approach)
    # Where hardly more than the load is allowed the curve ends at the load itself.
    monkeypatch.setattr("contactfe.assess.stiffness.times_allowed", lambda _: 1.01)
    assert section_stiffness(solid, solid.sections[0], bodies, points=10).ends_at == 1.0


class TestOfASection:
    def test_figures_at_the_load_are_those_of_the_curve(self, assessed):
        curve, d = assessed.curve, assessed.approach.value
        assert (
            len(curve.line_load) == len(assessed.curve_shares) == len(assessed.uncertainties) == 40
        )
        assert assessed.ends_at == pytest.approx(curve.line_load[-1] / LOAD) == 1.25
        assert d == pytest.approx(float(curve.approach_at(LOAD)))
        assert assessed.tangent_stiffness.value == pytest.approx(float(curve.tangent_at(d)))
        assert assessed.secant_stiffness.value == pytest.approx(LOAD / d)
        assert assessed.linear.stiffness == pytest.approx(LOAD / d)
        assert assessed.points.line_load[-2:] == pytest.approx([LOAD, 1.25 * LOAD])
        # 4 elements in a half-width: within 0.2 % of Hertz.
        a = float(hertz.half_width(LOAD, RADIUS, E_STAR))
        assert assessed.half_width.value == pytest.approx(a, rel=5e-3)
        assert assessed.exponent.value == pytest.approx(
            assessed.tangent_stiffness.value / assessed.secant_stiffness.value
        )
        assert sum(part.value for part in assessed.shares) == pytest.approx(d, rel=1e-12)

    def test_shares_along_it_add_up(self, assessed):
        totals = [part.total for part in assessed.curve_shares]
        assert totals == pytest.approx(assessed.curve.approach, rel=1e-12)
        # Where only five nodes touch too, whose half-width is off by a third if taken from them.
        assert all(abs(part.ring) < 5e-3 * part.total for part in assessed.curve_shares)

    def test_the_uncertainty_holds_the_closed_form(self, assessed):
        q = assessed.curve.line_load
        off = np.abs(assessed.curve.approach - two_bodies(q))
        # Below a tenth of the load too, where few nodes touch and the levels differ by more.
        assert np.all(off < assessed.uncertainties)
        assert abs(assessed.approach.value - two_bodies(LOAD)) < assessed.approach.uncertainty
        assert assessed.uncertainties[0] / assessed.curve.approach[0] > 0.003

    def test_shares_that_are_nothing_are_so_within_their_uncertainty(self, assessed):
        _, ring, _, plate = assessed.shares
        assert abs(ring.value) < ring.uncertainty
        assert abs(plate.value) < plate.uncertainty


class TestOverItsLength:
    """A tube of 150 × 25 mm whose slices hold one another's rings back."""

    def of(self, length, **keys):
        of = case([(150.0, 25.0)], line_load=1000.0, **keys)
        of = of if length is None else restated(of, contact_length=length)
        return section_stiffness(of, of.sections[0], Bodies(of), points=30)

    def test_a_short_contact_is_stiffer_than_its_slices(self):
        slice_, short, middling = (self.of(length) for length in (None, 75.0, 150.0))
        assert short.tangent_stiffness.value > 1.4 * slice_.tangent_stiffness.value
        assert (
            slice_.tangent_stiffness.value
            < middling.tangent_stiffness.value
            < short.tangent_stiffness.value
        )
        for one in (slice_, short, middling):
            parts = sum(part.value for part in one.shares)
            assert parts == pytest.approx(one.approach.value, rel=1e-6)
        # It is the ring that is held back: contact and plate are what they were.
        for k in (0, 2, 3):
            assert short.shares[k].value == pytest.approx(slice_.shares[k].value, abs=1e-7)
        assert short.shares[1].value < 0.5 * slice_.shares[1].value
        assert short.points.approach[-1] < 0.7 * slice_.points.approach[-1]
        assert short.linear.stiffness > 1.4 * slice_.linear.stiffness
        assert short.power_law.coefficient > slice_.power_law.coefficient

    def test_a_long_one_is_that_of_its_slices(self):
        """What its ends hold back falls as its length: 5 % over four diameters, 2.5 over eight."""
        slice_ = self.of(None)
        short = [slice_.approach.value / self.of(150.0 * n).approach.value - 1 for n in (4, 8)]
        assert 0.03 < short[0] < 0.07
        assert short[1] == pytest.approx(short[0] / 2, rel=0.2)

    def test_a_solid_has_next_to_nothing_to_hold_back(self):
        of = case([(150.0, None)], line_load=1000.0)
        own = section_stiffness(of, of.sections[0], Bodies(of), points=30)
        of = restated(of, contact_length=150.0)
        found = section_stiffness(of, of.sections[0], Bodies(of), points=30)
        assert found.approach.value == pytest.approx(own.approach.value, rel=0.02)

    def test_in_plane_stress_it_is_that_of_its_slices(self):
        long, short = (self.of(length, state="plane stress") for length in (None, 75.0))
        assert short.approach == long.approach


class TestUpToTheImpactForce:
    """Points for the peak contact force of [motion], of a contact that counts as long."""

    motion = moving().motion

    @pytest.fixture(autouse=True)
    def long(self, monkeypatch):
        monkeypatch.setattr(stiffness_module, "over_its_length", lambda *of: of[-1])

    def at(self, solid, times):
        """The solid, whose load is that of the impact force over ``times``."""
        length = peak_force(self.motion) / (times * LOAD)
        return restated(solid, motion=self.motion, contact_length=length)

    def test_points_go_past_the_load_to_the_impact_force(self, solid, bodies, assessed):
        case = self.at(solid, 4.0)
        found = section_stiffness(case, case.sections[0], bodies, points=40)
        impact = peak_force(self.motion)
        assert found.impact.peak_contact_force == pytest.approx(impact)
        assert found.up_to_line_load == pytest.approx(4.0 * LOAD)
        loads = found.points.line_load
        assert loads[-2:] == pytest.approx([4.0 * LOAD, 5.0 * LOAD])
        assert loads[2] == pytest.approx(LOAD)  # the load of the case is among them
        assert found.points.approach[1:] == pytest.approx(two_bodies(loads[1:]), rel=3e-3)
        assert found.linear.stiffness == pytest.approx(
            4.0 * LOAD / two_bodies(4.0 * LOAD), rel=3e-3
        )
        assert found.power_law.to_line_load == pytest.approx(4.0 * LOAD)
        assert not found.short(case.contact_length)
        # What is said of the case's load stays what it was.
        assert found.approach == assessed.approach
        assert found.curve.line_load[-1] == pytest.approx(1.25 * LOAD)

    def test_a_load_that_covers_the_impact_is_what_they_are_for(self, solid, bodies):
        case = self.at(solid, 0.5)
        found = section_stiffness(case, case.sections[0], bodies, points=10)
        assert found.up_to_line_load == LOAD
        assert found.far is found.curve
        assert found.points.line_load[-1] == pytest.approx(1.25 * LOAD)
        # Of a force a little past the load the same curve holds.
        case = self.at(solid, 1.2)
        found = section_stiffness(case, case.sections[0], bodies, points=10)
        assert found.far is found.curve
        assert found.up_to_line_load == pytest.approx(1.2 * LOAD)
        assert found.points.line_load[-3:] == pytest.approx([LOAD, 1.2 * LOAD, 1.25 * LOAD])

    def test_where_the_model_carries_less_they_end_there(self, solid, bodies):
        case = self.at(solid, 1e4)
        found = section_stiffness(case, case.sections[0], bodies, points=10)
        end = found.points.line_load[-1]
        # A half-width of a tenth of the radius is what is allowed.
        carried = (0.1 * RADIUS) ** 2 * np.pi * E_STAR / (4.0 * RADIUS)
        assert 0.95 * carried < end <= carried
        assert found.allowed_line_load == pytest.approx(carried, rel=2e-2)
        assert found.short(case.contact_length)
        assert found.points.approach[-1] == pytest.approx(two_bodies(end), rel=5e-3)

    def test_an_impact_that_is_not_found_leaves_as_much_as_is_allowed(self):
        case = moving(
            **FIXED, load={"force": "100 kN", "contact_length": "300 mm"},
            contact_law={"law": "section"},
        )  # fmt: skip
        (found,) = stiffness(case, points=10).sections
        assert found.impact.peak_contact_force is None
        assert found.short(300.0)
        assert found.points.line_load[-1] > 100.0 * case.line_load

    def test_on_a_sections_own_curve_it_is_that_of_the_impact(self):
        impact = of_sections()
        (found,) = stiffness(impact.case, points=10).sections
        assert found.impact.peak_contact_force == impact.blows[0].peak_contact_force.value
        assert found.up_to_line_load == pytest.approx(
            found.impact.peak_contact_force / impact.case.contact_length
        )

    def test_without_a_length_it_is_no_line_load(self, solid, bodies):
        case = replace(solid, motion=self.motion)
        found = section_stiffness(case, case.sections[0], bodies, points=10)
        assert found.impact.peak_contact_force is None
        assert (found.up_to_line_load, found.short(None)) == (LOAD, False)

    def test_in_a_corner_both_loads_grow_together(self, solid):
        corner = replace(solid, corner=Corner(0.4 * LOAD))
        assert _at_load(corner, 3.0 * LOAD).line_loads == pytest.approx([3.0 * LOAD, 1.2 * LOAD])


class TestWithThePost:
    def test_its_slices_go_as_far_as_the_most_loaded_of_them(self):
        """Towards the root the line load is six times the mean: far past a curve of the mean."""
        stated = case([(150.0, None)], line_load=1200.0, plate=(420.0, 60.0))
        stated = restated(stated, contact_length=300.0, cantilever=Cantilever(340.0))
        bodies = Bodies(square(stated))
        section = stated.sections[0]
        found = section_stiffness(stated, section, bodies, points=40)
        far = follow_load(restated(stated, line_load=9600.0), section, bodies, scale=2.0)
        series = in_series(stated, section, bodies, far.curve)
        assert found.with_post.peak_line_load > 6.0 * 1200.0
        assert found.with_post.travel == pytest.approx(
            float(series.curve.approach_at(1200.0)), rel=2e-3
        )
        assert found.with_post.points.line_load == pytest.approx(found.points.line_load)
        assert found.with_post.spring.stiffness == pytest.approx(
            found.with_post.whole_secant_stiffness
        )
        assert found.with_post.whole_secant_stiffness == pytest.approx(
            1200.0 * 300.0 / found.with_post.travel
        )
        of_contact = 300.0 * found.linear.stiffness
        assert found.with_post.contact_alone_over_this == pytest.approx(
            of_contact / found.with_post.whole_secant_stiffness
        )


class TestOfACase:
    two = case([(2 * RADIUS, None), (2 * RADIUS, 30.0)])

    def test_every_section_has_its_own_result(self, monkeypatch):
        monkeypatch.setattr(
            "contactfe.assess.stiffness.section_stiffness",
            lambda _, section, __, points: SimpleNamespace(section=section, points=points),
        )
        told: list[tuple[int, int]] = []
        result = stiffness(self.two, 7, progress=lambda *of: told.append(of))
        names = [section.name for section in self.two.sections]
        assert [result.section(name).section.name for name in names] == names
        assert told == [(0, 2), (1, 2), (2, 2)]
        assert result.sections[0].points == 7
        with pytest.raises(KeyError, match="none such"):
            result.section("none such")

    def test_what_is_not_solved_names_its_section(self, monkeypatch):
        def fails(*_, **__):
            raise SolveError("no mesh held")

        monkeypatch.setattr("contactfe.assess.stiffness.section_stiffness", fails)
        name = self.two.sections[0].name
        with pytest.raises(SolveError, match=rf"section “{name}”: no mesh held"):
            stiffness(self.two)


class TestGapElements:
    d = np.linspace(0.002, 0.1, 60)

    def curve(self, exponent=1.1):
        q = 2e4 * self.d**exponent
        return ForceApproach(q, self.d, exponent * q / self.d)

    def test_a_power_law_is_found_again(self):
        law = power_law(self.curve(), 1000.0)
        assert law.coefficient == pytest.approx(2e4, rel=1e-8)
        assert law.exponent == pytest.approx(1.1, rel=1e-8)
        assert (law.from_line_load, law.to_line_load) == (100.0, 1000.0)
        assert law.largest_relative_error < 1e-7

    def test_its_error_is_the_largest_between_its_bounds(self, assessed):
        law, curve = assessed.power_law, assessed.curve
        q = np.geomspace(law.from_line_load, law.to_line_load, 999)
        off = np.abs(law.coefficient * curve.approach_at(q) ** law.exponent / q - 1)
        assert off.max() == pytest.approx(law.largest_relative_error, rel=1e-2)  # of the samples
        assert 1.08 < law.exponent < 1.12
        # The least squares are the least: no other exponent does better on the same samples.
        q = np.geomspace(law.from_line_load, law.to_line_load, 200)
        x, y = np.log(curve.approach_at(q)), np.log(q)
        for n in (law.exponent - 1e-3, law.exponent + 1e-3):
            best = y - n * x
            assert np.var(best) > np.var(y - law.exponent * x)

    def test_a_spring_is_right_at_the_load_and_off_by_what_it_says(self):
        spring = linear(self.curve(), 1000.0)
        most = (1000.0 / 2e4) ** (1 / 1.1)
        assert spring.stiffness == pytest.approx(1000.0 / most)
        # x − x^1.1 is largest where 1.1 x^0.1 = 1.
        x = 1.1**-10
        assert spring.largest_error_over_load == pytest.approx(x - x**1.1, rel=1e-3)

    def test_points_lie_on_the_curve_and_the_lines_between_are_off_by_what_they_say(self):
        curve = self.curve()
        found = table(curve, 1000.0)
        assert found.line_load[0] == found.approach[0] == 0.0
        assert 1000.0 in found.line_load
        assert found.line_load[-1] == curve.line_load[-1]
        # Half-widths grow as the root of the load, and are to be evenly apart.
        assert np.sqrt(found.line_load[:-1] / 1000.0) == pytest.approx([0.0, 0.25, 0.5, 0.75, 1.0])
        assert curve.line_load_at(found.approach) == pytest.approx(found.line_load, rel=1e-9)
        d = np.linspace(0.0, curve.approach[-1], 5000)
        off = np.interp(d, found.approach, found.line_load) - curve.line_load_at(d)
        assert np.abs(off).max() / 1000.0 == pytest.approx(
            found.largest_error_over_load, rel=2e-2
        )  # of the samples
        assert found.largest_error_over_load < 0.25 * linear(curve, 1000.0).largest_error_over_load

    def test_a_curve_that_ends_at_the_load_has_no_point_past_it(self):
        curve = self.curve()
        found = table(curve, float(curve.line_load[-1]))
        assert len(found.line_load) == 5
        assert np.all(np.diff(found.line_load) > 0.0)
