"""How far the hold of a solid post comes towards its contact, where that is not its middle.

Held by beam shear a slice of the post has no fixed point: it is carried by shear spread over the
section, and the axis of the post as a beam moves by the mean of the slice's displacement on which
that shear does work. A frame model of the post has its nodes there, so the approach that belongs to
a contact element is that of the mean and not of the middle, which :func:`.approach.solid` has; the
two differ by some half a percent of the approach of post and plate.

Pressed from the opposite side by an equal load, the hold is the plane through the middle, and both
are the same.
"""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import approach
from contactfe.hand.approach import PLANE, SOLID_CONSTANT, SOLID_SOURCE, of_one, small_on_one
from contactfe.hand.check import Array, HeldBy, State
from contactfe.hand.formula import Given, formula
from contactfe.hand.stress import plane_modulus, plane_poisson

_NOTE = (
    f"{SOLID_CONSTANT}; diametral H = 0; beam shear"
    " H = 35/96 − ν'/16 + 5·ν'²/288 − s·(1/3 + ν'/18) + s²·(7/144 + ν'/48) with s = 1/(1 + ν);"
    f" {PLANE}"
)
_SOURCE = f"{SOLID_SOURCE}; H: that field's displacement weighted by St-Venant's flexure, likewise"


def hold_constant(poisson: float, held_by: HeldBy, state: State) -> float:
    """H: what the hold of a solid round comes nearer than its middle, times πE'/q."""
    n = plane_poisson(poisson, state)
    approach.solid_constant(poisson, held_by, state)  # refuses an unknown support
    if held_by == "diametral":
        return 0.0
    # The displacement is Flamant's and a polynomial of the fourth degree, and the shear's spread is
    # linear in s: so the mean is a polynomial in both, whose coefficients are these.
    s = 1 / (1 + poisson)
    return (
        35 / 96 - n / 16 + 5 * n**2 / 288 - s * (1 / 3 + n / 18) + s**2 * (7 / 144 + n / 48)
    )  # fmt: skip


def _parts(**given: Any) -> dict[str, Given]:
    body = given["poisson"], given["held_by"], given["state"]
    return {
        **of_one(**given),
        "constant": Given("C", approach.solid_constant(*body)),
        "hold": Given("H", hold_constant(*body)),
    }


@formula(
    name="approach of a solid round's hold to its contact",
    symbol="δ",
    form="{line_load}/(π·{E_plane})·(2·ln(2·{radius}/{half_width}) + {constant} + {hold})",
    dimension="length",
    limits=small_on_one,
    parts=_parts,
    note=_NOTE,
    source=_SOURCE,
)
def solid(
    line_load: ArrayLike,
    radius: ArrayLike,
    half_width: ArrayLike,
    young: float,
    poisson: float,
    held_by: HeldBy,
    state: State,
) -> Array:
    """Approach, mm, of the hold of a solid round to the middle of its contact.

    δ = q/(πE') (2 ln(2R/a) + C + H), with C as in :func:`.approach.solid`. Datum: diametral, the
    plane through the middle, with H = 0; under beam shear the mean of the displacement weighted by
    the shear's spread over the section, with H = 23/288 for ν = 0 and, in plane
    strain, 0.1003 for 0.3. Arguments, errors and range as there.

    Source: as there for C; H derived here: the displacement of the same field, Flamant's and a
    polynomial, weighted by St-Venant's flexure of a solid round. Tested against finite elements.

    >>> print(solid(1000.0, 50.0, 0.761133, 200e3, 0.3, "beam shear", "plane strain"))
    0.013808
    """
    body = (young, poisson, held_by, state)
    middle = approach.solid.plain(line_load, radius, half_width, *body)
    pressed = np.divide(line_load, np.pi * plane_modulus(young, poisson, state))
    both: Array = middle + pressed * hold_constant(poisson, held_by, state)
    return both
