"""Steels that a case states itself: values in [post] and [plate], and tables [grade.NAME]."""

import pickle

import pytest

from contactfe.case import case_from_dict

BAR = "bar, certificate 7731"
GRADE = {
    "young": "205 GPa",
    "poisson": 0.28,
    "yield": "420 MPa",
    "ultimate": "560 MPa",
    "source": "mill certificate 7731",
}
BANDS = {
    "over": ["0 mm", "40 mm", "4 in"],
    "yield": ["420 MPa", "400 MPa", "380 MPa"],
    "ultimate": ["560 MPa", "550 MPa", "540 MPa"],
}


def test_one_value_holds_for_every_thickness_and_product(data):
    data["grade"] = {BAR: GRADE}
    data["post"]["steel"] = BAR
    data["plate"] = {"width": "1 m", "thickness": "0.5 m", "held_by": "rigid base", "steel": BAR}
    case = case_from_dict(data)
    assert [case.post_material(s) for s in case.sections] == [case.plate_material] * 2
    found = case.plate_material
    assert (found.name, found.young, found.poisson) == (BAR, 205e3, 0.28)
    assert (found.yield_strength, found.ultimate_strength) == (420.0, 560.0)
    assert found.source == (
        "bar, certificate 7731: mill certificate 7731, as the case states it; "
        "elastic constants: stated in the case"
    )


def test_bands_follow_the_thickness_that_governs(data):
    data["grade"] = {BAR: GRADE | BANDS}
    data["section"][0] |= {"steel": BAR, "outside_diameter": "101.7 mm"}
    data["section"][1] |= {"steel": BAR, "wall": "40 mm"}
    data["plate"] = {"width": "1 m", "thickness": "4 in", "held_by": "rigid base", "steel": BAR}
    case = case_from_dict(data)
    solid, tube = (case.post_material(section) for section in case.sections)
    assert (solid.yield_strength, solid.ultimate_strength) == (380.0, 540.0)
    assert (tube.yield_strength, tube.ultimate_strength) == (420.0, 560.0)
    assert (case.plate_material.yield_strength, case.plate_material.ultimate_strength) == (400, 550)


def test_a_stock_size_in_a_steel_of_ones_own_has_the_design_wall_of_a_rolled_tube(data):
    data["grade"] = {BAR: GRADE}
    data["section"] = [
        {"name": "bored", "outside_diameter": "6 in", "wall": "0.5 in", "steel": BAR},
        {"name": "own", "designation": "AISC HSS 6.000 x 0.500", "steel": BAR},
        {"name": "full", "designation": "AISC HSS 6.000 x 0.500", "steel": "ASTM A1085"},
    ]
    case = case_from_dict(data)
    shares = [case.post_material(section).design_wall for section in case.sections]
    assert shares == [1.0, 0.93, 1.0]  # AISC 360-22, B4.2: all of it for A1085 alone
    stated = {name: GRADE[name] for name in ("young", "poisson", "yield")}
    data["post"] = {"held_by": "beam shear", **stated}
    del data["section"][1]["steel"]
    assert case_from_dict(data).post_material(case_from_dict(data).sections[1]).design_wall == 0.93


def test_what_a_grade_may_leave_out(data):
    bare = {key: value for key, value in GRADE.items() if key != "ultimate"}
    data["grade"] = {BAR: bare, "not used": GRADE}
    data["post"]["steel"] = BAR
    case = case_from_dict(data)
    assert case.post_material(case.sections[0]).ultimate_strength is None
    assert case.post_material(case.sections[1]).design_wall == 1.0  # its wall is as stated
    assert [grade.name for grade in case.grades] == [BAR, "not used"]


def test_a_case_with_a_grade_goes_to_other_processes(data):
    data["grade"] = {BAR: GRADE}
    case = case_from_dict(data)
    assert pickle.loads(pickle.dumps(case)) == case


