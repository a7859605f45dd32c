"""How hard the post strikes: closed forms of the velocity, the stop and what gives it back.

A mass m moves at velocity v when the gap closes and is stopped by something of a stiffness: a
linear spring, a spring with a dashpot (Kelvin), or a force that grows with a power of the
penetration, as that of two bodies in contact does, with or without damping. Penetration δ is
counted from the closing of the gap. The coefficient of restitution e is the velocity at which the
two part over that at which they met.

Coefficients whose unit would depend on an exponent are given as a force at a stated velocity or
penetration: 1000 kN(s/m)^0.4 is 1000 kN at 1 m/s. Units are coherent, with masses in tonnes.

Valid for one blow of one mass that nothing else drives meanwhile, on a stop that stays elastic and
weighs little beside the mass.
"""

import math
from typing import Any

from scipy.special import lambertw

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Given, Limit, at_least, at_most, formula

SOFTEST_EXPONENT, STIFFEST_EXPONENT = 0.3, 2.0
"""Velocity exponents of fluid viscous dampers: common practice, no source; seismic ones to 1."""

_MOVING: dict[str, tuple[str, Dimension | None]] = {
    "period": ("T", "time"),
    "frequency": ("ω", "frequency"),
    "amplitude": ("u0", "length"),
    "gap": ("g", "length"),
    "velocity": ("v", "velocity"),
    "mass": ("m", "mass"),
    "mass_1": ("m1", "mass"),
    "mass_2": ("m2", "mass"),
    "stiffness": ("k", "stiffness"),
    "restitution": ("e", None),
    "damping_ratio": ("ξ", None),
    "damping": ("ζ", None),
    "reference_force": ("F1", "force"),
    "reference_velocity": ("v1", "velocity"),
    "reference_penetration": ("δ1", "length"),
}
_DAMPER = {**_MOVING, "exponent": ("α", None)}
_POWER = {**_MOVING, "exponent": ("n", None)}

_MOTION = "harmonic motion"
_LINEAR = "a mass on a linear spring: energy"
_FREE = "free vibration of a damped mass, derived here"
_ANAGNOSTOPOULOS = (
    "S. A. Anagnostopoulos, Earthquake Engineering and Structural Dynamics 16 (1988): from memory,"
    " not seen; it is that of free vibration, derived here"
)
_ENERGY = "energy, derived here"
_PHI = "φ = arccos(ξ)"


@formula(
    name="circular frequency",
    symbol="ω",
    form="2·π/{period}",
    dimension="frequency",
    given=_MOVING,
    source=_MOTION,
)
def circular_frequency(period: float) -> float:
    """Circular frequency ω, rad/s, of a period T in s: 2π/T.

    Raises ValueError for a period that is not positive. Source: harmonic motion.

    >>> print(circular_frequency(3.0))
    2.094395
    """
    check.positive(period=period)
    return 2 * math.pi / period


@formula(
    name="velocity at which the gap closes",
    symbol="v",
    form="{frequency}·√({amplitude}² − {gap}²)",
    dimension="velocity",
    given=_MOVING,
    source=_MOTION,
)
def closure_velocity(frequency: float, amplitude: float, gap: float) -> float:
    """Velocity v, mm/s, at which harmonic motion closes the gap: ω√(u0² − g²).

    ``frequency`` ω in rad/s, ``amplitude`` u0 that the floor would reach without the stop and
    ``gap`` g in mm. A real floor in an earthquake may be faster: :func:`pseudo_velocity` is the
    bound within harmonic motion, not of the record's velocity. Raises ValueError for a frequency or
    amplitude that is not positive, or a gap not in [0, u0].

    Source: harmonic motion.

    >>> print(closure_velocity(circular_frequency(3.0), 450.0, 300.0))
    702.48
    """
    check.positive(frequency=frequency, amplitude=amplitude)
    if not 0 <= gap <= amplitude:
        raise ValueError(
            f"gap = {gap!r} is not allowed: it must lie in [0, amplitude = {amplitude!r}], or it "
            "never closes"
        )
    return frequency * math.sqrt((amplitude - gap) * (amplitude + gap))


@formula(
    name="pseudo-velocity",
    symbol="v",
    form="{frequency}·{amplitude}",
    dimension="velocity",
    given=_MOVING,
    source=_MOTION,
)
def pseudo_velocity(frequency: float, amplitude: float) -> float:
    """Greatest velocity, mm/s, of harmonic motion: ωu0, whatever the gap.

    The relative velocity of long-period, highly damped floors exceeds it. Arguments and errors as
    in :func:`closure_velocity`. Source: harmonic motion.

    >>> print(pseudo_velocity(circular_frequency(3.0), 450.0))
    942.48
    """
    check.positive(frequency=frequency, amplitude=amplitude)
    return frequency * amplitude


