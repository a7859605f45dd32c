"""The command line as a user meets it: in a process where that matters, else in this one."""

import json
import os
import re
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from bodies import no_first_yield
from click.testing import CliRunner
from commands import ACCEPTED, SMALL, run, run_here, run_on_a_terminal

from contactfe import cli, read_case
from contactfe.errors import InputError, SolveError
from contactfe.report import compare_output, envelope

ROOT = Path(__file__).parents[1]
CASES = sorted((ROOT / "cases").glob("*.toml"))


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(SMALL)
    return path


@pytest.mark.parametrize("words", [["--help"], ["compare", "--help"], ["--version"]])
def test_help_answers_at_once_and_loads_nothing_heavy(tmp_path, words):
    start = time.perf_counter()
    done = run(*words, cwd=tmp_path)
    assert done.returncode == 0
    assert "contactfe" in done.stdout
    assert time.perf_counter() - start < 3.0  # a generous bound: 0.1 s on an idle machine
    code = (
        "import sys; sys.argv = ['contactfe', *" + repr(words) + "]\n"
        "from contactfe.cli import main\n"
        "try: main()\n"
        "except SystemExit: pass\n"
        "heavy = {'numpy', 'scipy', 'skfem', 'gmsh', 'matplotlib', 'pint', 'pydantic', 'rich'}\n"
        "print('heavy:', sorted(heavy & set(sys.modules)))"
    )
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path
    )
    assert "heavy: []" in loaded.stdout


@pytest.mark.parametrize(
    "command",
    [
        "compare",
        "report",
        "envelope",
        "impact",
        "size",
        "stiffness",
        "overload",
        "hand",
        ["scale", "--to", ".5"],
    ],
)
def test_a_case_at_fault_is_refused_before_what_solves_it_is_loaded(tmp_path, command):
    (tmp_path / "a.toml").write_text(SMALL.replace("young", "youngs"))
    name, *how = [command] if isinstance(command, str) else command
    code = (
        f"import sys; sys.argv = ['contactfe', {name!r}, 'a.toml', *{how!r}]\n"
        "from contactfe.cli import main\n"
        "try: main()\n"
        "except SystemExit as left: status = left.code\n"
        "heavy = {'numpy', 'scipy', 'skfem', 'meshio', 'gmsh', 'matplotlib', 'rich', 'jinja2'}\n"
        "print(status, 'heavy:', sorted(heavy & set(sys.modules)))"
    )
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path
    )
    assert loaded.stdout == "2 heavy: []\n"
    assert "youngs" in loaded.stderr


