"""What the drawing of the post has to say, and what is to be looked at after a strike.

It is of the section that is to be made: that of the least K among those that pass every check. All
of it is stated in the case or was found for that section; nothing is decided here.
"""

from collections.abc import Iterator

from contactfe.assess.as_made import yields_first
from contactfe.assess.results import Comparison, SectionResult
from contactfe.case import Case, Material
from contactfe.case.display import significant
from contactfe.hand.formula import Worked
from contactfe.report import words
from contactfe.report.blocks import GAP, Block, Column, Line, Page, Row, Table, framed, texts
from contactfe.report.verdicts import HEADING, TONE, open_lines

_NOT_STATED = "not stated"

_MICRO = 1e3
_MICRO_INCH = 1e6
"""Units of roughness, µm and µin, in mm and inches."""

_SIDES = 3.0
"""Half-widths on either side of the load line that the contact may wander to and stay on a surface
that is as smooth as it asks for; a choice made here."""


def drawing_note(comparison: Comparison) -> Page:
    """The whole note."""
    case, result = comparison.case, comparison.to_make
    groups = (_post, _contact, _root, _plate, _after_a_strike)
    return framed(
        f"{case.title}: note for the drawing",
        words.cautions(case),
        *_which(comparison, result),
        Table(
            (Column("item", most=24), *texts("note", most=92)),
            tuple(tuple(rows) for group in groups if (rows := list(group(case, result)))),
        ),
        GAP,
        *open_lines(case, comparison.open_items),
    )


def _which(comparison: Comparison, result: SectionResult) -> Iterator[Block]:
    case, name = comparison.case, words.one_line(result.section.name)
    stop = [check for check in comparison.checks if not check.section and not check.passes]
    if result.satisfied:
        least = "which passes every check of a section"
        if len(comparison.sections) > 1:
            least = "the least K of those that pass every check of a section"
        yield Line(f"Section “{name}”: {least}.", "good")
    else:
        yield Line(
            f"NOT TO BE MADE: section “{name}”, of the least K, {HEADING[result.verdict]}, and none"
            " passes.",
            "bad",
        )
    for check in stop:
        text = f"Of the stop: {check.label} {HEADING[check.verdict]}."
        yield Line(text, TONE[check.verdict])
    yield Line(f"Solved: {words.how_held(case)}.")


def _post(case: Case, result: SectionResult) -> Iterator[Row]:
    section, units = result.section, case.display
    length, limits = units.length, result.limits
    yield "post", words.size(section, units)
    if section.stock is not None:
        yield "size to order", section.stock
    if limits is None:
        yield "outside diameter", length.text(section.outside_diameter)
        if section.geometry.wall is not None:
            yield (
                "wall",
                f"{length.text(section.geometry.wall)} nominal; what it may fall short by or exceed"
                f" is {_NOT_STATED}, and was not solved",
            )
    else:
        nominal = section.geometry.wall
        assert nominal is not None  # only a tube has limits
        for what, of, (least, most) in (
            ("outside diameter", section.outside_diameter, limits.outside_diameter),
            ("wall", nominal, limits.wall),
        ):
            yield (
                what,
                f"{length.text(of)} nominal, {length.number(least)} to {length.text(most)}",
            )
        yield "limits by", limits.source
    if section.infill is not None:
        yield "infill", "bonded, as stated in the case"
    steel = case.post_material(section)
    yield "steel of the post", _steel(case, steel, section.steel or case.post.steel)
    yield "certificate", _certificate(case, steel)
    if (cantilever := case.cantilever) is not None:
        tip = _NOT_STATED if cantilever.tip is None else length.text(cantilever.tip)
        yield (
            "length",
            f"{length.text(cantilever.length)} from the root to the middle of the contact;"
            f" from there to the free end {tip}",
        )
    yield "straightness", _straightness(case)
    yield from _tilt(case)


def _steel(case: Case, steel: Material, stated: str | Material) -> str:
    stress, fu = case.display.stress, steel.ultimate_strength
    ultimate = f"tensile strength {_NOT_STATED}" if fu is None else f"tensile {stress.text(fu)}"
    name = "as stated in the case" if isinstance(stated, Material) else steel.name
    return f"{name}: yield at least {stress.text(steel.yield_strength)}, {ultimate}"


def _certificate(case: Case, steel: Material) -> str:
    stress, fu = case.display.stress, steel.ultimate_strength
    tensile = "" if fu is None else f" and tensile strength of at least {stress.text(fu)}"
    return (
        "of the heat that is delivered, at this thickness: inspection certificate 3.1 of EN 10204,"
        " or a certified mill test report (from memory, not seen), with yield strength of at least"
        f" {stress.text(steel.yield_strength)}{tensile}"
    )


def _straightness(case: Case) -> str:
    bow = case.tolerance.straightness
    return f"bow of the axis at most {1e3 * bow:g} per 1000 of length" if bow else _NOT_STATED


def _tilt(case: Case) -> Iterator[Row]:
    """The tilt, each deviation from it by whom it binds, and the sum that was solved for."""
    alignment, tolerance = case.alignment, case.tolerance
    if alignment is None or (alignment.assumed and not alignment.off):
        yield "tilt of the plate", f"{_NOT_STATED}; a plate that stands straight is assumed"
        return
    assumed = ", assumed: none is stated" if alignment.assumed else ""
    yield (
        "tilt of the plate",
        f"{_angle(case, alignment.tilt)} of its face to the axis of the unbent post, positive where"
        f" the tip is met first{assumed}",
    )
    parts = (
        ("plate, as its bracket is made", alignment.misalignment),
        ("post and plate, as they are set", tolerance.tilt),
        ("post, by its bow: the slope at its tip", tolerance.bow_angle),
    )
    split = [f"{_angle(case, angle)} ({whose})" for whose, angle in parts if angle]
    if split:
        yield "it may be off by", f"either way, {' + '.join(split)}"
    low, high = (_angle(case, alignment.tilt + sign * alignment.off) for sign in (-1.0, 1.0))
    yield (
        "tilt in all",
        f"{low if low == high else f'from {low} to {high}'}: what was solved, and what the face of"
        " the plate and the post as it hangs must keep to on site",
    )


