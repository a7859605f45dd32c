"""What holds of every clause: it can be written out, follows the load, and has a scope."""

import math
from collections.abc import Callable
from typing import Any, NamedTuple, get_args

import pytest
from forms import evaluate
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.codes import aashto_lrfd, aisc_360, en_1337_4, en_1993_1_1, en_1993_1_8
from contactfe.codes.clause import CLAUSES, POWER, UNITY, ClauseCheck, Text


class Use(NamedTuple):
    """A clause on numbers within its scope. ``degree`` is the power of the load in its ratio.

    It is None where the loads take from the resistance too: no one power tells the ratio.
    """

    check: Callable[..., ClauseCheck]
    loads: dict[str, float]
    given: dict[str, Any]
    degree: float | None = 1.0


TUBE = {"outside_diameter": 219.1, "wall": 10.0, "yield_strength": 345.0}
THIN = {"outside_diameter": 508.0, "wall": 8.0, "yield_strength": 345.0}
SLENDER = {"outside_diameter": 508.0, "wall": 2.5, "yield_strength": 345.0}
SOLID = {"diameter": 150.0, "yield_strength": 345.0}

USES = {
    **{
        f"J7(b) {units} {diameter:g} {method}": Use(
            aisc_360.roller,
            {"line_load": 1e3},
            {"diameter": diameter, "yield_strength": 345.0, "units": units, "method": method},
        )
        for units in ("SI", "US customary")
        for diameter in (150.0, 800.0)
        for method in ("LRFD", "ASD")
    },
    "F8 compact": Use(aisc_360.round_hss_flexure, {"moment": 5e7}, {**TUBE, "young": 200e3}),
    "F8 thick": Use(aisc_360.round_hss_flexure, {"moment": 5e7}, {**TUBE, "wall": 60.0}),
    "F8 design wall": Use(
        aisc_360.round_hss_flexure, {"moment": 5e7}, {**TUBE, "design_share": 0.93}
    ),
    "F8 noncompact": Use(aisc_360.round_hss_flexure, {"moment": 5e7}, THIN),
    "F8 slender": Use(aisc_360.round_hss_flexure, {"moment": 5e7}, SLENDER),
    "F11 round": Use(aisc_360.solid_round_flexure, {"moment": 5e7}, SOLID),
    "F11 plate": Use(
        aisc_360.plate_flexure, {"moment": 5e4}, {"thickness": 40.0, "yield_strength": 345.0}
    ),
    "H1 plate": Use(
        aisc_360.plate_combined,
        {"moment": 5e4, "axial_force": 2e2},
        {"thickness": 40.0, "span": 400.0, "yield_strength": 345.0, "young": 200e3},
    ),
    "G5": Use(
        aisc_360.round_hss_shear, {"shear": 3e5}, {**TUBE, "shear_length": 800.0, "young": 200e3}
    ),
    "G5 design wall": Use(
        aisc_360.round_hss_shear,
        {"shear": 3e5},
        {**TUBE, "shear_length": 800.0, "design_share": 0.93},
    ),
    "G5 thin": Use(aisc_360.round_hss_shear, {"shear": 3e5}, {**SLENDER, "shear_length": 9e3}),
    "G5 solid": Use(aisc_360.solid_round_shear, {"shear": 3e5}, SOLID),
    "J2.4": Use(
        aisc_360.fillet_weld, {"throat_stress": 1e2}, {"electrode_strength": 480.0, "angle": 0.7}
    ),
    "J7(a) socket": Use(aisc_360.socket, {"pressure": 1e2}, {"yield_strength": 250.0}),
    "H3.2 tube": Use(
        aisc_360.round_hss_combined,
        {"moment": 5e7, "shear": 1e5, "torque": 1e7},
        {**TUBE, "length": 800.0, "young": 200e3, "design_share": 0.93},
        None,
    ),
    "H3.2 solid": Use(
        aisc_360.solid_round_combined, {"moment": 5e7, "shear": 3e5, "torque": 1e7}, SOLID, None
    ),
    "J2.4 groove": Use(
        aisc_360.groove_weld,
        {"bending": 2e2, "shear": 20.0, "twist": 10.0},
        {"yield_strength": 345.0, "tensile_strength": 450.0, "electrode_strength": 1000.0},
    ),
    "14.7.1.4 flat": Use(aashto_lrfd.cylinder, {"line_load": 5e2}, {**SOLID, "young": 200e3}),
    "EN 1337-4": Use(
        en_1337_4.roller,
        {"line_load": 1e3},
        {
            "radius": 75.0,
            "tensile_strength": 490.0,
            "other_strength": 490.0,
            "yield_strength": 345.0,
            "length": 300.0,
            "young": 210e3,
            "gamma_m": 1.1,
        },
    ),
    "6.2.1(5)": Use(
        en_1993_1_1.yield_at_a_point,
        {"stress_x": 200.0, "stress_z": -100.0, "shear_stress": 50.0},
        {"yield_strength": 355.0, "gamma_M0": 1.1},
        2.0,
    ),
    "6.2.5 tube": Use(en_1993_1_1.bending, {"moment": 5e7}, {**TUBE, "gamma_M0": 1.1}),
    "6.2.5 class 3": Use(
        en_1993_1_1.bending,
        {"moment": 5e7},
        {"outside_diameter": 508.0, "wall": 10.0, "yield_strength": 345.0},
    ),
    "6.2.5 solid": Use(
        en_1993_1_1.bending, {"moment": 5e7}, {"outside_diameter": 150.0, "yield_strength": 345.0}
    ),
    "6.2.6 tube": Use(en_1993_1_1.tube_shear, {"shear": 3e5}, {**TUBE, "gamma_M0": 1.1}),
    "6.2.6 solid": Use(en_1993_1_1.solid_shear, {"shear": 3e5}, {**SOLID, "gamma_M0": 1.1}),
    "6.2.8 tube": Use(
        en_1993_1_1.bending_with_shear,
        {"moment": 5e7, "shear": 7e5},
        {**TUBE, "gamma_M0": 1.1},
        None,
    ),
    "6.2.8 solid": Use(
        en_1993_1_1.bending_with_shear,
        {"moment": 5e7, "shear": 2e6},
        {"outside_diameter": 150.0, "yield_strength": 345.0},
        None,
    ),
    "flat contact": Use(
        en_1993_1_8.flat_contact_by_analogy,
        {"line_load": 1e3},
        {**SOLID, "gamma_M6_ser": 1.1, "young": 210e3},
        0.5,
    ),
    "6.2.7 tube": Use(
        en_1993_1_1.tube_combined,
        {"moment": 5e7, "shear": 5e5, "torque": 3e7},
        {**TUBE, "gamma_M0": 1.1},
        None,
    ),
    "6.2.7 solid": Use(
        en_1993_1_1.solid_combined,
        {"moment": 5e7, "shear": 3e5, "torque": 1e7},
        {**SOLID, "gamma_M0": 1.1},
    ),
    "Table 3.10 socket": Use(
        en_1993_1_8.socket, {"pressure": 1e2}, {"yield_strength": 235.0, "gamma_M0": 1.1}
    ),
    "4.7.1": Use(
        en_1993_1_8.groove_weld,
        {"bending": 2e2, "shear": 20.0, "twist": 10.0},
        {
            "yield_strength": 355.0,
            "tensile_strength": 470.0,
            "electrode_strength": 1000.0,
            "gamma_M0": 1.1,
        },
    ),
    "4.5.3.3": Use(
        en_1993_1_8.fillet_weld,
        {"line_load": 5e2},
        {"throat": 5.0, "tensile_strength": 470.0, "correlation": 0.9, "gamma_M2": 1.3},
    ),
}
# Where the wall buckles before it yields, strength adds nothing.
BUCKLING = (USES["F8 slender"], USES["G5 thin"])
EVERY = pytest.mark.parametrize("use", USES.values(), ids=USES)
BY_A_POWER = {name: use for name, use in USES.items() if use.degree is not None}


