import copy
import math
import os
import re
import time
import tomllib
from dataclasses import asdict
from pathlib import Path
from types import MappingProxyType

import pytest
from waiting import within

from contactfe.case import (
    Contact,
    Corner,
    Envelope,
    Infill,
    Material,
    case_from_dict,
    read_case,
)
from contactfe.errors import InputError

CASES = Path(__file__).parents[2] / "cases"


def test_reads_every_key(data):
    data["model"] = {"state": "plane stress"}
    data["check"] = {"yield_margin": 1.5}
    data["report"] = {"units": "US customary"}
    case = case_from_dict(data, "here")
    assert (case.title, case.source) == ("Invented stop", "here")
    assert (case.held_by, case.state) == ("beam shear", "plane stress")
    assert (case.line_load, case.contact_length, case.yield_margin) == (1500.0, None, 1.5)
    assert case.report_units == "US customary"
    assert (case.plate.width, case.plate.thickness) == (400.0, 60.0)
    assert case.plate.held_by == "rigid base"
    assert case.plate_material == Material("stated", 200e3, 0.3, 345.0, "stated in the case")
    assert [(s.name, s.outside_diameter, s.wall) for s in case.sections] == [
        ("solid 150", 150.0, None),
        ("tube 150 x 25", 150.0, 25.0),
    ]


def test_what_may_be_left_out(data):
    case = case_from_dict(data)
    assert (case.source, case.state, case.yield_margin) == ("<data>", "plane strain", 1.0)
    assert case.report_units == "SI"
    assert case.post.density == 7850.0
    assert case.contact == Contact(offset=0.0, angle=0.0, friction=0.0)
    assert (case.corner, case.envelope, case.accuracy, case.plate.spring) == (None,) * 4
    tube = case.sections[1]
    assert (tube.held_by, tube.infill, tube.mesh) == (None, None, None)


def test_reads_where_and_how_the_post_strikes(data):
    data["contact"] = {"offset": "-40 mm", "angle": "15 deg", "friction": 0.2}
    data["accuracy"] = "2 %"
    case = case_from_dict(data)
    assert case.contact == Contact(-40.0, pytest.approx(math.radians(15), rel=1e-12), 0.2)
    assert case.accuracy == pytest.approx(0.02, rel=1e-12)


# The last is 80 deg to eleven digits, a little more than it.
@pytest.mark.parametrize("angle", ["80 deg", "-80 deg", "1.3962634016 rad"])
def test_the_steepest_angles_are_allowed(data, angle):
    data["contact"] = {"angle": angle, "friction": 1}
    contact = case_from_dict(data).contact
    assert abs(math.degrees(contact.angle)) == pytest.approx(80.0, rel=1e-10)
    assert contact.friction == 1.0


def test_a_diametral_post_may_be_struck_off_the_middle_with_friction(data):
    data["post"]["held_by"] = "diametral"
    data["contact"] = {"offset": "40 mm", "angle": "0 deg", "friction": 0.2}
    data["envelope"] = {"angle": ["0 deg"], "friction": [0.0, 0.2]}
    assert case_from_dict(data).contact.offset == 40.0


def test_reads_how_bodies_are_held(data):
    data["plate"] |= {"held_by": "elastic supports", "spring": "2 kN/mm/mm"}
    data["section"][1]["held_by"] = "rigid core"
    case = case_from_dict(data)
    assert (case.plate.held_by, case.plate.spring) == ("elastic supports", 2000.0)
    assert [section.held_by for section in case.sections] == [None, "rigid core"]
    del data["plate"]["spring"]
    data["plate"]["held_by"] = "clamped"
    assert case_from_dict(data).plate.held_by == "clamped"


def test_a_post_on_a_rigid_core_may_have_a_solid_that_is_held_otherwise(data):
    data["post"]["held_by"] = "rigid core"
    data["section"][0]["held_by"] = "beam shear"
    case = case_from_dict(data)
    assert [case.hold(section) for section in case.sections] == ["beam shear", "rigid core"]


