"""A case by hand as JSON: keys, units, and what programs must be able to rely on."""

import json
import math
from dataclasses import replace

import pytest
from handcases import SOLID, TUBE
from handcases import everything as stop
from restated import restated

import contactfe
from contactfe.assess.by_hand.case import by_hand
from contactfe.case import Case, Standards
from contactfe.codes.clause import GOVERNS
from contactfe.report.hand_document import hand_document, section_by_hand
from contactfe.report.inputs import inputs
from contactfe.report.json_file import as_text
from contactfe.report.words import cautions

HELD = {
    "length": "mm", "stress": "MPa", "line load": "N/mm", "force": "N", "moment": "N·mm",
    "area": "mm²", "section modulus": "mm³", "second moment of area": "mm⁴",
    "moment per length": "N·mm/mm", "bending stiffness": "N·mm", "stiffness": "N/mm",
    "line stiffness": "N/mm/mm", None: None,
}  # fmt: skip


def written(case: Case) -> dict:
    """The document as a program reads it back."""
    return json.loads(as_text(hand_document(by_hand(case))))


def step_of(document: dict, key: str, section: int = 0) -> dict:
    return next(s for s in document["sections"][section]["steps"] if s["key"] == key)


def clause_of(document: dict, key: str) -> dict:
    return next(c for c in document["sections"][0]["clauses"] if c["key"] == key)


@pytest.mark.parametrize(
    "keys",
    [
        {},
        {"corner": 300.0, "friction": 0.2, "units": "US customary"},
        {"yield_strength": 500.0, "plate": (400.0, 11.0), "line_load": 2000.0},
        {"plate_held": "clamped", "held_by": "diametral"},
    ],
    ids=str,
)
def test_it_is_json_that_reads_back_as_it_was(keys):
    document = hand_document(by_hand(stop(SOLID, TUBE, **keys)))
    assert json.loads(json.dumps(document, allow_nan=False)) == document


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_json_has_no_number_for_is_refused_as_text(value):
    with pytest.raises(ValueError, match="JSON compliant"):
        as_text({"value": value})


def test_the_head_tells_the_units_that_everything_is_held_in():
    assert written(stop())["units"] == {
        "length": "mm", "stress": "MPa", "line_load": "N/mm", "mass_per_length": "kg/m",
        "moment_per_length": "N mm/mm", "line_stiffness": "N/mm/mm", "angle": "rad",
        "density": "kg/m3",
    }  # fmt: skip


def test_a_clause_is_stated_in_its_own_words():
    found = by_hand(stop(TUBE, corner=300.0))
    shown = hand_document(found)["sections"][0]["clauses"]
    for clauses, there in zip(found.sections[0].clauses, shown, strict=True):
        clause = clauses.check.clause
        for key in ("standard", "edition", "title", "level", "text"):
            assert there[key] == getattr(clause, key), (clause.key, key)
        assert there["written_for"] == clause.written_for
        assert there["carries"] == clause.carries
        assert there["reach"] == clause.reach
        assert (there["clause"], there["part"]) == (clause.number, clauses.part)


def test_keys_of_the_document():
    document = written(stop(SOLID, TUBE))
    assert list(document) == [
        "title", "generator", "libraries", "units", "case", "given", "sections", "satisfied",
        "checks", "open_items", "cautions",
    ]  # fmt: skip
    assert document["title"] == "invented for a test"
    assert document["generator"] == {"name": "contactfe", "version": contactfe.__version__}
    assert document["case"] == {"source": "<data>", "path": None}
    assert document["given"] == list(inputs(stop(SOLID, TUBE)))
    assert document["cautions"] == [GOVERNS, *cautions(stop(SOLID, TUBE), evenly=True)]
    assert [s["name"] for s in document["sections"]] == ["solid 150", "150 x 25"]
    assert list(document["sections"][0]) == ["name", "steps", "clauses", "left_out", "root"]


