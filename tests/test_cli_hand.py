"""The commands that need no mesh, as a user meets them: hand, verify, catalogue."""

import json
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from typing import get_args

import pytest
from click.testing import CliRunner
from commands import ACCEPTED, SMALL, run_here

from contactfe import cli
from contactfe.case.steels import grades
from contactfe.case.stock import bored_bars, sizes
from contactfe.report.answer import LINES
from contactfe.report.catalogue import catalogue_page
from contactfe.report.page import NARROWEST, as_text
from contactfe.verify import Row
from contactfe.verify.row import Kind
from contactfe.verify.rows import rows, rows_like

ROOMY = (
    SMALL.replace('"40 mm"', '"60 mm"')
    .replace('yield = "345 MPa"', 'yield = "345 MPa"\nultimate = "450 MPa"')
    .replace('line_load = "400 N/mm"', 'force = "120 kN"\ncontact_length = "300 mm"')
)
"""The small case with ultimate strengths and a contact of two diameters: every clause of bearing is
there and satisfied."""

HEAVY = {"gmsh", "skfem", "matplotlib", "meshio"} | {
    f"scipy.{part}" for part in ("linalg", "optimize", "sparse", "spatial", "special")
}
"""What solving takes. Scipy itself, which loads next to nothing, is looked for by the library that
reads units."""

ONE_ROW = "aisc j7-2 in si"
"""Text of a row of the verification set that is no more than arithmetic."""


@pytest.fixture
def stop(tmp_path):
    path = tmp_path / "stop.toml"
    path.write_text(ROOMY)
    return path


def invoke(*words):
    """In this process; an error comes out as it was raised."""
    return CliRunner().invoke(cli.cli, [str(word) for word in words], catch_exceptions=False)


# hand


def test_hand_prints_the_page_and_writes_nothing(stop, tmp_path):
    done = run_here("hand", stop, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Test stop\n")
    assert done.stdout.count("\n") <= LINES
    full = run_here("hand", stop, "--full", cwd=tmp_path).stdout
    for words in ("Hand formulas", "Clauses of standards"):
        assert words in full
        assert words not in done.stdout
    assert [path.name for path in tmp_path.iterdir()] == ["stop.toml"]


def test_hand_writes_its_steps_out(stop):
    done = invoke("hand", stop, "--steps")
    assert done.exit_code == 0
    assert "\n1. contact modulus" in done.stdout
    assert "√(4·q·R/(π·E*))" in done.stdout
    assert "√(4·q·R/(π·E*))" not in invoke("hand", stop).stdout


def test_hand_prints_json_alone(stop, tmp_path):
    done = invoke("hand", stop, "--json", "-")
    assert done.exit_code == 0
    document = json.loads(done.stdout)
    assert document["title"] == "Test stop"
    assert document["case"]["path"] == str(stop)
    assert document["satisfied"] is True
    assert [path.name for path in tmp_path.iterdir()] == ["stop.toml"]
    assert json.loads(invoke("hand", stop, "--steps", "--json", "-").stdout) == document


def test_hand_writes_json_to_a_file_and_prints_the_page(stop, tmp_path):
    target = tmp_path / "hand.json"
    done = invoke("hand", stop, "--json", target)
    assert done.exit_code == 0
    assert done.stdout == invoke("hand", stop).stdout
    assert target.read_bytes().endswith(b"}\n")
    alone = json.loads(invoke("hand", stop, "--json", "-").stdout)
    assert json.loads(target.read_text(encoding="utf-8")) == alone


@pytest.mark.parametrize("words", [[], ["--steps"], ["--json", "-"]])
def test_strict_turns_an_unsatisfied_clause_into_status_1(stop, words):
    assert invoke("hand", stop, "--strict", *words).exit_code == 1  # of what is open
    stop.write_text(ROOMY + ACCEPTED)
    assert invoke("hand", stop, "--strict", *words).exit_code == 0
    # Over the 714 N/mm of AASHTO, below the 1721 N/mm of AISC.
    stop.write_text(stop.read_text().replace("120 kN", "300 kN"))
    strict = invoke("hand", stop, "--strict", *words)
    assert strict.exit_code == 1
    lax = invoke("hand", stop, *words)
    assert lax.exit_code == 0
    assert strict.stdout == lax.stdout != ""


@pytest.mark.parametrize(("margin", "status"), [(1.0, 0), (1.5, 1)])
def test_strict_without_standards_holds_stresses_against_yield_over_the_margin(
    stop, margin, status
):
    # 0.558 p0 = 241 MPa under the load of 400 N/mm; 345 MPa over 1.5 are 230 MPa.
    tables = f"[standards]\napply = []\n[check]\nyield_margin = {margin}\n[[section]]"
    stop.write_text(ROOMY.replace("[[section]]", tables) + ACCEPTED)
    assert invoke("hand", stop, "--strict").exit_code == status
    assert invoke("hand", stop).exit_code == 0


def test_strict_passes_over_a_clause_that_does_not_apply_where_others_cover_it(stop):
    strong = ROOMY.replace("345 MPa", "500 MPa").replace("450 MPa", "600 MPa") + ACCEPTED
    stop.write_text(strong)
    assert invoke("hand", stop, "--strict").exit_code == 0
    checks = json.loads(invoke("hand", stop, "--json", "-").stdout)["checks"]
    beyond = {c["key"] for c in checks if not c["applies"]}
    assert "en_1993_1_8.flat_contact_by_analogy" in beyond  # for up to 460 MPa
    assert all(c["verdict"] == "no verdict" and c["why"] for c in checks if c["key"] in beyond)


def test_hand_needs_no_mesh_and_loads_nothing_that_does(stop, tmp_path):
    for words in (["hand", str(stop)], ["hand", str(stop), "--steps"],
        ["hand", str(stop), "--json", "-"]):  # fmt: skip
        code = (
            f"import sys; sys.argv = ['contactfe', *{words!r}]\n"
            "from contactfe.cli import main\n"
            "try: main()\n"
            "except SystemExit as left: status = left.code or 0\n"
            f"print('loaded:', sorted({HEAVY!r} & set(sys.modules)), status, file=sys.stderr)"
        )
        done = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path
        )
        assert done.stderr == "loaded: [] 0\n"
        assert done.stdout