def test_stated_values_may_have_an_ultimate_strength(data):
    assert case_from_dict(data).plate_material.ultimate_strength is None
    data["plate"]["ultimate"] = "450 MPa"
    del data["post"]["steel"]
    data["post"] |= {"young": "29000 ksi", "poisson": 0.3, "yield": "50 ksi", "ultimate": "65 ksi"}
    case = case_from_dict(data)
    assert case.plate_material.ultimate_strength == 450.0
    found = case.post_material(case.sections[0])
    assert found.ultimate_strength / found.yield_strength == pytest.approx(65 / 50, rel=1e-12)


@pytest.mark.parametrize(
    ("table", "line"),
    [
        (
            {"yuong": "2 GPa"},
            'yuong = "2 GPa": is not known here; did you mean young? '
            "allowed: young, poisson, over, yield, ultimate, hardening, hardening_kind, largest, "
            "source",
        ),
        ({"young": "205"}, 'young = "205": has no unit; write for example "345 MPa"'),
        ({"poisson": 0.6}, "poisson = 0.6: must be at least 0 and less than 0.5"),
        ({"yield": "0 MPa"}, 'yield = "0 MPa": must be greater than zero'),
        ({"yield": 420}, "yield = 420: has no unit"),
        ({"yield": []}, "yield: must hold at least one value"),
        (
            {"yield": ["420 MPa", "400 MPa"], "ultimate": "560 MPa"},
            "yield: must be one value, or state over, the thicknesses that each begins at",
        ),
        (
            {"over": ["0 mm", "40 mm"], "yield": ["420 MPa"], "ultimate": ["1 GPa", "1 GPa"]},
            "yield: must hold as many values as over, 2, not 1",
        ),
        (
            BANDS | {"yield": ["420 MPa", "4 mm", "1 MPa"]},
            'yield, entry 2 = "4 mm": is a length, not a stress',
        ),
        ({"ultimate": "3 mm"}, 'ultimate = "3 mm": is a length, not a stress'),
        (
            {"ultimate": "419 MPa"},
            'ultimate = "419 MPa": must be at least the yield strength, 420 MPa, not 419 MPa',
        ),
        (
            BANDS | {"ultimate": ["560 MPa", "399 MPa", "1 GPa"]},
            "ultimate: must be at least the yield strength, 400 MPa, not 399 MPa",
        ),
        ({"over": "40 mm"}, 'over = "40 mm": must be a list such as ["0 mm", "40 mm"]'),
        ({"over": ["16 mm"]}, "over: must begin with a thickness of zero"),
        ({"over": []}, "over: must hold at least one value"),
        ({"over": ["0 mm", 40]}, "over, entry 2 = 40: has no unit"),
        (
            BANDS | {"over": ["0 mm", "40 mm", "40 mm"]},
            "over: each must be greater than the one before",
        ),
        (
            BANDS | {"largest": "100 mm"},
            'largest = "100 mm": must be greater than the last value of over, 101.6 mm',
        ),
        (
            BANDS | {"over": ["0 mm", "40 mm", "100 mm"], "largest": "0.1 m"},  # an empty band
            'largest = "0.1 m": must be greater than the last value of over, 100 mm',
        ),
        ({"source": " "}, 'source = " ": must not be empty'),
    ],
)
def test_a_fault_of_a_grade_is_one_line(refusal, table, line):
    found = refusal(grade={BAR: GRADE | table})
    assert found.startswith(f'cases/x.toml: [grade."bar, certificate 7731"] {line}')
    assert "\n" not in found


@pytest.mark.parametrize(
    ("young", "strengths", "most"),
    [
        ("4199 MPa", "420 MPa", "420 MPa"),
        ("29000 psi", BANDS | {"yield": ["390 MPa", "420 MPa", "380 MPa"]}, "420 MPa"),
    ],
)
def test_a_modulus_in_the_wrong_unit_is_told_with_the_strength(refusal, young, strengths, most):
    own = strengths if isinstance(strengths, dict) else {"yield": strengths}
    found = refusal(grade={"bar": GRADE | own | {"young": young}})
    assert found == (
        f'cases/x.toml: [grade.bar]: young = "{young}" must be at least 10 times'
        f' yield = "{most}"; that of steel is about 200 GPa, 29000 ksi'
    )


