"""Tubes over a contact of finite length, beside three-dimensional finite elements.

The published values are those of `tests/published/three_dimensions.json`: an even line load on a
tube clamped at one end, solved by NGSolve 6.2 with hexahedra of order 4 in three dimensions
(`three_dimensions.py` beside it), good to half a percent. A case is solved here as a user would.
"""

from collections.abc import Callable, Iterator
from functools import cache, partial

from contactfe.assess.bodies import Bodies
from contactfe.assess.results import SectionResult
from contactfe.assess.section import assess_section
from contactfe.case import case_from_dict
from contactfe.verify.row import Row, solved_row

_SOURCE = (
    "three-dimensional finite elements, NGSolve 6.2.2608 (tests/published/three_dimensions.json)"
)
_STEEL = {"young": "210 GPa", "poisson": 0.3, "yield": "600 MPa"}
_LOAD = 1000.0  # N/mm

_CASES = (
    (25.0, 75.0, 600.0, 88.561, 59.359),
    (25.0, 150.0, 600.0, 118.731, 70.690),
    (25.0, 600.0, 900.0, 144.908, 71.922),
    (15.0, 150.0, 600.0, 330.922, 204.613),
    (37.5, 150.0, 600.0, 50.987, 29.288),
    (25.0, 150.0, 75.0, 148.697, 70.579),
)
"""Wall, length of the contact, distance from its middle to the tip, mm; greatest bore hoop stress
under the load along the contact and that at its end towards the root, MPa."""


@cache
def _solved(wall: float, length: float, tip: float) -> SectionResult:
    case = case_from_dict(
        {
            "title": "a tube over a finite contact",
            "post": {"held_by": "beam shear", **_STEEL},
            "plate": {"width": "400 mm", "thickness": "60 mm", "held_by": "rigid base", **_STEEL},
            "load": {
                "force": f"{_LOAD * length} N",
                "contact_length": f"{length} mm",
                "distribution": "even",
            },
            "cantilever": {"length": "600 mm", "tip": f"{tip} mm"},
            "section": [{"name": "tube", "outside_diameter": "150 mm", "wall": f"{wall} mm"}],
        }
    )
    (section,) = case.sections
    return assess_section(case, section, Bodies(case))


def _greatest(result: SectionResult) -> float:
    return result.values["bore_hoop_under_load"].value


def _at_the_end(result: SectionResult) -> float:
    assert result.relief is not None
    assert result.relief.participation is not None
    share = result.relief.participation[0]
    assert share is not None
    return share * result.values["slice_bore_hoop_under_load"].value


def _rows() -> Iterator[Row]:
    for wall, length, tip, greatest, at_end in _CASES:
        post = "ends with it" if tip == length / 2.0 else "goes on"
        named = f"{wall:g}-over-{length:g}-{post.replace(' ', '-')}".replace(".", "-")
        found: tuple[tuple[str, str, float, Callable[[SectionResult], float], float, str], ...] = (
            ("greatest", "greatest along the contact", greatest, _greatest, 1e-2, "0.3 %"),
            ("end", "at its end towards the root", at_end, _at_the_end, 2e-2, "1.5 %"),
        )
        for key, where, published, read, allowed, measured in found:
            yield solved_row(
                key=f"finite-{key}-{named}",
                case=f"Bore hoop stress under the load {where}: tube 150 × {wall:g} mm, even"
                f" load over {length:g} mm of a post that {post}",
                source=_SOURCE,
                origin="library",
                published=published,
                tool=partial(_read, read, wall, length, tip),
                allowed=allowed,
                why=f"both meshes; {measured} measured",
                unit="MPa",
                solve=f"finite {named}",
            )


def _read(read: Callable[[SectionResult], float], *of: float) -> float:
    return read(_solved(*of))


ROWS: tuple[Row, ...] = tuple(_rows())
