"""AISC 360-22, F8 and F11: bending of the post, hollow or solid, and of the plate."""

from dataclasses import replace
from typing import Annotated

from contactfe.codes import tube
from contactfe.codes.aisc_360.common import AISC, STEEL, Method, available, designed, listed
from contactfe.codes.clause import Sides
from contactfe.codes.scope import steel_modulus
from contactfe.hand import round_section
from contactfe.hand.formula import Worked, at_most
from contactfe.hand.quantities import (
    NOT_NEGATIVE,
    Length,
    Moment,
    MomentPerLength,
    Number,
    SectionModulus,
    Share,
    Stress,
)


@AISC.formula(
    "largest D/t of a compact round hollow section", "λp", "Table B4.1b, round HSS in flexure"
)
def compact_slenderness(yield_strength: Stress, young: Stress = STEEL) -> Number:
    """Slenderness up to which a round hollow section reaches its plastic moment."""
    return 0.07 * young / yield_strength


@AISC.formula(
    "largest D/t of a noncompact round hollow section", "λr", "Table B4.1b, round HSS in flexure"
)
def noncompact_slenderness(yield_strength: Stress, young: Stress = STEEL) -> Number:
    """Slenderness beyond which the wall of a round hollow section is slender."""
    return 0.31 * young / yield_strength


@AISC.formula("plastic moment", "Mp", "eq. F8-1")
def plastic_moment(plastic_modulus: SectionModulus, yield_strength: Stress) -> Moment:
    """Nominal moment of yielding, and the greatest of a round hollow section."""
    return yield_strength * plastic_modulus


@AISC.formula(
    "bound of a thick wall, by analogy with a solid round",
    "Mn",
    "eq. F11-2",
    derived="its bound for a solid round; F8 has none",
)
def thick_wall_moment(elastic_modulus: SectionModulus, yield_strength: Stress) -> Moment:
    """Nominal moment which the plastic moment passes in a thick tube.

    Z/S is above 1.6 for a bore of less than 0.47 of the diameter, and Fy Z is then more than F11
    allows the solid round of the same diameter.
    """
    return 1.6 * yield_strength * elastic_modulus


@AISC.formula("moment of local buckling, noncompact wall", "Mn", "eq. F8-2")
def noncompact_moment(
    elastic_modulus: SectionModulus,
    outside_diameter: Length,
    wall: Length,
    yield_strength: Stress,
    young: Stress = STEEL,
) -> Moment:
    """Nominal moment by the design wall."""
    tube.fits(outside_diameter, wall)
    return (0.021 * young / (outside_diameter / wall) + yield_strength) * elastic_modulus


@AISC.formula("moment of local buckling, slender wall", "Mn", "eqs F8-3 and F8-4")
def slender_moment(
    elastic_modulus: SectionModulus, outside_diameter: Length, wall: Length, young: Stress = STEEL
) -> Moment:
    """Nominal moment Fcr S with Fcr = 0.33 E/(D/t), by the design wall."""
    tube.fits(outside_diameter, wall)
    return 0.33 * young / (outside_diameter / wall) * elastic_modulus


