"""Motions near the one stated: their forces beside energy by hand, and when the page warns."""

import math

import pytest
from motions import FIXED, FREE_FALL, moving, of_sections

from contactfe.assess.impact import impact_force
from contactfe.assess.nearby import SENSITIVE, Nearby, nearby, sensitive, with_forces
from contactfe.errors import SolveError

MASS, STIFFNESS, PERIOD, DISPLACEMENT = 2000.0, 400e3, 3.0, 450.0
MINUS, PLUS, TOP = (
    "displacement_minus_10_percent", "displacement_plus_10_percent", "pseudo_velocity",
)  # fmt: skip


def fixed_stop(gap):
    """An elastic stop that nothing damps, and its forces by their keys."""
    (impact,) = impact_force(moving(**FIXED, motion__gap=f"{gap} mm")).blows
    return impact, {one.key: one.peak_contact_force for one in impact.nearby}


def by_energy(displacement, gap, velocity=None):
    """Force on the stop, N: M v²/2 = k δ²/2 + kiso (g δ + δ²/2) as the floor comes to rest."""
    omega = 2 * math.pi / PERIOD
    v = omega * math.sqrt(displacement**2 - gap**2) if velocity is None else velocity
    iso = MASS * omega**2
    a, b, c = (STIFFNESS + iso) / 2, iso * gap, -MASS * v**2 / 2
    return STIFFNESS * (-b + math.sqrt(b**2 - 4 * a * c)) / (2 * a)


@pytest.mark.parametrize("gap", [100.0, 300.0, 400.0])
def test_forces_are_those_of_the_energy_balance(gap):
    impact, forces = fixed_stop(gap)
    assert impact.peak_contact_force.value == pytest.approx(by_energy(450.0, gap), rel=1e-7)
    assert forces[PLUS] == pytest.approx(by_energy(495.0, gap), rel=1e-7)
    assert forces[MINUS] == pytest.approx(by_energy(405.0, gap), rel=1e-7)
    top = 2 * math.pi / PERIOD * DISPLACEMENT
    assert forces[TOP] == pytest.approx(by_energy(450.0, gap, top), rel=1e-7)


def test_without_the_isolation_the_force_is_that_of_a_free_mass():
    """F = v√(kM), so a stiff stop has +10 % of displacement as √((1.21 − r²)/(1 − r²)), r = g/D."""
    (impact,) = impact_force(
        moving(**FIXED, motion__gap="427.5 mm", contact_law__stiffness="2e6 kN/mm")
    ).blows
    forces = {one.key: one.peak_contact_force for one in impact.nearby}
    r = 0.95
    ratio = math.sqrt((1.21 - r**2) / (1.0 - r**2))
    assert ratio == pytest.approx(1.776, abs=1e-3)  # +78 %
    assert forces[PLUS] / impact.peak_contact_force.value == pytest.approx(ratio, rel=5e-3)
    assert forces[TOP] / impact.peak_contact_force.value == pytest.approx(
        1 / math.sqrt(1 - r**2), rel=5e-3
    )
    assert impact.sensitive


def test_a_gap_that_stays_open_has_no_force():
    for gap in (427.5, 405.0):
        impact, forces = fixed_stop(gap)
        assert forces[MINUS] == 0.0
        assert impact.nearby[0].velocity_at_closure == 0.0
    _, forces = fixed_stop(404.0)
    assert forces[MINUS] > 0.0


def test_the_velocities_are_in_order_and_those_of_harmonic_motion():
    found = nearby(moving().motion)
    omega = 2 * math.pi / PERIOD
    assert [one.key for one in found] == [MINUS, PLUS, TOP]
    assert [one.displacement for one in found] == pytest.approx([405.0, 495.0, 450.0])
    expected = [omega * math.sqrt(405.0**2 - 300.0**2), omega * math.sqrt(495.0**2 - 300.0**2),
                omega * 450.0]  # fmt: skip
    assert [one.velocity_at_closure for one in found] == pytest.approx(expected)


def test_a_small_gap_is_not_sensitive_and_a_gap_near_the_displacement_is():
    for gap, expected in ((100.0, False), (300.0, False), (350.0, True), (440.0, True)):
        impact, forces = fixed_stop(gap)
        more = forces[PLUS] / impact.peak_contact_force.value - 1.0
        assert impact.sensitive == expected == (more > SENSITIVE)


def test_a_stated_velocity_has_none():
    (impact,) = impact_force(moving(**FREE_FALL)).blows
    assert impact.nearby == ()
    assert not impact.sensitive


def test_a_force_that_is_not_found_says_why_and_counts_as_more():
    def force_at(velocity):
        if velocity > 800.0:
            raise SolveError("no end")
        return 2.0 * velocity

    found = with_forces(moving().motion, force_at)
    assert found[0].peak_contact_force == 2.0 * found[0].velocity_at_closure
    assert [(one.peak_contact_force, one.not_found) for one in found[1:]] == [(None, "no end")] * 2
    assert sensitive(found, 1e12)
    assert not sensitive((Nearby(PLUS, 1.0, 1.0, 1.19),), 1.0)
    assert sensitive((Nearby(PLUS, 1.0, 1.0, 1.21),), 1.0)


def of_sections_at(force):
    """The case of :func:`.of_sections` whose [load] states that force, N."""
    return moving(
        load={"force": f"{force} N", "contact_length": "1000 mm"},
        contact_law={"law": "section", "restitution": 0.8}, motion__bumper_mass="0.1 t",
    )  # fmt: skip


class TestOnASectionsOwnCurve:
    def test_the_curve_is_carried_on_as_far_as_they_need(self):
        (far,) = of_sections().blows
        (impact,) = impact_force(of_sections_at(far.peak_contact_force.value)).blows
        law = impact.response.impact.contact.elastic
        forces = {one.key: one.peak_contact_force for one in impact.nearby}
        assert forces[TOP] > law.force(law.end)  # past the curve that the impact itself needed
        assert forces == pytest.approx(
            {one.key: one.peak_contact_force for one in far.nearby}, rel=2e-3
        )
        # Between those of a free mass, in proportion to the velocity, and no change at all.
        stated = impact.response.impact.velocity
        for one in impact.nearby:
            ratio = one.peak_contact_force / impact.peak_contact_force.value
            assert abs(ratio - 1.0) < abs(one.velocity_at_closure / stated - 1.0)
            assert ratio == pytest.approx(one.velocity_at_closure / stated, rel=0.06)

    def test_beyond_the_range_of_the_model_there_is_none(self, monkeypatch):
        force = of_sections().blows[0].peak_contact_force.value
        monkeypatch.setattr("contactfe.assess.in_series.times_allowed", lambda _: 1.05)
        (impact,) = impact_force(of_sections_at(force)).blows
        assert impact.peak_contact_force.value == pytest.approx(force, rel=2e-3)
        forces = {one.key: one.peak_contact_force for one in impact.nearby}
        assert forces[MINUS] < force
        assert forces[PLUS] is forces[TOP] is None
        assert impact.sensitive
