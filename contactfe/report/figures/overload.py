"""Strikes beyond first yield: the plastic zone, the dents that stay, and the loop of each section;
and the deeper dent of all sections over the load.
"""

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.colors import BoundaryNorm
from matplotlib.figure import Figure
from matplotlib.patches import Circle
from matplotlib.tri import Triangulation

from contactfe.assess.overload.result import OverloadResult, SectionOverload, Zone
from contactfe.assess.results import SectionResult
from contactfe.case.display import Display, significant
from contactfe.report import words
from contactfe.report.figures.ink import ACROSS, ALONG, INK, PAPER, QUIET
from contactfe.report.figures.panels import caption, few, heads, legend, name_lines, panels
from contactfe.report.overload_words import END, FINE, in_fine, reserve_words
from contactfe.solve.elastic import Floats

MOST = 8
"""Sections in the figure of all."""

ZONES = "cividis"
"""Colour map of the load from which steel is plastic: dark is what yields first."""

_STEPS = 8
"""Most steps of colour."""

_DASHES: tuple[Any, ...] = (
    "-", (0, (5, 1.5)), (0, (1, 1.2)), (0, (6, 1.5, 1, 1.5)), (0, (3, 1, 1, 1, 1, 1)),
    (0, (9, 2)), (0, (2, 2)),
)  # fmt: skip
"""Of the strikes from the largest load down: they read without colour."""

_GAP = 2.5
"""Longest side of a triangle of the zone, over the size of what its points stand for: what is
longer lies between two zones."""

_LEAST = 5e-5
"""Least dent in the figure of all, mm."""


def section_figure(result: OverloadResult, of: SectionOverload) -> Figure:
    """Where it is plastic and from which load on, the dents that stay, and the loop."""
    solved, units = result.comparison.section(of.section), result.case.display
    figure, columns = panels(1, (2.6, 2.6, 2.6), beside=True, width_ratios=(1.15, 1.0, 1.0))
    (zone, dents, loop) = columns[0]
    for ax, title in (
        (zone, "plastic zone"),
        (dents, "dents that stay"),
        (loop, "force over approach"),
    ):
        ax.set_title(title)
    if of.strikes:
        _zones(figure, zone, of, solved, units)
        _dents(dents, of, units)
        _loop(loop, of, units)
    else:
        for ax in (zone, dents, loop):
            ax.text(0.5, 0.5, "not solved", transform=ax.transAxes, ha="center", va="center")
            ax.set(xticks=[], yticks=[])
    heads([zone], [(of.section, words.size(solved.section, units))])
    legend(figure, (dents, loop))
    caption(figure, _section_caption(of, units), f"{words.one_line(result.case.title)}:")
    return figure


