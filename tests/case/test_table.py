"""What a record says of the table that it reads, and that a table is read as it says."""

import subprocess
import sys
from dataclasses import fields

import pytest
from specimens import CORNER, STATED

from contactfe.case import Case, Contact, Section, case_from_dict
from contactfe.case.alignment import Alignment, Spread, Strip
from contactfe.case.bodies import Plate
from contactfe.case.motion import Motion
from contactfe.case.sizing import Sizing, WallLengths
from contactfe.case.table import Table, dimensions, keys
from contactfe.errors import InputError


def tables(record=Case, path=()):
    """Every record that a case is made of, by the keys that lead to it."""
    yield path, record
    for name, key in keys(record).items():
        if key.table is not None:
            yield from tables(key.table, (*path, name))


EVERY = dict(tables())


def test_a_table_of_the_file_is_a_record():
    assert ("motion", "damper") in EVERY
    assert ("section", "infill") in EVERY
    assert all(issubclass(record, Table) for record in EVERY.values())


@pytest.mark.parametrize("path", EVERY)
def test_every_key_says_what_it_is(path):
    for name, key in keys(EVERY[path]).items():
        assert key.words, name
        assert key.examples or not key.needed or key.table, name


def test_keys_go_by_their_names_in_the_file():
    assert {"designation", "bore", "steel_thickness"} <= set(keys(Section))
    assert not {"stock", "governing_thickness"} & set(keys(Section))
    assert keys(Plate)["width"].needed
    assert not keys(Plate)["spring"].needed
    assert keys(Contact)["offset"].default == 0.0
    assert keys(Case)["section"].several
    assert not keys(Case)["plate"].several


def test_what_a_figure_measures():
    assert dimensions(Plate) == {
        "width": "length", "thickness": "length", "spring": "line stiffness"
    }  # fmt: skip
    assert dimensions(Spread) == {"lever": "length"}
    assert dimensions(Strip) == {"place": "length", "moment": "moment"}
    assert dimensions(Sizing)["outside_diameters"] == "length"
    assert dimensions(WallLengths) == {"least": "length", "most": "length"}
    assert dimensions(Contact) == {"offset": "length", "angle": "angle"}
    # A key that states another is no field of the record.
    assert "bore" not in dimensions(Section)
    assert keys(Section)["bore"].dimension == "length"


@pytest.mark.parametrize(
    ("record", "path"), [(Case, ()), (Motion, ("motion",)), (Alignment, ("alignment",))]
)
def test_a_field_that_no_file_states_is_no_key(record, path):
    for field in {field.name for field in fields(record)} - set(keys(record)):
        data = dict(STATED)
        if path:
            data[path[0]] = {**data.get(path[0], {}), field: 1}
        else:
            data[field] = 1
        with pytest.raises(InputError, match=f"{field} = 1: is not known here"):
            case_from_dict(data)


def test_a_key_that_is_none_is_not_stated():
    section = {"name": "a", "outside_diameter": "150 mm", "wall": None, "bore": "100 mm"}
    (read,) = case_from_dict(CORNER | {"section": [section]}).sections
    assert read.wall == 25.0


def test_records_themselves_pass_for_tables():
    case = case_from_dict(CORNER)
    assert case_from_dict(CORNER | {"plate": case.plate}).plate is case.plate


def test_records_are_declared_without_reading_a_quantity_or_a_file():
    """Every process of a study loads them."""
    loaded = "import sys, contactfe.case; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", loaded], check=False).returncode == 0