def _damper_exponents(_: float, **given: Any) -> tuple[Limit, ...]:
    return (
        at_least("α", given["exponent"], SOFTEST_EXPONENT),
        at_most("α", given["exponent"], STIFFEST_EXPONENT),
    )


@formula(
    name="force of the viscous damper",
    symbol="Fd",
    form="{reference_force}·({velocity}/{reference_velocity})^({exponent})",
    dimension="force",
    given=_DAMPER,
    limits=_damper_exponents,
    source="the law of fluid viscous dampers, F = C·v^α: common practice, no source",
)
def damper_force(
    velocity: float, reference_force: float, reference_velocity: float, exponent: float
) -> float:
    """Force Fd, N, of a viscous damper against a velocity: F1 (v/v1)^α.

    ``velocity`` v in mm/s; ``reference_force`` F1 in N is that at ``reference_velocity`` v1 in
    mm/s, so C = F1/v1^α. Raises ValueError for a negative velocity, or a force, reference velocity
    or exponent that is not positive.

    Source: common practice, no source. Range: α from 0.3 to 2.

    >>> print(damper_force(700.0, 1000e3, 1000.0, 0.4) / 1e3)
    867.04
    """
    check.not_negative(velocity=velocity)
    check.positive(
        reference_force=reference_force, reference_velocity=reference_velocity, exponent=exponent
    )
    return float(reference_force * (velocity / reference_velocity) ** exponent)


def _cycle(**given: Any) -> dict[str, Given]:
    return {"cycle": Given("λ", _cycle_factor(given["exponent"]))}


@formula(
    name="energy that the damper takes in a cycle",
    symbol="Wd",
    form=(
        "{cycle}·{reference_force}·{amplitude}"
        "·({frequency}·{amplitude}/{reference_velocity})^({exponent})"
    ),
    dimension="energy",
    given=_DAMPER,
    limits=_damper_exponents,
    parts=_cycle,
    note="λ = 4·2^α·Γ(1 + α/2)²/Γ(2 + α): 4 for α = 0, π for α = 1",
    source="the work of the damper's force in harmonic motion, derived here",
)
def damper_energy(
    frequency: float,
    amplitude: float,
    reference_force: float,
    reference_velocity: float,
    exponent: float,
) -> float:
    """Energy Wd, N mm, that a viscous damper takes in one cycle of harmonic motion.

    λ F1 u0 (ωu0/v1)^α. ``frequency`` ω in rad/s, ``amplitude`` u0 in mm; the rest, range and errors
    as in :func:`damper_force`.

    Source: derived here: λ is 4∫cos^(1+α) over a quarter turn, 4·2^α Γ²(1 + α/2)/Γ(2 + α).

    >>> print(damper_energy(2.0, 400.0, 1000e3, 1000.0, 1.0) / 1e6)
    1005.31
    """
    check.positive(
        frequency=frequency,
        amplitude=amplitude,
        reference_force=reference_force,
        reference_velocity=reference_velocity,
        exponent=exponent,
    )
    speed = frequency * amplitude / reference_velocity
    return float(_cycle_factor(exponent) * reference_force * amplitude * speed**exponent)


@formula(
    name="effective mass of two free bodies",
    symbol="m",
    form="{mass_1}·{mass_2}/({mass_1} + {mass_2})",
    dimension="mass",
    given=_MOVING,
    source="conservation of momentum",
)
def effective_mass(mass_1: float, mass_2: float) -> float:
    """Mass m, t, that strikes a fixed stop as two free bodies strike each other: m1m2/(m1 + m2).

    Both in tonnes. Raises ValueError for a mass that is not positive. Source: conservation of
    momentum; v is then the velocity of one relative to the other.

    >>> print(effective_mass(2000.0, 6000.0))
    1500.0
    """
    check.positive(mass_1=mass_1, mass_2=mass_2)
    return mass_1 * mass_2 / (mass_1 + mass_2)


