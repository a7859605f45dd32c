"""Approach of bodies in line contact against integrals of the strain between contact and datum.

Of a layer, against the integral of its Fourier transform. Solved bodies stand in the verification
set.
"""

from itertools import pairwise

import numpy as np
import pytest
from forms import evaluate
from scipy.integrate import quad
from scipy.special import j1

from contactfe.hand import approach, approach_pair, hertz, thick_ring
from contactfe.hand.formula import OutOfRangeWarning
from contactfe.hand.stress import plane_modulus, plane_poisson

STATES = ("plane strain", "plane stress")
HELD = ("diametral", "beam shear")
HOLDS = [(post, plate) for post in HELD for plate in ("rigid base", "edges")]
STEEL, ALUMINIUM = (200e3, 0.3), (70e3, 0.33)
POISSON = (0.0, 0.3, 0.45)


def shortening(stresses, start, end, young, poisson, state):
    """Integral of the compression along a line whose σ across and σ along are given by depth."""

    def compression(z):
        across, along = stresses(z)
        nu = plane_poisson(poisson, state)
        return (nu * across - along) / plane_modulus(young, poisson, state)

    edges = [start, *np.geomspace(max(start, end * 1e-5), end, 13)[1:]]
    points, weights = np.polynomial.legendre.leggauss(8)
    return sum(
        weight * (high - low) / 2 * compression((low + high) / 2 + (high - low) / 2 * point)
        for low, high in pairwise(edges)
        for point, weight in zip(points, weights, strict=True)
    )


def radius_of_a_round(q, R, a, held_by, nu, state):
    """Hertz below the contact, and what a line load on the round adds to that on a half-space."""

    def stresses(z):
        across, along = hertz.axis_stress(z, a, 2 * q / (np.pi * a))
        radial, hoop, _ = thick_ring.stress(R - z, 0.0, q, R, 0.0, held_by, nu, state)
        return across + hoop, along + radial + 2 * q / (np.pi * z)

    return stresses


def radius_of_the_exact_round(q, R, a, held_by, nu, state):
    """The pressure of Hertz over the chord, as loads at points of the rim, each square to it.

    Its component along the axis is q. Each load is held as the whole is.
    """
    theta = (np.arange(4000) + 0.5) * np.pi / 4000 - np.pi / 2
    phi = np.arcsin(a / R * np.sin(theta))
    load = 2 * q / np.pi * np.cos(theta) ** 2 / np.cos(phi) * np.pi / 4000

    def stresses(z):
        radial, hoop, _ = thick_ring.stress(R - z, -phi, 1.0, R, 0.0, held_by, nu, state)
        return load @ hoop, load @ radial

    return stresses


def transform(k):
    """How far a layer of t = 1 on a smooth rigid base gives way to a pressure cos kx, times E'k/2.

    Airy's function is (A cosh ky + B y sinh ky) cos kx, y from the base, where it meets no shear
    and no movement; on top no shear and the pressure. On the way down E'v = k² ∫ f dy.
    """
    sinh, cosh = np.sinh(k), np.cosh(k)
    A, B = np.linalg.solve([[k * sinh, sinh + k * cosh], [k**2 * cosh, k**2 * sinh]], [0.0, 1.0])
    f = quad(lambda y: A * np.cosh(k * y) + B * y * np.sinh(k * y), 0.0, 1.0)[0]
    return k / 2 * k**2 * f


def stated(k):
    """The same as :data:`approach.LAYER` has it."""
    return (np.cosh(2 * k) - 1) / (np.sinh(2 * k) + 2 * k) if k < 100.0 else 1.0


def exact_layer(a):
    """πE'δ/q of a layer of t = 1 under the pressure of Hertz."""

    def spread(k):
        return 2 * j1(k * a) / (k * a) / k

    # Beyond k = 20 the layer is a half-space to 1e-15, of which a primitive is known for small a;
    # what a leaves off it, (2J1(x)/x − 1)/x, is integrated up to there.
    near = quad(lambda k: stated(k) * spread(k), 1e-9, 20.0, limit=200)[0]
    off = quad(lambda x: (2 * j1(x) / x - 1) / x, 1e-9, 20.0 * a)[0]
    return 2 * (near + np.log(2) + 0.5 - np.euler_gamma - np.log(20.0 * a) - off)


