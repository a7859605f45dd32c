"""How far the hold of a solid post comes towards its contact, where that is not its middle.

Held by beam shear a slice of the post has no fixed point: it is carried by shear spread over the
section, and the axis of the post as a beam moves by the mean of the slice's displacement on which
that shear does work. A frame model of the post has its nodes there, so the approach that belongs to
a contact element is that of the mean and not of the middle, which :func:`.approach.solid` has; the
two differ by some half a percent of the approach of post and plate.

Pressed from the opposite side by an equal load, the hold is the plane through the middle, and both
are the same.
"""

import numpy as np

from contactfe.hand.approach import PLANE, SOLID_CONSTANT, SOLID_SOURCE, small, solid_constant
from contactfe.hand.check import HeldBy, State
from contactfe.hand.formula import formula, limited, shown
from contactfe.hand.quantities import Lengths, LineLoads, Poisson, Stress
from contactfe.hand.stress import plane_modulus, plane_poisson


def hold_constant(poisson: float, held_by: HeldBy, state: State) -> float:
    """H: what the hold of a solid round comes nearer than its middle, times πE'/q.

    23/288 under beam shear for ν = 0 and, in plane strain, 0.1003 for 0.3. The displacement is
    Flamant's and a polynomial of the fourth degree, and the shear's spread, St-Venant's flexure, is
    linear in s = 1/(1 + ν): so the mean is a polynomial in both, whose coefficients these are.
    """
    if held_by == "diametral":
        return 0.0
    n, s = plane_poisson(poisson, state), 1 / (1 + poisson)
    return (
        35 / 96 - n / 16 + 5 * n**2 / 288 - s * (1 / 3 + n / 18) + s**2 * (7 / 144 + n / 48)
    )  # fmt: skip


@formula(
    "approach of a solid round's hold to its contact",
    "δ",
    source=f"{SOLID_SOURCE}; H: that field's displacement weighted by St-Venant's flexure,"
    " likewise",
    note=f"{SOLID_CONSTANT}; diametral H = 0; beam shear"
    " H = 35/96 − ν'/16 + 5·ν'²/288 − s·(1/3 + ν'/18) + s²·(7/144 + ν'/48) with s = 1/(1 + ν);"
    f" {PLANE}",
)
def solid(
    line_load: LineLoads,
    radius: Lengths,
    half_width: Lengths,
    young: Stress,
    poisson: Poisson,
    held_by: HeldBy,
    state: State,
) -> Lengths:
    """Approach of the hold of a solid round to the middle of its contact; tested by elements.

    >>> print(solid(1000.0, 50.0, 0.761133, 200e3, 0.3, "beam shear", "plane strain"))
    0.013808
    """
    E_plane = shown("E_plane", plane_modulus(young, poisson, state), "E'", "stress")
    shown("nu_plane", plane_poisson(poisson, state), "ν'")
    constant = shown("constant", solid_constant(poisson, held_by, state), "C")
    hold = shown("hold", hold_constant(poisson, held_by, state), "H")
    limited(small(half_width, radius))
    return line_load / (np.pi * E_plane) * (2 * np.log(2 * radius / half_width) + constant + hold)
