"""One section, from mesh to verdict: solved on mesh levels, held against yield and formulas."""

from dataclasses import replace

import numpy as np

from contactfe.assess.accuracy import ROUNDING, Levels, peaks_of, solve_levels
from contactfe.assess.along import length_result, loaded, share_of
from contactfe.assess.beam import axial_stress
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.by_hand.record import SectionByHand
from contactfe.assess.check_list import solved_checks
from contactfe.assess.finite import relief_along
from contactfe.assess.first_yield import yield_loads
from contactfe.assess.handchecks import hand_checks
from contactfe.assess.reading import borders
from contactfe.assess.readout import Readout, read_out
from contactfe.assess.results import (
    Along,
    BodyResult,
    MeshLevel,
    OfReaction,
    PatchResult,
    SectionResult,
)
from contactfe.assess.value import BODIES, BodyName, key_of
from contactfe.case import Case, Section
from contactfe.solve.friction import STICK
from contactfe.solve.joint import PatchState


def assess_section(case: Case, section: Section, bodies: Bodies) -> SectionResult:
    """Solve and check one section of a case, at the peak of its line load along the post.

    Raises what ``solve_levels`` and ``loaded`` raise.
    """
    shared = None if case.alignment is None else share_of(case, section, bodies)
    case = loaded(case, section, bodies, shared)
    levels = solve_levels(case, section, bodies)
    best, read = levels.fine.reading, read_out(levels)
    strip, length, axial = best.post.strip, None, 0.0
    if strip is not None and strip.moment != 0.0:
        young = case.post_material(section).young
        axial = float(axial_stress(case, section, young, strip.moment, 0.0))
    if shared is not None and strip is not None:
        length = length_result(case, section, bodies, shared, strip)
    read = replace(read, values={**read.values, **yield_loads(bodies, levels)})
    found = section_by_hand(case, section, tuple(patch.state.centre for patch in best.patches))
    result = SectionResult(
        section=section,
        values=read.values,
        patches=tuple(
            _patch(case, levels, read, found, section, number)
            for number in range(len(best.patches))
        ),
        member=_body(case, read, found, section, "post"),
        mass_per_length=case.mass_per_length(section, *bodies.areas(section)),
        hand_checks=(),
        by_hand=found,
        levels=mesh_levels(levels),
        stopped=levels.stopped,
        remeshed=levels.meshes - len(levels.solved),
        solve_seconds=levels.fine.level.build_seconds + best.solve_seconds,
        reading=best,
        length=length,
        relief=relief_along(levels.fine),
        axial_stress=axial,
    )
    result = replace(result, hand_checks=hand_checks(case, result))
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
    case: Case, levels: Levels, read: Readout, found: SectionByHand, section: Section, number: int
) -> PatchResult:
    """One patch, with its plate."""
    fine, coarse = (s.reading.patches[number].state for s in (levels.fine, levels.coarse))
    friction = read.values[key_of("tangential_load", number)].uncertainty
    return PatchResult(
        values=read.values,
        number=number,
        line_load=case.line_loads[number],
        motion=fine.motion,
        zones=_along(fine),
        plate=_body(case, read, found, section, BODIES[number + 1]),
        reactions=fine.reactions,
        reaction_uncertainty=_reaction_uncertainties(case, number, fine, coarse, friction),
    )


def _body(
    case: Case, read: Readout, found: SectionByHand, section: Section, name: BodyName
) -> BodyResult:
    """A body with its steel, and what the hand formula for repeated strikes gives for it."""
    post, number = name == "post", BODIES.index(name) - 1
    steel = case.post_material(section) if post else case.plate_material
    key = "" if post else key_of("_plate", number)
    zones = read.zones["post_peak" if post else key_of("plate_peak", number)]
    return BodyResult(read.values, name, steel, zones, found.value(f"shakedown_line_load{key}"))


def _reaction_uncertainties(
    case: Case, number: int, fine: PatchState, coarse: PatchState, friction: float
) -> OfReaction:
    """Largest difference of the forces that hold a plate between two levels, and of the moments.

    They hold the tangential load too, and are no surer than that is, by ``friction``, at the
    lever of the thickness. Equilibrium alone fixes most others: those are sure to rounding.
    """
    pairs = list(zip(fine.reactions, coarse.reactions, strict=True))
    forces = [(a.along - b.along, a.across - b.across) for a, b in pairs]
    moments = [a.moment - b.moment for a, b in pairs]
    nil = ROUNDING * case.line_loads[number]
    return OfReaction(
        max(float(np.abs(forces).max()), friction, nil),
        max(
            float(np.abs(moments).max()),
            friction * case.plate.thickness,
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
