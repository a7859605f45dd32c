"""The design chart of the relief of a tube, made by the tool's own solves.

``python contactfe/docs/relief_chart.py [--processes 2]`` writes ``relief_chart.csv`` and draws
``relief_chart.png`` beside this file; ``--draw`` draws the table that is there. ``--check N --seed
S`` solves N posts drawn by chance and holds :mod:`contactfe.hand.relief` against them.

A long post is pressed evenly over a stretch of it, on a plate that is a half-space to it; post and
plate of one elastic steel, without friction. Relief is by how much the post's peak von Mises stress
lies below that of a solid in the same contact, as a share of it, and the best wall is that of the
greatest. Bending and shear of the post along its axis go by how it is held, and are left out.
"""

import argparse
import csv
from collections import OrderedDict, defaultdict
from collections.abc import Hashable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from itertools import product
from math import inf, isinf, pi
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np
from matplotlib.figure import Figure
from scipy.interpolate import CubicSpline
from threadpoolctl import threadpool_limits

from contactfe.assess.accuracy import solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.finite import FAR, INSET
from contactfe.assess.level import PostReading, build, neighbour_of, read_among, solved_slice
from contactfe.assess.places import EDGES
from contactfe.case import Case, Section, case_from_dict
from contactfe.case.alignment import Profile, Spread, Strip
from contactfe.hand import relief
from contactfe.report.figures.ink import ACROSS, ALONG, HAND, INK, PAPER, QUIET, save_figure
from contactfe.report.figures.panels import caption, head, legend, panels
from contactfe.solve.bar import Neighbours, neighbours
from contactfe.study.point import Kept

TABLE = Path(__file__).with_suffix(".csv")

RADIUS = 100.0  # mm; all that is found is a ratio
YOUNG, POISSON = 210e3, 0.3

LOADS = (0.005, 0.007, 0.01, 0.014, 0.02, 0.028, 0.04, 0.056, 0.08)
"""Half-width by Hertz over the radius."""

LENGTHS = (0.5, 0.7, 1.0, 1.4, 2.0, 2.8, 4.0, inf)
"""Length of the contact over the diameter; that without end is a slice of a long contact."""

WALLS = tuple(np.geomspace(0.094, 0.86, 28).round(4).tolist())
"""Walls over the radius."""

NEAREST, FARTHEST = 1.2, 4.0
"""Walls that are tried, over the radius and the root of a/R."""

SOLID = 1.0

SHEARED = "with shear"
"""What a place is called where the shear of the post is left in."""

PLACES = {
    "middle": 0.5, "between": 0.75, "end": 1.0,
    f"{SHEARED}, middle": 0.5, f"{SHEARED}, between": 0.25, f"{SHEARED}, end": 0.0,
}  # fmt: skip
"""Places that are looked at, from end to end of the contact: without shear its halves are alike."""

BESIDE = 0.02
"""How far off the best wall it is looked where thinner and thicker ones have their peak."""

ALIKE = 0.01
"""Share of the least peak within which a wall counts as good as the best."""


HEAD = f"""\
# Best wall of a tube and its relief, by contactfe/docs/relief_chart.py. A long post of radius R
# and diameter D under an even line load over a length c, on a half-space of the same steel,
# Poisson's ratio {POISSON}, without friction; a is the half-width by Hertz; long: a slice of a long
# contact, away from its ends. Relief: 1 - peak von Mises stress of the post / that of a solid in
# the same contact. Bending and shear of the post along its axis are left out; sheared: the peak
# with the shear of a post that carries the force to one root, over that without. thinnest,
# thickest: walls whose peak is at most {ALIKE:.0%} above the least. thinner_peak, thicker_peak:
# where thinner and thicker walls have their peak.
"""

COLUMNS = (
    "a/R", "c/D", "wall/R", "relief", "thinnest/R", "thickest/R", "sheared", "thinner_peak",
    "thicker_peak",
)  # fmt: skip

STYLES = {
    0.5: (ALONG, "-", "o"), 1.0: (ACROSS, "--", "s"), 2.0: (HAND, "-.", "^"), 4.0: (INK, ":", "D"),
    inf: (QUIET, "-", "v"),
}  # fmt: skip
"""Colour, line and mark of the lengths that are drawn."""

_FINE = 4001
"""Walls or loads that a smooth curve is read at."""

_SAME_WALL = 5
"""Posts of one wall that are checked, as its modes take longest."""


