"""The page of a case by hand: formulas and clauses as tables."""

import re
from dataclasses import replace

import pytest
from alignments import case as along_case
from handcases import SOLID, TUBE
from handcases import everything as stop
from restated import restated
from saying import figures, only, said

from contactfe.assess.by_hand.case import by_hand
from contactfe.case.display import SI
from contactfe.case.holds import POST_SUPPORTS
from contactfe.codes.clause import GOVERNS
from contactfe.hand.formula import Limit
from contactfe.report.blocks import GAP, Table
from contactfe.report.by_hand import GROWTH, Marks, by_hand_page, hand_tables
from contactfe.report.inputs import inputs
from contactfe.report.page import WIDEST, as_text
from contactfe.report.words import cautions

# Exact by definition (common practice, no source), and not out of the program.
INCH, KIP = 25.4, 4448.2216152605
UNITS = {
    "SI": {
        "length": ("mm", 1.0), "stress": ("MPa", 1.0), "line load": ("N/mm", 1.0),
        "force": ("kN", 1e3), "moment": ("kN·m", 1e6), "area": ("mm²", 1.0),
        "section modulus": ("mm³", 1.0), "second moment of area": ("mm⁴", 1.0),
        "moment per length": ("N·mm/mm", 1.0), "bending stiffness": ("kN·m", 1e6),
        "stiffness": ("kN/mm", 1e3), "line stiffness": ("N/mm/mm", 1.0), None: ("1", 1.0),
    },
    "US customary": {
        "length": ("in", INCH), "stress": ("ksi", KIP / INCH**2),
        "line load": ("kip/in", KIP / INCH),
        "force": ("kip", KIP), "moment": ("kip·in", KIP * INCH), "area": ("in²", INCH**2),
        "section modulus": ("in³", INCH**3), "second moment of area": ("in⁴", INCH**4),
        "moment per length": ("kip·in/in", KIP), "bending stiffness": ("kip·in", KIP * INCH),
        "stiffness": ("kip/in", KIP / INCH), "line stiffness": ("kip/in/in", KIP / INCH**2),
        None: ("1", 1.0),
    },
}  # fmt: skip
FOUR_DIGITS = 6e-4
"""Half of the last of four digits at the most, relative, where the first is a 1."""

SI_UNIT = re.compile(
    r"\d\s*(mm|cm|m|N|kN|MN|Pa|MPa|GPa|kg)(?![\w'])|(?<![\w/])(mm[²³⁴]?|MPa|GPa|kN|N/mm|kN·m)(?!\w)"
)


def printed(found) -> str:
    return as_text(by_hand_page(found), WIDEST)


def page(*sections, **keys) -> str:
    return printed(by_hand(stop(*sections, **keys)))


def blocks(*sections, **keys):
    return by_hand_page(by_hand(stop(*sections, **keys)))


def without_words(figure: str) -> str:
    """A figure without what may stand before it and without marks."""
    return figure.removeprefix("ABOVE 1: ").split(" (")[0]


def in_one_line(text: str) -> str:
    return " ".join(text.split())


def rows(text: str) -> list[list[str]]:
    """The cells of each line, which at least two blanks part."""
    return [re.split(r"\s{2,}", line.strip()) for line in text.splitlines()]


def ratio_rows(text: str) -> list[list[str]]:
    return [cells for cells in rows(text) if len(cells) > 2 and cells[1].startswith("ratio")]


def marks_used(text: str) -> set[str]:
    return set(re.findall(r"(?<=[\d)]) \((\d)\)", text))


# Figures


@pytest.mark.parametrize("units", ["SI", "US customary"])
@pytest.mark.parametrize(
    "keys",
    [
        {"friction": 0.2, "plate_held": "elastic supports", "spring": 2000.0},
        {"section": TUBE, "held_by": "diametral", "plate_held": "clamped"},
    ],
    ids=["solid", "tube"],
)
def test_every_figure_in_the_units_of_the_case(units, keys):
    section = keys.get("section", SOLID)
    found = by_hand(stop(section, units=units, **{k: v for k, v in keys.items() if k != "section"}))
    steps = [step for step in found.sections[0].steps if not step.minor]
    text = printed(found).split("Clauses of standards")[0]
    shown = [cells for cells in rows(text) if len(cells) == 4]
    assert len(shown) == len(steps)
    for (label, symbol, unit, figure), step in zip(shown, steps, strict=True):
        name, size = UNITS[units][step.worked.dimension]
        assert (label, symbol, unit) == (step.label, step.worked.symbol, name)
        number = float(figure.split(" (")[0])
        assert number == pytest.approx(step.worked.value / size, rel=FOUR_DIGITS), step.key


