"""Stress maps of the sections side by side: each whole, in true proportion, and its contact."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.colors import PowerNorm
from matplotlib.figure import Figure
from matplotlib.patches import Circle

from contactfe.assess.places import CONTACT, EDGE, UNDER_CONTACT, Peak
from contactfe.assess.results import BodyResult, Comparison, SectionResult
from contactfe.case import Case
from contactfe.case.display import Display
from contactfe.report import words
from contactfe.report.figures.choice import shown_of
from contactfe.report.figures.grid import Grid, grid
from contactfe.report.figures.ink import INK, PAPER, QUIET, stress_colours
from contactfe.report.figures.sheet import LINE, Columns, Sheet, round_steps, wrapped

_WIDTH = 2.4
"""Width of a panel, inches."""

_GAMMA = 0.5
"""Colour follows the root of stress: on an even scale all but the contact would be blank."""

_ROOM = 0.8
"""Half of the width drawn of the whole, in the largest diameter: room beside the post for its peak
value. A wider plate is drawn cut."""

_DEEPEST = 0.6
"""Most of the plate's thickness drawn, in the largest diameter."""

_ZOOM = (2.3, 1.9)
"""Half of the width and of the height of the contact's panel, in half-widths."""

_LEADER: dict[str, Any] = {
    "arrowstyle": "-", "linewidth": 0.7, "color": INK, "shrinkA": 0, "shrinkB": 3
}  # fmt: skip

_BOX: dict[str, Any] = {
    "boxstyle": "square,pad=0.15",
    "facecolor": PAPER,
    "edgecolor": "none",
    "alpha": 0.85,
}


@dataclass(frozen=True)
class _Scale:
    """The one stress scale of the figure, to ``most``; ticks and isolines at ``levels``.

    In the unit shown, in which the levels are round.
    """

    most: float
    levels: tuple[float, ...]

    @property
    def norm(self) -> PowerNorm:
        """From stress to colour."""
        return PowerNorm(_GAMMA, 0.0, self.most)

    @property
    def line_colours(self) -> list[str]:
        """Colours of the isolines."""
        return [self.line_colour(level) for level in self.levels]

    def line_colour(self, stress: float) -> str:
        """Ink on the pale part of the scale, paper on the dark part."""
        return INK if stress < 0.4 * self.most else PAPER


@dataclass(frozen=True)
class _Window:
    """What is drawn of the whole, in the unit shown, and whether that cuts the plate.

    ``half`` the width, ``plate`` of the plate's thickness, and from ``bottom`` to ``top``.
    """

    half: float
    plate: float
    bottom: float
    top: float
    cut_sides: bool
    cut_below: bool


def sections_figure(comparison: Comparison, shown: tuple[SectionResult, ...]) -> Figure:
    """One column a section, all on one stress scale; peaks marked with value and place."""
    case, units = comparison.case, comparison.case.display
    window = _window(case, shown)
    scale = _scale(shown, units)
    columns = Columns(
        len(shown),
        _WIDTH,
        _WIDTH * (window.top - window.bottom) / (2 * window.half),
        _WIDTH * _ZOOM[1] / _ZOOM[0],
        0.55,
        beside=len(shown) == 1,
    )
    width, left = columns.sheet_width, columns.left
    bar_width = width - left - columns.between
    notes = wrapped(_allowed_text(case, shown, scale), bar_width)
    bar_top = columns.bottom + LINE * len(notes) + 0.16
    caption = wrapped(_caption(comparison, shown, window), width - 0.4)
    caption_top = bar_top + 0.62
    sheet = Sheet(width, caption_top + LINE * len(caption) + 0.1)
    for k, result in enumerate(shown):
        note = (
            f"{words.size(result.section, units)},  K = {words.pair(result.stress_concentration)}"
        )
        whole, contact = columns.pair(sheet, k, result.section.name, note)
        _whole(whole, case, result, window, scale)
        _contact(contact, case, result, scale)
        whole.set_xlabel(f"x [{units.length.name}]")
        contact.set_xlabel("x / a [1]")
        if k == 0:
            whole.set_ylabel(f"y [{units.length.name}]")
            contact.set_ylabel("y / a [1]")
    bar = sheet.panel(left, bar_top, bar_width, 0.13)
    _bar(sheet.figure, bar, scale, _allowed(case, shown), units.stress.name)
    sheet.text(left, columns.bottom, "\n".join(notes), size=8, linespacing=1.25)
    sheet.text(0.2, caption_top, "\n".join(caption), size=8, linespacing=1.25)
    return sheet.figure


