import pytest
from hypothesis import given
from hypothesis import strategies as st
from sweeps import DATA, data

from contactfe.case import case_from_dict
from contactfe.case.patching import Put, check_paths, patched, places, read_sample
from contactfe.case.sweeping import Swept
from contactfe.errors import InputError

RANGE = {"from": "40 mm", "to": "60 mm"}


def sweep(over, **more):
    return case_from_dict(data(over, **more), "x.toml").sweep


def test_values_are_kept_in_the_unit_of_the_file():
    found = sweep({"plate.thickness": ["2 in", "2.5 in"], "contact.friction": [0, 0.2]})
    assert found.method == "grid"
    assert found.keys == (
        Swept("plate.thickness", "in", (2.0, 2.5)),
        Swept("contact.friction", "", (0, 0.2)),
    )
    assert found.count == 4
    assert [found.keys[0].written(x) for x in (2.0, 2.125)] == ["2 in", "2.125 in"]


def test_a_range_is_even_or_grows_by_one_ratio_and_holds_its_ends():
    (even,) = sweep({"plate.thickness": RANGE | {"count": 5}}).keys
    assert even.values == (40.0, 45.0, 50.0, 55.0, 60.0)
    log = {"from": "10 mm", "to": "90 mm", "count": 3, "spacing": "log"}
    (grown,) = sweep({"plate.thickness": log}).keys
    assert (grown.values[0], grown.values[2]) == (10.0, 90.0)
    assert grown.values[1] == pytest.approx(30.0, rel=1e-14)  # √(10·90), to rounding


def test_whole_numbers_stay_whole_where_they_can():
    (key,) = sweep({"plate.poisson": {"from": 1, "to": 4, "count": 4}}).keys
    assert [type(x) for x in key.values] == [int] * 4
    assert key.values == (1, 2, 3, 4)


@given(st.floats(1e-6, 1e6), st.floats(1e-6, 1e6), st.sampled_from(["even", "log"]))
def test_a_share_of_a_range_lies_within_it(first, last, spacing):
    key = Swept("a", "", (first, last), spacing)
    for share in (0.0, 0.25, 1.0):
        # To rounding of exp(log x).
        low, high = min(first, last) * (1 - 1e-13), max(first, last) * (1 + 1e-13)
        assert low <= key.between(share) <= high


