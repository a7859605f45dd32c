"""What sizing a wall returns: frozen records, and no computing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from annotated_types import MaxLen

from contactfe.assess.checks import Bounds, Check, OpenItem, Verdict, counted, governing, verdict_of
from contactfe.assess.results import AsMade
from contactfe.assess.value import Value
from contactfe.case import Case, Material, Section
from contactfe.case.alignment import Spread
from contactfe.case.sizing import CheckKind, WallLengths, Walls
from contactfe.case.stock import StockSize
from contactfe.case.tolerance import Limits
from contactfe.case.wording import LONGEST
from contactfe.section.grading import Patch
from contactfe.shown import Shown

PLACES = ("contact zone", "bore under load", "bore at side", "elsewhere", "edge of contact")
"""Where the post may peak, zones of a kind together; the bore of a solid bar has no stress. The
last is part of the first: its peak where that is at an edge of the contact, which has none else."""

PLATE = "plate"
"""The place of the plate among those that may govern."""

_NONE = Value(0.0, 0.0)
"""In place of a figure of a wall that was not solved."""

Start = tuple[tuple[Patch, ...], tuple[tuple[float, float], ...], Spread | None]
"""What a coarse level leaves for a fine one: the patches and the places of the peak to be meshed
for, and how unevenly the post is loaded along its length."""


@dataclass(frozen=True)
class Candidate:
    """A section that is tried; ``steel`` is the bar's where it is bored from one, else None."""

    section: Section
    share: float  # wall over outside diameter; a half for a solid bar
    steel: Material | None = None
    stock: StockSize | None = None

    @property
    def wall(self) -> float:
        """Wall, mm; the radius for a solid bar."""
        return self.share * self.section.outside_diameter


@dataclass(frozen=True)
class Trial:
    """One candidate on one mesh level, each figure the largest over the contacts.

    ``places`` are peak von Mises stresses of the post by ``PLACES``, ``plate`` that of the plates,
    MPa; ``post_zone`` and ``plate_zone`` name where the largest are, ``post_at`` and ``plate_at``
    the contacts of them. ``unsure`` is the least uncertainty of the post's peaks, over them.
    ``yield_factor`` is by how much the loads grow until post or plate first
    yields, which it does at the contact ``yields_at``; None where that is beyond the range of
    the model at every contact. ``made`` are the trials of a tube with its least and its greatest
    wall, where those are known, without first yield and what is by hand. ``error`` says why a
    contact could not be solved, and then there are no figures.
    """

    candidate: Candidate
    fine: bool
    places: tuple[float | None, ...] = ()
    plate: float = 0.0
    post_zone: str = ""
    plate_zone: str = ""
    post_at: int = 0
    plate_at: int = 0
    yields_at: int = 0
    slips: bool = False
    unsure: float = 0.0
    yield_factor: float | None = None
    first_body: Literal["post", "plate"] = "post"
    steel: Material | None = None
    hand: tuple[Check, ...] = ()
    starts: tuple[Start, ...] = ()
    made: tuple[Trial, ...] = ()
    error: Annotated[str, MaxLen(LONGEST)] = ""
    refused: bool = False  # whether the error is one of the input, and not of the solution


Asked = tuple[Candidate, Trial | None, float]
"""What a trial follows from beside the case: its candidate, the coarse trial that one on the fine
level starts from, and the margin of the stress up to which loads grow."""


@dataclass(frozen=True)
class Tried:
    """A trial with what it follows from, by which a later run knows it again."""

    trial: Trial
    coarse: Trial | None
    margin: float

    @property
    def asked(self) -> Asked:
        """What was asked for."""
        return self.trial.candidate, self.coarse, self.margin


