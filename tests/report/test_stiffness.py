"""Contact stiffness as data, text and figure: of a power law, so that nothing has to be solved."""

import csv
import json
import re
from dataclasses import replace

import numpy as np
import pytest
from alignments import case as along_case
from figures import check_legend, heads, line_of
from motions import moving
from restated import restated
from saying import figures, only, said
from springs import AT, LENGTH, LOAD, A, N, bending, result

from contactfe.assess.stiffness import ImpactForce
from contactfe.assess.value import Value
from contactfe.case import Corner
from contactfe.hand import cantilever
from contactfe.report import words
from contactfe.report.blocks import Line, Table
from contactfe.report.figures.draw import figures as figures_for
from contactfe.report.figures.drawn import drawn
from contactfe.report.figures.ink import settings
from contactfe.report.figures.stiffness import stiffness_figure
from contactfe.report.hand_over import WIDTH, hand_over_page, write_hand_over
from contactfe.report.json_file import as_text as as_json
from contactfe.report.page import WIDEST, as_text
from contactfe.report.stiffness import stiffness_document
from contactfe.report.stiffness_page import POWER_NOTE, left_out, stiffness_page
from contactfe.report.stiffness_points import write_curves
from contactfe.report.stiffness_springs import (
    MODELLED,
    NOT_MODELLED,
    bends_against,
    by_hand,
    warnings,
    without_bending,
)


def page(of):
    return as_text(stiffness_page(of), WIDEST)


def rows(path):
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_document_can_be_read_and_has_the_figures():
    content = json.loads(as_json(stiffness_document(result())))
    first = content["sections"][0]
    assert content["units"]["line_stiffness"] == "N/mm/mm"
    assert content["units"]["force"] == "N"
    assert content["note"].startswith(POWER_NOTE)
    assert first["secant_stiffness"] == pytest.approx(LOAD / first["approach"])
    assert first["whole_tangent_stiffness"] == pytest.approx(LENGTH * first["tangent_stiffness"])
    assert first["power_law"]["exponent"] == pytest.approx(N)
    assert first["power_law"]["whole_coefficient"] == pytest.approx(LENGTH * A)
    assert first["shares"]["ring"] == pytest.approx(0.5 * first["approach"])
    curve = first["curve"]
    assert curve["share_plate_bending"] == pytest.approx([0.05 * d for d in curve["approach"]])
    assert first["specimen"] is None
    assert "means along the contact" in content["left_out"]


def test_without_a_force_there_is_no_whole():
    of = result()
    of = replace(of, case=restated(of.case, contact_length=None))
    first = stiffness_document(of)["sections"][0]
    assert first["whole_secant_stiffness"] is first["power_law"]["whole_coefficient"] is None
    assert "whole" in page(result()).split("A line of contact")[0]
    assert "whole" not in page(of).split("A line of contact")[0]


def test_the_specimen_has_the_prototype_s_curve_at_its_scale():
    first = stiffness_document(result(scale=0.25))["sections"][0]
    small = first["specimen"]
    assert small["line_load"] == pytest.approx(0.25 * LOAD)
    assert small["approach"] == pytest.approx(0.25 * first["approach"])
    assert small["tangent_stiffness"] == pytest.approx(first["tangent_stiffness"])
    assert small["whole_secant_stiffness"] == pytest.approx(0.25 * first["whole_secant_stiffness"])
    # The law holds at its own size.
    law = small["power_law_coefficient"] * small["approach"] ** small["exponent"]
    assert law == pytest.approx(small["line_load"])


