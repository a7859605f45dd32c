"""AISC 360-22, Specification for Structural Steel Buildings: bearing, round members, root weld.

Every clause is checked by LRFD (the demand of the LRFD load combinations against φ times the
nominal strength) or by ASD (that of the ASD combinations against the nominal strength over Ω).

Where a form has constants with units, such as Fy − 13 ksi, the SI and the US customary form differ
by rounding and ``units`` names the one to use; arguments and results are in N, mm and MPa in both.
All the other forms hold in any coherent units.

J7 was seen in a public copy; its coefficients are those of 2005, 2010 and 2016 too (from memory).
B, F, G and J2 are from memory, not seen.
"""

import math
from dataclasses import replace
from types import MappingProxyType
from typing import Literal, get_args

from contactfe.codes import tube
from contactfe.codes.clause import Clause, ClauseCheck, Symbols, stated
from contactfe.codes.scope import steel_modulus
from contactfe.codes.us import INCH, KIP_PER_INCH, KSI
from contactfe.hand import cantilever, check
from contactfe.hand.formula import Given, Limit, Units, Worked, at_least, at_most, formula

Method = Literal["LRFD", "ASD"]
"""Load and resistance factor design, or allowable strength design."""

HIGHEST_YIELD = 690.0
"""Largest specified minimum yield strength, MPa, of the steels listed for use (100 ksi, rounded):
A3.1, from memory, not seen."""

STEEL = 200e3
"""Young's modulus, MPa, of the Specification (29 000 ksi): from memory, not seen."""

_STANDARD, _EDITION = "AISC 360", "2022"
_SEEN = "seen in a public copy"
_UNSEEN = "from memory, not seen"
_J7 = "AISC 360-22, J7, eq. {}: seen in a public copy"
_FROM_MEMORY = "AISC 360-22, {}: from memory, not seen"
_FY: Symbols = MappingProxyType(
    {
        "yield_strength": ("Fy", "stress"),
        "wall": ("t", "length"),
        "plastic_modulus": ("Z", "section modulus"),
        "elastic_modulus": ("S", "section modulus"),
    }
)


# Factors


def available(nominal: Worked, method: Method, phi: float, omega: float) -> Worked:
    """Strength to hold the demand against: φ times the nominal one (LRFD), or it over Ω (ASD).

    Of the dimension of ``nominal``. Raises ValueError for an unknown method.

    Source: AISC 360-22, B3.1 and B3.2, from memory, not seen; φ and Ω are those of the clause.
    """
    if method not in get_args(Method):
        raise ValueError(f"method = {method!r} is not allowed: it must be 'LRFD' or 'ASD'")
    design = method == "LRFD"
    given = {
        "factor": Given("φ", phi) if design else Given("Ω", omega),
        "nominal": Given(nominal.symbol, nominal.value, nominal.dimension),
    }
    return Worked(
        "aisc_360.available",
        "design strength" if design else "allowable strength",
        f"φ{nominal.symbol}" if design else f"{nominal.symbol}/Ω",
        "{factor}·{nominal}" if design else "{nominal}/{factor}",
        MappingProxyType(given),
        phi * nominal.value if design else nominal.value / omega,
        nominal.dimension,
        _FROM_MEMORY.format("B3.1" if design else "B3.2"),
    )


def _listed(yield_strength: float) -> tuple[Limit, ...]:
    return (at_most("Fy", yield_strength, HIGHEST_YIELD, "stress"),)


# J7, bearing

FINISHED_SURFACE = Clause(
    key="aisc_360.j7_finished_surface",
    standard=_STANDARD,
    edition=_EDITION,
    number="J7(a), eq. J7-1",
    title="bearing of finished surfaces and of pins in bored holes",
    written_for="Surfaces milled to fit and pins in reamed, drilled or bored holes, which bear on"
    " an area that is known beforehand, under static load.",
    carries="It does not carry to a round post on a flat plate: there is no projected area, since"
    " the contact is as wide as the load makes it.",
    reach="by analogy",
    text=_SEEN,
)


@formula(
    name="nominal bearing strength of a finished surface",
    symbol="Rn",
    form="1.8·{yield_strength}·{projected_area}",
    dimension="force",
    source=_J7.format("J7-1"),
    given={"yield_strength": ("Fy", "stress"), "projected_area": ("Apb", "area")},
)
def finished_surface_strength(projected_area: float, yield_strength: float) -> float:
    """Nominal strength Rn = 1.8 Fy Apb, N, of an area Apb in mm² at Fy in MPa.

    Raises ValueError for values that are not positive. Source: AISC 360-22, eq. J7-1, seen.

    >>> print(finished_surface_strength(1000.0, 345.0))
    621000.0
    """
    check.positive(projected_area=projected_area, yield_strength=yield_strength)
    return 1.8 * yield_strength * projected_area