@AISC.clause(
    "aisc_360.f8",
    "F8, eqs F8-1 to F8-4",
    "bending of round hollow sections",
    intended_for="Beams of round hollow section, for strength: yielding of the whole section, or"
    " local buckling of the wall.",
    applies_here="Applies to a tubular post as a cantilever. F8 has no bound for a thick wall: here"
    " 1.6 Fy S bounds it, by analogy with F11, so that no tube is stronger than its solid round. It"
    " does not cover the ring bending of the wall at the contact, which acts at the same time where"
    " the contact is near the root.",
    applicability="as written",
    level="strength",
)
def round_hss_flexure(
    moment: Moment,
    outside_diameter: Length,
    wall: Length,
    yield_strength: Stress,
    method: Method = "LRFD",
    young: Stress = STEEL,
    design_share: Share = 1.0,
) -> Sides:
    """``design_share`` is that of the nominal ``wall`` which counts (:func:`design_wall`, B4.2).

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
    others: tuple[Worked, ...] = ()
    bound = thick_wall_moment.worked(S.value, yield_strength)
    if bound.value < yielding.value:
        others = (S, bound)
    elif ratio.value > noncompact.value:
        others = (S, slender_moment.worked(S.value, outside_diameter, wall, young))
    elif ratio.value > compact.value:
        buckling = noncompact_moment.worked(S.value, outside_diameter, wall, yield_strength, young)
        others = (S, buckling)
    nominal = min((yielding, *others[1:]), key=float)
    return Sides(
        demand=moment,
        resistance=available(nominal, method, phi=0.90, omega=1.67),
        steps=(*first, ratio, compact, noncompact, Z, yielding, *others),
        scope=(
            at_most("D/t", ratio.value, 0.45 * young / yield_strength),
            *steel_modulus(young),
            *listed(yield_strength, "hollow section"),
        ),
    )


@AISC.formula("nominal moment of a solid round", "Mn", "eq. F11-2")
def solid_round_moment(
    plastic_modulus: SectionModulus, elastic_modulus: SectionModulus, yield_strength: Stress
) -> Moment:
    """Nominal moment; its bound governs in every solid round, for which Z/S = 1.70."""
    return min(yield_strength * plastic_modulus, 1.6 * yield_strength * elastic_modulus)


@AISC.clause(
    "aisc_360.f11_round",
    "F11, eq. F11-2",
    "bending of solid rounds",
    intended_for="Solid bars of round section in bending, for strength: no length of a round bar"
    " buckles sideways.",
    applies_here="Applies to a solid post as a cantilever. 1.6 Fy S is well past first yield at the"
    " root; it does not cover what the contact adds there.",
    applicability="as written",
    level="strength",
)
def solid_round_flexure(
    moment: Moment, diameter: Length, yield_strength: Stress, method: Method = "LRFD"
) -> Sides:
    """The whole section yields.

    >>> print(solid_round_flexure(50e6, 150.0, 345.0).resistance)
    φMn = φ·Mn = 0.9·1.829e+08 N·mm = 1.6461e+08 N·mm
    """
    Z = round_section.plastic_modulus.worked(diameter)
    S = replace(round_section.elastic_modulus.worked(diameter), symbol="S")
    nominal = solid_round_moment.worked(Z.value, S.value, yield_strength)
    return Sides(
        demand=moment,
        resistance=available(nominal, method, phi=0.90, omega=1.67),
        steps=(Z, S, nominal),
        scope=listed(yield_strength, "bar"),
    )


@AISC.formula(
    "nominal moment of a plate strip, per length", "mn", "eq. F11-1, with Z = t²/4 per length"
)
def plate_moment(thickness: Length, yield_strength: Stress) -> MomentPerLength:
    """Nominal moment Fy Z, and 1.5 Fy S, its bound, at the same time."""
    return yield_strength * thickness**2 / 4


@AISC.clause(
    "aisc_360.f11_plate",
    "F11, eq. F11-1",
    "bending of a flat plate about its weak axis",
    intended_for="Rectangular bars in bending about the minor axis, for strength.",
    applies_here="Applies to the bumper plate as a strip that spans between its edges, per length"
    " along the post; its moment includes the couple of the friction force. The stress right under"
    " the contact is not beam bending.",
    applicability="as written",
    level="strength",
)
def plate_flexure(
    moment: Annotated[MomentPerLength, "m", NOT_NEGATIVE],
    thickness: Length,
    yield_strength: Stress,
    method: Method = "LRFD",
) -> Sides:
    """The moment is per length along the post.

    >>> print(round(plate_flexure(60e3, 40.0, 345.0).ratio, 4))
    0.4831
    """
    nominal = plate_moment.worked(thickness, yield_strength)
    return Sides(
        demand=moment,
        resistance=available(nominal, method, phi=0.90, omega=1.67),
        steps=(nominal,),
        scope=listed(yield_strength, "plate"),
    )
