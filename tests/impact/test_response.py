"""The first impact beside closed forms, other integrations, and laws that it must obey."""

import math
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from scipy.linalg import expm

from contactfe.errors import SolveError
from contactfe.hand import overshoot, power_stop, stop
from contactfe.impact import response as module
from contactfe.impact.bumper import Bumper, Damper
from contactfe.impact.energy import Energies, check_balance, energies
from contactfe.impact.history import history, peak, thinned
from contactfe.impact.laws import (
    Contact,
    InProportion,
    LinearDashpot,
    NoDashpot,
    PowerLaw,
    PressedIn,
    Spring,
)
from contactfe.impact.motion import Impact
from contactfe.impact.response import integrate
from contactfe.solve.force_approach import ForceApproach

M, V, K = 2000.0, 700.0, 500e3
MB = 10.0
UNSHRUNK = (Phase.explicit, Phase.reuse, Phase.generate)
"""Each example takes an impact or two: to make a failing one smaller would take minutes."""

FEW = settings(max_examples=4, deadline=None, phases=UNSHRUNK)


def struck(contact=None, bumper=None, mass=M, **more):
    return integrate(Impact(mass, V, contact or Contact(Spring(K)), bumper, **more))


def kelvin(e, mass):
    ratio = stop.kelvin_damping_ratio(e)
    return Contact(Spring(K), LinearDashpot(2 * ratio * math.sqrt(K * mass)))


def held(force, exponent=0.4, mass=MB, spring=0.0):
    """A bumper whose dampers have that force at the velocity of closure."""
    return Bumper(mass, spring, (Damper(force, V, exponent),))


def returned(found):
    return -history(found).floor_velocity[-1] / V


# 1e-8 below: a hundred times the tolerance of a step.


class TestTheEnd:
    """An impact is over when the bumper can reach the floor no more."""

    def test_a_bumper_that_catches_up_with_the_floor_strikes_it_again(self):
        """Knocked ahead on a weak spring, it is met harder as the floor moves back.

        The force is that of a Verlet integration of the same two equations, in steps of 1e-6 s.
        """
        mass, own, soft = 2907.0, 11.05, 407.3
        frequency = 2 * math.pi / 3.0
        floor = mass * frequency**2
        speed = frequency * math.sqrt(450.0**2 - 300.0**2)
        impact = Impact(mass, speed, Contact(Spring(127.6e3)), Bumper(own, soft, ()), floor, 300.0)
        found = integrate(impact)
        first = peak(found, "contact_force")
        assert first.time > 0.4
        assert first.value == pytest.approx(_verlet(impact, floor, soft, 0.45), rel=1e-3)
        assert found.end == "parted"
        # It is over as they part for good, though until later they might have met again.
        record = history(found)
        touching = record.contact_force > 0.0
        assert first.time < found.over < found.duration
        assert record.time[touching].max() == pytest.approx(found.over, rel=1e-2)
        assert not touching[record.time > found.over].any()

    def test_a_bumper_on_dampers_alone_does_not_come_back(self):
        found = struck(bumper=held(2e5), isolation=4.0e3, gap=300.0)
        record = history(found)
        assert record.floor_velocity[-1] <= 0.0 or found.end == "at rest"


def _verlet(impact, floor, soft, until):
    """Peak contact force, N, of a spring of 127.6 kN/mm between the two, by plain steps."""
    step, x, v, y, w, most = 1e-5, 0.0, impact.velocity, 0.0, 0.0, 0.0

    def rates(x, y):
        force = max(127.6e3 * (x - y), 0.0)
        return (
            force,
            -(floor * (impact.gap + x) + force) / impact.mass,
            (force - soft * y) / impact.bumper.mass,
        )

    _, a, b = rates(x, y)
    for _ in range(round(until / step)):
        v, w = v + a * step / 2, w + b * step / 2
        x, y = x + v * step, y + w * step
        force, a, b = rates(x, y)
        v, w, most = v + a * step / 2, w + b * step / 2, max(most, force)
    return most


