"""A socket: bearing that runs straight, integrated along the depth."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import socket

F, D = 100e3, 150.0


def bearing(length: float, depth: float):
    """Places from the mouth, bearing per length, shear force and moment of the post there: the
    bearing solved from the two equations of equilibrium, and then integrated."""
    moments = [[depth, depth**2 / 2], [depth**2 / 2, depth**3 / 3]]  # of 1 and x
    at_mouth, slope = np.linalg.solve(moments, [F, -F * length])
    x = np.linspace(0.0, depth, 20001)
    w = at_mouth + slope * x
    shear = F - at_mouth * x - slope * x**2 / 2
    moment = F * length + F * x - at_mouth * x**2 / 2 - slope * x**3 / 6
    return w, shear, moment


@given(st.floats(0.0, 3000.0).map(lambda length: length + 1.0), st.floats(20.0, 600.0))
def test_pressure_moment_and_shear_are_those_of_the_bearing_that_balances_the_load(length, depth):
    w, shear, moment = bearing(length, depth)
    assert shear[-1] == pytest.approx(0.0, abs=1e-6 * np.abs(shear).max())
    assert moment[-1] == pytest.approx(0.0, abs=1e-6 * moment.max())
    assert socket.mouth_pressure(F, length, depth, D) == pytest.approx(np.abs(w).max() / D)
    assert F * socket.greatest_lever(length, depth) == pytest.approx(moment.max(), rel=1e-6)
    assert socket.inner_shear(F, length, depth) == pytest.approx(-shear.min(), rel=1e-6)


def test_inside_the_post_bears_more_than_at_the_mouth():
    """300 mm deep under 900 mm: 1.2 % more moment, and three and a half times the shear force."""
    assert socket.greatest_lever(900.0, 300.0) / 900.0 == pytest.approx(1.00773, rel=1e-4)
    assert socket.inner_shear(F, 900.0, 300.0) / F == pytest.approx(3000.0**2 / (900 * 2100))


@pytest.mark.parametrize(("depth", "counted"), [(200.0, 200.0), (225.0, 225.0), (400.0, 225.0)])
def test_of_a_deep_socket_one_and_a_half_diameters_count(depth, counted):
    assert socket.depth_counted(depth, D) == counted
    assert counted <= socket.DEEPEST * D


@given(st.floats(0.0, 3000.0), st.floats(20.0, 600.0))
def test_every_moment_and_shear_that_meet_are_within_a_pair(length, depth):
    _, shear, moment = bearing(length, depth)
    shear = np.abs(shear[:-1:97])
    moment = moment[:-1:97]
    pairs = np.array(socket.together(F, length, depth))
    slack = 1 + 1e-9, 1e-6 * F * (length + depth)
    covered = (moment[:, None] <= pairs[:, 0] * slack[0] + slack[1]) & (
        shear[:, None] <= pairs[:, 1] * slack[0] + 1e-6 * F
    )
    assert covered.any(axis=1).all()
    assert pairs[0] == pytest.approx((F * socket.greatest_lever(length + 1e-9, depth), F))
    assert pairs[-1][1] == pytest.approx(socket.inner_shear(F, length + 1e-9, depth))
