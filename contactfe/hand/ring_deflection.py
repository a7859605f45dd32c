"""How much a tube changes its diameters under a line load, as a thick ring.

Two changes are given: along the load, a shortening and so negative, and across it, a lengthening.
They are those of the mean circle; the dent of the contact itself is not in them.

Under beam shear both are half those under diametral loads. Mirror the tube across its level
diameter and the load is at the other side, with the same changes of diameter; add both and the beam
shears cancel, which leaves diametral loads. That holds for any ring, thick or thin.

The table has R³/I where R²/(h e) stands here, as is right for a curved beam. Both forms follow by
Castigliano's theorem from the energy of one (tested): half the integral over φ of
(M²/e − 2MN + RN²)/(E'h) + FRV²/(Gh).
"""

from functools import partial

import numpy as np

from contactfe.hand import ring
from contactfe.hand.check import HeldBy, State
from contactfe.hand.formula import formula, limited, shown
from contactfe.hand.quantities import Length, LineLoad, Poisson, Stress
from contactfe.hand.stress import plane_modulus

THICKEST = 0.33
"""Wall over mean radius up to which the thick ring keeps within 5 % of the exact change of the
bore's diameter at ν = 0.3; in plane strain at ν = 0.5 it is 10.5 % high there. Measured against
the strains of :func:`.thick_ring.stress` along the bore."""

_formula = partial(
    formula,
    source="W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 case 1: from"
    " memory, not seen; beam shear: half of it, derived here",
    symbols={"radius": "ro"},
    note="R = ro − h/2; c = 1 under diametral loads, 1/2 under beam shear; E' = E in plane stress,"
    f" E/(1 − ν²) in plane strain; {ring.SHIFT_NOTE}; k1 and k2 of a thick ring",
)


def _share(held_by: HeldBy) -> float:
    return 1.0 if held_by == "diametral" else 0.5


def _thick(
    radius: float, wall: float, poisson: float, held_by: HeldBy, state: State
) -> tuple[float, float, float, float, float]:
    """R, e, the share of the load that bends the ring, and the factors of a thick one."""
    limited(ring.wall_limit(radius, wall, THICKEST))
    return (
        shown("mean_radius", radius - wall / 2, "R", "length"),
        shown("shift", ring.neutral_shift.plain(radius, wall), "e", "length"),
        shown("share", _share(held_by), "c"),
        shown("k1", ring.k1(radius, wall, poisson, state), "k1"),
        shown("k2", ring.k2(radius, wall), "k2"),
    )


@_formula("change of diameter along the load, thick ring", "ΔDv")
def change_along(
    line_load: LineLoad,
    radius: Length,
    wall: Length,
    young: Stress,
    poisson: Poisson,
    held_by: HeldBy,
    state: State,
) -> Length:
    """Change of diameter along the load; negative, it shortens.

    Beside the exact change of the bore it is high at ν = 0.3 by 0.3, 1.4, 4, 9, 16 % for walls of
    0.1, 0.2, 0.3, 0.4, 0.5 radius in plane stress, by 0.4, 2, 5, 11, 20 % in plane strain.

    >>> print(change_along(1000.0, 84.15, 20.0, 200e3, 0.3, "diametral", "plane strain"))
    -0.4655
    """
    mean_radius, shift, share, k1, k2 = _thick(radius, wall, poisson, held_by, state)
    young = shown("young", plane_modulus(young, poisson, state), "E'", "stress")
    return 0.0 - share * line_load * mean_radius**2 / (young * wall * shift) * (
        k1 * np.pi / 4 - 2 * k2**2 / np.pi
    )


@_formula("change of diameter across the load, thick ring", "ΔDh")
def change_across(
    line_load: LineLoad,
    radius: Length,
    wall: Length,
    young: Stress,
    poisson: Poisson,
    held_by: HeldBy,
    state: State,
) -> Length:
    """Change of diameter across the load; positive, it lengthens.

    Beside the exact change of the bore it is high at ν = 0.3 by 0.1, 0.6, 1.5, 3, 6 % for walls of
    0.1, 0.2, 0.3, 0.4, 0.5 radius in plane stress, by 0.2, 1, 3, 5, 10 % in plane strain.
    """
    mean_radius, shift, share, k1, k2 = _thick(radius, wall, poisson, held_by, state)
    young = shown("young", plane_modulus(young, poisson, state), "E'", "stress")
    return (
        share * line_load * mean_radius**2 / (young * wall * shift)
        * (k1 / 2 - k2 + 2 * k2**2 / np.pi)
    )  # fmt: skip
