"""Clauses of AISC 360 and AASHTO LRFD against printed figures and what must follow from them.

A coefficient of a clause is a rounded number that somebody found from a theory or from tests. So
beside printed figures stand consequences that are independent of this tool's code: both bands and
both systems of units must meet, a coefficient after Hertz must come back as a pressure over
strength, and a shear area must come back from the shear stress of the section.
"""

import math
from functools import partial

from contactfe.codes import aashto_lrfd, aisc_360
from contactfe.codes.aisc_360 import bearing
from contactfe.codes.aisc_360.flexure import (
    noncompact_moment,
    noncompact_slenderness,
    slender_moment,
)
from contactfe.codes.clause import ClauseCheck
from contactfe.hand import flexure, round_section
from contactfe.hand.quantities import INCH, KIP, KIP_PER_INCH, KSI
from contactfe.verify.line_contact import flat_pressure
from contactfe.verify.row import Row
from contactfe.verify.sources import COMPUTED_DIGIT, HERTZ_ON_A_FLAT, LAST_PRINTED, half_a_digit

_J7 = "AISC 360-22, J7, eqs J7-2 and J7-3: seen in a public copy"
_OLDER = (
    "AASHTO Standard Specifications, allowable bearing on rollers, printed in Hicks, Civil"
    " Engineering Formulas, p. 258, eqs 10.40 and 10.41: seen; value computed here"
)
_MANUAL = "AISC Shapes Database v15.0, 2017, dimensions of {}: seen"
_EXAMPLE = "AISC Design Examples, {}: seen at second hand, in a reprint with its printed results"
_WELD_EXAMPLE = "AISC Design Examples v14.0, 2011, example J.1: seen in a public copy"
_AASHTO = "AASHTO LRFD, 7th edition, 2014, eq. 14.7.1.4-{}: from memory, not seen; {}"


def _allowable_us(diameter: float, yield_strength: float) -> float:
    """AISC allowable load of a roller, kip/in, for in and ksi."""
    found = aisc_360.roller(
        0.0, diameter * INCH, yield_strength * KSI, method="ASD", units="US customary"
    )
    return found.resistance.value / KIP_PER_INCH


def _bands_us() -> float:
    at = bearing.BAND["US customary"], 50 * KSI
    return bearing.large_roller_strength_us(*at) / bearing.roller_strength_us(*at)


def _bands_si() -> float:
    return bearing.large_roller_strength(630.0, 345.0) / bearing.roller_strength(630.0, 345.0)


def _si_over_us() -> float:
    at = 150.0, 345.0
    return bearing.roller_strength(*at) / bearing.roller_strength_us(*at)


def _weld_us(method: aisc_360.Method) -> float:
    """Strength of an E70 fillet weld, kip per inch, of a leg of one sixteenth of an inch."""
    stress = aisc_360.fillet_weld(0.0, 70 * KSI, method).resistance.value
    return stress / KSI * math.sqrt(0.5) / 16


def _pipe_flexure(method: aisc_360.Method) -> float:
    """Available moment, kip·ft, of Pipe 8 x-strong of A53 Grade B."""
    found = aisc_360.round_hss_flexure(
        0.0, 8.625 * INCH, 0.5 * INCH, 35 * KSI, method, young=29e3 * KSI, design_share=0.93
    )
    return found.resistance.value / (KIP * 12 * INCH)


def _long_hss_shear(method: aisc_360.Method = "LRFD") -> ClauseCheck:
    """HSS16.000×0.375 of A500 Grade B, 192 in from the greatest to zero shear."""
    return aisc_360.round_hss_shear(
        0.0, 16 * INCH, 0.375 * INCH, 192 * INCH, 42 * KSI, method, young=29e3 * KSI,
        design_share=0.93,
    )  # fmt: skip