def run(use: Use, factor: float = 1.0, **changed: float) -> ClauseCheck:
    loads = {name: factor * load for name, load in use.loads.items()}
    return use.check(**{**loads, **use.given, **changed})


@EVERY
def test_every_step_is_written_and_computes(use):
    checked = run(use)
    for worked in (*checked.steps, checked.demand, checked.resistance):
        assert worked.source
        if worked.form is None:
            assert worked.note
        else:
            assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)
    assert checked.demand.dimension == checked.resistance.dimension


@EVERY
def test_these_numbers_are_covered_and_answered(use):
    checked = run(use)
    assert checked.within_scope, checked.exceeded
    assert checked.satisfied is (checked.ratio <= 1.0)


@pytest.mark.parametrize("use", BY_A_POWER.values(), ids=BY_A_POWER)
@settings(max_examples=10)
@given(factor=st.floats(0.01, 100.0))
def test_ratio_follows_the_load_as_the_check_tells(use, factor):
    checked = run(use, factor)
    assert checked.ratio == pytest.approx(run(use).ratio * factor**use.degree, rel=1e-9)
    assert POWER[checked.ratio_grows] == use.degree
    assert checked.stated_load_factor is None


@EVERY
@settings(max_examples=10)
@given(factor=st.floats(0.01, 2.0))
def test_at_the_end_of_its_room_the_ratio_is_one(use, factor):
    """The room of a scaled load is less by the same factor. 1e-7: a resistance reduced for shear
    falls fast, and takes the rounding of the room with it."""
    reserve = run(use).load_factor
    assert run(use, factor).load_factor == pytest.approx(reserve / factor, rel=1e-9)
    assert run(use, reserve).ratio == pytest.approx(1.0, rel=1e-7)


