import math
from dataclasses import FrozenInstanceError, replace

import pytest

from contactfe.case import Section, case_from_dict
from contactfe.case.display import SI, US


def test_a_solid_and_a_tube():
    solid, tube = Section("bar", 150.0), Section("tube", 150.0, 25.0)
    assert (solid.shape, solid.radius, solid.bore_radius) == ("solid", 75.0, 0.0)
    assert (tube.shape, tube.radius, tube.bore_radius) == ("tube", 75.0, 50.0)
    assert solid.area == pytest.approx(math.pi * 150**2 / 4, rel=1e-14)
    assert tube.area == pytest.approx(math.pi * (150 - 25) * 25, rel=1e-14)


def test_the_yield_strength_follows_what_governs_it(data):
    case = case_from_dict(data)
    # EN 10025-2, Table 7 (seen in a public copy): 150 mm round, 25 mm wall, and one not in the case
    strengths = [case.post_material(section).yield_strength for section in case.sections]
    assert strengths == [295.0, 345.0]
    assert case.post_material(Section("thin", 150.0, 12.0)).yield_strength == 355.0


def test_a_section_may_name_its_own_steel(data):
    data["section"][1]["steel"] = "EN 10210-1 S235H"
    solid, tube = case_from_dict(data).sections
    case = case_from_dict(data)
    assert case.post_material(solid).name == "EN 10025-2 S355"
    assert case.post_material(tube).name == "EN 10210-1 S235H"


def test_a_plate_of_named_steel(data):
    for key in ("young", "poisson", "yield"):
        del data["plate"][key]
    data["plate"]["steel"] = "EN 10025-2 S275"
    assert case_from_dict(data).plate_material.yield_strength == 255.0  # Table 7, 60 mm (seen)


def test_mass_per_metre(data):
    solid = case_from_dict(data).sections[0]
    # π/4 · 0.15² m² · 7850 kg/m³, worked by hand
    assert case_from_dict(data).mass_per_length(solid) == pytest.approx(138.72, abs=5e-3)
    data["post"]["density"] = "8 t/m3"
    assert case_from_dict(data).mass_per_length(solid) == pytest.approx(141.37, abs=5e-3)


def test_the_display_is_the_one_asked_for_and_changes_no_number(data):
    plain = case_from_dict(data)
    case = case_from_dict(data | {"report": {"units": "US customary"}})
    assert (plain.display, case.display) == (SI, US)
    assert replace(case, report_units="SI") == plain


def test_nothing_can_be_changed_afterwards(data):
    case = case_from_dict(data)
    for thing, key in [
        (case, "line_load"),
        (case, "report_units"),
        (case.plate, "width"),
        (case.sections[0], "wall"),
    ]:
        with pytest.raises(FrozenInstanceError):
            setattr(thing, key, 1.0)
