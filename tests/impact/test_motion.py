"""The parts of the equation of motion that a whole impact hardly shows."""

import numpy as np
import pytest

from contactfe.impact.bumper import Bumper, Damper
from contactfe.impact.laws import Contact, Spring
from contactfe.impact.motion import Impact


@pytest.mark.parametrize("approach", [3.0, -3.0])
def test_what_is_left_of_the_energy_is_that_of_masses_and_springs(approach):
    """By hand, at x' = 5 and y' = 7 mm/s: 2000·25/2 + 10·49/2 + 40·6²/2, and 500·3²/2 in touch."""
    bumper = Bumper(10.0, 40.0, (Damper(1e3, 700.0, 1.0),))
    impact = Impact(2000.0, 700.0, Contact(Spring(500.0)), bumper, isolation=1e6, gap=300.0)
    expected = 25000.0 + 245.0 + 720.0 + (2250.0 if approach > 0.0 else 0.0)
    assert impact.left([6.0 + approach, 5.0, 6.0, 7.0], 0.0) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("mass", [10.0, 0.0])
def test_a_bumper_moves_alike_one_state_at_a_time_or_many(mass):
    bumper = Bumper(mass, 40.0, (Damper(1e3, 700.0, 0.4), Damper(2e3, 700.0, 1.0)))
    impact = Impact(2000.0, 700.0, Contact(Spring(500.0)), bumper)
    states = np.array([[6.0, 7.0], [5.0, -5.0], [1.0, 2.0], [300.0, -1e-5]])[: len(impact.start)]
    force = np.array([900.0, 0.0])
    velocity, damped = impact.bumper_motion(states, force)
    for k in (0, 1):
        one = impact.bumper_velocity(states[:, k], float(force[k]))
        assert (velocity[k], damped[k]) == (one, impact.damper_force(one))
        if mass == 0.0:  # the dampers and the spring bear what the contact presses with
            assert damped[k] + 40.0 * states[2, k] == pytest.approx(force[k], abs=1e-9)
    approach, rate = impact.approach(states)
    assert [impact.approach(list(state)) for state in states.T] == list(
        zip(approach, rate, strict=True)
    )
