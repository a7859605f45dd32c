"""The contact of a section and, in series, its post: as a curve, and as the law of an impact.

The post bends along its axis as a cantilever, mostly by more than its contact comes together. A
plate that stands straight is met nearer the root than by an even load, and there the post is
stiffer, so an even load would make an impact too soft.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from contactfe.assess.along import PostAlong, posts_along
from contactfe.assess.beam import bends
from contactfe.assess.bodies import Bodies
from contactfe.assess.follow import follow_load, times_allowed
from contactfe.case import Case, Section
from contactfe.errors import InputError, SolveError
from contactfe.impact.motion import Impact
from contactfe.impact.outcome import Outcome, outcome
from contactfe.impact.response import integrate
from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import Pressed

_POINTS = 50
"""Forces that a post is pressed with; with 100 the displacements changed by 2e-5."""

_CURVES = 6
"""Curves that are tried for one section, each going further."""

_FURTHER = 1.15
"""Load of the next curve over the force that the impact came to with the last one."""


@dataclass(frozen=True)
class InSeries:
    """Mean line load over the displacement of the floor from its first touch of the plate.

    ``curve`` has that displacement as its approach; at its points ``peak`` (n,) is the largest line
    load, N/mm, and ``bending`` (n,) the deflection of the post in the middle of its contact, mm.
    ``tilt``, rad, is that of the plate.
    """

    curve: ForceApproach
    peak: Floats
    bending: Floats
    tilt: float = 0.0

    def peak_at(self, line_load: float) -> float:
        """Largest line load along the post, N/mm, at a mean one, N/mm: beyond, in its ratio."""
        ratio = self.peak / self.curve.line_load
        return line_load * float(np.interp(line_load, self.curve.line_load, ratio))

    def bending_at(self, displacement: float) -> float:
        """Deflection of the post, mm, at a displacement, mm; beyond the curve that at its end."""
        return float(np.interp(displacement, [0.0, *self.curve.approach], [0.0, *self.bending]))

    def law_up_to(self, peak: float, length: float) -> ForceApproach:
        """The law of an impact over a ``length``, mm, up to a largest line load, N/mm."""
        end = self.curve.approach_at(np.interp(peak, self.peak, self.curve.line_load))
        return self.curve.law_up_to(float(end), length)


def tilts(case: Case, section: Section) -> tuple[float, ...]:
    """Tilts of the plate, rad, that the post may be pressed at: a straight one unless stated."""
    return case.alignment.tilts if case.alignment and bends(case, section) else (0.0,)


def in_series(
    case: Case, section: Section, bodies: Bodies, curve: ForceApproach, tilt: float = 0.0
) -> InSeries:
    """The force–approach curve of a section with the bending of its post, where the case states it.

    The displacement is that of :func:`.press` against a plate at a ``tilt`` in rad, counted from
    the first touch. The curve ends where the mean line load is that of the curve's end; slices
    under more, as ``peak`` gives, follow the curve's last tangent. Where the post may end with its
    contact or go on, it is the stiffer of the two.

    Raises SolveError where the forces along the post do not come into balance.
    """
    if not bends(case, section):
        alone, nil = over_its_length(case, section, bodies, curve), np.zeros_like(curve.line_load)
        return InSeries(alone, alone.line_load, nil, tilt)
    posts, law = posts_along(case, section, bodies, bent=True), replace(curve, past_end="tangent")
    every = [_series_of(post, law, tilt) for post in posts]
    return min(every, key=lambda series: series.curve.end)


def over_its_length(
    case: Case, section: Section, bodies: Bodies, curve: ForceApproach
) -> ForceApproach:
    """The curve of a slice as that of a contact of its own length, at the same line loads.

    The mean line load over the approach of a straight post that does not bend along its axis, of
    whose slices the neighbours hold one another's rings back: of the posts that it may be, the
    stiffer. The curve itself where the length is not stated, in plane stress, or in a corner.
    """
    if not case.finite or case.corner is not None:
        return curve
    law, loads = replace(curve, past_end="tangent"), _some(curve.line_load)
    found = []
    for post in posts_along(case, section, bodies, bent=False):
        pressed = [post.pressed(law, float(q) * post.contact_length, 0.0) for q in loads]
        approach = np.array([_displacement(one, 0.0, post.length) for one in pressed])
        found.append(ForceApproach.through(loads, approach, curve.line_load))
    return min(found, key=lambda one: one.end)


def _some(loads: Floats) -> Floats:
    """Some of the loads of a curve, the first and the last among them."""
    number = np.linspace(0, len(loads) - 1, min(_POINTS // 2, len(loads))).round().astype(int)
    kept: Floats = loads[number]
    return kept


def _series_of(post: PostAlong, law: ForceApproach, tilt: float) -> InSeries:
    c, length = post.contact_length, post.length
    loads = law.largest_load * (np.arange(1, _POINTS + 1) / _POINTS) ** 2
    found = [post.pressed(law, float(q) * c, tilt) for q in loads]
    first_touch = abs(tilt) * c / 2.0
    displacement = np.array([_displacement(one, tilt, length) + first_touch for one in found])
    return InSeries(
        ForceApproach.through(loads, displacement, loads),
        np.array([one.line_load.max() for one in found]),
        np.array([np.interp(length, one.z, one.deflection) for one in found]),
        tilt,
    )


def _displacement(pressed: Pressed, tilt: float, length: float) -> float:
    """Displacement of the plate's face against the root in the middle of the contact, mm."""
    face = pressed.approach[0] + pressed.deflection[0]
    return float(face - tilt * (pressed.z[0] - length))


