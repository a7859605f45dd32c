"""The post in three dimensions: a contact of finite length, and where along it the post may be
stressed most.

A slice bends as a ring by itself, as if the line load were long and even. Its neighbours hold it
back or bend it further: what they add to its stress is that of the post in three dimensions less
that of the slice. The contact itself is local, and stays the slice's own.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from contactfe.assess.accuracy import COARSE, Solved, expected_patches
from contactfe.assess.beam import bends
from contactfe.assess.bodies import Bodies
from contactfe.assess.level import Level, build
from contactfe.assess.places import EDGES
from contactfe.assess.post import PostReading, Slice, participations, read_strip, solved_slice
from contactfe.assess.results import ReliefResult
from contactfe.case import Case, Section
from contactfe.case.alignment import Profile, Spread, Strip
from contactfe.errors import InputError
from contactfe.solve.elastic import Floats

FAR = 3.0
"""Length of post, over the diameter, after which its end is not felt: of one that is not stated."""

_STATIONS = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Places of an even contact that are looked at, from end to end: of a post that is long the bore is
stressed most in the middle, the contact at the ends."""

LONGEST = 100.0
"""Contact over the diameter up to which a post is solved in three dimensions."""

INSET, HALF_WIDTHS = 0.1, 2.0
"""Least distance from an end of the contact from which a place is looked at, over the radius and
over the half-width: nearer by the slice feels that the load ends, which no elastic figure of a
sharp end is worth printing for."""

_STEP = 1e-6
"""Share of its half-length over which the load of a shorter contact beside a longer one ends."""

_COUNTS = 0.5
"""Share of the largest peak from which a zone's own worst strip is kept. That of the greatest hoop
stress at a bore always is."""

_POINTS = 41
"""Points of the curve along the contact."""

_BEARS = 0.1
"""Share of the peak line load below which a share of its own bending says nothing."""


@dataclass(frozen=True)
class Ends:
    """Where a post ends and where it is met: mm from the root."""

    length: float
    start: float
    end: float

    @property
    def middle(self) -> float:
        """The middle of the contact."""
        return (self.start + self.end) / 2.0


def ends(case: Case, section: Section) -> tuple[Ends, ...]:
    """The posts that it may be: as stated, or one that ends with its contact and a long one."""
    far, c = FAR * section.outside_diameter, max(_lengths(case))
    if c > LONGEST * section.outside_diameter:
        units = case.display.length
        raise InputError(
            f'{case.source}: [load] contact_length = "{units.text(c)}": must be at most'
            f" {LONGEST:g} outside diameters of section {section.name!r},"
            f" {units.text(LONGEST * section.outside_diameter)}; state line_load for a longer one"
        )
    middle = far + c / 2.0 if case.cantilever is None else case.cantilever.length
    tip = None if case.cantilever is None else case.cantilever.tip
    beyond = (c / 2.0, c / 2.0 + far) if tip is None else (min(tip, c / 2.0 + far),)
    start = max(middle - c / 2.0, 0.0)
    return tuple(Ends(middle + past, start, middle + c / 2.0) for past in beyond)


def _lengths(case: Case) -> tuple[float, ...]:
    """Length of the contact with each plate, mm, of a case that states them."""
    return tuple(length for length in case.contact_lengths if length is not None)


def even_spread(case: Case, section: Section) -> Spread:
    """Every place of an even contact that is to be looked at.

    With the bending moment of the post there, where it is known to bend from its root.
    """
    load = case.line_load if bends(case, section) else 0.0
    profiles, strips = [], []
    lengths = _lengths(case)
    for number, post in enumerate(ends(case, section)):
        middle = post.middle
        steps = [c / 2.0 * by for c in lengths if c < max(lengths) for by in (1.0, 1.0 + _STEP)]
        z = np.unique(
            [post.start, post.end, *(middle + s * side for s in steps for side in (-1, 1))]
        )
        ratios = tuple(
            tuple(float(abs(at - middle) <= c / 2.0 * (1.0 + _STEP / 2.0)) for at in z)
            for c in lengths
        )
        profiles.append(Profile(post.length, tuple(map(float, z)), ratios))
        strips += [
            Strip(
                float(place), (1.0,) * len(lengths), float(load * (post.end - place) ** 2 / 2.0),
                number,
            )
            for place in stations(case, section, post.start, post.end)
        ]  # fmt: skip
    lever = 0.0 if case.cantilever is None else case.cantilever.length
    return Spread(1.0, lever, tuple(strips), tuple(profiles))


