"""The printed form of a function: what it computes, in as few brackets as that takes."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand.formula import shown
from contactfe.hand.typeset import form_of

THICK = 1.25


def product_over_product(q, R, E):
    return np.sqrt(4 * q * R / (np.pi * E))


def chain(q, R, E):
    return q / R * E / 2


def negative_first(q, R, E):
    return -q * R - 2 * -E


def negative_in_a_sum(q, R, E):
    return (1 - -q) / (-R) + (q - (R - E))


def powers(q, R, E):
    return (q / R) ** 2 + math.pow(R, 1.5) + E ** (1 / 4) + (q**2) ** 3 + (-q) ** 2


def local_names(q, R, E):
    low, high = q - R, q + R
    mean = (low + high) / 2
    return mean / low * E * high


def with_a_constant(q, R, E):
    return THICK * q + 0.50 * math.exp(-R) + math.atan(E)


def with_a_choice_shown(q, R, E):
    R = shown("R", R if q > 0 else 0.0, "R")
    return q * R**2


def of_functions(q, R, E):
    return max(np.minimum(q, R), abs(q - E)) / np.log(2 + R) * float(np.sin(E))


WRITTEN = {
    product_over_product: "√(4·{q}·{R}/(π·{E}))",
    chain: "{q}/{R}·{E}/2",
    negative_first: "−{q}·{R} − 2·(−{E})",
    negative_in_a_sum: "(1 − (−{q}))/(−{R}) + {q} − ({R} − {E})",
    powers: "({q}/{R})² + {R}^(1.5) + {E}^(1/4) + ({q}²)³ + (−{q})²",
    local_names: "({q} − {R} + {q} + {R})/2/({q} − {R})·{E}·({q} + {R})",
    with_a_constant: "1.25·{q} + 0.50·exp(−{R}) + arctan({E})",
    with_a_choice_shown: "{q}·{R}²",
    of_functions: "max(min({q}, {R}), abs({q} − {E}))/ln(2 + {R})·sin({E})",
}


@pytest.mark.parametrize("function", WRITTEN, ids=lambda function: function.__name__)
def test_a_function_is_written_as_it_computes(function):
    assert form_of(function) == WRITTEN[function]


def _evaluated(form, values):
    """A form computed, as a reader with a calculator would."""
    text = form.format_map({name: f"({value!r})" for name, value in values.items()})
    for mark, python in (
        ("√(", "sqrt("), ("·", "*"), ("−", "-"), ("²", "**2"), ("³", "**3"), ("^", "**"),
        ("π", "pi"),
    ):  # fmt: skip
        text = text.replace(mark, python)
    known = {"ln": math.log, "arctan": math.atan, "max": max, "min": min, "abs": abs}
    return eval(text, {**vars(math), **known})


@given(st.tuples(*[st.floats(0.5, 4.0)] * 3))
def test_the_form_gives_what_the_function_gives(values):
    for function in WRITTEN:
        named = dict(zip("qRE", values, strict=True))
        try:
            expected = float(function(*values))
        except ZeroDivisionError:
            continue
        if math.isfinite(expected):
            assert _evaluated(form_of(function), named) == pytest.approx(expected, rel=1e-9)


def by_a_series(q):
    total = 0.0
    for n in range(3):
        total += q**n
    return total


def by_two_formulas(q):
    if q > 0:
        return q
    return 2 * q


def by_a_search(q):
    return np.interp(q, [0, 1], [0, 1])


def of_a_name_of_two_meanings(q):
    q = q / 2
    return 3 * q


def by_a_choice(q):
    return q if q > 0 else 2 * q


@pytest.mark.parametrize(
    "function", [by_a_series, by_two_formulas, by_a_search, of_a_name_of_two_meanings, by_a_choice]
)
def test_what_has_no_short_form_is_not_written(function):
    assert form_of(function) is None


def test_one_of_several_results_is_picked():
    def both(q, R):
        half = q / 2
        return half * R, R

    assert form_of(both, part=0) == "{q}/2·{R}"
    assert form_of(both, part=1) == "{R}"


def test_a_name_shown_by_another_name_is_a_fault_of_the_formula():
    def wrong(q):
        c = shown("d", q, "c")
        return 2 * c

    with pytest.raises(AssertionError):
        form_of(wrong)
