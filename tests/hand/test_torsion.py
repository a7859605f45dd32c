"""Torsion of a round post: the stress integrated to the torque, and von Mises round the wall."""

import math

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import torsion

D, TORQUE = 150.0, 6.75e6
STRESSES = st.floats(0.0, 500.0, allow_subnormal=False)


@pytest.mark.parametrize("bore", [0.0, 100.0, 140.0])
def test_the_stress_turns_about_the_axis_with_the_torque(bore):
    # In proportion to the radius: the torque is the integral of τT r/(D/2) · r · 2πr dr.
    edges = np.linspace(bore / 2, D / 2, 2001)
    r = (edges[1:] + edges[:-1]) / 2
    shear = torsion.torsion_stress(TORQUE, D, bore) * r / (D / 2)
    # The midpoint rule on 2000 strips keeps six digits.
    assert np.sum(shear * r * 2 * math.pi * r * np.diff(edges)) == pytest.approx(TORQUE, rel=1e-6)


def thin_wall(bending, shear, twist):
    """Von Mises stresses round a thin wall, from the farthest fibre to the neutral axis."""
    angle = np.linspace(0.0, math.pi / 2, 361)
    tangential = twist + shear * np.sin(angle)
    return np.hypot(bending * np.cos(angle), math.sqrt(3) * tangential)


@given(STRESSES, STRESSES, STRESSES)
def test_it_is_the_greatest_round_a_thin_wall(bending, shear, twist):
    found = torsion.von_mises_with_torsion(bending, shear, twist)
    greatest = thin_wall(bending, shear, twist).max()
    # Places a quarter of a degree apart miss the top by (π/720)² of it at the most.
    assert greatest * (1 - 1e-12) - 1e-12 <= found <= greatest * (1 + 2e-5) + 1e-12


@pytest.mark.parametrize(
    ("stresses", "expected"),
    [
        ((250.0, 14.0, 0.0), 250.0),
        ((0.0, 14.0, 0.0), 14.0 * math.sqrt(3)),
        ((300.0, 0.0, 100.0), math.sqrt(300.0**2 + 3 * 100.0**2)),  # at the farthest fibre
        # Between: with C = 9τ²τT²/(σ² − 3τ²), the square is σ² + 3τT² + C.
        (
            (300.0, 20.0, 100.0),
            math.sqrt(300.0**2 + 3 * 100.0**2 + 9 * 20**2 * 100**2 / (300**2 - 3 * 20**2)),
        ),
        ((100.0, 80.0, 50.0), math.sqrt(3) * 130.0),  # at the neutral axis
    ],
)
def test_the_farthest_fibre_the_neutral_axis_or_a_place_between_governs(stresses, expected):
    assert torsion.von_mises_with_torsion(*stresses) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (torsion.torsion_stress, (TORQUE, D)),
        (torsion.torsion_stress, (TORQUE, D, 100.0)),
        (torsion.torsion_stress, (0.0, D)),
        (torsion.von_mises_with_torsion, (250.0, 14.0, 10.0)),
        (torsion.von_mises_with_torsion, (20.0, 14.0, 10.0)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)
    assert worked.dimension == "stress"


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: torsion.torsion_stress(-1.0, D), "torque = -1.0"),
        (lambda: torsion.torsion_stress(TORQUE, 0.0), "outside_diameter = 0.0"),
        (lambda: torsion.torsion_stress(TORQUE, D, D), "bore = 150.0"),
        (lambda: torsion.von_mises_with_torsion(-1.0, 1.0, 1.0), "bending = -1.0"),
        (lambda: torsion.von_mises_with_torsion(1.0, -1.0, 1.0), "shear = -1.0"),
        (lambda: torsion.von_mises_with_torsion(1.0, 1.0, -1.0), "twist = -1.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