def test_tables_name_their_units_and_add_up(tmp_path):
    of = result(scale=0.25)
    write_curves(of, tmp_path / "curve.csv")
    found = rows(tmp_path / "curve.csv")
    assert len(found) == 24
    assert {row["section"] for row in found} == {"solid 150", "150 x 25"}
    for row in found:
        number = {key: float(value) for key, value in row.items() if key != "section"}
        assert all(key.endswith("]") for key in number)
        q, d = number["line load [N/mm]"], number["approach [mm]"]
        parts = [v for k, v in number.items() if k.startswith("share of")]
        assert len(parts) == 4
        assert sum(parts) == pytest.approx(d, rel=1e-6)  # of the digits written
        assert number["force [kN]"] == pytest.approx(q * LENGTH / 1e3, rel=1e-6)
        assert number["secant stiffness [N/mm/mm]"] == pytest.approx(q / d, rel=1e-6)
        assert number["exponent [1]"] == pytest.approx(N, rel=1e-6)
        assert number["approach, specimen 1:4 [mm]"] == pytest.approx(d / 4, rel=1e-6)
        assert number["line load, specimen 1:4 [N/mm]"] == pytest.approx(q / 4, rel=1e-6)
        assert number["force, specimen 1:4 [kN]"] == pytest.approx(q * LENGTH / 16e3, rel=1e-6)


@pytest.mark.parametrize("scale", [None, 0.25])
def test_every_row_of_a_page_has_a_cell_for_each_column(scale):
    # The springs of both models, then of each section the points and the shares.
    tables = [one for one in stiffness_page(bending(scale=scale)) if isinstance(one, Table)]
    assert len(tables) == 2 + 2 * 2
    for one in tables:
        assert {len(row) for group in one.groups for row in group} == {len(one.columns)}


def test_the_page_says_what_it_is_and_what_it_is_not():
    of = stiffness_page(result())
    assert only(of, POWER_NOTE)
    powers = said(of, "power law", "n = 1.1000", "A = 20000 N/mm per mm^n (6000 kN per mm^n as")
    assert len(said(powers, "from 100.0 to 1000 N/mm")) == 2
    assert len(said(of, "approach: of", "the mean of its section")) == 2
    text = as_text(of, WIDEST)
    assert "50.0 %" in text
    assert "specimen" not in text


def test_the_page_in_us_units_converts_the_coefficient():
    text = page(result(report_units="US customary", scale=0.25))
    # 20 000 N/mm per mm^1.1 is 20 000/175.127 kip/in per mm^1.1, times 25.4^1.1.
    assert f"A = {20_000 / 175.1268 * 25.4**1.1:.0f} kip/in per in^n" in text
    assert "N/mm" not in text
    assert "specimen 1:4" in text


def test_a_solid_has_no_ring_rather_than_its_noise():
    """A figure beyond the noise is shown, as it says that the formula of the solid is off."""
    of = result()
    solid, tube = of.sections
    parts = solid.shares

    def row(ring):
        quiet = replace(solid, shares=parts._replace(ring=ring))
        lines = page(replace(of, sections=(quiet, tube))).splitlines()
        rows = [line.split("  ") for line in lines if line.startswith("  ring")]
        return [[cell.strip() for cell in cells if cell.strip()] for cells in rows]

    first, second = row(Value(-1e-5, 2e-4))
    assert "solid" in first[0]
    assert first[1:] == ["mm", "none"]
    assert "bore" in second[0]
    assert "±" in second[3]
    first, _ = row(Value(3e-4, 2e-4))
    assert first[3] == "0.0003 ± 0.0002"


def test_what_is_left_out_or_special_is_said():
    plain = result()
    contact = replace(plain.case.contact, friction=0.2, offset=30.0)
    rough = replace(plain, case=replace(plain.case, contact=contact, corner=Corner(300.0)))
    special = left_out(rough.case)
    for parts in (("angle", "friction", "left out"), ("offset",), ("corner", "both loads")):
        assert only(special, *parts)
    assert only(stiffness_page(rough), special)
    assert only(left_out(plain.case), "means along the contact")
    for ring in ("ring, what the second plate's", "ring, what the bore and the second plate's"):
        assert f"  {ring} load add" in page(rough)
    ends = said(stiffness_page(result(most=1.1)), "curve of", "ends")
    assert ["1.1 times the load" in text for text in ends] == [True, True]
    assert not said(stiffness_page(plain), "curve of", "ends")


