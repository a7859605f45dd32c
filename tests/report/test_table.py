import io
import os
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from bodies import case, no_first_yield
from rich.console import Console
from saying import figures, only, said

from contactfe.assess.compare import compare
from contactfe.assess.places import CONTACT, EDGE, SECOND_CONTACT, SECOND_EDGE
from contactfe.assess.results import Comparison
from contactfe.assess.value import Value
from contactfe.case.display import SI, significant
from contactfe.case.holds import POST_SUPPORTS
from contactfe.codes.clause import GOVERNS
from contactfe.report import words
from contactfe.report.blocks import Cell, Line, Table
from contactfe.report.page import WIDEST, WIDTH, as_text, print_page, write_page
from contactfe.report.remarks import remark
from contactfe.report.table import comparison_page


def _printed(comparison: Comparison, width: int = WIDEST) -> str:
    text = io.StringIO()
    print_page(comparison_page(comparison), Console(file=text), width)
    return text.getvalue()


def _joined(text: str) -> str:
    return " ".join(text.split())


def test_nothing_is_cut(comparison):
    for width in (80, WIDEST):
        text = _printed(comparison, width)
        assert "…" not in text
        assert max(len(line.rstrip()) for line in text.splitlines()) <= width


def _under_heads(table: Table) -> list[list[dict[str, Cell]]]:
    """The rows of each group, each cell by the head of its column without the unit."""
    heads = [
        " ".join(column.head.partition("[")[0].replace("-\n", "").split())
        for column in table.columns
    ]
    return [[dict(zip(heads, row, strict=True)) for row in group] for group in table.groups]


def test_every_figure_stands_under_its_head(comparison):
    tables = [block for block in comparison_page(comparison) if isinstance(block, Table)]
    groups = _under_heads(next(t for t in tables if any("half-" in c.head for c in t.columns)))
    results = [comparison.section(name) for name in comparison.by_concentration]
    bodies = [body for r in results for _, body in r.bodies]
    assert {body.satisfied for body in bodies} == {True, False}
    for k, (r, rows) in enumerate(zip(results, groups, strict=True), start=1):
        of_contact = zip(
            words.with_uncertainty(r.half_width, SI.length),
            words.with_uncertainty(r.peak_contact_pressure, SI.stress),
            words.with_uncertainty(r.stress_concentration),
            strict=True,
        )
        for row, contact in zip(rows, of_contact, strict=True):
            assert (row["halfwidth"], row["peak pressure"], row["K"]) == contact
        (place, name, *_), (_, size, *_) = (row.values() for row in rows)
        assert (place, name, size) == (str(k), r.section.name, words.size(r.section, SI))
        assert rows[0]["mass"] == significant(r.mass_per_length)
        shakedown = (f"{what} {SI.line_load.text(of.shakedown_line_load)}" for what, of in r.bodies)
        assert only(comparison_page(comparison), "every section", *shakedown)
        for row, (what, body) in zip(rows, r.bodies, strict=True):
            assert row["body"] == what
            assert row["peak von Mises"] == words.peak(body, SI)
            assert row["where"] == body.peak_von_mises.at.zone
            assert row["yield strength"] == SI.stress.number(body.material.yield_strength)
            assert row["utilisation"] == words.pair(body.utilisation)
            assert row["line load at first yield"] == words.first_yield(body, SI)
            (verdict,) = (cell for cell in row.values() if isinstance(cell, Line))
            assert verdict == Line(words.beside_limit(body), "good" if body.satisfied else "bad")
    for r in results:
        (table,) = (t for t in tables if t.title.startswith(f"{r.section.name}: hand formulas"))
        (rows,) = _under_heads(table)
        for check, row in zip(r.hand_checks, rows, strict=True):
            unit = SI.unit(check.dimension)
            assert row["hand"] == significant(unit.of(check.hand))
            assert row["computed"] == words.pair(
                Value(check.computed, check.computed_uncertainty), unit
            )
            assert row["difference"] == f"{100 * (check.hand / check.computed - 1):+.1f} %"


def test_the_answer_the_rankings_and_the_cautions_are_there(comparison):
    text = _joined(_printed(comparison))
    assert _joined(comparison.reason) in text
    assert f"By mass, least first: {', '.join(comparison.by_mass)}" in text
    for caution in words.cautions(comparison.case):
        assert caution in text


