"""Utilisation over the contacts of an envelope, a column for each section, a row for each friction.

Where one of offset and angle has few values, marks stand over the other, those of one place side by
side; where both have many, maps with isolines. Nothing joins the marks: from one contact to the
next the post may cease to stick.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib import colormaps
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.colors import Normalize
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope
from contactfe.assess.row import Row
from contactfe.assess.value import Body, BodyName
from contactfe.report import words
from contactfe.report.envelope_page import contact_words
from contactfe.report.figures.choice import loaded
from contactfe.report.figures.ink import ALONG, HAND, INK, PAPER, QUIET, SMALL, STRESS
from contactfe.report.figures.panels import HALO, caption, few, heads, legend, minus, panels, spread
from contactfe.solve.elastic import Floats

MOST_SECTIONS = 4
MOST_FRICTIONS = 3
MOST_ABREAST = 7
"""Values whose marks can stand side by side; more are drawn as a map."""

_HIGH = 4.2
"""All rows together, inches."""

_BODIES: tuple[BodyName, ...] = ("post", "plate")

_LOOKS: dict[BodyName, dict[str, Any]] = {
    "post": {"color": INK, "markerfacecolor": INK},
    "plate": {"color": HAND, "markerfacecolor": PAPER},
}
"""Of the marks: filled and open, so that they need no colour."""

_MARKS = {"no friction": "o", "sticking": "s", "partial slip": "^", "full sliding": "D"}
"""Form of the mark by what the contact does."""

_FAR = 1.3
"""What is allowed over the largest beyond which it is written, not drawn: it would flatten all."""

_MIDDLE = 0.21
"""Relative luminance at which ``INK`` and ``PAPER`` stand out alike: √(1.05·0.065) − 0.05."""


@dataclass(frozen=True)
class _Axis:
    """One of offset, angle and friction: its place in the arrays, values as shown, and label."""

    number: int
    values: Floats
    label: str

    def name(self, value: float) -> str:
        """One value in words."""
        what, _, unit = self.label.partition(" [")
        unit = unit.rstrip("]")
        return minus(f"{what} {value:.4g}") + (f" {unit}" if unit != "1" else "")


@dataclass(frozen=True)
class _Plan:
    """What runs along x, what stands side by side or is the y of a map, and what the rows are."""

    x: _Axis
    series: _Axis
    rows: _Axis
    shown: tuple[int, ...]  # of the values of the rows
    is_map: bool


@dataclass(frozen=True)
class _Panel:
    """The contacts of a panel with their numbers along x and in the series; the governing one."""

    plan: _Plan
    rows: tuple[tuple[Row, int, int], ...]
    governing: Row | None


def envelope_figure(result: EnvelopeResult) -> Figure:
    """A column a section, the best first; rows of friction, and of a map for post and plate."""
    units, shown = result.case.display, _chosen(result)
    plan, limits = _plan(result, shown), _limits(shown)
    rows = [(k, body) for k in plan.shown for body in (_BODIES if plan.is_map else (None,))]
    figure, columns = panels(len(shown), [min(2.2, _HIGH / len(rows))] * len(rows), sharex=True)
    for axes, section in zip(columns, shown, strict=True):
        for ax, (k, body) in zip(axes, rows, strict=True):
            panel = _Panel(plan, tuple(_of_panel(result, section, plan, k)), section.governing)
            friction = plan.rows.name(float(plan.rows.values[k])) if plan.rows is not plan.x else ""
            if body is None:
                ax.set_title(friction, pad=3)
                _marks(ax, panel, limits)
            else:
                ax.set_title(f"{body}, {friction}", pad=3)
                _map(ax, panel, body, limits)
        axes[-1].set_xlabel(plan.x.label)
        few(*axes, most=5)
    names = [(s.section.name, words.size(s.section, units)) for s in shown]
    heads([axes[0] for axes in columns], names)
    for ax in columns[0]:
        ax.set_ylabel(plan.series.label if plan.is_map else "utilisation [1]")
    if plan.is_map:
        colours = ScalarMappable(Normalize(*limits), STRESS)
        figure.colorbar(
            colours, ax=columns, label="utilisation [1]", ticks=_steps(limits), aspect=40
        )
    else:
        legend(figure, columns.flat)
    caption(figure, _caption(result, shown, plan, limits), f"{loaded(result.case)}:")
    return figure


def _chosen(result: EnvelopeResult) -> tuple[SectionEnvelope, ...]:
    """At most ``MOST_SECTIONS`` of those solved, the best first."""
    return tuple(result.section(name) for name in result.by_utilisation[:MOST_SECTIONS])


def _plan(result: EnvelopeResult, shown: Sequence[SectionEnvelope]) -> _Plan:
    envelope, units = result.case.envelope, result.case.display
    assert envelope is not None
    offset = _Axis(0, units.length.of(np.array(envelope.offsets)), f"offset [{units.length.name}]")
    angle = _Axis(1, units.angle.of(np.array(envelope.angles)), f"angle [{units.angle.name}]")
    friction = _Axis(2, np.array(envelope.frictions), "friction [1]")
    n_offset, n_angle = len(envelope.offsets), len(envelope.angles)
    if n_offset == n_angle == 1:
        # One row holds all: what would be the rows runs along x.
        return _Plan(friction, offset, friction, (0,), False)
    is_map = min(n_offset, n_angle) > MOST_ABREAST
    along_offset = is_map or n_offset >= n_angle
    x, series = (offset, angle) if along_offset else (angle, offset)
    frictions = list(envelope.frictions)
    rows = set(range(len(frictions)))
    if len(rows) > MOST_FRICTIONS:
        governing = {s.governing.contact.friction for s in shown if s.governing is not None}
        rows = {frictions.index(f) for f in {min(frictions), max(frictions), *governing}}
    return _Plan(x, series, friction, tuple(sorted(rows, key=lambda k: frictions[k])), is_map)


def _limits(shown: Sequence[SectionEnvelope]) -> tuple[float, float]:
    """Least and greatest utilisation of all panels, and what is allowed where it is not far."""
    rows = [row.values for section in shown for row in section.solved]
    used = [Body(values, body).utilisation for values in rows for body in _BODIES]
    top = max(u.value + u.uncertainty for u in used)
    allowed = [1.0] if _FAR * top >= 1.0 else []
    return spread([top, min(u.value - u.uncertainty for u in used), *allowed], 0.1)


def _steps(limits: tuple[float, float]) -> Floats:
    """Round utilisations within the limits."""
    low, high = limits
    steps = np.array(MaxNLocator(7, steps=[1, 2, 5, 10]).tick_values(low, high))
    return steps[(steps >= low) & (steps <= high)]


def _of_panel(
    result: EnvelopeResult, section: SectionEnvelope, plan: _Plan, row: int
) -> Iterator[tuple[Row, int, int]]:
    """The rows of a panel, each with its numbers along x and in the series."""
    for of in section.rows:
        at = _index(result, of)
        if plan.rows is plan.x or at[plan.rows.number] == row:
            yield of, at[plan.x.number], at[plan.series.number]


def _marks(ax: Axes, panel: _Panel, limits: tuple[float, float]) -> None:
    """A mark for each contact, those of one x side by side as their series rises."""
    plan = panel.plan
    series = np.argsort(np.argsort(plan.series.values))
    step = np.diff(np.sort(plan.x.values)).min() if len(plan.x.values) > 1 else 1.0
    apart = 0.75 * step / len(series)
    size = float(np.clip(80.0 / (len(plan.x.values) * len(series)), 2.0, 4.0))
    for of, at, number in panel.rows:
        x = plan.x.values[at] + apart * (series[number] - (len(series) - 1) / 2.0)
        if not of.solved:
            ax.plot(
                x, 0.03, "x", color=QUIET, markersize=4, transform=ax.get_xaxis_transform(),
                gid="unsolved",
            )  # fmt: skip
            continue
        for body in _BODIES:
            used = Body(of.values, body).utilisation
            ax.errorbar(
                x, used.value, used.uncertainty, marker=_MARKS[of.motion], markersize=size,
                linestyle="none", elinewidth=0.6, markeredgewidth=0.8,
                label=f"{body}, {of.motion}", **_LOOKS[body],
            )  # fmt: skip
            if of is panel.governing and of.governs == body:
                _ring(ax, x, used.value)
    ax.set_ylim(*limits)
    ax.set_xlim(*spread([v + s * step / 2.0 for v in plan.x.values for s in (-1.0, 1.0)], 0.0))
    if limits[0] <= 1.0 <= limits[1]:
        ax.axhline(1.0, color=ALONG, linewidth=1.0, dashes=(5, 2), zorder=0)


def _map(ax: Axes, panel: _Panel, body: BodyName, limits: tuple[float, float]) -> None:
    plan = panel.plan
    z = np.full((len(plan.series.values), len(plan.x.values)), np.nan)
    for of, at, number in panel.rows:
        if of.solved:
            z[number, at] = Body(of.values, body).utilisation.value
        if of is panel.governing and of.governs == body:
            _ring(ax, plan.x.values[at], plan.series.values[number])
    by_x, by_y = np.argsort(plan.x.values), np.argsort(plan.series.values)
    x, y, z = plan.x.values[by_x], plan.series.values[by_y], z[np.ix_(by_y, by_x)]
    norm, seen = Normalize(*limits), np.ma.masked_invalid(z)
    ax.pcolormesh(x, y, seen, norm=norm, cmap=STRESS, shading="nearest", rasterized=True)
    inside = [s for s in _steps(limits) if seen.min() < s < seen.max() and s != 1.0]
    if inside:
        on = [_contrasting(colormaps[STRESS](float(norm(s)))) for s in inside]
        lines = ax.contour(x, y, seen, inside, colors=on, linewidths=0.6)
        ax.clabel(lines, fontsize=SMALL, fmt="%g")
    if seen.min() < 1.0 < seen.max():
        line = ax.contour(x, y, seen, [1.0], colors=ALONG, linewidths=1.6)
        line.set_path_effects([HALO])
    rows, columns = np.nonzero(np.isnan(z))
    ax.plot(x[columns], y[rows], "x", color=QUIET, markersize=4, gid="unsolved")


def _ring(ax: Axes, x: float, y: float) -> None:
    """Around the contact that governs."""
    ax.plot(
        x, y, "o", markersize=8.5, markerfacecolor="none", markeredgecolor=ALONG,
        markeredgewidth=1.4, zorder=6, clip_on=False, gid="governing", path_effects=[HALO],
    )  # fmt: skip


def _contrasting(colour: tuple[float, float, float, float]) -> str:
    """Dark ink on a pale colour, paper on a dark one: by its relative luminance (WCAG 2.1)."""
    channels = np.array(colour[:3])
    linear = np.where(channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)
    luminance = float(linear @ (0.2126, 0.7152, 0.0722))
    return INK if luminance > _MIDDLE else PAPER


def _index(result: EnvelopeResult, row: Row) -> tuple[int, int, int]:
    envelope, contact = result.case.envelope, row.contact
    assert envelope is not None
    return (
        envelope.offsets.index(contact.offset),
        envelope.angles.index(contact.angle),
        envelope.frictions.index(contact.friction),
    )


def _caption(
    result: EnvelopeResult,
    shown: Sequence[SectionEnvelope],
    plan: _Plan,
    limits: tuple[float, float],
) -> str:
    case = result.case
    fixed = [
        axis.name(float(axis.values[0])) for axis in (plan.x, plan.series) if len(axis.values) == 1
    ]
    parts = [
        "utilisation over the contacts of the envelope",
        f", {', '.join(fixed)}" if fixed else "",
        f". Peak von Mises stress over {words.limit(case)}, which is reached at 1",
        " (heavy line)." if plan.is_map else " (dashed line).",
        " That is above the scale." if limits[1] < 1.0 else "",
        " Ring: the contact of the largest utilisation.",
    ]
    if not plan.is_map:
        if len(plan.series.values) > 1:
            what = plan.series.label.partition(" [")[0]
            ends = (plan.series.name(float(f(plan.series.values))) for f in (min, max))
            low, high = ends
            parts.append(f" Side by side at each place, from left to right: {low} to {high}")
            parts.append(f" ({len(plan.series.values)} values of the {what}).")
        parts.append(" Bars: numerical uncertainty.")
    if any(not row.solved for s in shown for row in s.rows):
        parts.append(" Crosses: not solved.")
    if len(plan.shown) < len(plan.rows.values) and plan.rows is not plan.x:
        parts.append(f" Shown are {len(plan.shown)} of {len(plan.rows.values)} frictions.")
    if len(shown) < len(result.sections):
        parts.append(f" Shown are {len(shown)} of {len(result.sections)} sections, the best.")
    parts += [f" {_governing(result, section)}" for section in shown]
    return "".join(parts)


def _governing(result: EnvelopeResult, section: SectionEnvelope) -> str:
    assert section.governing is not None  # as it is chosen
    return (
        f"{words.one_line(section.section.name)}: {section.governing.governs} governs at"
        f" {contact_words(section.governing.contact, result.case.display)}, utilisation"
        f" {words.pair(section.governing.utilisation)}."
    )


def envelope_alt(result: EnvelopeResult) -> str:
    """The figure in words."""
    shown = _chosen(result)
    return minus(
        f"Utilisation of post and plate at {len(shown[0].rows)} contacts for each section."
        f" {' '.join(_governing(result, section) for section in shown)}"
    )