def test_the_figure_stacks_the_shares_and_keeps_its_text_inside():
    with settings():
        figure = stiffness_figure(result())
        figure.draw_without_rendering()
    force, slope, parts = figure.axes[::2]
    assert len(figure.axes) == 6
    assert force.get_xlabel() == "approach [mm]"
    assert slope.get_ylabel() == "stiffness [N/mm/mm]"
    tops = [area.get_paths()[0].vertices[:, 1].max() for area in parts.collections]
    # Contact of post and plate, ring, bending.
    assert tops == pytest.approx([20.0, 45.0, 95.0, 100.0])
    for text in [*figure.artists, *figure.legends]:
        box = text.get_window_extent()
        assert 0.0 <= box.x0 < box.x1 <= figure.bbox.x1


def springs(text):
    """Cells of the first section in each of the tables of springs at the top."""
    top = text.partition("Approach: of ")[0]
    lines = [line for line in top.splitlines() if line.startswith("solid 150 ")]
    return [line.removeprefix("solid 150").split() for line in lines]


def test_both_springs_stand_at_the_top_under_their_own_headings():
    text = page(bending())
    top = text.splitlines()[:40]
    assert top.index(NOT_MODELLED) < top.index(MODELLED)
    soft, stiff = springs(text)
    assert float(soft[0]) == pytest.approx(LOAD * LENGTH / (AT + 1.0) / 1e3, rel=1e-3)
    assert float(stiff[0]) == pytest.approx(LOAD * LENGTH / AT / 1e3, rel=1e-3)
    assert soft[1] == stiff[1] == "300.0"  # kN that they are for
    tangent = 1.0 / (AT / (N * LOAD * LENGTH) + 1.0 / 300e3) / 1e3
    assert float(soft[4]) == pytest.approx(tangent, rel=1e-3)
    assert float(soft[5]) == pytest.approx(AT + 1.0, rel=1e-3)
    # The points too are apart, each under its model.
    (_, _, points, *_) = [one for one in stiffness_page(bending()) if isinstance(one, Table)]
    heads = [column.head.replace("\n", " ") for column in points.columns]
    assert ["modelled: displacement [mm]" in head for head in heads].index(True) == 1
    assert ["element: displacement [mm]" in head for head in heads].index(True) == 4
    row = [float(cell) for cell in points.groups[0][4]]
    assert row[0::3] == pytest.approx([300.0, float(soft[0]), float(stiff[0])], rel=1e-3)
    assert [row[1], row[4]] == pytest.approx([AT + 1.0, AT], rel=1e-3)


def test_counting_the_bending_twice_is_said_with_its_numbers():
    of = bending()
    stiff = (AT + 1.0) / AT
    # The contact's compliance and twice the post's, over it with the post's once.
    soft = (AT + 2.0) / (AT + 1.0)
    for section in of.sections:
        assert section.with_post.contact_alone_over_this == pytest.approx(stiff, rel=1e-6)
        assert section.with_post.too_soft_if_counted_twice == pytest.approx(soft, rel=1e-6)
    assert only(stiffness_page(of), f"{stiff:.1f} times too stiff", f"{soft:.2f} times too soft")
    found = stiffness_document(of)["sections"][0]["with_post"]
    assert found["contact_alone_over_this"] == pytest.approx(stiff, rel=1e-6)
    assert found["too_soft_if_counted_twice"] == pytest.approx(soft, rel=1e-6)
    whole = stiffness_document(of)["sections"][0]["whole_secant_stiffness"]
    assert found["whole_secant_stiffness"] * stiff == pytest.approx(whole, rel=1e-6)


def test_without_a_cantilever_there_is_one_heading():
    text = page(result())
    assert NOT_MODELLED not in text
    assert said(text.partition("Approach: of ")[0], "not included", "bending of the post")
    assert len(springs(text)) == 1
    document = stiffness_document(result())
    assert document["sections"][0]["with_post"] is None
    assert document["counting_the_bending_twice"] is None