def _window(case: Case, shown: tuple[SectionResult, ...]) -> _Window:
    length = case.display.length
    largest = length.of(max(r.section.outside_diameter for r in shown))
    thickness = length.of(case.plate.thickness)
    half = _ROOM * largest
    cut_sides = length.of(case.plate.width) / 2 > half
    cut_below = thickness > _DEEPEST * largest
    plate = min(thickness, _DEEPEST * largest)
    below = plate + (0.0 if cut_below else 0.06 * largest)
    above = below if case.held_by == "opposed" else 0.03 * largest
    return _Window(half, plate, -below, largest + above, cut_sides, cut_below)


def _scale(shown: tuple[SectionResult, ...], units: Display) -> _Scale:
    peaks = (max(r.member.peak.von_mises, r.plate.peak.von_mises) for r in shown)
    most = units.stress.of(max(peaks))
    step = round_steps(most, 6)
    fine = [step / 5, step / 2]
    levels = [*fine, *np.arange(step, 0.97 * most, step)]
    return _Scale(most, tuple(float(v) for v in levels))


def _whole(ax: Axes, case: Case, result: SectionResult, window: _Window, scale: _Scale) -> None:
    section, length = result.section, case.display.length
    radius, bore = length.of(section.radius), length.of(section.bore_radius)
    for body, allowed in _bodies(case, result):
        seen = body.within(-window.half, window.half, window.bottom, window.top)
        _shade(ax, seen, scale, allowed, 0.7)
    for size in (radius, bore):
        if size > 0.0:
            ax.add_patch(Circle((0.0, radius), size, fill=False, color=INK, linewidth=0.9))
    _plate_outline(ax, case, window, 0.0, -1.0)
    if case.held_by == "opposed":
        _plate_outline(ax, case, window, 2 * radius, 1.0)
        ax.axhline(radius, color=QUIET, linewidth=0.7, dashes=(8, 3, 2, 3), zorder=3)
    ax.set(xlim=(-window.half, window.half), ylim=(window.bottom, window.top))
    ax.locator_params(nbins=5)
    ax.set_aspect("equal")
    _post_peak(ax, result, window, case.display)
    _bore_peak(ax, result, window, case.display)


def _bodies(case: Case, result: SectionResult) -> Iterator[tuple[Grid, float]]:
    """Both bodies, and their images where the solved half stands for the whole; stress allowed."""
    reading, units = result.reading, case.display
    for field, of in ((reading.member_field, result.member), (reading.plate_field, result.plate)):
        body = grid(field, units)
        allowed = units.stress.of(of.material.yield_strength / case.yield_margin)
        yield body, allowed
        if case.held_by == "opposed":
            yield body.mirrored_at(units.length.of(result.section.radius)), allowed


def _shade(ax: Axes, body: Grid, scale: _Scale, allowed: float, dash: float) -> None:
    """Colour, isolines at the levels of the bar, and dashes where the allowed stress is reached."""
    cells = body.triangulation()
    ax.tripcolor(
        cells, body.von_mises, shading="gouraud", norm=scale.norm, cmap=stress_colours(), zorder=1
    )
    for levels, colours, width, style in (
        (scale.levels, scale.line_colours, 0.4, "solid"),
        ((allowed,), [scale.line_colour(allowed)], dash, "dashed"),
    ):
        # A line that no point of this body reaches is a warning to matplotlib.
        if body.von_mises.min() < max(levels) and body.von_mises.max() > min(levels):
            ax.tricontour(
                cells, body.von_mises, levels,
                colors=colours, linewidths=width, linestyles=style, zorder=2,
            )  # fmt: skip


