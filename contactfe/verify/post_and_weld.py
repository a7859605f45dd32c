"""The post as a cantilever of round section and the weld at its root, beside handbooks.

Properties of the section, shear over it, deflection, the weld as a line. Where a source prints no
value its formula was evaluated apart from this package.
"""

from functools import partial

import numpy as np

from contactfe.hand import cantilever, flexure, round_section, weld
from contactfe.verify.row import Row, hand_row
from contactfe.verify.sources import GIVEN_DIGIT, LAST_PRINTED, TIMOSHENKO

_PIPE = "AISC Manual, 14th ed., Table 1-14, Pipe 6 XX-Strong: from memory, not seen"
_COWPER = "G. R. Cowper, J. Appl. Mech. 33 (1966): formula from memory, not seen"
_SHAPE = "shape factors of any text on plastic design: from memory, not seen"
_BLODGETT = (
    "O. W. Blodgett, Design of Welded Structures, 1966, welds treated as a line: from memory, not"
    " seen; value computed here"
)
_SECTION = TIMOSHENKO.format("bending of bars, circular section")

_XXS = (6.625, 6.625 - 2 * 0.93 * 0.864)  # design wall; any unit of length

_hand = partial(hand_row, why=GIVEN_DIGIT)


def _shape_factor(diameter: float, bore: float) -> float:
    size = diameter, bore
    return round_section.plastic_modulus(*size) / round_section.elastic_modulus(*size)


_POST_ROWS = (
    _hand(
        key="pipe-area",
        case="area of a pipe of 6.625 in, design wall 0.93 x 0.864 in",
        source=_PIPE,
        published=14.7,
        tool=lambda: round_section.area(*_XXS),
        allowed=0.05,
        why=LAST_PRINTED,
        absolute=True,
        unit="in²",
    ),
    _hand(
        key="pipe-second-moment",
        case="its second moment of area",
        source=_PIPE,
        published=63.5,
        tool=lambda: round_section.second_moment(*_XXS),
        allowed=0.1,
        why="last printed digit, and the design wall rounded to 0.001 in",
        absolute=True,
        unit="in⁴",
    ),
    _hand(
        key="pipe-plastic-modulus",
        case="its plastic section modulus",
        source=_PIPE,
        published=27.4,
        tool=lambda: round_section.plastic_modulus(*_XXS),
        allowed=0.05,
        why=LAST_PRINTED,
        absolute=True,
        unit="in³",
    ),
    _hand(
        key="shape-factor-solid",
        case="shape factor of a solid round",
        source=_SHAPE,
        published=1.70,
        tool=lambda: _shape_factor(100.0, 0.0),
        allowed=5e-3,
        why=LAST_PRINTED,
        absolute=True,
    ),
    _hand(
        key="shape-factor-thin-tube",
        case="shape factor of a thin tube, bore 0.9998 of the diameter",
        source=_SHAPE,
        published=1.27,
        tool=lambda: _shape_factor(100.0, 99.98),
        allowed=5e-3,
        why=LAST_PRINTED,
        absolute=True,
    ),
    _hand(
        key="shear-coefficient-solid",
        case="shear coefficient of a solid round, ν = 0.3",
        source=f"{_COWPER}, 6(1 + ν)/(7 + 6ν); value computed here",
        published=0.8864,
        tool=lambda: cantilever.shear_coefficient(100.0, 0.0, 0.3),
        allowed=5e-5,
        absolute=True,
    ),
    _hand(
        key="shear-coefficient-thin-tube",
        case="shear coefficient of a thin tube, bore 0.9998 of the diameter, ν = 0.3",
        source=f"{_COWPER}, 2(1 + ν)/(4 + 3ν); value computed here",
        published=0.5306,
        tool=lambda: cantilever.shear_coefficient(100.0, 99.98, 0.3),
        allowed=5e-5,
        absolute=True,
    ),
    _hand(
        key="cantilever-slender",
        case="solid post of 50 mm, 2000 mm long, 1000 N, 200 GPa: deflection",
        source="W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1 case 1a,"
        " FL³/(3EI): from memory, not seen; value computed here",
        published=43.460,
        tool=lambda: cantilever.deflection(1000.0, 2000.0, 50.0, 0.0, 200e3, 0.3),
        allowed=5e-4,
        why="the part of shear, left out there, is 0.03 %",
        unit="mm",
    ),
    _hand(
        key="weld-line-modulus",
        case="section modulus of a weld all round 6 in, for 1 in of throat",
        source=_BLODGETT,
        published=28.27,
        tool=lambda: 1.0 / weld.bending_stress.plain(1.0, 1.0, 6.0),
        allowed=5e-3,
        absolute=True,
        unit="in³",
    ),
)


def _beam_shear() -> list[Row]:
    area = float(np.pi)
    return [
        Row(
            f"solid-shear-{key}", "hand formula",
            f"solid round under beam shear V, ν = 0.3: shear stress at the {case}, over V/A",
            _SECTION, printed, tool, 0.0051, LAST_PRINTED, absolute=True,
        )
        for key, case, printed, tool in (
            ("centre", "centre", 1.38, lambda: area * flexure.solid_shear_stress(1.0, 2.0, 0.3)),
            (
                "side",
                "ends of the diameter across the shear",
                1.23,
                lambda: float(area * flexure.flexure_shear(1.0, 0.0, 1.0, 1.0, 0.0, 0.3)[1]),
            ),
        )
    ]  # fmt: skip


ROWS: tuple[Row, ...] = (*_POST_ROWS, *_beam_shear())
