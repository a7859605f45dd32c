from copy import deepcopy
from typing import get_args

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from contactfe.case import case_from_dict, read_case, renamed
from contactfe.case.holds import PlateHold
from contactfe.errors import InputError

ABSENT = object()
SOFT = {"held_by": "beam shear", "young": "200 MPa", "poisson": 0.3, "yield": "50 ksi"}


def _changed(data, location, value):
    data = deepcopy(data)
    table = data
    for key in location[:-1]:
        table = table[key] if isinstance(key, int) else table.setdefault(key, {})
    if value is ABSENT:
        del table[location[-1]]
    else:
        table[location[-1]] = value
    return data


def _refusal(data):
    with pytest.raises(InputError) as refusal:
        case_from_dict(data, "cases/x.toml")
    return str(refusal.value)


def test_a_modulus_of_ten_times_the_yield_strength_passes(data):
    assert case_from_dict(_changed(data, ("plate", "young"), "3450 MPa"))


@pytest.mark.parametrize(
    ("location", "value", "line"),
    [
        # what is missing
        (
            ("title",),
            ABSENT,
            'title: is missing; write for example title = "Lighthouse annex, stop S2"',
        ),
        (("post",), ABSENT, "[post]: is missing; a case needs this table"),
        (("section",), ABSENT, "[[section]]: is missing; a case needs this table"),
        (
            ("post", "held_by"),
            ABSENT,
            '[post] held_by: is missing; write for example held_by = "beam shear"',
        ),
        (
            ("plate", "width"),
            ABSENT,
            '[plate] width: is missing; write for example width = "400 mm"',
        ),
        (
            ("section", 0, "name"),
            ABSENT,
            'section 1, name: is missing; write for example name = "tube 150 x 25"',
        ),
        (
            ("section", 1, "outside_diameter"),
            ABSENT,
            'section 2 "tube 150 x 25", outside_diameter: is missing; '
            'write for example outside_diameter = "150 mm"',
        ),
        (("section",), [], "[[section]]: must hold 1 to 1000 sections, not 0"),
        # what is not known
        (
            ("plate", "widht"),
            "4 m",
            '[plate] widht = "4 m": is not known here; did you mean width? '
            "allowed: steel, young, poisson, yield, ultimate, hardening, hardening_kind, width, "
            "thickness, held_by, spring",
        ),
        (
            ("plate", "yield_strength"),
            "345 MPa",
            '[plate] yield_strength = "345 MPa": is not known here; did you mean yield? '
            "allowed: steel, young, poisson, yield, ultimate, hardening, hardening_kind, width, "
            "thickness, held_by, spring",
        ),
        (
            ("section", 1, "diameter"),
            "150 mm",
            'section 2 "tube 150 x 25", diameter = "150 mm": is not known here; '
            "did you mean outside_diameter? "
            "allowed: name, designation, outside_diameter, wall, bore, steel, held_by, mesh, "
            "mesh_unit, steel_thickness, infill",
        ),
        (
            ("sections",),
            {},
            "[sections]: is not known here; did you mean [[section]]? "
            "allowed: [post], [plate], [load], [contact], [corner], [envelope], [model], "
            "[check], [accept], [report], [document], [cantilever], [standards], [motion], "
            "[contact_law], [alignment], [tolerance], [sizing], ",
        ),
        (("wind",), {"x": 1}, "[wind]: is not known here; allowed: [post], [plate], [load], "),
        (("winds",), [{}], "[[winds]]: is not known here; allowed: [post], [plate], [load], "),
        (("odd name",), {}, '["odd name"]: is not known here; allowed: [post], [plate], [load], '),
        (
            ("titel",),
            "x",
            'titel = "x": is not known here; did you mean title? allowed: title, accuracy, scale',
        ),
        (
            ("model", "zzz"),
            True,
            "[model] zzz = true: is not known here; allowed: state",
        ),
        # what is of the wrong type
        (("title",), 3, "title = 3: must be text in quotes"),
        (("plate", "poisson"), "0.3", '[plate] poisson = "0.3": must be a number without quotes'),
        (("plate", "poisson"), True, "[plate] poisson = true: must be a number without quotes"),
        (
            ("plate", "width"),
            400,
            '[plate] width = 400: has no unit; write for example "150 mm"',
        ),
        (("post",), "steel", '[post] = "steel": must be one table, headed [post]'),
        (("post",), [{}], "[post]: must be one table, headed [post]"),
        (("section",), {}, "[section]: must be a list of tables, each headed [[section]]"),
        (("section",), 5, "section = 5: must be a list of tables, each headed [[section]]"),
        (("section", 1), 5, "section 2 = 5: must be one table, headed [[section]]"),
        (
            ("post", "held_by"),
            "clamps",
            '[post] held_by = "clamps": must be "beam shear", "diametral" or "rigid core"',
        ),
        (
            ("post", "held_by"),
            1,
            '[post] held_by = 1: must be "beam shear", "diametral" or "rigid core"',
        ),
        (
            ("plate", "held_by"),
            "glue",
            '[plate] held_by = "glue": must be "rigid base", "simply supported", "clamped" or '
            '"elastic supports"',
        ),
        (
            ("model", "state"),
            "3D",
            '[model] state = "3D": must be "plane strain" or "plane stress"',
        ),
        (
            ("report", "units"),
            "imperial",
            '[report] units = "imperial": must be "SI" or "US customary"',
        ),
        (
            ("report", "units"),
            "si",
            '[report] units = "si": must be "SI" or "US customary"',
        ),
        (("report", "units"), 1, '[report] units = 1: must be "SI" or "US customary"'),
        (("report",), "SI", '[report] = "SI": must be one table, headed [report]'),
        (
            ("report", "unit"),
            "SI",
            '[report] unit = "SI": is not known here; did you mean units? allowed: units',
        ),
        # what is out of range
        (("title",), "  ", 'title = "  ": must not be empty'),
        (
            ("plate", "thickness"),
            "0 mm",
            '[plate] thickness = "0 mm": must be greater than zero',
        ),
        (("plate", "width"), "1e-99 m", '[plate] width = "1e-99 m": must be greater than zero'),
        (("plate", "width"), "1e99 m", '[plate] width = "1e99 m": is too large a number'),
        (
            ("plate", "young"),  # psi in place of ksi
            "29000 psi",
            '[plate]: young = "29000 psi" must be at least 10 times yield = "345 MPa"; that of'
            " steel is about 200 GPa, 29000 ksi",
        ),
        (("plate", "young"), "3449 MPa", '[plate]: young = "3449 MPa" must be at least 10 times'),
        (("post",), SOFT, '[post]: young = "200 MPa" must be at least 10 times yield = "50 ksi";'),
        (("plate", "young"), "-1 GPa", '[plate] young = "-1 GPa": must be greater than zero'),
        (("load", "line_load"), "-1 N/mm", '[load] line_load = "-1 N/mm": must be greater than'),
        (
            ("plate", "poisson"),
            0.5,
            "[plate] poisson = 0.5: must be at least 0 and less than 0.5",
        ),
        (("plate", "poisson"), -0.1, "[plate] poisson = -0.1: must be at least 0 and less than"),
        (
            ("plate", "poisson"),
            float("nan"),
            "[plate] poisson = nan: must be at least 0 and less than",
        ),
        (
            ("check", "yield_margin"),
            0.9,
            "[check] yield_margin = 0.9: must be a number of at least 1",
        ),
        (
            ("check", "yield_margin"),
            float("inf"),
            "[check] yield_margin = inf: must be a number of at least 1",
        ),
        (
            ("section", 1, "wall"),
            "80 mm",
            'section 2 "tube 150 x 25", wall = "80 mm": '
            "must be less than half the outside diameter, 75 mm",
        ),
        (
            ("section", 1, "wall"),
            "75 mm",
            'section 2 "tube 150 x 25", wall = "75 mm": must be less than half',
        ),
        (
            ("section", 0, "bore"),
            "150 mm",
            'section 1 "solid 150", bore = "150 mm": must be less than the outside diameter, 150 m',
        ),
        (
            ("section", 1, "bore"),
            "100 mm",
            'section 2 "tube 150 x 25", bore = "100 mm": must not be stated beside wall; '
            "choose one",
        ),
        (
            ("section", 1, "name"),
            " solid 150 ",
            'section 2 " solid 150 ", name = " solid 150 ": is already the name of section 1',
        ),
        (("section", 0, "name"), "", 'section 1 "", name = "": must not be empty'),
        # steels
        (
            ("post", "steel"),
            "S355",
            '[post] steel = "S355": is not a known steel; did you mean "EN 10025-2 S355" or'
            ' "EN 10210-1 S355H" or "EN 10210-1 S355H product bands"? allowed: "EN 10025-2 S235", ',
        ),
        (
            ("section", 1, "steel"),
            "tin",
            'section 2 "tube 150 x 25", steel = "tin": is not a known steel; allowed: "EN 10025',
        ),
        (
            ("post", "young"),
            "210 GPa",
            "[post]: states steel and also young, poisson, yield or ultimate; choose one",
        ),
        (
            ("post", "steel"),
            ABSENT,
            "[post]: young, poisson, yield are missing; state either "
            'steel = "EN 10025-2 S355", or all of young, poisson and yield',
        ),
        (("plate", "poisson"), ABSENT, "[plate]: poisson is missing; state either steel = "),
        (("plate", "yield"), ABSENT, "[plate]: yield is missing; state either steel = "),
        (
            ("section", 0, "outside_diameter"),
            "300 mm",
            'section 1 "solid 150", outside_diameter = "300 mm": "EN 10025-2 S355" is listed as '
            "solid up to 250 mm thick, not 300 mm",
        ),
        (
            ("section", 0, "steel"),
            "ASTM A1085",
            'section 1 "solid 150", steel = "ASTM A1085": "ASTM A1085" is listed as tube, '
            "not as solid; name another steel",
        ),
        # load
        (
            ("load", "force"),
            "450 kN",
            '[load]: must state either line_load = "1.5 kN/mm", or both force = "450 kN" and '
            'contact_length = "300 mm"',
        ),
        (("load", "contact_length"), "300 mm", "[load]: must state either line_load"),
        (("load",), {}, "[load]: must state either line_load"),
        (("load",), {"force": "450 kN"}, "[load]: must state either line_load"),
        (("load",), {"contact_length": "3 m"}, "[load]: must state either line_load"),
    ],
)
def test_one_fault_is_one_line(data, location, value, line):
    refusal = _refusal(_changed(data, location, value))
    assert refusal.startswith(f"cases/x.toml: {line}")
    assert "\n" not in refusal


