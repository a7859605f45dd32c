"""A page as HTML: well formed, whole, and nothing in it but text."""

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from contactfe.case.display import SI
from contactfe.report import reason, words
from contactfe.report.answer import CAUTION
from contactfe.report.blocks import GAP, Column, Heading, Line, Table, numbers
from contactfe.report.check_names import sentence_name
from contactfe.report.html import as_html


class _Page(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.text, self.rows = [], [], []

    def handle_starttag(self, tag, _attrs):
        if tag != "br":
            self.open.append(tag)
        if tag == "tr":
            self.rows.append([])
        elif tag in ("td", "th"):
            self.rows[-1].append("")

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text.append(data)
        if "tr" in self.open:
            self.rows[-1][-1] += data


def shown(page):
    """The page as it is read back."""
    found = _Page()
    found.feed(as_html(page))
    assert found.open == []
    return found


def card(comparison):
    found = _Page()
    found.feed(comparison._repr_html_())
    assert found.open == []
    return "\n".join(found.text), found.rows


def test_every_block_is_there_in_its_order():
    table = Table(
        (Column("name"), *numbers("a\n[mm]")),
        ((("one", "1"), ("two", Line("2", "bad"))), (("three", "3"),)),
        "Title of it", "A note",
    )  # fmt: skip
    page = shown([Heading("Top", 1), Line("a"), Line("b", "strong"), GAP, table, Line("c")])
    text = [part for part in page.text if part.strip()]
    assert text == [
        "Top", "a", "b", "Title of it", "name", "a", "[mm]", "one", "1", "two", "2", "three", "3",
        "A note", "c",
    ]  # fmt: skip
    assert page.rows == [["name", "a[mm]"], ["one", "1"], ["two", "2"], ["three", "3"]]


@pytest.mark.parametrize("kind", ["line", "cell"])
def test_what_fails_is_set_apart_from_what_passes(kind):
    def style(tone):
        line = Line("word", tone)
        page = as_html([line if kind == "line" else Table((Column(),), (((line,),),))])
        return re.search(r'style="([^"]*)">word<', page)[1]

    assert "font-weight" in style("bad")
    assert style("bad") not in {style("plain"), style("good")}


def test_cells_stand_as_their_own_column_does():
    table = Table((Column("name"), *numbers("a"), Column("b")), ((("one", "1", "x"),),))
    stands = re.findall(r"text-align:(\w+)", as_html([table]))
    assert stands == ["left", "right", "left"] * 2


@pytest.mark.parametrize("text", ["<script>alert(1)</script>", "a & b < c", '"quoted"'])
def test_text_cannot_bring_markup_in(text):
    table = Table((Column(text),), (((text,), (Line(text, "bad"),)),), text, text)
    blocks = [Heading(text), Line(text), table]
    assert "<script>" not in as_html(blocks)
    assert [part for part in shown(blocks).text if part.strip()] == [text] * 7


def test_the_card_of_a_comparison_is_its_answer_with_every_column(comparison):
    text, rows = card(comparison)
    for part in (comparison.case.title, *reason.best(comparison)):
        assert part in text
    for r in comparison.sections:
        for part in (
            words.pair(r.stress_concentration), words.peak(r.member, SI),
            SI.stress.number(r.member.material.yield_strength), words.pair(r.member.utilisation),
            words.size(r.section, SI), r.member.material.name,
        ):  # fmt: skip
            assert any(part in cell for row in rows for cell in row)
    for check in comparison.checks:
        if check.verdict == "fails":
            assert sentence_name(check) in text
    assert CAUTION in text


def test_an_accuracy_that_was_not_reached_is_in_it(oblique):
    assert "NOT REACHED" not in card(oblique)[0]
    (r,) = oblique.sections
    stopped = replace(oblique, sections=(replace(r, stopped="the mesh is as fine as may be"),))
    assert f"NOT REACHED: “{r.section.name}”" in card(stopped)[0]
