"""The line load at which post or plate first yields, by one or two more reads of a ready level.

The body with its mesh is condensed already, so another load costs a contact solve and the recovery
of stresses. The full search of ``assess.first_yield`` goes on to a twentieth of a percent, for each
body; here the first of the two counts, and the last step is taken without another read.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from contactfe.assess.bodies import Bodies
from contactfe.assess.first_yield import read_beyond, room, within
from contactfe.assess.level import Level
from contactfe.assess.places import BORE_SIDE, BORE_UNDER_LOAD, BORE_UNDER_SECOND
from contactfe.assess.reading import Reading
from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats

NEAR = 0.02
"""Relative distance of the peak from yield strength from which the last step is taken unread. The
power by which the peak grows is known to a tenth by then, which leaves an error of 0.2 %."""

_COARSER = 2.0
"""Element size of a mesh that is made for another load, over that of the level: a patch that is
wider by half needs no more elements across it."""

_MOST_READS = 8
_LONGEST_STEP = 1.8
_BENDS = {BORE_UNDER_LOAD, BORE_UNDER_SECOND, BORE_SIDE}


@dataclass(frozen=True)
class EarlyYield:
    """By how much all loads grow until then, and the body that yields first."""

    factor: float
    body: Literal["post", "plate"]


def early_yield(
    bodies: Bodies, level: Level, reading: Reading, post: float, plate: float, guess: float = 1.0
) -> EarlyYield | None:
    """First yield of post or plate, whose yield strengths are given in MPa.

    ``guess`` is a load to begin with, over that of the case; 1 where nothing is known. All loads
    grow together. None where the load is beyond the range of the model, or cannot be solved.
    """
    limits = np.log([post, plate])
    at = _peaks(reading) - limits
    slopes = np.array([1.0 if reading.member_peaks[0].zone in _BENDS else 0.5, 0.5])
    scale = _COARSER * level.scale
    load, step = 0.0, float(np.log(guess)) or _to_first(at, slopes)
    for _ in range(_MOST_READS):
        step = float(np.clip(step, -_LONGEST_STEP, _LONGEST_STEP))
        step = min(step, 2.0 * float(np.log(1.02 * room(level, reading))))
        if step == 0.0:
            break
        try:
            times = float(np.exp(load + step))
            level, reading = read_beyond(bodies, [level], reading, times, step, scale)
        except (SolveError, ValueError):  # ValueError: a patch off its plate
            return None
        load += step
        now = _peaks(reading) - limits
        if abs(step) > NEAR / 4.0:  # of a shorter one the difference is noise
            slopes = np.clip((now - at) / step, 0.1, 1.5)
        at = now
        allowed = within(level, reading)
        if at.max() < 0.0 and not allowed:
            return None
        step = _to_first(at, slopes)
        if abs(step) * slopes.max() < NEAR:
            if not allowed:
                return None
            break
    first = int(np.argmin(-at / slopes))
    return EarlyYield(float(np.exp(load + step)), "plate" if first else "post")


def _to_first(at: Floats, slopes: Floats) -> float:
    """Step of the logarithm of the load to where the first of the bodies yields."""
    return float((-at / slopes).min())


def _peaks(reading: Reading) -> Floats:
    """Logarithms of the peaks of post and plate."""
    plate = max(patch.peaks[0].von_mises for patch in reading.patches)
    return np.log([reading.member_peaks[0].von_mises, plate])