@pytest.mark.parametrize("units", ["SI", "US customary"])
def test_demand_resistance_and_ratio_of_every_clause(units):
    found = by_hand(stop(units=units))
    text = printed(found).split("Clauses of standards")[1]
    ratios = [cells[-1] for cells in ratio_rows(text)]
    figures = [cells[-3:] for cells in rows(text) if cells[-1].count(" / ") == 1]
    checks = [clauses.check for clauses in found.sections[0].clauses]
    assert len(checks) > 8
    for check, ratio, (symbols, unit, both) in zip(checks, ratios, figures, strict=True):
        name, size = UNITS[units][check.demand.dimension]
        # A resistance that is a quotient of its own stands in brackets.
        assert symbols == f"{check.demand.symbol} / {check.resistance.symbol}".replace(
            "q / PS/W", "q / (PS/W)"
        )
        assert unit == name
        shown = [float(figure) for figure in both.split(" / ")]
        held = [check.demand.value / size, check.resistance.value / size]
        assert shown == pytest.approx(held, rel=FOUR_DIGITS)
        # Three digits.
        number = float(without_words(ratio))
        assert number == pytest.approx(check.ratio, rel=6e-3)
        assert ratio.startswith("ABOVE 1: ") == (check.ratio > 1.0)
        assert check.clause.name in text
        assert check.clause.title in in_one_line(text)


@pytest.mark.parametrize(("margin", "name"), [(1.0, "over yield"), (1.5, "over yield / 1.5")])
def test_stresses_over_the_yield_strength_and_margin(margin, name):
    found = by_hand(stop(TUBE, margin=margin))
    shares = [cells[-1] for cells in rows(printed(found)) if cells[0] == name]
    expected = [s.worked for s in found.sections[0].steps if s.utilisation is not None]
    assert len(shares) > 5
    # Three digits, and all the steels here have 345 MPa.
    assert [float(without_words(share)) for share in shares] == pytest.approx(
        [margin * abs(worked.value) / 345 for worked in expected], rel=6e-3
    )
    for share, worked in zip(shares, expected, strict=True):
        assert share.startswith("ABOVE 1: ") == (margin * abs(worked.value) > 345), worked.formula
        assert ("(" in share) == (not worked.within_range), worked.formula
    # The root: 72 kN·m over 265 890 mm³ is 271 MPa.
    assert any(share.startswith("ABOVE") for share in shares) == (margin == 1.5)
    assert any("(" in share for share in shares)


def test_no_si_unit_on_an_american_page():
    for section in (SOLID, TUBE, (700.0, None)):
        text = page(
            section, units="US customary", corner=300.0, friction=0.2, plate_held="simply supported"
        )
        # What a clause is intended for may quote the standard.
        before = text.split("What the clauses are intended for")[0]
        assert SI_UNIT.findall(before) == []
        assert "ksi" in before
    assert SI_UNIT.findall(page()) != []  # the pattern does find them


@pytest.mark.parametrize(("side", "worst"), [("at most", "7"), ("at least", "2")])
def test_the_note_of_a_mark_tells_the_worst_of_each_section(side, worst):
    marks = Marks()
    for values in ((4.0, 2.0, 7.0), (7.0, 2.0, 4.0)):  # in any order
        for value in values:
            assert marks.mark([Limit("d/a", value, 3.0, side)], f"section {values[0]:g}") == " (1)"
    note, gap = marks.notes("outside", SI)
    assert note.text == (
        f"(1) outside: d/a must be {side} 3; worst: section 4 {worst}, section 7 {worst}."
    )
    assert gap == GAP


# Sections side by side


def test_five_sections_stand_in_blocks_of_four():
    sections = [(d, None) for d in (120.0, 130.0, 140.0, 150.0, 160.0)]
    text = page(*sections)
    heads = [line for line in text.splitlines() if line.split()[:2] == ["symbol", "unit"]]
    assert [line.count("solid") for line in heads] == [4, 1, 4, 1]  # formulas, then clauses
    assert heads[0].split()[2:] == ["solid", "120", "solid", "130", "solid", "140", "solid", "150"]
    assert "solid 160" in heads[1]
    assert text.count("Hand formulas") == 2
    assert text.count("Clauses of standards") == 2
    four = page(*sections[:4])
    assert four.count("Hand formulas") == four.count("Clauses of standards") == 1


