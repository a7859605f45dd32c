"""The von Mises stress against the three principal stresses of the whole tensor."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import stress

mpa = st.floats(-1e3, 1e3, allow_subnormal=False)


def principal(sx, sy, txy, poisson, state):
    third = poisson * (sx + sy) if state == "plane strain" else 0.0
    return np.linalg.eigvalsh([[sx, txy, 0], [txy, sy, 0], [0, 0, third]])


@pytest.mark.parametrize("state", ["plane strain", "plane stress"])
@given(mpa, mpa, mpa, st.floats(0, 0.5))
def test_von_mises_is_that_of_the_whole_tensor(state, sx, sy, txy, poisson):
    s1, s2, s3 = principal(sx, sy, txy, poisson, state)
    von_mises = np.sqrt(((s1 - s2) ** 2 + (s2 - s3) ** 2 + (s3 - s1) ** 2) / 2)
    assert stress.von_mises(sx, sy, txy, poisson, state) == pytest.approx(von_mises, abs=1e-9)


def test_known_states():
    assert stress.von_mises(100.0, 0.0, 0.0, 0.3, "plane stress") == pytest.approx(100.0)
    assert stress.von_mises(0.0, 0.0, 100.0, 0.3, "plane strain") == pytest.approx(173.2050808)
    assert stress.von_mises(-100.0, -100.0, 0.0, 0.5, "plane strain") == 0.0


def test_arrays_broadcast():
    sx, sy = np.zeros((3, 1)), np.ones(4)
    assert stress.von_mises(sx, sy, 0.0, 0.3, "plane strain").shape == (3, 4)


def test_plane_poisson():
    assert stress.plane_poisson(0.25, "plane strain") == pytest.approx(1 / 3)
    assert stress.plane_poisson(0.25, "plane stress") == 0.25


def test_plane_modulus():
    assert stress.plane_modulus(91e3, 0.3, "plane strain") == pytest.approx(100e3)
    assert stress.plane_modulus(91e3, 0.3, "plane stress") == 91e3
    for bad, named in (((0.0, 0.3, "plane strain"), "young"), ((1.0, 0.6, "plane strain"), "pois")):
        with pytest.raises(ValueError, match=named):
            stress.plane_modulus(*bad)
    with pytest.raises(ValueError, match="state"):
        stress.plane_modulus(1.0, 0.3, "flat")


@pytest.mark.parametrize(
    ("poisson", "state", "named"),
    [(-0.1, "plane strain", "poisson"), (0.51, "plane stress", "poisson"), (0.3, "flat", "state")],
)
def test_bad_arguments_are_named(poisson, state, named):
    with pytest.raises(ValueError, match=named):
        stress.von_mises(1.0, 1.0, 1.0, poisson, state)
