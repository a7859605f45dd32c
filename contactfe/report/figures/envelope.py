"""Peak von Mises stress over the contacts of an envelope, a column for each section.

Where one of offset and angle has few values they are lines over the other; where both have many,
maps with isolines. Post and plate, and each friction, have rows of their own.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib import colormaps
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.colors import Normalize
from matplotlib.figure import Figure
from matplotlib.patheffects import AbstractPathEffect, withStroke
from matplotlib.ticker import MaxNLocator
from numpy.typing import NDArray

from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope
from contactfe.assess.row import Row
from contactfe.assess.value import Body, BodyName
from contactfe.case.display import Display
from contactfe.report import words
from contactfe.report.envelope_page import contact_words
from contactfe.report.figures.ink import (
    ALONG,
    INK,
    PAPER,
    QUIET,
    STRESS,
)
from contactfe.report.figures.panels import caption, head, legend, minus, panels, spread
from contactfe.solve.elastic import Floats

MOST_SECTIONS = 4
MOST_FRICTIONS = 3
MOST_LINES = 7
"""Lines that a panel can hold; more are drawn as a map."""

_MARKERS = "os^DvPX"
_BODIES: tuple[BodyName, ...] = ("post", "plate")

_FAR = 1.3
"""Allowed stress over the largest beyond which it is written, not drawn: it would flatten all."""


_HALO: list[AbstractPathEffect] = [withStroke(linewidth=3.2, foreground=PAPER)]
"""Around what is drawn on a map, of which the colour may be dark."""

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
    """What runs along x, what the lines or the y of a map are, and what the rows are."""

    x: _Axis
    series: _Axis
    rows: _Axis
    shown: tuple[int, ...]  # of the values of the rows
    is_map: bool


@dataclass(frozen=True)
class _Scale:
    """Limits of the stress of a body in all panels, and its isolines, in the units shown."""

    low: float
    high: float
    steps: Floats

    @property
    def norm(self) -> Normalize:
        """The same for colours."""
        return Normalize(self.low, self.high)


def envelope_figure(result: EnvelopeResult) -> Figure:
    """A column a section; rows for post and plate at each friction that is shown."""
    units = result.case.display
    shown = _chosen(result)
    plan = _plan(result, shown)
    rows = [(k, body) for k in plan.shown for body in _BODIES]
    width, height = (2.55 if len(shown) > 1 else 4.6), (1.9 if plan.is_map else 1.65)
    scales = {body: _scale(result, shown, body, units) for body in _BODIES}
    figure, columns = panels(len(shown), width, [height] * len(rows), sharex=True)
    label = f"peak von Mises [{units.stress.name}]"
    for axes, section in zip(columns, shown, strict=True):
        for ax, (k, body) in zip(axes, rows, strict=True):
            _panel(ax, result, section, body, plan, k, scales[body])
        head(axes[0], section.section.name, words.size(section.section, units))
        axes[-1].set_xlabel(plan.x.label)
    for axes, (_, body) in zip(columns.T, rows, strict=True):
        axes[0].set_ylabel(plan.series.label if plan.is_map else label)
        if plan.is_map:
            colours = ScalarMappable(scales[body].norm, STRESS)
            figure.colorbar(colours, ax=axes, label=label, ticks=scales[body].steps, aspect=15)
    if not plan.is_map and len(plan.series.values) > 1:
        legend(figure, columns[0, :1], 4 if len(shown) > 1 else 3)
    caption(figure, _caption(result, shown, plan, scales))
    return figure


def _chosen(result: EnvelopeResult) -> tuple[SectionEnvelope, ...]:
    """At most ``MOST_SECTIONS`` of those solved, in the order of the case: the best."""
    names = result.by_utilisation[:MOST_SECTIONS]
    return tuple(s for s in result.sections if s.section.name in names)


def _plan(result: EnvelopeResult, shown: Sequence[SectionEnvelope]) -> _Plan:
    envelope, units = result.case.envelope, result.case.display
    assert envelope is not None
    offset = _Axis(0, units.length.of(np.array(envelope.offsets)), f"offset [{units.length.name}]")
    angle = _Axis(1, units.angle.of(np.array(envelope.angles)), f"angle [{units.angle.name}]")
    friction = _Axis(2, np.array(envelope.frictions), "friction [1]")
    n_offset, n_angle = len(envelope.offsets), len(envelope.angles)
    if n_offset == n_angle == 1:
        return _Plan(friction, offset, angle, (0,), False)
    is_map = min(n_offset, n_angle) > MOST_LINES
    along_offset = is_map or n_offset >= n_angle
    x, series = (offset, angle) if along_offset else (angle, offset)
    frictions = list(envelope.frictions)
    rows = set(range(len(frictions)))
    if len(rows) > MOST_FRICTIONS:
        governing = {s.governing.contact.friction for s in shown if s.governing is not None}
        rows = {frictions.index(f) for f in {min(frictions), max(frictions), *governing}}
    return _Plan(x, series, friction, tuple(sorted(rows, key=lambda k: frictions[k])), is_map)


def _scale(
    result: EnvelopeResult, shown: Sequence[SectionEnvelope], body: BodyName, units: Display
) -> _Scale:
    values = []
    for section in shown:
        peaks = [Body(row.values, body).peak for row in section.solved]
        top = max(p.value + p.uncertainty for p in peaks)
        values += [top, min(p.value - p.uncertainty for p in peaks)]
        allowed = _allowed(result, section, body)
        values += [allowed] if allowed <= _FAR * top else []
    low, high = spread([float(units.stress.of(v)) for v in values], 0.12)
    steps = np.array(MaxNLocator(7, steps=[1, 2, 5, 10]).tick_values(low, high))
    return _Scale(low, high, steps[(steps >= low) & (steps <= high)])


def _allowed(result: EnvelopeResult, section: SectionEnvelope, body: BodyName) -> float:
    """Stress that a body may reach, MPa."""
    case = result.case
    steel = case.plate_material if body == "plate" else case.post_material(section.section)
    return steel.yield_strength / case.yield_margin


def _panel(
    ax: Axes,
    result: EnvelopeResult,
    section: SectionEnvelope,
    body: BodyName,
    plan: _Plan,
    row: int,
    scale: _Scale,
) -> None:
    units = result.case.display
    peaks, uncertainties = (_slice(a, plan, row) for a in _arrays(result, section, body, units))
    allowed = float(units.stress.of(_allowed(result, section, body)))
    worst = section.governing
    assert worst is not None  # as it is chosen
    at = _index(result, worst)
    here = worst.governs == body and at[plan.rows.number] == row
    point = (at[plan.x.number], at[plan.series.number]) if here else None
    fits = scale.low <= allowed <= scale.high
    if plan.is_map:
        _map(ax, peaks, plan, scale, allowed if fits else None)
    else:
        _lines(ax, peaks, uncertainties, plan)
        ax.set_ylim(scale.low, scale.high)
        if fits:
            ax.axhline(allowed, color=ALONG, linewidth=1.1, dashes=(5, 2))
    if point is not None:
        y = plan.series.values[point[1]] if plan.is_map else peaks[point]
        ax.plot(
            plan.x.values[point[0]], y, "o", markersize=9.0, markerfacecolor="none",
            markeredgecolor=ALONG, markeredgewidth=1.6, zorder=6, clip_on=False,
            gid="governing", path_effects=_HALO,
        )  # fmt: skip
    title = f"{body}, {plan.rows.name(float(plan.rows.values[row]))}"
    ax.set_title(title, loc="left", fontsize=8, pad=3)
    text = f"allowed {units.stress.text(_allowed(result, section, body))}"
    ax.set_title(text if fits else f"{text} ↑", loc="right", fontsize=7.5, pad=3, color=ALONG)


def _lines(ax: Axes, peaks: Floats, uncertainties: Floats, plan: _Plan) -> None:
    order = np.argsort(plan.x.values)
    x = plan.x.values[order]
    for number in np.argsort(plan.series.values):
        ax.errorbar(
            x, peaks[order, number], uncertainties[order, number],
            label=plan.series.name(float(plan.series.values[number])),
            elinewidth=0.6, capsize=1.2, capthick=0.6, linewidth=1.0, **_style(number, plan),
        )  # fmt: skip
    missing = x[np.flatnonzero(np.isnan(peaks[order]).any(axis=1))]
    ax.plot(
        missing, np.full(len(missing), 0.03), "x", color=QUIET, markersize=4,
        transform=ax.get_xaxis_transform(), gid="unsolved",
    )  # fmt: skip
    ax.set_xlim(*spread([float(v) for v in x], 0.05))


def _map(ax: Axes, peaks: Floats, plan: _Plan, scale: _Scale, allowed: float | None) -> None:
    by_x, by_y = np.argsort(plan.x.values), np.argsort(plan.series.values)
    x, y = plan.x.values[by_x], plan.series.values[by_y]
    z = np.ma.masked_invalid(peaks[np.ix_(by_x, by_y)].T)
    ax.pcolormesh(x, y, z, norm=scale.norm, cmap=STRESS, shading="nearest", rasterized=True)
    inside = [s for s in scale.steps if z.min() < s < z.max()]
    if inside:
        on = [_contrasting(colormaps[STRESS](float(scale.norm(s)))) for s in inside]
        lines = ax.contour(x, y, z, inside, colors=on, linewidths=0.6)
        ax.clabel(lines, fontsize=6.5, fmt="%g")
    if allowed is not None and z.min() < allowed < z.max():
        line = ax.contour(x, y, z, [allowed], colors=ALONG, linewidths=1.6)
        line.set_path_effects(_HALO)
    rows, columns = np.nonzero(np.ma.getmaskarray(z))
    ax.plot(x[columns], y[rows], "x", color=QUIET, markersize=4, gid="unsolved")


def _contrasting(colour: tuple[float, float, float, float]) -> str:
    """Dark ink on a pale colour, paper on a dark one: by its relative luminance (WCAG 2.1)."""
    channels = np.array(colour[:3])
    linear = np.where(channels <= 0.04045, channels / 12.92, ((channels + 0.055) / 1.055) ** 2.4)
    luminance = float(linear @ (0.2126, 0.7152, 0.0722))
    return INK if luminance > _MIDDLE else PAPER


def _style(number: int, plan: _Plan) -> dict[str, Any]:
    """Line of a value: darker as it grows, with a marker of its own, smaller as it grows.

    In full sliding the angle does not matter and lines coincide: open markers in one another show.
    """
    rank = int(np.argsort(np.argsort(plan.series.values))[number])
    share = 1.0 if len(plan.series.values) == 1 else rank / (len(plan.series.values) - 1)
    return {
        "color": colormaps[STRESS](0.35 + 0.65 * share),
        "marker": _MARKERS[rank % len(_MARKERS)],
        "markerfacecolor": "none",
        "markersize": 7.5 - 5.0 * share,
    }


def _arrays(
    result: EnvelopeResult, section: SectionEnvelope, body: BodyName, units: Display
) -> tuple[Floats, Floats]:
    """Peaks and their uncertainties by offset, angle and friction; NaN where not solved."""
    envelope = result.case.envelope
    assert envelope is not None
    shape = (len(envelope.offsets), len(envelope.angles), len(envelope.frictions))
    both = np.full((len(section.rows), 2), np.nan)
    for number, row in enumerate(section.rows):  # in the order of the envelope
        if row.solved:
            peak = Body(row.values, body).peak
            both[number] = peak.value, peak.uncertainty
    peaks, uncertainties = units.stress.of(both).T
    return peaks.reshape(shape), uncertainties.reshape(shape)


def _slice(values: NDArray[np.float64], plan: _Plan, row: int) -> Floats:
    """The values of a panel, by what runs along x and by series."""
    order = (plan.x.number, plan.series.number, plan.rows.number)
    return np.transpose(values, order)[:, :, row]


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
    scales: dict[BodyName, _Scale],
) -> str:
    case = result.case
    assert case.envelope is not None
    fixed = [
        axis.name(float(axis.values[0])) for axis in (plan.x, plan.series) if len(axis.values) == 1
    ]
    allowed = "heavy line" if plan.is_map else "dashed line"
    above = any(
        _allowed(result, s, body) > result.case.display.stress.held * scales[body].high
        for s in shown
        for body in _BODIES
    )
    parts = [
        f"{words.one_line(case.title)}: peak von Mises stress over the contacts of the envelope",
        f" at {words.line_load(case)}, {case.state}",
        f", {', '.join(fixed)}" if fixed else "",
        f". Ring: the contact of the largest utilisation. Allowed ({allowed}):"
        f" {words.limit(case)}.",
        " Arrow: it lies above the scale." if above else "",
        "" if plan.is_map else " Bars: numerical uncertainty.",
    ]
    if any(not row.solved for s in shown for row in s.rows):
        parts.append(" Crosses: not solved.")
    if len(plan.shown) < len(plan.rows.values):
        parts.append(f" Shown are {len(plan.shown)} of {len(plan.rows.values)} frictions.")
    if len(shown) < len(result.sections):
        parts.append(f" Shown are {len(shown)} of {len(result.sections)} sections, the best.")
    for section in shown:
        assert section.governing is not None
        parts.append(
            f" {words.one_line(section.section.name)}: {section.governing.governs} governs at"
            f" {contact_words(section.governing.contact, case.display)}."
        )
    return "".join(parts)
