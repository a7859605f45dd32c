"""What the friction force does to a bumper plate held along two edges, as a strip of :mod:`.strip`.

Friction at the post acts on the impacted face along the plate, by up to µq. About the mid-plane of
the plate that is a couple of half a thickness times as much, and an axial force that the edges
share: evenly where they let the plate draw in, by their distances where both are clamped. All
is for one millimetre along the post, with all friction at work and in the worse of its two
directions: a bound where the contact sticks. The ranges are those of
:func:`.strip.geometry_limits`.

The figures are those of beam theory beside the load. Right under it the back feels less of both,
and the axial force relieves the back where the couple stretches it; the impacted face, on that
side, is compressed by both. Their sum is therefore a bound for either face.
"""

from functools import partial
from typing import Annotated, get_args

from contactfe.hand import check
from contactfe.hand.formula import formula
from contactfe.hand.quantities import (
    ANY,
    NOT_NEGATIVE,
    Friction,
    Length,
    LineLoad,
    MomentPerLength,
    Stress,
)
from contactfe.hand.strip import (
    FROM_EDGES,
    SHEAR_RATIO,
    Edges,
    Offset,
    ShearRatio,
    check_load,
    from_edges,
)

Couple = Annotated[MomentPerLength, NOT_NEGATIVE, "C"]

_clamped = partial(
    formula,
    note=f"{FROM_EDGES}; {SHEAR_RATIO.partition(';')[0]}",
    source="Timoshenko's beam with a couple at the load and ends that do not turn, derived here",
)


def couple_moments(
    couple: float, span: float, offset: float, edges: Edges, shear_ratio: float = 0.0
) -> tuple[float, float, float, float]:
    """Moments, N mm/mm, of a couple at the load: at the edge −L/2, beside the load, at L/2.

    The second and third are just left and right of the load, where the moment rises by the couple;
    between the four it runs straight. ``couple`` C in N mm/mm is that of friction which acts on
    the impacted face towards +x, and negative if the other way; ``span``, ``offset``, ``edges`` and
    ``shear_ratio`` as in :func:`.strip.reactions`. Raises ValueError as it does.

    Source: statics; clamped, Timoshenko's beam, derived here from no turn and no deflection between
    the edges.

    >>> print(*couple_moments(5000.0, 400.0, 0.0, "clamped"))
    1250.0 -2500.0 2500.0 -1250.0
    """
    check_load(0.0, span, offset)
    check.not_negative(shear_ratio=shear_ratio)
    check.one_of("edges", edges, get_args(Edges))
    left, right = span / 2 + offset, span / 2 - offset
    force, start = -couple / span, 0.0
    if edges == "clamped":
        force *= 6 * left * right / (span**2 * (1 + shear_ratio))
        start = -couple * right / span - force * span / 2
    before = start + force * left
    return start, before, before + couple, start + force * span + couple


@formula(
    "couple of the friction force about the mid-plane",
    "C",
    source="statics, with all friction at work: a bound",
)
def couple(line_load: LineLoad, friction: Friction, thickness: Length) -> MomentPerLength:
    """Couple of the friction force on the impacted face about the mid-plane.

    >>> print(couple(1000.0, 0.2, 50.0))
    5000.0
    """
    return friction * line_load * thickness / 2


@formula(
    "moment of the couple beside the load, edges free to turn",
    "ΔM",
    note=FROM_EDGES,
    source="statics of a strip with a couple at the load, derived here",
)
def supported_moment(couple: Couple, span: Length, offset: Offset) -> MomentPerLength:
    """Greatest moment that the couple adds beside the load.

    Just past the load towards the farther edge, when friction acts on the plate that way; half of
    the couple in the middle.

    >>> print(supported_moment(5000.0, 400.0, 100.0))
    3750.0
    """
    check_load(0.0, span, offset)
    far, _ = from_edges(span, offset)
    return couple * far / span


@_clamped("moment of the couple beside the load, clamped edges", "ΔM")
def clamped_moment(
    couple: Couple, span: Length, offset: Offset, shear_ratio: ShearRatio
) -> MomentPerLength:
    """Greatest moment that the couple adds on either side of the load between clamped edges.

    >>> print(clamped_moment(5000.0, 400.0, 0.0, 0.0))
    2500.0
    """
    check_load(0.0, span, offset)
    far, near = from_edges(span, offset)
    held = 3 * far * near * (far - near) / (span**3 * (1 + shear_ratio))
    return couple * max(near / span + held, far / span - held)


@_clamped("moment of the couple at the nearer clamped edge", "ΔMe")
def edge_moment(
    couple: Couple, span: Length, offset: Offset, shear_ratio: ShearRatio
) -> MomentPerLength:
    """Moment that the couple adds at the nearer clamped edge, negative as the other.

    In the direction of the friction force that adds to :func:`.strip.edge_moment`.

    >>> print(edge_moment(5000.0, 400.0, 0.0, 0.0))
    -1250.0
    """
    check_load(0.0, span, offset)
    far, near = from_edges(span, offset)
    return -couple * far / span * abs(1 - 3 * near / (span * (1 + shear_ratio)))


@formula(
    "axial force of the friction force, edges that share it evenly",
    "N",
    source="statics, with all friction at work: a bound; edges that share it evenly",
)
def shared_axial_force(line_load: LineLoad, friction: Friction) -> LineLoad:
    """Axial force on either side of the load: tension on one, compression beyond.

    Of edges that let the plate draw in and share the friction force evenly.

    >>> print(shared_axial_force(1000.0, 0.2))
    100.0
    """
    return friction * line_load / 2


@formula(
    "axial force of the friction force at the nearer clamped edge",
    "N",
    note=FROM_EDGES,
    source="a bar held at both ends, with all friction at work: a bound, derived here",
)
def clamped_axial_force(
    line_load: LineLoad, friction: Friction, span: Length, offset: Offset
) -> LineLoad:
    """Axial force between the load and the nearer of two clamped edges, which takes more of it.

    >>> print(clamped_axial_force(1000.0, 0.2, 400.0, 100.0))
    150.0
    """
    check_load(line_load, span, offset)
    far, _ = from_edges(span, offset)
    return friction * line_load * far / span


@formula(
    "stress by the friction force",
    "Δσx",
    source="beam theory, with couple and axial force of one sign: a bound for either face",
)
def friction_stress(
    moment: Annotated[MomentPerLength, "ΔM"],
    axial_force: Annotated[LineLoad, ANY, "N"],
    thickness: Length,
) -> Stress:
    """Stress by which the friction force adds to that of bending.

    Moment and axial force have the sign of the bending moment that they add to.

    >>> print(friction_stress(2500.0, 100.0, 50.0))
    8.0
    """
    return 6 * moment / thickness**2 + axial_force / thickness
