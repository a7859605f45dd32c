"""Ring forces and factors: statics, and the energy conditions that close them."""

from decimal import Decimal, localcontext

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.hand import ring, thick_ring

HELD = ["diametral", "beam shear"]
angles = st.floats(-10.0, 10.0)


def section_forces(load, radius, angle, held_by, eccentricity=0.0):
    moment = ring.bending_moment.plain(load, radius, angle, held_by, eccentricity)
    return moment, ring.normal_force(load, angle, held_by)


@pytest.mark.parametrize("held_by", HELD)
class TestSectionForces:
    def test_equilibrium(self, held_by):
        """Of a short arc under the tangential flow: with V = −M'/R, V' = N and N' + V = flow."""
        phi, h, R, q = np.linspace(0.1, 3.0, 30), 1e-4, 3.0, 5.0
        low, mid, high = (section_forces(q, R, phi + d, held_by) for d in (-h, 0.0, h))
        V = -(high[0] - low[0]) / (2 * h * R)
        dV = -(high[0] - 2 * mid[0] + low[0]) / (h**2 * R)
        dN = (high[1] - low[1]) / (2 * h)
        flow = q * np.sin(phi) / np.pi if held_by == "beam shear" else 0.0
        np.testing.assert_allclose(dV, mid[1], atol=1e-6 * q)
        np.testing.assert_allclose(dN + V, flow, atol=1e-6 * q)

    def test_load_enters_as_a_step_of_shear(self, held_by):
        h, q, R = 1e-6, 5.0, 3.0
        ahead, at = (section_forces(q, R, phi, held_by)[0] for phi in (h, 0.0))
        assert -(ahead - at) / (h * R) == pytest.approx(q / 2, rel=1e-5)
        behind, end = (section_forces(q, R, phi, held_by)[0] for phi in (np.pi - h, np.pi))
        far = q / 2 if held_by == "diametral" else 0.0
        assert (behind - end) / (h * R) == pytest.approx(-far, abs=1e-5)

    @pytest.mark.parametrize("e", [0.0, 0.1])
    def test_energy(self, held_by, e):
        """The half ring neither rotates nor parts at the load line."""

        def rotation(phi):
            M, N = section_forces(1.0, 1.0, phi, held_by, e)
            return M - e * N

        def parting(phi):
            return section_forces(1.0, 1.0, phi, held_by, e)[0] * np.cos(phi)

        assert quad(rotation, 0, np.pi)[0] == pytest.approx(0, abs=1e-12)
        assert quad(parting, 0, np.pi)[0] == pytest.approx(0, abs=1e-12)

    @given(phi=angles)
    def test_symmetric_and_periodic(self, held_by, phi):
        here = section_forces(1.0, 1.0, phi, held_by)
        for other in (-phi, phi + 2 * np.pi):
            np.testing.assert_allclose(section_forces(1.0, 1.0, other, held_by), here, atol=1e-13)


def test_moments_of_the_thin_ring():
    M, N = section_forces(1.0, 1.0, [0.0, np.pi / 2], "diametral")
    np.testing.assert_allclose(M, [1 / np.pi, 1 / np.pi - 0.5])
    np.testing.assert_allclose(N, [0.0, -0.5], atol=1e-16)
    M, N = section_forces(1.0, 1.0, [0.0, np.pi / 2], "beam shear")
    np.testing.assert_allclose(M, [3 / (4 * np.pi), 1 / (2 * np.pi) - 0.25])
    np.testing.assert_allclose(N, [-3 / (4 * np.pi), -0.25])


@given(angles, st.floats(0.0, 0.3))
def test_two_loads_held_by_beam_shear_are_two_diametral_ones(phi, e):
    one, two = (np.array(section_forces(1.0, 1.0, a, "beam shear", e)) for a in (phi, phi + np.pi))
    diametral = section_forces(1.0, 1.0, phi, "diametral", e)
    np.testing.assert_allclose(one + two, diametral, atol=1e-13)


def test_eccentricity_must_lie_within_the_radius():
    with pytest.raises(ValueError, match=r"eccentricity = 1\.0"):
        section_forces(1.0, 1.0, 0.0, "diametral", 1.0)


