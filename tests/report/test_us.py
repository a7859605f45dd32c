"""Everything that is printed and drawn in US customary units, and what stays in SI."""

import re
from dataclasses import replace
from html import unescape

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import TriMesh
from matplotlib.patches import Circle
from matplotlib.tri import TriContourSet
from restated import restated

from contactfe.case.display import significant
from contactfe.report.document import document
from contactfe.report.figures.choice import chosen
from contactfe.report.figures.draw import FIGURES
from contactfe.report.figures.ink import STRESS, settings
from contactfe.report.html import as_html
from contactfe.report.page import WIDEST, as_text
from contactfe.report.table import comparison_page

# Exact by definition (common practice, no source), and not out of the program.
INCH = 25.4
KSI = 4448.2216152605 / INCH**2
HELD = {
    "length": ("in", INCH),
    "stress": ("ksi", KSI),
    "line load": ("kip/in", KSI * INCH),
    "mass per length": ("lb/ft", 0.45359237 / 0.3048),
}
FOUR_DIGITS = 6e-4
"""Half of the last of four digits at the most, relative, where the first is a 1."""

SI_UNIT = re.compile(r"(?<![\w/])(mm|cm|m|N|kN|MN|Pa|MPa|GPa|kg|N/mm|kN/mm|kg/m)(?![\w/'])")


def _shown(value, dimension):
    return value / HELD[dimension][1]


@pytest.fixture(scope="module")
def table(us):
    return as_text(comparison_page(us), WIDEST)


@pytest.fixture(scope="module")
def drawn(us):
    return {name: _drawn(name, us) for name in FIGURES}


def _drawn(name, comparison):
    with settings():
        figure = FIGURES[name](comparison, chosen(comparison))
        FigureCanvasAgg(figure).draw()
    return figure


def _texts(figure):
    texts = [
        *figure.texts,
        *figure.artists,
        *(t for legend in figure.legends for t in legend.get_texts()),
    ]
    for ax in figure.axes:
        texts += [*ax.texts, ax.title, ax.xaxis.label, ax.yaxis.label]
        texts += [*ax.get_xticklabels(), *ax.get_yticklabels()]
    return [t.get_text() for t in texts]


def test_the_pattern_finds_si_units():
    for text in ("150 mm", "[MPa]", "1500 N/mm, plane", "138.7 kg/m", "150 × 25 mm solid"):
        assert SI_UNIT.search(text), text
    for text in ("6 in", "58.7 ksi", "3.000 kip/in", "53.46 lb/ft"):
        assert not SI_UNIT.search(text), text


def test_the_table_is_in_us_units(table, comparison):
    # The N of an author and of a ring's thrust are no newtons.
    assert not SI_UNIT.search(table.replace("J. N. Goodier", "").replace("M and N:", ""))
    for unit in ("[lb/ft]", "[in]", "[ksi]", "[kip/in]"):
        assert unit in table
    plate, load = (300.0 / INCH, 50.0 / INCH), 1200.0 / (KSI * INCH)
    assert f"plate {plate[0]:.5g} × {plate[1]:.5g} in on a rigid base" in table
    assert f"line load {load:.3f} kip/in" in table
    main = table.split("By mass")[1].partition("\n")[2].split("hand formulas")[0]
    for r in comparison.sections:
        cells = next(t for t in main.splitlines() if r.section.name in t)
        mass, a, p0, K, body, peak, sign, _, *_, load, plus, uncertainty = cells.split(
            r.section.name
        )[1].split()
        assert (body, sign, plus) == ("post", "±", "±")
        shown = _shown(r.member.first_yield_line_load.uncertainty, "line load")
        assert float(uncertainty) == pytest.approx(shown, rel=0.5)  # one digit
        for cell, value, dimension in (
            (mass, r.mass_per_length, "mass per length"),
            (a, r.half_width.value, "length"),
            (p0, r.peak_contact_pressure.value, "stress"),
            (peak, r.member.peak_von_mises.value, "stress"),
            (load, r.member.first_yield_line_load.value, "line load"),
        ):
            # To the place of the uncertainty's first digit, 0.3 % or more: half of that at most.
            assert float(cell) == pytest.approx(_shown(value, dimension), rel=3e-3)
        assert float(K) == pytest.approx(r.stress_concentration.value, rel=2e-3)


def test_hand_formulas_are_in_us_units(table, comparison):
    for r in comparison.sections:
        block = table.split(f"{r.section.name}: hand formulas")[1]
        for check in r.hand_checks:
            row = next(line for line in block.splitlines() if line.startswith(check.label))
            cells = row.removeprefix(check.label).split()
            unit, hand, computed, _, _ = cells[:5]
            name, held = HELD[check.dimension]
            assert unit == name
            assert float(hand) == pytest.approx(check.hand / held, rel=FOUR_DIGITS)
            # To the place of the uncertainty's first digit, which stands beside it.
            assert float(computed) == pytest.approx(
                check.computed / held, abs=1.01 * check.computed_uncertainty / held
            )
            assert float(cells[5]) == pytest.approx(100 * check.difference, abs=0.051)