@dataclass(frozen=True)
class Peak:
    """The post's peak von Mises stress, MPa, in one zone of one place along the contact."""

    load: float
    length: float
    wall: float
    place: str
    von_mises: float


@dataclass(frozen=True)
class Best:
    """The best wall for one load and length of contact: ratios.

    ``thinnest`` and ``thickest`` are those that do as well but for ``ALIKE``; ``thinner`` and
    ``thicker`` say where thinner and thicker walls have their peak. ``sheared`` is the peak of a
    post that carries the force to one root with its shear left in, over that without.
    """

    load: float
    length: float
    wall: float
    relief: float
    thinnest: float
    thickest: float
    thinner: str
    thicker: str
    sheared: float


def case_of(load: float, wall: float) -> Case:
    """A post of a wall under a load, both over the radius, as a slice of a long contact."""
    steel = {"young": f"{YOUNG} MPa", "poisson": POISSON, "yield": "690 MPa"}
    line_load = pi * (load * RADIUS) ** 2 * YOUNG / (8.0 * (1.0 - POISSON**2) * RADIUS)
    bore = {} if wall == SOLID else {"wall": f"{wall * RADIUS} mm"}
    return case_from_dict({
        "title": "relief chart",
        "post": {"held_by": "beam shear", **steel},
        "plate": {
            "width": f"{20.0 * RADIUS} mm", "thickness": f"{10.0 * RADIUS} mm",
            "held_by": "rigid base", **steel,
        },
        "load": {"line_load": f"{line_load} N/mm"},
        "section": [{"name": "post", "outside_diameter": f"{2.0 * RADIUS} mm", **bore}],
    })  # fmt: skip


def peaks_of(wall: float, load: float, lengths: Sequence[float], kept: Kept) -> Iterator[Peak]:
    """Every peak of a post under a load, for contacts of some lengths; all over the radius."""
    case = case_of(load, wall)
    section, bodies = case.sections[0], Bodies(case, kept)
    slice_ = solve_levels(case, section, bodies).fine
    if inf in lengths:
        yield from _named(slice_.reading.post, load, inf, wall, "")
    far, diameter = FAR * section.outside_diameter, section.outside_diameter
    finite = [length for length in lengths if not isinf(length)]
    profiles = tuple(
        Profile(2.0 * far + c * diameter, (far, far + c * diameter), ((1.0, 1.0),)) for c in finite
    )
    case = replace(case, spread=Spread(1.0, 0.0, (), profiles))
    level = build(case, bodies, section, slice_.level.patches, 1.0, slice_.focus)
    pressed = solved_slice(level, Strip(0.0, (1.0,)))
    sheared = _sheared(bodies, section)
    for number, (length, profile) in enumerate(zip(finite, profiles, strict=True)):
        start, end = profile.contact
        inset = INSET * section.radius
        for name, share in PLACES.items():
            z = start + inset + share * (end - start - 2.0 * inset)
            beside = neighbour_of(pressed, Strip(z, (1.0,), 0.0, number), 1.0)
            if name.startswith(SHEARED):
                reading = read_among(pressed, beside)
            else:
                reading = read_among(pressed, _less(beside, sheared, case.line_load * (end - z)))
            yield from _named(reading, load, length, wall, f", {name}")


def _named(
    reading: PostReading, load: float, length: float, wall: float, where: str
) -> Iterator[Peak]:
    """The peak of every zone, the contact with its edges as one."""
    found: dict[str, float] = defaultdict(float)
    for peak in reading.peaks:
        zone = EDGES.get(peak.zone, peak.zone)
        found[zone] = max(found[zone], peak.von_mises)
    for zone, stress in found.items():
        yield Peak(load, length, wall, f"{zone}{where}", stress)


def _sheared(bodies: Bodies, section: Section) -> Neighbours:
    """A post under a unit of shear force, N, far from what loads it: its bending is left out."""
    loaded, far = section.outside_diameter, FAR * section.outside_diameter
    root, tip = far, 3.0 * far + loaded
    z = np.array([root, tip - loaded, tip - loaded * (1.0 - 1e-6), tip])
    post = bodies.bar(section, 1.0, False, tip, root, tip)
    (found,) = neighbours(post, z, np.array([[0.0, 0.0, 1.0, 1.0]]), np.array([2.0 * far]))
    return replace(
        found, value=found.value / loaded, slope=found.slope / loaded, moment=found.moment / loaded
    )


