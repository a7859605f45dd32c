"""How the force is shared along the contact: the post bends, and the plate may stand at a tilt.

The post is a cantilever on the force–approach curve of its section, which each slice follows for
itself. A plate that stands straight gives way by its contact, its bending and its elastic supports;
a post that bends by more than that touches it near one end, and there the line load peaks. Where
the post is known in three dimensions its neighbours hold a slice back, and the force is shared by
that as well. The plate is checked with the peak; the post where it is stressed most, with the line
load and the bending moment that meet there, as less line load may meet more bending.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq, minimize_scalar

from contactfe.assess.accuracy import COARSE
from contactfe.assess.beam import beam_of
from contactfe.assess.bodies import Bodies
from contactfe.assess.finite import (
    chosen,
    ends,
    even_spread,
    inset,
    stations,
)
from contactfe.assess.follow import force_approach
from contactfe.assess.limits import widest_patch
from contactfe.assess.results import Doubling, LengthResult, Pair, Tried
from contactfe.case import Case, Section
from contactfe.case.alignment import Profile, Spread, Strip
from contactfe.errors import InputError
from contactfe.hand import hertz
from contactfe.solve.bar import Bar
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import Beam, Pressed, influence, press

POINTS = 60
"""Points of the force–approach curve that the law of a slice runs through."""

STEEPEST = 0.1
"""Tilt, rad, up to which the tilt that doubles the peak is looked for: beyond, it is not small."""

_FIRST_ROOM = 1.4  # the first law ends that much above the mean line load
_ROOM = 1.1  # and one for a peak that much above it, so that it need not be found again
_MOST_LAWS = 8
_ALIKE = 0.01  # of the peak: a place that bears so little less counts as the peak
_LIGHT = 0.1  # of the peak: under less line load the root, which is checked by hand, is worse


@dataclass(frozen=True)
class PostAlong:
    """A post that is pressed along its contact: lengths in mm from the root.

    ``length`` is that to the middle of the contact, ``tip`` that to its end; ``bar`` is the post in
    three dimensions, where that is known.
    """

    beam: Beam
    length: float
    contact_length: float
    tip: float
    bar: Bar | None = None

    def pressed(self, law: ForceApproach, force: float, tilt: float) -> Pressed:
        """Pressed by a ``force`` in N, each slice by the law of its section as a slice."""
        stated = force, self.length, self.contact_length, tilt
        if self.bar is None:
            return press(self.beam, law, *stated)
        # The slice's own ring bending is in the influence of the post.
        alone = law.without(float(self.bar.prism.slices[0, 0]))
        return press(self.beam, alone, *stated, given=self.bar.influence)


def posts_along(case: Case, section: Section, bodies: Bodies, bent: bool) -> tuple[PostAlong, ...]:
    """The posts that a section may be, over the length of its contact.

    ``bent`` as the post is known to bend along its axis; else the contact alone.
    """
    c = case.contact_length
    assert c is not None
    beam = beam_of(case, section) if bent else Beam(np.inf, np.inf)
    if not case.finite:
        assert case.cantilever is not None  # of one that bends
        return (PostAlong(beam, case.cantilever.length, c, case.cantilever.length + c / 2.0),)
    return tuple(
        PostAlong(
            beam, post.middle, c, post.length,
            bodies.bar(section, COARSE, False, bent, post.length, post.start, post.end),
        )
        for post in ends(case, section)
    )  # fmt: skip


@dataclass(frozen=True)
class Shared:
    """A section pressed by a ``force``, N, at every tilt to be tried, of every post that it may be.

    ``most`` N/mm is the largest line load that the model allows.
    """

    law: ForceApproach
    force: float
    tried: tuple[tuple[float, PostAlong, Pressed], ...]
    most: float

    @property
    def worst(self) -> tuple[float, PostAlong, Pressed]:
        """That of the largest peak."""
        return max(self.tried, key=lambda one: float(one[2].line_load.max()))

    def peak(self, law: ForceApproach, tilt: float) -> float:
        """The largest line load, N/mm, at another tilt, of every post that it may be."""
        posts = (post for at, post, _ in self.tried if at == self.tried[0][0])
        return max(float(p.pressed(law, self.force, tilt).line_load.max()) for p in posts)


def loaded(case: Case, section: Section, bodies: Bodies, shared: Shared | None = None) -> Case:
    """The case as one section meets it: with its peak line load, and the strips of the post that
    may be stressed most.

    The case itself where it does not state the length of the contact. Raises InputError where a
    peak is beyond the range of the model, and what :func:`.follow_load` raises. ``shared`` is what
    :func:`share_of` finds, where that is known.
    """
    if case.alignment is None:
        if not case.finite:
            return case
        spread = even_spread(case, section)
    else:
        shared = share_of(case, section, bodies) if shared is None else shared
        spread = _spread(case, section, shared)
    return replace(case, spread=chosen(case, section, bodies, spread))


def length_result(
    case: Case, section: Section, bodies: Bodies, shared: Shared, strip: Strip
) -> LengthResult:
    """How the force is shared, and the tilts that even it out or double its peak.

    ``case`` is that as loaded, and ``strip`` where the post is stressed most.
    """
    tilt, post, worst = shared.worst
    spread = case.spread
    assert spread is not None
    even, doubling, rigid = _outlook(case, section, bodies, shared)
    middle = float(np.interp(post.length, worst.z, worst.slope))
    peak = worst.peak
    own = float(worst.moment[peak])
    pair, of = None, next(t for t, _, p in shared.tried if _meets(p, strip))
    at_peak = strip.ratios[0] >= (1.0 - _ALIKE) * spread.peak_ratio
    if not (at_peak and of == tilt):
        pair = Pair(of, strip.place, strip.ratios[0] * case.line_load, strip.moment)
    return LengthResult(
        mean_line_load=case.line_load,
        tilt=tilt,
        tried=_peaks(shared),
        z=tuple(worst.z.tolist()),
        line_load=tuple(worst.line_load.tolist()),
        deflection=tuple(worst.deflection.tolist()),
        approach=tuple(worst.approach.tolist()),
        peak_from_root=float(worst.z[peak]),
        moment_at_peak=own,
        moment_used=strip.moment,
        worst_pair=pair,
        slope=middle,
        parted_length=worst.parted,
        resultant_from_root=worst.lever,
        root_lever=spread.lever,
        evenest=even,
        doubling=doubling,
        rigid_peak=rigid,
        bending_stiffness=post.beam.bending,
        shear_stiffness=post.beam.shear,
        force_balance=worst.residual,
    )


def _peaks(shared: Shared) -> tuple[Tried, ...]:
    """The largest peak at every tilt."""
    peaks: dict[float, float] = {}
    for tilt, _, pressed in shared.tried:
        peaks[tilt] = max(peaks.get(tilt, 0.0), float(pressed.line_load.max()))
    return tuple(Tried(tilt, peak) for tilt, peak in peaks.items())


def _meets(pressed: Pressed, strip: Strip) -> bool:
    """Whether a strip is of a post as it was pressed."""
    return bool(np.isclose(np.interp(strip.place, pressed.z, pressed.moment), strip.moment))


def share_of(case: Case, section: Section, bodies: Bodies) -> Shared:
    """Press at every tilt, with a law that reaches the largest peak.

    The case must state [alignment]. A law that ends below it is extended by its last tangent, which
    is near enough, as the law is all but linear, to say where the next one must end.
    """
    assert case.alignment is not None
    assert case.contact_length is not None
    force = case.line_load * case.contact_length
    posts = posts_along(case, section, bodies, bent=True)
    most = _most(case, section)
    law = _law(case, section, bodies, case.line_load, _FIRST_ROOM)
    for _ in range(_MOST_LAWS):
        tried = tuple(
            (tilt, post, post.pressed(law, force, tilt))
            for tilt in case.alignment.tilts
            for post in posts
        )
        shared = Shared(law, force, tried, most)
        worst = float(shared.worst[2].line_load.max())
        if worst <= law.largest_load:
            return shared
        if worst > most:
            raise _beyond(case, section, shared)
        law = _law(case, section, bodies, worst, _ROOM)
    raise InputError(f"{_where(case, section)} the peak of the line load could not be bracketed")


def _law(case: Case, section: Section, bodies: Bodies, load: float, room: float) -> ForceApproach:
    """The force–approach curve on the mesh for a line load, up to ``room`` times it if it can be.

    On the coarse mesh: with the standard one peaks were within 0.02 % of its (measured, two plates,
    a solid and a tube, even, parted and at the tip).
    """
    at = replace(case, spread=Spread(load / case.line_load, 0.0))
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


def _spread(case: Case, section: Section, shared: Shared) -> Spread:
    """Peak and lever that the section is checked with, and every strip that is to be looked at.

    The lever is the greatest of the tilts tried, and not less than that of an even load.
    """
    _, post, worst = shared.worst
    ratio = float(worst.line_load.max()) / case.line_load
    lever = max(post.length, *(pressed.lever for _, _, pressed in shared.tried))
    profiles: list[Profile] = []
    strips: list[Strip] = []
    for _, of, pressed in shared.tried:
        number = None
        if of.bar is not None:
            number = len(profiles)
            profiles.append(_profile(case, of.tip, pressed))
        strips += list(_strips(case, section, pressed, number, _LIGHT * ratio * case.line_load))
    return Spread(ratio, lever, tuple(strips), tuple(profiles))


def _profile(case: Case, tip: float, pressed: Pressed) -> Profile:
    ratios = pressed.line_load / case.line_load
    return Profile(tip, tuple(pressed.z.tolist()), (tuple(ratios.tolist()),))


def _strips(
    case: Case, section: Section, pressed: Pressed, profile: int | None, light: float
) -> Iterator[Strip]:
    """The places of a post as it is pressed that may be stressed most.

    Its own peak, and places from end to end of what bears a good part of the peak of all, in equal
    steps so that they move little as the post changes little.
    """
    z = pressed.z
    bearing = np.flatnonzero(pressed.line_load >= light)
    if not len(bearing):
        return
    reach = _reach(pressed, bearing[0], -1, light), _reach(pressed, bearing[-1], 1, light)
    places = stations(case, section, *reach)
    at_peak = float(np.clip(z[pressed.peak], places[0], places[-1]))
    for place in dict.fromkeys([*places.tolist(), at_peak]):
        load, moment = (np.interp(place, z, of) for of in (pressed.line_load, pressed.moment))
        if place in {places[0], places[-1]}:
            # It stands for what lies between it and the end as well, where there may be more load.
            near = np.abs(z - place) <= inset(case, section) * (1.0 + 1e-9)
            load = max(float(load), float(pressed.line_load[near].max(initial=0.0)))
        if load < light:  # between two ends that bear the post may have parted
            continue
        yield Strip(float(place), (float(load / case.line_load),), float(moment), profile)


def _reach(pressed: Pressed, last: int, step: int, load: float) -> float:
    """How far, mm, the line load is at least ``load``: from its last point that way to the next."""
    z, q = pressed.z, pressed.line_load
    if not 0 <= last + step < len(z):
        return float(z[last])
    share = (q[last] - load) / (q[last] - q[last + step])
    return float(z[last] + share * (z[last + step] - z[last]))


def _outlook(
    case: Case, section: Section, bodies: Bodies, shared: Shared
) -> tuple[Tried, tuple[Doubling, Doubling], float]:
    """The tilt of the least peak, the tilts that double the peak of none, and the rigid peak."""
    (tilt, post, _), law = shared.worst, shared.law
    even = _even(shared, law)
    rigid = replace(post, beam=Beam(np.inf, np.inf), bar=None)
    rigid_peak = float(rigid.pressed(law, shared.force, tilt).line_load.max())
    twice = 2.0 * shared.peak(law, 0.0)
    units = case.display.line_load
    why = f"a peak of {units.text(twice)} is beyond the range of the model"
    beyond = Doubling(None, why), Doubling(None, why)
    if twice > shared.most:
        return even, beyond, rigid_peak
    if twice > law.largest_load:
        try:
            law = _law(case, section, bodies, twice, _ROOM)
        except InputError:  # the displacement is not small
            return even, beyond, rigid_peak
        twice = 2.0 * shared.peak(law, 0.0)

    def excess(tilt: float) -> float:
        return shared.peak(law, tilt) / twice - 1.0

    return even, (_crossing(excess, -1.0), _crossing(excess, 1.0)), rigid_peak


def _crossing(excess: Callable[[float], float], side: float) -> Doubling:
    """Where the excess turns positive to one side of no tilt, where it is negative."""
    low, high = 0.0, 1e-4
    while excess(side * high) < 0.0:
        if high >= STEEPEST:
            return Doubling(None, f"no tilt up to {STEEPEST:g} rad doubles it")
        low, high = high, min(2.0 * high, STEEPEST)
    return Doubling(side * float(brentq(lambda t: excess(side * t), low, high, rtol=1e-4)))


def _even(shared: Shared, law: ForceApproach) -> Tried:
    """The tilt of the least peak: near the slope of the post under an even load."""
    _, post, _ = shared.worst
    c = post.contact_length
    z = np.linspace(post.length - c / 2.0, post.length + c / 2.0, 101)
    evenly = influence(post.beam, z, z).mean(axis=1) * shared.force
    slope = float(evenly[-1] - evenly[0]) / c
    least = minimize_scalar(
        lambda t: shared.peak(law, t), bounds=(0.5 * slope, 1.5 * slope), method="bounded",
        options={"xatol": 1e-4 * slope},
    )  # fmt: skip
    return Tried(float(least.x), float(least.fun))


def _where(case: Case, section: Section) -> str:
    assert case.alignment is not None
    table = "[cantilever]: [alignment] is not stated" if case.alignment.assumed else "[alignment]"
    return f"{case.source}: {table}: section {section.name!r}:"


def _beyond(case: Case, section: Section, found: Shared) -> InputError:
    """A peak whose patch would be too wide, with the tilt that would even the load out."""
    tilt, _, worst = found.worst
    units = case.display
    peak = float(worst.line_load.max())
    even = _even(found, found.law)
    return InputError(
        f"{_where(case, section)} at a tilt of {units.angle.text(tilt)} the line load would peak at"
        f" {units.line_load.text(peak)}, {peak / case.line_load:.3g} times the mean,"
        f" {units.length.text(float(worst.z[worst.peak]))} from the root; the patch allows about"
        f" {units.line_load.text(found.most)}. It is least,"
        f" {units.line_load.text(even.peak_line_load)}, at a"
        f" tilt of {units.angle.text(even.tilt)}. Allowed: a tilt in [alignment], or distribution ="
        ' "even" in [load] where something else keeps the load even'
    )
