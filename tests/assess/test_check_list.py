"""The one list of checks, and the open items beside it."""

from dataclasses import dataclass, replace
from functools import cache
from types import SimpleNamespace

import pytest
from alignments import case, stated
from bodies import no_first_yield
from handcases import MESH, SOLID, TUBE, stop
from hypothesis import given
from hypothesis import strategies as st
from motions import moving
from restated import restated

from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.check_list import (
    by_hand_checks,
    collapse_covered,
    infill_checks,
    load_check,
    von_mises_check,
)
from contactfe.assess.checks import (
    Check,
    Checked,
    OpenItem,
    governing,
    verdict_of,
    worst_of_each,
)
from contactfe.assess.compare import compare
from contactfe.assess.open_items import open_items
from contactfe.assess.relief import reliefs
from contactfe.assess.value import Value
from contactfe.case import case_from_dict
from contactfe.case.impact import force_of_motion
from contactfe.errors import SolveError
from contactfe.hand.formula import at_most


@pytest.fixture(scope="module", autouse=True)
def without_first_yield():
    with no_first_yield():
        yield


def check(demand=0.5, resistance=1.0, section="a", **keys) -> Check:
    made = {"key": "k", "label": "a check", "kind": "stress", "limit_state": "contact stress",
            "body": "post", "dimension": "stress", "source": "made up"} | keys  # fmt: skip
    return Check(section=section, demand=demand, resistance=resistance, **made)


@given(demand=st.floats(0.0, 3.0), uncertainty=st.floats(0.0, 0.5))
def test_a_check_passes_if_its_ratio_and_uncertainty_are_at_most_one(demand, uncertainty):
    one = check(demand, ratio_uncertainty=uncertainty)
    assert one.passes == (demand + uncertainty <= 1.0)
    assert one.verdict == ("passes" if one.passes else "fails")


def test_what_decides_and_is_missing_leaves_no_verdict():
    beyond = (at_most("a/R", 0.2, 0.1),)
    for one in (check(missing="x"), check(exceeded=beyond), check(None), check(0.5, None)):
        assert one.verdict == "no verdict"
        assert verdict_of([check(), one]) == "no verdict"
        assert verdict_of([one, check(2.0)]) == "fails"
    assert check(1.0, 0.0).verdict == "fails"
    assert verdict_of([]) == "no verdict"


def test_what_does_not_apply_counts_for_nothing():
    apart = check(0.2, exceeded=(at_most("fy", 500.0, 460.0),), applies=False, key="other")
    assert verdict_of([check(), apart]) == "passes"
    assert verdict_of([apart]) == "no verdict"
    assert governing([check(0.1), apart]).ratio == 0.1


@given(st.lists(st.tuples(st.floats(0.1, 2.0), st.booleans()), min_size=1, max_size=6))
def test_the_worst_of_each_has_the_verdict_of_all(made):
    checks = [
        check(ratio, contact=number, missing="x" if out else "")
        for number, (ratio, out) in enumerate(made)
    ]
    (worst,) = worst_of_each(checks)
    assert worst.verdict == verdict_of(checks)
    assert worst == governing(checks) or worst.most == governing(checks).most


def test_where_a_check_applies_goes_before_where_it_does_not():
    """As a clause that one contact has in its scope and another, of a larger ratio, has not."""
    inside = check(0.5, contact=1)
    apart = check(0.9, contact=2, exceeded=(at_most("fy", 500.0, 460.0),), applies=False)
    for checks in ((inside, apart), (apart, inside)):
        assert worst_of_each(checks) == (inside,)


def test_checks_of_one_limit_state_or_of_two_sections_stand_each_for_themselves():
    checks = (check(0.5), check(0.6, key="other"), check(0.7, section="b"))
    assert worst_of_each(checks) == checks


def test_an_open_item_has_to_be_accepted():
    of = case(accept={"motion": "from a time history"})
    assert Judging((check(),), ()).settled
    assert not Judging((check(),), (OpenItem("post", of),)).settled
    assert Judging((check(),), (OpenItem("motion", of),)).settled
    assert not Judging((check(),), (OpenItem("motion", of), OpenItem("post", of))).settled
    assert not Judging((check(2.0),), ()).settled
    assert not Judging((check(2.0),), ()).satisfied


