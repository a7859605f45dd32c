"""A tube solved at the limits that it is made within: with its least and its greatest wall."""

from collections.abc import Iterable
from dataclasses import replace

from contactfe.assess.accuracy import solve_levels
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.check_list import infill_checks, von_mises_check
from contactfe.assess.checks import WALLS, Check
from contactfe.assess.readout import read_out
from contactfe.assess.results import AsMade, SectionResult
from contactfe.assess.section import assess_section
from contactfe.assess.value import BODIES, Value, key_of
from contactfe.case import Case, Section
from contactfe.case.tolerance import Limits
from contactfe.errors import InputError, SolveError


def assess_as_made(case: Case, section: Section, bodies: Bodies) -> SectionResult:
    """A section assessed as :func:`.assess_section` does, and a tube at its limits beside that.

    A limit that cannot be solved has no verdict. Raises what that raises.
    """
    result = assess_section(case, section, bodies)
    limits = case.limits(section)
    if limits is None:
        return result
    made = tuple(
        _made(case, section, bodies, number, limits, len(result.patches))
        for number in range(len(WALLS))
    )
    checks = (*result.checks, *(check for one in made for check in one.checks))
    return replace(result, limits=limits, as_made=made, checks=checks)


def _made(
    case: Case, section: Section, bodies: Bodies, number: int, limits: Limits, plates: int
) -> AsMade:
    outside, wall = limits.made[number]
    at = case.as_made(section, outside, wall)
    own, names = Bodies(at, bodies.kept), BODIES[: plates + 1]
    peaks: tuple[Value | None, ...] = (None,) * len(names)
    error, hoop, read = "", None, None
    try:
        read = read_out(solve_levels(loaded(at, at.sections[0], own), at.sections[0], own))
        keys = ("post_peak", *(key_of("plate_peak", k) for k in range(plates)))
        peaks = tuple(read.values[key] for key in keys)
        hoop = read.values.get("bore_hoop_under_load")
    except (InputError, SolveError) as failed:
        error = str(failed).removeprefix(f"{case.source}: ")
    own.forget(at.sections[0])
    post, plate = case.post_material(section).yield_strength, case.plate_material.yield_strength
    strengths = (post, *(plate for _ in range(plates)))
    of = zip(names, peaks, strengths, strict=True)
    checks = made_checks(case, section, number, of, error)
    if read is not None:
        checks += tuple(_named(c, number) for c in infill_checks(section, read.values))
    K = None if peaks[0] is None else peaks[0].over(case.line_load / section.outside_diameter)
    return AsMade(outside, wall, peaks, K, checks, error, hoop)


def made_checks(
    case: Case,
    section: Section,
    number: int,
    bodies: Iterable[tuple[str, Value | None, float]],
    error: str = "",
    contact: int = 0,
) -> tuple[Check, ...]:
    """The solved stress of each body, its peak and its yield strength, at a limit of the wall.

    Without a verdict where the limit was not solved.
    """
    found = []
    for name, peak, strength in bodies:
        check = von_mises_check(case, section, name, peak or Value(0.0, 0.0), strength, contact)
        found.append(
            replace(
                _named(check, number),
                demand=None if peak is None else check.demand,
                missing=error,
            )
        )
    return tuple(found)


def _named(check: Check, number: int) -> Check:
    """A check under the name of the limit of the wall."""
    return replace(
        check,
        key=f"{check.key}_{WALLS[number].replace(' ', '_')}",
        label=f"{check.label} with the {WALLS[number]}",
    )


def yields_first(case: Case, result: SectionResult) -> tuple[float, str] | None:
    """Mean line load, N/mm, at which a part first yields, and that part: the least of all, with the
    uncertainties counted, at the limits of the wall and at the post's root.

    None where all lie beyond the range of the model.
    """
    whole = case.line_load / result.line_load  # the mean of a peak along the post
    found = [
        (_at_limits(result, k) * whole, name)
        for k, (name, body) in enumerate(result.bodies)
        if body.first_yield_line_load is not None
    ]
    Y = result.member.material.yield_strength
    found += [
        (case.line_load * Y / step.worked.value, "post at its root")
        for step in result.by_hand.steps
        if step.key in {"post_von_mises", "post_twisted_von_mises"} and step.worked.value > 0.0
    ]
    return min(found, default=None)


def _at_limits(result: SectionResult, number: int) -> float:
    """The least line load at first yield of a body within the limits of its wall, N/mm.

    At a limit its peak stress is more by some share, and grows at least as the root of the load: so
    it yields at the load by the square of that share less, but not below a load under which it was
    solved and is below yield.
    """
    _, body = result.bodies[number]
    first, Y = body.first_yield_line_load, body.material.yield_strength
    assert first is not None  # who asks has looked
    made = [peak.upper for one in result.as_made if (peak := one.peaks[number]) is not None]
    share = min([1.0, *(body.peak_von_mises.value / peak for peak in made)])
    at = (first.value - first.uncertainty) * share**2
    return max(at, result.line_load) if max([body.peak_von_mises.upper, *made]) <= Y else at
