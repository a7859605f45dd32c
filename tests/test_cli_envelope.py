"""The envelope command as a user meets it."""

import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from commands import ACCEPTED, SMALL, run_here, run_on_a_terminal

OFFSETS = '["-20 mm", "30 mm"]'
FEW = SMALL.replace("[[section]]", f"{ACCEPTED}[envelope]\noffset = {OFFSETS}\n[[section]]")
MANY = FEW.replace(OFFSETS, '{ from = "-40 mm", to = "40 mm", count = 6 }')


def words(*of) -> list[str]:
    return [sys.executable, "-m", "contactfe", "envelope", *map(str, of)]


def run(*of, cwd) -> subprocess.CompletedProcess[str]:
    return run_here("envelope", *of, cwd=cwd)


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(FEW)
    return path


def test_it_writes_its_files_and_solves_nothing_twice(small, tmp_path):
    done = run(small, "--strict", "--json", "copy.json", "--processes", 2, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""  # no progress where standard error is no terminal, no warnings
    folder = tmp_path / "small-envelope"
    written = {p.name for p in folder.iterdir()}
    assert written == {
        "envelope.json", "envelope.csv", "envelope.txt", "envelope.png", "rows.jsonl"
    }  # fmt: skip
    assert re.search("5 files .*small-envelope", done.stdout)
    assert (folder / "envelope.txt").read_text().splitlines()[0] == "Test stop"
    rows = (folder / "rows.jsonl").read_bytes()
    results = json.loads((tmp_path / "copy.json").read_text())
    assert [row["offset"] for row in results["rows"]] == [-20.0, 30.0]

    # One contact more: two are known. A plate of 300 mm has no room for the one that is refused.
    small.write_text(FEW.replace('"30 mm"]', '"30 mm", "149.5 mm"]'))
    again = run(small, "--strict", "--processes", 1, cwd=tmp_path)
    assert again.returncode == 1, again.stderr  # what is not solved does not pass
    assert re.fullmatch("2 of 3 contacts .*\n", again.stderr)
    assert (folder / "rows.jsonl").read_bytes().startswith(rows)
    more = json.loads((folder / "envelope.json").read_text())
    assert more["rows"][:2] == results["rows"]
    assert "edge of the plate" in more["rows"][2]["error"]
    assert "small.toml" not in more["rows"][2]["error"]
    assert "1 of 3 rows" in again.stdout


def test_json_alone_on_standard_output_and_no_files(small, tmp_path):
    done = run(small, "--json", "-", "--processes", 1, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["title"] == "Test stop"
    assert [p.name for p in tmp_path.iterdir()] == ["small.toml"]


BAD = {
    "no envelope": ('[envelope]\noffset = ["-20 mm", "30 mm"]', "", ["[envelope]", "offset = ["]),
    "nothing fits": ("400 N/mm", "400 kN/mm", ["none of 2 contacts", "at most 0.1"]),
    "no accuracy": ("[post]", "[post]", ['--accuracy "none"']),
    "no unit": ('"30 mm"]', '"30"]', ["envelope", "30", "unit"]),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_one_line_with_status_2_and_leaves_earlier_results(small, tmp_path, name):
    (tmp_path / "small-envelope").mkdir()
    first = {
        "kind": "rows of an envelope", "generator": {"name": "contactfe"}, "path": str(small)
    }  # fmt: skip
    (tmp_path / "small-envelope" / "rows.jsonl").write_text(json.dumps(first) + "\n")
    made = first | {"case": {"path": str(small)}}
    del made["kind"]
    earlier = tmp_path / "small-envelope" / "envelope.json"
    earlier.write_text(json.dumps(made))
    old, new, parts = BAD[name]
    assert old in FEW
    small.write_text(FEW.replace(old, new))
    more = ("--accuracy", "none") if name == "no accuracy" else ()
    done = run(small, "--processes", 1, *more, cwd=tmp_path)
    assert done.returncode == 2, (done.stdout, done.stderr)
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    for part in parts if more else ("small.toml", *parts):
        assert part in done.stderr
    assert json.loads(earlier.read_text()) == made


def solved(folder: Path) -> list[str]:
    """The lines of the record that are whole."""
    path = folder / "rows.jsonl"
    return path.read_text().split("\n")[1:-1] if path.exists() else []


def stopped(small: Path, sign: signal.Signals, more: int) -> tuple[int, str]:
    """Status and standard error of a run that gets a signal after so many more rows."""
    folder = small.parent / "small-envelope"
    before = len(solved(folder))
    process = subprocess.Popen(
        words(small, "--processes", 2), cwd=small.parent, start_new_session=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    ends = time.monotonic() + 60.0
    while len(solved(folder)) < before + more:
        assert process.poll() is None
        assert time.monotonic() < ends
        time.sleep(0.01)
    if sign == signal.SIGINT:
        os.killpg(process.pid, sign)  # as a terminal does: to the whole group
    else:
        process.send_signal(sign)
    _, error = process.communicate(timeout=60)  # waits for all that hold its standard error
    return process.returncode, error


def test_a_run_that_is_stopped_goes_on_where_it_was(small, tmp_path):
    small.write_text(MANY)
    folder = tmp_path / "small-envelope"
    status, error = stopped(small, signal.SIGINT, 2)
    first = solved(folder)
    assert status == 130
    kept = rf"stopped: {len(first)} of 6 contacts .*small-envelope/rows\.jsonl.*\n"
    assert re.fullmatch(kept, error)
    assert 2 <= len(first) < 6
    assert {p.name for p in folder.iterdir()} == {"rows.jsonl"}

    status, error = stopped(small, signal.SIGKILL, 1)
    second = solved(folder)
    assert status == -signal.SIGKILL
    # No process is left: communicate() has seen the end of all that held standard error. Python
    # itself may add there what it cleared away.
    assert error.startswith(f"{len(first)} of 6 contacts ")
    assert second[: len(first)] == first  # nothing is lost
    assert len(second) < 6
    with (folder / "rows.jsonl").open("a") as file:
        file.write(second[0][:200])  # cut off while it was written

    done = run(small, "--processes", 2, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert re.fullmatch(f"{len(second)} of 6 contacts .*\n", done.stderr)
    third = solved(folder)
    assert third[: len(second)] == second
    offsets = [json.loads(line)["answer"]["contact"]["offset"] for line in third]
    assert len(offsets) == len(set(offsets)) == 6  # nothing twice
    results = json.loads((folder / "envelope.json").read_text())
    assert sorted(offsets) == [row["offset"] for row in results["rows"]]

    # A figure that was edited is not believed.
    peak = json.loads(third[0])["answer"]["values"]["post_peak"]["value"]
    edited = (folder / "rows.jsonl").read_text().replace(f'"value":{peak!r}', '"value":1.0', 1)
    (folder / "rows.jsonl").write_text(edited)
    done = run(small, "--processes", 1, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    said, there = done.stderr.splitlines()
    assert "rows.jsonl: 1 of its lines" in said
    assert there.startswith("5 of 6 contacts ")
    assert json.loads((folder / "envelope.json").read_text())["rows"] == results["rows"]


@pytest.mark.skipif(not Path("/dev/pts").is_dir(), reason="needs pseudo-terminals")
def test_progress_with_the_time_left_appears_on_a_terminal(small, tmp_path):
    of = ("envelope", small, "--json", "-", "--processes", 1)
    seen, out = run_on_a_terminal(*of, cwd=tmp_path)
    assert b"contacts" in seen
    assert b"/2" in seen
    assert b"-:--:--" in seen or b"0:00:0" in seen  # the time left
    json.loads(out)  # standard output stays clean


def test_the_same_in_python(tmp_path):
    code = (
        "import contactfe\n"
        "if __name__ == '__main__':\n"
        "    case = contactfe.read_case('small.toml')\n"
        "    answer = contactfe.envelope(case, processes=2)\n"
        "    print(answer.by_utilisation, len(contactfe.save_envelope(answer, 'here')))\n"
    )
    (tmp_path / "small.toml").write_text(FEW)
    (tmp_path / "script.py").write_text(code)
    done = subprocess.run(
        [sys.executable, "script.py"], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert done.stdout == "('solid',) 5\n"
    assert done.stderr == ""