def handed(of, tmp_path):
    write_hand_over(of, tmp_path / "hand-over.csv")
    found = rows(tmp_path / "hand-over.csv")
    return [row for row in found if row["section"] == "solid 150"]


def test_points_have_both_in_the_documents(tmp_path):
    of = bending()
    points = stiffness_document(of)["sections"][0]["points"]
    assert points["travel_with_post"][-1] > points["approach"][-1]
    assert points["force"] == pytest.approx([q * LENGTH for q in points["line_load"]])
    # A softer whole is nearer to a straight line.
    assert points["largest_error_with_post_over_load"] < points["largest_error_over_load"]
    assert stiffness_document(result())["sections"][0]["points"]["travel_with_post"] is None
    small = page(replace(of, case=replace(of.case, scale=0.25)))
    assert "specimen 1:4" in small
    # And in the hand-over, each under the name of its model.
    found = handed(of, tmp_path)
    for model, key in (("post an element", "approach"), ("post not modelled", "travel_with_post")):
        own = [row for row in found if row["model"] == model]
        assert [float(row["point"]) for row in own] == list(range(len(points[key])))
        d, force = (
            [float(row[name]) for row in own] for name in ("displacement [mm]", "force [kN]")
        )
        assert d == pytest.approx(points[key], rel=1e-6)
        assert force == pytest.approx([q / 1e3 for q in points["force"]], rel=1e-6)
        assert d[0] == force[0] == 0.0
        assert own[0]["tangent stiffness [kN/mm]"] == own[0]["secant stiffness [kN/mm]"] == ""
        for row, x, f in list(zip(own, d, force, strict=True))[1:]:
            assert float(row["secant stiffness [kN/mm]"]) == pytest.approx(f / x, rel=1e-6)
    alone = [row for row in found if row["model"] == "post an element"][4]
    assert float(alone["tangent stiffness [kN/mm]"]) == pytest.approx(N * LOAD * LENGTH / AT / 1e3)
    assert {row["model"] for row in handed(result(), tmp_path)} == {"post an element"}


def test_the_hand_over_is_in_the_report_s_units_with_the_gap(tmp_path):
    motion = moving(motion__gap="254 mm", contact_law__restitution=0.65).motion
    of = bending(report_units="US customary", motion=motion, scale=0.25)
    found = [row for row in handed(of, tmp_path) if row["model"] == "post not modelled"][4]
    inch, kip, pound = 25.4, 4448.2216, 0.45359237e-3
    assert all(key.endswith("]") for key in found if key not in ("section", "model", "point"))
    number = {key: float(value) for key, value in found.items() if key.endswith("]")}
    assert number["gap [in]"] == pytest.approx(10.0)
    assert number["force [kip]"] == number["right at [kip]"]
    assert number["force [kip]"] == pytest.approx(LOAD * LENGTH / kip, rel=1e-6)
    assert number["displacement [in]"] == pytest.approx((AT + 1.0) / inch, rel=1e-4)
    # The masses of floor and bumper as of two free bodies, on the secant.
    k, m = LOAD * LENGTH / (AT + 1.0), 2000.0 * 3.0 / 2003.0
    assert number["linear spring [kip/in]"] == pytest.approx(k / kip * inch, rel=1e-4)
    assert number["effective mass [lb]"] == pytest.approx(m / pound, rel=1e-6)
    assert number["period [s]"] == pytest.approx(2.0 * np.pi * np.sqrt(m / k), rel=1e-4)
    c = 2.0 * 0.13585 * np.sqrt(k * m)
    assert number["dashpot [kip·s/in]"] == pytest.approx(c / kip * inch, rel=1e-4)
    v = 2.0 * np.pi / 3.0 * np.sqrt(450.0**2 - 254.0**2)
    assert number["energy at closure [kip·in]"] == pytest.approx(
        m * v**2 / 2.0 / kip / inch, rel=1e-4
    )
    document = stiffness_document(of)
    assert document["gap"] == document["sections"][0]["hand_over"]["gap"] == pytest.approx(254.0)
    assert document["sections"][0]["points"]["line_load"][4] == pytest.approx(LOAD)  # N/mm
    text = " ".join(as_text(hand_over_page(of), WIDTH).split())
    assert "10 in" in only(hand_over_page(of), "gap:")
    assert "N/mm" not in text
    assert "kip·s/in" in text


