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

from typing import get_args

from contactfe.hand import check
from contactfe.hand.formula import Dimension, formula
from contactfe.hand.strip import FROM_EDGES, SHEAR_RATIO, Edges, check_load, from_edges

_COUPLE: dict[str, tuple[str, Dimension | None]] = {
    "couple": ("C", "moment per length"),
    "shear_ratio": ("Φ", None),
}
_DERIVED = "statics of a strip with a couple at the load, derived here"
_CLAMPED = "Timoshenko's beam with a couple at the load and ends that do not turn, derived here"


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
    name="couple of the friction force about the mid-plane",
    symbol="C",
    form="{friction}·{line_load}·{thickness}/2",
    dimension="moment per length",
    source="statics, with all friction at work: a bound",
)
def couple(line_load: float, friction: float, thickness: float) -> float:
    """Couple C = µqt/2, N mm/mm, of the friction force on the impacted face about the mid-plane.

    ``line_load`` q in N/mm, ``thickness`` t in mm. Raises ValueError for a negative load or
    friction, or a thickness that is not positive. Source: statics; a bound, by Coulomb's law.

    >>> print(couple(1000.0, 0.2, 50.0))
    5000.0
    """
    check.not_negative(line_load=line_load, friction=friction)
    check.positive(thickness=thickness)
    return friction * line_load * thickness / 2


@formula(
    name="moment of the couple beside the load, edges free to turn",
    symbol="ΔM",
    form="{couple}·{far}/{span}",
    dimension="moment per length",
    given=_COUPLE,
    parts=from_edges,
    note=FROM_EDGES,
    source=_DERIVED,
)
def supported_moment(couple: float, span: float, offset: float) -> float:
    """Greatest moment ΔM = Ca/L, N mm/mm, that a couple C adds beside the load.

    Just past the load towards the farther edge, at the distance a, when friction acts on the
    plate that way; half of C in the middle. ``couple`` in N mm/mm, ``span`` L and ``offset`` in mm.
    Raises ValueError for a negative couple, a span that is not positive or an offset not between
    the edges. Source: statics, derived here.

    >>> print(supported_moment(5000.0, 400.0, 100.0))
    3750.0
    """
    check.not_negative(couple=couple)
    _, before, after, _ = couple_moments(couple, span, offset, "supported")
    return max(-before, after)


@formula(
    name="moment of the couple beside the load, clamped edges",
    symbol="ΔM",
    form=(
        "{couple}·max("
        "{near}/{span} + 3·{far}·{near}·({far} − {near})/({span}³·(1 + {shear_ratio})),"
        " {far}/{span} − 3·{far}·{near}·({far} − {near})/({span}³·(1 + {shear_ratio})))"
    ),
    dimension="moment per length",
    given=_COUPLE,
    parts=from_edges,
    note=f"{FROM_EDGES}; {SHEAR_RATIO.partition(';')[0]}",
    source=_CLAMPED,
)
def clamped_moment(couple: float, span: float, offset: float, shear_ratio: float) -> float:
    """Greatest moment ΔM, N mm/mm, that a couple C adds beside the load between clamped edges.

    The greater of both sides of the load; half of C in the middle. ``shear_ratio`` Φ is that of
    :func:`.strip.shear_ratio`. Arguments and errors otherwise as in :func:`supported_moment`.
    Source: :func:`couple_moments`.

    >>> print(clamped_moment(5000.0, 400.0, 0.0, 0.0))
    2500.0
    """
    check.not_negative(couple=couple)
    _, before, after, _ = couple_moments(couple, span, offset, "clamped", shear_ratio)
    return max(-before, after)


@formula(
    name="moment of the couple at the nearer clamped edge",
    symbol="ΔMe",
    form="−{couple}·{far}/{span}·abs(1 − 3·{near}/({span}·(1 + {shear_ratio})))",
    dimension="moment per length",
    given=_COUPLE,
    parts=from_edges,
    note=f"{FROM_EDGES}; {SHEAR_RATIO.partition(';')[0]}",
    source=_CLAMPED,
)
def edge_moment(couple: float, span: float, offset: float, shear_ratio: float) -> float:
    """Moment ΔMe, N mm/mm, that a couple C adds at the nearer clamped edge, negative as the other.

    In the direction of the friction force that adds to :func:`.strip.edge_moment`; −C/4 in the
    middle, without shear. Arguments, errors and source as in :func:`clamped_moment`.

    >>> print(edge_moment(5000.0, 400.0, 0.0, 0.0))
    -1250.0
    """
    check.not_negative(couple=couple)
    start, *_, end = couple_moments(couple, span, offset, "clamped", shear_ratio)
    return -abs(end if offset >= 0.0 else start)


@formula(
    name="axial force of the friction force, edges that share it evenly",
    symbol="N",
    form="{friction}·{line_load}/2",
    dimension="line load",
    source="statics, with all friction at work: a bound; edges that share it evenly",
)
def shared_axial_force(line_load: float, friction: float) -> float:
    """Axial force N = µq/2, N/mm, on either side of the load: tension on one, compression beyond.

    Of edges that let the plate draw in and share the friction force evenly. ``line_load`` q in
    N/mm. Raises ValueError for a negative load or friction. Source: statics; a bound, by Coulomb's
    law.

    >>> print(shared_axial_force(1000.0, 0.2))
    100.0
    """
    check.not_negative(line_load=line_load, friction=friction)
    return friction * line_load / 2


@formula(
    name="axial force of the friction force at the nearer clamped edge",
    symbol="N",
    form="{friction}·{line_load}·{far}/{span}",
    dimension="line load",
    parts=from_edges,
    note=FROM_EDGES,
    source="a bar held at both ends, with all friction at work: a bound, derived here",
)
def clamped_axial_force(line_load: float, friction: float, span: float, offset: float) -> float:
    """Axial force N = µqa/L, N/mm, between the load and the nearer of two clamped edges.

    That edge takes the greater share: a is the distance of the load from the other. Arguments and
    errors as in :func:`shared_axial_force` and :func:`supported_moment`. Source: a bar held at both
    ends, derived here.

    >>> print(clamped_axial_force(1000.0, 0.2, 400.0, 100.0))
    150.0
    """
    check.not_negative(friction=friction)
    check_load(line_load, span, offset)
    return friction * line_load * (span / 2 + abs(offset)) / span


@formula(
    name="stress by the friction force",
    symbol="Δσx",
    form="6·{moment}/{thickness}² + {axial_force}/{thickness}",
    dimension="stress",
    given={"moment": ("ΔM", "moment per length"), "axial_force": ("N", "line load")},
    source="beam theory, with couple and axial force of one sign: a bound for either face",
)
def friction_stress(moment: float, axial_force: float, thickness: float) -> float:
    """Stress Δσx = 6ΔM/t² + N/t, MPa, by which the friction force adds to that of bending.

    ``moment`` in N mm/mm and ``axial_force`` in N/mm, both of the sign of the bending moment that
    they add to; ``thickness`` t in mm. In the middle of edges that share the force evenly 2µq/t,
    three quarters of it by the couple. Raises ValueError for a thickness that is not positive.
    Source: beam theory; a bound, see the module.

    >>> print(friction_stress(2500.0, 100.0, 50.0))
    8.0
    """
    check.positive(thickness=thickness)
    return 6 * moment / thickness**2 + axial_force / thickness
