"""How the force is shared along the contact: the post bends, and the plate may stand at a tilt.

The post is a cantilever on the force–approach curve of its section, which each slice follows for
itself. A plate that stands straight gives way by its contact, its bending and its elastic supports;
a post that bends by more than that touches it near one end, and there the line load peaks. Sections
are checked with that peak, and beside it with a bending moment of the post: that at the peak, or
with which the post is stressed as where more bending meets less line load, if that is worse for it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq, minimize_scalar

from contactfe.assess.accuracy import COARSE, expected_patches
from contactfe.assess.beam import axial_stress, beam_of
from contactfe.assess.bodies import Bodies
from contactfe.assess.follow import force_approach
from contactfe.assess.level import build, read
from contactfe.assess.limits import widest_patch
from contactfe.assess.results import Doubling, LengthResult, Pair, Tried
from contactfe.case import Case, Section
from contactfe.case.alignment import Spread
from contactfe.errors import InputError
from contactfe.hand import hertz
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import Beam, Pressed, influence, press

POINTS = 60
"""Points of the force–approach curve that the law of a slice runs through."""

STEEPEST = 0.1
"""Tilt, rad, up to which the tilt that doubles the peak is looked for: beyond, it is not small."""

_FIRST_ROOM = 1.4  # the first law ends that much above the mean line load
_ROOM = 1.1  # and one for a peak that much above it, so that it need not be found again
_MOST_LAWS = 8
_LIGHT = 0.1  # of the peak: under less line load the root, which is checked by hand, is worse
_PLACES = 4  # steps along the contact, where a smaller load with more bending may be worse
_NEAR = 1e-3  # of the moments between which that to check with is sought


@dataclass(frozen=True)
class _Post:
    """What is pressed: lengths in mm from the root, force in N."""

    beam: Beam
    force: float
    length: float
    contact_length: float

    def pressed(self, law: ForceApproach, tilt: float) -> Pressed:
        return press(self.beam, law, self.force, self.length, self.contact_length, tilt)

    def peak(self, law: ForceApproach, tilt: float) -> float:
        return float(self.pressed(law, tilt).line_load.max())


@dataclass(frozen=True)
class _Found:
    """A section pressed at every tilt to be tried: the law, and what each comes to."""

    post: _Post
    law: ForceApproach
    tried: tuple[tuple[float, Pressed], ...]
    most: float  # N/mm, the largest line load that the model allows

    @property
    def worst(self) -> tuple[float, Pressed]:
        return max(self.tried, key=lambda pair: float(pair[1].line_load.max()))


def loaded(case: Case, section: Section, bodies: Bodies) -> Case:
    """The case as one section meets it: with its peak line load and a bending moment beside it.

    The case itself where it does not state how the post meets the plate along its axis. Raises
    InputError where a peak is beyond the range of the model, and what :func:`.follow_load` raises.
    """
    if case.alignment is None:
        return case
    found = _found(case, section, bodies)
    spread, _ = _spread(case, section, bodies, found)
    return replace(case, spread=spread)


def along_the_length(case: Case, section: Section, bodies: Bodies) -> tuple[Case, LengthResult]:
    """The same with how the force is shared, and the tilts that even it out or double its peak.

    The case must state [alignment]. Raises what :func:`loaded` raises.
    """
    found = _found(case, section, bodies)
    spread, pair = _spread(case, section, bodies, found)
    tilt, worst = found.worst
    post = found.post
    even, doubling, rigid = _outlook(case, section, bodies, found)
    middle = float(np.interp(post.length, worst.z, worst.slope))
    peak = worst.peak
    at = replace(case, spread=spread)
    young = case.post_material(section).young
    return at, LengthResult(
        mean=case.line_load,
        tilt=tilt,
        tried=tuple(Tried(at, float(p.line_load.max())) for at, p in found.tried),
        z=tuple(worst.z.tolist()),
        line_load=tuple(worst.line_load.tolist()),
        deflection=tuple(worst.deflection.tolist()),
        approach=tuple(worst.approach.tolist()),
        place=float(worst.z[peak]),
        moment=float(worst.moment[peak]),
        moment_used=spread.moment,
        worst_pair=pair,
        axial=float(axial_stress(at, section, young, 0.0)),
        slope=middle,
        parted=worst.parted,
        lever=worst.lever,
        root_lever=spread.lever,
        even=even,
        doubling=doubling,
        rigid_peak=rigid,
        bending=post.beam.bending,
        shear=post.beam.shear,
        balance=worst.residual,
    )


def _found(case: Case, section: Section, bodies: Bodies) -> _Found:
    """Press at every tilt, with a law that reaches the largest peak.

    A law that ends below it is extended by its last tangent, which is near enough, as the law is
    all but linear, to say where the next one must end.
    """
    assert case.alignment is not None
    assert case.cantilever is not None
    assert case.contact_length is not None
    c = case.contact_length
    post = _Post(beam_of(case, section), case.line_load * c, case.cantilever.length, c)
    most = _most(case, section)
    law = _law(case, section, bodies, case.line_load, _FIRST_ROOM)
    for _ in range(_MOST_LAWS):
        tried = tuple((tilt, post.pressed(law, tilt)) for tilt in case.alignment.tilts)
        found = _Found(post, law, tried, most)
        worst = float(found.worst[1].line_load.max())
        if worst <= law.largest_load:
            return found
        if worst > most:
            raise _beyond(case, section, found)
        law = _law(case, section, bodies, worst, _ROOM)
    raise InputError(f"{_where(case, section)} the peak of the line load could not be bracketed")


def _law(case: Case, section: Section, bodies: Bodies, load: float, room: float) -> ForceApproach:
    """The force–approach curve on the mesh for a line load, up to ``room`` times it if it can be.

    On the coarse mesh: with the standard one peaks were within 0.02 % of its (measured, two plates,
    a solid and a tube, even, parted and at the tip).
    """
    at = replace(case, spread=Spread(load / case.line_load, 0.0, 0.0))
    try:
        curve = force_approach(at, section, bodies, room, POINTS, COARSE)
    except InputError:  # of what lies beyond the load, or else of the load itself
        curve = force_approach(at, section, bodies, 1.0, POINTS, COARSE)
    return replace(curve, past_end="tangent")


def _most(case: Case, section: Section) -> float:
    """Largest line load, N/mm, whose patch the model allows, by Hertz."""
    post, plate = case.post_material(section), case.plate_material
    E_star = hertz.contact_modulus(post.young, post.poisson, plate.young, plate.poisson, case.state)
    a = float(hertz.half_width.plain(case.line_load, section.radius, E_star))
    return case.line_load * (widest_patch(case, section) / a) ** 2


def _spread(
    case: Case, section: Section, bodies: Bodies, found: _Found
) -> tuple[Spread, Pair | None]:
    """Peak, moment and lever that the section is checked with, and the pair the moment stands for.

    The lever is the greatest of the tilts tried, and not less than that of an even load. No pair
    where the moment is that at the peak.
    """
    _, worst = found.worst
    ratio = float(worst.line_load.max()) / case.line_load
    lever = max(found.post.length, *(pressed.lever for _, pressed in found.tried))
    spread = Spread(ratio, float(worst.moment[worst.peak]), lever)
    pairs = _pairs(found, spread.moment)
    if not pairs:
        return spread, None
    at = replace(case, spread=spread)
    level = build(at, bodies, section, expected_patches(at, section), COARSE)

    def stress(line_load: float, moment: float) -> float:
        there = replace(spread, peak_ratio=line_load / case.line_load, moment=moment)
        reading = read(replace(level, case=replace(case, spread=there)))
        return reading.member_peaks[0].von_mises

    moment, pair = _moment(float(worst.line_load.max()), spread.moment, pairs, stress)
    return replace(spread, moment=moment), pair


def _pairs(found: _Found, least: float) -> tuple[Pair, ...]:
    """Line loads and moments that may stress the post more than the peak with its ``least``.

    Nearer the root, or at another tilt, less line load meets more bending. Those of every tilt, at
    its own peak and at places from end to end of what bears a good part of the peak, in equal steps
    so that they move little as the post changes little. Left out are those of which another has
    both more line load and more moment: at the impacted face, more of either is worse.
    """
    light = _LIGHT * float(found.worst[1].line_load.max())
    pairs = []
    for tilt, pressed in found.tried:
        z = pressed.z
        bearing = np.flatnonzero(pressed.line_load >= light)
        if not len(bearing):
            continue
        ends = (_reach(pressed, bearing[0], -1, light), _reach(pressed, bearing[-1], 1, light))
        for place in (*np.linspace(*ends, _PLACES + 1), z[pressed.peak]):
            load, moment = (np.interp(place, z, of) for of in (pressed.line_load, pressed.moment))
            pairs.append(Pair(tilt, float(place), float(load), float(moment)))
    front: list[Pair] = []
    most = least
    for pair in sorted(pairs, key=lambda pair: (-pair.line_load, -pair.moment)):
        if pair.moment > most * (1.0 + 1e-6):
            front.append(pair)
            most = pair.moment
    return tuple(front)


def _reach(pressed: Pressed, last: int, step: int, load: float) -> float:
    """How far, mm, the line load is at least ``load``: from its last point that way to the next."""
    z, q = pressed.z, pressed.line_load
    if not 0 <= last + step < len(z):
        return float(z[last])
    share = (q[last] - load) / (q[last] - q[last + step])
    return float(z[last] + share * (z[last + step] - z[last]))


def _moment(
    peak: float, own: float, pairs: Sequence[Pair], stress: Callable[[float, float], float]
) -> tuple[float, Pair | None]:
    """The moment, N mm, to check the section with beside the ``peak`` line load, N/mm.

    The plate needs the peak, and the post the worst of the pairs of line load and moment that do
    occur. So where none of ``pairs`` stresses the post more than the peak with its ``own`` moment,
    that is it; else one with which the peak stresses the post as the worst pair does, or that
    pair's own where even that is not enough, and the pair. So the stress of the post is that of the
    worst pair, and changes no faster than it from one section to the next. ``stress``, MPa, of line
    load and moment: the largest von Mises stress of the post.
    """
    at_peak = stress(peak, own)
    stressed = [(stress(pair.line_load, pair.moment), pair) for pair in pairs]
    worst, pair = max(stressed, key=lambda one: one[0])
    if worst <= at_peak:
        return own, None
    beside = stress(peak, pair.moment)
    if beside <= worst:
        return pair.moment, pair
    known = {own: at_peak, pair.moment: beside}

    def excess(moment: float) -> float:
        return (known[moment] if moment in known else stress(peak, moment)) - worst

    # von Mises stress is convex in the moment, so there is one crossing
    tolerance = _NEAR * (pair.moment - own)
    return float(brentq(excess, own, pair.moment, xtol=tolerance)), pair


def _outlook(
    case: Case, section: Section, bodies: Bodies, found: _Found
) -> tuple[Tried, tuple[Doubling, Doubling], float]:
    """The tilt of the least peak, the tilts that double the peak of none, and the rigid peak."""
    post, law = found.post, found.law
    even = _even(post, law)
    rigid = _Post(Beam(np.inf, np.inf), post.force, post.length, post.contact_length)
    rigid_peak = rigid.peak(law, found.worst[0])
    twice = 2.0 * post.peak(law, 0.0)
    units = case.display.line_load
    why = f"a peak of {units.text(twice)} is beyond the range of the model"
    beyond = Doubling(None, why), Doubling(None, why)
    if twice > found.most:
        return even, beyond, rigid_peak
    if twice > law.largest_load:
        try:
            law = _law(case, section, bodies, twice, _ROOM)
        except InputError:  # the displacement is not small
            return even, beyond, rigid_peak
        twice = 2.0 * post.peak(law, 0.0)

    def excess(tilt: float) -> float:
        return post.peak(law, tilt) / twice - 1.0

    return even, (_crossing(excess, -1.0), _crossing(excess, 1.0)), rigid_peak


def _crossing(excess: Callable[[float], float], side: float) -> Doubling:
    """Where the excess turns positive to one side of no tilt, where it is negative."""
    low, high = 0.0, 1e-4
    while excess(side * high) < 0.0:
        if high >= STEEPEST:
            return Doubling(None, f"no tilt up to {STEEPEST:g} rad doubles it")
        low, high = high, min(2.0 * high, STEEPEST)
    return Doubling(side * float(brentq(lambda t: excess(side * t), low, high, rtol=1e-4)))


def _even(post: _Post, law: ForceApproach) -> Tried:
    """The tilt of the least peak: near the slope of the post under an even load."""
    c = post.contact_length
    z = np.linspace(post.length - c / 2.0, post.length + c / 2.0, 101)
    evenly = influence(post.beam, z, z).mean(axis=1) * post.force
    slope = float(evenly[-1] - evenly[0]) / c
    least = minimize_scalar(
        lambda t: post.peak(law, t), bounds=(0.5 * slope, 1.5 * slope), method="bounded",
        options={"xatol": 1e-4 * slope},
    )  # fmt: skip
    return Tried(float(least.x), float(least.fun))


def _where(case: Case, section: Section) -> str:
    assert case.alignment is not None
    table = "[cantilever]: [alignment] is not stated" if case.alignment.assumed else "[alignment]"
    return f"{case.source}: {table}: section {section.name!r}:"


def _beyond(case: Case, section: Section, found: _Found) -> InputError:
    """A peak whose patch would be too wide, with the tilt that would even the load out."""
    tilt, worst = found.worst
    units = case.display
    peak = float(worst.line_load.max())
    even = _even(found.post, found.law)
    return InputError(
        f"{_where(case, section)} at a tilt of {units.angle.text(tilt)} the line load would peak at"
        f" {units.line_load.text(peak)}, {peak / case.line_load:.3g} times the mean,"
        f" {units.length.text(float(worst.z[worst.peak]))} from the root; the patch allows about"
        f" {units.line_load.text(found.most)}. It is least, {units.line_load.text(even.peak)}, at a"
        f" tilt of {units.angle.text(even.tilt)}. Allowed: a tilt in [alignment], or distribution ="
        ' "even" in [load] where something else keeps the load even'
    )
