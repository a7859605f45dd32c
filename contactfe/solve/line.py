"""A post along its axis: a cantilever that a straight rigid edge presses over part of its length.

Each slice of the post presses the plate by a law of its own, line load q over approach δ, whatever
its neighbours do (Winkler's assumption), and can part from it. With the post's deflection w(z) away
from the plate, z from the root,

    δ(z) = u0 + tilt·(z − zm) − w(z),  q = law(δ) where δ > 0, else 0,  ∫ q dz = F,

zm being the middle of the contact, at which the force is stated, and w that of Timoshenko's beam
under q, exact for the load at each node by its influence function, or that of the post in three
dimensions: then the law is that of the contact alone, as the ring's bending is in w. The integrals
are trapezoidal, as the influence function has a kink at the load, so errors fall with the square of
the spacing.

With p the nodal forces and Φ' = q, the energy ½pᵀGp + Σ w_i Φ(δ_i) − F u0 is convex, so there is
one solution, and Newton's method with a search along its step finds it.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach

SLICES = 100
"""Slices of the contact, and again of the part of it that stays in contact. Against 800 the peak of
a post that lifts off over half its contact moved by less than 0.01 %."""

RESIDUAL = 1e-10
"""Largest imbalance of the nodal forces over the force, or the solve is an error."""

Influence = Callable[[Floats], Floats]

_MOST_STEPS = 60
_FEWEST_TOUCHING = 0.8  # share of the slices in contact, below which they are placed anew
_MOST_GRIDS = 8


@dataclass(frozen=True)
class Beam:
    """Stiffness of a post in bending, EI in N mm², and in shear, κGA in N; either may be inf."""

    bending: float
    shear: float


@dataclass(frozen=True)
class Pressed:
    """A post pressed along its length; (n,) each at ``z`` mm from the root, over the contact.

    ``line_load`` q in N/mm, ``deflection`` w in mm away from the plate, ``slope`` dw/dz in rad, the
    bending ``moment`` in N mm, positive where it stretches the impacted side, ``approach`` δ in mm,
    the ring's share with it; ``gap`` in mm is negative where post and plate touch. Deflection and
    slope are those of the beam. ``residual`` is the largest imbalance over the force.
    """

    z: Floats
    line_load: Floats
    deflection: Floats
    slope: Floats
    moment: Floats
    approach: Floats
    gap: Floats
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
        gap, z = self.gap, self.z
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
    law: ForceApproach,
    force: float,
    length: float,
    contact_length: float,
    tilt: float = 0.0,
    slices: int = SLICES,
    given: Influence | None = None,
) -> Pressed:
    """Spread a force along a post by its own bending.

    ``given`` is the influence of forces at places (n,) mm on the displacements there, (n, n) mm/N,
    where that is not the beam's alone.

    ``force`` in N, ``length`` in mm from the root to the middle of the contact, ``contact_length``
    in mm, at most twice that, ``tilt`` in rad of the plate's face to the unbent post, positive
    where the tip is met first. Slices may be pressed past the end of ``law`` where that goes on
    along its tangent. Raises ValueError for sizes that are not positive or a contact that would
    begin behind the root, SolveError where the forces do not come into balance.
    """
    if min(force, length, contact_length) <= 0.0:
        raise ValueError("force, length and contact_length must be positive")
    start, end = length - contact_length / 2.0, length + contact_length / 2.0
    if start < -1e-9 * length:
        raise ValueError("contact_length must be at most twice the length")
    start = max(start, 0.0)
    mean = float(law.approach_at(force / (end - start)))
    z = np.linspace(start, end, slices + 1)
    for _ in range(_MOST_GRIDS):
        found = _solve(beam, law, force, z, tilt * (z - length), mean, given)
        touching = np.flatnonzero(found.gap < 0.0)
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


def _solve(
    beam: Beam,
    law: ForceApproach,
    force: float,
    z: Floats,
    gap: Floats,
    mean: float,
    given: Influence | None,
) -> Pressed:
    """The forces on nodes ``z``, for an edge that stands ``gap`` nearer the post there.

    ``mean`` is the approach under an even load, mm: with it somewhere, something touches.
    """
    w, G = _weights(z), influence(beam, z, z) if given is None else given(z)
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
            return _pressed(beam, z, w * q, u0 + gap, deflection, q, residual)
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
    law: ForceApproach,
    G: Floats,
    w: Floats,
    force: float,
    p: Floats,
    edge: Floats,
    dp: Floats,
    du: float,
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


def _pressed(
    beam: Beam, z: Floats, p: Floats, edge: Floats, moved: Floats, q: Floats, residual: float
) -> Pressed:
    """Deflection, slope and moment under the nodal forces; ``moved`` mm is what they displace."""
    deflection = influence(beam, z, z) @ p
    near = np.minimum(z[:, None], z)
    # At a force itself the shear is the mean of its two sides.
    sheared = np.where(z[:, None] < z, 1.0, np.where(z[:, None] > z, 0.0, 0.5)) / beam.shear
    slope = (near * (2.0 * z - near) / (2.0 * beam.bending) + sheared) @ p
    moment = np.maximum(z - z[:, None], 0.0) @ p
    return Pressed(z, q, deflection, slope, moment, edge - deflection, moved - edge, residual)


def _weights(z: Floats) -> Floats:
    """Trapezoidal weights of nodes, mm."""
    h = np.diff(z)
    weights: Floats = (np.append(h, 0.0) + np.append(0.0, h)) / 2.0
    return weights
