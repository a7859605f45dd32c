"""Whether a mesh suits the patches solved on it, and meshing anew until one does."""

from dataclasses import replace

import pytest

from contactfe.assess.fit import LOADS, MOST_MESHES, RESULTS, fitted, suits
from contactfe.errors import SolveError
from contactfe.section.grading import Patch

HERE = Patch(0.0, 1.0)


@pytest.mark.parametrize(
    ("found", "fits"),
    [
        (Patch(0.0, 1.0, True, (-0.5, 0.5)), True),
        (Patch(0.14, 1.1, True, (-0.44, 0.56)), True),
        (Patch(0.0, 1.0, True), True),
        (Patch(0.0, 1.0, True, (-0.5, 0.6)), False),
        (Patch(0.0, 1.0, True, (0.0,)), False),
        (Patch(0.0, 1.2, True, (-0.5, 0.5)), False),
        (Patch(0.0, 0.85, True, (-0.5, 0.5)), False),
        (Patch(-0.2, 1.0, True, (-0.5, 0.5)), False),
    ],
)
def test_a_mesh_is_for_a_patch_and_its_borders(found, fits):
    assert suits((Patch(0.0, 1.0, True, (-0.5, 0.5)),), (found,), RESULTS) is fits


@pytest.mark.parametrize(
    ("found", "fits"),
    [
        (Patch(0.0, 0.56), True),
        (Patch(0.29, 2.79), True),
        (Patch(0.0, 0.54), False),
        (Patch(0.0, 2.81), False),
        (Patch(0.31, 1.0), False),
        (Patch(0.0, 1.0, True, (0.9,)), True),  # borders are of no account beside the load
    ],
)
def test_a_mesh_serves_loads_beside_its_own(found, fits):
    assert suits((HERE,), (found,), LOADS) is fits


def test_every_patch_has_to_suit():
    assert not suits((HERE, HERE), (HERE, Patch(0.5, 1.0)), LOADS)


def test_it_is_meshed_for_what_was_found_until_that_suits():
    asked = []

    def solve(patches):
        asked.append(patches[0].half_width)
        # The patch is 2 mm wide, whatever the mesh; read off a coarse one 2.4 mm.
        found = 2.4 if len(asked) == 1 else 2.0
        found = (replace(HERE, half_width=found),)
        return suits(patches, found, RESULTS), found, len(asked)

    assert fitted(solve, (HERE,)) == 3
    assert asked == [1.0, 2.4, 2.0]


def test_a_mesh_that_suits_is_made_anew_where_the_answer_asks_for_it():
    answers = iter([None, None, "held"])
    assert fitted(lambda p: (True, p, next(answers)), (HERE,)) == "held"


def test_it_ends():
    tried = []

    def solve(patches):
        tried.append(patches)
        return False, (replace(HERE, half_width=2.0 * patches[0].half_width),), "never"

    with pytest.raises(SolveError, match=f"no mesh of {MOST_MESHES} held"):
        fitted(solve, (HERE,))
    assert len(tried) == MOST_MESHES