@formula(
    name="peak force of a linear stop",
    symbol="F",
    form="{velocity}·√({stiffness}·{mass})",
    dimension="force",
    given=_MOVING,
    source=_LINEAR,
)
def linear_peak_force(velocity: float, stiffness: float, mass: float) -> float:
    """Peak force F, N, on an elastic stop without damping: v√(km).

    ``velocity`` v in mm/s, ``stiffness`` k in N/mm, ``mass`` m in t. Raises ValueError for a
    negative velocity, or a stiffness or mass that is not positive.

    Source: energy.

    >>> print(linear_peak_force(700.0, 500e3, 2000.0) / 1e6)
    22.1359
    """
    _check(velocity, stiffness, mass)
    return velocity * math.sqrt(stiffness * mass)


@formula(
    name="peak penetration of a linear stop",
    symbol="δ",
    form="{velocity}·√({mass}/{stiffness})",
    dimension="length",
    given=_MOVING,
    source=_LINEAR,
)
def linear_peak_penetration(velocity: float, stiffness: float, mass: float) -> float:
    """How far an elastic stop gives way, mm: v√(m/k). Arguments and errors as
    :func:`linear_peak_force`. Source: energy.

    >>> print(linear_peak_penetration(700.0, 500e3, 2000.0))
    44.2719
    """
    _check(velocity, stiffness, mass)
    return velocity * math.sqrt(mass / stiffness)


@formula(
    name="duration of the blow on a linear stop",
    symbol="tc",
    form="π·√({mass}/{stiffness})",
    dimension="time",
    given=_MOVING,
    source=_LINEAR,
)
def linear_duration(stiffness: float, mass: float) -> float:
    """Time tc, s, from first touch to parting, without damping: π√(m/k), half a period.

    Arguments and errors as in :func:`linear_peak_force`.

    >>> print(linear_duration(500e3, 2000.0))
    0.198692
    """
    _check(0.0, stiffness, mass)
    return math.pi * math.sqrt(mass / stiffness)


@formula(
    name="damping ratio of a Kelvin stop",
    symbol="ξ",
    form="−ln({restitution})/√(π² + ln({restitution})²)",
    dimension=None,
    given=_MOVING,
    source=_ANAGNOSTOPOULOS,
)
def kelvin_damping_ratio(restitution: float) -> float:
    """Damping ratio ξ of a spring and dashpot side by side, from the restitution e they give back.

    −ln e/√(π² + ln² e): the dashpot is 2ξ√(km). The blow is followed until the penetration is back
    at nought; near its end the dashpot then holds the mass back. A stop that cannot pull lets go
    before and gives back more, :func:`kelvin_restitution`. Raises ValueError for e not in (0, 1].

    Source: S. A. Anagnostopoulos, Earthquake Engineering and Structural Dynamics 16 (1988) — from
    memory, not seen; it is that of free vibration, derived here.

    >>> print(kelvin_damping_ratio(0.65))
    0.13585
    """
    _restitution(restitution)
    decay = abs(math.log(restitution))
    return decay / math.hypot(math.pi, decay)


def _phase(**given: Any) -> dict[str, Given]:
    return {"phase": Given("φ", math.acos(given["damping_ratio"]), "angle")}


@formula(
    name="restitution of a Kelvin stop that cannot pull",
    symbol="e",
    form="exp(−2·{phase}·{damping_ratio}/√(1 − {damping_ratio}²))",
    dimension=None,
    given=_MOVING,
    parts=_phase,
    note=_PHI,
    source=_FREE,
)
def kelvin_restitution(damping_ratio: float) -> float:
    """Restitution e of a spring and dashpot that let go of the mass where they would pull it.

    exp(−2φξ/√(1 − ξ²)) with cos φ = ξ. Raises ValueError for ξ not in [0, 1).

    Source: free vibration of a damped mass, derived here: the force is nought at ωd t = 2φ.

    >>> print(kelvin_restitution(0.13585))
    0.67475
    """
    phase, decay = _swing(damping_ratio)
    return math.exp(-2 * phase * decay)


@formula(
    name="peak penetration of a Kelvin stop",
    symbol="δ",
    form=("{velocity}·√({mass}/{stiffness})·exp(−{phase}·{damping_ratio}/√(1 − {damping_ratio}²))"),
    dimension="length",
    given=_MOVING,
    parts=_phase,
    note=_PHI,
    source=_FREE,
)
def kelvin_peak_penetration(
    velocity: float, stiffness: float, mass: float, damping_ratio: float
) -> float:
    """How far a spring and dashpot give way, mm: v√(m/k) exp(−φξ/√(1 − ξ²)), cos φ = ξ.

    Arguments and errors as in :func:`linear_peak_force`, and for ξ not in [0, 1).

    Source: free vibration of a damped mass, derived here.

    >>> print(kelvin_peak_penetration(700.0, 500e3, 2000.0, 0.13585))
    36.3664
    """
    _check(velocity, stiffness, mass)
    phase, decay = _swing(damping_ratio)
    return velocity * math.sqrt(mass / stiffness) * math.exp(-phase * decay)


