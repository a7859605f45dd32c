"""EN 1993-1-1, Design of steel structures: yield at a point, bending and shear of a round post.

From memory, not seen. Partial factors are NDPs (nationally determined parameters); the default is
the recommended value. Clauses for ``wall=None`` are those of a solid round.
"""

import math
from dataclasses import replace
from types import MappingProxyType

from contactfe.codes import tube
from contactfe.codes.clause import UNITY, Clause, ClauseCheck, Symbols, stated
from contactfe.codes.scope import european_strength
from contactfe.hand import cantilever, check
from contactfe.hand.formula import Limit, Worked, at_most, formula

_STANDARD, _EDITION = "EN 1993-1-1", "2005"
_UNSEEN = "from memory, not seen"
_SOURCE = "EN 1993-1-1:2005, {}: from memory, not seen"
_SYMBOLS: Symbols = MappingProxyType(
    {
        "yield_strength": ("fy", "stress"),
        "design_strength": ("fyd", "stress"),
        "gamma_M0": ("γM0", None),
        "modulus": ("W", "section modulus"),
        "area": ("A", "area"),
        "shear_area": ("Av", "area"),
        "shear": ("VEd", "force"),
        "shear_resistance": ("VRd", "force"),
        "reduction": ("ρ", None),
        "stress_x": ("σx,Ed", "stress"),
        "stress_z": ("σz,Ed", "stress"),
        "shear_stress": ("τEd", "stress"),
    }
)


# 6.2.1(5), yield at a point

YIELD_AT_A_POINT = Clause(
    key="en_1993_1_1.6_2_1_5",
    standard=_STANDARD,
    edition=_EDITION,
    number="6.2.1(5), eq. 6.1",
    title="yield at a critical point of a section",
    written_for="A point of a member's cross section under longitudinal, transverse and shear"
    " stress, by elastic verification.",
    carries="It carries to the post away from the contact, as at its root. Right below the contact"
    " all three normal stresses count and the form with two does not hold.",
    reach="as written",
    text=_UNSEEN,
)

EQUIVALENT_STRESS = Clause(
    key="en_1993_1_1.6_2_1_5_by_analogy",
    standard=_STANDARD,
    edition=_EDITION,
    number="6.2.1(5) by analogy",
    title="von Mises stress of a field against the design strength",
    written_for="Eq. 6.1 is the criterion of von Mises for two normal stresses and a shear stress"
    " in a member; here the von Mises stress of all six is held against the same strength.",
    carries="It carries as a measure of first yield, at any point of post and plate. A contact that"
    " passes it below its surface has yielded at a point and is not spent.",
    reach="by analogy",
    text=_UNSEEN,
)


@formula(
    name="design strength",
    symbol="fyd",
    form="{yield_strength}/{gamma_M0}",
    dimension="stress",
    source=_SOURCE.format("6.2.1(5)"),
    given=_SYMBOLS,
)
def design_strength(yield_strength: float, gamma_M0: float = 1.0) -> float:
    """Strength fy/γM0, MPa. Raises ValueError for values that are not positive.

    Source: EN 1993-1-1:2005, 6.2.1(5), from memory, not seen.

    >>> print(design_strength(355.0), design_strength(355.0, 1.1))
    355.0 322.727
    """
    check.positive(yield_strength=yield_strength, gamma_M0=gamma_M0)
    return yield_strength / gamma_M0


