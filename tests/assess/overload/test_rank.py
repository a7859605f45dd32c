"""Which section is the better beyond first yield, of figures that are given."""

import pytest

from contactfe.assess.overload.rank import _ranked
from contactfe.assess.value import Value


def test_the_least_comes_first_and_leads_alone_where_uncertainty_parts_it():
    found = _ranked({"a": Value(3.0, 0.1), "b": Value(1.0, 0.1), "c": Value(2.0, 0.1)}, 1.0)
    assert found.names == ("b", "c", "a")
    assert [v.value for v in found.values] == [1.0, 2.0, 3.0]
    assert found.leading == ("b",)


def test_what_uncertainty_does_not_part_leads_together():
    found = _ranked({"a": Value(1.15, 0.1), "b": Value(1.0, 0.06), "c": Value(2.0, 0.1)}, 1.0)
    assert found.leading == ("b", "a")


def test_an_end_that_was_not_met_comes_before_one_that_was():
    met, far = Value(3.7, 0.05), Value(4.0, 0.0)
    found = _ranked({"tube": met, "bar": far, "other": far}, -1.0, frozenset({"bar", "other"}))
    assert set(found.names[:2]) == {"bar", "other"}
    assert set(found.leading) == {"bar", "other"}


def test_one_that_was_solved_to_less_does_not_outrank_a_known_end():
    found = _ranked({"tube": Value(3.7, 0.05), "bar": Value(2.0, 0.0)}, -1.0, frozenset({"bar"}))
    assert set(found.leading) == {"tube", "bar"}


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_of_none_there_is_no_order(sign):
    assert _ranked({}, sign) is None
