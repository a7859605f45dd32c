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
from typing import Any

from contactfe.hand import check, flexure
from contactfe.hand.formula import Dimension, Given, Limit, at_least, at_most, formula
from contactfe.hand.round_section import (
    D3,
    D4,
    ROUND,
    area,
    elastic_modulus,
    plastic_modulus,
    second_moment,
)

SHORTEST = 2.0
"""Least length, in diameters, of a post taken as a cantilever: St-Venant's disturbance of the root
and of the contact each die out over about one. Common practice, no source."""

_SYMBOLS: dict[str, tuple[str, Dimension | None]] = {
    **ROUND,
    "contact_length": ("c", "length"),
    "moment": ("M", "moment"),
}

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


def _long_enough(_: float, **given: Any) -> tuple[Limit, ...]:
    return slenderness_limits(given["length"], given["outside_diameter"])


@formula(
    name="bending moment at the root",
    symbol="M",
    form="{force}·{length}",
    dimension="moment",
    source="statics",
)
def root_moment(force: float, length: float) -> float:
    """Bending moment M, N mm, at the root: FL, however the force is spread about its middle.

    ``force`` F in N, ``length`` L in mm from the root to the middle of the contact. Raises
    ValueError for a negative force or a length that is not positive.

    Source: statics.

    >>> print(root_moment(100e3, 600.0) / 1e6)
    60.0
    """
    check.not_negative(force=force)
    check.positive(length=length)
    return force * length


@formula(
    name="bending stress at the root",
    symbol="σb",
    form=f"32·{{force}}·{{length}}·{{outside_diameter}}/(π·{D4})",
    dimension="stress",
    given=_SYMBOLS,
    limits=_long_enough,
    source="beam theory",
)
def bending_stress(
    force: float, length: float, outside_diameter: float, bore: float = 0.0
) -> float:
    """Bending stress σb, MPa, at the root: FL/W, tension on the impacted side.

    Arguments and errors as in :func:`root_moment` and :func:`.round_section.area`. Valid while it
    stays below yield (:func:`yield_limits`), in a post of at least two diameters, without the
    stress concentration of the root's shape.

    Source: beam theory.

    >>> print(bending_stress(100e3, 600.0, 150.0, 100.0))
    225.657
    """
    return root_moment(force, length) / elastic_modulus(outside_diameter, bore)


@formula(
    name="moment at first yield",
    symbol="My",
    form=f"{{yield_strength}}·π/32·{D4}/{{outside_diameter}}",
    dimension="moment",
    given=_SYMBOLS,
    source="beam theory",
)
def yield_moment(yield_strength: float, outside_diameter: float, bore: float = 0.0) -> float:
    """Moment My, N mm, at which the farthest fibre of the root reaches yield: Y W.

    ``yield_strength`` Y in MPa; the rest and errors as in :func:`.round_section.area`. Raises
    ValueError for a strength that is not positive too.

    Source: beam theory.

    >>> print(yield_moment(345.0, 150.0, 100.0) / 1e6)
    91.732
    """
    check.positive(yield_strength=yield_strength)
    return yield_strength * elastic_modulus(outside_diameter, bore)


@formula(
    name="fully plastic moment",
    symbol="Mp",
    form=f"{{yield_strength}}·{D3}/6",
    dimension="moment",
    given=_SYMBOLS,
    source="beam theory, perfectly plastic steel",
)
def plastic_moment(yield_strength: float, outside_diameter: float, bore: float = 0.0) -> float:
    """Moment Mp, N mm, of the fully plastic root of perfectly plastic steel: Y Z.

    Reached only by a wall too thick to buckle before, without much shear: both are for the clauses
    of a standard to say. Arguments and errors as in :func:`yield_moment`.

    Source: beam theory.

    >>> print(plastic_moment(345.0, 150.0, 100.0) / 1e6)
    136.5625
    """
    check.positive(yield_strength=yield_strength)
    return yield_strength * plastic_modulus(outside_diameter, bore)