BAD = {
    "unknown method": ({"a.b": [1]}, {"method": "random"}, 'must be "grid", "list" or'),
    "nothing": ({}, {}, "[sweep.over]: must state what is varied"),
    "no list": ({"plate.thickness": "4 mm"}, {}, '"plate.thickness" = "4 mm": must be a list'),
    "no quotes": ({"plate": {"thickness": ["4 mm"]}}, {}, '"plate": must be the whole path of a'),
    "empty": ({"plate.thickness": []}, {}, "at least one value"),
    "text": (
        {"plate.held_by": ["rigid base"]}, {},
        '"plate.held_by", entry 1 = "rigid base": must be a number',
    ),
    "truth": ({"contact.friction": [True]}, {}, "entry 1 = true: must be a number"),
    "endless": ({"contact.friction": [float("inf")]}, {}, "finite"),
    "units": ({"plate.thickness": ["40 mm", "2 in"]}, {}, "one unit, not in in and mm"),
    "half units": ({"plate.thickness": ["40 mm", 2]}, {}, "one unit, not in mm and none"),
    "no count": ({"plate.thickness": RANGE}, {}, "maybe spacing: count is missing"),
    "count": ({"plate.thickness": RANGE | {"count": 1}}, {}, "count = 1: must be a whole number"),
    "step": ({"plate.thickness": RANGE | {"count": 3, "step": 1}}, {}, ": step is not known"),
    "same": ({"plate.thickness": {"from": "4 mm", "to": "4 mm", "count": 2}}, {}, "must differ"),
    "log": (
        {"contact.offset": {"from": "-4 mm", "to": "4 mm", "count": 3, "spacing": "log"}}, {},
        "greater than zero",
    ),
    "spacing": (
        {"plate.thickness": RANGE | {"count": 3, "spacing": "odd"}}, {},
        ', spacing = "odd": must be "even" or "log"',
    ),
    "uneven": (
        {"plate.thickness": ["40 mm"], "contact.friction": [0.1, 0.2]}, {"method": "list"},
        '"plate.thickness" has 1, "contact.friction" has 2',
    ),
    "no samples": ({"plate.thickness": RANGE}, {"method": "latin hypercube"}, "samples = 100"),
    "drawn list": (
        {"plate.thickness": ["4 mm"]}, {"method": "latin hypercube", "samples": 3},
        "must be a range such as",
    ),
    "idle samples": ({"plate.thickness": ["4 mm"]}, {"samples": 3}, "samples and seed are for"),
    "idle seed": ({"plate.thickness": ["4 mm"]}, {"seed": 0}, "samples and seed are for"),
    "seed": (
        {"plate.thickness": RANGE}, {"method": "latin hypercube", "samples": 3, "seed": -1},
        "seed = -1: must be a whole number from 0",
    ),
    "odd levels": ({"plate.thickness": ["4 mm"]}, {"levels": [1]}, "levels: must be 1 or 2"),
    "odd spacing": (
        {"plate.thickness": RANGE | {"count": 3, "spacing": ["log"]}}, {}, ', spacing: must be'
    ),
    "levels": ({"plate.thickness": ["4 mm"]}, {"levels": 3}, "levels = 3: must be 1 or 2"),
    "true levels": ({"plate.thickness": ["4 mm"]}, {"levels": True}, "levels = true: must be 1"),
    "key": ({"plate.thickness": ["4 mm"]}, {"sampels": 3}, "did you mean samples?"),
    "too many": (
        {f"plate.{k}": {"from": 0, "to": 1, "count": 1000} for k in range(3)}, {},
        "asks for 1000000000 samples",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_what_cannot_be_used_is_refused_in_one_line(name):
    over, more, part = BAD[name]
    with pytest.raises(InputError) as refused:
        sweep(over, **more)
    text = str(refused.value)
    assert part in text
    assert text.startswith(("x.toml: [sweep.over]", "x.toml: [sweep]"))
    assert "\n" not in text


TWO = DATA | {
    "section": [
        {"name": "a", "outside_diameter": "150 mm"},
        {"name": "a.b", "outside_diameter": "150 mm", "wall": "9 mm", "infill": {"young": "1 GPa"}},
    ],
    "grade": {"7.5 old": {"yield": "200 MPa"}},
    "motion": {"damper": [{"exponent": 0.3}, {"exponent": 0.4}]},
}


@pytest.mark.parametrize(
    ("path", "found"),
    [
        ("load.line_load", [("load", "line_load")]),
        ("contact.friction", [("contact", "friction")]),  # the table is not there yet
        ("section.outside_diameter", [("section", k, "outside_diameter") for k in (0, 1)]),
        ("section.wall", [("section", 1, "wall")]),  # a solid stays one
        ("section.wal", [("section", 0, "wal"), ("section", 1, "wal")]),  # to be refused as read
        ("section.a.wall", [("section", 0, "wall")]),
        ("section.a.b.wall", [("section", 1, "wall")]),  # by the longer name
        ("section.infill.young", [("section", 1, "infill", "young")]),  # only where there is one
        ("grade.7.5 old.yield", [("grade", "7.5 old", "yield")]),
        ("motion.damper.exponent", [("motion", "damper", k, "exponent") for k in (0, 1)]),
    ],
)
def test_a_path_leads_to_its_places(path, found):
    assert places(TWO, path) == tuple(found)


A_KEY = 'must be the path of a key in a table, such as "plate.thickness"'
SECTIONS = 'the sections are "a" and "a.b"'


@pytest.mark.parametrize(
    ("path", "message"),
    [
        ("accuracy", "is not sought by a sweep, which solves on the levels of [sweep]"),
        ("section.none.wall", f'there is no section "none"; {SECTIONS}'),
        (
            "section.a.outside_diameter.x",
            "outside_diameter is a single value, without keys of its own",
        ),
        (
            "section.bore",
            'no section states bore; name one to give it that, such as "section.a.bore"; '
            f"{SECTIONS}",
        ),
        ("section.a.b", 'names a section, not a key of it, such as "section.a.b.wall"'),
        ("section", A_KEY),
        ("section.", A_KEY),
        ("", A_KEY),
        ("plate.", A_KEY),
        ("title.x", "title is a single value, without keys of its own"),
        ("grade.new.yield", 'leads to no [grade.NAME] of the case; its grades are "7.5 old"'),
        ("motion.damper.first.force", "leads to no key of [[motion.damper]], which have no names"),
        ("sizing.wall", "[sizing] says what is to be tried, and cannot be varied"),
        ("overload.factors", "[overload] says what is to be tried, and cannot be varied"),
        ("plate.hardening", "does not change a sweep, which is elastic"),
        ("grade.7.5 old.hardening", "does not change a sweep, which is elastic"),
        ("scale", "is of the specimen; a sweep solves the prototype"),
    ],
)
def test_a_path_that_leads_nowhere_is_refused(path, message):
    with pytest.raises(InputError) as refused:
        places(TWO, path)
    assert str(refused.value) == f'[sweep.over] "{path}": {message}'


def test_a_path_to_what_the_case_has_none_of_is_refused():
    with pytest.raises(InputError, match=r"the case has no \[\[motion.damper\]\]"):
        places(DATA, "motion.damper.force")
    with pytest.raises(InputError, match=r"leads to no \[grade.NAME\] of the case; it states none"):
        places(DATA | {"grade": {}}, "grade.new.yield")


def test_patching_leaves_the_tables_as_they_were():
    before = data() | {"overload": {"factors": [2.0]}}
    found = patched(before, [(("section", 0, "wall"), "9 mm"), (("contact", "friction"), 0.1)])
    assert found["section"][0]["wall"] == "9 mm"
    assert found["contact"] == {"friction": 0.1}
    assert not {"sweep", "overload"} & set(found)
    assert before == data() | {"overload": {"factors": [2.0]}}


@pytest.mark.parametrize(
    ("over", "parts"),
    [
        ({"plate.thicknes": ["40 mm"]}, ['plate.thicknes": is not known here; did you mean thick']),
        (
            {"plat.thickness": ["40 mm"]},
            ['plat.thickness": [plat]: is not known here; did you mean [plate]?'],
        ),
        ({"plate.thickness": [40]}, ['plate.thickness", entry 1 = 40: has no unit']),
        # As it is written, and not as it is kept.
        ({"plate.thickness": ["40.0kN"]}, ['ness", entry 1 = "40.0kN": is a force, not a length']),
        (
            {"plate.thickness": {"from": "4 kN", "to": "5 kN", "count": 3}},
            ['plate.thickness", from = "4 kN": is a force, not a length'],
        ),
        ({"contact.friction": [1.5, 2]}, ['contact.friction", entry 1 = 1.5: must be from 0 to 1']),
        (
            {"load.force": ["4 kN", "5 kN"]},
            ['load.force", entry 1 = "4 kN": [load]: must state either line_load'],
        ),
        ({"section.x.wall": ["40 mm"]}, ['section.x.wall": there is no section "x"; the sec']),
        ({"plate.held_by": [1]}, ['plate.held_by": holds text; what is varied must be a number']),
        ({"title": [1]}, ['title": holds text; what is varied must be a number']),
        ({"plate.thickness": [4], "plat.x": [1]}, ["has no unit", "did you mean [plate]?"]),
    ],
)
def test_a_key_that_no_sample_can_have_is_refused_before_the_work(over, parts):
    tables = data(over)
    with pytest.raises(InputError) as refused:
        check_paths(tables, case_from_dict(tables, "x.toml").sweep, "x.toml")
    for part in ('x.toml: [sweep.over] "', *parts):
        assert part in str(refused.value)
    assert str(refused.value).count("\n") == len(over) - 1


@pytest.mark.parametrize(
    "over",
    [
        {"plate.thickness": ["-1 mm", "50 mm"]},  # one value of two
        {"corner.offset": ["1 mm"], "corner.line_load": ["100 N/mm"]},  # only together
    ],
)
def test_what_some_sample_can_have_passes(over):
    tables = data(over)
    check_paths(tables, case_from_dict(tables).sweep, "x.toml")


def test_an_end_of_a_hypercube_is_named_as_it_is_written():
    tables = data(
        {"plate.thickness": {"from": "4.0 s", "to": "5 s"}}, method="latin hypercube", samples=3
    )
    with pytest.raises(InputError, match=r'"plate.thickness", from = "4.0 s": is a time, not'):
        check_paths(tables, case_from_dict(tables, "x.toml").sweep, "x.toml")


TUBES = DATA | {
    "section": [
        {"name": "solid", "outside_diameter": "60 mm"},
        {"name": "thin", "outside_diameter": "150 mm", "wall": "9 mm"},
        {"name": "thick", "outside_diameter": "100 mm", "wall": "20 mm"},
    ]
}
WALL = Put("section.wall", (("section", 1, "wall"), ("section", 2, "wall")), "60 mm")


def test_a_sample_names_the_key_that_its_value_is_stated_under():
    put = Put("plate.thickness", (("plate", "thickness"),), "-4 mm")
    with pytest.raises(InputError) as refused:
        read_sample(DATA, [put], "x.toml")
    assert str(refused.value) == (
        'x.toml: [sweep.over] "plate.thickness" = "-4 mm": must be greater than zero'
    )


def test_a_value_of_every_section_names_the_one_that_cannot_have_it():
    line = (
        'x.toml: [sweep.over] "section.wall" = "60 mm", section 3 "thick": must be less than half'
        " the outside diameter, 50 mm"
    )
    for only in (None, 2):
        with pytest.raises(InputError) as refused:
            read_sample(TUBES, [WALL], "x.toml", only)
        assert str(refused.value) == line
    for only, wall in ((0, None), (1, 60.0)):
        (section,) = read_sample(TUBES, [WALL], "x.toml", only).sections
        assert section.wall == wall
