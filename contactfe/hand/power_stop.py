"""How hard a mass strikes a stop whose force grows with a power of the penetration.

The force between two bodies in contact grows so. Without damping, and with the damping laws that
give back a stated restitution e, the velocity at which the two part over that at which they met.
Penetration δ is counted from the closing of the gap. The stiffness, whose unit would depend on the
exponent, is given as a force at a stated penetration. Units are coherent, with masses in tonnes.

Valid as :mod:`.stop`: for one impact of one mass that nothing else drives meanwhile, on a stop that
weighs little beside the mass.
"""

import math
from typing import Any

from scipy.special import lambertw

from contactfe.hand import check
from contactfe.hand.formula import Dimension, Given, Limit, at_least, at_most, formula

_SYMBOLS: dict[str, tuple[str, Dimension | None]] = {
    "velocity": ("v", "velocity"),
    "mass": ("m", "mass"),
    "reference_force": ("F1", "force"),
    "reference_penetration": ("δ1", "length"),
    "exponent": ("n", None),
    "restitution": ("e", None),
    "damping": ("ζ", None),
}

_ENERGY = "energy, derived here"


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
    given=_SYMBOLS,
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
    given=_SYMBOLS,
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
    given=_SYMBOLS,
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
    check.restitution(restitution=restitution)
    return 0.75 * (1 - restitution**2)


@formula(
    name="damping of a Hertz stop, after Ye and others",
    symbol="ζ",
    form="8/5·(1 − {restitution})/{restitution}",
    dimension=None,
    given=_SYMBOLS,
    limits=_gives_back(0.5),
    source=(
        "K. Ye, L. Li and H. Zhu, Earthquake Engineering and Structural Dynamics 38 (2009),"
        " doi 10.1002/eqe.883: form seen; range by the restitution that it returns, derived here"
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
    check.restitution(restitution=restitution)
    return 1.6 * (1 - restitution) / restitution


@formula(
    name="damping ratio of a stop damped while it is pressed in, after Jankowski",
    symbol="ξ",
    form=("9·√(5)/2·(1 − {restitution}²)/({restitution}·({restitution}·(9·π − 16) + 16))"),
    dimension=None,
    given=_SYMBOLS,
    limits=_gives_back(0.3),
    source=(
        "R. Jankowski, Earthquake Engineering and Structural Dynamics 35 (2006),"
        " doi 10.1002/eqe.537: form seen; range measured against the equation of motion"
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
    check.restitution(restitution=restitution)
    e = restitution
    return 9 * math.sqrt(5) / 2 * (1 - e**2) / (e * (e * (9 * math.pi - 16) + 16))


@formula(
    name="restitution that a damped power law gives back",
    symbol="e",
    form=None,
    dimension=None,
    given=_SYMBOLS,
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
        "·{kept}/(2·{reference_force}·{reference_penetration}))^(1/({exponent} + 1))"
    ),
    dimension="length",
    given=_SYMBOLS,
    limits=_contact_exponents,
    parts=lambda **given: {"kept": Given("c", _kept(given["damping"]))},
    source=_ENERGY,
    note="c = 2·(ζ − ln(1 + ζ))/ζ², 1 for ζ = 0: the share of the energy that is not damped",
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
    rest is damped on the way in. Arguments, range, source and errors as there, and for a negative
    damping ζ.

    >>> print(damped_peak_penetration(1.0, 1.0, 1.0, 1.0, 1.5, 0.5625))
    0.96645
    """
    check.not_negative(damping=damping)
    share = _energy_share(velocity, mass, reference_force, reference_penetration, exponent)
    return float(reference_penetration * (share * _kept(damping)) ** (1 / (exponent + 1)))


def _kept(damping: float) -> float:
    """Share of the energy of the impact that the stop stores, 2(ζ − ln(1 + ζ))/ζ²."""
    if damping < 0.1:
        # Where the difference cancels, its series 2/2 − 2ζ/3 + 2ζ²/4 − …, to rounding.
        return sum(2 * (-damping) ** k / (k + 2) for k in range(17))
    return 2 * (damping - math.log1p(damping)) / damping**2


def _energy_share(
    velocity: float,
    mass: float,
    reference_force: float,
    reference_penetration: float,
    exponent: float,
) -> float:
    """Energy of the impact over what the stop stores when pressed in by δ1."""
    check.not_negative(velocity=velocity)
    check.positive(
        mass=mass,
        reference_force=reference_force,
        reference_penetration=reference_penetration,
        exponent=exponent,
    )
    return (exponent + 1) * mass * velocity**2 / (2 * reference_force * reference_penetration)
