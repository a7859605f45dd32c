"""An envelope as JSON, CSV, text, figure and folder."""

import csv
import json
import math
import re
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from envelopes import case, failed, row
from figures import check_legend, heads
from matplotlib.figure import Figure
from restated import restated
from saying import figures, only, said

from contactfe.assess.compare import compare
from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope, envelope, governing
from contactfe.assess.value import Value
from contactfe.case import Contact
from contactfe.case.display import SI
from contactfe.errors import InputError
from contactfe.report import words
from contactfe.report.blocks import Table
from contactfe.report.csv_file import write_csv
from contactfe.report.envelope import (
    COLUMNS,
    DIGITS,
    FILES,
    FOLDER,
    envelope_document,
    judged,
    save_envelope,
)
from contactfe.report.envelope_page import (
    MOST_ROWS,
    WORST_ROWS,
    answer,
    contact_words,
    envelope_page,
    tie_words,
)
from contactfe.report.envelope_record import ROWS, row_record
from contactfe.report.figures.envelope import envelope_alt, envelope_figure
from contactfe.report.figures.ink import settings
from contactfe.report.page import WIDEST, as_text


def made(of, rows, assessed=None) -> EnvelopeResult:
    """A result of rows made up, section after section."""
    sections = []
    for section in of.sections:
        own = tuple(r for r in rows if r.section == section.name)
        worst, ties = governing(own)
        verdicts = tuple(
            "no verdict" if not r.solved
            else "passes" if r.post.satisfied and r.plate.satisfied else "fails"
            for r in own
        )  # fmt: skip
        sections.append(
            SectionEnvelope(section, own, verdicts, worst, ties, assessed if worst else None)
        )
    solved = sorted((s for s in sections if s.governing), key=lambda s: s.governing.most)
    names = tuple(s.section.name for s in solved)
    return EnvelopeResult(of, tuple(sections), names, names, (), ())


def rows(of, use=lambda _: 0.5):
    """A row for each section and contact; ``use`` gives the post's utilisation at a place."""
    return [
        row(
            section.name,
            contact,
            use(SimpleNamespace(name=section.name, wall=section.wall, **vars(contact))),
        )
        for section in of.sections
        for contact in of.envelope.contacts
    ]


@pytest.fixture(scope="module")
def result() -> EnvelopeResult:
    """Two contacts solved, and one made to have failed."""
    of = case(offset=["0 mm", "40 mm", "60 mm"])
    bad = failed(of.sections[0].name, of.envelope.contacts[2])
    return envelope(of, 1, known=[bad])


@pytest.fixture(scope="module")
def full(result):
    return result.sections[0].assessed


def test_the_document_is_plain_and_has_every_key_in_every_row(result):
    content = json.loads(json.dumps(envelope_document(result), allow_nan=False))
    assert {tuple(r) for r in content["rows"]} == {tuple(content["rows"][0])}
    first, _, last = content["rows"]
    one = result.rows[0]
    assert first["post"]["peak_von_mises"] == one.post.peak_von_mises.value
    assert first["post"]["peak_von_mises_uncertainty"] == one.post.peak_von_mises.uncertainty
    assert first["plate"]["zone"] == one.plate.peak_von_mises.at.zone
    assert first["tangential_load"] == 0.0
    assert first["motion"] == "no friction"
    assert first["largest_reaction"]["force"] == pytest.approx(300.0)
    assert first["error"] is None
    assert last["error"] == "it does not fit"
    assert last["post"] is last["utilisation"] is last["half_width"] is None
    assert [r["offset"] for r in content["rows"]] == [0.0, 40.0, 60.0]
    assert content["envelope"]["offsets"] == [0.0, 40.0, 60.0]
    (section,) = content["sections"]
    assert (section["contacts"], section["solved"], section["satisfied"]) == (3, 2, False)
    worst = result.sections[0].governing
    assert section["governing"]["offset"] == worst.contact.offset
    assert section["governing"]["utilisation"] == worst.utilisation.value
    assert section["at_governing"]["member"]["peak_von_mises"] == worst.post.peak_von_mises.value
    assert section["at_governing"]["member"]["first_yield_line_load"] > 600.0
    assert content["satisfied"] is False
    assert content["by_utilisation"] == [section["name"]]
    assert "contact" not in content["case"]


