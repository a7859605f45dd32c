"""Whether a mesh suits the patches solved on it, and meshing anew until one does."""

from dataclasses import replace

import pytest
from bodies import case

from contactfe.assess.bodies import Bodies
from contactfe.assess.fit import LOADS, MOST_MESHES, RESULTS, fitted, loads_on, suits
from contactfe.assess.level import build
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


@pytest.mark.parametrize(
    ("given", "most"),
    [
        ({}, 2.8),
        ({"plate": (20.0, 20.0)}, 0.99 * 0.95 * 10.0 / 1.15 / 1.06 / 4.0),
        ({"plate": (20.0, 20.0), "corner": 300.0}, 0.99 * 0.95 * 10.0 / 1.15 / 1.06 / 4.0),
        ({"friction": 0.2}, 1.6),
    ],
)
def test_a_mesh_serves_what_its_line_of_contact_has_room_for(given, most):
    """Of a plate with little room beside the patch, as far as it goes; with friction less."""
    of = case([(150.0, 25.0)], line_load=1000.0, **given)
    patch = (Patch(0.0, 4.0),) * len(of.offsets)
    level = build(of, Bodies(of), of.sections[0], patch, 6.0)
    assert loads_on(level).most == pytest.approx(most, rel=0.03)
    for member, plate in zip(level.joint.member.lines, level.joint.plates, strict=True):
        (line,), edge, widest = plate.lines, of.plate.width / 2.0, 4.0 * loads_on(level).most
        assert -edge < line.x[0] < member.x[0] < -widest
        assert widest < member.x[-1] < line.x[-1] < edge


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