@pytest.mark.parametrize("of", ["corner", "oblique"])
def test_what_a_contact_and_its_holds_carry_is_in_us_units(of, request):
    si = request.getfixturevalue(of)
    us = replace(si, case=restated(si.case, report_units="US customary"))
    text = as_text(comparison_page(us), WIDEST)
    # Remarks and reason are those of the case solved, which was in SI.
    shown = text.split("What the contact does")[1].split("hand formulas beside")[0]
    page = as_html(comparison_page(us)).split("What the contact does")[1]
    page = page.split("hand formulas beside")[0]
    assert not SI_UNIT.search(shown)
    assert not SI_UNIT.search(unescape(re.sub(r"<[^>]+>", "\n", page)))
    (r,) = us.sections
    tangential = _shown(r.contact.tangential_load.value, "line load")
    assert re.search(rf"{tangential:.2f}\d* ", shown)
    assert re.search(rf">{tangential:.2f}\d*", page)
    for reaction in r.contact.reactions:
        balance = shown.split("What holds post and plate")[1]
        row = next(line for line in balance.splitlines() if f" {reaction.place} " in line)
        moment = reaction.moment / (KSI * INCH**2)
        about = reaction.x * reaction.across - reaction.y * reaction.along + reaction.moment
        figures = [float(cell) for cell in row.split(reaction.place)[-1].split()]
        assert figures == pytest.approx(
            [
                reaction.x / INCH, reaction.y / INCH,
                _shown(reaction.along, "line load"), _shown(reaction.across, "line load"),
                moment, about / (KSI * INCH**2),
            ],
            # Forces to four decimals, moments to three.
            rel=1e-4, abs=6e-4,
        )  # fmt: skip
    if r.section.infill is not None:
        compression = r.values["infill_compression"].value
        assert f"{_shown(compression, 'stress'):.2f} ± " in shown


def test_the_notebook_page_is_in_us_units(us, comparison):
    page = unescape(re.sub(r"<[^>]+>", "\n", us._repr_html_()))
    assert not SI_UNIT.search(page)
    for head in ("[lb/ft]", "[ksi]"):
        assert head in page
    for r in comparison.sections:
        assert f"\n{_shown(r.mass_per_length, 'mass per length'):.2f}\n" in page
        assert re.search(rf"\n{_shown(r.member.peak_von_mises.value, 'stress'):.1f}\d* ± ", page)


def _has_two_forms(item):
    """AISC J7 has one form for SI and one for US units, which differ by up to 0.3 %."""
    return isinstance(item, dict) and "j7_roller" in str(item.get("key"))


def test_what_other_programs_read_stays_in_si(us, comparison):
    def without_sentences(content):
        if isinstance(content, dict):
            sentences = {"reason", "remark", "report_units", "solve_seconds", "why"}
            return {k: without_sentences(v) for k, v in content.items() if k not in sentences}
        if isinstance(content, list):
            return [without_sentences(item) for item in content if not _has_two_forms(item)]
        return content

    shown, plain = document(us), document(comparison)
    assert without_sentences(shown) == without_sentences(plain)
    assert (shown["case"]["report_units"], plain["case"]["report_units"]) == ("US customary", "SI")
    units = {c["unit"] for s in shown["sections"] for c in s["hand_checks"]}
    assert units == {"mm", "MPa", "N/mm"}
    assert "ksi" in shown["reason"]


@pytest.mark.parametrize("name", FIGURES)
def test_no_figure_names_an_si_unit(name, drawn):
    texts = _texts(drawn[name])
    assert not [text for text in texts if SI_UNIT.search(text)]
    assert any("ksi" in text for text in texts)
    labels = {t for ax in drawn[name].axes for t in (ax.get_xlabel(), ax.get_ylabel()) if t}
    units = {re.search(r"\[(.+)\]", label)[1] for label in labels}
    assert {"in", "ksi"} <= units <= {"in", "ksi", "1", "% of p₀"}


