"""The limits that tubes are made within: as stated, and by the standards of products."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.case import case_from_dict
from contactfe.case.scaling import scaled
from contactfe.case.stock import bored_bars, mill_tolerance, sizes, stock_size
from contactfe.case.tolerance import Lengths, Shares, Tolerance, parse_deviation
from contactfe.errors import InputError

DATA = {
    "title": "Invented stop",
    "post": {"held_by": "beam shear", "steel": "ASTM A500 Gr C round"},
    "plate": {
        "width": "400 mm", "thickness": "60 mm", "held_by": "rigid base",
        "steel": "EN 10025-2 S355",
    },
    "load": {"force": "100 kN", "contact_length": "200 mm"},
    "section": [
        {"name": "tube", "outside_diameter": "150 mm", "wall": "20 mm"},
        {"name": "stock", "designation": "AISC HSS 6.625 x 0.500"},
        {"name": "drawn in full", "outside_diameter": "150 mm", "steel": "EN 10025-2 S355"},
    ],
}  # fmt: skip
BENT = {"cantilever": {"length": "600 mm"}}


def stop(tolerance=None, **tables):
    return case_from_dict(DATA | ({"tolerance": tolerance} if tolerance else {}) | tables)


@pytest.mark.parametrize(
    ("designation", "steel", "wall", "diameter", "seen"),
    [
        ("ASME B36.10M NPS 6 XXS", "ASTM A53 Gr B", (0.875, None), 0.01, "a public table of A53"),
        ("AISC HSS 6.625 x 0.500", "ASTM A500 Gr C", (0.9, 1.1), 0.0075, "AISC 360-22, C-B4.2"),
        ("AISC HSS 6.625 x 0.500", "ASTM A1085", (0.95, 1.1), 0.0075, "AISC 360-22, C-B4.2"),
        ("AISC HSS 6.625 x 0.500", "", (0.9, 1.1), 0.0075, "the wider of the two"),
        ("EN 10210-2 CHS 193.7 x 16", "", (0.875, None), 0.01, "public tables, 1997 and 2006"),
        ("mechanical tube 4.000 x 1.000", "", (0.925, 1.075), 0.025 / 4, "a public table of A519"),
        ("mechanical tube 4.000 x 0.500", "", (0.9, 1.1), 0.025 / 4, "the same, a thin wall"),
        (
            "mechanical tube 6.000 x 1.500",
            "",
            (0.9, 1.1),
            0.037 / 6,
            "6 in in the row from 6 in on",
        ),
        ("mechanical tube 10.000 x 2.000", "", (0.9, 1.1), 0.005, "the same, 6 to 10.75 in"),
        ("mechanical tube 12.000 x 2.000", "", (0.875, 1.125), 0.01, "the same, over 10.75 in"),
    ],
)
def test_what_product_standards_allow(designation, steel, wall, diameter, seen):
    size = stock_size(designation)
    made = mill_tolerance(size, steel)
    least, most = (of / size.wall for of in made.wall)
    assert least == pytest.approx(wall[0], rel=1e-12), seen
    if wall[1] is not None:
        assert most == pytest.approx(wall[1], rel=1e-12), seen
    small, large = (of / size.outside_diameter for of in made.outside_diameter)
    assert (1 - small, large - 1) == pytest.approx((diameter, diameter), rel=1e-9), seen


@pytest.mark.parametrize(("diameter", "off"), [(40.0, 0.5), (200.0, 2.0), (1500.0, 10.0)])
def test_a_share_of_the_diameter_has_its_least_and_its_most(diameter, off):
    size = replace(stock_size("EN 10210-2 CHS 193.7 x 16"), outside_diameter=diameter, wall=5.0)
    made = mill_tolerance(size).outside_diameter
    assert made == pytest.approx((diameter - off, diameter + off), rel=1e-12)


@pytest.mark.parametrize(
    ("designation", "over"),
    [("ASME B36.10M NPS 8 Sch 160", 0.10), ("EN 10210-2 CHS 273 x 25", 0.08)],
)
def test_where_the_mass_limits_the_wall_the_greatest_has_that_mass(designation, over):
    size = stock_size(designation)
    (_, most), D = mill_tolerance(size).wall, size.outside_diameter
    heavy = replace(size, wall=most)
    assert heavy.mass_per_length == pytest.approx((1 + over) * size.mass_per_length, rel=1e-12)
    assert most < D / 2


def test_every_stock_size_stays_a_tube_within_its_limits_and_no_bored_bar_has_any():
    for size in sizes():
        made = mill_tolerance(size)
        assert 0.0 < made.wall[0] < size.wall < made.wall[1] < made.outside_diameter[0] / 2
        assert made.outside_diameter[0] < size.outside_diameter < made.outside_diameter[1]
        for name in size.made_to:  # the widest holds each
            of = mill_tolerance(size, f"{name} Gr X")
            assert made.wall[0] <= of.wall[0] < of.wall[1] <= made.wall[1]
    assert {mill_tolerance(bar) for bar in bored_bars()} == {None}


@given(st.floats(0.0, 0.99), st.floats(0.0, 0.99), st.floats(1.0, 100.0))
def test_a_share_and_the_length_that_it_is_give_the_same_limits(under, over, nominal):
    lengths = Lengths(under * nominal, over * nominal)
    assert Shares(under, over).of(nominal) == pytest.approx(lengths.of(nominal), rel=1e-12)


def test_a_deviation_is_read_either_way_or_for_each_way():
    assert parse_deviation("10 %") == Shares(0.1, 0.1)
    assert parse_deviation(["-12.5 %", "+20 %"]) == Shares(0.125, 0.2)
    assert parse_deviation(["-0 mm", "1/2 mm".replace("1/2", "0.5")]) == Lengths(0.0, 0.5)


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        ("100 %", "less than 100 %"),
        (["-10 %", "+1 mm"], "both"),
        (["+10 %", "+10 %"], "under first"),
        (["-10 %"], "must be"),
        ("-10 %", "negative"),
        (0.1, "must be"),
        (["-10 %", "5 kN"], "entry 2"),
    ],
)
def test_a_deviation_that_is_none_is_refused_in_one_line(stated, says):
    with pytest.raises(InputError) as refused:
        stop({"wall": stated})
    assert "[tolerance] wall" in str(refused.value)
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("tolerance", "tables", "key", "says"),
    [
        ({"wall": "0 %"}, {}, "wall", "allows no deviation of section “tube”"),
        ({"wall": "20 mm"}, {}, "wall", "leaves no wall of section “tube”"),
        ({"wall": ["-1 mm", "+60 mm"]}, {}, "wall", "leaves no bore of section “tube”"),
        ({"outside_diameter": "1 %"}, {}, "outside_diameter", "needs wall"),
        ({"wall": "1 %", "outside_diameter": "120 mm"}, {}, "outside_diameter", "no bore of"),
        (
            {"wall": ["-1 mm", "+52 mm"], "outside_diameter": "5 %"},
            {},
            "outside_diameter",
            "leaves no bore of section “tube”",
        ),
        ({"straightness": "3 %"}, BENT, "straightness", "from 0 to 2 %"),
        ({"straightness": "1"}, BENT, "straightness", "1 mm/m"),
        ({"straightness": "1 mm/m"}, {}, "straightness", "no [cantilever]"),
        ({"tilt": "0.1 deg"}, {}, "tilt", "no [cantilever]"),
        ({"tilt": "7 deg"}, BENT, "tilt", "at most"),
    ],
)
def test_a_tolerance_that_does_not_fit_is_refused_in_one_line(tolerance, tables, key, says):
    with pytest.raises(InputError) as refused:
        stop(tolerance, **tables)
    line = str(refused.value).splitlines()[0]
    assert f"[tolerance] {key}" in line
    assert says in line


def test_stated_limits_go_before_those_of_a_product_but_for_sizes_bought_off_a_list():
    tube, stock, solid = stop().sections
    assert [stop().limits(s) is not None for s in (tube, stock, solid)] == [False, True, False]
    case = stop({"wall": "5 %"})
    assert case.limits(tube).wall == pytest.approx((19.0, 21.0))
    assert case.limits(tube).outside_diameter == (150.0, 150.0)
    own, bought = case.limits(stock), case.limits(stock, stock_size(stock.stock))
    assert own.wall[0] == pytest.approx(0.95 * stock.wall)
    assert "NARROWER" in own.source
    for diameter, narrower in (("0.5 %", True), (["-0.5 %", "2 %"], True), ("0.8 %", False)):
        for wall in ({}, {"wall": "11 %"}):
            case = stop({"outside_diameter": diameter} | wall, section=[DATA["section"][1]])
            limits, size = case.limits(stock), stock.outside_diameter
            assert ("NARROWER" in limits.source) == narrower
            assert limits.outside_diameter == case.tolerance.outside_diameter.of(size)
    for wall in (["-5 %", "+20 %"], ["-20 %", "+5 %"]):
        assert "NARROWER" in stop({"wall": wall}).limits(stock).source
    assert bought == stop().limits(stock)
    assert bought.wall[0] == pytest.approx(0.9 * stock.wall)
    # The least wall goes with the greatest diameter: the slenderest ring, and the stoutest.
    (large, thin), (small, thick) = bought.made
    assert small < large
    assert thin < thick


def test_a_section_may_have_a_tolerance_of_its_own():
    tube, stock, solid = DATA["section"]
    own = {"wall_tolerance": ["-1 mm", "+2 mm"]}
    case = stop({"wall": "5 %"}, section=[tube | own, stock | own, tube | {"name": "other"}])
    walls = [case.limits(section).wall for section in case.sections]
    assert walls == [(19.0, 22.0), (11.7, 14.7), pytest.approx((19.0, 21.0))]
    with pytest.raises(InputError, match=r"wall_tolerance.*there is no wall to be off"):
        stop(section=[solid | own])
    with pytest.raises(InputError, match=r"outside_diameter: is missing"):
        stop(section=[{"name": "no size"} | own])
    with pytest.raises(InputError, match=r'section 1 "tube", wall_tolerance.*leaves no wall'):
        stop(section=[tube | {"wall_tolerance": "20 mm"}])


def test_a_tube_as_made_keeps_the_steel_of_its_nominal_wall():
    """A tube at the edge of a band of its strength, made thicker than that."""
    section = {
        "name": "t",
        "outside_diameter": "300 mm",
        "wall": "40 mm",
        "steel": "EN 10210-1 S355H",
    }
    case = stop(section=[section])
    at = case.as_made(case.sections[0], 300.0, 44.0)
    assert at.sections[0].wall == 44.0
    nominal = case.post_material(case.sections[0])
    assert at.post_material(at.sections[0]) == nominal
    assert case.post_material(replace(case.sections[0], wall=44.0)).yield_strength < (
        nominal.yield_strength
    )


def test_tilt_and_straightness_join_the_misalignment():
    tables = BENT | {
        "alignment": {"tilt": "2 mrad", "misalignment": "1 mrad"},
        "section": DATA["section"][:1],
    }
    case = stop({"tilt": "0.5 mrad", "straightness": "1 mm/m"}, **tables)
    off = 1e-3 + 0.5e-3 + 4 * 1e-3  # a parabola's slope at its end is 4 times rise over length
    assert case.alignment.tilts == pytest.approx((2e-3, 2e-3 - off, 2e-3 + off))
    assert replace(case, title="again").alignment == case.alignment  # added once
    assumed = stop({"tilt": "0.5 mrad"}, **BENT, section=DATA["section"][:1])
    assert assumed.alignment.assumed
    assert assumed.alignment.tilts == pytest.approx((0.0, -0.5e-3, 0.5e-3))


def test_a_parabola_is_as_steep_at_its_end_as_is_said():
    """Rise 1 over length L: y = 4 x (L − x)/L²."""
    L, h = 7.0, 1e-6
    slope = 4 * h * (L - h) / L**2 / h
    assert Tolerance(straightness=1 / L).angle == pytest.approx(math.fabs(slope), rel=1e-5)


def test_a_specimen_has_the_limits_to_scale():
    case = stop({"wall": ["-1 mm", "+2 mm"]}, section=DATA["section"][:1])
    specimen = scaled(case, 0.25)
    limits, of = case.limits(case.sections[0]), specimen.limits(specimen.sections[0])
    assert of.wall == pytest.approx([wall / 4 for wall in limits.wall])
