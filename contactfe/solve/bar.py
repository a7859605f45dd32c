"""A post of finite length in three dimensions: its section's modes, with elements along its axis.

The post is clamped at its root, z = 0, and free at its tip. Each mode of its :class:`.Prism` has an
amplitude that runs along z as polynomials from element to element; the energy is least. Loads act
along the contact lines, over a stretch of the post that may lie anywhere on it.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.polynomial import legendre
from scipy.sparse import coo_matrix, csc_matrix, kron
from scipy.sparse.linalg import SuperLU

from contactfe.solve.elastic import Floats
from contactfe.solve.ordering import factored
from contactfe.solve.prism import Prism, PrismPart

DEGREE = 4
"""Of the polynomials along the axis."""

_FIRST, _LONGEST = 0.0625, 0.5
"""Length of the elements at the ends of the contact, and of the longest in it, over the radius.
Away from the contact each is twice as long as the one before."""


@dataclass(frozen=True)
class Bar:
    """A prism of finite length, factored for loads along its contact.

    ``breaks`` (e + 1,) mm from the root are the ends of the elements of the contact, ``z`` (n,)
    their nodes, the ``first`` of which has that number among ``count`` nodes of the whole post.
    ``rooted`` says whether the post carries its loads to the root as a beam; if not, each slice is
    held by what holds the section alone, and there is no beam.
    """

    prism: Prism
    rooted: bool
    breaks: Floats
    z: Floats
    first: int
    count: int
    factor: SuperLU

    def influence(self, z: Floats) -> Floats:
        """Displacement (n, n), mm/N, along the first load by forces spread as hats over ``z`` mm.

        Of each hat's own mean, so that it is symmetric.
        """
        key = z.tobytes()  # a post is pressed many times on the same places
        if key not in self._influences:
            hats = self._hats(z)
            hats = hats / hats.sum(axis=0)
            found = hats.T @ self._given @ hats
            self._influences[key] = (found + found.T) / 2.0
        return self._influences[key]

    @cached_property
    def _influences(self) -> dict[bytes, Floats]:
        return {}

    @cached_property
    def _given(self) -> Floats:
        """Displacement (nodes, nodes) along the first load, mm/N, at the first node by a load
        of the shape function at the second.
        """
        loads = np.zeros((len(self.prism.forces), len(self.z), len(self.z)))
        loads[0] = np.eye(len(self.z))
        work = self._loads[:, 0]
        given: Floats = np.einsum("nip,i->np", self._answers(loads)[:, : len(work)], work)
        return given

    @property
    def _loads(self) -> Floats:
        return self.prism.loads if self.rooted else self.prism.held

    def _answers(self, loads: Floats) -> Floats:
        """Amplitudes (nodes, i + j, k) along the contact under nodal loads (m, nodes, k), N."""
        prism, size = self.prism, len(self.prism.still)
        right = np.zeros((self.count, size, loads.shape[2]))
        along = slice(self.first, self.first + len(self.z))
        right[along, : prism.modes] = np.einsum("im,mnk->nik", self._loads, loads)
        found = np.zeros((self.count * size, loads.shape[2]))
        found[size:] = self.factor.solve(right.reshape(len(found), -1)[size:])
        return found.reshape(right.shape)[along]

    def amplitudes(
        self, z: Floats, line_loads: Floats, at: Floats
    ) -> tuple[Floats, Floats, Floats, Floats]:
        """What line loads (m, n) N/mm, straight between ``z`` (n,) mm, do at places (k,) mm.

        The modes' amplitudes (k, i + j) and their derivatives, the line loads (k, m) there, and the
        bending moment (k, 2) N mm of the loads along x and along y.
        """
        nodal = line_loads @ self._hats(z).T  # (m, nodes)
        along = self._answers(nodal[:, :, None])[:, :, 0]
        value, slope = (of @ along for of in self._shapes(at))
        there = np.stack([np.interp(at, z, q) for q in line_loads], axis=1)
        moment = np.zeros((len(at), 2))
        if self.rooted:
            moment = _moment(z, line_loads, at) @ self.prism.forces
        return value, slope, there, moment

    def _shapes(self, at: Floats) -> tuple[Floats, Floats]:
        """Shape functions (k, n) of the axial nodes at places (k,) mm, and their slopes."""
        last = len(self.breaks) - 2
        element = np.clip(np.searchsorted(self.breaks, at, side="right") - 1, 0, last)
        length = np.diff(self.breaks)[element]
        value, slope = _polynomials(2.0 * (at - self.breaks[element]) / length - 1.0)
        shapes, slopes = (np.zeros((len(at), len(self.z))) for _ in range(2))
        columns = element[:, None] * DEGREE + np.arange(DEGREE + 1)
        np.put_along_axis(shapes, columns, value, axis=1)
        np.put_along_axis(slopes, columns, slope * (2.0 / length)[:, None], axis=1)
        return shapes, slopes

    def _hats(self, z: Floats) -> Floats:
        """Integrals (nodes, n), mm, of the shape functions times the hat at each of ``z``."""
        stops = np.unique(np.concatenate([self.breaks, z]))
        stops = stops[(stops >= z[0]) & (stops <= z[-1])]
        x, w = legendre.leggauss(DEGREE)
        half = np.diff(stops)[:, None] / 2.0
        at = ((stops[:-1, None] + half) + half * x).ravel()
        hats = np.stack([np.interp(at, z, one) for one in np.eye(len(z))], axis=1)
        shapes, _ = self._shapes(at)
        found: Floats = shapes.T @ ((half * w).reshape(-1, 1) * hats)
        return found


def bar(prism: Prism, length: float, start: float, end: float, rooted: bool = True) -> Bar:
    """The post from its root to its tip at ``length`` mm, met from ``start`` to ``end`` mm.

    ``rooted`` is as in :class:`Bar`.

    Raises ValueError where the contact does not lie on it.
    """
    if not -1e-9 * length <= start < end <= length * (1.0 + 1e-9):
        raise ValueError("the contact must lie between root and tip")
    start, end = max(start, 0.0), min(end, length)
    within = _within(prism.radius, start, end)
    before = start - _away(prism.radius, start)[::-1]
    breaks = np.concatenate([before, within, end + _away(prism.radius, length - end)])
    z, mass, slope, stretch = _along(breaks)
    whole = kron(mass, prism.still) + kron(stretch, prism.twice)
    whole = whole + kron(slope, prism.once) + kron(slope.T, prism.once.T)
    size = len(prism.still)
    factor = factored(whole.tocsc()[size:][:, size:])  # the first node is the root
    first = len(before) * DEGREE
    nodes = first + np.arange((len(within) - 1) * DEGREE + 1)
    return Bar(prism, rooted, within, z[nodes], first, len(z), factor)


@dataclass(frozen=True)
class Neighbours:
    """What the neighbours of a slice add to its stress at one place of a bar.

    ``value`` and ``slope`` (i + j,) are the modes' amplitudes, ``line_loads`` (m,) N/mm those of
    the slice, ``moment`` (2,) N mm that of the beam, whose bending is left out.
    """

    prism: Prism
    value: Floats
    slope: Floats
    line_loads: Floats
    moment: Floats

    @cached_property
    def added(self) -> tuple[tuple[PrismPart, Floats], ...]:
        """The stress (n, 6) MPa at the nodes of each part: that of the bar less the slice's."""
        return tuple((part, self.whole(part) - self.slice(part)) for part in self.prism.parts)

    def whole(self, part: PrismPart) -> Floats:
        """Stress (n, 6) MPa of the bar less that of the beam's bending."""
        stress = self.prism.stress(part, self.value, self.slope)
        stress[:, 2] -= self.prism.bent(part, self.moment)
        return stress

    def slice(self, part: PrismPart) -> Floats:
        """Stress (n, 6) MPa of the slice under its own line loads."""
        return self.prism.slice_of(part, self.line_loads)


