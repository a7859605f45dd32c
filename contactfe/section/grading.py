"""How element size varies over a section: fine where stress peaks, growing away from there.

A grading is laid out in a frame of its own, in which the expected contact lies at the origin and
every zone stands for its mirror image as well. ``Frame`` says how that frame lies in the section.
"""

from dataclasses import dataclass, replace
from math import asin, cos, pi, sin

import numpy as np
from numpy.typing import ArrayLike, NDArray

from contactfe.section.outlines import MemberOutline, PlateOutline

ACROSS = 8.0
"""Elements across one half-width in the refined contact zone, at the fine level."""

CANDIDATE_REACH = 3.0
"""Half of the line on which contact is looked for, in half-widths: room for the patch to grow as it
does up to several times the load."""

LEAST_REACH = 1.7
"""The same where the plate, or the line of a section drawn elsewhere, has room for no more."""

BEYOND_MEMBER = 1.15
"""Reach of the plate's line over that of the member's, which must lie inside it."""

FACE_USED = 0.95
"""Reach of the plate's line over the distance of its middle from the nearer edge, at most."""

REFINED_REACH = 1.35
"""Half of the evenly refined zone, in half-widths."""

REFINED_DEPTH = 1.1
"""Depth of the evenly refined zone, in half-widths: past the von Mises peak of a Hertz contact,
which lies 0.70 half-widths deep for ν = 0.3."""

EDGE_REACH = 0.25
"""Half-side of the doubly refined squares at the edges of contact, in half-widths: pressure leaves
the edge like a square root, so evenly sized elements lose accuracy there first."""

FRICTION_REACH = 0.12
"""Half-side of the squares at the edges of contact that friction needs, in half-widths: the stress
along the surface peaks just inside the edge and falls like a square root outside it, and coarser
elements overshoot there by a percent or two."""

AT_FRICTION = 6.0
"""Elements in these squares for one in the contact zone."""

AS_YIELDING = 2.0
"""Size of elements where steel may yield, over that in the contact zone. With four times that size
the depth of the plastic zone moved by 2 %, dents by 1 %, at three times the load at first yield."""

GROWTH = 0.2
"""Growth of element size per unit of distance from a refined zone."""

THROUGH_WALL = 4.0
"""Elements through the wall of a tube, or a plate, at the fine level."""

AT_BORE = 10.0
"""Elements per wall, or per bore radius if that is less, at the bore under the load line and at the
side, where ring bending peaks."""

AT_CENTRE = 16.0
"""Elements per radius at the centre of a solid, where its stress is held against the exact one, and
per bore radius at the centre of an infill."""

THROUGH_INFILL = 8.0
"""Elements per bore radius in an infill, away from the bore and the centre, at the fine level."""

NEAR_CONTACT = 4.0
"""Distance from the middle of a patch, in half-widths, up to which a focus belongs to contact."""

FOCUS_FINER = 2.0
"""How much finer a focus away from contact is meshed than its place would be without it."""

FOCUS_ELEMENTS = 4.0
"""Half-side of the square about a focus away from contact, in elements of that size."""

MOST_OFF_CENTRE = 0.5
"""Farthest that the middle of a patch may lie off the first point of contact, in radii."""

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Patch:
    """A contact patch as it is expected: its half-width and where its middle lies, both in mm.

    ``centre`` is measured along the plate from the first point of contact, towards +x, and is small
    beside the member's radius. ``friction`` says that it acts along the contact, for which its
    edges need finer elements; so do the ``borders`` between sticking and slipping parts, measured
    as the centre is. Contact is looked for up to ``reach`` half-widths from the middle. Steel that
    yields has elements ``AS_YIELDING`` times as large as the contact zone's at most down to
    ``yields`` half-widths, and as far aside; on a plate, whose line goes on as far, ``later``
    half-widths further, for impacts that come later.
    """

    centre: float
    half_width: float
    friction: bool = False
    borders: tuple[float, ...] = ()
    reach: float = CANDIDATE_REACH
    yields: float = 0.0
    later: float = 0.0


@dataclass(frozen=True)
class ContactLine:
    """Line on which contact is looked for.

    It goes up to ``reach`` (mm, along the plate) on both sides of the middle of the ``patch``.
    """

    patch: Patch
    reach: float


