"""AISC 360-22, H: the plate bent and pushed by friction, the post bent, sheared and twisted."""

import math
from typing import Annotated

from contactfe.codes import tube
from contactfe.codes.aisc_360.common import (
    AISC,
    STEEL,
    UNSEEN,
    Method,
    available,
    designed,
    listed,
)
from contactfe.codes.aisc_360.flexure import plate_moment, round_hss_flexure, solid_round_flexure
from contactfe.codes.aisc_360.shear import round_hss_shear, solid_round_shear
from contactfe.codes.clause import UNITY, ClauseCheck, Sides
from contactfe.codes.scope import steel_modulus
from contactfe.hand.formula import Worked, shown
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    POSITIVE,
    Force,
    Length,
    LineLoad,
    Moment,
    MomentPerLength,
    Number,
    SectionModulus,
    Share,
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


@AISC.formula(
    "torsional constant of a round hollow section",
    "C",
    "H3.1",
    text=UNSEEN,
    derived="the elastic modulus in torsion, as the Manual tabulates it",
)
def torsional_constant(outside_diameter: Length, wall: Length) -> SectionModulus:
    """By the design wall: 2J/D. A user note's π(D − t)²t/2 is more, 5 % at D/t = 20."""
    tube.fits(outside_diameter, wall)
    bore = shown("bore", outside_diameter - 2 * wall, "d", "length")
    return math.pi * (outside_diameter**4 - bore**4) / (16 * outside_diameter)


@AISC.formula("critical stress in torsion", "Fcr", "eqs H3-2a and H3-2b", text=UNSEEN)
def critical_torsion_stress(
    length: Length,
    outside_diameter: Length,
    wall: Length,
    yield_strength: Stress,
    young: Stress = STEEL,
) -> Stress:
    """The larger of eqs H3-2a and H3-2b, bounded by shear yield."""
    tube.fits(outside_diameter, wall)
    slenderness = outside_diameter / wall
    long = 1.23 * young / (math.sqrt(length / outside_diameter) * slenderness ** (5 / 4))
    return float(min(max(long, 0.60 * young / slenderness ** (3 / 2)), 0.6 * yield_strength))


@AISC.formula("nominal torsional strength", "Tn", "eq. H3-1", text=UNSEEN)
def torsional_strength(critical_stress: Stress, constant: Annotated[SectionModulus, "C"]) -> Moment:
    """Strength by the critical stress in the whole wall."""
    return critical_stress * constant


@AISC.formula(
    "torsional strength of a solid round by analogy",
    "Tn",
    "H3.1",
    text=UNSEEN,
    derived="0.6 Fy at the outside, where π d³/16 is the elastic modulus in torsion",
)
def solid_torsional_strength(diameter: Length, yield_strength: Stress) -> Moment:
    """First yield in shear at the outside."""
    return 0.6 * yield_strength * math.pi * diameter**3 / 16


@AISC.formula(
    "interaction of bending, shear and torsion",
    "f",
    "eq. H3-6, without axial force",
    text=UNSEEN,
)
def twisted_interaction(
    moment: Annotated[Moment, "Mr"],
    moment_strength: Annotated[Moment, "Mc", POSITIVE],
    shear: Annotated[Force, "Vr"],
    shear_strength: Annotated[Force, "Vc", POSITIVE],
    torque: Annotated[Moment, "Tr"],
    torsional_strength: Annotated[Moment, "Tc", POSITIVE],
) -> Number:
    """Shear and torsion add in the wall, and weigh by their square beside bending."""
    return moment / moment_strength + (shear / shear_strength + torque / torsional_strength) ** 2