def test_what_the_hand_over_is_not_told_it_says(tmp_path):
    of = bending()
    assert only(hand_over_page(of), "gap", "not stated", "[motion]", "time step")
    (row, *_) = handed(of, tmp_path)
    assert [row[f"{of} [{u}]"] for of, u in (("gap", "mm"), ("period", "s"))] == ["", ""]
    assert float(row["energy in the contact at that force [kN·m]"]) > 0.0
    models = stiffness_document(of)["sections"][0]["hand_over"]["models"]
    assert [one["impact"] for one in models] == [None, None]
    massless = bending(motion=moving(motion__bumper_mass=None).motion)
    assert only(hand_over_page(massless), "no bumper_mass", "no period")
    assert handed(massless, tmp_path)[0]["time step [s]"] == ""
    long = result(motion=moving().motion)
    long = replace(long, case=restated(long.case, contact_length=None))
    heads = handed(long, tmp_path)[0]
    assert "force [kN]" not in heads
    assert float(heads["right at [N/mm]"]) == pytest.approx(LOAD)


def test_an_impact_force_of_another_law_is_said(tmp_path):
    """The spring of the energy that the points take, in series with 300 kN/mm, beside the law."""
    of = bending(motion=moving().motion)
    force = LOAD * LENGTH
    taken = force * AT / (N + 1.0) + force**2 / (2.0 * 300e3)
    alike = force**2 / (2.0 * taken)
    told = only(hand_over_page(of), "[contact_law]", f" {alike / 400e3:.3f} times as stiff")
    shown = [b for b in hand_over_page(of) if isinstance(b, Line) and b.text == told]
    assert [line.tone for line in shown] == ["bad"]
    power = {"law": "power", "force": "100 kN", "approach": "0.1 mm", "exponent": 1.5}
    of = bending(motion=moving(contact_law=power).motion)
    stated = force**2 / (2.0 * force * 0.1 * 3.0 ** (1.0 / 1.5) / 2.5)
    assert only(hand_over_page(of), f" {alike / stated:.3g} times as stiff")
    near = {"law": "linear", "stiffness": f"{alike} N/mm"}
    assert not said(hand_over_page(bending(motion=moving(contact_law=near).motion)), "as stiff")
    # What a spring that is right at the load comes to, as the document, the page and the file say.
    reached = np.sqrt(2.0 * force / (AT + 1.0) * taken) / force
    first = stiffness_document(of)["sections"][0]["hand_over"]["models"][0]
    assert first["linear_force_over_points_at_equal_energy"] == pytest.approx(reached, rel=1e-3)
    row = handed(of, tmp_path)[0]
    given = float(row["force of the spring over that of the points, struck alike [1]"])
    assert given == pytest.approx(reached, rel=1e-3)
    own = {"law": "section"}
    assert not said(
        hand_over_page(
            bending(
                motion=moving(
                    contact_law=own, load={"force": "1 kN", "contact_length": "1 m"}
                ).motion
            )
        ),
        "times as stiff",
    )


def test_the_hand_over_is_one_page_of_80_columns():
    of = bending(motion=moving(contact_law__restitution=0.65).motion)
    text = as_text(hand_over_page(of), WIDTH).splitlines()
    assert max(map(len, text)) <= 80
    assert len(text) <= 80


