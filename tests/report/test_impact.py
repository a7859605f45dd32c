"""An impact as page, JSON, CSV, figure and folder."""

import csv
import json
from dataclasses import replace

import numpy as np
import pytest
from figures import check_legend, line_of
from motions import FIXED, FREE_FALL, moving, of_a_post_that_bends, of_sections
from saying import figures, only

from contactfe.assess.impact import impact_force
from contactfe.impact.history import history
from contactfe.report.blocks import Heading, Line, Table
from contactfe.report.figures.draw import figures as figures_for
from contactfe.report.figures.drawn import drawn
from contactfe.report.figures.impact import impact_figure
from contactfe.report.figures.ink import settings
from contactfe.report.impact import MOST_ROWS, impact_document, write_history
from contactfe.report.impact_given import along_the_axis
from contactfe.report.impact_page import impact_page
from contactfe.report.page import WIDEST, as_text

FORCE = {"load": {"force": "700 kN", "contact_length": "500 mm"}}
STATED = {"load": {"contact_length": "500 mm"}}
US = {"report": {"units": "US customary"}}
OVER = {"contact_length": "1200 mm"}


def page(result):
    return as_text(impact_page(result), WIDEST)


def row(text, label):
    """Cells behind the label of the first line that begins with it."""
    line = next(line for line in text.splitlines() if line.startswith(label))
    return line.removeprefix(label).split()


@pytest.fixture(scope="module")
def held():
    return impact_force(moving(scale=0.25))


def test_page_in_both_units(held):
    text = page(held)
    (impact,) = held.blows
    force = impact.peak_contact_force.value
    label = "peak contact force: force on the member"
    assert row(text, label) == ["F", "kN", f"{force / 1e3:.0f}", f"{force / 16e3:.2f}"]
    # C of α = 0.4 at 1:4: 0.25^1.8
    assert row(text, "coefficient of one") == ["C", "kN/(m/s)^0.4", "1000", "82.47"]
    found = impact_page(held)
    assert only(found, "floor: 2000 t", "gap 300 mm", "450 mm expected")
    assert only(found, "OUTSIDE its range", "α = 0.4, at most 0.1")
    assert only(found, "load of the case", f"{force / 1e3:.0f} kN")
    assert max(map(len, text.splitlines())) <= WIDEST
    us = page(impact_force(moving(**US)))
    assert row(us, label)[:3] == ["F", "kip", f"{force / 4448.2216:.1f}"]
    assert row(us, "velocity of the floor at closure") == ["v", "in/s", "27.66"]
    assert "prototype" not in us


@pytest.mark.parametrize("scale", [None, 0.25])
def test_every_row_of_a_page_has_a_cell_for_each_column(held, scale):
    result = replace(held, case=replace(held.case, scale=scale))
    tables = [block for block in impact_page(result) if isinstance(block, Table)]
    titles = ("Dampers", "The first impact", "The force beside", "Where the energy", "Beside")
    assert all(table.title.startswith(title) for table, title in zip(tables, titles, strict=True))
    for table in tables:
        assert {len(row) for group in table.groups for row in group} == {len(table.columns)}


def test_the_dampers_of_each_kind_stand_apart():
    damper = {"force": "1000 kN", "at_velocity": "1 m/s", "exponent": 0.4}
    result = impact_force(moving(motion__damper=[damper, damper | {"exponent": 1.0}]))
    dampers = next(block for block in impact_page(result) if isinstance(block, Table))
    assert [[row[3] for row in group] for group in dampers.groups] == [
        ["1", "1000", "0.4", "0"],
        ["1", "1000", "1", "0"],
    ]


@pytest.mark.parametrize(
    ("values", "tone", "parts"),
    [
        ({"load": OVER | {"force": "900 kN"}}, "bad", ["900.0 kN", "not cover"]),
        ({"load": OVER | {"force": "9000 kN"}}, "plain", ["9000 kN", "covers"]),
        (
            {"load": {"line_load": "9 kN/mm"}, "motion__bumper_spring": "1 kN/mm"},
            "bad", ["not known", "contact_length"],
        ),
    ],
)  # fmt: skip
def test_page_says_what_is_not_covered_or_not_known(values, tone, parts):
    found = impact_page(impact_force(moving(**values)))
    (line,) = (b for b in found if isinstance(b, Line) and "[load]" in b.text)
    assert only([line], *parts)
    assert line.tone == tone
    if "motion__bumper_spring" in values:
        assert only(found, "no closed form", "spring")