BAD = {
    "zero size": ('"60 mm"', '"0 mm"', ["thickness", "0 mm"]),
    "unknown family": (
        "[[section]]", '[standards]\napply = ["ASCE"]\n[[section]]', ["standards", "AISC"],
    ),
    "factor": (
        "[[section]]", "[standards]\ngamma_M0 = 0.1\n[[section]]", ["gamma_M0", "0.1", "1 to 5"],
    ),
    "cantilever without a force": (
        'force = "120 kN"\ncontact_length = "300 mm"\n[[section]]',
        'line_load = "400 N/mm"\n[cantilever]\nlength = "900 mm"\n[[section]]', ["cantilever"],
    ),
    "ultimate below yield": ("450 MPa", "300 MPa", ["ultimate", "300 MPa", "345 MPa"]),
    "syntax": ("[post]", "[post", ["line 3"]),
}  # fmt: skip


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_one_line_with_status_2(stop, tmp_path, name):
    old, new, parts = BAD[name]
    assert old in ROOMY
    stop.write_text(ROOMY.replace(old, new, 1))
    done = run_here("hand", stop, "--json", "hand.json", cwd=tmp_path)
    assert done.returncode == 2, (done.stdout, done.stderr)
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert "Traceback" not in done.stderr
    for part in ("stop.toml", *parts):
        assert part in done.stderr
    assert not (tmp_path / "hand.json").exists()


# verify


def test_verify_with_a_text_runs_the_rows_that_hold_it():
    done = invoke("verify", ONE_ROW, "--json", "-")
    assert done.exit_code == 0
    found = json.loads(done.stdout)["rows"]
    expected = [row for row in rows() if row.case.casefold().startswith(ONE_ROW)]
    assert 0 < len(found) == len(expected)
    assert [row["case"] for row in found] == [row.case for row in expected]


def test_verify_prints_a_table_and_is_strict_on_request(tmp_path):
    target = tmp_path / "rows.json"
    done = invoke("verify", ONE_ROW.upper(), "--strict", "--json", target)
    assert done.exit_code == 0
    assert "AISC" in done.stdout
    assert json.loads(target.read_text())["rows"]


def test_rows_are_sought_by_case_source_and_kind():
    assert {row.kind for row in rows()} == set(get_args(Kind))
    for row in (rows()[0], rows()[-1]):
        for text in (row.case, row.source.upper(), row.kind):
            assert row in rows_like(text)


def test_verify_of_an_unknown_text(tmp_path):
    done = run_here("verify", "no such row", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    assert "no such row" in done.stderr


@pytest.mark.parametrize(
    ("change", "strict", "counts"),
    [
        ({}, 0, (1, 0, 0)),
        ({"tool": lambda: 3.0}, 1, (0, 1, 0)),
        ({"needs": "no_such_library"}, 0, (0, 0, 1)),
    ],
    ids=["passes", "fails", "is not run"],
)
def test_strict_takes_a_row_that_fails_for_a_failure_and_one_not_run_for_none(
    change, strict, counts, monkeypatch
):
    row = Row("a-row", "hand formula", "one", "arithmetic", 1.0, lambda: 1.0, 0.1, "for a test")
    asked = []
    monkeypatch.setattr(
        "contactfe.verify.rows.rows_like",
        lambda like: asked.append(like) or (replace(row, **change),),
    )
    done = invoke("verify", "some text", "--strict", "--json", "-")
    assert done.exit_code == strict
    document = json.loads(done.stdout)
    assert tuple(document[key] for key in ("passed", "failed", "not_run")) == counts
    assert invoke("verify").exit_code == 0
    assert asked == ["some text", None]


# catalogue


@pytest.mark.parametrize("like", ["--full", "NPS 6"])
def test_the_catalogue_is_listed_or_what_is_like_a_text(like):
    done = invoke("catalogue", like)
    assert done.exit_code == 0
    printed = [line.rstrip() for line in done.stdout.splitlines()]
    page = catalogue_page(None if like == "--full" else like)
    assert printed == as_text(page, NARROWEST).splitlines()


def test_the_catalogue_counts_its_lists():
    answer = invoke("catalogue").stdout
    assert answer.count("\n") <= LINES
    counted = dict(re.findall(r"^(\S.*?) +(\d+)   \S", answer, re.MULTILINE))
    of = Counter(size.listed_in for size in (*sizes(), *bored_bars()))
    assert {name: counted[name] for name in of} == {name: f"{many}" for name, many in of.items()}
    steels = Counter(" ".join(grade.name.split()[:2]) for grade in grades())
    assert {name: counted[name] for name in steels} == {
        name: f"{many}" for name, many in steels.items()
    }


def test_a_catalogue_like_nothing(tmp_path):
    done = run_here("catalogue", "nonsense", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    assert "nonsense" in done.stderr


@pytest.mark.parametrize("command", ["hand", "verify", "catalogue"])
def test_help_says_what_a_command_does(command):
    done = invoke(command, "--help")
    assert done.exit_code == 0
    assert f"{command} [OPTIONS]" in done.stdout
