"""How far one body in line contact gives way: the approach of its datum to the contact.

In plane elasticity the displacement of a half-space under a line load grows without end with depth,
as its logarithm. So an approach means nothing without its datum, the point whose movement towards
the contact is meant, and depends on how the body is held. Each formula states both:

- :func:`solid`, the middle of a round, pressed from its far side or held by beam shear;
- :func:`layer`, the base of a plate that lies on a smooth rigid base;
- :func:`strip`, the back of a plate that is held at its edges, right under the load.

All take the half-width a of the contact, that of :func:`.hertz.half_width` for the pair of bodies;
each body then enters by its own modulus and Poisson's ratio, so unlike materials are covered where
there is no friction. E' and ν' are the plane ones: E/(1 − ν²) and ν/(1 − ν) in plane strain, E and
ν in plane stress. An approach is positive where the bodies come nearer.

The bending of a plate and the flattening of a tube as a ring are not in it; they come on top.
"""

from math import log
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import HeldBy, State
from contactfe.hand.formula import Limit, at_least, at_most, formula, limited, shown
from contactfe.hand.hertz import LARGEST_PATCH
from contactfe.hand.quantities import Lengths, LineLoads, Poisson, Stress
from contactfe.hand.stress import plane_modulus, plane_poisson

PlateHeldBy = Literal["rigid base", "edges"]
"""What a plate under the contact lies on: a smooth rigid base, or its edges alone."""

LAYER = 1.68294
"""πE'δ/q less 2 ln(t/a), of a layer on a smooth rigid base, for a much less than t: of
2 ∫ g 2J1(ka/t)/(ka/t) dk/k, k from 0 to ∞, with g = (cosh 2k − 1)/(sinh 2k + 2k)."""

WIDEST_ON_A_LAYER = 0.2
"""Half-width over the thickness of a layer up to which 2 ln(t/a) + 1.68294 stands for the whole
integral: 0.2 % low there, measured against the integral. A strip is two layers of half its
thickness, so its bound is half of it."""

LEAST_REACH = 1.0
"""Distance of the load from the plate's edge, in thicknesses, down to which a plate is as good as
endless: there its approach is 0.7 % more on a rigid base, 0.03 % more on edges free to turn and
1.4 % less between clamped ones (solved by finite elements for t = 160 a)."""

SOLID_SOURCE = (
    "diametral: K. L. Johnson, Contact Mechanics, 1985, section 5.6: from memory, not seen; derived"
    " anew here; beam shear: the exact field of a solid round, derived here"
)
LAYER_SOURCE = "the exact field of an infinite elastic layer, by Fourier transform, derived here"
PLANE = "E' = E/(1 − ν²) and ν' = ν/(1 − ν) in plane strain, E' = E and ν' = ν in plane stress"
SOLID_CONSTANT = (
    "diametral C = 2·ln(2) − 1; beam shear C = −ν' − 3/4 − s + ν'·(5/4 + T − s) with"
    " c = 1 + ν' − 2·(1 − ν)/(1 + ν), s = −c/48 − (5 + 4·ν)/(8·(1 + ν)) and"
    " T = (1 + ν')/8 − c/6 − (3 + 2·ν)/(2·(1 + ν))"
)


def small(half_width: ArrayLike, radius: ArrayLike) -> Limit:
    """That a patch is small beside the round."""
    return at_most("a/R", np.divide(half_width, radius), LARGEST_PATCH)


def narrow(half_width: ArrayLike, thickness: ArrayLike, held_by: PlateHeldBy) -> Limit:
    """That a patch is narrow beside the plate."""
    bound = WIDEST_ON_A_LAYER if held_by == "rigid base" else WIDEST_ON_A_LAYER / 2
    return at_most("a/t", np.divide(half_width, thickness), bound)


def reach_limit(thickness: float, edge_distance: float) -> Limit:
    """How far a plate of that ``thickness``, mm, reaches beyond the load, see :data:`LEAST_REACH`.

    ``edge_distance`` in mm is that of the load from the nearer edge. Raises ValueError for a size
    that is not positive.
    """
    check.positive(thickness=thickness, edge_distance=edge_distance)
    what = "distance of the load from the nearer edge over t"
    return at_least(what, edge_distance / thickness, LEAST_REACH)


