"""Trials turned into walls that are judged: figures with their uncertainty, and every check.

Few walls are solved on both mesh levels. For the others the ratio of the levels, figure by figure,
is taken between those nearest on either side; the larger departure of the two from 1 is the
uncertainty, and never less than what is stated for the coarse level itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from contactfe.assess.accuracy import COARSE, beside_peak, uncertainty
from contactfe.assess.results import Value
from contactfe.assess.sizing.record import PLACES, Judged, Trial, Wall
from contactfe.case import Case
from contactfe.case.sizing import Check
from contactfe.solve.elastic import Floats

_FIGURES = len(PLACES) + 2
"""The places of the post, the plate, and first yield."""

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


def judge(case: Case, pair: Pair, levels: Levels, counted: Sequence[Check]) -> Wall:
    """A candidate as a wall; of its checks only those of the kinds ``counted`` are kept."""
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
    steel, margin = coarse.steel.yield_strength, case.yield_margin
    uses = [
        _over(value, strength / margin)
        for value, strength in ((post, steel), (plate, case.plate_material.yield_strength))
    ]
    read = coarse if fine is None else fine
    stresses = [
        Judged("stress", f"von_mises_{body}", f"von Mises stress of the {body}", most, most <= 1.0,
               (), at)
        for body, most, at in (
            ("post", _upper(uses[0]), read.post_at), ("plate", _upper(uses[1]), read.plate_at),
        )
    ]  # fmt: skip
    checks = [c for c in (*stresses, *coarse.hand) if c.kind in counted]
    return Wall(
        candidate=coarse.candidate,
        solved_fine=fine is not None,
        checks=tuple(sorted(checks, key=lambda check: (check.satisfied, -check.ratio))),
        mass_per_length=mass,
        places=places,
        plate=plate,
        post=post,
        concentration=_over(post, nominal),
        post_utilisation=uses[0],
        plate_utilisation=uses[1],
        first_yield=None if first is None else _over(first, 1.0 / case.line_load),
        first_body=read.first_body,
        yield_strength=steel,
        post_zone=read.post_zone,
        plate_zone=read.plate_zone,
        post_at=read.post_at,
        plate_at=read.plate_at,
    )


def _figures(trial: Trial) -> tuple[float | None, ...]:
    return (*trial.places, trial.plate, trial.yield_factor)


def _value(case: Case, pair: Pair, levels: Levels, figure: int) -> Value | None:
    coarse = _figures(pair.coarse)[figure]
    if coarse is None:
        return None
    slips = pair.coarse.slips
    beside = 0.0
    if figure < len(PLACES):
        peak = max(filter(None, pair.coarse.places))
        beside = beside_peak(peak, case.hold(pair.coarse.candidate.section) == "stiff core")
    least = YIELD_TOLERANCE if figure == _FIGURES - 1 else 0.0
    if pair.fine is not None:
        fine = _figures(pair.fine)[figure]
        if fine is None:
            return None
        return Value(fine, uncertainty(fine, coarse, 1.0, slips, beside) + least * fine)
    ratio, off = levels.at(figure, pair.coarse.candidate.share)
    # As if the level finer by ``COARSE`` had been read: its figure, departure and element size.
    value = ratio * coarse
    blur = uncertainty(value, (1.0 + off) * value, COARSE, slips, beside)
    return Value(value, blur + least * value)


def _over(value: Value, by: float) -> Value:
    return Value(value.value / by, value.uncertainty / by)


def _upper(value: Value) -> float:
    return value.value + value.uncertainty
