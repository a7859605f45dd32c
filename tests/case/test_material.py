"""What a steel does beyond first yield, stated in [post], [plate] or a [grade.NAME]."""

from dataclasses import asdict
from pathlib import Path

import pytest
from pydantic import TypeAdapter

from contactfe.case import Material, case_from_dict
from contactfe.case.scaling import scaled
from contactfe.case.specimen import specimen
from contactfe.case.table import HELD

GRADE = {
    "young": "210 GPa", "poisson": 0.3, "over": ["0 mm", "30 mm"], "yield": ["420 MPa", "400 MPa"],
    "hardening": "300 ksi", "hardening_kind": "kinematic", "source": "a tensile test",
}  # fmt: skip
KSI = 6.894757293168361


def hardening(material):
    return material.hardening, material.hardening_kind


def test_without_it_a_steel_is_perfectly_plastic(data):
    case = case_from_dict(data)
    assert hardening(case.plate_material) == (0.0, "isotropic")
    assert hardening(case.post_material(case.sections[0])) == (0.0, "isotropic")
    bare = {key: value for key, value in GRADE.items() if not key.startswith("hardening")}
    data |= {"grade": {"bar": bare}, "post": {"held_by": "beam shear", "steel": "bar"}}
    assert hardening(case_from_dict(data).post_material(case.sections[0])) == (0.0, "isotropic")


@pytest.mark.parametrize("table", ["post", "plate"])
def test_it_is_stated_with_the_other_values(data, table):
    data["post"] = {"held_by": "beam shear", "young": "205 GPa", "poisson": 0.3, "yield": "300 MPa"}
    for keys, found in (
        ({"hardening": "2 GPa"}, (2000.0, "isotropic")),
        ({"hardening": "2 GPa", "hardening_kind": "isotropic"}, (2000.0, "isotropic")),
        ({"hardening": "1500 MPa", "hardening_kind": "kinematic"}, (1500.0, "kinematic")),
        ({"hardening": "0 MPa", "hardening_kind": "kinematic"}, (0.0, "kinematic")),
    ):
        case = case_from_dict(data | {table: data[table] | keys})
        of = {"post": case.post_material(case.sections[0]), "plate": case.plate_material}
        assert hardening(of.pop(table)) == found
        assert [hardening(other) for other in of.values()] == [(0.0, "isotropic")]


def test_that_of_a_grade_goes_with_it_whoever_uses_it_at_every_thickness(data):
    data["grade"] = {"bar": GRADE}
    data["post"]["steel"] = "bar"
    data["plate"] = {"width": "1 m", "thickness": "30 mm", "held_by": "rigid base", "steel": "bar"}
    data["section"].append(data["section"][1] | {"name": "own", "steel": "EN 10025-2 S355"})
    case = case_from_dict(data)
    *of_bar, other = map(case.post_material, case.sections)
    assert [steel.yield_strength for steel in of_bar] == [400.0, 420.0]
    for steel in (*of_bar, case.plate_material):
        assert hardening(steel) == (pytest.approx(300 * KSI, rel=1e-12), "kinematic")
    assert hardening(other) == (0.0, "isotropic")


@pytest.mark.parametrize(("young", "most"), [("200 GPa", "20 GPa"), ("29000 ksi", "2900 ksi")])
def test_a_tenth_of_the_modulus_passes(data, young, most):
    data["plate"] |= {"young": young, "hardening": most}
    steel = case_from_dict(data).plate_material
    assert steel.hardening == pytest.approx(steel.young / 10, rel=1e-12)
    data["grade"] = {"bar": GRADE | {"young": young, "hardening": most}}
    assert case_from_dict(data).grades[0].hardening == pytest.approx(steel.young / 10, rel=1e-12)


FAULTS = [
    ({"hardening": "-1 MPa"}, 'hardening = "-1 MPa": must not be negative'),
    ({"hardening": "2 mm"}, 'hardening = "2 mm": is a length, not a stress'),
    ({"hardening": 2000}, "hardening = 2000: has no unit"),
    ({"hardening": ["2 GPa"]}, "hardening: must be text with a number and a unit"),
    (
        {"hardening": "20.001 GPa"},
        'hardening = "20.001 GPa": must be at most a tenth of young, 20000 MPa',
    ),
    (
        {"hardening": "2 GPa", "hardening_kind": "mixed"},
        'hardening_kind = "mixed": must be "isotropic" or "kinematic"',
    ),
    (
        {"hardening_kind": "isotropic"},
        'hardening_kind = "isotropic": must not be stated without hardening',
    ),
]


@pytest.mark.parametrize(("keys", "line"), FAULTS)
def test_a_fault_is_one_line(data, refusal, keys, line):
    found = refusal(plate=keys)
    assert found.startswith(f"cases/x.toml: [plate] {line}")
    assert "\n" not in found


@pytest.mark.parametrize(("keys", "line"), FAULTS)
def test_a_fault_of_a_grade_is_one_line(refusal, keys, line):
    bare = {key: value for key, value in GRADE.items() if not key.startswith("hardening")}
    found = refusal(grade={"bar": bare | {"young": "200 GPa"} | keys})
    assert found.startswith(f"cases/x.toml: [grade.bar] {line}")
    assert "\n" not in found


def test_the_bound_is_in_the_units_of_the_case(refusal):
    found = refusal(
        plate={"young": "29000 ksi", "hardening": "29000 ksi"}, report={"units": "US customary"}
    )
    assert found == (
        'cases/x.toml: [plate] hardening = "29000 ksi": must be at most a tenth of young, 2900 ksi'
    )


@pytest.mark.parametrize(
    ("key", "value"), [("hardening", "2 GPa"), ("hardening_kind", "kinematic")]
)
@pytest.mark.parametrize("steel", ["EN 10025-2 S355", "bar"])
def test_beside_the_name_of_a_steel_it_is_refused_as_its_other_values(refusal, key, value, steel):
    found = refusal(grade={"bar": GRADE}, post={"steel": steel, key: value})
    assert found.startswith(
        f'cases/x.toml: [post] {key} = "{value}": must not be stated beside steel; '
    )
    assert "\n" not in found


def test_a_specimen_keeps_it_as_it_keeps_the_strengths(data):
    data["grade"] = {"bar": GRADE}
    data["post"]["steel"] = "bar"
    data["plate"] |= {"hardening": "2 GPa", "hardening_kind": "kinematic"}
    case = case_from_dict(data)
    tables = specimen(case, data, 0.25, Path()).tables
    assert tables["plate"]["hardening"] == "2 GPa"
    for small in (scaled(case, 0.25), case_from_dict(tables)):
        assert hardening(small.plate_material) == (2000.0, "kinematic")
        for section, of in zip(case.sections, small.sections, strict=True):
            assert hardening(small.post_material(of)) == hardening(case.post_material(section))


def test_a_section_as_made_is_of_the_same_steel(data):
    data["grade"] = {"bar": GRADE}
    data["post"]["steel"] = "bar"
    case = case_from_dict(data)
    made = case.as_made(case.sections[1], 149.0, 24.0)
    assert made.post_material(made.sections[0]) == case.post_material(case.sections[1])


def test_it_goes_through_a_record(data):
    data["plate"] |= {"hardening": "2 GPa", "hardening_kind": "kinematic"}
    steel = case_from_dict(data).plate_material
    assert TypeAdapter(Material).validate_python(asdict(steel), context=HELD) == steel