def test_reads_an_infill(data):
    data["section"][1]["infill"] = {"young": "30 GPa", "poisson": 0.2, "density": "2.4 t/m3"}
    assert case_from_dict(data).sections[1].infill == Infill(
        30e3, 0.2, pytest.approx(2400.0, rel=1e-12), name="infill"
    )
    data["section"][1]["infill"]["name"] = "grout"
    del data["section"][1]["wall"]
    data["section"][1]["bore"] = "100 mm"
    section = case_from_dict(data).sections[1]
    assert (section.infill.name, section.shape) == ("grout", "filled tube")


def test_reads_a_corner(data):
    data["corner"] = {"line_load": "0.5 kN/mm", "offset": "-30 mm"}
    assert case_from_dict(data).corner == Corner(500.0, -30.0, None)
    data["corner"] = {"force": "150 kN", "contact_length": "300 mm"}
    assert case_from_dict(data).corner == Corner(500.0, 0.0, 300.0)


def test_what_an_envelope_leaves_out_is_as_in_the_contact(data):
    data["contact"] = {"offset": "40 mm", "angle": "0.1 rad", "friction": 0.2}
    data["envelope"] = {"friction": [0.3, 0.0, 0.3]}
    assert case_from_dict(data).envelope == Envelope((40.0,), (0.1,), (0.3, 0.0))
    data["envelope"] = {
        "offset": {"from": "-60 mm", "to": "60 mm", "count": 3},
        "angle": ["0 rad", "0.2 rad"],
    }
    assert case_from_dict(data).envelope == Envelope((-60.0, 0.0, 60.0), (0.0, 0.2), (0.2,))


def test_an_own_mesh_is_looked_for_beside_the_case(data, tmp_path, monkeypatch):
    mesh = tmp_path / "meshes" / "own.msh"
    mesh.parent.mkdir()
    mesh.touch()
    own = {"name": "own", "outside_diameter": "160 mm", "mesh": "../meshes/own.msh"}
    data["section"][1] = own
    section = case_from_dict(data, str(tmp_path / "cases" / "x.toml")).sections[1]
    assert (section.shape, section.mesh, section.mesh_unit) == ("own mesh", mesh, 1.0)
    assert section.geometry.steel_thickness == 160.0
    # Without a file, beside the current folder.
    monkeypatch.chdir(mesh.parent)
    data["section"][1] = own | {"mesh_unit": "in", "steel_thickness": "20 mm", "mesh": "own.msh"}
    section = case_from_dict(data).sections[1]
    assert (section.mesh, section.mesh_unit, section.geometry.steel_thickness) == (mesh, 25.4, 20.0)