@dataclass(frozen=True)
class Judging(Checked):
    checks: tuple[Check, ...]
    open_items: tuple[OpenItem, ...]


WELD = {"weld_throat": "4 mm", "electrode_strength": "480 MPa"}
WELDED = {"cantilever": {"length": "450 mm", **WELD}}
EVEN = {"alignment": None, "load": {**stated()["load"], "distribution": "even"}}


def open_keys(result) -> set[str]:
    return {item.key for item in result.open_items}


@cache
def welded():
    """A solid whose solved stresses pass and whose root weld does not."""
    return compare(case(**WELDED, **EVEN))


def test_a_root_weld_that_fails_fails_the_section():
    result = welded()
    (section,) = result.sections
    assert all(body.satisfied for _, body in section.bodies)  # stresses alone would pass it
    weld = next(c for c in section.checks if c.key == "aisc_360.j2_4")
    assert weld.ratio > 1.5
    assert (weld.verdict, section.verdict) == ("fails", "fails")
    assert not section.satisfied
    assert not result.satisfied
    assert not result.settled


def test_a_section_that_is_solved_and_its_hand_calculation_agree():
    """Checks of the post along its axis and of clauses are the same records in both."""
    solved = {c.key: c for c in welded().checks if c.kind in {"post", "clauses"}}
    by = {c.key: c for c in by_hand(case(**WELDED, **EVEN)).checks}
    assert solved.keys() == {key for key in by if by[key].kind in {"post", "clauses"}}
    assert {"post_bending_stress", "aisc_360.f11_round"} <= solved.keys()
    for key, one in solved.items():
        assert by[key].verdict == one.verdict, key
        assert by[key].ratio == pytest.approx(one.ratio, rel=1e-3), key


def test_a_crushed_ring_is_held_against_its_collapse_with_the_margin():
    crushed = {c.key: c for c in by_hand(stop(TUBE, held_by="diametral", margin=1.5)).checks}
    one = crushed["ring_collapse_line_load"]
    steps = by_hand(stop(TUBE, held_by="diametral")).sections[0]
    assert (one.limit_state, one.demand) == ("collapse", 1500.0)
    assert one.resistance == pytest.approx(steps.value("ring_collapse_line_load") / 1.5)


def test_the_allowed_stress_and_the_uncertainty_of_a_ratio_have_the_margin():
    of = stop(SOLID, margin=1.5)
    one = von_mises_check(of, of.sections[0], "plate", Value(200.0, 3.0), 345.0, 2)
    assert (one.resistance, one.body, one.contact) == (230.0, "plate", 2)
    assert one.most == pytest.approx(203.0 / 230.0)


def test_bodies_and_limit_states_of_a_corner():
    """Of the second plate as of the first, and of the plate's own stress by the post's contact."""
    (section,) = by_hand(stop(TUBE, plate_held="simply supported", corner=300.0)).sections
    found = {c.key: (c.limit_state, c.body) for c in by_hand_checks(stop(TUBE), section)}
    for end, plate in (("", "plate"), ("_second", "second plate")):
        for key in ("strip_back_stress", "aisc_360.f11_plate", "en_1993_1_1.6_2_1_5"):
            assert found[f"{key}{end}"] == ("plate bending", plate)
        assert found[f"hertz_peak_von_mises{end}"] == ("contact stress", "post")
    assert found["hertz_peak_von_mises_plate"] == ("contact stress", "plate")


def test_a_load_below_the_impact_force_fails():
    force = force_of_motion(moving())
    quarter = moving(load={"force": f"{force / 4} N", "contact_length": "1200 mm"})
    found = load_check(quarter)
    assert found.ratio == pytest.approx(4.0)
    assert found.verdict == "fails"
    assert found in by_hand(quarter).checks
    assert not by_hand(quarter).satisfied
    assert load_check(moving()).passes  # the load is the force itself


