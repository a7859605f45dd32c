"""Force and displacement of an impact over time, and the loop of force over approach."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from contactfe.assess.impact import ImpactResult, SectionImpact
from contactfe.case.display import Display
from contactfe.hand.formula import Worked
from contactfe.impact.history import History, history
from contactfe.impact.motion import Floats
from contactfe.report import words
from contactfe.report.figures.ink import ACROSS, ALONG, INK, QUIET
from contactfe.report.figures.panels import caption, legend, name_lines, panels
from contactfe.report.impact_given import along_the_axis, contact
from contactfe.report.impact_nearby import LABELS, nearby_force, sensitivity
from contactfe.report.impact_page import ending

_FORCE: dict[str, Any] = {"color": INK, "linewidth": 1.6}
_DAMPERS: dict[str, Any] = {"color": ALONG, "linewidth": 1.2, "linestyle": (0, (5, 2))}
_FORM: dict[str, Any] = {"color": QUIET, "linewidth": 0.9, "linestyle": (0, (1, 2))}
_TENTH: dict[str, Any] = {"color": ACROSS, "linewidth": 1.0, "marker": "_", "markersize": 7}
_BUMPER: dict[str, Any] = {"color": ALONG, "linewidth": 1.2, "linestyle": (0, (5, 2))}
_APPROACH: dict[str, Any] = {"color": ACROSS, "linewidth": 1.6}

_NAMES = {
    "contact force": "contact", "force of the dampers": "dampers", "floor": "floor",
    "bumper": "bumper", "approach of floor and stop": "approach",
    "closed form, bound or limit": "closed form",
}  # fmt: skip
"""Of the lines, where they run."""

_CUTS = 4
_SPARE = 1.08
_ABOUT_THE_PEAK = 3.0
"""Width of the panel about the peak, in times from closure to it."""

_AT_CLOSURE = 0.05
"""Share of the impact that it shows where a dashpot puts the peak at closure itself."""

_ALIKE = 0.7
"""Share of the impact from which that panel would show what the one of the whole shows."""


def impact_figure(result: ImpactResult, impact: SectionImpact) -> Figure:
    """Four panels: forces over the impact and about the peak, displacements, and the loop.

    Where the whole impact is little more than its peak, velocities take the place of the second.
    """
    figure, ((whole, displacement), (close, loop)) = panels(2, (1.75, 1.75), sharey=False)
    fine = history(impact.response, _CUTS)
    units = result.case.display
    most = units.force.of(max([impact.peak_contact_force.value, *_forms(impact), *_tenth(impact)]))
    at = impact.peak_contact_force.time
    span = _ABOUT_THE_PEAK * at if at > 0.0 else _AT_CLOSURE * fine.time[-1]
    apart = span < _ALIKE * fine.time[-1]
    for ax, title in (
        (whole, "forces, the whole impact"),
        (close, "forces, about the peak" if apart else "velocity"),
        (displacement, "displacements since closure, no ground motion"),
        (loop, "force over approach"),
    ):
        ax.set_title(title)
    _forces(whole, result, impact, fine, most)
    if apart:
        _forces(close, result, impact, fine, most)
        close.set_xlim(0.0, units.time.of(span))
    else:
        _velocities(close, result, fine)
    _displacements(displacement, result, fine)
    _loop(loop, impact, fine, units)
    for ax in (whole, close, displacement):
        name_lines(ax, _NAMES)
    legend(figure, (whole, displacement, loop))
    caption(figure, _caption(result, impact), _alone(result))
    return figure


def _forces(
    ax: Axes, result: ImpactResult, impact: SectionImpact, fine: History, most: float
) -> None:
    units = result.case.display
    time, force = units.time.of(fine.time), units.force
    for value in _forms(impact):
        ax.axhline(force.of(value), label="closed form, bound or limit", **_FORM)
    ax.plot(time, force.of(fine.contact_force), label="contact force", **_FORCE)
    if result.motion.dampers:
        ax.plot(time, force.of(fine.damper_force), label="force of the dampers", **_DAMPERS)
    peak = impact.peak_contact_force
    ax.plot(
        units.time.of(peak.time), force.of(peak.value), "o", color=INK,
        markersize=4, clip_on=False, zorder=4, label="peak contact force",
    )  # fmt: skip
    if tenth := _tenth(impact):
        ax.plot(
            [units.time.of(impact.peak_contact_force.time)] * len(tenth), force.of(np.array(tenth)),
            label="peak at ±10 % of displacement", **_TENTH,
        )  # fmt: skip
    low = min(0.0, float(force.of(fine.damper_force.min())))
    ax.set(
        xlim=(0.0, float(time[-1])), ylim=(_SPARE * low, _SPARE * most),
        xlabel=f"time after closure [{units.time.name}]", ylabel=f"force [{force.name}]",
    )  # fmt: skip
    ax.locator_params(axis="x", nbins=5)


def _tenth(impact: SectionImpact) -> list[float]:
    """Peak forces at a tenth less and more of displacement, as far as they were found."""
    return [
        one.peak_contact_force
        for one in impact.nearby
        if one.key != "pseudo_velocity" and one.peak_contact_force is not None
    ]


def _forms(impact: SectionImpact) -> list[float]:
    """Peak forces by closed form within its range, to be drawn as levels."""
    return [
        one.worked.value
        for one in impact.beside
        if one.worked.within_range and _is_force(one.worked, one.integrated)
    ]


def _is_force(worked: Worked, found: float | None) -> bool:
    return worked.dimension == "force" and found is not None


def _displacements(ax: Axes, result: ImpactResult, fine: History) -> None:
    units = result.case.display
    time, length = units.time.of(fine.time), units.length
    if result.motion.held:
        ax.plot(time, length.of(fine.floor), label="floor", **_FORCE)
        ax.plot(time, length.of(fine.bumper), label="bumper", **_BUMPER)
    # Where the two are apart the approach is that of the gap between them.
    ax.plot(time, length.of(fine.approach), label="approach of floor and stop", **_APPROACH)
    ax.set(
        xlim=(0.0, float(time[-1])), xlabel=f"time after closure [{units.time.name}]",
        ylabel=f"displacement [{length.name}]",
    )  # fmt: skip
    ax.locator_params(axis="x", nbins=5)


def _velocities(ax: Axes, result: ImpactResult, fine: History) -> None:
    units = result.case.display
    time, velocity = units.time.of(fine.time), units.velocity
    ax.axhline(0.0, color=QUIET, linewidth=0.6)
    ax.plot(time, velocity.of(fine.floor_velocity), **_FORCE)
    if result.motion.held:
        ax.plot(time, velocity.of(fine.bumper_velocity), **_BUMPER)
    ax.set(
        xlim=(0.0, float(time[-1])), xlabel=f"time after closure [{units.time.name}]",
        ylabel=f"velocity [{velocity.name}]",
    )  # fmt: skip
    ax.locator_params(axis="x", nbins=5)


def _loop(ax: Axes, impact: SectionImpact, fine: History, units: Display) -> None:
    length, force = units.length, units.force
    touching = fine.approach >= 0.0
    approach: Floats = np.where(touching, fine.approach, np.nan)
    ax.plot(length.of(approach), force.of(fine.contact_force), **_FORCE)
    ax.set(
        xlim=(0.0, length.of(1.05 * impact.peak_approach.value)),
        ylim=(0.0, _SPARE * force.of(impact.peak_contact_force.value)),
        xlabel=f"approach of floor and stop [{length.name}]", ylabel=f"force [{force.name}]",
    )  # fmt: skip
    ax.locator_params(axis="x", nbins=5)


def _caption(result: ImpactResult, impact: SectionImpact) -> str:
    units = result.case.display
    force, time = (
        units.force.text(impact.peak_contact_force.value),
        units.time.text(impact.peak_contact_force.time),
    )
    names = [] if impact.section is None else [f"“{words.one_line(impact.section.name)}”"]
    if impact.level:
        names.append(f"level “{words.one_line(impact.level)}”")
    name = f"{', '.join(names)}: " if names else ""
    parts = [
        f"{name}the floor closes the gap at"
        f" {units.velocity.text(impact.response.impact.velocity)};"
        f" peak contact force {force}, {time} after closure.",
        *_sensitivity(result, impact),
        ending(impact, units),
    ]
    return " ".join(parts)


def _alone(result: ImpactResult) -> str:
    title, law = words.one_line(result.case.title), contact(result.motion, result.case.display)
    return " ".join((f"{title}. Contact: {law}.", *along_the_axis(result.case)))


def _sensitivity(result: ImpactResult, impact: SectionImpact) -> Iterator[str]:
    """The forces of the motions near the one stated, in one sentence, and what follows of them."""
    units = result.case.display
    said = []
    for one in impact.nearby:
        unit = f" {units.force.name}" if one.peak_contact_force else ""
        said.append(f"{LABELS[one.key]}: {nearby_force(one, units)}{unit}")
    if said:
        yield f"Beside it: {'; '.join(said)}. ω·u0 is no bound for an earthquake."
    yield from sensitivity(impact)


def impact_alt(result: ImpactResult, impact: SectionImpact) -> str:
    """The figure in words."""
    units = result.case.display
    return (
        "Forces and displacements of the impact over time, and force over approach. Peak contact"
        f" force {units.force.text(impact.peak_contact_force.value)} at"
        f" {units.time.text(impact.peak_contact_force.time)} after closure, approach"
        f" {units.length.text(impact.peak_approach.value)}."
    )
