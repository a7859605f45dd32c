"""Share of the slice's ring bending along the contact, for each section shown."""

import numpy as np
from matplotlib.figure import Figure

from contactfe.assess.results import Comparison, ReliefResult, SectionResult
from contactfe.case.display import significant
from contactfe.report import words
from contactfe.report.figures.choice import shown_of
from contactfe.report.figures.ink import ACROSS, INK, QUIET
from contactfe.report.figures.panels import caption, few, heads, legend, panels, spread


def relief_figure(comparison: Comparison, shown: tuple[SectionResult, ...]) -> Figure:
    """One column a section: the share above, the line load below, from the contact's middle."""
    units = comparison.case.display
    figure, columns = panels(len(shown), (1.6, 1.2))
    reliefs = [(r, r.relief) for r in shown if r.relief is not None]
    heads(list(columns[:, 0]), [(r.section.name, words.size(r.section, units)) for r, _ in reliefs])
    highest = max([1.0, *(share for _, of in reliefs for share in _known(of))])
    most = 1.15 * max(units.line_load.of(q) for _, of in reliefs for q in of.line_load)
    for (upper, lower), (result, of) in zip(columns, reliefs, strict=True):
        z = units.length.of(np.array(of.z))
        ends = spread([float(z[0]), float(z[-1])], 0.06)
        place = units.length.of(of.place)
        upper.axhline(1.0, color=QUIET, dashes=(4, 2), label="long even contact")
        if of.participation is None:
            upper.text(
                0.5, 0.25, "no bore", transform=upper.transAxes, ha="center", va="center",
                color=QUIET,
            )  # fmt: skip
        else:
            share = np.array([np.nan if s is None else s for s in of.participation])
            upper.plot(z, share, color=INK, label="share of its own ring bending")
            there = result.values["participation"].value
            upper.plot(place, there, "o", color=INK, markersize=4.0, label="stressed most")
            upper.annotate(
                significant(there, 2), (place, there), xytext=(7 if place < 0 else -7, -11),
                textcoords="offset points", ha="left" if place < 0 else "right", weight="bold",
            )  # fmt: skip
        upper.set(xlim=ends, ylim=(0.0, 1.15 * highest))
        upper.tick_params(labelbottom=False)
        q = units.line_load.of(np.array(of.line_load))
        lower.fill_between(z, q, 0.0, color=ACROSS, alpha=0.25, linewidth=0.0)
        lower.plot(z, q, color=ACROSS, label="line load")
        lower.axvline(place, color=QUIET, linewidth=0.7)
        lower.set(
            xlim=ends, ylim=(0.0, most),
            xlabel=f"z, from the middle [{units.length.name}]",
        )  # fmt: skip
        few(upper, lower)
        if result is shown[0]:
            upper.set_ylabel("share of ring bending [1]")
            lower.set_ylabel(f"line load [{units.line_load.name}]")
    legend(figure, columns.flat)
    title = words.one_line(comparison.case.title)
    caption(figure, _caption(comparison, shown), f"{title}:")
    return figure


def _known(of: ReliefResult) -> list[float]:
    return [share for share in of.participation or () if share is not None]


def _caption(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    parts = [
        "hoop stress at the bore under the load over that"
        " of a slice under the same line load, along the contact of the post that governs; the tip"
        " is to the right. Where the share is less than 1, neighbours hold the slice back, and its"
        " contact zone is relieved by that much less.",
        shown_of(comparison, shown),
    ]
    return " ".join(part for part in parts if part).rstrip()


def relief_alt(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    """The figure in words."""
    title = words.one_line(comparison.case.title)
    shares = "; ".join(
        f"{words.one_line(r.section.name)}, "
        + (significant(r.values["participation"].value, 2) if "participation" in r.values else "—")
        for r in shown
    )
    return (
        f"{title}: ring bending along the contact, as a share of that of a slice, above the line"
        f" load. Where the post is stressed most: {shares}."
    )
