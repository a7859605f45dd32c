"""The calculation as one document: what must stand in it, whatever its case is called."""

import hashlib
import re
from contextlib import nullcontext
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import overloads
import pytest
import sizings
import springs
from calculations import (
    DATA,
    FILE,
    TODAY,
    found,
    joined,
    of_sections,
    pages,
    read,
    sheets,
    stated,
)
from motions import changed, moving
from saying import figures, only

from contactfe.assess import calculation as assess
from contactfe.assess.calculation import Calculation
from contactfe.assess.checks import OpenItem
from contactfe.assess.impact import impact_force
from contactfe.assess.sizing.run import size
from contactfe.assess.value import Value
from contactfe.case import case_from_dict
from contactfe.case.display import SI
from contactfe.case.settings import Document
from contactfe.case.specimen import specimen
from contactfe.errors import InputError
from contactfe.report import words
from contactfe.report.blocks import Column, Figure, Heading, Line, NewSheet, Table, Worked
from contactfe.report.calculation.by_hand import FIVE
from contactfe.report.calculation.page import mark_of
from contactfe.report.document import document
from contactfe.report.figures.overload import overload_alt, section_alt
from contactfe.report.html import as_document
from contactfe.report.impact_levels import check_table
from contactfe.report.impact_page import CAUTIONS, formula_lines, impact_page
from contactfe.report.open_items import worded
from contactfe.report.overload_page import answer, overload_page
from contactfe.report.overload_section import section_blocks
from contactfe.report.page import as_text
from contactfe.report.pdf import as_pdf
from contactfe.report.scale import scale_page
from contactfe.report.sheets import Sheets
from contactfe.report.sizing_page import sizing_page
from contactfe.report.stiffness_page import stiffness_page
from contactfe.report.verdicts import HEADING, ratio_text, verdict_lines

HOSTILE = (
    '#read("/etc/passwd") <script>alert(1)</script> $x$ [b] *c* _d_ \u202edettrid \u2066e'
    " \\ @f `g` // h 中文 🙂 "
)


SIZED = sizings.case(outside_diameter="150 mm")


def titles_of(of: Sheets) -> list[str]:
    return [block.text for block in of.page if isinstance(block, Heading) and block.level == 2]


@pytest.fixture(scope="module")
def whole(comparison):
    return sheets(found(comparison))


@pytest.fixture(scope="module")
def printed(whole):
    return pages(whole)


def test_every_check_and_open_item_is_in_print(comparison, printed):
    text = "".join(printed)
    assert {check.verdict for check in comparison.checks} > {"passes"}
    for check in comparison.checks:
        assert joined(check.label) in text
        assert joined(ratio_text(check)) in text
    assert comparison.open_items
    for record in document(comparison)["open_items"]:
        assert joined(record["label"]) in printed[0]


def test_the_numbers_are_those_of_the_results_document(comparison, printed):
    """To the digits that their uncertainty leaves."""
    text = "".join(printed)
    units = {"half_width": SI.length, "approach": SI.length, "stress_concentration": None}
    keys = (*units, "peak_pressure", "post_peak", "plate_peak", "post_utilisation")
    for section in document(comparison)["sections"]:
        for key in keys:
            of = section["values"][key]
            unit = units.get(key, SI.stress if of["unit"] == "MPa" else None)
            for part in words.pair(Value(of["value"], of["uncertainty"]), unit).split(" ± "):
                assert part in text, key


def test_the_first_sheet_has_the_answer(comparison, printed):
    first = printed[0]
    assert joined(comparison.case.title) in first
    assert joined(comparison.reason[:200]) in first
    for name in comparison.by_concentration:
        checks = [check for check in comparison.checks if check.section == name]
        fails = any(check.verdict == "fails" for check in checks)
        assert joined(name) in first
        assert HEADING["fails" if fails else "passes"] in first