@formula(
    name="yield criterion",
    symbol="f",
    form="({stress_x}/{design_strength})² + ({stress_z}/{design_strength})²"
    " − ({stress_x}/{design_strength})·({stress_z}/{design_strength})"
    " + 3·({shear_stress}/{design_strength})²",
    dimension=None,
    source=_SOURCE.format("eq. 6.1"),
    given=_SYMBOLS,
)
def yield_criterion(
    stress_x: float, stress_z: float, shear_stress: float, design_strength: float
) -> float:
    """Left side of eq. 6.1, the square of von Mises stress over strength; 1 at first yield.

    Longitudinal σx and transverse σz, tension positive, and shear τ, all in MPa. Raises ValueError
    for stresses that are not finite or a strength that is not positive. Source: EN 1993-1-1:2005,
    eq. 6.1, from memory, not seen.

    >>> print(yield_criterion(200.0, -100.0, 50.0, 355.0))
    0.614957
    """
    for name, value in (("stress_x", stress_x), ("stress_z", stress_z), ("shear", shear_stress)):
        if not math.isfinite(value):
            raise ValueError(f"{name} = {value!r} is not allowed: it must be finite")
    check.positive(design_strength=design_strength)
    x, z, t = (stress / design_strength for stress in (stress_x, stress_z, shear_stress))
    return x * x + z * z - x * z + 3 * t * t


def yield_at_a_point(
    stress_x: float,
    stress_z: float,
    shear_stress: float,
    yield_strength: float,
    gamma_M0: float = 1.0,
) -> ClauseCheck:
    """6.2.1(5): yield at a point under two normal stresses and a shear stress.

    Stresses σx along and σz across the member, tension positive, and τ, in MPa; ``yield_strength``
    fy in MPa; ``gamma_M0`` is an NDP, recommended 1.0. The ratio grows with the square of the
    stresses. Raises ValueError for stresses that are not finite or values that are not positive.

    Source: EN 1993-1-1:2005, 6.2.1(5), eq. 6.1, from memory, not seen.

    >>> print(round(yield_at_a_point(200.0, -100.0, 50.0, 355.0).ratio, 4))
    0.615
    """
    strength = design_strength.worked(yield_strength, gamma_M0)
    return ClauseCheck(
        clause=YIELD_AT_A_POINT,
        demand=yield_criterion.worked(stress_x, stress_z, shear_stress, strength.value),
        resistance=UNITY,
        steps=(strength,),
        scope=european_strength(yield_strength),
    )


def equivalent_stress(
    von_mises: float, yield_strength: float, gamma_M0: float = 1.0
) -> ClauseCheck:
    """Von Mises stress anywhere in post or plate against fy/γM0, by analogy with 6.2.1(5).

    ``von_mises`` and ``yield_strength`` fy in MPa; ``gamma_M0`` is an NDP, recommended 1.0. Raises
    ValueError for a negative stress or values that are not positive.

    Source: EN 1993-1-1:2005, 6.2.1(5), from memory, not seen; by analogy, see
    :data:`EQUIVALENT_STRESS`.

    >>> print(round(equivalent_stress(300.0, 355.0).ratio, 4))
    0.8451
    """
    return ClauseCheck(
        clause=EQUIVALENT_STRESS,
        demand=stated("von Mises stress", "σv", von_mises, "stress"),
        resistance=design_strength.worked(yield_strength, gamma_M0),
        scope=european_strength(yield_strength),
    )


# 6.2.5, bending

BENDING = Clause(
    key="en_1993_1_1.6_2_5",
    standard=_STANDARD,
    edition=_EDITION,
    number="6.2.5, eqs 6.13 and 6.14, Table 5.2",
    title="bending of a round section",
    written_for="Bending of members, with the plastic modulus in classes 1 and 2 and the elastic"
    " one in class 3. A solid round has no wall that could buckle and is taken as class 1.",
    carries="It carries to the post as a cantilever. It does not see the ring bending of the wall"
    " at the contact, which acts at the same time where the contact is near the root.",
    reach="as written",
    text=_UNSEEN,
)


@formula(
    name="strength ratio of the section classes",
    symbol="ε",
    form="√(235/{yield_strength})",
    dimension=None,
    source=_SOURCE.format("Table 5.2"),
    given=_SYMBOLS,
    units="SI",
)
def epsilon(yield_strength: float) -> float:
    """Ratio ε = √(235/fy), with fy in MPa. Raises ValueError unless fy is positive.

    Source: EN 1993-1-1:2005, Table 5.2, from memory, not seen.

    >>> print(epsilon(355.0))
    0.813617
    """
    check.positive(yield_strength=yield_strength)
    return math.sqrt(235 / yield_strength)