@EVERY
@settings(max_examples=10)
@given(factor=st.floats(1.001, 1.5))
def test_strength_pays(use, factor):
    names = [name for name in use.given if name.endswith("_strength")]
    more = run(use, **{name: factor * use.given[name] for name in names}).ratio
    if use in BUCKLING:
        assert more == run(use).ratio
    else:
        assert more < run(use).ratio


@EVERY
@settings(max_examples=10)
@given(factor=st.floats(1.001, 2.0))
def test_a_greater_partial_factor_costs(use, factor):
    for name in use.given:
        if name.startswith("gamma"):
            assert run(use, **{name: factor * use.given[name]}).ratio > run(use).ratio


@EVERY
def test_impossible_numbers_are_refused_by_name(use):
    for name, value in use.given.items():
        if isinstance(value, str) or name == "angle":
            continue
        named = name.removeprefix("design_")
        for impossible in (0.0, -1.0, math.nan):
            with pytest.raises(ValueError, match=f"{named} = {impossible!r} is not allowed"):
                run(use, **{name: impossible})


@EVERY
def test_a_partial_factor_is_at_least_one(use):
    for name in use.given:
        if name.startswith("gamma"):
            assert run(use, **{name: 1.0}).resistance.value > 0.0
            for less in (0.5, 0.999, math.inf):
                with pytest.raises(ValueError, match=rf"{name} = {less} is not allowed: a partial"):
                    run(use, **{name: less})


@EVERY
def test_loads_are_finite_and_not_negative(use):
    signed = use.check is en_1993_1_1.yield_at_a_point
    for name in use.loads:
        with pytest.raises(ValueError, match="= nan is not allowed"):
            run(use, **{name: math.nan})
        if not signed:
            with pytest.raises(ValueError, match="not negative"):
                run(use, **{name: -1.0})


def test_every_clause_is_used_here():
    assert {run(use).clause.key: run(use).clause for use in USES.values()} == CLAUSES


@pytest.mark.parametrize("clause", CLAUSES.values(), ids=CLAUSES)
def test_words_are_complete(clause):
    for text in (clause.written_for, clause.carries):
        assert text.endswith(".")
        assert "  " not in text
    assert clause.text in get_args(Text)
    assert clause.name.startswith(clause.standard)
    assert clause.number in clause.name


def test_service_is_where_the_standard_says_so():
    service = {key for key, clause in CLAUSES.items() if clause.level == "service"}
    assert service == {
        "aashto_lrfd.14_7_1_4_cylinder",
        "en_1993_1_8.flat_contact_by_analogy",
    }