def test_pressure_is_drawn_in_inches_and_ksi(drawn, comparison):
    for r, ax in zip(chosen(comparison), drawn["pressure.png"].axes[:2], strict=True):
        nodes, curve, hertz, top = ax.lines
        np.testing.assert_allclose(nodes.get_xdata(), r.reading.state.patch.x / INCH)
        np.testing.assert_allclose(nodes.get_ydata(), r.reading.state.patch.pressure / KSI)
        assert max(curve.get_ydata()) == pytest.approx(
            r.peak_contact_pressure.value / KSI, rel=1e-3
        )
        assert max(hertz.get_ydata()) == pytest.approx(r.hand_value("hertz_peak_pressure") / KSI)
        # Where Hertz's pressure ends, on the axis of inches.
        inside = np.asarray(hertz.get_xdata())[np.asarray(hertz.get_ydata()) > 0.0]
        a = r.hand_value("hertz_half_width") / INCH
        assert max(inside) == pytest.approx(a, rel=0.02)
        assert top.get_ydata()[0] == pytest.approx(r.peak_contact_pressure.value / KSI)
        low, high = ax.get_xlim()
        assert (-low, high) == pytest.approx([1.3 * r.half_width.value / INCH] * 2, rel=0.05)
        assert any(
            f"{r.peak_contact_pressure.value / KSI:.1f} ± " in t.get_text() for t in ax.texts
        )
        p0 = r.hand_value("hertz_peak_pressure") / KSI
        by_hertz = f"Hertz: a = {significant(a)} in\np₀ = {significant(p0)} ksi"
        assert any(by_hertz in t.get_text() for t in ax.texts)
    for r, ax in zip(chosen(comparison), drawn["pressure.png"].axes[2:], strict=True):
        np.testing.assert_allclose(ax.lines[1].get_xdata(), r.reading.state.patch.x / INCH)


def test_the_place_of_the_peak_pressure_is_in_inches(us):
    first = us.sections[0]
    patch = first.reading.state.patch
    moved = replace(patch, pressure=np.roll(patch.pressure, 4))
    state = replace(first.reading.state, patches=(moved,))
    aside = replace(first, reading=replace(first.reading, state=state))
    ax = _drawn("pressure.png", replace(us, sections=(aside,))).axes[0]
    x = patch.x[np.argmax(moved.pressure)] / INCH
    assert x > 0.0
    assert [t.get_text() for t in ax.texts if f" ksi\nat x = {x:.2g}" in t.get_text()]


def test_the_load_line_is_drawn_in_inches_and_ksi(drawn, comparison):
    axes = drawn["load_line.png"].axes
    for k, (ax, plain) in enumerate(
        zip(axes, _drawn("load_line.png", comparison).axes, strict=True)
    ):
        assert [KSI * v for v in ax.get_ylim()] == pytest.approx(plain.get_ylim())
        length = INCH if k >= 2 else 1.0  # near the contact in half-widths
        for line, other in zip(ax.lines, plain.lines, strict=True):
            x, y = (np.asarray(values) for values in line.get_data())
            if len(x) > 2:  # a curve, not the line of no stress
                np.testing.assert_allclose(length * x, other.get_xdata(), rtol=1e-9)
                np.testing.assert_allclose(KSI * y, other.get_ydata(), rtol=1e-9, atol=1e-9)
    for r, near, far in zip(chosen(comparison), axes[:2], axes[2:], strict=True):
        end = r.section.wall or r.section.radius
        a = r.half_width.value
        assert far.get_xlim() == pytest.approx((4.0 * a / INCH, end / INCH))
        assert near.get_xlim()[1] == pytest.approx(4.0)  # half-widths, in any unit
        by_hertz = near.lines[5]
        assert max(by_hertz.get_ydata()) == pytest.approx(
            r.hand_value("hertz_peak_von_mises") / KSI, rel=1e-2
        )
        (mark,) = (line for line in near.lines if line.get_marker() == "D")
        assert mark.get_ydata()[0] == pytest.approx(r.hand_value("hertz_peak_von_mises") / KSI)
    (mark,) = (line for line in axes[2].lines if line.get_marker() == "s")
    exact = comparison.sections[1].hand_value("ring_bore_under_load") / KSI
    assert mark.get_data() == (pytest.approx([20.0 / INCH]), pytest.approx([exact]))
    assert any(t.get_text() == f"□ exact σx {exact:.1f} ksi" for t in axes[2].texts)