@formula(
    name="mean shear stress over the neutral axis",
    symbol="τm",
    form=f"16·{{force}}·{D3}/(3·π·{D4}·({{outside_diameter}} − {{bore}}))",
    dimension="stress",
    given=_SYMBOLS,
    source="Jourawski's VQ/(It): beam theory",
)
def mean_shear_stress(force: float, outside_diameter: float, bore: float = 0.0) -> float:
    """Mean shear stress τm, MPa, over the neutral axis: VQ/(It) of the handbooks.

    4V/(3A) of a solid round, 2V/A of a thin tube; V is the contact force F in N. The exact stress
    varies along the neutral axis about this mean, up to :func:`.flexure.solid_shear_stress` and
    :func:`.flexure.tube_shear_stress`. Raises ValueError for a negative force, and as
    :func:`.round_section.area`.

    Source: equilibrium, after Jourawski. Q = (D³ − d³)/12, t = D − d.

    >>> print(mean_shear_stress(100e3, 150.0, 100.0))
    19.8495
    """
    check.not_negative(force=force)
    first_moment = plastic_modulus(outside_diameter, bore) / 2
    return (
        force * first_moment / (second_moment(outside_diameter, bore) * (outside_diameter - bore))
    )


def _shear_stress(force: float, outside_diameter: float, bore: float, poisson: float) -> float:
    if bore == 0:
        return flexure.solid_shear_stress.plain(force, outside_diameter, poisson)
    return flexure.tube_shear_stress.plain(force, outside_diameter, bore, poisson)


def _root_stresses(**given: Any) -> dict[str, Given]:
    force, outside, bore = given["force"], given["outside_diameter"], given["bore"]
    bending = bending_stress.plain(force, given["length"], outside, bore)
    shear = _shear_stress(force, outside, bore, given["poisson"])
    return {
        "bending": Given("σb", bending, "stress"),
        "shear": Given("τ", shear, "stress"),
    }


@formula(
    name="von Mises stress at the root",
    symbol="σv",
    form="max({bending}, √(3)·{shear})",
    dimension="stress",
    given=_SYMBOLS,
    limits=_long_enough,
    parts=_root_stresses,
    note="σb is the bending stress at the root, τ the greatest shear stress of the section",
    source=flexure.SOURCE,
)
def root_von_mises(
    force: float, length: float, outside_diameter: float, bore: float, poisson: float
) -> float:
    """Greatest von Mises stress σv, MPa, of bending and transverse shear at the root.

    The farthest fibre has the bending stress and no shear, the neutral axis the shear and no
    bending; no point between has more than the greater of the two (measured over the section in
    the tests), so σv = max(σb, √3 τ). Shear governs only where the post is shorter than its own
    diameter. Arguments and errors as in :func:`bending_stress` and
    :func:`.flexure.tube_shear_stress`, with ``bore`` 0 for a solid round.

    Source: derived here from the field of St-Venant's flexure, :func:`.flexure.flexure_shear`.

    >>> print(root_von_mises(100e3, 600.0, 150.0, 100.0, 0.3))
    225.657
    """
    bending = bending_stress.plain(force, length, outside_diameter, bore)
    shear = _shear_stress(force, outside_diameter, bore, poisson)
    return max(bending, math.sqrt(3) * shear)


@formula(
    name="shear coefficient",
    symbol="κ",
    form=(
        "6·(1 + {poisson})·(1 + {ratio}²)²"
        "/((7 + 6·{poisson})·(1 + {ratio}²)² + (20 + 12·{poisson})·{ratio}²)"
    ),
    dimension=None,
    given=_SYMBOLS,
    parts=lambda **given: {"ratio": Given("m", given["bore"] / given["outside_diameter"])},
    note="m = d/D",
    source=_COWPER,
)
def shear_coefficient(outside_diameter: float, bore: float, poisson: float) -> float:
    """Shear coefficient κ of Timoshenko's beam: the post is as stiff in shear as GκA.

    6(1 + ν)(1 + m²)²/((7 + 6ν)(1 + m²)² + (20 + 12ν)m²) with m = d/D: 0.886 of a solid round and
    0.531 of a thin tube at ν = 0.3. Raises ValueError as :func:`.round_section.area`, and for ν
    outside [0, 0.5].

    Source: G. R. Cowper, The Shear Coefficient in Timoshenko's Beam Theory, J. Appl. Mech. 33
    (1966) — from memory, not seen.

    >>> print(shear_coefficient(150.0, 0.0, 0.3), shear_coefficient(150.0, 100.0, 0.3))
    0.88636 0.56410
    """
    check.bore(outside_diameter, bore)
    check.poisson_ratio(poisson=poisson)
    m2 = (bore / outside_diameter) ** 2
    full = (1 + m2) ** 2
    return 6 * (1 + poisson) * full / ((7 + 6 * poisson) * full + (20 + 12 * poisson) * m2)


