"""What is written of a sizing, from trials that are made up."""

import csv
import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from commands import ACCEPTED, SMALL
from figures import check_legend, heads, line_of
from matplotlib.figure import Figure
from restated import restated
from saying import figures, only, said
from sizings import AT_EDGE, BEYOND, DATA, case, check, contact, pool

from contactfe import cli
from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.sizing.run import size
from contactfe.case import case_from_dict
from contactfe.case.alignment import Alignment
from contactfe.case.display import significant
from contactfe.case.reader import read_tables
from contactfe.report import words
from contactfe.report.blocks import Heading, Line, Table
from contactfe.report.check_names import short
from contactfe.report.figures.sizing import sizing_alt, sizing_figure
from contactfe.report.page import WIDEST, as_text
from contactfe.report.sizing import FILES, save_sizing, sizing_document
from contactfe.report.sizing_page import sizing_page
from contactfe.report.sizing_record import TRIALS
from contactfe.report.sizing_words import answer

MP = pytest.MonkeyPatch


CASES = Path(__file__).parents[2] / "cases"


def solved(stated, **how):
    with MP.context() as patch:
        pool(patch, **how)
        return size(stated)


@pytest.fixture(scope="module")
def passing():
    return solved(case(stock=["bored bar"]))


@pytest.fixture(scope="module")
def failing():
    return solved(case("380 MPa", "US customary", scale=0.25))


def text(result):
    return as_text(sizing_page(result), WIDEST)


def answered(result):
    (found,) = result.diameters
    return found, answer(found, result.case)


def test_the_answer_states_walls_edges_and_stock(passing):
    found, answers = answered(passing)
    (band,) = found.passing
    for wall, *parts in (
        (band.least, f"{band.most.wall:.2f} mm", f"{band.least.mass_per_length:.2f}"),
        (band.fails_below, "thinner", "not pass", f"{band.fails_below.governing.most:.3f}"),
        (band.fails_above, "thicker", "not pass", f"{band.fails_above.governing.most:.3f}"),
    ):
        assert only(answers, f"{wall.wall:.2f} mm ({wall.share:.3f} Ø)", *parts)
    solid, best = (
        found.walls[-1].stress_concentration.value,
        found.least_concentration.wall.stress_concentration.value,
    )
    assert only(answers, f"{100 * (1 - best / solid):.1f} %", "solid bar")
    assert only(answers, "that wall passes.")
    assert only(answers, "9 sizes", "bored bar 150, bore 110 mm", "lightest", "mill")
    assert only(answers, "ASME B36.10M NPS 5 XXS (0.730, Ø 141.3 mm)")
    assert only(answers, "none reaches", "1 of these", "0.75", '[sizing] stock = ["EN 10220"]')


def test_a_best_wall_that_catalogue_pipe_reaches_is_said_to_be_reached():
    """The statement follows from the numbers: here the least is at a wall of 0.11 Ø."""
    _, answers = answered(solved(case(), contact=lambda share: 400.0 + 900.0 * abs(share - 0.125)))
    assert only(answers, "do reach")
    assert not said(answers, "none reaches")


def test_what_cannot_be_met_is_said_with_what_would_do(failing):
    found, answers = answered(failing)
    most = found.closest_to_passing.wall.governing.most
    assert only(answers, "no wall passes", "1.0", f"of the post, {most:.3f}")
    assert only(answers, f"{found.load_factor_to_pass:.3f} of the loads")
    assert only(answers, "yield strength", f"{most * 380.0 / 6.894757:.1f} ksi of the post")
    page = text(failing)
    assert "5.9055 in (specimen 1:4: 1.4764 in)" in page
    assert "[ksi]" in page
    assert "MPa" not in page


def test_the_best_of_those_that_pass_is_named_where_the_best_does_not(passing):
    found, answers = answered(
        solved(case(), hand=lambda share: (check(0.9 if share > 0.3 else 1.1),))
    )
    assert not found.least_concentration.wall.passes
    least = min(
        (w for w in found.walls if w.passes), key=lambda wall: wall.stress_concentration.value
    )
    assert only(answers, "tried that pass", f"{least.wall:.2f} mm ({least.share:.3f} Ø)")
    assert only(answers, "that wall does not pass")
    assert not said(answered(passing)[1], "tried that pass")