class TestFixedStop:
    def test_spring(self):
        found = struck()
        force, approach = peak(found, "contact_force"), peak(found, "approach")
        assert force.value == pytest.approx(stop.linear_peak_force(V, K, M), rel=1e-8)
        assert approach.value == pytest.approx(stop.linear_peak_penetration(V, K, M), rel=1e-8)
        assert found.duration == pytest.approx(stop.linear_duration(K, M), rel=1e-8)
        assert force.time == pytest.approx(stop.linear_duration(K, M) / 2, rel=1e-4)
        assert (found.end, found.contacts) == ("parted", 1)
        assert returned(found) == pytest.approx(1.0, rel=1e-8)

    @pytest.mark.parametrize("e", [0.05, 0.4, 0.65, 0.9])
    def test_kelvin(self, e):
        found = struck(kelvin(e, M))
        ratio = stop.kelvin_damping_ratio(e)
        for of, form in (
            ("contact_force", stop.kelvin_peak_force),
            ("approach", stop.kelvin_peak_penetration),
        ):
            assert peak(found, of).value == pytest.approx(form(V, K, M, ratio), rel=1e-8)
        # It lets go where it would pull.
        assert returned(found) == pytest.approx(stop.kelvin_restitution(ratio), rel=1e-7)
        assert history(found).contact_force.min() >= 0.0

    @pytest.mark.parametrize("n", [1.0, 1.1, 1.5])
    def test_power_law(self, n):
        law = (K, 1.0, n)
        found = struck(Contact(PowerLaw(*law)))
        expected = power_stop.power_peak_force(V, M, *law)
        assert peak(found, "contact_force").value == pytest.approx(expected, rel=1e-8)
        assert returned(found) == pytest.approx(1.0, rel=1e-8)
        damped = struck(Contact(PowerLaw(*law), InProportion(0.8)))
        approach = power_stop.damped_peak_penetration(V, M, *law, 0.8)
        assert peak(damped, "approach").value == pytest.approx(approach, rel=1e-8)
        # Near its end the force is so small that the time of parting is vague; velocity is not.
        assert returned(damped) == pytest.approx(power_stop.damped_restitution(0.8), rel=1e-6)

    @pytest.mark.parametrize("e", [0.4, 0.65, 0.9])
    def test_pressed_in(self, e):
        ratio = power_stop.jankowski_damping_ratio(e)
        found = struck(Contact(PowerLaw(K, 1.0, 1.5), PressedIn(ratio, K, M)))
        # The formula itself is good to 0.01.
        assert returned(found) == pytest.approx(e, abs=0.01)

    def test_a_curve_is_as_good_as_its_law(self):
        law = PowerLaw(K, 1.0, 1.1)
        d = np.geomspace(0.1, 100.0, 20)
        as_curve = ForceApproach(law.force(d), d, 1.1 * law.force(d) / d)
        forces = [peak(struck(Contact(of)), "contact_force").value for of in (law, as_curve)]
        assert forces[1] == pytest.approx(forces[0], rel=1e-9)

    def test_isolation_takes_its_part(self):
        # M v²/2 = k δ²/2 + kiso δ (g + δ/2) at the peak: a root of a square.
        isolation, gap = 8773.0, 300.0
        found = struck(isolation=isolation, gap=gap)
        a, b, c = (K + isolation) / 2, isolation * gap, -M * V**2 / 2
        approach = (-b + math.sqrt(b * b - 4 * a * c)) / (2 * a)
        assert peak(found, "contact_force").value == pytest.approx(K * approach, rel=1e-8)


