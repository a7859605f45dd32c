"""How fast the floor moves when the gap closes, if its motion is harmonic.

Units are coherent: mm, s and rad/s.
"""

import math

from contactfe.hand import check
from contactfe.hand.formula import Dimension, formula

_SYMBOLS: dict[str, tuple[str, Dimension | None]] = {
    "period": ("T", "time"),
    "frequency": ("ω", "frequency"),
    "amplitude": ("u0", "length"),
    "gap": ("g", "length"),
}

_MOTION = "harmonic motion"


@formula(
    name="circular frequency",
    symbol="ω",
    form="2·π/{period}",
    dimension="frequency",
    given=_SYMBOLS,
    source=_MOTION,
)
def circular_frequency(period: float) -> float:
    """Circular frequency ω, rad/s, of a period T in s: 2π/T.

    Raises ValueError for a period that is not positive. Source: harmonic motion.

    >>> print(circular_frequency(3.0))
    2.094395
    """
    check.positive(period=period)
    return 2 * math.pi / period


@formula(
    name="velocity at which the gap closes",
    symbol="v",
    form="{frequency}·√({amplitude}² − {gap}²)",
    dimension="velocity",
    given=_SYMBOLS,
    source=_MOTION,
)
def closure_velocity(frequency: float, amplitude: float, gap: float) -> float:
    """Velocity v, mm/s, at which harmonic motion closes the gap: ω√(u0² − g²).

    ``frequency`` ω in rad/s, ``amplitude`` u0 that the floor would reach without the stop and
    ``gap`` g in mm. It falls to zero as g nears u0, where a little more of u0 gives much more of
    it. A floor in an earthquake may be faster. Raises ValueError for a frequency or
    amplitude that is not positive, or a gap not in [0, u0].

    Source: harmonic motion.

    >>> print(closure_velocity(circular_frequency(3.0), 450.0, 300.0))
    702.48
    """
    check.positive(frequency=frequency, amplitude=amplitude)
    if not 0 <= gap <= amplitude:
        raise ValueError(
            f"gap = {gap!r} is not allowed: it must lie in [0, amplitude = {amplitude!r}], or it "
            "never closes"
        )
    return frequency * math.sqrt((amplitude - gap) * (amplitude + gap))


@formula(
    name="pseudo-velocity",
    symbol="v",
    form="{frequency}·{amplitude}",
    dimension="velocity",
    given=_SYMBOLS,
    source=_MOTION,
)
def pseudo_velocity(frequency: float, amplitude: float) -> float:
    """Greatest velocity, mm/s, of harmonic motion of amplitude u0: ωu0, whatever the gap.

    It is no bound for an earthquake: the relative velocity of long-period, highly damped floors
    exceeds it. Arguments and errors as in :func:`closure_velocity`. Source: harmonic motion.

    >>> print(pseudo_velocity(circular_frequency(3.0), 450.0))
    942.48
    """
    check.positive(frequency=frequency, amplitude=amplitude)
    return frequency * amplitude
