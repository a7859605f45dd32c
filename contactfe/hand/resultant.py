"""The force on the post from what each plate exerts on it: normal loads and friction."""

from contactfe.hand import check
from contactfe.hand.formula import Dimension, formula

_GIVEN: dict[str, tuple[str, Dimension | None]] = {
    "force": ("F", "force"),
    "force_1": ("F1", "force"),
    "force_2": ("F2", "force"),
    "line_load": ("q", "line load"),
    "contact_length": ("ℓ", "length"),
    "radius": ("R", "length"),
}


@formula(
    name="force normal to the plate",
    symbol="F",
    form="{line_load}·{contact_length}",
    dimension="force",
    given=_GIVEN,
    source="statics",
)
def normal_force(line_load: float, contact_length: float) -> float:
    """Force F = qℓ, N, of a line load q in N/mm that is even over the contact length ℓ in mm.

    Raises ValueError for a negative load or a length that is not positive. Source: statics.

    >>> print(normal_force(1500.0, 300.0))
    450000.0
    """
    check.not_negative(line_load=line_load)
    check.positive(contact_length=contact_length)
    return line_load * contact_length


@formula(
    name="force on the post",
    symbol="V",
    form="{force}·√(1 + {friction}²)",
    dimension="force",
    given=_GIVEN,
    source="statics, with all friction at work: a bound",
)
def sliding_force(force: float, friction: float) -> float:
    """Greatest force F√(1 + µ²), N, that a plate exerts with a normal force F, N, and friction µ.

    Raises ValueError for a negative force or friction. Source: Coulomb's law; a bound, as less
    friction may be at work.

    >>> print(sliding_force(300e3, 0.2))
    305941.2
    """
    check.not_negative(force=force, friction=friction)
    return force * float((1 + friction**2) ** 0.5)


@formula(
    name="force on the post in the corner",
    symbol="V",
    form="√(({force_1} + {friction}·{force_2})² + ({force_2} + {friction}·{force_1})²)",
    dimension="force",
    given=_GIVEN,
    source="statics, with all friction at work: a bound",
)
def corner_force(force_1: float, force_2: float, friction: float) -> float:
    """Greatest force, N, of two plates at right angles with normal forces F1 and F2, N.

    The friction force of each plate acts along the normal of the other; at the most it adds to
    that one's force. Raises ValueError for a negative force or friction. Source: Coulomb's law; a
    bound.

    >>> print(corner_force(300e3, 400e3, 0.0))
    500000.0
    """
    check.not_negative(force_1=force_1, force_2=force_2, friction=friction)
    along, across = force_1 + friction * force_2, force_2 + friction * force_1
    return float((along**2 + across**2) ** 0.5)


@formula(
    name="torque of friction about the axis of the post",
    symbol="T",
    form="{friction}·{force}·{radius}",
    dimension="moment",
    given=_GIVEN,
    source="statics, with all friction at work: a bound",
)
def friction_torque(force: float, friction: float, radius: float) -> float:
    """Greatest torque µFR, N mm, by which friction twists a post of that radius, mm.

    ``force`` F, N, is the sum of the normal forces. Raises ValueError for a negative force or
    friction, or a radius that is not positive. Source: Coulomb's law; a bound.

    >>> print(friction_torque(300e3, 0.3, 75.0))
    6750000.0
    """
    check.not_negative(force=force, friction=friction)
    check.positive(radius=radius)
    return friction * force * radius
