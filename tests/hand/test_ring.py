"""Ring formulas: statics, the energy conditions that close them, and how near they come."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from contactfe.hand import ring, thick_ring

HELD = ["opposed", "beam shear"]
angles = st.floats(-10.0, 10.0)


@pytest.mark.parametrize("held_by", HELD)
class TestSectionForces:
    def test_equilibrium(self, held_by):
        """Of a short arc under the tangential flow: with V = −M'/R, V' = N and N' + V = flow."""
        phi, h, R, q = np.linspace(0.1, 3.0, 30), 1e-4, 3.0, 5.0
        low, mid, high = (ring.section_forces(q, R, phi + d, held_by) for d in (-h, 0.0, h))
        V = -(high[0] - low[0]) / (2 * h * R)
        dV = -(high[0] - 2 * mid[0] + low[0]) / (h**2 * R)
        dN = (high[1] - low[1]) / (2 * h)
        flow = q * np.sin(phi) / np.pi if held_by == "beam shear" else 0.0
        np.testing.assert_allclose(dV, mid[1], atol=1e-6 * q)
        np.testing.assert_allclose(dN + V, flow, atol=1e-6 * q)

    def test_load_enters_as_a_step_of_shear(self, held_by):
        h, q, R = 1e-6, 5.0, 3.0
        ahead, at = (ring.section_forces(q, R, phi, held_by)[0] for phi in (h, 0.0))
        assert -(ahead - at) / (h * R) == pytest.approx(q / 2, rel=1e-5)
        behind, end = (ring.section_forces(q, R, phi, held_by)[0] for phi in (np.pi - h, np.pi))
        far = q / 2 if held_by == "opposed" else 0.0
        assert (behind - end) / (h * R) == pytest.approx(-far, abs=1e-5)

    @pytest.mark.parametrize("e", [0.0, 0.1])
    def test_energy(self, held_by, e):
        """The half ring neither rotates nor parts at the load line."""

        def rotation(phi):
            M, N = ring.section_forces(1.0, 1.0, phi, held_by, e)
            return M - e * N

        def parting(phi):
            return ring.section_forces(1.0, 1.0, phi, held_by, e)[0] * np.cos(phi)

        assert quad(rotation, 0, np.pi)[0] == pytest.approx(0, abs=1e-12)
        assert quad(parting, 0, np.pi)[0] == pytest.approx(0, abs=1e-12)

    @given(phi=angles)
    def test_symmetric_and_periodic(self, held_by, phi):
        here = ring.section_forces(1.0, 1.0, phi, held_by)
        for other in (-phi, phi + 2 * np.pi):
            np.testing.assert_allclose(
                ring.section_forces(1.0, 1.0, other, held_by), here, atol=1e-13
            )


def test_moments_of_the_thin_ring():
    M, N = ring.section_forces(1.0, 1.0, [0.0, np.pi / 2], "opposed")
    np.testing.assert_allclose(M, [1 / np.pi, 1 / np.pi - 0.5])
    np.testing.assert_allclose(N, [0.0, -0.5], atol=1e-16)
    M, N = ring.section_forces(1.0, 1.0, [0.0, np.pi / 2], "beam shear")
    np.testing.assert_allclose(M, [3 / (4 * np.pi), 1 / (2 * np.pi) - 0.25])
    np.testing.assert_allclose(N, [-3 / (4 * np.pi), -0.25])


@given(angles, st.floats(0.0, 0.3))
def test_two_loads_held_by_beam_shear_are_two_opposed_ones(phi, e):
    one, two = (
        np.array(ring.section_forces(1.0, 1.0, a, "beam shear", e)) for a in (phi, phi + np.pi)
    )
    opposed = ring.section_forces(1.0, 1.0, phi, "opposed", e)
    np.testing.assert_allclose(one + two, opposed, atol=1e-13)


