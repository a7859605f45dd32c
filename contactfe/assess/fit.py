"""Whether a mesh suits the patches that are solved on it, and meshing anew until one does.

A mesh is refined for expected patches. How far the solved ones may lie from those depends on what
is read: results at the case's load are read where the mesh was made for them; other loads are
followed on a mesh that serves them all.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import inf
from typing import TypeVar

from contactfe.assess.bodies import CENTRE_STEP
from contactfe.assess.level import Level
from contactfe.errors import SolveError
from contactfe.section.grading import Patch

Answer = TypeVar("Answer")
Patches = tuple[Patch, ...]


@dataclass(frozen=True)
class Range:
    """How far patches may differ from those meshed for, in half-widths of these.

    ``least`` to ``most`` half-widths wide, their middle at most ``off`` away, and each border of
    stick and slip at most ``border`` from one that was meshed for.
    """

    least: float
    most: float
    off: float
    border: float = inf


RESULTS = Range(0.87, 1.15, CENTRE_STEP + 0.05, 0.07)
"""For what is reported of the load: beyond, the patch leaves the zone placed for it."""

LOADS = Range(0.55, 2.8, 0.3)
"""For a load beside that of the mesh. Measured on a solid of 150 mm and tubes of it with walls of
37.5 and 25 mm, on a plate of 400 × 60 mm on a rigid base: peaks and pressure from 0.3 to 8 times
the load, which is this range, differ by at most 0.26 % from those on a mesh twice as fine that is
made for the load."""

RUBBING = Range(0.7, 1.6, 0.3)
"""The same with friction, whose peaks lie at the edges of contact, where elements grow larger."""

_ROOM = 1.06
"""Reach of the line on which contact is looked for, over the widest half-width on it, at least."""

MOST_MESHES = 8


def loads_on(level: Level) -> Range:
    """The range of patches at other loads that a level serves."""
    if level.case.contact.friction > 0.0:
        return RUBBING
    lines = (level.grading.contact, level.grading.side)
    reach = min(line.reach / line.patch.half_width for line in lines if line is not None)
    return replace(LOADS, most=min(LOADS.most, reach / _ROOM))


def suits(meshed: Patches, patches: Patches, within: Range) -> bool:
    """Whether a mesh that was made for ``meshed`` serves these patches."""
    return all(_suits(m, p, within) for m, p in zip(meshed, patches, strict=True))


def fitted(
    solve: Callable[[Patches], tuple[bool, Patches, Answer | None]],
    expected: Patches,
) -> Answer:
    """Mesh and solve until the solved patches suit the mesh.

    ``solve`` takes the patches that are expected and returns whether its mesh suits those solved,
    these, and its answer; None in its place where another mesh is needed all the same.

    Raises SolveError where no mesh of ``MOST_MESHES`` suits, and what ``solve`` raises.
    """
    for _ in range(MOST_MESHES):
        fits, found, answer = solve(expected)
        if not fits:
            expected = found
        elif answer is not None:
            return answer
    raise SolveError(f"no mesh of {MOST_MESHES} held the contact patch and the peak")


def _suits(meshed: Patch, patch: Patch, within: Range) -> bool:
    width = meshed.half_width
    return (
        within.least <= patch.half_width / width <= within.most
        and abs(patch.centre - meshed.centre) <= within.off * width
        and all(
            within.border == inf or any(abs(x - y) <= within.border * width for y in meshed.borders)
            for x in patch.borders
        )
    )