def test_a_step_in_full():
    step = step_of(written(stop(line_load=1500.0)), "hertz_half_width")
    a = math.sqrt(4 * 1500 * 75 * 1.82 / (math.pi * 200e3))
    limits = step.pop("limits")
    assert step == {
        "key": "hertz_half_width", "topic": "contact", "label": "half-width, Hertz",
        "formula": "hertz.half_width", "name": "half-width of the contact", "symbol": "a",
        "form": "√(4·q·R/(π·E*))",
        "given": {
            "line_load": {"symbol": "q", "value": 1500.0, "dimension": "line load"},
            "radius": {"symbol": "R", "value": 75.0, "dimension": "length"},
            "E_star": {
                "symbol": "E*", "value": pytest.approx(200e3 / 1.82), "dimension": "stress",
            },
        },
        "value": pytest.approx(a), "unit": "mm", "within_range": True, "note": "",
        "source": step["source"], "utilisation": None,
    }  # fmt: skip
    assert step["source"]
    assert limits[0] == {
        "what": "a/R", "value": pytest.approx(a / 75), "side": "at most", "bound": 0.1,
        "exceeded": False,
    }  # fmt: skip


_WORDS = "title", "written_for", "carries", "edition", "newer_edition", "text"


def test_a_clause_in_full():
    clause = clause_of(written(stop()), "aashto_lrfd.14_7_1_4_cylinder")
    steps = clause.pop("steps")
    words = {key: clause.pop(key) for key in _WORDS}
    assert all(words.values())
    assert clause == {
        "key": "aashto_lrfd.14_7_1_4_cylinder", "part": "post on plate",
        "standard": "AASHTO LRFD", "clause": "14.7.1.4, eq. 14.7.1.4-1",
        "demand": 400.0, "resistance": pytest.approx(8 * 150 * 345**2 / 200e3), "unit": "N/mm",
        "ratio": pytest.approx(400 / 714.15), "satisfied": True, "within_scope": True,
        "exceeded": [], "reach": "by analogy", "level": "service", "ratio_grows": "as the load",
        "load_factor": pytest.approx(714.15 / 400),
    }  # fmt: skip
    assert [step["symbol"] for step in steps] == ["q", "PS/W"]
    assert [step["value"] for step in steps] == [clause["demand"], clause["resistance"]]


@pytest.mark.parametrize("units", ["SI", "US customary"])
def test_every_value_in_the_unit_it_is_held_in(units):
    found = by_hand(stop(SOLID, TUBE, units=units, plate_held="elastic supports", spring=2000.0))
    document = json.loads(as_text(hand_document(found)))
    for section, shown in zip(found.sections, document["sections"], strict=True):
        for step, as_json in zip(section.steps, shown["steps"], strict=True):
            assert as_json["key"] == step.key
            assert as_json["value"] == step.worked.value
            assert as_json["unit"] == HELD[step.worked.dimension]
            assert as_json["utilisation"] == step.utilisation
        for clauses, as_json in zip(section.clauses, shown["clauses"], strict=True):
            assert as_json["demand"] == clauses.check.demand.value
            assert as_json["unit"] == HELD[clauses.check.demand.dimension]


def test_units_shown_on_pages_change_nothing_but_the_form_of_the_american_rule():
    one, other = (written(stop(SOLID, TUBE, units=u)) for u in ("SI", "US customary"))
    changed = set()
    for here, there in zip(one["sections"], other["sections"], strict=True):
        assert here["steps"] == there["steps"]
        for mine, yours in zip(here["clauses"], there["clauses"], strict=True):
            if mine != yours:
                changed.add(mine["key"])
                assert yours["unit"] == mine["unit"] == "N/mm"
                # 90 MPa for 13 ksi, rounded.
                assert yours["resistance"] == pytest.approx(mine["resistance"], rel=0.01)
    assert changed == {"aisc_360.j7_roller"}
    # What was given is stated in words, and so in the units of the pages.
    changed = {key for key in one if one[key] != other[key]}
    assert changed == {"given", "sections", "checks"}


