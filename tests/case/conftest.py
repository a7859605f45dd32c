from typing import Any

import pytest


@pytest.fixture
def data() -> dict[str, Any]:
    """A case without fault, as tomllib gives it: an invented stop in SI units."""
    return {
        "title": "Invented stop",
        "post": {"held_by": "beam shear", "steel": "EN 10025-2 S355"},
        "plate": {
            "width": "400 mm",
            "thickness": "60 mm",
            "held_by": "bedded",
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
