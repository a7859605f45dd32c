"""The hand calculation written out, step by step."""

import re
from dataclasses import replace

import pytest
from alignments import case as along_case
from handcases import SOLID, TUBE
from handcases import everything as stop
from saying import only, said

from contactfe.assess.by_hand.case import by_hand
from contactfe.codes.clause import GOVERNS
from contactfe.hand.formula import Limit
from contactfe.report.blocks import Heading
from contactfe.report.inputs import inputs
from contactfe.report.page import WIDEST, as_text
from contactfe.report.steps import steps_page
from contactfe.report.words import cautions

SI_UNIT = re.compile(r"\d\s*(mm|cm|m|N|kN|MN|Pa|MPa|GPa|kg)(?![\w'])")


def printed(found, **how) -> str:
    return as_text(steps_page(found, **how), WIDEST)


def page(*sections, **keys) -> str:
    return printed(by_hand(stop(*sections, **keys)))


def blocks(*sections, **keys):
    return steps_page(by_hand(stop(*sections, **keys)))


def in_one_line(text: str) -> str:
    return " ".join(text.split())


def step_of(text: str, head: str) -> str:
    """The lines of the first step of that label, up to the next number."""
    found = re.search(rf"^\d+[a-z]?\. {re.escape(head)}\n(?:   .*\n)+", text, flags=re.MULTILINE)
    assert found, head
    return found[0]


@pytest.mark.parametrize("units", ["SI", "US customary"])
@pytest.mark.parametrize("section", [SOLID, TUBE], ids=["solid", "tube"])
def test_every_step_has_its_symbols_result_and_source(units, section):
    found = by_hand(
        stop(section, units=units, corner=300.0, friction=0.2, plate_held="simply supported")
    )
    text = in_one_line(printed(found))
    section = found.sections[0]
    worked = [step.worked for step in section.steps]
    for clauses in section.clauses:
        check = clauses.check
        worked += [*check.steps, check.demand, check.resistance]
        worked += [clauses.required] if clauses.required else []
    assert any(each.formula == "weld.required_throat" for each in worked)
    for each in worked:
        if each.form is not None:
            form = in_one_line(each.by_symbols())
            # A form that is its own symbol, such as D/t, is written once.
            left = each.symbol if form == each.symbol else f"{each.symbol} = {form}"
            assert f" {left} = " in text, each.formula
            assert f" {each.symbol} = {each.symbol} = " not in text
        elif each.given:
            assert f" {each.symbol} found from " in text, each.formula
        assert in_one_line(each.source) in text, each.formula
        assert each.formula.startswith("clause.") or in_one_line(each.note) in text, each.key
        for limit in each.limits:
            assert f"{limit.what} = " in text


def test_a_step_in_full():
    text = page(line_load=1500.0, friction=0.1)
    assert step_of(text, "half-width, Hertz").splitlines()[1:4] == [
        "   a = √(4·q·R/(π·E*))",
        "     = √(4·1500 N/mm·75 mm/(π·109890 MPa))",
        "     = 1.1417 mm",
    ]
    lines = [line.strip() for line in step_of(text, "tension behind it, full sliding, post")
        .splitlines()]  # fmt: skip
    # p0 = √(qE*/(πR)) = 836.4 MPa
    assert lines[1:4] == ["σx = 2·µ·p0", "= 2·0.1·836.41 MPa", "= 167.28 MPa"]


def test_a_step_in_full_in_american_units():
    text = page(line_load=1500.0, units="US customary")
    lines = [line.strip() for line in step_of(text, "half-width, Hertz").splitlines()]
    # 1500 N/mm is 8.5652 kip/in, 75 mm 2.9528 in, 109890 MPa 15938 ksi, 1.1417 mm 0.044949 in.
    assert lines[2] == "= √(4·8.5652 kip/in·2.9528 in/(π·15938 ksi))"
    assert lines[3] == "= 0.044949 in"


def test_a_form_with_constants_of_its_own_is_written_in_its_own_units():
    name = "nominal bearing strength of a roller up to {}, per length"
    for units, limit, numbers, result in (
        ("SI", "630 mm", "1.2·(345 MPa − 90)·150 mm/20", "2295 N/mm"),
        # 345 MPa is 50.038 ksi: 1.2 (50.038 − 13) 5.9055/20 = 13.124.
        ("US customary", "25 in", "1.2·(50.038 ksi − 13)·5.9055 in/20", "13.124 kip/in"),
    ):
        lines = [s.strip() for s in step_of(page(units=units), name.format(limit)).splitlines()]
        assert lines[2:4] == [f"= {numbers}", f"= {result}"]