def test_a_check_that_no_wall_changes_stands_beside_the_answer(tmp_path):
    result = solved(case(stock=["bored bar"]), hand=lambda _: (check(1.94, key="aisc_360.j2_4"),))
    found, answers = answered(result)
    assert only(answers, "whatever the wall", "a clause, 1.940")
    assert not said(answers, "yield strength")  # a clause need not go by it
    page = text(result)
    top = page.split("\nOutside diameter")[0]
    row = next(line for line in top.splitlines() if line.startswith(" 150 "))
    least, most = found.passing[0].least, found.passing[0].most
    assert f"{least.wall:.2f} to {most.wall:.2f}†" in row
    assert "AISC J2.4 1.940" in top
    walls = page.split("\nWalls\n")[1]
    assert " yes† " in walls
    assert " yes " not in walls
    document = sizing_document(result)
    (of,) = document["diameters"]
    assert [c["key"] for c in of["unchanging_checks"]] == ["aisc_360.j2_4"]
    assert of["unchanging_checks"][0]["verdict"] == "fails"
    assert of["smallest_wall"] == least.wall
    assert (of["satisfied"], document["satisfied"]) == (False, False)
    assert not any(wall["passes"] for wall in of["walls"])
    assert {w["wall"] for w in of["walls"] if w["passes_what_walls_change"]} == {
        w.wall for w in found.walls if w.passes_what_walls_change
    }
    save_sizing(result, tmp_path / "out")
    with (tmp_path / "out" / "size.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["passes [yes/no]"] for row in rows} == {"no"}
    assert sum(row["passes what walls change [yes/no]"] == "yes" for row in rows) > 10


@pytest.mark.parametrize(("ratio", "passes"), [(0.3, True), (1.3, False)])
def test_a_clause_outside_its_scope_stands_in_the_way_by_its_ratio_alone(ratio, passes):
    def out(share):
        more = 0.0 if passes else share
        return (check(ratio + more, exceeded=(BEYOND,), applies=not passes),)

    found, answers = answered(solved(case(), hand=out))
    assert said(answers, "a clause", "L/D = 1.5, at least 2")
    assert found.satisfied is passes
    assert not said(answers, "no wall passes")
    assert bool(said(answers, "no verdict", "L/D")) is not passes


def test_that_no_thicker_tube_is_drilled_is_said():
    result = solved(case("3000 MPa", least_bore="30 mm"))
    assert only(answered(result)[1], "thicker", "60.00 mm (0.400 Ø)", "30.00 mm", "least_bore")
    assert sizing_document(result)["diameters"][0]["least_bore"] == 30.0


def test_the_page_marks_the_answers_and_shows_no_more_than_it_holds(passing):
    page = sizing_page(passing)
    lines = as_text(page, WIDEST).splitlines()
    assert max(map(len, lines)) <= 140
    rows = [line for line in lines if line.startswith(("S ", "L ", "K "))]
    assert [row[0] for row in rows[:3]] == ["S", "K", "L"]
    (walls,) = (block for block in page if isinstance(block, Table) and block.title == "Walls")
    assert figures(walls.note) == [len(walls.groups[0]), len(passing.diameters[0].walls)]
    assert only(page, "limits", "nominal wall alone")
    assert only(page, "bored bar:", "EN 10060")


def test_the_files_hold_every_wall(passing, tmp_path):
    written = save_sizing(passing, tmp_path / "out")
    assert [path.name for path in written] == [*FILES, TRIALS]
    (found,) = passing.diameters
    document = json.loads((tmp_path / "out" / "size.json").read_text())
    (of,) = document["diameters"]
    assert len(of["walls"]) == len(found.walls)
    assert of["smallest_wall"] == found.passing[0].least.wall
    assert of["least_concentration"]["wall"] == found.least_concentration.wall.wall
    assert document["satisfied"] is True
    with (tmp_path / "out" / "size.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(found.walls) + len(found.stock.walls)
    for row, wall in zip(rows, found.walls, strict=False):
        assert float(row["wall [mm]"]) == wall.wall
        assert float(row["contact zone peak von Mises [MPa]"]) == wall.places[0].value
        assert row["passes [yes/no]"] == ("yes" if wall.passes else "no")
        edge = wall.places[4]
        assert row["edge of contact peak von Mises [MPa]"] == (
            "" if edge is None else f"{edge.value}"
        )
    edges = [wall["places"]["edge of contact"]["peak_von_mises"] for wall in of["walls"]]
    contacts = [wall["places"]["contact zone"]["peak_von_mises"] for wall in of["walls"]]
    assert edges == [
        value if wall.share < AT_EDGE else None
        for value, wall in zip(contacts, found.walls, strict=True)
    ]
    assert None not in edges[:5]
    assert rows[len(found.walls) - 1]["bore under load peak von Mises [MPa]"] == ""  # solid


def test_walls_that_were_not_solved_stand_in_all_files(tmp_path):
    result = solved(case(), refused=0.1)
    document = sizing_document(result)
    first = document["diameters"][0]["walls"][0]
    assert first["error"] == "[load]: it is too much"
    assert first["post_peak_von_mises"] is None
    json.dumps(document, allow_nan=False)
    assert "not solved" in text(result)
    save_sizing(result, tmp_path / "out")


def test_the_figure_has_a_column_a_diameter_and_marks_what_passes():
    result = solved(case(outside_diameter=["140 mm", "150 mm"]))
    figure = sizing_figure(result)
    assert isinstance(figure, Figure)
    bars = [p for ax in figure.axes for p in ax.patches if p.get_gid() == "passes"]
    assert len(bars) == 2
    for bar, found in zip(bars, result.diameters, strict=True):
        assert bar.get_x() == pytest.approx(found.passing[0].least.wall)
        assert bar.get_x() + bar.get_width() == pytest.approx(found.passing[0].most.wall)
    strips = [p for ax in figure.axes for p in ax.patches if p.get_gid() == "bore under load"]
    for strip, found in zip(strips, result.diameters, strict=True):
        # up to halfway between the last wall that the bore governs and the next
        last = max(w.wall for w in found.walls if w.governing_place == "bore under load")
        assert last < strip.get_x() + strip.get_width() < last + 0.02 * found.outside_diameter
    rings = [line for ax in figure.axes for line in ax.lines if line.get_gid() == "best"]
    assert [float(line.get_xdata()[0]) for line in rings] == [
        found.least_concentration.wall.wall for found in result.diameters
    ]


def test_every_line_of_the_figure_is_what_it_says_in_the_report_s_units():
    of = restated(
        case(units="US customary", outside_diameter=["140 mm", "150 mm"]), yield_margin=1.2
    )
    result = solved(of)
    figure = sizing_figure(result)
    inch, per_inch = 25.4, 4448.2216 / 25.4
    ksi = per_inch / inch
    check_legend(figure)
    first, second = result.diameters
    assert [name for name, _ in heads(figure)] == [
        f"Ø {of.display.length.text(diameter)}" for diameter in (140.0, 150.0)
    ]
    for number, found in enumerate((first, second)):
        walls = found.walls
        _, stress, _, concentration, load = figure.axes[number::2]
        x = [wall.wall / inch for wall in walls]

        def drawn(ax, values, unit, label=None, x=x):
            lines = [ln for ln in ax.get_lines() if len(ln.get_xdata()) == len(x)]
            (one,) = lines if label is None else [line_of(ax, label)]
            figures = np.array([np.nan if v is None else v.value for v in values])
            np.testing.assert_allclose(one.get_xdata(), x)
            np.testing.assert_allclose(unit * one.get_ydata(), figures, rtol=1e-6)
            band = one.axes.collections[list(one.axes.get_lines()).index(one)]
            tops = band.get_paths()[0].vertices[:, 1].max()
            highest = np.nanmax([np.nan if v is None else v.value + v.uncertainty for v in values])
            assert unit * tops == pytest.approx(highest, rel=1e-6)

        for place, name in enumerate(("contact zone", "bore under load", "bore at side")):
            drawn(stress, [wall.places[place] for wall in walls], ksi, name)
        drawn(stress, [wall.plate_peak_von_mises for wall in walls], ksi, "plate")
        post = line_of(stress, "allowed")
        assert ksi * post.get_ydata() == pytest.approx([460.0 / 1.2] * 2)
        plate = stress.get_lines()[-1]
        assert ksi * np.array(plate.get_ydata()) == pytest.approx([890.0 / 1.2] * 2)
        drawn(concentration, [wall.stress_concentration for wall in walls], 1.0)
        (alike,) = (p for p in concentration.patches if p.get_gid() == "alike")
        width = found.least_concentration.alike_to - found.least_concentration.alike_from
        assert inch * alike.get_width() == pytest.approx(width)
        drawn(load, [wall.first_yield_line_load for wall in walls], per_inch)
        assert per_inch * np.array(load.get_lines()[-1].get_ydata()) == pytest.approx([1500.0] * 2)


def test_the_scales_hold_what_decides_and_show_the_relief():
    """However far beyond what is allowed the thinnest walls are."""
    result = solved(case(outside_diameter=["140 mm", "150 mm"]))
    figure = sizing_figure(result)
    walls = [wall for found in result.diameters for wall in found.walls]
    _, stress, _, concentration, load = figure.axes[::2]
    low, high = stress.get_ylim()
    assert max(wall.post_peak_von_mises.value for wall in walls) > 2.0 * high
    for value in (
        460.0,
        *(wall.post_peak_von_mises.value for wall in walls if wall.passes or wall.solid),
    ):
        assert low < value < high
    for ax, values in (
        (
            stress,
            [wall.post_peak_von_mises.value for wall in walls if wall.outside_diameter == 140.0],
        ),
        (concentration, [wall.stress_concentration.value for wall in walls[: len(walls) // 2]]),
    ):
        relief = values[-1] - min(values)  # of the best wall beside the solid bar
        assert relief > 0.15 * np.diff(ax.get_ylim())[0]
    assert load.get_ylim()[0] < 1500.0 < load.get_ylim()[1]
    for result_ in (result, solved(case("3000 MPa"))):
        words_ = sizing_alt(result_)
        for found in result_.diameters:
            ends = (
                found.passing[0].least.wall,
                found.passing[-1].most.wall,
                found.least_concentration.wall.wall,
            )
            assert set(np.round(ends, 1)) <= {round(v, 1) for v in figures(words_)}


def test_the_bar_that_passes_by_itself_is_drawn():
    result = solved(case("3000 MPa"))
    bars = [p for ax in sizing_figure(result).axes for p in ax.patches if p.get_gid() == "passes"]
    tubes, bar = bars
    assert tubes.get_x() + tubes.get_width() == pytest.approx(65.0)
    assert bar.get_x() > 65.0
    assert bar.get_x() + bar.get_width() == pytest.approx(75.0)
    assert bar.get_width() > 0.5


def test_the_command(tmp_path, monkeypatch):
    pool(monkeypatch)
    path = tmp_path / "stop.toml"
    path.write_text(SMALL + "[standards]\napply = []\n")
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(cli.cli, ["size", str(path), "--strict", "--json", "copy.json"])
    assert done.exit_code == 1, done.output
    assert "NO WALL PASSES" in done.output
    assert "5 files " in done.output
    assert json.loads((tmp_path / "copy.json").read_text())["satisfied"] is False
    (tmp_path / "empty").mkdir()
    monkeypatch.chdir(tmp_path / "empty")
    done = CliRunner().invoke(cli.cli, ["size", str(path), "--json", "-"])
    assert done.exit_code == 0
    assert json.loads(done.output)["title"] == "Test stop"
    assert list((tmp_path / "empty").iterdir()) == []


@pytest.mark.parametrize(("accept", "status"), [("", 1), (ACCEPTED, 0)])
def test_strict_asks_for_what_is_open_though_walls_pass(tmp_path, monkeypatch, accept, status):
    pool(monkeypatch)
    path = tmp_path / "stop.toml"
    path.write_text(SMALL.replace("345 MPa", "690 MPa") + "[standards]\napply = []\n" + accept)
    done = CliRunner().invoke(cli.cli, ["size", str(path), "--strict", "--json", "-"])
    assert done.exit_code == status, done.output
    content = json.loads(done.output)
    assert content["satisfied"] is True
    assert all(bool(item["accepted"]) == bool(accept) for item in content["open_items"])


def test_the_answer_stands_first_and_once(passing, failing):
    page = text(passing)
    (found,) = passing.diameters
    top = page.split("\nOutside diameter")[0].splitlines()
    row = next(line for line in top if line.startswith(" 150 "))
    least, most = found.passing[0].least, found.passing[0].most
    assert f"{least.wall:.2f} to {most.wall:.2f}" in row
    assert f"{least.mass_per_length:.2f}" in row
    assert f"{found.least_concentration.wall.wall:.2f}" in row
    assert row.split("bored bar 150, bore")[0].split()[-1] == "yes"
    assert "NO WALL PASSES" not in "".join(top)
    page = sizing_page(failing)
    heads = [k for k, block in enumerate(page) if isinstance(block, Heading)]
    top, closest = page[: heads[1]], failing.diameters[0].closest_to_passing.wall
    assert " NONE " in as_text(top, WIDEST)
    (line,) = (b for b in top if isinstance(b, Line) and "NO WALL PASSES" in b.text)
    assert line.tone == "bad"
    assert f"{closest.wall / 25.4:.3f} in" in line.text
    assert f"von Mises post {closest.governing.most:.3f}" in line.text
    assert "FE plate" not in line.text  # which passes
    assert f"{failing.diameters[0].load_factor_to_pass:.3f} of the loads" in line.text


def test_more_bands_than_one_stand_in_the_answer():
    """Walls that pass on either side of one that a clause refuses."""

    def refuse(share):
        ratio = 1.4 - abs(share - 0.17) / 0.02
        return (check(ratio, key="en_1337_4.roller", label="EN 1337-4: x"),)

    result = solved(case("460 MPa"), hand=refuse)
    (found,) = result.diameters
    assert len(found.passing) == 2
    page = text(result)
    row = next(line for line in page.splitlines() if line.startswith(" 150 "))
    assert row.count(" to ") == 2
    assert "EN 1337-4 " in page  # in short beside the wall,
    assert "  EN 1337-4: EN 1337-4: x." in page  # and spelled out once


def test_a_row_of_the_page_is_one_line():
    """Whatever governs: checks have short names, and stock sizes stand below their list."""
    long = "hoop stress, bore under the load, exact series, by hand"
    result = solved(
        case(stock=["ASME B36.10M"], checks=["hand"], scale=0.25),
        hand=lambda share: (
            check(1.2 + share, "hand", "ring_bore_under_load", long, exceeded=(BEYOND,)),
        ),
    )
    page = text(result)
    assert len([line for line in page.splitlines() if "ring under load" in line]) >= 24
    notes = page.split("\nNotes\n")[1]
    assert f"  ring under load: {long}." in notes
    for line in page.split("\nNotes\n")[0].splitlines():
        if "ring under load" in line and "WHATEVER" not in line:
            assert line.rstrip().endswith("!")
            assert " ± " not in line  # or columns are too wide for the page
    assert "NPS 5 Sch 160 " in page
    assert "ASME B36.10M:" in page


def test_every_row_has_a_cell_for_each_column(passing, failing):
    refused = solved(case(stock=["ASME B36.10M"], scale=0.25), refused=0.1)
    for result in (passing, failing, refused):
        tables = [block for block in sizing_page(result) if isinstance(block, Table)]
        stocked = [bool(of.stock.walls) for of in result.diameters]
        assert len(tables) == 1 + len(stocked) + sum(stocked)
        for table in tables:
            rows = [row for group in table.groups for row in group]
            assert {len(row) for row in rows} == {len(table.columns)}


def test_every_figure_of_a_wall_stands_under_its_head(passing):
    (diameter,) = passing.diameters
    units = passing.case.display
    tables = [block for block in sizing_page(passing) if isinstance(block, Table)]
    (walls,) = (table for table in tables if table.title == "Walls")
    heads = [" ".join(column.head.partition("[")[0].split()) for column in walls.columns]
    shown = [dict(zip(heads, row, strict=True)) for group in walls.groups for row in group]

    def pair(value, unit=None):
        return words.pair(value, unit).replace(" ± ", "±")

    by_size = {"solid" if w.solid else significant(w.wall, 4): w for w in diameter.walls}
    assert len(shown) > 5
    for row in shown:
        wall = by_size[row["wall"]]
        places = dict(
            zip(("contact zone", "bore under load", "bore at side"), wall.places, strict=False)
        )
        for head, value in {**places, "plate": wall.plate_peak_von_mises}.items():
            assert row[head] == ("" if value is None else pair(value, units.stress))
        assert row["K"] == pair(wall.stress_concentration)
        assert row["mass"] == units.mass_per_length.number(wall.mass_per_length)
        assert row["bore / Ø"] == f"{wall.bore_ratio:.3f}"
        if wall.first_yield_line_load is not None:
            assert row["first yield"].split(" p")[0] == pair(
                wall.first_yield_line_load, units.line_load
            )


def test_sizes_that_were_not_solved_say_why():
    page = sizing_page(solved(case(stock=["ASME B36.10M"]), refused=0.1))
    assert only(page, "not solved", "NPS 5 Sch 40", "NPS 5 Sch 80", "[load]: it is too much")


def test_every_check_that_there_is_has_a_short_name_of_its_own():
    """Of all cases that come with it, put to every standard."""
    names: dict[str, str] = {}
    for path in sorted(CASES.glob("*.toml")):
        data = read_tables(path)
        data["standards"] = data.get("standards", {}) | {"apply": ["AISC", "AASHTO", "EN"]}
        for section in by_hand(case_from_dict(data, str(path))).sections:
            keys = [step.key for step in section.steps if step.utilisation is not None]
            keys += [clause.key for clause in section.clauses]
            names |= {key: short(check(1.0, key=key)) for key in keys}
    assert len(names) > 30
    assert len(set(names.values())) == len(names)
    assert all(0 < len(name) <= 22 for name in names.values()), names


def test_the_limit_is_a_step_at_the_wall_of_the_band():
    """However far apart the walls are that could be solved: here none is below 22.5 mm."""
    post = {"held_by": "beam shear", "steel": "EN 10025-2 S355"}
    walls = {"from": 0.05, "to": 0.5, "count": 5}
    of = case_from_dict(DATA | {"post": post, "sizing": {"wall": walls}})
    result = solved(of, refused=0.15)
    walls = [w for w in result.diameters[0].walls if not w.error]
    figure = sizing_figure(result)
    (line,) = (ln for ax in figure.axes for ln in ax.lines if ln.get_label() == "allowed")
    x, y = line.get_data()
    assert list(x) == pytest.approx([walls[0].wall, 40, 40, 63, 63, 75])
    assert list(y) == pytest.approx([345, 345, 335, 335, 325, 325])  # of EN 10025-2, by thickness
    dots = [ln for ax in figure.axes for ln in ax.lines if ln.get_gid() == "bar"]
    assert [float(dot.get_xdata()[0]) for dot in dots] == [75.0, 75.0]
    assert float(dots[0].get_ydata()[0]) == 295.0  # as thick as its diameter of 150 mm
    plain = sizing_figure(solved(case()))
    assert not [ln for ax in plain.axes for ln in ax.lines if ln.get_gid() == "bar"]


@pytest.mark.parametrize(("ratio", "shown"), [(1.00031, "1.0003"), (0.99996, "0.99996")])
def test_a_ratio_is_distinct_from_1(ratio, shown):
    """Four digits alone would print 1.000 of what fails by a ten-thousandth."""
    result = solved(case(), hand=lambda share: (check(ratio + 1e-7 * share, reserve=1.0 / ratio),))
    page = text(result)
    assert f" {shown}" in page.split("\nWalls\n")[1]  # the table
    if ratio > 1.0:
        top, rest = page.split("\nOutside diameter")
        assert f"a clause {shown}. " in top
        assert " 0.9997 of the loads" in " ".join(top.split())
        assert f"a clause, {shown} " in rest


def test_a_list_is_headed_by_its_diameter_and_bars_have_a_unit():
    stock = ["ASME B36.10M", "bored inch bar"]
    of = case(units="US customary", stock=stock, outside_diameter=["8 in"])
    page = text(solved(of))
    lines = [line.strip() for line in page.split("\nStock sizes\n")[1].splitlines()]
    joined = " ".join(lines)
    assert "ASME B36.10M, Ø 8.625 in:" in joined
    assert "bored inch bar, Ø 8 in:" in joined
    assert any(line.removeprefix("K").strip().startswith("8, bore 5 in ") for line in lines)
    assert "bored inch bar 8, bore" in page.split("\nOutside diameter")[0]


@pytest.mark.parametrize(
    ("units", "lists"),
    [
        ("SI", ["bored bar", "EN 10220"]),
        ("US customary", ["bored inch bar", "mechanical tube"]),
    ],
)
def test_lists_are_proposed_in_the_units_of_the_case(units, lists):
    assert only(answered(solved(case(units=units)))[1], f"stock = {json.dumps(lists)}")


def by_thickness(units, **size):
    """Of a steel of 355 to 325 MPa as a tube, 295 MPa as the bar."""
    post = {"held_by": "beam shear", "steel": "EN 10025-2 S355"}
    return case_from_dict(DATA | {"post": post, "report": {"units": units}, "sizing": size})


@pytest.mark.parametrize(
    ("units", "size", "strength", "asked"),
    [
        ("SI", {}, "295 MPa", '[sizing] stock = ["bored bar"]'),
        ("US customary", {}, "42.8 ksi", '[sizing] stock = ["bored inch bar"]'),
        ("SI", {"stock": ["bored bar"]}, "295 MPa", ""),
    ],
)
def test_that_tubes_may_not_pass_from_bar_stands_below_the_answer(units, size, strength, asked):
    low = solved(by_thickness(units, **size), contact=lambda share: 0.7 * contact(share))
    page = sizing_page(low)
    heads = [k for k, block in enumerate(page) if isinstance(block, Heading)]
    (line,) = (b for b in page[: heads[1]] if isinstance(b, Line) and "FROM BAR" in b.text)
    assert line.tone == "bad"
    assert strength in line.text
    assert (asked in line.text) if asked else ("stock =" not in line.text)


def test_nothing_is_said_of_bar_where_it_is_as_strong_or_nothing_passes(passing):
    for result in (passing, solved(by_thickness("SI"))):
        assert "FROM BAR" not in text(result).split("\nOutside diameter")[0]


def test_the_wall_at_scale_has_the_digits_of_the_wall(failing):
    page = text(failing).split("\nWalls\n")[1]
    rows = [line[4:].split()[:2] for line in page.splitlines() if " NO " in line]
    assert len(rows) > 10
    for wall, at_scale in rows[:-1]:  # but the solid bar
        assert len(at_scale.replace(".", "").lstrip("0")) == 4
        assert float(at_scale) == pytest.approx(float(wall) / 4, rel=1e-3)


def test_the_legend_lists_only_places_that_occur(passing):
    figure = sizing_figure(passing)
    words = [t.get_text() for t in figure.legends[0].get_texts()]
    places = {wall.governing_place for wall in passing.diameters[0].walls}
    assert places == {"contact zone", "bore under load"}
    lines = ["contact zone", "bore under load", "bore at side", "plate"]
    shades = ["contact zone governs", "bore under load governs"]
    names = {text.get_text() for ax in figure.axes for text in ax.texts}
    assert {*words, *names} >= {*lines, *shades, "allowed"}
    assert set(words) <= {*lines, *shades}
    assert not set(words) & names


def test_the_caption_says_that_walls_have_their_own_peak_line_load(passing):
    along = replace(passing, case=replace(passing.case, alignment=Alignment(0.0, 0.0)))
    for result, own in ((passing, False), (along, True)):
        (caption,) = sizing_figure(result).artists
        assert bool(said(caption.get_text(), "each wall", "own peak line load")) is own


def test_a_failed_write_leaves_the_record_alone(passing, tmp_path, monkeypatch):
    def fails(*_):
        raise ValueError("not for JSON")

    monkeypatch.setattr("contactfe.report.sizing.write_csv", fails)
    with pytest.raises(ValueError, match="not for JSON"):
        save_sizing(passing, tmp_path / "out")
    assert [p.name for p in (tmp_path / "out").iterdir()] == [TRIALS]
    (tmp_path / "mine").mkdir()
    with pytest.raises(ValueError, match="not for JSON"):
        save_sizing(passing, tmp_path / "mine")
    assert (tmp_path / "mine").exists()


def test_strict_counts_what_no_wall_changes(tmp_path, monkeypatch):
    """Walls pass all else, so that the answer names them; the command is not satisfied."""
    pool(monkeypatch, hand=lambda _: (check(1.94),))
    path = tmp_path / "stop.json"
    monkeypatch.setattr("contactfe.case.read_case", lambda _: case())
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(cli.cli, ["size", str(path), "--strict"])
    assert done.exit_code == 1, done.output
    assert "a clause 1.940" in done.output
    done = CliRunner().invoke(cli.cli, ["size", str(path)])
    assert done.exit_code == 0, done.output
