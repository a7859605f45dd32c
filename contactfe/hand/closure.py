"""How fast the floor moves when the gap closes, if its motion is harmonic.

Damping of the isolation is viscous here, of a ratio ζ of its critical: the floor vibrates free and
would come to rest at the displacement that it has without the stop. What damping takes between the
gap and there has to be there as the gap closes, so at a stated displacement it raises the velocity
at closure. Bearings that dissipate otherwise are taken by their equivalent ratio at that
displacement.
"""

import math
from functools import partial
from typing import Annotated

from scipy.optimize import brentq

from contactfe.hand import check
from contactfe.hand.formula import at_most, formula, limited, shown
from contactfe.hand.quantities import (
    UNCHECKED,
    Energy,
    Frequency,
    Length,
    Number,
    Stiffness,
    Time,
    Velocity,
)

_harmonic = partial(
    formula,
    source="harmonic motion",
    symbols={
        "period": "T", "frequency": "ω", "amplitude": "u0", "gap": "g", "stiffness": "k",
    },
)  # fmt: skip

_FREE = (
    "free vibration of a viscously damped mass, run back from rest: any text on structural"
    " dynamics, from memory, not seen; derived here"
)
_PHI = "φ = ωd·t from the gap to rest, of cos φ − ζ/√(1 − ζ²)·sin φ = g/u0·exp(−ζ·φ/√(1 − ζ²))"

LARGEST_FIRST_ORDER = 0.1
"""Damping ratio up to which what damping takes is that of the undamped motion, to 9 % of it and 3 %
of the energy at closure: a choice made here."""

DampingRatio = Annotated[Number, check.damping_ratio, "ζ"]
"""Of the isolation, from 0 to below 1: beyond it nothing swings."""

Gap = Annotated[Length, UNCHECKED]


@_harmonic("circular frequency", "ω")
def circular_frequency(period: Time) -> Frequency:
    """Circular frequency of a period.

    >>> print(circular_frequency(3.0))
    2.094395
    """
    return 2 * math.pi / period


@_harmonic("velocity at which the gap closes", "v")
def closure_velocity(frequency: Frequency, amplitude: Length, gap: Gap) -> Velocity:
    """Velocity at which harmonic motion closes the gap.

    The amplitude is what the floor would reach without the stop. The velocity falls to zero as the
    gap nears it, where a little more of amplitude gives much more of velocity. A floor in an
    earthquake may be faster. Raises ValueError for a gap not in [0, amplitude].

    >>> print(closure_velocity(circular_frequency(3.0), 450.0, 300.0))
    702.48
    """
    _closes(amplitude, gap)
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


@_harmonic("velocity at which the gap closes, isolation damped", "v", source=_FREE, note=_PHI)
def damped_closure_velocity(
    frequency: Frequency, amplitude: Length, gap: Gap, damping: DampingRatio
) -> Velocity:
    """Velocity at which free damped vibration that comes to rest at ``amplitude`` closes the gap.

    More than without damping: what that takes on the way has to be there at the gap. Raises
    ValueError for a gap not in [0, amplitude].

    >>> print(damped_closure_velocity(circular_frequency(3.0), 450.0, 300.0, 0.1))
    746.557
    """
    phase = shown("phase", _phase(amplitude, gap, damping), "φ")
    grown = math.exp(damping * phase / math.sqrt(1 - damping**2))
    return amplitude * frequency / math.sqrt(1 - damping**2) * grown * math.sin(phase)


@_harmonic("energy that isolation damping takes from the gap to rest", "Ed", source=_FREE,
           note=f"I = ∫ exp(2·ζ·θ/√(1 − ζ²))·sin²θ dθ from 0 to φ; {_PHI}")  # fmt: skip
def damping_energy(
    stiffness: Stiffness, amplitude: Length, gap: Gap, damping: DampingRatio
) -> Energy:
    """What viscous damping takes between the gap and rest at ``amplitude``.

    Raises ValueError for a gap not in [0, amplitude].

    >>> print(damping_energy(8.7730e3, 450.0, 300.0, 0.1) / 1e6)
    63.8677
    """
    integral = shown("integral", _grown_sine(_phase(amplitude, gap, damping), damping), "I")
    return 2 * damping * stiffness * amplitude**2 * integral / math.sqrt(1 - damping**2) ** 3


@_harmonic("energy that isolation damping takes, to first order", "Ed",
           source="dashpot on undamped harmonic motion, derived here")  # fmt: skip
def damping_energy_first_order(
    stiffness: Stiffness, amplitude: Length, gap: Gap, damping: DampingRatio
) -> Energy:
    """The same where damping is small: its force at the velocity that the motion has without it.

    A little less than :func:`damping_energy`. Raises ValueError for a gap not in [0, amplitude].

    >>> print(damping_energy_first_order(8.7730e3, 450.0, 300.0, 0.1) / 1e6)
    61.142
    """
    _closes(amplitude, gap)
    limited(at_most("ζ", damping, LARGEST_FIRST_ORDER))
    share = amplitude**2 * math.acos(gap / amplitude) - gap * math.sqrt(amplitude**2 - gap**2)
    return damping * stiffness * share


@_harmonic("kinetic energy at closure, isolation damped", "½·M·v²", source="balance of energy")
def closure_energy(
    stiffness: Stiffness, amplitude: Length, gap: Gap, taken: Annotated[Energy, "Ed"]
) -> Energy:
    """What the springs of the isolation take from the gap to rest, and what its damping does.

    >>> print(closure_energy(8.7730e3, 450.0, 300.0, 63.8677e6) / 1e6)
    557.348
    """
    _closes(amplitude, gap)
    return stiffness * (amplitude**2 - gap**2) / 2 + taken


def _closes(amplitude: float, gap: float) -> None:
    if not 0 <= gap <= amplitude:
        raise ValueError(
            f"gap = {gap!r} is not allowed: it must lie in [0, amplitude = {amplitude!r}], or it "
            "never closes"
        )


def _phase(amplitude: float, gap: float, damping: float) -> float:
    """Angle ωd t, rad, from the gap to rest of free damped vibration."""
    _closes(amplitude, gap)
    if gap == amplitude:
        return 0.0
    slope = damping / math.sqrt(1 - damping**2)

    def beyond(phase: float) -> float:
        back = math.cos(phase) - slope * math.sin(phase)
        return back - gap / amplitude * math.exp(-slope * phase)

    # Run back from rest it falls all the way to the other side, half a swing before.
    return float(brentq(beyond, 0.0, math.pi, xtol=1e-15, rtol=1e-14))


def _grown_sine(phase: float, damping: float) -> float:
    """The integral of exp(2 a θ) sin²θ from 0 to a phase, with a = ζ/√(1 − ζ²)."""
    a = damping / math.sqrt(1 - damping**2)
    if a < 1e-8:  # below which the difference of the two terms has no digits left
        return phase / 2 - math.sin(2 * phase) / 4
    grown = math.exp(2 * a * phase)
    swinging = grown * (a * math.cos(2 * phase) + math.sin(2 * phase)) - a
    return math.expm1(2 * a * phase) / (4 * a) - swinging / (4 * (a**2 + 1))