def test_over_the_yield_strength_where_a_stress_is_measured_by_it():
    label = "peak von Mises stress, Hertz, post"
    # 0.5575 of 836.4 MPa over 345 MPa: 1.35; of 431.9 MPa at 400 N/mm: 0.698.
    for keys, share in (
        ({"line_load": 1500.0}, "1.35 of yield, 345 MPa, ABOVE"),
        ({"line_load": 1500.0, "margin": 1.5}, "2.03 of yield / 1.5, 230 MPa, ABOVE"),
        ({}, "0.698 of yield, 345 MPa"),
        ({"units": "US customary"}, "0.698 of yield, 50.0 ksi"),
    ):
        text = page(**keys)
        lines = [line.strip() for line in step_of(text, label).splitlines()]
        assert f"that is {share}" in lines
        assert "yield" not in step_of(text, "peak pressure, Hertz")


def test_numbering_is_continuous_in_each_section():
    text = page(SOLID, TUBE, corner=300.0, friction=0.2)
    parts = re.split(r"^=+\s*$", text, flags=re.MULTILINE)[1:]
    assert len(parts) == 2
    for part in parts:
        found = re.findall(r"^(\d+)([a-z]?)\. ", part, flags=re.MULTILINE)
        numbers = list(dict.fromkeys(int(number) for number, _ in found))
        assert numbers == list(range(1, len(numbers) + 1))
        assert len(numbers) > 50
        of_clauses = [number for number, letter in found if letter]
        for number in dict.fromkeys(of_clauses):
            letters = [letter for n, letter in found if n == number]
            assert "".join(letters) == "abcdefghijklmnopqrstuvwxyz"[: len(letters)]
        assert len([1 for _, letter in found if not letter]) + len(set(of_clauses)) == len(numbers)


def test_steps_in_the_order_they_are_worked_out():
    found = by_hand(stop(TUBE))
    heads = re.findall(r"^\d+\. (.*?)\s*$", printed(found), flags=re.MULTILINE)
    assert heads == [step.label for step in found.sections[0].steps]


def test_heads_of_sections_and_topics():
    text = page(SOLID, TUBE, corner=300.0)
    assert re.search(r"^solid 150, 150 mm solid\s*\n=+\s*$", text, flags=re.MULTILINE)
    assert re.search(r"^150 x 25, 150 × 25 mm\s*\n=+\s*$", text, flags=re.MULTILINE)
    for topic in (
        "Contact", "Contact with the second plate", "Section as a ring or disc", "Plate",
        "Second plate", "Post along its axis",
    ):  # fmt: skip
        assert len(re.findall(rf"^{topic}\s*$", text, flags=re.MULTILINE)) == 2


# Ranges and verdicts


def test_numbers_outside_a_range_are_marked():
    text = page(plate=(400.0, 11.0), line_load=1500.0)
    step = in_one_line(step_of(text, "half-width, Hertz"))
    # 1.1417/11 = 0.104; 1.1417/75 = 0.0152.
    assert "a/t, the plate's thickness = 0.104, at most 0.1 (OUTSIDE);" in step
    assert "a/R = 0.0152, at most 0.1;" in step
    deep = {"plate": (600.0, 110.0), "line_load": 400.0, "families": ("AISC", "AASHTO")}
    kept = page((220.0, None), **deep)
    assert "(OUTSIDE)" not in kept


@pytest.mark.parametrize(
    ("value", "shown"),
    [(0.4, "0.4"), (12.0, "12"), (100.4, "100"), (310.3, "310"), (999.7, "1000"), (2000.0, "2000")],
)
def test_ratios_of_a_range_are_shown_to_three_digits_and_none_is_lost(value, shown):
    found = by_hand(stop())
    section = found.sections[0]
    step = section.steps[1]
    limit = Limit("d/a", value, 5.0, "at least")
    with_it = replace(step, worked=replace(step.worked, limits=(limit,)))
    text = printed(replace(found, sections=(replace(section, steps=(with_it,), clauses=()),)))
    assert re.search(rf"d/a = {shown}, at least 5\b", text), text