def test_what_figures_are_drawn_with_is_not_loaded_before_one_is():
    kinds = [
        "compare_output", "envelope", "impact_output", "sizing", "stiffness_output", "overload"
    ]  # fmt: skip
    code = (
        "import sys, importlib\n"
        f"for kind in {kinds!r}: importlib.import_module('contactfe.report.' + kind)\n"
        "sys.exit('matplotlib' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.parametrize("case", CASES, ids=lambda p: p.stem)
def test_worked_cases_are_worked_by_hand(case):
    done = CliRunner().invoke(cli.cli, ["hand", str(case)])
    assert done.exit_code == 0, done.output
    for section in read_case(case).sections:
        assert section.name in done.output


def test_json_alone_on_standard_output_and_no_files(small, tmp_path):
    done = run_here("compare", small, "--json", "-", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    document = json.loads(done.stdout)
    assert document["title"] == "Test stop"
    assert document["sections"][0]["line_load"] == 400.0
    assert [p.name for p in tmp_path.iterdir()] == ["small.toml"]


def test_json_to_a_file_and_results_to_a_named_folder(small, tmp_path):
    done = run_here("compare", small, "--json", "copy.json", "--out", "here", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    copy = json.loads((tmp_path / "copy.json").read_text())
    stored = json.loads((tmp_path / "here" / "results.json").read_text())
    assert copy["sections"][0]["member"]["peak_von_mises"] == pytest.approx(
        stored["sections"][0]["member"]["peak_von_mises"]
    )
    assert "Test stop" in done.stdout


@no_first_yield()
def test_strict_asks_for_every_check_and_for_what_is_open(small, tmp_path):
    assert run_here("compare", small, "--strict", "--json", "-", cwd=tmp_path).returncode == 1
    small.write_text(SMALL + ACCEPTED)
    assert run_here("compare", small, "--strict", "--json", "-", cwd=tmp_path).returncode == 0
    small.write_text(SMALL.replace("400 N/mm", "2 kN/mm") + ACCEPTED)
    failing = run_here("compare", small, "--strict", "--json", "-", cwd=tmp_path)
    assert failing.returncode == 1
    content = json.loads(failing.stdout)
    assert content["sections"][0]["member"]["utilisation"] > 1.0
    assert "von_mises_post" in {c["key"] for c in content["checks"] if c["verdict"] == "fails"}
    assert run_here("compare", small, "--json", "-", cwd=tmp_path).returncode == 0


BAD = {
    "wall of the radius": ('"150 mm"', '"150 mm"\nwall = "75 mm"', ["wall", "75 mm", "less than"]),
    "negative size": ('"40 mm"', '"-40 mm"', ["thickness", "-40 mm"]),
    "zero size": ('"300 mm"', '"0 mm"', ["width", "0 mm"]),
    "missing key": ('width = "300 mm"\n', "", ["width"]),
    "unknown key": ('width = "300 mm"', 'width = "300 mm"\ncolour = "red"', ["colour"]),
    "wrong dimension": ('"300 mm"', '"150 kN"', ["width", "150 kN", "force", "length"]),
    "no unit": ('"300 mm"', "300", ["width", "300", "unit"]),
    "poisson of a half": ("poisson = 0.3", "poisson = 0.5", ["poisson", "0.5"]),
    "narrow plate": ('"300 mm"', '"2 mm"', ["width", "2 mm", "at least"]),
    "too high a load": ("400 N/mm", "400 kN/mm", ["load", "400000 N/mm", "at most 0.1"]),
    "syntax": ("[post]", "[post", ["line 3"]),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_one_line_with_status_2_and_leaves_earlier_results(small, tmp_path, name):
    folder = tmp_path / "small-results"
    folder.mkdir()
    (folder / "results.json").write_text("{}")
    old, new, parts = BAD[name]
    assert old in SMALL
    small.write_text(
        SMALL.replace(old, new, 1) if name != "poisson of a half" else SMALL.replace(old, new)
    )
    done = run_here("compare", small, "--out", "small-results-2", cwd=tmp_path)
    assert done.returncode == 2, (done.stdout, done.stderr)
    assert done.stdout == ""
    lines = done.stderr.strip().splitlines()
    assert len(lines) == (2 if name == "poisson of a half" else 1)  # post and plate: one line each
    assert "small.toml" in lines[0]
    for part in parts:
        assert part in lines[0], lines[0]
    assert "Traceback" not in done.stderr
    assert (folder / "results.json").read_text() == "{}"
    assert not (tmp_path / "small-results-2").exists()


def test_files_that_cannot_be_read(tmp_path):
    (tmp_path / "empty.toml").write_text("")
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00title")
    for name in ("empty.toml", "bytes.toml", "absent.toml", "."):
        done = run_here("compare", name, cwd=tmp_path)
        assert done.returncode == 2
        assert done.stderr.count("\n") == 1
        assert name in done.stderr


def test_no_traceback_even_for_a_fault_of_the_program(small, tmp_path):
    # Break a module it needs, as a damaged installation would.
    (tmp_path / "skfem.py").write_text("raise RuntimeError('damaged')")
    done = run("compare", small, cwd=tmp_path, PYTHONPATH=str(tmp_path))
    assert done.returncode == 3
    assert "Traceback" not in done.stderr
    assert "damaged" in done.stderr
    shown = run("compare", small, cwd=tmp_path, PYTHONPATH=str(tmp_path), CONTACTFE_TRACEBACK="1")
    assert "Traceback" in shown.stderr


@pytest.mark.skipif(not Path("/dev/pts").is_dir(), reason="needs pseudo-terminals")
def test_progress_appears_on_a_terminal(small, tmp_path):
    seen, out = run_on_a_terminal("compare", small, "--json", "-", cwd=tmp_path)
    assert b"sections" in seen
    json.loads(out)  # standard output stays clean


def interrupted(words, cwd, after: float) -> subprocess.CompletedProcess[str]:
    process = subprocess.Popen(
        [sys.executable, "-m", "contactfe", *map(str, words)],
        cwd=cwd, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    time.sleep(after)
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    return subprocess.CompletedProcess(words, process.returncode, out, err)


def test_stopping_a_run_keeps_earlier_results_and_has_its_own_status(small, tmp_path):
    assert run_here("compare", small, "--out", "kept", cwd=tmp_path).returncode == 0
    before = {p: p.read_bytes() for p in (tmp_path / "kept").iterdir()}
    many = "".join(
        f'[[section]]\nname = "s{k}"\noutside_diameter = "{150 + k} mm"\n' for k in range(60)
    )
    small.write_text(SMALL + many)
    done = interrupted(["compare", small, "--out", "kept"], tmp_path, after=3.0)
    assert done.returncode == 130
    assert re.fullmatch(r"\s*stopped.*\n", done.stderr)
    assert {p: p.read_bytes() for p in (tmp_path / "kept").iterdir()} == before
    assert {p.name for p in tmp_path.iterdir()} == {"small.toml", "kept"}  # no draft is left


@pytest.mark.parametrize(("target", "why"), [("none/x.json", "no folder"), (".", "is a folder")])
def test_a_json_file_that_cannot_be_written_is_refused_before_the_work(
    small, tmp_path, target, why
):
    done = run_here("compare", small, "--json", target, cwd=tmp_path)
    assert done.returncode == 2
    assert why in done.stderr
    assert done.stderr.count("\n") == 1
    assert [p.name for p in tmp_path.iterdir()] == ["small.toml"]


ODD = {
    "PYTHONIOENCODING": "ascii", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0",
    "MPLBACKEND": "silly", "HOME": "/proc/none", "MPLCONFIGDIR": "/proc/none", "TERM": "dumb",
}  # fmt: skip


def test_odd_surroundings_do_not_matter(small, tmp_path):
    done = run("compare", small, cwd=tmp_path, **ODD)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    assert "Test stop" in done.stdout


def test_a_full_disk_is_one_line(small, tmp_path):
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "contactfe", "hand", str(small), "--json", "-"],
            cwd=tmp_path, stdout=full, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "No space left" in done.stderr


def test_a_reader_that_leaves_is_no_fault(small, tmp_path):
    reader, writer = os.pipe()
    os.close(reader)  # before the first line, which a head may outrun
    done = subprocess.run(
        [sys.executable, "-m", "contactfe", "hand", small],
        cwd=tmp_path, stdout=writer, stderr=subprocess.PIPE, text=True, check=False,
    )  # fmt: skip
    os.close(writer)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize(("error", "status"), [(SolveError("x"), 3), (InputError("x"), 2)])
def test_status_of_each_kind_of_failure(monkeypatch, capsys, small, error, status):
    def fails(*_):
        raise error

    monkeypatch.setattr("contactfe.assess.compare.compare", fails)
    monkeypatch.setattr("sys.argv", ["contactfe", "compare", str(small), "--json", "-"])
    with pytest.raises(SystemExit) as exit_:
        cli.main()
    assert exit_.value.code == status
    assert capsys.readouterr().err.count("\n") == 1


@pytest.mark.parametrize(("accurate", "status"), [(True, 0), (False, 1)])
@pytest.mark.parametrize("words", [[], ["--accuracy", "2 %"]])
@pytest.mark.parametrize(
    ("command", "report"), [("compare", compare_output), ("envelope", envelope)]
)
def test_strict_asks_for_the_accuracy_too(
    small, monkeypatch, command, report, words, accurate, status
):
    # In this process and with an answer made up: to miss an accuracy in earnest takes a minute.
    asked = []

    def solve(case, *_):
        asked.append(case.accuracy)
        return SimpleNamespace(settled=True, accurate=accurate)

    small.write_text(f"{SMALL}[envelope]\noffset = ['0 mm']\n")
    monkeypatch.setattr(f"contactfe.assess.{command}.{command}", solve)
    monkeypatch.setattr(report, "OUTPUT", replace(report.OUTPUT, document=lambda _: {}))
    done = CliRunner().invoke(cli.cli, [command, str(small), "--strict", "--json", "-", *words])
    assert (done.exit_code, done.stdout) == (status, "{}\n")
    assert asked == [0.02 if words else None]