def _design_section(diameter: float, wall: float, key: str) -> float:
    """Area in in², or a section modulus in in³, of a tube by its design wall; sizes in in."""
    of = {
        "area": round_section.area,
        "plastic-modulus": round_section.plastic_modulus,
        "elastic-modulus": round_section.elastic_modulus,
    }[key]
    # The table rounds the design wall to a thousandth.
    return of(diameter, diameter - 2 * round(float(aisc_360.design_wall(wall, 0.93)), 3))


_PIPE_MOMENTS: tuple[tuple[aisc_360.Method, float], ...] = (("LRFD", 81.4), ("ASD", 54.1))
_SHAPES = (
    ("HSS6.000×0.500", 6.0, 0.5, ("8.09", "14.3", "10.4")),
    ("Pipe 8 x-strong", 8.625, 0.5, ("11.9", "31.0", "23.1")),
    ("HSS10.000×0.500", 10.0, 0.5, ("13.9", "42.3", "31.7")),
    ("HSS14.000×0.625", 14.0, 0.625, ("24.5", "105", "78.9")),
    ("HSS16.000×0.375", 16.0, 0.375, ("17.2", "85.5", "65.7")),
)
"""Designation, diameter and nominal wall, in; printed area, Z and S, in² and in³."""

_SHAPE_ROWS = tuple(
    Row(
        key=f"aisc-{name.lower().replace(' ', '-').replace('×', 'x')}-{key}",
        kind="standard",
        case=f"{key.replace('-', ' ')} of {name} by its design wall, 0.93 × {wall:.3f} in",
        source=_MANUAL.format("round HSS and pipe"),
        published=float(printed),
        tool=partial(_design_section, diameter, wall, key),
        allowed=half_a_digit(printed),
        why=LAST_PRINTED,
        unit="in²" if key == "area" else "in³",
        absolute=True,
    )
    for name, diameter, wall, values in _SHAPES
    for key, printed in zip(("area", "plastic-modulus", "elastic-modulus"), values, strict=True)
)


def _noncompact_over_slender() -> float:
    wall = 5.0
    diameter = wall * noncompact_slenderness(345.0)
    return noncompact_moment(1.0, diameter, wall, 345.0) / slender_moment(1.0, diameter, wall)


def _shear_at(stress: float, x: float, bore_radius: float, poisson: float) -> float:
    """Shear force, N, at which a round of radius 50 mm has this stress at x, by St-Venant."""
    return stress / float(flexure.flexure_shear(x, 0.0, 1.0, 50.0, bore_radius, poisson)[1])


def _tube_shear_over_field() -> float:
    found = aisc_360.round_hss_shear(0.0, 100.0, 0.5, 100.0, 250.0, young=210e3)
    nominal = found.steps[-1].value
    critical = found.steps[-2].value
    return nominal / _shear_at(critical, 50.0, 49.5, 0.3)


