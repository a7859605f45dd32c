"""The case that `contactfe new` writes: it reads, whatever of it is taken out of its comments."""

import re
import tomllib

import pytest

from contactfe.assess.compare import compare
from contactfe.case import Case, case_from_dict
from contactfe.case.table import keys
from contactfe.report.starting_case import starting_case

SYSTEMS = ["SI", "US customary"]


def read(text):
    return case_from_dict(tomllib.loads(text), "new.toml")


def tables(text):
    """The text, table by table, each with its own tables behind it."""
    return re.split(r"\n\n(?=# [^\n]*(?:\n# [^\n]*)*\n#?\[{1,2}\w+(?:\.\"own steel\")?\])", text)


def stated(text):
    return re.sub(r"^#(?=[^ \n])", "", text, flags=re.MULTILINE)


@pytest.fixture(params=SYSTEMS, scope="module")
def units(request):
    return request.param


def test_it_reads_in_its_units(units):
    text = starting_case("new.toml", units)
    case = read(text)
    assert case.report.units == units
    assert [section.geometry.shape for section in case.sections] == ["solid", "tube"]
    assert max(map(len, text.splitlines())) <= 100
    assert "invented" in case.title
    active = "\n".join(line for line in text.splitlines() if not line.startswith("#"))
    assert bool(re.search(r'"[^"]*(in|kip)"', active)) is (units != "SI")


def test_it_reads_with_every_optional_line(units):
    alone, others = [], []
    for table in tables(starting_case("new.toml", units)):
        (alone if "\n#[corner]" in table else others).append(table)
    assert len(alone) == 1
    case = read("\n\n".join(map(stated, others)))
    for name in ("envelope", "cantilever", "motion", "alignment", "sizing", "sweep"):
        assert getattr(case, name) is not None
    assert case.sections[-1].infill is not None
    assert [grade.name for grade in case.grades] == ["own steel"]
    read("\n\n".join([*others, *map(stated, alone)]))


def test_every_key_stands_in_it(units):
    text = starting_case("new.toml", units)

    def walk(record):
        for key in keys(record).values():
            pattern = rf"^#? *(?:{key.name} = |\[{{1,2}}[\w.]*\b{key.name}\b)"
            assert re.search(pattern, text, re.MULTILINE), key.name
            if key.table is not None and key.name != "level":  # in place of a displacement
                walk(key.table)

    walk(Case)


def test_customary_examples_are_of_the_dimension_of_their_key():
    text = starting_case("new.toml", "US customary")
    assert re.search(r'^# +spring = "[\d.]+ kip/in/in"', text, re.MULTILINE)
    assert not re.search(r'^#?\w+ = "[\d.]+ (mm|MPa|kN|N)"', text, re.MULTILINE)


def test_it_is_solved(units):
    found = compare(read(starting_case("new.toml", units)))
    assert found.least_concentration == "tube"
    assert all(section.member.utilisation.upper < 1.0 for section in found.sections)
