"""A section followed from small loads past the case's own: its force–approach curve.

Without friction and square to the plate, at the case's offset; in a corner both loads grow together
and the approach is that towards the first plate. Solved by the contact alone, without recovering
stress: a curve costs a fraction of what a section costs to be checked.
"""

from dataclasses import dataclass, replace

import numpy as np

from contactfe.assess.accuracy import expected_patches
from contactfe.assess.bodies import Bodies
from contactfe.assess.fit import RESULTS, Patches, fitted, suits
from contactfe.assess.level import Level, build
from contactfe.assess.limits import (
    LARGEST_DISPLACEMENT,
    check_give,
    check_patch,
    give,
    widest_patch,
)
from contactfe.case import Case, Contact, Section
from contactfe.errors import InputError
from contactfe.section.grading import Patch
from contactfe.solve.contact import Piece
from contactfe.solve.curve import BEYOND, at_share, curve_of
from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.patch import extent

MOST = 1.25
"""Load that a curve ends at, over the case's own, unless another is asked for."""

_WIDEST_MESHED = 1.2
"""Half-width at the end of a curve over the one meshed for, up to which its mesh is fine there."""

_RESOLVED = 17
"""Nodes that touch in a patch whose half-width is known to a tenth of a percent."""


@dataclass(frozen=True)
class Followed:
    """The contact of a mesh level, followed from small loads to ``most`` times the case's.

    ``pieces`` are the solved contact, of which :func:`.at_share` gives the state at a share of the
    end's load.
    """

    level: Level
    most: float
    curve: ForceApproach
    pieces: tuple[Piece, ...]

    def state(self, times: float) -> tuple[Floats, Floats]:
        """Nodal pressures (n,) MPa and rigid-body displacements (k,) mm at ``times`` the loads."""
        return at_share(self.pieces, times / self.most)

    @property
    def resolved(self) -> float:
        """Multiple of the case's loads from which the first patch is wide enough to be measured."""
        first = len(self.level.joint.member.lines[0].nodes)
        wide = (
            self.most * BEYOND * piece.start
            for piece in self.pieces
            if np.count_nonzero(piece.pressure[:, :first].any(axis=0)) >= _RESOLVED
        )
        return min(1.0, next(wide, 1.0))

    def patch(self, times: float, number: int = 0) -> Patch:
        """The patch on the plate of that number at that many times the case's loads."""
        pressure, _ = self.state(times)
        return _patches(self.level, pressure)[number]


def force_approach(
    case: Case,
    section: Section,
    bodies: Bodies,
    most: float = MOST,
    points: int = 100,
    scale: float = 1.0,
) -> ForceApproach:
    """The force–approach curve of a section up to ``most`` times the case's load.

    ``scale`` is the element size over the standard one. ``bodies`` may be those of the case with or
    without friction, which is left out here.

    Raises what :func:`follow_load` raises, and InputError if ``most`` times the load is
    beyond the range of the model.
    """
    followed = follow_load(case, section, bodies, most, points, scale)
    if (allowed := times_allowed(followed)) < most:
        raise InputError(
            f"{case.source}: the force–approach curve of section {section.name!r} cannot go to"
            f" {most:g} times the load: patch and displacement are small up to {allowed:.3g}"
            " times it"
        )
    return followed.curve


def follow_load(
    case: Case,
    section: Section,
    bodies: Bodies,
    most: float = MOST,
    points: int = 100,
    scale: float = 1.0,
    expected: tuple[Patch, ...] | None = None,
) -> Followed:
    """The same with the solved contact that the curve is drawn through.

    :func:`times_allowed` says how much of it is within the range of the model. ``expected`` are the
    patches at the case's load, where they are known from another mesh.

    Raises
    ------
    InputError
        if patch, displacement or slimness are beyond the range of the model at the case's load, or
        ``most`` is below 1
    SolveError
        if the contact does not settle, or the mesh cannot follow the patch
    """
    if not 1.0 <= most < np.inf:
        raise InputError(f"a force–approach curve ends at 1 times the load or more, not {most:g}")
    case = square(case)
    patches = expected_patches(case, section) if expected is None else expected
    for number, patch in enumerate(patches):
        check_patch(case, section, number, patch)
    ends = np.multiply(most, case.line_loads)

    def solve(meant: Patches) -> tuple[bool, Patches, Followed]:
        level = build(case, bodies, section, _meshed_for(meant, most), scale)
        curve, pieces = curve_of(level.joint, ends, points)
        followed = Followed(level, most, curve, pieces)
        found = tuple(followed.patch(1.0, number) for number in range(len(meant)))
        for number, patch in enumerate(found):
            check_patch(case, section, number, patch)
        return suits(meant, found, RESULTS), found, followed

    followed = fitted(solve, patches)
    for number, towards in enumerate(followed.state(1.0)[1]):
        load = case.line_loads[number]
        check_give(case, section, number, give(case, number, float(towards), load))
    return followed


def times_allowed(followed: Followed) -> float:
    """Multiple of the loads, at most ``most``, up to which patch and displacement are small."""
    return min(followed.most, estimated_times(followed))


def estimated_times(followed: Followed) -> float:
    """The same past the end of the curve, where it is an estimate.

    Half-widths are taken to grow as the root of the load, and the displacement with it.
    """
    level, most = followed.level, followed.most
    case, section = level.case, level.section
    allowed = np.inf
    for number, towards in enumerate(followed.state(most)[1]):
        width = followed.patch(most, number).half_width
        gives = give(case, number, float(towards), most * case.line_loads[number])
        by_patch = (widest_patch(case, section, number) / width) ** 2
        by_displacement = LARGEST_DISPLACEMENT * section.radius / gives
        allowed = min(allowed, most * by_patch, most * by_displacement)
    return float(allowed)


def square(case: Case) -> Case:
    """The case struck at its offset, squarely and without friction."""
    return case.at(Contact(case.contact.offset))


def _meshed_for(patches: tuple[Patch, ...], most: float) -> tuple[Patch, ...]:
    """Patches to mesh for: those at the case's load, or wider where the curve goes far past it."""
    wider = max(1.0, np.sqrt(most) / _WIDEST_MESHED)
    return tuple(replace(p, half_width=float(wider * p.half_width)) for p in patches)


def _patches(level: Level, pressure: Floats) -> tuple[Patch, ...]:
    found, start = [], 0
    for line, coupling in zip(level.joint.member.lines, level.joint.couplings, strict=True):
        at = slice(start, start + len(line.nodes))
        start = at.stop
        centre, half_width = extent(line.x, pressure[at], coupling.weight)
        found.append(Patch(centre, half_width))
    return tuple(found)