@formula(
    name="class of a tube in bending",
    symbol="class",
    form=None,
    dimension=None,
    source=_SOURCE.format("Table 5.2, sheet 3"),
    given={**_SYMBOLS, "wall": ("t", "length")},
    note="Class 1, 2 or 3 up to D/t = 50 ε², 70 ε² or 90 ε², class 4 beyond.",
)
def tube_class(outside_diameter: float, wall: float, yield_strength: float) -> int:
    """Class of a tube in bending: 1, 2 or 3 up to D/t = 50 ε², 70 ε² or 90 ε², and 4 beyond.

    Sizes in mm, fy in MPa. Raises ValueError for values that are not positive or a wall that does
    not fit. Source: EN 1993-1-1:2005, Table 5.2, sheet 3, from memory, not seen.

    >>> tube_class(219.1, 10.0, 355.0), tube_class(508.0, 10.0, 355.0)
    (1, 3)
    """
    ratio = tube.slenderness(outside_diameter, wall)
    bounds = [coefficient * epsilon(yield_strength) ** 2 for coefficient in (50, 70, 90)]
    return 1 + sum(ratio > bound for bound in bounds)


@formula(
    name="moment resistance",
    symbol="Mc,Rd",
    form="{modulus}·{yield_strength}/{gamma_M0}",
    dimension="moment",
    source=_SOURCE.format("eqs 6.13 and 6.14"),
    given=_SYMBOLS,
)
def moment_resistance(modulus: float, yield_strength: float, gamma_M0: float = 1.0) -> float:
    """Resistance Mc,Rd = W fy/γM0, N·mm; W is Wpl in classes 1 and 2 and Wel in class 3, mm³.

    fy in MPa. Raises ValueError for values that are not positive. Source: EN 1993-1-1:2005, eqs
    6.13 and 6.14, from memory, not seen.

    >>> print(moment_resistance(1000.0, 355.0))
    355000.0
    """
    check.positive(modulus=modulus, yield_strength=yield_strength, gamma_M0=gamma_M0)
    return modulus * yield_strength / gamma_M0


def bending(
    moment: float,
    outside_diameter: float,
    yield_strength: float,
    wall: float | None = None,
    gamma_M0: float = 1.0,
) -> ClauseCheck:
    """6.2.5: bending of a tube or, without a ``wall``, a solid round.

    ``moment`` MEd in N·mm, sizes in mm, ``yield_strength`` fy in MPa; ``gamma_M0`` is an NDP,
    recommended 1.0. Tubes of class 4 (D/t over 90 ε²) are out of scope: EN 1993-1-6 covers them.
    Raises ValueError for a negative moment, values that are not positive or a wall that does not
    fit.

    Source: EN 1993-1-1:2005, 6.2.5 and Table 5.2, from memory, not seen.

    >>> print(bending(100e6, 219.1, 355.0, 10.0).resistance)
    Mc,Rd = W·fy/γM0 = 437561 mm³·355 MPa/1 = 1.5533e+08 N·mm
    """
    modulus, steps, scope = _classified(outside_diameter, wall, yield_strength)
    return ClauseCheck(
        clause=BENDING,
        demand=stated("moment", "MEd", moment, "moment"),
        resistance=moment_resistance.worked(modulus.value, yield_strength, gamma_M0),
        steps=steps,
        scope=(*scope, *european_strength(yield_strength)),
    )


def _classified(
    outside_diameter: float, wall: float | None, yield_strength: float
) -> tuple[Worked, tuple[Worked, ...], tuple[Limit, ...]]:
    """The section modulus that counts, the steps to it with it as the last, and the class limit."""
    bore = tube.bore(outside_diameter, wall)
    plastic = cantilever.plastic_modulus.worked(outside_diameter, bore)
    if wall is None:
        modulus = replace(plastic, symbol="Wpl")
        return modulus, (modulus,), ()
    ratio = tube.slenderness.worked(outside_diameter, wall)
    eps = epsilon.worked(yield_strength)
    elastic = cantilever.elastic_modulus.worked(outside_diameter, bore)
    found = tube_class.worked(outside_diameter, wall, yield_strength)
    whole = found.value <= 2
    modulus = replace(plastic, symbol="Wpl") if whole else replace(elastic, symbol="Wel")
    limit = at_most("D/t, class 3", ratio.value, 90 * eps.value**2)
    return modulus, (ratio, eps, found, modulus), (limit,)


