"""The hold of a solid post: its constant beside the mean of the displacement, by numbers."""

import numpy as np
import pytest
from forms import evaluate

from contactfe.hand import approach, approach_hold, flexure
from contactfe.hand.formula import OutOfRangeWarning

POST = {"radius": 50.0, "half_width": 0.761133, "young": 200e3, "poisson": 0.3}

# Displacement along x odd in x and along y even in x, up to the fourth degree.
TERMS = [("x" if i % 2 else "y", i, d - i) for d in range(5) for i in range(d + 1)]


def derivative(i, j, a, b, x, y):
    """∂^(a+b) of x^i y^j, a times over x and b times over y."""
    if i < a or j < b:
        return 0.0 * x
    factor = np.prod(np.arange(i - a + 1, i + 1)) * np.prod(np.arange(j - b + 1, j + 1))
    return factor * x ** (i - a) * y ** (j - b)


def flamant(x, y, n):
    """Displacement, E' = 1, of a half-plane y > −1 under a unit load upwards at (0, −1)."""
    r, angle = np.hypot(x, y + 1), np.arctan2(x, y + 1)
    c, s = np.cos(angle), np.sin(angle)
    radial = -2 * c * np.log(r) - (1 - n) * angle * s
    turning = 2 * n * s + 2 * np.log(r) * s - (1 - n) * angle * c + (1 - n) * s
    return (radial * s + turning * c) / np.pi, (radial * c - turning * s) / np.pi


def middle_less_mean(poisson, n):
    """π times how much farther up the mean by shear goes than the middle, R = 1, E' = 1, sign −.

    The displacement is Flamant's and a polynomial, found so that stress balances the shear in the
    round and the rim is free but for the load.
    """
    C, G = 1 / (1 - n**2), 1 / (2 * (1 + n))

    def shear(x, y):
        return flexure.flexure_shear(x, y, 1.0, 1.0, 0.0, poisson)

    rng = np.random.default_rng(1)
    r, t = np.sqrt(rng.random(60)), 2 * np.pi * rng.random(60)
    x, y = r * np.cos(t), r * np.sin(t)
    t = np.linspace(0, 2 * np.pi, 61)[:-1] + 0.013
    X, Y = np.cos(t), np.sin(t)
    columns = []
    for of, i, j in TERMS:
        xx, xy, yy = (derivative(i, j, *ab, x, y) for ab in ((2, 0), (1, 1), (0, 2)))
        dx, dy = derivative(i, j, 1, 0, X, Y), derivative(i, j, 0, 1, X, Y)
        if of == "x":
            inside = C * xx + G * yy, (C * n + G) * xy
            sx, sy, tau = C * dx, C * n * dx, G * dy
        else:
            inside = (C * n + G) * xy, C * yy + G * xx
            sx, sy, tau = C * n * dy, C * dy, G * dx
        columns.append(np.concatenate([*inside, sx * X + tau * Y, tau * X + sy * Y]))
    away = np.hypot(X, Y + 1)
    ex, ey = X / away, (Y + 1) / away
    pull = -2 * ey / (np.pi * away) * (ex * X + ey * Y)  # of Flamant's field on the rim
    right = np.concatenate([*shear(x, y), -pull * ex, -pull * ey])
    found, *_ = np.linalg.lstsq(np.array(columns).T, right, rcond=None)
    assert np.array(columns).T @ found == pytest.approx(right, abs=1e-12)  # exact, not nearest

    def moved(x, y):
        u, v = flamant(x, y, n)
        for value, (of, i, j) in zip(found, TERMS, strict=True):
            more = value * x**i * y**j
            u, v = (u + more, v) if of == "x" else (u, v + more)
        return u, v

    # About the load, where the displacement is a logarithm.
    g, w = np.polynomial.legendre.leggauss(60)
    angle, out = np.meshgrid(g * np.pi / 2, ((g + 1) / 2) ** 3, indexing="ij")
    area = np.outer(w * np.pi / 2, w / 2 * 3 * ((g + 1) / 2) ** 2)
    chord = 2 * np.cos(angle)
    x, y = chord * out * np.sin(angle), chord * out * np.cos(angle) - 1
    fx, fy = shear(x, y)
    u, v = moved(x, y)
    mean = ((fx * u + fy * v) * chord**2 * out * area).sum()
    return np.pi * (moved(np.zeros(1), np.zeros(1))[1][0] - mean)


@pytest.mark.parametrize(
    ("poisson", "state", "plane"),
    [
        (0.0, "plane strain", 0.0),
        (0.3, "plane strain", 3 / 7),
        (0.3, "plane stress", 0.3),
        (0.45, "plane strain", 9 / 11),
    ],
)
def test_the_constant_is_the_mean_of_the_exact_displacement(poisson, state, plane):
    constant = approach_hold.hold_constant(poisson, "beam shear", state)
    assert constant == pytest.approx(middle_less_mean(poisson, plane), abs=1e-6)  # of quadrature


def test_stated_values():
    assert approach_hold.hold_constant(0.0, "beam shear", "plane strain") == pytest.approx(23 / 288)
    assert approach_hold.hold_constant(0.3, "beam shear", "plane strain") == pytest.approx(
        0.1003, abs=5e-5
    )


@pytest.mark.parametrize("state", ["plane strain", "plane stress"])
def test_it_is_the_middle_and_the_constant(state):
    q = np.array([0.0, 400.0, 1000.0])
    modulus = 200e3 / 0.91 if state == "plane strain" else 200e3
    for held, more in (("diametral", 0.0), ("beam shear", q / (np.pi * modulus))):
        constant = approach_hold.hold_constant(0.3, held, state)
        middle = approach.solid(q, **POST, held_by=held, state=state)
        hold = approach_hold.solid(q, **POST, held_by=held, state=state)
        assert hold == pytest.approx(middle + constant * more, rel=1e-12)


@pytest.mark.parametrize("held", ["diametral", "beam shear"])
def test_the_form_computes_to_the_value(held):
    worked = approach_hold.solid.worked(1000.0, **POST, held_by=held, state="plane strain")
    assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12)


def test_wide_patches_are_marked():
    with pytest.warns(OutOfRangeWarning, match="a/R"):
        approach_hold.solid(1.0, 50.0, 6.0, 200e3, 0.3, "diametral", "plane strain")
