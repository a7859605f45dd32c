"""AISC 360-22, H1: the plate bent and pushed along its span by friction. From memory, not seen."""

import math

from contactfe.codes.aisc_360.common import (
    EDITION,
    FROM_MEMORY,
    FY,
    STANDARD,
    STEEL,
    UNSEEN,
    Method,
    available,
    listed,
)
from contactfe.codes.aisc_360.flexure import plate_moment
from contactfe.codes.clause import UNITY, Clause, ClauseCheck, Symbols
from contactfe.codes.scope import steel_modulus
from contactfe.hand import check
from contactfe.hand.formula import formula

PLATE_COMBINED = Clause(
    key="aisc_360.h1_plate",
    standard=STANDARD,
    edition=EDITION,
    number="H1.1, eqs H1-1a and H1-1b",
    title="bending of a flat plate with axial force",
    intended_for="Doubly symmetric members in bending and compression, for strength.",
    applies_here="Applies to the bumper plate as a strip that spans between its edges, per length"
    " along the post, with the axial force from friction. The whole span counts as the buckling"
    " length, although only the part on one side of the load is compressed and the other is"
    " stretched by as much; for the same reason the deflection adds no moment worth counting.",
    applicability="as written",
    level="strength",
    text=UNSEEN,
)

_COMBINED: Symbols = {
    **FY,
    "critical_stress": ("Fcr", "stress"),
    "axial_force": ("Pr", "line load"),
    "axial_strength": ("Pc", "line load"),
    "moment": ("Mr", "moment per length"),
    "moment_strength": ("Mc", "moment per length"),
}


@formula(
    name="critical stress of the plate strip in compression",
    symbol="Fcr",
    form="0.658^({yield_strength}·12·{span}²/(π²·{young}·{thickness}²))·{yield_strength}",
    dimension="stress",
    source=FROM_MEMORY.format("eqs E3-2 and E3-4, with r² = t²/12"),
    given=FY,
)
def critical_stress(
    span: float, thickness: float, yield_strength: float, young: float = STEEL
) -> float:
    """Stress Fcr = 0.658^(Fy/Fe) Fy, MPa, with Fe = π² E/(L/r)²; the ends are free to turn.

    ``span`` L and ``thickness`` t in mm, Fy and E in MPa. For a span so slender that Fy/Fe passes
    2.25, where eq. E3-3 holds, this stays below it. Raises ValueError for values that are not
    positive. Source: AISC 360-22, eqs E3-2 and E3-4, from memory, not seen.

    >>> print(critical_stress(400.0, 40.0, 345.0))
    316.0056
    """
    check.positive(span=span, thickness=thickness, yield_strength=yield_strength, young=young)
    euler = math.pi**2 * young * thickness**2 / (12 * span**2)
    return math.pow(0.658, yield_strength / euler) * yield_strength


@formula(
    name="axial strength of the plate strip, per length",
    symbol="Pn",
    form="{critical_stress}·{thickness}",
    dimension="line load",
    source=FROM_MEMORY.format("eq. E3-1, per length"),
    given=_COMBINED,
)
def axial_strength(critical_stress: float, thickness: float) -> float:
    """Nominal axial strength Pn = Fcr t, N/mm, Fcr in MPa and t in mm.

    Raises ValueError for values that are not positive. Source: AISC 360-22, eq. E3-1, from memory,
    not seen.

    >>> print(axial_strength(300.0, 40.0))
    12000.0
    """
    check.positive(critical_stress=critical_stress, thickness=thickness)
    return critical_stress * thickness


@formula(
    name="interaction of axial force and bending",
    symbol="f",
    form="max({axial_force}/{axial_strength} + 8/9·{moment}/{moment_strength},"
    " {axial_force}/(2·{axial_strength}) + {moment}/{moment_strength})",
    dimension=None,
    source=FROM_MEMORY.format("eqs H1-1a and H1-1b"),
    given=_COMBINED,
)
def interaction(
    axial_force: float, axial_strength: float, moment: float, moment_strength: float
) -> float:
    """The greater of Pr/Pc + 8/9 Mr/Mc (eq. H1-1a) and Pr/(2Pc) + Mr/Mc (eq. H1-1b).

    Forces in N/mm, moments in N·mm/mm. The clause takes the first from Pr/Pc = 0.2 on and the
    second below. The greater of both reaches 1 where the one that the clause takes does, and grows
    as the load everywhere (derived here). Raises ValueError for negative loads or strengths that
    are not positive. Source: AISC 360-22, H1.1, from memory, not seen.

    >>> print(interaction(100.0, 10000.0, 50e3, 100e3))
    0.505
    """
    check.not_negative(axial_force=axial_force, moment=moment)
    check.positive(axial_strength=axial_strength, moment_strength=moment_strength)
    axial, bent = axial_force / axial_strength, moment / moment_strength
    return max(axial + 8 / 9 * bent, axial / 2 + bent)


def plate_combined(
    moment: float,
    axial_force: float,
    thickness: float,
    span: float,
    yield_strength: float,
    method: Method = "LRFD",
    young: float = STEEL,
) -> ClauseCheck:
    """H1: the plate as a strip in bending and compression; φ = 0.90, Ω = 1.67 for both.

    ``moment`` in N·mm/mm and ``axial_force`` in N/mm per length along the post, ``thickness`` t and
    ``span`` in mm, ``yield_strength`` Fy and ``young`` E in MPa. Raises ValueError for negative
    loads, values that are not positive or an unknown method.

    Source: AISC 360-22, E1, E3, F1, F11.1 and H1.1, from memory, not seen but for chapter F.

    >>> print(round(plate_combined(60e3, 200.0, 40.0, 400.0, 345.0).ratio, 4))
    0.4919
    """
    flexural = plate_moment.worked(thickness, yield_strength)
    critical = critical_stress.worked(span, thickness, yield_strength, young)
    axial = axial_strength.worked(critical.value, thickness)
    Mc, Pc = (available(nominal, method, 0.90, 1.67) for nominal in (flexural, axial))
    return ClauseCheck(
        clause=PLATE_COMBINED,
        demand=interaction.worked(axial_force, Pc.value, moment, Mc.value),
        resistance=UNITY,
        steps=(flexural, Mc, critical, axial, Pc),
        scope=(*steel_modulus(young), *listed(yield_strength, "plate")),
    )
