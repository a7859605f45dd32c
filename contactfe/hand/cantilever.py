"""The post as a cantilever: a solid or hollow round, held at its root, struck near its end.

The contact force F acts across the post at ``length`` from the root, the middle of the contact.
Spread evenly over a contact length it bends the root no more; the deflection hardly changes. What
the blow does at its own place (the dent, the bending of the wall as a ring) comes in addition, and
so does what the root's own shape does: a fillet, a weld, a hole.

Valid for an elastic post of at least two diameters (:func:`slenderness_limits`): shorter ones are
marked. Bending stress is M/W at the farthest fibre; transverse shear is that of St-Venant's
flexure, the field of :mod:`.flexure`, which holds about a diameter away from root and contact.
"""

import math
from typing import Any

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Given, Limit, at_least, at_most, formula

SHORTEST = 2.0
"""Least length, in diameters, of a post taken as a cantilever: St-Venant's disturbance of the root
and of the contact each die out over about one. Common practice, no source."""

_ROUND: dict[str, tuple[str, Dimension | None]] = {
    "outside_diameter": ("D", "length"),
    "bore": ("d", "length"),
    "contact_length": ("c", "length"),
    "moment": ("M", "moment"),
}
_SECTION = "geometry of the circle"
_D4 = "({outside_diameter}⁴ − {bore}⁴)"
_D3 = "({outside_diameter}³ − {bore}³)"
_COWPER = (
    "G. R. Cowper, The Shear Coefficient in Timoshenko's Beam Theory, J. Appl. Mech. 33 (1966):"
    " from memory, not seen"
)
_FLEXURE = "derived here from the field of St-Venant's flexure (hand/flexure.py)"


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
    name="area of the section",
    symbol="A",
    form="π/4·({outside_diameter}² − {bore}²)",
    dimension="area",
    given=_ROUND,
    source=_SECTION,
)
def area(outside_diameter: float, bore: float = 0.0) -> float:
    """Area A, mm², of a solid (bore 0) or hollow round: π(D² − d²)/4.

    ``outside_diameter`` D and ``bore`` d in mm, as everywhere here. Raises ValueError for a
    diameter that is not positive or a bore not in [0, D).

    Source: geometry.

    >>> print(area(150.0, 100.0))
    9817.477
    """
    _check(outside_diameter, bore)
    return math.pi / 4 * (outside_diameter**2 - bore**2)


@formula(
    name="second moment of area",
    symbol="I",
    form=f"π/64·{_D4}",
    dimension="second moment of area",
    given=_ROUND,
    source=_SECTION,
)
def second_moment(outside_diameter: float, bore: float = 0.0) -> float:
    """Second moment of area I, mm⁴: π(D⁴ − d⁴)/64. Arguments and errors as in :func:`area`.

    Source: geometry.

    >>> print(second_moment(150.0, 100.0) / 1e6)
    19.94175
    """
    _check(outside_diameter, bore)
    return math.pi / 64 * (outside_diameter**4 - bore**4)


@formula(
    name="elastic section modulus",
    symbol="W",
    form=f"π/32·{_D4}/{{outside_diameter}}",
    dimension="section modulus",
    given=_ROUND,
    source=_SECTION,
)
def elastic_modulus(outside_diameter: float, bore: float = 0.0) -> float:
    """Elastic section modulus W, mm³: π(D⁴ − d⁴)/(32D). Arguments and errors as in :func:`area`.

    Source: geometry.

    >>> print(elastic_modulus(150.0, 100.0) / 1e3)
    265.8900
    """
    return second_moment(outside_diameter, bore) / (outside_diameter / 2)


@formula(
    name="plastic section modulus",
    symbol="Z",
    form=f"{_D3}/6",
    dimension="section modulus",
    given=_ROUND,
    source=_SECTION,
)
def plastic_modulus(outside_diameter: float, bore: float = 0.0) -> float:
    """Plastic section modulus Z, mm³: (D³ − d³)/6. Arguments and errors as in :func:`area`.

    Source: geometry: twice the first moment of half the section.

    >>> print(plastic_modulus(150.0, 100.0) / 1e3)
    395.8333
    """
    _check(outside_diameter, bore)
    return (outside_diameter**3 - bore**3) / 6


