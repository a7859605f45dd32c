"""Stress maps of the sections side by side: each whole, in true proportion, and its contact."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.cm import ScalarMappable
from matplotlib.collections import Collection, LineCollection
from matplotlib.colors import PowerNorm
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon
from matplotlib.ticker import MaxNLocator
from numpy.typing import NDArray

from contactfe.assess.bodies import beside
from contactfe.assess.places import CONTACT, EDGE, SECOND_CONTACT, SECOND_EDGE, UNDER_CONTACT
from contactfe.assess.results import BodyResult, Comparison, SectionResult
from contactfe.case import Case
from contactfe.case.display import Display
from contactfe.report import words
from contactfe.report.figures.choice import axial_words, shown_of, stated
from contactfe.report.figures.grid import Grid, grid
from contactfe.report.figures.ink import INK, PAPER, QUIET, SMALL, STRESS
from contactfe.report.figures.panels import HALO, across, caption, few, heads, panels
from contactfe.report.figures.plates import DrawnPlate, drawn, outline
from contactfe.report.figures.spots import off_centre, spots
from contactfe.section.outlines import PlateOutline
from contactfe.solve.elastic import Floats
from contactfe.solve.lines import edge_nodes

_WIDEST = (2.1, 1.45)
"""Width of a panel where there are two rows of them, and three, inches."""

_GAMMA = 0.5
"""Colour follows the root of stress: on an even scale all but the contact would be blank."""

_ROOM = 0.8
"""Half of the width drawn of the whole, in the largest diameter: room beside the post for its peak
value. A wider plate is drawn cut."""

_ENDS = 1.0
"""How far from the load line the end of a plate is still drawn, in the largest diameter."""

_DEEPEST = 0.6
"""Most of the plate's thickness drawn, in the largest diameter."""

_ZOOM = (2.3, 1.9)
"""Half of the width and of the height of the contact's panel, in half-widths."""