def near_the_gap():
    """A gap of 0.95 of the displacement: a tenth less does not close it."""
    return impact_force(moving(motion__gap="427.5 mm", **US))


def test_page_and_document_have_the_force_of_the_motions_near_the_one_stated(held):
    (impact,) = held.blows
    text = page(held)
    for one, label in zip(
        impact.nearby, ("displacement -10 %", "displacement +10 %", "v = ω·u0"), strict=True
    ):
        cells = row(text, label)
        assert float(cells[0]) == pytest.approx(one.displacement, rel=1e-3)
        assert float(cells[1]) == pytest.approx(one.velocity_at_closure / 1e3, rel=1e-3)
        assert float(cells[2]) == pytest.approx(one.peak_contact_force / 1e3, rel=1e-3)
        assert float(cells[5]) == pytest.approx(
            one.peak_contact_force / 16e3, rel=1e-3
        )  # of the specimen
        found = impact_document(held)["blows"][0]["sensitivity"][one.key]
        assert found["peak_contact_force"] == one.peak_contact_force
        assert (
            found["over_peak_contact_force"]
            == one.peak_contact_force / impact.peak_contact_force.value
        )
    assert "SENSITIVE" not in text
    content = impact_document(held)["blows"][0]
    assert content["sensitivity"]["sensitive"] is False
    assert content["sensitivity"]["gap_over_displacement"] == pytest.approx(2 / 3)
    assert "no ground motion" in content["labels"]["peak_travel"]


def test_page_warns_where_the_gap_is_near_the_displacement():
    result = near_the_gap()
    (impact,) = result.blows
    text = page(result)
    assert "SENSITIVE" in text
    assert row(text, "displacement -10 %")[1:3] == ["0", "0,"]
    force = float(row(text, "displacement +10 %")[2])
    assert force == pytest.approx(impact.nearby[1].peak_contact_force / 4448.2216, rel=1e-3)
    found = impact_document(result)["blows"][0]["sensitivity"]
    assert found["sensitive"] is True
    assert found["displacement_minus_10_percent"]["gap_closes"] is False
    assert found["displacement_minus_10_percent"]["peak_contact_force"] == 0.0
    with settings():
        figure = impact_figure(result, impact)
    (whole, *_) = figure.axes
    (tenth,) = [line for line in whole.get_lines() if "10 %" in line.get_label()]
    assert list(tenth.get_ydata()) == pytest.approx([0.0, force], rel=1e-3)
    assert whole.get_ylim()[1] > force
    (caption,) = figure.artists
    assert "SENSITIVE" in " ".join(caption.get_text().split())


def test_a_motion_near_that_is_not_found_says_so(held):
    (impact,) = held.blows
    lost = replace(impact.nearby[2], peak_contact_force=None, not_found="no end")
    level = replace(impact.levels[0], nearby=(*impact.nearby[:2], lost))
    result = replace(held, blows=(replace(impact, levels=(level,)),))
    text = page(result)
    assert row(text, "v = ω·u0")[2:4] == ["not", "found"]
    assert "no end" in text
    found = impact_document(result)["blows"][0]["sensitivity"]["pseudo_velocity"]
    assert (found["peak_contact_force"], found["not_found"]) == (None, "no end")


def test_a_stated_velocity_has_no_motions_near_it():
    result = impact_force(moving(**FREE_FALL))
    assert impact_document(result)["blows"][0]["sensitivity"] is None
    text = page(result)
    assert "displacement +10 %" not in text
    assert "u0" not in text.partition("Caution")[0]


def test_page_of_energies_adds_up(held):
    text = page(held)
    cells = row(text, "sum")
    assert cells[1] == cells[4] == "100.00"
    shown = [
        float(row(text, label)[0])
        for label in (
            "floor, kinetic", "bumper, kinetic",
            "isolation, work against its stiffness since closure",
            "contact, elastic", "taken by the dampers",
        )
    ]  # fmt: skip
    assert sum(shown) == pytest.approx(float(cells[0]), abs=0.03)
    assert "dashpot" not in text.partition("error of the balance")[0].partition("Where")[2]


