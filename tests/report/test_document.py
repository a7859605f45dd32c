import json
import math
from dataclasses import replace

import pytest

from contactfe.report.document import HAND_KEYS, document, write_json

BODY = {
    "peak_von_mises": float,
    "x": float,
    "y": float,
    "zone": str,
    "depth": float,
    "depth_in_half_widths": float,
    "uncertainty": float,
    "first_yield_line_load": float,
    "utilisation": float,
    "satisfied": bool,
    "max_shear": float,
    "places": list,
    "material": dict,
}
SECTION = {
    "name": str,
    "shape": str,
    "outside_diameter": float,
    "mass_per_length": float,
    "line_load": float,
    "held_by": str,
    "peak_contact_pressure": float,
    "half_width": float,
    "approach": float,
    "member": dict,
    "plate": dict,
    "added_hoop_stress": float,
    "stress_concentration": float,
    "hand": dict,
    "hand_checks": list,
    "residuals": dict,
    "unknowns": int,
    "remeshed": int,
    "solve_seconds": float,
}


@pytest.fixture(scope="module")
def content(comparison):
    return document(comparison)


def _types(found, expected):
    return {key: type(found[key]) for key in expected} == expected


def test_the_head_names_units_and_the_answer(comparison, content):
    assert content["title"] == comparison.case.title
    assert (
        content["units"].items()
        >= {
            "length": "mm",
            "stress": "MPa",
            "line_load": "N/mm",
        }.items()
    )
    assert content["generator"]["name"] == "contactfe"
    assert content["least_concentration"] == comparison.least_concentration
    assert content["reason"] == comparison.reason
    assert all(content["libraries"].values())


def test_every_section_has_every_key_in_plain_types(content):
    for section in content["sections"]:
        assert _types(section, SECTION)
        assert _types(section["member"], BODY)
        assert _types(section["plate"], BODY)
        assert set(section["residuals"]) == {"force_balance", "complementarity"}
        assert tuple(section["hand"]) == HAND_KEYS
    solid, tube = content["sections"]
    assert (solid["shape"], solid["wall"], solid["bore_hoop_stress"]) == ("solid", None, None)
    assert (tube["shape"], tube["wall"]) == ("tube", 20.0)
    assert set(tube["bore_hoop_stress"]) >= {"under_load", "at_side"}


def test_hand_values_are_null_where_the_formula_does_not_apply(comparison, content):
    solid, tube = (section["hand"] for section in content["sections"])
    assert solid["ring_bore_under_load"] is None
    assert tube["disc_centre_along"] is None
    for result, section in zip(comparison.sections, content["sections"], strict=True):
        for check in result.hand:
            assert section["hand"][check.key] == check.hand


def test_sections_keep_the_order_of_the_case(comparison, content):
    assert [s["name"] for s in content["sections"]] == [s.name for s in comparison.case.sections]


def test_values_are_those_of_the_results(comparison, content):
    for result, section in zip(comparison.sections, content["sections"], strict=True):
        assert section["half_width"] == result.half_width.value
        assert section["half_width_uncertainty"] == result.half_width.uncertainty
        assert section["member"]["peak_von_mises"] == result.member.peak.von_mises
        assert section["plate"]["places"][0]["von_mises"] == result.plate.peak.von_mises


def test_it_survives_json(content, tmp_path):
    path = tmp_path / "results.json"
    write_json(path, content)
    raw = path.read_bytes()
    assert raw.endswith(b"}\n")
    assert json.loads(raw.decode("utf-8")) == content
    assert list(json.loads(raw)) == list(content)


def test_not_a_number_is_refused(content, tmp_path):
    with pytest.raises(ValueError, match="not JSON compliant"):
        write_json(tmp_path / "results.json", {**content, "title": math.nan})
    assert not (tmp_path / "results.json").exists()


def test_a_load_beyond_the_model_is_null(comparison):
    first = comparison.sections[0]
    member = replace(first.member, first_yield_line_load=None)
    other = replace(comparison, sections=(replace(first, member=member),))
    assert document(other)["sections"][0]["member"]["first_yield_line_load"] is None
