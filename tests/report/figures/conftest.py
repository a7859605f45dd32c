"""The stops that figures are drawn of, beside those of the folder above."""

from pathlib import Path

import pytest
from figures import many_of, single_of

from contactfe.assess.compare import compare
from contactfe.case import case_from_dict

MESHES = Path(__file__).parents[3] / "meshes"


@pytest.fixture(scope="session")
def single(comparison):
    return single_of(comparison)


@pytest.fixture(scope="session")
def many(comparison):
    return many_of(comparison)


@pytest.fixture(scope="session")
def own() -> object:
    """A section drawn elsewhere, struck squarely."""
    steel = {"young": "210 GPa", "poisson": 0.3, "yield": "420 MPa"}
    section = {
        "name": "ribbed", "outside_diameter": "160 mm", "mesh": str(MESHES / "ribbed-tube.msh")
    }  # fmt: skip
    return compare(
        case_from_dict(
            {
                "title": "An invented section",
                "post": {"held_by": "beam shear"} | steel,
                "plate": {"width": "300 mm", "thickness": "50 mm", "held_by": "rigid base"} | steel,
                "load": {"line_load": "1.2 kN/mm"},
                "section": [section],
            }
        )
    )
