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
from collections.abc import Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from math import inf, isinf, pi
from multiprocessing import get_context
from pathlib import Path

import numpy as np
from matplotlib.figure import Figure
from matplotlib.ticker import PercentFormatter
from scipy.interpolate import CubicSpline

from contactfe.assess.accuracy import solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.finite import FAR, stations
from contactfe.assess.level import build
from contactfe.assess.places import EDGES
from contactfe.assess.post import PostReading, read_strip, solved_slice
from contactfe.case import Case, case_from_dict
from contactfe.case.alignment import Profile, Spread, Strip
from contactfe.hand import relief
from contactfe.report.figures.ink import ACROSS, ALONG, HAND, INK, QUIET, save_figure
from contactfe.report.figures.panels import caption, heads, legend, panels
from contactfe.study.blas import one_thread
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

BESIDE = 0.02
"""How far off the best wall it is looked where thinner and thicker ones have their peak."""

ALIKE = 0.01
"""Share of the least peak within which a wall counts as good as the best."""

HEAD = f"""\
# Best wall of a tube and its relief, by contactfe/docs/relief_chart.py. A long post of radius R
# and diameter D under an even line load over a length c, on a half-space of the same steel,
# Poisson's ratio {POISSON}, without friction; a is the half-width by Hertz; long: a slice of a long
# contact, away from its ends. Relief: 1 - peak von Mises stress of the post / that of a solid in
# the same contact. Bending and shear of the post along its axis are left out. thinnest, thickest:
# walls whose peak is at most {ALIKE:.0%} above the least. thinner_peak, thicker_peak: where thinner
# and thicker walls have their peak.
"""

COLUMNS = (
    "a/R", "c/D", "wall/R", "relief", "thinnest/R", "thickest/R", "thinner_peak", "thicker_peak",
)  # fmt: skip

STYLES = {
    "0.5": (ALONG, "-", "o"), "1": (ACROSS, "--", "s"), "2": (HAND, "-.", "^"),
    "4": (INK, ":", "D"), "long": (QUIET, "-", "v"),
}  # fmt: skip
"""Colour, line and mark of the lengths that are drawn."""

Stresses = dict[str, float]
"""Peak von Mises stress of the post, MPa, by zone and place along the contact."""


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


def stresses(
    wall: float, load: float, lengths: Sequence[float], kept: Kept
) -> dict[float, Stresses]:
    """The stresses of a post for contacts of some lengths; all over the radius."""
    case = case_of(load, wall)
    section, bodies = case.sections[0], Bodies(case, kept)
    diameter, far = section.outside_diameter, FAR * section.outside_diameter
    slice_ = solve_levels(case, section, bodies).fine
    found = {inf: _named(slice_.reading.post, "")} if inf in lengths else {}
    finite = [length for length in lengths if not isinf(length)]
    profiles = tuple(
        Profile(2.0 * far + c * diameter, (far, far + c * diameter), ((1.0, 1.0),)) for c in finite
    )
    # No cantilever is stated, so the shear of the post is left out: halves are alike.
    case = replace(case, spread=Spread(1.0, 0.0, (), profiles))
    level = build(case, bodies, section, slice_.level.patches, 1.0, slice_.focus)
    pressed = solved_slice(level, Strip(0.0, (1.0,)))
    for number, (length, profile) in enumerate(zip(finite, profiles, strict=True)):
        found[length] = {}
        half = stations(case, section, *profile.contact)[2:]
        for place, z in zip(("middle", "between", "end"), half, strict=True):
            reading = read_strip(pressed, Strip(float(z), (1.0,), 0.0, number))
            found[length] |= _named(reading, f", {place}")
    return found


def _named(reading: PostReading, where: str) -> dict[str, float]:
    """The peak of every zone, the contact with its edges as one."""
    peaks = reversed(reading.peaks)  # the largest is last and stays
    return {EDGES.get(peak.zone, peak.zone) + where: peak.von_mises for peak in peaks}


def of_wall(wall: float) -> dict[float, dict[float, Stresses]]:
    """The stresses of one wall by load and length."""
    kept = Kept()
    with one_thread():
        return {
            load: stresses(wall, load, LENGTHS, kept)
            for load in LOADS
            if wall == SOLID or NEAREST <= wall / load**0.5 <= FARTHEST
        }


def table(processes: int) -> list[list[str]]:
    """The rows of the table: the best wall for every length and load."""
    with ProcessPoolExecutor(processes, get_context("spawn")) as pool:
        solid, *tubes = pool.map(of_wall, (SOLID, *WALLS))
    return [
        best(
            load, length, max(solid[load][length].values()),
            {w: of[load][length] for w, of in zip(WALLS, tubes, strict=True) if load in of},
        )
        for length in LENGTHS
        for load in LOADS
    ]  # fmt: skip