def test_every_sheet_says_whose_it_is(comparison):
    of = Document("Annex", "C-104", "B", "N. N.", None, None, date(2026, 5, 4))
    every = pages(sheets(found(stated(comparison, document=of))))
    total = len(every)
    assert total > 8
    for number, text in enumerate(every, 1):
        assert joined(comparison.case.title) in text
        assert "calculationC-104·revisionB" in text
        assert "contactfe" in text
        assert "sha256" in text
        assert f"page{number}of{total}" in text
    assert "2026-05-04" in every[0]
    assert "N.N." in every[0]


def test_the_digest_is_that_of_the_case_file(printed):
    digest = hashlib.sha256(FILE).hexdigest()
    assert all(digest[:16] in text for text in printed)


def test_the_chapters_come_in_their_order(whole):
    titles = titles_of(whole)
    assert titles[0] == "Summary"
    assert len(titles) == len(set(titles))
    at = titles.index
    assert at("Idealisation and inputs") < at("All checks") < at("Independent check")
    assert at("Independent check") < at("Cautions")
    appendices = titles[at("Cautions") + 1 :]
    assert [title[: len("Appendix A: ")] for title in appendices] == [
        f"Appendix {letter}: " for letter in "ABCDEF"
    ]
    assert appendices[-1].endswith("sources")


def test_the_check_sheet_has_five_formulas_with_forms(whole):
    begin = whole.page.index(Heading("Independent check", 2))
    end = whole.page.index(Heading("Cautions", 2))
    formulas = [block for block in whole.page[begin:end] if isinstance(block, Worked)]
    numbered = [block for block in formulas if block.head[0].isdigit()]
    assert len(numbered) == FIVE
    assert all(len(block.sides) == 4 for block in numbered)  # symbol, symbols, numbers, result
    (table,) = (block for block in whole.page[begin:end] if isinstance(block, Table))
    assert sum(map(len, table.groups)) == FIVE


def test_sources_seen_and_from_memory_stand_apart(whole):
    begin = whole.page.index(Heading(titles_of(whole)[-1], 2))
    seen, memory = (
        [row[0] for group in table.groups for row in group]
        for table in whole.page[begin:][1:3]
        if isinstance(table, Table)
    )
    assert seen
    assert all("seen" in source and "not seen" not in source for source in seen)
    assert memory
    assert all("from memory" in source for source in memory)
    assert len(memory) in figures(only(whole.page[:begin], "sources", "from memory"))


def test_fonts_are_in_the_file_and_the_bytes_follow_from_the_case(whole):
    made = as_pdf(whole)
    assert made == as_pdf(whole)
    assert b"<pdfaid:part>2</pdfaid:part>" in made
    fonts = {}
    for page in read(made).pages:
        for font in page["/Resources"]["/Font"].values():
            of = font.get_object()
            for below in of.get("/DescendantFonts", [of]):
                fonts[of["/BaseFont"]] = below.get_object()["/FontDescriptor"].get_object()
    assert len(fonts) >= 3
    for name, descriptor in fonts.items():
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor), name


def test_the_file_is_known_again(whole, comparison):
    mark = mark_of(comparison.case.title).encode()
    assert mark in as_pdf(whole)
    assert mark in as_document(whole).encode()


@pytest.mark.parametrize("writer", ["pdf", "html"])
def test_nothing_in_a_title_or_name_runs_or_is_lost(comparison, writer):
    title = (HOSTILE * 3)[:200]
    first = replace(comparison.case.sections[0], name=title[:80])
    hostile = stated(comparison, title=title, document=Document(project=title))
    hostile = of_sections(replace(hostile, sections=hostile.sections[:1]), 1)
    (one,) = hostile.sections
    checks = tuple(replace(check, section=first.name) for check in hostile.checks)
    one = replace(one, section=first, by_hand=replace(one.by_hand, section=first), checks=checks)
    hostile = replace(
        hostile, case=replace(hostile.case, sections=(first,)), sections=(one,), checks=checks,
        by_concentration=(first.name,), by_utilisation=(first.name,), by_mass=(first.name,),
    )  # fmt: skip
    of = sheets(found(hostile))
    if writer == "pdf":
        text = pages(of)[0]
        for part in ('#read("/etc/passwd")', "<script>alert(1)</script>", "$x$", "[b]", "`g`"):
            assert joined(part) in text
        assert text.count("[U+202E]") >= 3  # title, project and name
        assert "[U+4E2D]" in text
    else:
        text = as_document(of)
        assert "<script" not in text
        assert "&lt;script&gt;alert(1)&lt;/script&gt;" in text
        assert "中文" in text
        assert "\u202e" not in text