def test_angles_are_in_radians_and_degrees():
    of = case(angle=["15 deg"])
    content = envelope_document(made(of, rows(of), compare(replace(of, envelope=None))))
    assert content["rows"][0]["angle"] == pytest.approx(math.radians(15.0))
    assert content["rows"][0]["angle_degrees"] == pytest.approx(15.0)
    assert content["rows"][0]["tangential_ratio"] == pytest.approx(12.5 / 600.0)
    assert content["rows"][0]["tangential_ratio_uncertainty"] == pytest.approx(0.5 / 600.0)


def test_csv_has_a_line_for_each_row_and_units_in_the_header(result, tmp_path):
    save_envelope(result, tmp_path)
    with (tmp_path / "envelope.csv").open(newline="") as file:
        lines = list(csv.DictReader(file))
    assert [float(line["offset [mm]"]) for line in lines] == [0.0, 40.0, 60.0]
    for line, one in zip(lines, result.rows, strict=True):
        assert None not in line  # no cell without a header
        assert None not in line.values()
        if not one.solved:
            assert line["error"] == "it does not fit"
            assert line["post peak von Mises [MPa]"] == ""
            assert line["passes [yes/no]"] == "no"
        else:
            peak = one.post.peak_von_mises
            held = one.values["largest_reaction"].value
            for key, value in (
                ("post peak von Mises [MPa]", peak.value),
                ("post peak von Mises, uncertainty [MPa]", peak.uncertainty),
                ("largest reaction [N/mm]", held),
            ):
                assert float(line[key]) == pytest.approx(value, rel=1e-9)
            assert line["motion"] == "no friction"
            assert line["error"] == ""


def test_csv_has_neither_a_signed_nothing_nor_what_rounding_leaves(tmp_path):
    of = case(offset=["-1.2 in"], angle=["6 deg"])
    section, (at,) = of.sections[0].name, of.envelope.contacts
    one = row(section, replace(at, offset=-30.479999999999997, angle=0.10471975511965979))
    one.values["tangential_load"] = Value(4.4e-11, 0.12)
    one.values["tangential_ratio"] = Value(-0.0, 3.344757312429841e-05)
    write_csv(tmp_path / "a.csv", COLUMNS, [(one, "passes")], digits=DIGITS, decimals=DIGITS)
    (line,) = csv.DictReader((tmp_path / "a.csv").read_text().splitlines())
    assert (line["offset [mm]"], line["angle [deg]"]) == ("-30.48", "6")
    assert (line["tangential load [N/mm]"], line["tangential over normal load [1]"]) == ("0", "0")
    small = line["tangential over normal load, uncertainty [1]"]
    assert float(small) == pytest.approx(3.344757312429841e-05, rel=1e-5)


def test_a_saved_envelope_has_clean_figures(result, tmp_path):
    save_envelope(result, tmp_path)
    lines = list(csv.reader((tmp_path / "envelope.csv").read_text().splitlines()))[1:]
    numbers = [cell for line in lines for cell in line if re.fullmatch(r"-?[\d.e-]+", cell)]
    assert numbers
    for cell in numbers:
        assert not re.fullmatch(r"-0(\.0*)?", cell)
        assert len(re.sub(r"e.*|\D", "", cell).lstrip("0")) <= DIGITS


def plain(cell) -> str:
    return cell if isinstance(cell, str) else cell.text


def contacts_table(result) -> tuple[Table, list[dict[str, str]]]:
    """That of the first section, and the post's line of each contact by the heads of columns."""
    found = next(
        block for block in envelope_page(result)
        if isinstance(block, Table) and "contacts" in block.title
    )  # fmt: skip
    heads = [" ".join(column.head.split()) for column in found.columns]
    lines = [dict(zip(heads, map(plain, of[0]), strict=True)) for of in found.groups]
    return found, lines