def _less(of: Neighbours, sheared: Neighbours, force: float) -> Neighbours:
    """The same without what a shear force does."""
    return replace(
        of,
        value=of.value - force * sheared.value,
        slope=of.slope - force * sheared.slope,
        moment=of.moment - force * sheared.moment,
    )


def of_wall(wall: float) -> list[Peak]:
    """Every peak of one wall."""
    kept: Kept = OrderedDict()
    with threadpool_limits(limits=1, user_api="blas"):
        return [
            peak
            for load in LOADS
            if wall == SOLID or NEAREST <= wall / load**0.5 <= FARTHEST
            for peak in peaks_of(wall, load, LENGTHS, kept)
        ]


def table(peaks: Sequence[Peak]) -> list[Best]:
    """The best wall for every length and load."""
    by: dict[tuple[float, float], list[Peak]] = defaultdict(list)
    for peak in peaks:
        by[peak.length, peak.load].append(peak)
    return [_best(by[at]) for at in product(LENGTHS, LOADS)]


def _best(peaks: Sequence[Peak]) -> Best:
    """Of the peaks under one load and length: in each place a smooth curve over the wall."""
    solid = max(
        peak.von_mises for peak in peaks if peak.wall == SOLID and SHEARED not in peak.place
    )
    curves: dict[str, dict[float, float]] = defaultdict(dict)
    for peak in sorted(peaks, key=lambda peak: peak.wall):
        if peak.wall != SOLID:
            curves[peak.place][peak.wall] = peak.von_mises
    walls = list(next(iter(curves.values())))
    fine = np.geomspace(walls[0], walls[-1], _FINE)
    stress = {
        place: CubicSpline(np.log(walls), list(curve.values()))(np.log(fine))
        for place, curve in curves.items()
    }
    local = [place for place in stress if SHEARED not in place]
    worst = np.max([stress[place] for place in local], axis=0)
    at = int(np.argmin(worst))
    good = fine[worst <= (1.0 + ALIKE) * worst[at]]
    thinner, thicker = (
        max(local, key=lambda place: float(np.interp(by * fine[at], fine, stress[place])))
        for by in (1.0 - BESIDE, 1.0 + BESIDE)
    )
    return Best(
        peaks[0].load, peaks[0].length, float(fine[at]), 1.0 - float(worst[at]) / solid,
        float(good[0]), float(good[-1]), thinner, thicker,
        max(float(curve[at]) for curve in stress.values()) / float(worst[at]),
    )  # fmt: skip


def write(rows: Sequence[Best]) -> None:
    """The table as a file."""
    with TABLE.open("w", encoding="utf-8", newline="") as file:
        file.write(HEAD)
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        for row in rows:
            ratios = row.wall, row.relief, row.thinnest, row.thickest, row.sheared
            length = "long" if isinf(row.length) else f"{row.length:g}"
            writer.writerow(
                [
                    f"{row.load:g}",
                    length,
                    *(f"{one:.4f}" for one in ratios),
                    row.thinner,
                    row.thicker,
                ]
            )


def read() -> list[Best]:
    """The table that is there."""
    lines = [
        line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")
    ]
    rows = []
    for load, length, *ratios, thinner, thicker in list(csv.reader(lines))[1:]:
        wall, saved, thinnest, thickest, sheared = map(float, ratios)
        long = inf if length == "long" else float(length)
        rows.append(
            Best(float(load), long, wall, saved, thinnest, thickest, thinner, thicker, sheared)
        )
    return rows


