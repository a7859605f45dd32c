"""The frame of a clause: ratio, scope and answer."""

import math
from dataclasses import replace

import pytest

from contactfe.codes.clause import Clause, ClauseCheck, stated
from contactfe.codes.scope import (
    STEEL_MODULUS,
    STEEL_POISSON,
    european_strength,
    steel_modulus,
    steel_poisson,
)
from contactfe.hand.formula import at_most

CLAUSE = Clause(
    "k", "S", "2000", "1", "t", "w.", "c.", "by analogy", "strength", "seen in a public copy"
)


def checked(demand: float, resistance: float, *scope, steps=(), **growth) -> ClauseCheck:
    sides = (stated(name, "F", value, "force") for name, value in
             (("demand", demand), ("resistance", resistance)))  # fmt: skip
    return ClauseCheck(CLAUSE, *sides, steps=steps, scope=scope, **growth)


def test_the_bound_itself_satisfies():
    assert checked(2.0, 2.0).satisfied is True
    assert checked(2.0 + 1e-9, 2.0).satisfied is False
    assert checked(1.0, 4.0).ratio == 0.25


def test_without_resistance_nothing_is_satisfied():
    assert checked(0.0, 0.0).ratio == math.inf
    assert checked(0.0, 0.0).satisfied is False


@pytest.mark.parametrize(
    ("growth", "reserve"),
    [
        ({}, 4.0),
        ({"grows": "as the load"}, 4.0),
        ({"grows": "as the load squared"}, 2.0),
        ({"grows": "as the root of the load"}, 16.0),
        ({"grows": "faster than the load", "load_factor": 3.0}, 3.0),
    ],
)
def test_reserve_is_what_the_loads_may_grow_by(growth, reserve):
    assert checked(1.0, 4.0, **growth).reserve == pytest.approx(reserve, rel=1e-15)


def test_without_demand_the_reserve_has_no_end_and_without_resistance_there_is_none():
    assert checked(0.0, 4.0).reserve == math.inf
    assert checked(1.0, 0.0).reserve == 0.0
    assert checked(0.0, 0.0).reserve == 0.0


def test_reserve_ends_at_one_where_the_ratio_is_one():
    assert checked(2.0, 2.0).reserve == 1.0
    assert checked(4.0, 2.0, grows="as the load squared").reserve == pytest.approx(0.5**0.5)


def test_out_of_scope_there_is_no_answer():
    limit = at_most("d", 2.0, 1.0, "length")
    assert checked(1.0, 2.0, limit, at_most("t", 1.0, 2.0)).exceeded == (limit,)
    assert checked(1.0, 2.0, limit).satisfied is None


def test_a_step_out_of_its_range_counts_once():
    limit = at_most("d", 2.0, 1.0, "length")
    step = stated("step", "F", 1.0, "force").also(limit)
    assert checked(1.0, 2.0, limit, steps=(step, step)).exceeded == (limit,)
    assert checked(1.0, 2.0, steps=(step,)).satisfied is None


@pytest.mark.parametrize("side", ["demand", "resistance"])
def test_a_demand_or_resistance_out_of_its_range_leaves_no_answer(side):
    limit = at_most("d", 2.0, 1.0, "length")
    check = checked(1.0, 2.0)
    beyond = replace(check, **{side: getattr(check, side).also(limit)})
    assert beyond.exceeded == (limit,)
    assert beyond.satisfied is None


def test_a_stated_demand_has_no_form():
    worked = stated("line load", "q", 1000.0, "line load")
    assert worked.form is None
    assert str(worked) == "q = 1000 N/mm"
    with pytest.raises(ValueError, match=r"line_load = -1\.0 is not allowed"):
        stated("line load", "q", -1.0, "line load")


@pytest.mark.parametrize("young", [200e3, 210e3, 29e3 * 6.894757, *STEEL_MODULUS])
def test_steel_passes_for_steel(young):
    assert not any(limit.exceeded for limit in steel_modulus(young))


@pytest.mark.parametrize("young", [70e3, 189e3, 221e3])
def test_other_metals_do_not(young):
    assert any(limit.exceeded for limit in steel_modulus(young))


def test_poisson_within_the_band_moves_a_pressure_by_less_than_two_percent():
    for poisson in STEEL_POISSON:
        assert not any(limit.exceeded for limit in steel_poisson(poisson))
        assert math.sqrt(0.91 / (1 - poisson**2)) == pytest.approx(1.0, abs=0.02)
    with pytest.raises(ValueError, match=r"poisson = 0\.6"):
        steel_poisson(0.6)


@pytest.mark.parametrize(("strength", "passed"), [(460.0, False), (460.1, True)])
def test_s460_is_the_last_grade(strength, passed):
    (limit,) = european_strength(strength)
    assert limit.exceeded is passed
