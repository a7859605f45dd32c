"""What rows of the tables ask for that no one function of the package gives."""

import math
from typing import Literal

import numpy as np
from scipy.integrate import quad

from contactfe.codes import aisc_360
from contactfe.hand import round_section, sliding
from contactfe.hand.check import Array
from contactfe.hand.quantities import INCH
from contactfe.hand.search import greatest


def greatest_compression(peak_pressure: float, friction: float) -> float:
    """Greatest compressive principal stress in the plane of a contact that slides."""

    def pressed(x: Array, z: Array) -> Array:
        sx, sz, txz = sliding.stress_field(x, z, 1.0, 1.0, friction)
        size: Array = np.hypot((sx - sz) / 2.0, txz) - (sx + sz) / 2.0
        return size

    return greatest(pressed, (0.0, 1.2), (0.0, 1.2))[0] * peak_pressure


def layer_on_a_base(of: Literal["pressure", "stress"]) -> float:
    """Peak pressure on a smooth rigid base, or stress along it under the load, over q/t.

    Of a layer under a line load, by Fourier's integral, derived here.
    """
    sign = 1.0 if of == "pressure" else -1.0

    def transform(k: float) -> float:
        sinh, cosh = np.sinh(k), k * np.cosh(k)
        return float(2 * (cosh + sign * sinh) / (np.sinh(2 * k) + 2 * k))

    return float(quad(transform, 1e-9, 60.0, limit=200)[0] / np.pi)


def by_design_wall(
    of: Literal["area", "plastic modulus", "elastic modulus"], outside_diameter: float, wall: float
) -> float:
    """Area or section modulus of a tube by 0.93 of its nominal wall, to a thousandth of an inch."""
    of_section = {
        "area": round_section.area,
        "plastic modulus": round_section.plastic_modulus,
        "elastic modulus": round_section.elastic_modulus,
    }[of]
    # The table rounds the design wall so.
    design = INCH * round(float(aisc_360.design_wall(wall, 0.93)) / INCH, 3)
    return of_section(outside_diameter, outside_diameter - 2 * design)


def yield_shear_flow() -> float:
    """Shear force over area and stress of a thin tube with the whole wall at the shear yield.

    The flow runs along the wall; its part along the force, |cos α|, sums by the midpoint rule.
    """
    n = 1000
    return sum(abs(math.cos(2 * math.pi * (i + 0.5) / n)) for i in range(n)) / n
