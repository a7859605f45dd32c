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
class Impacted:
    """A patch on a body: the axes of its line, its middle along them and its half-width, mm."""

    frame: Frame
    centre: float
    half_width: float

    def local(self, samples: Samples) -> Floats:
        """Distance of samples (2, n) along and normal to the line from the middle of the patch."""
        along, normal = self.frame.local(np.array([samples.x, samples.y]))
        return np.array([along - self.centre, normal])


Zone = tuple[Floats, ...]
"""Functions of the samples, each 0 on a border of the zone and all at least 0 within it."""


def member_peaks(
    samples: Samples,
    outline: MemberOutline,
    impacted: Sequence[Impacted],
    mirrored: bool,
    bore: Floats | None = None,
) -> tuple[Peak, ...]:
    """The peak of each zone of the member's steel, largest first.

    ``impacted`` holds its patches; ``mirrored`` says that the stress is symmetric to x = 0, and
    then the twin at x ≥ 0 is named. ``bore`` (2, n) are points along the bore of a section that is
    no tube: what lies nearer to it than to the outside counts as the bore.
    """
    depth = outline.radius - np.hypot(samples.x, samples.y - outline.radius)
    outer = outline.wall / 2.0 - depth  # a bore close by keeps its own name
    near = [_NEAR * patch.half_width - np.hypot(*patch.local(samples)) for patch in impacted]
    away = tuple(-distance for distance in near)
    zones: dict[str, Zone] = {
        name: (outer, near[k], *away[:k])
        for k, name in enumerate((CONTACT, SECOND_CONTACT)[: len(impacted)])
    }
    if outline.bore_radius > 0.0:
        # From the load line, 0 to 180 at the right and to −180 at the left.
        turn = np.degrees(np.arctan2(samples.x, outline.radius - samples.y))
        angle = np.abs(turn)
        side = (-outer, angle - 45.0, 135.0 - angle)
        zones[BORE_UNDER_LOAD] = (-outer, 45.0 - angle)
        zones[BORE_TOP] = (-outer, angle - 135.0)
        zones[BORE_SIDE] = side if len(impacted) == 1 else (*side, -turn)
        if len(impacted) > 1:
            zones[BORE_UNDER_SECOND] = (*side, turn)
        zones[OUTSIDE] = (outer, *away)
    elif bore is not None:
        from_bore, _ = cKDTree(bore.T).query(np.column_stack([samples.x, samples.y]))
        zones |= {BORE: (*away, depth - from_bore), CORE: (*away, from_bore - depth)}
    else:
        zones[CORE] = away
    return _peaks(samples, depth, zones, impacted, mirrored)


def plate_peaks(
    samples: Samples, outline: PlateOutline, impacted: Impacted, mirrored: bool
) -> tuple[Peak, ...]:
    """The peak of each zone of a plate, in its own axes, largest first."""
    depth = -samples.y
    upper = outline.thickness / 2.0 - depth
    near = _NEAR * impacted.half_width - np.hypot(*impacted.local(samples))
    zones: dict[str, Zone] = {
        UNDER_CONTACT: (upper, near), PLATE_BACK: (-upper,), PLATE_FACE: (upper, -near)
    }  # fmt: skip
    return _peaks(samples, depth, zones, [impacted], mirrored)


def _peaks(
    samples: Samples,
    depth: Floats,
    zones: dict[str, Zone],
    impacted: Sequence[Impacted],
    mirrored: bool,
) -> tuple[Peak, ...]:
    edges = {inside: (edge, k) for k, (edge, inside) in enumerate(EDGES.items())}
    figures = np.array([samples.von_mises, samples.x, samples.y, depth])
    peaks = []
    for zone, borders in zones.items():
        inside = np.logical_and.reduce([border >= 0.0 for border in borders])
        if not inside.any():
            continue
        # About a flat maximum the samples differ by less than the mesh resolves, and the largest
        # of them is nowhere in particular, off the load line even where theory has it on it.
        stress, *_ = of_zone = np.hstack(
            [figures[:, inside], _on_border(samples, figures, borders, inside)]
        )
        value = float(stress.max())
        flat = of_zone[:, stress >= (1.0 - _FLAT) * value]
        top = np.lexsort((-flat[0], np.abs(flat[1])))[0]
        x, y, down = (float(figure) for figure in flat[1:, top])
        name = zone
        if zone in edges:  # whether its peak is at an edge shows only now
            edge, patch = edges[zone][0], impacted[edges[zone][1]]
            along = abs(float(patch.frame.local(np.array([x, y]))[0]) - patch.centre)
            name = edge if along > _EDGE_FROM * patch.half_width else zone
        peaks.append(Peak(value, abs(x) if mirrored else x, y, name, abs(max(down, 0.0))))
    return tuple(sorted(peaks, key=lambda p: -p.von_mises))


def _on_border(
    samples: Samples, figures: Floats, borders: Zone, inside: NDArray[np.bool_]
) -> Floats:
    """Figures where the borders of a zone cut the triangles between samples, and one another.

    A zone that is cut out of a slope peaks on the cut, which passes between samples: the largest of
    those within it falls short by what stress grows from one to the next, and by chance.
    """
    reached = np.all([_any(border >= 0.0, samples.of_element) for border in borders], axis=0)
    cut = np.flatnonzero(reached & _any(~inside, samples.of_element)) * samples.of_element
    each = np.array(samples.triangles, dtype=int).reshape(-1, 3)
    corners = (cut[:, None, None] + each).reshape(-1, 3)
    reached = np.all([(border[corners] >= 0.0).any(axis=1) for border in borders], axis=0)
    corners = corners[reached & ~inside[corners].all(axis=1)].T
    count = len(figures)
    values = np.concatenate([figures, borders])
    at = [values[:, corner] for corner in corners]
    found = []
    for row in range(count, len(values)):
        ends = [_crossing(at[k], at[k - 1], row) for k in range(3)]
        found += ends
        for other in range(row + 1, len(values)):
            found += [_crossing(ends[k], ends[k - 1], other) for k in range(3)]
    points = np.hstack(found)
    rounding = 1e-9 * np.abs(values[count:]).max(axis=1, keepdims=True)
    on_zone: Floats = points[:count, (points[count:] >= -rounding).all(axis=0)]
    return on_zone


def _any(samples: NDArray[np.bool_], of_element: int) -> NDArray[np.bool_]:
    """Whether any of the samples of each element is true."""
    found: NDArray[np.bool_] = np.any(samples.reshape(-1, of_element), axis=1)
    return found


def _crossing(start: Floats, end: Floats, row: int) -> Floats:
    """Values (rows, n) between start and end where those of a row are 0; NaN if nowhere."""
    a, b = start[row], end[row]
    share = np.divide(a, a - b, out=np.full_like(a, np.nan), where=a * b < 0.0)
    between: Floats = start + share * (end - start)
    return between
