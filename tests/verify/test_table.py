"""Rows out of tables: what a row states, what it shares, and what is refused, by file and key."""

import re

import pytest

from contactfe.errors import InputError
from contactfe.verify import run
from contactfe.verify.rows import TABLES
from contactfe.verify.table import FOLDER, read_table

HEAD = """
kind = "hand formula"

[source.book]
text = "a book, {}: from memory, not seen"
origin = "from memory"

[value]
bar = "4 in"
half = { by = "hand.hertz.relative_radius", given = { radius_1 = 2, radius_2 = 2 } }
"""
ROW = {
    "source": '"book"',
    "at": '"page 1"',
    "key": '"area"',
    "case": '"area of a round"',
    "published": '"12.57 in²"',
    "absolute": "0.005",
    "why": '"last printed digit"',
    "by": '"hand.round_section.area"',
    "given": '{ outside_diameter = "4 in", bore = 0 }',
}


@pytest.fixture
def load(tmp_path):
    def load(group="[[group]]", head=HEAD, **fields):
        row = {name: text for name, text in {**ROW, **fields}.items() if text is not None}
        file = tmp_path / "rounds.toml"
        file.write_text("\n".join([head, group, *(f"{k} = {v}" for k, v in row.items())]))
        return read_table(file)

    return load


def _finds(rows):
    (row,) = rows
    outcome = run(row)
    assert outcome.passed is True
    return outcome.value


def test_a_row_is_what_it_states(load):
    (row,) = load()
    assert (row.key, row.kind, row.case) == ("area", "hand formula", "area of a round")
    assert row.source == "a book, page 1: from memory, not seen"
    assert row.origin == "from memory"
    assert (row.published, row.unit) == (12.57, "in²")
    assert (row.allowed, row.absolute, row.why) == (0.005, True, "last printed digit")


def test_the_result_is_turned_into_the_unit_of_the_published_value(load):
    assert _finds(load()) == pytest.approx(12.566371)
    assert _finds(load(published='"8107 mm²"', absolute="1")) == pytest.approx(8107.320)


def test_a_plain_number_has_no_unit(load):
    (row,) = load(published="8107", absolute="1")
    assert (row.published, row.unit) == (8107.0, "1")


def test_what_was_computed_here_is_said_and_counted_so(load):
    (row,) = load(computed='"value"')
    assert row.source == "a book, page 1: from memory, not seen; value computed here"
    assert row.origin == "computed here"


def test_an_argument_may_be_a_value_of_the_file_or_a_call(load):
    assert _finds(load(given='{ outside_diameter = "$bar", bore = 0 }')) == pytest.approx(12.566371)
    given = '{ outside_diameter = 4, bore = { by = "hand.hertz.relative_radius",'
    given += " given = { radius_1 = 2, radius_2 = 2 }, times = 2 } }"
    found = load(given=given, published="9.42", absolute="0.005")
    assert _finds(found) == pytest.approx(9.424778)


def test_a_value_of_the_file_may_be_what_is_asked(load):
    assert _finds(load(by='"$half"', given=None, published="1", absolute="1e-9")) == 1.0


def test_part_of_a_result_is_read_by_place_or_name(load):
    by = {"by": '"codes.aisc_360.solid_round_shear"', "relative": "1e-9", "absolute": None}
    given = '{ shear = 0, diameter = "100 mm", yield_strength = "345 MPa" }'
    nominal = _finds(load(**by, given=given, read='"steps.-1.value"', published='"1219.330649 kN"'))
    designed = load(**by, given=given, read='"resistance.value"', published='"1097.397584 kN"')
    assert _finds(designed) == pytest.approx(0.9 * nominal)


def test_a_result_is_divided_raised_and_multiplied_in_that_order(load):
    plain = {"published": "18", "absolute": "1e-9", "given": "{ outside_diameter = 4, bore = 0 }"}
    # Of a solid, area over section modulus is 8/D.
    asked = {"over": '"hand.round_section.elastic_modulus"', "power": "2", "times": "4.5"}
    assert _finds(load(**plain, **asked)) == pytest.approx(18.0)


def test_a_published_value_may_be_found_by_a_function_of_what_is_given(load):
    name = '"hand.round_section.area.plain"'
    (row,) = load(published=name, unit='"in²"', relative="1e-12", absolute=None)
    assert row.published() == pytest.approx(12.566371)
    assert run(row).passed is True


