import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from contactfe.case.spread import MOST, parse_spread
from contactfe.case.units import parse_quantity
from contactfe.errors import InputError

values = st.floats(-1e6, 1e6)


def _length(text):
    return parse_quantity(text, "length")


def _lengths(stated):
    return parse_spread(stated, _length, ("0 mm", "40 mm"))


def _range(first, last, count):
    return parse_spread({"from": first, "to": last, "count": count}, float, (0.0, 0.2))


def test_a_list_keeps_its_order_and_each_value_once():
    assert _lengths(["40 mm", "0 mm", "4 cm", "-1 in"]) == (40.0, 0.0, -25.4)


def test_a_range_is_even_with_both_ends():
    assert _lengths({"from": "-60 mm", "to": "60 mm", "count": 5}) == (-60, -30, 0, 30, 60)
    assert _lengths({"from": "6 cm", "to": "0 mm", "count": 2}) == (60, 0)


@pytest.mark.parametrize("count", [1, 2, 7])
def test_a_range_without_extent_is_one_value(count):
    assert _lengths({"from": "40 mm", "to": "4 cm", "count": count}) == (40.0,)


@given(values, values, st.integers(2, 50))
def test_a_range_has_exactly_its_ends_and_runs_one_way(first, last, count):
    assume(abs(first - last) > 1e-6)  # so that no two neighbours round to one value
    found = _range(first, last, count)
    assert (found[0], found[-1], len(found)) == (first, last, count)
    assert list(found) == sorted(found, reverse=last < first)


@given(values, values, st.integers(2, 50))
def test_a_range_the_other_way_round_has_the_same_values(first, last, count):
    assume(abs(first - last) > 1e-6)  # as above
    assert _range(last, first, count) == _range(first, last, count)[::-1]


@given(st.floats(1e-6, 1e6), st.integers(1, 25))
def test_the_middle_of_a_symmetric_range_is_zero(last, half):
    # Exactly, because a square impact on the middle has a simpler mesh.
    assert _range(-last, last, 2 * half + 1)[half] == 0.0


@given(st.lists(st.integers(-5, 5), min_size=1))
def test_a_list_loses_repeats_and_nothing_else(stated):
    found = parse_spread(stated, float, (0.0, 0.2))
    assert set(found) == set(stated)
    assert len(set(found)) == len(found)
    assert [stated.index(value) for value in found] == sorted(map(stated.index, found))


@pytest.mark.parametrize(
    ("stated", "message"),
    [
        ([], "must hold at least one value"),
        (
            "40 mm",
            'must be a list such as ["0 mm", "40 mm"], or a range such as '
            '{ from = "0 mm", to = "40 mm", count = 5 }',
        ),
        (40.0, "must be a list such as"),
        (["0 mm", 40], 'entry 2 = 40: has no unit; write for example "150 mm"'),
        ([["0 mm"]], "entry 1: must be text with a number and a unit"),
        ({}, "a range must have the keys from, to, count and no others"),
        ({"from": "0 mm", "to": "1 mm"}, "a range must have the keys from, to, count and no"),
        ({"from": "0 mm", "to": "1 mm", "count": 2, "step": 1}, "a range must have the keys"),
        (
            {"from": "0 kN", "to": "1 mm", "count": 2},
            'from = "0 kN": is a force, not a length; write for example "150 mm"',
        ),
        ({"from": "0 mm", "to": 1, "count": 2}, "to = 1: has no unit;"),
        ({"from": "0 mm", "to": "1 mm", "count": "2"}, 'count = "2": must be a whole number'),
        ({"from": "0 mm", "to": "1 mm", "count": 2.0}, "count = 2.0: must be a whole number"),
        ({"from": "0 mm", "to": "1 mm", "count": True}, "count = true: must be a whole number"),
        ({"from": "0 mm", "to": "1 mm", "count": []}, "count: must be a whole number"),
        (
            {"from": "0 mm", "to": "1 mm", "count": 1},
            "count = 1: must be from 2 to 100000, or 1 where from and to are the same",
        ),
        ({"from": "0 mm", "to": "0 cm", "count": 0}, "count = 0: must be from 1 to 100000"),
        # Refused before its values would fill the memory.
        ({"from": "0 mm", "to": "1 mm", "count": 10**18}, f"must be from 2 to {MOST}"),
    ],
)
def test_refuses_with_the_value_named(stated, message):
    with pytest.raises(InputError) as refusal:
        _lengths(stated)
    assert message in str(refusal.value)
