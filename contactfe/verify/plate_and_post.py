"""Plate as a strip or on a bed, post as a cantilever and its weld, and the blow, beside handbooks.

Where a source prints no value its formula was evaluated apart from this package.
"""

from functools import partial

import numpy as np
from scipy.integrate import quad

from contactfe.hand import (
    bedded,
    cantilever,
    closure,
    damper,
    power_stop,
    round_section,
    stop,
    strip,
    strip_deflection,
    weld,
)
from contactfe.verify.row import Row

_ROARK = (
    "W. C. Young, Roark's Formulas for Stress and Strain, 7th ed., Table 8.1 case {}: from memory,"
    " not seen; value computed here"
)
_SEEWALD = (
    "Seewald and von Kármán, in S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed.:"
    " 0.133 q over half the thickness, from memory, not seen"
)
_STRIP = "the exact elastic strip by a Fourier series, derived and computed here"
_HETENYI = (
    "M. Hetényi, Beams on Elastic Foundation, 1946: formulas from memory, not seen; value computed"
    " here"
)
_LAYER = "the exact elastic layer by Fourier transform, derived here; integrated by the row"
_FLAMANT = (
    "K. L. Johnson, Contact Mechanics, 1985, eqs 4.46: formula from memory, not seen; value"
    " computed here"
)
_PIPE = "AISC Manual, 14th ed., Table 1-14, Pipe 6 XX-Strong: from memory, not seen"
_COWPER = "G. R. Cowper, J. Appl. Mech. 33 (1966): formula from memory, not seen"
_SHAPE = "shape factors of any text on plastic design: from memory, not seen"
_BLODGETT = (
    "O. W. Blodgett, Design of Welded Structures, 1966, welds treated as a line: from memory, not"
    " seen; value computed here"
)
_MOTION = "harmonic motion; value computed here"
_DAMPER = "the damper's law; value computed here"
_FEMA = "FEMA 274, 1997, commentary on fluid viscous devices: from memory, not seen"
_ENERGY = "energy of a mass on a spring; value computed here"
_BLOW = "the equation of motion, integrated apart from this package"
_PAIR = (
    "the pair ξ = 0.14, e = 0.65 of S. A. Anagnostopoulos, Earthquake Engineering and Structural"
    " Dynamics 16 (1988): from memory, not seen"
)
_JANKOWSKI = (
    "R. Jankowski, Earthquake Engineering and Structural Dynamics 35 (2006), doi 10.1002/eqe.537:"
    " form seen; value computed here"
)

_DIGIT = "last digit given"
_PRINT = "last printed digit"

_PLATE = strip.bending_stiffness(50.0, 200e3, 0.3, "plane strain")
_LENGTH = bedded.characteristic_length(_PLATE, 100.0)
_LOAD = (1000.0, 400.0)  # q, L of the plate: 1000 N/mm on a span of 400 mm, 50 mm thick
_OFF = 80.0  # 280 mm from one edge, 120 mm from the other
_XXS = (6.625, 6.625 - 2 * 0.93 * 0.864)  # design wall; any unit of length
_HOUSE = "plate 400 x 50 mm, 1000 N/mm, 200 GPa, ν = 0.3"
_BLOW_CASE = "unit mass, stiffness and velocity"

_hand = partial(Row, kind="hand formula", why=_DIGIT)
_field = partial(Row, kind="exact field")


def _deflection(offset: float, edges: strip.Edges, stiffness: float = _PLATE) -> float:
    return float(strip_deflection.deflection(offset, *_LOAD, offset, edges, stiffness))


def _over_beam(slender: float) -> float:
    """Stress at the back under the load over that of the beam, span of so many thicknesses."""
    moment = strip.supported_moment(1.0, slender, 0.0)
    return float(strip.back_stress(moment, 1.0, 1.0) / strip.bending_stress(moment, 1.0))


def _layer_pressure() -> float:
    def transform(k: float) -> float:
        return float(2 * (np.sinh(k) + k * np.cosh(k)) / (np.sinh(2 * k) + 2 * k))

    return float(quad(transform, 1e-9, 60.0, limit=200)[0] / np.pi)