def test_page_of_sections():
    found = impact_page(of_sections())
    assert "solid: 150 mm solid" in [b.text for b in found if isinstance(b, Heading)]
    assert only(found, "contact:", "own force–approach curve")
    assert only(found, "no closed form", "own curve")


def test_page_says_what_of_the_posts_bending_is_in_it():
    def told(**values):
        case = moving(**{"contact_law": {"law": "section"}, **FORCE, **values})
        return list(along_the_axis(case))

    assert only(told(), "not included", "no [cantilever]")
    arm = {"cantilever": {"length": "300 mm"}}
    either = {"tilt": "1.5 deg", "misalignment": "0.5 deg"}
    for alignment, numbers, *parts in (
        ({}, [300.0], "straight; one that turned"),  # as assumed
        ({"alignment": {}}, [300.0], "straight."),
        ({"alignment": {"tilt": "1.5 deg"}}, [300.0, 1.5], "tilt of"),
        ({"alignment": either}, [300.0, 1.5, 0.5], "tilt of", "hardest"),
    ):
        stands = only(told(**arm, **alignment), "in series", *parts)
        assert figures(stands) == numbers
    # A post on a rigid core does not bend as a tube does.
    tube = {"outside_diameter": "150 mm", "wall": "30 mm"}
    both = [{"name": "a", **tube}, {"name": "b", **tube, "held_by": "rigid core"}]
    assert only(told(**arm, section=both), "in series")
    assert only(told(**arm, section=both), "not included", "of the post of “b” along")
    # A post that two plates squeeze is not bent.
    squeezed = [{"name": "a", "outside_diameter": "150 mm", "held_by": "diametral"}]
    assert told(**arm, section=squeezed) == []
    assert only(along_the_axis(moving(**STATED, **arm, alignment={})), "mean", "compare")
    assert not list(along_the_axis(moving(**STATED)))


def test_page_and_document_have_the_posts_deflection():
    result = of_a_post_that_bends()
    found = next(f.value for f in result.blows[0].figures if f.key == "post_deflection")
    text = page(result)
    label = "deflection of the post then, in the middle of the contact"
    assert row(text, label) == ["w", "mm", f"{found:.5f}"]
    content = impact_document(result)
    assert content["blows"][0]["post_deflection"] == found
    # The root of a post of 345 MPa, bent by that force.
    (root,) = (b for b in impact_page(result) if isinstance(b, Line) and "ABOVE YIELD" in b.text)
    assert root.tone == "bad"
    label = "bending stress at the root under F in the middle, elastic"
    stress = content["blows"][0]["root_bending_stress"]
    assert row(text, label) == ["σb", "MPa", f"{stress:.0f}"]
    assert only([root], f"{stress:.0f} MPa", "345 MPa")
    assert stress > 345.0
    hard = replace(result.case, sections=(replace(result.case.sections[0], name="hard"),))
    steel = replace(hard.post.steel, yield_strength=1.01 * stress)
    hard = replace(hard, post=replace(hard.post, steel=steel))
    assert "ABOVE YIELD" not in page(replace(result, case=hard))
    assert only(content["given"], "300 mm", "in series")


@pytest.fixture(scope="module")
def at_levels():
    return impact_force(
        moving(
            motion__displacement=None,
            motion__level=[
                {"name": "design", "displacement": "280 mm", "must_engage": False},
                {"name": "record", "velocity": "0.5 m/s"},
                {"name": "MCE", "displacement": "450 mm", "damping": 0.1},
            ],
            motion__displacement_limit="400 mm",
        )
    )


