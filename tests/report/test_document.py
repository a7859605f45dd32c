import json
import math
from dataclasses import replace

import pytest

from contactfe.assess.handchecks import HAND_KEYS
from contactfe.report.document import document
from contactfe.report.json_file import write_json

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
    values = {key: v for key, v in first.values.items() if key != "post_first_yield"}
    member = replace(first.member, values=values)
    other = replace(comparison, sections=(replace(first, member=member), *comparison.sections[1:]))
    assert document(other)["sections"][0]["member"]["first_yield_line_load"] is None


def test_every_figure_of_a_section_is_the_results_own(comparison):
    content = document(comparison)
    assert content["satisfied"] is comparison.satisfied
    for key in ("by_concentration", "by_utilisation", "by_mass"):
        assert content[key] == list(getattr(comparison, key))
    for r, s in zip(comparison.sections, content["sections"], strict=True):
        assert s["name"] == r.section.name
        for key, value in {
            "peak_contact_pressure": r.peak_contact_pressure, "half_width": r.half_width,
            "approach": r.approach, "added_hoop_stress": r.added_hoop_stress,
            "stress_concentration": r.stress_concentration,
        }.items():  # fmt: skip
            assert (s[key], s[f"{key}_uncertainty"]) == (value.value, value.uncertainty)
        assert (s["utilisation"], s["satisfied"]) == (r.utilisation.value, r.satisfied)
        assert s["residuals"] == {
            "force_balance": r.reading.state.force_balance,
            "complementarity": r.reading.state.complementarity,
        }
        assert all(value > 0.0 for value in s["residuals"].values())
        if r.bore_hoop_stress:
            assert s["bore_hoop_stress"]["under_load"] == r.bore_hoop_stress[0].value > 0.0
            assert s["bore_hoop_stress"]["at_side"] == r.bore_hoop_stress[1].value < 0.0
        for found, body in ((s["member"], r.member), (s["plate"], r.plate)):
            for place, peak in zip(
                (found, *found["places"]), (body.peak_von_mises, *body.places), strict=True
            ):
                value = place.get("peak_von_mises", place.get("von_mises"))
                assert (value, place["x"], place["y"], place["zone"], place["depth"]) == (
                    peak.value, peak.at.x, peak.at.y, peak.at.zone, peak.at.depth
                )  # fmt: skip
                assert place["depth_in_half_widths"] == peak.at.depth / r.half_width.value
                assert place["uncertainty"] == peak.uncertainty
            assert found["utilisation"] == body.utilisation.value
            assert found["utilisation_uncertainty"] == body.utilisation.uncertainty
            assert found["shakedown_line_load"] == body.shakedown_line_load
            assert found["satisfied"] is body.satisfied
            assert found["first_yield_line_load"] == body.first_yield_line_load.value
            assert (found["max_shear"], found["max_shear_uncertainty"]) == (
                body.max_shear.value, body.max_shear.uncertainty
            )  # fmt: skip
            assert found["material"]["yield_strength"] == body.material.yield_strength
        for found, check in zip(s["hand_checks"], r.hand_checks, strict=True):
            assert (found["hand"], found["computed"]) == (check.hand, check.computed)
            assert found["difference"] == check.difference


def test_the_case_states_contact_corner_springs_and_accuracy(comparison, corner, oblique):
    plain, case = document(comparison)["case"], document(oblique)["case"]
    assert plain["contact"] == {"offset": 0.0, "angle": 0.0, "angle_degrees": 0.0, "friction": 0.0}
    assert (plain["corner"], plain["accuracy"], plain["plate"]["spring"]) == (None, None, None)
    assert case["contact"] == {
        "offset": -20.0, "angle": pytest.approx(math.pi / 180.0),
        "angle_degrees": pytest.approx(1.0), "friction": 0.2,
    }  # fmt: skip
    assert (case["accuracy"], case["plate"]["spring"]) == (0.05, 20e3)
    assert document(corner)["case"]["corner"] == {
        "line_load": 800.0, "offset": 5.0, "effective_length": None
    }  # fmt: skip


def test_a_section_says_what_its_contact_does(oblique):
    (r,), (s,) = oblique.sections, document(oblique)["sections"]
    assert (s["held_by"], s["shape"]) == ("rigid core", "tube")
    contact = s["contact"]
    for key, value in {
        "centre": r.contact.centre, "tangential_load": r.contact.tangential_load,
        "back_stress": r.contact.back_stress, "deflection": r.contact.deflection,
    }.items():  # fmt: skip
        assert (contact[key], contact[f"{key}_uncertainty"]) == (value.value, value.uncertainty)
    assert contact["motion"] == "partial slip"
    assert contact["zones"] == [
        {"motion": z.motion, "start": z.start, "end": z.end} for z in r.contact.zones
    ]
    assert [held["place"] for held in contact["reactions"]] == ["left edge", "right edge"]
    assert [held["place"] for held in s["member"]["reactions"]] == ["bore"]
    assert s["travel"] == list(r.reading.state.rigid_displacement)
    assert s["travel"][1] == -s["approach"]


