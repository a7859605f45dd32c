"""What a hand calculation was given, line by line, in the units of the case."""

import pytest

from contactfe.case import Case, case_from_dict
from contactfe.report.inputs import inputs

BETA = (
    "βw = {} of the root weld by EN 1993-1-8, Table 4.1 (seen in an open library; 1 where it does"
    " not name the steel), with fu of the post"
)
ELASTIC = "elastic constants: EN 1993-1-1, 3.2.6 (values seen, clause from memory)"
TABLE = "Table 7 (seen, edition not recorded)"


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
    assert inputs(case()) == (
        "Load: force 300.0 kN over 250 mm, line load q = 1200 N/mm",
        "Steel of the post: EN 10025-2 S355, fy = 295 MPa, fu = 450 MPa, E = 210000 MPa, ν = 0.3"
        f" ({TABLE}, row for over 100 mm; {ELASTIC})",
        "Steel of the plate: stated, fy = 345 MPa, fu = 450 MPa, E = 200000 MPa, ν = 0.28"
        " (stated in the case)",
        "Yield margin 1: what a stress is measured by is yield. Clauses have factors of their own"
        " and not this margin.",
        "Standards: AISC 360 by LRFD; AASHTO LRFD; EN with γM0 = 1, γM2 = 1.25, γM6,ser = 1,"
        " γm = 1",
    )


def test_a_line_load_without_a_force():
    found = case(load={"line_load": "1.2 kN/mm"}, corner={"line_load": "300 N/mm"})
    assert line(found, "Load") == "line load q = 1200 N/mm"
    assert line(found, "Load on the second plate") == "line load q = 300.0 N/mm"


def test_the_second_plate_of_a_corner_has_its_own_force_and_length():
    found = case(corner={"force": "100 kN", "contact_length": "200 mm"})
    assert line(found, "Load") == "force 300.0 kN over 250 mm, line load q = 1200 N/mm"
    second = "force 100.0 kN over 200 mm, line load q = 500.0 N/mm"
    assert line(found, "Load on the second plate") == second
    assert inputs(found)[1].startswith("Load on the second plate")


def test_units_are_those_of_the_case():
    found = case(
        load={"force": "60 kip", "contact_length": "10 in"},
        report={"units": "US customary"},
        cantilever={"length": "3 ft", "weld_throat": "0.5 in", "electrode_strength": "70 ksi"},
    )
    assert line(found, "Load") == "force 60.00 kip over 10 in, line load q = 6.000 kip/in"
    # 345, 450 and 200 000 MPa over 6.894757.
    plate = "stated, fy = 50.0 ksi, fu = 65.3 ksi, E = 29007.5 ksi, ν = 0.28 (stated in the case)"
    assert line(found, "Steel of the plate") == plate
    assert line(found, "Post along its axis") == (
        "36 in from the root to the middle of the contact, fillet weld of throat 0.5 in all round,"
        " electrodes of 70.0 ksi"
    )


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
    assert "row for over 80 mm" in posts[1]
    alike = case(("one", 120, {}), ("two", 130, {}))
    assert line(alike, "Steel of the post").startswith("EN 10025-2 S355, fy = 295 MPa")


def test_an_ultimate_strength_that_is_not_known():
    plate = {"width": "400 mm", "thickness": "60 mm", "held_by": "rigid base", "young": "200 GPa",
        "poisson": 0.3, "yield": "345 MPa"}  # fmt: skip
    found = line(case(plate=plate), "Steel of the plate")
    assert found.startswith("stated, fy = 345 MPa, ultimate strength not stated, E = 200000 MPa")


def test_the_margin_and_what_a_stress_is_measured_by():
    (margin,) = [text for text in inputs(case(check={"yield_margin": 1.25})) if "margin" in text]
    assert margin.startswith("Yield margin 1.25: what a stress is measured by is yield / 1.25. ")


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({}, ""),
        ({"weld_throat": "12 mm"}, ", fillet weld of throat 12 mm all round"),
        (
            {"weld_throat": "12 mm", "electrode_strength": "483 MPa"},
            ", fillet weld of throat 12 mm all round, electrodes of 483 MPa",
        ),
    ],
)
def test_the_post_along_its_axis(more, said):
    found = case(cantilever={"length": "900 mm"} | more)
    along = "900 mm from the root to the middle of the contact"
    assert line(found, "Post along its axis") == f"{along}{said}"


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ({"apply": ["AISC"], "method": "ASD"}, "AISC 360 by ASD"),
        ({"apply": ["AASHTO"]}, "AASHTO LRFD"),
        (
            {"apply": ["EN"], "gamma_M0": 1.05, "gamma_M2": 1.3, "gamma_M6_ser": 1.1,
             "gamma_m": 1.2},
            "EN with γM0 = 1.05, γM2 = 1.3, γM6,ser = 1.1, γm = 1.2; " + BETA.format("0.9"),
        ),
    ],
)  # fmt: skip
def test_standards_with_the_factors_that_are_the_case_s(stated, said):
    found = case(standards=stated, cantilever={"length": "900 mm", "weld_throat": "12 mm"})
    assert line(found, "Standards") == said


def test_without_standards_there_is_no_line_of_them():
    assert not any("Standards" in text for text in inputs(case(standards={"apply": []})))


def test_the_correlation_factors_of_a_weld_are_those_of_the_steels_of_the_post():
    weld = {"length": "900 mm", "weld_throat": "12 mm"}
    own = {"steel": "EN 10025-2 S235"}
    two = case(("a", 120, {}), ("b", 120, own), ("c", 90, {}), cantilever=weld)
    assert line(two, "Standards").endswith(BETA.format("0.8, 0.9"))
    american = case(("a", 120, {"steel": "ASTM A36"}), cantilever=weld)
    assert line(american, "Standards").endswith(BETA.format("1"))
    assert "βw" not in line(case(cantilever={"length": "900 mm"}), "Standards")
