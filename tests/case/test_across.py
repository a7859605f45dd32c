"""Faults of holds, infill, own meshes, contact, corner, envelope and accuracy."""

import pytest

from contactfe.case import case_from_dict

INFILL = {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"}
RANGE = {"from": "-60 mm", "to": "60 mm", "count": 5}
FRICTIONS = {"from": 0.0, "to": 0.5, "count": 101}
TUBE = 'section 2 "tube 150 x 25"'
OFFSET = "must be less than half the plate's width, 200 mm, from its middle"
SQUARELY = 'for a post held by "diametral", as section “solid 150” is: it is squeezed squarely'


@pytest.mark.parametrize(
    ("tables", "line"),
    [
        # elastic supports of the plate
        (
            {"plate": {"held_by": "elastic supports"}},
            '[plate] spring: is missing; held_by = "elastic supports" needs it: write for example '
            'spring = "2 kN/mm/mm", the stiffness at each edge per length along the post',
        ),
        (
            {"plate": {"spring": "2 kN/mm/mm"}},
            '[plate] spring = "2 kN/mm/mm": must not be stated unless held_by = "elastic supports"',
        ),
        (
            {"plate": {"held_by": "elastic supports", "spring": "2 kN/mm"}},
            '[plate] spring = "2 kN/mm": is a line load, not a line stiffness; ',
        ),
        (
            {"plate": {"held_by": "elastic supports", "spring": "0 MPa"}},
            '[plate] spring = "0 MPa": must be greater than zero',
        ),
        # how a section is held
        (
            {"section": {"held_by": "hands"}},
            f'{TUBE}, held_by = "hands": must be "beam shear", "diametral" or "rigid core"',
        ),
        (
            {"post": {"held_by": "rigid core"}},
            'section 1 "solid 150": is held by "rigid core" and has no bore; state wall, bore, '
            "designation or mesh",
        ),
        (
            {"section": {"held_by": "rigid core", "infill": INFILL}},
            f'{TUBE}, infill: must not be stated where the bore is held by "rigid core"',
        ),
        # infill
        (
            {"section": {"infill": "grout"}},
            f'{TUBE}, infill = "grout": must be one table, such as '
            '{ young = "30 GPa", poisson = 0.2, density = "2400 kg/m3" }',
        ),
        (
            {"section": {"infill": {"young": "30 GPa", "poisson": 0.2}}},
            f'{TUBE}, infill.density: is missing; write for example density = "2400 kg/m3"',
        ),
        (
            {"section": {"infill": INFILL | {"yuong": "1 GPa"}}},
            f'{TUBE}, infill.yuong = "1 GPa": is not known here; did you mean young? '
            "allowed: name, young, poisson, density",
        ),
        (
            {"section": {"infill": INFILL | {"young": "0 GPa"}}},
            f'{TUBE}, infill.young = "0 GPa": must be greater than zero',
        ),
        (
            {"section": {"infill": INFILL | {"poisson": 0.5}}},
            f"{TUBE}, infill.poisson = 0.5: must be at least 0 and less than 0.5",
        ),
        (
            {"section": {"infill": INFILL | {"name": ""}}},
            f'{TUBE}, infill.name = "": must not be empty',
        ),
        # an own mesh
        (
            {"section": {"mesh": "a.msh"}},
            f'{TUBE}, mesh = "a.msh": must not be stated beside wall; choose one',
        ),
        ({"section": {"mesh": 3}}, f"{TUBE}, mesh = 3: must be text in quotes"),
        (
            {"section": {"mesh_unit": "mm"}},
            f'{TUBE}, mesh_unit = "mm": must not be stated without mesh',
        ),
        (
            {"section": {"mesh_unit": "yard"}},
            f'{TUBE}, mesh_unit = "yard": must be "mm", "cm", "m", "in", "inch" or "ft", or a'
            ' length such as "0.25 mm"',
        ),
        (
            {"section": {"steel_thickness": "20 mm"}},
            f'{TUBE}, steel_thickness = "20 mm": must not be stated without mesh',
        ),
        # contact
        ({"contact": "square"}, '[contact] = "square": must be one table, headed [contact]'),
        (
            {"contact": {"ofset": "1 mm"}},
            '[contact] ofset = "1 mm": is not known here; did you mean offset? '
            "allowed: offset, angle, friction",
        ),
        ({"contact": {"offset": "200 mm"}}, f'[contact] offset = "200 mm": {OFFSET}'),
        ({"contact": {"offset": "-0.3 m"}}, f'[contact] offset = "-0.3 m": {OFFSET}'),
        ({"contact": {"offset": 40}}, "[contact] offset = 40: has no unit; write for example"),
        (
            {"contact": {"angle": "81 deg"}},
            '[contact] angle = "81 deg": must be from -80 deg to 80 deg',
        ),
        (
            {"contact": {"angle": "-1.4 rad"}},
            '[contact] angle = "-1.4 rad": must be from -80 deg to 80 deg',
        ),
        (
            {"contact": {"angle": 15.0}},
            '[contact] angle = 15.0: has no unit; write for example "15 deg"',
        ),
        ({"contact": {"friction": 1.01}}, "[contact] friction = 1.01: must be from 0 to 1"),
        ({"contact": {"friction": -0.1}}, "[contact] friction = -0.1: must be from 0 to 1"),
        ({"contact": {"friction": float("nan")}}, "[contact] friction = nan: must be from 0 to 1"),
        (
            {"contact": {"friction": "0.2"}},
            '[contact] friction = "0.2": must be a number without quotes',
        ),
        (
            {"contact": {"friction": True}},
            "[contact] friction = true: must be a number without quotes",
        ),
        (
            {"post": {"held_by": "diametral"}, "contact": {"angle": "15 deg"}},
            f'[contact] angle = "15 deg": must be 0 {SQUARELY}',
        ),
        # corner
        ({"corner": {}}, "[corner]: must state either line_load"),
        ({"corner": {"force": "450 kN"}}, "[corner]: must state either line_load"),
        (
            {"corner": {"line_load": "-1 N/mm"}},
            '[corner] line_load = "-1 N/mm": must be greater than zero',
        ),
        (
            {"corner": {"line_load": "1 kN/mm", "offset": "201 mm"}},
            f'[corner] offset = "201 mm": {OFFSET}',
        ),
        (
            {"corner": {"line_load": "1 kN/mm", "angle": "5 deg"}},
            '[corner] angle = "5 deg": is not known here; it is a key of [contact] and [envelope]; '
            "allowed: line_load, force, offset, contact_length",
        ),
        (
            {"corner": {"line_load": "1 kN/mm"}, "post": {"held_by": "diametral"}},
            '[corner]: must not be stated for a post held by "diametral", as section '
            "“solid 150” is",
        ),
        (
            {"corner": {"line_load": "1 kN/mm"}, "section": {"held_by": "diametral"}},
            '[corner]: must not be stated for a post held by "diametral", as section '
            "“tube 150 x 25” is",
        ),
        (
            {"corner": {"line_load": "1 kN/mm"}, "contact": {"angle": "-5 deg"}},
            '[contact] angle = "-5 deg": must be 0 beside [corner]: the two loads set the '
            "direction of motion",
        ),
        (
            {"corner": {"line_load": "1 kN/mm"}, "envelope": {"friction": [0.0]}},
            "[envelope]: must not be stated beside [corner]",
        ),
        # envelope
        ({"envelope": {}}, "[envelope]: must state at least one of offset, angle and friction"),
        ({"envelope": {"offset": "40 mm"}}, '[envelope] offset = "40 mm": must be a list such as'),
        (
            {"envelope": {"angle": ["0 deg", "81 deg"]}},
            '[envelope] angle, entry 2 = "81 deg": must be from -80 deg to 80 deg',
        ),
        (
            {"envelope": {"friction": {"from": 0, "to": 2, "count": 5}}},
            "[envelope] friction, to = 2: must be from 0 to 1",
        ),
        (
            {"envelope": {"friction": "all"}},
            '[envelope] friction = "all": must be a list such as [0.0, 0.2], or a range such as '
            "{ from = 0.0, to = 0.2, count = 5 }",
        ),
        (
            {"envelope": {"offset": RANGE | {"to": "210 mm"}}},
            f"[envelope] offset: each {OFFSET}, not 210 mm",
        ),
        # The value that it takes from [contact] is reported there only.
        (
            {"envelope": {"friction": [0.1]}, "contact": {"offset": "210 mm"}},
            f'[contact] offset = "210 mm": {OFFSET}',
        ),
        (
            {"envelope": {"angle": ["0 deg", "5 deg"]}, "post": {"held_by": "diametral"}},
            f"[envelope] angle: each must be 0 {SQUARELY}",
        ),
        *(
            (
                {"envelope": e, "contact": {"angle": "15 deg"}, "post": {"held_by": "diametral"}},
                f'[contact] angle = "15 deg": must be 0 {SQUARELY}',
            )
            for e in ({"friction": [0.1]}, {"angle": ["0 deg"]})
        ),
        (
            {"envelope": {"offset": RANGE | {"count": 1000}, "friction": FRICTIONS}},
            "[envelope]: asks for 101000 contacts; at most 100000 are allowed",
        ),
        # accuracy
        ({"accuracy": "50 %"}, 'accuracy = "50 %": must be from 0.1 % to 20 %'),
        (
            {"accuracy": 0.02},
            'accuracy = 0.02: must be text with one decimal number and %; write for example "2 %"',
        ),
    ],
)
def test_one_fault_is_one_line(refusal, tables, line):
    found = refusal(**tables)
    assert found.startswith(f"cases/x.toml: {line}")
    assert "\n" not in found


def test_a_solid_that_asks_for_a_rigid_core_or_an_infill(data, refusal):
    data["section"][0] |= {"held_by": "rigid core", "infill": INFILL}
    assert refusal() == (
        'cases/x.toml: section 1 "solid 150", infill: must not be stated without wall, bore, '
        "designation or mesh: there is no bore"
    )
    del data["section"][0]["infill"]
    assert refusal() == (
        'cases/x.toml: section 1 "solid 150", held_by = "rigid core": is held by "rigid core" and '
        "has no bore; state wall, bore, designation or mesh"
    )


def test_what_is_too_slim_for_small_displacements_and_for_a_series_by_hand(data, refusal):
    # By hand a wall of 25 nm took 20 GB of terms.
    data["plate"]["thickness"] = "1.5 mm"
    data["section"][1]["wall"] = "2.5e-5 mm"
    assert refusal().splitlines() == [
        'cases/x.toml: section 2 "tube 150 x 25", wall = "2.5e-5 mm": leaves a wall of 2.5e-05 mm,'
        " which must be at least a 200th of the outside diameter, 0.75 mm",
        'cases/x.toml: [plate] thickness = "1.5 mm": must be at least a 250th of the width, 1.6 mm',
    ]
    data["section"][1]["wall"], data["plate"]["thickness"] = "0.75 mm", "1.6 mm"
    case_from_dict(data)


def test_a_mesh_that_is_not_there(data, refusal, tmp_path):
    data["section"][1] = {"name": "own", "outside_diameter": "160 mm", "mesh": str(tmp_path)}
    assert refusal() == (
        f'cases/x.toml: section 2 "own", mesh = "{tmp_path}": there is no such file, {tmp_path}'
    )
    data["section"][1] |= {"mesh": "x" * 900}
    assert "there is no such file" in refusal()
    assert len(refusal()) < 500


def test_the_steel_of_an_own_mesh_is_no_thicker_than_it(data, refusal):
    own = {"name": "own", "outside_diameter": "160 mm", "mesh": "a.msh", "bore": "1 mm"}
    data["section"][1] = own | {"steel_thickness": "161 mm"}
    assert refusal().splitlines() == [
        'cases/x.toml: section 2 "own", mesh = "a.msh": must not be stated beside bore; choose one',
        'cases/x.toml: section 2 "own", steel_thickness = "161 mm": must be at most the outside '
        "diameter, 160 mm",
    ]


IN_US = {"report": {"units": "US customary"}}


@pytest.mark.parametrize(
    ("tables", "line"),
    [
        (
            {"contact": {"offset": "9 in"}},
            """[contact] offset = "9 in": must be less than half the plate's width, 7.874 in,"""
            " from its middle",
        ),
        (
            {"envelope": {"offset": ["9 in"]}},
            "[envelope] offset: each must be less than half the plate's width, 7.874 in, from its"
            " middle, not 9 in",
        ),
        (
            {"section": {"wall": "4 in"}},
            f'{TUBE}, wall = "4 in": must be less than half the outside diameter, 2.95276 in',
        ),
        (
            {"plate": {"ultimate": "40 ksi"}},
            '[plate] ultimate = "40 ksi": must be at least the yield strength, 50.038 ksi',
        ),
        (
            {"section": {"outside_diameter": "20 in", "wall": "4 in", "steel": "EN 10210-1 S355H"}},
            f'{TUBE}, wall = "4 in": "EN 10210-1 S355H" is listed as tube up to 3.1496 in thick,'
            " not 4 in",
        ),
        (
            {
                "load": {"line_load": None, "force": "100 kip", "contact_length": "9 in"},
                "cantilever": {"length": "4 in"},
            },
            '[load] contact_length = "9 in": must be at most twice the length of [cantilever],'
            " 8 in: it would begin behind the post's root",
        ),
    ],
)
def test_a_limit_is_in_the_units_that_the_case_asks_for(refusal, tables, line):
    assert refusal(**tables, **IN_US) == f"cases/x.toml: {line}"


def test_a_tube_wider_than_its_steel_covers_is_refused(refusal):
    wide = {"outside_diameter": "29 in", "wall": "1 in", "steel": "ASTM A500-21 Gr C"}
    assert refusal(section=wide, **IN_US) == (
        f'cases/x.toml: {TUBE}, outside_diameter = "29 in": must be at most 28.01 in:'
        ' "ASTM A500-21 Gr C" covers no wider tube'
    )


def test_a_plate_too_thick_for_its_steel_is_told_in_inches(data, refusal):
    data["plate"] = {
        "width": "20 in", "thickness": "20 in", "held_by": "rigid base", "steel": "EN 10025-2 S235"
    }  # fmt: skip
    assert refusal(**IN_US) == (
        'cases/x.toml: [plate] thickness = "20 in": "EN 10025-2 S235" is listed as plate up to'
        " 15.748 in thick, not 20 in"
    )


def test_the_key_that_governs_the_strength_is_named(data, refusal):
    data["section"][1] = {"name": "own", "designation": "ASME B36.10M NPS 6 XXS", "steel": "thin"}
    data["grade"] = {
        "thin": {"young": "200 GPa", "poisson": 0.3, "yield": "300 MPa", "source": "x",
        "largest": "20 mm"}
    }  # fmt: skip
    assert (
        ', designation = "ASME B36.10M NPS 6 XXS": "thin" is listed as tube up to 20 mm'
        in refusal()
    )
    own = {"outside_diameter": "160 mm", "mesh": __file__, "steel_thickness": "2 in"}
    data["section"][1] = {"name": "own", "steel": "thin"} | own
    assert ', steel_thickness = "2 in": "thin" is listed as tube up to 20 mm thick' in refusal()
