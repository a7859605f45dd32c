"""Exact plane-elastic fields that solved cases are held against, beyond those of contactfe.hand.

Angles run from the (first) load towards +x; σr, σθ, τrθ in MPa, tension positive.
"""

from collections.abc import Sequence

import numpy as np

from contactfe.hand import thick_ring
from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.field import StressField
from contactfe.verify.bodies import STEEL


def polar(field: StressField, radius: float) -> tuple[Floats, Floats, Floats]:
    """Distance from the middle (n,), mm, angle from the load (n,), and σr, σθ, τrθ (3, n)."""
    x, y = field.mesh.doflocs[0], field.mesh.doflocs[1] - radius
    r, phi = np.hypot(x, y), np.arctan2(x, -y)
    sx, sy, _, t = field.stress.T
    s, c = np.sin(phi), np.cos(phi)  # e_r = (s, −c), e_θ = (c, s)
    stress = np.array(
        [
            sx * s**2 + sy * c**2 - 2 * t * s * c,
            sx * c**2 + sy * s**2 + 2 * t * s * c,
            (sx - sy) * s * c + t * (s**2 - c**2),
        ]
    )
    return r, phi, stress


def hoop_at(field: StressField, radius: float, x: float, y: float) -> float:
    """σθ, MPa, of a round of this outside radius at the node nearest to a point."""
    nodes = field.mesh.doflocs
    node = np.argmin((nodes[0] - x) ** 2 + (nodes[1] - y) ** 2)
    return float(polar(field, radius)[2][1, node])


def corner_stress(
    r: Floats, phi: Floats, loads: Sequence[float], radius: float, bore: float
) -> Floats:
    """σr, σθ, τrθ (3, n) of two line loads at right angles, the second at +x.

    Each is the exact field of one load balanced by beam shear (contactfe.hand.thick_ring, derived
    there), the torque of the pair being none. By Saint-Venant the body away from the patches does
    not feel that the loads are spread over them.
    """
    fields = [
        thick_ring.stress(r, phi - turn, q, radius, bore, "beam shear", 0.3, "plane strain")
        for q, turn in zip(loads, (0.0, np.pi / 2.0), strict=True)
    ]
    total: Floats = np.sum(fields, axis=0)
    return total


class BondedDisc:
    """A disc bonded into a tube of steel under two diametral line loads, in plane strain.

    By Fourier's series in the angle, with Michell's functions (S. P. Timoshenko and J. N. Goodier,
    Theory of Elasticity, 3rd ed., general solution in polar coordinates; displacements as in
    J. R. Barber, Elasticity: both from memory, not seen), two in the disc and four in the ring for
    each even order, matched at the bond; derived here. Lengths in mm, the load in N/mm.
    """

    def __init__(
        self, infill: Elastic, load: float, radius: float, bore: float, orders: int = 60
    ) -> None:
        self.infill, self.radius = infill, radius
        rho, unit = bore / radius, load / (np.pi * radius)
        soft, hard = 1.0 / (2.0 * STEEL.mu), 1.0 / (2.0 * infill.mu)
        # n = 0: σr = A + B/r², 2μ ur = (κ − 1)/2 A r − B/r in the ring; C in the disc.
        k, k_in = (_kolosov(STEEL) - 1.0) / 2.0, (_kolosov(infill) - 1.0) / 2.0
        rows = [
            [1.0, 1.0, 0.0],
            [1.0, rho**-2, -1.0],
            [k * rho * soft, -soft / rho, -k_in * rho * hard],
        ]
        self.mean: Floats = np.linalg.solve(np.array(rows), np.array([-unit, 0.0, 0.0]))
        self.terms: list[tuple[int, Floats]] = []
        for n in range(2, orders + 1, 2):
            outside, ring = michell(n, 1.0, STEEL), michell(n, rho, STEEL)
            disc = michell(n, rho, infill, 2)
            matrix = np.zeros((6, 6))
            matrix[:2, :4] = outside[[0, 2]]
            matrix[2:4] = np.hstack([ring[[0, 2]], -disc[[0, 2]]])
            # Displacements times 2μ of the steel, to be of the size of the stresses.
            matrix[4:] = np.hstack([ring[3:], -disc[3:] * hard / soft])
            size = np.abs(matrix).max(axis=0)
            right = np.zeros(6)
            right[0] = -2.0 * unit
            self.terms.append((n, np.linalg.solve(matrix / size, right) / size))

    def steel(self, r: float, angles: Floats) -> Floats:
        """σr, σθ, τrθ (3, k) in the tube, at r mm from the middle."""
        A, B, _ = self.mean
        u = r / self.radius
        mean = np.array([A + B / u**2, A - B / u**2, 0.0])
        waves = [(n, michell(n, u, STEEL)[:3] @ c[:4]) for n, c in self.terms]
        return _summed(mean, waves, angles)

    def disc(self, r: float, angles: Floats) -> Floats:
        """σr, σθ, τrθ (3, k) in the disc, at r mm from the middle."""
        C = self.mean[2]
        u = r / self.radius
        waves = [(n, michell(n, u, self.infill, 2)[:3] @ c[4:]) for n, c in self.terms]
        return _summed(np.array([C, C, 0.0]), waves, angles)


def _kolosov(material: Elastic) -> float:
    return 3.0 - 4.0 * material.poisson


def michell(n: int, r: float, material: Elastic, count: int = 4) -> Floats:
    """The first of Michell's r^n, r^(n+2), r^−n, r^(2−n) at r: rows σr, σθ, τ, 2μ ur, 2μ uθ."""
    k, rows = _kolosov(material), []
    for m, radial, turning in (
        (n, -n, n),
        (n + 2, k - n - 1, k + n + 1),
        (-n, n, n),
        (2 - n, k + n - 1, -(k - n + 1)),
    )[:count]:
        stress = np.array([m - n**2, m * (m - 1), n * (m - 1)]) * r ** float(m - 2)
        rows.append(np.concatenate([stress, np.array([radial, turning]) * r ** float(m - 1)]))
    return np.array(rows).T


def _summed(mean: Floats, waves: list[tuple[int, Floats]], angles: Floats) -> Floats:
    total: Floats = np.outer(mean, np.ones_like(angles))
    for n, amplitude in waves:
        turn = np.array([np.cos(n * angles), np.cos(n * angles), np.sin(n * angles)])
        total = total + amplitude[:, None] * turn
    return total