@dataclass(frozen=True)
class Wall:
    """A candidate judged; stresses in MPa, line loads in N/mm, mass in kg/m.

    ``places`` go by ``PLACES``. ``solved_on_both_levels`` says that both mesh levels were solved;
    else figures are those of the coarse one, carried over by the ratio of the levels at walls
    nearby. ``checks`` are those that are asked for, the governing one first; ``unchanging`` are the
    keys of those that no wall of the diameter changes; ``bounds`` is None where a slice holds, as
    under a long even load, or relieves nothing. ``limits`` are those of a tube, None where they are
    not known, and ``as_made`` it with its least and its greatest wall. Where ``error`` is not empty
    the wall could not be solved, does not pass, and has no figures.
    """

    candidate: Candidate
    solved_on_both_levels: bool
    checks: tuple[Check, ...]
    mass_per_length: float
    places: tuple[Value | None, ...] = ()
    plate_peak_von_mises: Value = _NONE
    post_peak_von_mises: Value = _NONE
    stress_concentration: Value = _NONE
    post_utilisation: Value = _NONE
    plate_utilisation: Value = _NONE
    first_yield_line_load: Value | None = None
    first_yield_body: Literal["post", "plate"] = "post"
    yield_strength: float = 0.0
    post_zone: str = ""
    plate_zone: str = ""
    post_worst_contact: int = 0
    plate_worst_contact: int = 0
    error: str = ""
    unchanging: frozenset[str] = frozenset()
    bounds: Bounds | None = None
    limits: Limits | None = None
    as_made: tuple[AsMade, ...] = ()

    @property
    def share(self) -> float:
        """Wall over outside diameter."""
        return self.candidate.share

    @property
    def wall(self) -> float:
        """Wall, mm; the radius of a solid bar."""
        return self.candidate.wall

    @property
    def solid(self) -> bool:
        """Whether it is the solid bar."""
        return not self.candidate.section.geometry.hollow

    @property
    def outside_diameter(self) -> float:
        """Outside diameter, mm."""
        return self.candidate.section.outside_diameter

    @property
    def bore_ratio(self) -> float:
        """Bore over outside diameter; 0 for a solid bar."""
        return 1.0 - 2.0 * self.share

    @property
    def verdict(self) -> Verdict:
        """The verdict of all its checks; none if it was not solved."""
        return verdict_of(self.checks)

    @property
    def passes(self) -> bool:
        """Whether it was solved and passes every check that applies."""
        return self.verdict == "passes"

    @property
    def changing(self) -> tuple[Check, ...]:
        """The checks that apply and that the wall changes: by these it is sized."""
        return tuple(c for c in counted(self.checks) if c.key not in self.unchanging)

    @property
    def passes_what_walls_change(self) -> bool:
        """Whether it was solved and passes what the wall changes; all that applies, if nothing."""
        return verdict_of(self.changing or self.checks) == "passes"

    @property
    def silent(self) -> tuple[Check, ...]:
        """The checks that give no verdict."""
        return tuple(check for check in self.checks if check.verdict == "no verdict")

    @property
    def governing(self) -> Check | None:
        """Of the checks that the wall changes, the one that governs; None if it was not solved."""
        return governing(self.changing or self.checks)

    @property
    def concentrations(self) -> tuple[Value, ...]:
        """K of the nominal wall and, where they were solved, at its limits."""
        made = (one.stress_concentration for one in self.as_made)
        return (self.stress_concentration, *(K for K in made if K is not None))

    @property
    def governing_place(self) -> str:
        """Where stress is largest beside what is allowed: one of ``PLACES``, or the plate.

        A peak at the edge of the contact is that of the contact zone, which comes before it.
        """
        if self.plate_utilisation.value > self.post_utilisation.value:
            return PLATE
        return PLACES[max(range(len(PLACES)), key=lambda k: _or_nothing(self.places[k]))]


@dataclass(frozen=True)
class Band:
    """Walls that fit, from the smallest to the largest that was found to; tubes or the solid bar.

    ``fails_below`` and ``fails_above`` are the nearest walls tried beyond them, which do not fit;
    None where the range of walls ends there, or what is beyond fits as well, across the gap between
    the solid bar and the tube of the least bore. The edge lies between.
    """

    least: Wall
    most: Wall
    fails_below: Wall | None
    fails_above: Wall | None


