"""The note for the drawing: which section it is of, and what it takes over from case and solve."""

import math
from dataclasses import replace

import pytest
from saying import figures, only, said

from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.results import AsMade, Comparison
from contactfe.case import Cantilever, case_from_dict
from contactfe.case.alignment import Alignment
from contactfe.case.tolerance import Limits, Tolerance
from contactfe.report.blocks import Line, Table
from contactfe.report.drawing_note import drawing_note


def notes(comparison: Comparison) -> dict[str, str]:
    """What the note has for each item."""
    (table,) = (block for block in drawing_note(comparison) if isinstance(block, Table))
    return {str(row[0]): str(row[1]) for group in table.groups for row in group}


def first(comparison: Comparison) -> Line:
    """The line that says which section it is of."""
    return next(block for block in drawing_note(comparison) if isinstance(block, Line))


@pytest.fixture(scope="module")
def on_a_post(comparison: Comparison) -> Comparison:
    """The same solve as of a post along its axis, with limits of its tube; nothing solved anew."""
    stated = {
        "load": {"force": "360 kN", "contact_length": "300 mm"},
        "cantilever": {"length": "400 mm", "root": "groove weld", "electrode_strength": "550 MPa"},
        "contact": {"friction": 0.2},
        "tolerance": {"wall": "5 %", "straightness": "1 mm/m"},
    }
    data = {
        "title": "Invented", "post": {"held_by": "beam shear", "young": "210 GPa", "poisson": 0.3,
        "yield": "420 MPa", "ultimate": "500 MPa"}, "plate": {"width": "300 mm",
        "thickness": "50 mm", "held_by": "rigid base", "young": "210 GPa", "poisson": 0.3,
        "yield": "690 MPa"}, "section": [{"name": "tube/120 [x] 20", "outside_diameter": "120 mm",
        "wall": "20 mm"}],
    }  # fmt: skip
    case = case_from_dict(data | stated)
    tube = replace(
        comparison.section("tube/120 [x] 20"),
        by_hand=section_by_hand(case, case.sections[0]),
        limits=Limits((19.0, 21.0), (119.5, 120.5), "[tolerance]"),
    )
    return replace(comparison, case=case, sections=(tube,), by_concentration=(tube.section.name,))


def passing(comparison: Comparison, *names: str) -> Comparison:
    """Only those sections pass."""
    made = []
    for result in comparison.sections:
        good = next(check for check in result.checks if check.passes)
        bad = replace(good, demand=2.0 * (good.resistance or 1.0))
        own = good if result.section.name in names else bad
        made.append(replace(result, checks=(own,)))
    return replace(comparison, sections=tuple(made))


def test_it_is_of_the_section_of_least_K_that_passes(comparison):
    best, other = comparison.by_concentration
    for names, of in (((best, other), best), ((other,), other), ((best,), best)):
        asked = passing(comparison, *names)
        assert asked.to_make.section.name == of
        assert of in first(asked).text
        assert first(asked).tone == "good"


def test_where_none_passes_it_is_not_to_be_made(comparison):
    none = passing(comparison)
    assert none.to_make.section.name == comparison.by_concentration[0]
    assert first(none).tone == "bad"
    assert "not to be made" in first(none).text.lower()


def test_what_the_stop_as_a_whole_does_not_pass_is_told(comparison):
    check = replace(comparison.checks[0], section="", label="stroke of dampers", demand=2.0,
                    resistance=1.0)  # fmt: skip
    assert only(drawing_note(replace(comparison, checks=(check,))), "stroke of dampers", "fails")


def test_sizes_steel_and_limits(on_a_post):
    of = notes(on_a_post)
    assert figures(of["wall"]) == [20.0, 19.0, 21.0]
    assert figures(of["outside diameter"]) == [120.0, 119.5, 120.5]
    assert {420.0, 500.0} <= set(figures(of["steel of the post"]))
    assert {420.0, 500.0} <= set(figures(of["certificate"]))
    assert figures(of["straightness"])[0] == 1.0
    assert figures(of["load line"]) == [300.0, 250.0, 550.0]


