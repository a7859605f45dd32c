"""Who reads a key in a document writes the same name in Python, and finds the same value there."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from operator import attrgetter
from typing import Any

import numpy as np
import pytest
from alignments import bent
from oneofeach import RESULTS

from contactfe.assess.hand_over import hand_over
from contactfe.assess.plate_hold import plate_holds
from contactfe.assess.sizing.record import Wall
from contactfe.assess.value import Value
from contactfe.impact.history import Peak
from contactfe.report.document import document
from contactfe.report.envelope import envelope_document
from contactfe.report.hand_document import hand_document
from contactfe.report.impact import impact_document
from contactfe.report.overload import overload_document
from contactfe.report.sizing import sizing_document
from contactfe.report.stiffness import stiffness_document

DOCUMENTS = {
    "Comparison": document,
    "EnvelopeResult": envelope_document,
    "SizingResult": sizing_document,
    "ImpactResult": impact_document,
    "StiffnessResult": stiffness_document,
    "OverloadResult": overload_document,
    "ByHand": hand_document,
}
JOINED = {
    "BodyResult": ["peak_von_mises.place", "peak_von_mises"],
    "Body": ["peak_von_mises.place"],
    "Beside": ["worked"],
    "Clauses": ["check", "check.clause"],
    "LevelImpact": ["motion", "level"],
    "OverloadResult": ["comparison"],
    "Row": ["contact"],
    "SectionByHand": ["section"],
    "SectionEnvelope": ["section"],
    "SectionResult": ["section", "section.geometry"],
    "SectionStiffness": ["section"],
    "Step": ["worked"],
    "Value": ["place"],
}
"""Parts of a record that its document has beside it, in one."""
TOP = "title generator libraries units case cautions given specimen"
OTHERWISE = {
    # In words, or of what the case states.
    "Comparison": f"{TOP} ties",
    "EnvelopeResult": f"{TOP} ties envelope answer",
    "SizingResult": f"{TOP} tolerance load_check motion_checks checks",
    "ImpactResult": f"{TOP} demand",
    "StiffnessResult": f"{TOP} gap sign_convention counting_the_bending_twice note left_out shares",
    "OverloadResult": f"{TOP} answer",
    "ByHand": TOP,
    "Diameter": "answer smallest_wall stock catalogue",
    "OpenItem": "label why",
    "Bounds": "why",
    "Check": "why covers beyond satisfied",
    "HandCheck": "remark",
    "Worked": "form",
    "Step": "form",
    "Beside": "form",
    "Clauses": "clause steps demand resistance",
    # Gathered from several records, or worked out for the page.
    "SectionResult": "held_by hand infill residuals travel plate_hold corner accuracy tolerance"
    " wall stock values",
    "PatchResult": "load_moment",
    "MeshLevel": "peaks",
    "BodyResult": "depth_in_half_widths reactions",
    "LengthResult": "axial_stress",
    "SectionEnvelope": "contacts solved ties highest_post_peak governing at_governing",
    "Value": "von_mises depth_in_half_widths",
    "Row": "section angle_degrees satisfied verdict peak_contact_pressure half_width"
    " tangential_load tangential_ratio largest_reaction values",
    "Wall": "size places tolerance",
    "Best": "lies_between not_parted_from stress_concentration passes governing",
    "Band": "from to",
    "SectionImpact": "contacts damper_force_at_closure displacement_with_stop"
    " displacement_without_stop duration end energies energy_at_closure isolation_stiffness labels"
    " mean_line_load no_closed_form overshoot root sensitivity time_of_peak"
    " time_of_peak_damper_force velocity_at_closure",
    "LevelImpact": "dampers displacement_without_stop governs sensitivity",
    "SectionOverload": "stress_concentration shakedown_line_load why_left_out"
    " mean_over_peak_line_load",
    "Strike": "values unloading",
    "Ranked": "uncertainties",
    "SectionStiffness": "approach_between hand_over specimen whole_secant_stiffness"
    " whole_tangent_stiffness",
    "ForceApproach": "ends_at approach_uncertainty share_contact_post share_ring"
    " share_contact_plate share_plate_bending",
    "ImpactForce": "points_end_at_line_load points_end_before_it up_to_force up_to_line_load",
    "Linear": "whole_stiffness",
    "PowerLaw": "coefficient_unit whole_coefficient",
    "Table": "force largest_error_with_post_over_load travel_with_post",
    "WithPost": "largest_error_over_load whole_linear_stiffness",
    "HandOver": "model displacement largest_error_over_force linear_stiffness"
    " linear_error_over_force tangent_stiffness secant_stiffness",
    "OnHold": "whole_normal whole_along whole_moment whole_pull",
}
"""Keys that stand elsewhere in Python, by the record that the document has them beside."""


def found_at(of: Any, key: str) -> list[Any]:
    """What stands under a key, in the record or in what the document joins to it."""
    if isinstance(of, Mapping):
        return [of[key]] if key in of else []
    parts = [of, *(attrgetter(part)(of) for part in JOINED.get(type(of).__name__, []))]
    return [getattr(part, key) for part in parts if hasattr(part, key)][:1]


def drifted(data: Any, of: Any, path: str) -> Iterator[str]:
    """Every key and value of a document that are not those of the record."""
    if isinstance(data, dict):
        known = {"unit", *OTHERWISE.get(type(of).__name__, "").split()}
        if "covers" in data:  # a check of a sizing, which counts the uncertainty into the ratio
            known.add("ratio")
        for key, value in data.items():
            base = key.removesuffix("_uncertainty")
            if {key, base} & known:
                continue
            here = f"{path}.{key}"
            if there := found_at(of, key):
                yield from drifted(value, there[0], here)
            elif base in data and base != key:
                whole = found_at(of, base)
                yield from drifted(value, whole and getattr(whole[0], "uncertainty", None), here)
            else:
                yield f"{here}: {type(of).__name__} has no such name"
    elif isinstance(data, list):
        items = list(of)
        if len(items) != len(data):
            yield f"{path}: {len(data)} and {len(items)}"
        for one, item in zip(data, items, strict=False):
            yield from drifted(one, item, f"{path}[]")
    else:
        plain = of.value if isinstance(of, (Value, Peak)) else of
        plain = of.wall if isinstance(of, Wall) else plain
        nothing = data is None and (plain is None or np.size(plain) == 0 or plain == "")
        if not nothing and plain != data:
            yield f"{path}: {data!r} and {plain!r}"


@pytest.mark.parametrize("name", DOCUMENTS)
def test_keys_are_names(name, comparison):
    found = RESULTS[name](comparison)
    if name == "EnvelopeResult":
        found = replace(found, sections=(replace(found.sections[0], assessed=comparison),))
    content = DOCUMENTS[name](found)
    assert list(dict.fromkeys(drifted(content, found, name))) == []


def test_keys_of_a_post_that_bends_are_names():
    """Its length, its relief, and what holds the plate."""
    found = bent()
    content = document(found)
    assert list(dict.fromkeys(drifted(content, found, "bent"))) == []
    for of, there in zip(found.sections, content["sections"], strict=True):
        assert there["length"]["axial_stress"] == of.axial_stress
        assert list(drifted(there["plate_hold"], plate_holds(found.case, of), "hold")) == []


def test_keys_of_a_corner_are_names(corner):
    found = corner.sections[0]
    there = document(corner)["sections"][0]["corner"]
    contact = there.pop("contact")
    assert list(drifted(there, found.patches[1], "corner")) == []
    assert list(drifted(contact, found.patches[1], "contact")) == []


def test_keys_of_what_is_handed_over_are_names():
    found = RESULTS["StiffnessResult"](None)
    content = stiffness_document(found)
    for of, there in zip(found.sections, content["sections"], strict=True):
        both = hand_over(found.case, of)
        assert list(drifted(there["hand_over"]["models"], both, "model")) == []


def test_keys_of_the_motions_nearby_are_names():
    found = RESULTS["ImpactResult"](None)
    for of, there in zip(found.blows, impact_document(found)["blows"], strict=True):
        for near in of.nearby:
            stated = dict(there["sensitivity"][near.key])
            assert stated.pop("gap_closes") == (near.velocity_at_closure > 0.0)
            stated.pop("over_peak_contact_force")
            assert list(drifted(stated, near, near.key)) == []


def test_a_key_that_is_no_name_is_found(comparison):
    content = document(comparison)
    content["sections"][0]["member"]["peak"] = 1.0
    content["sections"][0]["half_width"] *= 2.0
    lines = list(drifted(content, comparison, ""))
    assert [line.partition(":")[0] for line in lines] == [
        ".sections[].half_width", ".sections[].member.peak",
    ]  # fmt: skip