@pytest.mark.parametrize(
    "values",
    [
        {"load": {"line_load": "9 kN/mm"}},
        {"load": {"force": "1 MN", "contact_length": "1 m"}, "contact_law": {"law": "section"}},
        {"motion": None, "contact_law": None, "load": {"line_load": "400 N/mm"}},
    ],
)
def test_a_force_that_is_not_known_is_an_open_item(values):
    unknown = moving(**values)
    assert load_check(unknown) is None
    assert "motion" in open_keys(by_hand(unknown))


def test_a_motion_that_is_not_answered_has_no_verdict(monkeypatch):
    def fails(_):
        raise SolveError("no")

    monkeypatch.setattr("contactfe.case.impact.governing_level", fails)
    of = moving(load={"force": "1e9 N", "contact_length": "1200 mm"})
    one = load_check(of)
    assert one.verdict == "no verdict"
    item = next(item for item in open_items(of, of.sections, [one]) if item.key == "motion")
    assert item.why == "force not found"


def test_what_is_open_goes_by_what_the_case_states():
    assert open_keys(by_hand(stop())) == {"motion", "sharing", "post"}
    assert open_keys(by_hand(case(**EVEN))) == {"motion", "root"}
    assert open_keys(by_hand(case(**EVEN, **WELDED))) == {"motion"}
    assert open_keys(by_hand(case(alignment=None))) == {"motion", "root", "sharing", "tilt"}
    assert open_keys(by_hand(case())) == {"motion", "root", "sharing"}  # hand shares nothing
    drawn = {"section": [{"name": "drawn", "outside_diameter": "160 mm", **MESH}]}
    found = by_hand(case(**drawn, alignment=None))
    assert open_keys(found) == {"motion", "root", "sharing", "post", "tolerance"}
    why = {item.key: item.why for item in found.open_items}
    assert (why["post"], why["tolerance"]) == ("own mesh", "own mesh")
    filled = {"wall": "20 mm", "infill": {"young": "30 GPa", "poisson": 0.2, "density": "2 t/m^3"}}
    mixed = [*stated()["section"], {"name": "grouted", "outside_diameter": "150 mm", **filled}]
    items = {item.key: item for item in by_hand(case(**EVEN, **WELDED, section=mixed)).open_items}
    assert items["infill"].sections == items["tolerance"].sections == ("grouted",)
    assert items["motion"].sections == ()  # it concerns all


def test_a_weld_of_unknown_strength_is_open():
    weld = {"cantilever": {"length": "450 mm", "weld_throat": "12 mm"}}
    assert "root" in open_keys(by_hand(case(**EVEN, **weld)))


def test_a_weld_whose_clauses_do_not_apply_is_open():
    """A post shorter than two diameters, whose stresses at the weld are beyond the formula."""
    short = {"cantilever": {"length": "290 mm", **WELD, "weld_throat": "14 mm"}}
    found = by_hand(case(**EVEN, **short))
    assert {c.applies for c in found.checks if c.limit_state == "root weld"} == {False}
    assert "root" in open_keys(found)


def filled(**strengths):
    tube = {"name": "grouted", "outside_diameter": "150 mm", "wall": "20 mm"}
    infill = {"young": "30 GPa", "poisson": 0.2, "density": "2 t/m^3"} | strengths
    return case(**EVEN, section=[{**tube, "infill": infill}])


SOLVED = {
    "infill_tension": Value(1.2, 0.1), "infill_compression": Value(-9.0, 0.5),
    "bond_tension": Value(0.4, 0.02), "bond_shear": Value(-0.0, 0.0),
}  # fmt: skip


def test_an_infill_is_held_to_the_strengths_that_are_stated():
    (section,) = filled(compressive_strength="20 MPa").sections
    (one,) = infill_checks(section, SOLVED)
    assert (one.limit_state, one.demand, one.resistance) == ("infill", 9.0, 20.0)
    assert (one.ratio_uncertainty, one.passes) == (0.5 / 20.0, True)
    (section,) = filled(tensile_strength="1.25 MPa", bond_strength="0.3 MPa").sections
    found = {check.key: check for check in infill_checks(section, SOLVED)}
    assert list(found) == ["infill_tension", "bond_tension", "bond_shear"]
    assert found["infill_tension"].verdict == "fails"  # 1.2 ± 0.1 against 1.25
    assert found["bond_tension"].ratio == pytest.approx(0.4 / 0.3)
    assert found["bond_shear"].passes


