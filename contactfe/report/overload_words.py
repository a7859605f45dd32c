"""What the pages and figures of strikes beyond first yield share: units, reasons, ends."""

from collections.abc import Iterator, Sequence

from contactfe.assess.limits import LARGEST_DISPLACEMENT, LARGEST_PATCH
from contactfe.assess.overload.result import Ended, OverloadResult, SectionOverload
from contactfe.assess.overload.run import MOST_FACTOR
from contactfe.assess.overload.strikes import LARGEST_STRAIN
from contactfe.assess.value import Value
from contactfe.case.display import Display, Unit, significant
from contactfe.report import words

FINE = {"mm": "µm", "in": "mil"}
"""What dents are shown in, by the unit of lengths: a thousandth of it; a mil is 0.001 in."""

WHY: dict[Ended, str] = {
    "": f"above {MOST_FACTOR:g} times first yield",
    "collapse": "the section collapses before",
    "no solution": "no equilibrium was found",
    "plastic strain": f"plastic strain above {100 * LARGEST_STRAIN:g} %, beyond small strains",
    "half-width": f"half-width above {LARGEST_PATCH:g} of the radius, or no room on the plate",
    "displacement": f"displacement above {LARGEST_DISPLACEMENT:g} of the radius",
    "first yield": "first yield itself is beyond the range of the model",
}
"""Why a load is left out, by how the path of loading ended."""

END = "a plastic zone goes through the wall or the section collapses"
"""What the reserve of a section lasts until."""


def in_fine(value: Value, units: Display) -> str:
    """A depth in the unit that dents are shown in, with its uncertainty."""
    return pair(value.over(units.length.held / 1000.0))


def percent(value: Value) -> str:
    """A strain or a share in per cent, with its uncertainty."""
    return pair(value.over(0.01))


def pair(value: Value, unit: Unit | None = None) -> str:
    """A figure and its uncertainty; nothing without one is 0."""
    return "0" if value.value == value.uncertainty == 0.0 else words.pair(value, unit)


def named(name: str) -> str:
    """The name of a section in a sentence."""
    return f"“{words.one_line(name)}”"


def reserve_words(of: SectionOverload, units: Display) -> str:
    """The mean line load of that end, which of the two it is, and how it stands to first yield."""
    load = units.line_load
    if of.first_yield is None:
        return "not known"
    end = of.reserve or Value(of.solved_to, 0.0)
    times = f"{significant(end.value / of.first_yield.value, 3)} times first yield"
    if of.reserve is None:
        return f"not reached up to {load.text(end.value * of.whole)}, {times}"
    what = "through the wall" if of.reserve is of.spans else "collapse"
    return f"{what} at {words.pair(end.over(1.0 / of.whole), load)} {load.name}, {times}"


def left_out(result: OverloadResult, of: Sequence[SectionOverload]) -> Iterator[str]:
    """Each load that a section was not struck with, and why."""
    units = result.case.display
    for section in of:
        if section.left_out:
            loads = [units.line_load.number(load * section.whole) for load in section.left_out]
            at = f"{named(section.section)} at {', '.join(loads)} {units.line_load.name}"
            yield f"Left out: {at}: {WHY[section.ended]}."