def _layer_stress() -> float:
    def transform(k: float) -> float:
        return float(2 * (k * np.cosh(k) - np.sinh(k)) / (np.sinh(2 * k) + 2 * k))

    return float(quad(transform, 1e-9, 60.0, limit=200)[0] / np.pi)


def _cycle(exponent: float) -> float:
    """λ of the damper's energy in a cycle: energy over force times amplitude."""
    return damper.damper_energy(1.0, 1.0, 1.0, 1.0, exponent)


_STRIP_ROWS = (
    _hand(
        key="strip-supported-moment",
        case=f"moment under the load in the middle, edges free to turn: {_HOUSE}",
        source=_ROARK.format("1e, qL/4"),
        published=100000.0,
        tool=lambda: strip.supported_moment(*_LOAD, 0.0),
        allowed=1e-12,
        why="rounding",
        unit="N·mm/mm",
    ),
    _hand(
        key="strip-supported-stress",
        case=f"bending stress of that moment: {_HOUSE}",
        source="beam theory, 6M/t²; value computed here",
        published=240.0,
        tool=lambda: float(strip.bending_stress(100e3, 50.0)),
        allowed=1e-12,
        why="rounding",
        unit="MPa",
    ),
    _hand(
        key="strip-supported-deflection",
        case=f"deflection under the load in the middle, edges free to turn: {_HOUSE}",
        source=_ROARK.format("1e, qL³/(48D)"),
        published=0.5824,
        tool=lambda: _deflection(0.0, "supported"),
        allowed=5e-5,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-plane-stress-deflection",
        case="the same of a beam of 1 mm, plane stress",
        source=_ROARK.format("1e, qL³/(48EI)"),
        published=0.640,
        tool=lambda: _deflection(
            0.0, "supported", strip.bending_stiffness(50.0, 200e3, 0.3, "plane stress")
        ),
        allowed=5e-4,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-clamped-moment",
        case=f"moment under the load in the middle, clamped edges: {_HOUSE}",
        source=_ROARK.format("1d, qL/8"),
        published=50000.0,
        tool=lambda: strip.clamped_moment(*_LOAD, 0.0, 0.0),
        allowed=1e-12,
        why="rounding",
        unit="N·mm/mm",
    ),
    _hand(
        key="strip-clamped-deflection",
        case=f"deflection under the load in the middle, clamped edges: {_HOUSE}",
        source=_ROARK.format("1d, qL³/(192D)"),
        published=0.1456,
        tool=lambda: _deflection(0.0, "clamped"),
        allowed=5e-5,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-off-middle-deflection",
        case="deflection under a load at 280 and 120 mm from the edges, free to turn",
        source=_ROARK.format("1e, q a²b²/(3DL)"),
        published=0.41094,
        tool=lambda: _deflection(_OFF, "supported"),
        allowed=5e-6,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-off-middle-slope",
        case="slope under that load",
        source=_ROARK.format("1e, q ab(b − a)/(3DL)"),
        published=-1.9569e-3,
        tool=lambda: float(strip_deflection.slope(_OFF, *_LOAD, _OFF, "supported", _PLATE)),
        allowed=5e-8,
        absolute=True,
        unit="rad",
    ),
    _hand(
        key="strip-clamped-edge-moment",
        case="moment at the nearer of two clamped edges, load at 280 and 120 mm",
        source=_ROARK.format("1d, −q a²b/L²"),
        published=-58800.0,
        tool=lambda: strip.edge_moment(*_LOAD, _OFF, 0.0),
        allowed=1e-12,
        why="rounding",
        unit="N·mm/mm",
    ),
    _hand(
        key="strip-clamped-far-moment",
        case="moment at the farther edge",
        source=_ROARK.format("1d, −q ab²/L²"),
        published=-25200.0,
        tool=lambda: strip.reactions(*_LOAD, _OFF, "clamped")[2],
        allowed=1e-12,
        why="rounding",
        unit="N·mm/mm",
    ),
    _hand(
        key="strip-clamped-off-middle-deflection",
        case="deflection under that load, clamped edges",
        source=_ROARK.format("1d, q a³b³/(3DL³)"),
        published=0.086298,
        tool=lambda: _deflection(_OFF, "clamped"),
        allowed=5e-7,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="strip-local-back-stress",
        case="stress at the back under a line load, less that of bending: 1000 N/mm on 50 mm",
        source=_SEEWALD,
        published=-5.32,
        tool=lambda: float(strip.back_stress(0.0, 1000.0, 50.0)),
        allowed=0.02,
        why="0.1307 by the exact strip in place of 0.133; why is not known without the text",
        unit="MPa",
    ),
    *(
        _field(
            key=f"strip-exact-over-beam-{slender}",
            case=f"stress at the back over that of the beam, span of {slender} thicknesses",
            source=_STRIP,
            published=ratio,
            tool=partial(_over_beam, float(slender)),
            allowed=5.1e-5,
            why=_DIGIT,
            absolute=True,
        )
        for slender, ratio in ((4, 0.9564), (6, 0.9710), (10, 0.9826), (20, 0.9913))
    ),
)

