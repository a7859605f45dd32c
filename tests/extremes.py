"""Posts and plates at the ends of what can be stated, and the closed forms that hold there.

What is drawn is solved on the standard meshes. Where a closed form holds, the ± that is printed has
to cover it but for what the form itself leaves out; else the answer has to be in balance. What is
out of range is refused by its key with the limit.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from random import Random
from typing import Any

import bodies
import numpy as np

from contactfe.assess.accuracy import Levels, solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.readout import read_out
from contactfe.errors import InputError, SolveError
from contactfe.hand import hertz, thick_ring

E, NU, R = 200e3, 0.3, 75.0


@dataclass(frozen=True)
class Extreme:
    """A case as ``bodies.case`` takes it: diameter, wall or None, and what else it states."""

    wall: float | None = None
    line_load: float = 500.0
    young: float = E
    plate_young: float = E
    poisson: float = NU
    plate_poisson: float = NU
    plate: tuple[float, float] = (12.0 * R, 6.0 * R)
    plate_held: str = "rigid base"

    @property
    def contact_modulus(self) -> float:
        return hertz.contact_modulus(
            self.young, self.poisson, self.plate_young, self.plate_poisson, "plane strain"
        )

    @property
    def half_width(self) -> float:
        return math.sqrt(4.0 * self.line_load * R / (math.pi * self.contact_modulus))

    def keys(self) -> dict[str, Any]:
        strength = min(690.0, self.young / 10.0, self.plate_young / 10.0)
        stated = {name: getattr(self, name) for name in self.__dataclass_fields__ if name != "wall"}
        return stated | {"yield_strength": strength}


def log_uniform(by: Random, least: float, most: float) -> float:
    return math.exp(by.uniform(math.log(least), math.log(most)))


def line_load(by: Random, of: Extreme, least: float = 1e-3, most: float = 0.012) -> float:
    """One whose half-width by Hertz is a share of the radius."""
    share = log_uniform(by, least, most)
    return math.pi * of.contact_modulus * R * share**2 / 4.0


def moduli(by: Random) -> Extreme:
    """Of post and plate in any ratio from 1/1000 to 1000."""
    ratio = log_uniform(by, 1e-3, 1e3)
    of = Extreme(young=E * math.sqrt(ratio), plate_young=E / math.sqrt(ratio))
    return replace(of, line_load=line_load(by, of))


def poissons(by: Random) -> Extreme:
    """From 0 to all but incompressible."""
    nu = [by.choice([0.0, 0.2, 0.3, 0.4, 0.45, 0.46, 0.499]) for _ in range(2)]
    of = Extreme(poisson=nu[0], plate_poisson=nu[1])
    return replace(of, line_load=line_load(by, of))


def walls(by: Random) -> Extreme:
    """From below the thinnest that is allowed to 99 % of the radius, loaded as lightly as that."""
    wall = log_uniform(by, 0.009 * R, 0.99 * R)
    of = Extreme(wall)
    most = min(0.012, 0.5 * (wall / R) ** 2)
    return replace(of, line_load=line_load(by, of, 0.1 * most, most))


def loads(by: Random) -> Extreme:
    """Over more than nine decades."""
    of = Extreme(by.choice([None, None, 0.5 * R]))
    return replace(of, line_load=line_load(by, of, 3e-7, 0.3))


def plates(by: Random) -> Extreme:
    """From foil to block, on a base or on its edges."""
    width = log_uniform(by, 0.02 * R, 40.0 * R)
    held = by.choice(["rigid base", "simply supported", "clamped"])
    of = Extreme(plate=(width, log_uniform(by, width / 300.0, 2.0 * width)), plate_held=held)
    return replace(of, line_load=line_load(by, of))


EXTREMES = {of.__name__: of for of in (moduli, poissons, walls, loads, plates)}


def known(of: Extreme) -> Mapping[str, tuple[float, float]]:
    """The figures that a closed form gives, and the share of each that the form leaves out.

    Hertz leaves out terms of the square of the half-width over what is smallest beside it: radius,
    wall, thickness; a ring under a point load those over the wall. The factors are
    chosen here.
    """
    a, q = of.half_width, of.line_load
    if a < 1e-6 * R or a > 0.03 * R:
        return {}
    found = {}
    thin = min(of.plate[1], of.plate[0] / 5.0) if of.plate_held == "rigid base" else 0.0
    wall = of.wall or R
    left_out = (a / R) ** 2 + (a / thin) ** 2 if thin > 5.0 * a else math.inf
    if left_out < 0.01 and wall > 10.0 * a and wall > 0.3 * R:
        out = left_out + 2.0 * (a / wall) ** 2
        found["half_width"] = a, out
        found["peak_pressure"] = hertz.peak_pressure(q, R, of.contact_modulus), out
    if of.wall and of.wall > 5.0 * a and of.plate_held == "rigid base":
        under, side = thick_ring.bore_hoop(
            q, R, R - of.wall, np.array([0.0, np.pi / 2]), "beam shear", of.poisson, "plane strain"
        )
        found["bore_hoop_under_load"] = float(under), (a / of.wall) ** 2
        found["bore_hoop_at_side"] = float(side), (a / of.wall) ** 2
    return found


def judged(of: Extreme) -> tuple[str, str]:
    """How an extreme ended: covered, in balance, refused or not solved; and what is wrong else."""
    try:
        case = bodies.case([(2.0 * R, of.wall)], **of.keys())
        levels = solve_levels(case, case.sections[0], Bodies(case))
    except InputError as error:
        said = str(error)
        named = re.search(r"\[\w+\]|section 1|section '", said) and re.search(r"most|least", said)
        return ("refused" if named else "odd refusal: names no limit"), said
    except SolveError as error:
        return "not solved", str(error)
    return _held(of, levels)


def _held(of: Extreme, levels: Levels) -> tuple[str, str]:
    values, reading = read_out(levels).values, levels.fine.reading
    for key in ("peak_pressure", "half_width", "post_peak", "plate_peak"):
        figure = values[key]
        if not (0.0 < figure.value < math.inf and 0.0 < figure.uncertainty < math.inf):
            return "fault: no figure", f"{key} {figure}"
    if reading.state.force_balance > 1e-9:
        return "fault: not in balance", f"{reading.state.force_balance}"
    compared = known(of)
    for key, (expected, left_out) in compared.items():
        figure = values[key]
        off, allowed = abs(figure.value - expected), figure.uncertainty + left_out * abs(expected)
        if off > allowed:
            return "not covered", (
                f"{key}: {figure.value:.6g} ± {figure.uncertainty:.2g}, by hand {expected:.6g},"
                f" off {off:.2g}, allowed {allowed:.2g}"
            )
    return ("covered" if compared else "in balance"), ""
