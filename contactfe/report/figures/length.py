"""Line load and gap along the post over the contact, for each section shown."""

import numpy as np
from matplotlib.figure import Figure
from numpy.typing import NDArray

from contactfe.assess.results import Comparison, LengthResult, SectionResult
from contactfe.case.display import Display, significant
from contactfe.report import words
from contactfe.report.figures.choice import shown_of
from contactfe.report.figures.ink import ACROSS, ALONG, HAND, INK, QUIET
from contactfe.report.figures.panels import caption, few, heads, name_lines, panels, spread

_POST, _FACE = "post, bent away", "face of the plate, undented"


def length_figure(comparison: Comparison, shown: tuple[SectionResult, ...]) -> Figure:
    """One column a section: line load over the distance from the root, and below who moves where.

    Below stand the deflection of the post and the face of the plate, whose distance is the
    approach: where the face lies above the post's line, they press on each other.
    """
    units = comparison.case.display
    figure, columns = panels(len(shown), (1.6, 1.4))
    shares = [(r, r.length) for r in shown if r.length is not None]
    heads(list(columns[:, 0]), [(r.section.name, _note(r, share, units)) for r, share in shares])
    most = 1.25 * max(units.line_load.of(share.peak_line_load) for _, share in shares)
    moved = [v for _, share in shares for v in (*share.deflection, *_face(share).tolist())]
    limits = spread([units.length.of(v) for v in moved], 0.12)
    for (upper, lower), (result, share) in zip(columns, shares, strict=True):
        z = units.length.of(np.array(share.z))
        q = units.line_load.of(np.array(share.line_load))
        ends = spread([float(z[0]), float(z[-1])], 0.06)
        upper.fill_between(z, q, 0.0, color=ACROSS, alpha=0.25, linewidth=0.0)
        upper.plot(z, q, color=INK, label="line load")
        mean = units.line_load.of(share.mean_line_load)
        upper.plot([z[0], z[-1]], [mean, mean], color=QUIET, dashes=(4, 2), label="mean line load")
        top = int(np.argmax(q))
        near = top < len(z) / 3, top > 2 * len(z) / 3
        upper.plot(z[top], q[top], "o", color=INK, markersize=4.0, clip_on=False)
        upper.annotate(
            f"{units.line_load.text(share.peak_line_load)}", (z[top], q[top]),
            xytext=(4 if near[0] else -4 if near[1] else 0, 5), textcoords="offset points",
            ha="left" if near[0] else "right" if near[1] else "center", weight="bold",
        )  # fmt: skip
        upper.set(xlim=ends, ylim=(0.0, most))
        upper.tick_params(labelbottom=False)
        lower.plot(
            z, units.length.of(np.array(share.deflection)), color=HAND, linewidth=1.6,
            label=_POST,
        )  # fmt: skip
        lower.plot(
            z, units.length.of(_face(share)), color=ALONG, dashes=(6, 1.5, 1.5, 1.5),
            label=_FACE,
        )  # fmt: skip
        lower.set(xlim=ends, ylim=limits, xlabel=f"z, from the root [{units.length.name}]")
        few(upper, lower)
        name_lines(upper, {"mean line load": "mean"})
        name_lines(lower, {_POST: "post", _FACE: "plate"})
        if result is shown[0]:
            upper.set_ylabel(f"line load [{units.line_load.name}]")
            lower.set_ylabel(f"displacement [{units.length.name}]")
    title = words.one_line(comparison.case.title)
    caption(figure, _caption(comparison, shown), f"{title}:")
    return figure


def _face(share: LengthResult) -> NDArray[np.float64]:
    """Where the face of the plate would be if nothing gave way under it, mm."""
    face: NDArray[np.float64] = np.add(share.deflection, share.approach)
    return face


def _note(result: SectionResult, share: LengthResult, units: Display) -> str:
    degrees, place = units.angle, significant(units.length.of(share.peak_from_root))
    lines = [
        words.size(result.section, units),
        f"peak {significant(share.peak_over_mean, 3)} × mean",
        f"at z = {place} {units.length.name}",
        f"tilt {significant(degrees.of(share.tilt), 3)} {degrees.name}",
        f"bent by {significant(degrees.of(share.slope), 3)} {degrees.name}",
    ]
    if share.parted_length > 0.0:
        parted = significant(units.length.of(share.parted_length), 3)
        lines.append(f"parted over {parted} {units.length.name}")
    return "\n".join(lines).replace("-", "−")


def _caption(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    case, units = comparison.case, comparison.case.display
    assert case.contact_length is not None
    force = units.force.text(case.line_load * case.contact_length)
    parts = [
        "line load along the post over its contact,"
        f" {force} in all, at the tilt of the largest peak of those tried. Bent: the slope of the"
        " post in the middle of the contact.",
        "Below, displacement in the direction that the plate moves: the post's deflection, and"
        " where the face of the plate would stand if nothing gave way; where the face is above the"
        " post, the two press on each other by that distance, and where it is below they have"
        " parted." + ("" if case.finite else " Each slice is taken for itself."),
        shown_of(comparison, shown),
    ]
    return " ".join(part for part in parts if part).rstrip()


def length_alt(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    """The figure in words."""
    units = comparison.case.display
    peaks = "; ".join(
        f"{words.one_line(r.section.name)}, {units.line_load.text(r.length.peak_line_load)} at"
        f" {units.length.text(r.length.peak_from_root)} from the root,"
        f" {significant(r.length.peak_over_mean, 3)} times the mean"
        for r in shown
        if r.length is not None
    )
    return f"Line load and displacement along the post over its contact. Peak line load: {peaks}."
