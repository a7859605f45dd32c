"""All figures of a comparison, from one place."""

from collections.abc import Callable
from pathlib import Path

from matplotlib.figure import Figure

from contactfe.assess.results import Comparison, SectionResult
from contactfe.case import Case
from contactfe.report.figures.choice import chosen
from contactfe.report.figures.convergence import convergence_figure
from contactfe.report.figures.ink import save_png, settings
from contactfe.report.figures.length import length_figure
from contactfe.report.figures.load_line import load_line_figure
from contactfe.report.figures.pressure import pressure_figure
from contactfe.report.figures.relief import relief_figure
from contactfe.report.figures.sections import sections_figure

Draw = Callable[[Comparison, tuple[SectionResult, ...]], Figure]

FIGURES: dict[str, Draw] = {
    "sections.png": sections_figure,
    "pressure.png": pressure_figure,
    "load_line.png": load_line_figure,
}
"""What every comparison has."""


def figures_of(case: Case) -> dict[str, Draw]:
    """The figures that a comparison of this case has, by the names of their files."""
    along: dict[str, Draw] = {} if case.alignment is None else {"length.png": length_figure}
    hollow = any(section.geometry.hollow for section in case.sections)
    if case.finite and hollow:
        along["relief.png"] = relief_figure
    finer = {} if case.accuracy is None else {"convergence.png": convergence_figure}
    return {**FIGURES, **along, **finer}


def save_figures(comparison: Comparison, folder: Path) -> list[Path]:
    """Draw and write every figure into ``folder``. Raises OSError where that cannot be done.

    The figures share matplotlib's settings with the process while they are drawn, one thread at a
    time, and put them back.
    """
    shown = chosen(comparison)
    paths = []
    with settings():
        for name, figure in figures_of(comparison.case).items():
            path = folder / name
            save_png(figure(comparison, shown), path)
            paths.append(path)
    return paths
