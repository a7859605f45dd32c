"""AISC 360-22, H1: the plate bent and pushed along its span by friction. From memory, not seen."""

import math
from typing import Annotated

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
from contactfe.hand.formula import formula
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    POSITIVE,
    Length,
    LineLoad,
    MomentPerLength,
    Number,
    Stress,
)

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
    "critical_stress": "Fcr",
    "axial_force": "Pr",
    "axial_strength": "Pc",
    "moment": "Mr",
    "moment_strength": "Mc",
}


@formula(
    "critical stress of the plate strip in compression",
    "Fcr",
    source=FROM_MEMORY.format("eqs E3-2 and E3-4, with r² = t²/12"),
    symbols=FY,
)
def critical_stress(
    span: Length, thickness: Length, yield_strength: Stress, young: Stress = STEEL
) -> Stress:
    """Stress Fcr = 0.658^(Fy/Fe) Fy, MPa, with Fe = π² E/(L/r)²; the ends are free to turn.

    ``span`` L and ``thickness`` t in mm, Fy and E in MPa. For a span so slender that Fy/Fe passes
    2.25, where eq. E3-3 holds, this stays below it.

    >>> print(critical_stress(400.0, 40.0, 345.0))
    316.0056
    """
    slenderness = yield_strength * 12 * span**2 / (math.pi**2 * young * thickness**2)
    return math.pow(0.658, slenderness) * yield_strength


@formula(
    "axial strength of the plate strip, per length",
    "Pn",
    source=FROM_MEMORY.format("eq. E3-1, per length"),
    symbols=_COMBINED,
)
def axial_strength(critical_stress: Stress, thickness: Length) -> LineLoad:
    """Nominal axial strength Pn = Fcr t, N/mm, Fcr in MPa and t in mm.

    >>> print(axial_strength(300.0, 40.0))
    12000.0
    """
    return critical_stress * thickness


@formula(
    "interaction of axial force and bending",
    "f",
    source=FROM_MEMORY.format("eqs H1-1a and H1-1b"),
    symbols=_COMBINED,
)
def interaction(
    axial_force: LineLoad,
    axial_strength: Annotated[LineLoad, POSITIVE],
    moment: Annotated[MomentPerLength, NOT_NEGATIVE],
    moment_strength: Annotated[MomentPerLength, POSITIVE],
) -> Number:
    """The greater of Pr/Pc + 8/9 Mr/Mc (eq. H1-1a) and Pr/(2Pc) + Mr/Mc (eq. H1-1b).

    Forces in N/mm, moments in N·mm/mm. The clause takes the first from Pr/Pc = 0.2 on and the
    second below. The greater of both reaches 1 where the one that the clause takes does, and grows
    as the load everywhere (derived here).

    >>> print(interaction(100.0, 10000.0, 50e3, 100e3))
    0.505
    """
    bent = moment / moment_strength
    return max(
        axial_force / axial_strength + 8 / 9 * bent, axial_force / (2 * axial_strength) + bent
    )


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
