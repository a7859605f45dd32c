"""Where stress peaks, in words an engineer would use: the zones of a member and of a plate."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve.elastic import Floats
from contactfe.solve.field import Samples

CONTACT = "contact zone"
EDGE = "edge of contact"
BORE_UNDER_LOAD = "bore under the load line"
BORE_SIDE = "bore at the side"
BORE_TOP = "bore opposite the load"
OUTSIDE = "outside, away from contact"
CORE = "section away from contact"
UNDER_CONTACT = "plate under contact"
PLATE_BACK = "plate back"
PLATE_FACE = "plate face, away from contact"

_NEAR = 4.0
"""Distance from the first point of contact, in half-widths, that still counts as contact."""

_EDGE_FROM = 0.7
"""|x| in half-widths from which a peak counts as being at the edge of contact."""


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


def member_peaks(samples: Samples, outline: MemberOutline, half_width: float) -> tuple[Peak, ...]:
    """The peak of each zone of the member, largest first."""
    r = np.hypot(samples.x, samples.y - outline.radius)
    depth = outline.radius - r
    angle = np.degrees(np.arctan2(np.abs(samples.x), outline.radius - samples.y))
    # Contact reaches to mid-wall at the most, so that a bore close by keeps its own name.
    near = np.hypot(samples.x, samples.y) <= _NEAR * half_width
    outer = depth < outline.wall / 2.0
    zones = {CONTACT: outer & near}
    if outline.bore_radius > 0.0:
        zones |= {
            BORE_UNDER_LOAD: ~outer & (angle < 45.0),
            BORE_SIDE: ~outer & (angle >= 45.0) & (angle <= 135.0),
            BORE_TOP: ~outer & (angle > 135.0),
            OUTSIDE: outer & ~near,
        }
    else:
        zones[CORE] = ~zones[CONTACT]
    return _peaks(samples, depth, zones, half_width)


def plate_peaks(samples: Samples, outline: PlateOutline, half_width: float) -> tuple[Peak, ...]:
    """The peak of each zone of the plate, largest first."""
    depth = -samples.y
    upper = depth < outline.thickness / 2.0
    near = np.hypot(samples.x, samples.y) <= _NEAR * half_width
    zones = {UNDER_CONTACT: upper & near, PLATE_BACK: ~upper, PLATE_FACE: upper & ~near}
    return _peaks(samples, depth, zones, half_width)


def _peaks(
    samples: Samples, depth: Floats, zones: dict[str, NDArray[np.bool_]], half_width: float
) -> tuple[Peak, ...]:
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
        at_edge = zone == CONTACT and abs(x) > _EDGE_FROM * half_width
        # The section is symmetric: name the twin at x >= 0.
        down = abs(max(float(depth[top]), 0.0))
        peaks.append(Peak(value, abs(x), y, EDGE if at_edge else zone, down))
    return tuple(sorted(peaks, key=lambda p: -p.von_mises))
