"""Contact pressure over the patch beside the Hertz curve, and what they differ by."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from contactfe.assess.results import Comparison, SectionResult
from contactfe.case.display import Display, significant
from contactfe.hand import hertz
from contactfe.report import words
from contactfe.report.figures.choice import shown_of
from contactfe.report.figures.ink import HAND, INK, PAPER, QUIET
from contactfe.report.figures.sheet import LINE, Columns, Sheet, spread, wrapped
from contactfe.solve.elastic import Floats
from contactfe.solve.pair import pressure_at

_REACH = 1.3
"""Half of the axis, in the widest half-width."""


def pressure_figure(comparison: Comparison, shown: tuple[SectionResult, ...]) -> Figure:
    """One column a section: pressure and its Hertz curve above, their difference below."""
    units = comparison.case.display
    columns = Columns(len(shown), 2.3 if len(shown) > 1 else 4.2, 1.9, 0.75, 0.16, top=0.86)
    width = columns.sheet_width
    caption = wrapped(_caption(comparison, shown), width - 0.4)
    sheet = Sheet(width, columns.bottom + 0.3 + LINE * len(caption) + 0.1)
    reach = units.length.of(_REACH * max(r.half_width.value for r in shown))
    most = units.stress.of(1.22 * max(max(r.peak_pressure.value, _hertz(r)[1]) for r in shown))
    rests = [_difference(r) for r in shown]
    limits = spread([-0.5, 0.5, *(float(v) for _, rest in rests for v in rest)])
    for k, (result, rest) in enumerate(zip(shown, rests, strict=True)):
        upper, lower = columns.pair(sheet, k, result.section.name, _note(result, units))
        _pressure(upper, result, reach, units)
        upper.set(xlim=(-reach, reach), ylim=(0.0, most))
        upper.tick_params(labelbottom=False)
        lower.axhline(0.0, color=QUIET, linewidth=0.7)
        x, percent = rest
        lower.plot(
            units.length.of(x), percent, color=HAND, marker="o", markersize=2.0, linewidth=0.8
        )
        lower.set(xlim=(-reach, reach), ylim=limits)
        lower.set_xlabel(f"x, from the load line [{units.length.name}]")
        if k == 0:
            upper.set_ylabel(f"contact pressure [{units.stress.name}]")
            lower.set_ylabel("difference\n[% of p₀]")
            lines, labels = upper.get_legend_handles_labels()
    place = (columns.left / width, 1 - (columns.bottom + 0.1) / sheet.height)
    sheet.figure.legend(
        lines, labels, loc="center left", bbox_to_anchor=place, ncols=3, borderaxespad=0.0
    )
    sheet.text(0.2, columns.bottom + 0.3, "\n".join(caption), size=8, linespacing=1.25)
    return sheet.figure


def _pressure(ax: Axes, result: SectionResult, reach: float, units: Display) -> None:
    """Pressure over x from -``reach`` to ``reach``, in the units shown."""
    state, length, stress = result.reading.state, units.length, units.stress
    a, p0 = _hertz(result)
    # Evenly spaced points, and the edges of both patches, where the curves meet the axis upright.
    x = np.union1d(length.held * np.linspace(-reach, reach, 401), [-a, a])
    nodes, pressures = length.of(state.x), stress.of(state.pressure)
    ax.plot(nodes, pressures, "o", color=INK, markersize=2.4, label="computed, at nodes")
    ax.plot(
        length.of(x), stress.of(pressure_at(state, x)), color=INK, linewidth=1.0, label="computed"
    )
    ax.plot(
        length.of(x), stress.of(hertz.pressure(x, a, p0)),
        color=HAND, linewidth=1.4, dashes=(4, 2), label="Hertz, half-space",
    )  # fmt: skip
    top = int(np.argmax(pressures))
    peak = words.pair(result.peak_pressure, stress)
    ax.plot(
        nodes[top], pressures[top], "o",
        color=PAPER, markeredgecolor=INK, markersize=5.5, zorder=5,
    )  # fmt: skip
    ax.annotate(
        f"{peak} {stress.name} at x = {abs(nodes[top]):.2g}", (nodes[top], pressures[top]),
        xytext=(0, 8), textcoords="offset points", ha="center", weight="bold",
    )  # fmt: skip


def _note(result: SectionResult, units: Display) -> str:
    length, stress = units.length, units.stress
    a, p0 = _hertz(result)
    return (
        f"{words.size(result.section, units)}\n"
        f"half-width a = {words.pair(result.half_width, length)} {length.name}\n"
        f"Hertz: a = {significant(length.of(a))} {length.name},"
        f" p₀ = {significant(stress.of(p0))} {stress.name}"
    )


def _difference(result: SectionResult) -> tuple[Floats, Floats]:
    """Where the nodes lie, mm, and (computed − Hertz)/p0 there, %."""
    state = result.reading.state
    a, p0 = _hertz(result)
    return state.x, 100.0 * (state.pressure - hertz.pressure(state.x, a, p0)) / p0


def _hertz(result: SectionResult) -> tuple[float, float]:
    """Half-width, mm, and peak pressure, MPa, by Hertz."""
    a, p0 = result.hand_value("hertz_half_width"), result.hand_value("hertz_peak_pressure")
    assert a is not None  # both hold for every section
    assert p0 is not None
    return a, p0


def _caption(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    case = comparison.case
    return (
        f"{words.one_line(case.title)}: contact pressure between post and plate at"
        f" {case.display.line_load.text(case.line_load)}, {case.state}. Below: computed less Hertz,"
        f" in % of the Hertz peak pressure p₀. {shown_of(comparison, shown)}"
    )
