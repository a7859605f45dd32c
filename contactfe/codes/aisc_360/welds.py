"""AISC 360-22, J2.4: the weld at the root of the post, fillet or groove.

The numbers of its equations, illegible in the copy that was seen, are as remembered.
"""

import math
from typing import Annotated

from contactfe.codes.aisc_360.common import AISC, UNSEEN, Method, available
from contactfe.codes.clause import Sides
from contactfe.hand import torsion
from contactfe.hand.formula import Worked, at_least
from contactfe.hand.quantities import POSITIVE, Angle, Number, Pressure, Stress


@AISC.formula("directional strength factor", "kds", "eq. J2-5, its number unconfirmed")
def directional_factor(angle: Annotated[Angle, "θ"]) -> Number:
    """Factor for a force at θ from the weld's axis. Raises ValueError outside 0 to π/2."""
    if not 0 <= angle <= math.pi / 2:
        raise ValueError(f"angle = {angle!r} is not allowed: it must lie in [0, π/2] rad")
    return float(1.0 + 0.50 * math.sin(angle) ** (1.5))


@AISC.formula(
    "nominal strength of a fillet weld, per area of its throat",
    "Fnw·kds",
    "eq. J2-4, its number unconfirmed, with Fnw of Table J2.5",
)
def weld_stress(
    electrode_strength: Annotated[Stress, "FEXX"], factor: Annotated[Number, "kds", POSITIVE]
) -> Stress:
    """Strength with Fnw = 0.60 FEXX."""
    return 0.60 * electrode_strength * factor


@AISC.clause(
    "aisc_360.j2_4",
    "J2.4, eqs J2-4 and J2-5",
    "strength of fillet welds",
    intended_for="Fillet welds under static load: the resultant stress on the throat against that"
    " of the weld metal.",
    applies_here="Applies to the weld all round at the post's root, with the throat stress of beam"
    " theory. It covers neither the base metal beside the weld, nor fatigue, nor repeated impact.",
    applicability="as written",
    level="strength",
)
def fillet_weld(
    throat_stress: Annotated[Pressure, "fw"],
    electrode_strength: Annotated[Stress, "FEXX"],
    method: Method = "LRFD",
    angle: Annotated[Angle, "θ"] = 0.0,
) -> Sides:
    """θ is the angle of the force from the weld's axis, 0 to π/2.

    Leave it at 0 for a weld all round a post: the angle changes along it, and the factor may be
    counted only where the strains of all parts of the weld fit together.

    >>> print(fillet_weld(120.0, 480.0).resistance)
    φFnw·kds = φ·Fnw·kds = 0.75·288 MPa = 216 MPa
    """
    factor = directional_factor.worked(angle)
    nominal = weld_stress.worked(electrode_strength, factor.value)
    return Sides(
        demand=throat_stress,
        resistance=available(nominal, method, phi=0.75, omega=2.00),
        steps=(factor, nominal),
    )


@AISC.formula("yield strength of the base metal", "FnBM", "J4.1, eq. J4-1", text=UNSEEN)
def base_metal_yield(yield_strength: Stress) -> Stress:
    """Nominal stress of the base metal in tension."""
    return 1.0 * yield_strength


@AISC.formula("rupture strength of the base metal", "FnBM", "J4.1, eq. J4-2", text=UNSEEN)
def base_metal_rupture(tensile_strength: Annotated[Stress, "Fu"]) -> Stress:
    """Nominal stress of the base metal at rupture."""
    return 1.0 * tensile_strength


@AISC.clause(
    "aisc_360.j2_4_groove",
    "J2.4 and Table J2.5, with J4.1",
    "complete joint penetration groove weld, by its base metal",
    intended_for="Groove welds of complete joint penetration, with matching filler where tension is"
    " normal to the weld: the base metal governs, here at yield or at rupture, whichever gives the"
    " lower available strength.",
    applies_here="Applies to the weld all round at the post's root, with the von Mises stress of"
    " bending, shear and torsion at the face, by elastic theory and without the stress"
    " concentration. The base metal is the post: the part at its root must not be weaker. Filler"
    " must match, whether its strength is stated or not. It covers neither fatigue nor repeated"
    " impact, nor the part at the root through its thickness.",
    applicability="as written",
    level="strength",
    text=UNSEEN,
)
def groove_weld(
    bending: Annotated[Pressure, "σb"],
    shear: Annotated[Pressure, "τ"],
    twist: Annotated[Pressure, "τT"],
    yield_strength: Stress,
    tensile_strength: Annotated[Stress, "Fu"],
    electrode_strength: Annotated[Stress, "FEXX"] | None = None,
    method: Method = "LRFD",
) -> Sides:
    """Stresses of the post at its root, and the strengths of the post.

    An ``electrode_strength`` that is stated is to be at least Fu of the post, which matching filler
    is; without it the engineer has to see to that.

    >>> print(groove_weld(200.0, 20.0, 10.0, 345.0, 450.0).resistance)
    φFnBM = φ·FnBM = 0.9·345 MPa = 310.5 MPa
    """
    yields, breaks = (
        base_metal_yield.worked(yield_strength),
        base_metal_rupture.worked(tensile_strength),
    )
    strengths: tuple[Worked, ...] = (
        available(yields, method, phi=0.90, omega=1.67),
        available(breaks, method, phi=0.75, omega=2.00),
    )
    return Sides(
        demand=torsion.von_mises_with_torsion.worked(bending, shear, twist),
        resistance=min(strengths, key=float),
        steps=(yields, breaks),
        scope=()
        if electrode_strength is None
        else (at_least("FEXX", electrode_strength, tensile_strength, "stress"),),
    )
