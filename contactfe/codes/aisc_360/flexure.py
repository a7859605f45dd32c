"""AISC 360-22, F8 and F11: bending of the post, hollow or solid, and of the plate.

Seen in a public copy.
"""

from dataclasses import replace
from typing import Annotated

from contactfe.codes import tube
from contactfe.codes.aisc_360.common import (
    EDITION,
    FY,
    SEEN,
    STANDARD,
    STEEL,
    TEXT_SEEN,
    Method,
    available,
    designed,
    listed,
)
from contactfe.codes.clause import Clause, ClauseCheck, stated
from contactfe.codes.scope import steel_modulus
from contactfe.hand import check, round_section
from contactfe.hand.formula import at_most, formula
from contactfe.hand.quantities import (
    UNCHECKED,
    Length,
    Moment,
    MomentPerLength,
    Number,
    SectionModulus,
    Stress,
)

ROUND_HSS_FLEXURE = Clause(
    key="aisc_360.f8",
    standard=STANDARD,
    edition=EDITION,
    number="F8, eqs F8-1 to F8-4",
    title="bending of round hollow sections",
    intended_for="Beams of round hollow section, for strength: yielding of the whole section, or"
    " local buckling of the wall.",
    applies_here="Applies to a tubular post as a cantilever. F8 has no bound for a thick wall: here"
    " 1.6 Fy S bounds it, by analogy with F11, so that no tube is stronger than its solid round. It"
    " does not cover the ring bending of the wall at the contact, which acts at the same time where"
    " the contact is near the root.",
    applicability="as written",
    level="strength",
    text=SEEN,
)


@formula(
    "largest D/t of a compact round hollow section",
    "λp",
    source=TEXT_SEEN.format("Table B4.1b, round HSS in flexure"),
    symbols=FY,
)
def compact_slenderness(yield_strength: Stress, young: Stress = STEEL) -> Number:
    """Slenderness λp = 0.07 E/Fy up to which a round hollow section reaches its plastic moment.

    Fy and E in MPa.

    >>> print(compact_slenderness(350.0))
    40.0
    """
    return 0.07 * young / yield_strength


@formula(
    "largest D/t of a noncompact round hollow section",
    "λr",
    source=TEXT_SEEN.format("Table B4.1b, round HSS in flexure"),
    symbols=FY,
)
def noncompact_slenderness(yield_strength: Stress, young: Stress = STEEL) -> Number:
    """Slenderness λr = 0.31 E/Fy beyond which the wall of a round hollow section is slender.

    Fy and E in MPa.

    >>> print(noncompact_slenderness(310.0))
    200.0
    """
    return 0.31 * young / yield_strength


@formula("plastic moment", "Mp", source=TEXT_SEEN.format("eq. F8-1"), symbols=FY)
def plastic_moment(plastic_modulus: SectionModulus, yield_strength: Stress) -> Moment:
    """Nominal moment Mn = Mp = Fy Z, N·mm, Z in mm³ and Fy in MPa.

    >>> print(plastic_moment(1000.0, 345.0))
    345000.0
    """
    return yield_strength * plastic_modulus


@formula(
    "bound of a thick wall, by analogy with a solid round",
    "Mn",
    source="derived here: the bound of AISC 360-22, eq. F11-2 (seen in a public copy), for a solid"
    " round; F8 has none",
    symbols=FY,
)
def thick_wall_moment(elastic_modulus: SectionModulus, yield_strength: Stress) -> Moment:
    """Nominal moment 1.6 Fy S, N·mm, which the plastic moment passes in a thick tube.

    S in mm³ and Fy in MPa. Z/S is above 1.6 for a bore of less than 0.47 of the diameter, and Fy Z
    is then more than F11 allows the solid round of the same diameter.

    >>> print(thick_wall_moment(1000.0, 345.0))
    552000.0
    """
    return 1.6 * yield_strength * elastic_modulus


