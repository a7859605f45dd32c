"""A post pressed on a plate and then pushed along it by less than friction, by finite elements.

Source: Cattaneo, Rendiconti dell'Accademia dei Lincei 27 (1938); Mindlin, Journal of Applied
Mechanics 16 (1949); K. L. Johnson, Contact Mechanics, 1985, section 7.2: from memory, not seen;
tested by themselves in tests/hand/test_partial_slip.py. Normal load first and kept, tangential
load after: the displacement along the plate is an unknown of its own, with the tangential load
given. A solid on a thick wide plate of the same steel, a/R = 0.0025, at the standard element size.
Single figures are rows of contactfe.verify.solved_friction; the cases are the same.
"""

import numpy as np
import pytest

from contactfe.hand import hertz, partial_slip
from contactfe.solve.friction import OPEN, SLIP, STICK
from contactfe.solve.joint import solve_joint
from contactfe.verify.cases import (
    RADIUS,
    SLIP_FRICTION,
    SLIP_RATIO,
    hertz_load,
    hertz_pressure,
    pressed,
    pushed,
    sliding_joint,
)
from contactfe.verify.solved_friction import PUSHES

FRICTION = SLIP_FRICTION
A, Q, P0 = SLIP_RATIO * RADIUS, hertz_load(SLIP_RATIO), hertz_pressure(SLIP_RATIO)


def joint():
    return sliding_joint(SLIP_RATIO)


@pytest.fixture(params=PUSHES)
def case(request):
    return request.param, pushed(request.param)


def test_like_bodies_pressed_together_exert_hardly_any_friction():
    # Half-planes of one material do not at all; the finite round does by 0.6 % of p0.
    assert np.abs(pressed().traction).max() < 1e-2 * P0
    inside = np.abs(joint().member.lines[0].x) < 0.85 * A
    off = pressed().pressure - hertz.pressure(joint().member.lines[0].x, A, P0)
    assert np.abs(off[inside]).max() < 4e-3 * P0


def test_the_middle_sticks_up_to_its_half_width(case):
    # c = a √(1 − Q/µP) lies between the last node that sticks and the first that slips, on both
    # sides: they are 0.06 a apart at most.
    mobilised, state = case
    c = partial_slip.stick_half_width(A, mobilised)
    x = joint().member.lines[0].x
    sticking, slipping = (np.abs(x[state.regime == what]) for what in (STICK, SLIP))
    assert sticking.max() <= c + 5e-3 * A
    assert slipping.min() >= c - 5e-3 * A
    assert slipping.min() - sticking.max() < 0.07 * A
    assert np.all(np.diff(np.flatnonzero(state.regime != OPEN)) == 1)


def test_traction_along_the_patch(case):
    # Measured: 2.5 % of µp0 but for 0.1 a around c, where the traction has a steep kink: 5 %. Of
    # that, 1 % is there before the push.
    mobilised, state = case
    x = joint().member.lines[0].x
    c = partial_slip.stick_half_width(A, mobilised)
    exact = partial_slip.traction(x, A, P0, FRICTION, mobilised)
    off = np.abs(-state.traction - exact) / (FRICTION * P0)
    inside = np.abs(x) < 0.9 * A
    kink = np.abs(np.abs(x) - c) < 0.1 * A
    assert off[inside & ~kink].max() < 4e-2
    assert off[inside].max() < 7e-2
    assert joint().weight @ -state.traction == pytest.approx(FRICTION * Q * mobilised, rel=1e-9)


def test_the_push_leaves_the_pressure(case):
    _, state = case
    x = joint().member.lines[0].x
    inside = np.abs(x) < 0.85 * A
    assert np.abs(state.pressure - hertz.pressure(x, A, P0))[inside].max() < 5e-3 * P0


def test_an_even_push_does_not_depend_on_its_steps():
    # Slip only spreads inwards, so the path has no other memory: exact theory, any steps.
    one, many = pushed(0.5, 1), pushed(0.5, 40)
    assert one.traction == pytest.approx(many.traction, abs=1e-2 * FRICTION * P0)


@pytest.mark.parametrize("degrees", [5.0, 10.0, 15.0])
def test_an_oblique_impact_below_the_angle_of_friction_sticks_everywhere(degrees):
    # Normal and tangential load grow in one ratio Q/P < µ: nothing slips and the traction is Q/P
    # times the pressure (Mindlin and Deresiewicz, Journal of Applied Mechanics 20 (1953): from
    # memory, not seen). The angle of motion is given, not Q/P; the two compliances differ
    # by a tenth. Measured 1.4 % of p0, of which 0.6 % is there without any slant.
    state = solve_joint(joint(), Q, angle=np.radians(degrees), friction=0.3).patch
    share = state.tangential_load / Q
    assert state.motion == "sticking"
    assert 0.7 * np.tan(np.radians(degrees)) < share < 0.3
    inside = np.abs(state.x) < 0.9 * A
    off = state.traction - share * state.pressure
    assert np.abs(off[inside]).max() < 2e-2 * P0