@formula(
    name="shape factor",
    symbol="Z/W",
    form=f"16/(3·π)·{{outside_diameter}}·{_D3}/{_D4}",
    dimension=None,
    given=_ROUND,
    source=_SECTION,
)
def shape_factor(outside_diameter: float, bore: float = 0.0) -> float:
    """Plastic over elastic section modulus: 1.698 of a solid round, 4/π of a thin tube.

    Arguments and errors as in :func:`area`. Source: geometry.

    >>> print(shape_factor(150.0), shape_factor(150.0, 100.0))
    1.6977 1.4887
    """
    return plastic_modulus(outside_diameter, bore) / elastic_modulus(outside_diameter, bore)


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
    form=f"32·{{force}}·{{length}}·{{outside_diameter}}/(π·{_D4})",
    dimension="stress",
    given=_ROUND,
    limits=_long_enough,
    source="beam theory",
)
def bending_stress(
    force: float, length: float, outside_diameter: float, bore: float = 0.0
) -> float:
    """Bending stress σb, MPa, at the root: FL/W, tension on the struck side.

    Arguments and errors as in :func:`root_moment` and :func:`area`. Valid while it stays below
    yield (:func:`yield_limits`), in a post of at least two diameters, without the stress
    concentration of the root's shape.

    Source: beam theory.

    >>> print(bending_stress(100e3, 600.0, 150.0, 100.0))
    225.657
    """
    return root_moment(force, length) / elastic_modulus(outside_diameter, bore)


@formula(
    name="moment at first yield",
    symbol="My",
    form=f"{{yield_strength}}·π/32·{_D4}/{{outside_diameter}}",
    dimension="moment",
    given=_ROUND,
    source="beam theory",
)
def yield_moment(yield_strength: float, outside_diameter: float, bore: float = 0.0) -> float:
    """Moment My, N mm, at which the farthest fibre of the root reaches yield: Y W.

    ``yield_strength`` Y in MPa; the rest and errors as in :func:`area`. Raises ValueError for a
    strength that is not positive too.

    Source: beam theory.

    >>> print(yield_moment(345.0, 150.0, 100.0) / 1e6)
    91.732
    """
    check.positive(yield_strength=yield_strength)
    return yield_strength * elastic_modulus(outside_diameter, bore)


@formula(
    name="fully plastic moment",
    symbol="Mp",
    form=f"{{yield_strength}}·{_D3}/6",
    dimension="moment",
    given=_ROUND,
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
    form=f"16·{{force}}·{_D3}/(3·π·{_D4}·({{outside_diameter}} − {{bore}}))",
    dimension="stress",
    given=_ROUND,
    source="Jourawski's VQ/(It): beam theory",
)
def mean_shear_stress(force: float, outside_diameter: float, bore: float = 0.0) -> float:
    """Mean shear stress τm, MPa, over the neutral axis: VQ/(It) of the handbooks.

    4V/(3A) of a solid round, 2V/A of a thin tube; V is the contact force F in N. The exact stress
    varies along the neutral axis about this mean, up to :func:`solid_shear_stress` and
    :func:`tube_shear_stress`. Raises ValueError for a negative force, and as :func:`area`.

    Source: equilibrium, after Jourawski. Q = (D³ − d³)/12, t = D − d.

    >>> print(mean_shear_stress(100e3, 150.0, 100.0))
    19.8495
    """
    check.not_negative(force=force)
    first_moment = plastic_modulus(outside_diameter, bore) / 2
    return (
        force * first_moment / (second_moment(outside_diameter, bore) * (outside_diameter - bore))
    )


@formula(
    name="greatest shear stress, solid round",
    symbol="τ",
    form="(3 + 2·{poisson})/(2·(1 + {poisson}))·4·{force}/(π·{outside_diameter}²)",
    dimension="stress",
    given=_ROUND,
    source=(
        "S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., bending of bars,"
        " circular section: from memory, not seen"
    ),
)
def solid_shear_stress(force: float, outside_diameter: float, poisson: float) -> float:
    """Greatest transverse shear stress τ, MPa, of a solid round: (3 + 2ν)/(2(1 + ν)) F/A.

    At the centre; 1.385 F/A at ν = 0.3, against 4/3 of the mean. Raises ValueError for a negative
    force, a diameter that is not positive or ν outside [0, 0.5].

    Source: S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., bending of bars,
    circular section — from memory, not seen; it is that of :func:`.flexure.flexure_shear`.

    >>> print(solid_shear_stress(100e3, 150.0, 0.3))
    7.8353
    """
    check.not_negative(force=force)
    check.poisson_ratio(poisson=poisson)
    return (3 + 2 * poisson) / (2 * (1 + poisson)) * force / area(outside_diameter)