def _force_factor(damping_ratio: float) -> float:
    if damping_ratio > 0.5:
        return 2 * damping_ratio
    phase, decay = _swing(damping_ratio)
    return math.exp(-(3 * phase - math.pi) * decay)


@formula(
    name="peak force of a Kelvin stop",
    symbol="F",
    form="{factor}·{velocity}·√({stiffness}·{mass})",
    dimension="force",
    given=_MOVING,
    parts=lambda **given: {"factor": Given("c", _force_factor(given["damping_ratio"]))},
    note=(
        f"c = exp(−(3·φ − π)·ξ/√(1 − ξ²)), {_PHI}; above ξ = 0.5 the dashpot at first touch"
        " governs, c = 2·ξ"
    ),
    source=_FREE,
)
def kelvin_peak_force(
    velocity: float, stiffness: float, mass: float, damping_ratio: float
) -> float:
    """Peak force F, N, of a spring and dashpot: v√(km) exp(−(3φ − π)ξ/√(1 − ξ²)), cos φ = ξ.

    For ξ above 0.5 the force is greatest at first touch, 2ξ v√(km). Arguments and errors as in
    :func:`kelvin_peak_penetration`.

    Source: free vibration of a damped mass, derived here: its acceleration is greatest at
    ωd t = 3φ − π.

    >>> print(kelvin_peak_force(700.0, 500e3, 2000.0, 0.13585) / 1e6)
    18.8756
    """
    _check(velocity, stiffness, mass)
    _swing(damping_ratio)
    return _force_factor(damping_ratio) * velocity * math.sqrt(stiffness * mass)


@formula(
    name="duration of the blow on a Kelvin stop",
    symbol="tc",
    form="π·√({mass}/({stiffness}·(1 − {damping_ratio}²)))",
    dimension="time",
    given=_MOVING,
    source=_FREE,
)
def kelvin_duration(stiffness: float, mass: float, damping_ratio: float) -> float:
    """Time tc, s, until the penetration of a spring and dashpot is back at nought.

    π√(m/k)/√(1 − ξ²). Arguments and errors as in :func:`kelvin_peak_penetration`.

    Source: free vibration of a damped mass, derived here.

    >>> print(kelvin_duration(500e3, 2000.0, 0.13585))
    0.200551
    """
    _check(0.0, stiffness, mass)
    _swing(damping_ratio)
    return math.pi * math.sqrt(mass / (stiffness * (1 - damping_ratio**2)))


def _contact_exponents(_: float, **given: Any) -> tuple[Limit, ...]:
    return (
        at_least("n", given["exponent"], 1.0),
        at_most("n", given["exponent"], 1.5),
    )


_SHARE = "({exponent} + 1)·{mass}·{velocity}²/(2·{reference_force}·{reference_penetration})"


@formula(
    name="peak penetration of a stop with a power law",
    symbol="δ",
    form=f"{{reference_penetration}}·({_SHARE})^(1/({{exponent}} + 1))",
    dimension="length",
    given=_POWER,
    limits=_contact_exponents,
    source=_ENERGY,
)
def power_peak_penetration(
    velocity: float,
    mass: float,
    reference_force: float,
    reference_penetration: float,
    exponent: float,
) -> float:
    """How far a stop of force F1 (δ/δ1)ⁿ gives way, mm, without damping.

    Where its strain energy F1 δ1/(n + 1) (δ/δ1)^(n+1) is mv²/2. ``reference_force`` F1 in N is that
    at ``reference_penetration`` δ1 in mm. n is 1 for a spring and 1.5 for Hertz's contact at a
    point; for a line contact it is about 1.1, and that of the whole post lower still. Range: n from
    1 to 1.5, between which elastic contacts lie. Raises ValueError for a negative velocity, or
    another argument that is not positive.

    Source: energy, derived here.

    >>> print(power_peak_penetration(700.0, 2000.0, 500e3, 1.0, 1.0))
    44.2719
    """
    share = _energy_share(velocity, mass, reference_force, reference_penetration, exponent)
    return float(reference_penetration * share ** (1 / (exponent + 1)))


