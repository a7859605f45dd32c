"""What an impact comes to, beside its history and closed forms."""

from types import SimpleNamespace

import numpy as np
import pytest

from contactfe.errors import SolveError
from contactfe.hand import stop
from contactfe.impact import energy
from contactfe.impact import outcome as outcome_module
from contactfe.impact.bumper import Bumper, Damper
from contactfe.impact.history import history
from contactfe.impact.laws import Contact, LinearDashpot, Spring
from contactfe.impact.motion import Impact
from contactfe.impact.outcome import outcome
from contactfe.impact.response import integrate

M, V, K = 2000.0, 700.0, 500e3


def test_peaks_are_the_greatest_of_the_history_and_energies_add_up():
    bumper = Bumper(10.0, 0.0, (Damper(1e6, 1000.0, 0.4),))
    response = integrate(Impact(M, V, Contact(Spring(K)), bumper))
    found, record = outcome(response), history(response, 8)
    assert found.response is response
    for peak, column in (
        (found.peak_contact_force, record.contact_force),
        (found.peak_damper_force, record.damper_force),
        (found.peak_approach, record.approach),
        (found.peak_travel, record.floor),
    ):
        assert peak.value == pytest.approx(column.max(), rel=1e-4)
        assert peak.value >= column.max() * (1.0 - 1e-12)
    assert found.peak_contact_force.value == pytest.approx(K * found.peak_approach.value, rel=1e-9)
    assert found.largest_error < 1e-8
    assert found.restitution is None  # of a bumper that moves
    at_peak = float(np.interp(found.peak_contact_force.time, record.time, record.floor_velocity))
    assert found.slowed == pytest.approx(1.0 - at_peak / V, rel=1e-3)


def test_a_fixed_stop_gives_back_what_its_dashpot_leaves():
    ratio = stop.kelvin_damping_ratio(0.65)
    contact = Contact(Spring(K), LinearDashpot(2.0 * ratio * (K * M) ** 0.5))
    found = outcome(integrate(Impact(M, V, contact)))
    assert found.restitution == pytest.approx(stop.kelvin_restitution(ratio), rel=1e-7)
    assert outcome(integrate(Impact(M, V, Contact(Spring(K))))).slowed == pytest.approx(1.0)


def test_one_whose_energies_do_not_add_up_is_refused(monkeypatch):
    response = integrate(Impact(M, V, Contact(Spring(K))))
    monkeypatch.setattr(energy, "LARGEST_ERROR", -1.0)
    with pytest.raises(SolveError, match="the energies add up to"):
        outcome(response)


def test_a_bumper_that_runs_ahead_at_the_end_comes_to_rest_by_itself():
    """A heavy bumper is knocked on by a lighter floor: m w/c of stroke from there."""
    c, k = 50.0, 500e3
    bumper = Bumper(2.0, 0.0, (Damper(c * V, V, 1.0),))
    response = integrate(Impact(1.0, V, Contact(Spring(k)), bumper))
    record = history(response)
    w, y = record.bumper_velocity[-1], record.bumper[-1]
    assert response.end == "parted"
    assert w > 0.3 * V
    assert outcome(response).bumper_displacement == pytest.approx(y + 2.0 * w / c, rel=1e-5)
    assert outcome(response).bumper_speed == pytest.approx(record.bumper_velocity.max(), rel=1e-3)


class TestDampedIsolation:
    def test_work_of_its_damping_is_in_the_balance(self):
        bumper = Bumper(10.0, 0.0, (Damper(1e6, 1000.0, 0.4),))
        iso = {"isolation": 8e3, "gap": 300.0, "damping": 1200.0}
        found = outcome(integrate(Impact(M, V, Contact(Spring(K)), bumper, **iso)))
        assert found.largest_error < 1e-8
        record = history(found.response, 8)
        work = 1200.0 * np.trapezoid(record.floor_velocity**2, record.time)
        assert found.at_end.isolation_damping == pytest.approx(work, rel=1e-4)
        undamped = Impact(M, V, Contact(Spring(K)), bumper, isolation=8e3, gap=300.0)
        less = outcome(integrate(undamped))
        assert (
            found.peak_contact_force.value < less.peak_contact_force.value
        )  # at one velocity it slows the floor
        assert less.at_end.isolation_damping == 0.0


@pytest.mark.parametrize(("y", "w"), [(30.0, 200.0), (-30.0, 200.0), (-30.0, 0.1), (30.0, -5.0)])
@pytest.mark.parametrize("dampers", [(), (Damper(1.0, V, 1.0),)], ids=["none", "all but none"])
def test_a_bumper_on_a_spring_alone_swings_as_far_as_its_energy_lets_it(y, w, dampers):
    """Wherever it is at the end: behind its middle nothing slows it."""
    mass, spring = 10.0, 4e3
    impact = Impact(M, V, Contact(Spring(K)), Bumper(mass, spring, dampers))
    last = SimpleNamespace(times=np.array([1.0]), at=lambda _: np.array([[0.0], [0.0], [y], [w]]))
    found = outcome_module._rest_of_the_bumper(SimpleNamespace(impact=impact, phases=[last]))
    expected = np.hypot(y, w * (mass / spring) ** 0.5) if w > 0.0 else 0.0
    assert found == pytest.approx(expected, rel=1e-3 if dampers else 1e-9)
