"""The squeezed disc: its centre by the exact series, and the measures there."""

import numpy as np
import pytest
from forms import evaluate

from contactfe.hand import disc, stress, thick_ring

HELD = ["diametral", "beam shear"]
STATES = ["plane stress", "plane strain"]
Q, D = 1000.0, 100.0


@pytest.mark.parametrize("held_by", HELD)
@pytest.mark.parametrize("state", STATES)
def test_the_centre_is_that_of_the_series(held_by, state):
    along, across, _ = thick_ring.stress(0.0, 0.0, Q, D / 2, 0.0, held_by, 0.3, state)
    assert disc.centre_across(Q, D, held_by) == pytest.approx(across)
    assert disc.centre_along(Q, D, held_by) == pytest.approx(along)
    von_mises = stress.von_mises(across, along, 0.0, 0.3, state)
    assert disc.centre_von_mises(Q, D, held_by, 0.3, state) == pytest.approx(von_mises)


@pytest.mark.parametrize("held_by", HELD)
@pytest.mark.parametrize("state", STATES)
def test_forms(held_by, state):
    for worked in (
        disc.centre_across.worked(Q, D, held_by),
        disc.centre_along.worked(Q, D, held_by),
        disc.centre_von_mises.worked(Q, D, held_by, 0.3, state),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)


@pytest.mark.parametrize("held_by", HELD)
def test_no_load_gives_none_that_is_written_minus(held_by):
    assert not np.signbit(disc.centre_along(0.0, D, held_by))