def test_points_that_end_before_the_impact_force_say_so_at_the_top():
    of = result(motion=moving().motion)
    end = 1.25 * LOAD * LENGTH
    for impact, *parts in (
        (ImpactForce(0.999 * end),),
        (ImpactForce(1.1 * end), f"{1.1 * end / 1e3:.1f} kN", f"at {end / 1e3:.1f} kN"),
        (ImpactForce(not_found="an impact past the model"), "an impact past the model"),
    ):
        sections = tuple(replace(one, impact=impact) for one in of.sections)
        changed = replace(of, sections=sections)
        found = stiffness_document(changed)["sections"][0]["impact"]
        assert found["points_end_before_it"] is bool(parts)
        assert found["peak_contact_force"] == impact.peak_contact_force
        if parts:
            assert found["points_end_at_line_load"] == pytest.approx(1.25 * LOAD)
        told = list(warnings(changed))
        assert [bool(said([text], *parts)) for text in told] == [True, True][: 2 * bool(parts)]
        shown = [b for b in stiffness_page(changed) if isinstance(b, Line) and b.text in told]
        assert [line.tone for line in shown] == ["bad"] * len(told)


def test_the_figure_names_its_case_and_marks_the_impact_force():
    of = bending()
    end = 1.25 * LOAD * LENGTH
    whole = LOAD * LENGTH
    for force, shown in ((1.1 * whole, True), (whole, True), (1.1 * end, False), (None, False)):
        sections = tuple(replace(one, impact=ImpactForce(force)) for one in of.sections)
        with settings():
            figure = stiffness_figure(replace(of, sections=sections))
        labels = [line.get_label() for ax in figure.axes for line in ax.lines]
        assert labels.count("impact force") == 8 * shown
        for ax in figure.axes:
            for line in (ln for ln in ax.lines if ln.get_label() == "impact force"):
                at, other = line.get_ydata(), line.get_xdata()
                assert force / LENGTH in (pytest.approx(at[0]), pytest.approx(other[0]))
        text = " ".join(figure.artists[0].get_text().split())
        assert text.startswith(of.case.title)
        assert bool(said(text, "it is the load")) == (force == whole)
        assert bool(said(text, f"{(force or 1.0) / 1e3:.1f} kN")) == (force is not None)


def test_a_slice_past_what_the_model_allows_is_said():
    of = bending()
    assert not list(warnings(of))
    less = tuple(replace(one, allowed_line_load=1.9 * LOAD) for one in of.sections)
    for text in warnings(replace(of, sections=less)):
        assert {2.0 * LOAD, 1.9 * LOAD} <= set(figures(text))
    assert len(said(warnings(replace(of, sections=less)), "tangent")) == 2


def test_a_document_has_the_figure_with_its_springs_in_words():
    of = bending()
    (one,) = figures_for(of)
    made = drawn(one, text=False)
    assert made.svg.count("<svg") == 1
    assert of.case.title not in made.caption
    for section in of.sections:
        spring = of.case.display.line_stiffness.text(section.linear.stiffness)
        assert only(one.alt, section.section.name, spring)
    heights = re.search(r'height="([\d.]+)pt"', made.svg)
    assert float(heights[1]) < 148.0 / 25.4 * 72.0


def test_the_figure_has_the_spring_with_the_posts_bending_above():
    of = bending()
    with settings():
        figure = stiffness_figure(of)
        figure.draw_without_rendering()
    assert len(figure.axes) == 8
    above, _, force, *_ = figure.axes
    (points,) = [line for line in above.get_lines() if line.get_marker() == "o"]
    post = of.sections[0].with_post
    assert list(points.get_xdata()) == pytest.approx(list(post.points.approach))
    assert above.get_xlim()[1] > force.get_xlim()[1]
    for text in [*figure.artists, *figure.legends]:
        box = text.get_window_extent()
        assert 0.0 <= box.x0 < box.x1 <= figure.bbox.x1