_SEEN = 0.01
"""Elements that are less of the width of the whole are not cut for it: about three pixels."""

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

    In the unit shown, in which the levels are round. ``peak`` is the largest that is shown.
    """

    most: float
    levels: tuple[float, ...]
    peak: float

    @property
    def beyond(self) -> bool:
        """Whether it ends before the largest peak."""
        return self.peak > self.most

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
    """What the panel of the whole shows, in the unit shown, and of the plates, in mm."""

    left: float
    right: float
    bottom: float
    top: float
    plates: tuple[DrawnPlate, ...]


@dataclass(frozen=True)
class _Shade:
    """A body to be coloured, the stress it is allowed, and the plate's area that it is clipped to.

    An infill has no stress that it is allowed: nothing is known of its strength.
    """

    body: Grid
    allowed: float | None
    clip: Polygon | None = None


def sections_figure(
    comparison: Comparison, shown: tuple[SectionResult, ...], most: float | None = None
) -> Figure:
    """One column a section, all on one stress scale; peaks marked with value and place.

    The scale goes up to ``most`` MPa, so that figures can be compared; up to the largest peak that
    is shown where it is None.
    """
    case, units = comparison.case, comparison.case.display
    window = _window(case, shown)
    scale = _scale(shown, units, most)
    patches = range(1 if case.corner is None else 2)
    alone = len(shown) == 1
    width = (
        across(1 + len(patches)) - 0.2
        if alone
        else min(across(len(shown)), _WIDEST[len(patches) - 1])
    )
    whole_height = width * (window.top - window.bottom) / (window.right - window.left)
    heights = (whole_height, *(width * _ZOOM[1] / _ZOOM[0] for _ in patches))
    figure, columns = panels(len(shown), heights, 1.05, beside=alone)
    figure.set_layout_engine("compressed")  # as these panels keep their proportions
    notes = [
        f"{words.size(r.section, units)}\nK = {words.pair(r.stress_concentration)}" for r in shown
    ]
    names = [r.section.name for r in shown]
    heads([whole for whole, *_ in columns], list(zip(names, notes, strict=True)))
    for (whole, *contacts), result in zip(columns, shown, strict=True):
        _whole(whole, case, result, window, scale)
        whole.set_xlabel(f"x [{units.length.name}]")
        if result is shown[0]:
            whole.set_ylabel(f"y [{units.length.name}]")
        for number, contact in zip(patches, contacts, strict=True):
            _contact(contact, case, result, number, scale)
            along, up = ("x", "y") if number == 0 else ("y", "(R − x)")
            moved = number > 0 or any(off_centre(r.patches[number]) for r in shown)
            contact.set_xlabel(f"{along}{' from the middle' if moved else ''} / a [1]")
            if number > 0:
                contact.set_title("at the second plate")
            if result is shown[0] or alone:
                contact.set_ylabel(f"{up} / a [1]")
    _bar(figure, columns, case, shown, scale)
    held = f"{words.post_held(case)}, plate {words.plate_held(case)}"
    caption(figure, _caption(comparison, shown, window, scale), f"{stated(case)}; {held}:")
    return figure


def _window(case: Case, shown: tuple[SectionResult, ...]) -> _Window:
    """A view that holds every section, and as much of the plates as there is room for."""
    largest = max(r.section.outside_diameter for r in shown)
    half, wave, thickness = _ROOM * largest, 0.0096 * largest, case.plate.thickness
    deepest = _DEEPEST * largest
    edges = [PlateOutline(case.plate.width, thickness, offset) for offset in case.offsets]

    def side(edge: float) -> tuple[float, float]:
        """How far a plate and the view of it go; a plate that ends a little further on is whole."""
        if edge > _ENDS * largest:
            return half, half
        return edge, max(half, edge + 0.04 * largest)

    first = edges[0]
    (to_left, left), (to_right, right) = side(-first.left), side(first.right)
    below = min(thickness, deepest) + (0.0 if thickness > deepest else 0.06 * largest)
    diametral = any(case.support(r.section).half for r in shown)
    top = largest + (below if diametral else 0.03 * largest)
    limits = [(-to_left, to_right)]
    if case.corner is not None:
        # Drawn as they are, the plates could lie upon each other: both end short of the corner.
        short, up = 0.93 * min(r.section.radius for r in shown), 0.6 * largest
        limits = [(-to_left, short), (-short, up)]
        right, top = largest / 2.0 + below, largest / 2.0 + up + 0.03 * largest
    plates = tuple(
        drawn((plate.left, plate.right), ends, thickness, deepest, wave)
        for plate, ends in zip(edges, limits, strict=True)
    )
    of = case.display.length.of
    return _Window(of(-left), of(right), of(-below), of(top), plates)


def scale_of(shown: tuple[SectionResult, ...]) -> float:
    """How far the stress scale of the figure goes where it is not fixed, MPa."""
    return max(body.peak_von_mises.value for r in shown for _, body in r.bodies)


def _scale(shown: tuple[SectionResult, ...], units: Display, fixed: float | None) -> _Scale:
    peak = units.stress.of(scale_of(shown))
    most = peak if fixed is None else units.stress.of(fixed)
    _, step, *more = MaxNLocator(7, steps=[1, 2, 5, 10]).tick_values(0.0, most)
    levels = (step / 5, step / 2, step, *more)
    return _Scale(most, tuple(float(v) for v in levels if v < 0.97 * most), peak)


def _whole(ax: Axes, case: Case, result: SectionResult, window: _Window, scale: _Scale) -> None:
    ax.set(xlim=(window.left, window.right), ylim=(window.bottom, window.top))
    for shade in _bodies(ax, case, result, window):
        seen = shade.body.within(window.left, window.right, window.bottom, window.top)
        _shade(ax, replace(shade, body=seen), scale, 0.7)
    _post_outline(ax, case, result)
    if case.support(result.section).half:
        middle = case.display.length.of(result.section.radius)
        ax.axhline(middle, color=QUIET, linewidth=0.7, dashes=(8, 3, 2, 3), zorder=3)
    few(ax)
    ax.locator_params(axis="y", nbins=5)
    ax.set_aspect("equal")
    _post_peak(ax, result, window, case.display)
    _bore_peak(ax, case, result, window)


def _bodies(ax: Axes, case: Case, result: SectionResult, window: _Window) -> Iterator[_Shade]:
    """All bodies, and their images where the solved half stands for the whole."""
    reading, units, radius = result.reading, case.display, result.section.radius

    def here(points: Floats) -> Floats:
        return units.length.of(points)

    def image(points: Floats) -> Floats:
        return units.length.of(np.array([points[0], 2.0 * radius - points[1]]))

    def second(points: Floats) -> Floats:
        return units.length.of(beside(radius).outside(points))

    seen = _SEEN * (window.right - window.left)
    places = (here, image) if case.support(result.section).half else (here,)
    for place in places:
        yield _Shade(
            grid(reading.member_field, units.stress, place, seen), _allowed_of(case, result.member)
        )
        if reading.infill_field is not None:
            yield _Shade(grid(reading.infill_field, units.stress, place, seen), None)
    plates = [(0, place) for place in places] + [(1, second)] * (case.corner is not None)
    for number, place in plates:
        body = grid(reading.patches[number].field, units.stress, place, seen)
        area = outline(ax, window.plates[number], place)
        yield _Shade(body, _allowed_of(case, result.patches[number].plate), area)


def _allowed_of(case: Case, body: BodyResult) -> float:
    """The stress that a body's verdict compares with, in the unit shown."""
    return case.display.stress.of(body.material.yield_strength / case.yield_margin)


