"""The exact plane-elastic field of a round under a line load: tube of any wall, or solid disc.

The load q pushes inward on the outside at angle 0 and is balanced either by the same load opposite
or by the change of beam shear along the post. The field is a sum of

1. the field of a line load on a half-space (Flamant), which leaves no traction on a circle through
   the load point but a uniform one and a single first harmonic: both are taken off again;
2. the mean pressure q/(2π ro), n = 0 (Lamé);
3. the first harmonic, n = 1: the load against the body force of beam shear, in closed form;
4. for each n >= 2 the four functions of Michell that free the bore of what 1 leaves there. These
   fade like the n-th power of the bore ratio everywhere, so the sum holds up to the outside itself.

"Diametral" is the field of two such loads half a turn apart, without the first harmonics.
"""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, disc
from contactfe.hand.check import Array, HeldBy, State
from contactfe.hand.formula import at_least, formula, limited, shown
from contactfe.hand.quantities import Angles, Length, LineLoad, Poisson, Stresses
from contactfe.hand.stress import plane_poisson

Polar = tuple[Array, Array, Array]

THINNEST_EXACT = 0.01
"""Wall over outside radius down to which rounding stays below 1e-9; a ring formula serves there."""


def stress(
    r: ArrayLike,
    angle: ArrayLike,
    line_load: float,
    radius: float,
    bore_radius: float,
    held_by: HeldBy,
    poisson: float,
    state: State,
) -> Polar:
    """Stresses σr, σθ, τrθ, MPa, in a tube or solid round under a line load on its outside.

    ``r`` in mm from the centre and ``angle`` in radians from the load line, of any shapes that
    broadcast, as each result is. ``line_load`` q in N/mm, ``radius`` and ``bore_radius`` in mm
    (bore 0: solid). Tension positive; τrθ is positive where it turns the outer fibre towards larger
    angles. ν and state matter to "beam shear" only. Raises ValueError for what is not allowed,
    points off the section, and a load itself, where the stress is unbounded.

    Source: derived here. The parts are those of S. P. Timoshenko and J. N. Goodier, Theory of
    Elasticity, 3rd ed., chapter on polar coordinates (force on a straight boundary, circular disk,
    general solution) — from memory, not seen; the first harmonic under beam shear is new here.

    Precision: rounding times (ro/h)³ for a wall h, relative to the greatest stress: 1e-14 for
    thick tubes, better than 1e-9 down to h = ro/100. The cost grows like ro/h.

    >>> print(*stress(0.0, 0.0, np.pi, 1.0, 0.0, "diametral", 0.3, "plane strain"))
    -3.0 1.0 0.0
    """
    check.not_negative(line_load=line_load)
    check.round_section(radius, bore_radius)
    check.holding(held_by)
    nu_plane = plane_poisson(poisson, state)
    u, phi = np.broadcast_arrays(
        np.asarray(r, dtype=float) / radius, np.asarray(angle, dtype=float)
    )
    rho = bore_radius / radius
    rounding = 1e-9
    if not np.all((u >= rho - rounding) & (u <= 1 + rounding)):
        raise ValueError(
            f"r = {r!r} is not allowed: the section reaches from {bore_radius!r} to {radius!r}"
        )
    parts = [_line_load(u, phi, rho)]
    if held_by == "diametral":
        parts.append(_line_load(u, phi - np.pi, rho))
    else:
        parts.append(_first_harmonic(u, phi, rho, poisson, nu_plane))
    scale = line_load / radius
    # With 0 added, so that no load gives 0, not −0.
    sigma_r, sigma_theta, tau = (
        scale * (one + other) + 0.0 for one, other in zip(*parts, strict=True)
    )
    return sigma_r, sigma_theta, tau


@formula(
    "hoop stress at the bore, exact series",
    "σθ",
    source="plane elasticity, Michell's series, derived here",
    symbols={"radius": "ro"},
    note="k is what a unit load on ro = 1 gives, times π: Flamant's field of each load, freed of"
    " its tractions on the rim; then in the bore of ri/ro what frees it, by Lamé, the first"
    " harmonic of beam shear (ν and the plane state matter to it alone), and Michell's functions"
    " of the orders n = 2 to 11 + ln(10⁻¹⁸)/ln(ri/ro), rounded up; the load acts at a point",
)
def bore_hoop(
    line_load: LineLoad,
    radius: Length,
    bore_radius: Length,
    angle: Angles,
    held_by: HeldBy,
    poisson: Poisson,
    state: State,
) -> Stresses:
    """Hoop stress at the bore of a tube, at angles from the load line; tension positive.

    As the bore shrinks it tends to that of a small hole at the centre of the disc, 6q/(π ro) under
    diametral loads and −10q/(π ro) beside. Raises ValueError as :func:`stress` does.

    >>> print(bore_hoop(np.pi, 2.0, 1.0, [0.0, np.pi / 2], "diametral", 0.3, "plane strain"))
    [10.155 -8.899]
    """
    tube = (radius, bore_radius, held_by, poisson, state)
    coefficient = shown("coefficient", stress(bore_radius, angle, np.pi * radius, *tube)[1], "k")
    limited(at_least("h/ro", (radius - bore_radius) / radius, THINNEST_EXACT))
    return coefficient * line_load / (np.pi * radius) + 0.0


def disc_centre_stress(line_load: float, diameter: float, held_by: HeldBy) -> tuple[float, float]:
    """Stresses at the centre of a solid round, MPa: across the load line, and along it.

    Those of :func:`.disc.centre_across` and :func:`.disc.centre_along`, whatever ν and state. That
    beam shear gives exactly half is derived here: a stress at the centre has harmonics n = 0 and
    n = 2 only, and in both the opposite load does as much as the first, while the body force of
    beam shear has n = 1 only.
    """
    return (
        disc.centre_across.plain(line_load, diameter, held_by),
        disc.centre_along.plain(line_load, diameter, held_by),
    )


