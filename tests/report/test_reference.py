"""The reference pages in contactfe/docs: current, and true of what is written."""

import json
import tomllib
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from specimens import CORNER, STATED

from contactfe.assess.checks import Check
from contactfe.report import reference
from contactfe.report.verdicts import check_data


@pytest.mark.parametrize("name", reference.PAGES)
def test_the_page_is_current(name, tmp_path):
    reference.write(tmp_path)
    kept = (reference.FOLDER / name).read_text(encoding="utf-8")
    assert kept == (tmp_path / name).read_text(encoding="utf-8")


def test_every_key_of_a_check_is_said():
    check = Check(
        "k", "in words", "stress", "contact stress", "tube", "post", 1.0, 2.0, "stress", "source"
    )
    assert list(reference.CHECK_KEYS) == list(check_data(check))


CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
SCHEMA = Draft202012Validator(json.loads(reference.case_file_schema()))


@pytest.mark.parametrize(
    "data", [*(tomllib.loads(path.read_text("utf-8")) for path in CASES), STATED, CORNER]
)
def test_what_is_a_case_keeps_to_the_schema(data):
    assert [error.message for error in SCHEMA.iter_errors(data)] == []


@pytest.mark.parametrize(
    "change",
    [
        {"plate": CORNER["plate"] | {"widht": "4 m"}},
        {"plate": CORNER["plate"] | {"width": 400.0}},
        {"plate": {}},
        {"contact": {"friction": 1.5}},
        {"envelope": {"offset": "10 mm"}},
        {"sweep": {"over": {}}},
        {"title": None},
    ],
)
def test_what_is_none_does_not(change):
    assert list(SCHEMA.iter_errors(CORNER | change))