def _shade(ax: Axes, shade: _Shade, scale: _Scale, dash: float) -> None:
    """Colour, isolines at the levels of the bar, and dashes where the allowed stress is reached."""
    body = shade.body
    cells = body.triangulation()
    colours = ax.tripcolor(
        cells, body.von_mises, shading="gouraud", norm=scale.norm, cmap=STRESS, zorder=1,
        rasterized=True,
    )  # fmt: skip
    artists: list[Collection] = [colours]
    lines = [(scale.levels, scale.line_colours, 0.4, "solid")]
    if shade.allowed is not None:
        lines.append(((shade.allowed,), [scale.line_colour(shade.allowed)], dash, "dashed"))
    for levels, line_colours, width, style in lines:
        # Lines of which no point of this body reaches any are a warning to matplotlib.
        low, high = body.von_mises.min(), body.von_mises.max()
        if any(low < level < high for level in levels):
            artists.append(
                ax.tricontour(
                    cells, body.von_mises, levels,
                    colors=line_colours, linewidths=width, linestyles=style, zorder=2,
                )
            )  # fmt: skip
    for artist in artists:
        artist.set_in_layout(False)  # to measure it takes long, and it lies within the panel
        if shade.clip is not None:
            artist.set_clip_path(shade.clip)


def _post_outline(ax: Axes, case: Case, result: SectionResult) -> None:
    """The edges of the post: circles, or those of its mesh where it is no round."""
    section, length = result.section, case.display.length
    if not section.geometry.round:
        for field in (result.reading.member_field, result.reading.infill_field):
            if field is not None:
                mesh = field.mesh
                edges = edge_nodes(mesh, mesh.boundary_facets())[[0, 2, 1]]
                lines = np.moveaxis(length.of(mesh.doflocs[:, edges]), 0, -1).swapaxes(0, 1)
                ax.add_collection(LineCollection(lines, colors=INK, linewidths=0.9, zorder=3))
        return
    radius, bore = length.of(section.radius), length.of(section.geometry.bore / 2.0)
    for size in (radius, bore):
        if size > 0.0:
            ax.add_patch(Circle((0.0, radius), size, fill=False, color=INK, linewidth=0.9))
    if case.support(section).core:
        core: dict[str, Any] = {"facecolor": PAPER, "edgecolor": QUIET, "linewidth": 0.0}
        ax.add_patch(Circle((0.0, radius), bore, hatch="////", zorder=0.5, **core))


