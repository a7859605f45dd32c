"""All figures of a result, from one place: as files of a folder, or as SVG for a document."""

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from matplotlib.figure import Figure

from contactfe.assess.envelope import EnvelopeResult
from contactfe.assess.impact import ImpactResult
from contactfe.assess.overload.result import OverloadResult
from contactfe.assess.results import Comparison, SectionResult
from contactfe.assess.sizing.record import SizingResult
from contactfe.assess.stiffness import StiffnessResult
from contactfe.case import Case
from contactfe.report import blocks
from contactfe.report.figures.choice import (
    ALWAYS,
    chosen,
    impacts_named,
    named,
    overloads_named,
)
from contactfe.report.figures.convergence import convergence_alt, convergence_figure
from contactfe.report.figures.envelope import envelope_alt, envelope_figure
from contactfe.report.figures.impact import impact_alt, impact_figure
from contactfe.report.figures.ink import save_png, settings
from contactfe.report.figures.length import length_alt, length_figure
from contactfe.report.figures.load_line import load_line_alt, load_line_figure
from contactfe.report.figures.overload import (
    overload_alt,
    overload_figure,
    section_alt,
    section_figure,
)
from contactfe.report.figures.pressure import pressure_alt, pressure_figure
from contactfe.report.figures.relief import relief_alt, relief_figure
from contactfe.report.figures.sections import sections_alt, sections_figure
from contactfe.report.figures.sizing import curve_alt, curve_figure, sizing_alt, sizing_figure
from contactfe.report.figures.stiffness import stiffness_alt, stiffness_figure

Draw = Callable[[Comparison, tuple[SectionResult, ...]], Figure]

_DRAW: dict[str, Draw] = {
    "sections.png": sections_figure,
    "pressure.png": pressure_figure,
    "load_line.png": load_line_figure,
    "length.png": length_figure,
    "relief.png": relief_figure,
    "convergence.png": convergence_figure,
}

FIGURES = {name: _DRAW[name] for name in ALWAYS}
"""What every comparison has."""

ALT: dict[Callable[..., Figure], Callable[..., str]] = {
    sections_figure: sections_alt,
    pressure_figure: pressure_alt,
    load_line_figure: load_line_alt,
    length_figure: length_alt,
    relief_figure: relief_alt,
    convergence_figure: convergence_alt,
    envelope_figure: envelope_alt,
    sizing_figure: sizing_alt,
    curve_figure: curve_alt,
    impact_figure: impact_alt,
    stiffness_figure: stiffness_alt,
    overload_figure: overload_alt,
    section_figure: section_alt,
}
"""What tells a figure, of the same arguments, to who does not see it."""

Drawable = (
    Comparison | EnvelopeResult | ImpactResult | SizingResult | StiffnessResult | OverloadResult
)


def figures_of(case: Case) -> dict[str, Draw]:
    """The figures that a comparison of this case has, by the names of their files."""
    return {name: _DRAW[name] for name in named(case)}


def write_figures(result: Drawable, folder: Path) -> list[Path]:
    """Draw and write every figure into ``folder``. Raises OSError where that cannot be done.

    The figures share matplotlib's settings with the process while they are drawn, one thread at a
    time, and put them back.
    """
    paths = []
    with settings():
        for name, figure, of in _figures(result):
            paths.append(folder / name)
            save_png(figure(*of), paths[-1])
    return paths


def figures(result: Drawable) -> Iterator[blocks.Figure]:
    """Every figure of a result, for a page."""
    for _, draw, of in _figures(result):
        yield blocks.Figure(partial(draw, *of), ALT[draw](*of))


def _figures(result: Drawable) -> Iterator[tuple[str, Callable[..., Figure], tuple[Any, ...]]]:
    """Name of its file, what draws it, and of what."""
    match result:
        case Comparison():
            shown = chosen(result)
            for name, draw in figures_of(result.case).items():
                yield name, draw, (result, shown)
        case EnvelopeResult():
            yield "envelope.png", envelope_figure, (result,)
        case SizingResult():
            yield "size.png", sizing_figure, (result,)
        case ImpactResult():
            for name, impact in zip(impacts_named(result.case), result.blows, strict=True):
                yield name, impact_figure, (result, impact)
        case StiffnessResult():
            yield "stiffness.png", stiffness_figure, (result,)
        case OverloadResult():
            whole, *each = overloads_named(result.case)
            yield whole, overload_figure, (result,)
            for name, of in zip(each, result.sections, strict=True):
                yield name, section_figure, (result, of)
