"""An invented case with an envelope, and rows made up for it; lengths in mm, stresses in MPa."""

from contactfe.assess.row import Row
from contactfe.assess.value import Place, Value
from contactfe.case import Case, Contact, case_from_dict

DATA = {
    "title": "Invented stop $2$ [b]",
    "post": {"held_by": "beam shear", "young": "210 GPa", "poisson": 0.3, "yield": "420 MPa"},
    "plate": {
        "width": "300 mm",
        "thickness": "50 mm",
        "held_by": "simply supported",
        "young": "210 GPa",
        "poisson": 0.3,
        "yield": "690 MPa",
    },
    "load": {"line_load": "600 N/mm"},
    "section": [{"name": "tube/120 [x] 25", "outside_diameter": "120 mm", "wall": "25 mm"}],
}


def case(source: str = "<data>", units: str = "SI", sections: int = 1, **envelope: object) -> Case:
    """The case with this [envelope]; more sections differ in their wall."""
    more = [
        {"name": f"tube {k}", "outside_diameter": "120 mm", "wall": f"{25 + 5 * k} mm"}
        for k in range(1, sections)
    ]
    data = {"envelope": envelope} if envelope else {}
    data |= {"report": {"units": units}, "section": [*DATA["section"], *more]}
    return case_from_dict(DATA | data, source)


def row(
    section: str,
    contact: Contact,
    post: float = 0.5,
    plate: float = 0.4,
    uncertainty: float = 0.01,
    stopped: str = "",
) -> Row:
    """A row of these utilisations, of yield strengths of 420 and 690 MPa."""

    def body(name: str, use: float, allowed: float, zone: str) -> dict[str, Value]:
        return {
            f"{name}_peak": Value(use * allowed, uncertainty * allowed, Place(zone, 0.1, -0.2)),
            f"{name}_utilisation": Value(use, uncertainty),
        }

    load, held = Value(12.5, 0.5), Place("left edge", -200.0, -60.0)
    values = {
        **body("post", post, 420.0, "edge of contact"),
        **body("plate", plate, 690.0, "plate under contact"),
        "peak_pressure": Value(541.0, 1.6), "half_width": Value(0.7, 0.002),
        "tangential_load": load, "tangential_ratio": load.over(600.0),
        "largest_reaction": Value(330.0, 1.0, held), "reaction_along": load,
        "reaction_across": Value(329.8, 1.0), "reaction_moment": Value(0.0, 0.0),
    }  # fmt: skip
    return Row(section, contact, values, "partial slip", stopped, 600.0)


def failed(section: str, contact: Contact, refused: bool = True) -> Row:
    return Row(section, contact, error="it does not fit", refused=refused)
