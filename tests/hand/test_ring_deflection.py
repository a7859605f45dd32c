"""Changes of diameter: from the energy of a curved beam, and against the exact field."""

from itertools import pairwise

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.hand import ring, ring_deflection, thick_ring
from contactfe.hand.formula import OutOfRangeWarning

HELD = ["diametral", "beam shear"]
STATES = ["plane stress", "plane strain"]
THICK = [ring_deflection.change_along, ring_deflection.change_across]
THIN = [ring_deflection.thin_change_along, ring_deflection.thin_change_across]
EXACT = [thick_ring.bore_change_along, thick_ring.bore_change_across]


def virtual_work(wall, held_by, nu, state, turn):
    """Change of a diameter by a unit pair of forces that pushes in on it, over the whole ring.

    ``turn`` is the diameter's angle from the load line. E = 1 and the outside radius is 1.
    """
    R, e = 1 - wall / 2, ring.neutral_shift(1.0, wall)
    E = 1 / (1 - nu**2) if state == "plane strain" else 1.0
    G = 1 / (2 * (1 + nu))

    def forces(phi, how):
        """M, N and the shear force −M'/R, by a central difference."""
        M, N = ring.section_forces(1.0, R, phi, how, e)
        h = 1e-5
        ahead, behind = (ring.section_forces(1.0, R, phi + d, how, e)[0] for d in (h, -h))
        return M, N, -(ahead - behind) / (2 * h * R)

    def density(phi):
        M, N, V = forces(phi, held_by)
        m, n, v = forces(phi - turn, "diametral")
        bending = (M * m / e - (M * n + N * m) + R * N * n) / (E * wall)
        return bending + 1.2 * R * V * v / (G * wall)

    # Between the places of the forces, which the difference must not straddle.
    edges = np.array([0.0, np.pi / 2, np.pi, 3 * np.pi / 2, 2 * np.pi])
    return -sum(quad(density, a + 2e-5, b - 2e-5)[0] for a, b in pairwise(edges))


@pytest.mark.parametrize("held_by", HELD)
@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("wall", [0.05, 0.3])
def test_follows_from_the_energy_of_a_curved_beam(held_by, state, wall):
    """To the 2e-5 of the arc that the integral leaves out at each force."""
    for change, turn in zip(THICK, (0.0, np.pi / 2), strict=True):
        found = change.plain(1.0, 1.0, wall, 1.0, 0.3, held_by, state)
        assert found == pytest.approx(virtual_work(wall, held_by, 0.3, state, turn), rel=1e-3)


@pytest.mark.parametrize("held_by", HELD)
@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("wall", [2.0, 22.0])
def test_forms(held_by, state, wall):
    for change in THICK + THIN:
        worked = change.worked(1000.0, 84.15, wall, 200e3, 0.3, held_by, state)
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)


@pytest.mark.parametrize("held_by", HELD)
def test_a_thin_wall_makes_the_thick_ring_a_thin_one(held_by):
    tube = (1.0, 1.0, 0.01, 1.0, 0.3, held_by, "plane strain")
    for thick, thin in zip(THICK, THIN, strict=True):
        # What sets them apart is of the order of (h/R)², but for shear, which is a few times that.
        assert thick(*tube) == pytest.approx(thin(*tube), rel=1e-3)


@pytest.mark.parametrize(
    ("state", "along", "across"),
    [
        ("plane stress", [0.3, 1.4, 4.0, 8.6, 16.1], [0.1, 0.6, 1.5, 3.2, 5.9]),
        ("plane strain", [0.4, 2.1, 5.4, 11.2, 20.2], [0.2, 1.1, 2.7, 5.4, 9.7]),
    ],
)
def test_stated_errors_of_the_thick_ring(state, along, across):
    for change, exact, errors in zip(THICK, EXACT, (along, across), strict=True):
        for wall, percent in zip((0.1, 0.2, 0.3, 0.4, 0.5), errors, strict=True):
            found = change.plain(1.0, 1.0, wall, 1.0, 0.3, "beam shear", state)
            right = exact(1.0, 1.0, 1 - wall, 1.0, 0.3, "beam shear", state)
            assert 100 * (found / right - 1) == pytest.approx(percent, abs=0.1)


@pytest.mark.parametrize(
    ("wall", "along", "across"),
    [(0.1, -1.4, -0.3), (0.2, -5.9, -1.4), (0.3, -13.1, -3.5), (0.5, -31.5, -10.9)],
)
def test_stated_errors_of_the_thin_ring(wall, along, across):
    for change, exact, percent in zip(THIN, EXACT, (along, across), strict=True):
        found = change.plain(1.0, 1.0, wall, 1.0, 0.3, "diametral", "plane strain")
        right = exact(1.0, 1.0, 1 - wall, 1.0, 0.3, "diametral", "plane strain")
        assert 100 * (found / right - 1) == pytest.approx(percent, abs=0.1)


def test_range():
    bound = ring_deflection.THICKEST
    tube = (1000.0, 100.0, 200.0 * bound / (2 + bound), 200e3, 0.3, "diametral")
    for state in STATES:
        along = ring_deflection.change_along(*tube, state)
        exact = thick_ring.bore_change_along(tube[0], 100.0, 100.0 - tube[2], *tube[3:], state)
        assert along == pytest.approx(exact, rel=0.05)
    tube = (*tube[:4], 0.5, "diametral")
    along = ring_deflection.change_along(*tube, "plane strain")
    exact = thick_ring.bore_change_along(tube[0], 100.0, 100.0 - tube[2], *tube[3:], "plane strain")
    assert 100 * (along / exact - 1) == pytest.approx(10.5, abs=0.1)
    for change, beyond in ((THICK, 1.01 * tube[2]), (THIN, 10.0)):
        for formula in change:
            with pytest.warns(OutOfRangeWarning, match="h/R"):
                formula(*tube[:2], beyond, *tube[3:], "plane stress")


def test_no_load_gives_none_that_is_written_minus():
    for change in THICK + THIN:
        assert not np.signbit(change(0.0, 1.0, 0.05, 1.0, 0.3, "beam shear", "plane stress"))


@given(q=st.floats(1e-3, 1e5), factor=st.floats(0.1, 10), wall=st.floats(0.02, 0.9))
def test_linear_in_load_and_free_of_scale(q, factor, wall):
    for change in THICK + THIN:
        here = change.plain(1.0, 1.0, wall, 1.0, 0.3, "diametral", "plane stress")
        there = change.plain(q, factor, factor * wall, 2.0, 0.3, "diametral", "plane stress")
        assert there == pytest.approx(q / 2 * here, rel=1e-6)


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"line_load": -1.0}, "line_load = -1.0"),
        ({"radius": 0.0}, "radius = 0.0"),
        ({"wall": 50.0}, "wall = 50.0"),
        ({"young": 0.0}, "young = 0.0"),
        ({"poisson": 0.6}, "poisson = 0.6"),
        ({"state": "flat"}, "state = 'flat'"),
        ({"held_by": "glue"}, "held_by = 'glue'"),
    ],
)
def test_bad_arguments_are_named(change, named):
    good = {"line_load": 1.0, "radius": 50.0, "wall": 4.0, "young": 1.0, "poisson": 0.3}
    good |= {"held_by": "diametral", "state": "plane strain"}
    for formula in THICK + THIN:
        formula(**good)
        with pytest.raises(ValueError, match=named):
            formula(**good | change)