@formula(
    "moment of local buckling, noncompact wall",
    "Mn",
    source=TEXT_SEEN.format("eq. F8-2"),
    symbols=FY,
)
def noncompact_moment(
    elastic_modulus: SectionModulus,
    outside_diameter: Annotated[Length, UNCHECKED],
    wall: Annotated[Length, UNCHECKED],
    yield_strength: Stress,
    young: Stress = STEEL,
) -> Moment:
    """Nominal moment Mn = (0.021 E/(D/t) + Fy) S, N·mm, of a noncompact round hollow section.

    S in mm³, D and the design wall t in mm, Fy and E in MPa.

    >>> print(noncompact_moment(1000.0, 420.0, 5.0, 345.0))
    395000.0
    """
    tube.fits(outside_diameter, wall)
    return (0.021 * young / (outside_diameter / wall) + yield_strength) * elastic_modulus


@formula(
    "moment of local buckling, slender wall",
    "Mn",
    source=TEXT_SEEN.format("eqs F8-3 and F8-4"),
    symbols=FY,
)
def slender_moment(
    elastic_modulus: SectionModulus,
    outside_diameter: Annotated[Length, UNCHECKED],
    wall: Annotated[Length, UNCHECKED],
    young: Stress = STEEL,
) -> Moment:
    """Nominal moment Mn = Fcr S with Fcr = 0.33 E/(D/t), N·mm, of a slender round hollow section.

    S in mm³, D and the design wall t in mm, E in MPa.

    >>> print(slender_moment(1000.0, 1000.0, 5.0))
    330000.0
    """
    tube.fits(outside_diameter, wall)
    return 0.33 * young / (outside_diameter / wall) * elastic_modulus