class TestSolid:
    @pytest.mark.parametrize("state", STATES)
    @pytest.mark.parametrize("nu", POISSON)
    @pytest.mark.parametrize("held_by", HELD)
    def test_against_strain(self, held_by, nu, state):
        q, R = 1000.0, 50.0
        for a in (0.05, 0.7611):
            found = approach.solid(q, R, a, 200e3, nu, held_by, state)
            field = radius_of_a_round(q, R, a, held_by, nu, state)
            # What the formula leaves out is of the order of (a/R)², here of a/R at the surface.
            expected = shortening(field, 0.0, R, 200e3, nu, state)
            assert found == pytest.approx(expected, rel=2 * (a / R) ** 2)

    @pytest.mark.parametrize("state", STATES)
    @pytest.mark.parametrize("nu", POISSON)
    @pytest.mark.parametrize("held_by", HELD)
    def test_at_the_end_of_its_range(self, held_by, nu, state):
        R = 1.0
        a = hertz.LARGEST_PATCH * R
        # Close to the rim the sum over point loads fails; there strain is even.
        start = 2e-3 * a
        field = radius_of_the_exact_round(1.0, R, a, held_by, nu, state)
        first = shortening(lambda _: field(start), 0.0, start, 1.0, nu, state)
        expected = first + shortening(field, start, R, 1.0, nu, state)
        found = float(approach.solid(1.0, R, a, 1.0, nu, held_by, state))
        assert found < expected
        assert found == pytest.approx(expected, rel=0.011)

    @pytest.mark.parametrize(("nu", "constant"), [(0.0, -7 / 48), (0.3, -0.3227), (0.5, -7 / 12)])
    def test_stated_constants_under_beam_shear(self, nu, constant):
        worked = approach.solid.worked(1.0, 50.0, 1.0, 1.0, nu, "beam shear", "plane strain")
        assert worked.given["constant"].value == pytest.approx(constant, abs=5e-5)


class TestLayer:
    @pytest.mark.parametrize("k", [0.03, 0.7, 2.0, 9.0])
    def test_its_transform_is_the_stated_one(self, k):
        assert transform(k) == pytest.approx(stated(k), rel=1e-9)

    @pytest.mark.parametrize("state", STATES)
    @pytest.mark.parametrize("nu", POISSON)
    def test_against_the_integral(self, nu, state):
        E = plane_modulus(70e3, nu, state)
        # 1e-6 is the digits of the constant; 0.2 % what the end of the range promises.
        for t, off in ((500.0, 1e-6), (50.0, 2e-5), (5.0, 0.0022)):
            found = approach.layer(900.0, t, 1.0, 70e3, nu, state)
            expected = 900.0 / (np.pi * E) * exact_layer(1 / t)
            assert found == pytest.approx(expected, rel=off)

    def test_beyond_its_range_it_is_further_off(self):
        found = float(approach.layer.plain(np.pi, 1.0, 0.4, 1.0, 0.0, "plane stress"))
        assert found / exact_layer(0.4) - 1 < -0.01

    @pytest.mark.parametrize("state", STATES)
    def test_a_strip_is_two_layers_of_half_the_thickness_under_half_the_load(self, state):
        two = 2 * approach.layer(450.0, 20.0, 0.7, *STEEL, state)
        assert approach.strip(900.0, 40.0, 0.7, *STEEL, state) == pytest.approx(two, rel=1e-12)