def finished_surface(
    force: float, projected_area: float, yield_strength: float, method: Method = "LRFD"
) -> ClauseCheck:
    """J7(a): bearing of finished surfaces and of pins in bored holes; φ = 0.75, Ω = 2.00.

    ``force`` in N on ``projected_area`` Apb in mm² (for a pin its diameter times the thickness);
    ``yield_strength`` Fy in MPa, the lower of the two parts. Raises ValueError for a negative
    force, an area or strength that is not positive, or an unknown method.

    Source: AISC 360-22, J7(a), eq. J7-1, seen in a public copy.

    >>> print(round(finished_surface(100e3, 1000.0, 345.0).ratio, 4))
    0.2147
    """
    nominal = finished_surface_strength.worked(projected_area, yield_strength)
    return ClauseCheck(
        clause=FINISHED_SURFACE,
        demand=stated("force", "F", force, "force"),
        resistance=available(nominal, method, 0.75, 2.0),
        steps=(nominal,),
        scope=_listed(yield_strength),
    )


ROLLER = Clause(
    key="aisc_360.j7_roller",
    standard=_STANDARD,
    edition=_EDITION,
    number="J7(b), eqs J7-2 and J7-3",
    title="bearing of expansion rollers and rockers",
    written_for="Steel rollers and rockers of expansion bearings on flat plates, which move slowly"
    " under static load, without friction in mind. An empirical rule, at strength level.",
    carries="The geometry is that of a post on a plate, but the rule is no yield check: at nominal"
    " strength the Hertz pressure is about 3 Fy, far above first yield (1.79 Fy) and shakedown"
    " (2.31 Fy). A blow, drag along the plate, the bending of a tube and of the plate are not"
    " in it.",
    reach="by analogy",
    text=_SEEN,
)

BAND = MappingProxyType({"SI": 630.0, "US customary": 25 * INCH})
"""Largest diameter, mm, of eq. J7-2 in each form: 630 mm and 25 in."""

LEAST_YIELD = MappingProxyType({"SI": 90.0, "US customary": 13 * KSI})
"""Fy, MPa, at which the rule for rollers gives no strength at all: 90 MPa and 13 ksi."""

_ROLLER: Symbols = MappingProxyType(
    {"diameter": ("d", "length"), "yield_strength": ("Fy", "stress")}
)


def _band(units: Units, small: bool, diameter: float, yield_strength: float) -> tuple[Limit, ...]:
    side = at_most if small else at_least
    return (
        side("d", diameter, BAND[units], "length"),
        at_least("Fy", yield_strength, LEAST_YIELD[units], "stress"),
    )


@formula(
    name="nominal bearing strength of a roller up to 630 mm, per length",
    symbol="rn",
    form="1.2·({yield_strength} − 90)·{diameter}/20",
    dimension="line load",
    source=_J7.format("J7-2 in SI"),
    limits=lambda _, **at: _band("SI", True, **at),
    given=_ROLLER,
    units="SI",
)
def roller_strength(diameter: float, yield_strength: float) -> float:
    """Nominal strength per length rn = 1.2 (Fy − 90) d/20, N/mm, d in mm and Fy in MPa.

    Holds for d up to 630 mm and Fy above 90 MPa. Raises ValueError for values that are not
    positive. Source: AISC 360-22, eq. J7-2 in SI, seen.

    >>> print(roller_strength(150.0, 345.0))
    2295.0
    """
    check.positive(diameter=diameter, yield_strength=yield_strength)
    return 1.2 * (yield_strength - 90) * diameter / 20


@formula(
    name="nominal bearing strength of a roller over 630 mm, per length",
    symbol="rn",
    form="30.2·({yield_strength} − 90)·√({diameter})/20",
    dimension="line load",
    source=_J7.format("J7-3 in SI"),
    limits=lambda _, **at: _band("SI", False, **at),
    given=_ROLLER,
    units="SI",
)
def large_roller_strength(diameter: float, yield_strength: float) -> float:
    """Nominal strength per length rn = 30.2 (Fy − 90) √d/20, N/mm, d in mm and Fy in MPa.

    Holds for d over 630 mm, where it begins 0.3 % above :func:`roller_strength`, and Fy above
    90 MPa. Raises ValueError for values that are not positive. Source: AISC 360-22, eq. J7-3 in
    SI, seen.

    >>> print(large_roller_strength(900.0, 345.0))
    11551.5
    """
    check.positive(diameter=diameter, yield_strength=yield_strength)
    return 30.2 * (yield_strength - 90) * math.sqrt(diameter) / 20