def test_every_line_of_the_figure_is_what_it_says_in_the_report_s_units():
    of = bending(report_units="US customary")
    solid, tube = of.sections
    far = replace(solid.curve, approach=2.0 * solid.curve.approach)
    solid = replace(solid, far=far)
    with settings():
        figure = stiffness_figure(replace(of, sections=(solid, tube)))
    display, inch, per_inch = of.case.display, 25.4, 4448.2216 / 25.4
    at_load = pytest.approx([LOAD / per_inch] * 2)
    assert heads(figure) == [(s.section.name, words.size(s.section, display)) for s in of.sections]
    assert len(check_legend(figure)) == 7
    named = {text.get_text() for ax in figure.axes[::2] for text in ax.texts}
    assert named >= {"curve", "tangent", "secant", "load of the case"}
    post = solid.with_post
    above, _, force, _, slope, _, parts, _ = figure.axes
    for ax, curve, points, spring in (
        (above, solid.series.curve, post.points, post.spring.stiffness / LENGTH),
        (force, far, solid.points, solid.linear.stiffness),
    ):
        x, y = line_of(ax, "curve; tangent stiffness").get_data()
        np.testing.assert_allclose(per_inch * y, curve.line_load_at(inch * x), rtol=1e-6)
        x, y = line_of(ax, "points").get_data()
        np.testing.assert_allclose(inch * x, points.approach)
        np.testing.assert_allclose(per_inch * y, points.line_load, rtol=1e-6)
        x, y = line_of(ax, "linear spring").get_data()
        np.testing.assert_allclose(per_inch * y, spring * inch * x, rtol=1e-6)
        assert per_inch * y[-1] == pytest.approx(solid.up_to_line_load)
        assert list(line_of(ax, "load of the case").get_ydata()) == at_load
    x, y = line_of(force, "power law").get_data()
    law = solid.power_law
    np.testing.assert_allclose(
        per_inch * y, law.coefficient * (inch * x) ** law.exponent, rtol=1e-6
    )
    curve = solid.curve
    for label, stiffness in (
        ("curve; tangent stiffness", curve.tangent_stiffness),
        ("secant stiffness", curve.line_load / curve.approach),
    ):
        x, y = line_of(slope, label).get_data()
        np.testing.assert_allclose(per_inch * x, curve.line_load, rtol=1e-6)
        np.testing.assert_allclose(per_inch / inch * y, stiffness, rtol=1e-6)
    for ax in (slope, parts):
        assert list(line_of(ax, "load of the case").get_xdata()) == at_load
    ends = [area.get_paths()[0].vertices[:, 0].max() for area in parts.collections]
    assert ends == pytest.approx([curve.line_load[-1] / per_inch] * 4)


def test_the_posts_bending_is_named_with_its_spring():
    tube = {"outside_diameter": "150 mm", "wall": "30 mm"}
    core = {**tube, "held_by": "rigid core"}
    of = along_case(alignment=None, section=[{"name": "a", **tube}, {"name": "b", **core}])
    k = cantilever.stiffness(450.0, 150.0, 90.0, 210e3, 0.3) / 1e3
    assert only(by_hand(of), f"“a” {k:.1f} kN/mm")
    assert figures(bends_against(of)) == [450.0]
    assert figures(bends_against(along_case())) == [450.0, 0.1]
    assert "“a”" not in only(without_bending(of), "“b”")
    assert not list(without_bending(along_case()))
    bare = along_case(alignment=None, cantilever=None)
    assert not list(by_hand(bare))
    assert only(without_bending(bare), "no [cantilever]")


def test_the_spring_to_state_as_a_contact_law_is_that_of_the_energy(monkeypatch):
    of = bending(motion=moving().motion)
    assert not said(stiffness_page(of), "what has their energy")  # nearly straight
    monkeypatch.setattr("contactfe.report.stiffness_springs._SHORT_OF", 1.0)
    force = LOAD * LENGTH
    taken = force * AT / (N + 1.0) + force**2 / (2.0 * 300e3)
    alike = force**2 / (2.0 * taken)
    reached = 100.0 * np.sqrt(2.0 * force / (AT + 1.0) * taken) / force
    assert only(stiffness_page(of), f"{alike / 1e3:.4g} kN/mm", f"come to {reached:.3g} %")
