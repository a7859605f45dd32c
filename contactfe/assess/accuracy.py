"""Mesh levels of one section, and what their difference says of the numerical uncertainty.

The coarse level finds where the patches are, how wide, and where the stress peaks; the fine level
is meshed for that. What two levels differ by, whose element sizes are as 2 to 1, is the uncertainty
of the finer. Where the case asks for less, finer levels follow, each with half the element size.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from contactfe.assess.bodies import Bodies, Focus, stepped
from contactfe.assess.fit import RESULTS, Patches, fitted, suits
from contactfe.assess.level import Level, build
from contactfe.assess.limits import check_displacement, check_patch
from contactfe.assess.reading import Reading, patches_of, read
from contactfe.assess.resources import room_for
from contactfe.assess.value import Value
from contactfe.case import Case, Section
from contactfe.errors import SolveError
from contactfe.hand import hertz, strip, strip_deflection
from contactfe.section.grading import Patch

COARSE = 2.0
"""Element size of the first level over that of the second, which is the standard one."""

FLOOR = 0.003
"""Least relative uncertainty at the standard level, and in proportion to the element size at finer
ones: two meshes can agree by chance. tests/published/test_uncertainty.py shows what it covers."""

BESIDE = 0.1 * FLOOR
"""The same over a larger figure that one is a small part of, or a difference: of a stress beside
the contact pressure p0, of a part of the approach beside the whole."""

PLACE = FLOOR / 3.0
"""The same over the peak of the body, for the peak of any other place in it."""

SURFACE = 0.005
SURFACE_FROM = 0.3
"""The same for a body's peak, and the friction from which it lies at the surface, where stress is
recovered from one side alone: at friction 0.45 peaks of post and plate were off by 0.41 %."""

ROUNDING = 1e-7
"""What is left of a force in equilibrium by the arithmetic alone, over the line load."""

NEIGHBOURS = 0.06
"""Least uncertainty of what the neighbours of a slice add to a peak stress, over that: at a free
end, where it is least sure, meshes twice as fine with more modes moved it by 5.7 %."""

PARTIAL_SLIP = 1.0 / (math.sqrt(2.0) - 1.0)
"""Uncertainty over the difference of two levels where a patch slips in part. At the border of stick
and slip the stress along the surface has no bounded slope, and errors may fall with no more than
the square root of the element size."""

_GROWTH = 4.2
"""Unknowns of a level over those of the one before, at most: four, and what the edges add."""


@dataclass(frozen=True)
class Solved:
    """A level that holds its patches and its peak, and how many meshes that took."""

    level: Level
    reading: Reading
    meshes: int
    focus: Focus

    @property
    def patches(self) -> tuple[Patch, ...]:
        """The patches as solved."""
        return patches_of(self.reading)


@dataclass(frozen=True)
class Levels:
    """The solutions of one section from coarse to fine.

    ``stopped`` says why the accuracy that the case asks for was not reached; empty if it was, or
    none was asked for.
    """

    solved: tuple[Solved, ...]
    stopped: str = ""

    @property
    def coarse(self) -> Solved:
        """The last level but one."""
        return self.solved[-2]

    @property
    def fine(self) -> Solved:
        """The last level, which results are read from."""
        return self.solved[-1]

    @property
    def meshes(self) -> int:
        """Meshes made on all levels."""
        return sum(s.meshes for s in self.solved)

    def value(self, of: Callable[[Reading], float], least: float = 0.0) -> Value:
        """A figure read off the last two levels: the finer one's, with its uncertainty.

        ``least`` is as in :func:`numerical_uncertainty`.
        """
        return _value(of, self.coarse, self.fine, least)

    def peaks(self, body: int) -> tuple[Value | None, ...]:
        """Peak von Mises stress of a body, by its number in :func:`peaks_of`, on every level.

        None for the first, which has none coarser beside it.
        """

        def of(reading: Reading) -> float:
            return peaks_of(reading)[body]

        def least(at: Solved) -> float:
            case, figure = at.level.case, of(at.reading)
            return at_surface(case, figure) if body else beside_slice(case, at.reading, figure)

        return (
            None,
            *(_value(of, coarse, fine, least(fine)) for coarse, fine in pairwise(self.solved)),
        )


def solve_levels(case: Case, section: Section, bodies: Bodies) -> Levels:
    """Solve a section on two mesh levels, or more where the case asks for an accuracy.

    Raises
    ------
    InputError
        if patch, displacement or slimness are beyond the range of the model
    SolveError
        if contact does not converge, or the mesh cannot follow the patch
    """
    expected = expected_patches(case, section)
    for number, patch in enumerate(expected):
        check_patch(case, section, number, patch)
    solved = [settled(case, section, bodies, expected, COARSE, ())]
    solved.append(settled(case, section, bodies, solved[0].patches, 1.0, solved[0].focus))
    levels = Levels(tuple(solved))
    while case.accuracy is not None and _worst(levels) > case.accuracy:
        last = levels.fine
        why = room_for(_GROWTH * last.level.joint.unknowns)
        if not why:
            try:
                finer = settled(
                    case, section, bodies, last.patches, last.level.scale / COARSE, last.focus
                )
            except SolveError as error:
                why = f"the next mesh was not solved ({error})"
        if why:
            reached = f"{100 * _worst(levels):.2g} %"
            return Levels(
                levels.solved, f"the uncertainty of its peak is {reached}, not less: {why}"
            )
        levels = Levels((*levels.solved, finer))
    return levels


def peaks_of(reading: Reading) -> tuple[float, ...]:
    """Peak von Mises stress of the post and of each plate that it strikes, MPa."""
    return (reading.member_peaks[0].von_mises, *(p.peaks[0].von_mises for p in reading.patches))


def among(figure: float, own: float) -> float:
    """Least uncertainty of a figure of the post by what neighbours add to its slice's ``own``.

    That may be under another line load, so half of the figure is the most that they add.
    """
    return NEIGHBOURS * min(abs(figure - own), abs(figure) / 2.0)


def at_surface(case: Case, figure: float) -> float:
    """Least uncertainty of a body's peak, MPa, where friction puts it at the surface; else 0."""
    return SURFACE * abs(figure) if case.contact.friction >= SURFACE_FROM else 0.0


