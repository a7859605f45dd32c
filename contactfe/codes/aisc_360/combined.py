"""AISC 360-22, H1: the plate bent and pushed along its span by friction."""

import math
from typing import Annotated

from contactfe.codes.aisc_360.common import AISC, STEEL, UNSEEN, Method, available, listed
from contactfe.codes.aisc_360.flexure import plate_moment
from contactfe.codes.clause import UNITY, Sides
from contactfe.codes.scope import steel_modulus
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    POSITIVE,
    Length,
    LineLoad,
    MomentPerLength,
    Number,
    Stress,
)


@AISC.formula(
    "critical stress of the plate strip in compression",
    "Fcr",
    "eqs E3-2 and E3-4, with r² = t²/12",
    text=UNSEEN,
)
def critical_stress(
    span: Length, thickness: Length, yield_strength: Stress, young: Stress = STEEL
) -> Stress:
    """Stress Fcr = 0.658^(Fy/Fe) Fy with Fe = π² E/(L/r)²; the ends are free to turn.

    For a span so slender that Fy/Fe passes 2.25, where eq. E3-3 holds, this stays below it.
    """
    return float(
        0.658 ** (yield_strength * 12 * span**2 / (math.pi**2 * young * thickness**2))
        * yield_strength
    )


@AISC.formula(
    "axial strength of the plate strip, per length", "Pn", "eq. E3-1, per length", text=UNSEEN
)
def axial_strength(critical_stress: Stress, thickness: Length) -> LineLoad:
    """Strength of the strip in compression."""
    return critical_stress * thickness


@AISC.formula("interaction of axial force and bending", "f", "eqs H1-1a and H1-1b", text=UNSEEN)
def interaction(
    axial_force: Annotated[LineLoad, "Pr"],
    axial_strength: Annotated[LineLoad, "Pc", POSITIVE],
    moment: Annotated[MomentPerLength, "Mr", NOT_NEGATIVE],
    moment_strength: Annotated[MomentPerLength, "Mc", POSITIVE],
) -> Number:
    """The greater of eqs H1-1a and H1-1b.

    The clause takes the first from Pr/Pc = 0.2 on and the second below. The greater of both reaches
    1 where the one that the clause takes does, and grows as the load everywhere (derived here).
    """
    return max(
        axial_force / axial_strength + 8 / 9 * moment / moment_strength,
        axial_force / (2 * axial_strength) + moment / moment_strength,
    )


@AISC.clause(
    "aisc_360.h1_plate",
    "H1.1, eqs H1-1a and H1-1b",
    "bending of a flat plate with axial force",
    intended_for="Doubly symmetric members in bending and compression, for strength.",
    applies_here="Applies to the bumper plate as a strip that spans between its edges, per length"
    " along the post, with the axial force from friction. The whole span counts as the buckling"
    " length, although only the part on one side of the load is compressed and the other is"
    " stretched by as much; for the same reason the deflection adds no moment worth counting.",
    applicability="as written",
    level="strength",
    text=UNSEEN,
)
def plate_combined(
    moment: Annotated[MomentPerLength, "Mr", NOT_NEGATIVE],
    axial_force: Annotated[LineLoad, "Pr"],
    thickness: Length,
    span: Length,
    yield_strength: Stress,
    method: Method = "LRFD",
    young: Stress = STEEL,
) -> Sides:
    """Loads are per length along the post; φ and Ω are those of E1 and of F1.

    >>> print(round(plate_combined(60e3, 200.0, 40.0, 400.0, 345.0).ratio, 4))
    0.4919
    """
    flexural = plate_moment.worked(thickness, yield_strength)
    critical = critical_stress.worked(span, thickness, yield_strength, young)
    axial = axial_strength.worked(critical.value, thickness)
    Mc, Pc = (available(nominal, method, phi=0.90, omega=1.67) for nominal in (flexural, axial))
    return Sides(
        demand=interaction.worked(axial_force, Pc.value, moment, Mc.value),
        resistance=UNITY,
        steps=(flexural, Mc, critical, axial, Pc),
        scope=(*steel_modulus(young), *listed(yield_strength, "plate")),
    )
