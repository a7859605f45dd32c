"""EN 1993-1-1, 6.2.7 and 6.2.8: what shear and torsion take from the moment."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import en_1993_1_1


@given(st.floats(10.0, 2000.0), st.floats(200.0, 460.0), st.floats(0.0, 0.5))
def test_half_the_shear_resistance_costs_no_moment(diameter, fy, share):
    for wall in (None, 0.1 * diameter):
        free = en_1993_1_1.bending(1.0, diameter, fy, wall).resistance.value
        whole = en_1993_1_1.bending_with_shear(1.0, 0.0, diameter, fy, wall).steps[-2].value
        found = en_1993_1_1.bending_with_shear(1.0, share * whole, diameter, fy, wall)
        assert found.resistance.value == pytest.approx(free)


def test_above_half_it_costs_and_at_the_whole_all():
    whole = en_1993_1_1.tube_shear(1.0, 219.1, 10.0, 355.0).resistance.value
    ratios = [
        en_1993_1_1.bending_with_shear(1e7, share * whole, 219.1, 355.0, 10.0).ratio
        for share in (0.5, 0.7, 0.9)
    ]
    assert ratios == sorted(set(ratios))
    for share in (1.0, 1.5):
        exhausted = en_1993_1_1.bending_with_shear(1e7, share * whole, 219.1, 355.0, 10.0)
        assert exhausted.ratio > 1e6
        assert exhausted.satisfied is False


@given(st.one_of(st.none(), st.floats(0.012, 0.499)), st.floats(235.0, 355.0))
def test_a_post_twice_as_long_as_its_diameter_keeps_its_moment(wall, fy):
    """At its full moment its shear is below half the shear resistance, as the clause's words say.
    A thin tube needs 1.73 diameters for that, a solid post 0.98."""
    sizes = 200.0, fy, None if wall is None else wall * 200.0
    full = en_1993_1_1.bending(1.0, *sizes).resistance.value
    found = en_1993_1_1.bending_with_shear(full, full / 400.0, *sizes)
    assert found.steps[-1].value == 0.0
    assert found.ratio == pytest.approx(1.0)
    assert found.ratio_grows == "as the load"


@pytest.mark.parametrize(("diameters", "keeps"), [(1.72, True), (1.69, False)])
def test_a_tube_needs_more_than_its_diameter(diameters, keeps):
    """√3 in the limit of a thin wall, and 1.706 at this one of 1.5 % of the diameter."""
    full = en_1993_1_1.bending(1.0, 500.0, 180.0, 7.5).resistance.value
    shear = full / (diameters * 500.0)
    found = en_1993_1_1.bending_with_shear(full, shear, 500.0, 180.0, 7.5)
    assert (found.steps[-1].value == 0.0) is keeps


@given(st.floats(0.01, 3.0), st.floats(0.01, 3.0))
def test_the_room_is_where_moment_and_reduced_resistance_meet(moment, shear):
    """Whether nothing, something or all is taken off for the shear as it stands."""
    M = en_1993_1_1.bending(1.0, 219.1, 355.0, 10.0).resistance.value
    V = en_1993_1_1.tube_shear(1.0, 219.1, 10.0, 355.0).resistance.value

    def at(factor):
        loads = factor * moment * M, factor * shear * V
        return en_1993_1_1.bending_with_shear(*loads, 219.1, 355.0, 10.0)

    reserve = at(1.0).load_factor
    assert at(0.999 * reserve).ratio < 1.0 < at(1.001 * reserve).ratio
    if at(1.0).ratio_grows == "as the load":
        assert at(0.5).ratio == pytest.approx(at(1.0).ratio / 2)
        assert at(reserve).ratio == pytest.approx(1.0)
    else:
        assert max(reserve, 1.0) * shear > 0.5


def test_shear_alone_has_room_up_to_its_own_resistance():
    V = en_1993_1_1.tube_shear(1.0, 219.1, 10.0, 355.0).resistance.value
    found = en_1993_1_1.bending_with_shear(0.0, 0.25 * V, 219.1, 355.0, 10.0)
    assert found.load_factor == pytest.approx(4.0)
    assert en_1993_1_1.bending_with_shear(0.0, 0.0, 219.1, 355.0, 10.0).load_factor == math.inf


def test_the_elastic_resistance_is_named_so():
    assert en_1993_1_1.bending_with_shear(1.0, 1.0, 150.0, 355.0).steps[-2].symbol == "Vel,Rd"
    tube = en_1993_1_1.bending_with_shear(1.0, 1.0, 150.0, 355.0, 20.0)
    assert tube.steps[-2].symbol == "Vpl,Rd"


def test_torsion_takes_from_the_shear_resistance_of_a_tube():
    """219.1 × 10, fy 355, 500 kN and 30 kN m: eqs 6.28 and 6.29 with the numbers written in."""
    D, d, fy = 219.1, 199.1, 355.0
    tau = 16 * 30e6 * D / (math.pi * (D**4 - d**4))
    whole = (D**2 - d**2) / 2 * fy / math.sqrt(3)  # 2A/π
    left = (1 - tau / (fy / math.sqrt(3))) * whole
    moment = (1 - (2 * 500e3 / left - 1) ** 2) * (D**3 - d**3) / 6 * fy
    found = en_1993_1_1.tube_combined(100e6, 500e3, 30e6, D, 10.0, fy)
    assert found.ratio == pytest.approx(100e6 / moment)


@given(st.floats(0.01, 3.0), st.floats(0.01, 3.0), st.floats(0.0, 3.0))
def test_the_room_with_torsion_is_where_moment_and_reduced_resistance_meet(moment, shear, twist):
    """Whatever of moment, shear and torsion governs, and 1e-6 as all may fall off steeply there."""
    tube = 219.1, 10.0, 355.0
    M = en_1993_1_1.bending(1.0, 219.1, 355.0, 10.0).resistance.value
    V = en_1993_1_1.tube_shear(1.0, *tube).resistance.value
    T = 355.0 / math.sqrt(3) * math.pi * (219.1**4 - 199.1**4) / (16 * 219.1)
    loads = moment * M, shear * V, twist * T
    k = en_1993_1_1.tube_combined(*loads, *tube).load_factor
    below, above = (
        en_1993_1_1.tube_combined(*(at * load for load in loads), *tube).ratio
        for at in (k * (1 - 1e-6), k * (1 + 1e-6))
    )
    assert below < 1.0 < above


def test_without_torsion_it_is_bending_with_shear():
    for shear in (3e5, 7e5):
        one = en_1993_1_1.tube_combined(5e7, shear, 0.0, 219.1, 10.0, 355.0)
        other = en_1993_1_1.bending_with_shear(5e7, shear, 219.1, 355.0, 10.0)
        assert one.ratio == pytest.approx(other.ratio)
        assert one.load_factor == pytest.approx(other.load_factor)


def test_torsion_that_uses_up_the_wall_leaves_nothing():
    spent = en_1993_1_1.tube_combined(1e7, 1e3, 2e8, 219.1, 10.0, 355.0)
    assert spent.ratio == math.inf
    assert spent.satisfied is False


def test_a_twisted_solid_at_its_worst_point_round_the_section():
    d, fy = 150.0, 355.0
    bending, twist = 32 * 50e6 / (math.pi * d**3), 16 * 10e6 / (math.pi * d**3)
    beam = 4 / 3 * 300e3 / (math.pi * d**2 / 4)
    angles = [math.pi / 2 * k / 2000 for k in range(2001)]
    worst = max(
        math.hypot(bending * math.cos(at), math.sqrt(3) * (beam * math.sin(at) + twist))
        for at in angles
    )
    found = en_1993_1_1.solid_combined(50e6, 300e3, 10e6, d, fy, 1.1)
    assert found.ratio == pytest.approx(worst * 1.1 / fy, rel=1e-6)