def test_the_clauses_and_where_every_step_is_written_are_there(comparison):
    page = comparison_page(comparison)
    (clauses,) = (t for t in page if isinstance(t, Table) and t.title.startswith("Clauses"))
    heads = " ".join(str(row[0]) for group in clauses.groups for row in group)
    for section in comparison.sections:
        for of in section.by_hand.clauses:
            assert of.check.clause.name in heads
    assert only(page, GOVERNS)
    assert only(page, words.STEPS)


def remarks_on(comparison, result, beginning=""):
    """The remarks on the hand formulas of a section whose keys begin so."""
    checks = (check for check in result.hand_checks if check.key.startswith(beginning))
    return [remark(comparison.case, result, check) for check in checks]


def test_as_above_stands_for_a_reason_and_not_for_none(comparison):
    text = _printed(comparison)
    pairs = [p for r in comparison.sections for p in pairwise(["", *remarks_on(comparison, r)])]
    again = [one for before, one in pairs if one == before]
    assert any(again)
    assert "" in again  # no reason after no reason is shown as none
    assert text.count("as above") == sum(one != "" for one in again)


def test_remarks_say_whether_all_friction_is_at_work(corner, oblique):
    for comparison, partly in ((corner, False), (oblique, True)):
        (result,) = comparison.sections
        assert {patch.motion != "full sliding" for patch in result.patches} == {partly}
        remarks = remarks_on(comparison, result, "sliding")
        assert bool(said(remarks, "not all friction")) == partly


def test_the_plate_is_worked_out_by_hand_where_the_contact_was_found(oblique):
    (result,) = oblique.sections
    (patch,) = result.patches
    at, half = -20.0 + patch.centre.value, 150.0
    assert abs(patch.centre.value) > 0.01  # else this test is of nothing
    moment = result.by_hand.value("strip_moment")
    assert moment == pytest.approx(1200.0 * (half - at) * (half + at) / 300.0, rel=1e-12)


def test_hand_figures_of_a_corner_stand_beside_those_of_their_own_contact(corner):
    (result,) = corner.sections
    hand = {check.key: check for check in result.hand_checks}
    # First yield is stated with the load of the first plate.
    assert "sliding_first_yield_line_load" in hand
    assert not [key for key in hand if "first_yield" in key and key.endswith("_second")]
    first, second = (hand[f"sliding_peak_von_mises{end}"].computed for end in ("", "_second"))
    there = {place.at.zone: place.value for place in result.member.places}
    assert first in [there.get(zone) for zone in (CONTACT, EDGE)]
    assert second in [there.get(zone) for zone in (SECOND_CONTACT, SECOND_EDGE)]
    assert first != second


def test_the_distance_of_the_edge_is_that_from_where_the_plate_was_struck(oblique):
    (result,) = oblique.sections
    # 150 mm less an offset of 20 mm, over 50 mm; the contact is 0.03 mm off.
    near = said(remarks_on(oblique, result, "strip"), "edge")
    assert near
    assert all(2.6 in figures(remark) for remark in near)


def test_a_stress_beside_its_limit(comparison):
    body = comparison.sections[0].plate

    def of(use: float) -> str:
        values = {**body.values, "plate_utilisation": Value(use, 0.005)}
        return words.beside_limit(replace(body, values=values))

    assert len({of(0.99), of(1.01), of(0.999)}) == 3  # the last within its uncertainty


def test_a_load_beyond_the_model_is_said_and_explained(comparison):
    first = comparison.sections[0]
    values = {key: v for key, v in first.values.items() if key != "post_first_yield"}
    member = replace(first.member, values=values)
    other = replace(comparison, sections=(replace(first, member=member), comparison.sections[1]))
    assert _printed(other).count(words.BEYOND) == 2
    assert words.BEYOND not in _printed(comparison)


def test_the_file_is_the_same_text_without_trailing_blanks(comparison, tmp_path, monkeypatch):
    monkeypatch.setitem(os.environ, "FORCE_COLOR", "1")
    write_page(comparison_page(comparison), tmp_path / "table.txt")
    written = (tmp_path / "table.txt").read_text(encoding="utf-8")
    monkeypatch.delitem(os.environ, "FORCE_COLOR")
    expected = "\n".join(line.rstrip() for line in _printed(comparison, WIDTH).splitlines())
    assert written == f"{expected}\n"


