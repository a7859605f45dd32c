"""Force against approach, its stiffness, and what the approach is made of; a column a section."""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from contactfe.assess.gap_element import Table
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.figures.ink import ACROSS, ALONG, INK, QUIET
from contactfe.report.figures.panels import caption, few, heads, legend, name_lines, panels
from contactfe.report.stiffness_springs import twice
from contactfe.solve.force_approach import ForceApproach

MOST_SECTIONS = 4

_LAYERS = (
    ("contact, post", "#8c3d00", ""),
    ("contact, plate", "#e0b98f", "///"),
    ("ring", "#4a9fd8", ""),
    ("plate's bending and supports", "#c9d3da", "..."),
)
"""Name, colour and hatching of the shares: they differ in lightness, and in print by hatching."""

_LEAST = 0.5
"""Per cent of the approach from which a share is seen and has its name in the legend."""

Look = dict[str, Any]

_OF_CASE, _OF_IMPACT = "load of the case", "impact force"
_CURVE: Look = {"label": "curve; tangent stiffness", "color": INK, "linewidth": 1.6}
_SECANT: Look = {"label": "secant stiffness", "color": INK, "linewidth": 0.9, "linestyle": "--"}
_POWER: Look = {"label": "power law", "color": ALONG, "linestyle": (0, (4, 2)), "linewidth": 1.2}
_SPRING: Look = {"label": "linear spring", "color": QUIET, "linewidth": 0.9}
_POINTS: Look = {
    "label": "points", "color": ACROSS, "linestyle": "none", "marker": "o", "markersize": 4.5
}  # fmt: skip
_LOAD: Look = {
    "label": _OF_CASE, "color": INK, "linestyle": (0, (1, 2)), "linewidth": 0.9
}  # fmt: skip
_IMPACT: Look = {
    "label": _OF_IMPACT, "color": INK, "linestyle": (0, (8, 2, 1.5, 2)), "linewidth": 1.1
}  # fmt: skip


def stiffness_figure(result: StiffnessResult) -> Figure:
    """Three panels a section, and above them the spring with its post's bending where one has it.

    Those of force each have a scale of their own for approach or displacement.
    """
    case, shown = result.case, result.sections[:MOST_SECTIONS]
    bent = any(section.with_post is not None for section in shown)
    heights = (1.0, 1.0, 0.75, 0.75) if bent else (1.5, 1.1, 1.1)
    figure, columns = panels(len(shown), heights)
    most = max(float(s.points.line_load[-1]) for s in shown)
    solved = max(float(s.curve.line_load[-1]) for s in shown)
    steepest = max(float(s.curve.tangent_stiffness.max()) for s in shown)
    for (*above, force, slope, parts), section in zip(columns, shown, strict=True):
        for ax in above:
            _with_post(ax, case, section, most)
        _impact((*above, force), (slope, parts), case, section)
        _force(force, case, section, most)
        _slope(slope, case, section, steepest, solved)
        _parts(parts, case, section, solved)
        if section is shown[0]:
            units = case.display
            for ax in (*above, force):
                ax.set_ylabel(f"line load [{units.line_load.name}]")
            slope.set_ylabel(f"stiffness [{units.line_stiffness.name}]")
            parts.set_ylabel("share [%]")
    heads(
        [top for top, *_ in columns],
        [(s.section.name, words.size(s.section, case.display)) for s in shown],
    )
    *forces, slope, _ = columns[0]
    for ax in forces:
        name_lines(ax, {str(_CURVE["label"]): "curve", _OF_CASE: _OF_CASE, _OF_IMPACT: _OF_IMPACT})
    name_lines(slope, {str(_CURVE["label"]): "tangent", str(_SECANT["label"]): "secant"})
    legend(figure, columns.flat)
    alone = (f"{words.one_line(result.case.title)}.", twice(result) or "")
    caption(figure, _caption(result, len(shown)), " ".join(alone).strip())
    return figure


def _with_post(ax: Axes, case: Case, section: SectionStiffness, most: float) -> None:
    ax.set_title("with the post's bending")
    post, series = section.with_post, section.series
    if post is None or series is None:
        ax.text(0.5, 0.5, "not known", transform=ax.transAxes, ha="center", va="center")
        ax.set(xticks=[], yticks=[])
        return
    spring = post.spring.stiffness / (case.contact_length or 1.0)
    _lines(ax, case, series.curve, post.points, spring, section.up_to_line_load)
    ax.set(
        ylim=(0.0, case.display.line_load.of(1.06 * most)),
        xlabel=f"displacement [{case.display.length.name}]",
    )


def _force(ax: Axes, case: Case, section: SectionStiffness, most: float) -> None:
    length, load, power = case.display.length, case.display.line_load, section.power_law
    ax.set_title("contact alone")
    _lines(ax, case, section.far, section.points, section.linear.stiffness, section.up_to_line_load)
    fitted = section.far.approach_at(np.geomspace(power.from_line_load, power.to_line_load, 60))
    law = power.coefficient * fitted**power.exponent
    ax.plot(length.of(fitted), load.of(law), **_POWER)
    ax.set(ylim=(0.0, load.of(1.06 * most)), xlabel=f"approach [{length.name}]")


