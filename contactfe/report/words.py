"""The phrases and number formats that the table, the notebook page and the figures share."""

import math
from collections.abc import Iterator, Sequence

from contactfe.assess.results import Along, BodyResult, PatchResult, SectionResult
from contactfe.assess.value import Body, Value
from contactfe.case import Case, Section
from contactfe.case.display import Display, Unit, significant
from contactfe.case.holds import PostSupport

_PLANE = (
    "The figures are those of a static, {elastic} {idealisation}: straight bodies {along},"
    " {yields}no impact, {ends}, friction after Coulomb only where the case states it."
)
_FULL = "in full contact along the post"

JUDGEMENT = (
    "They do not take the place of the judgement of a licensed engineer.",
    "The building code in force where the stop is built governs.",
)
"""What must stand on every page that may end in a calculation file."""

STEPS = (
    "In steps.txt, among the files of these results, every formula and clause is written out with"
    " its numbers; the plate is loaded at the middle of the contact as it was solved."
)
"""Where the hand calculation is to be read."""

UNCERTAINTY = "±: numerical uncertainty, from a coarser mesh; not that of loads, sizes or steel."
"""Below tables that have it beside their figures."""

BEYOND = "beyond model"
"""In place of a line load at first yield that lies beyond the range of the model."""


def cautions(case: Case, *, evenly: bool = False, yields: bool = False) -> tuple[str, ...]:
    """``JUDGEMENT``, and before it what the model leaves out of the case.

    ``evenly`` where the figures are by hand or of a slice alone, so that the line load counts as
    even although the post would share it, and no contact as finite; ``yields`` where steel does.
    """
    if case.alignment is None:
        along = _FULL
    elif evenly:
        along = f"{_FULL} (its bending does not share the load here)"
    else:
        along = "that press on each other along the post as its bending shares the load"
    idealisation, ends = "plane (2D) idealisation", "no ends"
    if case.finite and not evenly:
        idealisation = "idealisation, plane (2D) but for the post over its length"
        ends = "no sharp ends of the contact"
    steel = ("elastic-plastic", "") if yields else ("elastic", "no yielding, ")
    model = _PLANE.format(
        along=along, idealisation=idealisation, ends=ends, elastic=steel[0], yields=steel[1]
    )
    return (model, *JUDGEMENT)


def with_uncertainty(value: Value, unit: Unit | None = None) -> tuple[str, str]:
    """A value and its uncertainty, both to the place of the uncertainty's first digit.

    They are in that unit, without its name; a ratio has none.

    >>> from contactfe.case.display import SI
    >>> with_uncertainty(Value(404.62, 0.81), SI.stress), with_uncertainty(Value(46.93, 0.14))
    (('404.6', '± 0.8'), ('46.9', '± 0.1'))
    """
    figure, uncertainty = value.value, value.uncertainty
    if unit is not None:
        figure, uncertainty = unit.of(figure), unit.of(uncertainty)
    decimals = _decimals(uncertainty) if uncertainty > 0.0 else 3
    return fixed(figure, decimals), f"± {uncertainty:.{decimals}f}"


def _decimals(uncertainty: float) -> int:
    """Up to the first digit of an uncertainty; 0.098 is shown as 0.1, and so has one."""
    return max(0, -_power(float(f"{uncertainty:.1g}")))


def fixed(figure: float, decimals: int) -> str:
    """A figure with that many decimals, and no minus sign before nothing."""
    text = f"{figure:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0.0 else text


def alike(figures: Sequence[float], scale: float, unit: Unit) -> list[str]:
    """Figures that are added up, all with the decimals that give ``scale`` five digits.

    Without the name of the unit. What is nothing beside the scale shows as nothing.

    >>> from contactfe.case.display import SI
    >>> alike([1500.0, -300.04, -2e-9], 1500.0, SI.line_load)
    ['1500.0', '-300.0', '0.0']
    """
    decimals = max(0, 4 - math.floor(math.log10(unit.of(scale))))
    return [fixed(unit.of(figure), decimals) for figure in figures]


def pair(value: Value, unit: Unit | None = None) -> str:
    """A value and its uncertainty on one line, without the name of the unit."""
    return " ".join(with_uncertainty(value, unit))


_MOST_DECIMALS = 9