def test_an_infill_pressed_everywhere_has_no_tension():
    (section,) = filled(tensile_strength="1 MPa").sections
    (one,) = infill_checks(section, SOLVED | {"infill_tension": Value(-0.2, 0.1)})
    assert one.demand == 0.0


def test_an_infill_stays_open_until_every_strength_of_it_is_stated_and_solved_for():
    every = {
        "compressive_strength": "20 MPa", "tensile_strength": "2 MPa", "bond_strength": "1 MPa",
    }  # fmt: skip
    some = filled(**{key: of for key, of in every.items() if key != "tensile_strength"})
    bent = filled(**every)
    for one, is_open in (
        (filled(), True),
        (some, True),
        (bent, True),  # along its axis, which no check covers
        (replace(bent, cantilever=None), False),
    ):
        checks = infill_checks(one.sections[0], SOLVED)
        keys = {item.key for item in open_items(one, one.sections, checks)}
        assert ("infill" in keys) is is_open
    assert "infill" in open_keys(by_hand(filled(**every)))  # by hand nothing is solved


@pytest.mark.parametrize(
    ("root", "is_open"),
    [
        ({"root": "groove weld"}, False),
        ({"socket_depth": "200 mm", "socket_yield": "235 MPa"}, False),
        ({"socket_depth": "200 mm"}, True),
        ({}, True),
    ],
)
def test_a_root_that_a_clause_covers_is_not_open(root, is_open):
    post = stated()["post"] | {"ultimate": "700 MPa"}
    found = by_hand(case(**EVEN, post=post, cantilever={"length": "450 mm", **root}))
    assert ("root" in open_keys(found)) is is_open


def test_the_case_accepts_with_a_reason():
    item = next(i for i in by_hand(case(accept={"motion": "as stated"})).open_items)
    assert (item.key, item.accepted) == ("motion", "as stated")


def test_a_stress_beyond_its_formula_has_no_verdict_and_a_clause_beyond_its_scope_does_not_apply():
    checks = {c.key: c for c in by_hand(stop(TUBE, yield_strength=500.0)).checks}
    hertz = checks["hertz_peak_von_mises"]  # of a tube that bends
    assert hertz.exceeded
    assert hertz.verdict == "no verdict"
    thin, exact = (checks[f"{of}_bore_under_load"] for of in ("thin_ring", "ring"))
    assert (exact.applies, bool(exact.exceeded)) == (True, False)
    assert (thin.applies, bool(thin.exceeded)) == (False, True)  # the exact series says it
    flat = checks["en_1993_1_8.flat_contact_by_analogy"]  # for up to 460 MPa
    assert not flat.applies
    heavy = stop(SOLID, yield_strength=500.0, line_load=12e3)
    over = {c.key: c for c in by_hand(heavy).checks}["en_1993_1_8.flat_contact_by_analogy"]
    assert over.ratio > 1.0  # what is too much even so still counts
    assert (over.applies, over.verdict) == (True, "no verdict")


# The load along the post


def test_a_cantilever_meets_a_straight_plate_unless_the_case_says_otherwise():
    assumed = case(alignment=None)
    assert (assumed.alignment.tilt, assumed.alignment.assumed) == (0.0, True)
    assert case(alignment={}).alignment.assumed is False
    assert case(**EVEN).alignment is None
    corner = {"corner": {"force": "90 kN", "contact_length": "160 mm"}}
    assert case(alignment=None, **corner).alignment is None
    mixed = [*stated()["section"], {"name": "drawn", "outside_diameter": "160 mm", **MESH}]
    assert case(alignment=None, section=mixed).alignment is None  # one that cannot is enough
    diametral = {"post": {**stated()["post"], "held_by": "diametral"}}
    assert case(alignment=None, **diametral).alignment is None


