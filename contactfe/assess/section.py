"""One section, from mesh to verdict: two mesh levels, uncertainty, first yield, hand checks.

The coarse level finds how wide the patch is and where the stress peaks; the fine level is meshed
for that. What the two levels differ by is the uncertainty of the fine one.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from contactfe.assess.handchecks import hand_checks
from contactfe.assess.level import Bodies, Level, Reading, build, read
from contactfe.assess.limits import (
    check_patch,
    check_slimness,
    check_travel,
    travels_little,
    widest_patch,
)
from contactfe.assess.places import Peak
from contactfe.assess.results import BodyResult, SectionResult, Value
from contactfe.case import Case, Material, Section
from contactfe.errors import SolveError
from contactfe.hand import hertz

COARSE = 2.0
"""Element size of the coarse level over that of the fine one."""

FLOOR = 0.003
"""Least uncertainty, relative: two meshes can agree by chance. tests/published/test_uncertainty.py
shows what it covers."""

_PATCH_RANGE = (0.87, 1.15)
"""Solved half-width over the one meshed for; outside, the patch leaves the zone placed for it."""

_YIELD_RANGE = (0.55, 1.2)
"""The same while searching the load at first yield, on a mesh made for the load of the case."""

_MOST_MESHES = 6
_MOST_LOADS = 25
_LONGEST_STEP = 1.8
_YIELD_TOLERANCE = 5e-4


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


def assess_section(case: Case, section: Section, bodies: Bodies) -> SectionResult:
    """Solve and check one section of a case. Raises what ``solve_levels`` raises."""
    both = solve_levels(case, section, bodies)
    rough, best, value = both.coarse.reading, both.fine.reading, both.value
    levels = [both.fine.level]

    def body(
        steel: Material, peaks: Callable[[Reading], tuple[Peak, ...]], shear: Value
    ) -> BodyResult:
        load = _first_yield(bodies, levels, best, steel, peaks)
        return _body(case, steel, peaks(best), peaks(rough), shear, load)

    member = body(
        case.post_material(section), lambda r: r.member_peaks, value(lambda r: r.member_shear)
    )
    plate = body(case.plate_material, lambda r: r.plate_peaks, value(lambda r: r.plate_shear))
    bore_hoop = None
    if best.bore_hoop and rough.bore_hoop:
        under, side = zip(best.bore_hoop, rough.bore_hoop, strict=True)
        bore_hoop = (Value(under[0], uncertainty(*under)), Value(side[0], uncertainty(*side)))
    nominal = case.line_load / section.outside_diameter
    return SectionResult(
        section=section,
        line_load=case.line_load,
        half_width=value(lambda r: r.half_width),
        peak_pressure=value(lambda r: r.peak_pressure),
        approach=value(lambda r: r.state.approach),
        member=member,
        plate=plate,
        bore_hoop=bore_hoop,
        added_hoop=added_hoop(both),
        stress_concentration=Value(member.peak.von_mises / nominal, member.uncertainty / nominal),
        mass_per_length=case.mass_per_length(section),
        hand=hand_checks(case, section, best, member, plate),
        unknowns=both.fine.level.pair.unknowns,
        remeshed=both.coarse.meshes + both.fine.meshes - 2,
        solve_seconds=both.fine.level.build_seconds + best.solve_seconds,
        reading=best,
    )


def added_hoop(levels: Levels) -> Value:
    """Added hoop stress: a sum of two stresses of the size of p0, and no surer than they are."""
    figure = levels.value(lambda r: r.member_added)
    least = 0.1 * FLOOR * levels.fine.reading.peak_pressure
    return Value(figure.value, max(figure.uncertainty, least))


def hertz_half_width(case: Case, section: Section) -> float:
    """Half-width by Hertz for the case's line load, mm."""
    a, b = case.post_material(section), case.plate_material
    E_star = hertz.contact_modulus(a.young, a.poisson, b.young, b.poisson, case.state)
    return float(hertz.half_width(case.line_load, section.radius, E_star))


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
    raise SolveError(
        f"section {section.name!r}: no mesh of {_MOST_MESHES} held the contact patch and the peak"
    )


def _body(
    case: Case,
    steel: Material,
    fine: tuple[Peak, ...],
    coarse: tuple[Peak, ...],
    shear: Value,
    first_yield: tuple[float, float] | None,
) -> BodyResult:
    peak, allowed = fine[0], steel.yield_strength / case.yield_margin
    margin = uncertainty(peak.von_mises, coarse[0].von_mises)
    load = blur = None
    if first_yield is not None:
        load, power = first_yield
        blur = load * (margin / peak.von_mises + _YIELD_TOLERANCE) / power
    return BodyResult(
        steel,
        peak,
        margin,
        fine,
        shear,
        peak.von_mises / allowed,
        peak.von_mises + margin <= allowed,
        load,
        blur,
    )


def _first_yield(
    bodies: Bodies,
    levels: list[Level],
    reading: Reading,
    steel: Material,
    peaks: Callable[[Reading], tuple[Peak, ...]],
) -> tuple[float, float] | None:
    """Line load (N/mm) at which a body's peak von Mises stress reaches yield, and its power there.

    The peak grows like a power of the load, about a half for Hertz and one for ring bending, so the
    secant method in logarithms settles in a few steps, each on the factored bodies. None where that
    load is beyond what the model carries, or cannot be solved: the case itself has been.
    """
    section = levels[0].section
    widest = widest_patch(bodies.case, section)
    load, slope = reading.state.line_load, 0.5
    excess = _excess(peaks(reading), steel)
    for _ in range(_MOST_LOADS):
        # A step stays within a factor of the load over which the power hardly changes, and does
        # not take the patch far past the widest one allowed, which only has to be tried.
        step = float(np.clip(-excess / slope, -_LONGEST_STEP, _LONGEST_STEP))
        step = min(step, 2.0 * float(np.log(1.02 * widest / reading.half_width)))
        expected = reading.half_width * np.exp(step / 2.0)
        load *= float(np.exp(step))
        try:
            reading = _read_anew(bodies, levels, load, expected)
        except SolveError:
            return None
        last, excess = excess, _excess(peaks(reading), steel)
        if abs(step) > _YIELD_TOLERANCE:  # of a shorter one the difference is noise
            slope = float(np.clip((excess - last) / step, 0.1, 1.5))
        allowed = reading.half_width <= widest and travels_little(section, reading)
        if abs(excess) < _YIELD_TOLERANCE or (excess < 0.0 and not allowed):
            return (load, slope) if allowed else None
    return None


def _read_anew(bodies: Bodies, levels: list[Level], load: float, expected: float) -> Reading:
    """Read at another load, on a mesh that suits the patch: of ``levels``, or one added there."""
    low, high = _YIELD_RANGE
    for _ in range(_MOST_MESHES):
        fitting = [v for v in levels if low <= expected / v.grading.half_width <= high]
        if not fitting:
            fitting = [build(bodies, levels[0].section, expected, 1.0)]
            levels.extend(fitting)
        reading = read(fitting[-1], load)
        if low <= reading.half_width / fitting[-1].grading.half_width <= high:
            return reading
        expected = reading.half_width
    raise SolveError(
        f"section {levels[0].section.name!r}: no mesh held the contact patch at"
        f" {bodies.case.display.line_load.text(load)}"
    )


def _excess(peaks: tuple[Peak, ...], steel: Material) -> float:
    return float(np.log(peaks[0].von_mises / steel.yield_strength))
