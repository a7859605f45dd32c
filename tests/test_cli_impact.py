"""`contactfe impact` as a user gives it."""

import json
import re

import pytest
from click.testing import CliRunner
from commands import SMALL
from motions import STOP

from contactfe import cli
from contactfe.errors import InputError


@pytest.fixture
def stop(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "stop.toml").write_text(STOP)
    return tmp_path / "stop.toml"


def invoke(*words):
    """In this process; an error comes out as it was raised."""
    return CliRunner().invoke(cli.cli, [str(word) for word in words], catch_exceptions=False)


def test_it_prints_and_writes_what_it_found(stop, tmp_path):
    done = invoke("impact", "stop.toml", "--strict", "--json", "found.json")
    assert done.exit_code == 0
    assert re.search("4 files .*stop-impact", done.stdout)
    found = json.loads((tmp_path / "found.json").read_text())
    force = found["blows"][0]["peak_contact_force"]
    assert f" {force / 1e3:.0f} " in done.stdout
    assert found["blows"][0]["end"] == "parted"
    names = sorted(path.name for path in (tmp_path / "stop-impact").iterdir())
    assert names == ["history.csv", "impact.json", "impact.png", "impact.txt"]


def test_json_alone_writes_no_files(stop):
    done = invoke("impact", stop, "--json", "-")
    assert done.exit_code == 0
    assert json.loads(done.stdout)["satisfied"] is True
    assert [path.name for path in stop.parent.iterdir()] == ["stop.toml"]


def test_strict(stop):
    words = STOP.replace("contact_length", 'force = "9 kN"\ncontact_length')
    stop.write_text(words)
    assert invoke("impact", stop, "--json", "-").exit_code == 0
    assert invoke("impact", stop, "--json", "-", "--strict").exit_code == 1


def test_a_case_without_motion_is_refused(stop):
    stop.write_text(SMALL)
    with pytest.raises(InputError, match=r"states no \[motion\]") as told:
        invoke("impact", stop)
    keys = re.search(r"\((.*)\) and \[contact_law\]", str(told.value))[1].split(", ")
    assert {"gap", "mass", "displacement", "period"} == set(keys)
    fresh = stop.parent / "new.toml"
    invoke("new", fresh)
    assert all(f"#{key} = " in fresh.read_text().partition("#[motion]")[2] for key in keys)
    fresh.unlink()
    assert [path.name for path in stop.parent.iterdir()] == ["stop.toml"]


def test_the_load_of_the_motion_is_what_a_hand_calculation_takes(stop):
    done = invoke("hand", stop, "--json", "-")
    loads = [line for line in json.loads(done.stdout)["given"] if "N/mm" in line]
    found = json.loads(invoke("impact", stop, "--json", "-").stdout)["blows"][0]
    assert any(f"{found['mean_line_load']:.0f} N/mm" in line for line in loads)
