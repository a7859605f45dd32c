"""Clauses of EN 1337 and EN 1993 against printed figures and what must follow from them.

A coefficient of a clause is a rounded number that somebody found from a theory or from tests. So
beside printed figures stand consequences that are independent of this tool's code: a coefficient
after Hertz must come back as a pressure over strength, and a shear area must come back from the
flow of shear round the wall.
"""

import math
from collections.abc import Callable
from functools import partial

from contactfe.codes import en_1337_4, en_1993_1_1, en_1993_1_8
from contactfe.codes.en_1993_1_1.shear import tube_shear_area
from contactfe.codes.en_1993_1_8.contact import flat_contact_stress
from contactfe.hand import round_section
from contactfe.verify.line_contact import flat_pressure
from contactfe.verify.row import Row
from contactfe.verify.sources import COMPUTED_DIGIT, HERTZ_ON_A_FLAT, LAST_PRINTED, half_a_digit

_ROLLER = "EN 1337-4:2004, 23 R fu²/Ed: seen in a public extract of a textbook"
_TUBES = (
    "tables of circular hollow sections to EN 10210-2:1997, printed for use with BS 5950: seen in a"
    " public copy"
)


def _weld_si(tensile_strength: float, correlation: float) -> float:
    """Resistance, kN/mm, of a fillet weld with a throat of 4.2 mm (leg 6 mm)."""
    found = en_1993_1_8.fillet_weld(0.0, 4.2, tensile_strength, correlation)
    return found.resistance.value / 1e3


def _centimetres(of: Callable[[float, float], float], diameter: float, power: int) -> float:
    """Area or section modulus of a tube of 10 mm wall, in centimetres."""
    return of(diameter, diameter - 20.0) / 10.0**power


def _yield_shear_flow() -> float:
    """Shear force over area and stress of a thin tube with the whole wall at the shear yield.

    The flow runs along the wall; its part along the force, |cos α|, sums by the midpoint rule.
    """
    n = 1000
    return sum(abs(math.cos(2 * math.pi * (i + 0.5) / n)) for i in range(n)) / n


_TUBE_ROWS = tuple(
    Row(
        key=f"en-tube-{diameter:g}-{key}",
        kind="standard",
        case=f"{key.replace('-', ' ')} of a tube of {diameter:g} × 10 mm",
        source=_TUBES,
        published=float(printed),
        tool=partial(_centimetres, of, diameter, power),
        allowed=half_a_digit(printed),
        why=LAST_PRINTED,
        unit=f"cm{'²³'[power - 2]}",
        absolute=True,
    )
    for diameter, values in (
        (193.7, ("57.7", "252", "338")), (168.3, ("49.7", "186", "251")),
        (139.7, ("40.7", "123", "169")),
    )
    for (key, of, power), printed in zip(
        (
            ("area", round_section.area, 2),
            ("elastic-modulus", round_section.elastic_modulus, 3),
            ("plastic-modulus", round_section.plastic_modulus, 3),
        ),
        values,
        strict=True,
    )
)  # fmt: skip

ROWS: tuple[Row, ...] = (
    # EN 1337
    Row(
        key="en-1337-4-pressure",
        kind="standard",
        case="Hertz pressure over fu at the resistance of a roller by EN 1337-4",
        source=f"{_ROLLER}; the coefficient stands for a"
        f" pressure of 2 fu (derived here); {HERTZ_ON_A_FLAT}",
        published=2.0,
        tool=lambda: flat_pressure(en_1337_4.roller_resistance(75.0, 490.0), 150.0, 210e3) / 490.0,
        allowed=0.004,
        why="rounded coefficient 23",
    ),
    Row(
        key="en-1337-4-roller",
        kind="standard",
        case="resistance of a roller of R = 75 mm by EN 1337-4, fu = 490 MPa",
        source=f"{_ROLLER}; value computed here",
        published=1972.0,
        tool=lambda: en_1337_4.roller(0.0, 75.0, 490.0).resistance.value,
        allowed=0.5,
        why=COMPUTED_DIGIT,
        unit="N/mm",
        absolute=True,
    ),
    # EN 1993-1-8
    Row(
        key="en-pin-contact-coefficient",
        kind="standard",
        case="contact stress of a 150 mm round on a flat, 1000 N/mm, by the clause's coefficient",
        source=f"{HERTZ_ON_A_FLAT}, ν = 0.3: from memory, not seen",
        published=lambda: flat_pressure(1000.0, 150.0, 210e3),
        tool=lambda: flat_contact_stress(1000.0, 150.0),
        allowed=0.001,
        why="rounded coefficient 0.591 for 1/√(0.91 π) = 0.5914",
        unit="MPa",
    ),
    Row(
        key="en-flat-contact-limit",
        kind="standard",
        case="load of a 150 mm round on a flat whose Hertz pressure is 2.5 fy, fy = 355 MPa",
        source=f"EN 1993-1-8:2005, eq. 3.16 (seen), by analogy; {HERTZ_ON_A_FLAT}; value computed"
        " here",
        published=1608.0,
        tool=lambda: 1000.0 / en_1993_1_8.flat_contact_by_analogy(1000.0, 150.0, 355.0).ratio ** 2,
        allowed=0.002,
        why="rounded coefficient 0.591, squared",
        unit="N/mm",
    ),
    Row(
        key="en-weld-s275",
        kind="standard",
        case="resistance of a fillet weld of 6 mm leg, S275 (fu = 410 MPa, βw = 0.85)",
        source="SCI P363, fillet welds, longitudinal resistance: from memory, not seen",
        published=0.94,
        tool=lambda: _weld_si(410.0, 0.85),
        allowed=0.005,
        why="last printed digit",
        unit="kN/mm",
        absolute=True,
    ),
    Row(
        key="en-weld-s355",
        kind="standard",
        case="resistance of a fillet weld of 6 mm leg, S355 (fu = 470 MPa, βw = 0.9)",
        source="SCI P363, fillet welds, longitudinal resistance: from memory, not seen",
        published=1.01,
        tool=lambda: _weld_si(470.0, 0.9),
        allowed=0.005,
        why="last printed digit",
        unit="kN/mm",
        absolute=True,
    ),
    # EN 1993-1-1
    *_TUBE_ROWS,
    Row(
        key="en-tube-bending",
        kind="standard",
        case="moment resistance of a tube of 219.1 × 10 mm, fy = 355 MPa, class 1",
        source="EN 10210-2, Wpl = 438 cm³, times fy: from memory, not seen",
        published=438e3 * 355.0 / 1e6,
        tool=lambda: en_1993_1_1.bending(0.0, 219.1, 355.0, 10.0).resistance.value / 1e6,
        allowed=0.0012,
        why="last printed digit of Wpl",
        unit="kNm",
    ),
    Row(
        key="en-tube-shear-area",
        kind="standard",
        case="shear area over area of a thin tube with its whole wall at the shear yield",
        source="shear flow of constant strength round the wall, resolved (derived here)",
        published=_yield_shear_flow,
        tool=lambda: tube_shear_area(1.0),
        allowed=1e-5,
        why="midpoint rule with 1000 points",
    ),
    Row(
        key="en-yield-pure-shear",
        kind="standard",
        case="shear stress at which eq. 6.1 of EN 1993-1-1 reaches 1, over fy",
        source="von Mises: 1/√3 (common practice, no source)",
        published=1 / math.sqrt(3),
        tool=lambda: 1 / math.sqrt(en_1993_1_1.yield_at_a_point(0.0, 0.0, 355.0, 355.0).ratio),
        allowed=1e-12,
        why="exact",
    ),
)