@pytest.mark.parametrize(("table", "key"), renamed.KEYS)
def test_a_key_of_an_earlier_version_is_answered_with_its_name_now(data, table, key):
    heading, location = {
        "": (f"[{key}]", (key,)),
        "section": (f'section 2 "tube 150 x 25", {key}', ("section", 1, key)),
    }.get(table, (f"[{table}] {key}", (table, key)))
    old = _refusal(_changed(data, location, "300 mm" if table else {}))
    stated = f'{heading} = "300 mm"' if table else heading
    now = renamed.KEYS[table, key]
    assert f"cases/x.toml: {stated}: is not known here; it is called {now} now" in old.splitlines()
    # The new name is known where the old one stood.
    data.setdefault("corner", {})
    new = _refusal(_changed(data, (*location[:-1], now.strip("[]")), 0))
    assert "is not known here" not in new


@pytest.mark.parametrize("value", renamed.VALUES)
def test_a_value_of_an_earlier_version_is_answered_with_its_name_now(data, value):
    now = renamed.VALUES[value]
    table, other = ("plate", "post") if now in get_args(PlateHold) else ("post", "plate")
    line = f'cases/x.toml: [{table}] held_by = "{value}": is called "{now}" now'
    assert _refusal(_changed(data, (table, "held_by"), value)) == line
    # Where it never stood, it is a fault as any other.
    assert "must be" in _refusal(_changed(data, (other, "held_by"), value))
    data[table]["held_by"] = now
    data["plate"] |= {"spring": "2 kN/mm/mm"} if now == "elastic supports" else {}
    data["section"] = data["section"][1:]
    case = case_from_dict(data)
    assert getattr(case, table).held_by == now


