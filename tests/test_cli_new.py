"""`contactfe new` and `contactfe schema`."""

import json
import tomllib

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

from contactfe.case import read_case
from contactfe.cli import cli
from contactfe.errors import InputError


@pytest.mark.parametrize(("units", "shown"), [("SI", "SI"), ("US", "US customary")])
def test_a_new_case_is_written_and_keeps_to_the_schema(units, shown, tmp_path):
    path = tmp_path / "stop.toml"
    done = CliRunner().invoke(cli, ["new", str(path), "--units", units])
    assert done.exit_code == 0
    assert str(path) in done.output
    assert read_case(path).report.units == shown
    printed = CliRunner().invoke(cli, ["schema", "case"])
    assert printed.exit_code == 0
    validator = Draft202012Validator(json.loads(printed.output))
    assert not list(validator.iter_errors(tomllib.loads(path.read_text("utf-8"))))


def test_a_file_that_is_there_stays(tmp_path):
    path = tmp_path / "stop.toml"
    path.write_text("mine")
    done = CliRunner().invoke(cli, ["new", str(path)])
    assert isinstance(done.exception, InputError)
    assert path.read_text() == "mine"
    missing = tmp_path / "none" / "stop.toml"
    assert CliRunner().invoke(cli, ["new", str(missing)]).exception is not None
    assert not missing.parent.exists()
