"""The line load at first yield, found on bodies that are already factored."""

from collections.abc import Callable

import numpy as np

from contactfe.assess.level import Bodies, Level, Reading, build, read
from contactfe.assess.limits import travels_little, widest_patch
from contactfe.assess.places import Peak
from contactfe.case import Material
from contactfe.errors import SolveError

YIELD_TOLERANCE = 5e-4
"""Relative difference of the peak from yield strength at which the search ends."""

_PATCH_RANGE = (0.55, 1.2)
"""Solved half-width over the one meshed for, outside which a mesh is made anew."""

_MOST_LOADS = 25
_MOST_MESHES = 6
_LONGEST_STEP = 1.8


def first_yield(
    bodies: Bodies,
    levels: list[Level],
    reading: Reading,
    steel: Material,
    peaks: Callable[[Reading], tuple[Peak, ...]],
) -> tuple[float, float] | None:
    """Line load (N/mm) at which a body's peak von Mises stress reaches yield, and its power there.

    The peak grows like a power of the load, about a half for Hertz and one for ring bending, so the
    secant method in logarithms settles in a few steps, each on the factored bodies. None where that
    load is beyond what the model carries, or cannot be solved: the case itself has been.
    """
    section = levels[0].section
    widest = widest_patch(bodies.case, section)
    load, slope = reading.state.line_load, 0.5
    excess = _excess(peaks(reading), steel)
    for _ in range(_MOST_LOADS):
        # A step stays within a factor of the load over which the power hardly changes, and does
        # not take the patch far past the widest one allowed, which only has to be tried.
        step = float(np.clip(-excess / slope, -_LONGEST_STEP, _LONGEST_STEP))
        step = min(step, 2.0 * float(np.log(1.02 * widest / reading.half_width)))
        expected = reading.half_width * np.exp(step / 2.0)
        load *= float(np.exp(step))
        try:
            reading = _read_anew(bodies, levels, load, expected)
        except SolveError:
            return None
        last, excess = excess, _excess(peaks(reading), steel)
        if abs(step) > YIELD_TOLERANCE:  # of a shorter one the difference is noise
            slope = float(np.clip((excess - last) / step, 0.1, 1.5))
        allowed = reading.half_width <= widest and travels_little(section, reading)
        if abs(excess) < YIELD_TOLERANCE or (excess < 0.0 and not allowed):
            return (load, slope) if allowed else None
    return None


def _read_anew(bodies: Bodies, levels: list[Level], load: float, expected: float) -> Reading:
    """Read at another load, on a mesh that suits the patch: of ``levels``, or one added there."""
    low, high = _PATCH_RANGE
    for _ in range(_MOST_MESHES):
        fitting = [v for v in levels if low <= expected / v.grading.half_width <= high]
        if not fitting:
            fitting = [build(bodies, levels[0].section, expected, 1.0)]
            levels.extend(fitting)
        reading = read(fitting[-1], load)
        if low <= reading.half_width / fitting[-1].grading.half_width <= high:
            return reading
        expected = reading.half_width
    raise SolveError(f"no mesh of {_MOST_MESHES} held the contact patch")


def _excess(peaks: tuple[Peak, ...], steel: Material) -> float:
    return float(np.log(peaks[0].von_mises / steel.yield_strength))