def test_every_contact_stands_with_its_uncertainties_and_why_others_were_not_solved(result):
    text = as_text(envelope_page(result), WIDEST)
    assert max(map(len, text.splitlines())) <= 140
    table, lines = contacts_table(result)
    assert [line["offset [mm]"] for line in lines] == ["0", "40"]
    assert all(len(cells) == len(table.columns) for of in table.groups for cells in of)
    for of, line, one in zip(table.groups, lines, result.rows, strict=False):
        width = one.values["half_width"]
        assert line["peak von Mises [MPa]"] == words.pair(
            one.post.peak_von_mises, result.case.display.stress
        )
        assert float(line["half- width [mm]"]) == pytest.approx(width.value, rel=1e-3)
        assert plain(of[1][line_number(table, "half-")]).startswith("± ")
    page = envelope_page(result)
    assert "2 of 3" in text
    assert only(page, "offset 60 mm", "it does not fit")
    assert figures(only(page, "rows", "not be solved")) == [1, 3]
    assert "Invented stop $2$ [b]" in text
    assert "tube/120 [x] 25" in text


def line_number(table, head) -> int:
    return next(k for k, column in enumerate(table.columns) if column.head.startswith(head))


@pytest.mark.parametrize(("bad", "why"), [(0, 0), (20, WORST_ROWS)])
def test_of_many_contacts_the_page_shows_the_worst_and_why_a_few_were_not_solved(full, bad, why):
    of = case(offset={"from": "0 mm", "to": "31 mm", "count": 32})
    assert len(of.envelope.contacts) > MOST_ROWS
    made_up = rows(of, lambda at: 0.5 + 0.01 * at.offset)
    made_up[:bad] = [failed(of.sections[0].name, at) for at in of.envelope.contacts[:bad]]
    result = made(of, made_up, full)
    table, lines = contacts_table(result)
    assert [line["offset [mm]"] for line in lines] == [str(31 - k) for k in range(WORST_ROWS)]
    assert len(said(envelope_page(result), "does not fit")) == why
    assert f" {32 - WORST_ROWS - why} more " in table.note


def test_units_of_the_case_are_shown(full):
    of = case(offset=["25.4 mm"], units="US customary")
    text = as_text(envelope_page(made(of, rows(of), replace(full, case=of))), WIDEST)
    assert "[ksi]" in text
    assert "MPa" not in text
    assert "offset 1 in" in text


def test_verdicts_need_no_colour(full):
    of = case(offset=["0 mm", "1 mm", "2 mm"])
    result = made(of, rows(of, lambda at: (0.5, 0.995, 1.2)[int(at.offset)]), full)
    table, lines = contacts_table(result)
    assert [line["against yield"] for line in lines] == ["below", "NOT CLEAR", "ABOVE"]
    at = line_number(table, "against")
    assert [of[0][at].tone for of in table.groups] == ["good", "bad", "bad"]
    assert [line[""] for line in lines] == ["", "", ">"]


def test_the_answer_names_the_best_and_the_next_and_whether_they_differ():
    of = case(offset=["0 mm", "10 mm"], sections=2)
    names = [s.name for s in of.sections]

    def use(at):
        return (0.6 if at.name == names[0] else 0.5) + 0.01 * at.offset

    best, following, peak = answer(made(of, rows(of, use)))
    for text, name, value in (
        (best, names[1], "0.60 ± 0.01"),
        (following, names[0], "0.70 ± 0.01"),
        (peak, names[1], "252 ± 4 MPa"),
    ):
        assert only([text], f"“{name}”", value, "offset 10 mm, angle 0 deg, friction 0")
    assert figures(best)[0] == 2
    assert "uncertainty" not in following
    close = answer(made(of, rows(of, lambda at: 0.6 + 0.01 * (at.name == names[0]))))
    assert "uncertainty" in close[1]


