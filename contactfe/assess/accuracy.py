"""Two mesh levels of one section, and what their difference says of the numerical uncertainty.

The coarse level finds how wide the patch is and where the stress peaks; the fine level is meshed
for that. What the two levels differ by is the uncertainty of the fine one.
"""

from collections.abc import Callable
from dataclasses import dataclass

from contactfe.assess.handchecks import contact_modulus
from contactfe.assess.level import Bodies, Level, Reading, build, read
from contactfe.assess.limits import check_patch, check_slimness, check_travel
from contactfe.assess.results import Value
from contactfe.case import Case, Section
from contactfe.errors import SolveError
from contactfe.hand import hertz

COARSE = 2.0
"""Element size of the coarse level over that of the fine one."""

FLOOR = 0.003
"""Least uncertainty, relative: two meshes can agree by chance. tests/published/test_uncertainty.py
shows what it covers."""

_PATCH_RANGE = (0.87, 1.15)
"""Solved half-width over the one meshed for; outside, the patch leaves the zone placed for it."""

_MOST_MESHES = 6


@dataclass(frozen=True)
class Solved:
    """A level that holds its patch and its peak, how many meshes that took, and its extra focus."""

    level: Level
    reading: Reading
    meshes: int
    focus: tuple[float, float] | None


@dataclass(frozen=True)
class Levels:
    """The coarse and the fine solution of one section."""

    coarse: Solved
    fine: Solved

    def value(self, of: Callable[[Reading], float]) -> Value:
        """A figure read off both levels: the fine one's, with its numerical uncertainty."""
        fine, coarse = of(self.fine.reading), of(self.coarse.reading)
        return Value(fine, uncertainty(fine, coarse))


def solve_levels(case: Case, section: Section, bodies: Bodies) -> Levels:
    """Solve a section on both mesh levels, without checking it.

    Raises
    ------
    InputError
        if patch, travel or slimness are beyond what the model carries
    SolveError
        if contact does not converge, or the mesh cannot follow the patch
    """
    check_slimness(case, section)
    expected = hertz_half_width(case, section)
    check_patch(case, section, expected)
    coarse = _settled(case, section, bodies, expected, COARSE)
    fine = _settled(case, section, bodies, coarse.reading.half_width, 1.0, coarse.focus)
    return Levels(coarse, fine)


def added_hoop(levels: Levels) -> Value:
    """Added hoop stress: a sum of two stresses of the size of p0, and no surer than they are."""
    figure = levels.value(lambda r: r.member_added)
    least = 0.1 * FLOOR * levels.fine.reading.peak_pressure
    return Value(figure.value, max(figure.uncertainty, least))


def hertz_half_width(case: Case, section: Section) -> float:
    """Half-width by Hertz for the case's line load, mm."""
    return float(hertz.half_width(case.line_load, section.radius, contact_modulus(case, section)))


def uncertainty(fine: float, coarse: float) -> float:
    """Numerical uncertainty of the fine of two mesh levels.

    Errors fall with the square of the element size at least, so the fine level's is a third of the
    difference of the levels; the whole difference is stated, and never less than ``FLOOR``.
    """
    return max(abs(fine - coarse), FLOOR * abs(fine))


def _settled(
    case: Case,
    section: Section,
    bodies: Bodies,
    expected: float,
    scale: float,
    focus: tuple[float, float] | None = None,
) -> Solved:
    """Mesh and solve until the patch and the peak lie where the mesh was refined for them."""
    for meshes in range(1, _MOST_MESHES + 1):
        level = build(bodies, section, expected, scale, focus)
        reading = read(level, case.line_load)
        check_travel(case, section, reading)
        check_patch(case, section, reading.half_width)
        low, high = _PATCH_RANGE
        patch_fits = low <= reading.half_width / expected <= high
        peak = reading.member_peaks[0]
        peak_fits = level.grading.refined(peak.x, peak.y)
        if patch_fits and peak_fits:
            return Solved(level, reading, meshes, focus)
        if not patch_fits:
            expected = reading.half_width
        if not peak_fits:
            focus = (peak.x, peak.y)
    raise SolveError(f"no mesh of {_MOST_MESHES} held the contact patch and the peak")