def test_a_name_of_an_earlier_version_counts_where_it_stood_alone(data):
    infill = {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3", "size": "1 m"}
    refusal = _refusal(_changed(data, ("section", 1, "infill"), infill))
    assert "allowed: name, young, poisson, density" in refusal


def test_the_plate_can_be_too_thick_for_its_steel(data):
    data["plate"] = {
        "width": "1 m",
        "thickness": "0.5 m",
        "held_by": "rigid base",
        "steel": "EN 10025-2 S235",
    }
    assert _refusal(data) == (
        'cases/x.toml: [plate] thickness = "0.5 m": '
        '"EN 10025-2 S235" is listed as plate up to 400 mm thick, not 500 mm'
    )


def test_every_fault_is_reported_at_once(data):
    data["title"] = 7
    data["post"]["held_by"] = "hand"
    data["plate"]["width"] = "400 kN"
    data["section"][0]["outside_diameter"] = "150"
    data["section"][1]["wall"] = "80 mm"
    assert _refusal(data).splitlines() == [
        "cases/x.toml: title = 7: must be text in quotes",
        'cases/x.toml: [post] held_by = "hand": must be "beam shear", "diametral" or "rigid core"',
        'cases/x.toml: [plate] width = "400 kN": is a force, not a length; '
        'write for example "150 mm", in mm, cm, m, in, inch or ft',
        'cases/x.toml: section 1 "solid 150", outside_diameter = "150": has no unit; '
        'write for example "150 mm", in mm, cm, m, in, inch or ft',
        'cases/x.toml: section 2 "tube 150 x 25", wall = "80 mm": '
        "must be less than half the outside diameter, 75 mm",
    ]


def test_a_line_break_in_a_value_stays_in_its_line(data):
    data["section"][1] |= {"wall": "80\nmm"}
    assert _refusal(data).count("\n") == 0


@pytest.mark.parametrize(
    "text", ["two\nlines", "a\x1b[31mred", "a\u2028b", "bell\x07", "\u202eturned", "a\u2067b"]
)
@pytest.mark.parametrize("location", [("title",), ("section", 1, "name")])
def test_what_would_garble_a_page_is_refused(data, location, text):
    refusal = _refusal(_changed(data, location, text))
    assert "without control characters" in refusal
    assert not {"\n", "\x1b", "\x07"} & set(refusal)


@pytest.mark.parametrize("text", ["Brücke 3", "鋼管", "a\u00a0b", "[bold]", "C:\\x", "🏗️"])
def test_other_names_are_taken_as_they_are(data, text):
    case = case_from_dict(_changed(data, ("section", 1, "name"), text))
    assert case.sections[1].name == text


anything = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.text(max_size=8),
        st.dates(),
        st.sampled_from(
            ["25 mm", "9e29 mm", "1e-300 mm", "1 kN/mm", "EN 10025-2 S355", "diametral"]
        ),
        st.sampled_from(["2 %", "15 deg", "-80 deg", "rigid core", 0.2]),
    ),
    lambda inner: st.one_of(st.lists(inner), st.dictionaries(st.text(max_size=5), inner)),
    max_leaves=4,
)
places = st.sampled_from(
    [
        ("title",),
        ("post",),
        ("post", "steel"),
        ("post", "density"),
        ("plate", "poisson"),
        ("plate", "width"),
        ("load", "line_load"),
        ("model",),
        ("check", "yield_margin"),
        ("section",),
        ("section", 0),
        ("section", 1, "name"),
        ("section", 1, "wall"),
        ("section", 1, "held_by"),
        ("section", 1, "infill"),
        ("section", 1, "infill", "name"),
        ("section", 1, "mesh"),
        ("section", 1, "zzz"),
        ("section", 1, "designation"),
        ("grade",),
        ("grade", "own"),
        ("grade", "own", "yield"),
        ("grade", "own", "over"),
        ("grade", "own", "zzz"),
        ("accuracy",),
        ("plate", "spring"),
        ("contact",),
        ("contact", "angle"),
        ("contact", "friction"),
        ("corner",),
        ("corner", "offset"),
        ("envelope",),
        ("envelope", "offset"),
        ("envelope", "angle", "count"),
        ("envelope", "friction"),
        ("envelope", "friction", "from"),
    ]
)


