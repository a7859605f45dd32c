"""Beam shear in a round: how a transverse force spreads over a solid or hollow circular section.

In a slice of the post this is also the shape of what holds it against the contact load: the beam
shear changes by the line load q per mm of length, and the change acts in the slice as a body
force.
"""

import math

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array
from contactfe.hand.formula import formula
from contactfe.hand.quantities import Force, Length, Poisson, Stress

SOURCE = "derived here from the field of St-Venant's flexure (hand/flexure.py)"
"""Of what is read off :func:`flexure_shear`."""


def flexure_shear(
    x: ArrayLike,
    y: ArrayLike,
    shear: float,
    radius: float,
    bore_radius: float,
    poisson: float,
) -> tuple[Array, Array]:
    """Shear stresses τzx, τzy, MPa, of a beam of solid or hollow round section under shear V.

    ``x``, ``y`` in mm from the centre, of any shapes that broadcast; each result has the broadcast
    shape. ``shear`` V in N acts along +y and may have either sign: ∫τzy dA = V. ``radius`` b and
    ``bore_radius`` c in mm, c = 0 for a solid round. Points up to 0.02 b off the section, such as
    those of a coarse mesh with straight sides, get the same smooth function continued. Raises
    ValueError for points farther off, a radius that is not positive, a bore not in [0, b), or ν
    outside [0, 0.5].

    Source: derived here for the tube, from equilibrium ∂τzx/∂x + ∂τzy/∂y = −Vy/I, free rims and
    the compatibility of St-Venant flexure. In polar coordinates, α from the x axis, with
    I = π(b⁴ − c⁴)/4, k = V/(8I(1 + ν)), K = (3 + 2ν)k:

        τzr = K sin α (b² − r²)(1 − c²/r²),
        τzα = cos α [K(b² + c² + b²c²/r²) − (1 − 2ν)k r²].

    The solid round is that of S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed.,
    chapter on bending of bars, circular section — from memory, not seen; its greatest stress is
    (3 + 2ν)/(2(1 + ν)) V/A, at the centre.

    >>> print(flexure_shear(0.0, 0.0, 1000.0, 50.0, 0.0, 0.3)[1] * np.pi * 50.0**2 / 1000.0)
    1.384615
    """
    check.round_section(radius, bore_radius)
    check.poisson_ratio(poisson=poisson)
    if not np.isfinite(shear):
        raise ValueError(f"shear = {shear!r} is not allowed: it must be finite")
    x, y = np.broadcast_arrays(np.asarray(x, dtype=float), np.asarray(y, dtype=float))
    r = np.hypot(x, y)
    slack = 0.02 * radius
    if not np.all((r >= bore_radius - slack) & (r <= radius + slack)):
        raise ValueError(
            f"points at r = {np.min(r)!r} to {np.max(r)!r} from the centre are not allowed: "
            f"the section reaches from {bore_radius!r} to {radius!r}"
        )
    tau_r, tau_alpha = _polar_shear(r, shear, radius, bore_radius, poisson)
    # At the centre of a solid round the direction is arbitrary: any one gives the same vector.
    centre = r == 0
    cos = np.where(centre, 1.0, x) / np.where(centre, 1.0, r)
    sin = y / np.where(centre, 1.0, r)
    return (tau_r - tau_alpha) * sin * cos, tau_r * sin**2 + tau_alpha * cos**2


@formula(
    "greatest shear stress, solid round",
    "τ",
    source="S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., bending of bars,"
    " circular section: from memory, not seen",
)
def solid_shear_stress(force: Force, outside_diameter: Length, poisson: Poisson) -> Stress:
    """Greatest transverse shear stress of a solid round: 1.385 F/A at ν = 0.3, at the centre.

    It is that of :func:`flexure_shear`.

    >>> print(solid_shear_stress(100e3, 150.0, 0.3))
    7.8353
    """
    ratio = (3 + 2 * poisson) / (2 * (1 + poisson))
    return ratio * 4 * force / (math.pi * outside_diameter**2)


@formula("greatest shear stress, tube", "τ", source=SOURCE)
def tube_shear_stress(
    force: Force, outside_diameter: Length, bore: Length, poisson: Poisson
) -> Stress:
    """Greatest transverse shear stress of a tube of any wall.

    It lies at the bore, on the neutral axis. 2F/A of a thin tube, and twice that of a solid round
    for a bore as small as a pinhole, which concentrates it.

    >>> print(tube_shear_stress(100e3, 150.0, 100.0, 0.3))
    23.3854
    """
    check.bore(outside_diameter, bore)
    D2, d2 = outside_diameter**2, bore**2
    spread = (3 + 2 * poisson) * (2 * D2 + d2) - (1 - 2 * poisson) * d2
    D4 = outside_diameter**4 - bore**4
    return 2 * force * spread / (math.pi * D4 * (1 + poisson))


def _polar_shear(
    r: Array, shear: float, radius: float, bore_radius: float, poisson: float
) -> tuple[Array, Array]:
    """Amplitudes of τzr / sin α and τzα / cos α."""
    b2, c2 = radius**2, bore_radius**2
    k = shear / (2 * np.pi * (b2**2 - c2**2) * (1 + poisson))
    K = (3 + 2 * poisson) * k
    # Without a bore the term vanishes, and must also where r does.
    hole = c2 / r**2 if c2 else np.zeros_like(r)
    tau_r = K * (b2 - r**2) * (1 - hole)
    tau_alpha = K * (b2 + c2 + b2 * hole) - (1 - 2 * poisson) * k * r**2
    return tau_r, tau_alpha
