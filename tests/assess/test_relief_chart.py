"""A point of the design chart is what the tool gives for a case that is stated so."""

from dataclasses import replace
from math import pi

import pytest

from contactfe.assess.accuracy import solve_levels
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.readout import read_out
from contactfe.case import case_from_dict
from contactfe.hand import relief

STEEL = {"young": "210 GPa", "poisson": 0.3, "yield": "690 MPa"}


def peak(narrow: float, long: float, bore: float) -> float:
    """Peak of a post of 200 mm with root and tip far from its contact, its bending left out."""
    length = 200.0 * long
    force = pi * (100.0 * narrow) ** 2 * 210e3 / (8.0 * (1.0 - 0.3**2) * 100.0) * length
    section = {"name": "post", "outside_diameter": "200 mm"}
    case = case_from_dict({
        "title": "a point of the chart",
        "post": {"held_by": "beam shear", **STEEL},
        "plate": {"width": "2 m", "thickness": "1 m", "held_by": "rigid base", **STEEL},
        "load": {
            "force": f"{force} N", "contact_length": f"{length} mm", "distribution": "even",
        },
        "cantilever": {"length": f"{700 + length / 2} mm", "tip": f"{700 + length / 2} mm"},
        "section": [section | ({"bore": f"{bore} mm"} if bore else {})],
    })  # fmt: skip
    (section,), bodies = case.sections, Bodies(case)
    at = loaded(case, section, bodies)
    straight = tuple(replace(strip, moment=0.0) for strip in at.spread.strips)
    at = replace(at, spread=replace(at.spread, strips=straight))
    return read_out(solve_levels(at, section, bodies)).values["post_peak"].value


def test_a_tube_of_the_best_wall_saves_what_the_formula_says():
    wall = relief.best_wall(2.0, 100.0, 200.0)
    best, thinner, solid = (peak(0.02, 1.0, 200.0 * (1.0 - h)) for h in (wall, 0.94 * wall, 1.0))
    expected = relief.relief_of_best_wall(2.0, 100.0, 200.0)
    assert 1.0 - best / solid == pytest.approx(expected, abs=5e-3)
    assert thinner > 1.01 * best