def test_every_section_of_every_block_has_its_own_figures():
    sections = [(d, None) for d in (120.0, 130.0, 140.0, 150.0, 160.0)]
    found = by_hand(stop(*sections))
    widths = [cells[3:] for cells in rows(printed(found)) if cells[0] == "half-width, Hertz"]
    shown = [float(figure) for block in widths for figure in block]
    assert shown == pytest.approx(
        [s.value("hertz_half_width") for s in found.sections], rel=FOUR_DIGITS
    )


def test_what_does_not_apply_to_a_section_has_a_dot():
    shown = {cells[0]: cells[3:] for cells in rows(page(SOLID, TUBE)) if len(cells) == 5}
    assert shown["neutral circle off the mean one"][0] == "·"
    assert shown["centre stress across the load, disc"][1] == "·"
    assert "·" not in shown["half-width, Hertz"]
    clauses = page(SOLID, TUBE).split("Clauses of standards")[1]
    ratios = [cells[-2:] for cells in ratio_rows(clauses)]
    assert sum(ratio[0] == "·" for ratio in ratios) == 3  # F8, G5 and shear of a tube
    assert sum(ratio[1] == "·" for ratio in ratios) == 3  # their like for a solid round


# Marks


def test_each_mark_is_explained_once_and_each_explanation_is_used():
    for keys in (
        {"plate": (400.0, 11.0), "line_load": 1500.0},
        {"yield_strength": 500.0},
        {"plate_held": "simply supported", "plate": (230.0, 60.0), "line_load": 2000.0},
    ):
        text = page(SOLID, TUBE, **keys)
        formulas, clauses = text.split("Clauses of standards")
        for part in (formulas, clauses.split("What the clauses are intended for")[0]):
            explained = re.findall(r"^\((\d)\) ", part, flags=re.MULTILINE)
            assert len(explained) == len(set(explained))
            assert explained == sorted(explained)
            assert set(explained) == marks_used(part)
    deep = page((220.0, None), cantilever=False, plate=(600.0, 110.0))
    formulas = deep.split("Clauses of standards")[0]
    assert "(1)" not in formulas


def test_limits_that_were_passed_are_named_with_bound_and_value():
    found = blocks(SOLID, TUBE, plate=(400.0, 11.0), line_load=1500.0, cantilever=False)
    # a = 1.1417 mm (√(4qR/(πE*))), a/t = 0.104.
    both = ("solid 150 0.104", "150 x 25 0.104")
    assert said(found, "range", "a/t, the plate's thickness", "at most 0.1", *both)
    notes = said(found, "range", "h/R", "at most 0.1", "150 x 25 0.4")
    assert notes
    assert not said(notes, "solid 150")  # which has no wall, no h


def test_a_load_beyond_the_collapse_of_the_ring_is_marked_behind_it():
    # P0 = 8 Mp/(2R) with Mp = 2/√3·345·6.5²/4: 234.6 N/mm.
    found = blocks((150.0, 6.5), held_by="diametral", families=(), cantilever=False)
    cells = {cells[0]: cells[-1] for cells in rows(as_text(found, WIDEST)) if len(cells) > 2}
    figure, mark = cells["line load at plastic collapse"].split(" ")
    assert figure == "234.6"
    assert only(found, mark, "q/P0", "at most 1", "150 x 6.5 1.71")


def test_one_mark_for_one_limit_with_the_worst_of_its_values():
    keys = {"plate": (400.0, 11.0), "line_load": 1500.0, "yield_strength": 690.0}
    case = restated(stop(families=(), cantilever=False, **keys), contact_length=None)
    found = by_hand(case)
    passed = [limit for step in found.sections[0].steps for limit in step.worked.exceeded]
    text = printed(found)
    assert len(re.findall(r"^\(\d\) ", text, flags=re.MULTILINE)) == 1
    # The loads at first yield and at shakedown have wider patches than the load itself.
    values = [limit.value for limit in passed if limit.what == "a/t, the plate's thickness"]
    assert len(values) == len(passed)
    assert max(values) > 1.1 * min(values)
    note = only(by_hand_page(found), "(1)", "a/t, the plate's thickness", "solid 150")
    assert figures(note)[-1] == pytest.approx(max(values), rel=6e-3)  # three digits


@pytest.mark.parametrize(("units", "shown"), [("SI", "460 MPa"), ("US customary", "66.72 ksi")])
def test_a_clause_out_of_scope_has_a_mark_and_no_verdict(units, shown):
    found = blocks(yield_strength=500.0, units=units, line_load=2000.0)
    clauses = as_text(found, WIDEST).split("Clauses of standards")[1]
    line = next(
        line for line in clauses.splitlines() if line.startswith("EN 1993-1-8 (2005), 3.13")
    )
    # 965 MPa (0.591 √(E q/D)) over 2.5 fy.
    *_, ratio, mark = line.split()
    assert ratio == "0.772"
    at = {"SI": "500 MPa", "US customary": "72.5 ksi"}[units]
    assert only(found, mark, "scope", f"fy must be at most {shown}", f"solid 150 {at}")