@formula(
    name="greatest shear stress, tube",
    symbol="τ",
    form=(
        "2·{force}·((3 + 2·{poisson})·(2·{outside_diameter}² + {bore}²)"
        f" − (1 − 2·{{poisson}})·{{bore}}²)/(π·{_D4}·(1 + {{poisson}}))"
    ),
    dimension="stress",
    given=_ROUND,
    source=_FLEXURE,
)
def tube_shear_stress(force: float, outside_diameter: float, bore: float, poisson: float) -> float:
    """Greatest transverse shear stress τ, MPa, of a tube of any wall.

    It lies at the bore, on the neutral axis. 2F/A of a thin tube, and twice that of a solid round
    for a bore as small as a pinhole, which concentrates it. ``force`` F in N, ``outside_diameter``
    D and ``bore`` d in mm. Raises ValueError for a negative force, a bore not in (0, D) or ν
    outside [0, 0.5].

    Source: derived here from the field of St-Venant's flexure, :func:`.flexure.flexure_shear`.

    >>> print(tube_shear_stress(100e3, 150.0, 100.0, 0.3))
    23.3854
    """
    check.not_negative(force=force)
    check.positive(bore=bore)
    _check(outside_diameter, bore)
    check.poisson_ratio(poisson=poisson)
    D, d = outside_diameter, bore
    spread = (3 + 2 * poisson) * (2 * D**2 + d**2) - (1 - 2 * poisson) * d**2
    return 2 * force * spread / (math.pi * (D**4 - d**4) * (1 + poisson))


def _shear_stress(force: float, outside_diameter: float, bore: float, poisson: float) -> float:
    if bore == 0:
        return solid_shear_stress.plain(force, outside_diameter, poisson)
    return tube_shear_stress.plain(force, outside_diameter, bore, poisson)


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
    given=_ROUND,
    limits=_long_enough,
    parts=_root_stresses,
    note="σb is the bending stress at the root, τ the greatest shear stress of the section",
    source=_FLEXURE,
)
def root_von_mises(
    force: float, length: float, outside_diameter: float, bore: float, poisson: float
) -> float:
    """Greatest von Mises stress σv, MPa, of bending and transverse shear at the root.

    The farthest fibre has the bending stress and no shear, the neutral axis the shear and no
    bending; no point between has more than the greater of the two (measured over the section in
    the tests), so σv = max(σb, √3 τ). Shear governs only where the post is shorter than its own
    diameter. Arguments and errors as in :func:`bending_stress` and :func:`tube_shear_stress`, with
    ``bore`` 0 for a solid round.

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
    given=_ROUND,
    parts=lambda **given: {"ratio": Given("m", given["bore"] / given["outside_diameter"])},
    note="m = d/D",
    source=_COWPER,
)
def shear_coefficient(outside_diameter: float, bore: float, poisson: float) -> float:
    """Shear coefficient κ of Timoshenko's beam: the post is as stiff in shear as GκA.

    6(1 + ν)(1 + m²)²/((7 + 6ν)(1 + m²)² + (20 + 12ν)m²) with m = d/D: 0.886 of a solid round and
    0.531 of a thin tube at ν = 0.3. Raises ValueError as :func:`area`, and for ν outside [0, 0.5].

    Source: G. R. Cowper, The Shear Coefficient in Timoshenko's Beam Theory, J. Appl. Mech. 33
    (1966) — from memory, not seen.

    >>> print(shear_coefficient(150.0, 0.0, 0.3), shear_coefficient(150.0, 100.0, 0.3))
    0.88636 0.56410
    """
    _check(outside_diameter, bore)
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
    given=_ROUND,
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
    given=_ROUND,
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


def _check(outside_diameter: float, bore: float) -> None:
    check.positive(outside_diameter=outside_diameter)
    if not 0 <= bore < outside_diameter:
        raise ValueError(
            f"bore = {bore!r} is not allowed: it must lie in "
            f"[0, outside_diameter = {outside_diameter})"
        )