@dataclass(frozen=True)
class Best:
    """The wall that does best in some figure, and what is known of its place.

    The least lies between ``low`` and ``high``, the walls tried next to it. From ``alike_from`` to
    ``alike_to``, mm, the numerical uncertainty does not part the figure from the least.
    """

    wall: Wall
    low: Wall
    high: Wall
    alike_from: float
    alike_to: float


@dataclass(frozen=True)
class StockAnswer:
    """What lists hold near an outside diameter, judged: all, the lightest that passes, least K."""

    walls: tuple[Wall, ...]
    lightest: Wall | None
    least_concentration: Wall | None


@dataclass(frozen=True)
class Catalogue:
    """The nearest sizes of one list of pipes or hollow sections: the least bore ratio of them."""

    list: str
    outside_diameter: float
    least_bore_ratio: float
    size: str


@dataclass(frozen=True)
class Diameter:
    """All that was found for one outside diameter, mm.

    ``walls`` holds every wall tried, rising; ``unchanging_checks`` the checks that none of them
    changes, which stand beside what is said of the walls, sized by the others; ``least_bore`` is in
    mm. ``passing`` are empty where no wall fits, and then ``closest_to_passing`` is the one whose
    worst check of those it changes is least, and ``load_factor_to_pass`` by how much all loads have
    to shrink for it to pass, where that is known. ``least_concentration`` is the wall of the least
    stress concentration. Both are None where no wall could be solved, ``closest_to_passing`` also
    where none changes a check.
    """

    outside_diameter: float
    least_bore: float
    walls: tuple[Wall, ...]
    unchanging_checks: tuple[Check, ...]
    passing: tuple[Band, ...]
    least_concentration: Best | None
    closest_to_passing: Best | None
    load_factor_to_pass: float | None
    stock: StockAnswer
    catalogue: tuple[Catalogue, ...]

    @property
    def smallest(self) -> Band | None:
        """The band whose least wall is the smallest that fits; None where none does."""
        return self.passing[0] if self.passing else None

    @property
    def answers(self) -> tuple[Wall, ...]:
        """The walls that are answers: the smallest of each band, of least K, and of stock."""
        found = [band.least for band in self.passing]
        found += [
            one.wall
            for one in (self.least_concentration, self.closest_to_passing)
            if one is not None
        ]
        stock = (self.stock.lightest, self.stock.least_concentration)
        found += [wall for wall in stock if wall is not None]
        return tuple({wall.candidate.section.name: wall for wall in found}.values())

    @property
    def satisfied(self) -> bool:
        """Whether a wall of this diameter, or a size of the lists near it, passes."""
        found = [band.least for band in self.passing]
        if self.stock.lightest is not None:
            found.append(self.stock.lightest)
        return any(wall.passes for wall in found)

    @property
    def in_the_way(self) -> tuple[Check, ...]:
        """The checks that no wall changes and that do not pass."""
        return tuple(check for check in self.unchanging_checks if not check.passes)


@dataclass(frozen=True, repr=False)
class SizingResult(Shown):
    """A case sized. ``solved_on_both_levels`` counts the candidates solved on both mesh levels.

    ``of_stop`` are the checks of the stop as a whole, as far as known: the load against the motion,
    and what the stop does in that. ``open_items`` is what no check covers, ``tried`` every trial,
    for a later run to go on from.
    """

    case: Case
    walls: Walls | WallLengths
    checks: tuple[CheckKind, ...]
    contacts: int
    diameters: tuple[Diameter, ...]
    solved: int
    solved_on_both_levels: int
    of_stop: tuple[Check, ...]
    open_items: tuple[OpenItem, ...]
    tried: tuple[Tried, ...] = ()

    @property
    def satisfied(self) -> bool:
        """Whether every diameter has a wall, or a stock size near it, that passes."""
        return all(diameter.satisfied for diameter in self.diameters)

    @property
    def settled(self) -> bool:
        """Whether it is satisfied, as the stop as a whole is, and what is open is accepted."""
        passes = all(check.passes for check in self.of_stop)
        return self.satisfied and passes and all(item.accepted for item in self.open_items)


def _or_nothing(value: Value | None) -> float:
    return -1.0 if value is None else value.value