def test_a_ratio_above_1_is_called_so_without_a_verdict_too():
    # 8·150·500²/200e3 = 1500 N/mm; 23·75·700²/200e3 = 4226 N/mm.
    found = by_hand(stop(yield_strength=500.0, line_load=3400.0, plate=(400.0, 11.0)))
    text = printed(found).split("Clauses of standards")[1]
    ratios = {cells[0]: cells[-1] for cells in ratio_rows(text)}
    shown = {name.split(" (")[0]: ratio for name, ratio in ratios.items()}
    assert re.fullmatch(r"ABOVE 1: 2\.27 \(\d\)", shown["AASHTO LRFD"])
    assert re.fullmatch(r"0\.804( \(\d\))+", shown["EN 1337-4"])
    assert {c.check.satisfied for c in found.sections[0].clauses if "post on" in c.part} == {None}


def test_marks_behind_a_figure_ascend():
    marks = Marks()
    limits = [Limit(what, 2.0, 1.0, "at most") for what in "abc"]
    assert [marks.mark(some, "x") for some in (limits[:1], limits[2:], limits[::-1])] == [
        " (1)", " (2)", " (1) (2) (3)",
    ]  # fmt: skip


def test_clauses_tell_their_level_and_how_their_ratio_grows():
    found = by_hand(stop(TUBE, plate_held="simply supported", line_load=3000.0))
    shown = by_hand_page(found)
    (table,) = (b for b in shown if isinstance(b, Table) and b.title.startswith("Clauses"))
    for ((head, ratio, *_), (title, *_)), clauses in zip(
        table.groups, found.sections[0].clauses, strict=True
    ):
        check = clauses.check
        assert head == f"{check.clause.name}; {check.clause.level}"
        assert ratio == f"ratio{GROWTH[check.ratio_grows]}"
        assert title == f"  {check.clause.title}, {clauses.part}"
    assert len({group[0][1] for group in table.groups}) == 3
    assert only(shown, *filter(None, GROWTH.values()))


def test_a_bound_passed_by_little_does_not_look_kept():
    # A root at 1.0018 of its yield strength: "must be at most 1; solid 150 1." would be a riddle.
    found = by_hand(stop())
    section = found.sections[0]
    step = section.steps[1]
    over = replace(step, worked=step.worked.also(Limit("σ/Y", 1.0018, 1.0, "at most")))
    text = printed(replace(found, sections=(replace(section, steps=(over,)),)))
    note = re.search(r"σ/Y must be at most 1;.* solid 150 (\S+)\.$", text, flags=re.MULTILINE)
    assert float(note[1]) > 1.0


# What must be read with it


@pytest.mark.parametrize("sections", [[SOLID], [(100.0 + d, 20.0) for d in range(6)]], ids=len)
def test_what_each_clause_is_intended_for_stands_once(sections):
    found = by_hand(stop(*sections, corner=300.0))
    shown = by_hand_page(found)
    clauses = {c.check.clause.key: c.check.clause for s in found.sections for c in s.clauses}
    assert len(clauses) == 11
    for clause in clauses.values():
        applies = (f"here {clause.reach}", clause.carries)
        assert only(shown, clause.name, clause.text, clause.written_for, *applies)
    for text in (GOVERNS, *cautions(found.case, evenly=True)):
        assert only(shown, text)


def test_without_standards_there_is_no_table_of_clauses():
    text = page(families=())
    assert "lauses" not in text.split("Hand formulas")[1]
    assert "Caution" in text


def test_what_is_left_out_and_of_which_section():
    core = (150.0, 25.0, {"held_by": "rigid core", "name": "cored"})
    found = blocks(SOLID, core, cantilever=False)
    assert only(found, "left out", "every section", "post along its axis")
    assert only(found, "left out", "cored", "ring", "rigid core")
    assert not said(blocks(), "left out")


def test_what_was_given_stands_between_the_head_and_the_tables():
    case = stop(SOLID, TUBE, corner=300.0, margin=1.1)
    text = in_one_line(printed(by_hand(case)))
    given = text.partition(" Given ")[2].partition(" Hand formulas ")[0]
    assert given == in_one_line(" ".join(inputs(case)))


def test_head_says_what_the_case_is():
    title, head, *_ = blocks(friction=0.2)
    assert title.text == "invented for a test"
    assert only([head], POST_SUPPORTS["beam shear"].words, "400.0 N/mm", "friction 0.2")