def beside_slice(case: Case, reading: Reading, figure: float) -> float:
    """Least uncertainty, MPa, of the peak of a post, which its neighbours share in."""
    own = reading.slice.peaks[0].von_mises
    return max(at_surface(case, figure), among(figure, own))


def beside_peak(peak: float, bonded: bool = False) -> float:
    """Least uncertainty, MPa, of a place of a body that peaks elsewhere, at ``peak`` MPa.

    Meshes are made for the peak, and coarse where little is at work: least so at a bore that is
    ``bonded`` to a rigid core, where stress falls off steeply along the bond.
    """
    return (FLOOR if bonded else PLACE) * peak


def expected_patches(case: Case, section: Section) -> tuple[Patch, ...]:
    """Half-width by Hertz and middle by the tilt of the plate as a strip, for each patch."""
    post, plate = case.post_material(section), case.plate_material
    E_star = hertz.contact_modulus(post.young, post.poisson, plate.young, plate.poisson, case.state)
    return tuple(
        Patch(
            section.radius * _rise(case, load, offset),
            float(hertz.half_width.plain(load, section.radius, E_star)),
            case.contact.friction > 0.0,
        )
        for load, offset in zip(case.line_loads, case.offsets, strict=True)
    )


def numerical_uncertainty(
    fine: float,
    coarse: float,
    scale: float = 1.0,
    partial_slip: bool = False,
    least: float = 0.0,
) -> float:
    """Numerical uncertainty of the finer of two mesh levels, of element size ``scale``.

    Errors fall with the square of the element size at least, so the fine level's is a third of the
    difference of the levels; the whole difference is stated, and never less than ``FLOOR`` of the
    figure, nor than ``least``, in its unit, for the standard level. In partial slip they fall more
    slowly, and ``PARTIAL_SLIP`` times the difference is stated.
    """
    difference = abs(fine - coarse) * (PARTIAL_SLIP if partial_slip else 1.0)
    return max(difference, scale * max(FLOOR * abs(fine), least))


def _value(
    of: Callable[[Reading], float], coarse: Solved, fine: Solved, least: float = 0.0
) -> Value:
    last, before = of(fine.reading), of(coarse.reading)
    return Value(
        last, numerical_uncertainty(last, before, fine.level.scale, slipping(fine.reading), least)
    )


def slipping(reading: Reading) -> bool:
    """Whether a patch sticks in one place and slips in another."""
    return any(patch.motion == "partial slip" for patch in reading.state.patches)


def _worst(levels: Levels) -> float:
    """Largest relative uncertainty of the peaks."""
    values = [levels.peaks(body)[-1] for body in range(len(peaks_of(levels.fine.reading)))]
    return max(v.uncertainty / v.value for v in values if v is not None)


def _rise(case: Case, load: float, offset: float) -> float:
    """Slope of the impacted face at the load, upwards along the plate; 0 where it is no strip."""
    plate, steel = case.plate, case.plate_material
    edges = plate.support.strip
    if edges is None or offset == 0.0:
        return 0.0
    E, nu, t = steel.young, steel.poisson, plate.thickness
    falls = float(
        strip_deflection.slope(
            offset, load, plate.width, offset, edges,
            strip.bending_stiffness(t, E, nu, case.state), strip.shear_stiffness(t, E, nu),
        )
    )  # fmt: skip
    if plate.spring is not None:
        falls += strip_deflection.tilt(load, plate.width, offset, plate.spring)
    return -falls


def settled(
    case: Case,
    section: Section,
    bodies: Bodies,
    expected: tuple[Patch, ...],
    scale: float,
    focus: Focus,
) -> Solved:
    """Mesh and solve until the patches and the peak lie where the mesh was refined for them."""
    meshes = 0

    def solve(patches: Patches) -> tuple[bool, Patches, Solved | None]:
        nonlocal focus, meshes
        meshes += 1
        level = build(case, bodies, section, patches, scale, focus)
        reading = read(level)
        check_displacement(case, section, reading)
        found = patches_of(reading)
        for number, patch in enumerate(found):
            check_patch(case, section, number, patch)
        fits, peak = suits(patches, found, RESULTS), reading.member_peaks[0]
        if level.grading.refined(peak.x, peak.y):
            return fits, found, Solved(level, reading, meshes, focus)
        # On a grid of its own, so that contacts that differ little share a mesh.
        grid = 0.2 * stepped(found[0], section.radius).half_width
        focus = (*focus, (grid * round(peak.x / grid), grid * round(peak.y / grid)))
        return fits, found, None

    return fitted(solve, expected)