@pytest.mark.parametrize("hoop", [ring.thin_ring_hoop, ring.curved_beam_hoop])
@pytest.mark.parametrize("held_by", HELD)
class TestHoop:
    @given(q=st.floats(1e-3, 1e5), factor=st.floats(0.1, 10), rho=st.floats(0.05, 0.95), phi=angles)
    def test_linear_in_load_and_scale_free(self, hoop, held_by, q, factor, rho, phi):
        here = hoop(q, 1.0, 1 - rho, phi, held_by)
        assert hoop(factor * q, 1.0, 1 - rho, phi, held_by) == pytest.approx(factor * here)
        scaled = hoop(factor * q, factor, factor * (1 - rho), phi, held_by)
        assert scaled == pytest.approx(here, rel=1e-6, abs=1e-9 * q)

    @pytest.mark.parametrize("surface", ["bore", "outside"])
    def test_section_carries_its_moment_at_both_faces(self, hoop, held_by, surface):
        """The bore stretches under the load, the outside at the side."""
        side = 1 if surface == "bore" else -1
        assert side * hoop(1.0, 1.0, 0.1, 0.0, held_by, surface) > 0
        assert side * hoop(1.0, 1.0, 0.1, np.pi / 2, held_by, surface) < 0

    def test_thin_tubes_agree_with_the_exact_field(self, hoop, held_by):
        phi = np.array([0.0, 1.0, np.pi / 2, np.pi])
        exact = thick_ring.bore_hoop(1.0, 1.0, 0.99, phi, held_by, 0.3, "plane strain")
        np.testing.assert_allclose(hoop(1.0, 1.0, 0.01, phi, held_by), exact, rtol=0.01)

    @pytest.mark.parametrize(
        ("arguments", "named"),
        [
            ((-1.0, 50.0, 10.0, 0.0), "line_load = -1.0"),
            ((1.0, -50.0, 10.0, 0.0), "radius = -50.0"),
            ((1.0, 50.0, 0.0, 0.0), "wall = 0.0"),
            ((1.0, 50.0, 50.0, 0.0), "wall = 50.0"),
        ],
    )
    def test_bad_numbers_are_named(self, hoop, held_by, arguments, named):
        with pytest.raises(ValueError, match=named):
            hoop(*arguments, held_by)

    def test_bad_words_are_named(self, hoop, held_by):
        with pytest.raises(ValueError, match="held_by = 'glue'"):
            hoop(1.0, 50.0, 10.0, 0.0, "glue")
        with pytest.raises(ValueError, match="surface = 'inside'"):
            hoop(1.0, 50.0, 10.0, 0.0, held_by, "inside")


def test_eccentricity_must_lie_within_the_radius():
    with pytest.raises(ValueError, match=r"eccentricity = 1\.0"):
        ring.section_forces(1.0, 1.0, 0.0, "opposed", 1.0)


@pytest.mark.parametrize(
    ("wall", "held_by", "thin", "thin_side", "curved", "curved_side"),
    [
        (0.1, "opposed", -2.0, -3.6, 1.5, -0.1),
        (0.2, "opposed", -4.1, -7.8, 3.1, -0.4),
        (0.3, "opposed", -6.3, -12.6, 5.1, -1.1),
        (0.5, "opposed", -11.4, -24.6, 9.7, -3.0),
        (0.1, "beam shear", -1.5, -3.6, 2.0, -0.1),
        (0.2, "beam shear", -3.2, -7.8, 4.6, -0.4),
        (0.3, "beam shear", -4.9, -12.6, 7.7, -1.1),
        (0.5, "beam shear", -9.9, -24.6, 15.9, -3.0),
    ],
)
def test_stated_error_at_the_bore(wall, held_by, thin, thin_side, curved, curved_side):
    """The percentages that the docstrings tell the user, under the load and at 90°."""
    phi = np.array([0.0, np.pi / 2])
    exact = thick_ring.bore_hoop(1.0, 1.0, 1 - wall, phi, held_by, 0.3, "plane strain")
    for hoop, errors in (
        (ring.thin_ring_hoop, (thin, thin_side)),
        (ring.curved_beam_hoop, (curved, curved_side)),
    ):
        error = 100 * (hoop(1.0, 1.0, wall, phi, held_by) / exact - 1)
        np.testing.assert_allclose(error, errors, atol=0.1)
