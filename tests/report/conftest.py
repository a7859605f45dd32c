import pytest
from calculations import DATA

from contactfe.assess.compare import compare
from contactfe.assess.results import Comparison
from contactfe.case import case_from_dict


@pytest.fixture(scope="session")
def comparison() -> Comparison:
    return compare(case_from_dict(DATA))


@pytest.fixture(scope="session")
def us() -> Comparison:
    """The same stop, shown in US customary units."""
    return compare(case_from_dict(DATA | {"report": {"units": "US customary"}}))


@pytest.fixture(scope="session")
def corner() -> Comparison:
    """A filled tube that slides along both plates of a corner, clamped along their edges."""
    tube = {
        "name": "filled", "outside_diameter": "120 mm", "wall": "20 mm",
        "infill": {"name": "grout", "young": "30 GPa", "poisson": 0.2, "density": "2300 kg/m3"},
    }  # fmt: skip
    return compare(
        case_from_dict(
            DATA
            | {
                "corner": {"line_load": "0.8 kN/mm", "offset": "5 mm"},
                "plate": DATA["plate"] | {"held_by": "clamped"},
                "contact": {"friction": 0.2},
                "section": [tube],
            }
        )
    )


@pytest.fixture(scope="session")
def oblique() -> Comparison:
    """A tube on a rigid core, partly slipping off the middle of a plate on elastic supports."""
    core = {
        "name": "core", "outside_diameter": "120 mm", "wall": "20 mm", "held_by": "rigid core"
    }  # fmt: skip
    plate = DATA["plate"] | {"held_by": "elastic supports", "spring": "20 kN/mm/mm"}
    return compare(
        case_from_dict(
            DATA
            | {
                "accuracy": "5 %",
                "plate": plate,
                "contact": {"offset": "-20 mm", "angle": "1 deg", "friction": 0.2},
                "section": [core],
            }
        )
    )
