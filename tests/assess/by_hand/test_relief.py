"""The best wall by hand: for which sections it is worked out, and from what."""

import pytest
from handcases import LENGTH, SOLID, TUBE, close, steps, value

from contactfe.hand import relief

STATED = {"cantilever": (900.0,)}


@pytest.mark.parametrize("section", [SOLID, TUBE])
def test_best_wall_from_the_half_width_by_hertz(section):
    found = steps(section, **STATED)
    sizes = value(found, "hertz_half_width"), 75.0, LENGTH
    assert value(found, "best_wall") == close(relief.best_wall(*sizes))
    assert value(found, "best_wall_relief") == close(relief.relief_of_best_wall(*sizes))


@pytest.mark.parametrize(
    "keys",
    [
        {"cantilever": None},
        {"held_by": "diametral"},
        {"held_by": "rigid core", "section": TUBE},
        {"state": "plane stress"},
        {"friction": 0.1},
        {"corner": 800.0},
    ],
    ids=lambda keys: next(iter(keys)),
)
def test_not_where_no_post_was_solved_so(keys):
    found = steps(**(STATED | keys))
    assert found.step("best_wall") is None
    assert found.step("best_wall_relief") is None


def test_light_loads_are_out_of_range():
    assert steps(line_load=400.0, **STATED).step("best_wall").worked.within_range
    (limit,) = steps(line_load=150.0, **STATED).step("best_wall").worked.exceeded
    assert limit.what == "a/R"
