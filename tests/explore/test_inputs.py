"""What is moved on the page: what a move writes, and how it is shown."""

import math
from pathlib import Path

import pytest
from commands import SMALL
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.case.sizing import SOLID
from contactfe.case.units import parse_quantity
from contactfe.errors import InputError
from contactfe.explore.inputs import NEAREST, SOLID_BAR, STEPS, moved, moved_of, shown
from contactfe.explore.state import State, opened, take

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
OPENED = {path.stem: opened(path)[0] for path in CASES}
TUBE = State(SMALL + 'wall = "20 mm"\n', "stop.toml")
FORCE = State(
    SMALL.replace('line_load = "400 N/mm"', 'force = "120 kN"\ncontact_length = "300 mm"'),
    "stop.toml",
)
US = State(TUBE.text + '[report]\nunits = "US customary"\n', "stop.toml")
STEELS = State(
    SMALL.replace("[load]", 'hardening = "2 GPa"\nhardening_kind = "kinematic"\n[load]')
    + 'steel = "EN 10025-2 S355"\n[[section]]\nname = "pipe"\n'
    'designation = "ASME B36.10M NPS 6 XXS"\n', "stop.toml",
)  # fmt: skip


def of(state, key, first=None):
    """An input as it is shown."""
    return next(one for one in shown(state, first or state) if one["key"] == key)


REFUSED = {
    ("mill-house-stop", "contact.angle"),  # it is squeezed squarely
    ("weir-keeper-stop", "section.outside_diameter"),  # its steel is not made so thick,
    ("weir-keeper-stop", "section.wall"),  # nor as tubes
}
"""What a case does not let be moved far, by its name."""


@pytest.mark.parametrize("state", [*OPENED.values(), FORCE, US, STEELS], ids=lambda s: s.source)
def test_every_quantity_is_moved_written_and_read_back(state):
    for one in moved_of(state.case):
        at = of(state, one.key)
        assert at["least"] <= at["value"] <= at["most"]
        unit = None if one.dimension is None else state.case.display.unit(one.dimension)
        held = (
            at["value"]
            if unit is None
            else parse_quantity(f"{at['value']} {unit.name}", one.dimension)
        )
        assert held == pytest.approx(one.of(state.case), rel=1e-7, abs=1e-9)
        for share in (0.42, 0.48):
            least, most = one.span(state.case)
            to = least + share * (most - least)
            there = to if unit is None else unit.of(to)
            if (Path(state.source).stem, one.key) in REFUSED:
                with pytest.raises(InputError):
                    moved(state, state, one.key, there)
                break
            found = moved(state, state, one.key, there)
            assert one.of(found.case) == pytest.approx(to, rel=1e-6, abs=1e-9)
            assert of(found, one.key, state)["value"] == pytest.approx(there, rel=1e-6, abs=1e-9)
            assert all(
                before.of(state.case) == pytest.approx(before.of(found.case))
                for before in moved_of(state.case)
                if before.key not in {one.key, "section.wall"}
            )


@pytest.mark.parametrize("state", [TUBE, FORCE, US], ids=["SI", "force", "US"])
def test_sliders_have_about_so_many_round_steps(state):
    for one in shown(state, state):
        if "least" in one:
            steps = (one["most"] - one["least"]) / one["step"]
            assert steps == pytest.approx(round(steps), abs=1e-6)
            assert STEPS / 3.0 <= steps <= 2.0 * STEPS
            first = one["step"] / 10.0 ** math.floor(math.log10(one["step"]) + 1e-9)
            assert min(abs(first - k) for k in (1, 2, 5)) < 1e-6


def test_ends_of_a_slider_are_of_the_case_as_opened_those_of_the_wall_of_its_diameter():
    found = moved(TUBE, TUBE, "section.outside_diameter", 200.0)
    diameter, wall = of(found, "section.outside_diameter", TUBE), of(found, "section.wall", TUBE)
    assert (diameter["least"], diameter["most"]) == (75.0, 300.0)
    assert wall["most"] == pytest.approx(100.0, abs=wall["step"])
    assert found.case.sections[0].wall == 20.0
    far = moved(TUBE, TUBE, "section.outside_diameter", "400 mm")  # which the field takes
    assert of(far, "section.outside_diameter", TUBE)["most"] == 400.0


def test_the_wall_at_its_end_is_a_solid_bar_and_back():
    wall = of(TUBE, "section.wall")
    for value in (wall["most"], 75.0, SOLID_BAR):
        solid = moved(TUBE, TUBE, "section.wall", value)
        assert solid.case.sections[0].wall is None
        assert of(solid, "section.wall")["text"] == SOLID_BAR
        assert of(solid, "section.solid")["on"] is True
    below = moved(TUBE, TUBE, "section.wall", 75.0 - wall["step"])
    assert below.case.sections[0].wall == pytest.approx(75.0 - wall["step"])
    back = moved(solid, TUBE, "section.wall", "20 mm")
    assert back.case.sections[0].wall == 20.0
    assert not of(back, "section.solid")["on"]
    with pytest.raises(InputError):  # in the field a wall of the radius is a fault, not a bar
        moved(TUBE, TUBE, "section.wall", "75 mm")


def test_the_end_of_the_wall_is_that_of_the_unit_shown():
    wall = of(US, "section.wall")
    assert moved(US, US, "section.wall", wall["most"]).case.sections[0].wall is None
    below = moved(US, US, "section.wall", 75.0 / 25.4 - wall["step"])
    assert below.case.sections[0].wall == pytest.approx(75.0 - wall["step"] * 25.4, rel=1e-6)


