"""[cantilever] and [standards]: what hand formulas and clauses alone use."""

from dataclasses import replace

import pytest

from contactfe.case import Cantilever, Standards, case_from_dict
from contactfe.errors import InputError


def data(**tables):
    return {
        "title": "invented for a test",
        "post": {"held_by": "beam shear", "steel": "EN 10025-2 S355"},
        "plate": {
            "width": "400 mm", "thickness": "60 mm", "held_by": "rigid base",
            "steel": "EN 10025-2 S355",
        },
        "load": {"force": "300 kN", "contact_length": "300 mm"},
        "section": [{"name": "solid", "outside_diameter": "150 mm"}],
    } | tables  # fmt: skip


def test_without_the_tables_the_recommended_factors_hold():
    case = case_from_dict(data())
    assert case.cantilever is None
    assert case.standards == Standards()
    assert (case.standards.families, case.standards.method) == (("AISC", "AASHTO", "EN"), "LRFD")
    assert (case.standards.gamma_M0, case.standards.gamma_M2) == (1.0, 1.25)


def test_what_is_stated_is_taken_in_mm_and_mpa():
    case = case_from_dict(
        data(
            cantilever={
                "length": "3 ft",
                "weld_throat": "0.5 in",
                "electrode_strength": "70 ksi",
                "tip": "10 in",
            },
            standards={"apply": ["EN"], "method": "ASD", "gamma_M0": 1.1, "gamma_m": 1.2},
        )
    )
    assert case.cantilever == Cantilever(
        pytest.approx(914.4),
        pytest.approx(12.7),
        pytest.approx(482.633, abs=1e-3),
        pytest.approx(254.0),
    )
    assert case.standards == Standards(("EN",), "ASD", 1.1, 1.25, 1.0, 1.2)


@pytest.mark.parametrize(
    ("tables", "says"),
    [
        (
            {"cantilever": {"length": "0 mm"}},
            '[cantilever] length = "0 mm": must be greater than zero',
        ),
        (
            {"cantilever": {"length": "1 m", "electrode_strength": "70 ksi"}},
            "[cantilever] electrode_strength",
        ),
        ({"cantilever": {"lenght": "1 m"}}, "did you mean length?"),
        (
            {"cantilever": {}},
            '[cantilever] length: is missing; write for example length = "900 mm"',
        ),
        (
            {"standards": {"apply": ["BS"]}},
            'apply, entry 1 = "BS": is no family of standards; known are "AISC", "AASHTO" and "EN"',
        ),
        (
            {"standards": {"apply": "EN"}},
            'apply = "EN": must be a list of any of "AISC", "AASHTO" and "EN"; [] for none',
        ),
        ({"standards": {"apply": "EN"}}, '[standards] apply = "EN": must be a list'),
        ({"standards": {"method": "WSD"}}, '[standards] method = "WSD": must be "LRFD" or "ASD"'),
        ({"standards": {"gamma_M0": 0.9}}, "must be a number from 1 to 5"),
        ({"standards": {"gamma_m": 5.01}}, "[standards] gamma_m = 5.01: must be a number from 1"),
        ({"standards": {"gamma_M2": "1.25"}}, "must be a number without quotes"),
        (
            {"cantilever": {"length": "1 m"}, "load": {"line_load": "1 kN/mm"}},
            '[load] line_load = "1 kN/mm": must be stated as force and contact_length',
        ),
        (
            {"cantilever": {"length": "1 m"}, "corner": {"line_load": "1 kN/mm"}},
            '[corner] line_load = "1 kN/mm": must be stated as force and contact_length',
        ),
        (
            {"cantilever": {"length": "140 mm"}},
            '[load] contact_length = "300 mm": must be at most twice the length of [cantilever]',
        ),
        (
            {"cantilever": {"length": "1 m", "tip": "0 mm"}},
            '[cantilever] tip = "0 mm": must be greater than zero',
        ),
        (
            {"cantilever": {"length": "1 m", "tip": "140 mm"}},
            '[cantilever] tip = "140 mm": must be at least half the contact_length, 150 mm',
        ),
        (
            {
                "cantilever": {"length": "1 m", "tip": "160 mm"},
                "corner": {"force": "90 kN", "contact_length": "340 mm"},
            },
            '[cantilever] tip = "160 mm": must be at least half the contact_length, 170 mm',
        ),
    ],
)
def test_faults_name_table_key_value_and_what_is_allowed(tables, says):
    with pytest.raises(InputError) as refusal:
        case_from_dict(data(**tables), "stop.toml")
    assert says in str(refusal.value)
    assert str(refusal.value).startswith("stop.toml: ")
    # One line for each fault.
    assert all(line.startswith("stop.toml: [") for line in str(refusal.value).splitlines())