def test_a_word_without_end_breaks_within_its_line(comparison):
    long = "W" * 200
    made = pages(sheets(found(stated(comparison, title=long))))
    assert long in made[0]


@pytest.mark.parametrize("count", [1, 12])
def test_any_number_of_sections(comparison, count):
    many = of_sections(comparison, count)
    every = pages(sheets(found(many)))
    assert len(many.sections) == count
    for result in many.sections:
        assert joined(result.section.name) in every[0]
        for check in result.checks:
            assert joined(ratio_text(check)) in "".join(every)


@pytest.mark.parametrize("name", ["us", "corner", "oblique"])
def test_other_stops(name, request):
    comparison = request.getfixturevalue(name)
    of = sheets(found(comparison))
    every = pages(of)
    for check in comparison.checks:
        assert joined(check.label) in "".join(every)
    if name == "us":
        assert "ksi" in every[0]
        assert "MPa" not in every[0]


def test_paper(comparison):
    sizes = {}
    for paper in ("A4", "US Letter"):
        of = stated(comparison, document=Document(paper=paper))
        page = read(as_pdf(sheets(found(of)))).pages[0]
        sizes[paper] = [round(float(x)) for x in page.mediabox[2:]]
    assert sizes == {"A4": [595, 842], "US Letter": [612, 792]}


def test_the_file_is_dated_by_the_document(comparison):
    dated = stated(comparison, document=Document(date=date(2025, 1, 2)))
    assert sheets(found(dated)).day == date(2025, 1, 2)
    assert sheets(found(comparison)).day == TODAY


def test_what_every_part_is_for_can_be_read_aloud(whole):
    figures = [block for block in whole.page if isinstance(block, Figure)]
    assert len(figures) >= 4
    html = as_document(whole)
    assert all(f'aria-label="{figure.alt}"' in html for figure in figures)


def test_the_html_asks_for_nothing(whole):
    html = as_document(whole)
    outside = re.findall(r'(?:src|href)="(?!data:|#)([^"]*)"', html)
    assert outside == []
    assert not re.search(r"url\((?!#)", html)
    assert "<math>" in html
    assert "<svg" in html


def test_the_appendix_says_the_same_once(whole, comparison):
    begin = len(whole.page) - whole.page[::-1].index(NewSheet(small=True))
    heads = [block.head for block in whole.page[begin:] if isinstance(block, Worked)]
    first = comparison.sections[0].by_hand.step("hertz_half_width")
    assert heads.count(first.label) == 1
    labels = {step.label for r in comparison.sections for step in r.by_hand.steps}
    assert all(any(head.startswith(label) for head in heads) for label in labels)
    said = [block.text for block in whole.page[begin:] if isinstance(block, Line)]
    for result in comparison.sections:
        for why in result.by_hand.left_out:
            assert sum(why in text for text in said) == 1


def test_a_table_of_any_width_is_in_print_with_its_keys_in_every_part():
    """Of columns in numbers beyond a sheet, and of words without end."""
    heads = [f"head {number}" for number in range(40)]
    columns = tuple(Column(head, numbers=True, key=head == "head 0") for head in heads)
    cells = tuple(f"{number}.{number:05d}" for number in range(40))
    word = "x" * 300
    page = (Table(columns, ((cells,),)), Table((Column("of", key=True),), (((word,),),)))
    (text,) = pages(Sheets(page, "t", ("t",), ("f",), "m", TODAY))
    assert all(text.count(joined(head)) >= 1 for head in heads)
    parts = text.count("0.00000")
    assert parts > 1
    assert all(text.count(cell) == 1 for cell in cells[1:])
    assert text.count("head0") == parts + sum(head.startswith("head 0") for head in heads[1:])
    assert word in text


