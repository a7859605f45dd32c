"""Beam shear in a round: how a transverse force spreads over a solid or hollow circular section.

In a slice of the post this is also the shape of what holds it against the contact load: the beam
shear changes by the line load q per mm of length, and the change acts in the slice as a body
force.
"""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array
from contactfe.hand.formula import formula
from contactfe.hand.ring import TUBE


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
    name="greatest shear stress of beam shear, solid round",
    symbol="τ",
    form="(3 + 2·{poisson})/(2·(1 + {poisson}))·{shear}/(π·{radius}²)",
    dimension="stress",
    given={**TUBE, "shear": ("V", "force")},
    source="S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., bending of bars,"
    " circular section: from memory, not seen",
    note="at the centre",
)
def solid_shear(shear: float, radius: float, poisson: float) -> float:
    """Greatest shear stress, MPa, of a solid round under beam shear V: at its centre.

    ``shear`` V in N, ``radius`` in mm; 1.38 V/A at ν = 0.3. Raises ValueError as
    :func:`flexure_shear` does.

    Source: S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., chapter on bending of
    bars, circular section — from memory, not seen; :func:`flexure_shear` at the centre.

    >>> print(solid_shear(100e3, 50.0, 0.3))
    17.630
    """
    return float(flexure_shear(0.0, 0.0, shear, radius, 0.0, poisson)[1])


@formula(
    name="greatest shear stress of beam shear, tube",
    symbol="τ",
    form="{shear}·((3 + 2·{poisson})·{radius}² + (1 + 2·{poisson})·{bore_radius}²)"
    "/(π·(1 + {poisson})·({radius}⁴ − {bore_radius}⁴))",
    dimension="stress",
    given={**TUBE, "shear": ("V", "force")},
    source="St-Venant's flexure of a tube, derived here",
    note="at the bore, at both ends of its diameter across the shear",
)
def tube_shear(shear: float, radius: float, bore_radius: float, poisson: float) -> float:
    """Greatest shear stress, MPa, of a tube under beam shear V: at the bore, beside its middle.

    ``shear`` V in N, outside ``radius`` and ``bore_radius`` in mm. It tends to 2 V/A for a thin
    tube, and for a small bore to twice that of a solid round. Raises ValueError as
    :func:`flexure_shear` does, and for a bore that is not positive.

    Source: :func:`flexure_shear` at the bore, derived there.

    >>> print(tube_shear(100e3, 50.0, 25.0, 0.3))
    41.788
    """
    check.positive(bore_radius=bore_radius)
    return float(flexure_shear(bore_radius, 0.0, shear, radius, bore_radius, poisson)[1])


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
