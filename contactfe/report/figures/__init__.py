"""Figures of results, drawn from what was computed, with nothing computed anew."""

from contactfe.report.figures.draw import FIGURES, figures, figures_of, save_figures

__all__ = ["FIGURES", "figures", "figures_of", "save_figures"]