def test_the_straight_plate_that_is_assumed_is_that_which_is_stated():
    one, other = (compare(case(alignment=alignment)) for alignment in (None, {}))
    assert one.sections[0].member.peak_von_mises == other.sections[0].member.peak_von_mises
    assert one.sections[0].length.peak_over_mean > 1.5
    assert "tilt" in open_keys(one)
    assert "tilt" not in open_keys(other)
    assert "sharing" not in open_keys(one)
    even = compare(case(**EVEN))
    assert even.sections[0].length is None
    assert open_keys(even) == {"motion", "root"}


# The slice


OVER = {"force": "150 kN", "contact_length": "160 mm", "distribution": "even"}
UNKNOWN = {"line_load": "937.5 N/mm"}
"""The same load, over no length that is stated."""


def tubes(post: str | None, load):
    cantilever = post and {"length": post}
    data = stated(alignment=None, load=load, cantilever=cantilever)
    tube = {"name": "tube", "outside_diameter": "150 mm", "wall": "25 mm"}
    return case_from_dict(data | {"section": [*data["section"], tube]})


@cache
def relieved(over: bool):
    return compare(tubes("450 mm", OVER) if over else tubes(None, UNKNOWN))


def relief(result):
    return next((item for item in result.open_items if item.key == "relief"), None)


def test_relief_is_open_over_no_stated_length_and_closed_where_the_neighbours_are_solved():
    unknown = relieved(over=False)
    item = relief(unknown)
    (bounds,) = item.bounds
    tube = unknown.section("tube")
    assert item.sections == ("tube",)
    assert bounds.slice_peak == tube.member.peak_von_mises.value
    assert bounds.half_space_peak == tube.hand_value("hertz_peak_von_mises") > bounds.slice_peak
    assert bounds.bore == max(abs(value.value) for value in tube.bore_hoop_stress)
    assert relief(relieved(over=True)) is None


def sliced(peak=200.0, half_space=240.0, K=10.0, uncertainty=0.1, **more):
    """A tube solved: how far it depends on its relief, MPa."""
    hand = {"hertz_peak_von_mises": half_space} | more.pop("hand", {})
    keys = {"axial_stress": 0.0, "bore_hoop_stress": None} | more
    return SimpleNamespace(
        section=stop(TUBE).sections[0], hand_value=hand.get,
        stress_concentration=Value(K, uncertainty),
        member=SimpleNamespace(
            peak_von_mises=Value(peak, 1.0), satisfied=True,
            material=SimpleNamespace(yield_strength=345.0),
        ), **keys,
    )  # fmt: skip


def test_relief_decides_where_the_post_would_not_pass_without_it():
    for margin, count in ((1.43, 0), (1.44, 1)):  # 241 and 239.6 MPa are allowed
        assert len(reliefs(stop(TUBE, margin=margin), [sliced()])) == count
    slides = sliced(hand={"sliding_peak_von_mises": 350.0})
    assert [one.half_space_peak for one in reliefs(stop(TUBE), [slides])] == [350.0]
    second = sliced(hand={"hertz_peak_von_mises_second": 360.0})
    assert [one.half_space_peak for one in reliefs(stop(TUBE), [second])] == [360.0]
    bent = sliced(axial_stress=-110.0)
    plane = {"contact_length": 1e3, "state": "plane stress"}
    (bounds,) = reliefs(restated(stop(TUBE), **plane), [bent])
    assert (bounds.half_space_peak, bounds.why) == (350.0, "plane stress")
    for stated_as, why in (({}, "length not stated"), (plane, "plane stress")):
        of = restated(stop(TUBE, margin=1.44), **stated_as)
        found = reliefs(of, [sliced()])
        assert [one.why for one in found] == [why]
        items = {item.key: item for item in open_items(of, of.sections, (), found)}
        assert (items["relief"].why, items["relief"].bounds) == (why, found)


def test_relief_decides_the_order_of_several():
    of = stop(TUBE, margin=1.43)  # under which both pass without relief as well
    one, other = sliced(), sliced(half_space=241.0)
    assert [b.half_space_peak for b in reliefs(of, [one, other])] == [240.0, 241.0]
    assert reliefs(of, [one]) == ()
    assert len(reliefs(of, [one, sliced(half_space=201.0)])) == 1  # nothing is relieved there
    assert reliefs(restated(of, contact_length=20.0), [one, other]) == ()  # solved, however short


