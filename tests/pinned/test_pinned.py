"""What every command gives is as it was: numbers, structure, names of files."""

import pytest
from pinned.pins import NUMBERS, RUNS, differences, find, flat, pinned


@pytest.mark.parametrize("run", RUNS, ids=lambda run: run.name)
def test_as_pinned(run):
    assert differences(pinned(run), find(run)) == []


def test_no_pin_is_left_over():
    assert {path.stem for path in NUMBERS.iterdir()} == {run.name for run in RUNS}


def test_a_change_is_seen():
    pins = flat({"a": {"verdict": "passes", "peak": 400.0, "curve": [float(k) for k in range(20)]}})
    assert differences(pins, pins) == []
    for path, other in (
        ("/a/verdict", "fails"), ("/a/peak", 400.0 * (1 + 2e-9)), ("/a/curve/*#greatest", 19.1),
    ):  # fmt: skip
        assert len(differences(pins, {**pins, path: other})) == 1
        assert len(differences(pins, {p: v for p, v in pins.items() if p != path})) == 1