def test_an_equation_wider_than_its_column_breaks_within_it():
    """A sum, a root and a fraction of terms that no line has room for."""
    terms: list = []
    for number in range(30):
        terms += [{"op": "+"}, f"{number}.0007"]
    row = {"row": terms[1:]}
    sides = ("a", row, {"root": row}, {"frac": ["1", {"brackets": row}]})
    page = (NewSheet(small=True, columns=2), Worked("h", ("a", "b"), sets=(Worked("s", sides),)))
    (sheet,) = read(as_pdf(Sheets(page, "t", ("t",), ("f",), "m", TODAY))).pages
    places: list[float] = []
    text = sheet.extract_text(visitor_text=lambda text, at, *_: places.append(at[4] * bool(text)))
    assert joined(text).count(".0007") == 3 * 30
    # In the first of two columns, but for the number of the sheet.
    assert sum(x > float(sheet.mediabox[2]) / 2.0 for x in places) < 20


def test_letters_that_no_font_has_and_marks_that_turn_are_shown_by_number():
    unknown = "".join(map(chr, (0x4E2D, 0x1F642, 0x202E, 0x200F, 0x7, 0xE000, 0xFFFF)))
    (text,) = pages(Sheets((Line(f"a{unknown}b\u1680c"),), "t", ("t",), ("f",), "m", TODAY))
    numbers = "".join(f"[U+{ord(character):04X}]" for character in unknown)
    assert f"a{numbers}bc" in text


def test_what_the_case_states_has_its_chapter(comparison):
    """The impact, stiffness and others are of other cases, as they are at hand."""
    scaled = stated(comparison, scale=0.25)
    with pytest.MonkeyPatch.context() as patch:
        sizings.pool(patch)
        sized = size(SIZED)
    parts = {
        "impact": impact_force(moving()),
        "stiffness": springs.result(),
        "sizing": sized,
        "specimen": specimen(scaled.case, DATA, 0.25, Path()),
        "overload": overloads.spanned(),
    }
    of = sheets(found(scaled, **parts))
    titles, plain = titles_of(of), titles_of(sheets(found(comparison)))
    # Each has a chapter, and an appendix for the rest of its page.
    assert titles.index("Cautions") == plain.index("Cautions") + len(parts)
    assert len(titles) == len(plain) + 2 * len(parts)
    assert_nothing_is_lost(of, parts)
    assert not re.search(r"\.(csv|json)\b", " ".join(as_text(of.page).split()))
    assert titles.index("Demand: the first impact") < titles.index("Comparison of the sections")
    text = "".join(pages(of))
    for closure in parts["impact"].closure:
        assert joined(closure.name) in text
    for check in parts["impact"].checks:
        assert joined(check.label) in text
    peak = parts["impact"].blows[0].peak_contact_force.value
    assert joined(comparison.case.display.force.text(peak)) in text
    # What each page warns of stands once, at the end.
    said = [block.text for block in of.page if isinstance(block, Line)]
    assert [said.count(caution) for caution in CAUTIONS] == [1] * len(CAUTIONS)
    assert not any(b.text.startswith("Caution: ") for b in of.page if isinstance(b, Line))
    (plastic,) = [text for text in said if "elastic-plastic" in text and "2D" in text]
    assert plastic.startswith("Beyond first yield: ")
    assert_each_section_struck_has_a_sheet(of, parts["overload"])


def assert_each_section_struck_has_a_sheet(of, struck):
    """Of its tables; its figure is in the chapter, behind that of all."""
    page = list(of.page)
    told = {overload_alt(struck), *(section_alt(struck, one) for one in struck.sections)}
    assert told <= {block.alt for block in page if isinstance(block, Figure)}
    for section in struck.sections:
        heading, *rest = section_blocks(struck, section)
        at = page.index(replace(heading, level=3))
        assert page[at - 1] == NewSheet(small=True)
        assert page[at + 1 : at + 1 + len(rest)] == rest


