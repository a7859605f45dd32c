"""The impact: velocity as the gap closes, dampers, and stops by a spring and a damping law.

Beside the equation of motion and the printed pairs of damping and restitution. Where a source
prints no value its formula was evaluated apart from this package. Rows of an impact integrate it
here as `contactfe impact` does.
"""

from functools import cache, partial
from typing import Literal

from contactfe.hand import closure, damper, power_stop, stop
from contactfe.impact.history import history, peak
from contactfe.impact.laws import Contact, InProportion, LinearDashpot, PowerLaw, PressedIn, Spring
from contactfe.impact.motion import Impact
from contactfe.impact.response import Response, integrate
from contactfe.verify.row import Row, hand_row
from contactfe.verify.sources import GIVEN_DIGIT, LAST_PRINTED

_MOTION = "harmonic motion; value computed here"
_DAMPER = "the damper's law; value computed here"
_ENERGY = "energy of a mass on a spring; value computed here"
_IMPACT = "the equation of motion, integrated apart from this package"
_PAIR = (
    "the pair ξ = 0.14, e = 0.65 of S. A. Anagnostopoulos, Earthquake Engineering and Structural"
    " Dynamics 16 (1988): from memory, not seen"
)
_JANKOWSKI = (
    "R. Jankowski, Earthquake Engineering and Structural Dynamics 35 (2006), doi 10.1002/eqe.537:"
    " form seen; value computed here"
)

_MODELS = (
    "documentation of impact materials of an open-source structural analysis program: formula seen;"
    " value computed here"
)

_IMPACT_CASE = "unit mass, stiffness and velocity"

_hand = partial(hand_row, why=GIVEN_DIGIT)


Law = Literal["Kelvin", "Ye", "Jankowski"]

_LAWS: dict[Law, str] = {
    "Kelvin": "spring with a dashpot (Kelvin)",
    "Ye": "Hertz stop damped in both directions after Ye and others",
    "Jankowski": "Hertz stop damped while it is pressed in, after Jankowski",
}

# Restitution put in, and what comes of it: restitution, peak force, peak penetration. That of
# Kelvin's stop is counted to no penetration there, where it pulls; here it lets go before.
_IMPACTS: tuple[tuple[Law, float, float | None, float, float], ...] = (
    ("Kelvin", 0.5, None, 0.816, 0.742),
    ("Kelvin", 0.65, None, 0.853, 0.821),
    ("Kelvin", 0.8, None, 0.908, 0.899),
    ("Ye", 0.5, 0.470, 1.074, 0.831),
    ("Ye", 0.65, 0.630, 1.035, 0.919),
    ("Ye", 0.8, 0.789, 1.046, 0.997),
    ("Jankowski", 0.5, 0.495, 0.909, 0.623),
    ("Jankowski", 0.65, 0.647, 0.820, 0.772),
    ("Jankowski", 0.8, 0.799, 0.910, 0.914),
)


@cache
def _response(law: Law, e: float) -> Response:
    """An impact of unit mass and velocity on a fixed stop of unit stiffness, integrated."""
    hertz = PowerLaw(1.0, 1.0, 1.5)
    contact = {
        "Kelvin": Contact(Spring(1.0), LinearDashpot(2 * stop.kelvin_damping_ratio(e))),
        "Ye": Contact(hertz, InProportion(power_stop.ye_damping(e))),
        "Jankowski": Contact(hertz, PressedIn(power_stop.jankowski_damping_ratio(e), 1.0, 1.0)),
    }[law]
    return integrate(Impact(1.0, 1.0, contact))


def _returned(law: Law, e: float) -> float:
    return -float(history(_response(law, e)).floor_velocity[-1])


def _peak(law: Law, e: float, of: Literal["contact_force", "approach"]) -> float:
    return peak(_response(law, e), of).value


