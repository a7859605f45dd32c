"""Trials turned into walls that are judged: figures with their uncertainty, and every check.

Few walls are solved on both mesh levels. For the others the ratio of the levels, figure by figure,
is taken between those nearest on either side; the larger departure of the two from 1 is the
uncertainty, and never less than what is stated for the coarse level itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from contactfe.assess.accuracy import COARSE, at_surface, beside_peak, numerical_uncertainty
from contactfe.assess.as_made import made_checks
from contactfe.assess.beam import axial_stress
from contactfe.assess.check_list import collapse_covered, von_mises_check
from contactfe.assess.checks import Bounds, Check, LimitState, severity
from contactfe.assess.relief import ALONE, BORE, not_long
from contactfe.assess.results import AsMade
from contactfe.assess.sizing.record import PLACES, Candidate, Trial, Wall
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.case.sizing import CheckKind
from contactfe.case.tolerance import Limits
from contactfe.solve.elastic import Floats

_FIGURES = len(PLACES) + 2
"""The places of the post, the plate, and first yield."""

_ZONE_OF = {PLACES.index("edge of contact"): PLACES.index("contact zone")}
"""The figure of the zone that another is the peak of where it has that place."""

YIELD_TOLERANCE = 0.002
"""Relative, of a load at first yield whose last step was not solved; see ``early_yield``."""


@dataclass(frozen=True)
class Pair:
    """The trials of one candidate; the fine one is None where only the coarse level was solved."""

    coarse: Trial
    fine: Trial | None = None

    @property
    def sure(self) -> bool:
        """Whether nothing more accurate is to be had."""
        return self.fine is not None or bool(self.coarse.error)

    @property
    def error(self) -> str:
        """Why it could not be solved; empty where it was."""
        return self.coarse.error or ("" if self.fine is None else self.fine.error)


class Levels:
    """The ratios of fine to coarse figures at the walls that were solved on both levels."""

    def __init__(self, pairs: Sequence[Pair]) -> None:
        both = [p for p in pairs if p.fine is not None and not p.error]
        both.sort(key=lambda pair: pair.coarse.candidate.share)
        self._known: list[tuple[Floats, Floats]] = []
        for k in range(_FIGURES):
            shares, ratios = [], []
            for pair in both:
                assert pair.fine is not None
                coarse, fine = _figures(pair.coarse)[k], _figures(pair.fine)[k]
                if coarse is not None and fine is not None:
                    shares.append(pair.coarse.candidate.share)
                    ratios.append(fine / coarse)
            self._known.append((np.array(shares), np.array(ratios)))

    def at(self, figure: int, share: float) -> tuple[float, float]:
        """The ratio to be taken at a wall, and how far those beside it depart from 1."""
        shares, ratios = self._known[figure]
        if len(shares) == 0:
            return 1.0, 0.0
        ratio = float(np.interp(share, shares, ratios))
        right = int(np.searchsorted(shares, share))
        beside = ratios[max(right - 1, 0) : right + 1]
        return ratio, float(np.abs(beside - 1.0).max())


def judge(case: Case, pair: Pair, levels: Levels, asked: Sequence[CheckKind]) -> Wall:
    """A candidate as a wall; of its checks only those of the kinds ``asked`` for are kept."""
    coarse, fine = pair.coarse, pair.fine
    section = coarse.candidate.section
    mass = case.mass_per_length(section)
    if pair.error:
        return Wall(coarse.candidate, True, (), mass, error=pair.error)
    figures = tuple(_value(case, pair, levels, k) for k in range(_FIGURES))
    places, (plate, first) = figures[: len(PLACES)], figures[len(PLACES) :]
    assert plate is not None
    assert coarse.steel is not None
    post = max((v for v in places if v is not None), key=lambda v: v.value)
    nominal = case.line_load / section.outside_diameter
    read = coarse if fine is None else fine
    limits = case.limits(section, coarse.candidate.stock)
    made = tuple(_as_made(case, pair, levels, k, limits) for k in range(len(coarse.made)))
    steel, of_plate = coarse.steel.yield_strength, case.plate_material.yield_strength
    stresses = (
        von_mises_check(case, section, "post", post, steel, read.post_at),
        von_mises_check(case, section, "plate", plate, of_plate, read.plate_at),
        *(check for one in made for check in one.checks),
    )
    checks = standing([c for c in (*stresses, *coarse.hand) if c.kind in asked])
    checks = collapse_covered(checks)
    return Wall(
        candidate=coarse.candidate,
        solved_on_both_levels=fine is not None,
        checks=tuple(sorted(checks, key=rank, reverse=True)),
        mass_per_length=mass,
        places=places,
        plate_peak_von_mises=plate,
        post_peak_von_mises=post,
        stress_concentration=_over(post, nominal),
        post_utilisation=_over(post, steel / case.yield_margin),
        plate_utilisation=_over(plate, of_plate / case.yield_margin),
        first_yield_line_load=None if first is None else _over(first, 1.0 / case.line_load),
        first_yield_body=read.first_body,
        yield_strength=steel,
        post_zone=read.post_zone,
        plate_zone=read.plate_zone,
        post_worst_contact=read.post_at,
        plate_worst_contact=read.plate_at,
        bounds=_bounds(case, coarse, post),
        limits=limits if made else None,
        as_made=made,
    )


def _as_made(case: Case, of: Pair, levels: Levels, number: int, limits: Limits | None) -> AsMade:
    """The tube of a pair at a limit of its wall, against the strength of the nominal one."""
    section, steel = of.coarse.candidate.section, of.coarse.steel
    assert limits is not None
    assert steel is not None
    pair = Pair(of.coarse.made[number], None if of.fine is None else of.fine.made[number])
    peaks: tuple[Value | None, ...] = (None, None)
    if not pair.error:
        *places, plate, _ = (_value(case, pair, levels, k) for k in range(_FIGURES))
        peaks = max((v for v in places if v is not None), key=lambda v: v.value), plate
    strengths = steel.yield_strength, case.plate_material.yield_strength
    bodies = zip(("post", "plate"), peaks, strengths, strict=True)
    at = (pair.fine or pair.coarse).post_at
    return AsMade(
        *limits.made[number], peaks,
        peaks[0] and _over(peaks[0], case.line_load / section.outside_diameter),
        made_checks(case, section, number, bodies, pair.error, at), pair.error,
    )  # fmt: skip


def _bounds(case: Case, coarse: Trial, post: Value) -> Bounds | None:
    """Between what the peak of the post lies, each at the contact where it is worst; None where
    the slice is that of a long even contact, or relieves nothing.
    """
    section = coarse.candidate.section
    spreads = [spread for _, _, spread in coarse.starts if spread is not None]
    why = not_long(case, section)
    if not why:
        return None
    assert coarse.steel is not None
    young = coarse.steel.young
    moments = [strip.moment for spread in spreads for strip in spread.strips]
    axial = [axial_stress(case, section, young, moment, 0.0) for moment in moments]
    hand = {check.key: check.demand or 0.0 for check in coarse.hand}
    alone = max((hand[key] for key in ALONE if key in hand), default=0.0)
    alone += float(np.abs(axial).max(initial=0.0))
    bore = [hand[key] for key in BORE if key in hand]
    if alone <= post.value + post.uncertainty:
        return None
    return Bounds(called(case, coarse.candidate), post.value, alone, max(bore, default=None), why)


def called(case: Case, candidate: Candidate) -> str:
    """A tube by its size, as a page names it."""
    units, outside = case.display.length, candidate.section.outside_diameter
    return f"{units.number(outside)} × {units.text(candidate.wall)}"


def standing(checks: Sequence[Check]) -> tuple[Check, ...]:
    """The checks, those counted that do not apply although no other covers their limit state.

    A clause outside its scope counts for nothing while another check does; where none does, a wall
    may not be said to pass: the clause then counts, and has no verdict.
    """
    covered = {check.limit_state for check in checks if check.applies}
    if any(check.kind == "stress" for check in checks):
        covered |= _SOLVED
    return tuple(replace(c, applies=c.applies or c.limit_state not in covered) for c in checks)


_SOLVED: set[LimitState] = {"contact stress", "ring bending", "plate bending"}
"""Limit states that the solved stresses cover."""


def rank(check: Check) -> tuple[bool, tuple[int, float]]:
    """How far ahead a check stands: one that fails, has no verdict, passes, or does not apply."""
    return check.applies, severity(check)


def _figures(trial: Trial) -> tuple[float | None, ...]:
    return (*trial.places, trial.plate, trial.yield_factor)


def _value(case: Case, pair: Pair, levels: Levels, figure: int) -> Value | None:
    coarse = _figures(pair.coarse)[figure]
    zone = _ZONE_OF.get(figure, figure)
    if coarse is None and pair.fine is not None:  # at the edge on the fine level alone
        coarse = _figures(pair.coarse)[zone]
    if coarse is None:
        return None
    slips = pair.coarse.slips
    beside = at_surface(case, coarse) if figure < _FIGURES - 1 else 0.0
    if figure == _FIGURES - 1 and pair.coarse.first_body == "post":
        beside = pair.coarse.unsure * coarse
    if figure < len(PLACES):
        peak = max(filter(None, pair.coarse.places))
        bonded = case.support(pair.coarse.candidate.section).core
        beside = max(beside, beside_peak(peak, bonded), pair.coarse.unsure * coarse)
    least = YIELD_TOLERANCE if figure == _FIGURES - 1 else 0.0
    if pair.fine is not None:
        fine = _figures(pair.fine)[figure]
        if fine is None:
            return None
        return Value(fine, numerical_uncertainty(fine, coarse, 1.0, slips, beside) + least * fine)
    ratio, off = levels.at(zone, pair.coarse.candidate.share)
    # As if the level finer by ``COARSE`` had been read: its figure, departure and element size.
    value = ratio * coarse
    uncertainty = numerical_uncertainty(value, (1.0 + off) * value, COARSE, slips, beside)
    return Value(value, uncertainty + least * value)


def _over(value: Value, by: float) -> Value:
    return Value(value.value / by, value.uncertainty / by)