@dataclass(frozen=True)
class Zone:
    """Rectangle of even element ``size`` (mm): x0 ≤ x ≤ x1, y0 ≤ y ≤ y1, with x0 ≥ 0.

    In the frame of its grading; it stands for its mirror image at x ≤ 0 too.
    """

    x0: float
    x1: float
    y0: float
    y1: float
    size: float

    def holds(self, x: float, y: float) -> bool:
        """Whether the point lies in the rectangle or its mirror image."""
        return self.x0 <= abs(x) <= self.x1 and self.y0 <= y <= self.y1

    def distance(self, x: Floats, y: Floats) -> Floats:
        """Distance of points from the rectangle or its mirror image, whichever is nearer, mm."""
        across = np.maximum(np.maximum(self.x0 - np.abs(x), np.abs(x) - self.x1), 0.0)
        along = np.maximum(np.maximum(self.y0 - y, y - self.y1), 0.0)
        return np.asarray(np.hypot(across, along), dtype=np.float64)


@dataclass(frozen=True)
class Core:
    """Disc about (0, ``height``) in which elements grow inwards from its rim, at ``radius``.

    They grow to ``size``; all in mm, in the frame of the grading.
    """

    height: float
    radius: float
    size: float


@dataclass(frozen=True)
class Frame:
    """How the frame of a grading lies in the axes of the section.

    It is turned by ``turn`` (radians, anticlockwise) about (0, ``pivot``), then moved by ``shift``
    (mm) along x.
    """

    turn: float = 0.0
    pivot: float = 0.0
    shift: float = 0.0

    def out(self, x: ArrayLike, y: ArrayLike) -> tuple[Floats, Floats]:
        """Points of this frame in the axes of the section; where the two agree, to the last bit."""
        u, v = _floats(x), _floats(y)
        if self.turn != 0.0:
            u, v = self._turned(u, v, self.turn)
        return u + self.shift, v

    def back(self, x: ArrayLike, y: ArrayLike) -> tuple[Floats, Floats]:
        """Points of the section in this frame: the inverse of ``out``."""
        u, v = _floats(x) - self.shift, _floats(y)
        if self.turn != 0.0:
            u, v = self._turned(u, v, -self.turn)
        return u, v

    def _turned(self, x: Floats, y: Floats, angle: float) -> tuple[Floats, Floats]:
        v = y - self.pivot
        return x * cos(angle) - v * sin(angle), self.pivot + x * sin(angle) + v * cos(angle)


@dataclass(frozen=True)
class Grading:
    """Element sizes over one body, mm: ``far`` away from all ``zones``.

    ``contact`` is the line on which contact with the plate is looked for, ``side`` that of a corner
    with its second plate. ``zones`` and ``core``, an infill that is coarser inside than ``far``,
    lie in ``frame``.
    """

    contact: ContactLine
    far: float
    zones: tuple[Zone, ...]
    frame: Frame
    side: ContactLine | None = None
    core: Core | None = None

    @property
    def half_width(self) -> float:
        """Half-width of the first patch that the grading was made for, mm."""
        return self.contact.patch.half_width

    @property
    def reach(self) -> float:
        """Half of the line on which contact with the first plate is looked for, mm."""
        return self.contact.reach

    @property
    def turn(self) -> float:
        """Angle by which a member's mesh is turned about its centre, radians, anticlockwise."""
        return self.frame.turn

    @property
    def side_angle(self) -> float:
        """Angle from the x axis of ``frame`` to the middle of the side patch, radians.

        Anticlockwise, at the member's centre; 0 where there is no such patch.
        """
        if self.side is None:
            return 0.0
        return asin(self.side.patch.centre / self.frame.pivot) - self.turn

    def refined(self, x: float, y: float) -> bool:
        """Whether a point of the section lies in a refined zone."""
        u, v = self.frame.back(x, y)
        return any(zone.holds(float(u), float(v)) for zone in self.zones)


def size_at(grading: Grading, x: ArrayLike, y: ArrayLike) -> Floats:
    """Element size (mm) that a grading asks for at points of the section, of the shape of ``x``.

    The least of one size per zone, each growing by ``GROWTH`` with distance, and of the size far
    from all of them. The mesher asks for the same.
    """
    u, v = grading.frame.back(x, y)
    size = np.full(np.broadcast(u, v).shape, grading.far)
    core = grading.core
    if core is not None:
        inwards = np.maximum(core.radius - np.hypot(u, v - core.height), 0.0)
        size = np.minimum(grading.far + GROWTH * inwards, core.size)
    for zone in grading.zones:
        size = np.minimum(size, zone.size + GROWTH * zone.distance(u, v))
    return size