def test_what_is_by_analogy_says_so():
    for key, clause in CLAUSES.items():
        if "analogy" in key:
            assert clause.reach == "by analogy"


@pytest.mark.parametrize(
    ("name", "changed", "what"),
    [
        ("J7(b) SI 150 LRFD", {"yield_strength": 80.0}, "Fy"),
        ("J7(b) US customary 150 LRFD", {"yield_strength": 89.0}, "Fy"),
        ("J7(b) SI 150 LRFD", {"yield_strength": 700.0}, "Fy"),
        ("F8 compact", {"wall": 0.5}, "D/t"),
        ("F8 compact", {"yield_strength": 360.0}, "Fy"),
        ("F8 compact", {"young": 70e3}, "E"),
        ("F11 round", {"yield_strength": 550.0}, "Fy"),
        ("F11 plate", {"yield_strength": 700.0}, "Fy"),
        ("H1 plate", {"yield_strength": 700.0}, "Fy"),
        ("H1 plate", {"young": 70e3}, "E"),
        ("G5", {"young": 230e3}, "E"),
        ("G5", {"yield_strength": 360.0}, "Fy"),
        ("G5 solid", {"yield_strength": 550.0}, "Fy"),
        ("14.7.1.4 flat", {"poisson": 0.4}, "ν"),
        ("14.7.1.4 flat", {"young": 70e3}, "E"),
        ("EN 1337-4", {"poisson": 0.4}, "ν"),
        ("EN 1337-4", {"young": 70e3}, "E"),
        ("EN 1337-4", {"length": 299.0}, "L/D, the contact line over the diameter"),
        ("EN 1337-4", {"length": 901.0}, "L/D, the contact line over the diameter"),
        ("EN 1337-4", {"other_strength": 430.0}, "fu of the weaker part over that of the stronger"),
        ("EN 1337-4", {"yield_strength": 239.0}, "fy"),
        ("6.2.1(5)", {"yield_strength": 500.0}, "fy"),
        ("6.2.5 tube", {"wall": 2.0}, "D/t, class 3"),
        ("6.2.5 solid", {"yield_strength": 500.0}, "fy"),
        ("6.2.6 tube", {"yield_strength": 500.0}, "fy"),
        ("6.2.6 solid", {"yield_strength": 500.0}, "fy"),
        ("6.2.8 tube", {"wall": 2.0}, "D/t, class 3"),
        ("6.2.8 tube", {"yield_strength": 500.0}, "fy"),
        ("flat contact", {"yield_strength": 500.0}, "fy"),
        ("flat contact", {"poisson": 0.2}, "ν"),
        ("J2.4 groove", {"electrode_strength": 449.0}, "FEXX"),
        ("4.7.1", {"electrode_strength": 469.0}, "fu,w"),
        ("4.7.1", {"yield_strength": 500.0}, "fy"),
        ("Table 3.10 socket", {"yield_strength": 500.0}, "fy"),
        ("H3.2 tube", {"yield_strength": 360.0}, "Fy"),
        ("H3.2 tube", {"wall": 0.5}, "D/t"),
        ("H3.2 solid", {"yield_strength": 550.0}, "Fy"),
        ("6.2.7 tube", {"wall": 2.0}, "D/t, class 3"),
        ("6.2.7 solid", {"yield_strength": 500.0}, "fy"),
        ("4.5.3.3", {"throat": 2.9}, "throat"),
        ("4.5.3.3", {"correlation": 0.7}, "βw"),
        ("4.5.3.3", {"correlation": 1.1}, "βw"),
    ],
)
def test_out_of_scope_it_is_marked_and_not_answered(name, changed, what):
    checked = run(USES[name], **changed)
    assert what in [limit.what for limit in checked.exceeded]
    assert not checked.within_scope
    assert checked.satisfied is None


def test_a_sum_is_bounded_by_one():
    assert (UNITY.value, UNITY.dimension) == (1.0, None)
    line = f"{UNITY.name}: {UNITY.symbol}, {UNITY.source}"
    assert line == "bound of an interaction: 1, by the clause"
