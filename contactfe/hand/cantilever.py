"""The post as a cantilever: a solid or hollow round, held at its root, struck near its end.

The contact force F acts across the post at ``length`` from the root, the middle of the contact.
Spread evenly over a contact length it bends the root no more; the deflection hardly changes. The
local effect of the impact (the dent, the bending of the wall as a ring) comes in addition, and so
does that of the shape of the root: a fillet, a weld, a hole.

Valid for an elastic post of at least two diameters (:func:`slenderness_limits`): shorter ones are
marked. Bending stress is M/W at the farthest fibre; transverse shear is that of St-Venant's
flexure, the field of :mod:`.flexure`, which holds about a diameter away from root and contact.
"""

import math
from functools import partial
from typing import Annotated

from contactfe.hand import check, flexure
from contactfe.hand.formula import Limit, at_least, at_most, formula, limited, shown
from contactfe.hand.quantities import (
    UNCHECKED,
    Force,
    Length,
    Moment,
    Number,
    Poisson,
    Stiffness,
    Stress,
)
from contactfe.hand.round_section import Bore, area, second_moment

SHORTEST = 2.0
"""Least length, in diameters, of a post taken as a cantilever: St-Venant's disturbance of the root
and of the contact each die out over about one. Common practice, no source."""

_COWPER = (
    "G. R. Cowper, The Shear Coefficient in Timoshenko's Beam Theory, J. Appl. Mech. 33 (1966):"
    " from memory, not seen"
)


def slenderness_limits(length: float, outside_diameter: float) -> tuple[Limit, ...]:
    """Whether the post is long enough to be a beam: L/D, at least two.

    ``length`` L and ``outside_diameter`` D in mm. To be added, by :meth:`.Worked.also`, to figures
    whose own arguments do not tell the length. Raises ValueError for one that is not positive.

    Source of the bound: common practice, no source (:data:`SHORTEST`).
    """
    check.positive(length=length, outside_diameter=outside_diameter)
    return (at_least("L/D", length / outside_diameter, SHORTEST),)


def yield_limits(stress: float, yield_strength: float) -> tuple[Limit, ...]:
    """Whether the root stays elastic: greatest von Mises stress over yield strength, at most 1.

    Both in MPa. For the stress of bending alone it is M/My. Raises ValueError for a strength that
    is not positive.
    """
    check.positive(yield_strength=yield_strength)
    return (at_most("σ/Y", abs(stress) / yield_strength, 1.0),)


_timoshenko = partial(formula, note="G = E/(2·(1 + ν)); κ is the shear coefficient of the round")


@formula("bending moment at the root", "M", source="statics")
def root_moment(force: Force, length: Length) -> Moment:
    """Bending moment at the root, however the force is spread about the middle of the contact.

    >>> print(root_moment(100e3, 600.0) / 1e6)
    60.0
    """
    return force * length


@formula("bending stress at the root", "σb", source="beam theory")
def bending_stress(
    force: Force, length: Length, outside_diameter: Length, bore: Bore = 0.0
) -> Stress:
    """Bending stress at the root, tension on the impacted side.

    Valid while it stays below yield (:func:`yield_limits`), in a post of at least two diameters,
    without the stress concentration of the root's shape.

    >>> print(bending_stress(100e3, 600.0, 150.0, 100.0))
    225.657
    """
    check.bore(outside_diameter, bore)
    limited(*slenderness_limits(length, outside_diameter))
    D4 = outside_diameter**4 - bore**4
    return 32 * force * length * outside_diameter / (math.pi * D4)


def _shear_stress(force: float, outside_diameter: float, bore: float, poisson: float) -> float:
    if bore == 0:
        return flexure.solid_shear_stress.plain(force, outside_diameter, poisson)
    return flexure.tube_shear_stress.plain(force, outside_diameter, bore, poisson)