def test_the_tick_makes_a_solid_bar_and_a_tube():
    solid = moved(TUBE, TUBE, "section.solid", True)
    assert (solid.case.sections[0].wall, solid.case.sections[0].outside_diameter) == (None, 150.0)
    tube = moved(solid, TUBE, "section.solid", False)
    assert 0.0 < tube.case.sections[0].wall / 150.0 < SOLID


def test_a_bare_number_is_of_the_unit_shown_and_any_other_is_kept_as_written():
    assert moved(TUBE, TUBE, "section.wall", "25").tables["section"][0]["wall"] == "25 mm"
    assert moved(US, US, "section.wall", " 1.1 ").tables["section"][0]["wall"] == "1.1 in"
    found = moved(US, US, "section.wall", "25 mm")
    assert found.tables["section"][0]["wall"] == "25 mm"
    assert of(found, "section.wall")["value"] == pytest.approx(25.0 / 25.4)
    assert of(US, "load.line_load")["unit"] == "kip/in"


def test_a_load_is_moved_as_it_is_stated():
    found = moved(FORCE, FORCE, "load.force", "150 kN")
    assert found.tables["load"] == {"force": "150 kN", "contact_length": "300 mm"}
    assert found.case.line_load == pytest.approx(500.0)
    with pytest.raises(InputError):
        moved(FORCE, FORCE, "load.line_load", 500.0)
    assert moved(TUBE, TUBE, "load.line_load", 500.0).case.line_load == 500.0


def test_what_a_case_does_not_have_is_not_moved():
    for name, state in OPENED.items():
        keys = [one["key"] for one in shown(state, state)]
        assert len(set(keys)) == len(keys)
        assert ("contact.angle" in keys) == (state.case.corner is None), name
        loads = [key for key in keys if key.startswith("load.")]
        assert len(loads) == (not state.case.load.by_motion), name


def test_stock_sizes_near_the_section_are_offered_and_the_one_it_has():
    options = dict(of(TUBE, "section.designation")["options"])
    assert of(TUBE, "section.designation")["choice"] in options
    assert len(options) <= NEAREST + 2
    name = list(options)[5]
    found = moved(TUBE, TUBE, "section.designation", name)
    assert found.case.sections[0].stock == name
    assert found.tables["section"][0] == {"name": name, "designation": name}
    assert of(found, "section.designation")["choice"] == name
    slid = moved(found, TUBE, "section.wall", 15.0)
    D = found.case.sections[0].outside_diameter
    assert slid.case.sections[0].stock is None
    assert slid.case.sections[0].outside_diameter == pytest.approx(D)
    none = moved(found, TUBE, "section.designation", "none")
    assert none.case.sections[0].stock is None
    assert none.case.sections[0].wall == pytest.approx(found.case.sections[0].wall)


def test_steels_are_chosen_and_the_case_s_own_come_back():
    assert of(STEELS, "section.steel")["choice"] == "EN 10025-2 S355"
    found = moved(STEELS, STEELS, "section.steel", "as the post")
    assert found.case.sections[0].steel is None
    found = moved(STEELS, STEELS, "section.steel", "ASTM A36")
    assert found.case.sections[0].steel == "ASTM A36"
    found = moved(found, STEELS, "plate.steel", "ASTM A572 Gr 50")
    assert found.case.plate.steel == "ASTM A572 Gr 50"
    assert not {"young", "poisson", "yield"} & found.tables["plate"].keys()
    own = of(found, "plate.steel", STEELS)["options"][0][0]
    back = moved(found, STEELS, "plate.steel", own)
    assert back.case.plate == STEELS.case.plate
    assert of(back, "plate.steel", STEELS)["choice"] == own


def test_units_change_what_is_shown_and_nothing_else():
    found = moved(TUBE, TUBE, "report.units", "US customary")
    assert found.case.sections == TUBE.case.sections
    assert of(found, "section.outside_diameter")["unit"] == "in"
    assert of(found, "section.outside_diameter")["value"] == pytest.approx(150.0 / 25.4)
    assert of(found, "plate.thickness")["text"] == "1.5748 in"


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("section.wall", "99 in"), ("section.wall", ""), ("section.wall", math.nan),
        ("section.outside_diameter", "30"), ("section.designation", "no such size"),
        ("section.steel", "ASTM A992"), ("plate.steel", "EN 10210-1 S355H"),
        ("contact.friction", "x"), ("contact.friction", "inf"), ("contact.offset", "400 mm"),
        ("contact.angle", "1 mm"), ("plate.thickness", "3 kN"), ("plate.thickness", None),
        ("plate.thickness", [1]), ("load.line_load", "-1"), ("report.units", "ells"),
        ("title", "another"), ("section.name", "another"), ("", 1),
    ],
)  # fmt: skip
def test_a_bad_value_is_refused(key, value):
    with pytest.raises(InputError, match=r"^stop\.toml: "):
        moved(TUBE, TUBE, key, value)


@settings(max_examples=30, deadline=None)
@given(
    st.sampled_from(["SI", "US customary"]),
    st.sampled_from([one.key for one in moved_of(TUBE.case)]),
    st.floats(0.3, 0.7),
)
def test_moved_there_and_back_is_the_same_case(units, key, share):
    first = moved(TUBE, TUBE, "report.units", units)
    at = of(first, key)
    steps = round(share * (at["most"] - at["least"]) / at["step"])
    there = moved(first, first, key, at["least"] + steps * at["step"])
    back = moved(there, first, key, at["value"])
    for one in moved_of(first.case):
        assert one.of(back.case) == pytest.approx(one.of(first.case), rel=1e-6, abs=1e-9)


def test_what_was_taken_is_moved_from_then_on():
    found = moved(take(STEELS, "pipe"), STEELS, "section.outside_diameter", 180.0)
    assert [s.outside_diameter for s in found.case.sections] == [180.0, 150.0]
