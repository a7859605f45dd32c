"""The blow: velocity as the gap closes, dampers, and stops by a spring and a damping law.

Beside the equation of motion and the printed pairs of damping and restitution. Where a source
prints no value its formula was evaluated apart from this package.
"""

from functools import partial

from contactfe.hand import closure, damper, power_stop, stop
from contactfe.verify.row import Row, hand_row
from contactfe.verify.sources import GIVEN_DIGIT, LAST_PRINTED

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

_BLOW_CASE = "unit mass, stiffness and velocity"

_hand = partial(hand_row, why=GIVEN_DIGIT)


def _cycle(exponent: float) -> float:
    """λ of the damper's energy in a cycle: energy over force times amplitude."""
    return damper.damper_energy(1.0, 1.0, 1.0, 1.0, exponent)


ROWS: tuple[Row, ...] = (
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
            why=LAST_PRINTED,
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
        why=LAST_PRINTED,
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