def assert_nothing_is_lost(of, parts):
    """Of the whole page of a command every line and table is there, and none twice."""
    impact, sized, struck = parts["impact"], parts["sizing"], parts["overload"]
    names = [of.section for of in struck.sections]
    told = [
        *formula_lines(impact), *check_table(impact, *impact.blows),
        *verdict_lines(SIZED, (), sized.of_stop, ()),  # what is open is so of another case
        *verdict_lines(struck.case, names, struck.checks, struck.open_items),
        *map(Line, answer(struck)),  # one paragraph there
        Line(f"Caution: {words.cautions(struck.case, yields=True)[0]}"),  # named as of that chapter
    ]  # fmt: skip
    assert sized.open_items
    said = [block.text for block in of.page if isinstance(block, Line)]
    tables = [table.groups for table in of.page if isinstance(table, Table)]
    for page in (
        impact_page(impact), stiffness_page(parts["stiffness"]),
        sizing_page(sized), scale_page(parts["specimen"]), overload_page(struck),
    ):  # fmt: skip
        own = [table.groups for table in page if isinstance(table, Table)]
        for block in page:
            if block in told:
                continue
            if isinstance(block, Table):
                assert tables.count(block.groups) == own.count(block.groups), block.title
            elif isinstance(block, Line) and words.how_held(SIZED) != block.text:
                assert block.text.removeprefix("Caution: ") in said
    for check in impact.checks:
        assert any(check.label in str(table) for table in tables)


def test_a_calculation_solves_what_the_case_asks_for(monkeypatch):
    """By what it asks of each solver, which are not run."""
    asked = []

    def stands_in(name):
        def solve(case, *_, **__):
            asked.append(name)
            return replace_me

        replace_me = object()
        return solve

    for name in ("compare", "impact_force", "stiffness", "envelope", "size", "overload"):
        monkeypatch.setattr(assess, name, stands_in(name))

    def of(**tables):
        asked.clear()
        data = DATA | tables
        assess.calculate(case_from_dict(data), data, lambda _: nullcontext())
        return set(asked)

    walls = {"outside_diameter": "120 mm", "wall": {"from": "15 mm", "to": "25 mm"}}
    assert of() == {"compare"}
    assert of(envelope={"offset": ["0 mm", "10 mm"]}) == {"compare", "envelope"}
    assert of(sizing=walls) == {"compare", "size"}
    assert of(overload={}) == {"compare", "overload"}
    with pytest.raises(InputError, match="friction"):
        of(overload={}, contact={"friction": 0.1})
    assert not asked  # it is refused before anything is solved
    motion = changed()
    moves = {key: motion[key] for key in ("motion", "contact_law", "load")}
    assert of(**moves) == {"compare", "impact_force", "stiffness"}


def test_what_is_left_to_a_result_that_is_there_is_not_open():
    own = moving(
        contact_law={"law": "section"}, load={"force": "700 kN", "contact_length": "500 mm"}
    )
    compared = (OpenItem("motion", own), OpenItem("ground", own), OpenItem("tilt", own))
    parts = {
        "comparison": SimpleNamespace(open_items=compared),
        "impact": SimpleNamespace(checks=(SimpleNamespace(limit_state="load"),)),
        "envelope": SimpleNamespace(
            open_items=(OpenItem("tilt", own), OpenItem("tolerance", own, (), "limits not solved"))
        ),
    }
    ground, tilt, tolerance = Calculation({}, **parts).open_items
    assert ground.key == "ground"
    assert "contactfe impact" not in worded(ground)[1]
    assert tilt == OpenItem("tilt", own)
    assert "envelope" in worded(tolerance)[1]
    assert Calculation({}, parts["comparison"]).open_items == compared
    unjudged = parts | {"impact": SimpleNamespace(checks=())}
    assert next(item.key for item in Calculation({}, **unjudged).open_items) == "motion"
    near = SimpleNamespace(open_items=(OpenItem("motion", own, (), 0.3),))
    assert len(Calculation({}, **parts | {"comparison": near}).open_items) == 3
