from dataclasses import astuple

import numpy as np
import pytest

from contactfe.report.equilibrium import about_origin, load_on_plate, loads_on_post, total
from contactfe.solve.reactions import Reaction


def test_a_force_turns_about_the_origin():
    # 2 N/mm up at x = 3 mm turn counter-clockwise, 5 N/mm to the right at y = 7 mm the other way.
    assert about_origin(Reaction("here", 3.0, 7.0, 5.0, 2.0, 11.0)) == 11.0 + 6.0 - 35.0


@pytest.mark.parametrize("of", ["comparison", "corner", "oblique"])
def test_every_body_is_in_balance(of, request):
    comparison = request.getfixturevalue(of)
    for r in comparison.sections:
        state = r.reading.state
        bodies = [(*loads_on_post(r), *state.member_reactions)]
        bodies += [(load_on_plate(patch), *patch.reactions) for patch in state.patches]
        for forces in bodies:
            size = r.line_load * np.array([1.0, 1.0, comparison.case.plate.width])
            # The solve's own bound on the balance of forces is 1e-9.
            assert np.abs(astuple(total(forces)) / size).max() < 1e-9


def test_the_load_on_the_post_is_that_on_the_plates_turned_back(corner):
    (r,) = corner.sections
    first, second = loads_on_post(r)
    assert (first.along, first.across) == pytest.approx(
        (-r.patches[0].tangential_load.value, r.patches[0].line_load)
    )
    # Along the second plate is up, y of the section, and into the post from it is −x.
    assert (second.along, second.across) == pytest.approx(
        (-r.patches[1].line_load, -r.patches[1].tangential_load.value)
    )
    assert (second.x, second.y) == (60.0, 60.0)