def test_sections_are_drawn_in_inches_and_ksi(drawn, comparison):
    *panels, bar = drawn["sections.png"].axes
    most = max(
        max(r.member.peak_von_mises.value, r.plate.peak_von_mises.value)
        for r in comparison.sections
    )
    for r, whole, contact in zip(chosen(comparison), panels[:2], panels[2:], strict=True):
        radii = {p.get_radius() for p in whole.patches if isinstance(p, Circle)}
        expected = {r.section.radius, r.section.geometry.bore / 2} - {0.0}
        assert sorted(radii) == pytest.approx(sorted(v / INCH for v in expected))
        assert whole.get_xlim()[1] == pytest.approx(0.8 * 120.0 / INCH)
        texts = [t.get_text() for t in whole.texts]
        assert f"{r.member.peak_von_mises.value / KSI:.1f} ksi" in texts
        marks = [line.get_data() for line in whole.lines if line.get_marker() == "o"]
        assert ([r.member.peak_von_mises.at.x / INCH], [r.member.peak_von_mises.at.y / INCH]) in [
            (pytest.approx(x), pytest.approx(y)) for x, y in marks
        ]
        post, plate = (t.get_text() for t in contact.texts)
        assert f"post {r.member.peak_von_mises.value / KSI:.1f} ± " in post
        assert f"plate {r.plate.peak_von_mises.value / KSI:.1f} ± " in plate
        # Lengths over the half-width are the same in any unit.
        assert contact.get_xlim() == pytest.approx((-2.3, 2.3))
        for ax in (whole, contact):
            shaded = [c for c in ax.collections if c.get_array() is not None]
            shaded = [c for c in shaded if c.get_cmap().name == STRESS]
            assert [c.get_clim() for c in shaded] == [pytest.approx((0.0, most / KSI))] * 2
            highest = max(c.get_array().max() for c in shaded)
            assert 0.5 * most / KSI < highest <= 1.001 * most / KSI
    ticks = [float(t.get_text()) for t in bar.get_xticklabels()]
    assert ticks == pytest.approx(list(bar.get_xticks()))
    assert all(tick == float(f"{tick:.1g}") for tick in ticks)  # round in ksi, not in MPa
    assert 0.5 * most / KSI < ticks[-1] < most / KSI
    allowed = [line.get_xdata()[0] for line in bar.lines if line.get_marker() == "v"]
    assert allowed == pytest.approx([420.0 / KSI])


def _narrow_and_diametral(comparison):
    """The same results, drawn as of a narrow, thin plate and its image: every edge is seen."""
    case = comparison.case
    post, plate = (
        replace(case.post, held_by="diametral"),
        replace(case.plate, width=150.0, thickness=40.0),
    )
    return replace(comparison, case=replace(case, post=post, plate=plate))


@pytest.mark.parametrize("variant", [lambda comparison: comparison, _narrow_and_diametral])
def test_sections_are_those_of_the_si_figure_by_inch_and_ksi(variant, us, comparison):
    si, shown = (
        _drawn("sections.png", variant(of)).axes[: 2 * len(of.sections)] for of in (comparison, us)
    )
    for k, (one, other) in enumerate(zip(si, shown, strict=True)):
        _compare_panels(one, other, INCH if k < 2 else 1.0)  # the contact is in half-widths
    assert _dashed(si[1])  # the solid is above yield: what was compared is there


def _compare_panels(si, us, length):
    """Lines, shading and the dashed isolines at the stress allowed, but for their units."""
    for one, other in zip(si.lines, us.lines, strict=True):
        level = list(one.get_xdata()) == [0, 1]  # across the whole panel, whatever its unit
        x = 1.0 if level else length
        np.testing.assert_allclose(x * np.asarray(other.get_xdata()), one.get_xdata(), atol=1e-9)
        np.testing.assert_allclose(
            length * np.asarray(other.get_ydata()), one.get_ydata(), atol=1e-9
        )
    shading = [[c for c in ax.collections if isinstance(c, TriMesh)] for ax in (si, us)]
    assert len(shading[0]) >= 2  # post and plate
    for one, other in zip(*shading, strict=True):
        np.testing.assert_allclose(other.get_array() * KSI, one.get_array())
        corners = [np.array([p.vertices for p in mesh.get_paths()]) for mesh in (one, other)]
        np.testing.assert_allclose(length * corners[1], corners[0], atol=1e-9)
    assert [v * KSI for v in _dashed(us)] == pytest.approx(_dashed(si))


def _dashed(ax):
    """Levels of the isolines that stand alone, at the stress allowed."""
    contours = [c for c in ax.collections if isinstance(c, TriContourSet)]
    return [c.levels[0] for c in contours if len(c.levels) == 1]


def test_a_contact_peak_that_does_not_govern_is_in_ksi(us):
    tube = us.sections[1]
    contact, bore = tube.member.places[0], tube.member.places[1]
    other = replace(tube, member=replace(tube.member, values={**tube.values, "post_peak": bore}))
    texts = _texts(_drawn("sections.png", replace(us, sections=(other,))))
    assert [t for t in texts if t.startswith(f"post {contact.value / KSI:.1f} ± ")]


def test_captions_and_notes_are_in_us_units(drawn):
    load = f"{1200.0 / (KSI * INCH):.3f} kip/in"
    for figure in drawn.values():
        assert sum(load in " ".join(text.split()) for text in _texts(figure)) == 1
    sections = " ".join(" ".join(_texts(drawn["sections.png"])).split())
    assert f"it measures {300 / INCH:.5g} × {50 / INCH:.5g} in)" in sections
    assert f"▼ yield: post {420 / KSI:.4g} ksi; plate {690 / KSI:.4g} ksi" in sections
    assert f"{120 / INCH:.5g} × {20 / INCH:.4g} in" in sections