def test_the_answer_says_what_is_missing():
    of = case(offset=["0 mm"], sections=2)
    one, two = (s.name for s in of.sections)
    stopped = row(one, Contact(), stopped="no memory")
    result = made(of, [stopped, failed(two, Contact())])
    assert not result.accurate
    assert made(of, [row(one, Contact()), failed(two, Contact())]).accurate
    sentences = answer(result)
    assert only(sentences, f"“{two}”", "not ranked")
    assert figures(only(sentences, "rows", "not be solved")) == [1, 2]
    assert figures(only(sentences, "accuracy")) == [1]


def test_ties_are_named_or_spanned():
    of = case(offset=["-5 mm", "0 mm", "5 mm", "9 mm"], angle=["0 deg", "9 deg"], friction=[0.1])
    units = of.display
    few = made(of, rows(of, lambda at: 0.5 + 0.05 * (at.offset == 0.0))).sections[0]
    tie = contact_words(Contact(0.0, math.radians(9.0), 0.1), units)
    assert tie_words(few, units).endswith(f": {tie}")
    many = made(of, rows(of, lambda at: 0.5 - 0.1 * (at.offset == 9.0))).sections[0]
    spans = ("5 others", "offset -5 to 5 mm", "angle 0 to 9 deg", "friction 0.1")
    assert only([tie_words(many, units)], *spans)
    none = made(of, rows(of, lambda at: 0.5 + 0.1 * at.offset + at.angle)).sections[0]
    assert tie_words(none, units) == ""


def drawn(result) -> Figure:
    with settings():
        return envelope_figure(result)


def panels(figure) -> dict:
    """Panels by title; more than one section would share titles."""
    return {ax.get_title(loc="left"): ax for ax in figure.axes if ax.get_title(loc="left")}


def marks(ax, body: str) -> list[tuple[float, float]]:
    """Where the marks of a body are in a panel, in the order of the envelope."""
    boxes = [box for box in ax.containers if box.get_label().startswith(body)]
    return [tuple(float(v[0]) for v in box.lines[0].get_data()) for box in boxes]


def test_few_angles_stand_side_by_side_over_offset():
    of = case(offset=["10 mm", "-10 mm", "0 mm"], angle=["5 deg", "0 deg"], friction=[0.0, 0.3])
    result = made(of, rows(of, lambda at: 0.8 + 0.001 * at.offset + at.friction / 3 + at.angle))
    figure = drawn(result)
    by_title = panels(figure)
    assert list(by_title) == ["friction 0", "friction 0.3"]
    ax = by_title["friction 0.3"]
    # A quarter of what a place has is left free, and each angle has half of the rest.
    there = [
        (
            at.offset + 10.0 * 0.75 / 2 * (0.5 if at.angle else -0.5),
            0.9 + 0.001 * at.offset + at.angle,
        )
        for at in of.envelope.contacts
        if at.friction == 0.3
    ]
    np.testing.assert_allclose(marks(ax, "post"), there)
    assert [line for line in ax.lines if len(line.get_xdata()) > 2] == []  # nothing joins them
    (allowed,) = [line for line in ax.lines if list(line.get_ydata()) == [1.0, 1.0]]
    assert allowed.is_dashed()
    assert [ax for ax in by_title.values() if ring(ax)] == [ax]
    assert ring(ax) == (pytest.approx(11.875), pytest.approx(0.91 + math.radians(5.0)))
    assert ax.get_xlabel() == "offset [mm]"
    assert {ax.get_ylabel() for ax in by_title.values()} == {"utilisation [1]"}
    assert check_legend(figure) == ["post, partial slip", "plate, partial slip"]
    assert said(caption_of(figure), "left to right", "angle 0 deg to angle 5 deg")


def test_what_the_contact_does_has_a_mark_of_its_own():
    of = case(offset=["-10 mm", "0 mm", "10 mm"], friction=[0.2])
    those = rows(of)
    those[1] = replace(those[1], motion="sticking")
    figure = drawn(made(of, those))
    (ax,) = panels(figure).values()
    forms = {box.get_label(): box.lines[0].get_marker() for box in ax.containers}
    assert len(forms) == 4
    assert len(set(forms.values())) == 2
    filled = {box.lines[0].get_markerfacecolor() for box in ax.containers}
    assert len(filled) == 2


