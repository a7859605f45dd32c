"""A post along its axis: a cantilever that a straight rigid edge presses over part of its length.

Each slice of the post presses the plate by a law of its own, line load q over approach δ, whatever
its neighbours do (Winkler's assumption), and can part from it. With the post's deflection w(z) away
from the plate, z from the root,

    δ(z) = u0 + tilt·(z − zm) − w(z),  q = law(δ) where δ > 0, else 0,  ∫ q dz = F,

zm being the middle of the contact, at which the force is stated, and w that of Timoshenko's beam
under q, exact for the load at each node by its influence function. The integrals are trapezoidal,
as the influence function has a kink at the load, so errors fall with the square of the spacing.

With p the nodal forces and Φ' = q, the energy ½pᵀGp + Σ w_i Φ(δ_i) − F u0 is convex, so there is
one solution, and Newton's method with a search along its step finds it.
"""

from dataclasses import dataclass

import numpy as np

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats

SLICES = 100
"""Slices of the contact, and again of the part of it that stays in contact. Against 800 the peak of
a post that lifts off over half its contact moved by less than 0.01 %."""

RESIDUAL = 1e-10
"""Largest imbalance of the nodal forces over the force, or the solve is an error."""

_MOST_STEPS = 60
_FEWEST_TOUCHING = 0.8  # share of the slices in contact, below which they are placed anew
_MOST_GRIDS = 8


@dataclass(frozen=True)
class Beam:
    """Stiffness of a post in bending, EI in N mm², and in shear, κGA in N; either may be inf."""

    bending: float
    shear: float


@dataclass(frozen=True)
class Law:
    """Line load of a slice over its approach: (n,) each, ascending, from no load upwards.

    ``approach`` δ in mm, ``line_load`` q in N/mm, ``tangent`` dq/dδ in N/mm/mm. Between the points
    a cubic that has their tangents; below the first the power of δ that has its value and tangent;
    past the last one a straight line on, which is there for the search alone: what is found there
    is for the caller to refuse, by ``most``. Raises ValueError for points that do not ascend.
    """

    approach: Floats
    line_load: Floats
    tangent: Floats

    def __post_init__(self) -> None:
        both = (self.approach, self.line_load)
        if len(self.approach) < 2 or any(x[0] <= 0 or np.any(np.diff(x) <= 0) for x in both):
            raise ValueError("a law needs two points or more, of ascending approach and load")
        if np.any(self.tangent <= 0):
            raise ValueError("the tangents of a law must be positive")

    @property
    def most(self) -> float:
        """The largest line load of the law, N/mm."""
        return float(self.line_load[-1])

    def at(self, approach: Floats) -> tuple[Floats, Floats]:
        """Line load and its slope at approaches of any sign; none where the slice has parted."""
        x, y, t = self.approach, self.line_load, self.tangent
        d = np.asarray(approach, dtype=float)
        k = np.clip(np.searchsorted(x, d) - 1, 0, len(x) - 2)
        h = x[k + 1] - x[k]
        s = (d - x[k]) / h
        secant = (y[k + 1] - y[k]) / h
        a, b = t[k] - secant, t[k + 1] - secant  # what each end is steeper than the chord
        q = y[k] + h * (secant * s + s * (1 - s) * (a * (1 - s) - b * s))
        slope = secant + a * (1 - s) * (1 - 3 * s) - b * s * (2 - 3 * s)
        power = max(1.0, t[0] * x[0] / y[0])
        low = np.maximum(d, 0.0) / x[0]
        q = np.where(d < x[0], y[0] * low**power, q)
        slope = np.where(d < x[0], power * y[0] / x[0] * low ** (power - 1.0), slope)
        q = np.where(d > x[-1], y[-1] + t[-1] * (d - x[-1]), q)
        slope = np.where(d > x[-1], t[-1], slope)
        parted = d <= 0.0
        return np.where(parted, 0.0, q), np.where(parted, 0.0, slope)

    def approach_at(self, line_load: float) -> float:
        """Approach, mm, at a line load, N/mm. Raises ValueError for one that is not positive."""
        if line_load <= 0.0:
            raise ValueError(f"line_load must be positive, not {line_load!r}")
        x, y, t = self.approach, self.line_load, self.tangent
        if line_load <= y[0]:
            return float(x[0] * (line_load / y[0]) ** (1.0 / max(1.0, t[0] * x[0] / y[0])))
        if line_load >= y[-1]:
            return float(x[-1] + (line_load - y[-1]) / t[-1])
        cell = int(np.searchsorted(y, line_load))
        low, high = float(x[cell - 1]), float(x[cell])
        d = low + (high - low) * float((line_load - y[cell - 1]) / (y[cell] - y[cell - 1]))
        for _ in range(_MOST_STEPS):
            q, slope = self.at(np.array(d))
            off = float(q) - line_load
            if abs(off) <= 1e-14 * line_load:
                break
            low, high = (d, high) if off < 0.0 else (low, d)
            d -= off / float(slope)
            if not low <= d <= high:
                d = (low + high) / 2.0
        return d