@formula(
    name="nominal bearing strength of a roller up to 25 in, per length",
    symbol="rn",
    form="1.2·({yield_strength} − 13)·{diameter}/20",
    dimension="line load",
    source=_J7.format("J7-2"),
    limits=lambda _, **at: _band("US customary", True, **at),
    given=_ROLLER,
    units="US customary",
)
def roller_strength_us(diameter: float, yield_strength: float) -> float:
    """Nominal strength per length rn, N/mm, from d in mm and Fy in MPa by the US customary form.

    rn = 1.2 (Fy − 13) d/20 in kip/in, ksi and in. Holds for d up to 25 in and Fy above 13 ksi.
    Raises ValueError for values that are not positive. Source: AISC 360-22, eq. J7-2, seen.

    >>> print(roller_strength_us(6 * INCH, 50 * KSI) / KIP_PER_INCH)
    13.32
    """
    check.positive(diameter=diameter, yield_strength=yield_strength)
    return 1.2 * (yield_strength / KSI - 13) * (diameter / INCH) / 20 * KIP_PER_INCH


@formula(
    name="nominal bearing strength of a roller over 25 in, per length",
    symbol="rn",
    form="6.0·({yield_strength} − 13)·√({diameter})/20",
    dimension="line load",
    source=_J7.format("J7-3"),
    limits=lambda _, **at: _band("US customary", False, **at),
    given=_ROLLER,
    units="US customary",
)
def large_roller_strength_us(diameter: float, yield_strength: float) -> float:
    """Nominal strength per length rn, N/mm, from d in mm and Fy in MPa by the US customary form.

    rn = 6.0 (Fy − 13) √d/20 in kip/in, ksi and in. Holds for d over 25 in, where it agrees with
    :func:`roller_strength_us`, and Fy above 13 ksi. Raises ValueError for values that are not
    positive. Source: AISC 360-22, eq. J7-3, seen.

    >>> print(large_roller_strength_us(30 * INCH, 50 * KSI) / KIP_PER_INCH)
    60.797
    """
    check.positive(diameter=diameter, yield_strength=yield_strength)
    return 6.0 * (yield_strength / KSI - 13) * math.sqrt(diameter / INCH) / 20 * KIP_PER_INCH


_ROLLERS = {
    ("SI", True): roller_strength,
    ("SI", False): large_roller_strength,
    ("US customary", True): roller_strength_us,
    ("US customary", False): large_roller_strength_us,
}


def roller(
    line_load: float,
    diameter: float,
    yield_strength: float,
    method: Method = "LRFD",
    units: Units = "SI",
) -> ClauseCheck:
    """J7(b): bearing of expansion rollers and rockers; φ = 0.75, Ω = 2.00.

    ``line_load`` in N/mm, ``diameter`` d in mm, ``yield_strength`` Fy in MPa: the lower of the two
    parts, as the older allowable stress text states (seen). Eq. J7-2 holds up to 630 mm or 25 in,
    J7-3 above; the one that covers the diameter is used. Raises ValueError for a negative load, a
    diameter or strength that is not positive, or an unknown method or system of units.

    Source: AISC 360-22, J7(b), eqs J7-2 and J7-3, seen in a public copy.

    >>> print(roller(1000.0, 150.0, 345.0).resistance)
    φrn = φ·rn = 0.75·2295 N/mm = 1721.2 N/mm
    """
    if units not in BAND:
        raise ValueError(f"units = {units!r} is not allowed: it must be 'SI' or 'US customary'")
    nominal = _ROLLERS[units, diameter <= BAND[units]].worked(diameter, yield_strength)
    return ClauseCheck(
        clause=ROLLER,
        demand=stated("line load", "q", line_load, "line load"),
        resistance=available(nominal, method, 0.75, 2.0),
        steps=(nominal,),
        scope=_listed(yield_strength),
    )


# F8 and F11, bending

ROUND_HSS_FLEXURE = Clause(
    key="aisc_360.f8",
    standard=_STANDARD,
    edition=_EDITION,
    number="F8, eqs F8-1 to F8-4",
    title="bending of round hollow sections",
    written_for="Beams of round hollow section, for strength: yielding of the whole section, or"
    " local buckling of the wall.",
    carries="It carries to a tubular post as a cantilever. It does not see the ring bending of the"
    " wall at the contact, which acts at the same time where the contact is near the root.",
    reach="as written",
    text=_UNSEEN,
)


@formula(
    name="largest D/t of a compact round hollow section",
    symbol="λp",
    form="0.07·{young}/{yield_strength}",
    dimension=None,
    source=_FROM_MEMORY.format("Table B4.1b, round HSS in flexure"),
    given=_FY,
)
def compact_slenderness(yield_strength: float, young: float = STEEL) -> float:
    """Slenderness λp = 0.07 E/Fy up to which a round hollow section reaches its plastic moment.

    Fy and E in MPa. Raises ValueError for values that are not positive. Source: AISC 360-22, Table
    B4.1b, from memory, not seen.

    >>> print(compact_slenderness(350.0))
    40.0
    """
    check.positive(yield_strength=yield_strength, young=young)
    return 0.07 * young / yield_strength


