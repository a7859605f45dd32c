import math

import pytest

from contactfe.case import case_from_dict
from contactfe.case.stock import sizes, sizes_like, stock_size
from contactfe.errors import InputError

INCH = 25.4
XXS = "ASME B36.10M NPS 6 XXS"
TUBE = 'section 2 "tube 150 x 25"'


@pytest.fixture
def stocked(data):
    """The case whose second section is a stock size."""
    data["section"][1] = {"name": "tube 150 x 25", "designation": XXS}
    return data


# Plain end weights of ASME B36.10M, lb/ft (from memory, not seen), from 10.68 (D - t) t with D and
# t in inches (common practice, no source): they catch a wrong digit of a wall or a diameter.
@pytest.mark.parametrize(
    ("size", "weights"),
    [
        ("3", {"Sch 40": 7.58, "Sch 80": 10.25, "Sch 160": 14.32, "XXS": 18.58}),
        ("3-1/2", {"Sch 40": 9.11, "Sch 80": 12.50, "XXS": 22.85}),
        ("4", {"Sch 40": 10.79, "Sch 80": 14.98, "Sch 120": 19.00, "Sch 160": 22.51, "XXS": 27.54}),
        ("5", {"Sch 40": 14.62, "Sch 80": 20.78, "Sch 120": 27.04, "Sch 160": 32.96, "XXS": 38.55}),
        ("6", {"Sch 40": 18.97, "Sch 80": 28.57, "Sch 120": 36.39, "Sch 160": 45.35, "XXS": 53.16}),
        ("8", {"Sch 40": 28.55, "Sch 80": 43.39, "Sch 120": 60.71, "Sch 160": 74.69, "XXS": 72.42}),
        (
            "10",
            {"Sch 40": 40.48, "Sch 80": 64.43, "Sch 120": 89.29, "Sch 160": 115.64, "XXS": 104.13},
        ),
        (
            "12",
            {"Sch 40": 53.52, "Sch 80": 88.63, "Sch 120": 125.49, "Sch 160": 160.27, "XXS": 125.49},
        ),
        ("14", {"Sch 40": 63.44, "Sch 80": 106.13, "Sch 120": 150.79, "Sch 160": 189.11}),
        ("16", {"Sch 40": 82.77, "Sch 80": 136.61, "Sch 120": 192.43, "Sch 160": 245.25}),
        ("18", {"Sch 40": 104.67, "Sch 80": 170.92, "Sch 120": 244.14, "Sch 160": 308.50}),
        ("20", {"Sch 40": 123.11, "Sch 80": 208.87, "Sch 120": 296.37, "Sch 160": 379.17}),
        ("24", {"Sch 40": 171.29, "Sch 80": 296.58, "Sch 120": 429.39, "Sch 160": 542.13}),
    ],
)
def test_pipes_weigh_what_their_standard_says(size, weights):
    found = {
        s.designation.split(f"NPS {size} ")[1]: 10.68 * (s.outside_diameter - s.wall) * s.wall
        for s in sizes()
        if s.designation.startswith(f"ASME B36.10M NPS {size} ")
    }
    # to the last printed digit
    assert found == pytest.approx({k: w * INCH**2 for k, w in weights.items()}, abs=0.01 * INCH**2)


# Masses of EN 10210-2, kg/m (from memory, not seen), to their last printed digit.
@pytest.mark.parametrize(
    ("designation", "mass", "digit"),
    [
        ("EN 10210-2 CHS 88.9 x 5", 10.3, 0.1),
        ("EN 10210-2 CHS 168.3 x 10", 39.0, 0.1),
        ("EN 10210-2 CHS 219.1 x 16", 80.1, 0.1),
        ("EN 10210-2 CHS 323.9 x 12.5", 96.0, 0.1),
        ("EN 10210-2 CHS 406.4 x 16", 154.0, 1.0),
    ],
)
def test_hollow_sections_weigh_what_their_standard_says(designation, mass, digit):
    assert stock_size(designation).mass_per_length == pytest.approx(mass, abs=digit / 2 + 1e-2)


# Outside diameters and walls, in: the thick end of the AISC list (seen in a public copy), the
# smaller ones from memory, not seen.
@pytest.mark.parametrize(
    ("designation", "outside", "wall"),
    [
        ("AISC HSS 20.000 x 0.500", 20.0, 0.5),
        ("AISC HSS 16.000 x 0.438", 16.0, 0.438),
        ("AISC HSS 8.625 x 0.625", 8.625, 0.625),
        ("AISC HSS 6.625 x 0.432", 6.625, 0.432),
        ("AISC HSS 4.500 x 0.375", 4.5, 0.375),
    ],
)
def test_hollow_sections_in_inches(designation, outside, wall):
    size = stock_size(designation)
    assert (size.outside_diameter, size.wall) == pytest.approx((outside * INCH, wall * INCH))


def test_hollow_sections_go_on_in_the_standard_steps():
    # EN 10210-2 (seen in a public list): 219.1 from 5 to 20, 406.4 from 6.3 to 40
    walls = {
        outside: [s.wall for s in sizes_like("EN 10210-2") if s.outside_diameter == outside]
        for outside in (219.1, 406.4)
    }
    assert walls[219.1] == [5, 6.3, 8, 10, 12.5, 14.2, 16, 20]
    assert walls[406.4] == [6.3, 8, 10, 12.5, 14.2, 16, 20, 25, 30, 40]


def test_every_size_is_a_tube_under_one_designation_with_its_source():
    assert len({size.designation for size in sizes()}) == len(sizes())
    for size in sizes():
        assert 0 < size.wall < size.outside_diameter / 2
        assert size.designation.startswith(size.listed_in)
        assert "seen" in size.source
        assert "Nominal walls" in size.note


