"""The frame of a clause: ratio, scope and answer."""

import math
from dataclasses import replace

import pytest

from contactfe.codes.clause import CLAUSES, Clause, ClauseCheck, Sides, Standard, editions
from contactfe.codes.scope import (
    STEEL_MODULUS,
    STEEL_POISSON,
    european_strength,
    steel_modulus,
    steel_poisson,
)
from contactfe.hand.formula import Worked, at_most
from contactfe.hand.quantities import Force, Length

CLAUSE = Clause(
    "k", "S", "2000", "1", "t", "w.", "c.", "by analogy", "strength", "seen in a public copy"
)


def stated(name: str, symbol: str, value: float, dimension: str) -> Worked:
    return Worked("k", name, symbol, None, {}, value, dimension, "here", note="As it is.")


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
        ({"ratio_grows": "as the load"}, 4.0),
        ({"ratio_grows": "as the load squared"}, 2.0),
        ({"ratio_grows": "as the root of the load"}, 16.0),
        ({"ratio_grows": "faster than the load", "stated_load_factor": 3.0}, 3.0),
    ],
)
def test_reserve_is_what_the_loads_may_grow_by(growth, reserve):
    assert checked(1.0, 4.0, **growth).load_factor == pytest.approx(reserve, rel=1e-15)


def test_without_demand_the_reserve_has_no_end_and_without_resistance_there_is_none():
    assert checked(0.0, 4.0).load_factor == math.inf
    assert checked(1.0, 0.0).load_factor == 0.0
    assert checked(0.0, 0.0).load_factor == 0.0


def test_reserve_ends_at_one_where_the_ratio_is_one():
    assert checked(2.0, 2.0).load_factor == 1.0
    assert checked(4.0, 2.0, ratio_grows="as the load squared").load_factor == pytest.approx(
        0.5**0.5
    )


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


@pytest.fixture
def standard(monkeypatch):
    """One whose clauses are forgotten afterwards."""
    monkeypatch.setattr("contactfe.codes.clause.CLAUSES", dict(CLAUSES))
    return Standard(
        "S", "2000", "S:2000", "seen in a public copy", {"load": "N", "size": "d", "other": "e"}
    )


def declared(standard, key="s.1", **words):
    @standard.clause(
        key, "1(2)", "load of a thing", intended_for="Things.", applies_here="Hardly.",
        applicability="by analogy", level="service", **words,
    )  # fmt: skip
    def thing(load: Force, size: Length, other: Length | None = None) -> Sides:
        """What it carries."""
        resistance = stated("resistance", "R", 2.0 * size, "force")
        return Sides(load, resistance, scope=(at_most("d", size, 9.0, "length"),))

    return thing


def test_a_declared_clause_has_its_words_and_is_found_by_its_key(standard):
    from contactfe.codes.clause import CLAUSES

    found = declared(standard)(4.0, 4.0)
    assert found.clause is CLAUSES["s.1"]
    assert found.clause.name == "S (2000), 1(2)"
    assert (found.clause.level, found.clause.text) == ("service", "seen in a public copy")
    assert (found.ratio, found.satisfied) == (0.5, True)
    own = declared(standard, "s.2", text="from memory, not seen")(4.0, 10.0)
    assert own.clause.text == "from memory, not seen"
    assert own.satisfied is None
    with pytest.raises(AssertionError, match=r"s\.2"):
        declared(standard, "s.2")


def test_a_plain_demand_is_the_first_argument_and_has_no_form(standard):
    demand = declared(standard)(1000.0, 4.0).demand
    assert demand.form is None
    assert (demand.name, str(demand)) == ("load", "N = 1000 N")


def test_a_demand_that_is_another_argument_is_refused(standard):
    @standard.clause(
        "s.3", "1", "two loads", intended_for="Things.", applies_here="Hardly.",
        applicability="by analogy", level="service",
    )  # fmt: skip
    def thing(load: Force, size: Length) -> Sides:
        return Sides(size, stated("resistance", "R", 1.0, "force"))

    with pytest.raises(AssertionError, match=r"demand of s\.3 is not its load"):
        thing(1.0, 2.0)


def test_the_arguments_of_a_clause_are_allowed_as_those_of_a_formula(standard):
    thing = declared(standard)
    for given, name in (((-1.0, 4.0), "load"), ((1.0, 0.0), "size"), ((1.0, 4.0, 0.0), "other")):
        with pytest.raises(ValueError, match=f"^{name} = .* is not allowed"):
            thing(*given)
    assert thing(1.0, 4.0, None) == thing(1.0, 4.0)


def test_a_source_says_where_it_stands_and_how_it_was_seen(standard):
    assert standard.source("1(2)") == "S:2000, 1(2): seen in a public copy"
    assert standard.source("1", "from memory, not seen") == "S:2000, 1: from memory, not seen"
    derived = standard.source("1", derived="half of it")
    assert derived == "derived here from S:2000, 1 (seen in a public copy): half of it"


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


@pytest.mark.parametrize(("strength", "passed"), [(460.0, False), (460.1, True)])
def test_s460_is_the_last_grade(strength, passed):
    (limit,) = european_strength(strength)
    assert limit.exceeded is passed


def test_each_standard_is_named_once_with_its_edition():
    every = editions(CLAUSES.values())
    names = [of.partition(":")[0] for of in every]
    assert len(names) == len(set(names)) == len({of.standard for of in CLAUSES.values()})
    one = replace(CLAUSE, newer_edition="2001")
    assert editions([one, one]) == ("S, clauses of: 2000. Newer: 2001.",)
    assert "No newer" in editions([CLAUSE])[0]
