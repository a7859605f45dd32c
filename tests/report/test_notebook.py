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
        assert words.verdict(r.plate, comparison.case) in text
    for caution in words.CAUTIONS:
        assert caution in text


def test_names_cannot_bring_markup_in(comparison):
    case = replace(comparison.case, title="<script>alert(1)</script>")
    assert "<script>" not in html(replace(comparison, case=case))