def member_grading(
    outline: MemberOutline,
    patch: Patch,
    scale: float = 1.0,
    focus: tuple[tuple[float, float], ...] = (),
    side: Patch | None = None,
) -> Grading:
    """Grading of the member for an expected ``patch`` of contact.

    A round looks the same from all sides: for a patch off x = 0 the grading is turned about the
    centre, until the middle of its contact arc is at x = ``patch.centre``.

    Parameters
    ----------
    outline
        outline of the member
    patch
        patch on the plate below
    scale
        multiplies every element size (2 for a coarse level)
    focus
        points (x, y) of the section, mm, to refine as well, where an earlier solve found peaks
    side
        patch on a second plate, at right angles, whose face is x = radius; its ``centre`` is
        measured along that face from the first point of contact (radius, radius), towards +y

    Raises
    ------
    ValueError
        if a patch lies far off its first point of contact, the two reach each other, or the lower
        half alone is asked to touch a second plate
    """
    a, r, wall = patch.half_width, outline.radius, outline.wall
    far = scale * min(r / 8.0, wall / THROUGH_WALL)
    zones = _contact_zones(patch, 0.0, REFINED_DEPTH * a, scale, far)
    core = None
    if outline.bore_radius > 0.0:
        c = outline.bore_radius
        at_bore = scale * min(wall, c) / AT_BORE
        half = min(wall, c) / 2.0
        zones.append(Zone(0.0, half, wall - half / 2.0, wall + half / 2.0, at_bore))
        zones.append(Zone(c - half / 2.0, c + half / 2.0, r - half, r + half, at_bore))
        if outline.filled:
            zones.append(_centre_zone(r, c, scale))
            core = Core(r, c, max(scale * c / THROUGH_INFILL, far))
    else:
        zones.append(_centre_zone(r, r, scale))
    grading = Grading(
        _member_line(patch, r), far, tuple(zones), Frame(_off_centre(patch, r), r), core=core
    )
    if side is not None:
        grading = _with_side(grading, outline, side, scale)
    return _with_focus(grading, focus, scale)


def plate_grading(
    outline: PlateOutline,
    patch: Patch,
    scale: float = 1.0,
    focus: tuple[tuple[float, float], ...] = (),
) -> Grading:
    """Grading of the plate for an expected ``patch``; ``scale`` and ``focus`` as for the member.

    The candidate line is a little longer than the member's, which must lie inside it.

    Raises
    ------
    ValueError
        if that line does not lie well inside the impacted face
    """
    a, x = patch.half_width, patch.centre
    far = scale * min(outline.thickness / THROUGH_WALL, outline.width / 8.0)
    reach = (BEYOND_MEMBER * patch.reach + patch.later) * a
    room = min(x - outline.left, outline.right - x)
    if reach > FACE_USED * room:
        raise ValueError(
            f"contact must lie well inside the plate's face, from {outline.left:g} to"
            f" {outline.right:g} mm; it is looked for from {x - reach:g} to {x + reach:g} mm"
        )
    zones = _contact_zones(patch, -REFINED_DEPTH * a, 0.0, scale, far, patch.later)
    grading = Grading(ContactLine(patch, reach), far, tuple(zones), Frame(shift=x))
    return _with_focus(grading, focus, scale)


def _floats(values: ArrayLike) -> Floats:
    return np.asarray(values, dtype=np.float64)


def _member_line(patch: Patch, radius: float) -> ContactLine:
    return ContactLine(patch, min(patch.reach * patch.half_width, 0.7 * radius))


def _off_centre(patch: Patch, radius: float) -> float:
    """Angle at the member's centre between the first point of contact and the patch, radians."""
    if abs(patch.centre) > MOST_OFF_CENTRE * radius:
        raise ValueError(
            f"the middle of a patch must lie within {MOST_OFF_CENTRE * radius:g} mm of the first"
            f" point of contact, not at {patch.centre:g} mm"
        )
    return asin(patch.centre / radius)


