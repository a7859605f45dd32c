"""A tube under a line load as a ring: hoop stress of the thin ring and of the curved beam.

The load q pushes inward on the outside at angle 0. It is balanced either by the same load opposite
("opposed") or by the change of beam shear along the post ("beam shear"), a tangential flow
q sin φ/(πR) along the mean circle. The ring has no radius of contact: near the load the stress is
that of a line, so only the bore, a wall away from it, is meant there.
"""

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, HeldBy

Surface = Literal["bore", "outside"]


def section_forces(
    line_load: float,
    mean_radius: float,
    angle: ArrayLike,
    held_by: HeldBy,
    eccentricity: float = 0.0,
) -> tuple[Array, Array]:
    """Bending moment M (N mm/mm) and normal force N (N/mm) in a ring, at angles from the load.

    ``line_load`` q in N/mm, ``mean_radius`` R in mm, ``angle`` φ in radians from the load line, of
    any shape, which both results have. M is positive where it stretches the bore, N in tension.
    ``eccentricity`` e in mm, from the mean circle inward to the neutral one, is 0 for a thin ring;
    for a thick one it lowers the mean moment by the factor k2 = 1 − e/R. Raises ValueError for a
    negative load, a radius that is not positive, e not in [0, R), or an unknown way of holding.

    For 0 <= φ <= π:

        opposed     M = qR(k2/π − sin φ/2),  N = −q sin φ/2
        beam shear  M = qR(k2/(2π) + cos φ/(4π) − (1 − φ/π) sin φ/2),
                    N = −q(3 cos φ/(4π) + (1 − φ/π) sin φ/2)

    so under the load M = 0.318 qR and 0.239 qR for a thin ring.

    Source: opposed, W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2 case 1
    — from memory, not seen. Beam shear derived here, by statics and the energy of a curved beam:
    the half ring does not rotate, ∫(M − eN)dφ = 0, nor part at the load line, ∫M cos φ dφ = 0;
    shear deformation drops out of both.

    >>> print(*section_forces(1.0, 1.0, 0.0, "beam shear"))
    0.238732 -0.238732
    """
    check.not_negative(line_load=line_load)
    check.positive(mean_radius=mean_radius)
    check.holding(held_by)
    if not 0 <= eccentricity < mean_radius:
        raise ValueError(
            f"eccentricity = {eccentricity!r} is not allowed: it must lie in "
            f"[0, mean_radius = {mean_radius!r})"
        )
    k2 = 1 - eccentricity / mean_radius
    phi = np.abs((np.asarray(angle, dtype=float) + np.pi) % (2 * np.pi) - np.pi)
    if held_by == "opposed":
        moment = k2 / np.pi - np.sin(phi) / 2
        normal = -np.sin(phi) / 2
    else:
        pull = (1 - phi / np.pi) * np.sin(phi) / 2
        moment = k2 / (2 * np.pi) + np.cos(phi) / (4 * np.pi) - pull
        normal = -3 * np.cos(phi) / (4 * np.pi) - pull
    return line_load * mean_radius * moment, line_load * normal


def thin_ring_hoop(
    line_load: float,
    radius: float,
    wall: float,
    angle: ArrayLike,
    held_by: HeldBy,
    surface: Surface = "bore",
) -> Array:
    """Hoop stress, MPa, of a tube taken as a thin ring: ±6M/h² + N/h.

    ``line_load`` q in N/mm, outside ``radius`` and ``wall`` h in mm, ``angle`` in radians from the
    load line, of any shape, which the result has; tension positive, + at the bore. Raises
    ValueError for a negative load, a wall not between 0 and the radius, or an unknown way of
    holding or surface.

    Source: :func:`section_forces` on the mean radius with straight-beam bending. Against
    :func:`.thick_ring.bore_hoop` at ν = 0.3 it is low, as the inner fibres are short: by 2, 4, 6,
    11 % under opposed loads for walls of 0.1, 0.2, 0.3, 0.5 radius, by 2, 3, 5, 10 % under beam
    shear, and by 4, 8, 13, 25 % at 90° from the load.

    >>> print(thin_ring_hoop(1000.0, 84.15, 21.95, 0.0, "opposed"))
    290.06
    """
    check.tube_wall(radius, wall)
    check.face(surface)
    moment, normal = section_forces(line_load, radius - wall / 2, angle, held_by)
    inward = 1 if surface == "bore" else -1
    return normal / wall + inward * 6 * moment / wall**2


def curved_beam_hoop(
    line_load: float,
    radius: float,
    wall: float,
    angle: ArrayLike,
    held_by: HeldBy,
    surface: Surface = "bore",
) -> Array:
    """Hoop stress, MPa, of a tube taken as a curved beam: N/h + M(rn − r)/(h e r).

    ``line_load`` q in N/mm, outside ``radius`` and ``wall`` h in mm, ``angle`` in radians from the
    load line, of any shape, which the result has; tension positive. The neutral circle has radius
    rn = h/ln(ro/ri), e = R − rn off the mean one, and r is the radius of the surface asked for.
    Raises ValueError for a negative load, a wall not between 0 and the radius, or an unknown way
    of holding or surface.

    Source: the Winkler–Bach curved beam, any text on strength of materials, with
    :func:`section_forces` corrected by k2 = 1 − e/R: W. C. Young, Roark's Formulas for Stress and
    Strain, 7th ed., Table 9.2 — from memory, not seen — for "opposed"; the same correction of the
    mean moment derived here for "beam shear". The beam shear is lumped on the mean circle. Against
    :func:`.thick_ring.bore_hoop` at ν = 0.3 it is high under the load, where it leaves out the
    load's own local pressure: by 1.5, 3, 5, 10 % under opposed loads for walls of 0.1, 0.2, 0.3,
    0.5 radius, by 2, 5, 8, 16 % under beam shear; at 90° it is low by 3 % at most.

    >>> print(curved_beam_hoop(1000.0, 84.15, 21.95, 0.0, "opposed"))
    319.7
    """
    check.tube_wall(radius, wall)
    check.face(surface)
    bore = radius - wall
    mean = radius - wall / 2
    neutral = wall / np.log(radius / bore)
    shift = mean - neutral
    moment, normal = section_forces(line_load, mean, angle, held_by, shift)
    r = bore if surface == "bore" else radius
    lever: float = (neutral - r) / (wall * shift * r)
    bending: Array = moment * lever
    return normal / wall + bending
