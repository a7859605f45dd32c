"""What the clauses of AISC 360 share: methods, their factors, steels covered, design wall."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Literal

from contactfe.codes import tube
from contactfe.codes.clause import Standard, Text
from contactfe.hand.formula import Given, Limit, Worked, at_most
from contactfe.hand.quantities import Length, Share

Method = Literal["LRFD", "ASD"]
"""Load and resistance factor design, or allowable strength design."""

Listed = Literal["plate", "bar", "hollow section"]
"""What a part is, among the products whose steels Table A3.1 lists for use."""

HIGHEST_YIELD: Mapping[Listed, float] = MappingProxyType(
    {"plate": 690.0, "bar": 450.0, "hollow section": 345.0}
)
"""Largest specified minimum yield strength, MPa, of the steels listed for use (100, 65 and 50 ksi,
rounded): Table A3.1, seen in a public copy, but the strengths of hollow sections from memory. Of
any other steel the engineer of record decides."""

STEEL = 200e3
"""Young's modulus, MPa, of the Specification (29 000 ksi): Table B4.1b, seen in a public copy."""

AISC = Standard(
    name="AISC 360",
    edition="2022",
    cited="AISC 360-22",
    text="seen in a public copy",
    symbols={
        "diameter": "d",
        "wall": "t",
        "area": "Ag",
        "plastic_modulus": "Z",
        "elastic_modulus": "S",
        "yield_strength": "Fy",
        "critical_stress": "Fcr",
        "line_load": "q",
        "shear": "V",
    },
)

UNSEEN: Text = "from memory, not seen"
"""How B3, E and H were not seen."""


def available(nominal: Worked, method: Method, phi: float, omega: float) -> Worked:
    """Strength to hold the demand against: φ times the nominal one (LRFD), or it over Ω (ASD).

    Source: AISC 360-22, B3.1 and B3.2, from memory, not seen; φ and Ω are those of the clause.
    """
    design = method == "LRFD"
    return Worked(
        "aisc_360.available",
        "design strength" if design else "allowable strength",
        f"φ{nominal.symbol}" if design else f"{nominal.symbol}/Ω",
        "{factor}·{nominal}" if design else "{nominal}/{factor}",
        {
            "factor": Given("φ", phi) if design else Given("Ω", omega),
            "nominal": Given(nominal.symbol, nominal.value, nominal.dimension),
        },
        phi * nominal.value if design else nominal.value / omega,
        nominal.dimension,
        AISC.source("B3.1" if design else "B3.2", UNSEEN),
    )


def listed(yield_strength: float, product: Listed, what: str = "Fy") -> tuple[Limit, ...]:
    """Yield strength, MPa, is one of the steels listed for use: at most :data:`HIGHEST_YIELD`."""
    return (at_most(what, yield_strength, HIGHEST_YIELD[product], "stress"),)


@AISC.formula(
    "design wall",
    "t",
    "B4.2",
    note="k: share of the nominal wall that counts, by the standard that the tube is made to.",
)
def design_wall(wall: Annotated[Length, "tnom"], share: Annotated[Share, "k"]) -> Length:
    """The share of the nominal wall that counts in the strength of a tube.

    It is 1 in tubes of ASTM A1085 and A1065, and 0.93 in those of every other standard for hollow
    sections or pipe, such as ASTM A500, A53 and A106.
    """
    return share * wall


def designed(
    outside_diameter: float, wall: float, share: float
) -> tuple[tuple[Worked, ...], float]:
    """The step to the design wall, none where the whole wall counts, and the wall, mm.

    Sizes in mm. Raises ValueError for a nominal wall that does not fit.
    """
    tube.fits(outside_diameter, wall)
    if share == 1.0:
        return (), wall
    step = design_wall.worked(wall, share)
    return (step,), step.value