@pytest.mark.parametrize("post", [0.6, 0.9])
def test_marks_are_over_what_is_allowed_which_may_be_far(post):
    of = restated(case(units="US customary", offset=["10 mm", "-10 mm", "0 mm"]), yield_margin=1.05)
    (section,) = of.sections
    those = [row(section.name, at, post + 0.001 * at.offset, 0.4) for at in of.envelope.contacts]
    figure = drawn(made(of, those))
    (ax,) = panels(figure).values()
    np.testing.assert_allclose(
        [(25.4 * x, y) for x, y in marks(ax, "post")],
        [(10.0, post + 0.01), (-10.0, post - 0.01), (0.0, post)], atol=1e-9,
    )  # fmt: skip
    for box in ax.containers:
        (bar,) = box.lines[2][0].get_segments()
        assert np.ptp(bar[:, 1]) == pytest.approx(0.02)
    assert any(line.is_dashed() for line in ax.lines) == (post == 0.9)
    assert bool(said(caption_of(figure), "above the scale")) == (post == 0.6)
    assert said(caption_of(figure), "yield / 1.05")


def caption_of(figure) -> str:
    (caption,) = figure.artists
    return " ".join(caption.get_text().split())


def ring(ax):
    found = [line for line in ax.lines if line.get_gid() == "governing"]
    return (found[0].get_xdata()[0], found[0].get_ydata()[0]) if found else None


def test_more_angles_than_offsets_run_along_x():
    of = case(offset=["0 mm"], angle=["0 deg", "5 deg", "10 deg"])
    (ax,) = panels(drawn(made(of, rows(of, lambda at: 0.5 + at.angle)))).values()
    assert ax.get_xlabel() == "angle [deg]"
    assert ring(ax)[0] == pytest.approx(10.0)


def test_friction_alone_runs_along_x():
    of = case(friction=[0.0, 0.1, 0.2, 0.3])
    (ax,) = drawn(made(of, rows(of, lambda at: 0.5 + at.friction))).axes
    assert ax.get_xlabel() == "friction [1]"
    assert ring(ax) == (0.3, pytest.approx(0.8))
    assert len(marks(ax, "post")) == 4


def test_many_of_both_are_a_map_with_isolines():
    eight = {"from": "-8 deg", "to": "8 deg", "count": 8}
    of = case(offset={"from": "-35 mm", "to": "35 mm", "count": 8}, angle=eight, friction=[0.2])
    uses = {at: 0.95 + 0.002 * at.offset + at.angle for at in of.envelope.contacts}
    name = of.sections[0].name
    result = made(of, [row(name, at, use, use - 0.05) for at, use in uses.items()])
    figure = drawn(result)
    post, plate = panels(figure).values()
    assert (plate.get_xlabel(), post.get_ylabel()) == ("offset [mm]", "angle [deg]")
    values = post.collections[0].get_array()
    expected = 0.95 + 0.002 * np.array(of.envelope.offsets)
    expected = expected + np.array(of.envelope.angles)[:, None]
    np.testing.assert_allclose(np.asarray(values).reshape(8, 8), expected)
    assert ring(post) == (35.0, pytest.approx(8.0))
    (bar,) = [ax for ax in figure.axes if ax.get_ylabel() == "utilisation [1]"]
    for ax in (post, plate):
        colours, *isolines = ax.collections
        assert bar.get_ylim() == pytest.approx(colours.get_clim())  # one scale
        low, high = colours.get_array().min(), colours.get_array().max()
        inside = [level for level in bar.get_yticks() if low < level < high and level != 1.0]
        assert [list(c.levels) for c in isolines] == [inside, [1.0]]
        # Each isoline on the colour of its level: WCAG asks for 3 of what is drawn.
        for level, edge in zip(isolines[0].levels, isolines[0].get_edgecolor(), strict=True):
            assert _contrast(edge, colours.cmap(colours.norm(level))) > 3.5
        assert isolines[1].get_path_effects()  # the heavy line has an edge of its own


