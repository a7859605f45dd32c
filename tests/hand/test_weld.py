"""The weld round the root: the line integrated, the ring it stands for."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import example, given
from hypothesis import strategies as st

from contactfe.hand import round_section, weld
from contactfe.hand.formula import OutOfRangeWarning

F, M, A, D = 100e3, 60e6, 10.0, 150.0
ANGLE = np.linspace(0, 2 * np.pi, 721)


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
        line = weld.throat_modulus(ratio * D, D)
        assert 0.89 * ring < line < ring

    def test_at_the_bound_it_is_11_percent_less(self):
        ring = round_section.elastic_modulus(1.2 * D, D)
        assert weld.throat_modulus(0.1 * D, D) / ring == pytest.approx(0.89, abs=5e-3)


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
        assert worked.within == (worked.value >= np.hypot(sigma, tau).max() * (1 - 1e-12))

    def test_without_shear_it_is_the_stress_of_bending(self):
        assert weld.resultant_stress(0.0, M, A, D) == weld.bending_stress(M, A, D)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (weld.throat_area, (A, D)),
        (weld.throat_modulus, (A, D)),
        (weld.bending_stress, (M, A, D)),
        (weld.shear_stress, (F, A, D)),
        (weld.resultant_stress, (F, M, A, D)),
        (weld.resultant_stress, (3 * F, M, A, 2 * D)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


@pytest.mark.parametrize(
    ("formula", "before"),
    [
        (weld.throat_area, ()),
        (weld.throat_modulus, ()),
        (weld.bending_stress, (M,)),
        (weld.shear_stress, (F,)),
        (weld.resultant_stress, (F, M)),
    ],
)
def test_a_large_throat_is_marked(formula, before):
    assert formula.worked(*before, 0.1 * D, D).within
    with pytest.warns(OutOfRangeWarning, match="a/D"):
        formula(*before, 0.101 * D, D)


def test_a_post_that_is_sheared_rather_than_bent_is_marked():
    short = weld.resultant_stress.worked(F, 0.4 * F * D, A, D)
    assert [limit.what for limit in short.exceeded] == ["M/(F·D)"]


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: weld.throat_area.plain(0.0, D), "throat = 0.0"),
        (lambda: weld.throat_modulus(A, 0.0), "outside_diameter = 0.0"),
        (lambda: weld.throat_limits(0.0, D), "throat = 0.0"),
        (lambda: weld.bending_stress(-1.0, A, D), "moment = -1.0"),
        (lambda: weld.shear_stress(-1.0, A, D), "force = -1.0"),
        (lambda: weld.resultant_stress(F, -1.0, A, D), "moment = -1.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