def _beam(**given: Any) -> dict[str, Given]:
    D, d, nu = given["outside_diameter"], given["bore"], given["poisson"]
    return {
        "second_moment": Given("I", second_moment(D, d), "second moment of area"),
        "area": Given("A", area(D, d), "area"),
        "shear_modulus": Given("G", given["young"] / (2 * (1 + nu)), "stress"),
        "coefficient": Given("κ", shear_coefficient(D, d, nu)),
    }


@formula(
    name="deflection of the post at its contact",
    symbol="w",
    form=(
        "{force}·({length}³/3 + {contact_length}³/384)/({young}·{second_moment})"
        " + {force}·({length} − {contact_length}/8)/({coefficient}·{shear_modulus}·{area})"
    ),
    dimension="length",
    given=_SYMBOLS,
    limits=_long_enough,
    parts=_beam,
    note="G = E/(2·(1 + ν)); κ is the shear coefficient of the round",
    source=f"Timoshenko's beam; κ by {_COWPER}; the part of the contact length derived here",
)
def deflection(
    force: float,
    length: float,
    outside_diameter: float,
    bore: float,
    young: float,
    poisson: float,
    contact_length: float = 0.0,
) -> float:
    """Deflection w, mm, of the post in the middle of its contact, from bending and shear.

    F(L³/3 + c³/384)/(EI) + F(L − c/8)/(κGA). ``force`` F in N, ``length`` L in mm from the root to
    the middle of the contact, ``contact_length`` c in mm, over which the force is spread evenly,
    ``young`` E in MPa. The root is taken as rigid. Valid as :func:`bending_stress`. Raises
    ValueError as it and :func:`shear_coefficient` do, and for a modulus that is not positive or a
    contact length not in [0, 2L].

    Source: Timoshenko's beam with the coefficient of Cowper, 1966; the part of c derived here, by
    superposition over the contact length.

    >>> print(deflection(100e3, 600.0, 150.0, 100.0, 200e3, 0.3))
    1.946101
    """
    check.not_negative(force=force)
    check.positive(length=length, young=young)
    if not 0 <= contact_length <= 2 * length:
        raise ValueError(
            f"contact_length = {contact_length!r} is not allowed: it must lie in "
            f"[0, 2·length = {2 * length}]"
        )
    bend = young * second_moment(outside_diameter, bore)
    shear_modulus = young / (2 * (1 + poisson))
    shear = shear_coefficient(outside_diameter, bore, poisson) * shear_modulus
    shear *= area(outside_diameter, bore)
    bent = (length**3 / 3 + contact_length**3 / 384) / bend
    return force * (bent + (length - contact_length / 8) / shear)


@formula(
    name="stiffness of the post at its contact",
    symbol="kp",
    form=(
        "1/({length}³/(3·{young}·{second_moment})"
        " + {length}/({coefficient}·{shear_modulus}·{area}))"
    ),
    dimension="stiffness",
    given=_SYMBOLS,
    limits=_long_enough,
    parts=_beam,
    note="G = E/(2·(1 + ν)); κ is the shear coefficient of the round",
    source=f"Timoshenko's beam; κ by {_COWPER}",
)
def stiffness(
    length: float, outside_diameter: float, bore: float, young: float, poisson: float
) -> float:
    """Stiffness kp, N/mm, of the post against a force at ``length``: F/w of :func:`deflection`.

    Arguments, validity, source and errors as there.

    >>> print(stiffness(600.0, 150.0, 100.0, 200e3, 0.3))
    51384.80
    """
    return 1 / deflection.plain(1.0, length, outside_diameter, bore, young, poisson)
