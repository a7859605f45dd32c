"""Where stress peaks, in words an engineer would use: the zones of a member and of a plate."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve.elastic import Floats
from contactfe.solve.field import Samples
from contactfe.solve.lines import Frame

CONTACT = "contact zone"
EDGE = "edge of contact"
SECOND_CONTACT = "contact zone at the second plate"
SECOND_EDGE = "edge of contact at the second plate"
BORE_UNDER_LOAD = "bore under the load line"
BORE_UNDER_SECOND = "bore under the second load line"
BORE_SIDE = "bore at the side"
BORE_TOP = "bore opposite the load"
OUTSIDE = "outside, away from contact"
BORE = "bore"
CORE = "section away from contact"
UNDER_CONTACT = "plate under contact"
PLATE_BACK = "plate back"
PLATE_FACE = "plate face, away from contact"

EDGES = {EDGE: CONTACT, SECOND_EDGE: SECOND_CONTACT}
"""The contact zone that each edge belongs to."""

_NEAR = 4.0
"""Distance from the first point of contact, in half-widths, that still counts as contact."""

_EDGE_FROM = 0.7
"""Distance from the middle of the patch, in half-widths, from which a peak is at its edge."""


_FLAT = 2e-4
"""Share of a zone's maximum by which a point may fall short of it and still be called its place."""


@dataclass(frozen=True)
class Peak:
    """Largest von Mises stress of a zone, MPa, at (x, y) mm, ``depth`` mm below the surface.

    Where stress is flat about its maximum, the place is that of the flat nearest to the load line.
    """

    von_mises: float
    x: float
    y: float
    zone: str
    depth: float


@dataclass(frozen=True)
class Struck:
    """A patch on a body: the axes of its line, its middle along them and its half-width, mm."""

    frame: Frame
    centre: float
    half_width: float

    def local(self, samples: Samples) -> Floats:
        """Distance of samples (2, n) along and normal to the line from the middle of the patch."""
        along, normal = self.frame.local(np.array([samples.x, samples.y]))
        return np.array([along - self.centre, normal])


Masks = dict[str, NDArray[np.bool_]]


def member_peaks(
    samples: Samples,
    outline: MemberOutline,
    struck: Sequence[Struck],
    mirrored: bool,
    bore: Floats | None = None,
) -> tuple[Peak, ...]:
    """The peak of each zone of the member's steel, largest first.

    ``struck`` holds its patches; ``mirrored`` says that the stress is symmetric to x = 0, and then
    the twin at x ≥ 0 is named. ``bore`` (2, n) are points along the bore of a section that is no
    tube: what lies nearer to it than to the outside counts as the bore.
    """
    r = np.hypot(samples.x, samples.y - outline.radius)
    depth = outline.radius - r
    outer = depth < outline.wall / 2.0  # a bore close by keeps its own name
    zones, contact = _contact_zones(samples, struck, outer)
    if outline.bore_radius > 0.0:
        # From the load line, 0 to 180 at the right and to −180 at the left.
        angle = np.degrees(np.arctan2(samples.x, outline.radius - samples.y))
        side = (np.abs(angle) >= 45.0) & (np.abs(angle) <= 135.0)
        second = side & (angle > 0.0) & (len(struck) > 1)
        zones |= {
            BORE_UNDER_LOAD: ~outer & (np.abs(angle) < 45.0),
            BORE_UNDER_SECOND: ~outer & second,
            BORE_SIDE: ~outer & side & ~second,
            BORE_TOP: ~outer & (np.abs(angle) > 135.0),
            OUTSIDE: outer & ~contact,
        }
    else:
        inner = np.zeros(len(depth), dtype=bool)
        if bore is not None:
            away, _ = cKDTree(bore.T).query(np.column_stack([samples.x, samples.y]))
            inner = ~contact & (away < depth)
        zones |= {BORE: inner, CORE: ~contact & ~inner}
    return _peaks(samples, depth, zones, struck, mirrored)


def plate_peaks(
    samples: Samples, outline: PlateOutline, struck: Struck, mirrored: bool
) -> tuple[Peak, ...]:
    """The peak of each zone of a plate, in its own axes, largest first."""
    depth = -samples.y
    upper = depth < outline.thickness / 2.0
    near = np.hypot(*struck.local(samples)) <= _NEAR * struck.half_width
    zones = {UNDER_CONTACT: upper & near, PLATE_BACK: ~upper, PLATE_FACE: upper & ~near}
    return _peaks(samples, depth, zones, [struck], mirrored)


def _contact_zones(
    samples: Samples, struck: Sequence[Struck], outer: NDArray[np.bool_]
) -> tuple[Masks, NDArray[np.bool_]]:
    """The contact zone of each patch, and all of them together."""
    zones: Masks = {}
    everywhere = np.zeros(len(samples.x), dtype=bool)
    for patch, name in zip(struck, (CONTACT, SECOND_CONTACT), strict=False):
        near = outer & (np.hypot(*patch.local(samples)) <= _NEAR * patch.half_width) & ~everywhere
        everywhere |= near
        zones[name] = near
    return zones, everywhere


def _peaks(
    samples: Samples, depth: Floats, zones: Masks, struck: Sequence[Struck], mirrored: bool
) -> tuple[Peak, ...]:
    edges = {inside: (edge, k) for k, (edge, inside) in enumerate(EDGES.items())}
    peaks = []
    for zone, inside in zones.items():
        index = np.flatnonzero(inside)
        if len(index) == 0:
            continue
        # About a flat maximum the samples differ by less than the mesh blurs them, and the largest
        # of them is nowhere in particular, off the load line even where theory has it on it.
        value = float(samples.von_mises[index].max())
        flat = index[samples.von_mises[index] >= (1.0 - _FLAT) * value]
        top = flat[np.lexsort((-samples.von_mises[flat], np.abs(samples.x[flat])))[0]]
        x, y = float(samples.x[top]), float(samples.y[top])
        down = abs(max(float(depth[top]), 0.0))
        name = zone
        if zone in edges:  # whether its peak is at an edge shows only now
            edge, patch = edges[zone][0], struck[edges[zone][1]]
            along = abs(float(patch.frame.local(np.array([x, y]))[0]) - patch.centre)
            name = edge if along > _EDGE_FROM * patch.half_width else zone
        peaks.append(Peak(value, abs(x) if mirrored else x, y, name, down))
    return tuple(sorted(peaks, key=lambda p: -p.von_mises))
