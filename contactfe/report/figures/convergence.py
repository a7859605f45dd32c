"""Peak stress on every mesh level, beside the accuracy that the case asks for."""

import math

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter, NullFormatter

from contactfe.assess.results import Comparison, SectionResult
from contactfe.assess.value import Value
from contactfe.report import words
from contactfe.report.figures.choice import shown_of
from contactfe.report.figures.ink import ACROSS, ALONG, INK, QUIET
from contactfe.report.figures.panels import caption, heads, legend, panels

_LOOKS = ((INK, "o", "solid"), (ALONG, "^", "dashed"), (ACROSS, "s", "dotted"))
"""Colour, mark and line of the post and of each plate."""

_APART = 1.05
"""Ratio in which the marks of two bodies are set apart, or their bars would hide one another."""


def convergence_figure(comparison: Comparison, shown: tuple[SectionResult, ...]) -> Figure:
    """One column a section: the peak of each body, less that of the finest mesh, over unknowns.

    Raises ValueError where the case asks for no accuracy.
    """
    case, stress = comparison.case, comparison.case.display.stress
    if case.accuracy is None:
        raise ValueError("the case asks for no accuracy")
    bodies = [name for name, _ in shown[0].bodies]
    figure, columns = panels(len(shown), (2.0,))
    counts = [level.unknowns for r in shown for level in r.levels]
    asked = 100.0 * case.accuracy
    notes = [
        "\n".join(f"{name} {words.peak(of, case.display)} {stress.name}" for name, of in r.bodies)
        for r in shown
    ]
    names = [r.section.name for r in shown]
    heads(list(columns[:, 0]), list(zip(names, notes, strict=True)))
    for (ax,), result in zip(columns, shown, strict=True):
        ax.axhspan(-asked, asked, color="#dde3e7", zorder=0, label="accuracy asked for")
        ax.axhline(0.0, color=QUIET, linewidth=0.6, zorder=0.5)
        for number in range(len(bodies)):
            _peaks(ax, result, number, bodies[number])
        ax.set_xscale("log")
        ax.set(xlim=(min(counts) / 1.4, max(counts) * 1.4), xlabel="unknowns [10³]")
        _label_levels(ax, result)
        ax.margins(y=0.08)
    columns[0, 0].set_ylabel("peak von Mises stress less\nthat of the finest mesh [%]")
    legend(figure, columns.flat)
    caption(figure, _caption(comparison, shown), f"{words.one_line(case.title)}:")
    return figure


def history(result: SectionResult, number: int) -> list[Value]:
    """Peaks of a body on each level, with uncertainty, less that of the finest and in % of it.

    The first level has no coarser one beside it to give its uncertainty: it is nan.
    """
    finest, _ = result.levels[-1].peaks[number]
    return [
        Value(
            100.0 * (peak / finest - 1.0),
            math.nan if uncertainty is None else 100.0 * uncertainty / finest,
        )
        for peak, uncertainty in (level.peaks[number] for level in result.levels)
    ]


def _peaks(ax: Axes, result: SectionResult, number: int, name: str) -> None:
    """Draw the peaks of a body with their uncertainties."""
    colour, mark, line = _LOOKS[number]
    values = history(result, number)
    figures = np.array([v.value for v in values])
    uncertainties = np.array([v.uncertainty for v in values])
    counts = np.array([level.unknowns for level in result.levels])
    middle = (len(result.bodies) - 1) / 2.0
    ax.errorbar(
        counts * _APART ** (number - middle), figures, uncertainties, color=colour, marker=mark,
        markersize=4, linestyle=line, linewidth=1.1, capsize=2.5, elinewidth=0.9, label=name,
    )  # fmt: skip


def _label_levels(ax: Axes, result: SectionResult) -> None:
    """Name the unknowns of each level at the axis; a power of ten alone would say little."""
    ax.set_xticks([level.unknowns for level in result.levels])
    ax.xaxis.set_major_formatter(FuncFormatter(lambda count, _: f"{count / 1000:.3g}"))
    ax.xaxis.set_minor_formatter(NullFormatter())


def _caption(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    case = comparison.case
    parts = [
        "peak von Mises stress on each mesh level, from coarse to"
        " fine; bars are its numerical uncertainty, which the first level, with none coarser, does"
        " not have. Marks of one level are set apart a little.",
        *(words.accuracy(case, result) for result in shown),
        shown_of(comparison, shown),
    ]
    return " ".join(part for part in parts if part)


def convergence_alt(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    """The figure in words."""
    ends = "; ".join(
        f"{words.one_line(r.section.name)}, {len(r.levels)} levels to {r.levels[-1].unknowns}"
        f" unknowns, last step {abs(history(r, 0)[-2].value):.2g} % in the post"
        for r in shown
    )
    title = words.one_line(comparison.case.title)
    return f"{title}: peak von Mises stress on each mesh level, less that of the finest: {ends}."
