"""What the post hands on at its root."""

import math

import pytest
from handcases import TUBE, close, steps, stop

from contactfe.assess.by_hand.root import root_resultants


def test_without_friction_it_is_the_force_and_its_moment():
    case = stop(cantilever=(900.0,), line_load=400.0)
    root = root_resultants(case, case.sections[0])
    assert (root.force_normal, root.force_along, root.torque) == (80e3, 0.0, 0.0)
    assert (root.force, root.moment) == (80e3, close(80e3 * 900))


@pytest.mark.parametrize("force", [None, 40e3, 160e3])
def test_friction_acts_along_the_plate_and_twists(force):
    case = stop(TUBE, cantilever=(900.0,), line_load=400.0, friction=0.3)
    root = root_resultants(case, case.sections[0], force)
    F = force or 80e3
    assert (root.force_normal, root.force_along) == (close(F), close(0.3 * F))
    assert root.force == close(F * math.sqrt(1.09))
    assert root.torque == close(0.3 * F * 75)
    assert root.moment == close(root.force * 900)


def test_in_a_corner_each_plate_bears_what_the_other_drags():
    case = stop(corner=800.0, cantilever=(900.0,), line_load=1500.0, friction=0.2)
    F1, F2 = 1500.0 * 200, 800.0 * 200
    root = root_resultants(case, case.sections[0], 2 * F1)
    assert root.force_normal == close(2 * (F1 + 0.2 * F2))
    assert root.force_along == close(2 * (F2 + 0.2 * F1))
    assert root.torque == close(2 * 0.2 * (F1 + F2) * 75)


@pytest.mark.parametrize("corner", [None, 800.0])
def test_it_is_what_the_steps_show(corner):
    found = steps(corner=corner, cantilever=(900.0,), line_load=1500.0, friction=0.2)
    root = found.root
    assert root.force == close(found.value("post_force"))
    assert root.moment == close(found.value("post_root_moment"))
    assert root.torque == close(found.value("post_torque"))


def test_without_a_cantilever_there_is_no_root():
    assert steps().root is None