@formula(
    name="largest D/t of a noncompact round hollow section",
    symbol="λr",
    form="0.31·{young}/{yield_strength}",
    dimension=None,
    source=_FROM_MEMORY.format("Table B4.1b, round HSS in flexure"),
    given=_FY,
)
def noncompact_slenderness(yield_strength: float, young: float = STEEL) -> float:
    """Slenderness λr = 0.31 E/Fy beyond which the wall of a round hollow section is slender.

    Fy and E in MPa. Raises ValueError for values that are not positive. Source: AISC 360-22, Table
    B4.1b, from memory, not seen.

    >>> print(noncompact_slenderness(310.0))
    200.0
    """
    check.positive(yield_strength=yield_strength, young=young)
    return 0.31 * young / yield_strength


@formula(
    name="plastic moment",
    symbol="Mp",
    form="{yield_strength}·{plastic_modulus}",
    dimension="moment",
    source=_FROM_MEMORY.format("eq. F8-1"),
    given=_FY,
)
def plastic_moment(plastic_modulus: float, yield_strength: float) -> float:
    """Nominal moment Mn = Mp = Fy Z, N·mm, Z in mm³ and Fy in MPa.

    Raises ValueError for values that are not positive. Source: AISC 360-22, eq. F8-1, from memory,
    not seen.

    >>> print(plastic_moment(1000.0, 345.0))
    345000.0
    """
    check.positive(plastic_modulus=plastic_modulus, yield_strength=yield_strength)
    return yield_strength * plastic_modulus


@formula(
    name="moment of local buckling, noncompact wall",
    symbol="Mn",
    form="(0.021·{young}/({outside_diameter}/{wall}) + {yield_strength})·{elastic_modulus}",
    dimension="moment",
    source=_FROM_MEMORY.format("eq. F8-2"),
    given=_FY,
)
def noncompact_moment(
    elastic_modulus: float,
    outside_diameter: float,
    wall: float,
    yield_strength: float,
    young: float = STEEL,
) -> float:
    """Nominal moment Mn = (0.021 E/(D/t) + Fy) S, N·mm, of a noncompact round hollow section.

    S in mm³, D and the design wall t in mm, Fy and E in MPa. Raises ValueError for values that are
    not positive or a wall that does not fit. Source: AISC 360-22, eq. F8-2, from memory, not seen.

    >>> print(noncompact_moment(1000.0, 420.0, 5.0, 345.0))
    395000.0
    """
    check.positive(elastic_modulus=elastic_modulus, yield_strength=yield_strength, young=young)
    tube.fits(outside_diameter, wall)
    return (0.021 * young / (outside_diameter / wall) + yield_strength) * elastic_modulus


@formula(
    name="moment of local buckling, slender wall",
    symbol="Mn",
    form="0.33·{young}/({outside_diameter}/{wall})·{elastic_modulus}",
    dimension="moment",
    source=_FROM_MEMORY.format("eqs F8-3 and F8-4"),
    given=_FY,
)
def slender_moment(
    elastic_modulus: float, outside_diameter: float, wall: float, young: float = STEEL
) -> float:
    """Nominal moment Mn = Fcr S with Fcr = 0.33 E/(D/t), N·mm, of a slender round hollow section.

    S in mm³, D and the design wall t in mm, E in MPa. Raises ValueError for values that are not
    positive or a wall that does not fit. Source: AISC 360-22, eqs F8-3 and F8-4, from memory, not
    seen.

    >>> print(slender_moment(1000.0, 1000.0, 5.0))
    330000.0
    """
    check.positive(elastic_modulus=elastic_modulus, young=young)
    tube.fits(outside_diameter, wall)
    return 0.33 * young / (outside_diameter / wall) * elastic_modulus