_BED_ROWS = (
    _hand(
        key="bed-moment",
        case="plate of 50 mm on a bed of 100 MPa/mm: moment under 1000 N/mm",
        source=_HETENYI,
        published=24456.0,
        tool=lambda: bedded.moment_under_load(1000.0, _LENGTH, "bonded"),
        allowed=0.5,
        absolute=True,
        unit="N·mm/mm",
    ),
    _hand(
        key="bed-deflection",
        case="the same plate: deflection under the load",
        source=_HETENYI,
        published=0.05111,
        tool=lambda: bedded.deflection_under_load(1000.0, _LENGTH, 100.0, "bonded"),
        allowed=5e-6,
        absolute=True,
        unit="mm",
    ),
    _field(
        key="layer-base-pressure",
        case="layer on a smooth rigid base: peak pressure over line load over thickness",
        source=_LAYER,
        published=_layer_pressure,
        tool=lambda: bedded.rigid_base_pressure(1.0, 1.0),
        allowed=1e-5,
        why="rounded coefficient",
    ),
    _field(
        key="layer-base-stress",
        case="the same: stress along the base under the load over line load over thickness",
        source=_LAYER,
        published=_layer_stress,
        tool=lambda: bedded.rigid_base_stress(1.0, 1.0),
        allowed=2e-5,
        why="rounded coefficient",
    ),
    _hand(
        key="half-plane-stress",
        case="half-plane 50 mm below 1000 N/mm, beside Hertz's field of a round of 100 mm",
        source=_FLAMANT,
        published=-12.73,
        tool=lambda: bedded.half_plane_stress(1000.0, 50.0),
        allowed=5e-3,
        absolute=True,
        unit="MPa",
    ),
)

_POST_ROWS = (
    _hand(
        key="pipe-area",
        case="area of a pipe of 6.625 in, design wall 0.93 x 0.864 in",
        source=_PIPE,
        published=14.7,
        tool=lambda: round_section.area(*_XXS),
        allowed=0.05,
        why=_PRINT,
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
        why=_PRINT,
        absolute=True,
        unit="in³",
    ),
    _hand(
        key="shape-factor-solid",
        case="shape factor of a solid round",
        source=_SHAPE,
        published=1.70,
        tool=lambda: round_section.shape_factor(100.0),
        allowed=5e-3,
        why=_PRINT,
        absolute=True,
    ),
    _hand(
        key="shape-factor-thin-tube",
        case="shape factor of a thin tube, bore 0.9998 of the diameter",
        source=_SHAPE,
        published=1.27,
        tool=lambda: round_section.shape_factor(100.0, 99.98),
        allowed=5e-3,
        why=_PRINT,
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
        tool=lambda: weld.throat_modulus.plain(1.0, 6.0),
        allowed=5e-3,
        absolute=True,
        unit="in³",
    ),
)