@pytest.mark.parametrize(
    ("alignment", "tolerance", "parts"),
    [
        (Alignment(0.02, 0.001, tolerance=0.006), Tolerance(tilt=0.002, straightness=0.001),
         [0.001, 0.002, 0.004]),
        (Alignment(0.02, 0.001), Tolerance(), [0.001]),
        (Alignment(0.02), Tolerance(), []),
    ],
)  # fmt: skip
def test_the_tilt_is_split_by_whom_it_binds_and_the_parts_add_up(
    on_a_post, alignment, tolerance, parts
):
    case = replace(on_a_post.case, alignment=alignment, tolerance=tolerance)
    of = notes(replace(on_a_post, case=case))
    degrees = [math.degrees(part) for part in parts]
    assert figures(of["tilt of the plate"]) == pytest.approx([math.degrees(0.02)], rel=0.05)
    assert figures(of.get("it may be off by", "")) == pytest.approx(degrees, rel=0.05)
    ends = sorted({math.degrees(0.02) - sum(degrees), math.degrees(0.02) + sum(degrees)})
    assert figures(of["tilt in all"]) == pytest.approx(ends, rel=0.05)


def test_without_limits_a_wall_is_nominal(comparison):
    of = notes(passing(comparison, "tube/120 [x] 20"))
    assert "not stated" in of["wall"]
    assert "wall" not in notes(passing(comparison, "solid 120"))


def test_the_root_and_what_it_takes(on_a_post):
    """Friction along the plate is 0.2 of 360 kN: the resultant is √1.04 of it, at 0.4 m."""
    of = notes(on_a_post)
    assert "penetration" in of["root of the post"]
    assert 550.0 in figures(of["root of the post"])
    force, moment, torque = figures(of["on what holds it"])
    assert force == pytest.approx(360.0 * 1.04**0.5, rel=1e-3)
    assert moment == pytest.approx(0.4 * force, rel=1e-3)
    assert torque == pytest.approx(0.2 * 360.0 * 0.06, rel=1e-3)


@pytest.mark.parametrize(
    ("stated", "part"),
    [
        (Cantilever(400.0), "not stated"),
        (Cantilever(400.0, weld_throat=14.0), "14"),
        (Cantilever(400.0, socket_depth=170.0, socket_yield=250.0), "170"),
    ],
)
def test_each_way_to_hold_the_root(on_a_post, stated, part):
    case = replace(on_a_post.case, cantilever=stated)
    assert part in notes(replace(on_a_post, case=case))["root of the post"]


def strike(of: Comparison) -> float:
    return figures(notes(of)["a strike of more than"])[0]


def test_a_strike_beyond_first_yield_is_the_least_of_the_bodies_with_its_uncertainty(on_a_post):
    (tube,) = on_a_post.sections
    root = next(s.worked for s in tube.by_hand.steps if s.key == "post_twisted_von_mises")
    assert strike(on_a_post) == pytest.approx(360.0 * 420.0 / root.value, rel=1e-3)
    contact = replace(tube, by_hand=replace(tube.by_hand, steps=()))
    made = AsMade(
        120.0,
        19.0,
        (replace(tube.member.peak_von_mises, value=2e3, uncertainty=0.0),) * 2,
        None,
        (),
    )
    of = [
        replace(on_a_post, sections=(one,)) for one in (contact, replace(contact, as_made=(made,)))
    ]
    nominal, worst = map(strike, of)
    shares = [
        (body.peak_von_mises.value / 2e3) ** 2 * (load.value - load.uncertainty)
        for _, body in tube.bodies
        if (load := body.first_yield_line_load) is not None
    ]
    assert worst == pytest.approx(0.3 * min(shares), rel=1e-3)
    assert worst < nominal
    lost = replace(made, peaks=(None, None), error="not solved")
    assert strike(replace(on_a_post, sections=(replace(contact, as_made=(lost,)),))) == nominal
    first = [
        body.first_yield_line_load
        for _, body in tube.bodies
        if body.first_yield_line_load is not None
    ]
    least = min(value.value - value.uncertainty for value in first)
    assert nominal == pytest.approx(least * 300.0 / 1e3, rel=1e-3)


def test_a_surface_as_smooth_as_the_contact_asks_for(on_a_post, us):
    """0.05 a²/R of Hertz, in µm, and in µin where the report is in US units."""
    (tube,) = on_a_post.sections
    a = next(s.worked.value for s in tube.by_hand.steps if s.key == "hertz_half_width")
    assert figures(notes(on_a_post)["surface at the contact"])[-1] == pytest.approx(
        50.0 * a**2 / 60.0, rel=0.05
    )
    assert "µin" in notes(us)["surface at the contact"]


def test_a_bore_is_looked_at_where_there_is_one(comparison):
    assert "in the bore" in notes(passing(comparison, "tube/120 [x] 20"))
    assert "in the bore" not in notes(passing(comparison, "solid 120"))


def test_what_is_open_and_the_cautions_stand_on_it(comparison):
    page = drawing_note(comparison)
    assert said(page, "open", "motion")
    assert said(page, "caution", "licensed engineer")
