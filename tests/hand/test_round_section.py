"""Section properties of a round: the circle integrated."""

import numpy as np
import pytest
from circles import over_the_section
from forms import evaluate
from hypothesis import strategies as st

from contactfe.hand import round_section

D, d = 150.0, 100.0
ratios = st.floats(0.0, 0.98)


@pytest.mark.parametrize("bore", [0.0, d, 140.0])
def test_area_and_moduli(bore):
    area = over_the_section(lambda r, a: np.ones(np.broadcast(r, a).shape), D, bore)
    assert round_section.area(D, bore) == pytest.approx(area)
    inertia = over_the_section(lambda r, a: (r * np.sin(a)) ** 2, D, bore)
    assert round_section.second_moment(D, bore) == pytest.approx(inertia)
    assert round_section.elastic_modulus(D, bore) == pytest.approx(inertia / (D / 2))
    # A kink at the neutral axis: the trapezoid of 4000 points is good to 1e-6.
    plastic = over_the_section(lambda r, a: r * np.abs(np.sin(a)), D, bore)
    assert round_section.plastic_modulus(D, bore) == pytest.approx(plastic, rel=2e-6)


WORKED = [
    (round_section.area, (D, d)),
    (round_section.second_moment, (D, d)),
    (round_section.elastic_modulus, (D, d)),
    (round_section.plastic_modulus, (D, d)),
    (round_section.area, (D,)),
    (round_section.elastic_modulus, (D,)),
]


@pytest.mark.parametrize(("formula", "arguments"), WORKED)
def test_forms_compute_to_the_values(formula, arguments):
    worked = formula.worked(*arguments)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert worked.value == formula.plain(*arguments)


def test_without_a_bore_it_is_solid():
    assert round_section.area(D) == round_section.area(D, 0.0)
    assert round_section.second_moment(D) == round_section.second_moment(D, 0.0)
    assert round_section.elastic_modulus(D) == round_section.elastic_modulus(D, 0.0)
    assert round_section.plastic_modulus(D) == round_section.plastic_modulus(D, 0.0)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: round_section.area(0.0), "outside_diameter = 0.0"),
        (
            lambda: round_section.area(D, D),
            r"bore = 150.0 is not allowed: it must lie in \[0, outside",
        ),
        (lambda: round_section.second_moment(D, -1.0), "bore = -1.0"),
        (lambda: round_section.plastic_modulus(D, np.nan), "bore = nan"),
        (lambda: round_section.elastic_modulus(-D), "outside_diameter = -150.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
