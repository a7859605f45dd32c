"""The force on the post: statics of two plates, each with the friction of its contact."""

import math

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import resultant

FORCES = st.floats(1.0, 1e6)
FRICTION = st.floats(0.0, 1.0)


@given(FORCES, FORCES, FRICTION)
def test_in_a_corner_no_friction_of_either_plate_gives_a_greater_force(first, second, friction):
    # The friction of each plate acts along the normal of the other, either way and by up to µ of
    # its own force.
    share = np.linspace(-1.0, 1.0, 9) * friction
    along, across = np.meshgrid(first + share * second, second + share * first)
    greatest = np.hypot(along, across).max()
    assert resultant.corner_force(first, second, friction) == pytest.approx(greatest)


@given(FORCES, FRICTION)
def test_a_second_plate_without_load_leaves_the_force_of_the_first(force, friction):
    alone = resultant.sliding_force(force, friction)
    assert alone == pytest.approx(math.hypot(force, friction * force))
    assert resultant.corner_force(force, 0.0, friction) == pytest.approx(alone)
    assert resultant.corner_force(0.0, force, friction) == pytest.approx(alone)


@given(FORCES, FRICTION, st.floats(1.0, 500.0))
def test_the_torque_is_that_of_friction_on_the_surface_of_the_post(force, friction, radius):
    tangential = math.sqrt(max(resultant.sliding_force(force, friction) ** 2 - force**2, 0.0))
    torque = resultant.friction_torque(force, friction, radius)
    # Rounding of the difference of two squares, which the root makes larger.
    assert torque == pytest.approx(tangential * radius, rel=1e-6, abs=1e-6 * force * radius)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (resultant.normal_force, (1500.0, 300.0)),
        (resultant.sliding_force, (300e3, 0.2)),
        (resultant.corner_force, (300e3, 400e3, 0.2)),
        (resultant.friction_torque, (300e3, 0.2, 75.0)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.dimension == ("moment" if formula is resultant.friction_torque else "force")
    assert worked.source


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: resultant.normal_force(-1.0, 300.0), "line_load = -1.0"),
        (lambda: resultant.normal_force(1500.0, 0.0), "contact_length = 0.0"),
        (lambda: resultant.sliding_force(-1.0, 0.2), "force = -1.0"),
        (lambda: resultant.sliding_force(300e3, -0.2), "friction = -0.2"),
        (lambda: resultant.corner_force(-1.0, 1.0, 0.2), "force_1 = -1.0"),
        (lambda: resultant.corner_force(1.0, -1.0, 0.2), "force_2 = -1.0"),
        (lambda: resultant.corner_force(1.0, 1.0, -0.2), "friction = -0.2"),
        (lambda: resultant.friction_torque(-1.0, 0.2, 75.0), "force = -1.0"),
        (lambda: resultant.friction_torque(300e3, -0.2, 75.0), "friction = -0.2"),
        (lambda: resultant.friction_torque(300e3, 0.2, 0.0), "radius = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
