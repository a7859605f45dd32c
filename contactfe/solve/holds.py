"""The supports of post and plate, as fixed degrees of freedom and supports."""

from collections.abc import Callable, Mapping

import numpy as np
from skfem import MeshTri2

from contactfe.solve.beam import Materials, across_pattern, shear_patterns
from contactfe.solve.elastic import Floats
from contactfe.solve.fold import fold_of
from contactfe.solve.lines import Ints, group_facets, group_nodes
from contactfe.solve.supports import Hold, Support, edge_support

LEFT, RIGHT = "left edge", "right edge"
"""Groups of the plate's edge faces."""


def beam_shear(mesh: MeshTri2, material: Materials, symmetric: bool = False) -> Hold:
    """A post that cantilevers along its axis: contact is balanced by the change of beam shear.

    Over a slice of unit length the beam shear changes by the line load, spread over the section as
    St-Venant's flexure stress; a contact off the axis is balanced by the like change of torsion.
    Nothing is fixed but the three rigid motions. Of a ``symmetric`` body under like loads only the
    shear along the axis of symmetry, x = 0, is needed.
    """
    patterns: tuple[Floats, ...]
    if symmetric:
        patterns = (across_pattern(mesh, material, fold_of(mesh)),)
    else:
        patterns = shear_patterns(mesh, material)
    supports = tuple(Support("beam shear", load) for load in patterns)
    return Hold(_nothing(), supports, pins=_any_pins(mesh))


def diametral(mesh: MeshTri2) -> Hold:
    """The lower half of a member squeezed between two equal plates: its mid-plane stays plane."""
    return _on_a_plane(mesh, "midplane")


def rigid_core(mesh: MeshTri2, group: str = "bore") -> Hold:
    """A member whose bore, or another group of edges, is bonded to a rigid core."""
    nodes = group_nodes(mesh, group)
    return Hold(np.sort(np.concatenate([2 * nodes, 2 * nodes + 1])), bonded=(group,))


def rigid_base(mesh: MeshTri2) -> Hold:
    """A plate whose back lies on a rigid base that it cannot leave; it may slide.

    Thrust along the plate is answered evenly along its back.
    """
    return _on_a_plane(mesh, "back")


CLAMPED: Mapping[str, tuple[str, ...]] = {
    "simply supported": (),
    "clamped": (LEFT, RIGHT),
    "elastic supports": (),
}
"""The edges that each way of holding a plate by its two edges clamps."""


def edges(mesh: MeshTri2, kind: str, spring: float = np.inf) -> Hold:
    """A plate held along its two edge faces by one of ``CLAMPED``; the span is its whole width.

    The forces of the supports are spread over the faces as in a beam: shear as a parabola, moment
    as a straight line, thrust evenly. Both are held against moving across the plate, by line
    springs of stiffness ``spring`` (N/mm per mm) at each edge where that is finite; a clamped edge
    also against turning and thrust. Where none is clamped, both share the thrust along the plate
    evenly, and the plate may get longer.
    """
    y = mesh.doflocs[1]
    top, back = float(y.max()), float(y.min())
    t, middle = top - back, (top + back) / 2.0

    def shear(x: Floats, y: Floats) -> tuple[Floats, Floats]:
        return np.zeros_like(x), 6.0 * (top - y) * (y - back) / t**3

    def bending(x: Floats, y: Floats) -> tuple[Floats, Floats]:
        return -12.0 * (y - middle) / t**3, np.zeros_like(x)

    def thrust(x: Floats, _: Floats) -> tuple[Floats, Floats]:
        return np.full_like(x, 1.0 / t), np.zeros_like(x)

    def half_thrust(x: Floats, _: Floats) -> tuple[Floats, Floats]:
        return np.full_like(x, 0.5 / t), np.zeros_like(x)

    gives = 0.0 if np.isinf(spring) else 1.0 / spring
    supports = [edge_support(mesh, (edge,), shear, gives) for edge in (LEFT, RIGHT)]
    for edge in CLAMPED[kind]:
        supports += [edge_support(mesh, (edge,), pattern) for pattern in (bending, thrust)]
    if not CLAMPED[kind]:
        supports.append(edge_support(mesh, (LEFT, RIGHT), half_thrust))
    return Hold(_nothing(), tuple(supports), pins=_any_pins(mesh))


def _by(kind: str) -> Callable[[MeshTri2, float], Hold]:
    return lambda mesh, spring: edges(mesh, kind, spring)


POST: Mapping[str, Callable[[MeshTri2, Materials, str, bool], Hold]] = {
    "beam shear": lambda mesh, material, _, symmetric: beam_shear(mesh, material, symmetric),
    "diametral": lambda mesh, *_: diametral(mesh),
    "rigid core": lambda mesh, _, core, __: rigid_core(mesh, core),
}
"""The supports of a post by what it is held by: its mesh, material, the group of its bore, and
whether it is symmetric."""

PLATE: Mapping[str, Callable[[MeshTri2, float], Hold]] = {
    "rigid base": lambda mesh, _: rigid_base(mesh),
    **{kind: _by(kind) for kind in CLAMPED},
}
"""The supports of a plate by what it is held by: its mesh, and the stiffness as of ``edges``."""


def _on_a_plane(mesh: MeshTri2, group: str) -> Hold:
    """Edges that stay in their plane y and answer thrust along it evenly."""
    width = _length(mesh, group)

    def thrust(x: Floats, _: Floats) -> tuple[Floats, Floats]:
        return np.full_like(x, 1.0 / width), np.zeros_like(x)

    nodes = group_nodes(mesh, group)
    along = edge_support(mesh, (group,), thrust)
    return Hold(2 * nodes + 1, (along,), pins=2 * nodes[:1], sliding=(group,))


def _any_pins(mesh: MeshTri2) -> Ints:
    """Three degrees of freedom that stop rigid motion: two nodes far apart, one held both ways."""
    x = mesh.doflocs[0]
    left, right = int(np.argmin(x)), int(np.argmax(x))
    return np.array([2 * left, 2 * left + 1, 2 * right + 1])


def _nothing() -> Ints:
    return np.array([], dtype=np.intp)


def _length(mesh: MeshTri2, group: str) -> float:
    """Length of a straight group of edges along x, without gaps such as a bore, mm."""
    ends = mesh.p[0, mesh.facets[:, group_facets(mesh, group)]]
    return float(np.abs(ends[0] - ends[1]).sum())
