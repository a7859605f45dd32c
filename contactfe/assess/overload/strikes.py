"""A section struck beyond first yield on one mesh level: loaded, released, and struck again."""

from dataclasses import dataclass, replace

import numpy as np

from contactfe.assess.bodies import Bodies
from contactfe.assess.level import Level, build
from contactfe.assess.limits import LARGEST_DISPLACEMENT, give, widest_patch
from contactfe.assess.overload.result import Ended
from contactfe.assess.reading import Reading, read
from contactfe.case import Case, Material, Section
from contactfe.errors import SolveError
from contactfe.section.grading import Patch
from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.joint import join
from contactfe.solve.plasticity import Plastic
from contactfe.solve.strike import StrikeState, Striking, at_rest, path
from contactfe.solve.yielding import at_points, yielding_body

STEP = 0.125
"""Longest step of load while steel yields, over the load at first yield, on the standard mesh; it
is longer in proportion on a coarser one, so that the uncertainty counts the steps too. Half of it
moves dents by up to 1 % where steel flows round the edges of contact, by 0.1 % where it does not.
"""

UNLOADING = 8
"""Steps of an unloading."""

SHIFTS = (0.5, 1.0, 2.0)
"""How far beside the first strike the second ones are, in its half-widths."""

AGAIN = 2
"""Steps of a second strike."""

GROWS, MESHED = 0.72, 0.75
"""Power by which the half-width grows with the load beyond first yield, at most, and the share of
the largest that a mesh is made for: at three times that load it is 2.2 of the first one's."""

REACH, DEEP = 3.0, 1.6
"""Half-widths under the largest load within which a dent is read, and down to which elements stay
small: at three times the load at first yield the plastic zone of a solid bar is 2.4 deep."""

LARGEST_STRAIN = 0.05
"""Largest plastic strain that counts as small: a choice made here."""


@dataclass(frozen=True)
class Again:
    """A second strike with the same load, ``shift`` half-widths along the plate from the first."""

    shift: float
    before: StrikeState
    after: StrikeState


@dataclass(frozen=True)
class Struck:
    """A strike: ``loaded`` to its line load, the states on the way down, the last at no load, and
    strikes after it; None where the plate has no room for one.
    """

    loaded: StrikeState
    unloading: tuple[StrikeState, ...]
    again: tuple[Again | None, ...]

    @property
    def released(self) -> StrikeState:
        """Post and plate after it."""
        return self.unloading[-1]


@dataclass(frozen=True)
class Followed:
    """All strikes of a section on one level.

    ``loading`` are the states of the one path that they are all on; ``ended`` says why it ends
    before the largest load, empty where it does not.
    """

    level: Level
    striking: Striking
    loading: tuple[StrikeState, ...]
    struck: tuple[Struck, ...]
    ended: Ended


def follow(
    case: Case,
    section: Section,
    bodies: Bodies,
    at_yield: Patch,
    first: float,
    loads: tuple[float, ...],
    scale: float,
) -> Followed:
    """Load a section to each of rising line ``loads``, N/mm, and unload it from each.

    ``first`` N/mm is the line load at first yield and ``at_yield`` the patch under it. Raises
    SolveError where there is no solution up to the first of the loads.
    """
    level = level_for(case, section, bodies, at_yield, loads[-1] / first, scale)
    striking = striking_of(level)
    states, struck = [at_rest(striking)], list[Struck]()
    ended: Ended = ""
    # Curves begin smoothly: elastic steps cost little.
    goals = [*(share * first for share in (0.25, 0.5, 0.75, 1.0)), *loads]
    for goal in sorted({g for g in goals if g <= loads[-1]}):
        try:
            for state in path(striking, states[-1], goal, scale * STEP * first, first):
                ended = _beyond(level, state)
                if ended:
                    break
                states.append(state)
        except SolveError:
            ended = _stuck(states)
        if ended:
            break
        if goal in loads:
            struck.append(_released(level, striking, states[-1], first))
    if not struck and not ended:
        raise SolveError("no strike was solved")
    return Followed(level, striking, tuple(states), tuple(struck), ended)