def test_a_dumb_terminal_gets_the_whole_table(comparison):
    text = io.StringIO()
    dumb = Console(file=text, force_terminal=True, color_system=None, _environ={"TERM": "dumb"})
    assert dumb.size.width == 80
    print_page(comparison_page(comparison), dumb)
    assert "…" not in text.getvalue()
    for result in comparison.sections:
        assert f"{result.member.peak_von_mises.value:.0f}" in text.getvalue()


def test_the_answer_comes_before_the_hand_formulas(comparison):
    text = as_text(comparison_page(comparison), WIDEST)
    assert text.index("Answer") < text.index("hand formulas")
    assert text.rstrip().splitlines()[-1].startswith("Caution: ")


def _rows(text: str, title: str) -> list[str]:
    """The lines of a table of details, under its rule up to a blank line."""
    below = text.split(title)[1].split("───\n")[1]
    return below.split("\n\n")[0].splitlines()


def test_a_plain_contact_is_not_gone_into(comparison):
    text = _printed(comparison)
    for word in ("What the contact does", "infill", "Mesh levels", "friction 0", "corner"):
        assert word not in text


def test_the_head_says_how_all_is_held_and_struck(corner, oblique):
    head = comparison_page(oblique)[1].text.split("; ")
    assert only(head, POST_SUPPORTS["beam shear"].words, "“core”", "rigid core")
    assert only(head, "elastic supports", "20000 N/mm/mm", "each of its two")
    assert only(head, "-20 mm along", "1 deg from", "towards +x", "friction 0.2")
    second, contact = comparison_page(corner)[1].text.split("; ")[-2:]
    assert only([second], "second plate", "800.0 N/mm", "5 mm along")
    assert "friction 0.2" in contact


def test_the_second_plate_has_a_row_with_its_contact(corner):
    (r,) = corner.sections
    text, second = _printed(corner), r.patches[1]
    row = next(line for line in text.splitlines() if re.search(r"\d +second ", line))
    a, uncertainty = words.with_uncertainty(second.half_width, SI.length)
    p, _ = words.with_uncertainty(second.peak_contact_pressure, SI.stress)
    assert row.split()[:3] == [a, p, "second"]
    assert words.peak(second.plate, SI) in row
    assert words.first_yield(second.plate, SI) in row
    below = text.splitlines()[text.splitlines().index(row) + 1]
    assert f" {uncertainty} " in below
    assert only(comparison_page(corner), "corner", "first yield", "first plate")


@pytest.mark.parametrize("of", ["corner", "oblique"])
def test_what_the_contact_does(of, request):
    comparison = request.getfixturevalue(of)
    (r,) = comparison.sections
    rows = _joined(" ".join(_rows(_printed(comparison), "What the contact does")))
    for patch in r.patches:
        assert words.pair(patch.centre, SI.length) in rows
        assert (
            f"{words.tangential(patch, SI.line_load)} {words.ratio(patch)} {patch.motion}" in rows
        )
        ratio = patch.tangential_load.value / patch.line_load
        assert float(words.ratio(patch).split()[0]) == pytest.approx(ratio, rel=3e-3)
        # A cell that is broken over lines has the other cells' text between its own.
        assert words.zones(patch, SI.length).split(",")[0] in rows
    if of == "oblique":
        assert "± " in words.tangential(r.contact, SI.line_load)
        assert [zone.motion for zone in r.contact.zones] == ["slip", "stick"]
    else:
        # In full sliding the load is friction times the line load, whatever the mesh.
        assert words.tangential(r.contact, SI.line_load) == "240.0"
        assert words.ratio(r.patches[1]) == "-0.200"


