"""The ends of a contact along a post: how far they must stand back to bear no more than the rest.

Where a straight post meets a straight plate over a length c, the load ends all at once. An even
line load presses the surface in by less and less towards its ends, for there is load on one side of
them only, while a straight post asks for the same everywhere: so its ends bear more, and at a sharp
edge the elastic pressure has no bound. An even load needs a profile that stands back as the surface
does. Under Hertz's pressure across the contact a half-space gives way, at s from the middle, by

    w(s) = q/(πE*) (ln((c² − 4s²)/a²) + 2 ln 2 + 1),    w(c/2) = q/(πE*) (ln(c/a) + 2 ln 2 + ½),

the first away from the ends and the second at them: 1/(πE*) of the integral of p/r, with ln x over
the ellipse in the mean ln(a/2) − ½. So the drop w(0) − w(s) is the logarithm of 1/(1 − (2s/c)²),
and at the end ln(c/a) + ½. The profile joins the two; its constant 1/(2√e) = 0.30327 is the 0.3033
of the sources.

Both bodies are half-spaces, as long as the contact and more. Where they are not as deep as it is
long, less is enough (:func:`depth_limit`): about half of the approach of a solid at most
(:mod:`.approach_pair`), for with load on one side only the end of a long contact has half of it. An
end on the edge of one of the bodies, which gives way more there, needs less as well. Too great a
drop never loads the ends; the middle bears a little more.
"""

from functools import partial
from typing import Annotated, Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.formula import Limit, at_least, at_most, formula, limited
from contactfe.hand.quantities import ANY, Lengths, LineLoads, Quantity, Stresses

SHORTEST = 10.0
"""Contact length over half-width down to which the profile is that of a half-space: within 2.6 % of
the drop at the end, and at the end itself within 0.2 % (measured against the integral)."""

DEEPEST = 2.0
"""Contact length over the depth of a body up to which that is a half-space along the contact. A
layer of thickness t on a smooth rigid base needs less than ln(c/a) + ½ by 0.08 at c = t, by 0.38 at
2t and by ln(c/t) − 0.34 from 3t on (Fourier's integral, in the tests); the latter is 1.3 in the 6.2
of c = 300 a = 5t. Its whole thickness counts as the depth of a plate, the radius as that of a
round."""

Positions = Annotated[Any, Quantity("length", ANY)]

_formula = partial(
    formula,
    source="G. Lundberg, Forschung auf dem Gebiete des Ingenieurwesens 10, 1939, with the finite"
    " drop at the end of P. M. Johns and R. Gohar, Tribology International 14, 1981: from memory,"
    " not seen; derived anew here",
    note="of half-spaces: more than enough where the bodies are not as deep as the contact is long",
    symbols={"contact_length": "c", "position": "s"},
)


@_formula("drop of the profile that bears an even load", "δ")
def profile_drop(
    line_load: LineLoads,
    half_width: Lengths,
    E_star: Stresses,
    contact_length: Lengths,
    position: Positions,
) -> Lengths:
    """How far the surface stands back at ``position`` from the middle of the contact.

    Of both bodies together; one of them may have it all. E* is that of plane strain. Raises
    ValueError for a position beyond the ends.

    >>> print(profile_drop(1000.0, 0.761133, 200e3 / 1.82, 300.0, [0.0, 120.0, 150.0]))
    [0.         0.00295142 0.01876062]
    """
    if np.any(2 * np.abs(position) > contact_length):
        raise ValueError(
            f"position = {position!r} is not allowed: it must lie within half of"
            f" contact_length = {contact_length!r} on either side"
        )
    limited(_long(contact_length, half_width))
    at_end = half_width / (np.exp(1 / 2) * contact_length)
    place = 2 * np.asarray(position) / contact_length
    return line_load / (np.pi * E_star) * np.log(1 / (1 - (1 - at_end) * place**2))


@_formula("drop of the ends that bears an even load", "δ")
def end_drop(
    line_load: LineLoads, half_width: Lengths, E_star: Stresses, contact_length: Lengths
) -> Lengths:
    """How far the surface stands back at the ends of the contact: :func:`profile_drop` there.

    >>> print(end_drop(1000.0, 0.761133, 200e3 / 1.82, 300.0))
    0.0187606
    """
    limited(_long(contact_length, half_width))
    return line_load / (np.pi * E_star) * (np.log(contact_length / half_width) + 1 / 2)


def _long(contact_length: ArrayLike, half_width: ArrayLike) -> Limit:
    return at_least("c/a", np.divide(contact_length, half_width), SHORTEST)


def depth_limit(what: str, contact_length: float, depth: float) -> Limit:
    """How long a contact is beside the depth of a body, both in mm, see :data:`DEEPEST`.

    Raises ValueError for a size that is not positive.
    """
    check.positive(contact_length=contact_length, depth=depth)
    return at_most(what, contact_length / depth, DEEPEST)