def _contrast(one, other) -> float:
    def luminance(colour):
        of = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour[:3]]
        return 0.05 + 0.2126 * of[0] + 0.7152 * of[1] + 0.0722 * of[2]

    low, high = sorted(map(luminance, (one, other)))
    return high / low


def test_negative_numbers_of_a_figure_have_the_minus_sign():
    of = case(offset=["-10 mm", "-20 mm", "-30 mm"], angle=["-5 deg", "5 deg"])
    result = made(of, rows(of, lambda at: 0.5 - 0.01 * at.offset))
    for text in (caption_of(drawn(result)), envelope_alt(result)):
        assert "offset −30 mm, angle" in text
        assert not re.search(r"-\d", text)


def test_what_was_not_solved_is_a_gap_and_a_cross():
    of = case(offset=["0 mm", "5 mm", "10 mm"])
    those = rows(of)
    those[1] = failed(of.sections[0].name, Contact(5.0))
    figure = drawn(made(of, those))
    post = panels(figure)["friction 0"]
    assert [name for name, _ in heads(figure)] == [of.sections[0].name]
    assert [x for x, _ in marks(post, "post")] == [0.0, 10.0]
    (cross,) = [line for line in post.lines if line.get_gid() == "unsolved"]
    assert list(cross.get_xdata()) == [5.0]
    assert said(caption_of(figure), "crosses", "not solved")


def test_at_most_four_sections_and_three_frictions_are_drawn():
    of = case(offset=["0 mm", "5 mm"], friction=[0.0, 0.1, 0.2, 0.3, 0.4], sections=5)
    # The worst friction is neither the least nor the largest; the first section is the worst.
    result = made(
        of, rows(of, lambda at: 0.9 - 0.01 * at.wall - abs(at.friction - 0.1) + at.offset / 100)
    )
    figure = drawn(result)
    assert list(panels(figure)) == [f"friction {mu}" for mu in ("0", "0.1", "0.4")]
    assert [name for name, _ in heads(figure)] == list(result.by_utilisation[:4])
    assert of.sections[0].name not in result.by_utilisation[:4]
    assert only(caption_of(figure), "3 of 5 frictions")
    assert only(caption_of(figure), "4 of 5 sections")
    assert said(envelope_alt(result), result.by_utilisation[0], "post governs at", "friction 0.1")


def test_the_folder_holds_all_files_and_the_rows(result, tmp_path):
    folder = tmp_path / "here"
    files = save_envelope(result, folder)
    assert {f.name for f in files} == {*FILES, ROWS} == {p.name for p in folder.iterdir()}
    assert json.loads((folder / "envelope.json").read_text())["files"] == [*FILES, ROWS]
    with row_record(result.case, folder) as record:
        assert list(record) == list(result.rows)
    before = (folder / ROWS).read_bytes()
    (folder / "note.txt").write_text("mine")
    save_envelope(result, folder)  # its own: again, and nothing twice
    assert (folder / ROWS).read_bytes() == before
    assert (folder / "note.txt").read_text() == "mine"


def test_folders_of_others_are_refused(result, tmp_path):
    """A folder of an envelope is known by its record of rows."""
    of, mine, theirs = result.case, tmp_path / "mine", tmp_path / "theirs"
    save_envelope(result, mine)
    FOLDER.check(of, mine)
    for other in (replace(of, title="Another"), replace(of, source=str(tmp_path / "other.toml"))):
        with pytest.raises(InputError, match=r"mine: .*envelope of another case.* from data"):
            FOLDER.check(other, mine)
    theirs.mkdir()
    (theirs / "thesis.txt").touch()
    with pytest.raises(InputError, match=r"thesis\.txt, .*rows\.jsonl"):
        FOLDER.check(of, theirs)


def test_csv_has_its_angles_in_degrees():
    of = case(angle=["-10 deg", "20 deg"])
    (angle,) = (column for column in COLUMNS if column.head(SI) == "angle [deg]")
    found = [angle.shown(item, SI) for item in judged(made(of, rows(of)))]
    assert found == pytest.approx([-10.0, 20.0])