class TestHeldBumper:
    @pytest.mark.parametrize("force", [2e5, 1e6, 2.8e6, 6e6])
    def test_linear_damper_under_a_heavy_floor(self, force):
        found = struck(bumper=held(force, 1.0), mass=1e7)
        expected = overshoot.linear_damper_peak(V, force, K, MB)
        # The floor, a million times as heavy, loses that much of its velocity; where nothing
        # overshoots the force comes up so slowly that it loses a ten-thousandth.
        assert peak(found, "contact_force").value == pytest.approx(expected, rel=2e-4)

    def test_dampers_of_unvarying_force_under_a_heavy_floor(self):
        found = struck(bumper=held(5e6, 0.03), mass=2e4)
        expected = overshoot.friction_peak(V, 5e6, K, MB)
        # The exponent is some percents from none: (1/4)^0.03 = 0.96.
        assert peak(found, "contact_force").value == pytest.approx(expected, rel=0.05)
        assert peak(found, "contact_force").value < expected

    @FEW
    @given(st.floats(8e5, 5e6), st.floats(0.3, 2.0), st.floats(0.5, 50.0), st.floats(1.0, 1.5))
    def test_nothing_passes_the_bound(self, force, exponent, mass, n):
        bumper = held(force, exponent, mass)
        bound = overshoot.damper_bound(V, force, K, mass)
        assert peak(struck(bumper=bumper), "contact_force").value <= bound
        bound = overshoot.power_damper_bound(V, force, mass, K, 1.0, n)
        contact = Contact(PowerLaw(K, 1.0, n))
        assert peak(struck(contact, bumper), "contact_force").value <= bound

    def test_two_masses_by_their_exponential(self):
        """Linear throughout: x' = A x + b by scipy's matrix exponential, another method."""
        C, spring, isolation, gap, c = 1.2e3, 20e3, 8773.0, 300.0, 600.0
        bumper = Bumper(MB, spring, (Damper(C * V, V, 1.0),))
        found = struck(Contact(Spring(K), LinearDashpot(c)), bumper, isolation=isolation, gap=gap)
        A = np.array(
            [
                [0, 1, 0, 0, 0],
                [-(isolation + K) / M, -c / M, K / M, c / M, -isolation * gap / M],
                [0, 0, 0, 1, 0],
                [K / MB, c / MB, -(K + spring) / MB, -(c + C) / MB, 0],
                [0, 0, 0, 0, 0],
            ]
        )
        start = np.array([0.0, V, 0.0, 0.0, 1.0])

        def force(time):
            x, v, y, w, _ = expm(A * time) @ start
            return K * (x - y) + c * (v - w)

        assert found.phases[0].touching
        record = history(found)
        first = record.time <= found.phases[0].times[-1]
        chosen = np.flatnonzero(first)[:: max(1, first.sum() // 60)]
        exact = [force(record.time[k]) for k in chosen]
        top = peak(found, "contact_force")
        assert record.contact_force[chosen] == pytest.approx(exact, abs=1e-7 * top.value)
        assert force(top.time) == pytest.approx(top.value, rel=1e-8)
        assert max(exact) <= top.value * (1 + 1e-8)

    def test_beside_a_plain_integration(self):
        """Runge and Kutta's method of old with short steps, written here, partings and all."""
        force, exponent, mass, spring = 4e5, 0.5, 10.0, 2e3
        bumper = held(force, exponent, mass, spring)

        def change(s):
            x, v, y, w = s
            contact = max(K * (x - y), 0.0)
            damped = math.copysign(force * (abs(w) / V) ** exponent, w)
            return (v, -contact / M, w, (contact - damped - spring * y) / mass)

        state, step, top, time = (0.0, V, 0.0, 0.0), 2e-5, 0.0, 0.0
        for _ in range(6000):  # 0.12 s: two contacts
            a = change(state)
            b = change([s + step / 2 * d for s, d in zip(state, a, strict=True)])
            c = change([s + step / 2 * d for s, d in zip(state, b, strict=True)])
            d = change([s + step * e for s, e in zip(state, c, strict=True)])
            state = [
                s + step / 6 * (p + 2 * q + 2 * r + t)
                for s, p, q, r, t in zip(state, a, b, c, d, strict=True)
            ]
            time += step
            top = max(top, K * (state[0] - state[2]))
        found = struck(bumper=bumper)
        assert found.contacts > 1
        record = history(found, also=(time,))
        at = np.searchsorted(record.time, time)
        names = ("floor", "floor_velocity", "bumper", "bumper_velocity")
        # 1e-4: the plain steps stumble where the damper is at rest and where contact begins.
        for name, value in zip(names, state, strict=True):
            assert getattr(record, name)[at] == pytest.approx(value, rel=1e-4)
        early = record.time <= time
        assert record.contact_force[early].max() == pytest.approx(top, rel=1e-4)

    def test_without_mass_the_contact_has_the_force_of_the_dampers(self):
        found = struck(bumper=held(2e6, 0.4, mass=0.0), isolation=8773.0, gap=300.0)
        record = history(found)
        assert record.contact_force == pytest.approx(record.damper_force, rel=1e-9, abs=1e-3)
        assert 0.9 * 2e6 < peak(found, "contact_force").value < 2e6
        light = struck(bumper=held(2e6, 0.4, mass=1e-4), isolation=8773.0, gap=300.0)
        expected = peak(found, "contact_force").value
        assert peak(light, "contact_force").value == pytest.approx(expected, rel=1e-3)

    def test_a_linear_damper_alone_slows_the_floor_as_an_exponential(self):
        # Without bumper mass, and stiff: v = V e^−(C/M)t, so x = (M/C)(V − v).
        C = 3e3
        found = struck(Contact(Spring(1e8)), held(C * V, 1.0, mass=0.0))
        assert found.end == "at rest"
        # The contact keeps a force of no more than C V, 0.02 mm.
        assert history(found).floor[-1] == pytest.approx(M / C * V * (1 - 1e-3), abs=0.05)

    def test_quadratic_dampers_slow_it_for_long(self):
        found = struck(bumper=held(2e6, 2.0, mass=0.0))
        assert found.end == "still moving"
        assert 0.0 < history(found).floor_velocity[-1] < 0.1 * V

    def test_bouncing_on_dampers_is_followed_for_some_contacts(self):
        found = struck(bumper=held(1e5, 0.2), mass=1e5)
        assert (found.end, found.contacts) == ("still moving", 20)

    def test_a_spring_can_make_a_later_contact_the_hardest_so_more_are_followed(self, monkeypatch):
        monkeypatch.setattr(module, "_ENOUGH_CONTACTS", 1)
        alone = struck(kelvin(0.9, MB), held(1e5, 1.0))
        assert (alone.end, alone.contacts) == ("still moving", 1)
        sprung = struck(kelvin(0.9, MB), held(1e5, 1.0, spring=2e4))
        assert sprung.end == "parted"
        assert sprung.contacts > 1

    def test_a_floor_that_goes_with_the_bumper_is_followed_for_a_swing_of_both(self):
        """A dashpot that holds them together: half a swing of M + mb on the bumper's spring.

        1 %: they part for a while as the bumper takes up speed.
        """
        found = struck(kelvin(0.05, 1.0), Bumper(1.0, 200.0, ()))
        assert found.end == "parted"
        assert found.duration == pytest.approx(math.pi * math.sqrt((M + 1.0) / 200.0), rel=0.01)

    def test_a_contact_that_goes_on_slowly_is_one(self):
        found = struck(Contact(Spring(1e8)), held(3e3 * V, 1.0, mass=0.0))
        assert [phase.last for phase in found.phases] == [False, True]
        assert found.contacts == 1

    def test_bouncing_on_a_spring_without_end_is_no_answer(self, monkeypatch):
        monkeypatch.setattr(module, "_MOST_CONTACTS", 3)
        with pytest.raises(SolveError, match="3 contacts; a dashpot"):
            struck(bumper=Bumper(MB, 20e3, ()))


class TestPulledUnseen:
    """No impact is known that an integrator steps so far in; so the steps are made up."""

    @pytest.mark.parametrize(("lowest", "expected"), [(0.3, 1.0), (2.5, 3.0), (5.5, 2.0)])
    def test_the_step_in_which_it_pulled_is_found(self, lowest, expected):
        """Steps of 1, 3 and 2 s; 1 mm of approach but for half a second about one moment."""
        impact = Impact(M, V, Contact(Spring(K)))

        def sol(time):
            approach = np.where(np.abs(time - lowest) < 0.3, -0.5, 1.0)
            return np.array([approach, 0.0 * approach])

        times = np.array([0.0, 1.0, 4.0, 6.0])
        assert module._pulled(impact, V, SimpleNamespace(t=times, sol=sol)) == expected

    def test_it_is_integrated_anew_with_shorter_steps_or_refused(self, monkeypatch):
        solve, steps, pulled = module.solve_ivp, [], [2e-3, 1e-3]

        def solved(*given, max_step, **more):
            steps.append(max_step)
            return solve(*given, max_step=max_step, **more)

        monkeypatch.setattr(module, "solve_ivp", solved)
        monkeypatch.setattr(module, "_pulled", lambda *_: pulled.pop(0) if pulled else None)
        assert struck().end == "parted"
        assert steps == [math.inf, 5e-4, 2.5e-4]
        monkeypatch.setattr(module, "_pulled", lambda *_: 2e-3)
        with pytest.raises(SolveError, match="too close on one another"):
            struck()


class TestLaws:
    def test_each_contact_has_the_dashpot_of_its_own_velocity(self):
        """Met again at a third of the velocity, it gives back as much of it.

        2 %: the damper, slight as it is, takes 1 % more of the slower one.
        """
        zeta = power_stop.ye_damping.plain(0.5)
        contact = Contact(PowerLaw(K, 1.0, 1.5), InProportion(zeta))
        first, second = [
            phase for phase in struck(contact, held(3e3, 1.0)).phases if phase.touching
        ][:2]  # fmt: skip

        def back(phase):
            _, v, _, w = phase.at(phase.times[[0, -1]])
            return (w - v)[1] / (v - w)[0]

        assert second.met < 0.5 * first.met == 0.5 * V
        assert back(first) == pytest.approx(power_stop.damped_restitution(zeta), rel=0.02)
        assert back(second) == pytest.approx(back(first), rel=0.02)

    @FEW
    @given(st.floats(0.1, 1e3), st.floats(0.3, 1.0), st.booleans())
    def test_momentum_of_two_free_masses(self, other, e, power):
        if power:
            zeta = power_stop.ye_damping.plain(e)
            contact = Contact(PowerLaw(K, 1.0, 1.5), InProportion(zeta))
            back = power_stop.damped_restitution(zeta)
        else:
            contact = kelvin(e, stop.effective_mass(M, other))
            back = stop.kelvin_restitution(stop.kelvin_damping_ratio(e))
        found = struck(contact, Bumper(other, 0.0, ()))
        record = history(found)
        v, w = record.floor_velocity[-1], record.bumper_velocity[-1]
        assert M * v + other * w == pytest.approx(M * V, rel=1e-7)
        assert w - v == pytest.approx(back * V, rel=1e-5)
        assert found.contacts == 1

    @FEW
    @given(
        st.floats(3e5, 5e6), st.floats(0.2, 2.0), st.sampled_from([0.0, 1.0, 20.0]),
        st.sampled_from([0.0, 5e3]), st.sampled_from([0.0, 8773.0]), st.floats(0.4, 1.0),
    )  # fmt: skip
    def test_energy_is_kept_or_taken(self, force, exponent, mass, spring, isolation, e):
        contact = kelvin(e, mass) if mass > 0.0 and e < 0.95 else None
        found = struck(contact, held(force, exponent, mass, spring), isolation=isolation, gap=200.0)
        moments = np.linspace(0.0, found.duration, 7)
        parts = [energies(found, float(time)) for time in moments]
        # 1e-7: what the quadrature between steps is good for.
        assert max(abs(part.error(found.impact)) for part in parts) < 1e-7
        for taken in ("dampers", "dashpot"):
            values = np.array([getattr(part, taken) for part in parts])
            assert np.all(np.diff(values) >= -1e-9 * found.impact.energy)

    @settings(FEW, max_examples=3)
    @given(st.floats(0.1, 1.0), st.floats(0.25, 2.0), st.floats(3e6, 6e6))
    def test_a_scaled_impact_is_the_impact_scaled(self, s, exponent, force):
        """Constant stress: mass and force by S², stiffness and length by S, time by √S."""

        def impact(s):
            damper = Damper(force * s**2, V * s**0.5, exponent)
            return Impact(
                M * s**2, V * s**0.5, Contact(PowerLaw(K * s**2, s, 1.1)),
                Bumper(MB * s**2, 0.0, (damper,)), 8773.0 * s, 300.0 * s,
            )  # fmt: skip

        whole, small = integrate(impact(1.0)), integrate(impact(s))
        # 1e-6: steps differ, as the tolerances go by rounding.
        for of, by in (("contact_force", s**2), ("damper_force", s**2), ("floor", s)):
            assert peak(small, of).value == pytest.approx(by * peak(whole, of).value, rel=1e-6)
        assert small.duration == pytest.approx(s**0.5 * whole.duration, rel=1e-5)


class TestBalance:
    def test_it_holds_through_partings_under_load(self):
        found = struck(kelvin(0.9, MB), held(1e5, 1.0, spring=2e4), isolation=8773.0, gap=300.0)
        assert found.contacts > 1
        # Within a contact, in the gap after it, within the next, and at the end.
        times = [phase.times[len(phase.times) // 2] for phase in found.phases[:3]]
        for time in (*times, found.duration):
            part = energies(found, float(time))
            assert part.error(found.impact) == pytest.approx(0.0, abs=1e-8)
        assert part.dashpot > 0.0
        assert part.bumper_spring > 0.0
        assert part.contact == 0.0

    def test_a_contact_of_any_flatness_is_left_and_found_again(self):
        """A post that meets a tilted plate begins with the square of the approach or more."""
        for n in (1.0, 2.0, 3.0):
            law = PowerLaw(K, 1.0, n)
            for dashpot in (NoDashpot(), InProportion(0.3)):
                found = struck(Contact(law, dashpot), held(2e5))
                assert found.contacts >= 1
                end = energies(found, found.over)
                assert end.error(found.impact) == pytest.approx(0.0, abs=1e-7)

    def test_it_holds_where_the_two_meet_again_before_the_dashpot_is_let_go(self):
        """A light bumper, stopped by its damper while the contact is pressed in by 3 µm yet.

        1e-10: of the 7e-8 that the spring has then, counted with the wrong sign; 1e-15 measured.
        """
        mass = 5.76e-3
        found = struck(
            kelvin(0.05, mass), held(2470.0, 0.5, mass), 229.0, isolation=1008.0, gap=300.0
        )
        apart, again = found.phases[1:3]
        x, _, y, _ = apart.at(apart.times[-1:])
        assert (x - y)[0] > 2e-3
        assert not apart.touching
        part = energies(found, float(again.times[-1]))
        assert part.error(found.impact) == pytest.approx(0.0, abs=1e-10)

    def test_kinds_of_energy(self):
        found = struck(kelvin(0.65, M))
        end = energies(found, found.duration)
        ratio = stop.kelvin_restitution(stop.kelvin_damping_ratio(0.65))
        at_closure = found.impact.energy
        assert end.floor == pytest.approx(ratio**2 * at_closure, rel=1e-7)
        # What is left in the spring as the two part goes to the dashpot.
        assert end.dashpot == pytest.approx((1 - ratio**2) * at_closure, rel=1e-7)
        assert (end.contact, end.dampers, end.isolation) == (0.0, 0.0, 0.0)

    def test_one_that_does_not_add_up_is_refused(self):
        found = struck()
        at_closure = found.impact.energy
        good = Energies(at_closure * 0.9995, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
        check_balance(found, good)
        bad = Energies(at_closure * 0.9, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, at_closure * 0.098)
        with pytest.raises(SolveError, match=r"99\.8 % of the energy at closure"):
            check_balance(found, good, bad)


class TestHistory:
    def test_it_starts_as_the_gap_closes(self):
        record = history(struck(bumper=held(1e6)))
        assert (record.time[0], record.floor[0], record.floor_velocity[0]) == (0.0, 0.0, V)
        assert record.contact_force[0] == record.damper_force[0] == record.bumper_velocity[0] == 0.0
        assert np.all(np.diff(record.time) >= 0.0)
        assert np.all(record.contact_force >= 0.0)

    def test_displacements_and_approach_belong_together(self):
        record = history(struck(bumper=held(4e5, 0.5, spring=2e3)))
        assert record.approach == pytest.approx(record.floor - record.bumper)
        apart = record.approach < -1e-6
        assert apart.any()
        assert np.all(record.contact_force[apart] == 0.0)

    def test_a_dashpot_has_no_force_before_the_two_meet(self):
        """Though its law, cδ' of what comes nearer, would have some across the gap."""
        found = struck(kelvin(0.9, MB), held(1e5, 1.0, spring=2e4), isolation=8773.0, gap=300.0)
        record = history(found)
        apart = record.approach < -1e-3
        assert apart.any()
        assert np.all(record.contact_force[apart] == 0.0)
        few = thinned(record, 1.0)
        # Both rows stay where a phase ends and another begins.
        assert np.count_nonzero(np.diff(few.time) == 0.0) == len(found.phases) - 1

    def test_times_asked_for_are_in_it(self):
        found = struck()
        top = peak(found, "contact_force")
        record = history(found, also=(top.time,))
        assert record.contact_force[record.time == top.time] == [top.value]
        assert len(record.time) == len(history(found).time) + 1

    def test_thinned(self):
        # Cut so that its steps are short beside the spacing.
        record = history(struck(bumper=held(1e6)), cuts=50)
        few = thinned(record, 1e-2, keep=(float(record.time[7]),))
        assert len(few.time) < len(record.time)
        assert record.time[7] in few.time
        assert few.time[-1] == record.time[-1]
        assert set(few.time) <= set(record.time)
        gaps = np.diff(few.time)
        # Short ones stand only beside what was to be kept: the row, the end, each new phase.
        phases = np.count_nonzero(np.diff(record.time) == 0.0)
        assert np.count_nonzero(gaps < 1e-2) <= 2 * phases + 2
        # And nothing is left out for longer than a step beyond the spacing.
        assert gaps.max() <= 1e-2 + np.diff(record.time).max() < 1.3e-2


def test_what_is_no_impact_is_refused():
    for bad in ({"mass": 0.0}, {"isolation": -1.0}, {"gap": -1.0}):
        with pytest.raises(ValueError, match="not allowed"):
            struck(**bad)
    with pytest.raises(ValueError, match="takes no contact with a dashpot"):
        struck(kelvin(0.5, M), held(1e6, mass=0.0))


class TestExtremes:
    def test_an_integration_is_ended_that_would_go_on(self, monkeypatch):
        monkeypatch.setattr(module, "MOST_EVALUATIONS", 50)
        with pytest.raises(SolveError, match="within 50 evaluations"):
            struck(bumper=held(200e3))

    @pytest.mark.filterwarnings("error")
    @pytest.mark.parametrize("factor", [1e-12, 1e-6, 1e6, 1e12, 1e20])
    @pytest.mark.parametrize("what", ["dampers", "bumper", "spring", "exponent"])
    def test_one_far_from_the_others_is_solved_or_refused_without_a_warning(self, what, factor):
        far = {what: factor}
        bumper = Bumper(
            MB * far.get("bumper", 1.0),
            0.0,
            (Damper(200e3 * far.get("dampers", 1.0), V, min(0.4 * far.get("exponent", 1.0), 5.0)),),
        )
        try:
            found = struck(Contact(Spring(K * far.get("spring", 1.0))), bumper)
        except SolveError:
            return
        assert found.duration > 0.0
        assert np.all(np.isfinite(history(found).contact_force))
