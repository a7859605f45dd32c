"""`contactfe scale`, as a user meets it."""

import json

import pytest
from click.testing import CliRunner
from commands import SMALL, run_here

from contactfe import cli
from contactfe.case import read_case
from contactfe.errors import InputError


@pytest.fixture
def stop(tmp_path):
    path = tmp_path / "stop.toml"
    path.write_text(f"scale = 0.5\n{SMALL}")
    return path


def invoke(*words):
    """In this process; an error comes out as it was raised."""
    return CliRunner().invoke(cli.cli, ["scale", *map(str, words)], catch_exceptions=False)


def test_it_prints_the_page_and_writes_nothing(stop, tmp_path):
    done = run_here("scale", stop, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Test stop, specimen 1:2\n")
    assert [path.name for path in tmp_path.iterdir()] == ["stop.toml"]


def test_to_takes_the_place_of_the_cases_scale(stop):
    assert invoke(stop, "--to", "0.25").stdout.startswith("Test stop, specimen 1:4\n")


def test_it_writes_the_specimen_and_the_page_as_json(stop, tmp_path):
    new, page = tmp_path / "small" / "specimen.toml", tmp_path / "page.json"
    new.parent.mkdir()
    done = invoke(stop, "--write", new, "--json", page)
    assert f"specimen written to {new}" in done.stdout
    assert read_case(new).sections[0].outside_diameter == 75.0
    assert json.loads(page.read_text())["scale"] == 0.5


def test_json_alone_is_all_that_is_printed(stop):
    assert json.loads(invoke(stop, "--json", "-").stdout)["ratio"] == "1:2"


def test_nothing_is_overwritten_and_nothing_printed_before_that(stop, tmp_path):
    before = stop.read_text()
    done = run_here("scale", stop, "--write", stop, cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(f"--write {stop}: is there already")
    assert done.stderr.count("\n") == 1
    assert stop.read_text() == before


def test_bad_json_target_leaves_no_specimen(stop, tmp_path):
    with pytest.raises(InputError, match="--json"):
        invoke(stop, "--write", tmp_path / "new.toml", "--json", tmp_path)
    assert not (tmp_path / "new.toml").exists()


def test_the_refusal_of_a_case_without_a_scale_says_how_to_state_one(tmp_path):
    path = tmp_path / "stop.toml"
    path.write_text(SMALL)
    with pytest.raises(InputError, match=r"stop\.toml: .*scale = 0\.25"):
        invoke(path)
