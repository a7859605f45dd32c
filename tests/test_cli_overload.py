"""The overload command as a user meets it."""

import json
import os
import re
import signal
import subprocess
import sys
import time

import pytest
from commands import ACCEPTED, SMALL, run_here

from contactfe.report.answer import LINES

ONE = SMALL.replace("[[section]]", f"{ACCEPTED}[overload]\nfactors = [1.5]\n[[section]]")
TWO = f'{ONE}[[section]]\nname = "other"\noutside_diameter = "120 mm"\n'


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(ONE)
    return path


def run(*of, cwd):
    return run_here("overload", *of, "--processes", 1, cwd=cwd)


def test_it_writes_its_files_and_solves_nothing_twice(small, tmp_path):
    done = run(small, "--strict", "--json", "copy.json", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count("\n") <= LINES
    folder = tmp_path / "small-overload"
    assert {p.name for p in folder.iterdir()} == {
        "overload.json", "overload.csv", "overload.txt", "overload.png", "overload-solid.png",
        "sections.jsonl",
    }  # fmt: skip
    assert re.search("6 files .*small-overload", done.stdout)
    assert len((folder / "overload.csv").read_text().splitlines()) == 2
    kept, found = (folder / "sections.jsonl").read_bytes(), json.loads(
        (tmp_path / "copy.json").read_text()
    )  # fmt: skip
    assert [s["factor"] for s in found["sections"][0]["strikes"]] == [pytest.approx(1.5)]

    # No item is accepted any more, which changes no strike.
    small.write_text(ONE.replace(ACCEPTED, ""))
    again = run(small, "--strict", "--json", "-", "--out", folder, cwd=tmp_path)
    assert again.returncode == 1, again.stderr
    assert re.fullmatch("1 of 1 sections .*\n", again.stderr)
    assert (folder / "sections.jsonl").read_bytes() == kept
    assert json.loads(again.stdout)["sections"] == found["sections"]


def test_json_alone_on_standard_output_and_no_files(small, tmp_path, monkeypatch):
    done = run(small, "--json", "-", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["title"] == "Test stop"
    assert [p.name for p in tmp_path.iterdir()] == ["small.toml"]


BAD = {
    "factor": ("factors = [1.5]", "factors = [0.9]", ["factors", "0.9", "from 1 to 4"]),
    "falling": ("factors = [1.5]", "factors = [2, 1.5]", ["factors", "greater"]),
    "state": ("[load]", '[model]\nstate = "plane stress"\n[load]', ["state", "plane strain"]),
    "friction": ("[load]", "[contact]\nfriction = 0.2\n[load]", ["friction", "0.2"]),
    "hardening": ("[plate]", 'hardening = "30 GPa"\n[plate]', ["hardening", "30 GPa"]),
    "infill": (
        'outside_diameter = "150 mm"\n',
        'outside_diameter = "150 mm"\nwall = "20 mm"\n'
        'infill = { young = "30 GPa", poisson = 0.2, density = "2400 kg/m3" }\n',
        ["solid", "infill"],
    ),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_one_line_with_status_2_before_anything_is_solved(
    small, tmp_path, monkeypatch, name
):
    old, new, parts = BAD[name]
    assert old in ONE
    small.write_text(ONE.replace(old, new))
    monkeypatch.setattr("contactfe.assess.bodies.condense", None)
    done = run(small, cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    for part in ("small.toml", *parts):
        assert part in done.stderr
    assert [p.name for p in tmp_path.iterdir()] == ["small.toml"]


def test_a_run_that_is_stopped_goes_on_where_it_was(small, tmp_path):
    small.write_text(TWO)
    words = [sys.executable, "-m", "contactfe", "overload", "small.toml", "--processes", "1"]
    record = tmp_path / "small-overload" / "sections.jsonl"

    def solved() -> list[str]:
        return record.read_text().split("\n")[1:-1] if record.exists() else []

    process = subprocess.Popen(
        words, cwd=tmp_path, start_new_session=True, stdout=subprocess.PIPE,
        stderr=subprocess.PIPE, text=True, env=os.environ | {"OMP_NUM_THREADS": "1"},
    )  # fmt: skip
    ends = time.monotonic() + 240.0
    while not solved():
        assert process.poll() is None
        assert time.monotonic() < ends
        time.sleep(0.02)
    os.killpg(process.pid, signal.SIGINT)  # as a terminal does: to the whole group
    _, error = process.communicate(timeout=60)
    first = solved()
    assert process.returncode == 130
    assert re.fullmatch(r"stopped: 1 of 2 sections .*sections\.jsonl.*\n", error)
    assert {p.name for p in record.parent.iterdir()} == {record.name}

    done = run(small, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert re.fullmatch("1 of 2 sections .*\n", done.stderr)
    assert len(solved()) == 2
    assert solved()[0] == first[0]
    found = json.loads((record.parent / "overload.json").read_text())
    assert [s["section"] for s in found["sections"]] == ["solid", "other"]