def test_a_list_goes_by_diameter_and_then_by_wall():
    for listed_in in ("EN 10220", "EN 10210-2"):
        order = [(s.outside_diameter, s.wall) for s in sizes_like(listed_in)]
        assert order == sorted(order)
    # A pipe whose XXS is thinner than its schedule 160.
    assert [s.designation.split("NPS 8 ")[1] for s in sizes_like("NPS 8")][-2:] == [
        "XXS", "Sch 160"
    ]  # fmt: skip


def test_what_the_heavy_walls_are_for():
    """A catalogue pipe seldom has a bore under 0.75 of its diameter; the heavy series goes on."""
    pipes = [s for s in sizes() if s.catalogue]
    assert 0 < sum(s.bore_ratio < 0.75 for s in pipes) < len(pipes) / 20
    heavy = [s for s in sizes() if s.listed_in == "EN 10220"]
    assert all("from memory, not seen" in s.source for s in heavy)
    assert 0.5 <= min(s.bore_ratio for s in heavy) < 0.51
    # None stands in both lists of EN sizes.
    common = {(s.outside_diameter, s.wall) for s in heavy}
    assert common.isdisjoint((s.outside_diameter, s.wall) for s in sizes_like("EN 10210-2"))


def test_bore_ratio_and_mass():
    size = stock_size(XXS)
    bore = 6.625 - 2 * 0.864
    assert size.bore_ratio == pytest.approx(bore / 6.625, rel=1e-12)
    area = math.pi / 4 * (6.625**2 - bore**2) * INCH**2
    assert size.mass_per_length == pytest.approx(7850e-6 * area, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("NPS 6", 5),
        ("NPS 8", 5),
        ("nps 6 xxs", 1),
        ("8.625x0.5", 1),
        ("8.625 × 0.5", 1),
        ("HSS 20", 1),
    ],
)
def test_sizes_like(text, count):
    assert len(sizes_like(text)) == count


@pytest.mark.parametrize(
    ("text", "close"),
    [
        ("NPS 6 XS", f' did you mean "{XXS}" or'),
        ("asme b36.10m nps 6 xxs", f' did you mean "{XXS}"? '),
        ("ASME B36.10M NPS 6 Sch 140", ' did you mean "ASME B36.10M NPS 6 Sch 40" or'),
        ("EN 10220 168.3x26", ' did you mean "EN 10220 168.3 x 16" or "EN 10220 168.3 x 20" or'),
        ("six inches", " contactfe catalogue"),
    ],
)
def test_a_size_that_is_not_known_gets_those_close_to_it(text, close):
    with pytest.raises(InputError) as refusal:
        stock_size(text)
    assert str(refusal.value).startswith(f"is not a known size;{close}")
    assert str(refusal.value).endswith(" contactfe catalogue lists them all")


def test_no_size_is_like_a_text():
    with pytest.raises(InputError) as refusal:
        sizes_like("NPS 6 XS")
    assert str(refusal.value).startswith(
        f'nothing is like "NPS 6 XS"; did you mean "{XXS}" or "ASME B36.10M NPS 6 '
    )


def test_a_section_of_a_stock_size(stocked):
    infill = {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"}
    stocked["section"][1] |= {"steel": "ASTM A106 Gr B", "infill": infill}
    solid, tube = case_from_dict(stocked).sections
    assert (tube.stock, tube.shape, tube.steel) == (XXS, "filled tube", "ASTM A106 Gr B")
    assert (tube.outside_diameter, tube.wall) == pytest.approx((6.625 * INCH, 0.864 * INCH))
    assert solid.stock is None
    del stocked["section"][1]["infill"]
    stocked["section"][1]["held_by"] = "rigid core"
    assert case_from_dict(stocked).sections[1].held_by == "rigid core"


@pytest.mark.parametrize(
    ("keys", "line"),
    [
        ({"outside_diameter": "150 mm"}, 'outside_diameter = "150 mm": must not be stated beside'),
        ({"wall": "25 mm"}, 'wall = "25 mm": must not be stated beside designation; choose one'),
        ({"bore": "25 mm"}, 'bore = "25 mm": must not be stated beside designation; choose one'),
        ({"mesh": "a.msh"}, 'mesh = "a.msh": must not be stated beside designation; choose one'),
        ({"designation": 6}, "designation = 6: must be text in quotes"),
        (
            {"designation": "NPS 6 XXS"},
            f'designation = "NPS 6 XXS": is not a known size; did you mean "{XXS}"? contactfe'
            " catalogue lists",
        ),
    ],
)
def test_a_fault_of_a_stock_size_is_one_line(stocked, refusal, keys, line):
    stocked["section"][1] |= keys
    found = refusal()
    assert found.startswith(f"cases/x.toml: {TUBE}, {line}")
    assert "\n" not in found


def test_neither_size_nor_diameter(stocked, refusal):
    del stocked["section"][1]["designation"]
    assert refusal() == (
        f"cases/x.toml: {TUBE}, outside_diameter: is missing; write for example "
        'outside_diameter = "150 mm", or in its place designation = "ASME B36.10M NPS 6 XXS"'
    )


def test_bored_bars_are_found_but_no_section_is_one():
    assert {s.listed_in for s in sizes_like("bored")} == {"bored bar", "bored inch bar"}
    assert len(sizes_like("bored inch 11.75 5.5")) == 1
    with pytest.raises(InputError, match=r"is a bar, .* state outside_diameter and bore"):
        stock_size("bored inch bar 8, bore 6 in")