@given(places, anything)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_anything_at_all_is_read_or_refused_with_its_place(data, location, value):
    changed = _changed(data, location, value)
    try:
        case = case_from_dict(changed, "cases/x.toml")
    except InputError as refusal:
        for line in str(refusal).split("\n"):
            file, place, message = line.split(": ", 2)
            assert file == "cases/x.toml"
            assert str(location[0]) in place or "section" in place  # a post's steel fails in one
            assert message
    else:
        assert 0 < case.line_load < float("inf")
        assert all(section.geometry.area > 0 for section in case.sections)
        contacts = [case.contact, *(case.envelope.contacts if case.envelope else ())]
        assert all(abs(c.offset) < case.plate.width / 2 for c in contacts)
        assert all(abs(c.angle) < 1.4 and 0 <= c.friction <= 1 for c in contacts)
        assert case.accuracy is None or 0.0009 < case.accuracy < 0.21


def test_an_odd_key_cannot_break_the_line(data):
    changed = _changed(data, ("post", "held by\n"), 1)
    with pytest.raises(InputError) as refusal:
        case_from_dict(changed, "cases/x.toml")
    assert '[post] "held by\\n" = 1: is not known here' in str(refusal.value)


def test_an_odd_key_of_a_range_cannot_break_the_line(data):
    refusal = _refusal(_changed(data, ("envelope", "offset"), {"a\nb": 1}))
    assert refusal.endswith('"a\\nb" is not known')
    assert "\n" not in refusal


@pytest.mark.parametrize(
    ("tables", "line"),
    [
        ({"check": {"accuracy": "1 %"}}, "it is a key of the top of the file, before its first"),
        ({"contact": {"weld_throat": "9 mm"}}, "it is a key of [cantilever]; allowed: offset"),
        ({"model": {"mesh_unit": "mm"}}, "it is a key of [[section]]; allowed: state"),
        ({"model": {"offset": "1 mm"}}, "it is a key of [contact], [corner] and [envelope]; all"),
        ({"model": {"steel": "a"}}, "did you mean state? "),
    ],
)
def test_a_key_of_another_table_is_told_where_it_belongs(refusal, tables, line):
    assert f"is not known here; {line}" in refusal(**tables)


def test_a_table_that_stands_twice_is_named_as_it_is_headed(tmp_path):
    path = tmp_path / "twice.toml"
    path.write_text("[plate]\nwidth = '1 m'\n[plate]\n")
    with pytest.raises(InputError, match=r"Cannot declare \[plate\] twice"):
        read_case(path)
