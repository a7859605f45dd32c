"""One section, from mesh to verdict: solved on mesh levels, held against yield and formulas."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from contactfe.assess.accuracy import (
    FLOOR,
    ROUNDING,
    Levels,
    at_surface,
    beside_contact,
    beside_peak,
    numerical_uncertainty,
    peaks_of,
    slipping,
    solve_levels,
    tangential_load,
)
from contactfe.assess.along import along_the_length
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.by_hand.record import SectionByHand
from contactfe.assess.check_list import solved_checks
from contactfe.assess.first_yield import first_yield, uncertainty_of
from contactfe.assess.handchecks import hand_checks
from contactfe.assess.level import (
    Filling,
    Level,
    PatchReading,
    Reading,
    borders,
)
from contactfe.assess.places import EDGES, Peak
from contactfe.assess.results import (
    Along,
    BodyResult,
    InfillResult,
    MeshLevel,
    PatchResult,
    SectionResult,
    Value,
)
from contactfe.case import Case, Material, Section
from contactfe.solve.friction import STICK
from contactfe.solve.joint import PatchState

Peaks = Callable[[Reading], tuple[Peak, ...]]


def assess_section(case: Case, section: Section, bodies: Bodies) -> SectionResult:
    """Solve and check one section of a case, at the peak of its line load along the post.

    Raises what ``solve_levels`` and ``along_the_length`` raise.
    """
    length = None
    if case.alignment is not None:
        case, length = along_the_length(case, section, bodies)
    both = solve_levels(case, section, bodies)
    best, value = both.fine.reading, both.value
    levels = [both.fine.level]
    found = section_by_hand(case, section, tuple(patch.state.centre for patch in best.patches))
    member = _body(
        case, bodies, both, levels, case.post_material(section),
        lambda r: r.member_peaks, lambda r: r.member_shear, found.value("shakedown_line_load"),
        case.hold(section) == "rigid core",
    )  # fmt: skip
    patches = tuple(
        _patch(case, bodies, both, levels, found, number) for number in range(len(best.patches))
    )
    bore_hoop = None if best.bore_hoop is None else _pair(both, lambda r: r.bore_hoop)
    centre = None if best.centre is None else _pair(both, lambda r: r.centre)
    approach = value(lambda r: r.state.approach)
    # Of the mean: sections of one force share it, whatever their own peak along the post is.
    nominal = case.line_load / section.outside_diameter
    result = SectionResult(
        section=section,
        patches=patches,
        approach=approach,
        member=member,
        infill=None if best.filling is None else _infill(both),
        bore_hoop=bore_hoop,
        centre=centre,
        added_hoop=_added_hoop(case, both),
        stress_concentration=Value(member.peak.von_mises / nominal, member.uncertainty / nominal),
        mass_per_length=case.mass_per_length(section, *bodies.areas(section)),
        hand=hand_checks(case, section, found, best, member, patches, bore_hoop, centre, approach),
        by_hand=found,
        levels=mesh_levels(both),
        stopped=both.stopped,
        remeshed=both.meshes - len(both.solved),
        solve_seconds=both.fine.level.build_seconds + best.solve_seconds,
        reading=best,
        length=length,
    )
    return replace(result, checks=solved_checks(case, result))


def mesh_levels(levels: Levels) -> tuple[MeshLevel, ...]:
    """What every mesh level found, from coarse to fine."""
    bodies = range(len(peaks_of(levels.fine.reading)))
    histories = [levels.peaks(body) for body in bodies]
    found = []
    for number, solved in enumerate(levels.solved):
        peaks = []
        for k in bodies:
            value = histories[k][number]
            peaks.append((peaks_of(solved.reading)[k], value.uncertainty if value else None))
        level = solved.level
        found.append(MeshLevel(level.scale, level.joint.unknowns, tuple(peaks)))
    return tuple(found)


def _patch(
    case: Case,
    bodies: Bodies,
    both: Levels,
    levels: list[Level],
    found: SectionByHand,
    number: int,
) -> PatchResult:
    """One patch, with its plate checked."""

    def value(of: Callable[[PatchReading], float]) -> Value:
        return both.value(lambda r: of(r.patches[number]))

    plate = _body(
        case, bodies, both, levels, case.plate_material,
        lambda r: r.patches[number].peaks, lambda r: r.patches[number].max_shear,
        found.value(f"shakedown_line_load_plate{'' if number == 0 else '_second'}"),
    )  # fmt: skip
    fine, coarse = both.fine.reading.patches[number], both.coarse.reading.patches[number]
    state = fine.state
    friction_force = tangential_load(case, both, number)
    # On a rigid base the stress along the back is a small part of what presses through the plate.
    through = case.line_loads[number] / case.plate.thickness
    return PatchResult(
        line_load=case.line_loads[number],
        half_width=value(lambda p: p.half_width),
        centre=Value(state.centre, _off(state, coarse.state)),
        peak_pressure=value(lambda p: p.peak_pressure),
        tangential_load=friction_force,
        motion=state.motion,
        zones=_along(state),
        plate=plate,
        back=both.value(lambda r: r.patches[number].back, FLOOR * through),
        deflection=value(lambda p: p.deflection),
        reactions=state.reactions,
        reaction_uncertainties=_reaction_uncertainties(
            case, number, state, coarse.state, friction_force.uncertainty
        ),
    )  # fmt: skip


def _added_hoop(case: Case, both: Levels) -> Value:
    """What bending adds in the middle of the first patch.

    Friction makes the stress along the surface fall by 2μ p0 per half-width there (Johnson, Contact
    Mechanics, 1985, section 7.1: from memory, not seen), so it is no surer than the middle is.
    """
    added = beside_contact(both, lambda r: r.patch.member_added)
    fine = both.fine.reading.patch
    off = _off(fine.state, both.coarse.reading.patch.state) / fine.half_width
    slope = 2.0 * case.contact.friction * fine.peak_pressure
    return Value(added.value, added.uncertainty + slope * off)


def _off(fine: PatchState, coarse: PatchState) -> float:
    """Uncertainty of the middle of a patch, mm: a difference, no surer than the half-width is."""
    return max(abs(fine.centre - coarse.centre), FLOOR * fine.half_width)


def _reaction_uncertainties(
    case: Case, number: int, fine: PatchState, coarse: PatchState, friction_force: float
) -> tuple[float, float]:
    """Largest difference of the forces that hold a plate between two levels, and of the moments.

    They hold the tangential load too, and are no surer than that is, by ``friction_force``, at the
    lever of the thickness. Equilibrium alone fixes most others: those are sure to rounding.
    """
    pairs = list(zip(fine.reactions, coarse.reactions, strict=True))
    forces = [(a.along - b.along, a.across - b.across) for a, b in pairs]
    moments = [a.moment - b.moment for a, b in pairs]
    nil = ROUNDING * case.line_loads[number]
    return (
        max(float(np.abs(forces).max()), friction_force, nil),
        max(
            float(np.abs(moments).max()),
            friction_force * case.plate.thickness,
            nil * case.plate.width,
        ),
    )


def _along(state: PatchState) -> tuple[Along, ...]:
    """What the parts of a patch do, from left to right."""
    if state.motion == "no friction":
        return ()
    ends = (state.centre - state.half_width, *borders(state), state.centre + state.half_width)
    return tuple(
        Along("stick" if regime == STICK else "slip", start, end)
        for (regime, _, _), start, end in zip(state.parts, ends, ends[1:], strict=False)
    )


def _infill(both: Levels) -> InfillResult:
    def value(of: Callable[[Filling], float]) -> Value:
        def read(reading: Reading) -> float:
            assert reading.filling is not None
            return of(reading.filling)

        return both.value(read)

    return InfillResult(
        value(lambda f: f.tension),
        value(lambda f: f.compression),
        value(lambda f: f.bond_tension),
        value(lambda f: f.bond_shear),
    )


def _pair(both: Levels, of: Callable[[Reading], tuple[float, float] | None]) -> tuple[Value, Value]:
    """Two stresses that every reading of the section has."""

    def one(number: int) -> Value:
        def read(reading: Reading) -> float:
            stresses = of(reading)
            assert stresses is not None
            return stresses[number]

        return beside_contact(both, read)

    return one(0), one(1)


def _body(
    case: Case,
    bodies: Bodies,
    both: Levels,
    levels: list[Level],
    steel: Material,
    peaks: Peaks,
    shear: Callable[[Reading], float],
    shakedown_line_load: float,
    bonded: bool = False,
) -> BodyResult:
    """A body against yield, with the line load at which it first yields."""
    scale, slips = both.fine.level.scale, slipping(both.fine.reading)
    fine, coarse = peaks(both.fine.reading), peaks(both.coarse.reading)
    peak, allowed = fine[0], steel.yield_strength / case.yield_margin
    margin = numerical_uncertainty(
        peak.von_mises, coarse[0].von_mises, scale, slips, at_surface(case, peak.von_mises)
    )
    least = beside_peak(peak.von_mises, bonded)
    load = uncertainty = None
    yields_at = first_yield(bodies, levels, both.fine.reading, steel, peaks)
    if yields_at is not None:
        uncertainty = uncertainty_of(bodies, both, yields_at, peaks)
        load = None if uncertainty is None else yields_at.line_load
    return BodyResult(
        material=steel,
        peak=peak,
        uncertainty=margin,
        places=fine,
        uncertainties=(
            margin,
            *(_uncertainty(place, coarse, scale, slips, least) for place in fine[1:]),
        ),
        max_shear=both.value(shear, at_surface(case, shear(both.fine.reading))),
        utilisation=peak.von_mises / allowed,
        satisfied=peak.von_mises + margin <= allowed,
        first_yield_line_load=load,
        first_yield_uncertainty=uncertainty,
        shakedown_line_load=shakedown_line_load,
    )


def _uncertainty(
    place: Peak, coarse: tuple[Peak, ...], scale: float, slips: bool, least: float
) -> float:
    """Uncertainty of the peak of a zone, whose name may differ where contact and its edge vie."""
    zone = EDGES.get(place.zone, place.zone)
    same = next(p for p in coarse if EDGES.get(p.zone, p.zone) == zone)
    return numerical_uncertainty(place.von_mises, same.von_mises, scale, slips, least)
