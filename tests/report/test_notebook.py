import re
from dataclasses import replace
from html.parser import HTMLParser

from contactfe.case.display import SI
from contactfe.report import words
from contactfe.report.notebook import html


class _Page(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.text, self.rows = [], [], 0

    def handle_starttag(self, tag, _attrs):
        if tag != "br":
            self.open.append(tag)
        self.rows += tag == "tr"

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text.append(data)


def test_the_page_is_well_formed_and_complete(comparison):
    page = _Page()
    page.feed(html(comparison))
    text = "\n".join(page.text)
    assert page.open == []
    assert page.rows == 1 + 2 * len(comparison.sections)
    assert comparison.case.title in text
    assert comparison.reason in text
    for r in comparison.sections:
        assert words.pair(r.stress_concentration) in text
        assert words.peak(r.member, SI) in text
        assert SI.stress.number(r.member.material.yield_strength) in text
    for check in comparison.checks:
        if check.verdict == "fails":
            assert check.label in text
    for caution in words.cautions(comparison.case):
        assert caution in text


def test_names_cannot_bring_markup_in(comparison):
    case = replace(comparison.case, title="<script>alert(1)</script>")
    assert "<script>" not in html(replace(comparison, case=case))


def _text(comparison):
    page = _Page()
    page.feed(html(comparison))
    assert page.open == []
    return "\n".join(page.text), page.rows


def test_a_corner_has_a_row_more_and_a_note_for_each_contact(corner):
    text, rows = _text(corner)
    (r,) = corner.sections
    assert rows == 1 + 3
    assert words.pair(r.patches[1].half_width, SI.length) in text
    for plate, patch in zip(("plate", "second plate"), r.patches, strict=True):
        assert f"“filled”, {plate}: {words.contact_found(patch, SI)}." in text
    # The half-width is 0.89 mm, and the middle of the patch within a hundredth of the first point.
    friction = "full sliding, T = 240.0 N/mm, T/q = 0.200"
    assert re.search(rf"{friction}, slip -0\.(88|89|90)\d to 0\.(88|89|90)\d mm", text)
    assert f"“filled”, infill: {words.infill_found(r.values, SI)}." in text


def test_accuracy_and_slip_are_stated_where_there_are_any(comparison, oblique):
    text, rows = _text(oblique)
    assert rows == 1 + 2
    assert "“core”: accuracy of 5 % reached" in text
    assert "partial slip" in text
    assert "stick" in text
    plain, _ = _text(comparison)
    for word in ("accuracy", "contact about", "infill", "sliding"):
        assert word not in plain


def test_utilisation_and_shakedown_stand_in_the_table(comparison):
    text, _ = _text(comparison)
    for r in comparison.sections:
        assert words.pair(r.member.utilisation) in text
        assert SI.line_load.number(r.member.shakedown_line_load) in text