def test_rows_of_a_group_share_what_it_states(load):
    group = """
[[group]]
key = "round-{}"
case = "area, bore {} in"
given = { outside_diameter = "4 in" }
row = [
  { key = "solid", case = "0", published = "12.57 in²", given = { bore = 0 } },
  { key = "tube", case = "2", published = "9.42 in²", relative = 1e-3, given = { bore = "2 in" } },
]"""
    solid, tube = load(group, **dict.fromkeys(("key", "case", "published", "given")))
    assert (solid.key, solid.case, solid.allowed) == ("round-solid", "area, bore 0 in", 0.005)
    assert (tube.key, tube.case, tube.allowed) == ("round-tube", "area, bore 2 in", 1e-3)
    assert (solid.absolute, tube.absolute) == (True, False)
    assert solid.why == tube.why == "last printed digit"
    assert run(solid).passed
    assert run(tube).passed


@pytest.mark.parametrize(
    ("change", "parts"),
    [
        ({"by": '"hand.round_section.girth"'}, ["hand.round_section.girth", "no function"]),
        ({"by": '"os.system"'}, ["os.system", "hand, codes or verify"]),
        ({"by": '"report.verification.verification_page"'}, ["hand, codes or verify"]),
        ({"by": '"hand.round_section"'}, ["hand.round_section", "no function"]),
        ({"over": '"hand.round_section.girth"'}, ["hand.round_section.girth", "no function"]),
        ({"given": "{ outside_diameter = 4, hole = 0 }"}, ["no hole", "outside_diameter, bore"]),
        ({"given": "{ bore = 0 }"}, ["needs outside_diameter", "outside_diameter, bore"]),
        ({"given": '{ outside_diameter = "4 kip", bore = 0 }'}, ["outside_diameter", "a force"]),
        ({"given": '{ outside_diameter = "wide", bore = 0 }'}, ["outside_diameter", "wide"]),
        ({"given": "{ outside_diameter = [4], bore = 0 }"}, ["outside_diameter", "quantity"]),
        ({"given": '{ outside_diameter = "$rod", bore = 0 }'}, ["$rod", "bar, half"]),
        ({"published": None}, ["needs published"]),
        ({"why": None, "case": None}, ["needs case and why"]),
        ({"absolute": None}, ["one of absolute and relative"]),
        ({"relative": "1e-3"}, ["one of absolute and relative"]),
        ({"allowed": "1e-3"}, ["allowed is no field", "absolute, relative"]),
        ({"kind": '"guess"'}, ["kind", "guess", "hand formula, standard"]),
        ({"source": '"tale"'}, ["source", "tale", "book"]),
        ({"at": None}, ["`at`", "a book, {}"]),
        ({"published": '"12,57 in²"'}, ["published", "12,57"]),
        ({"published": '"12.57 inches"'}, ["unit", "inches"]),
        ({"unit": '"in²"'}, ["unit with its value"]),
    ],
)
def test_what_is_not_right_is_refused_with_file_and_key(load, change, parts):
    with pytest.raises(InputError) as refused:
        load(**change)
    said = str(refused.value)
    assert said.startswith("rounds.toml")
    assert "area" in said or "key" in change
    assert [part for part in parts if part not in said] == []


def test_a_word_that_an_argument_does_not_allow_is_refused(load):
    given = (
        '{ line_load = 1, diameter = 1, held_by = "glue", poisson = 0.3, state = "plane strain" }'
    )
    with pytest.raises(InputError, match=re.escape('held_by: "glue" is not known; allowed: diam')):
        load(by='"hand.disc.centre_von_mises"', given=given)


def test_a_key_that_is_stated_twice_is_refused(load):
    group = '[[group]]\nrow = [{ case = "one" }, { case = "another" }]'
    with pytest.raises(InputError, match=r"rounds.toml, area: .*another row"):
        load(group, case=None)


def test_a_source_that_does_not_say_how_it_was_seen_is_refused(load):
    head = HEAD.replace('origin = "from memory"\n', "")
    with pytest.raises(InputError, match=r"rounds.toml, source book: .*origin"):
        load(head=head)
    with pytest.raises(InputError, match=r"source book, origin: .*allowed: seen"):
        load(head=HEAD.replace('origin = "from memory"', 'origin = "heard"'))


def test_a_file_that_is_not_toml_is_refused_by_name(load):
    with pytest.raises(InputError, match=r"rounds.toml: is not TOML"):
        load(key="area")


def test_every_source_and_value_of_a_table_is_used():
    for name in TABLES:
        text = FOLDER.joinpath(f"{name}.toml").read_text("utf-8")
        sources = re.findall(r"^\[source\.(.*)\]$", text, re.MULTILINE)
        assert [one for one in sources if f'source = "{one}"' not in text] == [], name
        values = re.findall(r"^(\w+) = .*$", text.partition("[value]")[2].partition("[[")[0], re.M)
        assert [one for one in values if f'"${one}"' not in text] == [], name


def test_every_table_is_loaded():
    found = {file.name.removesuffix(".toml") for file in FOLDER.iterdir() if ".toml" in file.name}
    assert found == {*TABLES, "shared"}