@formula(
    "von Mises stress at the root",
    "σv",
    note="σb is the bending stress at the root, τ the greatest shear stress of the section",
    source=flexure.SOURCE,
)
def root_von_mises(
    force: Force, length: Length, outside_diameter: Length, bore: Bore, poisson: Poisson
) -> Stress:
    """Greatest von Mises stress of bending and transverse shear at the root.

    The farthest fibre has the bending stress and no shear, the neutral axis the shear and no
    bending; no point between has more than the greater of the two (measured over the section in
    the tests). Shear governs only where the post is shorter than its own diameter. ``bore`` is 0 of
    a solid round.

    >>> print(root_von_mises(100e3, 600.0, 150.0, 100.0, 0.3))
    225.657
    """
    limited(*slenderness_limits(length, outside_diameter))
    bending = bending_stress.plain(force, length, outside_diameter, bore)
    bending = shown("bending", bending, "σb", "stress")
    shear = shown("shear", _shear_stress(force, outside_diameter, bore, poisson), "τ", "stress")
    return max(bending, math.sqrt(3) * shear)


@formula("shear coefficient", "κ", note="m = d/D", source=_COWPER)
def shear_coefficient(outside_diameter: Length, bore: Bore, poisson: Poisson) -> Number:
    """Shear coefficient of Timoshenko's beam: the post is as stiff in shear as GκA.

    0.886 of a solid round and 0.531 of a thin tube at ν = 0.3.

    >>> print(shear_coefficient(150.0, 0.0, 0.3), shear_coefficient(150.0, 100.0, 0.3))
    0.88636 0.56410
    """
    check.bore(outside_diameter, bore)
    ratio = shown("ratio", bore / outside_diameter, "m")
    full = (1 + ratio**2) ** 2
    below = (7 + 6 * poisson) * full + (20 + 12 * poisson) * ratio**2
    return 6 * (1 + poisson) * full / below


def _beam(
    outside_diameter: float, bore: float, young: float, poisson: float
) -> tuple[float, float, float, float]:
    """Second moment of area, shear coefficient, shear modulus and area."""
    coefficient = shear_coefficient.plain(outside_diameter, bore, poisson)
    modulus = young / (2 * (1 + poisson))
    I, A = second_moment.plain(outside_diameter, bore), area.plain(outside_diameter, bore)
    return (
        shown("second_moment", I, "I", "second moment of area"),
        shown("coefficient", coefficient, "κ"),
        shown("shear_modulus", modulus, "G", "stress"),
        shown("area", A, "A", "area"),
    )


@_timoshenko(
    "deflection of the post at its contact",
    "w",
    source=f"Timoshenko's beam; κ by {_COWPER}; the part of the contact length derived here",
)
def deflection(
    force: Force,
    length: Length,
    outside_diameter: Length,
    bore: Bore,
    young: Stress,
    poisson: Poisson,
    contact_length: Annotated[Length, UNCHECKED, "c"] = 0.0,
) -> Length:
    """Deflection of the post in the middle of its contact, from bending and shear.

    The force is spread evenly over the contact length; its part is by superposition. The root is
    taken as rigid. Valid as :func:`bending_stress`. Raises ValueError for a contact length not in
    [0, 2L].

    >>> print(deflection(100e3, 600.0, 150.0, 100.0, 200e3, 0.3))
    1.946101
    """
    if not 0 <= contact_length <= 2 * length:
        raise ValueError(
            f"contact_length = {contact_length!r} is not allowed: it must lie in "
            f"[0, 2·length = {2 * length}]"
        )
    limited(*slenderness_limits(length, outside_diameter))
    second_moment, coefficient, shear_modulus, area = _beam(outside_diameter, bore, young, poisson)
    bent = (length**3 / 3 + contact_length**3 / 384) / (young * second_moment)
    return force * bent + force * (length - contact_length / 8) / (
        coefficient * shear_modulus * area
    )


@_timoshenko(
    "stiffness of the post at its contact", "kp", source=f"Timoshenko's beam; κ by {_COWPER}"
)
def stiffness(
    length: Length, outside_diameter: Length, bore: Bore, young: Stress, poisson: Poisson
) -> Stiffness:
    """Stiffness of the post against a force at ``length``: that of :func:`deflection`.

    >>> print(stiffness(600.0, 150.0, 100.0, 200e3, 0.3))
    51384.80
    """
    limited(*slenderness_limits(length, outside_diameter))
    second_moment, coefficient, shear_modulus, area = _beam(outside_diameter, bore, young, poisson)
    bent = length**3 / (3 * young * second_moment)
    sheared = length / (coefficient * shear_modulus * area)
    return 1 / (bent + sheared)
