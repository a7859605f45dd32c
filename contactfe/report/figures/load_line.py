"""Stress in the post along the load line, from the contact to the bore or the centre."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import NDArray

from contactfe.assess.results import Comparison, SectionResult
from contactfe.case.display import Display, Unit, significant
from contactfe.hand import hertz
from contactfe.hand.stress import von_mises
from contactfe.report import words
from contactfe.report.figures.choice import axial_words, shown_of, stated
from contactfe.report.figures.ink import ACROSS, ALONG, INK, PAPER, QUIET, SMALL
from contactfe.report.figures.panels import caption, few, heads, legend, name_lines, panels, spread
from contactfe.solve.elastic import Floats
from contactfe.solve.field import StressField
from contactfe.solve.field import von_mises as von_mises_of
from contactfe.solve.located import located

NEAR_REACH = 4.0
"""Depth of the upper panel in half-widths, or half of the way through the steel if less."""

_CURVES: tuple[dict[str, Any], ...] = (
    {"color": ACROSS, "marker": "o", "linewidth": 1.3, "label": "σx, across the load"},
    {"color": ALONG, "marker": "^", "linewidth": 1.3, "label": "σy, along the load"},
    {"color": INK, "marker": "", "linewidth": 1.8, "label": "von Mises"},
)

_FILLED = "#e9edf0"
"""Ground of the part of a panel that is infill."""


@dataclass(frozen=True)
class Profile:
    """Stress along the load line: depth in mm; σx, σy and von Mises in MPa, each (n,)."""

    depth: Floats
    across: Floats
    along: Floats
    von_mises: Floats


_Part = tuple[Axes, Profile, NDArray[np.bool_]]
"""A panel, curves in it, and which of their points it shows."""


def load_line_figure(comparison: Comparison, shown: tuple[SectionResult, ...]) -> Figure:
    """One column a section: near the contact above, in half-widths; the rest below, in mm or in."""
    units = comparison.case.display
    figure, columns = panels(len(shown), (1.8, 1.6), beside=len(shown) == 1)
    heads(
        [upper for upper, _ in columns],
        [(r.section.name, words.size(r.section, units)) for r in shown],
    )
    near: list[_Part] = []
    far: list[_Part] = []
    for (upper, lower), result in zip(columns, shown, strict=True):
        line, filled, a = profile(result), infill_profile(result), result.half_width.value
        through = float(line.depth[-1])
        last = float(filled.depth[-1]) if filled is not None else through
        split = min(NEAR_REACH * a, through / 2)
        for ax, scale in ((upper, a), (lower, units.length.held)):
            for stress, style in zip(_stresses(line, units.stress), _CURVES, strict=True):
                ax.plot(line.depth / scale, stress, markevery=0.14, markersize=3, zorder=3, **style)
            depth = line.depth if filled is None else np.append(line.depth, filled.depth)
            _hertz_curves(ax, comparison, result, depth, scale)
            ax.axhline(0.0, color=QUIET, linewidth=0.6, zorder=0)
            if result is shown[0]:
                ax.set_ylabel(f"stress [{units.stress.name}]")
        _hertz_peak(upper, comparison, result)
        if filled is not None:
            _infill(lower, filled, units)
        upper.set(xlim=(0.0, split / a), xlabel="depth / half-width a [1]")
        lower.set(
            xlim=(units.length.of(split), units.length.of(last)),
            xlabel=f"depth to the {_end(comparison, result, last)} [{units.length.name}]",
        )
        few(upper, lower)
        near.append((upper, line, line.depth <= 1.001 * split))
        far.append((lower, line, line.depth >= 0.999 * split))
        if filled is not None:
            far.append((lower, filled, np.ones_like(filled.depth, dtype=bool)))
    _share_limits(near, units.stress)
    _share_limits(far, units.stress)
    for (_, lower), result in zip(columns, shown, strict=True):
        _exact(lower, result, units)
    for ax, _ in columns:
        name_lines(ax, {str(of["label"]): str(of["label"]).split(",")[0] for of in _CURVES})
    legend(figure, columns.flat)
    caption(figure, _caption(comparison, shown), f"{stated(comparison.case)}:")
    return figure


def profile(result: SectionResult) -> Profile:
    """Stress in the steel along the load line, from the contact to where the steel ends.

    That is the bore of a tube, the centre of a solid, and the first hole of an own mesh or its
    centre.
    """
    end = result.section.geometry.outline.wall
    # Close together near the contact, and as wide apart as they are deep further in.
    steps = np.geomspace(1e-2 * result.half_width.value, end, 600)
    return _profile(result, result.reading.member_field, np.append(0.0, steps))


def infill_profile(result: SectionResult) -> Profile | None:
    """Stress in the infill along the load line, from the steel to the centre; None without."""
    field = result.reading.infill_field
    if field is None:
        return None
    start = float(profile(result).depth[-1])
    line = _profile(result, field, np.linspace(start, result.section.radius, 200))
    return line if len(line.depth) > 1 else None


def _profile(result: SectionResult, field: StressField, depth: Floats) -> Profile:
    """Stress at depths (n,) mm below the middle of the first patch, up to where the body ends.

    The line goes to the centre of the post.
    """
    radius, centre = result.section.radius, result.contact.centre.value
    start = np.array([centre, radius - np.sqrt(radius**2 - centre**2)])
    towards = (np.array([0.0, radius]) - start) / radius
    at = located(field.mesh, start[:, None] + towards[:, None] * depth)
    stress, inside = at.read(field.stress), at.inside
    seen = slice(len(depth) if inside.all() else int(np.argmin(inside)))
    x, y = stress[seen, :2].T
    return Profile(depth[seen], x, y, von_mises_of(stress[seen]))


def _end(comparison: Comparison, result: SectionResult, depth: float) -> str:
    """What the load line ends at."""
    if depth >= 0.99 * result.section.radius:
        return "centre"
    return "core" if comparison.case.support(result.section).core else result.section.geometry.end


def _infill(ax: Axes, line: Profile, units: Display) -> None:
    """The curves in the infill, on a ground of their own."""
    depth = units.length.of(line.depth)
    ax.axvspan(float(depth[0]), float(depth[-1]), color=_FILLED, linewidth=0.0, zorder=-1)
    ax.axvline(float(depth[0]), color=QUIET, linewidth=0.7, zorder=0)
    for stress, style in zip(_stresses(line, units.stress), _CURVES, strict=True):
        ax.plot(
            depth, stress, color=style["color"], linewidth=1.6, linestyle=":", zorder=3,
            label="dotted: infill, on grey",
        )  # fmt: skip
    ax.text(
        float(depth[0] + depth[-1]) / 2.0, 0.98, "infill", transform=ax.get_xaxis_transform(),
        ha="center", va="top", size=SMALL,
    )  # fmt: skip


def _stresses(line: Profile, unit: Unit) -> tuple[Floats, Floats, Floats]:
    return unit.of(line.across), unit.of(line.along), unit.of(line.von_mises)


def _hertz_curves(
    ax: Axes, comparison: Comparison, result: SectionResult, depth: Floats, scale: float
) -> None:
    case, unit = comparison.case, comparison.case.display.stress
    a, p0 = result.hand_value("hertz_half_width"), result.hand_value("hertz_peak_pressure")
    assert a is not None  # both hold for every section
    assert p0 is not None
    across, along = hertz.axis_stress(depth, a, p0)
    poisson = result.member.material.poisson
    mises = von_mises(across, along, 0.0, poisson, case.state)
    for stress, style in zip((across, along, mises), _CURVES, strict=True):
        ax.plot(
            depth / scale, unit.of(stress), color=style["color"], linewidth=0.9, dashes=(3, 2),
            label="dashed: Hertz, half-space",
        )  # fmt: skip


def _hertz_peak(ax: Axes, comparison: Comparison, result: SectionResult) -> None:
    """The peak von Mises stress by Hertz, at its depth."""
    unit = comparison.case.display.stress
    a, peak = result.hand_value("hertz_half_width"), result.hand_value("hertz_peak_von_mises")
    assert a is not None  # both hold for every section
    assert peak is not None
    _, depth = hertz.peak_von_mises(1.0, result.member.material.poisson, comparison.case.state)
    ax.plot(
        depth * a / result.half_width.value, unit.of(peak), "D", color=PAPER, markeredgecolor=INK,
        markersize=5, clip_on=False, zorder=5, label="Hertz, peak von Mises",
    )  # fmt: skip
    # In the corner that no curve reaches: beside the mark it can lie on one.
    ax.text(
        1.0, 1.0, f"◇ Hertz {unit.text(peak)}",
        transform=ax.transAxes, ha="right", va="top", size=SMALL,
    )  # fmt: skip


def _exact(ax: Axes, result: SectionResult, units: Display) -> None:
    """The exact values at the far end: hoop stress at the bore, or the stresses of the centre.

    Their figures stand in the corner that no curve reaches, as beside the marks they lie on some.
    """
    figures = []
    for key, name, colour in (
        ("ring_bore_under_load", "σx", ACROSS),
        ("disc_centre_across", "σx", ACROSS),
        ("disc_centre_along", "σy", ALONG),
    ):
        held = result.hand_value(key)
        if held is None:
            continue
        value = units.stress.of(held)
        beyond = not ax.get_ylim()[0] <= value <= ax.get_ylim()[1]
        if not beyond:
            ax.plot(
                units.length.of(float(profile(result).depth[-1])), value, "s", color=PAPER,
                markeredgecolor=colour, markeredgewidth=1.3, markersize=5, clip_on=False, zorder=5,
                label="exact, ring or disc",
            )  # fmt: skip
        figure = significant(value, 3).replace("-", "−")
        mark = "↑ exact" if beyond else "□ exact"
        figures.append(f"{mark} {name} {figure} {units.stress.name}")
    if figures:
        ax.text(
            1.0, 0.02, "\n".join(figures),
            transform=ax.transAxes, ha="right", va="bottom", size=SMALL, gid="exact",
        )  # fmt: skip


def _share_limits(panels: list[_Part], unit: Unit) -> None:
    """One stress axis for a row of panels, so that sections compare by eye."""
    values = [
        float(v)
        for _, line, seen in panels
        for stress in _stresses(line, unit)
        for v in stress[seen]
    ]
    low, high = spread([*values, 0.0], 0.1)
    for ax, *_ in panels:
        ax.set_ylim(low, high)


def _caption(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    case = comparison.case
    plain = all(case.symmetric(r.section) for r in shown)
    line = (
        "the load line x = 0"
        if plain
        else "a line from the middle of the patch to the post's centre"
    )
    if case.corner is not None:
        line = line.replace("the patch", "the first patch")
    parts = [
        f"stress in the post along {line}; tension positive. σx across the load, σy along"
        " it. First near the contact, in computed half-widths, then from there to the bore, or to"
        " the centre of a solid; exact values are for a load at a point.",
        "Hertz and the exact values are without friction." if case.contact.friction > 0.0 else "",
        axial_words(shown),
        shown_of(comparison, shown),
    ]
    return " ".join(part for part in parts if part)


def load_line_alt(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    """The figure in words."""
    stress = comparison.case.display.stress
    ends = []
    for result in shown:
        line = profile(result)
        most, at_end = float(line.von_mises.max()), float(line.von_mises[-1])
        ends.append(
            f"{words.one_line(result.section.name)}, at most {stress.text(most)} and"
            f" {stress.text(at_end)} at its end"
        )
    return f"Stress in the post along the load line. Von Mises: {'; '.join(ends)}."
