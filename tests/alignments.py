"""Cases of a post that bends along its axis, for tests; solved once where they are solved."""

from functools import cache
from typing import Any

from contactfe.assess.compare import compare
from contactfe.assess.results import Comparison
from contactfe.case import Case, case_from_dict

STEEL = {"young": "210 GPa", "poisson": 0.3, "yield": "600 MPa"}


def stated(**tables: Any) -> dict[str, Any]:
    """A post of 150 mm, 450 mm long, before a plate on elastic supports.

    ``tables`` replace those of the case; None drops one.
    """
    data: dict[str, Any] = {
        "title": "along",
        "post": {"held_by": "beam shear", **STEEL},
        "plate": {
            "width": "400 mm", "thickness": "60 mm", "held_by": "elastic supports",
            "spring": "6 kN/mm/mm", **STEEL,
        },
        "load": {"force": "150 kN", "contact_length": "160 mm"},
        "cantilever": {"length": "450 mm"},
        "alignment": {"tilt": "0.1 deg", "misalignment": "0.05 deg"},
        "section": [{"name": "solid 150", "outside_diameter": "150 mm"}],
    }  # fmt: skip
    return {key: value for key, value in {**data, **tables}.items() if value is not None}


def case(**tables: Any) -> Case:
    return case_from_dict(stated(**tables))


@cache
def bent() -> Comparison:
    """The case as it stands, compared."""
    return compare(case())
