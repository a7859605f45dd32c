"""A plate held along its edges, by finite elements, against a strip in bending and shear.

contactfe.hand.strip is tested by itself in tests/hand/test_strip.py; the rest is Timoshenko's beam
with κ = 5/6. Span over thickness is 9.6. The patch is small and the round stiff, so the load is a
line for the plate. Single figures are rows of contactfe.verify.solved_plate; the cases are those.
"""

import numpy as np
import pytest

from contactfe.hand import strip, strip_deflection
from contactfe.verify.cases import (
    RADIUS,
    SPAN,
    SPRING,
    STRIP_LOAD,
    THICKNESS,
    back_of_plate,
    held_plate,
)
from contactfe.verify.solved_plate import SHEAR_RATIO, STRIPS, beam_edges

D = strip.bending_stiffness(THICKNESS, 200e3, 0.3, "plane strain")
S = strip.shear_stiffness(THICKNESS, 200e3, 0.3)


@pytest.fixture(
    params=[
        pytest.param(
            (kind, offset),
            id=f"{kind} at {offset:g}",
            marks=pytest.mark.xdist_group(f"verify strip {kind} {offset:g}"),
        )
        for kind, offset in STRIPS
    ]
)
def case(request):
    kind, offset = request.param
    solved = held_plate(kind, offset)
    return kind, beam_edges(kind), offset, solved.state.patch, *back_of_plate(solved, offset)


def test_reactions_carry_the_load(case):
    _, _, _, patch, *_ = case
    assert sum(r.across for r in patch.reactions) == pytest.approx(STRIP_LOAD, rel=1e-9)


def test_edges_that_may_turn_carry_no_moment(case):
    kind, _, _, patch, *_ = case
    if kind != "clamped edges":
        for reaction in patch.reactions:
            # An edge is held by shear alone; 1 N mm/mm is 1e-5 of the greatest moment.
            assert reaction.moment == pytest.approx(0.0, abs=1.5e-2)


def test_deflection_away_from_the_load_and_under_it(case):
    # Away from load and edges within 1 % of the greatest. Under the load the back moves less than
    # the axis of the strip: the dent takes part of it, 1.2 % to 3.5 % here.
    kind, edges, offset, _, x, w, _ = case
    exact = strip_deflection.deflection(x, STRIP_LOAD, SPAN, offset, edges, D, S)
    if kind == "springs":
        exact = exact + strip_deflection.settlement(x, STRIP_LOAD, SPAN, offset, SPRING)
    away = (np.abs(x - offset) > 1.5 * THICKNESS) & (np.abs(x) < SPAN / 2.0 - THICKNESS)
    assert np.abs(w - exact)[away].max() < 1.2e-2 * exact.max()
    under = np.argmin(np.abs(x - offset))
    assert w[under] == pytest.approx(exact[under], rel=4e-2)
    assert w[under] < exact[under]


def test_stress_of_the_back_away_from_the_load(case):
    # Measured 0.04 % of the greatest, clamped 0.3 % by the reactions.
    kind, edges, offset, _, x, _, stress = case
    moment = strip.moment(x, STRIP_LOAD, SPAN, offset, edges, SHEAR_RATIO)
    exact = strip.bending_stress(moment, THICKNESS)
    away = (np.abs(x - offset) > 1.5 * THICKNESS) & (np.abs(x) < SPAN / 2.0 - THICKNESS)
    assert away.sum() > 10
    tolerance = 5e-3 if kind == "clamped edges" else 1e-3
    assert np.abs(stress - exact)[away].max() < tolerance * np.abs(exact).max()


def test_bending_alone_says_too_much_of_the_back_under_the_load(case):
    # Without the local correction 2 % to 5 % too much.
    _, edges, offset, _, x, _, stress = case
    moment = float(strip.moment(offset, STRIP_LOAD, SPAN, offset, edges, SHEAR_RATIO))
    under = stress[np.argmin(np.abs(x - offset))]
    assert float(strip.bending_stress(moment, THICKNESS)) > 1.015 * under


def test_the_patch_moves_uphill(case):
    # The plate falls away towards its middle: the round touches nearer the edge, by R times slope.
    kind, edges, offset, patch, *_ = case
    if offset == 0.0:
        assert abs(patch.centre) < 1e-9
        return
    slope = float(strip_deflection.slope(offset, STRIP_LOAD, SPAN, offset, edges, D, S))
    if kind == "springs":
        slope += strip_deflection.tilt(STRIP_LOAD, SPAN, offset, SPRING)
    # The slope is small, 6e-4 at most; the dent's own slant makes up to 15 % of it.
    assert patch.centre == pytest.approx(-RADIUS * slope, rel=0.2, abs=2e-3)