def _plate_outline(ax: Axes, case: Case, window: _Window, face: float, away: float) -> None:
    """Edges of a plate whose struck face is at y = ``face``; wavy where it is drawn cut.

    Beyond a wavy edge the drawing is blank: the plate goes on, its stress is not shown there.
    """
    half = window.half if window.cut_sides else case.display.length.of(case.plate.width) / 2
    back = face + away * window.plate
    t = np.linspace(0.0, 1.0, 120)
    wave = 0.012 * window.half * (np.sin(4 * np.pi * t) - 1.5)
    style: dict[str, Any] = {"color": INK, "zorder": 3}
    blank: dict[str, Any] = {"color": PAPER, "linewidth": 0.0, "zorder": 2.5}
    ax.plot([-half, half], [face, face], linewidth=0.9, **style)
    x, y = half * (2.0 * t - 1.0), back + away * (wave if window.cut_below else 0.0 * t)
    if window.cut_below:
        ax.fill_between(1.02 * x, y, back + away * window.top, **blank)
    ax.plot(x, y, linewidth=0.6 if window.cut_below else 0.9, **style)
    end = float(y[0])
    for side in (-1.0, 1.0):
        x, y = side * (half + (wave if window.cut_sides else 0.0 * t)), face + t * (end - face)
        if window.cut_sides:
            ax.fill_betweenx(y, x, side * half * 1.01, **blank)
        ax.plot(x, y, linewidth=0.6 if window.cut_sides else 0.9, **style)


def _post_peak(ax: Axes, result: SectionResult, window: _Window, units: Display) -> None:
    """The peak of the post, its value in the gap between post and plate."""
    peak, length = result.member.peak, units.length
    place = (length.of(peak.x), length.of(peak.y))
    x, y = 0.97 * window.half, max(0.2 * length.of(result.section.radius), 0.09 * window.half)
    _mark(ax, *place)
    ax.annotate(
        units.stress.text(peak.von_mises), place, xytext=(x, y), ha="right", va="center",
        weight="bold", zorder=6, arrowprops=_LEADER,
    )  # fmt: skip


def _bore_peak(ax: Axes, result: SectionResult, window: _Window, units: Display) -> None:
    """The largest stress at the bore, where there is room in it for the value."""
    bore = next((p for p in result.member.places if p.zone.startswith("bore")), None)
    length, section = units.length, result.section
    room = length.of(section.bore_radius) >= 0.3 * window.half
    if bore is None or not room or bore is result.member.peak:
        return
    place = (length.of(bore.x), length.of(bore.y))
    _mark(ax, *place)
    ax.annotate(
        f"bore\n{units.stress.text(bore.von_mises)}", place,
        xytext=(0.0, 1.05 * length.of(section.radius)),
        ha="center", va="bottom", zorder=6, linespacing=1.2,
        arrowprops=_LEADER | {"shrinkA": 2},
    )  # fmt: skip


def _contact(ax: Axes, case: Case, result: SectionResult, scale: _Scale) -> None:
    """Both bodies about the contact, lengths in half-widths."""
    units, a = case.display, result.half_width.value
    across, up = _ZOOM
    for whole, allowed in _bodies(case, result):
        near = whole.scaled(units.length.of(a)).within(
            -1.1 * across, 1.1 * across, -1.1 * up, 1.1 * up
        )
        if len(near.x):  # an image is out of sight
            _shade(ax, near, scale, allowed, 1.3)
    ax.axhline(0.0, color=INK, linewidth=0.6, zorder=3)
    ax.plot([-1.0, 1.0], [0.0, 0.0], color=INK, linewidth=2.2, solid_capstyle="butt", zorder=4)
    ax.plot([-1.0, 1.0], [0.0, 0.0], "|", color=INK, markersize=11, markeredgewidth=1.3, zorder=4)
    ax.set(xlim=(-across, across), ylim=(-up, up), xticks=[-2, -1, 0, 1, 2], yticks=[-1, 0, 1])
    ax.set_aspect("equal")
    for name, body, zones, side in (
        ("post", result.member, (CONTACT, EDGE), 1.0),
        ("plate", result.plate, (UNDER_CONTACT,), -1.0),
    ):
        peak = next((p for p in body.places if p.zone in zones), None)
        if peak is not None:
            _contact_peak(ax, name, body, peak, a, side, units)


