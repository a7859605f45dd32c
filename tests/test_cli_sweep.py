"""The sweep command as a user meets it: processes where they matter, else the command itself."""

import csv
import json
import re
import signal
import subprocess
import sys
import time
from dataclasses import replace

import pytest
from click.testing import CliRunner
from commands import ACCEPTED, SMALL
from sweeps import UNCERTAINTIES, failed, row

from contactfe import cli
from contactfe.assess.sweep.result import Sample
from contactfe.errors import InputError

SWEEP = '[sweep.over]\n"load.line_load" = ["300 N/mm", "400 N/mm", "350 N/mm"]\n'
CASE = SMALL.replace("[[section]]", f"{ACCEPTED}{SWEEP}[[section]]")


@pytest.fixture
def small(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "small.toml"
    path.write_text(CASE)
    return path


def solved(path) -> list[int]:
    lines = path.read_text().split("\n")[1:-1] if path.exists() else []
    return [json.loads(line)["answer"]["number"] for line in lines]


def test_a_sweep_that_is_killed_goes_on_where_it_was(small, tmp_path):
    record = tmp_path / "small-sweep" / "samples.jsonl"
    process = subprocess.Popen(
        [sys.executable, "-m", "contactfe", "sweep", small, "--processes", "1"],
        cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    ends = time.monotonic() + 120.0
    while not solved(record):
        assert process.poll() is None
        assert time.monotonic() < ends
        time.sleep(0.005)
    process.kill()
    _, error = process.communicate(timeout=60)
    assert (process.returncode, error) == (-signal.SIGKILL, "")
    first = record.read_bytes()
    assert solved(record) == [0]  # loads in their order: those that share bodies are together
    assert [p.name for p in record.parent.iterdir()] == ["samples.jsonl"]

    done = invoke(small, "--processes", "1", "--strict")
    assert done.exit_code == 0, done.output
    assert re.fullmatch("1 of 3 samples .*\n", done.stderr)
    assert record.read_bytes().startswith(first)
    assert sorted(solved(record)) == [0, 1, 2]  # nothing twice
    with (record.parent / "sweep.csv").open() as file:
        rows = list(csv.DictReader(file))
    assert [r["load.line_load [N/mm]"] for r in rows] == ["300.0", "400.0", "350.0"]
    assert [r["line load [N/mm]"] for r in rows] == ["300.0", "400.0", "350.0"]
    assert (record.parent / "sweep.txt").read_text().splitlines()[0] == "Test stop"
    assert "small-sweep/sweep.csv, small-sweep/sweep.txt" in done.stdout


def test_a_record_that_was_edited_is_solved_anew_and_said_to_be(small, monkeypatch):
    asked = stand_in(monkeypatch, solid(), solid(), lost())
    assert invoke(small).exit_code == 0
    folder = small.parent / "small-sweep"
    record, table = folder / "samples.jsonl", (folder / "sweep.csv").read_bytes()
    assert '"value":200.0' in record.read_text()
    record.write_text(record.read_text().replace('"value":200.0', '"value":20.0', 1))
    (folder / "sweep.csv").unlink()
    (folder / "sweep.txt").unlink()
    done = invoke(small)
    assert done.exit_code == 0, done.output
    assert "samples.jsonl: 1 of its lines" in done.stderr
    assert (folder / "sweep.csv").read_bytes() == table
    assert sorted(solved(record)) == [0, 0, 1, 2]
    assert len(asked) == 2
    assert "lines" not in invoke(small).stderr  # what they held is there again


def test_ctrl_c_says_how_many_are_done(small, monkeypatch):
    def interrupted(*_):
        yield Sample(2, (solid(),))
        raise KeyboardInterrupt

    monkeypatch.setattr("contactfe.assess.sweep.run.solve_samples", interrupted)
    done = invoke(small)
    assert done.exit_code == 130
    kept = r"stopped: 1 of 3 samples .*small-sweep/samples\.jsonl.*\n"
    assert re.fullmatch(kept, done.stderr)
    assert solved(small.parent / "small-sweep" / "samples.jsonl") == [2]


def stand_in(monkeypatch, *rows):
    asked = []

    def solve(prepared, processes, scheduler, known):
        asked.append((processes, scheduler))
        yield from (Sample(k, (one,)) for k, one in enumerate(rows) if k not in known)

    monkeypatch.setattr("contactfe.assess.sweep.run.solve_samples", solve)
    return asked


def invoke(small, *words):
    return CliRunner().invoke(cli.cli, ["sweep", str(small), *words])


def solid(**changes):
    """A row for the section of the small case."""
    return replace(row(**changes), section="solid")


def sure(**changes):
    """The same, solved on two levels."""
    return solid(uncertainties=UNCERTAINTIES, **changes)


def lost():
    return replace(failed(), section="solid")


def test_by_a_scheduler_into_one_file(small, tmp_path, monkeypatch):
    asked = stand_in(monkeypatch, solid(), solid(), lost())
    done = invoke(small, "--out", "a.parquet", "--scheduler", "tcp://here:1")
    assert done.exit_code == 0, done.output
    assert asked == [(None, "tcp://here:1")]
    assert sorted(p.name for p in tmp_path.iterdir()) == [
        "a.parquet", "a.parquet.samples.jsonl", "small.toml"
    ]  # fmt: skip


def test_strict_asks_that_every_row_passes(small, monkeypatch):
    stand_in(monkeypatch, solid(), solid(), lost())
    assert invoke(small).exit_code == 0
    assert invoke(small, "--strict").exit_code == 1


@pytest.mark.parametrize("verdict", ["fails", "no verdict"])
def test_strict_counts_the_checks_beside_the_stresses_and_what_is_open(small, monkeypatch, verdict):
    stand_in(monkeypatch, sure(), sure(), sure())
    assert invoke(small, "--strict", "--out", "a.csv").exit_code == 0
    stand_in(monkeypatch, sure(), sure(), sure(other_verdict=verdict))
    assert invoke(small, "--strict", "--out", "b.csv").exit_code == 1
    small.write_text(CASE.replace(ACCEPTED, ""))
    stand_in(monkeypatch, sure(), sure(), sure())
    assert invoke(small, "--strict", "--out", "c.csv").exit_code == 1


@pytest.mark.parametrize(("out", "name"), [("here", "sweep.txt"), ("a.csv", "a.csv")])
def test_a_table_beside_a_record_that_is_not_complete_is_another_s(
    small, tmp_path, monkeypatch, out, name
):
    asked = stand_in(monkeypatch, solid())
    invoke(small, "--out", out)  # one of three
    (theirs,) = tmp_path.rglob(name)
    for table in tmp_path.rglob("*.csv"):
        table.unlink()
    theirs.write_text("mine")
    asked.clear()
    done = invoke(small, "--out", out)
    assert isinstance(done.exception, InputError)
    assert f"{name}: is there already, and " in str(done.exception)
    assert (theirs.read_text(), asked) == ("mine", [])


def test_a_sweep_again_leaves_its_table_and_keeps_one_that_was_changed(
    small, tmp_path, monkeypatch
):
    stand_in(monkeypatch, solid(), solid(), lost())
    table = tmp_path / "small-sweep" / "sweep.csv"
    assert invoke(small).exit_code == 0
    before = table.read_bytes()
    assert invoke(small).exit_code == 0
    assert table.read_bytes() == before
    table.write_bytes(before + b"mine")
    done = invoke(small)
    assert isinstance(done.exception, InputError)
    assert table.read_bytes() == before + b"mine"


def test_where_nothing_is_solved_the_table_says_why(small, tmp_path, monkeypatch):
    stand_in(monkeypatch, lost(), lost(), lost())
    done = invoke(small)
    assert done.exit_code == 3
    assert re.fullmatch("not solved: .*table.*\n", done.stderr)
    assert (tmp_path / "small-sweep" / "sweep.csv").read_text().count("it does not fit") == 3


@pytest.mark.parametrize(
    ("old", "new", "words", "part"),
    [
        (SWEEP, "", (), "has no [sweep]"),
        ("load.line_load", "load.lin_load", (), "did you mean line_load?"),
        ("", "", ("--processes", "2", "--scheduler", "x"), "state one of them"),
        ("", "", ("--out", "none/a.csv"), "there is no folder none"),
        ("", "", ("--out", "lhs.txt"), "--out lhs.txt: must end in .csv or .parquet for a table"),
    ],
)
def test_bad_input_is_refused_before_anything_is_written(small, tmp_path, old, new, words, part):
    small.write_text(CASE.replace(old, new) if old else CASE)
    done = invoke(small, *words)
    assert isinstance(done.exception, InputError)
    assert part in str(done.exception)
    assert [p.name for p in tmp_path.iterdir()] == ["small.toml"]


@pytest.mark.parametrize("out", ["made", "made.by/", "made.before"])
def test_a_folder_may_be_named(small, tmp_path, monkeypatch, out):
    stand_in(monkeypatch, solid(), solid(), lost())
    (tmp_path / "made.before").mkdir()
    done = invoke(small, "--out", out)
    assert done.exit_code == 0, done.output
    assert sorted(p.name for p in (tmp_path / out).iterdir()) == [
        "samples.jsonl", "sweep.csv", "sweep.txt"
    ]  # fmt: skip
