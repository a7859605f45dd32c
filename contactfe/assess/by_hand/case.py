"""From a case to everything that can be said of it by hand."""

from collections.abc import Iterator
from dataclasses import replace

from contactfe.assess.by_hand.clauses import (
    bearing_clauses,
    least_ultimate,
    plate_clauses,
    post_clauses,
)
from contactfe.assess.by_hand.contact import contact_steps
from contactfe.assess.by_hand.hold import hold_steps
from contactfe.assess.by_hand.impacted import ImpactedPlate, plates
from contactfe.assess.by_hand.plate import along_known, plate_steps
from contactfe.assess.by_hand.post import post_steps
from contactfe.assess.by_hand.record import ByHand, Clauses, SectionByHand, Step
from contactfe.assess.by_hand.relief import relief_steps
from contactfe.assess.by_hand.ring import disc_steps, ring_steps
from contactfe.assess.by_hand.root import root_resultants
from contactfe.assess.check_list import by_hand_checks
from contactfe.assess.hazard import motion_checks
from contactfe.assess.open_items import open_items
from contactfe.case import Case, Section
from contactfe.hand.formula import Worked


def by_hand(case: Case) -> ByHand:
    """Every applicable formula and clause for every section of a case, without a mesh."""
    found = tuple(section_by_hand(case, section) for section in case.sections)
    checks = (
        *motion_checks(case),
        *(check for section in found for check in by_hand_checks(case, section)),
    )
    items = open_items(case, case.sections, checks, by_hand=True)
    return ByHand(case, found, checks, items)


def section_by_hand(case: Case, section: Section, shifts: tuple[float, ...] = ()) -> SectionByHand:
    """The same for one section.

    ``shifts`` say how far along each plate, in mm, its patch lies from where the post first
    touches; only who has solved the contact knows them.
    """
    # One in the middle is there but for rounding, which is not to be read as a lever.
    impacted = plates(case, tuple(s if abs(s) > 1e-9 * section.radius else 0.0 for s in shifts))
    margin = case.yield_margin
    steps = tuple(
        step if step.against is None else replace(step, against=step.against / margin)
        for step in _steps(case, section, impacted)
    )
    clauses = tuple(_clauses(case, section, impacted, {step.key: step.worked for step in steps}))
    root = None if case.cantilever is None else root_resultants(case, section)
    return SectionByHand(section, steps, clauses, tuple(_left_out(case, section)), root)


def _steps(case: Case, section: Section, impacted: tuple[ImpactedPlate, ...]) -> Iterator[Step]:
    contact: list[Step] = []
    for plate in impacted:
        of_plate = list(contact_steps(case, section, plate))
        wide = next(s for s in of_plate if s.key == f"hertz_half_width{plate.end}").worked.value
        contact += [*of_plate, *hold_steps(case, section, plate, wide)]
    yield from contact
    formulas, geometry = case.support(section).formulas, section.geometry
    if formulas is not None and geometry.in_plane is not None:
        steps = {"ring": ring_steps, "disc": disc_steps}[geometry.in_plane]
        yield from steps(case, section, formulas)
        width = next(step.worked for step in contact if step.key == "hertz_half_width")
        yield from relief_steps(case, section, width)
    widths = {step.key: step.worked.value for step in contact}
    for plate in impacted:
        yield from plate_steps(case, plate, widths[f"hertz_half_width{plate.end}"])
    if case.cantilever is not None and geometry.along is not None:
        yield from post_steps(case, section)


def _clauses(
    case: Case, section: Section, impacted: tuple[ImpactedPlate, ...], found: dict[str, Worked]
) -> Iterator[Clauses]:
    for plate in impacted:
        yield from bearing_clauses(case, section, plate, found)
        if case.plate.support.strip is not None:
            yield from plate_clauses(case, plate, found)
    if case.cantilever is not None and section.geometry.along is not None:
        yield from post_clauses(case, section, found)


def _left_out(case: Case, section: Section) -> Iterator[str]:
    """What a reader may miss, and why it is not there."""
    geometry, support, shape = section.geometry, case.support(section), section.shape
    if case.corner is not None and geometry.in_plane == "disc":
        yield "what the load of the other plate does to the approach"
    if case.envelope is not None:
        yield "the contacts of [envelope]; everything is worked out for [contact]"
    if support.core:
        yield "ring formulas, as the bore is held by a rigid core, of which Hertz knows nothing"
    elif geometry.in_plane is None:
        yield (
            f"ring and disc formulas, as there is none for this shape ({shape}); what its"
            " bending does to the contact is not in the figures of Hertz"
        )
    plate = case.plate.support
    if not plate.base and plate.strip is None:
        yield f"the bending of the plate, as there is no formula for a plate {plate.name}"
    if plate.strip is not None and not along_known(case):
        yield (
            "the bending of the plate along the post, which is known between supported edges that"
            " do not give way, without friction, under a contact of stated length"
        )
    if case.cantilever is None:
        yield "the post along its axis, as the case has no [cantilever]"
    elif geometry.along is None:
        yield f"the post along its axis, as there is no formula for this shape ({shape})"
    elif section.infill is not None:
        yield "the infill in the post along its axis; the steel is taken alone"
    if case.alignment is not None and case.spread is None:
        yield (
            "the sharing of the force along the post, which needs the solved contact: it counts as"
            " even here; compare finds its peak along the post"
        )
    elif case.spread is not None:
        yield "the spread of the force along the post in its deflection at the contact"
    yield from _left_out_of_clauses(case, section)


def _left_out_of_clauses(case: Case, section: Section) -> Iterator[str]:
    families = case.standards.families
    root = None if section.geometry.along is None else case.cantilever
    if root is not None and case.contact.friction > 0.0:
        yield "friction along the axis of the post; all of it counts as across, where it twists"
    fixing = None if root is None else root.fixing
    welded = fixing == "fillet weld"
    if root is not None and welded and root.electrode_strength is None and "AISC" in families:
        yield "AISC 360, J2.4, as the electrode_strength of the root weld is not stated"
    strong = case.post_material(section).ultimate_strength is not None
    if fixing == "groove weld" and not strong:
        yield "the groove weld at the root, as the ultimate strength of the post is not stated"
    if root is not None and fixing == "socket" and root.socket_yield is None:
        yield "bearing in the socket, as its socket_yield is not stated"
    if "EN" not in families:
        return
    post = case.post_material(section)
    if least_ultimate(post, case.plate_material) is None:
        yield "EN 1337-4, as the ultimate strength of a steel is not stated (key ultimate)"
    if welded and not strong:
        yield "EN 1993-1-8, 4.5.3.3, as the ultimate strength of the post is not stated"
