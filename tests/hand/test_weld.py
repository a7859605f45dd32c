"""The weld round the root: the line integrated, the ring it stands for, and the throat required."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import example, given
from hypothesis import strategies as st

from contactfe.hand import round_section, weld
from contactfe.hand.formula import OutOfRangeWarning

F, M, A, D = 100e3, 60e6, 10.0, 150.0
ANGLE = np.linspace(0, 2 * np.pi, 721)


def modulus(throat, diameter):
    return M / weld.bending_stress.plain(M, throat, diameter)


class TestLine:
    def test_stresses_balance_the_moment(self):
        # σw sin α along the line, on the lever D/2 sin α.
        sigma = weld.bending_stress(M, A, D) * np.sin(ANGLE[:-1])
        turning = np.sum(sigma * A * D / 2 * np.sin(ANGLE[:-1])) * D / 2 * (2 * np.pi / 720)
        assert turning == pytest.approx(M)

    def test_stresses_balance_the_force(self):
        assert weld.shear_stress(F, A, D) * np.pi * D * A == pytest.approx(F)

    @given(st.floats(1e-4, 0.1))
    def test_the_line_is_on_the_safe_side_of_the_ring(self, ratio):
        ring = round_section.elastic_modulus(D + 2 * ratio * D, D)
        line = modulus(ratio * D, D)
        assert 0.89 * ring < line < ring

    def test_at_the_bound_it_is_11_percent_less(self):
        ring = round_section.elastic_modulus(1.2 * D, D)
        assert modulus(0.1 * D, D) / ring == pytest.approx(0.89, abs=5e-3)


class TestResultant:
    @given(st.floats(0.1, 10.0))
    @example(0.432)
    @example(0.434)
    def test_covers_a_thin_ring_where_it_says_so(self, slender):
        """Exact stresses of a thin ring: σw sin α and 2τw cos α."""
        moment = F * slender * D
        sigma = weld.bending_stress(moment, A, D) * np.sin(ANGLE)
        tau = 2 * weld.shear_stress(F, A, D) * np.cos(ANGLE)
        worked = weld.resultant_stress.worked(F, moment, A, D)
        assert worked.within_range == (worked.value >= np.hypot(sigma, tau).max() * (1 - 1e-12))

    @given(st.floats(0.1, 3.0), st.floats(0.001, 2.0))
    def test_covers_a_twisted_ring_where_it_says_so(self, slender, twisted):
        """Exact stresses of a thin ring: σw cos α and 2τw sin α + τT."""
        moment, torque = F * slender * D, F * twisted * D
        along = weld.bending_stress(moment, A, D) * np.cos(ANGLE)
        across = 2 * weld.shear_stress(F, A, D) * np.sin(ANGLE)
        across = across + weld.torsion_stress(torque, A, D)
        worked = weld.resultant_stress.worked(F, moment, A, D, torque)
        most = np.hypot(along, across).max()
        # 1e-5: the angles are half a degree apart.
        if worked.within_range:
            assert worked.value >= most * (1 - 1e-12)
        else:
            assert worked.value <= most * (1 + 1e-5)

    def test_torsion_balances_the_torque(self):
        assert weld.torsion_stress(7e6, A, D) * np.pi * D * A * D / 2 == pytest.approx(7e6)

    def test_without_shear_it_is_the_stress_of_bending(self):
        assert weld.resultant_stress(0.0, M, A, D) == weld.bending_stress(M, A, D)

    @given(st.floats(1e6, 1e8), st.floats(200.0, 400.0))
    def test_the_required_throat_is_used_up(self, moment, strength):
        for torque in (0.0, 9e6):
            throat = weld.required_throat.plain(F, moment, D, strength, torque)
            found = weld.resultant_stress.plain(F, moment, throat, D, torque)
            assert found == pytest.approx(strength)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (weld.bending_stress, (M, A, D)),
        (weld.shear_stress, (F, A, D)),
        (weld.resultant_stress, (F, M, A, D)),
        (weld.resultant_stress, (3 * F, M, A, 2 * D)),
        (weld.required_throat, (F, M, D, 240.0)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


@pytest.mark.parametrize(
    ("formula", "before"),
    [
        (weld.bending_stress, (M,)),
        (weld.shear_stress, (F,)),
        (weld.resultant_stress, (F, M)),
    ],
)
def test_a_large_throat_is_marked(formula, before):
    assert formula.worked(*before, 0.1 * D, D).within_range
    with pytest.warns(OutOfRangeWarning, match="a/D"):
        formula(*before, 0.101 * D, D)


def test_a_required_throat_too_large_is_marked():
    at_the_bound = weld.resultant_stress(F, M, 0.1 * D, D)
    assert weld.required_throat.worked(F, M, D, 1.001 * at_the_bound).within_range
    large = weld.required_throat.worked(F, M, D, 0.99 * at_the_bound)
    assert [limit.what for limit in large.exceeded] == ["a/D"]
    short = weld.required_throat.worked(F, 0.4 * F * D, D, 240.0)
    assert [limit.what for limit in short.exceeded] == ["M/(F·D)"]
