"""The viscous damper: any reference of one law."""

import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import damper
from contactfe.hand.formula import OutOfRangeWarning

V = 700.0
positive = st.floats(0.1, 1e4)


class TestDamper:
    @given(st.floats(0.3, 2.0), positive, st.floats(0.1, 10.0))
    def test_any_reference_of_one_damper_gives_one_force(self, alpha, v, other):
        there = damper.damper_force(1000.0 * other, 900e3, 1000.0, alpha)
        one = damper.damper_force(v, 900e3, 1000.0, alpha)
        assert damper.damper_force(v, there, 1000.0 * other, alpha) == pytest.approx(one)


@pytest.mark.parametrize(
    ("formula", "arguments", "at"),
    [
        (damper.damper_force, [V, 900e3, 1000.0], (0.3, 2.0)),
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
        (damper.damper_force, (V, 900e3, 1000.0, 0.4)),
    ],
)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula(*arguments)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: damper.damper_force(-1.0, 1e3, 1e3, 0.4), "velocity = -1.0"),
        (lambda: damper.damper_force(1.0, 0.0, 1e3, 0.4), "reference_force = 0.0"),
        (lambda: damper.damper_force(1.0, 1e3, 1e3, 0.0), "exponent = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