@pytest.mark.parametrize("state", STATES)
class TestTogether:
    def test_parts_add_up(self, state):
        q, a = 800.0, 0.6
        for held_by in HELD:
            post = approach.solid(q, 50.0, a, *STEEL, held_by, state)
            for plate_held_by, plate in (("rigid base", approach.layer), ("edges", approach.strip)):
                below = plate(q, 40.0, a, *ALUMINIUM, state)
                held = (held_by, plate_held_by, state)
                both = approach_pair.post_on_plate(q, 50.0, 40.0, a, *STEEL, *ALUMINIUM, *held)
                assert both == pytest.approx(post + below, rel=1e-12)

    @pytest.mark.parametrize("held", HOLDS)
    def test_stiffness_is_the_slope_of_the_load(self, held, state):
        R, t = 50.0, 40.0
        E_star = hertz.contact_modulus(*STEEL, *ALUMINIUM, state)

        def delta(q):
            a = hertz.half_width(q, R, E_star)
            return approach_pair.post_on_plate(q, R, t, a, *STEEL, *ALUMINIUM, *held, state)

        q = 700.0
        bodies = (R, t, hertz.half_width(q, R, E_star), *STEEL, *ALUMINIUM, *held, state)
        slope = 2.0 / (delta(q + 1.0) - delta(q - 1.0))
        # A central difference over a 700th of the load leaves its square.
        assert approach_pair.tangent_stiffness(*bodies) == pytest.approx(slope, rel=1e-6)

    def test_arrays_broadcast(self, state):
        q, t = np.array([[100.0], [200.0], [400.0]]), np.array([25.0, 50.0])
        a = hertz.half_width(q, 50.0, 110e3)
        held = ("beam shear", "edges", state)
        found = approach_pair.post_on_plate(q, 50.0, t, a, *STEEL, *STEEL, *held)
        assert found.shape == (3, 2)
        one = approach_pair.post_on_plate(200.0, 50.0, 25.0, float(a[1, 0]), *STEEL, *STEEL, *held)
        assert found[1, 0] == pytest.approx(one)


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("held", HOLDS)
def test_the_form_computes_to_the_value(held, state):
    bodies = (*STEEL, *ALUMINIUM)
    for a in (0.2, 0.9):
        for worked in (
            approach.solid.worked(900.0, 50.0, a, *STEEL, held[0], state),
            approach.layer.worked(900.0, 40.0, a, *ALUMINIUM, state),
            approach.strip.worked(900.0, 40.0, a, *ALUMINIUM, state),
            approach_pair.post_on_plate.worked(900.0, 50.0, 40.0, a, *bodies, *held, state),
            approach_pair.tangent_stiffness.worked(50.0, 40.0, a, *bodies, *held, state),
        ):
            assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12), worked.formula
            assert worked.within_range, worked.formula


def test_out_of_range_they_are_marked():
    with pytest.warns(OutOfRangeWarning, match=r"approach\.solid.*a/R = 0\.12, at most 0\.1"):
        approach.solid(1.0, 50.0, 6.0, *STEEL, "diametral", "plane strain")
    bodies = (*STEEL, *STEEL)
    for formula, least in ((approach.layer, 5.0), (approach.strip, 10.0)):
        assert formula.worked(1.0, least, 1.0, *STEEL, "plane strain").within_range
        shallow = formula.worked(1.0, 0.98 * least, 1.0, *STEEL, "plane strain")
        assert [limit.what for limit in shallow.exceeded] == ["a/t"]
    for thickness, plate_held_by in ((29.0, "rigid base"), (59.0, "edges")):
        held = ("beam shear", plate_held_by, "plane strain")
        both = (
            approach_pair.post_on_plate.worked(1.0, 50.0, thickness, 6.0, *bodies, *held),
            approach_pair.tangent_stiffness.worked(50.0, thickness, 6.0, *bodies, *held),
        )
        passed = [[limit.what for limit in worked.exceeded] for worked in both]
        assert passed == [["a/R", "a/t"]] * 2


def test_the_reach_of_a_plate_is_marked():
    assert approach.reach_limit(50.0, 49.9).exceeded
    assert not approach.reach_limit(50.0, 50.0).exceeded
    with pytest.raises(ValueError, match=r"edge_distance = 0\.0"):
        approach.reach_limit(50.0, 0.0)
