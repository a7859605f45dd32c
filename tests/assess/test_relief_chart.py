"""A point of the design chart, solved anew by its script, is what the formulas say."""

import pytest

from contactfe.docs.relief_chart import SOLID, stresses
from contactfe.hand import relief
from contactfe.study.point import Kept

LOAD, LENGTH = 0.02, 1.0


def peak(wall: float) -> tuple[float, str]:
    """The greatest stress of a post, and where it is."""
    found = stresses(wall, LOAD, [LENGTH], Kept())[LENGTH]
    return max((stress, place) for place, stress in found.items())


def test_a_tube_of_the_best_wall_saves_what_the_formula_says():
    wall = relief.best_wall(LOAD, 1.0, 2.0 * LENGTH)
    (best, _), (thinner, amid), (thicker, at_end), (solid, _) = (
        peak(h) for h in (wall, 0.94 * wall, 1.06 * wall, SOLID)
    )
    expected = relief.relief_of_best_wall(LOAD, 1.0, 2.0 * LENGTH)
    assert 1.0 - best / solid == pytest.approx(expected, abs=5e-3)
    assert thinner > 1.01 * best
    assert thicker > 1.01 * best
    assert (amid, at_end) == ("contact zone, middle", "contact zone, end")