_BLOW_ROWS = (
    _hand(
        key="closure-velocity",
        case="period 3 s, amplitude 450 mm, gap 300 mm: velocity at closure",
        source=_MOTION,
        published=702.5,
        tool=lambda: closure.closure_velocity(closure.circular_frequency(3.0), 450.0, 300.0),
        allowed=0.05,
        absolute=True,
        unit="mm/s",
    ),
    _hand(
        key="damper-force",
        case="damper of 1000 kN(s/m)^0.4 at 0.936 m/s",
        source=_DAMPER,
        published=973.9,
        tool=lambda: damper.damper_force(936.0, 1000e3, 1000.0, 0.4) / 1e3,
        allowed=0.05,
        absolute=True,
        unit="kN",
    ),
    *(
        _hand(
            key=f"damper-cycle-{name}",
            case=f"damper of exponent {exponent:g}: λ of its energy in a cycle",
            source=_FEMA,
            published=printed,
            tool=partial(_cycle, exponent),
            allowed=0.05,
            why=_PRINT,
            absolute=True,
        )
        for name, exponent, printed in (("half", 0.5, 3.5), ("one", 1.0, 3.1), ("two", 2.0, 2.7))
    ),
    _hand(
        key="linear-stop-force",
        case="2000 t at 0.7 m/s on 500 kN/mm: peak force",
        source=_ENERGY,
        published=22.14,
        tool=lambda: stop.linear_peak_force(700.0, 500e3, 2000.0) / 1e6,
        allowed=5e-3,
        absolute=True,
        unit="MN",
    ),
    _hand(
        key="linear-stop-penetration",
        case="2000 t at 0.7 m/s on 500 kN/mm: peak penetration",
        source=_ENERGY,
        published=44.3,
        tool=lambda: stop.linear_peak_penetration(700.0, 500e3, 2000.0),
        allowed=0.05,
        absolute=True,
        unit="mm",
    ),
    _hand(
        key="kelvin-damping",
        case="Kelvin stop: damping ratio for a restitution of 0.65",
        source=_PAIR,
        published=0.14,
        tool=lambda: stop.kelvin_damping_ratio(0.65),
        allowed=5e-3,
        why=_PRINT,
        absolute=True,
    ),
    _hand(
        key="kelvin-force",
        case=f"Kelvin stop of restitution 0.65: peak force, {_BLOW_CASE}",
        source=_BLOW,
        published=0.853,
        tool=lambda: stop.kelvin_peak_force(1.0, 1.0, 1.0, stop.kelvin_damping_ratio(0.65)),
        allowed=5e-4,
        absolute=True,
    ),
    _hand(
        key="kelvin-penetration",
        case=f"Kelvin stop of restitution 0.65: peak penetration, {_BLOW_CASE}",
        source=_BLOW,
        published=0.821,
        tool=lambda: stop.kelvin_peak_penetration(1.0, 1.0, 1.0, stop.kelvin_damping_ratio(0.65)),
        allowed=5e-4,
        absolute=True,
    ),
    _hand(
        key="ye-restitution",
        case="damping 8(1 − e)/(5e) for 0.65: restitution that comes of it",
        source=_BLOW,
        published=0.630,
        tool=lambda: power_stop.damped_restitution(power_stop.ye_damping(0.65)),
        allowed=5e-4,
        absolute=True,
    ),
    _hand(
        key="first-form-restitution",
        case="damping ¾(1 − e²) for 0.65: restitution that comes of it",
        source=_BLOW,
        published=0.775,
        tool=lambda: power_stop.damped_restitution(power_stop.first_hertz_damping.plain(0.65)),
        allowed=5e-4,
        absolute=True,
    ),
    _hand(
        key="hertz-damped-penetration",
        case=f"Hertz stop damped by 8(1 − e)/(5e) for 0.65: peak penetration, {_BLOW_CASE}",
        source=_BLOW,
        published=0.919,
        tool=lambda: power_stop.damped_peak_penetration(
            1.0, 1.0, 1.0, 1.0, 1.5, power_stop.ye_damping(0.65)
        ),
        allowed=5e-4,
        absolute=True,
    ),
    _hand(
        key="jankowski-damping",
        case="stop damped while it is pressed in: damping ratio for a restitution of 0.65",
        source=_JANKOWSKI,
        published=0.3728,
        tool=lambda: power_stop.jankowski_damping_ratio(0.65),
        allowed=5e-5,
        absolute=True,
    ),
)

ROWS: tuple[Row, ...] = (*_STRIP_ROWS, *_BED_ROWS, *_POST_ROWS, *_BLOW_ROWS)