def _contact_peak(
    ax: Axes, name: str, body: BodyResult, peak: Peak, a: float, side: float, units: Display
) -> None:
    """A body's peak at the contact; its place in half-widths ``a``, mm."""
    x, y = peak.x / a, peak.y / a
    _mark(ax, x, y)
    aside = f"{x:.2f} a aside" if x >= 0.05 else "on the load line"
    stress = units.stress
    value = words.peak(body, units) if peak is body.peak else stress.number(peak.von_mises)
    ax.annotate(
        f"{name} {value} {stress.name}\n{peak.depth / a:.2f} a deep, {aside}",
        (x, y), xytext=(_ZOOM[0] - 0.12, side * (_ZOOM[1] - 0.12)), ha="right",
        va="top" if side > 0 else "bottom", size=7.5, linespacing=1.25, bbox=_BOX, zorder=6,
        arrowprops=_LEADER | {"color": PAPER},
    )  # fmt: skip


def _mark(ax: Axes, x: float, y: float) -> None:
    ax.plot(x, y, "o", color=PAPER, markeredgecolor=INK, markersize=4.5, zorder=5)


def _bar(figure: Figure, ax: Axes, scale: _Scale, allowed: list[float], unit: str) -> None:
    colours = ScalarMappable(scale.norm, stress_colours())
    bar = figure.colorbar(colours, cax=ax, orientation="horizontal", ticks=scale.levels)
    bar.ax.minorticks_off()
    bar.ax.set_xticklabels([f"{level:g}" for level in scale.levels])
    bar.set_label(
        f"von Mises stress [{unit}]; colour follows its square root, isolines at the values ticked"
    )
    bar.outline.set_linewidth(0.7)
    for level, colour in zip(scale.levels, scale.line_colours, strict=True):
        ax.axvline(level, color=colour, linewidth=0.5)
    for value in allowed:
        if value <= scale.most:
            ax.plot(
                value, 1.35, "v", color=INK, markersize=5, clip_on=False, zorder=6,
                transform=ax.get_xaxis_transform(),
            )  # fmt: skip


def _allowed(case: Case, shown: tuple[SectionResult, ...]) -> list[float]:
    """The stresses that the verdicts compare with, in the unit shown."""
    steels = {b.material.yield_strength for r in shown for b in (r.member, r.plate)}
    return sorted(case.display.stress.of(strength / case.yield_margin) for strength in steels)


def _allowed_text(case: Case, shown: tuple[SectionResult, ...], scale: _Scale) -> str:
    """Which body may reach how much."""
    stress = case.display.stress
    bodies: dict[float, list[str]] = {}
    for result in shown:
        name = words.one_line(result.section.name)
        bodies.setdefault(result.member.material.yield_strength, []).append(name)
    alike = len(bodies) == 1
    named = [(s, "post" if alike else f"post of {', '.join(names)}") for s, names in bodies.items()]
    parts = []
    for strength, body in [*named, (case.plate_material.yield_strength, "plate")]:
        allowed = stress.of(strength / case.yield_margin)
        off = " (beyond the bar)" if allowed > scale.most else ""
        parts.append(f"{body} {allowed:.4g} {stress.name}{off}")
    return f"▼ {words.limit(case)}: {'; '.join(parts)}"


def _caption(comparison: Comparison, shown: tuple[SectionResult, ...], window: _Window) -> str:
    case = comparison.case
    parts = [
        f"{words.one_line(case.title)}: von Mises stress, {case.state}, line load"
        f" {case.display.line_load.text(case.line_load)}; {words.POST_HELD[case.held_by]}, plate"
        f" {words.PLATE_HELD[case.plate.held_by]}.",
        "First the whole in true proportion"
        + (
            f", plate cut (it measures {words.plate_size(case)})."
            if window.cut_sides or window.cut_below
            else "."
        ),
    ]
    if case.held_by == "opposed":
        parts.append("The lower half is computed; the upper half is its image.")
    parts.append(
        "Then the contact, lengths in computed half-widths a; the heavy line is the contact, its"
        " bars the edges x = ±a."
    )
    if any(b.utilisation > 1.0 for r in shown for b in (r.member, r.plate)):
        parts.append(f"Dashed lines: stress equal to {words.limit(case)}.")
    parts.append(shown_of(comparison, shown))
    return " ".join(parts).rstrip()
