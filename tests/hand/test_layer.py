"""Plate on a smooth rigid base: the exact elastic layer."""

import numpy as np
import pytest
from forms import evaluate
from scipy.integrate import quad
from scipy.special import j1

from contactfe.hand import layer

Q, T = 1000.0, 50.0


def exact(k):
    """Base pressure and stress along the base over pressure for cos kx on a layer of thickness 1.

    A smooth rigid base is the plane of symmetry of a layer of twice the thickness, pressed from
    both sides: f = A cosh ky + B ky sinh ky, y up from the base, −k²f = −1 and f' = 0 on top.
    """
    C, S = np.cosh(k), np.sinh(k)
    A, B = np.linalg.solve([[C, k * S], [S, S + k * C]], [1 / k**2, 0.0])
    return k * k * A, k * k * (A + 2 * B)


class TestLayer:
    @pytest.mark.parametrize(
        ("part", "coefficient"),
        [(0, layer.RIGID_BASE_PRESSURE), (1, layer.RIGID_BASE_STRESS)],
    )
    def test_coefficients_are_those_of_the_exact_layer(self, part, coefficient):
        found = quad(lambda k: exact(k)[part], 1e-6, 50, limit=200)[0] / np.pi
        assert found == pytest.approx(coefficient, abs=6e-6)

    @pytest.mark.parametrize("k", [0.3, 1.0, 4.0])
    def test_transforms_are_the_stated_ones(self, k):
        bottom = np.sinh(2 * k) + 2 * k
        stated = np.array([np.sinh(k) + k * np.cosh(k), k * np.cosh(k) - np.sinh(k)]) * 2 / bottom
        np.testing.assert_allclose(exact(k), stated, rtol=1e-9)

    def test_the_base_pulls_little_beyond_the_load(self):
        def pressure(x):
            return quad(lambda k: exact(k)[0] * np.cos(k * x), 1e-6, 50, limit=200)[0] / np.pi

        peak = pressure(0.0)
        assert pressure(1.33) > 0 > pressure(1.35)
        assert pressure(2.0) / peak == pytest.approx(-0.022, abs=5e-4)
        assert 0 > pressure(2.5) > pressure(2.0)

    @pytest.mark.parametrize(("part", "left"), [(0, 0.975), (1, 0.951)])
    def test_a_contact_of_some_width(self, part, left):
        # The transform of Hertz's pressure on a half-width a is 2 J1(ka)/(ka).
        def spread(k, a=0.2):
            return exact(k)[part] * 2 * j1(k * a) / (k * a)

        line = quad(lambda k: exact(k)[part], 1e-6, 50, limit=200)[0]
        assert quad(spread, 1e-6, 50, limit=200)[0] / line == pytest.approx(left, abs=5e-4)


WORKED = [
    (layer.rigid_base_pressure, (Q, T)),
    (layer.rigid_base_stress, (Q, T)),
]


@pytest.mark.parametrize(("formula", "arguments"), WORKED)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


def test_limits_mark():
    def passed(limits):
        return [limit.exceeded for limit in limits]

    assert passed(layer.layer_limits(T, 2.01 * T, 0.199 * T)) == [False, False]
    assert passed(layer.layer_limits(T, 1.99 * T, 0.201 * T)) == [True, True]
    with pytest.raises(ValueError, match=r"half_width = 0\.0"):
        layer.layer_limits(T, 100.0, 0.0)