@formula(
    name="peak force of a stop with a power law",
    symbol="F",
    form=f"{{reference_force}}·({_SHARE})^({{exponent}}/({{exponent}} + 1))",
    dimension="force",
    given=_POWER,
    limits=_contact_exponents,
    source=_ENERGY,
)
def power_peak_force(
    velocity: float,
    mass: float,
    reference_force: float,
    reference_penetration: float,
    exponent: float,
) -> float:
    """Peak force F, N, of a stop of force F1 (δ/δ1)ⁿ without damping.

    Arguments, range, source and errors as in :func:`power_peak_penetration`.

    >>> print(power_peak_force(700.0, 2000.0, 500e3, 1.0, 1.0) / 1e6)
    22.1359
    """
    share = _energy_share(velocity, mass, reference_force, reference_penetration, exponent)
    return float(reference_force * share ** (exponent / (exponent + 1)))


def _gives_back(least: float) -> Any:
    def limits(_: float, **given: Any) -> tuple[Limit, ...]:
        return (at_least("e", given["restitution"], least),)

    return limits


@formula(
    name="damping of a Hertz stop, first published form",
    symbol="ζ",
    form="3/4·(1 − {restitution}²)",
    dimension=None,
    given=_MOVING,
    limits=_gives_back(0.9),
    source=(
        "H. M. Lankarani and P. E. Nikravesh, J. Mechanical Design 112 (1990): from memory, not"
        " seen; range by the restitution that it returns, derived here"
    ),
)
def first_hertz_damping(restitution: float) -> float:
    """Damping ζ of the force F1 (δ/δ1)ⁿ (1 + ζ δ'/v), as first published: ¾(1 − e²).

    It does not give back the e that is put in: 0.725 for 0.5, 0.775 for 0.65, 0.913 for 0.9
    (:func:`damped_restitution`), so the range is e of 0.9 and more; below it take
    :func:`ye_damping`. Raises ValueError for e not in (0, 1].

    Source: H. M. Lankarani and P. E. Nikravesh, Journal of Mechanical Design 112 (1990) — from
    memory, not seen.

    >>> print(first_hertz_damping(0.9))
    0.1425
    """
    _restitution(restitution)
    return 0.75 * (1 - restitution**2)


@formula(
    name="damping of a Hertz stop, after Ye and others",
    symbol="ζ",
    form="8/5·(1 − {restitution})/{restitution}",
    dimension=None,
    given=_MOVING,
    limits=_gives_back(0.5),
    source=(
        "K. Ye, L. Li and H. Zhu, Earthquake Engineering and Structural Dynamics 38 (2009),"
        " doi 10.1002/eqe.883; range by the restitution that it returns, derived here"
    ),
)
def ye_damping(restitution: float) -> float:
    """Damping ζ of the force F1 (δ/δ1)ⁿ (1 + ζ δ'/v): 8(1 − e)/(5e).

    It gives back 0.470 for 0.5, 0.630 for 0.65 and 0.789 for 0.8 (:func:`damped_restitution`): at
    most 0.03 too little from e = 0.5 on, its range here. Raises ValueError for e not in (0, 1].

    Source: K. Ye, L. Li and H. Zhu, Earthquake Engineering and Structural Dynamics 38 (2009),
    doi 10.1002/eqe.883 — the form was seen.

    >>> print(ye_damping(0.65))
    0.86154
    """
    _restitution(restitution)
    return 1.6 * (1 - restitution) / restitution


@formula(
    name="damping ratio of a stop damped while it is pressed in, after Jankowski",
    symbol="ξ",
    form=("9·√(5)/2·(1 − {restitution}²)/({restitution}·({restitution}·(9·π − 16) + 16))"),
    dimension=None,
    given=_MOVING,
    limits=_gives_back(0.3),
    source=(
        "R. Jankowski, Earthquake Engineering and Structural Dynamics 35 (2006),"
        " doi 10.1002/eqe.537; range measured against the equation of motion"
    ),
)
def jankowski_damping_ratio(restitution: float) -> float:
    """Damping ratio ξ of the force βδ^1.5 + 2ξ√(β√δ m) δ', damped while δ grows only.

    9√5/2 (1 − e²)/(e(e(9π − 16) + 16)). Integrated, it gives back e to 0.01 from e = 0.3 on, its
    range here (measured in the tests). Raises ValueError for e not in (0, 1].

    Source: R. Jankowski, Earthquake Engineering and Structural Dynamics 35 (2006), doi
    10.1002/eqe.537 — the form was seen.

    >>> print(jankowski_damping_ratio(0.65))
    0.37284
    """
    _restitution(restitution)
    e = restitution
    return 9 * math.sqrt(5) / 2 * (1 - e**2) / (e * (e * (9 * math.pi - 16) + 16))