def _lines(
    ax: Axes, case: Case, curve: ForceApproach, points: Table, spring: float, up_to: float
) -> None:
    """A curve up to the end of its points, those, and the spring, N/mm/mm, up to its load."""
    length, load = case.display.length, case.display.line_load
    approach = np.linspace(0.0, points.approach[-1], 200)
    ax.plot(length.of(approach), load.of(curve.line_load_at(approach)), **_CURVE)
    straight = np.array([0.0, up_to])
    ax.plot(length.of(straight / spring), load.of(straight), **_SPRING)
    ax.plot(length.of(points.approach), load.of(points.line_load), **_POINTS)
    ax.axhline(load.of(case.line_load), **_LOAD)
    end = length.of(1.03 * float(points.approach[-1]))
    ax.set(xlim=(0.0, end))
    few(ax)


def _impact(
    forces: Sequence[Axes], others: Sequence[Axes], case: Case, section: SectionStiffness
) -> None:
    """The impact force where it is known and the points go so far."""
    if section.impact.peak_contact_force is None or case.contact_length is None:
        return
    if section.short(case.contact_length):
        return
    at = float(case.display.line_load.of(section.impact.peak_contact_force / case.contact_length))
    for ax in forces:
        ax.axhline(at, **_IMPACT)
    for ax in others:
        ax.axvline(at, **_IMPACT)


def _slope(ax: Axes, case: Case, section: SectionStiffness, steepest: float, most: float) -> None:
    load, unit, curve = case.display.line_load, case.display.line_stiffness, section.curve
    q = load.of(curve.line_load)
    ax.plot(q, unit.of(curve.tangent_stiffness), **_CURVE)
    ax.plot(q, unit.of(curve.line_load / curve.approach), **_SECANT)
    ax.axvline(load.of(case.line_load), **_LOAD)
    ax.set(xlim=(0.0, load.of(1.03 * most)), ylim=(0.0, unit.of(1.08 * steepest)))
    few(ax)
    ax.tick_params(labelbottom=False)


def _parts(ax: Axes, case: Case, section: SectionStiffness, most: float) -> None:
    """Shares stacked from below; what is negative, as that of a rigid core, counts as none."""
    load = case.display.line_load
    q = load.of(section.curve.line_load)
    values = np.array(
        [[p.contact_post, p.contact_plate, p.ring, p.plate_bending] for p in section.curve_shares]
    )
    kept = np.maximum(values, 0.0)
    tops = 100.0 * np.cumsum(kept / kept.sum(axis=1, keepdims=True), axis=1).T
    low = np.zeros_like(q)
    for top, (name, colour, hatch) in zip(tops, _LAYERS, strict=True):
        look: Look = {
            "facecolor": colour,
            "hatch": hatch,
            "edgecolor": INK,
            "linewidth": 0.3,
        }
        seen = float(np.max(top - low)) > _LEAST
        ax.fill_between(q, low, top, label=name if seen else f"_{name}", **look)
        low = top
    ax.axvline(load.of(case.line_load), **_LOAD)
    ax.set(xlim=(0.0, load.of(1.03 * most)), ylim=(0.0, 100.0))
    few(ax)
    ax.set_xlabel(f"line load [{load.name}]")


def _caption(result: StiffnessResult, count: int) -> str:
    laws = "; ".join(
        f"{words.one_line(s.section.name)} n = {s.power_law.exponent:.3f}"
        for s in result.sections[:count]
    )
    low, high = (
        result.sections[0].power_law.from_line_load,
        result.sections[0].power_law.to_line_load,
    )
    load = result.case.display.line_load
    more = len(result.sections) - count
    above = ""
    if twice(result):
        above = (
            "Above: with the post's bending in series, for a model without the post. Below:"
            " contact alone, for a model that has the post. "
        )
    rest = f" Shown are {count} of {len(result.sections)} sections." if more else ""
    if any(s.shares[1].value < -s.shares[1].uncertainty for s in result.sections[:count]):
        rest += (
            " A ring that gives way less than the solid, as a core or a second plate makes it, has"
            " no share here."
        )
    rest += _impact_words(result.case, result.sections[:count])
    return (
        f"{above}Line load over approach, frictionless and"
        " square to the plate. Below it, of the contact alone: tangent and secant stiffness; what"
        " the approach is made of."
        f" Power law q = A·δ^n from {load.number(low)} to {load.text(high)}: {laws}; a line of"
        f" contact never has n = 1.5.{rest}"
    )


def _impact_words(case: Case, shown: Sequence[SectionStiffness]) -> str:
    forces = [s.impact.peak_contact_force for s in shown if s.impact.peak_contact_force is not None]
    if not forces or case.contact_length is None:
        return ""
    ends = dict.fromkeys(case.display.force.text(of) for of in (min(forces), max(forces)))
    stated = case.line_load * case.contact_length
    alike = all(math.isclose(of, stated, rel_tol=1e-6) for of in forces)
    beyond = any(s.short(case.contact_length) for s in shown)
    return (
        f" Impact force: {' to '.join(ends)}, the peak contact force of the motion"
        f"{'; it is the load of the case' if alike else ''}"
        f"{'; not drawn where it is beyond the points' if beyond else ''}."
    )


def stiffness_alt(result: StiffnessResult) -> str:
    """The figure in words."""
    units = result.case.display
    springs = "; ".join(
        f"{words.one_line(s.section.name)}, linear spring"
        f" {units.line_stiffness.text(s.linear.stiffness)},"
        f" power law n = {s.power_law.exponent:.3f}"
        for s in result.sections[:MOST_SECTIONS]
    )
    return f"Line load over approach, its stiffness, and what the approach is made of: {springs}."