def _post_peak(ax: Axes, result: SectionResult, window: _Window, units: Display) -> None:
    """The peak of the post, its value in the gap between post and plate."""
    peak, length = result.member.peak_von_mises, units.length
    place = (length.of(peak.at.x), length.of(peak.at.y))
    radius, room = length.of(result.section.radius), 0.015 * (window.right - window.left)
    height = 0.05 * (window.right - window.left)
    _mark(ax, *place)
    if len(result.patches) == 1:
        x, y, side = window.right - room, height, "right"
    elif peak.at.zone in {SECOND_CONTACT, SECOND_EDGE}:
        x, y, side = radius - room, 2.0 * radius + height / 2.0, "right"
    else:  # the second plate takes the gap at the right
        x, y, side = window.left + room, height, "left"
    ax.annotate(
        units.stress.text(peak.value), place, xytext=(x, y), ha=side, va="center", size=SMALL,
        weight="bold", zorder=6, arrowprops=_LEADER, path_effects=[HALO],
    )  # fmt: skip


def _bore_peak(ax: Axes, case: Case, result: SectionResult, window: _Window) -> None:
    """The largest stress at the bore, where there is room in it for the value."""
    bore = next((p for p in result.member.places if p.at.zone.startswith("bore")), None)
    length, section = case.display.length, result.section
    room = length.of(section.geometry.bore / 2.0) >= 0.17 * (window.right - window.left)
    if bore is None or not room or bore == result.member.peak_von_mises:
        return
    place = (length.of(bore.at.x), length.of(bore.at.y))
    _mark(ax, *place)
    support = case.support(section)
    what = support.name if support.core else section.geometry.hole
    ax.annotate(
        f"{what}\n{case.display.stress.text(bore.value)}", place, size=SMALL,
        xytext=(0.0, 1.05 * length.of(section.radius)),
        ha="center", va="bottom", zorder=6, linespacing=1.2,
        bbox=None if what == "bore" else _BOX,
        arrowprops=_LEADER | {"shrinkA": 2},
    )  # fmt: skip


def _contact(ax: Axes, case: Case, result: SectionResult, number: int, scale: _Scale) -> None:
    """The bodies about a contact, its plate below, lengths in half-widths from its middle."""
    reading, patch, spot = result.reading, result.patches[number], spots(result)[number]
    across, up = _ZOOM
    stress = case.display.stress
    post = grid(reading.member_field, stress, spot.of_section)
    plate = grid(reading.patches[number].field, stress, spot.of_plate)
    bodies = [
        _Shade(post, _allowed_of(case, result.member)),
        _Shade(plate, _allowed_of(case, patch.plate)),
    ]
    if reading.infill_field is not None:
        bodies.append(_Shade(grid(reading.infill_field, stress, spot.of_section), None))
    for shade in bodies:
        near = shade.body.within(-1.1 * across, 1.1 * across, -1.1 * up, 1.1 * up)
        if len(near.x):  # an infill behind a thick wall is out of sight
            _shade(ax, replace(shade, body=near), scale, 1.3)
    ax.axhline(0.0, color=INK, linewidth=0.6, zorder=3)
    ax.plot([-1.0, 1.0], [0.0, 0.0], color=INK, linewidth=2.2, solid_capstyle="butt", zorder=4)
    ax.plot([-1.0, 1.0], [0.0, 0.0], "|", color=INK, markersize=11, markeredgewidth=1.3, zorder=4)
    ax.set(xlim=(-across, across), ylim=(-up, up), xticks=[-2, -1, 0, 1, 2], yticks=[-1, 0, 1])
    ax.set_aspect("equal")
    on_post = (CONTACT, EDGE) if number == 0 else (SECOND_CONTACT, SECOND_EDGE)
    for name, body, zones, place, side in (
        ("post", result.member, on_post, spot.of_section, 1.0),
        ("plate", patch.plate, (UNDER_CONTACT,), spot.of_plate, -1.0),
    ):
        for peak in body.places:
            if peak.at.zone in zones:
                ((x,), (y,)) = place(np.array([[peak.at.x], [peak.at.y]]))
                text = f"{name} {words.pair(peak, stress)} {stress.name}"
                _contact_peak(ax, text, (float(x), float(y)), side, scale)


