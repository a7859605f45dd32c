"""The line load at first yield, found on bodies that are already factored."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from contactfe.assess.accuracy import (
    COARSE,
    Levels,
    beside_slice,
    numerical_uncertainty,
    slipping,
)
from contactfe.assess.bodies import Bodies
from contactfe.assess.fit import Patches, fitted, loads_on, suits
from contactfe.assess.level import Level, build
from contactfe.assess.limits import small_displacements, widest_patch
from contactfe.assess.places import Peak
from contactfe.assess.reading import Reading, patches_of, read
from contactfe.assess.value import Value, key_of
from contactfe.case import Case, Material
from contactfe.errors import SolveError

Peaks = Callable[[Reading], tuple[Peak, ...]]

YIELD_TOLERANCE = 5e-4
"""Relative difference of the peak from yield strength at which the search ends."""


@dataclass(frozen=True)
class Yielding:
    """The first line load, N/mm, at which a body yields, and the power by which its peak grows.

    ``times`` is that load over the case's, ``reading`` that of ``level`` at it.
    """

    line_load: float
    power: float
    times: float
    level: Level
    reading: Reading


_MOST_LOADS = 25
_LONGEST_STEP = 1.8


def yield_loads(bodies: Bodies, levels: Levels) -> dict[str, Value]:
    """Line load at first yield of the post and of each plate, by the keys of the values.

    A body has none where that is beyond the range of the model.
    """
    case, section, best = levels.fine.level.case, levels.fine.level.section, levels.fine.reading
    tried: list[tuple[str, Material, Peaks]] = [
        ("post_first_yield", case.post_material(section), lambda r: r.member_peaks)
    ]
    tried += [
        (key_of("plate_first_yield", k), case.plate_material, lambda r, k=k: r.patches[k].peaks)  # type: ignore[misc]
        for k in range(len(best.patches))
    ]
    meshed, found = [levels.fine.level], {}
    for key, steel, peaks in tried:
        yields_at = first_yield(bodies, meshed, best, steel, peaks)
        if yields_at is not None:
            least = beside_slice if key == "post_first_yield" else _no_least
            uncertainty = uncertainty_of(bodies, levels, yields_at, peaks, least)
            if uncertainty is not None:
                found[key] = Value(yields_at.line_load, uncertainty)
    return found


def first_yield(
    bodies: Bodies,
    levels: list[Level],
    reading: Reading,
    steel: Material,
    peaks: Peaks,
) -> Yielding | None:
    """The line load at which a body's peak von Mises stress reaches yield.

    In a corner both line loads grow together, and the first is returned; along a post that bends
    the peak is returned, its ratio to the mean and to the bending of the post taken as they are;
    with friction every load is reached from none. The peak grows like a power of the load, about a
    half for Hertz and one for ring bending, so the secant method in logarithms settles in a few
    steps, each on the factored bodies. None where that load is beyond the range of the model, or
    cannot be solved: the case itself has been.
    """
    first = levels[0]
    times, slope = 1.0, 0.5
    excess = _excess(peaks(reading), steel)
    for _ in range(_MOST_LOADS):
        # A step stays within a factor of the load over which the power hardly changes, and does
        # not take the patch far past the widest one allowed, which only has to be tried.
        step = float(np.clip(-excess / slope, -_LONGEST_STEP, _LONGEST_STEP))
        step = min(step, 2.0 * float(np.log(1.02 * room(first, reading))))
        times *= float(np.exp(step / 2.0)) ** 2
        try:
            level, reading = read_beyond(bodies, levels, reading, times, step, first.scale)
        except (SolveError, ValueError):  # ValueError: a patch off its plate
            return None
        last, excess = excess, _excess(peaks(reading), steel)
        if abs(step) > YIELD_TOLERANCE:  # of a shorter one the difference is noise
            slope = float(np.clip((excess - last) / step, 0.1, 1.5))
        allowed = within(first, reading)
        if abs(excess) < YIELD_TOLERANCE or (excess < 0.0 and not allowed):
            if not allowed:
                return None
            return Yielding(times * first.case.line_loads[0], slope, times, level, reading)
    return None


def _no_least(*_: object) -> float:
    return 0.0


def uncertainty_of(
    bodies: Bodies,
    levels: Levels,
    found: Yielding,
    peaks: Peaks,
    least: Callable[[Case, Reading, float], float] = _no_least,
) -> float | None:
    """Uncertainty of a load at first yield, N/mm: that of the peak there, read on two levels.

    ``least`` MPa is that of the peak in a reading at the least.

    It is another load than the case's, maybe another place of the body, and often another mesh, of
    which the levels at the case's load say little. None where the coarse level cannot be solved.
    """
    level = found.level
    try:
        coarse = (
            levels.coarse.level
            if level is levels.fine.level
            else build(level.case, bodies, level.section, level.patches, COARSE * level.scale)
        )
        other = peaks(read(coarse, found.times))[0].von_mises
    except (SolveError, ValueError):  # ValueError: a patch off its plate
        return None
    peak = peaks(found.reading)[0].von_mises
    uncertainty = numerical_uncertainty(
        peak, other, level.scale, slipping(found.reading), least(level.case, found.reading, peak)
    )
    return found.line_load * (uncertainty / peak + YIELD_TOLERANCE) / found.power


def room(level: Level, reading: Reading) -> float:
    """Least of the widest half-widths allowed over those solved."""
    return min(
        widest_patch(level.case, level.section, number) / patch.half_width
        for number, patch in enumerate(reading.patches)
    )


def within(level: Level, reading: Reading) -> bool:
    """Whether what was read lies within the range of the model."""
    return room(level, reading) >= 1.0 and small_displacements(level.case, level.section, reading)


def read_beyond(
    bodies: Bodies, levels: list[Level], last: Reading, times: float, step: float, scale: float
) -> tuple[Level, Reading]:
    """Read at ``times`` the load, e to the power ``step`` over the last, on a mesh that suits it.

    It is one of ``levels``, or one of that ``scale`` of element size that is added to them.
    """
    first, growth = levels[0], float(np.exp(step / 2.0))
    expected = tuple(
        replace(p, centre=p.centre * growth**2, half_width=p.half_width * growth, borders=())
        for p in patches_of(last)
    )

    def solve(patches: Patches) -> tuple[bool, Patches, tuple[Level, Reading]]:
        fitting = [v for v in levels if suits(v.patches, patches, loads_on(v))]
        if not fitting:
            fitting = [build(first.case, bodies, first.section, patches, scale)]
            levels.extend(fitting)
        reading = read(fitting[-1], times)
        found = patches_of(reading)
        fits = suits(fitting[-1].patches, found, loads_on(fitting[-1]))
        return fits, found, (fitting[-1], reading)

    return fitted(solve, expected)


def _excess(peaks: tuple[Peak, ...], steel: Material) -> float:
    return float(np.log(peaks[0].von_mises / steel.yield_strength))