def neighbours(bar: Bar, z: Floats, line_loads: Floats, at: Floats) -> tuple[Neighbours, ...]:
    """What the neighbours add at places (k,) mm, under line loads (m, n) N/mm along ``z`` mm."""
    each = zip(*bar.amplitudes(z, line_loads, at), strict=True)
    return tuple(Neighbours(bar.prism, *one) for one in each)


def _within(radius: float, start: float, end: float) -> Floats:
    """Ends of the elements along the contact, short at its ends."""
    half = (end - start) / 2.0
    steps, size = [0.0], _FIRST * radius
    while steps[-1] + size < half:
        steps.append(steps[-1] + size)
        size = min(2.0 * size, _LONGEST * radius)
    near = np.array(steps)
    if len(near) > 1 and half - near[-1] < 0.3 * (near[-1] - near[-2]):
        near = near[:-1]
    return np.concatenate([start + near, [start + half], end - near[::-1]])


def _away(radius: float, distance: float) -> Floats:
    """Distances from the contact at which elements end, the last of them ``distance`` mm."""
    if distance <= 0.0:
        return np.empty(0)
    stops, size = [0.0], _FIRST * radius
    while stops[-1] + 1.5 * size < distance:
        stops.append(stops[-1] + size)
        size *= 2.0
    return np.array([*stops[1:], distance])


