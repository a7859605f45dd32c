"""A page laid out as text: spacing, widths, and nothing cut."""

import io
import re
from collections import Counter
from dataclasses import replace
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.console import Console

from contactfe.report.blocks import (
    GAP,
    Column,
    Heading,
    Line,
    Table,
    Tone,
    framed,
    numbers,
    texts,
)
from contactfe.report.page import WIDTH, as_text, print_page, terminal_width

LONG = "a remark that goes on and on, with numbers such as 0.251, at most 0.05; " * 3


def test_lines_follow_one_another_and_headings_stand_apart():
    page = [
        Heading("Title", 1), Line("one"), Line("two"), Heading("Chapter", 2), Line("three"), GAP,
        GAP, Line("four", indent=3), Heading("Less"), Line("five"),
    ]  # fmt: skip
    assert as_text(page).splitlines() == [
        "Title", "one", "two", "", "Chapter", "=======", "three", "", "   four", "", "Less", "five",
    ]  # fmt: skip


def test_a_table_stands_apart_but_from_its_heading():
    table = Table((Column("a"),), ((("1",),),))
    assert as_text([Line("text"), table]).splitlines()[:3] == ["text", "", "a"]
    assert as_text([Heading("Of"), table]).splitlines()[:2] == ["Of", "a"]


def test_gaps_at_the_ends_are_none():
    assert as_text([GAP, Line("one"), GAP]) == "one\n"
    assert as_text([]) == ""
    assert as_text(framed("A\n title", ["a", "b"])) == "A title\n\nCaution: a\nCaution: b\n"
    assert as_text(framed("A", ["a"], Line("one"))) == "A\none\n\nCaution: a\n"


def test_a_table_has_its_groups_apart_and_its_note_below():
    columns = (*texts("name"), *numbers("a\n[mm]"))
    table = Table(
        columns, ((("one", "1.0"), ("", Line("22.0", "bad"))), (("two", "3"),)), "Of", "Noted."
    )
    lines = as_text([Line("before"), table, Line("after")]).splitlines()
    assert lines[:3] == ["before", "", "Of"]
    assert [line.split() for line in lines[3:]] == [
        ["a"], ["name", "[mm]"], ["─" * 11], ["one", "1.0"], ["22.0"], [], ["two", "3"],
        ["Noted."], [], ["after"],
    ]  # fmt: skip
    assert len({len(line) for line in lines[6:8]}) == 1  # numbers end in one column


@given(
    cells=st.lists(
        st.sampled_from(["x", "12.5 ± 0.3", LONG, "word " * 12]), min_size=1, max_size=6
    ),
    least=st.sampled_from([None, 5, 40]),
)
def test_no_word_is_cut_whatever_a_table_holds(cells, least):
    columns = (Column("head", least=least), *texts(*["more"] * (len(cells) - 1)))
    text = as_text([Table(columns, ((tuple(cells),),))])
    assert "…" not in text
    assert max(map(len, text.splitlines())) <= WIDTH
    found = sorted(text.replace("─", "").split())
    assert found == sorted(" ".join([*cells, "head", *["more"] * (len(cells) - 1)]).split())


def test_a_column_is_as_wide_as_its_least_where_it_holds_less():
    rows = ((("ab", "1"), ("abc", "2")),)
    (line, *_) = as_text([Table((Column(least=20), *numbers("b")), rows)]).splitlines()
    assert line.index("b") == 23
    rows = ((("a" * 30, "1"),),)
    (line, *_) = as_text([Table((Column(least=20), *numbers("b")), rows)]).splitlines()
    assert line.index("b") == 33


def test_a_word_wider_than_its_column_is_whole_where_that_folds():
    table = Table((Column(most=6, folds=True), *numbers("b")), ((("one 0123456789", "x"),),))
    parts = [line[:6].strip() for line in as_text([table]).splitlines()[2:]]
    assert parts == ["one", "012345", "6789"]


@pytest.mark.parametrize("width", [30, 80, 200])
def test_the_width_of_the_console_changes_nothing(width):
    page = [Line(LONG), Table(texts("a", "b"), (((LONG, "x"),),))]
    console = Console(file=io.StringIO(), width=width, color_system=None)
    print_page(page, console, WIDTH)
    assert console.width == width
    assert [line.rstrip() for line in console.file.getvalue().splitlines()] == as_text(
        page
    ).splitlines()


