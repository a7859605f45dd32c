"""The size command as a user meets it: a run that is stopped goes on where it was."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from commands import SMALL, run_here

SIZED = SMALL.replace(
    "[[section]]",
    '[sizing]\nwall = { from = 0.15, to = 0.25, count = 5 }\nchecks = ["stress"]\n[[section]]',
)


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(SIZED)
    return path


def run(*of, cwd) -> subprocess.CompletedProcess[str]:
    return run_here("size", *of, cwd=cwd)


def lines(folder: Path) -> list[str]:
    """The lines of the record that are whole, without the first."""
    path = folder / "trials.jsonl"
    return path.read_text().split("\n")[1:-1] if path.exists() else []


def stopped(small: Path, sign: signal.Signals, more: int) -> tuple[int, str]:
    """Status and standard error of a run that gets a signal after so many more trials."""
    folder = small.parent / "small-size"
    before = len(lines(folder))
    process = subprocess.Popen(
        [sys.executable, "-m", "contactfe", "size", str(small), "--processes", "1"],
        cwd=small.parent, start_new_session=True, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    ends = time.monotonic() + 60.0
    while len(lines(folder)) < before + more:
        assert process.poll() is None
        assert time.monotonic() < ends
        time.sleep(0.01)
    os.killpg(process.pid, sign)
    _, error = process.communicate(timeout=60)
    return process.returncode, error


def test_a_run_that_is_stopped_goes_on_and_ends_as_an_unbroken_one(small, tmp_path):
    whole = run(small, "--out", "whole", "--processes", 1, cwd=tmp_path)
    assert (whole.returncode, whole.stderr) == (0, "")
    every = lines(tmp_path / "whole")
    assert any(json.loads(line)["answer"]["coarse"] for line in every)  # of both levels

    folder = tmp_path / "small-size"
    status, error = stopped(small, signal.SIGINT, 2)
    first = lines(folder)
    assert status == 130
    assert error == (
        f"stopped: {len(first)} of 5 solves known to be needed are done, kept in"
        " small-size/trials.jsonl; the same command goes on\n"
    )
    assert {p.name for p in folder.iterdir()} == {"trials.jsonl"}

    status, error = stopped(small, signal.SIGKILL, 1)
    second = lines(folder)
    assert status == -signal.SIGKILL
    assert error == f"{len(first)} solves are there from an earlier run\n"
    assert second[: len(first)] == first
    assert len(second) < len(every)
    with (folder / "trials.jsonl").open("a") as file:
        file.write(second[0][:200])  # cut off while it was written

    done = run(small, "--processes", 1, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stderr == f"{len(second)} solves are there from an earlier run\n"
    assert sorted(lines(folder)) == sorted(every)  # nothing twice, and nothing else
    for name in ("size.json", "size.csv", "size.txt"):
        assert (folder / name).read_bytes() == (tmp_path / "whole" / name).read_bytes()

    # A figure that was edited is not believed, and the rest is not solved again.
    plate = json.loads(every[0])["answer"]["trial"]["plate"]
    record = folder / "trials.jsonl"
    record.write_text(record.read_text().replace(f'"plate":{plate!r}', '"plate":1.0', 1))
    done = run(small, "--processes", 1, cwd=tmp_path)
    said, there = done.stderr.splitlines()
    assert "trials.jsonl: 1 of its lines are not as contactfe wrote them" in said
    assert there == f"{len(every) - 1} solves are there from an earlier run"
    assert lines(folder)[-1] == every[0]
    assert (folder / "size.csv").read_bytes() == (tmp_path / "whole" / "size.csv").read_bytes()