def test_verdict_reserve_and_level_of_each_clause():
    found = blocks(line_load=1000.0)
    # 1000 N/mm over 8·150·345²/200e3 = 714.15 N/mm.
    assert only(found, "= 1.400: not satisfied", "0.714 times")
    # 1000 N/mm over 0.75·1.2·(345 − 90)·150/20 = 1721.25 N/mm.
    assert only(found, "= 0.5810: satisfied", "1.72 times")
    # Hertz pressure grows as the root: (2.5·345/(0.591 √(200e3·1000/150)))².
    assert only(found, "= 0.7912: satisfied", "1.60 times")
    assert said(found, "for service; from memory, not seen; here by analogy")
    assert said(found, "for strength; seen", "here by analogy")
    beyond = by_hand(stop(yield_strength=500.0))
    without = sum(c.check.satisfied is None for c in beyond.sections[0].clauses)
    assert len(said(steps_page(beyond), "demand / resistance", "no verdict")) == without > 0
    assert said(steps_page(beyond), "fy = 500 MPa, at most 460 MPa (OUTSIDE)")


def test_each_clause_says_what_it_is_intended_for():
    found = by_hand(stop(corner=300.0))
    shown = steps_page(found)
    heads = [block.text for block in shown if isinstance(block, Heading)]
    for clauses in found.sections[0].clauses:
        clause = clauses.check.clause
        assert f"{clause.name}: {clause.title}, {clauses.part}" in heads
        assert said(shown, clause.text, f"here {clause.reach}")
        assert said(shown, clause.written_for)
        assert said(shown, clause.carries)
    for text in (GOVERNS, *cautions(found.case, evenly=True)):
        assert only(shown, text)


def test_a_demand_or_a_bound_as_it_comes_is_one_line():
    # 400 N/mm over 200 mm at 900 mm: 72 kN·m.
    assert re.search(r"^\d+[a-z]\. moment: M = 72 kN·m, ", page(), re.MULTILINE)
    (bound,) = said(blocks(plate_held="simply supported"), "bound of an interaction")
    assert re.match(r"\d+[a-z]\. .*: 1, ", bound)


def test_the_page_begins_with_what_was_given():
    case = stop(SOLID, TUBE, corner=300.0, margin=1.1)
    text = in_one_line(printed(by_hand(case)))
    given = text.partition(" Given ")[2].partition(" solid 150, 150 mm solid ")[0]
    assert given == in_one_line(" ".join(inputs(case)))


def test_a_ratio_that_is_its_own_name_is_written_once():
    lines = [line.strip() for line in step_of(page(TUBE), "diameter over wall").splitlines()]
    assert lines[1:3] == ["D/t = 150 mm/25 mm", "= 6"]


def test_what_is_left_out_is_said_in_each_section():
    sections = SOLID, (150.0, 25.0, {"held_by": "rigid core"})
    assert not said(blocks(), "left out")
    assert len(said(blocks(*sections, cantilever=False), "left out", "along its axis")) == 2
    assert only(blocks(*sections), "left out", "ring")


# Layout and units


def test_no_si_unit_on_an_american_page_but_in_sources():
    for section in (SOLID, TUBE, (700.0, None)):
        text = page(section, units="US customary", corner=300.0, friction=0.2)
        sources = r"^   (source|intended for|how far it applies here): .*\n(?:   [^\s=].*\n)*?"
        rest = re.sub(sources, "", text, flags=re.MULTILINE)
        assert [found for found in SI_UNIT.findall(rest) if found] == []
    assert SI_UNIT.search(page())  # the pattern does find them


def test_no_line_is_wider_than_a_page_and_no_markup_is_lost():
    name = "[b]tube[/b] [x] " + "y" * 150
    case = stop((150.0, 25.0, {"name": name}), corner=300.0, friction=0.2)
    text = printed(by_hand(replace(case, title="Stop [red]A[/red]")))
    assert max(map(len, text.splitlines())) <= 140
    assert text.startswith("Stop [red]A[/red]")
    assert "[b]tube[/b] [x]" in text


def test_steps_of_a_solved_contact_go_by_alignment_and_others_do_not():
    found = by_hand(along_case())
    for evenly in (True, False):
        shown = steps_page(found, solved=not evenly)
        for text in cautions(found.case, evenly=evenly):
            assert only(shown, text)
        assert bool(said(shown, "on average", "as even")) is evenly
        assert bool(said(shown, "on average", "own peak")) is not evenly