def _contact_peak(
    ax: Axes, text: str, place: tuple[float, float], side: float, scale: _Scale
) -> None:
    """A body's peak at the contact, named in the corner above (``side`` 1) or below (−1)."""
    _mark(ax, *place)
    ax.annotate(
        text, place, size=SMALL, xytext=(_ZOOM[0] - 0.12, side * (_ZOOM[1] - 0.12)), ha="right",
        va="top" if side > 0 else "bottom", bbox=_BOX, zorder=6,
        arrowprops=_LEADER | {"color": scale.line_colour(scale.peak)},
    )  # fmt: skip


def _mark(ax: Axes, x: float, y: float) -> None:
    ax.plot(x, y, "o", color=PAPER, markeredgecolor=INK, markersize=4.5, zorder=5)


def _bar(
    figure: Figure,
    columns: NDArray[Any],
    case: Case,
    shown: tuple[SectionResult, ...],
    scale: _Scale,
) -> None:
    colours = ScalarMappable(scale.norm, STRESS)
    bar = figure.colorbar(
        colours, ax=columns, location="bottom", ticks=scale.levels, aspect=60, pad=0.02,
        extend="max" if scale.beyond else "neither",
    )  # fmt: skip
    bar.ax.minorticks_off()
    bar.ax.set_xticklabels([f"{level:g}" for level in scale.levels])
    bar.set_label(
        f"von Mises stress [{case.display.stress.name}]; colour follows its square root,"
        " isolines at the values ticked"
    )
    bar.outline.set_linewidth(0.7)
    for level, colour in zip(scale.levels, scale.line_colours, strict=True):
        bar.ax.axvline(level, color=colour, linewidth=0.5)
    for value in sorted({_allowed_of(case, body) for r in shown for _, body in r.bodies}):
        if value <= scale.most:
            bar.ax.plot(
                value, 1.35, "v", color=INK, markersize=5, clip_on=False, zorder=6,
                transform=bar.ax.get_xaxis_transform(),
            )  # fmt: skip


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


def _caption(
    comparison: Comparison, shown: tuple[SectionResult, ...], window: _Window, scale: _Scale
) -> str:
    case = comparison.case
    cut = any(plate.cut for plate in window.plates)
    size = f"plate cut (it measures {words.plate_size(case)})"
    if case.corner is not None:
        size = f"plates cut (each measures {words.plate_size(case)})"
    parts = [
        "von Mises stress.",
        f"First the whole in true proportion{f', {size}' if cut else ''}.",
    ]
    if any(case.support(r.section).half for r in shown):
        parts.append("The lower half is computed; the upper half is its image.")
    parts.append(
        "Then the contact, lengths in computed half-widths a; the heavy line is the contact, its"
        " bars the edges x = ±a."
        if case.corner is None
        else "Then both contacts, lengths in computed half-widths a of each, the second turned so"
        " that its plate lies below; the heavy line is the contact, its bars the edges ±a."
    )
    if any(body.utilisation.value > 1.0 for r in shown for _, body in r.bodies):
        parts.append(f"Dashed lines: stress equal to {words.limit(case)}.")
    parts.append(f"{_allowed_text(case, shown, scale)}.")
    if scale.beyond:
        stress = case.display.stress
        most = f"{stress.form(scale.most)} {stress.name}"
        parts.append(f"The colours end at {most}: what is beyond has the last of them.")
    if any(r.reading.infill_field is not None for r in shown):
        parts.append("Of the infill no yield strength is known: its stress is shown, not judged.")
    parts += [axial_words(shown), shown_of(comparison, shown)]
    return " ".join(part for part in parts if part)


def sections_alt(
    comparison: Comparison, shown: tuple[SectionResult, ...], most: float | None = None
) -> str:
    """The figure in words."""
    stress = comparison.case.display.stress
    to = "" if most is None else f" to {stress.text(most)}"
    peaks = "; ".join(
        f"{words.one_line(r.section.name)}, post {words.peak(r.member, comparison.case.display)}"
        f" {stress.name}, K = {words.pair(r.stress_concentration)}"
        for r in shown
    )
    return (
        "Maps of von Mises stress in post and plate, each section whole and about its contact, on"
        f" one scale{to}. Peaks: {peaks}."
    )
