"""The squeezed disc: one field written three ways, loads at points summed, and its measures."""

import numpy as np
import pytest
from forms import evaluate
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import disc, stress, thick_ring
from contactfe.hand.formula import OutOfRangeWarning

HELD = ["diametral", "beam shear"]
STATES = ["plane stress", "plane strain"]
Q, D = 1000.0, 100.0


@given(u=st.floats(0.0, 0.99), phi=st.floats(-np.pi, np.pi))
def test_field_is_that_of_the_series(u, phi):
    """In polar components: the angle runs from the load at (0, −R) towards +x."""
    s, c = np.sin(phi), np.cos(phi)
    across, along, shear = disc.point_loads(u * 50.0 * s, -u * 50.0 * c, Q, D)
    found = [
        across * s**2 + along * c**2 - 2 * shear * s * c,
        across * c**2 + along * s**2 + 2 * shear * s * c,
        (across - along) * s * c + shear * (s**2 - c**2),
    ]
    series = thick_ring.stress(u * 50.0, phi, Q, 50.0, 0.0, "diametral", 0.3, "plane strain")
    np.testing.assert_allclose(found, series, rtol=1e-9, atol=1e-9 * np.abs(series).max())


def test_rim_is_free():
    phi = np.linspace(0.1, np.pi - 0.1, 50)
    x, y = np.sin(phi), np.cos(phi)
    across, along, shear = disc.point_loads(x, y, np.pi, 2.0)
    np.testing.assert_allclose(across * x + shear * y, 0, atol=1e-10)
    np.testing.assert_allclose(shear * x + along * y, 0, atol=1e-10)


def test_tension_is_uniform_along_the_load_line():
    across = disc.point_loads(0.0, np.linspace(-49.0, 49.0, 12), Q, D)[0]
    np.testing.assert_allclose(across, disc.centre_across(Q, D, "diametral"), rtol=1e-12)


def summed(y, directions, weights):
    """Stresses across and along at y on the load line, R = 1 and q = π: pairs of loads turned.

    A pair turned by β from the line makes, in axes turned with it, the field of two loads.
    """
    s, c = np.sin(directions), np.cos(directions)
    across, along, shear = disc.point_loads(-y * s, y * c, np.pi, 2.0)
    x = across * c**2 + along * s**2 + 2 * shear * s * c
    z = across * s**2 + along * c**2 - 2 * shear * s * c
    return x @ weights, z @ weights


@pytest.mark.parametrize("degrees", [2.5, 7.5, 15.0, 60.0])
@pytest.mark.parametrize("y", [0.0, 0.5, -0.8])
def test_arc_is_the_sum_of_loads_at_points(degrees, y):
    nodes, weights = np.polynomial.legendre.leggauss(60)
    alpha = np.radians(degrees)
    expected = summed(y, alpha * nodes, weights / 2)
    np.testing.assert_allclose(disc.arc_loads(y, np.pi, 2.0, alpha), expected, rtol=1e-9)


@pytest.mark.parametrize("alpha", [1e-200, 1e-9, 1e-3, 1.0])
@pytest.mark.parametrize("y", [-1.0, 1.0])
def test_the_rim_in_the_middle_of_an_arc_bears_its_pressure(alpha, y):
    # The pressure is q/(αD), and below the middle of an even one both stresses are equal to it.
    across, along = disc.arc_loads(y, np.pi, 2.0, alpha)
    assert across == pytest.approx(-np.pi / (2 * alpha), rel=1e-12)
    assert along == pytest.approx(-np.pi / (2 * alpha), rel=1e-12)


@pytest.mark.parametrize("held_by", ["diametral", "beam shear"])
def test_no_load_gives_none_that_is_written_minus(held_by):
    figures = [disc.centre_along(0.0, D, held_by), *disc.point_loads(0.0, 1.0, 0.0, D)]
    assert not np.signbit([*figures, *disc.arc_loads(1.0, 0.0, D, 0.1)]).any()


