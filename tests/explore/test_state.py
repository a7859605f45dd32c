"""The case file as it stands on the page: moved, pinned and taken without losing what is in it."""

import tomllib
from pathlib import Path

import pytest
from commands import SMALL
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.errors import InputError
from contactfe.explore.state import PINNED, State, opened, pin, put, resize, take, unpin

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))

REMARKED = """# Of the whole file.
title = "Test stop"  # a title
[plate]  # beneath
thickness = "40 mm"  # of the mill
width = "300 mm"
held_by = "rigid base"
young = "200 GPa"
poisson = 0.3
yield = "345 MPa"

[load]
line_load = "400 N/mm"  # by hand

[post]
held_by = "beam shear"
young = "200 GPa"
poisson = 0.3
yield = "345 MPa"

[[section]]
name = "pipe"
designation = "ASME B36.10M NPS 6 XXS"
steel = "ASTM A106 Gr C"

[[section]]
name = "filled"
outside_diameter = "150 mm"
bore = "110 mm"
[section.infill]
young = "30 GPa"
poisson = 0.2
density = "2400 kg/m3"

[[section]]
name = "solid"
outside_diameter = "6 in"
"""

ODD = {
    "dotted": """
title = "Test stop"
post.held_by = "beam shear"
post.young = "200 GPa"
post.poisson = 0.3
post.yield = "345 MPa"
plate.width = "300 mm"
plate.thickness = "40 mm"
plate.held_by = "rigid base"
plate.young = "200 GPa"
plate.poisson = 0.3
plate.yield = "345 MPa"
load.line_load = "400 N/mm"
[[section]]
name = "one"
outside_diameter = "150 mm"
[[section]]
name = "two"
outside_diameter = "150 mm"
wall = "20 mm"
""",
    "inline": """
title = "Test stop"
post = { held_by = "beam shear", young = "200 GPa", poisson = 0.3, yield = "345 MPa" }
plate = { width = "300 mm", thickness = "40 mm", held_by = "rigid base", young = "200 GPa", \
poisson = 0.3, yield = "345 MPa" }
load = { line_load = "400 N/mm" }
section = [
  { name = "one", outside_diameter = "150 mm" },  # the first
  { name = "two", outside_diameter = "150 mm", wall = "20 mm" },
]
""",
    "parted": """
title = "Test stop"
[[section]]
name = "one"
outside_diameter = "150 mm"
[post]
held_by = "beam shear"
young = "200 GPa"
poisson = 0.3
yield = "345 MPa"
[plate]
width = "300 mm"
thickness = "40 mm"
held_by = "rigid base"
young = "200 GPa"
poisson = 0.3
yield = "345 MPa"
[[section]]
name = "two"
outside_diameter = "150 mm"
wall = "20 mm"
[load]
line_load = "400 N/mm"
""",
    "quoted": SMALL.replace("[plate]", '["plate"]').replace("width =", "'width' =")
    + '[[section]]\nname = "two"\noutside_diameter = "150 mm"\n"wall" = \'20 mm\'\n',
    "with returns": SMALL.replace("\n", "\r\n")
    + '[[section]]\r\nname = "two"\r\noutside_diameter = "150 mm"\r\nwall = "20 mm"\r\n',
    "with empty tables": SMALL.replace("[post]", "[contact]\n[report]\n[post]")
    + '[[section]]\nname = "two"\noutside_diameter = "150 mm"\nwall = "20 mm"\n',
}  # fmt: skip


def of(text):
    return State(text, "stop.toml")


@pytest.mark.parametrize("text", ODD.values(), ids=ODD)
def test_every_layout_is_moved_and_nothing_else_of_it_changes(text):
    state = of(text)
    found = put(state, "contact.offset", "12 mm")
    found = put(found, "plate.thickness", "41 mm")
    found = resize(found, {"outside_diameter": "160 mm", "wall": "25 mm"})
    found = take(pin(found), "two")
    expected = tomllib.loads(text)
    expected.setdefault("contact", {})["offset"] = "12 mm"
    expected["plate"]["thickness"] = "41 mm"
    tube, two = found.tables["section"][1:]
    assert found.tables["section"][0] == expected["section"][1]
    assert {k: v for k, v in found.tables.items() if k != "section"} == {
        k: v for k, v in expected.items() if k != "section"
    }
    assert [s.wall for s in found.case.sections] == [20.0, 25.0, 25.0]
    assert tube.keys() == two.keys() == {"name", "outside_diameter", "wall"}


def test_comments_and_order_stay():
    state = put(of(REMARKED), "plate.thickness", "41 mm")
    assert state.text == REMARKED.replace('"40 mm"', '"41 mm"')
    state = put(state, "load.line_load", "500 N/mm")
    state = put(state, "contact.friction", 0.2)
    state = resize(state, {"outside_diameter": "150 mm", "wall": "12 mm"})
    for remark in ("# Of the whole file.", "# a title", "# beneath", "# of the mill", "# by hand"):
        assert remark in state.text
    before = list(tomllib.loads(REMARKED))
    assert [key for key in state.tables if key in before] == before
    assert list(state.tables["plate"]) == list(tomllib.loads(REMARKED)["plate"])


