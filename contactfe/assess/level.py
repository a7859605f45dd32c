"""One mesh level of one section: meshed and condensed."""

import time
from collections.abc import Mapping
from dataclasses import dataclass, field

from contactfe.assess.beam import bends
from contactfe.assess.bodies import Bodies, Focus, stepped
from contactfe.case import Case, Section
from contactfe.section.grading import Grading, Patch
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve.bar import Bar
from contactfe.solve.elastic import Floats
from contactfe.solve.joint import Joint, join
from contactfe.solve.located import Located, located


@dataclass(frozen=True)
class Level:
    """A joint meshed for expected patches at one scale of element size.

    ``bars`` are the post in three dimensions, one for each profile of the case's spread; ``within``
    is where the nodes of each part lie in their mesh, by name.
    """

    case: Case
    section: Section
    outline: MemberOutline
    plate_outlines: tuple[PlateOutline, ...]
    patches: tuple[Patch, ...]
    bore: Floats | None
    scale: float
    grading: Grading
    joint: Joint
    build_seconds: float
    bars: tuple[Bar, ...] = ()
    within: Mapping[str, Located] = field(default_factory=dict)


def build(
    case: Case,
    bodies: Bodies,
    section: Section,
    patches: tuple[Patch, ...],
    scale: float,
    focus: Focus = (),
) -> Level:
    """Mesh and condense a section and the plates it strikes for expected patches."""
    tangential = case.contact.friction > 0.0
    offsets = case.offsets
    start = time.perf_counter()
    # A mesh that is read from a file, or is turned with its patch, is not its own mirror image.
    on_axis = all(stepped(patch, section.radius).centre == 0.0 for patch in patches)
    # What yields is solved whole: a later impact beside the first is not symmetric.
    whole = section.mesh is not None or any(patch.yields for patch in patches)
    symmetric = case.symmetric(section) and on_axis and not whole
    grading, member = bodies.member(section, patches, scale, focus, tangential, symmetric)
    plates = [
        bodies.plate(offset, patch, scale, tangential, symmetric)
        for offset, patch in zip(offsets, patches, strict=True)
    ]
    joint = join(member, *plates, radius=section.radius)
    seconds = time.perf_counter() - start
    outlines = tuple(bodies.plate_outline(offset) for offset in offsets)
    profiles = () if case.spread is None else case.spread.profiles
    rooted = bends(case, section)
    bars = tuple(
        bodies.bar(section, scale, tangential, rooted, p.length, *p.contact) for p in profiles
    )
    kernels = bars[0].prism.parts if bars else ()
    within = {
        part.name: located(of.part.mesh, part.mesh.doflocs)
        for part, of in zip(member.parts, kernels, strict=False)
    }
    return Level(
        case=case, section=section, outline=bodies.outline(section), plate_outlines=outlines,
        patches=patches, bore=bodies.bore(section), scale=scale, grading=grading, joint=joint,
        build_seconds=seconds, bars=bars, within=within,
    )  # fmt: skip
