"""The force on the post from what each plate exerts on it: normal loads and friction."""

import math
from functools import partial
from typing import Annotated

from contactfe.hand.formula import formula
from contactfe.hand.quantities import Force, Friction, Length, LineLoad, Moment

_bound = partial(formula, source="statics, with all friction at work: a bound")


@formula("force normal to the plate", "F", source="statics")
def normal_force(line_load: LineLoad, contact_length: Annotated[Length, "ℓ"]) -> Force:
    """Force of a line load that is even over the contact length.

    >>> print(normal_force(1500.0, 300.0))
    450000.0
    """
    return line_load * contact_length


@_bound("force on the post", "V")
def sliding_force(force: Force, friction: Friction) -> Force:
    """Greatest force that a plate exerts with a normal force, as less friction may be at work.

    >>> print(sliding_force(300e3, 0.2))
    305941.2
    """
    return force * math.sqrt(1 + friction**2)


@_bound("force on the post in the corner", "V")
def corner_force(
    force_1: Annotated[Force, "F1"], force_2: Annotated[Force, "F2"], friction: Friction
) -> Force:
    """Greatest force of two plates at right angles, by their normal forces.

    The friction force of each plate acts along the normal of the other; at the most it adds to
    that one's force.

    >>> print(corner_force(300e3, 400e3, 0.0))
    500000.0
    """
    return math.sqrt((force_1 + friction * force_2) ** 2 + (force_2 + friction * force_1) ** 2)


@_bound("torque of friction about the axis of the post", "T")
def friction_torque(force: Force, friction: Friction, radius: Length) -> Moment:
    """Greatest torque by which friction twists a post, by the sum of the normal forces.

    >>> print(friction_torque(300e3, 0.3, 75.0))
    6750000.0
    """
    return friction * force * radius
