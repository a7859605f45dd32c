"""An invented case with an envelope, and rows made up for it; lengths in mm, stresses in MPa."""

from contactfe.assess.results import Value
from contactfe.assess.row import BodyPeak, Held, Row, Strike
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

    def body(use: float, allowed: float, zone: str) -> BodyPeak:
        return BodyPeak(
            Value(use * allowed, uncertainty * allowed), zone, 0.1, -0.2, Value(use, uncertainty),
            use + uncertainty <= 1.0,
        )  # fmt: skip

    load = Value(12.5, 0.5)
    return Row(
        section,
        contact,
        Strike(
            body(post, 420.0, "edge of contact"), body(plate, 690.0, "plate under contact"),
            Value(541.0, 1.6), Value(0.7, 0.002), load, "partial slip",
            Held("left edge", Value(330.0, 1.0), load, Value(329.8, 1.0), Value(0.0, 0.0)), stopped,
            600.0, None,
        ),
    )  # fmt: skip


def failed(section: str, contact: Contact, refused: bool = True) -> Row:
    return Row(section, contact, None, "it does not fit", refused)
