import pytest

from contactfe.case import case_from_dict
from contactfe.case.measured import measured
from contactfe.case.sizing import CHECKS, Sizing, WallLengths, Walls
from contactfe.case.stock import BORED_BAR, BORED_BARS, BORED_INCH_BAR, bored_bars, lists, nearest
from contactfe.errors import InputError


def refusal(data, **sizing):
    with pytest.raises(InputError) as caught:
        case_from_dict(data | {"sizing": sizing}, "cases/x.toml")
    return str(caught.value).removeprefix("cases/x.toml: [sizing] ")


def test_all_has_its_default(data):
    assert case_from_dict(data).sizing is None
    found = case_from_dict(data | {"sizing": {}}).sizing
    assert found == Sizing((), Walls(0.05, 0.5, 40), (), CHECKS)
    assert "hand" not in CHECKS
    # 20 mm, or a quarter of a slim tube.
    assert (found.bore(150.0), found.bore(60.0)) == (20.0, 15.0)


def test_what_is_stated(data):
    found = case_from_dict(
        data
        | {
            "sizing": {
                "outside_diameter": ["6 in", "160 mm"],
                "wall": {"from": "0.5 in", "to": "30 mm", "count": 9},
                "stock": ["bored bar", "EN 10220"],
                "checks": ["stress", "hand", "stress"],
                "least_bore": "1.5 in",
            }
        }
    ).sizing
    assert found.outside_diameters == pytest.approx((152.4, 160.0))
    assert found.walls == WallLengths(12.7, 30.0, 9)
    assert found.stock == ("bored bar", "EN 10220")
    assert found.checks == ("stress", "hand")
    assert found.least_bore == found.bore(160.0) == pytest.approx(38.1)


def test_walls_run_evenly_with_both_ends_exact():
    assert Walls(0.1, 0.5, 5).shares(150.0) == pytest.approx((0.1, 0.2, 0.3, 0.4, 0.5))
    assert Walls(0.1, 0.3, 7).shares(1.0)[-1] == 0.3
    assert WallLengths(10.0, 60.0, 6).shares(100.0) == pytest.approx((0.1, 0.2, 0.3, 0.4, 0.5))


@pytest.mark.parametrize(
    ("sizing", "message"),
    [
        ({"wall": "20 mm"}, 'wall = "20 mm": must be a range such as'),
        ({"wall": {"from": 0.1}}, "the keys from and to, may have count: to is missing"),
        ({"wall": {"from": 0.1, "to": 0.6}}, "run from above 0 to a greater one, at most 0.5"),
        (
            {"wall": {"from": 0.3, "to": 0.2}},
            "wall, from = 0.3, to = 0.2: shares of the outside diameter must",
        ),
        ({"wall": {"from": 0.1, "to": "60 mm"}}, "must be both lengths or both shares"),
        ({"wall": {"from": "9 mm", "to": "8 mm"}}, "must run from above 0 to a greater wall"),
        ({"wall": {"from": "9 kN", "to": "8 mm"}}, 'wall, from = "9 kN": is a force'),
        (
            {"wall": {"from": 0.1, "to": 0.2, "count": 4}},
            "count = 4: must be a whole number from 5 to 400",
        ),
        (
            {"outside_diameter": "8 kN"},
            'outside_diameter = "8 kN": is a force',
        ),
        ({"outside_diameter": "0 in"}, "must be greater than zero"),
        ({"least_bore": "0 mm"}, 'least_bore = "0 mm": must be greater than zero'),
        ({"least_bore": 20}, "least_bore = 20: has no unit"),
        ({"outside_diameter": 8}, 'must be a list such as ["150 mm", "180 mm"], or a range'),
        ({"stock": "EN 10220"}, 'stock = "EN 10220": must be a list of any of "ASME B36.10M",'),
        (
            {"stock": ["EN 10220", "EN 1"]},
            'stock, entry 2 = "EN 1": is no list of sizes; known are "ASME B36.10M", "AISC H',
        ),
        ({"checks": []}, "must hold at least one check"),
        (
            {"checks": ["stress", "all"]},
            'checks, entry 2 = "all": must be "stress", "post", "clauses" or "hand"',
        ),
        (
            {"checks": "post"},
            'checks = "post": must be a list such as ["stress", "post", "clauses", "hand"]',
        ),
        ({"walls": 3}, "is not known here; did you mean wall? allowed: outside_diameter, wall"),
    ],
)
def test_faults_are_reported_in_one_line(data, sizing, message):
    found = refusal(data, **sizing)
    assert message in found
    assert "\n" not in found


def test_the_nearest_size_of_a_list():
    # Around 160 mm: NPS 5 is 141.3 mm and NPS 6 168.3 mm.
    found = nearest("ASME B36.10M", 160.0, 0.1)
    assert [s.outside_diameter for s in found] == pytest.approx([168.275] * len(found))
    assert [s.wall for s in found] == sorted(s.wall for s in found)
    assert nearest("ASME B36.10M", 155.0, 0.05) == ()
    assert nearest(BORED_BAR, 151.0, 0.1)[0].outside_diameter == 150.0


def test_bored_bars_are_no_list_that_a_section_may_name():
    """Their steel goes by the diameter of the bar, which a section does not know."""
    assert not set(BORED_BARS) & set(lists())
    for bar in bored_bars():
        assert 0.15 < 1 - 2 * bar.wall / bar.outside_diameter < 0.80001
        assert not bar.catalogue
        assert "no source" in bar.source
        assert "confirm" in bar.note


def test_inch_bars_are_quarters_with_bores_in_halves():
    bars = [bar for bar in bored_bars() if bar.listed_in == BORED_INCH_BAR]
    outside = {round(bar.outside_diameter / 25.4, 6) for bar in bars}
    assert outside == {k / 4 for k in range(8, 49)}
    for bar in bars:
        bore = (bar.outside_diameter - 2 * bar.wall) / 25.4
        assert 2 * bore == pytest.approx(round(2 * bore), abs=1e-9)
        assert f"{bar.outside_diameter / 25.4:g}, bore {bore:g} in" in bar.designation
    bores = [s.designation for s in nearest(BORED_INCH_BAR, 203.2, 0.01)]
    assert bores[0] == "bored inch bar 8, bore 6 in"
    assert bores[-1] == "bored inch bar 8, bore 2 in"
    # 0.8 of 3.75 in is just 3 in, however it rounds
    assert nearest(BORED_INCH_BAR, 95.25, 0.01)[0].designation.endswith("3.75, bore 3 in")


def test_bars_in_mm_have_their_unit_in_their_name():
    bars = [bar.designation for bar in bored_bars() if bar.listed_in == BORED_BAR]
    assert "bored bar 200, bore 120 mm" in bars
    assert all(name.endswith(" mm") for name in bars)


def test_one_diameter_need_be_no_list(data):
    found = case_from_dict(data | {"sizing": {"outside_diameter": "8 in"}})
    assert found.sizing.outside_diameters == pytest.approx((203.2,))
    tables = data | {"sizing": {"outside_diameter": "8 in"}, "scale": 0.25}
    (quantity,) = (q for q in measured(tables) if q.place[0] == "sizing")
    assert quantity.text == "8 in"  # a specimen scales it


def test_examples_of_diameters_are_in_the_units_of_the_case(data):
    said = refusal(data | {"report": {"units": "US customary"}}, outside_diameter=8)
    assert 'must be a list such as ["6 in", "8 in"], or a range such as { from = "6 in"' in said
