"""Figures of a comparison, drawn from what was computed, with nothing computed anew."""

from contactfe.report.figures.draw import FIGURES, figures_of, save_figures

__all__ = ["FIGURES", "figures_of", "save_figures"]