@formula(
    name="restitution that a damped power law gives back",
    symbol="e",
    form=None,
    dimension=None,
    given=_MOVING,
    note="the root of ζ·(1 + e) = ln((1 + ζ)/(1 − ζ·e)) between 0 and 1",
    source=_ENERGY,
)
def damped_restitution(damping: float) -> float:
    """Restitution e that the force F1 (δ/δ1)ⁿ (1 + ζ δ'/v) gives back, whatever n, k, m and v.

    The root of ζ(1 + e) = ln((1 + ζ)/(1 − ζe)) between 0 and 1. With y = 1 − ζe it reads
    y e⁻ʸ = (1 + ζ)e^−(1 + ζ), which Lambert's function solves. Raises ValueError for a damping ζ
    that is negative.

    Source: energy, derived here: u du/(1 + ζu) over the velocities u = δ'/v from 1 to 0 and from 0
    to −e is the same work of F1 (δ/δ1)ⁿ.

    >>> print(damped_restitution(0.5625))
    0.72524
    """
    check.not_negative(damping=damping)
    if damping < 1e-3:
        # Where Lambert's function branches rounding grows; the series is good to 1e-9.
        return 1 - 2 / 3 * damping + 4 / 9 * damping**2
    y = -lambertw(-(1 + damping) * math.exp(-(1 + damping))).real
    return float((1 - y) / damping)


@formula(
    name="peak penetration of a damped stop with a power law",
    symbol="δ",
    form=(
        "{reference_penetration}·(({exponent} + 1)·{mass}·{velocity}²"
        "/({reference_force}·{reference_penetration})·(1/{damping} − ln(1 + {damping})/{damping}²))"
        "^(1/({exponent} + 1))"
    ),
    dimension="length",
    given=_POWER,
    limits=_contact_exponents,
    source=_ENERGY,
)
def damped_peak_penetration(
    velocity: float,
    mass: float,
    reference_force: float,
    reference_penetration: float,
    exponent: float,
    damping: float,
) -> float:
    """How far a stop of force F1 (δ/δ1)ⁿ (1 + ζ δ'/v) gives way, mm.

    That of :func:`power_peak_penetration`, with mv²(1/ζ − ln(1 + ζ)/ζ²) in place of mv²/2; the
    rest is damped on the way in. Arguments, range, source and errors as there, and for a damping ζ
    that is not positive.

    >>> print(damped_peak_penetration(1.0, 1.0, 1.0, 1.0, 1.5, 0.5625))
    0.96645
    """
    check.positive(damping=damping)
    share = _energy_share(velocity, mass, reference_force, reference_penetration, exponent)
    kept = 2 * (damping - math.log1p(damping)) / damping**2
    return float(reference_penetration * (share * kept) ** (1 / (exponent + 1)))


def _cycle_factor(exponent: float) -> float:
    return 4 * 2**exponent * math.gamma(1 + exponent / 2) ** 2 / math.gamma(2 + exponent)


def _swing(damping_ratio: float) -> tuple[float, float]:
    """Phase φ = arccos ξ, and ξ/√(1 − ξ²) by which the motion decays for each radian of ωd t."""
    if not 0 <= damping_ratio < 1:
        raise ValueError(f"damping_ratio = {damping_ratio!r} is not allowed: it must lie in [0, 1)")
    return math.acos(damping_ratio), damping_ratio / math.sqrt(1 - damping_ratio**2)


def _restitution(restitution: float) -> None:
    if not 0 < restitution <= 1:
        raise ValueError(f"restitution = {restitution!r} is not allowed: it must lie in (0, 1]")


def _check(velocity: float, stiffness: float, mass: float) -> None:
    check.not_negative(velocity=velocity)
    check.positive(stiffness=stiffness, mass=mass)


def _energy_share(
    velocity: float,
    mass: float,
    reference_force: float,
    reference_penetration: float,
    exponent: float,
) -> float:
    """Energy of the blow over what the stop stores when pressed in by δ1."""
    check.not_negative(velocity=velocity)
    check.positive(
        mass=mass,
        reference_force=reference_force,
        reference_penetration=reference_penetration,
        exponent=exponent,
    )
    return (exponent + 1) * mass * velocity**2 / (2 * reference_force * reference_penetration)
