"""The force–approach curve beside solves of its own joint, and what it must be between them."""

import itertools

import numpy as np
import pytest
from bodies import member, plate, two_edges

from contactfe.errors import SolveError
from contactfe.solve.contact import Piece, pieces_of_touching, solve_contact
from contactfe.solve.curve import _knots, at_share, curve_of
from contactfe.solve.joint import join, normal_system, solve_joint

RADIUS, LOAD = 75.0, 600.0  # a = 0.72 mm


def off_centre():
    """A tube off the middle of a plate on edges, which turns: nothing is symmetric."""
    return join(
        member(RADIUS, 50.0, 0.72, "beam shear"),
        plate(400.0, 50.0, 0.72, two_edges, offset=60.0),
        radius=RADIUS,
    )


@pytest.fixture(scope="module")
def joint():
    return join(member(RADIUS, 0.0, 0.72, "beam shear"), plate(300.0, 60.0, 0.72), radius=RADIUS)


@pytest.fixture(scope="module")
def found(joint):
    return curve_of(joint, np.array([1.25 * LOAD]))


@pytest.mark.parametrize("times", [0.2, 0.55, 1.0, 1.25])
def test_it_is_what_a_solve_at_that_load_finds(joint, found, times):
    curve, _ = found
    # The curve is smooth between knots and the solved contact a polygon: 4 elements in a
    # half-width, and 2 at a fifth of the load.
    off = 2e-3 if times < 0.5 else 3e-4
    solved = solve_joint(joint, times * LOAD).approach
    assert curve.approach_at(times * LOAD) == pytest.approx(solved, rel=off)


def test_its_slope_is_that_between_two_solves(joint, found):
    curve, _ = found
    low, high = (solve_joint(joint, times * LOAD).approach for times in (0.8, 1.2))
    middle = curve.approach_at(LOAD)
    # A secant over 40 % of the load, of a curve of the power 1.1, and the polygon's own steps.
    assert curve.tangent_at(middle) == pytest.approx(0.4 * LOAD / (high - low), rel=2e-3)


def test_off_the_middle_it_is_the_solved_one_too():
    joint = off_centre()
    curve, _ = curve_of(joint, np.array([LOAD]))
    for times in (0.3, 1.0):
        solved = solve_joint(joint, times * LOAD).approach
        assert curve.approach_at(times * LOAD) == pytest.approx(solved, rel=2e-4)
    assert np.all(np.diff(curve.tangent_stiffness) > 0.0)


def test_the_pieces_are_the_solved_contact(joint, found):
    _, pieces = found
    system = normal_system(joint)
    for share in (0.03, 0.4, 1.0):
        pressure, rigid_displacement = at_share(pieces, share)
        solved = solve_contact(system, np.array([share * 1.25 * LOAD]))
        # The same equations, to rounding.
        assert rigid_displacement == pytest.approx(solved.rigid_displacement, rel=1e-9)
        assert pressure == pytest.approx(solved.pressure, abs=1e-8 * solved.pressure.max())


def test_the_path_of_loads_is_cut_where_nodes_begin_to_touch(joint):
    pieces = pieces_of_touching(normal_system(joint), np.array([LOAD]))
    for before, after in itertools.pairwise(pieces):
        assert before.end == after.start < after.end
        assert np.count_nonzero(after.pressure.any(axis=0)) > np.count_nonzero(
            before.pressure.any(axis=0)
        )
        # Nothing jumps there.
        a, b = (
            p.rigid_displacement[0] + after.start * p.rigid_displacement[1] for p in (before, after)
        )
        assert a == pytest.approx(b, rel=1e-9)
    assert pieces[-1].end == 1.0


def test_it_rises_ever_steeper(found):
    curve, _ = found
    assert len(curve.line_load) == 100
    steps = np.diff(np.sqrt(curve.line_load))
    assert steps == pytest.approx(steps[0], rel=1e-9)
    assert curve.line_load[-1] == pytest.approx(1.25 * LOAD, rel=1e-12)
    for values in (curve.line_load, curve.approach, curve.tangent_stiffness):
        assert np.all(np.diff(values) > 0.0)
    # A line contact: above 1, by no more than the closed form has at so small a patch.
    assert np.all((curve.exponent > 1.05) & (curve.exponent < 1.13))


def made_up(touching, starts):
    """Pieces from these shares of the path on, with so many nodes in touch."""
    rigid_displacement = np.array([[0.1], [1.0]])
    return tuple(
        Piece(start, start + 0.1, np.ones((2, n)), rigid_displacement)
        for n, start in zip(touching, starts, strict=True)
    )


def test_knots_are_an_edge_apart_at_each_end_of_every_patch():
    counts = list(range(6, 40, 2))
    pieces = made_up(counts, np.linspace(0.01, 0.33, len(counts)))
    for patches, expected in ((1, [6, 10, 14, 18, 22, 26, 30, 34, 38]), (2, [10, 18, 26, 34])):
        share, rigid_displacement = _knots(pieces, patches)
        starts = np.array([piece.start for piece in pieces if len(piece.pressure[0]) in expected])
        assert share == pytest.approx(1.2 * starts)  # of the curve's end, which the path goes past
        assert rigid_displacement == pytest.approx(0.1 + starts)


@pytest.mark.parametrize(
    ("touching", "first"), [([5, 9, 13], 0.1), ([5, 9, 13, 17], 0.43), ([5, 6, 7, 8], 0.1)]
)
def test_few_knots_or_late_ones_are_no_curve(touching, first):
    starts = first + 0.01 * np.arange(len(touching))
    with pytest.raises(SolveError, match="a finer mesh is needed"):
        _knots(made_up(touching, starts), 1)


def test_too_coarse_a_mesh_is_refused(joint):
    with pytest.raises(SolveError, match="a finer mesh is needed"):
        curve_of(joint, np.array([0.03 * LOAD]))