def best(load: float, length: float, solid: float, tubes: Mapping[float, Stresses]) -> list[str]:
    """A row of the table, of the stresses by wall: in each place a smooth curve over the wall."""
    walls = np.array(list(tubes))
    fine = np.geomspace(walls[0], walls[-1], 4001)
    curves = {
        place: CubicSpline(np.log(walls), [of[place] for of in tubes.values()])(np.log(fine))
        for place in next(iter(tubes.values()))
    }
    worst = np.max(list(curves.values()), axis=0)
    at = int(np.argmin(worst))
    good = fine[worst <= (1.0 + ALIKE) * worst[at]]
    ratios = fine[at], 1.0 - worst[at] / solid, good[0], good[-1]
    beside = (
        max(curves, key=lambda place: float(np.interp(by * fine[at], fine, curves[place])))
        for by in (1.0 - BESIDE, 1.0 + BESIDE)
    )
    over = "long" if isinf(length) else f"{length:g}"
    return [f"{load:g}", over, *(f"{ratio:.4f}" for ratio in ratios), *beside]


def write(rows: Sequence[Sequence[str]]) -> None:
    """The table as a file."""
    with TABLE.open("w", encoding="utf-8", newline="") as file:
        file.write(HEAD)
        csv.writer(file, lineterminator="\n").writerows([COLUMNS, *rows])


def drawn(rows: Sequence[Mapping[str, str]]) -> Figure:
    """Relief of the best wall, and the best wall, over the half-width of the contact."""
    figure, axes = panels(1, [2.3, 2.3], beside=True)
    by_relief, by_wall = axes[0]
    loads = np.geomspace(LOADS[0], LOADS[-1], 100)
    for length, (colour, line, marker) in STYLES.items():
        of = [row for row in rows if row["c/D"] == length]
        at = [float(row["a/R"]) for row in of]
        for ax, column, formula in (
            (by_relief, "relief", relief.relief_of_best_wall.plain),
            (by_wall, "wall/R", relief.best_wall.plain),
        ):
            solved = [float(row[column]) for row in of]
            ax.plot(at, solved, marker, color=colour, ms=4.5, zorder=3)
            if length == "long":
                ax.plot(at, solved, line, color=colour)
            else:
                ax.plot(loads, formula(loads, 1.0, 2.0 * float(length)), line, color=colour)
        label = "long, away from its ends" if length == "long" else f"{length} D"
        by_relief.plot([], [], line, marker=marker, color=colour, ms=4.5, label=label)
    for ax in (by_relief, by_wall):
        ax.set_xscale("log")
        ax.set_xticks(LOADS, [f"{load:g}" for load in LOADS])
        ax.minorticks_off()
        ax.grid(axis="y", color=QUIET, alpha=0.25, lw=0.5)
        ax.set_xlabel("half-width of the contact over radius, a/R")
    by_relief.set_ylabel("relief of the best wall")
    by_relief.yaxis.set_major_formatter(PercentFormatter(1.0, 0))
    by_relief.set_ylim(0.14, 0.22)
    by_wall.set_ylabel("best wall over radius, h/R")
    by_wall.set_ylim(0.1, 0.6)
    heads(
        [by_relief, by_wall], [("Peak stress that the best tube saves", ""), ("The best wall", "")]
    )
    legend(figure, [by_relief])
    caption(
        figure,
        "Contact of 0.5 to 4 diameters D under an even line load, and a slice of a long one. Marks:"
        " solved; lines: the fitted formulas, and those that join the slices. Knee at a/R = 0.05:"
        " places nearer to an end than R/10 or 2 a are not looked at.",
    )
    return figure


def check(count: int, seed: int) -> None:
    """Holds the formulas against posts that are drawn by chance, of the walls that they give."""
    rng, solids = np.random.default_rng(seed), Kept()
    errors = []
    for _ in range(count):
        load, length = (
            float(np.exp(rng.uniform(*np.log((of[0], of[-1]))))) for of in (LOADS, LENGTHS[:-1])
        )
        sizes = load, 1.0, 2.0 * length
        wall = float(relief.best_wall.plain(*sizes))
        peak, solid = (
            max(stresses(of, load, [length], kept)[length].values())
            for of, kept in ((wall, Kept()), (SOLID, solids))
        )
        errors.append(1.0 - peak / solid - float(relief.relief_of_best_wall.plain(*sizes)))
        print(f"a/R {load:.4f}, c/D {length:.3f}, h/R {wall:.4f}: {errors[-1]:+.4f}", flush=True)
    print(
        f"{count} posts, seed {seed}: relief less the formula's from {min(errors):+.4f} to"
        f" {max(errors):+.4f}, mean {np.mean(errors):+.4f}, deviation {np.std(errors):.4f}"
    )


def main() -> None:
    """Make the table and the chart, or draw it, or check the formulas."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--processes", type=int, default=1, help="that solve walls at a time")
    parser.add_argument("--draw", action="store_true", help="draw the table that is there")
    parser.add_argument("--check", type=int, metavar="N", help="posts to check formulas with")
    parser.add_argument("--seed", type=int, default=1, help="of those posts")
    given = parser.parse_args()
    if given.check is not None:
        with one_thread():
            check(given.check, given.seed)
        return
    if not given.draw:
        write(table(given.processes))
    with TABLE.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    save_figure(TABLE.with_suffix(".png"), drawn, rows)


if __name__ == "__main__":
    main()
