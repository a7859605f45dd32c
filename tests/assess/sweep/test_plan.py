import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sweeps import prepared

from contactfe.assess.sweep.plan import Plan, plan
from contactfe.case.sweeping import Sweep, Swept

KEYS = (
    Swept("contact.friction", "", (0.1, 0.2)),
    Swept("section.wall", "mm", (10.0, 20.0, 30.0)),
    Swept("load.line_load", "N/mm", (5.0, 6.0)),
)


def drawn(samples, seed, keys=KEYS[:2]) -> np.ndarray:
    found = plan(Sweep("latin hypercube", keys, samples, seed))
    return np.array([found.numbers(k) for k in range(samples)])


def test_a_grid_is_every_combination_with_the_last_key_fastest():
    found = plan(Sweep("grid", KEYS))
    assert found.count == 12
    made = [found.numbers(k) for k in range(12)]
    assert made == list(itertools.product(*(key.values for key in KEYS)))
    assert found.values(0) == (0.1, "10 mm", "5 N/mm")


def test_a_list_puts_its_values_side_by_side():
    found = plan(Sweep("list", (KEYS[0], KEYS[2])))
    assert [found.numbers(k) for k in range(found.count)] == [(0.1, 5.0), (0.2, 6.0)]


@settings(max_examples=20, deadline=None)  # the first one loads scipy
@given(samples=st.integers(1, 60), seed=st.integers(0, 2**32 - 1))
def test_every_even_part_of_every_range_has_one_sample(samples, seed):
    keys = (Swept("a", "", (1.0, 3.0)), Swept("b", "", (0.1, 1000.0), "log"))
    values = drawn(samples, seed, keys)
    shares = (values[:, 0] - 1.0) / 2.0, np.log(values[:, 1] / 0.1) / np.log(1e4)
    for share in shares:
        # In the middle of its part a sample is as likely as at the edge, where it may round over.
        place = samples * share
        assert np.all(np.abs(np.sort(place) - np.arange(samples) - 0.5) <= 0.5 + 1e-9)


def test_a_latin_hypercube_follows_from_its_seed():
    assert np.array_equal(drawn(50, 7), drawn(50, 7))
    assert not np.array_equal(drawn(50, 7), drawn(50, 8))
    # As scipy 1.17 drew it: another release that drew otherwise would change every sweep.
    assert drawn(3, 1)[0] == pytest.approx([0.11003218175210548, 28.837763190846026], rel=1e-12)


def test_the_order_takes_every_sample_once_and_keeps_loads_and_plates_together():
    over = {
        "contact.friction": [0.1, 0.2], "plate.thickness": ["40 mm", "50 mm"],
        "section.wall": ["10 mm", "20 mm", "30 mm"], "load.line_load": ["500 N/mm", "600 N/mm"],
    }  # fmt: skip
    made = prepared(over).plan
    order = made.order()
    assert sorted(order) == list(range(24))
    rows = [made.numbers(int(k)) for k in order]
    changes = [sum(a[k] != b[k] for a, b in itertools.pairwise(rows)) for k in range(4)]
    # From the slowest: load once, plate 2·2 − 1, wall 2·2·3 − 1 times, friction each time.
    assert changes == [23, 3, 11, 1]


def test_drawn_samples_are_in_the_order_of_the_slowest_key():
    keys = (Swept("contact.friction", "", (0.1, 0.2)), Swept("load.line_load", "N/mm", (5.0, 6.0)))
    made = plan(Sweep("latin hypercube", keys, 20, 3))
    loads = [made.numbers(int(k))[1] for k in made.order()]
    assert loads == sorted(loads)


def test_which_samples_are_checked_follows_from_their_number():
    many = Plan(Sweep("grid", (Swept("a", "", tuple(range(1000))),)))
    checked = [k for k in range(1000) if many.checked(k)]
    assert 70 <= len(checked) <= 130  # one in ten, within three standard deviations
    assert {0, 999} <= set(checked)
    assert len({b - a for a, b in itertools.pairwise(checked)}) > 5  # in no pattern
    few = Plan(Sweep("grid", (Swept("a", "", tuple(range(10))),)))
    assert all(few.checked(k) for k in range(10))
    both = Plan(Sweep("grid", (Swept("a", "", tuple(range(50))),), levels=2))
    assert all(both.checked(k) for k in range(50))
