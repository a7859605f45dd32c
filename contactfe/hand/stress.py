"""One number out of a plane stress state: the von Mises stress; and the constants of the plane.

In plane strain the third principal stress is ν(σx + σy), never zero: leaving it out overstates a
contact stress by more than half.
"""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, State


def plane_poisson(poisson: float, state: State) -> float:
    """Poisson ratio ν' of the plane problem: ν in plane stress, ν/(1 − ν) in plane strain.

    With it both states obey E'εx = σx − ν'σy (any text on plane elasticity). Raises ValueError for
    ν outside [0, 0.5] or an unknown state.
    """
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    return poisson / (1 - poisson) if state == "plane strain" else poisson


def plane_modulus(young: float, poisson: float, state: State) -> float:
    """Modulus E', MPa, of the plane problem: E in plane stress, E/(1 − ν²) in plane strain.

    ``young`` E in MPa; errors and source as :func:`plane_poisson`, and for E that is not positive.
    """
    check.positive(young=young)
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    return young / (1 - poisson**2) if state == "plane strain" else young


def out_of_plane(sx: ArrayLike, sy: ArrayLike, poisson: float, state: State) -> Array:
    """Stress σz across the plane of calculation, MPa: ν(σx + σy) in plane strain, else 0.

    ``sx``, ``sy`` are normal stresses in MPa, tension positive, of any shapes that broadcast.
    Errors and source as :func:`plane_poisson`.
    """
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    total: Array = np.add(sx, sy, dtype=float)
    return (poisson if state == "plane strain" else 0.0) * total


def von_mises(sx: ArrayLike, sy: ArrayLike, txy: ArrayLike, poisson: float, state: State) -> Array:
    """Von Mises stress of a plane state, MPa.

    ``sx``, ``sy``, ``txy`` are σx, σy, τxy in MPa, tension positive, of any shapes that broadcast,
    as the result is. Errors as :func:`out_of_plane`. By definition; written as a sum of squares
    (derived here), so that nothing cancels.

    >>> print(von_mises(-836.4, -836.4, 0.0, 0.3, "plane strain"))
    334.56
    """
    third = out_of_plane(sx, sy, poisson, state)
    centre = np.add(sx, sy, dtype=float) / 2
    radius = np.hypot(np.subtract(sx, sy, dtype=float) / 2, txy)
    result: Array = np.hypot(centre - third, np.sqrt(3) * radius)
    return result
