"""How fast the floor moves when the gap closes, if its motion is harmonic."""

import math
from functools import partial
from typing import Annotated

from contactfe.hand.formula import formula
from contactfe.hand.quantities import UNCHECKED, Frequency, Length, Time, Velocity

_harmonic = partial(
    formula,
    source="harmonic motion",
    symbols={"period": "T", "frequency": "ω", "amplitude": "u0", "gap": "g"},
)


@_harmonic("circular frequency", "ω")
def circular_frequency(period: Time) -> Frequency:
    """Circular frequency of a period.

    >>> print(circular_frequency(3.0))
    2.094395
    """
    return 2 * math.pi / period


@_harmonic("velocity at which the gap closes", "v")
def closure_velocity(
    frequency: Frequency, amplitude: Length, gap: Annotated[Length, UNCHECKED]
) -> Velocity:
    """Velocity at which harmonic motion closes the gap.

    The amplitude is what the floor would reach without the stop. The velocity falls to zero as the
    gap nears it, where a little more of amplitude gives much more of velocity. A floor in an
    earthquake may be faster. Raises ValueError for a gap not in [0, amplitude].

    >>> print(closure_velocity(circular_frequency(3.0), 450.0, 300.0))
    702.48
    """
    if not 0 <= gap <= amplitude:
        raise ValueError(
            f"gap = {gap!r} is not allowed: it must lie in [0, amplitude = {amplitude!r}], or it "
            "never closes"
        )
    return frequency * math.sqrt(amplitude**2 - gap**2)


@_harmonic("pseudo-velocity", "v")
def pseudo_velocity(frequency: Frequency, amplitude: Length) -> Velocity:
    """Greatest velocity of harmonic motion, whatever the gap.

    It is no bound for an earthquake: the relative velocity of long-period, highly damped floors
    exceeds it.

    >>> print(pseudo_velocity(circular_frequency(3.0), 450.0))
    942.48
    """
    return frequency * amplitude
