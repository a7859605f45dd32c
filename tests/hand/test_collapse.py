"""Plastic collapse: the load that is both carried and not exceeded."""

import numpy as np
import pytest
from forms import evaluate
from scipy.integrate import quad

from contactfe.hand import collapse
from contactfe.hand.formula import OutOfRangeWarning

STATES = ["plane stress", "plane strain"]


@pytest.mark.parametrize("state", STATES)
def test_forms(state):
    for worked in (
        collapse.plastic_moment.worked(345.0, 12.0, state),
        collapse.collapse_load.worked(345.0, 84.0, 12.0, state),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)


@pytest.mark.parametrize(("state", "strength"), [("plane stress", 345.0), ("plane strain", 398.37)])
def test_plastic_moment_is_that_of_a_wall_yielded_through(state, strength):
    """398.37 MPa is 2/√3 of 345."""
    moment = 2 * quad(lambda y: strength * y, 0.0, 6.0)[0]
    assert collapse.plastic_moment(345.0, 12.0, state) == pytest.approx(moment, rel=1e-5)


@pytest.mark.parametrize("state", STATES)
def test_collapse_load_is_carried_with_four_hinges_and_no_more(state):
    """Statics of the ring with Mp under both plates: −Mp at both sides, and less between."""
    radius, wall = 84.0, 12.0
    mean, moment = radius - wall / 2, collapse.plastic_moment(345.0, wall, state)
    load = collapse.collapse_load(345.0, radius, wall, state)
    through = moment - load * mean / 2 * np.sin(np.linspace(0.0, np.pi, 201))
    assert through.min() == pytest.approx(-moment)
    assert through[100] == through.min()


def test_range():
    assert collapse.collapse_load.worked(345.0, 100.0, 20.0, "plane strain").within_range
    with pytest.warns(OutOfRangeWarning, match="ri/ro"):
        collapse.collapse_load(345.0, 100.0, 20.1, "plane strain")


def test_a_wall_of_the_radius_is_refused():
    with pytest.raises(ValueError, match=r"wall = 9\.0"):
        collapse.collapse_load(1.0, 9.0, 9.0, "plane stress")