def drawn(rows: Sequence[Best]) -> Figure:
    """Relief of the best wall, and the best wall, over the half-width of the contact."""
    figure, axes = panels(1, 2.8, [2.3, 2.3], beside=True)
    by_relief, by_wall = axes[0]
    loads = np.geomspace(LOADS[0], LOADS[-1], 100)
    for length, (colour, line, marker) in STYLES.items():
        of = [row for row in rows if row.length == length]
        long = isinf(length)
        label = "long, away from its ends" if long else f"{length:g} D"
        fitted = loads, 1.0, 2.0 * length
        for ax, solved, formula in (
            (by_relief, [100.0 * row.relief for row in of], relief_percent),
            (by_wall, [row.wall for row in of], relief.best_wall.plain),
        ):
            at = [row.load for row in of]
            drawn_at, drawn_as = (at, solved) if long else (loads, formula(*fitted))
            ax.plot(drawn_at, drawn_as, line, color=colour)
            for load, value, row in zip(at, solved, of, strict=True):
                face = PAPER if row.sheared > 1.0 + ALIKE else colour
                ax.plot(load, value, marker, color=colour, mfc=face, ms=4.5, zorder=3)
            ax.plot([], [], line, marker=marker, color=colour, ms=4.5, label=label)
    for ax in (by_relief, by_wall):
        ax.set_xscale("log")
        ax.set_xticks(LOADS, [f"{load:g}" for load in LOADS])
        ax.minorticks_off()
        ax.grid(axis="y", color=QUIET, alpha=0.25, lw=0.5)
        ax.set_xlabel("half-width of the contact over radius, a/R")
    by_relief.set_ylabel("relief of the best wall, %")
    by_relief.set_ylim(14.0, 22.0)
    by_wall.set_ylabel("best wall over radius, h/R")
    by_wall.set_ylim(0.1, 0.6)
    head(by_relief, "Peak stress that the best tube saves")
    head(by_wall, "The best wall")
    legend(figure, [by_relief], 5)
    caption(
        figure,
        "Contact of 0.5 to 4 diameters D under an even line load, and a slice of a long one. Marks:"
        " solved; lines: the fitted formulas, and those that join the slices. Hollow marks: the"
        " shear of a post that carries the force to one root stresses its bore more than that.",
    )
    return figure


def relief_percent(*sizes: Any) -> Any:
    """Relief of the best wall by formula, in percent."""
    return 100.0 * relief.relief_of_best_wall.plain(*sizes)


def check(count: int, seed: int) -> None:
    """Holds the formulas against posts that are drawn by chance, of the walls that they give."""
    rng, kept = np.random.default_rng(seed), OrderedDict[Hashable, object]()
    errors: list[tuple[float, float, float]] = []
    low, high = np.log(LOADS[0]), np.log(LOADS[-1])
    while len(errors) < count:
        load, length = np.exp(rng.uniform(low, high)), _any_length(rng)
        wall = round(float(relief.best_wall.plain(load, 1.0, 2.0 * length)), 4)
        of_wall_alone = OrderedDict[Hashable, object]()
        for _ in range(min(_SAME_WALL, count - len(errors))):
            peak, solid = (
                max(
                    one.von_mises
                    for one in peaks_of(of, load, [length], bodies)
                    if SHEARED not in one.place
                )
                for of, bodies in ((wall, of_wall_alone), (SOLID, kept))
            )
            formula = float(relief.relief_of_best_wall.plain(load, 1.0, 2.0 * length))
            errors.append((1.0 - peak / solid - formula, load, length))
            print(f"a/R {load:.4f}, c/D {length:.3f}, h/R {wall:.4f}: {errors[-1][0]:+.4f}")
            load, length = _another(rng, wall)
    found = np.array([error for error, *_ in errors])
    at = int(np.argmax(np.abs(found)))
    print(
        f"{count} posts, seed {seed}: relief less the formula's from {found.min():+.4f} to"
        f" {found.max():+.4f}, mean {found.mean():+.4f}, deviation {found.std():.4f}; the most at"
        f" a/R {errors[at][1]:.4f}, c/D {errors[at][2]:.3f}"
    )


def _any_length(rng: np.random.Generator) -> float:
    return float(np.exp(rng.uniform(np.log(LENGTHS[0]), np.log(LENGTHS[-2]))))


def _another(rng: np.random.Generator, wall: float) -> tuple[float, float]:
    """Another load and length for which a wall is the best."""
    loads = np.geomspace(LOADS[0], LOADS[-1], _FINE)
    while True:
        length = _any_length(rng)
        walls = relief.best_wall.plain(loads, 1.0, 2.0 * length)
        if walls[0] <= wall <= walls[-1]:
            return float(np.interp(wall, walls, loads)), length


def main() -> None:
    """Make the table and the chart, or draw it, or check the formulas."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--processes", type=int, default=1, help="that solve walls at a time")
    parser.add_argument("--draw", action="store_true", help="draw the table that is there")
    parser.add_argument("--check", type=int, metavar="N", help="posts to check formulas with")
    parser.add_argument("--seed", type=int, default=1, help="of those posts")
    given = parser.parse_args()
    if given.check is not None:
        with threadpool_limits(limits=1, user_api="blas"):
            check(given.check, given.seed)
        return
    if not given.draw:
        with ProcessPoolExecutor(given.processes, get_context("spawn")) as pool:
            write(table([peak for peaks in pool.map(of_wall, (SOLID, *WALLS)) for peak in peaks]))
    save_figure(TABLE.with_suffix(".png"), drawn, read())


if __name__ == "__main__":
    main()