def ratio_text(ratio: float, uncertainty: float = 0.0, digits: int = 4) -> str:
    """A ratio to that many significant digits, or to those of its uncertainty, which follows.

    It has as many more as tell it from 1 and show whether, the uncertainty added, it is above 1.

    >>> ratio_text(0.51234), ratio_text(1.0003), ratio_text(0.99997), ratio_text(1.0)
    ('0.5123', '1.0003', '0.99997', '1.000')
    >>> ratio_text(0.9962, 0.0042), ratio_text(0.9961, 0.0038), ratio_text(1.003, 0.01)
    ('0.9962 ± 0.0042', '0.996 ± 0.004', '1.003 ± 0.010')
    """
    if not math.isfinite(ratio):
        return "infinite" if ratio > 0.0 else "not known"
    first = max(0, digits - 1 - _power(ratio)) if uncertainty == 0.0 else _decimals(uncertainty)
    for decimals in range(first, max(first, _MOST_DECIMALS) + 1):
        shown = round(ratio, decimals), round(uncertainty, decimals)
        above = round(sum(shown), decimals) > 1.0
        if above == (ratio + uncertainty > 1.0) and (shown[0] != 1.0 or ratio == 1.0):
            break
    text = fixed(ratio, decimals)
    return text if uncertainty == 0.0 else f"{text} ± {uncertainty:.{decimals}f}"


def _power(figure: float) -> int:
    """The power of ten of a figure's first digit; 0 of nothing."""
    return 0 if figure == 0.0 else math.floor(math.log10(abs(figure)))


def peak(body: BodyResult, units: Display) -> str:
    """The peak von Mises stress of a body and its uncertainty, on one line, without the unit."""
    return pair(body.peak_von_mises, units.stress)


def size(section: Section, units: Display) -> str:
    """Outside diameter, further sizes such as a wall, and what it is where they do not say it.

    >>> from contactfe.case.display import SI, US
    >>> size(Section("a", 150.0, 25.0), SI), size(Section("b", 152.4), US)
    ('150 × 25 mm', '6 in solid')
    """
    geometry, length, D = section.geometry, units.length, section.outside_diameter
    if not geometry.sizes:
        return f"{length.text(D)} {geometry.kind}"
    (_, wall), *others = geometry.sizes
    parts = [f"{length.number(D)} × {length.of(wall):.4g} {length.name}"]
    parts += [f"{name} {length.text(size)}" for name, size in others]
    return ", ".join([*parts, geometry.kind] if geometry.kind else parts)


def limit(case: Case) -> str:
    """What the peak must stay below: the yield strength, or that over the margin asked for."""
    return "yield" if case.yield_margin == 1.0 else f"yield / {case.yield_margin:g}"


def utilisation(case: Case) -> str:
    """What a utilisation is."""
    return (
        f"Utilisation: peak von Mises stress over {limit(case)}; the verdict counts the numerical"
        " uncertainty against the section."
    )


def beside_limit(body: Body) -> str:
    """Where the peak of a body lies beside :func:`limit`, in words that need no colour."""
    if body.satisfied:
        return "below"
    return "ABOVE" if body.utilisation.value > 1.0 else "NOT CLEAR"


def first_yield(body: BodyResult, units: Display) -> str:
    """Line load at first yield and its uncertainty, without the unit."""
    load = body.first_yield_line_load
    return BEYOND if load is None else pair(load, units.line_load)


def how_held(case: Case, *, evenly: bool = False) -> str:
    """What is modelled: post, plate, plane state, load, and the contact where it is not plain.

    ``evenly`` where the line load counts as even although the post would share it.
    """
    parts = [
        post_held(case),
        f"plate {plate_size(case)} {plate_held(case)}",
        case.state,
        f"line load {line_load(case, evenly=evenly)}",
        corner(case),
        contact(case),
    ]
    return "; ".join(part for part in parts if part)


def line_load(case: Case, *, evenly: bool = False) -> str:
    """The line load that the case states; the mean of one that is spread unevenly.

    ``evenly`` as in :func:`how_held`.
    """
    text = case.display.line_load.text(case.line_load)
    if case.alignment is None:
        return text if case.distribution is None else f"{text}, even along the post as stated"
    mean = f"{text} on average along the post"
    if evenly:
        return f"{mean}, taken as even"
    before = " before a straight plate" if case.alignment.assumed else ""
    return f"{mean}, each section at its own peak{before}"


def post_held(case: Case) -> str:
    """How the post is held, and the sections that are held otherwise."""
    others: dict[PostSupport, list[str]] = {}
    for section in case.sections:
        if case.hold(section) != case.held_by:
            others.setdefault(case.support(section), []).append(f"“{one_line(section.name)}”")
    but = [f"{', '.join(names)} {support.words}" for support, names in others.items()]
    return f"post {case.post.support.words}" + (f" ({'; '.join(but)})" if but else "")


def plate_held(case: Case) -> str:
    """How the plate is held, with the stiffness of elastic supports."""
    spring = case.plate.spring
    stiffness = "" if spring is None else case.display.line_stiffness.text(spring)
    return case.plate.support.words.format(spring=stiffness)


def corner(case: Case) -> str:
    """The second plate of a corner; empty where there is none."""
    if case.corner is None:
        return ""
    text = (
        "in a corner: an equal second plate at right angles, struck at the same time with"
        f" {case.display.line_load.text(case.corner.line_load)}"
    )
    if case.corner.offset == 0.0:
        return text
    return f"{text}, {case.display.length.text(case.corner.offset)} along it from its middle"