@dataclass(frozen=True)
class Pressed:
    """A post pressed along its length; (n,) each at ``z`` mm from the root, over the contact.

    ``line_load`` q in N/mm, ``deflection`` w in mm away from the plate, ``slope`` dw/dz in rad, the
    bending ``moment`` in N mm, positive where it stretches the impacted side, ``approach`` δ in mm,
    negative where the post has parted. ``residual`` is the largest imbalance over the force.
    """

    z: Floats
    line_load: Floats
    deflection: Floats
    slope: Floats
    moment: Floats
    approach: Floats
    residual: float

    @property
    def peak(self) -> int:
        """Number of the point with the greatest line load."""
        return int(np.argmax(self.line_load))

    @property
    def force(self) -> float:
        """What the line load adds up to, N."""
        return float(_weights(self.z) @ self.line_load)

    @property
    def lever(self) -> float:
        """Distance from the root to where the force acts, mm."""
        return float(_weights(self.z) @ (self.line_load * self.z)) / self.force

    @property
    def parted(self) -> float:
        """Length over which the post has parted from the plate, mm."""
        gap, z = -self.approach, self.z
        low, high = np.minimum(gap[:-1], gap[1:]), np.maximum(gap[:-1], gap[1:])
        with np.errstate(invalid="ignore", divide="ignore"):
            share = np.where(low >= 0, 1.0, np.where(high <= 0, 0.0, high / (high - low)))
        return float(np.diff(z) @ share)


def influence(beam: Beam, z: Floats, at: Floats) -> Floats:
    """Deflection (n, m), mm/N, of a cantilever at ``z`` (n,) mm by unit forces at ``at`` (m,).

    Source: Timoshenko's beam; bending and shear of the part up to the nearer of the two.
    """
    near = np.minimum(z[:, None], at)
    far = np.maximum(z[:, None], at)
    both: Floats = near**2 * (3.0 * far - near) / (6.0 * beam.bending) + near / beam.shear
    return both


def press(
    beam: Beam,
    law: Law,
    force: float,
    length: float,
    contact_length: float,
    tilt: float = 0.0,
    slices: int = SLICES,
) -> Pressed:
    """Spread a force along a post by its own bending.

    ``force`` in N, ``length`` in mm from the root to the middle of the contact, ``contact_length``
    in mm, at most twice that, ``tilt`` in rad of the plate's face to the unbent post, positive
    where the tip is met first. Raises ValueError for sizes that are not positive or a contact that
    would begin behind the root, SolveError where the forces do not come into balance.
    """
    if min(force, length, contact_length) <= 0.0:
        raise ValueError("force, length and contact_length must be positive")
    start, end = length - contact_length / 2.0, length + contact_length / 2.0
    if start < -1e-9 * length:
        raise ValueError("contact_length must be at most twice the length")
    start = max(start, 0.0)
    mean = law.approach_at(force / (end - start))
    z = np.linspace(start, end, slices + 1)
    for _ in range(_MOST_GRIDS):
        found = _solve(beam, law, force, z, tilt * (z - length), mean)
        touching = np.flatnonzero(found.approach > 0.0)
        first, last = max(touching[0] - 1, 0), min(touching[-1] + 1, len(z) - 1)
        if last - first >= _FEWEST_TOUCHING * slices:
            return found
        # What has parted carries nothing: the slices go to where there is contact.
        inner = np.linspace(z[first], z[last], slices + 1)
        z = np.concatenate(
            [np.linspace(start, z[first], 9)[:-1], inner, np.linspace(z[last], end, 9)[1:]]
        )
        z = np.unique(z)
    raise SolveError("the contact along the post is too short to be resolved")