class TestLevels:
    """Three levels of hazard, of which the first does not engage the stop and the last governs."""

    def test_page(self, at_levels):
        result = at_levels
        (impact,) = result.blows
        found, text = impact_page(result), page(result)
        assert only(found, "peak contact force", "MCE", "governs", "0.7466 m/s")
        assert only(found, "design", "does not engage", "10 % more")
        assert only(found, "½·M·v²", "493.5 kN·m", "557.3 kN·m")
        assert only(found, "without it", "450 mm", "takes off")
        assert only(found, "floor in free vibration", "MCE", "fails", "400 mm")
        levels = next(b for b in found if isinstance(b, Table) and b.title.startswith("Levels"))
        (rows,) = levels.groups
        assert [(row[0], row[1], row[2]) for row in rows] == [
            ("design", "280", "no"), ("record", "", "yes"), ("MCE", "450", "yes")
        ]  # fmt: skip
        assert float(rows[2][4]) == pytest.approx(impact.peak_contact_force.value / 1e3, rel=1e-3)
        assert rows[0][4] == rows[0][5] == "0"
        assert float(rows[0][6]) > 0.0
        assert (rows[1][5], rows[1][6]) == ("", "")
        checks = next(b for b in found if isinstance(b, Table) and b.title.startswith("Checks"))
        assert [row[4].text for row in checks.groups[0]].count("FAILS") == 2
        assert max(map(len, text.splitlines())) <= WIDEST
        for table in (levels, checks):
            assert {len(row) for row in table.groups[0]} == {len(table.columns)}
        with settings():
            (caption,) = impact_figure(result, impact).artists
        assert "MCE" in caption.get_text()

    def test_document_and_history(self, at_levels, tmp_path):
        result = at_levels
        content = json.loads(json.dumps(impact_document(result), allow_nan=False))
        (impact,) = content["blows"]
        design, record, mce = impact["levels"]
        assert [one["governs"] for one in impact["levels"]] == [False, False, True]
        assert (design["engages"], design["peak_contact_force"]) == (False, 0.0)
        assert design["sensitivity"]["displacement_plus_10_percent"]["gap_closes"] is True
        assert (record["displacement_without_stop"], record["taken_off_by_stop"]) == (None, None)
        assert mce["peak_contact_force"] == impact["peak_contact_force"]
        assert mce["displacement_with_stop"] == impact["displacement_with_stop"]
        assert impact["level"] == "MCE"
        assert [one["key"] for one in content["checks"]] == [
            "engagement_design", "load", "floor_displacement_design", "floor_displacement_record",
            "floor_displacement_mce",
        ]  # fmt: skip
        assert content["satisfied"] is False
        write_history(result, tmp_path / "history.csv")
        with (tmp_path / "history.csv").open(encoding="utf-8") as file:
            assert {row["level"] for row in csv.DictReader(file)} == {"MCE"}

    def test_a_page_without_levels_has_no_table_of_them(self, held):
        assert "Levels of hazard" not in page(held)
        (level,) = impact_document(held)["blows"][0]["levels"]
        assert (level["name"], level["governs"]) == (None, True)
        assert only(impact_page(held), "isolator damping is not stated", "0.7466 m/s")


def test_no_formulas_no_heading():
    result = impact_force(moving(**FREE_FALL))
    bare = replace(result, blows=tuple(replace(b, beside=(), damping=()) for b in result.blows))
    assert "Formulas" in page(result)
    assert "Formulas" not in page(bare)


def test_document(held):
    content = json.loads(json.dumps(impact_document(held), allow_nan=False))
    (impact,) = content["blows"]
    assert impact["peak_contact_force"] == held.blows[0].peak_contact_force.value
    assert impact["energies"]["largest_error"] < 1e-8
    parts = impact["energies"]["at_end"].values()
    assert sum(parts) == pytest.approx(impact["energies"]["brought"])
    assert [one["kind"] for one in impact["beside"]] == ["limit", "bound"]
    assert impact["beside"][0]["within_range"] is False
    small = content["specimen"]["blows"][0]
    assert small["peak_contact_force"] == pytest.approx(impact["peak_contact_force"] / 16)
    assert small["time_of_peak"] == pytest.approx(impact["time_of_peak"] / 2)
    assert small["overshoot"] == impact["overshoot"]
    assert content["units"]["velocity"] == "mm/s"
    assert content["satisfied"] is True