def _line_load(u: Array, phi: Array, rho: float) -> Polar:
    """Harmonics n = 0 and n >= 2 of a unit load at angle 0 on a ring of outside radius 1."""
    cos, sin = np.cos(phi), np.sin(phi)
    depth = 1 - u * cos
    # Written so that the load point is met exactly: d² = (1 − u)² + 4u sin²(φ/2).
    d2 = (1 - u) ** 2 + 4 * u * np.sin(phi / 2) ** 2
    if np.any(d2 < 1e-30):
        raise ValueError("r and angle must not name the load point itself: its stress is unbounded")
    flamant = -2 / np.pi * depth / d2**2
    # The radial stress of the half-space, seen along r and θ, less its n = 0 and n = 1 harmonics.
    sigma_r = flamant * (u - cos) ** 2 + (2 + u * cos) / (2 * np.pi)
    sigma_theta = flamant * sin**2 + (2 + 3 * u * cos) / (2 * np.pi)
    tau = flamant * (u - cos) * sin + u * sin / (2 * np.pi)

    mean = -1 / (2 * np.pi * (1 - rho**2))
    hole = (rho / u) ** 2 if rho else np.zeros_like(u)
    sigma_r = sigma_r + mean * (1 - hole)
    sigma_theta = sigma_theta + mean * (1 + hole)
    if rho:
        # The four functions r^n, r^(n+2), r^-n, r^(2-n), scaled never to exceed 1.
        turn, wave = np.exp(1j * phi), np.exp(2j * phi)
        grow, fade = np.ones_like(u), hole
        for order, (a, b, c, d) in zip(*_bore_harmonics(rho), strict=True):
            A, B, C, D = a * grow, b * grow * u**2, c * fade * hole, d * fade
            along, across = wave.real, wave.imag
            sigma_r += along * (
                order * (1 - order) * A
                + (2 - order) * (1 + order) * B
                - order * (1 + order) * C
                - (order - 1) * (order + 2) * D
            )
            sigma_theta += along * (
                order * (order - 1) * A
                + (order + 1) * (order + 2) * B
                + order * (order + 1) * C
                + (order - 1) * (order - 2) * D
            )
            tau += across * order * ((order - 1) * (A - D) + (order + 1) * (B - C))
            wave, grow, fade = wave * turn, grow * u, fade * (rho / u)
    return sigma_r, sigma_theta, tau


def _bore_harmonics(rho: float) -> tuple[Array, Array]:
    """Orders n >= 2 and, row by row, the coefficients that free the bore of a disc's tractions."""
    # Until the n-th power of the bore ratio is lost in rounding.
    n = np.arange(2.0, 12 + np.ceil(np.log(1e-18) / np.log(rho)))
    one, far, near = np.ones_like(n), rho**n, rho ** (n - 2)
    radial = np.array([n * (1 - n), (2 - n) * (1 + n), -n * (1 + n), -(n - 1) * (n + 2)])
    shear = np.array([n * (n - 1), n * (n + 1), -n * (n + 1), -n * (n - 1)])
    outside = np.array([one, one, far * rho**2, far])
    bore = np.array([near, far, one, one])
    rows = np.array([radial * outside, shear * outside, radial * bore, shear * bore]) / n**2
    # In a disc σr = −(n u^(n−2) − (n − 2)u^n)/(2π) and τ = n(u^(n−2) − u^n)/(2π).
    right = np.array([0 * n, 0 * n, n * near - (n - 2) * far, -n * (near - far)]) / (2 * np.pi)
    return n, np.linalg.solve(np.moveaxis(rows, -1, 0), (right / n**2).T[..., None])[..., 0]


def _first_harmonic(u: Array, phi: Array, rho: float, poisson: float, nu_plane: float) -> Polar:
    """Unit load's first harmonic on a ring of outside radius 1, balanced by beam shear.

    The body force, V = q in :mod:`.flexure`, has one harmonic and the divergence −r cos φ/I. With
    σr, σθ, τ = S cos φ, H cos φ, Q sin φ, equilibrium makes r(S − Q) the force that crosses the
    circle r; compatibility gives S + H = (1 + ν')r³/(8I) + C1 r + C2/r; the rest of equilibrium
    then gives r³Q. Displacements of one value fix C2 = (1 + ν')c⁴/(8I), the free rims the others.
    """
    inertia = np.pi * (1 - rho**4) / 4
    k = 1 / (8 * inertia * (1 + poisson))
    K = (3 + 2 * poisson) * k
    area = 1 + rho**2
    stiff = 1 + nu_plane
    # 48 I Q = cubic r³ − inverse/r + linear r + rest/r³, zero at both rims.
    cubic = stiff - 2 * (1 - poisson) / (1 + poisson)
    inverse = 3 * (1 - nu_plane) * rho**4
    linear = -(cubic * (1 + rho**2 + rho**4) - inverse) / area
    rest = rho**2 * (cubic * rho**2 + inverse) / area
    over = 1 / u if rho else np.zeros_like(u)
    Q = (cubic * u**3 - inverse * over + linear * u + rest * over**3) / (48 * inertia)
    # Force that crosses the circle r, from the body force between it and the bore.
    if rho:
        crossing = (K * area * (u**2 - rho**2) - k * (u**4 - rho**4)) * over
    else:
        crossing = K * u - k * u**3
    S = Q - crossing
    total = (
        stiff * (u**3 + rho**4 * over) / (8 * inertia)
        + (linear / (12 * inertia) - 2 * K * area) * u
    )
    return S * np.cos(phi), (total - S) * np.cos(phi), Q * np.sin(phi)