def inset(case: Case, section: Section) -> float:
    """Distance from an end of the contact from which a place is looked at, mm."""
    half_width = expected_patches(case, section)[0].half_width
    return max(INSET * section.radius, HALF_WIDTHS * half_width)


def stations(case: Case, section: Section, start: float, end: float) -> Floats:
    """Places from end to end of what bears, mm: a little inside it."""
    inside = min(inset(case, section), (end - start) / 4.0)
    return start + inside + np.array(_STATIONS) * (end - start - 2.0 * inside)


def chosen(case: Case, section: Section, bodies: Bodies, spread: Spread) -> Spread:
    """The spread with the strips alone that stress some zone of the post most, on a coarse mesh."""
    at = replace(case, spread=spread)
    level = build(at, bodies, section, expected_patches(at, section), COARSE)
    readings = _readings(level, spread.strips)
    worst: dict[str, tuple[float, Strip]] = {}
    for strip, reading in zip(spread.strips, readings, strict=True):
        for peak in reading.peaks:
            zone = EDGES.get(peak.zone, peak.zone)
            if zone not in worst or peak.von_mises > worst[zone][0]:
                worst[zone] = peak.von_mises, strip
    most = max(stress for stress, _ in worst.values())
    kept = {strip for stress, strip in worst.values() if stress >= _COUNTS * most}
    hoops = [0.0 if r.bore_hoop is None else abs(r.bore_hoop[0]) for r in readings]
    if any(hoops):
        kept.add(spread.strips[int(np.argmax(hoops))])
    return _with(spread, sorted(kept, key=spread.strips.index))


def relief_along(solved: Solved) -> ReliefResult | None:
    """What its neighbours leave of the slice's relief along the contact, where that is worst.

    None where the neighbours are left out.
    """
    level, strip = solved.level, solved.reading.post.strip
    if strip is None or strip.profile is None:
        return None
    case, spread = level.case, level.case.spread
    assert spread is not None
    profile, number = spread.profiles[strip.profile], strip.profile
    z, first = np.array(profile.z), np.array(profile.ratios[0])
    start, end = profile.contact
    at = np.linspace(start, end, _POINTS)
    ratios = np.interp(at, z, first)
    shares = participations(level, number, at, solved.reading.slice)
    middle = (start + end) / 2.0
    return ReliefResult(
        contact_length=end - start,
        tip=profile.length - middle,
        tip_stated=case.cantilever is not None and case.cantilever.tip is not None,
        place=strip.place - middle,
        z=tuple((at - middle).tolist()),
        line_load=tuple((case.line_load * ratios).tolist()),
        participation=None if shares is None else tuple(
            float(share) if ratio >= _BEARS * ratios.max() else None
            for share, ratio in zip(shares, ratios, strict=True)
        ),
    )  # fmt: skip


def _with(spread: Spread, strips: Sequence[Strip]) -> Spread:
    """The spread with some of its strips, and their profiles alone."""
    used = sorted({strip.profile for strip in strips if strip.profile is not None})
    numbered = {old: new for new, old in enumerate(used)}
    return replace(
        spread,
        strips=tuple(
            replace(s, profile=None if s.profile is None else numbered[s.profile]) for s in strips
        ),
        profiles=tuple(spread.profiles[number] for number in used),
    )


def _readings(level: Level, strips: Sequence[Strip]) -> list[PostReading]:
    """The post at every strip, each on the slice of its own line loads.

    A slice of more load would overstate the contact of one strip and not of the next, and another
    than the worst might be kept.
    """
    slices: dict[tuple[float, ...], Slice] = {}
    for strip in strips:
        if strip.ratios not in slices:
            slices[strip.ratios] = solved_slice(level, strip)
    return [read_strip(slices[strip.ratios], strip) for strip in strips]
