"""Power laws and their damping: the equation of motion integrated, and what each law returns."""

from decimal import Decimal, localcontext

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from impacts import integrate

from contactfe.hand import power_stop, stop
from contactfe.hand.formula import OutOfRangeWarning

M, V, K = 2000.0, 700.0, 500e3
positive = st.floats(0.1, 1e4)


class TestPowerLaw:
    @given(positive, positive, positive, positive, st.floats(1.0, 1.5))
    def test_stores_the_energy_of_the_impact(self, v, m, force, at, n):
        law = (force, at, n)
        depth = power_stop.damped_peak_penetration(v, m, *law, 0.0)
        stored = force * at / (n + 1) * (depth / at) ** (n + 1)
        assert stored == pytest.approx(m * v**2 / 2, rel=1e-9)
        peak = power_stop.power_peak_force(v, m, *law)
        assert peak == pytest.approx(force * (depth / at) ** n, rel=1e-9)

    @given(positive, positive, positive)
    def test_with_exponent_one_it_is_a_spring(self, v, k, m):
        peak = power_stop.power_peak_force(v, m, 3 * k, 3.0, 1.0)
        assert peak == pytest.approx(stop.linear_peak_force(v, k, m))

    @pytest.mark.parametrize("n", [1.0, 1.1, 1.5])
    @pytest.mark.parametrize("zeta", [0.1425, 0.5625, 1.6])
    def test_damped_motion(self, n, zeta):
        _, depth, e, _ = integrate(lambda d, s: d**n * (1 + zeta * s), lambda d, _: d)
        # 1e-4: the ODE starts where a force with δⁿ is not smooth.
        assert power_stop.damped_restitution(zeta) == pytest.approx(e, abs=1e-4)
        found = power_stop.damped_peak_penetration(1.0, 1.0, 1.0, 1.0, n, zeta)
        assert found == pytest.approx(depth, rel=1e-5)

    @given(st.floats(1e-6, 1.0))
    def test_slight_damping_tends_to_none(self, zeta):
        damped = power_stop.damped_peak_penetration(1.0, 1.0, 1.0, 1.0, 1.5, zeta)
        plain = power_stop.damped_peak_penetration(1.0, 1.0, 1.0, 1.0, 1.5, 0.0)
        assert plain * (1 - 2 / 3 * zeta) < damped <= plain * (1 + 1e-9)

    @pytest.mark.parametrize("zeta", [1e-14, 1e-9, 1e-4, 2e-3, 0.0999, 0.1, 0.5])
    def test_no_digits_are_lost_in_slight_damping(self, zeta):
        # δ = (kept energy over F1 δ1/(n + 1))^(1/(n + 1)), with 60 digits.
        with localcontext(prec=60):
            z = Decimal(zeta)
            kept = 2 * (z - (1 + z).ln()) / z**2
            expected = float((Decimal(5) / 4 * kept) ** (Decimal(2) / 5))
        found = power_stop.damped_peak_penetration(1.0, 1.0, 1.0, 1.0, 1.5, zeta)
        assert found == pytest.approx(expected, rel=1e-14, abs=0.0)


class TestRestitution:
    @given(st.floats(0.0, 5.0))
    def test_root_satisfies_its_equation(self, zeta):
        e = power_stop.damped_restitution(zeta)
        assert 0 < e <= 1
        missing = zeta * (1 + e) - np.log1p(zeta) + np.log1p(-zeta * e)
        assert missing == pytest.approx(0.0, abs=1e-11)

    def test_strong_damping_leaves_its_inverse(self):
        assert power_stop.damped_restitution(1e3) == pytest.approx(1e-3)

    def test_series_and_function_meet(self):
        below, above = (power_stop.damped_restitution(z) for z in (1e-3 * (1 - 1e-9), 1e-3))
        assert below == pytest.approx(above, abs=2e-9)

    @given(st.floats(0.5, 0.999))
    def test_ye_returns_a_little_less(self, e):
        back = power_stop.damped_restitution(power_stop.ye_damping(e))
        assert e - 0.03 < back <= e

    @pytest.mark.parametrize("e", [0.3, 0.5, 0.7, 0.9])
    def test_jankowski_returns_what_was_put_in(self, e):
        xi = power_stop.jankowski_damping_ratio(e)

        def force(d, s):
            return d**1.5 + (2 * xi * d**0.25 * s if s > 0 else 0.0)

        assert integrate(force, lambda d, _: d)[2] == pytest.approx(e, abs=0.01)

    @pytest.mark.parametrize(
        ("law", "least"),
        [
            (power_stop.ye_damping, 0.5),
            (power_stop.jankowski_damping_ratio, 0.3),
        ],
    )
    def test_out_of_range_is_marked(self, law, least):
        assert law.worked(least).within_range
        with pytest.warns(OutOfRangeWarning, match=f"at least {least}"):
            law(least - 0.01)


@pytest.mark.parametrize(
    ("formula", "arguments", "at"),
    [
        (power_stop.power_peak_force, [V, M, K, 1.0], (1.0, 1.5)),
    ],
)
def test_exponents_out_of_range_are_marked(formula, arguments, at):
    for inside, outside in zip(at, (at[0] - 0.01, at[1] + 0.01), strict=True):
        assert formula.worked(*arguments, inside).within_range
        with pytest.warns(OutOfRangeWarning, match=r"(α|n) = "):
            formula(*arguments, outside)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (power_stop.power_peak_force, (V, M, K, 2.0, 1.1)),
        (power_stop.ye_damping, (0.65,)),
        (power_stop.jankowski_damping_ratio, (0.65,)),
        (power_stop.damped_peak_penetration, (V, M, K, 2.0, 1.1, 0.8)),
        (power_stop.damped_peak_penetration, (V, M, K, 2.0, 1.1, 0.0)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


def test_a_root_has_no_form_but_says_how_it_is_found():
    worked = power_stop.damped_restitution.worked(0.8)
    assert worked.form is None
    assert "root" in worked.note


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: power_stop.power_peak_force(V, M, K, 0.0, 1.5), "reference_penetration = 0.0"),
        (lambda: power_stop.ye_damping(0.0), "restitution = 0.0"),
        (lambda: power_stop.jankowski_damping_ratio(0.0), "restitution = 0.0"),
        (lambda: power_stop.damped_restitution(-0.1), "damping = -0.1"),
        (lambda: power_stop.damped_peak_penetration(V, M, K, 1.0, 1.5, -0.1), "damping = -0.1"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
