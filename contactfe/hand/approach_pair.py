"""How far a solid post and its plate come together, and how stiff that contact is.

The sums of what :mod:`.approach` has of each body, with its datum for each: the post's middle, and
the plate's base or, between edges, its back right under the load. Its remarks hold here.
"""

from functools import partial

import numpy as np

from contactfe.hand.approach import (
    LAYER,
    LAYER_SOURCE,
    PLANE,
    SOLID_CONSTANT,
    SOLID_SOURCE,
    PlateHeldBy,
    narrow,
    plate_constant,
    small,
    solid_constant,
)
from contactfe.hand.check import HeldBy, State
from contactfe.hand.formula import formula, limited, shown
from contactfe.hand.quantities import Length, Lengths, LineLoads, LineStiffness, Poisson, Stress
from contactfe.hand.stress import plane_modulus

_SOURCE = f"post, {SOLID_SOURCE}; plate: {LAYER_SOURCE}"

_formula = partial(
    formula,
    note=f"C1 of the post: {SOLID_CONSTANT}, ν and ν' of the post; C2 of the plate: {LAYER} on a"
    f" rigid base, {LAYER} − 2·ln(2) on its edges; {PLANE}",
)


@_formula("approach of a solid post's middle and its plate", "δ", source=_SOURCE)
def post_on_plate(
    line_load: LineLoads,
    radius: Lengths,
    thickness: Lengths,
    half_width: Lengths,
    young_1: Stress,
    poisson_1: Poisson,
    young_2: Stress,
    poisson_2: Poisson,
    post_held_by: HeldBy,
    plate_held_by: PlateHeldBy,
    state: State,
) -> Lengths:
    """Approach of the middle of a solid post, the first body, and its plate, the second.

    >>> steel = (200e3, 0.3, 200e3, 0.3)
    >>> held = ("beam shear", "rigid base", "plane strain")
    >>> print(post_on_plate(1000.0, 50.0, 50.0, 0.761133, *steel, *held))
    0.028222
    """
    E_1 = shown("E_1", plane_modulus(young_1, poisson_1, state), "E1'", "stress")
    E_2 = shown("E_2", plane_modulus(young_2, poisson_2, state), "E2'", "stress")
    constant_1 = shown("constant_1", solid_constant(poisson_1, post_held_by, state), "C1")
    constant_2 = shown("constant_2", plate_constant(plate_held_by), "C2")
    limited(small(half_width, radius), narrow(half_width, thickness, plate_held_by))
    of_post = (2 * np.log(2 * radius / half_width) + constant_1) / E_1
    of_plate = (2 * np.log(thickness / half_width) + constant_2) / E_2
    return line_load / np.pi * (of_post + of_plate)


@_formula(
    "tangent stiffness of a solid post on its plate",
    "kt",
    source=f"{_SOURCE}; the slope of both derived here",
)
def tangent_stiffness(
    radius: Length,
    thickness: Length,
    half_width: Length,
    young_1: Stress,
    poisson_1: Poisson,
    young_2: Stress,
    poisson_2: Poisson,
    post_held_by: HeldBy,
    plate_held_by: PlateHeldBy,
    state: State,
) -> LineStiffness:
    """Slope dq/dδ of :func:`post_on_plate` at the load that makes this half-width.

    As a grows with √q, each 2 ln(…/a) loses 1. It exceeds q/δ by a tenth or so: a line contact is
    much closer to linear than one of spheres.
    """
    E_1 = shown("E_1", plane_modulus(young_1, poisson_1, state), "E1'", "stress")
    E_2 = shown("E_2", plane_modulus(young_2, poisson_2, state), "E2'", "stress")
    constant_1 = shown("constant_1", solid_constant(poisson_1, post_held_by, state), "C1")
    constant_2 = shown("constant_2", plate_constant(plate_held_by), "C2")
    limited(small(half_width, radius), narrow(half_width, thickness, plate_held_by))
    of_post = (2 * np.log(2 * radius / half_width) + constant_1 - 1) / E_1
    of_plate = (2 * np.log(thickness / half_width) + constant_2 - 1) / E_2
    return float(np.pi / (of_post + of_plate))