def contact(case: Case) -> str:
    """Offset, direction of motion and friction of the contact, each where it is not trivial."""
    stated, parts = case.contact, []
    if stated.offset != 0.0:
        offset = case.display.length.text(stated.offset)
        parts.append(f"struck {offset} along the plate from its middle")
    if stated.angle != 0.0:
        angle = case.display.angle.text(abs(stated.angle))
        side = "+x" if stated.angle > 0.0 else "−x"
        parts.append(f"direction of motion {angle} from the plate's normal, towards {side}")
    if stated.friction != 0.0:
        angle_unit = case.display.angle
        cone = significant(angle_unit.of(math.atan(stated.friction)), 3)
        parts.append(f"friction {stated.friction:g} (friction angle {cone} {angle_unit.name})")
    return ", ".join(parts)


def tangential(patch: PatchResult, unit: Unit) -> str:
    """Tangential load on the plate, without the name of the unit.

    Full sliding sets it, at friction times the line load, and then it has no uncertainty.
    """
    load = patch.tangential_load
    return pair(load, unit) if load.uncertainty > 0.0 else unit.number(load.value)


def ratio(patch: PatchResult) -> str:
    """Tangential load over line load; as above."""
    load = patch.tangential_load
    of_q = Value(load.value / patch.line_load, load.uncertainty / patch.line_load)
    return pair(of_q) if of_q.uncertainty > 0.0 else significant(of_q.value, 3)


def shakedown(case: Case) -> str:
    """What the shakedown limit is, and what it is not."""
    sliding = ""
    if case.contact.friction > 0.0:
        sliding = " in full sliding, so that it may lie below first yield where a contact sticks"
    return (
        f"Shakedown limit: by hand, on a half-space{sliding}; up to it, repeated impacts that pass"
        " over the contact cease to yield it. It is no elastic check and says nothing of fatigue."
    )


def percent(share: float) -> str:
    """A small share, as that of an uncertainty.

    >>> percent(0.0031), percent(0.02)
    ('0.31 %', '2 %')
    """
    return f"{100 * share:.2g} %"


def zones(patch: PatchResult, unit: Unit) -> str:
    """What the parts of a patch do, from left to right, without the unit; empty without friction.

    >>> from types import SimpleNamespace as Patch
    >>> from contactfe.case.display import SI
    >>> parts = (Along("slip", -1.114, 0.402), Along("stick", 0.402, 1.1149))
    >>> zones(Patch(zones=parts, half_width=Value(1.114, 0.003)), SI.length)
    'slip -1.11 to 0.40, stick 0.40 to 1.11'
    """
    decimals = max(0, 2 - math.floor(math.log10(unit.of(patch.half_width.value))))

    def text(zone: Along) -> str:
        ends = (fixed(unit.of(x), decimals) for x in (zone.start, zone.end))
        return f"{zone.motion} {' to '.join(ends)}"

    return ", ".join(map(text, patch.zones))


def accuracy(case: Case, result: SectionResult) -> str:
    """Whether a section reached the accuracy that the case asks for; empty where it asks none."""
    if case.accuracy is None:
        return ""
    head = f"“{one_line(result.section.name)}”: accuracy of {percent(case.accuracy)}"
    if result.stopped:
        return f"{head} NOT REACHED: {result.stopped}."
    worst = max(
        body.peak_von_mises.uncertainty / body.peak_von_mises.value for _, body in result.bodies
    )
    return f"{head} reached; the peaks are uncertain by {percent(worst)} at most."


def plate_size(case: Case) -> str:
    """Width and thickness of the plate."""
    length = case.display.length
    return f"{length.number(case.plate.width)} × {length.text(case.plate.thickness)}"


def one_line(text: str) -> str:
    """A title or name without line breaks, which a case file may hold."""
    return " ".join(text.split())


def some(names: Sequence[str], most: int) -> str:
    """The first names in quotation marks, and how many more there are.

    >>> some(["a", "b", "c"], 2), some(["a"], 2)
    ('“a”, “b” and 1 more', '“a”')
    """
    shown = ", ".join(f"“{one_line(name)}”" for name in names[:most])
    return f"{shown} and {len(names) - most} more" if len(names) > most else shown


def without_bending(case: Case, sections: Sequence[Section]) -> Iterator[str]:
    """That the bending of these along their axis is in no figure, and why; nothing for none."""
    if not sections:
        return
    of, why = "", "as the case states no [cantilever]"
    if case.cantilever is not None:
        names = ", ".join(f"“{one_line(section.name)}”" for section in sections)
        of = f" of {names}" if len(sections) < len(case.sections) else ""
        why = "which is worked out only for rounds held by beam shear on one plate"
    yield f"NOT INCLUDED is the bending of the post{of} along its axis, {why}"