def test_a_throat_with_a_fault_counts_as_stated_beside_the_strength_of_its_electrode():
    weld = {"weld_throat": "0 mm", "electrode_strength": "70 ksi"}
    with pytest.raises(InputError) as refusal:
        case_from_dict(data(cantilever={"length": "1 m"} | weld), "stop.toml")
    assert str(refusal.value) == (
        'stop.toml: [cantilever] weld_throat = "0 mm": must be greater than zero'
    )


def test_a_family_named_twice_is_applied_once():
    assert case_from_dict(data(standards={"apply": ["EN", "AISC", "EN"]})).standards.families == (
        "EN", "AISC",
    )  # fmt: skip


def test_a_post_may_end_with_its_contact_and_need_not_say_where():
    for tip in ({}, {"tip": "150 mm"}):
        found = case_from_dict(data(cantilever={"length": "1 m"} | tip)).cantilever.tip
        assert found == (150.0 if tip else None)


def test_a_contact_may_reach_as_far_beyond_the_end_of_the_post_as_before_it():
    case = case_from_dict(data(cantilever={"length": "150 mm"}))
    assert case.contact_length == 2.0 * case.cantilever.length


@pytest.mark.parametrize("key", ["gamma_M0", "gamma_M2", "gamma_M6_ser", "gamma_m"])
@pytest.mark.parametrize("factor", [1.0, 5.0])
def test_partial_factors_are_from_1_to_5(key, factor):
    standards = case_from_dict(data(standards={key: factor})).standards
    assert standards == replace(Standards(), **{key: factor})


def test_no_standards_may_be_asked_for():
    assert case_from_dict(data(standards={"apply": []})).standards.families == ()


@pytest.mark.parametrize(
    ("stated", "fixing"),
    [
        ({}, None),
        ({"weld_throat": "9 mm"}, "fillet weld"),
        ({"root": "fillet weld", "weld_throat": "9 mm"}, "fillet weld"),
        ({"root": "groove weld", "electrode_strength": "70 ksi"}, "groove weld"),
        ({"socket_depth": "200 mm", "socket_yield": "235 MPa"}, "socket"),
        ({"root": "socket", "socket_depth": "200 mm"}, "socket"),
    ],
)
def test_how_the_post_is_fixed(stated, fixing):
    case = case_from_dict(data(cantilever={"length": "1 m", **stated}))
    assert case.cantilever.fixing == fixing


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        ({"root": "bolted"}, 'root = "bolted"'),
        ({"root": "groove weld", "weld_throat": "9 mm"}, "weld_throat"),
        ({"root": "socket", "weld_throat": "9 mm", "socket_depth": "1 m"}, "weld_throat"),
        ({"weld_throat": "9 mm", "socket_depth": "200 mm"}, "socket_depth"),
        ({"root": "groove weld", "socket_yield": "235 MPa"}, "socket_yield"),
        ({"socket_depth": "200 mm", "electrode_strength": "70 ksi"}, "electrode_strength"),
        ({"root": "socket"}, "socket_depth: is missing"),
        ({"root": "fillet weld"}, "weld_throat: is missing"),
        ({"socket_depth": "0 mm"}, "socket_depth"),
    ],
)
def test_what_does_not_go_with_how_the_post_is_fixed(stated, says):
    with pytest.raises(InputError) as refusal:
        case_from_dict(data(cantilever={"length": "1 m", **stated}))
    assert says in str(refusal.value)
    assert "\n" not in str(refusal.value)
