"""What a hand calculation was given, line by line, in the units of the case."""

import pytest
from saying import figures, only

from contactfe.case import Case, case_from_dict
from contactfe.report.inputs import inputs
from contactfe.report.words import limit


def case(*sections, **tables) -> Case:
    """A case in SI of solid rounds of S355 on a plate with stated values; tables replace its own.

    A section is its diameter, mm, with keys of its own.
    """
    return case_from_dict(
        {
            "title": "invented for a test",
            "post": {"held_by": "beam shear", "steel": "EN 10025-2 S355"},
            "plate": {
                "width": "400 mm", "thickness": "60 mm", "held_by": "rigid base",
                "young": "200 GPa", "poisson": 0.28, "yield": "345 MPa", "ultimate": "450 MPa",
            },
            "load": {"force": "300 kN", "contact_length": "250 mm"},
            "section": [
                {"name": name, "outside_diameter": f"{d} mm"} | own
                for name, d, own in (sections or (("solid", 120, {}),))
            ],
        }
        | tables
    )  # fmt: skip


def line(found: Case, head: str) -> str:
    """The one line with that head, without it."""
    (only,) = [text for text in inputs(found) if text.startswith(f"{head}: ")]
    return only.removeprefix(f"{head}: ")


def test_every_line_of_a_plain_case():
    load, post, plate, margin, standards = inputs(case())
    assert load == "Load: force 300.0 kN over 250 mm, line load q = 1200 N/mm"
    constants = "fy = 295 MPa, fu = 450 MPa, E = 210000 MPa, ν = 0.3"
    assert only([post], f"post: EN 10025-2 S355, {constants}", "Table 7", "100 mm", "3.2.6")
    constants = "fy = 345 MPa, fu = 450 MPa, E = 200000 MPa, ν = 0.28"
    assert only([plate], f"plate: stated, {constants}")
    assert "margin 1:" in margin
    assert standards.count(";") == 2
    for of in (
        "AISC 360 by LRFD", "AASHTO LRFD", "EN with γM0 = 1, γM2 = 1.25, γM6,ser = 1, γm = 1"
    ):  # fmt: skip
        assert of in standards


@pytest.mark.parametrize(
    ("load", "corner", "first", "second"),
    [
        (None, {"force": "100 kN", "contact_length": "200 mm"}, [300.0, 250.0, 1200.0],
         [100.0, 200.0, 500.0]),
        ({"line_load": "1.2 kN/mm"}, {"line_load": "300 N/mm"}, [1200.0], [300.0]),
    ],
)  # fmt: skip
def test_the_second_plate_of_a_corner_has_its_own_load(load, corner, first, second):
    found = case(corner=corner, **({"load": load} if load else {}))
    assert figures(line(found, "Load")) == first
    assert figures(line(found, "Load on the second plate")) == second
    assert inputs(found)[1].startswith("Load on the second plate")


def test_units_are_those_of_the_case():
    found = case(
        load={"force": "60 kip", "contact_length": "10 in"},
        report={"units": "US customary"},
        cantilever={"length": "3 ft", "weld_throat": "0.5 in", "electrode_strength": "70 ksi"},
    )
    assert only([line(found, "Load")], "60.00 kip", "10 in", "6.000 kip/in")
    # 345, 450 and 200 000 MPa over 6.894757.
    plate = "fy = 50.0 ksi, fu = 65.3 ksi, E = 29007.5 ksi, ν = 0.28"
    assert plate in line(found, "Steel of the plate")
    assert only([line(found, "Post along its axis")], "36 in", "0.5 in", "70.0 ksi")


def test_each_steel_of_the_post_once_with_the_sections_that_have_it():
    found = case(
        ("thick", 120, {}), ("thin", 90, {}), ("thicker", 140, {}),
        ("own", 120, {"steel": "EN 10025-2 S235"}),
    )  # fmt: skip
    posts = [text for text in inputs(found) if text.startswith("Steel of the post")]
    assert [text.partition(", fu")[0] for text in posts] == [
        "Steel of the post, thick, thicker: EN 10025-2 S355, fy = 295 MPa",
        "Steel of the post, thin: EN 10025-2 S355, fy = 315 MPa",
        "Steel of the post, own: EN 10025-2 S235, fy = 195 MPa",
    ]
    assert "over 80 mm" in posts[1]
    alike = case(("one", 120, {}), ("two", 130, {}))
    assert line(alike, "Steel of the post").startswith("EN 10025-2 S355, fy = 295 MPa")


def test_an_ultimate_strength_that_is_not_known():
    plate = {"width": "400 mm", "thickness": "60 mm", "held_by": "rigid base", "young": "200 GPa",
        "poisson": 0.3, "yield": "345 MPa"}  # fmt: skip
    found = line(case(plate=plate), "Steel of the plate")
    assert only([found], "fy = 345 MPa", "ultimate strength not stated")
    assert "fu" not in found


def test_the_margin_and_what_a_stress_is_measured_by():
    of = case(check={"yield_margin": 1.25})
    assert only(inputs(of), "margin 1.25:", limit(of))


@pytest.mark.parametrize(
    ("more", "numbers"),
    [
        ({}, [900.0]),
        ({"weld_throat": "12 mm"}, [900.0, 12.0]),
        ({"weld_throat": "12 mm", "electrode_strength": "483 MPa"}, [900.0, 12.0, 483.0]),
    ],
)
def test_the_post_along_its_axis(more, numbers):
    found = line(case(cantilever={"length": "900 mm"} | more), "Post along its axis")
    assert figures(found) == numbers
    assert ("weld" in found, "electrodes" in found) == (len(numbers) > 1, len(numbers) > 2)


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ({"apply": ["AISC"], "method": "ASD"}, "AISC 360 by ASD"),
        ({"apply": ["AASHTO"]}, "AASHTO LRFD"),
        (
            {"apply": ["EN"], "gamma_M0": 1.05, "gamma_M2": 1.3, "gamma_M6_ser": 1.1,
             "gamma_m": 1.2},
            "EN with γM0 = 1.05, γM2 = 1.3, γM6,ser = 1.1, γm = 1.2; βw = 0.9 of the root weld",
        ),
    ],
)  # fmt: skip
def test_standards_with_the_factors_that_are_the_case_s(stated, said):
    found = case(standards=stated, cantilever={"length": "900 mm", "weld_throat": "12 mm"})
    assert line(found, "Standards").startswith(said)
    assert len(line(found, "Standards").split(" (")[0].split(";")) == said.count(";") + 1


def test_without_standards_there_is_no_line_of_them():
    assert not any("Standards" in text for text in inputs(case(standards={"apply": []})))


def test_the_correlation_factors_of_a_weld_are_those_of_the_steels_of_the_post():
    weld = {"length": "900 mm", "weld_throat": "12 mm"}
    own = {"steel": "EN 10025-2 S235"}
    two = case(("a", 120, {}), ("b", 120, own), ("c", 90, {}), cantilever=weld)
    assert line(two, "Standards").partition("βw = ")[2].startswith("0.8, 0.9 of")
    american = case(("a", 120, {"steel": "ASTM A36"}), cantilever=weld)
    assert line(american, "Standards").partition("βw = ")[2].startswith("1 of")
    assert "βw" not in line(case(cantilever={"length": "900 mm"}), "Standards")