def _moment(z: Floats, line_loads: Floats, at: Floats) -> Floats:
    """∫ q (ζ − z) dζ over what lies beyond each of the places (k,), of each load: (k, m) N mm."""
    x, w = legendre.leggauss(2)
    moments = np.zeros((len(at), len(line_loads)))
    for k, place in enumerate(at):
        stops = np.unique(np.clip(np.append(z, place), place, max(z[-1], place)))
        half = np.diff(stops)[:, None] / 2.0
        points = (stops[:-1, None] + half + half * x).ravel()
        weights = (half * w).ravel() * (points - place)
        for number, q in enumerate(line_loads):
            moments[k, number] = weights @ np.interp(points, z, q, left=0.0, right=0.0)
    return moments


def _nodes() -> Floats:
    """Gauss–Lobatto nodes of an element on [-1, 1]."""
    inner = legendre.legroots(legendre.legder(np.eye(DEGREE + 1)[DEGREE]))
    return np.concatenate([[-1.0], np.sort(inner.real), [1.0]])


def _polynomials(x: Floats) -> tuple[Floats, Floats]:
    """Shape functions (k, nodes) of an element at x (k,) on [-1, 1], and their slopes."""
    back = np.linalg.inv(legendre.legvander(_nodes(), DEGREE))
    derived = legendre.legder(np.eye(DEGREE + 1), axis=0)
    value = legendre.legvander(x, DEGREE) @ back
    slope = legendre.legvander(x, DEGREE - 1) @ derived @ back
    return value, slope


def _along(breaks: Floats) -> tuple[Floats, csc_matrix, csc_matrix, csc_matrix]:
    """Nodes (n,), and the matrices (n, n) of N N, N′ N and N′ N′ along the axis."""
    x, w = legendre.leggauss(DEGREE + 1)
    value, derived = _polynomials(x)
    length = np.diff(breaks)
    first = np.arange(len(length))[:, None] * DEGREE
    at = first + np.arange(DEGREE + 1)
    z = np.zeros(len(length) * DEGREE + 1)
    z[at] = breaks[:-1, None] + length[:, None] * (_nodes() + 1.0) / 2.0
    rows = np.repeat(at, DEGREE + 1, axis=1).ravel()
    columns = np.tile(at, (1, DEGREE + 1)).ravel()

    def made(local: Floats, scale: Floats) -> csc_matrix:
        data = (scale[:, None, None] * local).ravel()
        return coo_matrix((data, (rows, columns)), (len(z), len(z))).tocsc()

    W = w[:, None]
    return (
        z,
        made(value.T @ (W * value), length / 2.0),
        made(derived.T @ (W * value), np.ones_like(length)),
        made(derived.T @ (W * derived), 2.0 / length),
    )