def _zones(
    figure: Figure, ax: Axes, of: SectionOverload, solved: SectionResult, units: Display
) -> None:
    """Filled where plastic, by the load over that at first yield from which it is."""
    assert of.first_yield is not None  # who asks has looked
    assert of.zones is not None
    first, length = of.first_yield.value, units.length
    most = max(of.solved_to / first, 1.05)
    levels = np.linspace(1.0, most, _STEPS + 1)
    scale = BoundaryNorm(levels, 256)
    for zone in of.zones:
        triangles = _triangles(zone, length.held)
        if triangles is not None:
            times = np.clip(np.array(zone.from_load) / first, 1.0, most)
            ax.tricontourf(triangles, times, levels=levels, cmap=ZONES, norm=scale, zorder=1)
    outline = solved.section.geometry.outline
    for radius in (outline.radius, outline.bore_radius):
        if radius > 0.0:
            centre = (0.0, length.of(outline.radius))
            ax.add_patch(
                Circle(centre, length.of(radius), fill=False, edgecolor=INK, linewidth=0.9)
            )
    ax.axhline(0.0, color=INK, linewidth=0.9)
    wide, low, high = _window(of, solved)
    ax.set(
        xlim=(-length.of(wide), length.of(wide)), ylim=(length.of(low), length.of(high)),
        aspect="equal", xlabel=f"x [{length.name}]", ylabel=f"y [{length.name}]",
    )  # fmt: skip
    few(ax)
    bar = figure.colorbar(
        ScalarMappable(scale, ZONES), ax=ax, location="bottom", ticks=levels[:: _STEPS // 4],
        aspect=30, pad=0.02,
    )  # fmt: skip
    bar.ax.set_xticklabels([significant(level, 3) for level in levels[:: _STEPS // 4]])
    bar.set_label("load over first yield [1]")
    bar.outline.set_linewidth(0.7)


def _triangles(zone: Zone, unit: float) -> Triangulation | None:
    """Triangles between the points of a zone, but for those across a gap; None of too few."""
    x, y = np.array(zone.x) / unit, np.array(zone.y) / unit
    if len(x) < 3 or not np.ptp(x) * np.ptp(y) > 0.0:
        return None
    made = Triangulation(x, y)
    corners = made.triangles
    sides = [
        np.hypot(*(v[corners[:, a]] - v[corners[:, b]] for v in (x, y)))
        for a, b in ((0, 1), (1, 2), (2, 0))
    ]
    size = np.sqrt(np.array(zone.area)[corners].max(axis=1)) / unit
    across: Any = np.max(sides, axis=0) > _GAP * size
    if across.all():
        return None
    made.set_mask(across)
    return made


def _window(of: SectionOverload, solved: SectionResult) -> tuple[float, float, float]:
    """Half of the width of the view, and its ends along y, mm: the zones about the contact."""
    assert of.zones is not None
    last = of.strikes[-1].values
    wall = solved.section.geometry.outline.wall
    deep = max(last["post_plastic_depth"].value, 2.0 * last["half_width"].value)
    if of.spans is not None:
        deep = wall
    high = 1.15 * wall if deep > 0.6 * wall else 1.4 * deep
    low = 1.4 * max(last["plate_plastic_depth"].value, 0.3 * deep)
    widths = (last[f"{body}_plastic_width"].value for body in ("post", "plate"))
    return max(0.6 * max(widths), 0.35 * (high + low)), -low, high


def _dents(ax: Axes, of: SectionOverload, units: Display) -> None:
    """Depth below the straight edge over the place on the plate, downwards."""
    length = units.length
    for strike, dashes in zip(reversed(of.strikes), _DASHES, strict=False):
        for dent, colour in zip(strike.dents, (ALONG, ACROSS), strict=True):
            x, below = length.of(np.array(dent.x)), 1000.0 * length.of(np.array(dent.below))
            ax.plot(x, below, color=colour, linestyle=dashes)
    for body, colour in (("post", ALONG), ("plate", ACROSS)):
        ax.plot([], [], color=colour, label=body)
    ax.invert_yaxis()
    ax.set(xlabel=f"x [{length.name}]", ylabel=f"depth [{FINE[length.name]}]")
    few(ax)


def _loop(ax: Axes, of: SectionOverload, units: Display) -> None:
    """Line load over approach, on the way up and down."""
    path, length, load = of.loading, units.length, units.line_load
    assert path is not None  # as its zones are known
    assert of.first_yield is not None
    up = np.array(path.approach), np.array(path.line_load)
    ax.plot(length.of(up[0]), load.of(up[1]), color=INK, linewidth=1.6, label="loading")
    for strike, dashes in zip(reversed(of.strikes), _DASHES, strict=False):
        line_load, approach = (np.array(one) for one in strike.unloading)
        ax.plot(
            length.of(approach), load.of(line_load), color=QUIET, linestyle=dashes,
            label=f"{strike.factor:.3g} × first yield",
        )  # fmt: skip
    for at, mark, name in ((of.first_yield, "o", "first yield"), (of.reserve, "s", "reserve ends")):
        if at is not None:
            approach = np.interp(at.value, up[1], up[0])
            ax.plot(
                length.of(approach), load.of(at.value), mark, color=INK, markerfacecolor=PAPER,
                markersize=4.5, label=name, zorder=5,
            )  # fmt: skip
    ax.set(
        xlim=(0.0, None), ylim=(0.0, None), xlabel=f"approach [{length.name}]",
        ylabel=f"line load [{load.name}]",
    )  # fmt: skip
    few(ax)


def _section_caption(of: SectionOverload, units: Display) -> str:
    along = ", at the peak along the post" if of.whole != 1.0 else ""
    return (
        "left, where post (above) and plate are plastic, by the load from which they are; middle,"
        " how deep their surfaces stay below a straight edge, or a template of the post's radius,"
        f" laid over the dent; right, line load{along} over approach, loaded and let go. A kind of"
        " line is a load, middle and right. Reserve until"
        f" {END}: {reserve_words(of, units)}."
    )


def section_alt(result: OverloadResult, of: SectionOverload) -> str:
    """The figure of a section in words."""
    units = result.case.display
    dents = ", ".join(
        f"{in_fine(strike.dent, units)} {FINE[units.length.name]} at {strike.factor:.3g} times"
        for strike in of.strikes
    )
    return (
        f"{words.one_line(of.section)} beyond first yield: plastic zone, dents and loop of force"
        f" over approach. Deeper dent: {dents or 'none solved'}. Reserve:"
        f" {reserve_words(of, units)}."
    )


def overload_figure(result: OverloadResult) -> Figure:
    """The deeper dent that stays over the mean line load, a line a section."""
    units, shown = result.case.display, _shown(result)
    figure, ((ax,),) = panels(1, (3.0,), above=0.1)
    load, least = units.line_load, float(_fine(np.array(_LEAST), units))
    most, start = 20.0 * least, load.of(result.case.line_load)
    for number, of in enumerate(shown):
        assert of.loading is not None
        assert of.first_yield is not None
        look: Any = {"color": _COLOURS[number % len(_COLOURS)]}
        at = load.of(np.array(of.loading.line_load) * of.whole)
        deep = np.maximum(_fine(np.max(of.loading.dents, axis=0), units), least)
        sure = _fine(np.array(of.loading.uncertainty), units)
        seen = deep > least
        seen[-1] = True  # a line without points has no place for its name
        most = max(most, float(deep.max()))
        ax.plot(
            at[seen], deep[seen], linestyle=_DASHES[number % len(_DASHES)],
            label=words.one_line(of.section), **look,
        )  # fmt: skip
        ax.fill_between(at[seen], (deep - sure)[seen], (deep + sure)[seen], alpha=0.2, **look)
        first = load.of(of.first_yield.value * of.whole)
        start = min(start, first)
        ax.plot(first, least, "o", markerfacecolor=PAPER, clip_on=False, markersize=5, **look)
        if of.reserve is not None:
            end = load.of(of.reserve.value * of.whole)
            ax.plot(end, np.interp(end, at, deep), "s", markersize=5, **look)
        else:
            ax.plot(at[-1], deep[-1], ">", markersize=5, **look)
    ax.axvline(load.of(result.case.line_load), color=QUIET, linewidth=0.9, label="load of the case")
    ax.set(
        yscale="log", ylim=(least, 2.0 * most), xlim=(0.9 * start, None),
        xlabel=f"mean line load [{load.name}]", ylabel=f"deeper dent [{FINE[units.length.name]}]",
    )  # fmt: skip
    ax.yaxis.set_major_formatter("{x:g}")
    names = {words.one_line(of.section): words.one_line(of.section) for of in shown}
    name_lines(ax, names | {"load of the case": "load of the case"})
    ended = [of.reserve is not None for of in shown]
    marks = [("o", "first yield")]
    marks += [("s", "reserve ends")] * any(ended) + [(">", "not solved further")] * (not all(ended))
    for mark, name in marks:
        face = PAPER if mark == "o" else INK
        ax.plot([], [], mark, color=INK, markerfacecolor=face, markersize=5, label=name)
    legend(figure, [ax])
    caption(figure, _caption(result, len(shown)), f"{words.one_line(result.case.title)}:")
    return figure


_COLOURS = (INK, ALONG, "#2f77b0", "#7a5195", "#4d7c3a", "#a8892c", QUIET, "#c0504d")


def _fine(lengths: Floats, units: Display) -> Floats:
    return 1000.0 * units.length.of(lengths)


def _shown(result: OverloadResult) -> list[SectionOverload]:
    """The sections that have a path, at most ``MOST``: those of the least dent."""
    by = result.by_dent
    names = [of.section for of in result.sections] if by is None else list(by.names)
    return [of for of in map(result.section, names) if of.strikes][:MOST]


def _caption(result: OverloadResult, count: int) -> str:
    left = len(result.sections) - count
    return (
        "the deeper dent of post and plate that each load would leave, on a scale of equal ratios."
        f" A reserve ends where {END}."
        f"{f' {left} of {len(result.sections)} sections are not shown.' if left else ''}"
    )


def overload_alt(result: OverloadResult) -> str:
    """The figure of all sections in words."""
    units = result.case.display
    ends = "; ".join(
        f"{words.one_line(of.section)}, {reserve_words(of, units)}" for of in _shown(result)
    )
    return f"The deeper dent over the mean line load. Reserve until {END}: {ends}."