@pytest.mark.parametrize("of", ["comparison", "corner", "oblique"])
def test_what_holds_the_bodies_is_in_balance_with_the_load(of, request):
    comparison = request.getfixturevalue(of)
    text = _printed(comparison)
    body = text.split("What holds post and plate")[1].split("Along the axes")[0]
    sums = [line.split()[1:] for line in body.splitlines() if line.split()[:1] == ["sum"]]
    assert len(sums) == len(comparison.sections[0].bodies)
    # What is nothing is printed as nothing, without a sign.
    assert all(cells == ["0.0", "0.0", "0"] for cells in sums)
    for patch in comparison.sections[0].patches:
        for reaction in patch.reactions:
            row = next(
                line for line in body.splitlines()
                if f" {reaction.place} " in line and f" {reaction.across:.1f} " in line
            )  # fmt: skip
            assert f" {reaction.along:.1f} ".replace("-0.0", "0.0") in row
    residual = max(r.reading.state.force_balance for r in comparison.sections)
    assert f"{residual:.0e} of the line load" in _joined(text)


def test_forces_that_do_not_balance_show(oblique):
    (r,) = oblique.sections
    left, right = r.contact.reactions
    patch = replace(r.contact, reactions=(replace(left, along=left.along + 1.0), right))
    text = _printed(replace(oblique, sections=(replace(r, patches=(patch,)),)))
    sums = [line.split()[1:] for line in text.splitlines() if line.split()[:1] == ["sum"]]
    # The force acts at the middle of the face, half of the plate's 50 mm down.
    assert sums == [["0.0", "0.0", "0"], ["1.0", "0.0", "25"]]


def test_sections_that_are_held_alike_stand_together(comparison):
    body = _printed(comparison).split("What holds post and plate")[1].split("Along the axes")[0]
    assert body.count("every section") == 2
    assert "solid 120" not in body


def test_the_infill_and_what_is_not_known_of_it(corner):
    (r,) = corner.sections
    text = _printed(corner)
    (row,) = _rows(text, "What the infill carries")[:1]
    assert row.split()[:4] == ["filled", "grout", "30000", "0.2"]
    keys = ("infill_tension", "infill_compression", "bond_tension", "bond_shear")
    found = [r.values[key] for key in keys]
    assert _joined(row).endswith(" ".join(words.pair(value, SI.stress) for value in found))
    assert only(comparison_page(corner), "strengths that the case states", "no verdict")


def test_an_accuracy_asked_for_is_shown_to_be_reached_or_not(oblique):
    (r,) = oblique.sections
    text = _printed(oblique)
    coarse, fine = _rows(text, "Mesh levels; accuracy asked for: 5 %")[:2]
    assert coarse.split()[:3] == ["core", "2", str(r.levels[0].unknowns)]
    assert "±" not in coarse
    assert fine.split()[:2] == ["1", str(r.levels[1].unknowns)]
    assert words.peak(r.member, SI) in fine
    assert words.peak(r.plate, SI) in fine
    assert f" {100 * r.plate.peak_von_mises.uncertainty / r.plate.peak_von_mises.value:.2f}" in fine
    stopped = replace(oblique, sections=(replace(r, stopped="no memory for it"),))
    for of, tone, *parts in (
        (oblique, "good"), (stopped, "bad", "not reached", "no memory for it"),
    ):  # fmt: skip
        (line,) = (b for b in comparison_page(of) if isinstance(b, Line) and "accuracy" in b.text)
        assert line.tone == tone
        assert only([line], "“core”", "5 %", "reached", *parts)


def test_the_shakedown_limit_says_what_it_takes_for_granted(comparison, oblique):
    for of, sliding in ((comparison, False), (oblique, True)):
        limit = only(comparison_page(of), "shakedown limit:", "half-space", "fatigue")
        assert ("full sliding" in limit) is sliding


def test_sizes_say_what_a_section_is(corner):
    section = corner.sections[0].section
    assert words.size(section, SI) == "120 × 20 mm, filled"
    own = replace(section, wall=None, mesh=Path("drawn.msh"))
    assert words.size(own, SI) == "120 mm own mesh"


@pytest.mark.parametrize(
    ("degrees", "friction", "parts"),
    [
        (30.0, 0.1, ["and the contact slides in full"]),
        (5.0, 0.08, ["“solid 150”", "not slide in full"]),
        (3.0, 0.2, None),
    ],
)
def test_motion_beyond_the_friction_angle_is_said_with_what_it_leads_to(degrees, friction, parts):
    with no_first_yield():
        compared = compare(case([(150.0, None)], line_load=600.0, angle=degrees, friction=friction))
    beyond = said(comparison_page(compared), "beyond the friction angle")
    assert [len(said([text], *parts or ())) for text in beyond] == [1] * (parts is not None)
