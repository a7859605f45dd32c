"""The numerical uncertainty of samples solved on one mesh level, by those solved on two."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

from contactfe.assess.sweep.result import Figures, SweepResult, SweepRow, Uncertainties

Ratios = Mapping[str, float]
"""Uncertainty of each figure over what it is measured by, by the names of the figures."""


@dataclass(frozen=True)
class Uncertainty:
    """Of each section, the largest ratios that its checked samples came to.

    A sample on one level gets those: not a bound, as no mesh of its own says so, but the worst of
    about a tenth of the same sweep, which differ from it in nothing but their number.
    """

    ratios: Mapping[str, Ratios]

    def of(self, row: SweepRow) -> Uncertainties | None:
        """Those of a row, its own where it has them; None where nothing is known of its section."""
        figures = row.figures
        if figures is None or figures.uncertainties is not None:
            return None if figures is None else figures.uncertainties
        ratios = self.ratios.get(row.section)
        if ratios is None:
            return None
        return Uncertainties(
            **{
                name: None if getattr(figures, name) is None else ratio * _measure(figures, name)
                for name, ratio in ratios.items()
            }  # type: ignore[arg-type]
        )

    def passes(self, row: SweepRow) -> bool | None:
        """Whether every check passes: :meth:`below_yield`, and those beside the stresses.

        False for a row that was not solved, None where there is no verdict.
        """
        below, figures = self.below_yield(row), row.figures
        if figures is None or below is False or figures.other_verdict == "fails":
            return False
        return None if figures.other_verdict == "no verdict" else below

    def below_yield(self, row: SweepRow) -> bool | None:
        """Whether post and plate stay below what is allowed, uncertainty counted.

        False for a row that was not solved, None where the uncertainty is not known.
        """
        figures, uncertainties = row.figures, self.of(row)
        if figures is None:
            return False
        if uncertainties is None:
            return None
        return (
            figures.post_peak + uncertainties.post_peak <= figures.post_allowed
            and figures.plate_peak + uncertainties.plate_peak <= figures.plate_allowed
        )


def uncertainty(result: SweepResult) -> Uncertainty:
    """What the checked samples of a sweep say of the others; goes once through all of them."""
    worst: dict[str, dict[str, float]] = {}
    for sample in result.samples:
        for row in sample.rows:
            if row.figures is None or row.figures.uncertainties is None:
                continue
            of = worst.setdefault(row.section, {field.name: 0.0 for field in fields(Uncertainties)})
            for name in of:
                uncertainty = getattr(row.figures.uncertainties, name)
                if uncertainty is not None:
                    of[name] = max(of[name], uncertainty / _measure(row.figures, name))
    return Uncertainty(worst)


def _measure(figures: Figures, name: str) -> float:
    """What an uncertainty is measured by: the figure, or the pressure where that may be nil."""
    if name.startswith("bore_hoop"):
        return figures.peak_pressure
    return abs(float(getattr(figures, name)))