def test_an_own_mesh_may_have_an_infill_or_a_rigid_core(data, tmp_path):
    mesh = tmp_path / "own.msh"
    mesh.touch()
    data["section"][1] = {"name": "own", "outside_diameter": "160 mm", "mesh": str(mesh)}
    data["section"][1]["held_by"] = "rigid core"
    case = case_from_dict(data)
    assert case.hold(case.sections[1]) == "rigid core"
    del data["section"][1]["held_by"]
    data["section"][1]["infill"] = {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"}
    assert case_from_dict(data).sections[1].shape == "own mesh"


def test_a_force_over_its_length(data):
    data["load"] = {"force": "450 kN", "contact_length": "300 mm"}
    case = case_from_dict(data)
    assert (case.line_load, case.contact_length) == (1500.0, 300.0)


def test_a_bore_is_a_wall(data):
    bored = copy.deepcopy(data)
    del bored["section"][1]["wall"]
    bored["section"][1]["bore"] = "100 mm"
    assert case_from_dict(bored) == case_from_dict(data)


def test_any_mapping_will_do(data):
    assert case_from_dict(MappingProxyType(data)) == case_from_dict(data)


def test_the_data_is_left_as_it_was(data):
    before = copy.deepcopy(data)
    case_from_dict(data)
    assert data == before


def test_the_same_case_in_us_units(data):
    us = copy.deepcopy(data)
    us["post"]["density"] = f"{7850 * 0.3048**3 / 0.45359237!r} lb/ft3"
    us["plate"] |= {"width": f"{400 / 25.4!r} in", "thickness": f"{60 / 304.8!r} ft"}
    ksi = 4448.2216152605 / 25.4**2  # MPa, exact definitions, common practice, no source
    us["plate"] |= {"young": f"{200e3 / ksi!r} ksi", "yield": f"{345e3 / ksi!r} psi"}
    us["load"] = {
        "force": f"{450e3 / 4448.2216152605!r} kip",
        "contact_length": f"{300 / 25.4!r} inch",
    }
    for section in us["section"]:
        section["outside_diameter"] = f"{150 / 25.4!r} in"
    us["section"][1]["wall"] = f"{25 / 25.4!r} in"
    data["load"] = {"force": "450 kN", "contact_length": "300 mm"}
    si_values, us_values = (list(_leaves(asdict(case_from_dict(d)))) for d in (data, us))
    assert len(si_values) > 20
    for stated, converted in zip(si_values, us_values, strict=True):
        same = pytest.approx(stated, rel=1e-12) if isinstance(stated, float) else stated
        assert converted == same


def _leaves(tree):
    if isinstance(tree, dict):
        tree = tree.values()
    if isinstance(tree, str | float | bool | None):
        yield tree
    else:
        for branch in tree:
            yield from _leaves(branch)


@pytest.mark.parametrize("path", sorted(CASES.glob("*.toml")), ids=lambda path: path.stem)
def test_the_worked_cases_read(path):
    case = read_case(path)
    assert case.source == str(path)
    assert "tube" in {section.shape for section in case.sections}
    text = path.read_text("utf-8")
    assert text.startswith("# An invented stop")
    assert case_from_dict(tomllib.loads(text), str(path)) == case


def test_the_worked_cases_are_there():
    assert {path.stem for path in CASES.glob("*.toml")} >= {
        "quayside-annex-stop",
        "mill-house-stop",
        "ferry-landing-stop",
        "observatory-corner",
        "kiln-house-stop",
        "causeway-lodge-stop",
    }


def test_the_us_case_in_its_own_units():
    case = read_case(CASES / "mill-house-stop.toml")
    assert case.line_load == pytest.approx(3 * 4448.2216152605 / 25.4, rel=1e-12)
    assert case.contact_length == pytest.approx(304.8, rel=1e-12)
    assert case.sections[-1].steel == "ASTM A106 Gr B"
    assert case.report_units == "US customary"


def _refusal(path):
    with pytest.raises(InputError) as refusal:
        read_case(path)
    return str(refusal.value)


def test_files_that_cannot_be_read(tmp_path, monkeypatch):
    missing = tmp_path / "missing.toml"
    assert _refusal(missing) == f"{missing}: there is no such file"
    assert _refusal(tmp_path) == f"{tmp_path}: is a directory, a case is a file"

    def forbid(*_):
        raise PermissionError(13, os.strerror(13))  # chmod would not stop a test that runs as root

    monkeypatch.setattr(os, "open", forbid)
    assert _refusal(missing) == f"{missing}: cannot be read: Permission denied"


def test_what_is_no_regular_file_is_not_waited_for(tmp_path):
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    for path in (pipe, "/dev/zero"):
        with within(10):
            refusal = _refusal(path)
        assert refusal == f"{path}: is a pipe or a device, a case is a file"


LONG, WORD = "a." * 100_000 + "b", "x" * 3_000_000


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (f"{LONG} = 1", "line 1 has a key of more than 20 parts"),
        (f"[{LONG}]", "line 1 has a key of more than 20 parts"),
        (f"x = {{ {LONG} = 1 }}", "line 1 has a key of more than 20 parts"),
        (f"x = {'[' * 40_000}{']' * 40_000}", "too deep to read"),
        (f"x = {'{y = ' * 40_000}1{'}' * 40_000}", "too deep to read"),
        (f"x = '{WORD}{WORD}'", "has more than 4 MB"),
        ("[[section]]\n" * 30_000, "must hold 1 to 1000 sections, not 30000"),
        (f"x = '{WORD}'", "is not known here"),
        ("".join(f"a{k}.b = 1\n" for k in range(100_000)), "more keys"),
        (f"x = [{'{},' * 1_000_000}]", "more keys"),
        ("".join(f"a{k} = 1\n" for k in range(10_000)), "9985 more faults"),
    ],
    ids=[
        "key", "table", "inline", "lists", "tables", "length", "sections", "word", "keys", "empty",
        "faults",
    ],
)  # fmt: skip
def test_what_would_take_memory_or_time_is_refused_before_it_does(tmp_path, more, said):
    # Unbounded they took up to 5 GB and 90 s. What is said is short, whatever was written.
    path = tmp_path / "long.toml"
    path.write_text(more)
    began = time.process_time()
    refusal = _refusal(path)
    assert time.process_time() - began < 5.0
    assert said in refusal
    assert len(refusal) < 4_000


