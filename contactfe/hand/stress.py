"""One number out of a plane stress state: von Mises stress, or the greatest shear of any plane.

In plane strain the third principal stress is ν(σx + σy), never zero: leaving it out overstates a
contact stress by more than half.
"""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, State


def plane_poisson(poisson: float, state: State) -> float:
    """Poisson ratio ν' of the plane problem: ν in plane stress, ν/(1 − ν) in plane strain.

    With it both states obey E'εx = σx − ν'σy. Raises ValueError for ν outside [0, 0.5] or an
    unknown state.

    Source: any text on plane elasticity.

    >>> print(plane_poisson(0.3, "plane strain"))
    0.428571
    """
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    return poisson / (1 - poisson) if state == "plane strain" else poisson


def plane_modulus(young: float, poisson: float, state: State) -> float:
    """Modulus E', MPa, of the plane problem: E in plane stress, E/(1 − ν²) in plane strain.

    With it both states obey E'εx = σx − ν'σy. ``young`` E in MPa. Raises ValueError for a modulus
    that is not positive, ν outside [0, 0.5] or an unknown state.

    Source: any text on plane elasticity.

    >>> print(plane_modulus(200e3, 0.3, "plane strain"))
    219780.2
    """
    check.positive(young=young)
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    return young / (1 - poisson**2) if state == "plane strain" else young


def out_of_plane(sx: ArrayLike, sy: ArrayLike, poisson: float, state: State) -> Array:
    """Stress σz across the plane of calculation, MPa: ν(σx + σy) in plane strain, else 0.

    ``sx``, ``sy`` are normal stresses in MPa, tension positive, of any shapes that broadcast.
    Raises ValueError for ν outside [0, 0.5] or an unknown state.

    Source: any text on plane elasticity.

    >>> print(out_of_plane(-100.0, -300.0, 0.3, "plane strain"))
    -120.0
    """
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    total: Array = np.add(sx, sy, dtype=float)
    return (poisson if state == "plane strain" else 0.0) * total


def von_mises(sx: ArrayLike, sy: ArrayLike, txy: ArrayLike, poisson: float, state: State) -> Array:
    """Von Mises stress of a plane state, MPa.

    ``sx``, ``sy``, ``txy`` are σx, σy, τxy in MPa, tension positive, of any shapes that broadcast;
    the result has the broadcast shape. Raises ValueError for ν outside [0, 0.5] or an unknown
    state.

    Source: definition. Written as a sum of squares (derived here), so that nothing cancels:
    σ² = ((1 − 2ν)(σx + σy)/2)² + 3((σx − σy)/2)² + 3τxy², with ν = 0 for plane stress.

    >>> print(von_mises(-836.4, -836.4, 0.0, 0.3, "plane strain"))
    334.56
    """
    centre, radius = _mohr(sx, sy, txy)
    third = out_of_plane(sx, sy, poisson, state)
    result: Array = np.hypot(centre - third, np.sqrt(3) * radius)
    return result


def max_shear(sx: ArrayLike, sy: ArrayLike, txy: ArrayLike, poisson: float, state: State) -> Array:
    """Greatest shear stress on any plane, in or across the plane of calculation, MPa.

    ``sx``, ``sy``, ``txy`` are σx, σy, τxy in MPa, tension positive, of any shapes that broadcast;
    the result has the broadcast shape. Yield after Tresca is at half the yield strength. Raises
    ValueError for ν outside [0, 0.5] or an unknown state.

    Source: definition, half the greatest difference of the three principal stresses.

    >>> print(max_shear(-836.4, -836.4, 0.0, 0.3, "plane strain"))
    167.28
    """
    centre, radius = _mohr(sx, sy, txy)
    third = out_of_plane(sx, sy, poisson, state)
    across: Array = (np.abs(centre - third) + radius) / 2
    return np.maximum(radius, across)


def _mohr(sx: ArrayLike, sy: ArrayLike, txy: ArrayLike) -> tuple[Array, Array]:
    """Centre and radius of Mohr's circle in the plane."""
    centre: Array = np.add(sx, sy, dtype=float) / 2
    radius: Array = np.hypot(np.subtract(sx, sy, dtype=float) / 2, txy)
    return centre, radius