@dataclass(frozen=True)
class Solved:
    """A solved curve in series with the post, at each tilt.

    ``allowed`` N/mm is the largest line load along the post up to which the model holds; ``whole``
    says whether that is all of the curve.
    """

    series: tuple[InSeries, ...]
    allowed: float
    whole: bool


def solved_about(
    case: Case, section: Section, bodies: Bodies, load: float, at: tuple[float, ...]
) -> Solved:
    """The curve of a section about a ``load``, N/mm, in series with its post at tilts ``at``, rad.

    Raises InputError if that is beyond the range of the model.
    """
    followed = follow_load(case.loaded(load), section, bodies)
    curve, allowed = followed.curve, times_allowed(followed)
    whole = allowed >= followed.most
    series = tuple(in_series(case, section, bodies, curve, tilt) for tilt in at)
    return Solved(series, curve.largest_load if whole else allowed * load, whole)


def far_enough(
    case: Case,
    section: Section,
    bodies: Bodies,
    solved: Solved,
    impact: Callable[[ForceApproach], Impact],
) -> tuple[Solved, list[Outcome]]:
    """The outcome of an ``impact`` at each tilt, on a law that goes as far as the impact does.

    That is ``solved`` over the length of the contact, or a curve that goes further. Raises
    SolveError where the impact goes past the range of the model.
    """
    assert case.contact_length is not None  # the tables say so
    at = tuple(one.tilt for one in solved.series)
    for _ in range(_CURVES):
        laws = [one.law_up_to(solved.allowed, case.contact_length) for one in solved.series]
        found = [outcome(integrate(impact(law))) for law in laws]
        short = [
            (one, reached.peak_contact_force.value / case.contact_length)
            for one, law, reached in zip(solved.series, laws, found, strict=True)
            if reached.peak_approach.value > law.end
        ]
        if not short:
            return solved, found
        times = max(line_load for _, line_load in short) / case.line_load
        if not solved.whole:
            raise SolveError(_past_the_model(times))
        load = _FURTHER * max(one.peak_at(line_load) for one, line_load in short)
        try:
            solved = solved_about(case, section, bodies, load, at)
        except InputError:
            raise SolveError(_past_the_model(times)) from None
    raise SolveError(f"no force–approach curve of {_CURVES} went as far as the impact")


def _past_the_model(times: float) -> str:
    return (
        f"the impact comes to {times:.3g} times the force of [load] or so, where the patch or the"
        " displacement is no longer small, as the model of this section needs; a softer bumper,"
        " a longer contact or another section is needed"
    )