def solid_constant(poisson: float, held_by: HeldBy, state: State) -> float:
    """C of 2 ln(2R/a) + C, the approach of a round's middle to its contact times πE'/q.

    The integral of strain along the radius. Diametral: under Hertz pressure, the opposite line load
    and the even tension q/(πR) between them; the terms in ν cancel. Beam shear: of the field of
    :func:`.thick_ring.stress`; −7/48 for ν = 0 and, in plane strain, −0.3227 for 0.3 and −7/12 for
    0.5.
    """
    if held_by == "diametral":
        return 2 * log(2.0) - 1
    # What is left of the field along the radius r = uR when that of a line load on a half-space is
    # taken off, times πR/q: (1 + u)/2 + (cubic in u) in σr, (1 + 3u)/2 + (another) in σθ. The two
    # cubics are those of thick_ring for a bore of 0; s is the integral of the one, T of their sum.
    n = plane_poisson(poisson, state)
    c = 1 + n - 2 * (1 - poisson) / (1 + poisson)
    s = -c / 48 - (5 + 4 * poisson) / (8 * (1 + poisson))
    T = (1 + n) / 8 - c / 6 - (3 + 2 * poisson) / (2 * (1 + poisson))
    return -n - 3 / 4 - s + n * (5 / 4 + T - s)


def plate_constant(held_by: PlateHeldBy) -> float:
    """C of 2 ln(t/a) + C, the approach of a plate's back to the contact times πE'/q."""
    return LAYER if held_by == "rigid base" else LAYER - 2 * log(2.0)


@formula(
    "approach of a solid round's middle to its contact",
    "δ",
    source=SOLID_SOURCE,
    note=f"{SOLID_CONSTANT}; {PLANE}",
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
    """Approach of the middle of a solid round to the middle of its contact.

    Diametral, an equal line load presses from the other side. At the end of its range it is 1.1 %
    low or less (measured against the exact field of a round with this pressure on its rim).

    >>> print(solid(1000.0, 50.0, 0.761133, 200e3, 0.3, "diametral", "plane strain"))
    0.014690
    """
    E_plane = shown("E_plane", plane_modulus(young, poisson, state), "E'", "stress")
    shown("nu_plane", plane_poisson(poisson, state), "ν'")
    constant = shown("constant", solid_constant(poisson, held_by, state), "C")
    limited(small(half_width, radius))
    return line_load / (np.pi * E_plane) * (2 * np.log(2 * radius / half_width) + constant)


@formula("approach of a plate's rigid base to the contact", "δ", source=LAYER_SOURCE, note=PLANE)
def layer(
    line_load: LineLoads,
    thickness: Lengths,
    half_width: Lengths,
    young: Stress,
    poisson: Poisson,
    state: State,
) -> Lengths:
    """Approach of the smooth rigid base under a plate to the middle of the contact above it.

    Away from the edges of the plate, see :func:`reach_limit`.

    >>> print(layer(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.014560
    """
    E_plane = shown("E_plane", plane_modulus(young, poisson, state), "E'", "stress")
    shown("nu_plane", plane_poisson(poisson, state), "ν'")
    limited(narrow(half_width, thickness, "rigid base"))
    return line_load / (np.pi * E_plane) * (2 * np.log(thickness / half_width) + LAYER)


@formula(
    "approach of a plate's back to the contact, held at its edges",
    "δ",
    source=LAYER_SOURCE,
    note=PLANE,
)
def strip(
    line_load: LineLoads,
    thickness: Lengths,
    half_width: Lengths,
    young: Stress,
    poisson: Poisson,
    state: State,
) -> Lengths:
    """Approach of the back of a plate, right under the load, to the middle of the contact.

    How far the back itself goes down is the bending of the plate (:mod:`.strip_deflection`). Half
    the load on the impacted face and half on the back, both towards the middle, squeeze the plate
    as two layers of half the thickness under half the load each; the other halves, both the same
    way, bend it and leave its thickness under the load as it was. Away from the edges, see
    :func:`reach_limit`.

    >>> print(strip(1000.0, 50.0, 0.761133, 200e3, 0.3, "plane strain"))
    0.012552
    """
    E_plane = shown("E_plane", plane_modulus(young, poisson, state), "E'", "stress")
    shown("nu_plane", plane_poisson(poisson, state), "ν'")
    limited(narrow(half_width, thickness, "edges"))
    return line_load / (np.pi * E_plane) * (2 * np.log(thickness / (2 * half_width)) + LAYER)