# 6.2.6, shear

TUBE_SHEAR = Clause(
    key="en_1993_1_1.6_2_6_tube",
    standard=_STANDARD,
    edition=_EDITION,
    number="6.2.6(2) and (3)g, eq. 6.18",
    title="shear of a circular hollow section",
    written_for="Shear of members of circular hollow section with a wall of even thickness, with"
    " the whole wall at yield.",
    carries="It carries to a tubular post between the contact and its root. The force that a short"
    " contact length puts into the wall is not in it.",
    reach="as written",
    text=_UNSEEN,
)

SOLID_SHEAR = Clause(
    key="en_1993_1_1.6_2_6_solid",
    standard=_STANDARD,
    edition=_EDITION,
    number="6.2.6(4), eqs 6.19 and 6.20",
    title="shear of a solid round, elastic",
    written_for="Shear at a critical point of any section, by elastic verification; no shear area"
    " is given for a solid round, so this is the form that covers it.",
    carries="It carries to a solid post between the contact and its root.",
    reach="as written",
    text=_UNSEEN,
)


@formula(
    name="shear area of a circular hollow section",
    symbol="Av",
    form="2·{area}/π",
    dimension="area",
    source=_SOURCE.format("6.2.6(3)g"),
    given=_SYMBOLS,
)
def tube_shear_area(area: float) -> float:
    """Shear area Av = 2A/π, mm², of a tube of area A in mm². Raises ValueError unless positive.

    Source: EN 1993-1-1:2005, 6.2.6(3)g, from memory, not seen.

    >>> print(tube_shear_area(1000.0))
    636.6198
    """
    check.positive(area=area)
    return 2 * area / math.pi


@formula(
    name="plastic shear resistance",
    symbol="Vpl,Rd",
    form="{shear_area}·{yield_strength}/(√(3)·{gamma_M0})",
    dimension="force",
    source=_SOURCE.format("eq. 6.18"),
    given=_SYMBOLS,
)
def shear_resistance(shear_area: float, yield_strength: float, gamma_M0: float = 1.0) -> float:
    """Resistance Vpl,Rd = Av fy/(√3 γM0), N, with Av in mm² and fy in MPa.

    Raises ValueError for values that are not positive. Source: EN 1993-1-1:2005, eq. 6.18, from
    memory, not seen.

    >>> print(shear_resistance(1000.0, 355.0))
    204959.3
    """
    check.positive(shear_area=shear_area, yield_strength=yield_strength, gamma_M0=gamma_M0)
    return shear_area * yield_strength / (math.sqrt(3) * gamma_M0)


@formula(
    name="greatest shear stress of a solid round",
    symbol="τEd",
    form="4·{shear}/(3·{area})",
    dimension="stress",
    source=_SOURCE.format("eq. 6.20 with S/(I t) of a solid round at its middle"),
    given=_SYMBOLS,
)
def solid_shear_stress(shear: float, area: float) -> float:
    """Stress τEd = VEd S/(I t) = 4V/(3A), MPa, in the middle of a solid round, V in N, A in mm².

    Raises ValueError for a negative force or an area that is not positive. Source: EN
    1993-1-1:2005, eq. 6.20, from memory, not seen.

    >>> print(solid_shear_stress(3000.0, 100.0))
    40.0
    """
    check.not_negative(shear=shear)
    check.positive(area=area)
    return 4 * shear / (3 * area)