SHORT = st.text("abc12", min_size=1, max_size=12)
CELLS = st.one_of(SHORT, st.lists(SHORT, min_size=2, max_size=9).map(" ".join))


@st.composite
def tables(draw):
    """Tables of a name, of texts and of numbers, some of which may be left out."""
    count = draw(st.integers(1, 14))
    columns = [Column(draw(SHORT), key=True)]
    for number in range(count):
        columns.append(
            Column(
                draw(SHORT), numbers=draw(st.booleans()), drop=draw(st.sampled_from([0, number]))
            )
        )
    rows = draw(st.integers(1, 4))
    cells = [
        tuple(draw(SHORT if column.numbers or column.key else CELLS) for column in columns)
        for _ in range(rows)
    ]
    return Table(tuple(columns), (tuple(cells),))


@settings(max_examples=60, deadline=None)
@given(table=tables(), width=st.integers(80, 140))
def test_a_table_fits_whatever_it_holds_and_only_what_may_be_is_left_out(table, width):
    text = as_text([table], width)
    assert max(map(len, text.splitlines())) <= width
    words = Counter(text.replace("─", " ").split())
    kept = [column for column in table.columns if not column.drop]
    for at, column in enumerate(table.columns):
        if column in kept:
            for row in table.groups[0]:
                for word in row[at].split():
                    assert words[word] > 0
    if all(column.drop == 0 for column in table.columns[1:]):
        for row in table.groups[0]:
            assert words[row[0]] >= 1


def test_a_table_too_wide_goes_on_below_with_its_keys():
    heads = [f"head{number}" for number in range(20)]
    table = Table((Column("name"), *numbers(*heads)), ((("one", *heads), ("two", *heads)),))
    text = as_text([table], 80)
    parts = text.count("name")
    assert parts > 1
    assert (text.count("one"), text.count("two")) == (parts, parts)
    assert all(text.count(head) == 3 for head in map("{} ".format, heads[:3]))
    spare = replace(table, columns=tuple(replace(c, drop=k) for k, c in enumerate(table.columns)))
    short = as_text([spare], 80)
    assert short.count("name") == 1
    assert "head0" in short
    assert "head19" not in short  # the last is left out first


@pytest.mark.parametrize(("columns", "width"), [("60", 80), ("100", 100), ("400", 140), ("", 80)])
def test_the_terminal_sets_the_width_within_bounds(columns, width, monkeypatch):
    monkeypatch.setattr("shutil.os.get_terminal_size", no_terminal)
    monkeypatch.setenv("COLUMNS", columns)
    assert terminal_width() == width


def no_terminal(*_):
    raise OSError


def test_tones_colour_where_there_is_colour_and_change_no_word():
    page = [Line("below", "good"), Line("ABOVE", "bad")]
    text = io.StringIO()
    print_page(page, Console(file=text, force_terminal=True, color_system="standard"))
    assert "\x1b[" in text.getvalue()
    assert as_text(page) == "below\nABOVE\n"


def test_units_of_heads_stand_in_one_line():
    table = Table(numbers("a\n[mm]", "long\nhead\n[MPa]", "plain"), ((("1", "2", "3"),),))
    first, second, third, *_ = as_text([table]).splitlines()
    assert first.split() == ["a", "long"]
    assert second.split() == ["head"]
    assert third.split() == ["[mm]", "[MPa]", "plain"]


def coloured(block):
    """What stands about the word in a console with colour."""
    text = io.StringIO()
    print_page([block], Console(file=text, force_terminal=True, color_system="standard"))
    return re.search(r"((?:\x1b\[[\d;]+m)*)word", text.getvalue())[1]


@pytest.mark.parametrize("kind", ["line", "cell"])
def test_what_fails_looks_like_nothing_else(kind):
    def of(tone):
        line = Line("word", tone)
        return coloured(line if kind == "line" else Table((Column(),), (((line,),),)))

    assert of("plain") == ""
    assert "31" in re.findall(r"\d+", of("bad"))  # red
    assert len({of(tone) for tone in get_args(Tone)}) == len(get_args(Tone))