@pytest.mark.parametrize("held_by", HELD)
@pytest.mark.parametrize("angle", [0.0, 0.7, np.pi / 2, 2.9, -1.0, 4.0])
def test_forms_of_the_section_forces(held_by, angle):
    for worked in (
        ring.bending_moment.worked(700.0, 60.0, angle, held_by),
        ring.bending_moment.worked(700.0, 60.0, angle, held_by, 0.9),
        ring.normal_force.worked(700.0, angle, held_by),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)


@pytest.mark.parametrize("wall", [1.0, 22.0, 60.0])
def test_form_of_the_eccentricity(wall):
    worked = ring.neutral_shift.worked(84.0, wall)
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)


@given(rho=st.floats(0.02, 0.98))
def test_stresses_of_turned_sections_balance_at_the_neutral_circle(rho):
    neutral = (1 + rho) / 2 - ring.neutral_shift(1.0, 1 - rho)
    assert quad(lambda r: (r - neutral) / r, rho, 1.0)[0] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("wall", [1e-12, 1e-8, 1e-5, 1e-3, 0.3, 0.4999, 0.5, 0.5001, 0.9, 0.999999])
def test_eccentricity_keeps_its_digits_in_any_wall(wall):
    # R − h/ln(ro/ri) with 60 digits. The series keeps all; beyond it a wall of half the radius
    # cancels 26-fold.
    digits = 1e-15 if wall <= 0.5 else 3e-14
    with localcontext(prec=60):
        h = Decimal(wall)
        expected = float(1 - h / 2 - h / -(1 - h).ln())
    assert ring.neutral_shift(1.0, wall) == pytest.approx(expected, rel=digits, abs=0.0)


@pytest.mark.parametrize(("state", "stiffer"), [("plane stress", 1.0), ("plane strain", 1 / 0.91)])
def test_shear_counts_by_its_modulus(state, stiffer):
    """β = F E'e/(GR) with G = E/2.6 at ν = 0.3, and a rectangle's F = 6/5."""
    shift, mean = ring.neutral_shift(84.0, 22.0), 73.0
    beta = 1.2 * stiffer * 2.6 * shift / mean
    assert ring.k1(84.0, 22.0, 0.3, state) == pytest.approx(1 - shift / mean + beta)
    assert ring.k2(84.0, 22.0) == pytest.approx(1 - shift / mean)


def exact_section(wall, angle, held_by):
    """Moment and normal force in the exact field at an angle, away from the load."""
    nodes, weights = np.polynomial.legendre.leggauss(60)
    r, dr = 1 - wall / 2 + nodes * wall / 2, weights * wall / 2
    hoop = thick_ring.stress(r, angle, 1.0, 1.0, 1 - wall, held_by, 0.3, "plane strain")[1]
    return -np.sum(hoop * (r - 1 + wall / 2) * dr), np.sum(hoop * dr)


@pytest.mark.parametrize("held_by", HELD)
def test_moment_beside_the_load_up_to_the_stated_eccentricity(held_by):
    wall = 0.5
    shift = ring.neutral_shift(1.0, wall)
    assert 0.95 < shift / (1 - wall / 2) / ring.LARGEST_ECCENTRICITY < 1
    moment = ring.bending_moment(1.0, 1 - wall / 2, np.pi / 2, held_by, shift)
    assert moment == pytest.approx(exact_section(wall, np.pi / 2, held_by)[0], rel=0.03)
    assert not ring.bending_moment.worked(1.0, 1.0, 0.0, held_by, 0.041).within_range


@pytest.mark.parametrize(("wall", "percent"), [(0.1, 0.3), (0.3, 3.6), (0.5, 13.1)])
def test_stated_error_of_the_normal_force_opposite_the_load(wall, percent):
    found = ring.normal_force(1.0, np.pi, "beam shear")
    exact = exact_section(wall, np.pi, "beam shear")[1]
    assert 100 * (found / exact - 1) == pytest.approx(percent, abs=0.1)
    beside = ring.normal_force(1.0, np.pi / 2, "beam shear")
    assert beside == pytest.approx(exact_section(wall, np.pi / 2, "beam shear")[1], rel=1e-9)
