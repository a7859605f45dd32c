from typing import get_args

from contactfe.case.holds import PLATE_SUPPORTS, POST_SUPPORTS, PlateHold, PostHold
from contactfe.solve import holds


def test_every_way_of_holding_has_its_facts_and_its_supports():
    assert get_args(PostHold) == tuple(POST_SUPPORTS) == tuple(holds.POST)
    assert get_args(PlateHold) == tuple(PLATE_SUPPORTS) == tuple(holds.PLATE)


def test_an_entry_stands_under_its_name():
    for table in (POST_SUPPORTS, PLATE_SUPPORTS):
        assert all(support.name == name for name, support in table.items())


def test_a_stiffness_is_in_the_words_of_the_supports_that_state_one_alone():
    for support in PLATE_SUPPORTS.values():
        assert ("2 kN" in support.words.format(spring="2 kN")) == support.spring