def test_pressure_all_round_is_pressure_everywhere():
    y = np.linspace(-1.0, 1.0, 9)
    for part in disc.arc_loads(y, np.pi / 2, 2.0, np.pi / 2):
        np.testing.assert_allclose(part, -0.5, rtol=1e-12)


@pytest.mark.parametrize("b", [0.05, 0.2, 0.3])
def test_contact_width_beside_the_sum_over_a_hertz_pressure(b):
    """Over the chord the pressure is a half circle; at the centre its sum is 1 − b²."""
    nodes, weights = np.polynomial.chebyshev.chebgauss(40)
    pressure = weights * (1 - nodes**2)
    across, _ = summed(0.0, np.arcsin(b * nodes), pressure / pressure.sum())
    assert across == pytest.approx(1 - b**2, rel=1e-12)
    found = disc.contact_centre_across(np.pi, 2.0, b)
    assert found == pytest.approx(across, rel=0.01)


@pytest.mark.parametrize("held_by", HELD)
@pytest.mark.parametrize("state", STATES)
def test_measures_at_the_centre(held_by, state):
    pair = thick_ring.disc_centre_stress(Q, D, held_by)
    assert pair == (disc.centre_across(Q, D, held_by), disc.centre_along(Q, D, held_by))
    shear = stress.max_shear(*pair, 0.0, 0.3, state)
    assert disc.centre_shear(Q, D, held_by) == pytest.approx(shear)
    von_mises = stress.von_mises(*pair, 0.0, 0.3, state)
    assert disc.centre_von_mises(Q, D, held_by, 0.3, state) == pytest.approx(von_mises)


@pytest.mark.parametrize("held_by", HELD)
@pytest.mark.parametrize("state", STATES)
def test_forms(held_by, state):
    for worked in (
        disc.centre_across.worked(Q, D, held_by),
        disc.centre_along.worked(Q, D, held_by),
        disc.centre_shear.worked(Q, D, held_by),
        disc.centre_von_mises.worked(Q, D, held_by, 0.3, state),
        disc.along_across_the_middle.worked(0.0, Q, D),
        disc.along_across_the_middle.worked(-17.0, Q, D),
        disc.arc_centre_across.worked(Q, D, 0.2),
        disc.arc_centre_along.worked(Q, D, 0.2),
        disc.contact_centre_across.worked(Q, D, 7.0),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-9)


def test_range():
    assert disc.contact_centre_across.worked(Q, D, 15.0).within
    with pytest.warns(OutOfRangeWarning, match="2a/D"):
        disc.contact_centre_across(Q, D, 15.1)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: disc.point_loads(0.0, 0.0, -1.0, D), r"line_load = -1\.0"),
        (lambda: disc.point_loads(0.0, 0.0, Q, 0.0), r"diameter = 0\.0"),
        (lambda: disc.point_loads(40.0, 40.0, Q, D), "outside the disc"),
        (lambda: disc.point_loads(0.0, [0.0, 50.0], Q, D), "load point"),
        (lambda: disc.point_loads(0.0, -50.0, Q, D), "load point"),
        (lambda: disc.along_across_the_middle(51.0, Q, D), "outside the disc"),
        (lambda: disc.centre_across(Q, -1.0, "diametral"), r"diameter = -1\.0"),
        (lambda: disc.centre_along(Q, D, "glue"), "held_by = 'glue'"),
        (lambda: disc.centre_von_mises(Q, D, "diametral", 0.6, "plane strain"), r"poisson = 0\.6"),
        (lambda: disc.arc_loads(0.0, Q, D, 0.0), r"half_angle = 0\.0"),
        (lambda: disc.arc_loads(0.0, Q, D, 1.6), r"half_angle = 1\.6"),
        (lambda: disc.arc_loads(51.0, Q, D, 0.1), r"y = 51\.0"),
        (lambda: disc.arc_centre_across(-1.0, D, 0.1), r"line_load = -1\.0"),
        (lambda: disc.contact_centre_across(Q, D, -1.0), r"half_width = -1\.0"),
        (lambda: disc.contact_centre_across(Q, D, 51.0), r"half_width = 51\.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