@pytest.mark.parametrize("of", ["comparison", "corner", "oblique"])
def test_loads_and_reactions_of_the_document_balance(of, request):
    """What a reader adds up from it alone: forces, and moments about the first contact."""
    for s in document(request.getfixturevalue(of))["sections"]:
        for patch in (s, s["corner"]):
            if patch is None:
                continue
            contact = patch["contact"]
            held = contact["reactions"]
            along = contact["tangential_load"] + sum(r["along"] for r in held)
            across = -patch["line_load"] + sum(r["across"] for r in held)
            moment = contact["load_moment"] + sum(
                r["moment"] + r["x"] * r["across"] - r["y"] * r["along"] for r in held
            )
            # The solve's own bound of 1e-9 of the load, at the plate's size for the moment.
            assert [along, across] == pytest.approx([0.0, 0.0], abs=1e-9 * patch["line_load"])
            assert moment == pytest.approx(0.0, abs=1e-9 * patch["line_load"] * 300.0)
            # The moment of the load is that of its resultant, near the middle of the patch.
            assert abs(contact["load_moment"]) < patch["line_load"] * patch["half_width"] / 10.0


def test_the_second_patch_has_the_keys_of_the_first(corner, comparison):
    (r,), (s,) = corner.sections, document(corner)["sections"]
    second = s["corner"]
    assert set(second) == {
        "line_load", "half_width", "half_width_uncertainty", "peak_contact_pressure",
        "peak_contact_pressure_uncertainty", "plate", "contact",
    }  # fmt: skip
    assert set(second) <= set(s)
    assert set(second["contact"]) == set(s["contact"])
    assert set(second["plate"]) == set(s["plate"])
    assert (second["line_load"], s["line_load"]) == (pytest.approx(800.0), pytest.approx(1200.0))
    assert second["half_width"] == r.patches[1].half_width.value
    assert second["plate"]["peak_von_mises"] == r.patches[1].plate.peak_von_mises.value
    assert all(plain["corner"] is None for plain in document(comparison)["sections"])


def test_depths_are_in_half_widths_of_the_patch_they_are_at(corner):
    (r,), (s,) = corner.sections, document(corner)["sections"]
    first, second = (patch.half_width.value for patch in r.patches)
    places = {place["zone"]: place for place in s["member"]["places"]}
    at_second = next(p for zone, p in places.items() if "second plate" in zone)
    assert at_second["depth_in_half_widths"] == at_second["depth"] / second
    bore = places["bore under the load line"]
    assert bore["depth_in_half_widths"] == bore["depth"] / first


def test_the_infill_is_there_with_its_stresses(corner, comparison):
    (r,), (s,) = corner.sections, document(corner)["sections"]
    assert s["shape"] == "filled tube"
    infill = s["infill"]
    assert {k: infill[k] for k in ("name", "young", "poisson", "density")} == {
        "name": "grout", "young": 30e3, "poisson": 0.2, "density": 2300.0
    }  # fmt: skip
    for key, of in {
        "tension": "infill_tension", "compression": "infill_compression",
        "bond_tension": "bond_tension", "bond_shear": "bond_shear",
    }.items():  # fmt: skip
        value = r.values[of]
        assert (infill[key], infill[f"{key}_uncertainty"]) == (value.value, value.uncertainty)
    assert infill["compression"] < 0.0 < infill["tension"]
    assert document(comparison)["sections"][1]["infill"] is None


def test_levels_and_whether_the_accuracy_was_reached(comparison, oblique):
    (r,), (s,) = oblique.sections, document(oblique)["sections"]
    assert [(level["size"], level["unknowns"]) for level in s["levels"]] == [
        (level.size, level.unknowns) for level in r.levels
    ]
    coarse, fine = (level["peaks"] for level in s["levels"])
    assert [peak["uncertainty"] for peak in coarse] == [None, None]
    assert fine[0] == {
        "von_mises": r.member.peak_von_mises.value,
        "uncertainty": r.member.peak_von_mises.uncertainty,
    }
    assert fine[1]["von_mises"] == r.plate.peak_von_mises.value
    assert s["accuracy"] == {"asked": 0.05, "reached": True, "stopped": None}
    stopped = replace(oblique, sections=(replace(r, stopped="no memory"),))
    assert document(stopped)["sections"][0]["accuracy"] == {
        "asked": 0.05, "reached": False, "stopped": "no memory"
    }  # fmt: skip
    plain = document(comparison)["sections"][0]["accuracy"]
    assert plain == {"asked": None, "reached": None, "stopped": None}


@pytest.mark.parametrize("of", ["comparison", "corner", "oblique"])
def test_every_hand_check_has_its_key(of, request):
    comparison = request.getfixturevalue(of)
    for r, s in zip(comparison.sections, document(comparison)["sections"], strict=True):
        assert {check.key for check in r.hand_checks} <= set(HAND_KEYS)
        assert s["hand"] == {key: r.hand_value(key) for key in HAND_KEYS}


def test_reactions_state_how_sure_they_are(oblique):
    (r,), (s,) = oblique.sections, document(oblique)["sections"]
    force, moment = r.contact.reaction_uncertainty
    assert s["contact"]["reaction_uncertainty"] == {"force": force, "moment": moment}
    # The tilt moves the patch a little, and with it what each edge carries.
    assert 0.0 < force < 1e-3 * r.line_load
