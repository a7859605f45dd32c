"""How sure the reactions of a plate are: no surer than the tangential load that they hold."""

from types import SimpleNamespace

import pytest
from bodies import case

from contactfe.assess.section import _reaction_blurs


def held(along, moment):
    reaction = SimpleNamespace(along=along, across=900.0, moment=moment)
    return SimpleNamespace(reactions=(reaction,))


@pytest.mark.parametrize(
    ("drag", "stated"),
    [
        (0.0, (0.5, 9.0)),  # what the levels differ by
        (2.0, (2.0, 120.0)),  # the plate is 60 mm thick
    ],
)
def test_reactions_are_no_surer_than_the_drag(drag, stated):
    of = case([(150.0, None)], line_load=900.0, plate=(400.0, 60.0))
    found = _reaction_blurs(of, 0, held(100.0, 50.0), held(100.5, 59.0), drag)
    assert found == pytest.approx(stated)


def test_what_equilibrium_gives_is_sure_to_rounding():
    of = case([(150.0, None)], line_load=900.0, plate=(400.0, 60.0))
    same = held(100.0, 50.0)
    assert _reaction_blurs(of, 0, same, same, 0.0) == pytest.approx((9e-5, 0.036))
