"""What each result of the public interface shows of itself at a prompt and in a notebook."""

import re
from html import unescape

import pytest
from oneofeach import RESULTS
from springs import bending

from contactfe.assess.checks import governing
from contactfe.report.blocks import Table
from contactfe.report.check_names import sentence_name
from contactfe.report.open_items import worded
from contactfe.report.output import SHOWN, answer_of
from contactfe.shown import Shown

MOST_LINES = 16


ANSWERS = {
    "Comparison": lambda of: of.section(of.least_concentration).stress_concentration.value,
    "EnvelopeResult": lambda of: of.utilisation_of(of.by_utilisation[0]).value,
    "SizingResult": lambda of: of.diameters[0].least_concentration.wall.stress_concentration.value,
    "ImpactResult": lambda of: of.blows[0].peak_contact_force.value / 1e3,
    "StiffnessResult": lambda of: (
        of.sections[0].tangent_stiffness.value * of.case.contact_length / 1e3
    ),
    "OverloadResult": lambda of: of.compared_at,
    "SweepResult": lambda _: 1,  # row of four that passes
    "ByHand": lambda of: governing(c for c in of.checks if c.section).ratio,
}
"""The figure of the answer, in SI, which stands in the first lines."""


def test_every_kind_of_result_shows_itself():
    assert {name.rpartition(".")[2] for name in SHOWN} == set(RESULTS)


@pytest.fixture(params=RESULTS)
def found(request, comparison):
    result = RESULTS[request.param](comparison)
    assert type(result).__name__ == request.param
    return result


def test_a_prompt_shows_a_few_lines_with_the_answer(found):
    first, *lines = repr(found).splitlines()
    assert first == found.case.title
    assert 2 <= len(lines) <= MOST_LINES
    answer = ANSWERS[type(found).__name__](found)
    shown = [float(text) for text in re.findall(r"\d+\.?\d*", " ".join(lines))]
    assert any(figure == pytest.approx(answer, rel=0.01) for figure in shown), lines


def test_the_check_that_governs_and_what_is_open_stand_there(comparison):
    worst = governing(comparison.checks)
    assert worst.verdict == "fails"
    text = " ".join(repr(comparison).split())
    assert f"“{worst.section}” FAILS: {sentence_name(worst)}" in text
    open_ = [worded(item)[0] for item in comparison.open_items if not item.accepted]
    assert all(label in text.partition("OPEN:")[2] for label in open_)


def test_the_units_are_those_of_the_case(us):
    assert " ksi" in repr(us)
    assert " MPa" not in repr(us)
    assert " kip/in " in repr(bending(report_units="US customary"))


def test_a_notebook_shows_its_page(found):
    html = found._repr_html_()
    text = unescape(re.sub(r"<[^>]+>", " ", html))
    shown = " ".join(text.split())
    assert " ".join(found.case.title.split()) in shown
    tables = [block for block in answer_of(found) if isinstance(block, Table)]
    assert html.count("<table") == len(tables)
    for table in tables:
        assert all(" ".join(column.head.split()) in shown for column in table.columns)


def test_what_is_no_result_has_no_page():
    with pytest.raises(TypeError, match="int is no result"):
        answer_of(1)
    with pytest.raises(TypeError, match="Shown is no result"):
        repr(Shown())
