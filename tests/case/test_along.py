import math

import pytest

from contactfe.case import case_from_dict
from contactfe.case.along import Along
from contactfe.errors import InputError
from tests.alongcases import case, stated


def refusal(**tables) -> str:
    data = {key: value for key, value in stated(**tables).items() if value is not None}
    with pytest.raises(InputError) as caught:
        case_from_dict(data, "cases/x.toml")
    return str(caught.value).removeprefix("cases/x.toml: ")


def test_a_tilt_has_a_sign_and_a_misalignment_none():
    assert case(along={}).along == Along() == Along(0.0, 0.0)
    found = case(along={"tilt": "-2 deg", "misalignment": "-0.5 deg"}).along
    assert found == Along(-math.radians(2.0), math.radians(0.5))
    assert case().spread is None
    assert case().line_loads == (937.5,)


@pytest.mark.parametrize(
    ("tables", "line"),
    [
        ({"cantilever": None}, "[along]: needs [cantilever]"),
        (
            {"corner": {"force": "90 kN", "effective_length": "160 mm"}},
            "[along]: must not be stated beside [corner]",
        ),
        (
            {"along": {"tilt": "-5 deg", "misalignment": "1 deg"}},
            '[along] tilt = "-5 deg": must be small',
        ),
        ({"along": {"misalignment": "6 deg"}}, '[along] misalignment = "6 deg": must be small'),
        (
            {"post": {**stated()["post"], "held_by": "opposed"}},
            '[post] held_by = "opposed": must be "beam shear" beside [along]',
        ),
        (
            {
                "section": [
                    {"name": "s", "outside_diameter": "150 mm"},
                    {
                        "name": "t", "outside_diameter": "150 mm", "wall": "20 mm",
                        "held_by": "stiff core",
                    },
                ]
            },
            'section 2 "t", held_by = "stiff core": must be "beam shear" beside [along]',
        ),
        ({"load": {"line_load": "1 kN/mm"}}, '[load] line_load = "1 kN/mm": must be stated as'),
    ],
)  # fmt: skip
def test_what_does_not_go_with_it_is_refused_in_one_line(tables, line):
    found = refusal(**tables)
    assert found.startswith(line)
    assert "\n" not in found


def test_a_section_drawn_elsewhere_is_refused(tmp_path):
    mesh = tmp_path / "a.msh"
    mesh.touch()
    own = {"name": "own", "outside_diameter": "150 mm", "mesh": str(mesh), "mesh_unit": "mm"}
    assert "mesh" in (found := refusal(section=[own]))
    assert found.endswith(
        "must not be stated beside [along], which knows the bending of rounds alone"
    )