def round_hss_flexure(
    moment: float,
    outside_diameter: float,
    wall: float,
    yield_strength: float,
    method: Method = "LRFD",
    young: float = STEEL,
    design_share: float = 1.0,
) -> ClauseCheck:
    """F8: bending of a round hollow section by yielding or local buckling; φ = 0.90, Ω = 1.67.

    ``moment`` in N·mm, ``outside_diameter`` D and nominal ``wall`` in mm, ``yield_strength`` Fy and
    ``young`` E in MPa; ``design_share`` is that of the wall which counts (:func:`design_wall`).
    Covers D/t below 0.45 E/Fy. A thick wall is bounded by analogy with F11
    (:func:`thick_wall_moment`). Raises ValueError for a negative moment, values that are not
    positive, a wall that does not fit, a share outside (0, 1] or an unknown method.

    Source: AISC 360-22, B4.2, F1 and F8, eqs F8-1 to F8-4, and Table B4.1b, seen in a public copy;
    the bound of a thick wall is derived here.

    >>> print(round_hss_flexure(50e6, 219.1, 10.0, 345.0).resistance)
    φMp = φ·Mp = 0.9·1.5096e+08 N·mm = 1.3586e+08 N·mm
    """
    first, wall = designed(outside_diameter, wall, design_share)
    bore = tube.bore(outside_diameter, wall)
    ratio = tube.slenderness.worked(outside_diameter, wall)
    compact = compact_slenderness.worked(yield_strength, young)
    noncompact = noncompact_slenderness.worked(yield_strength, young)
    Z = round_section.plastic_modulus.worked(outside_diameter, bore)
    yielding = plastic_moment.worked(Z.value, yield_strength)
    S = replace(round_section.elastic_modulus.worked(outside_diameter, bore), symbol="S")
    steps = (*first, ratio, compact, noncompact, Z, yielding)
    nominal = yielding
    other = None
    bound = thick_wall_moment.worked(S.value, yield_strength)
    if bound.value < yielding.value:
        other = bound
    elif ratio.value > noncompact.value:
        other = slender_moment.worked(S.value, outside_diameter, wall, young)
    elif ratio.value > compact.value:
        other = noncompact_moment.worked(S.value, outside_diameter, wall, yield_strength, young)
    if other is not None:
        steps += (S, other)
        nominal = min(yielding, other, key=float)
    return ClauseCheck(
        clause=ROUND_HSS_FLEXURE,
        demand=stated("moment", "M", moment, "moment"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=steps,
        scope=(
            at_most("D/t", ratio.value, 0.45 * young / yield_strength),
            *steel_modulus(young),
            *listed(yield_strength, "hollow section"),
        ),
    )


SOLID_ROUND_FLEXURE = Clause(
    key="aisc_360.f11_round",
    standard=STANDARD,
    edition=EDITION,
    number="F11, eq. F11-2",
    title="bending of solid rounds",
    intended_for="Solid bars of round section in bending, for strength: no length of a round bar"
    " buckles sideways.",
    applies_here="Applies to a solid post as a cantilever. 1.6 Fy S is well past first yield at the"
    " root; it does not cover what the contact adds there.",
    applicability="as written",
    level="strength",
    text=SEEN,
)


@formula("nominal moment of a solid round", "Mn", source=TEXT_SEEN.format("eq. F11-2"), symbols=FY)
def solid_round_moment(
    plastic_modulus: SectionModulus, elastic_modulus: SectionModulus, yield_strength: Stress
) -> Moment:
    """Nominal moment Mn = Mp = Fy Z, at most 1.6 Fy S, N·mm, Z and S in mm³ and Fy in MPa.

    The bound governs in every solid round, for which Z/S = 1.70.

    >>> print(solid_round_moment(1700.0, 1000.0, 345.0))
    552000.0
    """
    return yield_strength * min(plastic_modulus, 1.6 * elastic_modulus)


def solid_round_flexure(
    moment: float, diameter: float, yield_strength: float, method: Method = "LRFD"
) -> ClauseCheck:
    """F11: bending of a solid round; φ = 0.90, Ω = 1.67.

    ``moment`` in N·mm, ``diameter`` in mm, ``yield_strength`` Fy in MPa. Raises ValueError for a
    negative moment, values that are not positive or an unknown method.

    Source: AISC 360-22, F1 and F11.1, seen in a public copy.

    >>> print(solid_round_flexure(50e6, 150.0, 345.0).resistance)
    φMn = φ·Mn = 0.9·1.829e+08 N·mm = 1.6461e+08 N·mm
    """
    check.positive(diameter=diameter)
    Z = round_section.plastic_modulus.worked(diameter)
    S = replace(round_section.elastic_modulus.worked(diameter), symbol="S")
    nominal = solid_round_moment.worked(Z.value, S.value, yield_strength)
    return ClauseCheck(
        clause=SOLID_ROUND_FLEXURE,
        demand=stated("moment", "M", moment, "moment"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=(Z, S, nominal),
        scope=listed(yield_strength, "bar"),
    )


PLATE_FLEXURE = Clause(
    key="aisc_360.f11_plate",
    standard=STANDARD,
    edition=EDITION,
    number="F11, eq. F11-1",
    title="bending of a flat plate about its weak axis",
    intended_for="Rectangular bars in bending about the minor axis, for strength.",
    applies_here="Applies to the bumper plate as a strip that spans between its edges, per length"
    " along the post; its moment includes the couple of the friction force. The stress right under"
    " the contact is not beam bending.",
    applicability="as written",
    level="strength",
    text=SEEN,
)


@formula(
    "nominal moment of a plate strip, per length",
    "mn",
    source=TEXT_SEEN.format("eq. F11-1, with Z = t²/4 per length"),
    symbols=FY,
)
def plate_moment(thickness: Length, yield_strength: Stress) -> MomentPerLength:
    """Nominal moment per length mn = Fy t²/4, N·mm/mm, t in mm and Fy in MPa.

    That is Fy Z, and 1.5 Fy S, its bound, at the same time.

    >>> print(plate_moment(40.0, 345.0))
    138000.0
    """
    return yield_strength * thickness**2 / 4


def plate_flexure(
    moment: float, thickness: float, yield_strength: float, method: Method = "LRFD"
) -> ClauseCheck:
    """F11: bending of the plate as a strip; φ = 0.90, Ω = 1.67.

    ``moment`` per length along the post in N·mm/mm, ``thickness`` t in mm, ``yield_strength`` Fy in
    MPa. Raises ValueError for a negative moment, values that are not positive or an unknown method.

    Source: AISC 360-22, F1 and F11.1, seen in a public copy.

    >>> print(round(plate_flexure(60e3, 40.0, 345.0).ratio, 4))
    0.4831
    """
    nominal = plate_moment.worked(thickness, yield_strength)
    return ClauseCheck(
        clause=PLATE_FLEXURE,
        demand=stated("moment", "m", moment, "moment per length"),
        resistance=available(nominal, method, 0.90, 1.67),
        steps=(nominal,),
        scope=listed(yield_strength, "plate"),
    )
