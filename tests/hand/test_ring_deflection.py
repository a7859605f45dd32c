"""Changes of diameter: from the energy of a curved beam, and against the exact field."""

from itertools import pairwise

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import cumulative_simpson, quad, simpson

from contactfe.hand import ring, ring_deflection, thick_ring
from contactfe.hand.formula import OutOfRangeWarning
from contactfe.hand.stress import plane_modulus, plane_poisson

HELD = ["diametral", "beam shear"]
STATES = ["plane stress", "plane strain"]
THICK = [ring_deflection.change_along, ring_deflection.change_across]


def walked_change(rho, held_by, nu, state):
    """Exact changes of the bore's diameters along and across, from the strains; ro = 1, E = 1.

    Along the bore ∂ω/∂φ = ∂(rεθ)/∂r − εr and ∂u/∂φ = c(εθ θ̂ − ω r̂), ω the rotation, 0 at the load.
    """
    phi, h = np.linspace(0.0, np.pi, 2001), 1e-4 * rho
    E, nu_plane = plane_modulus(1.0, nu, state), plane_poisson(nu, state)
    radial, hoop = [], []
    for r in (rho, rho + h, rho + 2 * h):
        sigma_r, sigma_theta, _ = thick_ring.stress(r, phi, 1.0, 1.0, rho, held_by, nu, state)
        radial.append((sigma_r - nu_plane * sigma_theta) / E)
        hoop.append((sigma_theta - nu_plane * sigma_r) / E)
    slope = (-3 * hoop[0] + 4 * hoop[1] - hoop[2]) / (2 * h)
    turned = cumulative_simpson(rho * slope + hoop[0] - radial[0], x=phi, initial=0.0)
    assert turned[-1] == pytest.approx(0.0, abs=1e-5 * np.abs(turned).max())
    towards = rho * (-hoop[0] * np.sin(phi) - turned * np.cos(phi))
    beside = rho * (hoop[0] * np.cos(phi) - turned * np.sin(phi))
    return -simpson(towards, x=phi), 2 * simpson(beside[:1001], x=phi[:1001])


def section_forces(R, phi, how, e):
    return ring.bending_moment.plain(1.0, R, phi, how, e), ring.normal_force(1.0, phi, how)


def virtual_work(wall, held_by, nu, state, turn):
    """Change of a diameter by a unit pair of forces that pushes in on it, over the whole ring.

    ``turn`` is the diameter's angle from the load line. E = 1 and the outside radius is 1.
    """
    R, e = 1 - wall / 2, ring.neutral_shift(1.0, wall)
    E = 1 / (1 - nu**2) if state == "plane strain" else 1.0
    G = 1 / (2 * (1 + nu))

    def forces(phi, how):
        """M, N and the shear force −M'/R, by a central difference."""
        M, N = section_forces(R, phi, how, e)
        h = 1e-5
        ahead, behind = (section_forces(R, phi + d, how, e)[0] for d in (h, -h))
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
    for change in THICK:
        worked = change.worked(1000.0, 84.15, wall, 200e3, 0.3, held_by, state)
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)


@pytest.mark.parametrize("held_by", HELD)
def test_a_thin_wall_makes_the_thick_ring_a_thin_one(held_by):
    """(π/4 − 2/π) and (2/π − 1/2) of qR³/(E'I), half of it under beam shear."""
    unit = 12 * 0.995**3 / 0.01**3 * 0.91 * (1.0 if held_by == "diametral" else 0.5)
    for change, share in zip(THICK, (2 / np.pi - np.pi / 4, 2 / np.pi - 0.5), strict=True):
        # What sets them apart is of the order of (h/R)², but for shear, which is a few times that.
        found = change(1.0, 1.0, 0.01, 1.0, 0.3, held_by, "plane strain")
        assert found == pytest.approx(share * unit, rel=1e-3)


@pytest.mark.parametrize(
    ("state", "along", "across"),
    [
        ("plane stress", [0.3, 1.4, 4.0, 8.6, 16.1], [0.1, 0.6, 1.5, 3.2, 5.9]),
        ("plane strain", [0.4, 2.1, 5.4, 11.2, 20.2], [0.2, 1.1, 2.7, 5.4, 9.7]),
    ],
)
def test_stated_errors_of_the_thick_ring(state, along, across):
    for wall, *errors in zip((0.1, 0.2, 0.3, 0.4, 0.5), along, across, strict=True):
        exact = walked_change(1.0 - wall, "beam shear", 0.3, state)
        for change, right, percent in zip(THICK, exact, errors, strict=True):
            found = change.plain(1.0, 1.0, wall, 1.0, 0.3, "beam shear", state)
            assert 100 * (found / right - 1) == pytest.approx(percent, abs=0.1)


def test_range():
    bound = ring_deflection.THICKEST
    wall = 2 * bound / (2 + bound)
    for nu, state, off in ((0.3, STATES[0], 5.0), (0.3, STATES[1], 5.0), (0.5, STATES[1], 10.5)):
        along = ring_deflection.change_along(1.0, 1.0, wall, 1.0, nu, "diametral", state)
        exact, _ = walked_change(1.0 - wall, "diametral", nu, state)
        percent = 100 * (along / exact - 1)
        assert 0 < percent < off + 0.1
        assert nu == 0.3 or percent == pytest.approx(off, abs=0.1)
    for change in THICK:
        with pytest.warns(OutOfRangeWarning, match="h/R"):
            change(1.0, 1.0, 1.01 * wall, 1.0, 0.3, "diametral", "plane stress")


def test_no_load_gives_none_that_is_written_minus():
    for change in THICK:
        assert not np.signbit(change(0.0, 1.0, 0.05, 1.0, 0.3, "beam shear", "plane stress"))


@given(q=st.floats(1e-3, 1e5), factor=st.floats(0.1, 10), wall=st.floats(0.02, 0.9))
def test_linear_in_load_and_free_of_scale(q, factor, wall):
    for change in THICK:
        here = change.plain(1.0, 1.0, wall, 1.0, 0.3, "diametral", "plane stress")
        there = change.plain(q, factor, factor * wall, 2.0, 0.3, "diametral", "plane stress")
        assert there == pytest.approx(q / 2 * here, rel=1e-6)


def test_a_wall_of_the_radius_is_refused():
    for change in THICK:
        with pytest.raises(ValueError, match=r"wall = 1\.0"):
            change(1.0, 1.0, 1.0, 1.0, 0.3, "diametral", "plane stress")
