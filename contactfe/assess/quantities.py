"""The registry of quantities: every figure that is read off a solved contact, an entry each.

An entry says what the figure is, how it is read off one mesh level, and what its uncertainty is by
two. Nothing else reads a solution: see :mod:`.readout`. Figures are in N, mm and MPa, a plate's in
its own axes; tension is positive.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from types import MappingProxyType
from typing import Literal, TypeVar

from contactfe.assess.accuracy import (
    BESIDE,
    FLOOR,
    NEIGHBOURS,
    ROUNDING,
    among,
    at_surface,
    beside_peak,
    beside_slice,
    numerical_uncertainty,
    slipping,
)
from contactfe.assess.level import Level
from contactfe.assess.places import Peak
from contactfe.assess.post import Filling
from contactfe.assess.reading import PatchReading, Reading
from contactfe.assess.value import Figure, Place, key_of
from contactfe.case import Case, Section
from contactfe.hand.quantities import Dimension
from contactfe.solve.reactions import Reaction

Member = Literal["post", "plate"]
Whole = TypeVar("Whole")


@dataclass(frozen=True)
class At:
    """A solved level, and the number of the patch that is read."""

    level: Level
    reading: Reading
    number: int = 0

    @property
    def case(self) -> Case:
        """The case that was solved."""
        return self.level.case

    @property
    def finite(self) -> bool:
        """Whether the post was read in three dimensions, and not as a slice alone."""
        return self.reading.post is not self.reading.slice

    @property
    def patch(self) -> PatchReading:
        """The patch that is read."""
        return self.reading.patches[self.number]


BENDING, ADDED, BONDED = 0.02, 0.03, 0.03
"""The same of other figures of a finite contact, over the figure: hoop stress at a bore, hoop
stress that bending adds at the contact, stresses of an infill and its bond; found likewise."""

BESIDE_BENT, BESIDE_ADDED = 4.0 * BESIDE, 0.015
"""And of the first two over the contact pressure p0, beside which they may be small."""

Read = Callable[[At], "tuple[Figure, ...]"]
"""The figures of a quantity on a level: none where the section has no such place; of several, one
for each zone, the largest first, and that is the figure of the quantity."""

Least = Callable[[At, float], float]
"""Least uncertainty of a figure at the standard level, in its unit, beside ``FLOOR`` of itself."""

Sure = Callable[[At, At, float, float], float]
"""Uncertainty of a figure by the fine level and the coarse one."""


def by_levels(least: Least = lambda at, figure: 0.0) -> Sure:  # noqa: ARG005
    """What two levels differ by, as :func:`.numerical_uncertainty` has it."""

    def sure(fine: At, coarse: At, figure: float, before: float) -> float:
        del coarse
        scale, slips = fine.level.scale, slipping(fine.reading)
        return numerical_uncertainty(figure, before, scale, slips, least(fine, figure))

    return sure


@dataclass(frozen=True)
class Quantity:
    """A figure of a solved contact, or of each of its patches.

    ``zones`` is the least uncertainty of the figures of the other zones, where there are several;
    ``by_place`` says that two levels are compared at the place that the fine one has, not each at
    its own; ``beside`` is the key of the figure that it may be nil or small beside. What is
    ``listed`` stands in the tables of every command; ``body`` is that whose place it has; ``head``
    is the label where room is short, in lines, if that is another.
    """

    key: str
    label: str
    dimension: Dimension | None
    read: Read
    of_patch: bool = False
    sure: Sure = field(default_factory=by_levels)
    zones: Least | None = None
    by_place: bool = False
    beside: str = ""
    body: Member | None = None
    listed: bool = False
    head: str = ""


@dataclass(frozen=True)
class Derived:
    """A quantity that is another over what is sure: a plain ratio."""

    key: str
    label: str
    of: str
    over: Callable[[Case, Section, int], float]
    symbol: str = ""
    of_patch: bool = False
    listed: bool = False
    head: str = ""
    dimension: None = None


def _searched(at: At) -> tuple[Figure, ...]:
    """Of no one load: found by a search over loads, in :mod:`.first_yield`."""
    del at
    return ()


def _number(of: Callable[[At], float]) -> Read:
    return lambda at: (Figure(of(at)),)


def _peaks(of: Callable[[At], tuple[Peak, ...]]) -> Read:
    return lambda at: tuple(
        Figure(peak.von_mises, Place(peak.zone, peak.x, peak.y, peak.depth)) for peak in of(at)
    )


def _part(whole: Callable[[Reading], Whole | None], of: Callable[[Whole], float]) -> Read:
    """Of something that not every section has."""

    def read(at: At) -> tuple[Figure, ...]:
        found = whole(at.reading)
        return () if found is None else (Figure(of(found)),)

    return read


def _filling(of: Callable[[Filling], float]) -> Read:
    return _part(lambda reading: reading.post.filling, of)


def _reaction(of: Callable[[Reaction], float]) -> Read:
    """Of each place that holds the plate, the one of the largest force first."""
    return lambda at: tuple(
        Figure(of(one), Place(one.place, one.x, one.y))
        for one in sorted(at.patch.state.reactions, key=_force, reverse=True)
    )


def _force(reaction: Reaction) -> float:
    return math.hypot(reaction.along, reaction.across)


def _at_surface(at: At, figure: float) -> float:
    return at_surface(at.case, figure)


def _post_peak(at: At, figure: float) -> float:
    return beside_slice(at.case, at.reading, figure)


def _largest_shear(at: At, figure: float) -> float:
    own = at.reading.slice.max_shear
    return max(at_surface(at.case, figure), among(figure, own))


def _share(at: At, figure: float) -> float:
    """A ratio of two stresses at a bore, each no surer than that."""
    own = at.reading.slice.bore_hoop
    beside = 0.0 if own is None else BESIDE_BENT * at.reading.peak_pressure / abs(own[0])
    return max(NEIGHBOURS * abs(figure - 1.0), BENDING, beside)


def _finite(share: float) -> Least:
    """Of a finite contact that share of the figure itself."""
    return lambda at, figure: share * abs(figure) if at.finite else 0.0


def _beside_contact(at: At, figure: float) -> float:
    """A stress that may be small beside the contact pressure p0 is no surer than that.

    The added hoop stress is a sum of two stresses of the size of p0; a bore's may be the difference
    of what two loads make there.
    """
    del figure
    return BESIDE * at.reading.peak_pressure


def _beside_peak(at: At, figure: float, of: Member) -> float:
    """A zone of a body that peaks elsewhere, as :func:`.beside_peak` has it."""
    del figure
    bonded = of == "post" and at.case.support(at.level.section).core
    peaks = at.reading.member_peaks if of == "post" else at.patch.peaks
    return beside_peak(peaks[0].von_mises, bonded)


def _through(at: At, figure: float) -> float:
    """On a rigid base the stress along the back is a small part of what presses through."""
    del figure
    return FLOOR * (at.case.line_loads[at.number] / at.case.plate.thickness)


def _of_the_force(share: float) -> Least:
    """A component of a force is no surer than that share of the force itself."""
    return lambda at, figure: share * max(map(_force, at.patch.state.reactions))  # noqa: ARG005


def _of_the_moment(at: At, figure: float) -> float:
    return _of_the_force(ROUNDING)(at, figure) * at.case.plate.width


def _middle(fine: At, coarse: At, figure: float, before: float) -> float:
    """The middle of a patch is a difference, no surer than the half-width is."""
    del coarse
    return max(abs(figure - before), FLOOR * fine.patch.half_width)


def _friction(fine: At, coarse: At, figure: float, before: float) -> float:
    """Exact where friction is nil or used up; else no surer than the pressures that bound it."""
    state = fine.patch.state
    if state.motion in {"no friction", "full sliding"}:
        return 0.0
    least = FLOOR * fine.case.contact.friction * state.line_load
    return by_levels(lambda *_: least)(fine, coarse, figure, before)


def _added(fine: At, coarse: At, figure: float, before: float) -> float:
    """Friction makes the stress along the surface fall by 2μ p0 per half-width in the middle
    (Johnson, Contact Mechanics, 1985, section 7.1: from memory, not seen), so it is no surer than
    the middle is.
    """
    centres = fine.patch.state.centre, coarse.patch.state.centre
    off = _middle(fine, coarse, *centres) / fine.patch.half_width
    slope = 2.0 * fine.case.contact.friction * fine.patch.peak_pressure
    own = fine.reading.slice.added[fine.number]
    most = among(figure, own)
    if fine.finite:
        most = max(most, ADDED * abs(figure), BESIDE_ADDED * fine.patch.peak_pressure)
    least = by_levels(lambda at, added: max(_beside_contact(at, added), most))
    return least(fine, coarse, figure, before) + slope * off


_NAMED: tuple[tuple[str, str, Literal["bore_hoop", "centre"], int], ...] = (
    ("bore_hoop_under_load", "bore hoop under load", "bore_hoop", 0),
    ("bore_hoop_at_side", "bore hoop at side", "bore_hoop", 1),
    ("centre_along", "stress of the centre along the load", "centre", 0),
    ("centre_across", "stress of the centre across the load", "centre", 1),
)
"""Named points of a post: key, label, which pair of stresses of a reading, and which of it."""


def _of_post(at: At, pair: str, number: int) -> tuple[Figure, ...]:
    found = getattr(at.reading.post, pair)
    return () if found is None else (Figure(found[number]),)


def _of_slice(at: At, pair: str, number: int) -> tuple[Figure, ...]:
    """Of a slice only beside that of a finite contact."""
    found = getattr(at.reading.slice, pair) if at.finite else None
    return () if found is None else (Figure(found[number]),)


def _among_neighbours(at: At, figure: float, pair: str, number: int) -> float:
    if not at.finite:
        return _beside_contact(at, figure)
    own = getattr(at.reading.slice, pair)[number]
    beside = BESIDE_BENT * at.reading.peak_pressure
    return max(beside, BENDING * abs(figure), among(figure, own))


_small = partial(Quantity, sure=by_levels(_beside_contact), beside="peak_pressure")
_patch = partial(Quantity, of_patch=True)
_infill = partial(Quantity, sure=by_levels(_finite(BONDED)))
_reacts = partial(Quantity, of_patch=True, by_place=True, beside="largest_reaction")

QUANTITIES: tuple[Quantity | Derived, ...] = (
    _patch(
        "peak_pressure", "peak pressure", "stress",
        _number(lambda at: at.patch.peak_pressure), listed=True, head="peak\npressure",
    ),
    _patch(
        "half_width", "half-width", "length", _number(lambda at: at.patch.half_width),
        listed=True, head="half-\nwidth",
    ),
    Quantity(
        "approach", "approach", "length", _number(lambda at: at.reading.state.approach),
        listed=True,
    ),
    Quantity(
        "post_peak", "post peak von Mises", "stress", _peaks(lambda at: at.reading.member_peaks),
        sure=by_levels(_post_peak), zones=partial(_beside_peak, of="post"), body="post",
        listed=True,
    ),
    Derived(
        "post_utilisation", "post utilisation", "post_peak",
        lambda case, section, _: case.post_material(section).yield_strength / case.yield_margin,
        listed=True,
    ),
    _patch(
        "plate_peak", "plate peak von Mises", "stress", _peaks(lambda at: at.patch.peaks),
        sure=by_levels(_at_surface), zones=partial(_beside_peak, of="plate"), body="plate",
        listed=True,
    ),
    Derived(
        "plate_utilisation", "plate utilisation", "plate_peak",
        lambda case, *_: case.plate_material.yield_strength / case.yield_margin, of_patch=True,
        listed=True,
    ),
    Derived(
        # Of the mean: sections of one force share it, whatever their own peak along the post is.
        "stress_concentration", "K, post peak over q/D", "post_peak",
        lambda case, section, _: case.line_load / section.outside_diameter, "K", listed=True,
        head="K",
    ),
    *(
        _small(
            key, label, "stress", partial(_of_post, pair=pair, number=number),
            sure=by_levels(partial(_among_neighbours, pair=pair, number=number)),
            listed=pair == "bore_hoop",
        )
        for key, label, pair, number in _NAMED
    ),
    Quantity(
        "participation", "share of a slice's ring bending", None,
        _part(lambda reading: reading.post.participation, float), sure=by_levels(_share),
        listed=True,
        head="share of\nring bending",
    ),
    Quantity(
        "added_hoop", "hoop stress that bending adds at the contact", "stress",
        _number(lambda at: at.reading.post.added[at.number]), sure=_added, beside="peak_pressure",
    ),
    Quantity(
        "slice_post_peak", "post peak von Mises of a long even contact", "stress",
        _peaks(lambda at: at.reading.slice.peaks if at.finite else ()), sure=by_levels(_at_surface),
    ),
    Derived(
        "slice_stress_concentration", "K of a long even contact", "slice_post_peak",
        lambda case, section, _: case.line_load / section.outside_diameter, "K",
    ),
    *(
        _small(
            f"slice_{key}", f"{label} of a long even contact", "stress",
            partial(_of_slice, pair=pair, number=number),
        )
        for key, label, pair, number in _NAMED
    ),
    _patch(
        "centre", "middle of the patch", "length", _number(lambda at: at.patch.state.centre),
        sure=_middle, beside="half_width",
    ),
    _patch(
        "tangential_load", "tangential load", "line load",
        _number(lambda at: at.patch.state.tangential_load), sure=_friction,
        beside="largest_reaction",
    ),
    Derived(
        "tangential_ratio", "tangential over normal load", "tangential_load",
        lambda case, _, number: case.line_loads[number], of_patch=True, head="T/q",
    ),
    Quantity(
        "post_max_shear", "post largest shear", "stress",
        _number(lambda at: at.reading.post.max_shear), sure=by_levels(_largest_shear),
    ),
    _patch(
        "plate_max_shear", "plate largest shear", "stress", _number(lambda at: at.patch.max_shear),
        sure=by_levels(_at_surface),
    ),
    _infill("infill_tension", "tension of the infill", "stress", _filling(lambda f: f.tension)),
    _infill(
        "infill_compression", "compression of the infill", "stress",
        _filling(lambda f: f.compression),
    ),
    _infill(
        "bond_tension", "tension across the bond", "stress", _filling(lambda f: f.bond_tension)
    ),
    _infill("bond_shear", "shear along the bond", "stress", _filling(lambda f: f.bond_shear)),
    _patch(
        "back_stress", "stress along the plate's back", "stress",
        _number(lambda at: at.patch.back), sure=by_levels(_through), beside="peak_pressure",
    ),
    _patch(
        "deflection", "deflection of the plate", "length", _number(lambda at: at.patch.deflection),
        beside="half_width",
    ),
    Quantity("post_first_yield", "post line load at first yield", "line load", _searched),
    _patch("plate_first_yield", "plate line load at first yield", "line load", _searched),
    _reacts("largest_reaction", "largest reaction", "line load", _reaction(_force), beside=""),
    _reacts(
        "reaction_along", "largest reaction, along the plate", "line load",
        _reaction(lambda one: one.along), sure=by_levels(_of_the_force(FLOOR)),
    ),
    _reacts(
        "reaction_across", "largest reaction, across the plate", "line load",
        _reaction(lambda one: one.across), sure=by_levels(_of_the_force(FLOOR)),
    ),
    _reacts(
        "reaction_moment", "moment of the largest reaction", "moment per length",
        _reaction(lambda one: one.moment), sure=by_levels(_of_the_moment),
    ),
)  # fmt: skip
"""Every quantity, in the order in which tables have them."""

LISTED = frozenset(
    key_of(entry.key, number) for entry in QUANTITIES if entry.listed for number in (0, 1)
)
"""Keys of what every command lists."""

BESIDE_OF: Mapping[str, str] = MappingProxyType(
    {
        key_of(entry.key, number): key_of(entry.beside, number)
        for entry in QUANTITIES
        if isinstance(entry, Quantity) and entry.beside
        for number in (0, 1)
    }
)
"""Of figures that may be nil, the key of the figure that they are small beside."""
