"""Figures of results, drawn from what was computed, with nothing computed anew."""

from contactfe.report.figures.draw import FIGURES, Drawing, drawings, figures_of, save_figures

__all__ = ["FIGURES", "Drawing", "drawings", "figures_of", "save_figures"]