def round_hss_flexure(
    moment: float,
    outside_diameter: float,
    wall: float,
    yield_strength: float,
    method: Method = "LRFD",
    young: float = STEEL,
) -> ClauseCheck:
    """F8: bending of a round hollow section by yielding or local buckling; φ = 0.90, Ω = 1.67.

    ``moment`` in N·mm, ``outside_diameter`` D and design ``wall`` t in mm (0.93 of the nominal one
    for A500 tubes, B4.2, from memory), ``yield_strength`` Fy and ``young`` E in MPa. Covers D/t
    below 0.45 E/Fy. Raises ValueError for a negative moment, values that are not positive, a wall
    that does not fit or an unknown method.

    Source: AISC 360-22, F1 and F8, eqs F8-1 to F8-4, and Table B4.1b, from memory, not seen.

    >>> print(round_hss_flexure(50e6, 219.1, 10.0, 345.0).resistance)
    φMp = φ·Mp = 0.9·1.5096e+08 N·mm = 1.3586e+08 N·mm
    """
    bore = tube.bore(outside_diameter, wall)
    ratio = tube.slenderness.worked(outside_diameter, wall)
    compact = compact_slenderness.worked(yield_strength, young)
    noncompact = noncompact_slenderness.worked(yield_strength, young)
    Z = cantilever.plastic_modulus.worked(outside_diameter, bore)
    yielding = plastic_moment.worked(Z.value, yield_strength)
    steps: tuple[Worked, ...] = (ratio, compact, noncompact, Z, yielding)
    nominal = yielding
    if ratio.value > compact.value:
        S = replace(cantilever.elastic_modulus.worked(outside_diameter, bore), symbol="S")
        if ratio.value <= noncompact.value:
            buckling = noncompact_moment.worked(
                S.value, outside_diameter, wall, yield_strength, young
            )
        else:
            buckling = slender_moment.worked(S.value, outside_diameter, wall, young)
        steps += (S, buckling)
        nominal = min(yielding, buckling, key=float)
    return ClauseCheck(
        clause=ROUND_HSS_FLEXURE,
        demand=stated("moment", "M", moment, "moment"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=steps,
        scope=(
            at_most("D/t", ratio.value, 0.45 * young / yield_strength),
            *steel_modulus(young),
            *_listed(yield_strength),
        ),
    )


SOLID_ROUND_FLEXURE = Clause(
    key="aisc_360.f11_round",
    standard=_STANDARD,
    edition=_EDITION,
    number="F11, eq. F11-2",
    title="bending of solid rounds",
    written_for="Solid bars of round section in bending, for strength: no length of a round bar"
    " buckles sideways.",
    carries="It carries to a solid post as a cantilever. 1.6 Fy S is well past first yield at the"
    " root; what the contact adds there is not in it.",
    reach="as written",
    text=_UNSEEN,
)


@formula(
    name="nominal moment of a solid round",
    symbol="Mn",
    form="min({yield_strength}·{plastic_modulus}, 1.6·{yield_strength}·{elastic_modulus})",
    dimension="moment",
    source=_FROM_MEMORY.format("eq. F11-2"),
    given=_FY,
)
def solid_round_moment(
    plastic_modulus: float, elastic_modulus: float, yield_strength: float
) -> float:
    """Nominal moment Mn = Mp = Fy Z, at most 1.6 Fy S, N·mm, Z and S in mm³ and Fy in MPa.

    The bound governs in every solid round, for which Z/S = 1.70. Raises ValueError for values that
    are not positive. Source: AISC 360-22, eq. F11-2, from memory, not seen.

    >>> print(solid_round_moment(1700.0, 1000.0, 345.0))
    552000.0
    """
    check.positive(
        plastic_modulus=plastic_modulus,
        elastic_modulus=elastic_modulus,
        yield_strength=yield_strength,
    )
    return yield_strength * min(plastic_modulus, 1.6 * elastic_modulus)


def solid_round_flexure(
    moment: float, diameter: float, yield_strength: float, method: Method = "LRFD"
) -> ClauseCheck:
    """F11: bending of a solid round; φ = 0.90, Ω = 1.67.

    ``moment`` in N·mm, ``diameter`` in mm, ``yield_strength`` Fy in MPa. Raises ValueError for a
    negative moment, values that are not positive or an unknown method.

    Source: AISC 360-22, F1 and F11.1, from memory, not seen.

    >>> print(solid_round_flexure(50e6, 150.0, 345.0).resistance)
    φMn = φ·Mn = 0.9·1.829e+08 N·mm = 1.6461e+08 N·mm
    """
    check.positive(diameter=diameter)
    Z = cantilever.plastic_modulus.worked(diameter)
    S = replace(cantilever.elastic_modulus.worked(diameter), symbol="S")
    nominal = solid_round_moment.worked(Z.value, S.value, yield_strength)
    return ClauseCheck(
        clause=SOLID_ROUND_FLEXURE,
        demand=stated("moment", "M", moment, "moment"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=(Z, S, nominal),
        scope=_listed(yield_strength),
    )


PLATE_FLEXURE = Clause(
    key="aisc_360.f11_plate",
    standard=_STANDARD,
    edition=_EDITION,
    number="F11, eq. F11-1",
    title="bending of a flat plate about its weak axis",
    written_for="Rectangular bars in bending about the minor axis, for strength.",
    carries="It carries to the bumper plate as a strip that spans between its edges, per length"
    " along the post. The stress right under the contact is not beam bending.",
    reach="as written",
    text=_UNSEEN,
)


@formula(
    name="nominal moment of a plate strip, per length",
    symbol="mn",
    form="{yield_strength}·{thickness}²/4",
    dimension="moment per length",
    source=_FROM_MEMORY.format("eq. F11-1, with Z = t²/4 per length"),
    given=_FY,
)
def plate_moment(thickness: float, yield_strength: float) -> float:
    """Nominal moment per length mn = Fy t²/4, N·mm/mm, t in mm and Fy in MPa.

    That is Fy Z, and 1.5 Fy S, its bound, at the same time. Raises ValueError for values that are
    not positive. Source: AISC 360-22, eq. F11-1, from memory, not seen.

    >>> print(plate_moment(40.0, 345.0))
    138000.0
    """
    check.positive(thickness=thickness, yield_strength=yield_strength)
    return yield_strength * thickness**2 / 4


def plate_flexure(
    moment: float, thickness: float, yield_strength: float, method: Method = "LRFD"
) -> ClauseCheck:
    """F11: bending of the plate as a strip; φ = 0.90, Ω = 1.67.

    ``moment`` per length along the post in N·mm/mm, ``thickness`` t in mm, ``yield_strength`` Fy in
    MPa. Raises ValueError for a negative moment, values that are not positive or an unknown method.

    Source: AISC 360-22, F1 and F11.1, from memory, not seen.

    >>> print(round(plate_flexure(60e3, 40.0, 345.0).ratio, 4))
    0.4831
    """
    nominal = plate_moment.worked(thickness, yield_strength)
    return ClauseCheck(
        clause=PLATE_FLEXURE,
        demand=stated("moment", "m", moment, "moment per length"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=(nominal,),
        scope=_listed(yield_strength),
    )


# G5, shear

ROUND_HSS_SHEAR = Clause(
    key="aisc_360.g5",
    standard=_STANDARD,
    edition=_EDITION,
    number="G5, eqs G5-1 and G5-2",
    title="shear of round hollow sections",
    written_for="Beams of round hollow section with thin walls: 0.6 Fy reached at the neutral axis,"
    " or shear buckling of the wall.",
    carries="It carries to a tubular post between the contact and its root. For a thick wall it is"
    " on the safe side, as the shear is spread more evenly. The force that a short contact length"
    " puts into the wall is not in it.",
    reach="as written",
    text=_UNSEEN,
)
_SHEAR: Symbols = MappingProxyType(
    {
        **_FY,
        "shear_length": ("Lv", "length"),
        "area": ("Ag", "area"),
        "critical_stress": ("Fcr", "stress"),
        "long_tube_stress": ("Fcr,a", "stress"),
        "short_tube_stress": ("Fcr,b", "stress"),
    }
)


@formula(
    name="shear buckling stress with the length",
    symbol="Fcr,a",
    form="1.60·{young}/(√({shear_length}/{outside_diameter})·({outside_diameter}/{wall})^(5/4))",
    dimension="stress",
    source=_FROM_MEMORY.format("eq. G5-2a"),
    given=_SHEAR,
)
def shear_buckling_with_length(
    shear_length: float, outside_diameter: float, wall: float, young: float = STEEL
) -> float:
    """Critical stress 1.60 E/(√(Lv/D) (D/t)^(5/4)), MPa.

    Lv, the distance from the greatest to zero shear, D and t in mm, E in MPa. Raises ValueError for
    values that are not positive or a wall that does not fit. Source: AISC 360-22, eq. G5-2a, from
    memory, not seen.

    >>> print(shear_buckling_with_length(800.0, 200.0, 2.0))
    505.96
    """
    check.positive(shear_length=shear_length, young=young)
    tube.fits(outside_diameter, wall)
    length, slenderness = shear_length / outside_diameter, outside_diameter / wall
    return 1.60 * young / (math.sqrt(length) * math.pow(slenderness, 5 / 4))


@formula(
    name="shear buckling stress of the wall",
    symbol="Fcr,b",
    form="0.78·{young}/({outside_diameter}/{wall})^(3/2)",
    dimension="stress",
    source=_FROM_MEMORY.format("eq. G5-2b"),
    given=_SHEAR,
)
def shear_buckling_of_wall(outside_diameter: float, wall: float, young: float = STEEL) -> float:
    """Critical stress 0.78 E/(D/t)^(3/2), MPa, with D and t in mm, E in MPa.

    Raises ValueError for values that are not positive or a wall that does not fit. Source: AISC
    360-22, eq. G5-2b, from memory, not seen.

    >>> print(shear_buckling_of_wall(200.0, 2.0))
    156.0
    """
    check.positive(young=young)
    tube.fits(outside_diameter, wall)
    return 0.78 * young / math.pow(outside_diameter / wall, 3 / 2)


@formula(
    name="critical shear stress",
    symbol="Fcr",
    form="min(max({long_tube_stress}, {short_tube_stress}), 0.6·{yield_strength})",
    dimension="stress",
    source=_FROM_MEMORY.format("G5"),
    given=_SHEAR,
)
def critical_shear_stress(
    long_tube_stress: float, short_tube_stress: float, yield_strength: float
) -> float:
    """Fcr, MPa: the larger of eqs G5-2a and G5-2b, but not more than 0.6 Fy.

    Raises ValueError for values that are not positive. Source: AISC 360-22, G5, from memory, not
    seen.

    >>> print(critical_shear_stress(300.0, 156.0, 345.0))
    207.0
    """
    check.positive(
        long_tube_stress=long_tube_stress,
        short_tube_stress=short_tube_stress,
        yield_strength=yield_strength,
    )
    return min(max(long_tube_stress, short_tube_stress), 0.6 * yield_strength)


@formula(
    name="nominal shear strength of a round hollow section",
    symbol="Vn",
    form="{critical_stress}·{area}/2",
    dimension="force",
    source=_FROM_MEMORY.format("eq. G5-1"),
    given=_SHEAR,
)
def round_hss_shear_strength(critical_stress: float, area: float) -> float:
    """Nominal strength Vn = Fcr Ag/2, N, with Fcr in MPa and Ag in mm².

    Raises ValueError for values that are not positive. Source: AISC 360-22, eq. G5-1, from memory,
    not seen.

    >>> print(round_hss_shear_strength(207.0, 1000.0))
    103500.0
    """
    check.positive(critical_stress=critical_stress, area=area)
    return critical_stress * area / 2


def round_hss_shear(
    shear: float,
    outside_diameter: float,
    wall: float,
    shear_length: float,
    yield_strength: float,
    method: Method = "LRFD",
    young: float = STEEL,
) -> ClauseCheck:
    """G5: shear of a round hollow section; φ = 0.90, Ω = 1.67.

    ``shear`` in N; ``outside_diameter`` D, design ``wall`` t and ``shear_length`` Lv, the distance
    from the greatest to zero shear (of a cantilever its length), in mm; ``yield_strength`` Fy and
    ``young`` E in MPa. Raises ValueError for a negative force, values that are not positive, a wall
    that does not fit or an unknown method.

    Source: AISC 360-22, G1 and G5, eqs G5-1, G5-2a and G5-2b, from memory, not seen.

    >>> print(round_hss_shear(300e3, 219.1, 10.0, 800.0, 345.0).resistance)
    φVn = φ·Vn = 0.9·679899 N = 611909 N
    """
    bore = tube.bore(outside_diameter, wall)
    A = replace(cantilever.area.worked(outside_diameter, bore), symbol="Ag")
    long = shear_buckling_with_length.worked(shear_length, outside_diameter, wall, young)
    short = shear_buckling_of_wall.worked(outside_diameter, wall, young)
    critical = critical_shear_stress.worked(long.value, short.value, yield_strength)
    nominal = round_hss_shear_strength.worked(critical.value, A.value)
    return ClauseCheck(
        clause=ROUND_HSS_SHEAR,
        demand=stated("shear", "V", shear, "force"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=(A, long, short, critical, nominal),
        scope=(*steel_modulus(young), *_listed(yield_strength)),
    )


SOLID_ROUND_SHEAR = Clause(
    key="aisc_360.g5_solid_by_analogy",
    standard=_STANDARD,
    edition=_EDITION,
    number="G5 by analogy",
    title="shear of solid rounds, by analogy",
    written_for="No clause of chapter G names solid rounds. G5 takes a thin tube as spent when the"
    " beam shear reaches 0.6 Fy at the neutral axis, V = 0.6 Fy A/2; here a solid round is taken by"
    " the same measure.",
    carries="It carries to a solid post between the contact and its root as far as the analogy"
    " does. It is on the safe side of the full section at 0.6 Fy.",
    reach="by analogy",
    text=_UNSEEN,
)


@formula(
    name="shear strength of a solid round by analogy",
    symbol="Vn",
    form="0.6·{yield_strength}·3·{area}/4",
    dimension="force",
    source="derived here: 0.6 Fy of AISC 360-22, G5 (from memory, not seen) at the neutral axis,"
    " where beam theory gives 4V/(3A)",
    given=_SHEAR,
)
def solid_round_shear_strength(area: float, yield_strength: float) -> float:
    """Strength Vn = 0.6 Fy · 3A/4, N, by analogy with G5; A in mm² and Fy in MPa.

    Raises ValueError for values that are not positive. Source: derived here, see
    :data:`SOLID_ROUND_SHEAR`.

    >>> print(solid_round_shear_strength(1000.0, 345.0))
    155250.0
    """
    check.positive(area=area, yield_strength=yield_strength)
    return 0.6 * yield_strength * 3 * area / 4


def solid_round_shear(
    shear: float, diameter: float, yield_strength: float, method: Method = "LRFD"
) -> ClauseCheck:
    """Shear of a solid round by analogy with G5; φ = 0.90, Ω = 1.67 as there.

    ``shear`` in N, ``diameter`` in mm, ``yield_strength`` Fy in MPa. The Specification has no
    clause for it; see :data:`SOLID_ROUND_SHEAR`. Raises ValueError for a negative force, values
    that are not positive or an unknown method.

    Source: derived here, by analogy with AISC 360-22, G5 (from memory, not seen).

    >>> print(solid_round_shear(300e3, 150.0, 345.0).resistance)
    φVn = φ·Vn = 0.9·2743494 N = 2469145 N
    """
    check.positive(diameter=diameter)
    A = replace(cantilever.area.worked(diameter), symbol="Ag")
    nominal = solid_round_shear_strength.worked(A.value, yield_strength)
    return ClauseCheck(
        clause=SOLID_ROUND_SHEAR,
        demand=stated("shear", "V", shear, "force"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=(A, nominal),
        scope=_listed(yield_strength),
    )


# J2.4, weld

FILLET_WELD = Clause(
    key="aisc_360.j2_4",
    standard=_STANDARD,
    edition=_EDITION,
    number="J2.4, eq. J2-5",
    title="strength of fillet welds",
    written_for="Fillet welds under static load: the resultant stress on the throat against that of"
    " the weld metal.",
    carries="It carries to the weld all round at the post's root, with the throat stress of beam"
    " theory. It covers neither the base metal beside the weld, nor fatigue, nor a blow that"
    " comes again and again.",
    reach="as written",
    text=_UNSEEN,
)


@formula(
    name="directional strength factor",
    symbol="kds",
    form="1.0 + 0.50·sin({angle})^(1.5)",
    dimension=None,
    source=_FROM_MEMORY.format("J2.4"),
    given={"angle": ("θ", "angle")},
)
def directional_factor(angle: float) -> float:
    """Factor 1.0 + 0.50 sin^1.5 θ for a force at θ rad, 0 to π/2, from the weld's axis.

    Raises ValueError outside that range. Source: AISC 360-22, J2.4, from memory, not seen.

    >>> print(directional_factor(math.pi / 2))
    1.5
    """
    if not 0 <= angle <= math.pi / 2:
        raise ValueError(f"angle = {angle!r} is not allowed: it must lie in [0, π/2] rad")
    return 1.0 + 0.50 * math.pow(math.sin(angle), 1.5)


@formula(
    name="nominal stress of a fillet weld",
    symbol="Fnw",
    form="0.60·{electrode_strength}·{factor}",
    dimension="stress",
    source=_FROM_MEMORY.format("eq. J2-5"),
    given={"electrode_strength": ("FEXX", "stress"), "factor": ("kds", None)},
)
def weld_stress(electrode_strength: float, factor: float) -> float:
    """Nominal stress Fnw = 0.60 FEXX kds, MPa, on the throat; FEXX in MPa.

    Raises ValueError for values that are not positive. Source: AISC 360-22, eq. J2-5, from memory,
    not seen.

    >>> print(weld_stress(480.0, 1.0))
    288.0
    """
    check.positive(electrode_strength=electrode_strength, factor=factor)
    return 0.60 * electrode_strength * factor


def fillet_weld(
    throat_stress: float, electrode_strength: float, method: Method = "LRFD", angle: float = 0.0
) -> ClauseCheck:
    """J2.4: resultant stress on the throat of a fillet weld; φ = 0.75, Ω = 2.00.

    ``throat_stress`` and ``electrode_strength`` FEXX in MPa, ``angle`` θ in rad of the force from
    the weld's axis. Leave it at 0 for a weld all round a post: the angle changes along it, and the
    factor may be counted only where the strains of all parts of the weld fit together. Raises
    ValueError for a negative stress, a strength that is not positive, an angle outside [0, π/2] or
    an unknown method.

    Source: AISC 360-22, J2.4 and Table J2.5, from memory, not seen.

    >>> print(fillet_weld(120.0, 480.0).resistance)
    φFnw = φ·Fnw = 0.75·288 MPa = 216 MPa
    """
    factor = directional_factor.worked(angle)
    nominal = weld_stress.worked(electrode_strength, factor.value)
    return ClauseCheck(
        clause=FILLET_WELD,
        demand=stated("throat stress", "fw", throat_stress, "stress"),
        resistance=available(nominal, method, 0.75, 2.0),
        steps=(factor, nominal),
    )