def test_a_section_keeps_what_is_not_its_size():
    state = resize(take(of(REMARKED), "filled"), {"outside_diameter": "160 mm", "wall": "25 mm"})
    assert state.tables["section"][0] == {
        "name": "160 × 25 mm, filled", "outside_diameter": "160 mm", "wall": "25 mm",
        "infill": {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"},
    }  # fmt: skip
    state = resize(of(REMARKED), {"outside_diameter": "160 mm", "wall": "25 mm"})
    first = state.tables["section"][0]
    assert first["steel"] == "ASTM A106 Gr C"
    assert "designation" not in first
    assert state.case.sections[0].stock is None


def test_a_stock_size_gives_its_name_to_the_section():
    state = resize(of(SMALL), {"designation": "ASME B36.10M NPS 6 XXS"})
    assert state.case.sections[0].name == state.case.sections[0].stock
    assert state.tables["section"] == [
        {"name": state.case.sections[0].name, "designation": "ASME B36.10M NPS 6 XXS"}
    ]


def test_a_key_is_taken_away():
    state = put(of(SMALL), "contact.friction", 0.2)
    assert put(state, "contact.friction", None).case == of(SMALL).case


@pytest.mark.parametrize(
    ("path", "value"),
    [("plate.thickness", "3 kN"), ("contact.friction", 2.0), ("nothing.of_it", 1), ("title", 3)],
)
def test_what_is_no_case_is_no_state(path, value):
    with pytest.raises(InputError):
        put(of(SMALL), path, value)


def test_pins_have_names_of_their_own_up_to_so_many():
    state = of(SMALL)
    for count in range(1, PINNED + 1):
        state = pin(state)
        names = [section.name for section in state.case.sections]
        assert len(set(names)) == len(names) == count + 1
        assert set(names) == {"solid", *(f"solid ({n})" for n in range(2, count + 2))}
    with pytest.raises(InputError):
        pin(state)
    for name in state.pinned:
        state = unpin(state, name)
    assert state.pinned == ()


def test_what_is_pinned_is_what_was_moved_and_stays_when_that_is_moved_on():
    state = resize(pin(of(SMALL)), {"outside_diameter": "160 mm"})
    assert [s.outside_diameter for s in state.case.sections] == [160.0, 150.0]
    assert state.pinned == ("solid",)


def test_one_that_is_taken_off_is_the_one_that_is_named():
    assert of(REMARKED).pinned == ("filled", "solid")
    assert unpin(of(REMARKED), "filled").pinned == ("solid",)
    assert unpin(of(REMARKED), "none of these").pinned == ("filled", "solid")


def test_taken_twice_is_as_it_was():
    for name in ("filled", "solid"):
        once = take(of(REMARKED), name)
        assert once.case.sections[0].name == name
        assert once.pinned.count("pipe") == 1
        assert take(once, "pipe").case == of(REMARKED).case
    assert take(of(REMARKED), "none of these").text == REMARKED


NUMBERS = st.floats(0.5, 2.0).map(lambda factor: f"{factor * 40.0:.6g} mm")


@settings(max_examples=25, deadline=None)
@given(NUMBERS, st.sampled_from(sorted(ODD)))
def test_moved_there_and_back_is_the_same_case(thickness, layout):
    state = of(ODD[layout])
    there = put(state, "plate.thickness", thickness)
    assert there.tables["plate"]["thickness"] == thickness
    back = put(there, "plate.thickness", "40 mm")
    assert back.tables == state.tables
    assert back.text == state.text or layout == "parted"  # whose sections come to stand together


@settings(max_examples=25, deadline=None)
@given(st.lists(st.sampled_from(["pin", "unpin", "take", "wall"]), max_size=8), st.data())
def test_whatever_is_done_to_sections_there_is_one_that_is_moved_and_names_differ(steps, data):
    state = of(REMARKED)
    for step in steps:
        name = data.draw(st.sampled_from([*state.pinned, "none"]))
        try:
            if step == "wall":
                wall = data.draw(st.integers(10, 40))
                state = resize(state, {"outside_diameter": "150 mm", "wall": f"{wall} mm"})
            else:
                state = (
                    pin(state)
                    if step == "pin"
                    else {"unpin": unpin, "take": take}[step](state, name)
                )
        except InputError:
            assert step in {"pin", "wall"}  # too many; of a section that has a bore or an infill
            continue
        names = [section.name for section in state.case.sections]
        assert len(set(names)) == len(names) <= 1 + PINNED
        assert "# of the mill" in state.text


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_worked_cases_are_opened_and_moved(path):
    state, left = opened(path)
    assert state.source == path.name
    assert 1 <= len(state.case.sections) <= 1 + PINNED
    assert not set(left) & {section.name for section in state.case.sections}
    moved = put(state, "plate.thickness", "66 mm")
    assert moved.case.plate.thickness == 66.0
    assert moved.text.count("#") >= state.text.partition("[[section]]")[0].count("#")


def test_sections_beyond_the_room_of_the_page_are_left_out(tmp_path):
    path = tmp_path / "stop.toml"
    more = (f'[[section]]\nname = "s{k}"\noutside_diameter = "{100 + k} mm"\n' for k in range(6))
    path.write_text("\ufeff" + SMALL + "".join(more), encoding="utf-8")
    state, left = opened(path)
    assert [s.name for s in state.case.sections] == ["solid", "s0", "s1", "s2"]
    assert left == ("s3", "s4", "s5")
    assert str(tmp_path) not in state.text + state.source