def test_only_what_is_needed_is_asked_for(refusal):
    assert refusal(grade={"certificate": {"ultimate": "560 MPa"}}).splitlines() == [
        f"cases/x.toml: [grade.certificate] {key}: is missing; write for example {key} = {example}"
        for key, example in (
            ("young", '"205 GPa"'),
            ("poisson", "0.3"),
            ("yield", '"420 MPa"'),
            ("source", '"mill certificate 7731"'),
        )
    ]


@pytest.mark.parametrize(
    ("grade", "line"),
    [
        ("bar", '[grade] = "bar": must be tables, each headed [grade.NAME]'),
        ({BAR: 3}, f'[grade."{BAR}"] = 3: must be one table, headed [grade."{BAR}"]'),
        ({"young": "205 GPa"}, '[grade]: has no name; head it [grade."NAME"], by a name'),
        (
            {"EN 10025-2 S355": GRADE},
            '[grade."EN 10025-2 S355"]: is the name of a built-in steel; choose another',
        ),
        ({" bar": GRADE}, '[grade." bar"]: must not begin or end with a blank'),
        ({"": GRADE}, '[grade.""]: must not be empty'),
        ({"two\nlines": GRADE}, '[grade."two\\nlines"]: must be on one line'),
    ],
)
def test_what_is_no_grade(data, refusal, grade, line):
    data["grade"] = grade
    found = refusal()
    assert found.startswith(f"cases/x.toml: {line}")
    assert "\n" not in found


def test_an_unknown_steel_lists_the_grades_of_the_case_too(refusal):
    found = refusal(post={"steel": "Bar certificate 7731"}, grade={BAR: GRADE})
    assert found.startswith(
        'cases/x.toml: [post] steel = "Bar certificate 7731": is not a known steel; '
        f'did you mean "{BAR}"? allowed: "EN 10025-2 S235", '
    )
    assert found.endswith(f'"EN 10083-3 42CrMo4+QT", "{BAR}"')


def test_a_grade_with_a_fault_is_known_all_the_same(refusal):
    found = refusal(post={"steel": BAR}, grade={BAR: GRADE | {"young": "1 mm"}})
    assert found.startswith(f'cases/x.toml: [grade."{BAR}"] young = "1 mm": is a length')
    assert "\n" not in found


def test_a_grade_is_for_no_more_than_its_largest_thickness(data, refusal):
    data["grade"] = {BAR: GRADE | {"largest": "1 in"}}
    data["section"][1] |= {"steel": BAR, "wall": "25.4 mm"}
    case_from_dict(data)
    assert refusal(section={"wall": "26 mm"}) == (
        f'cases/x.toml: section 2 "tube 150 x 25", wall = "26 mm": '
        f'"{BAR}" is listed as tube up to 25.4 mm thick, not 26 mm'
    )


def test_a_steel_may_break_just_where_it_yields(data):
    data["grade"] = {BAR: GRADE | {"ultimate": "420 MPa"}}
    data["post"]["steel"] = BAR
    found = case_from_dict(data).post_material(case_from_dict(data).sections[0])
    assert found.ultimate_strength == found.yield_strength == 420.0


@pytest.mark.parametrize("ultimate", ["344 MPa", "1 MPa"])
def test_stated_steel_does_not_break_before_it_yields(refusal, ultimate):
    assert refusal(plate={"ultimate": ultimate}) == (
        f'cases/x.toml: [plate] ultimate = "{ultimate}": '
        "must be at least the yield strength, 345 MPa"
    )


def test_an_ultimate_strength_beside_a_named_steel(refusal):
    assert refusal(post={"ultimate": "560 MPa"}) == (
        "cases/x.toml: [post]: states steel and also young, poisson, yield or ultimate; choose one"
    )