DOUBLE = "is a list of tables: head each of them with double brackets"


@pytest.mark.parametrize(
    ("content", "path"),
    [
        (b"[section]\nwall = 1\n[[section]]\nwall = 2\n", "section"),
        (b"[[section]]\nwall = 1\n[ section ]\nwall = 2\n", "section"),
        (b"[section]\nwall = 1\n[section]\nwall = 2\n", "section"),
        (b"[motion.damper]\r\n[[motion.damper]]\r\n", "motion.damper"),
        (b"[[section]]\n[[motion.damper]]\n  [motion . damper] # two\n", "motion.damper"),
        (b"[[section]]\n[[section]]\n[post\n", None),
        (b"[section]\n[post\n", None),  # one alone is TOML, which is not what is wrong here
        (b"[post]\n[post]\n", None),
    ],
)
def test_a_list_of_tables_is_headed_with_double_brackets(tmp_path, content, path):
    case = tmp_path / "case.toml"
    case.write_bytes(content)
    refusal = _refusal(case)
    assert refusal.startswith(f"{case}: is not valid TOML: ")
    if path is None:
        assert "double" not in refusal
    else:
        assert refusal.endswith(f"); [[{path}]] {DOUBLE}")


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "is empty; a case needs title, [post], [plate], [load] and [[section]]"),
        (b"# only a remark\n", "is empty; a case needs title"),
        (b'title = "a"\n# a \xb0 in Latin-1\n', "line 2 is not UTF-8 text"),
        (b'title = "a"\n[post\n', "is not valid TOML: Expected ']' at the end of a table"),
        (b'title = "a"\n[post\n', "(at line 2, column 6)"),
        (b'title = "a"\nwidth = 400 mm\n', "(at line 2, column 13)"),
        (b'title = "a"\ntitle = "b"\n', "is not valid TOML: Cannot overwrite a value"),
        (b"n = " + b"9" * 5000, "is not valid TOML: "),
    ],
)
def test_files_that_are_no_case(tmp_path, content, message):
    path = tmp_path / "case.toml"
    path.write_bytes(content)
    refusal = _refusal(path)
    assert refusal.startswith(f"{path}: ")
    assert message in refusal


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path):
    text = (CASES / "quayside-annex-stop.toml").read_bytes()
    path = tmp_path / "case.toml"
    path.write_bytes(b"\xef\xbb\xbf" + text.replace(b"\n", b"\r\n"))
    assert read_case(path).title == "Quayside annex, stop A"


def test_a_refusal_says_no_more_than_its_first_faults(tmp_path):
    path = tmp_path / "many.toml"
    path.write_text((CASES / "quayside-annex-stop.toml").read_text() + "[[section]]\n" * 200)
    lines = _refusal(path).splitlines()
    assert len(lines) == 21
    assert re.fullmatch(r".*has \d{3} more faults", lines[-1])


def test_what_cannot_be_seen_is_shown_by_its_number(data):
    data["post"]["held_by"] = "a\x9b31m\u2028b\u202ec"
    with pytest.raises(InputError) as refusal:
        case_from_dict(data)
    assert "a[U+009B]31m[U+2028]b[U+202E]c" in str(refusal.value)


@pytest.mark.parametrize(
    "tables",
    [{"title": "x" * 1001}, {"section": {"name": "x" * 1001}}, {"accept": {"post": "x" * 1001}}],
)
def test_a_name_has_a_greatest_length(refusal, tables):
    assert "at most 1000 characters, not 1001" in refusal(**tables)
    assert len(refusal(**tables)) < 300
