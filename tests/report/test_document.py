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


def test_every_figure_of_a_section_is_the_results_own(comparison):
    content = document(comparison)
    assert content["satisfied"] is comparison.satisfied
    for key in ("by_concentration", "by_utilisation", "by_mass"):
        assert content[key] == list(getattr(comparison, key))
    for r, s in zip(comparison.sections, content["sections"], strict=True):
        for key, value in {
            "peak_contact_pressure": r.peak_pressure, "half_width": r.half_width,
            "approach": r.approach, "added_hoop_stress": r.added_hoop,
            "stress_concentration": r.stress_concentration,
        }.items():  # fmt: skip
            assert (s[key], s[f"{key}_uncertainty"]) == (value.value, value.uncertainty)
        assert (s["utilisation"], s["satisfied"]) == (r.utilisation, r.satisfied)
        assert s["residuals"] == {
            "force_balance": r.reading.state.force_balance,
            "complementarity": r.reading.state.complementarity,
        }
        assert all(value > 0.0 for value in s["residuals"].values())
        if r.bore_hoop:
            assert s["bore_hoop_stress"]["under_load"] == r.bore_hoop[0].value > 0.0
            assert s["bore_hoop_stress"]["at_side"] == r.bore_hoop[1].value < 0.0
        for found, body in ((s["member"], r.member), (s["plate"], r.plate)):
            for place, peak in zip(
                (found, *found["places"]), (body.peak, *body.places), strict=True
            ):
                value = place.get("peak_von_mises", place.get("von_mises"))
                assert (value, place["x"], place["y"], place["zone"], place["depth"]) == (
                    peak.von_mises, peak.x, peak.y, peak.zone, peak.depth
                )  # fmt: skip
                assert place["depth_in_half_widths"] == peak.depth / r.half_width.value
            assert found["uncertainty"] == body.uncertainty
            assert found["utilisation"] == body.utilisation
            assert found["satisfied"] is body.satisfied
            assert found["first_yield_line_load"] == body.first_yield_line_load
            assert (found["max_shear"], found["max_shear_uncertainty"]) == (
                body.max_shear.value, body.max_shear.uncertainty
            )  # fmt: skip
            assert found["material"]["yield_strength"] == body.material.yield_strength
        for found, check in zip(s["hand_checks"], r.hand, strict=True):
            assert (found["hand"], found["computed"]) == (check.hand, check.computed)
            assert found["difference"] == check.difference


def test_rankings_are_each_their_own(comparison):
    content = document(replace(comparison, by_mass=("m",), by_utilisation=("u",)))
    assert (content["by_mass"], content["by_utilisation"]) == (["m"], ["u"])