def _angle(case: Case, angle: float) -> str:
    unit = case.display.angle
    return f"{significant(unit.of(angle), 2)} {unit.name}"


def _contact(case: Case, result: SectionResult) -> Iterator[Row]:
    length, wide = case.display.length, max(p.half_width.upper for p in result.patches)
    along = case.contact_length
    where = "over the length of the plate, which is not stated"
    if along is not None:
        where = f"over {length.text(along)}"
        if case.cantilever is not None:
            ends = (case.cantilever.length + sign * along / 2.0 for sign in (-1.0, 1.0))
            where += f", from {' to '.join(length.text(end) for end in ends)} from the root"
    yield "load line", f"marked on the post on the side that is struck, {where}"
    smooth = _step(result, "greatest_roughness")
    if smooth is not None:
        side = significant(length.of(_SIDES * wide), 2)
        yield (
            "surface at the contact",
            f"{side} {length.name} on either side of the load line, and the plate opposite: no"
            " weld, seam, stamp or thick coating; smooth to a roughness, root mean square of both"
            f" surfaces together, of {_roughness(case, smooth.value)}: a rougher contact spreads"
            " wider than was solved, and flattens where it is struck",
        )
    drop = _step(result, "end_drop")
    if drop is not None:
        yield (
            "ends of the contact",
            "no sharp edge of the plate: its face stands back by"
            f" {significant(length.of(drop.value), 2)} {length.name} at the ends of the contact,"
            " by the logarithmic profile of the steps by hand",
        )


def _roughness(case: Case, mm: float) -> str:
    length = case.display.length
    if length.name == "mm":
        return f"{significant(_MICRO * mm, 2)} µm"
    return f"{significant(_MICRO_INCH * length.of(mm), 2)} µin"


def _root(case: Case, result: SectionResult) -> Iterator[Row]:
    root, cantilever, units = result.by_hand.root, case.cantilever, case.display
    if cantilever is None or root is None:
        return
    fixing, detail = cantilever.fixing, _NOT_STATED
    if fixing == "fillet weld" and cantilever.weld_throat is not None:
        detail = f"fillet weld all round, throat {units.length.text(cantilever.weld_throat)}"
    elif fixing == "groove weld":
        detail = (
            "groove weld of complete joint penetration, weld metal at least as strong as the post"
        )
    elif fixing == "socket" and cantilever.socket_depth is not None:
        detail = f"socket {units.length.text(cantilever.socket_depth)} deep, a close fit"
    if cantilever.electrode_strength is not None:
        detail += f"; electrodes of {units.stress.text(cantilever.electrode_strength)} or more"
    if cantilever.socket_yield is not None:
        detail += f"; its steel of a yield strength of {units.stress.text(cantilever.socket_yield)}"
    yield "root of the post", detail
    moment = units.unit("moment")
    torque = f", torque {moment.text(root.torque)}" if root.torque else ""
    yield (
        "on what holds it",
        f"force {units.force.text(root.force)}, moment {moment.text(root.moment)}{torque}, without"
        " factors",
    )


def _plate(case: Case, _: SectionResult) -> Iterator[Row]:
    yield "plate", f"{words.plate_size(case)}, {words.plate_held(case)}"
    yield "steel of the plate", _steel(case, case.plate_material, case.plate.steel)
    yield (
        "what holds the plate",
        "forces on bracket, weld or anchors: the table of that name of the comparison",
    )


def _after_a_strike(case: Case, result: SectionResult) -> Iterator[Row]:
    units, patch = case.display, result.contact
    length = units.length
    band = f"{significant(length.of(2.0 * patch.half_width.value), 2)} {length.name}"
    yield (
        "after any strike",
        f"look for a dent along the load line, on a band of {band} at the load of the case, and on"
        " the plate opposite; measure gap, tilt and straightness again",
    )
    if result.section.geometry.hollow:
        yield (
            "in the bore",
            "look for cracks and a changed bore under the load line and at the sides: the ring"
            " bends most there",
        )
    if case.cantilever is not None:
        yield (
            "at the root",
            "look for cracks of the weld all round, with dye or magnetic particles"
            if case.cantilever.fixing != "socket"
            else "look for a mouth of the socket that is pressed in, and for play",
        )
    if case.motion is not None and case.motion.dampers:
        yield "dampers", "length of stroke that was used, leaks, and their fixings"
    yield "a strike of more than", _first_yield(case, result)


def _first_yield(case: Case, result: SectionResult) -> str:
    """The force from which on no dent can be ruled out."""
    first = yields_first(case, result)
    if first is None:
        return "first yield is beyond the range of the model: not known"
    load, name = first
    if case.contact_length is None:
        text = case.display.line_load.text(load)
    else:
        text = case.display.force.text(load * case.contact_length)
    made = " at its nominal wall" if any(one.error for one in result.as_made) else ""
    return (
        f"{text} may yield the {name}{made} first, below the surface or at it: what it leaves is"
        " not known from an elastic analysis; the stop is then not relied on until it was inspected"
    )


def _step(result: SectionResult, key: str) -> Worked | None:
    return next((step.worked for step in result.by_hand.steps if step.key == key), None)
