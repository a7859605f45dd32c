from dataclasses import FrozenInstanceError, replace
from pathlib import Path

import pytest
from restated import restated

from contactfe.case import Contact, Envelope, Infill, Section, case_from_dict
from contactfe.case.display import SI, US
from contactfe.errors import InputError


def test_the_shape_follows_from_the_keys_that_are_stated():
    grout = Infill(30e3, 0.2, 2400.0, name="grout")
    assert Section("bar", 150.0).shape == "solid"
    assert Section("tube", 150.0, 25.0).shape == "tube"
    assert Section("filled", 150.0, 25.0, infill=grout).shape == "filled tube"
    own = Section("own", 160.0, mesh=Path("/a.msh"))
    assert (own.shape, own.radius, own.geometry.steel_thickness) == ("own mesh", 80.0, 160.0)
    assert replace(own, governing_thickness=20.0).geometry.steel_thickness == 20.0
    assert replace(own, infill=grout).geometry.infill_area is None  # which only its mesh knows


def test_what_governs_the_yield_strength_of_an_own_mesh(data):
    case = case_from_dict(data)
    own = Section("own", 160.0, mesh=Path("/a.msh"))
    # EN 10025-2, Table 7 (seen in a public copy): 160 mm round, and 20 mm
    assert case.post_material(own).yield_strength == 285.0
    assert case.post_material(replace(own, governing_thickness=20.0)).yield_strength == 345.0
    # A grade of hollow sections is listed as tube only (EN 10210-1 by EN 1993-1-1, Table 3.1).
    hollow = replace(own, steel="EN 10210-1 S355H")
    with pytest.raises(InputError, match="is listed as tube, not as solid"):
        case.post_material(hollow)
    assert case.post_material(replace(hollow, governing_thickness=20.0)).yield_strength == 355.0


def test_a_section_may_be_held_otherwise(data):
    data["section"][1]["held_by"] = "rigid core"
    case = case_from_dict(data)
    assert [case.hold(section) for section in case.sections] == ["beam shear", "rigid core"]
    assert case.held_by == "beam shear"


def test_every_combination_of_an_envelope():
    envelope = Envelope((0.0, 40.0), (0.1,), (0.0, 0.2))
    assert envelope.contacts == (
        Contact(0.0, 0.1, 0.0),
        Contact(0.0, 0.1, 0.2),
        Contact(40.0, 0.1, 0.0),
        Contact(40.0, 0.1, 0.2),
    )


def test_a_case_at_another_contact_differs_in_nothing_else(data):
    data["envelope"] = {"offset": ["0 mm", "40 mm"]}
    case = case_from_dict(data)
    moved = case.at(Contact(offset=40.0, friction=0.2))
    assert moved.contact == Contact(40.0, 0.0, 0.2)
    assert moved != case
    assert moved.at(case.contact) == case


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


def test_mass_per_metre_with_an_infill(data):
    data["section"][1]["infill"] = {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"}
    case = case_from_dict(data)
    # π (0.075² - 0.05²) m² · 7850 kg/m³ + π 0.05² m² · 2400 kg/m³, worked by hand
    assert case.mass_per_length(case.sections[1]) == pytest.approx(77.067 + 18.850, abs=5e-3)


def test_mass_per_metre_of_an_own_mesh_takes_areas_as_meshed(data):
    case = case_from_dict(data)
    own = Section("own", 160.0, mesh=Path("/a.msh"))
    assert case.mass_per_length(own, 10e3) == pytest.approx(78.5, rel=1e-12)
    filled = replace(own, infill=Infill(30e3, 0.2, 2400.0, name="grout"))
    assert case.mass_per_length(filled, 10e3, 5e3) == pytest.approx(78.5 + 12.0, rel=1e-12)
    with pytest.raises(ValueError, match="read off the mesh"):
        case.mass_per_length(own)
    with pytest.raises(ValueError, match="read off the mesh"):
        case.mass_per_length(filled, 10e3)


def test_the_display_is_the_one_asked_for_and_changes_no_number(data):
    plain = case_from_dict(data)
    case = case_from_dict(data | {"report": {"units": "US customary"}})
    assert (plain.display, case.display) == (SI, US)
    assert restated(case, report_units="SI") == plain


def test_nothing_can_be_changed_afterwards(data):
    case = case_from_dict(data)
    for thing, key in [
        (case, "line_load"),
        (case, "report_units"),
        (case.plate, "width"),
        (case.sections[0], "wall"),
        (case.contact, "offset"),
    ]:
        with pytest.raises(FrozenInstanceError):
            setattr(thing, key, 1.0)
