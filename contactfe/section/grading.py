"""How element size varies over a section: fine where stress peaks, growing away from there."""

from dataclasses import dataclass

from contactfe.section.outlines import MemberOutline, PlateOutline

ACROSS = 8.0
"""Elements across one half-width in the refined contact zone, at the fine level."""

CANDIDATE_REACH = 1.7
"""Half of the line on which contact is looked for, in half-widths: room for the patch to grow."""

REFINED_REACH = 1.35
"""Half of the evenly refined zone, in half-widths."""

REFINED_DEPTH = 1.1
"""Depth of the evenly refined zone, in half-widths: past the von Mises peak of a Hertz contact,
which lies 0.70 half-widths deep for ν = 0.3."""

EDGE_REACH = 0.25
"""Half-side of the doubly refined squares at the edges of contact, in half-widths: pressure leaves
the edge like a square root, so evenly sized elements lose accuracy there first."""

GROWTH = 0.2
"""Growth of element size per unit of distance from a refined zone."""

THROUGH_WALL = 4.0
"""Elements through the wall of a tube, or a plate, at the fine level."""

AT_BORE = 10.0
"""Elements per wall, or per bore radius if that is less, at the bore under the load line and at the
side, where ring bending peaks."""


AT_CENTRE = 16.0
"""Elements per radius at the centre of a solid, where its stress is held against the exact one."""


@dataclass(frozen=True)
class Zone:
    """Rectangle of even element ``size`` (mm), symmetric to x = 0: x0 ≤ |x| ≤ x1, y0 ≤ y ≤ y1."""

    x0: float
    x1: float
    y0: float
    y1: float
    size: float

    def holds(self, x: float, y: float) -> bool:
        """Whether the point lies in the rectangle or its mirror image."""
        return self.x0 <= abs(x) <= self.x1 and self.y0 <= y <= self.y1


@dataclass(frozen=True)
class Grading:
    """Element sizes over one body, mm: ``far`` away from all ``zones``.

    Contact is looked for over |x| ≤ ``reach``; ``half_width`` is the half-width a that the grading
    was made for.
    """

    half_width: float
    reach: float
    far: float
    zones: tuple[Zone, ...]

    def refined(self, x: float, y: float) -> bool:
        """Whether a point lies in a refined zone."""
        return any(zone.holds(x, y) for zone in self.zones)


def member_grading(
    outline: MemberOutline,
    half_width: float,
    scale: float = 1.0,
    focus: tuple[float, float] | None = None,
) -> Grading:
    """Grading of the member for a patch of ``half_width`` (mm).

    ``scale`` multiplies every element size (2 for a coarse level). ``focus`` is a point (x, y) to
    refine as well, where an earlier solve found the peak.
    """
    a, wall = half_width, outline.wall
    depth = REFINED_DEPTH * a
    far = scale * min(outline.radius / 8.0, wall / THROUGH_WALL)
    zones = _contact_zones(a, 0.0, depth, scale, far)
    if outline.bore_radius > 0.0:
        r, c = outline.radius, outline.bore_radius
        at_bore = scale * min(wall, c) / AT_BORE
        half = min(wall, c) / 2.0
        zones.append(Zone(0.0, half, wall - half / 2.0, wall + half / 2.0, at_bore))
        zones.append(Zone(c - half / 2.0, c + half / 2.0, r - half, r + half, at_bore))
    else:
        r, half = outline.radius, outline.radius / 5.0
        zones.append(Zone(0.0, half, r - half, r + half, scale * r / AT_CENTRE))
    if focus is not None:
        x, y = abs(focus[0]), focus[1]
        near = 0.25 * a
        zones.append(Zone(max(x - near, 0.0), x + near, y - near, y + near, zones[0].size))
    return Grading(a, min(CANDIDATE_REACH * a, 0.7 * outline.radius), far, tuple(zones))


def plate_grading(outline: PlateOutline, half_width: float, scale: float = 1.0) -> Grading:
    """Grading of the plate for a patch of ``half_width`` (mm); ``scale`` as for the member.

    The candidate line is a little longer than the member's, which must lie inside it.
    """
    a = half_width
    far = scale * min(outline.thickness / THROUGH_WALL, outline.width / 8.0)
    zones = _contact_zones(a, -REFINED_DEPTH * a, 0.0, scale, far)
    return Grading(a, min(1.15 * CANDIDATE_REACH * a, 0.45 * outline.width), far, tuple(zones))


def _contact_zones(a: float, y0: float, y1: float, scale: float, far: float) -> list[Zone]:
    size = min(scale * a / ACROSS, far)
    edge = EDGE_REACH * a
    return [
        Zone(0.0, REFINED_REACH * a, y0, y1, size),
        Zone(a - edge, a + edge, -edge, edge, size / 2.0),
    ]
