"""Small bodies and cases for tests; lengths in mm, stresses in MPa.

Posts and plates are those of the solved cases, by default with elements twice the standard size.
"""

from contextlib import nullcontext
from unittest.mock import patch

from contactfe.assess.bodies import Bodies
from contactfe.assess.results import SectionResult
from contactfe.assess.section import assess_section
from contactfe.case import Case, case_from_dict
from contactfe.section.body import to_skfem
from contactfe.section.grading import Patch, member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve import holds
from contactfe.solve.condense import CondensedBody
from contactfe.verify import bodies
from contactfe.verify.bodies import STEEL, block, two_edges

__all__ = [
    "STEEL",
    "assess",
    "block",
    "case",
    "member",
    "member_mesh",
    "no_first_yield",
    "plate",
    "plate_mesh",
    "two_edges",
]


def member_mesh(radius, bore, half_width, scale=2.0, *, lower_half=False, filled=False):
    """Mesh of a round member for a patch of that half-width."""
    outline = MemberOutline(radius, bore, lower_half, filled)
    return to_skfem(mesh_member(outline, member_grading(outline, Patch(0.0, half_width), scale)))


def member(
    radius: float,
    bore: float,
    half_width: float,
    held_by: str,
    scale: float = 2.0,
    steel=STEEL,
    *,
    tangential: bool = False,
) -> CondensedBody:
    return bodies.post(radius, bore, half_width, held_by, scale, steel, tangential=tangential)


def plate_mesh(width, thickness, half_width, scale=2.0, *, offset=0.0, centre=0.0):
    """Mesh of a plate that is struck off its middle for a patch of that half-width."""
    outline = PlateOutline(width, thickness, offset)
    return to_skfem(mesh_plate(outline, plate_grading(outline, Patch(centre, half_width), scale)))


def plate(
    width: float,
    thickness: float,
    half_width: float,
    held=holds.rigid_base,
    scale: float = 2.0,
    steel=STEEL,
    *,
    offset: float = 0.0,
    tangential: bool = False,
) -> CondensedBody:
    return bodies.plate(
        width, thickness, half_width, held, scale, steel, offset=offset, tangential=tangential
    )


def case(
    sections,
    *,
    line_load=1500.0,
    held_by="beam shear",
    plate=(400.0, 60.0),
    plate_held="rigid base",
    young=200e3,
    poisson=0.3,
    plate_young=200e3,
    plate_poisson=0.3,
    yield_strength=690.0,
    plate_yield=None,
    state="plane strain",
    margin=1.0,
    units="SI",
    spring=None,
    offset=0.0,
    angle=0.0,
    friction=0.0,
    corner=None,
    accuracy=None,
    tolerance=None,
) -> Case:
    """A case of sections given as (outside diameter, wall or None), and then keys of their own.

    ``spring`` in N/mm/mm, ``angle`` in degrees, ``corner`` is the line load on a second plate.
    """
    optional = {
        "corner": corner and {"line_load": f"{corner!r} N/mm"},
        "accuracy": accuracy,
        "tolerance": tolerance,
    }
    return case_from_dict(
        {
            "title": "invented for a test",
            "post": {
                "held_by": held_by, "young": f"{young!r} MPa", "poisson": poisson,
                "yield": f"{yield_strength!r} MPa",
            },
            "plate": {
                "width": f"{plate[0]!r} mm", "thickness": f"{plate[1]!r} mm", "held_by": plate_held,
                "young": f"{plate_young!r} MPa", "poisson": plate_poisson,
                "yield": f"{plate_yield or yield_strength!r} MPa",
            } | ({"spring": f"{spring!r} N/mm/mm"} if spring else {}),
            "contact": {
                "offset": f"{offset!r} mm", "angle": f"{angle!r} deg", "friction": friction,
            },
            "load": {"line_load": f"{line_load!r} N/mm"},
            "model": {"state": state},
            "check": {"yield_margin": margin},
            "report": {"units": units},
            "section": [
                {"name": f"{d:g} x {w:g}" if w else f"solid {d:g}", "outside_diameter": f"{d!r} mm"}
                | ({"wall": f"{w!r} mm"} if w else {})
                | {key: value for keys in own for key, value in keys.items()}
                for d, w, *own in sections
            ],
        }
        | {key: value for key, value in optional.items() if value}
    )  # fmt: skip


def no_first_yield():
    """Without the search for it, which takes half the time of a solve, where nobody asks for it."""
    return patch("contactfe.assess.first_yield.first_yield", lambda *_: None)


def assess(of: Case, *, yields: bool = False) -> SectionResult:
    """The first section of a case, without first yield where that is not asked for."""
    with nullcontext() if yields else no_first_yield():
        return assess_section(of, of.sections[0], Bodies(of))
