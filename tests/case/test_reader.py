import copy
import os
import tomllib
from dataclasses import asdict
from pathlib import Path
from types import MappingProxyType

import pytest

from contactfe.case import Material, case_from_dict, read_case
from contactfe.errors import InputError

CASES = Path(__file__).parents[2] / "cases"


def test_reads_every_key(data):
    data["model"] = {"state": "plane stress"}
    data["check"] = {"yield_margin": 1.5}
    data["report"] = {"units": "US customary"}
    case = case_from_dict(data, "here")
    assert (case.title, case.source) == ("Invented stop", "here")
    assert (case.held_by, case.state) == ("beam shear", "plane stress")
    assert (case.line_load, case.effective_length, case.yield_margin) == (1500.0, None, 1.5)
    assert case.report_units == "US customary"
    assert (case.plate.width, case.plate.thickness) == (400.0, 60.0)
    assert case.plate.held_by == "bedded"
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


def test_a_force_over_its_length(data):
    data["load"] = {"force": "450 kN", "effective_length": "300 mm"}
    case = case_from_dict(data)
    assert (case.line_load, case.effective_length) == (1500.0, 300.0)


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
        "effective_length": f"{300 / 25.4!r} inch",
    }
    for section in us["section"]:
        section["outside_diameter"] = f"{150 / 25.4!r} in"
    us["section"][1]["wall"] = f"{25 / 25.4!r} in"
    data["load"] = {"force": "450 kN", "effective_length": "300 mm"}
    si_values, us_values = (list(_leaves(asdict(case_from_dict(d)))) for d in (data, us))
    assert len(si_values) > 20
    for stated, converted in zip(si_values, us_values, strict=True):
        same = pytest.approx(stated, rel=1e-12) if isinstance(stated, float) else stated
        assert converted == same


def _leaves(tree):
    if isinstance(tree, dict):
        tree = tree.values()
    if isinstance(tree, str | float | None):
        yield tree
    else:
        for branch in tree:
            yield from _leaves(branch)


@pytest.mark.parametrize("path", sorted(CASES.glob("*.toml")), ids=lambda path: path.stem)
def test_the_worked_cases_read(path):
    case = read_case(path)
    assert case.source == str(path)
    assert {section.shape for section in case.sections} == {"solid", "tube"}
    text = path.read_text("utf-8")
    assert text.startswith("# An invented stop")
    assert case_from_dict(tomllib.loads(text), str(path)) == case


def test_the_worked_cases_are_there():
    assert {path.stem for path in CASES.glob("*.toml")} >= {
        "quayside-annex-stop",
        "mill-house-stop",
    }


def test_the_us_case_in_its_own_units():
    case = read_case(CASES / "mill-house-stop.toml")
    assert case.line_load == pytest.approx(3 * 4448.2216152605 / 25.4, rel=1e-12)
    assert case.effective_length == pytest.approx(304.8, rel=1e-12)
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

    def forbid(self):
        raise PermissionError(13, os.strerror(13))  # chmod would not stop a test that runs as root

    monkeypatch.setattr(Path, "read_bytes", forbid)
    assert _refusal(missing) == f"{missing}: cannot be read: Permission denied"


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