def _solve(beam: Beam, law: Law, force: float, z: Floats, gap: Floats, mean: float) -> Pressed:
    """The forces on nodes ``z``, for an edge that stands ``gap`` nearer the post there.

    ``mean`` is the approach under an even load, mm: with it somewhere, something touches.
    """
    w, G = _weights(z), influence(beam, z, z)
    p = force * w / w.sum()
    u0 = mean - float(np.max(gap - G @ p))
    n = len(z)
    for _ in range(_MOST_STEPS):
        deflection = G @ p
        q, k = law.at(u0 + gap - deflection)
        if not np.any(q > 0.0):
            u0 = mean - float(np.max(gap - deflection))
            continue
        residual = max(float(np.abs(w * q - p).max()), abs(float(w @ q) - force)) / force
        if residual <= RESIDUAL:
            return _pressed(beam, z, w * q, u0 + gap, q, residual)
        K = w * k
        A = np.zeros((n + 1, n + 1))
        A[:n, :n] = np.eye(n) + K[:, None] * G
        A[:n, n] = -K
        A[n, :n] = 1.0
        step = np.linalg.solve(A, np.append(w * q - p, force - p.sum()))
        dp, du = step[:n], float(step[n])
        share = _share(law, G, w, force, p, u0 + gap, dp, du)
        p, u0 = p + share * dp, u0 + share * du
    raise SolveError(f"the line load along the post did not settle in {_MOST_STEPS} steps")


def _share(
    law: Law, G: Floats, w: Floats, force: float, p: Floats, edge: Floats, dp: Floats, du: float
) -> float:
    """How much of a step to take: all, or to where the energy along it is least."""
    Gdp = G @ dp

    def slope(t: float) -> float:
        q, _ = law.at(edge + t * du - G @ p - t * Gdp)
        return float(Gdp @ (p + t * dp - w * q) + du * (w @ q - force))

    before = slope(0.0)
    if slope(1.0) <= 0.5 * abs(before):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2.0
        at = slope(middle)
        if abs(at) <= 0.1 * abs(before):
            return middle
        low, high = (middle, high) if at < 0.0 else (low, middle)
    return (low + high) / 2.0


def _pressed(beam: Beam, z: Floats, p: Floats, edge: Floats, q: Floats, residual: float) -> Pressed:
    """Deflection, slope and moment under the nodal forces."""
    deflection = influence(beam, z, z) @ p
    near = np.minimum(z[:, None], z)
    # At a force itself the shear is the mean of its two sides.
    sheared = np.where(z[:, None] < z, 1.0, np.where(z[:, None] > z, 0.0, 0.5)) / beam.shear
    slope = (near * (2.0 * z - near) / (2.0 * beam.bending) + sheared) @ p
    moment = np.maximum(z - z[:, None], 0.0) @ p
    return Pressed(z, q, deflection, slope, moment, edge - deflection, residual)


def _weights(z: Floats) -> Floats:
    """Trapezoidal weights of nodes, mm."""
    h = np.diff(z)
    weights: Floats = (np.append(h, 0.0) + np.append(0.0, h)) / 2.0
    return weights
