"""What is tried: walls where the steel's strength steps, and stock near the diameter."""

from dataclasses import replace

import pytest
from sizings import DATA, case

from contactfe.assess.sizing.candidates import catalogue, from_stock, jumps_of, shares_of, sizing_of
from contactfe.case import case_from_dict
from contactfe.case.sizing import Sizing, Walls
from contactfe.case.stock import bored_bars, sizes
from contactfe.errors import InputError

BARS = Sizing(stock=("bored bar",))


def of_grade(largest: str, **section: str):
    """The post of a grade that is made up to that thickness."""
    grade = {"young": "210 GPa", "poisson": 0.3, "over": ["0 mm"], "yield": ["460 MPa"]}
    return case_from_dict(
        DATA | {
            "post": {"held_by": "beam shear", "steel": "bar"},
            "section": [{"name": "thin", "outside_diameter": "60 mm", **section}],
            "grade": {"bar": grade | {"largest": largest, "source": "the certificate"}},
        }
    )  # fmt: skip


def test_a_step_of_strength_beyond_the_range_of_walls_is_not_tried():
    """EN 10025-2 steps at 16 and 40 mm (among others): 0.107 and 0.267 of 150 mm."""
    of = case(wall={"from": 0.2, "to": 0.3, "count": 5})
    of = replace(of, post=replace(of.post, steel="EN 10025-2 S355"))
    shares = shares_of(of, sizing_of(of), 150.0)
    assert shares == pytest.approx((0.2, 0.225, 0.25, 40 / 150, 1.0005 * 40 / 150, 0.275, 0.3))


def test_where_a_tube_is_no_longer_listed_is_tried_and_a_jump():
    of = of_grade("20 mm", wall="5 mm")
    sizing = Sizing((60.0,), Walls(0.2, 0.5, 4))
    last = (60.0 - 15.0) / 2 / 60.0  # a bore of a quarter, as that is less than 20 mm
    assert jumps_of(of, sizing, 60.0) == (20 / 60, last)
    assert shares_of(of, sizing, 60.0) == pytest.approx(
        (0.2, 0.3, 20 / 60, 1.0005 * 20 / 60, last, 0.5)
    )


def test_a_least_bore_must_leave_a_tube():
    of = case(outside_diameter="150 mm", wall={"from": 0.3, "to": 0.4, "count": 5},
              least_bore="70 mm")  # fmt: skip
    with pytest.raises(InputError, match=r"least_bore: .*70 mm at Ø 150 mm"):
        shares_of(of, sizing_of(of), 150.0)
    walls = shares_of(of, Sizing(walls=Walls(0.1, 0.4, 4), least_bore=70.0), 150.0)
    assert walls == pytest.approx((0.1, 0.2, 40 / 150))


def test_a_size_of_stock_is_tried_as_it_is():
    found = from_stock(case(), BARS, 155.0)
    assert found
    for one in found:
        assert one.wall == pytest.approx(one.stock.wall)
        assert one.section.outside_diameter == one.stock.outside_diameter
        assert one.stock.wall < one.stock.outside_diameter / 2


@pytest.mark.parametrize(("times", "some"), [(1.12, True), (1.25, False)])
def test_stock_is_tried_within_15_percent_of_the_diameter(times, some):
    largest = max(s.outside_diameter for s in bored_bars() if s.listed_in in BARS.stock)
    assert bool(from_stock(of_grade("2000 mm"), BARS, times * largest)) == some
    pipes = max(s.outside_diameter for s in sizes() if s.catalogue)
    assert bool(catalogue(times * pipes)) == some


def test_a_bar_whose_steel_is_not_made_so_thick_is_not_tried():
    assert from_stock(of_grade("300 mm"), BARS, 150.0)
    assert from_stock(of_grade("100 mm"), BARS, 150.0) == ()
