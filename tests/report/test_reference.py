"""The reference pages in contactfe/docs: current, and true of what is written."""

import json
import tomllib
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from specimens import CORNER, STATED

from contactfe.assess.checks import Check
from contactfe.case import Section, case_from_dict
from contactfe.case.bodies import Post
from contactfe.case.table import keys
from contactfe.case.units import parse_quantity
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


def no_constant(name):
    raise AssertionError(f"{name} is no JSON")


# Python reads NaN and Infinity, which no other reader of JSON does.
SCHEMA = Draft202012Validator(json.loads(reference.case_file_schema(), parse_constant=no_constant))


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
        {"envelope": {"friction": [0.2, 1.5]}},
        {"tolerance": {"wall": ["-10 %"]}},
        {"sweep": {"over": {}}},
        {"sweep": {"over": {"plate.thickness": "40 mm"}}},
        {"sweep": {"over": {"plate.thickness": {"from": "40 mm"}}}},
        {"title": None},
    ],
)
def test_what_is_none_does_not(change):
    assert list(SCHEMA.iter_errors(CORNER | change))


def described(schema):
    """Every key of the schema's tables and what it has."""
    for table in (schema, *schema["$defs"].values()):
        yield from table.get("properties", {}).items()


def test_the_schema_says_what_every_key_is_and_in_what_unit():
    Draft202012Validator.check_schema(SCHEMA.schema)
    found = list(described(SCHEMA.schema))
    assert len(found) > 100
    for name, has in found:
        assert has.get("description"), name
    plate, load = (SCHEMA.schema["$defs"][of]["properties"] for of in ("Plate", "Load"))
    for key, units in ((plate["width"], ("mm", "in")), (load["line_load"], ("N/mm", "kip/in"))):
        assert all(unit in key["description"] for unit in units)
    assert (
        "0 without it" in SCHEMA.schema["$defs"]["Contact"]["properties"]["offset"]["description"]
    )


def test_the_schema_offers_steels_and_stock_sizes_but_allows_a_steel_of_the_case():
    offered, other = SCHEMA.schema["$defs"]["Plate"]["properties"]["steel"]["anyOf"]
    assert "ASTM A36" in offered["enum"]
    assert other == {"type": "string"}
    plate = CORNER["plate"] | {"steel": "own"}
    assert not list(SCHEMA.iter_errors(CORNER | {"plate": plate}))
    section = SCHEMA.schema["$defs"]["Section"]["properties"]
    assert "ASME B36.10M NPS 6 XXS" in section["designation"]["enum"]
    sized = {"name": "a", "designation": "NPS 6 XXX"}
    assert list(SCHEMA.iter_errors(CORNER | {"section": [sized]}))


def test_what_the_page_says_of_a_default_that_has_a_unit_is_that_default():
    plain = case_from_dict(CORNER)
    density = keys(Post)["density"].examples[0]
    assert case_from_dict(CORNER | {"post": CORNER["post"] | {"density": density}}) == plain
    section = keys(Section)["mesh_unit"]
    assert parse_quantity(f"1 {section.examples[0]}", "length") == section.default
