"""The answer of a command: on one screen, what fails and what is open first, nothing broken."""

import re
from dataclasses import replace

import bodies
import pytest
from saying import only

from contactfe.assess.checks import governing, verdict_of
from contactfe.report.answer import LINES, ROOMS, Room, answer_page, judged, spared
from contactfe.report.blocks import Column, Heading, Line, Table, numbers
from contactfe.report.by_hand import hand_answer
from contactfe.report.check_names import sentence_name
from contactfe.report.open_items import worded
from contactfe.report.page import NARROWEST, as_text
from contactfe.report.table import comparison_answer
from contactfe.report.verdicts import verdict_lines

WIDTHS = (80, 100, 140)


def many(comparison, count: int):
    """The comparison with its sections named anew, over and over, until there are so many."""
    sections, checks, ranked = [], [], []
    for number in range(count):
        result = comparison.sections[number % len(comparison.sections)]
        old, name = result.section.name, f"candidate {number + 1} of a long name"
        own = tuple(replace(c, section=name) for c in comparison.checks if c.section == old)
        section = replace(result.section, name=name)
        sections.append(replace(result, section=section, checks=own))
        checks += own
        ranked.append(name)
    ranked.sort(
        key=lambda name: next(
            r.stress_concentration.value for r in sections if r.section.name == name
        )
    )
    stop = tuple(check for check in comparison.checks if not check.section)
    return replace(
        comparison, sections=tuple(sections), by_concentration=tuple(ranked),
        by_utilisation=tuple(ranked), by_mass=tuple(ranked), checks=(*checks, *stop),
    )  # fmt: skip


@pytest.mark.parametrize("of", ["comparison", "corner", "oblique"])
@pytest.mark.parametrize("width", WIDTHS)
def test_it_fits_a_screen_and_no_line_is_too_long(of, width, request):
    text = as_text(comparison_answer(request.getfixturevalue(of)), width)
    assert text.count("\n") < LINES  # one is left for what was written
    assert max(map(len, text.splitlines())) <= width
    assert "…" not in text


@pytest.mark.parametrize("count", [1, 12, 40])
@pytest.mark.parametrize("width", WIDTHS)
def test_so_does_that_of_one_section_and_of_many(comparison, count, width):
    text = as_text(comparison_answer(many(comparison, count)), width)
    assert text.count("\n") < LINES  # one is left for what was written
    assert max(map(len, text.splitlines())) <= width


@pytest.mark.parametrize("width", WIDTHS)
def test_no_word_is_broken(oblique, width):
    page = comparison_answer(oblique)
    whole = set(re.findall(r"\S+", as_text(page, 10_000)))
    assert set(re.findall(r"\S+", as_text(page, width))) - {"─" * n for n in range(200)} <= whole


def test_what_does_not_pass_and_what_is_open_stand_above_the_table(comparison):
    page = comparison_answer(comparison)
    at = next(number for number, block in enumerate(page) if isinstance(block, Table))
    above = "\n".join(block.text for block in page[:at] if isinstance(block, (Line, Heading)))
    for name in comparison.by_concentration:
        own = [check for check in comparison.checks if check.section == name]
        assert f"“{name}”" in above
        if verdict_of(own) != "passes":
            assert sentence_name(governing(own)) in above
    assert comparison.open_items
    for item in comparison.open_items:
        assert worded(item)[0] in above


def test_columns_are_left_out_in_their_order_and_never_the_verdict(comparison):
    heads = {}
    for width in (80, 100, 120, 140):
        text = as_text(comparison_answer(comparison), width)
        (row,) = [line for line in text.splitlines() if line.strip().endswith("verdict")]
        heads[width] = row.split()
    assert len(heads[80]) < len(heads[140])
    for fewer, more in zip(list(heads.values()), list(heads.values())[1:], strict=False):
        assert set(fewer) <= set(more)
    assert {"section", "verdict"} <= set(heads[80])