def test_utilisation_is_of_the_yield_strength_over_the_margin():
    for margin, satisfied in ((1.0, True), (1.5, False)):
        document = written(replace(stop(margin=margin), standards=Standards(("AASHTO",))))
        share = step_of(document, "hertz_peak_von_mises")
        assert share["utilisation"] == pytest.approx(margin * share["value"] / 345)
        assert step_of(document, "hertz_peak_pressure")["utilisation"] is None
        # The root: 32·72 kN·m/(π 150³) = 217.3 MPa, the contact 240.8 MPa.
        assert document["satisfied"] == satisfied
        assert [clause["satisfied"] for clause in document["sections"][0]["clauses"]] == [True]


def test_how_a_ratio_grows_and_by_what_the_loads_may():
    document = written(stop(plate_held="simply supported"))
    grows = {}
    for clause in document["sections"][0]["clauses"]:
        grows[clause["key"]] = clause["ratio_grows"]
        power = {"as the load": 1, "as the load squared": 2, "as the root of the load": 0.5}
        factor = clause["ratio"] ** (-1 / power[clause["ratio_grows"]])
        assert clause["load_factor"] == pytest.approx(factor), clause["key"]
    assert grows["en_1993_1_8.flat_contact_by_analogy"] == "as the root of the load"
    assert grows["en_1993_1_1.6_2_1_5"] == "as the load squared"
    assert grows["aisc_360.j7_roller"] == "as the load"


def test_a_number_out_of_range_says_so():
    document = written(stop(plate=(400.0, 11.0), line_load=1500.0))
    step = step_of(document, "hertz_peak_pressure")
    assert step["within_range"] is False
    assert [limit["what"] for limit in step["limits"] if limit["exceeded"]] == [
        "a/t, the plate's thickness"
    ]
    assert step_of(document, "contact_modulus")["within_range"] is True


def test_a_clause_out_of_scope_says_so():
    document = written(stop(yield_strength=500.0))
    clause = clause_of(document, "en_1993_1_8.flat_contact_by_analogy")
    assert clause["within_scope"] is False
    assert clause["satisfied"] is None
    assert clause["exceeded"] == [
        {"what": "fy", "value": 500.0, "side": "at most", "bound": 460.0, "exceeded": True}
    ]
    assert document["satisfied"] is False


def test_whether_all_is_satisfied():
    # A contact of two diameters, in the scope of EN 1337-4.
    long = restated(stop(line_load=100.0), contact_length=300.0)
    assert written(long)["satisfied"] is True
    document = written(stop(line_load=1000.0))
    assert document["satisfied"] is False
    assert clause_of(document, "aashto_lrfd.14_7_1_4_cylinder")["satisfied"] is False
    assert clause_of(document, "aisc_360.j7_roller")["satisfied"] is True


def test_a_ratio_without_bound_is_null():
    # A shear force beyond its resistance leaves no moment to resist.
    area = math.pi / 4 * (150**2 - 100**2)
    V = 1.1 * 2 / math.pi * area * 345 / math.sqrt(3)
    clause = clause_of(written(stop(TUBE, line_load=V / 200)), "en_1993_1_1.6_2_8")
    assert (clause["ratio"], clause["resistance"], clause["satisfied"]) == (None, 0.0, False)


def test_what_is_found_without_a_form_has_none_but_a_note():
    document = written(stop(TUBE))
    steps = clause_of(document, "en_1993_1_1.6_2_5")["steps"]
    step = next(step for step in steps if step["formula"] == "en_1993_1_1.bending.tube_class")
    assert (step["form"], step["value"]) == (None, 1.0)
    assert step["note"]
    step = step_of(document, "ring_bore_under_load")
    assert step["form"] == "k·q/(π·ro)"
    assert step["given"]["held_by"] == {
        "symbol": "held by", "value": "beam shear", "dimension": None
    }  # fmt: skip


def test_what_is_left_out():
    assert written(stop())["sections"][0]["left_out"] == []
    (left_out,) = written(stop(cantilever=False))["sections"][0]["left_out"]
    assert "[cantilever]" in left_out


def test_one_section_alone_is_what_it_is_in_the_whole():
    found = by_hand(stop(SOLID, TUBE))
    whole = hand_document(found)["sections"]
    for section, there in zip(found.sections, whole, strict=True):
        assert {"name": section.section.name, **section_by_hand(section)} == there