def _integrated(law: Law, e: float, what: str, published: float) -> Row:
    tool = {
        "restitution": partial(_returned, law, e),
        "peak force": partial(_peak, law, e, "contact_force"),
        "peak penetration": partial(_peak, law, e, "approach"),
    }[what]
    name = what.replace(" ", "-")
    return _hand(
        key=f"impact-{law.lower()}-{e:g}-{name}".replace(".", ""),
        case=f"{_LAWS[law]} for {e:g}, integrated: {what}, {_IMPACT_CASE}",
        source=_IMPACT,
        published=published,
        tool=tool,
        allowed=5e-4,
        absolute=True,
    )


def _heavy_impact() -> float:
    """Peak force, MN, of 2000 t at 0.7 m/s on 500 kN/mm, integrated."""
    return (
        peak(integrate(Impact(2000.0, 700.0, Contact(Spring(500e3)))), "contact_force").value / 1e6
    )


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
        case=f"Kelvin stop of restitution 0.65: peak force, {_IMPACT_CASE}",
        source=_IMPACT,
        published=0.853,
        tool=lambda: stop.kelvin_peak_force(1.0, 1.0, 1.0, stop.kelvin_damping_ratio(0.65)),
        allowed=5e-4,
        absolute=True,
    ),
    _hand(
        key="kelvin-penetration",
        case=f"Kelvin stop of restitution 0.65: peak penetration, {_IMPACT_CASE}",
        source=_IMPACT,
        published=0.821,
        tool=lambda: stop.kelvin_peak_penetration(1.0, 1.0, 1.0, stop.kelvin_damping_ratio(0.65)),
        allowed=5e-4,
        absolute=True,
    ),
    _hand(
        key="ye-restitution",
        case="damping 8(1 − e)/(5e) for 0.65: restitution that comes of it",
        source=_IMPACT,
        published=0.630,
        tool=lambda: power_stop.damped_restitution(power_stop.ye_damping(0.65)),
        allowed=5e-4,
        absolute=True,
    ),
    _hand(
        key="hertz-damped-penetration",
        case=f"Hertz stop damped by 8(1 − e)/(5e) for 0.65: peak penetration, {_IMPACT_CASE}",
        source=_IMPACT,
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
    *(
        _hand(
            key=f"documented-{key}-{restitution:g}",
            case=f"{what} for a restitution of {restitution:g}",
            source=_MODELS,
            published=published,
            tool=partial(of, restitution),
            allowed=5.1e-7,
            absolute=True,
        )
        for key, what, of, restitution, published in (
            ("ye", "damping 8(1 − e)/(5e)", power_stop.ye_damping, 0.65, 0.861538),
            ("ye", "damping 8(1 − e)/(5e)", power_stop.ye_damping, 0.8, 0.4),
            (
                "jankowski",
                "Jankowski's damping ratio",
                power_stop.jankowski_damping_ratio,
                0.65,
                0.372836,
            ),
            (
                "jankowski",
                "Jankowski's damping ratio",
                power_stop.jankowski_damping_ratio,
                0.5,
                0.681815,
            ),
        )
    ),
    _hand(
        key="pseudo-velocity",
        case="period 3 s, amplitude 450 mm: pseudo-velocity",
        source=_MOTION,
        published=942.5,
        tool=lambda: closure.pseudo_velocity(closure.circular_frequency(3.0), 450.0),
        allowed=0.05,
        absolute=True,
        unit="mm/s",
    ),
    _hand(
        key="damper-force-slower",
        case="damper of 1000 kN(s/m)^0.4 at 0.7 m/s",
        source=_DAMPER,
        published=867.0,
        tool=lambda: damper.damper_force(700.0, 1000e3, 1000.0, 0.4) / 1e3,
        allowed=0.05,
        absolute=True,
        unit="kN",
    ),
    _hand(
        key="impact-linear-force",
        case="2000 t at 0.7 m/s on 500 kN/mm, integrated: peak force",
        source=_ENERGY,
        published=22.14,
        tool=_heavy_impact,
        allowed=5e-3,
        absolute=True,
        unit="MN",
    ),
    *(
        _integrated(law, e, what, value)
        for law, e, back, force, way in _IMPACTS
        for what, value in (
            ("restitution", back),
            ("peak force", force),
            ("peak penetration", way),
        )
        if value is not None
    ),
)