def level_for(
    case: Case, section: Section, bodies: Bodies, at_yield: Patch, most: float, scale: float
) -> Level:
    """A level whose mesh serves every load up to ``most`` times that at first yield, whose patch is
    ``at_yield``.
    """
    widest = max(most, 1.0) ** GROWS
    patch = Patch(
        at_yield.centre * (1.0 + most) / 2.0,
        at_yield.half_width * widest * MESHED,
        reach=REACH / MESHED,
        yields=DEEP / MESHED,
        later=max(SHIFTS) / MESHED,
    )
    return build(case, bodies, section, (patch,), scale)


def striking_of(level: Level) -> Striking:
    """Post and plate of a level as bodies that yield, with what is beside the plane."""
    case, section, joint = level.case, level.section, level.joint
    reading = read(level)
    post = yielding_body(joint.member, _steel(case.post_material(section)))
    nodal = _beside(reading) / case.line_loads[0]
    post = replace(post, beside=at_points(nodal, post.nodes))
    plate = yielding_body(joint.plates[0], _steel(case.plate_material))
    return Striking(joint, (post, plate))


def _steel(of: Material) -> Plastic:
    elastic = Elastic(of.young, of.poisson)
    return Plastic(elastic, of.yield_strength, of.hardening, of.hardening_kind)


def _beside(reading: Reading) -> Floats:
    """Stress (N, 6) MPa that bending of the post, and the neighbours of the slice, add to it.

    Where the post is stressed most along its length.
    """
    whole, own = reading.post.field.stress, reading.slice.field.stress
    added = np.zeros((len(whole), 6))
    added[:, : whole.shape[1]] = whole
    added[:, : own.shape[1]] -= own
    return added


def _released(level: Level, striking: Striking, loaded: StrikeState, first: float) -> Struck:
    down = tuple(path(striking, loaded, 0.0, loaded.line_load / UNLOADING, first))
    again = [_again(level, striking, loaded, down[-1], first, shift) for shift in SHIFTS]
    return Struck(loaded, down, tuple(again))


def _again(
    level: Level,
    striking: Striking,
    loaded: StrikeState,
    released: StrikeState,
    first: float,
    shift: float,
) -> Again | None:
    """A strike beside one that has been; None where it has no room, or no equilibrium is found."""
    post, plate = striking.joint.member, striking.joint.plates[0]
    moved = shift * loaded.half_width
    try:
        joint = join(post, plate, radius=level.outline.radius, moved=moved)
        beside = Striking(joint, striking.bodies)
        before = replace(released, approach=0.0, work=0.0, dissipated=0.0)
        *_, after = path(beside, before, loaded.line_load, loaded.line_load / AGAIN, first)
    except SolveError:
        return None
    return Again(shift, before, after)


def _beyond(level: Level, state: StrikeState) -> Ended:
    """What of the small-strain model a state is beyond; empty if nothing."""
    case, section = level.case, level.section
    strain = max(float(body.plastic.equivalent.max()) for body in state.bodies)
    if strain > LARGEST_STRAIN:
        return "plastic strain"
    if state.half_width > widest_patch(case, section):
        return "half-width"
    if give(case, 0, state.approach, state.line_load) > LARGEST_DISPLACEMENT * section.radius:
        return "displacement"
    return ""


def _stuck(states: list[StrikeState]) -> Ended:
    """Why no equilibrium is found: collapse where the stiffness has nearly gone."""
    if len(states) < 3:
        return "no solution"
    (a, b), start = states[-2:], states[1]
    slope = (b.line_load - a.line_load) / (b.approach - a.approach)
    return "collapse" if slope < COLLAPSED * start.line_load / start.approach else "no solution"


COLLAPSED = 0.2
"""Stiffness over the elastic one below which a path that goes no further ends in collapse."""