@formula(
    name="shear strength",
    symbol="τRd",
    form="{yield_strength}/(√(3)·{gamma_M0})",
    dimension="stress",
    source=_SOURCE.format("eq. 6.19"),
    given=_SYMBOLS,
)
def shear_strength(yield_strength: float, gamma_M0: float = 1.0) -> float:
    """Strength fy/(√3 γM0), MPa. Raises ValueError for values that are not positive.

    Source: EN 1993-1-1:2005, eq. 6.19, from memory, not seen.

    >>> print(shear_strength(355.0))
    204.9593
    """
    check.positive(yield_strength=yield_strength, gamma_M0=gamma_M0)
    return yield_strength / (math.sqrt(3) * gamma_M0)


def tube_shear(
    shear: float,
    outside_diameter: float,
    wall: float,
    yield_strength: float,
    gamma_M0: float = 1.0,
) -> ClauseCheck:
    """6.2.6: plastic shear of a circular hollow section.

    ``shear`` VEd in N, sizes in mm, ``yield_strength`` fy in MPa; ``gamma_M0`` is an NDP,
    recommended 1.0. Raises ValueError for a negative force, values that are not positive or a wall
    that does not fit.

    Source: EN 1993-1-1:2005, 6.2.6(2) and (3)g, eq. 6.18, from memory, not seen.

    >>> print(tube_shear(300e3, 219.1, 10.0, 355.0).resistance)
    Vpl,Rd = Av·fy/(√(3)·γM0) = 4182 mm²·355 MPa/(√(3)·1) = 857140 N
    """
    A = cantilever.area.worked(outside_diameter, tube.bore(outside_diameter, wall))
    shear_area = tube_shear_area.worked(A.value)
    return ClauseCheck(
        clause=TUBE_SHEAR,
        demand=stated("shear", "VEd", shear, "force"),
        resistance=shear_resistance.worked(shear_area.value, yield_strength, gamma_M0),
        steps=(A, shear_area),
        scope=european_strength(yield_strength),
    )


def solid_shear(
    shear: float, diameter: float, yield_strength: float, gamma_M0: float = 1.0
) -> ClauseCheck:
    """6.2.6(4): greatest shear stress of a solid round against fy/(√3 γM0).

    ``shear`` VEd in N, ``diameter`` in mm, ``yield_strength`` fy in MPa; ``gamma_M0`` is an NDP,
    recommended 1.0. Raises ValueError for a negative force or values that are not positive.

    Source: EN 1993-1-1:2005, 6.2.6(4), eqs 6.19 and 6.20, from memory, not seen.

    >>> print(solid_shear(300e3, 150.0, 355.0).demand)
    τEd = 4·VEd/(3·A) = 4·300000 N/(3·17671 mm²) = 22.635 MPa
    """
    check.positive(diameter=diameter)
    A = cantilever.area.worked(diameter)
    return ClauseCheck(
        clause=SOLID_SHEAR,
        demand=solid_shear_stress.worked(shear, A.value),
        resistance=shear_strength.worked(yield_strength, gamma_M0),
        steps=(A,),
        scope=european_strength(yield_strength),
    )


# 6.2.8, bending with shear

BENDING_WITH_SHEAR = Clause(
    key="en_1993_1_1.6_2_8",
    standard=_STANDARD,
    edition=_EDITION,
    number="6.2.8(2) to (4), eq. 6.29",
    title="bending of a round section with shear",
    written_for="Members under bending and shear together. Half the shear resistance costs nothing;"
    " above that the yield strength is reduced, here over the whole section and not only the shear"
    " area, which is on the safe side. A solid round takes the elastic shear resistance, 3/4 A at"
    " the shear strength, for want of a plastic one.",
    carries="It carries to the post at its root. A post longer than its diameter has little shear"
    " beside its moment, so the reduction seldom counts.",
    reach="as written",
    text=_UNSEEN,
)


@formula(
    name="shear area of a solid round, elastic",
    symbol="Av",
    form="3·{area}/4",
    dimension="area",
    source=_SOURCE.format("eq. 6.20 with S/(I t) of a solid round at its middle"),
    given=_SYMBOLS,
)
def solid_shear_area(area: float) -> float:
    """Area 3A/4, mm², that gives the elastic shear resistance of a solid round of area A in mm².

    Raises ValueError unless A is positive. Source: EN 1993-1-1:2005, eq. 6.20, from memory, not
    seen.

    >>> print(solid_shear_area(1000.0))
    750.0
    """
    check.positive(area=area)
    return 3 * area / 4