# Layout


def test_no_line_is_wider_than_a_page():
    long = {"name": "a tube with a name that goes on and on " + "x" * 60}
    many = [(150.0 + n, 25.0, long | {"name": f"{long['name']}{n}"}) for n in range(5)]
    for units in ("SI", "US customary"):
        text = page(*many, corner=300.0, friction=0.2, yield_strength=500.0, units=units)
        assert max(map(len, text.splitlines())) <= 140
        assert "·" * 20 not in text


def test_long_names_are_folded_and_take_no_figure_away():
    sizes = [(150.0 + n, 25.0) for n in range(4)]
    keys = {"corner": 300.0, "friction": 0.2, "yield_strength": 500.0}
    short = page(*[(*size, {"name": f"n{k}"}) for k, size in enumerate(sizes)], **keys)
    long = page(*[(*size, {"name": "ж" * 100 + f"n{k}"}) for k, size in enumerate(sizes)], **keys)
    short, long = (text.split("Hand formulas", 1)[1] for text in (short, long))
    tables = [part.split("\n(1)")[0] for part in long.split("Clauses of standards")]
    assert [table.count("ж") for table in tables] == [4 * 100, 4 * 100]
    assert "…" not in long

    def figures(text):
        formulas = text.split("\n(1)")[0]
        return re.findall(r"(?<= )-?\d+\.\d+(?= |$)", formulas, re.MULTILINE)

    assert len(figures(short)) > 200
    assert figures(long) == figures(short)


def test_characters_of_markup_languages_stay():
    names = ["[x]", "[b]a[/b]", "[/]", "<i>&"]
    case = stop(*[(150.0 + n, 25.0, {"name": name}) for n, name in enumerate(names)])
    text = printed(by_hand(replace(case, title="Stop [red]A[/red] \\[b]")))
    assert text.startswith("Stop [red]A[/red] \\[b]\n")
    for name in names:
        assert text.count(name) >= 2  # over formulas and over clauses


def test_tables_of_several_sections_alone():
    # The page of solved sections prints the same tables with a head of its own.
    found = by_hand(stop(SOLID, TUBE))
    text = as_text(hand_tables(found.sections, found.case), WIDEST)
    assert in_one_line(text) in in_one_line(printed(found))


def test_what_is_along_the_post_is_true_of_each_case():
    """The sharing needs the solved contact: by hand the load is even in spite of [alignment]."""
    along, plain = by_hand_page(by_hand(along_case())), blocks()
    assert only(along, "caution", "does not share")
    assert only(along, "on average", "as even")
    assert not said(along, "own peak")
    for parts in (["[alignment]"], ["caution", "share"], ["on average"]):
        assert not said(plain, *parts)


@pytest.mark.parametrize("units", UNITS)
def test_what_the_post_hands_on_at_its_root(units):
    """80 kN at 900 mm with friction 0.3, in the units that are asked for."""
    shown = by_hand_page(by_hand(stop(SOLID, TUBE, friction=0.3, units=units)))
    (table,) = (b for b in shown if isinstance(b, Table) and b.title.startswith("At the root"))
    (kN, of_force), (kNm, of_moment) = UNITS[units]["force"], UNITS[units]["moment"]
    mm, of_length = UNITS[units]["length"]
    assert [column.head.split("[")[-1] for column in table.columns[1:]] == (
        [*3 * [f"{kN}]"], *4 * [f"{kNm}]"], f"{mm}]"]
    )
    forces = [80e3, 24e3, 80e3 * 1.09**0.5]
    expected = [f / of_force for f in forces] + [900 * f / of_moment for f in forces]
    expected += [24e3 * 75 / of_moment, 900 / of_length]
    ((name, *cells),) = table.groups[0]  # both are as wide, and stand together
    assert name == "solid 150, 150 x 25"
    assert [float(cell) for cell in cells] == pytest.approx(expected, rel=FOUR_DIGITS)
    without = by_hand_page(by_hand(stop(cantilever=False)))
    assert not any(isinstance(b, Table) and b.title.startswith("At the root") for b in without)


def test_the_edition_of_each_standard_and_a_newer_one_stand_once():
    shown = by_hand_page(by_hand(stop(TUBE)))
    for standard, newer in (
        ("AISC 360", "No newer"), ("AASHTO LRFD", "10th edition, 2024"),
        ("EN 1993-1-1", "edition 2022"), ("EN 1993-1-8", "edition 2024"),
    ):  # fmt: skip
        assert only(shown, f"{standard}, clauses of", newer)
