"""A post beyond first yield by a general finite-element library: is the reference itself sound?

reference_plastic.py beside this says how it works and what sets the tolerances.
"""

import numpy as np
import pytest
from published.reference_plastic import (
    BODIES,
    LIBRARY,
    PROBLEMS,
    Fineness,
    Problem,
    Reference,
    Steel,
    found,
    path,
    solved,
)

pytest.importorskip(
    LIBRARY, reason="needs the reference libraries: pip install contactfe[reference]"
)
COARSE = Fineness(order=2, per_half_width=6, steps=1)


@pytest.fixture(scope="module")
def hardening():
    """Pressed far beyond yield, by unlike steels that harden in either way."""
    model = Reference(
        Problem(post=Steel(300.0, 2100.0, 4000.0), plate=Steel(345.0, kinematic=3000.0)), COARSE
    )
    model.start(0.015)
    energies = []
    for load in (400.0, 782.0, 1564.0, 2346.0, 782.0):
        model.load(load)
        energies.append((load, model.line_load, model.beyond_yield(), *model.energies()))
    return model, np.array(energies)


def test_stress_stays_on_the_yield_surface(hardening):
    _, states = hardening
    assert states[0, 2] < -10  # MPa, before yield
    assert states[1:, 2] == pytest.approx(0.0, abs=1e-9)


def test_the_load_asked_for_is_carried(hardening):
    _, states = hardening
    assert states[:, 1] == pytest.approx(states[:, 0], rel=1e-9)


def test_work_of_flow_is_spent_once(hardening):
    _, states = hardening
    plastic, stored = states[:, 4], states[:, 5]
    assert plastic[0] == 0.0
    assert np.all(np.diff(plastic[:4]) > 0)
    assert plastic[4] == pytest.approx(plastic[3], rel=1e-3)  # flows back at the edge alone
    assert np.all(stored[1:] > 0)
    assert np.all(stored[1:] < 0.05 * plastic[1:])


def test_every_load_is_met_up_and_down():
    up, down = path((100.0, 150.0, 200.0), 3)
    assert up == sorted(up)
    assert down == sorted(down, reverse=True)
    assert {100.0, 150.0, 200.0} <= set(up)
    assert {100.0, 150.0} <= set(down)
    assert up[-1] == 200.0
    assert 0 < down[-1] < 5


def test_coarser_is_much_the_same():
    coarse, fine = solved(PROBLEMS["solid post"], Fineness(2, 10, 2)), found("solid post")
    assert coarse.loading == pytest.approx(fine.loading, rel=2e-3)
    assert coarse.unloading == pytest.approx(fine.unloading, rel=3e-3)
    assert coarse.residual_displacement == pytest.approx(fine.residual_displacement, rel=1e-2)
    assert coarse.plastic_work == pytest.approx(fine.plastic_work, rel=1.5e-2)
    for body in BODIES:
        rough, smooth = getattr(coarse, body), getattr(fine, body)
        scale = np.abs(smooth.residual_lift).max()
        assert rough.residual_lift == pytest.approx(smooth.residual_lift, abs=1.5e-2 * scale)
        assert rough.peak_strain == pytest.approx(smooth.peak_strain, rel=2e-2)
        ((top, deepest),) = smooth.zones
        assert rough.zones[0] == pytest.approx((top, deepest), rel=0.03, abs=0.02)


def test_energy_is_kept():
    """What the load has spent is in flow and residual stress; the rule of Euler costs a little."""
    fine = found("solid post")
    assert fine.work_left == pytest.approx(fine.plastic_work + fine.elastic, rel=5e-3)
    assert fine.flow_on_unloading == pytest.approx(0.0, abs=1e-9)
    assert fine.unloading[-1] == fine.loading[-1]