@formula(
    name="reduction for shear",
    symbol="ρ",
    form="max(2·{shear}/{shear_resistance} − 1, 0)²",
    dimension=None,
    source=_SOURCE.format("6.2.8(2) and (3)"),
    given=_SYMBOLS,
)
def shear_reduction(shear: float, shear_resistance: float) -> float:
    """Reduction ρ = (2 V/VRd − 1)² of the yield strength, 0 up to half the shear resistance.

    Forces in N. Raises ValueError for a negative force or a resistance that is not positive.
    Source: EN 1993-1-1:2005, 6.2.8(2) and (3), from memory, not seen.

    >>> print(shear_reduction(40.0, 100.0), shear_reduction(75.0, 100.0))
    0.0 0.25
    """
    check.not_negative(shear=shear)
    check.positive(shear_resistance=shear_resistance)
    return max(2 * shear / shear_resistance - 1, 0.0) ** 2


@formula(
    name="moment resistance with shear",
    symbol="MV,Rd",
    form="max(1 − {reduction}, 0)·{modulus}·{yield_strength}/{gamma_M0}",
    dimension="moment",
    source=_SOURCE.format("6.2.8(3), eq. 6.29, over the whole section"),
    given=_SYMBOLS,
)
def reduced_moment_resistance(
    reduction: float, modulus: float, yield_strength: float, gamma_M0: float = 1.0
) -> float:
    """Resistance (1 − ρ) W fy/γM0, N·mm, with W in mm³ and fy in MPa; 0 for ρ beyond 1.

    Raises ValueError for a negative ρ or values that are not positive. Source: EN 1993-1-1:2005,
    6.2.8(3), eq. 6.29, from memory, not seen.

    >>> print(reduced_moment_resistance(0.25, 1000.0, 355.0))
    266250.0
    """
    check.not_negative(reduction=reduction)
    check.positive(modulus=modulus, yield_strength=yield_strength, gamma_M0=gamma_M0)
    return max(1 - reduction, 0.0) * modulus * yield_strength / gamma_M0


def bending_with_shear(
    moment: float,
    shear: float,
    outside_diameter: float,
    yield_strength: float,
    wall: float | None = None,
    gamma_M0: float = 1.0,
) -> ClauseCheck:
    """6.2.8: bending of a tube or, without a ``wall``, a solid round, reduced for shear.

    ``moment`` MEd in N·mm, ``shear`` VEd in N, sizes in mm, ``yield_strength`` fy in MPa;
    ``gamma_M0`` is an NDP, recommended 1.0. A shear force beyond the shear resistance leaves no
    moment: the ratio is infinite. Raises ValueError for negative demands, values that are not
    positive or a wall that does not fit.

    Source: EN 1993-1-1:2005, 6.2.8, eq. 6.29, from memory, not seen.

    >>> print(round(bending_with_shear(100e6, 700e3, 219.1, 355.0, 10.0).ratio, 4))
    1.075
    """
    modulus, steps, scope = _classified(outside_diameter, wall, yield_strength)
    A = cantilever.area.worked(outside_diameter, tube.bore(outside_diameter, wall))
    shear_area = (solid_shear_area if wall is None else tube_shear_area).worked(A.value)
    resistance = shear_resistance.worked(shear_area.value, yield_strength, gamma_M0)
    if wall is None:
        resistance = replace(resistance, name="elastic shear resistance", symbol="Vel,Rd")
    reduction = shear_reduction.worked(shear, resistance.value)
    return ClauseCheck(
        clause=BENDING_WITH_SHEAR,
        demand=stated("moment", "MEd", moment, "moment"),
        resistance=reduced_moment_resistance.worked(
            reduction.value, modulus.value, yield_strength, gamma_M0
        ),
        steps=(*steps, A, shear_area, resistance, reduction),
        scope=(*scope, *european_strength(yield_strength)),
    )