def test_a_check_that_does_not_apply_leaves_its_limit_state_open():
    of = case(**EVEN, **WELDED)
    for state, key in (("post section", "post"), ("root weld", "root")):
        for applies in (True, False):
            one = check(section="solid 150", limit_state=state, applies=applies)
            found = {item.key for item in open_items(of, of.sections, [one])}
            assert (key not in found) == applies


def test_a_force_that_ten_percent_of_displacement_raises_by_much_is_open():
    near = moving(motion__gap="440 mm")
    assert load_check(near).passes
    item = next(item for item in by_hand(near).open_items if item.key == "motion")
    more = moving(motion__gap="440 mm", motion__displacement="495 mm")
    rise = 100.0 * (force_of_motion(more) / force_of_motion(near) - 1.0)
    assert rise > 20.0
    assert 100.0 * item.why == pytest.approx(rise)
    assert "motion" not in open_keys(by_hand(moving(motion__gap="100 mm")))


def test_the_answer_has_the_bound_of_a_relief_that_is_open():
    unknown, solved = (relieved(over) for over in (False, True))
    for result in (unknown, solved):
        assert result.least_concentration == "tube"
    (bounds,) = relief(unknown).bounds
    text = unknown.case.display.stress.text(bounds.half_space_peak)
    assert unknown.reason.count(text) > solved.reason.count(text)


# Collapse beyond the range of its formula


COLLAPSE = "ring_collapse_line_load"
POST = {"key": "von_mises_post"}
THICK = {"key": COLLAPSE, "kind": "post", "limit_state": "collapse",
         "exceeded": (at_most("made up", 2.0, 1.0),)}  # fmt: skip


@cache
def squeezed(wall: float, line_load: float = 200.0):
    (section,) = compare(stop((150.0, wall), held_by="diametral", line_load=line_load)).sections
    return section, {c.key: c for c in section.checks}


def test_collapse_beyond_its_formula_does_not_apply_where_the_solved_post_passes():
    section, found = squeezed(30.0)
    one = found[COLLAPSE]
    assert [limit.what for limit in one.exceeded] == ["ri/ro"]
    assert (one.applies, one.covered_by, one.verdict) == (False, "von_mises_post", "no verdict")
    assert found["von_mises_post"].passes
    assert section.verdict == "passes"


def test_collapse_beyond_its_formula_has_no_verdict_where_the_solved_post_fails():
    section, found = squeezed(30.0, 8000.0)
    one = found[COLLAPSE]
    assert not found["von_mises_post"].passes
    assert (one.applies, one.covered_by, one.verdict) == (True, "", "no verdict")
    assert section.verdict == "fails"


def test_collapse_within_its_formula_is_a_check_as_before():
    section, found = squeezed(14.0)
    one = found[COLLAPSE]
    assert (one.applies, one.covered_by, one.verdict) == (True, "", "passes")
    assert one.ratio == pytest.approx(200.0 / section.by_hand.value(COLLAPSE))


def test_by_hand_nothing_stands_for_collapse():
    one = next(
        c for c in by_hand(stop((150.0, 30.0), held_by="diametral")).checks if c.key == COLLAPSE
    )
    assert (one.applies, one.verdict) == (True, "no verdict")


@pytest.mark.parametrize(
    ("others", "applies"),
    [
        ([check(0.9, **POST)], False),
        ([check(0.99, ratio_uncertainty=0.02, **POST)], True),  # no more than likely
        ([check(0.9, missing="not solved", **POST)], True),
        ([check(0.9, key="von_mises_plate")], True),
        ([], True),
    ],
)
def test_only_a_solved_post_that_passes_covers_collapse(others, applies):
    *_, last = collapse_covered((*others, check(0.1, **THICK)))
    assert last.applies is applies


def test_collapse_that_its_estimate_shows_or_its_formula_covers_stays_as_it_is():
    above, inside = check(1.2, **THICK), check(1.2, **THICK | {"exceeded": ()})
    bent = check(0.5, key="ring", limit_state="ring bending", exceeded=THICK["exceeded"])
    checks = (check(0.9, **POST), above, inside, bent)
    assert collapse_covered(checks) == checks
