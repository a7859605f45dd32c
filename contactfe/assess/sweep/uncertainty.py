"""The numerical uncertainty of samples solved on one mesh level, by those solved on two."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from contactfe.assess.quantities import BESIDE_OF
from contactfe.assess.sweep.result import Solution, SweepResult, SweepRow

Ratios = Mapping[str, float]
"""Uncertainty of each figure over what it is measured by, by the names of the figures."""


@dataclass(frozen=True)
class Uncertainty:
    """Of each section, the largest ratios that its checked samples came to.

    A sample on one level gets those: not a bound, as no mesh of its own says so, but the worst of
    about a tenth of the same sweep, which differ from it in nothing but their number.
    """

    ratios: Mapping[str, Ratios]

    def of(self, row: SweepRow) -> Mapping[str, float] | None:
        """Those of a row, its own where it has them; None where nothing is known of its section."""
        solution = row.solution
        if solution is None or solution.uncertainties is not None:
            return None if solution is None else solution.uncertainties
        ratios = self.ratios.get(row.section)
        if ratios is None:
            return None
        return {
            key: ratio * _measure(solution, key)
            for key, ratio in ratios.items()
            if key in solution.figures
        }


def uncertainty(result: SweepResult) -> Uncertainty:
    """What the checked samples of a sweep say of the others; goes once through all of them."""
    worst: dict[str, dict[str, float]] = {}
    for sample in result.samples:
        for row in sample.rows:
            if row.solution is None or row.solution.uncertainties is None:
                continue
            of = worst.setdefault(row.section, {})
            for key, uncertainty in row.solution.uncertainties.items():
                of[key] = max(of.get(key, 0.0), uncertainty / _measure(row.solution, key))
    return Uncertainty(worst)


def _measure(solution: Solution, key: str) -> float:
    """What an uncertainty is measured by: the figure, or what it may be nil or small beside."""
    figure = solution.figures[BESIDE_OF.get(key, key)].value
    return abs(figure) or 1.0