def _twisted(
    torque: float, flexure: ClauseCheck, shear: ClauseCheck, torsion: tuple[Worked, ...], Tc: Worked
) -> Sides:
    """The interaction by the strengths that chapters F and G give, and that in torsion.

    All loads k times as large, k Mr/Mc + k² (Vr/Vc + Tr/Tc)² is 1 at the root of a quadratic.
    """
    m, s = flexure.ratio, shear.ratio + torque / Tc.value
    return Sides(
        demand=twisted_interaction.worked(
            flexure.demand.value, flexure.resistance.value, shear.demand.value,
            shear.resistance.value, torque, Tc.value,
        ),
        resistance=UNITY,
        steps=(flexure.resistance, shear.resistance, *torsion, Tc),
        scope=tuple(dict.fromkeys((*flexure.scope, *shear.scope))),
        grows="faster than the load" if s else "as the load",
        load_factor=2 / (m + math.sqrt(m**2 + 4 * s**2)) if s else None,
    )  # fmt: skip


@AISC.clause(
    "aisc_360.h3_2",
    "H3.2, eq. H3-6, with H3.1",
    "bending of a round hollow section with shear and torsion",
    intended_for="Hollow sections under torsion, shear and bending together, where the torsion is"
    " more than a fifth of its strength; below that the clause leaves torsion out.",
    applies_here="Applies to a tubular post at its root, with the torque of friction at the"
    " contact, however small: that is on the safe side. Force and moment count all friction across"
    " the post, the torque as well, at the same time.",
    applicability="as written",
    level="strength",
    text=UNSEEN,
)
def round_hss_combined(
    moment: Annotated[Moment, "Mr"],
    shear: Annotated[Force, "Vr"],
    torque: Annotated[Moment, "Tr"],
    outside_diameter: Length,
    wall: Length,
    length: Length,
    yield_strength: Stress,
    method: Method = "LRFD",
    young: Stress = STEEL,
    design_share: Share = 1.0,
) -> Sides:
    """``length`` is that of the post, from the greatest to zero shear; the rest is as in F8 and G5.

    >>> check = round_hss_combined(50e6, 100e3, 10e6, 219.1, 10.0, 800.0, 345.0)
    >>> print(round(check.ratio, 4))
    0.4281
    """
    wholly = yield_strength, method, young, design_share
    flexure = round_hss_flexure(moment, outside_diameter, wall, *wholly)
    sheared = round_hss_shear(shear, outside_diameter, wall, length, *wholly)
    _, wall = designed(outside_diameter, wall, design_share)
    critical = critical_torsion_stress.worked(length, outside_diameter, wall, yield_strength, young)
    constant = torsional_constant.worked(outside_diameter, wall)
    nominal = torsional_strength.worked(critical.value, constant.value)
    Tc = available(nominal, method, phi=0.90, omega=1.67)
    return _twisted(torque, flexure, sheared, (critical, constant, nominal), Tc)


@AISC.clause(
    "aisc_360.h3_2_solid_by_analogy",
    "H3.2 by analogy",
    "bending of a solid round with shear and torsion, by analogy",
    intended_for="Eq. H3-6 is for hollow sections; H3.3 bounds the normal and the shear stress of"
    " other members one by one. Here a solid round is taken by eq. H3-6, with the strength in shear"
    " of G5 by analogy and first yield at the outside in torsion.",
    applies_here="Applies to a solid post at its root as far as the analogy holds. Shear and"
    " torsion are greatest at different places of the section and count as if at one: that is on"
    " the safe side. Force and moment count all friction across the post, the torque as well, at"
    " the same time.",
    applicability="by analogy",
    level="strength",
    text=UNSEEN,
)
def solid_round_combined(
    moment: Annotated[Moment, "Mr"],
    shear: Annotated[Force, "Vr"],
    torque: Annotated[Moment, "Tr"],
    diameter: Length,
    yield_strength: Stress,
    method: Method = "LRFD",
) -> Sides:
    """φ and Ω are as in H3.1.

    >>> print(round(solid_round_combined(50e6, 300e3, 10e6, 150.0, 345.0).ratio, 4))
    0.3448
    """
    nominal = solid_torsional_strength.worked(diameter, yield_strength)
    return _twisted(
        torque,
        solid_round_flexure(moment, diameter, yield_strength, method),
        solid_round_shear(shear, diameter, yield_strength, method),
        (nominal,),
        available(nominal, method, phi=0.90, omega=1.67),
    )