def test_history(held, tmp_path):
    write_history(held, tmp_path / "history.csv")
    with (tmp_path / "history.csv").open() as file:
        rows = list(csv.DictReader(file))
    (impact,) = held.blows
    assert len(rows) <= MOST_ROWS
    forces = [float(row["contact force [kN]"]) for row in rows]
    assert max(forces) == pytest.approx(impact.peak_contact_force.value / 1e3, rel=1e-7)
    dampers = [float(row["damper force [kN]"]) for row in rows]
    assert max(dampers) == pytest.approx(impact.peak_damper_force.value / 1e3, rel=1e-7)
    top = rows[forces.index(max(forces))]
    assert float(top["time [s]"]) == pytest.approx(impact.peak_contact_force.time, rel=1e-7)
    assert float(top["approach [mm]"]) == pytest.approx(
        float(top["floor displacement [mm]"]) - float(top["bumper displacement [mm]"]), rel=1e-5
    )
    assert float(rows[0]["floor velocity [mm/s]"]) == pytest.approx(702.48147)
    assert "section" not in rows[0]
    write_history(of_sections(), tmp_path / "sections.csv")
    with (tmp_path / "sections.csv").open() as file:
        assert next(csv.DictReader(file))["section"] == "solid"


@pytest.mark.parametrize("values", [{}, US])
def test_a_document_has_the_figure_with_its_peak_in_words(values):
    result = impact_force(moving(**values))
    (one,) = figures_for(result)
    (impact,) = result.blows
    made = drawn(one, text=False)
    assert made.svg.count("<svg") == 1
    for text in (made.caption, one.alt):
        assert result.case.display.force.text(impact.peak_contact_force.value) in text
        assert "\n" not in text


@pytest.mark.parametrize("values", [{}, US, FIXED | FREE_FALL])
def test_figure_shows_what_was_found(values):
    result = impact_force(moving(**values))
    (impact,) = result.blows
    with settings():
        figure = impact_figure(result, impact)
    whole, close, displacement, loop = figure.axes  # row by row
    units = result.case.display
    # Before a fixed stop the impact is its peak, and velocities take that panel's place.
    if not result.motion.held:
        _zero, floor = close.get_lines()
        speed = units.velocity.of(result.blows[0].response.impact.velocity)
        assert floor.get_ydata()[0] == pytest.approx(speed)
        assert floor.get_ydata()[-1] == pytest.approx(-speed, rel=1e-6)  # elastic
        assert units.velocity.name in close.get_ylabel()
    for ax in (whole, close) if result.motion.held else (whole,):
        lines = {line.get_label(): line for line in ax.get_lines()}
        force = lines["contact force"].get_ydata()
        # The steps are cut in four, and one of them is next to the peak.
        assert max(force) == pytest.approx(
            units.force.of(impact.peak_contact_force.value), rel=1e-3
        )
        assert ("force of the dampers" in lines) == bool(result.motion.dampers)
    assert close.get_xlim()[1] <= whole.get_xlim()[1]
    assert units.force.name in whole.get_ylabel()
    assert units.length.name in displacement.get_ylabel()
    assert max(loop.get_lines()[0].get_xdata()) == pytest.approx(
        units.length.of(impact.peak_approach.value), rel=1e-3
    )
    check_legend(figure)
    names = [text.get_text() for text in displacement.texts]
    assert names == (["floor", "bumper", "approach"] if result.motion.held else ["approach"])
    fine = history(impact.response, 4)
    time = units.time.of(fine.time)
    drawn = {"contact force": units.force.of(fine.contact_force)}
    if result.motion.dampers:
        drawn["force of the dampers"] = units.force.of(fine.damper_force)
    moved = {"approach of floor and stop": fine.approach}
    if result.motion.held:
        moved |= {"floor": fine.floor, "bumper": fine.bumper}
    for ax, lines in (
        (whole, drawn),
        (displacement, {label: units.length.of(of) for label, of in moved.items()}),
    ):
        for label, shown in lines.items():
            np.testing.assert_array_equal(line_of(ax, label).get_xdata(), time)
            np.testing.assert_array_equal(line_of(ax, label).get_ydata(), shown)
    peak = (
        units.time.of(impact.peak_contact_force.time),
        units.force.of(impact.peak_contact_force.value),
    )
    ((x,), (y,)) = line_of(whole, "peak contact force").get_data()
    assert (x, y) == peak
    assert max(loop.get_lines()[0].get_ydata()) == pytest.approx(peak[1], rel=1e-3)
    forms = [
        units.force.of(one.worked.value)
        for one in impact.beside
        if one.worked.within_range
        and one.worked.dimension == "force"
        and one.integrated is not None
    ]
    levels = [ln for ln in whole.get_lines() if "closed form" in str(ln.get_label())]
    assert [ln.get_ydata()[0] for ln in levels] == forms