def test_sections_that_do_not_pass_are_gathered_worst_first(comparison):
    twelve = many(comparison, 12)
    failing = [
        name for name in twelve.by_concentration
        if verdict_of(c for c in twelve.checks if c.section == name) == "fails"
    ]  # fmt: skip
    assert len(failing) > 2
    lines = [
        line.text
        for line in verdict_lines(twelve.case, twelve.by_concentration, twelve.checks, (), 2)
        if line.tone == "bad"
    ]
    named = [line for line in lines if line.startswith("“")]
    assert len(named) <= 2 * 2  # of what fails, and of what has no verdict
    worst = max(
        (governing(c for c in twelve.checks if c.section == name) for name in failing),
        key=lambda check: check.most,
    )
    assert worst.section in named[0]
    assert f"{len(failing) - 2} more FAIL" in "\n".join(lines)


def test_the_best_that_passes_is_named_where_the_best_does_not(comparison):
    best = comparison.least_concentration
    checks = tuple(
        replace(check, demand=3.0 * (check.resistance or 1.0)) if check.section == best else check
        for check in comparison.checks
    )

    def own(result):
        return tuple(check for check in checks if check.section == result.section.name)

    sections = tuple(replace(result, checks=own(result)) for result in comparison.sections)
    failing = replace(comparison, sections=sections, checks=checks)
    passing = [r.section.name for r in failing.sections if verdict_of(r.checks) == "passes"]
    answer = as_text(comparison_answer(failing))
    first = min(passing, key=failing.by_concentration.index, default=None)
    said = "No section passes its checks." if first is None else f"of those that do, “{first}”"
    assert said in " ".join(answer.split())
    if comparison.section(best).satisfied:
        assert said not in " ".join(as_text(comparison_answer(comparison)).split())


def test_by_hand_names_the_check_that_governs_each_section(comparison):
    from contactfe import by_hand

    found = by_hand(comparison.case)
    text = as_text(hand_answer(found), NARROWEST)
    assert text.count("\n") <= LINES
    page = hand_answer(found)
    (table,) = [block for block in page if isinstance(block, Table)]
    for section, row in zip(found.sections, table.groups[0], strict=True):
        own = [check for check in found.checks if check.section == section.section.name]
        assert tuple(row[-3:]) == judged(own)


def greatest(*sections, line_load):
    """What is told of the greatest ratio by hand, and the checks."""
    from contactfe import by_hand

    found = by_hand(bodies.case(sections, line_load=line_load))
    return only(hand_answer(found), "greatest ratio"), [
        check for check in found.checks if check.section and check.applies
    ]


def test_by_hand_the_greatest_ratio_is_a_tie_where_it_goes_by_the_diameter_alone():
    tie, _ = greatest((150.0, None), (150.0, 25.0), line_load=1600.0)
    assert "a tie of all 2 sections" in tie
    parted, _ = greatest((140.0, None), (150.0, 25.0), line_load=1600.0)
    assert "tie" not in parted
    some, _ = greatest((140.0, None), (140.0, 25.0), (150.0, None), line_load=1600.0)
    assert "(a tie)" in some


def test_by_hand_the_greatest_ratio_is_that_of_all_whatever_its_verdict():
    """As of a solid that passes, beside a tube at less whose formula does not hold."""
    line, checks = greatest((140.0, None), (150.0, 25.0), line_load=600.0)
    worst = max(checks, key=lambda check: check.most)
    assert worst.passes
    assert any(check.verdict == "no verdict" for check in checks)
    assert f"“{worst.section}”" in line


def test_the_most_that_fits_is_told():
    told = []

    def blocks(room: Room):
        told.append(room)
        return [Line("a line")] * (10 * room.rows)

    page = answer_page("Title", "what", blocks)
    assert told == [room for room in ROOMS if 10 * room.rows > LINES][: len(told) - 1] + told[-1:]
    assert page[-1].tone == "quiet"
    assert len(answer_page("Title", "what", lambda _: [Line("one")])) == 5


def test_the_line_of_what_was_written_has_its_place():
    for count in range(LINES):
        page = answer_page(
            "Title", "what", lambda room, n=count: [Line("one")] * (n if room is ROOMS[0] else 1)
        )
        assert as_text(page, NARROWEST).count("\n") < LINES


def test_a_table_is_cut_to_its_first_rows_and_spares_its_last_columns():
    table = Table((Column("a"), *numbers("b", "c", "d")), ((("1", "2", "3", "4"),) * 9,), note="n")
    short = spared(table, 2, 4, "m")
    assert [column.drop for column in short.columns] == [0, 0, 2, 3]
    assert (len(short.groups[0]), short.note) == (4, "m")
