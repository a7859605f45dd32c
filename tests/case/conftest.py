from collections.abc import Callable
from typing import Any

import pytest

from contactfe.case import case_from_dict
from contactfe.errors import InputError


@pytest.fixture
def data() -> dict[str, Any]:
    """A case without fault, as tomllib gives it: an invented stop in SI units."""
    return {
        "title": "Invented stop",
        "post": {"held_by": "beam shear", "steel": "EN 10025-2 S355"},
        "plate": {
            "width": "400 mm",
            "thickness": "60 mm",
            "held_by": "rigid base",
            "young": "200 GPa",
            "poisson": 0.3,
            "yield": "345 MPa",
        },
        "load": {"line_load": "1.5 kN/mm"},
        "section": [
            {"name": "solid 150", "outside_diameter": "150 mm"},
            {"name": "tube 150 x 25", "outside_diameter": "150 mm", "wall": "25 mm"},
        ],
    }


@pytest.fixture
def refusal(data) -> Callable[..., str]:
    """Puts tables beside those of the case, or keys into them, and gives the message it gets."""

    def of(**tables: Any) -> str:
        for name, table in tables.items():
            if name == "section":
                data["section"][1] |= table
            elif isinstance(table, dict):
                data[name] = data.get(name, {}) | table
            else:
                data[name] = table
        with pytest.raises(InputError) as refusal:
            case_from_dict(data, "cases/x.toml")
        return str(refusal.value)

    return of
