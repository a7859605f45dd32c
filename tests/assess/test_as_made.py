"""A tube solved at the limits of its wall."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from bodies import assess, case, no_first_yield
from saying import said

from contactfe.assess.as_made import made_checks, yields_first
from contactfe.assess.checks import as_made, verdict_of
from contactfe.assess.compare import compare
from contactfe.assess.open_items import open_items
from contactfe.assess.value import Value
from contactfe.case.bodies import Infill
from contactfe.case.tolerance import Tolerance
from contactfe.hand import thick_ring
from contactfe.report.document import document
from contactfe.report.tolerance import not_parted, ranked_as_made, tolerance_tables

D, WALL = 150.0, 20.0
TOLERANCE = {"wall": ["-12.5 %", "+10 %"], "outside_diameter": "1 mm"}
STOP = case([(D, WALL), (D, 25.0)], tolerance=TOLERANCE, plate_yield=680.0)


@pytest.fixture(scope="module")
def compared():
    with no_first_yield():
        return compare(STOP)


def test_the_ring_bends_at_each_limit_as_the_closed_form_has_it(compared):
    """The exact series; within the printed ±, and beside a bore hoop that differs by half."""
    least, greatest = compared.sections[0].as_made
    assert (least.outside_diameter, least.wall) == (D + 1.0, 0.875 * WALL)
    assert (greatest.outside_diameter, greatest.wall) == (D - 1.0, 1.1 * WALL)
    for made in (least, greatest):
        r = made.outside_diameter / 2
        hoop = thick_ring.bore_hoop(
            1500.0, r, r - made.wall, 0.0, "beam shear", 0.3, "plane strain"
        )
        assert (
            abs(made.bore_hoop_stress_under_load.value - hoop)
            <= made.bore_hoop_stress_under_load.uncertainty
        )
    assert (
        least.bore_hoop_stress_under_load.value > 1.5 * greatest.bore_hoop_stress_under_load.value
    )


def test_a_limit_is_the_tube_of_those_sizes_and_k_is_over_the_nominal_diameter(compared):
    least, _ = compared.sections[0].as_made
    alone = assess(case([(least.outside_diameter, least.wall)]))
    assert least.peaks[0].value == pytest.approx(alone.member.peak_von_mises.value, rel=1e-9)
    assert least.peaks[1].value == pytest.approx(alone.plate.peak_von_mises.value, rel=1e-9)
    assert least.stress_concentration.value == pytest.approx(least.peaks[0].value / (1500.0 / D))


def test_a_section_passes_only_if_both_limits_do(compared):
    tube = compared.sections[0]
    limits = [check for check in tube.checks if as_made(check)]
    assert [check.key for check in limits] == [
        "von_mises_post_least_wall", "von_mises_plate_least_wall",
        "von_mises_post_greatest_wall", "von_mises_plate_greatest_wall",
    ]  # fmt: skip
    assert {check.section for check in limits} == {tube.section.name}
    assert set(limits) < set(compared.checks)
    assert {check.key: check.resistance for check in limits} == {
        f"{c.key}_{wall}": c.resistance
        for c in tube.checks
        if c.key in {"von_mises_post", "von_mises_plate"}
        for wall in ("least_wall", "greatest_wall")
    }
    assert STOP.post_material(tube.section).yield_strength != STOP.plate_material.yield_strength
    # With a yield strength between the peaks of the nominal tube and of the least wall.
    between = (tube.member.peak_von_mises.upper + tube.as_made[0].peaks[0].value) / 2
    weaker = [
        replace(c, resistance=between) if c.key.startswith("von_mises_post") else c
        for c in tube.checks
        if c.kind == "stress"
    ]
    assert verdict_of(c for c in weaker if not as_made(c)) == "passes"
    assert verdict_of(weaker) == "fails"


def test_what_was_not_solved_at_a_limit_has_no_verdict():
    peak = Value(1.0, 0.0)
    (post,) = made_checks(STOP, STOP.sections[0], 0, [("post", None, 500.0)], "too thin")
    (other,) = made_checks(STOP, STOP.sections[0], 1, [("post", peak, 500.0)])
    assert (post.verdict, post.missing, post.ratio) == ("no verdict", "too thin", None)
    assert (other.verdict, other.key) == ("passes", "von_mises_post_greatest_wall")


def test_the_open_item_is_of_tubes_without_limits_alone(compared):
    assert "tolerance" not in {item.key for item in compared.open_items}
    solid = replace(STOP.sections[0], name="solid", wall=None)
    sections = (*STOP.sections, solid)
    found = {item.key: item for item in open_items(STOP, sections, compared.sections[0].checks)}
    assert found["tolerance"].sections == ("150 x 25",)
    assert found["tolerance"].why == "limits not solved"
    unknown = replace(STOP, tolerance=Tolerance())
    (item,) = (i for i in open_items(unknown, sections, ()) if i.key == "tolerance")
    assert (item.sections, item.why, item.accepted) == (("150 x 20", "150 x 25"), None, "")


def test_a_tie_within_the_limits_is_said(compared):
    best, *_ = (compared.section(name) for name in compared.by_concentration)
    spans = {r.section.name: [K.value for K in r.concentrations] for r in compared.sections}
    tied = {
        name for name, values in spans.items()
        if name != best.section.name and min(values) < max(spans[best.section.name])
    }  # fmt: skip
    assert set(not_parted(compared)) == tied
    (said,) = ranked_as_made(compared)
    assert all(name in said for name in (best.section.name, *tied))
    (table,) = tolerance_tables(STOP, compared.sections)
    assert [len(group) for group in table.groups] == [3, 3]
    data = document(compared)["sections"][0]["tolerance"]
    assert data["least_wall"] == 0.875 * WALL
    assert data["at_least_wall"]["stress_concentration"] == max(spans["150 x 20"])


def test_an_infill_is_checked_at_both_limits():
    """Its compression is not that of the nominal tube: the steel around it bends less or more."""
    infill = Infill(young=30e3, poisson=0.2, density=2300.0, compressive_strength=20.0)
    filled = replace(STOP.sections[0], infill=infill)
    with no_first_yield():
        (tube,) = compare(replace(STOP, sections=(filled,))).sections
    checks = {c.key: c for c in tube.checks if c.limit_state == "infill"}
    ends = ("", "_least_wall", "_greatest_wall")
    assert list(checks) == [f"infill_compression{end}" for end in ends]
    nominal, least, greatest = (check.demand for check in checks.values())
    assert least > nominal > greatest > 0.0


@pytest.mark.parametrize(("share", "told"), [(0.875, False), (0.86, True)])
def test_a_wall_thinner_than_clauses_cover_is_told(compared, share, told):
    tube = compared.sections[0]
    limits = replace(tube.limits, wall=(share * WALL, 1.1 * WALL))
    tables = tolerance_tables(STOP, [replace(tube, limits=limits)])
    assert bool(said(tables, "not covered", "clauses", tube.section.name)) == told


@pytest.mark.parametrize(
    ("peak", "first"), [(415.0, 1200.0), (425.0, 1220.0 * (300.0 / 428.0) ** 2)]
)
def test_a_tube_solved_below_yield_does_not_yield_at_a_lower_load(peak, first):
    """At 1200 N/mm; nominal at 1250 ± 30 N/mm first, with 300 of 420 MPa, and more at a limit."""
    body = SimpleNamespace(
        peak_von_mises=Value(300.0, 1.0), first_yield_line_load=Value(1250.0, 30.0),
        material=SimpleNamespace(yield_strength=420.0),
    )  # fmt: skip
    made = (SimpleNamespace(peaks=(Value(peak, 3.0),)),)
    result = SimpleNamespace(bodies=(("post", body),), as_made=made, line_load=1200.0)
    result.member, result.by_hand = body, SimpleNamespace(steps=())
    found = yields_first(SimpleNamespace(line_load=600.0), result)
    assert found == (pytest.approx(first / 2.0), "post")
