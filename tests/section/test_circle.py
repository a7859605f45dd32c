import numpy as np
import pytest

from contactfe.section.circle import circle_of_radius, fitted_circle, fitted_diameter


def arc(half_angle, n=9):
    angle = np.linspace(-half_angle, half_angle, n) + 0.3
    return np.array([1.0e3, -40.0]) + 80.0 * np.column_stack([np.sin(angle), -np.cos(angle)])


@pytest.mark.parametrize("half_angle", [0.03, 0.3, 1.5])
def test_points_on_a_circle_give_it_back(half_angle):
    points = arc(half_angle)
    centre, radius = fitted_circle(points)
    # Rounding of coordinates near 1e3 is magnified by one over the arc's height over its radius.
    loose = 1e-11 / half_angle**2
    assert centre == pytest.approx([1.0e3, -40.0], rel=0, abs=80.0 * loose)
    assert radius == pytest.approx(80.0, rel=loose)
    assert fitted_diameter(points) == pytest.approx(160.0, rel=loose)
    stated, off = circle_of_radius(points, 80.0)
    assert stated == pytest.approx([1.0e3, -40.0], abs=1e-8)
    assert off < 1e-9


def test_points_off_the_circle_are_told_by_how_much():
    # A parabola x²/2R of the wrong R against the stated one: with the best height the farthest
    # point is off by two thirds of the difference of the heights (derived here, for many points).
    half_angle = 0.1
    points = arc(half_angle, n=401)
    _, off = circle_of_radius(points, 80.0 * 1.02)
    height = 80.0 * half_angle**2 / 2.0
    assert off == pytest.approx(2.0 / 3.0 * 0.02 * height, rel=0.04)  # to the next order


def test_a_straight_line_has_no_diameter():
    line = np.linspace(0.0, 10.0, 5)[:, None] * [0.6, 0.8] + 5.0
    assert fitted_diameter(line) is None
    assert fitted_diameter(line[:2]) is None
