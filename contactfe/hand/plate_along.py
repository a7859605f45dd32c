"""A plate between supported edges under a load of finite length: how it bends along the post.

A strip of :mod:`.strip` bends across alone, between its edges; along the post it is held straight,
by ν times the moment across. Where the load ends, or is shared unevenly, the plate bends along the
post as well. That is a thin plate, much longer than its span L, under a load q on a line of length
c at the distances a and b from its edges: w = Σ Wn(z) sin(nπx/L), of which each Wn solves
D (d²/dz² − αn²)² Wn = 2q sin(αn a)/L under the load, αn = nπ/L. At the middle of the load

    Mz = (2q/L) Σ sin²(αn a)/αn² [ν (1 − exp(−βn)) + (1 − ν) βn exp(−βn)/2],  βn = αn c/2.

What a load adds to Mz at a point falls with its distance from there, from above zero to below. So
a line load that is nowhere more than q, and nowhere but within c, bends the plate along the post by
no more than an even one of q over the worst length up to c, however it is shared (held against
random loads in the tests). That length is some 1.1 L at ν = 0.3; for a longer load, Mz in its
middle falls to ν times the moment of the strip.

Valid for a plate that goes on by a span or more beyond both ends of the contact; it is thin, so
near a load shorter than its thickness the moment comes out too large.
"""

import math
from typing import Annotated, Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand.check import Array
from contactfe.hand.formula import formula, shown
from contactfe.hand.quantities import Length, MomentPerLength, Poisson, SignedStress, Stress
from contactfe.hand.strip import Offset, check_load

_TERMS, _LENGTHS = 2000, 60
"""Of the series, of which at c = L/100 1e-6 is left, and lengths of the load that are tried."""

_SOURCE = (
    "derived here from D·∇⁴w = q, the equation of S. Timoshenko and S. Woinowsky-Krieger, Theory of"
    " Plates and Shells, 2nd ed.: from memory, not seen"
)


def share_along(length: ArrayLike, span: float, offset: float, poisson: float) -> Array:
    """Mz at the middle of an even load of that ``length``, mm, over q a b/L, the moment across.

    Of any shape, which the result has. It tends to ν where the load is long, and is greatest, 0.34
    at ν = 0.3 in the middle of the span, where it is about as long as the span.
    """
    alpha = math.pi / span * np.arange(1, _TERMS + 1)
    beta = alpha * np.asarray(length, dtype=float)[..., None] / 2.0
    local = np.exp(-beta) * ((1.0 - poisson) * beta / 2.0 - poisson)
    share: Array = poisson + local @ _weight(alpha, span, offset)
    return share


def greatest_share(length: float, span: float, offset: float, poisson: float) -> float:
    """The greatest of :func:`share_along` of the lengths up to that; beyond two spans none is."""
    lengths = min(length, 2.0 * span) * np.arange(1, _LENGTHS + 1) / _LENGTHS
    return float(share_along(lengths, span, offset, poisson).max())


def _weight(alpha: Any, span: float, offset: float) -> Array:
    """Share of each term in the moment across a strip, the sum of all being 1."""
    near, far = span / 2.0 - offset, span / 2.0 + offset
    weight: Array = 2.0 * (np.sin(alpha * near) / alpha) ** 2 / (near * far)
    return weight


@formula(
    "greatest bending moment along the post, edges free to turn",
    "Mz",
    note="κ, by Lévy's series, is the share of Mz in the moment across, in the middle of an even"
    " load over the worst length up to c, that of the contact; the plate goes on by L or more"
    " beyond both its ends",
    source=_SOURCE,
)
def along_moment(
    moment: MomentPerLength,
    length: Annotated[Length, "c"],
    span: Length,
    offset: Offset,
    poisson: Poisson,
) -> MomentPerLength:
    """Bound on the bending moment along the post, of the moment across of the peak line load.

    ``moment`` is that of :func:`.strip.supported_moment`. It stretches the back. Raises ValueError
    for an offset beyond the edges.

    >>> print(along_moment(100e3, 400.0, 400.0, 0.0, 0.3))
    34321.1
    """
    check_load(0.0, span, offset)
    share = shown("share", greatest_share(length, span, offset, poisson), "κ")
    return share * moment


@formula("stress of the back along the post", "σz", source="beam theory")
def along_stress(moment: Annotated[MomentPerLength, "Mz"], thickness: Length) -> SignedStress:
    """Bending stress at the back along the post, tension positive.

    >>> print(along_stress(34321.1, 60.0))
    57.2018
    """
    return 6 * moment / thickness**2


@formula(
    "von Mises stress of the back with both stresses",
    "σvm",
    note="both stretch it; what is less than σz may be there with σx, so it is not less than σx",
    source="yield criterion of von Mises",
)
def von_mises(
    across: Annotated[SignedStress, "σx"], along: Annotated[SignedStress, "σz"]
) -> Stress:
    """Greatest von Mises stress of σx with any stress along from 0 to σz.

    >>> print(von_mises(100.0, 34.0), von_mises(100.0, 120.0))
    100.0 111.355
    """
    return max(across, math.sqrt(across**2 - across * along + along**2))