def _contact_size(a: float, scale: float, far: float) -> float:
    return min(scale * a / ACROSS, far)


def _contact_zones(
    patch: Patch, y0: float, y1: float, scale: float, far: float, later: float = 0.0
) -> list[Zone]:
    a = patch.half_width
    size = _contact_size(a, scale, far)
    zones = [Zone(0.0, REFINED_REACH * a, y0, y1, size)]
    if patch.yields > 0.0:
        times = patch.yields / REFINED_DEPTH
        aside = (patch.yields + later) * a
        zones.append(Zone(0.0, aside, times * y0, times * y1, AS_YIELDING * size))
    # Each zone stands for its mirror image as well: those of both edges are one.
    squares = dict.fromkeys((abs(x), half, finer) for x, half, finer in _squares(patch))
    for x, half, finer in squares:
        zones.append(Zone(max(x - half, 0.0), x + half, -half, half, size / finer))
    return zones


def _squares(patch: Patch) -> list[tuple[float, float, float]]:
    """Squares about the edges of a patch, and where friction changes.

    Of each, where it is from the middle of the patch and its half-side, mm, and how much finer its
    elements are than those of the contact zone.
    """
    a = patch.half_width
    squares = [(x, EDGE_REACH * a, 2.0) for x in (-a, a)]
    if patch.friction:
        squares += [(x, FRICTION_REACH * a, AT_FRICTION) for x in (-a, a)]
    squares += [(x - patch.centre, FRICTION_REACH * a, AT_FRICTION) for x in patch.borders]
    return squares


def _centre_zone(height: float, radius: float, scale: float) -> Zone:
    """Zone about the centre of a round of ``radius``, steel or infill."""
    half = radius / 5.0
    return Zone(0.0, half, height - half, height + half, scale * radius / AT_CENTRE)


def _with_side(grading: Grading, outline: MemberOutline, side: Patch, scale: float) -> Grading:
    """The grading with the zones of a second patch, at the right of the member."""
    if outline.lower_half:
        raise ValueError("the lower half of a member cannot touch a second plate at its side")
    r, a = outline.radius, side.half_width
    _off_centre(side, r)
    grading = replace(grading, side=_member_line(side, r))
    angle = grading.side_angle
    assert grading.side is not None
    below, above = asin(grading.reach / r), asin(grading.side.reach / r)
    if not below - pi / 2.0 < angle - above < angle + above < pi / 2.0:
        raise ValueError(
            "the patches of a corner must not reach each other or the top of the round:"
            f" the second, of half-width {a:g} mm at {side.centre:g} mm, and the first,"
            f" of {grading.half_width:g} mm at {grading.contact.patch.centre:g} mm"
        )
    x, y = r * cos(angle), r + r * sin(angle)
    size, reach = _contact_size(a, scale, grading.far), REFINED_REACH * a
    zones = [Zone(x - REFINED_DEPTH * a, r, y - reach, y + reach, size)]
    for along, half, finer in _squares(side):
        end = y + along
        zones.append(Zone(x - half, x + half, end - half, end + half, size / finer))
    return replace(grading, zones=grading.zones + tuple(zones))


def _with_focus(grading: Grading, focus: tuple[tuple[float, float], ...], scale: float) -> Grading:
    """The grading with a square zone about each point of ``focus``.

    Near contact it is as fine as the contact zone; elsewhere it is finer by ``FOCUS_FINER`` than
    the grading is there without it.
    """
    lines = [(grading.contact, 0.0, 0.0)]
    if grading.side is not None:
        r, angle = grading.frame.pivot, grading.side_angle
        lines.append((grading.side, r * cos(angle), r + r * sin(angle)))
    zones = []
    for point in focus:
        x, y = (float(p) for p in grading.frame.back(*point))
        x = abs(x)
        size = float(size_at(grading, *point)) / FOCUS_FINER
        half = FOCUS_ELEMENTS * size
        for line, at_x, at_y in lines:
            a = line.patch.half_width
            if np.hypot(x - at_x, y - at_y) <= NEAR_CONTACT * a:
                size, half = _contact_size(a, scale, grading.far), EDGE_REACH * a
        zones.append(Zone(max(x - half, 0.0), x + half, y - half, y + half, size))
    return replace(grading, zones=grading.zones + tuple(zones))