ROWS: tuple[Row, ...] = (
    # AISC 360, J7
    Row(
        key="aisc-roller-bands-meet-us",
        kind="standard",
        case="AISC J7-3 over J7-2 where they meet, at 25 in",
        source=_J7 + "; 6.0√25 = 1.2·25",
        published=1.0,
        tool=_bands_us,
        allowed=1e-12,
        why="exact",
    ),
    Row(
        key="aisc-roller-bands-meet-si",
        kind="standard",
        case="AISC J7-3 over J7-2 in SI where they meet, at 630 mm",
        source=_J7 + " in SI",
        published=1.0,
        tool=_bands_si,
        allowed=0.003,
        why="rounded coefficient 30.2",
    ),
    Row(
        key="aisc-roller-si-over-us",
        kind="standard",
        case="AISC J7-2 in SI over the US customary form, 150 mm, Fy = 345 MPa",
        source=_J7,
        published=1.0,
        tool=_si_over_us,
        allowed=0.002,
        why="13 ksi is 89.6 MPa and printed as 90",
    ),
    Row(
        key="aisc-roller-older-allowable",
        kind="standard",
        case="allowable load of a 6 in roller, Fy = 36 ksi: (Fy − 13)/20 · 0.6 d",
        source=_OLDER,
        published=4.14,
        tool=lambda: _allowable_us(6.0, 36.0),
        allowed=1e-9,
        why="exact",
        unit="kip/in",
    ),
    Row(
        key="aisc-roller-older-allowable-large",
        kind="standard",
        case="allowable load of a 30 in roller, Fy = 50 ksi: (Fy − 13)/20 · 3√d",
        source=_OLDER,
        published=30.40,
        tool=lambda: _allowable_us(30.0, 50.0),
        allowed=0.005,
        why="last printed digit",
        unit="kip/in",
        absolute=True,
    ),
    *(
        Row(
            key=f"aisc-roller-older-allowable-{diameter}-in",
            kind="standard",
            case=f"allowable load of a {diameter} in roller, Fy = {strength:g} ksi:"
            " (Fy − 13)/20 · 3√d",
            source=_OLDER,
            published=published,
            tool=partial(_allowable_us, float(diameter), strength),
            allowed=1e-4,
            why="last digit given",
            unit="kip/in",
        )
        for diameter, strength, published in ((30, 36.0, 18.896), (100, 50.0, 55.5))
    ),
    Row(
        key="aisc-roller-hertz-pressure",
        kind="standard",
        case="Hertz pressure at the nominal strength of a 6 in roller, Fy = 50 ksi",
        source=_J7 + f"; {HERTZ_ON_A_FLAT}; value computed here",
        published=150.1,
        tool=lambda: (
            flat_pressure(bearing.roller_strength_us(6 * INCH, 50 * KSI), 6 * INCH, 29e3 * KSI)
            / KSI
        ),
        allowed=0.05,
        why=COMPUTED_DIGIT,
        unit="ksi",
        absolute=True,
    ),
    # AISC 360, members and weld
    Row(
        key="aisc-weld-lrfd",
        kind="standard",
        case="design strength of an E70 fillet weld per sixteenth of leg, LRFD",
        source="AISC Steel Construction Manual, eq. 8-2a: from memory, not seen",
        published=1.392,
        tool=lambda: _weld_us("LRFD"),
        allowed=0.0005,
        why="last printed digit",
        unit="kip/in",
        absolute=True,
    ),
    Row(
        key="aisc-weld-asd",
        kind="standard",
        case="allowable strength of an E70 fillet weld per sixteenth of leg, ASD",
        source="AISC Steel Construction Manual, eq. 8-2b: from memory, not seen",
        published=0.928,
        tool=lambda: _weld_us("ASD"),
        allowed=0.0005,
        why="last printed digit",
        unit="kip/in",
        absolute=True,
    ),
    Row(
        key="aisc-weld-example-strength",
        kind="standard",
        case="nominal strength of a 3/16 in fillet weld, E70, per inch",
        source=_WELD_EXAMPLE,
        published=5.57,
        tool=lambda: 3 * _weld_us("LRFD") / 0.75,
        allowed=0.005,
        why="last printed digit",
        unit="kip/in",
        absolute=True,
    ),
    Row(
        key="aisc-weld-example-length",
        kind="standard",
        case="length of that weld for 200 kip, LRFD",
        source=_WELD_EXAMPLE,
        published=47.9,
        tool=lambda: 200.0 / (3 * _weld_us("LRFD")),
        allowed=0.05,
        why="last printed digit",
        unit="in",
        absolute=True,
    ),
    *(
        Row(
            key=f"aisc-pipe-bending-{method.lower()}",
            kind="standard",
            case=f"bending of Pipe 8 x-strong by AISC F8, Fy = 35 ksi, {method}",
            source=_EXAMPLE.format("v15.0, 2017, example F.9B"),
            published=published,
            tool=partial(_pipe_flexure, method),
            allowed=0.05,
            why="last printed digit",
            unit="kip·ft",
            absolute=True,
        )
        for method, published in _PIPE_MOMENTS
    ),
    *(
        Row(
            key=f"aisc-long-tube-shear-{key}",
            kind="standard",
            case=f"{what} of HSS16.000×0.375 by AISC G5, Fy = 42 ksi, Lv = 192 in",
            source=_EXAMPLE.format("v14.0, 2011, example G.5"),
            published=published,
            tool=tool,
            allowed=allowed,
            why="the example rounds the wall to 0.349 in and the area to 17.2 in²",
            unit=unit,
            absolute=True,
        )
        for key, what, published, allowed, unit, tool in (
            (
                "stress-a",
                "buckling stress with the length",
                112.0,
                0.5,
                "ksi",
                lambda: _long_hss_shear().steps[2].value / KSI,
            ),
            (
                "stress-b",
                "buckling stress of the wall",
                72.9,
                0.12,
                "ksi",
                lambda: _long_hss_shear().steps[3].value / KSI,
            ),
            (
                "stress",
                "critical shear stress",
                25.2,
                0.05,
                "ksi",
                lambda: _long_hss_shear().steps[4].value / KSI,
            ),
            (
                "lrfd",
                "design shear strength",
                195.0,
                0.6,
                "kip",
                lambda: _long_hss_shear().resistance.value / KIP,
            ),
            (
                "asd",
                "allowable shear strength",
                130.0,
                0.65,
                "kip",
                lambda: _long_hss_shear("ASD").resistance.value / KIP,
            ),
        )
    ),
    *_SHAPE_ROWS,
    Row(
        key="aisc-tube-bending-bands-meet",
        kind="standard",
        case="AISC F8-2 over F8-3 where they meet, at D/t = 0.31 E/Fy",
        source="AISC 360-22, F8 and Table B4.1b: seen in a public copy",
        published=1.0,
        tool=_noncompact_over_slender,
        allowed=0.004,
        why="rounded coefficients 0.021, 0.31, 0.33",
    ),
    Row(
        key="aisc-tube-shear-half-area",
        kind="standard",
        case="AISC G5-1 over the shear at which a tube of D/t = 200 reaches Fcr at its middle",
        source="field of St-Venant flexure (hand/flexure.py, derived here); G5 seen in a"
        " public copy",
        published=1.0,
        tool=_tube_shear_over_field,
        allowed=0.005,
        why="Ag/2 is the limit of a thin wall; D/t = 200 is not quite there",
    ),
    Row(
        key="aisc-solid-shear-by-analogy",
        kind="standard",
        case="shear of a 100 mm solid round at 0.6 Fy in its middle, Fy = 345 MPa, ν = 0.5",
        source="field of St-Venant flexure, exact 4V/(3A) at ν = 0.5 (Timoshenko and Goodier,"
        " Theory of Elasticity: from memory, not seen)",
        published=lambda: _shear_at(0.6 * 345.0, 0.0, 0.0, 0.5) / 1e3,
        tool=lambda: aisc_360.solid_round_shear(0.0, 100.0, 345.0).steps[-1].value / 1e3,
        allowed=1e-9,
        why="exact at ν = 0.5",
        unit="kN",
    ),
    # AASHTO LRFD
    Row(
        key="aashto-cylinder-us",
        kind="standard",
        case="AASHTO service load of a 6 in cylinder on a flat, Fy = 50 ksi",
        source=_AASHTO.format(1, "value computed here"),
        published=4.138,
        tool=lambda: (
            aashto_lrfd.cylinder(0.0, 6 * INCH, 50 * KSI, young=29e3 * KSI).resistance.value
            / KIP_PER_INCH
        ),
        allowed=0.0005,
        why=COMPUTED_DIGIT,
        unit="kip/in",
        absolute=True,
    ),
    Row(
        key="aashto-cylinder-first-yield",
        kind="standard",
        case="Hertz pressure over Fy at the AASHTO service load, against first yield after Tresca",
        source=_AASHTO.format(1, "first yield at 0.3003 p0: Johnson, section 6.1, not seen"),
        published=1 / 0.6006,
        tool=lambda: flat_pressure(aashto_lrfd.cylinder_limit(150.0, 345.0), 150.0, 200e3) / 345.0,
        allowed=0.006,
        why="rounded coefficient 8",
    ),
)
