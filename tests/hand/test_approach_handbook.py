"""Approach of bodies in line contact as handbooks give it, beside the formulas that are derived."""

import numpy as np
import pytest
from forms import evaluate

from contactfe.hand import approach_handbook, approach_pair, hertz
from contactfe.hand.stress import plane_modulus

STEEL = (200e3, 0.3)


def test_the_handbook_differs_from_the_exact_disc_by_a_constant():
    # 1/3 + ln(2R/a) beside ln(4R/a) − 1/2, whatever the width.
    for a in (0.1, 0.8, 3.0):
        share = 1000.0 / (np.pi * plane_modulus(*STEEL, "plane strain"))
        more = 2 * share * (1 / 3 + 1 / 2 - np.log(2))
        flats = approach_handbook.between_flats(1000.0, 50.0, a, *STEEL)
        exact = approach_pair.between_flats(1000.0, 50.0, a, *STEEL, "plane strain")
        assert flats - exact == pytest.approx(2 * more, rel=1e-9)
        rounds = approach_handbook.two_cylinders(1000.0, 50.0, 80.0, a, *STEEL)
        exact = approach_pair.two_cylinders(1000.0, 50.0, 80.0, a, *STEEL, *STEEL, "plane strain")
        assert rounds - exact == pytest.approx(2 * more, rel=1e-9)


def test_the_roller_gives_way_by_the_stated_share_more():
    a = hertz.half_width(1000.0, 50.0, 200e3 / 1.82)
    held = ("beam shear", "rigid base", "plane strain")
    exact = approach_pair.post_on_plate(1000.0, 50.0, 50.0, a, *STEEL, *STEEL, *held)
    roller = approach_handbook.palmgren_roller(100e3, 100.0)
    assert 100 * (roller / exact - 1) == pytest.approx(8.0, abs=0.5)


@pytest.mark.parametrize("a", [0.2, 0.9])
def test_the_form_computes_to_the_value(a):
    for worked in (
        approach_handbook.between_flats.worked(900.0, 50.0, a, *STEEL),
        approach_handbook.two_cylinders.worked(900.0, 50.0, 80.0, a, *STEEL),
        approach_handbook.palmgren_roller.worked(90e3, 100.0),
    ):
        assert evaluate(worked) == pytest.approx(worked.value, rel=1e-12), worked.key
        assert worked.within, worked.key


def test_out_of_range_they_are_marked():
    wide = (
        approach_handbook.between_flats.worked(1.0, 50.0, 6.0, *STEEL),
        approach_handbook.two_cylinders.worked(1.0, 50.0, 50.0, 3.0, *STEEL),
    )
    assert [[limit.what for limit in worked.exceeded] for worked in wide] == [["a/R"]] * 2


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: approach_handbook.between_flats(-1.0, 50.0, 1.0, *STEEL), "line_load = -1.0"),
        (lambda: approach_handbook.between_flats(1.0, -5.0, 1.0, *STEEL), "radius = -5.0"),
        (lambda: approach_handbook.palmgren_roller(-1.0, 100.0), "force = -1.0"),
        (lambda: approach_handbook.palmgren_roller(1.0, 0.0), "length = 0.0"),
    ],
)
def test_bad_arguments_are_named(call, named):
    with pytest.raises(ValueError, match=named):
        call()
