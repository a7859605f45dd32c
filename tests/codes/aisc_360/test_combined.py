"""AISC 360, H: axial force beside the bending of a plate, torsion beside that of the post."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.codes import aisc_360
from contactfe.codes.aisc_360.combined import critical_stress, critical_torsion_stress, interaction

PLATE = {"thickness": 40.0, "span": 400.0, "yield_strength": 345.0}


def as_written(axial, bent):
    """H1-1a from Pr/Pc = 0.2 on, H1-1b below."""
    return axial + 8 / 9 * bent if axial >= 0.2 else axial / 2 + bent


@given(st.floats(0.0, 1.5), st.floats(0.0, 1.5))
def test_it_is_satisfied_where_the_clause_as_written_is(axial, bent):
    written = as_written(axial, bent)
    if abs(written - 1.0) > 1e-9:
        assert (interaction(axial, 1.0, bent, 1.0) <= 1.0) == (written <= 1.0)
    assert interaction(axial, 1.0, bent, 1.0) >= written


@pytest.mark.parametrize(("method", "factor"), [("LRFD", 0.9), ("ASD", 1 / 1.67)])
def test_a_plate_by_hand(method, factor):
    euler = math.pi**2 * 200e3 / (400 / (40 / math.sqrt(12))) ** 2
    axial = 200 / (factor * 0.658 ** (345 / euler) * 345 * 40)
    bent = 60e3 / (factor * 345 * 40**2 / 4)
    checked = aisc_360.plate_combined(60e3, 200.0, **PLATE, method=method)
    assert checked.ratio == pytest.approx(axial / 2 + bent)
    assert checked.ratio > aisc_360.plate_flexure(60e3, 40.0, 345.0, method).ratio


def test_without_axial_force_it_is_f11():
    bent = aisc_360.plate_flexure(60e3, 40.0, 345.0)
    assert aisc_360.plate_combined(60e3, 0.0, **PLATE).ratio == pytest.approx(bent.ratio)


def test_a_slender_span_stays_below_the_form_for_slender_ones():
    # E3-3 from Fy/Fe = 2.25 on: 0.877 Fe.
    for slender in (2.25, 3.0, 6.0):
        euler = 345.0 / slender
        span = 40 / math.sqrt(12) * math.pi * math.sqrt(200e3 / euler)
        found = critical_stress(span, 40.0, 345.0)
        assert found <= 0.877 * euler * 1.001  # both meet at 2.25, but for rounding
        assert found == pytest.approx(0.658**slender * 345.0)


TWISTED = 50e6, 100e3, 10e6  # moment, shear force and torque


@pytest.mark.parametrize(("method", "factor"), [("LRFD", 0.9), ("ASD", 1 / 1.67)])
def test_a_twisted_tube_by_hand(method, factor):
    """HSS 219.1 × 10, Fy 345: Z = (D³ − d³)/6, 0.6 Fy in shear over half the area, and in torsion
    on the modulus π(D⁴ − d⁴)/(16 D)."""
    D, d, Fy = 219.1, 199.1, 345.0
    Mc = factor * Fy * (D**3 - d**3) / 6
    Vc = factor * 0.6 * Fy * math.pi / 8 * (D**2 - d**2)
    Tc = factor * 0.6 * Fy * math.pi * (D**4 - d**4) / (16 * D)
    checked = aisc_360.round_hss_combined(*TWISTED, D, 10.0, 800.0, Fy, method)
    M, V, T = TWISTED
    assert checked.ratio == pytest.approx(M / Mc + (V / Vc + T / Tc) ** 2)


def test_a_twisted_solid_by_hand():
    d, Fy = 150.0, 345.0
    Mc, Vc = 0.9 * 1.6 * Fy * math.pi * d**3 / 32, 0.9 * 0.6 * Fy * 3 / 16 * math.pi * d**2
    Tc = 0.9 * 0.6 * Fy * math.pi * d**3 / 16
    M, V, T = TWISTED
    checked = aisc_360.solid_round_combined(*TWISTED, d, Fy)
    assert checked.ratio == pytest.approx(M / Mc + (V / Vc + T / Tc) ** 2)


def test_a_thin_wall_buckles_in_torsion():
    """Eqs H3-2a and H3-2b at D/t = 200, L/D = 4, and then where shear yield bounds them."""
    thin = critical_torsion_stress(2000.0, 500.0, 2.5, 690.0)
    assert thin == pytest.approx(1.23 * 200e3 / (2 * 200**1.25))
    assert critical_torsion_stress(1e9, 500.0, 2.5, 690.0) == pytest.approx(6e-1 * 2e5 / 200**1.5)
    assert critical_torsion_stress(2000.0, 500.0, 50.0, 345.0) == pytest.approx(0.6 * 345.0)


def test_without_torsion_and_shear_it_is_f8():
    bent = aisc_360.round_hss_flexure(5e7, 219.1, 10.0, 345.0, design_share=0.93)
    found = aisc_360.round_hss_combined(5e7, 0.0, 0.0, 219.1, 10.0, 800.0, 345.0, design_share=0.93)
    assert found.ratio == pytest.approx(bent.ratio)
    assert (found.ratio_grows, found.stated_load_factor) == ("as the load", None)


def test_all_loads_grown_by_the_reserve_come_to_the_limit():
    hollow = 219.1, 10.0, 800.0, 345.0
    for clause, size in (
        (aisc_360.round_hss_combined, hollow),
        (aisc_360.solid_round_combined, (150.0, 345.0)),
    ):
        loads = 20e6, 150e3, 8e6
        k = clause(*loads, *size).load_factor
        assert k > 1.5
        assert clause(*(k * load for load in loads), *size).ratio == pytest.approx(1.0, rel=1e-9)


def test_the_design_wall_counts_in_torsion_too():
    loads, rest = (50e6, 100e3, 30e6, 219.1), (800.0, 345.0)
    nominal = aisc_360.round_hss_combined(*loads, 10.0, *rest, design_share=0.93)
    reduced = aisc_360.round_hss_combined(*loads, 9.3, *rest)
    assert nominal.ratio == pytest.approx(reduced.ratio, rel=1e-12)
