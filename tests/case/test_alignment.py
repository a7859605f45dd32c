import math

import pytest
from alignments import case, stated

from contactfe.case import case_from_dict
from contactfe.case.alignment import Alignment
from contactfe.errors import InputError


def refusal(**tables) -> str:
    data = {key: value for key, value in stated(**tables).items() if value is not None}
    with pytest.raises(InputError) as caught:
        case_from_dict(data, "cases/x.toml")
    return str(caught.value).removeprefix("cases/x.toml: ")


def test_a_tilt_has_a_sign_and_a_misalignment_none():
    assert case(alignment={}).alignment == Alignment() == Alignment(0.0, 0.0)
    found = case(alignment={"tilt": "-2 deg", "misalignment": "-0.5 deg"}).alignment
    assert found == Alignment(-math.radians(2.0), math.radians(0.5))
    assert case().spread is None
    assert case().line_loads == (937.5,)


@pytest.mark.parametrize(
    ("tables", "line"),
    [
        ({"cantilever": None}, "[alignment]: needs [cantilever]"),
        (
            {"corner": {"force": "90 kN", "contact_length": "160 mm"}},
            "[alignment]: must not be stated beside [corner]",
        ),
        (
            {"alignment": {"tilt": "-5 deg", "misalignment": "1 deg"}},
            '[alignment] tilt = "-5 deg": must be small',
        ),
        (
            {"alignment": {"misalignment": "6 deg"}},
            '[alignment] misalignment = "6 deg": must be small',
        ),
        (
            {"post": {**stated()["post"], "held_by": "diametral"}},
            '[post] held_by = "diametral": must be "beam shear" beside [alignment]',
        ),
        (
            {
                "section": [
                    {"name": "s", "outside_diameter": "150 mm"},
                    {
                        "name": "t", "outside_diameter": "150 mm", "wall": "20 mm",
                        "held_by": "rigid core",
                    },
                ]
            },
            'section 2 "t", held_by = "rigid core": must be "beam shear" beside [alignment]',
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
        "must not be stated beside [alignment], which knows the bending of rounds alone"
    )
