"""Tables below the comparison: the contact, what holds the bodies, the infill, the mesh levels."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from contactfe.assess.results import Comparison, MeshLevel, SectionResult
from contactfe.assess.value import BODIES, Value
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.report import words
from contactfe.report.blocks import GAP, Block, Line, Row, Table, numbers, texts
from contactfe.report.equilibrium import about_origin, load_on_plate, loads_on_post, total
from contactfe.report.length import length_tables
from contactfe.report.plate_hold import holding_the_plate
from contactfe.report.relief import relief_tables
from contactfe.report.tolerance import tolerance_tables
from contactfe.solve.reactions import Reaction

_ROUNDING = 1e-7
"""Share of the line load up to which the reactions of two mesh levels count as the same."""

INFILL_NOTE = (
    "They are checked against the strengths that the case states of the infill and its bond; hold"
    " the others against what material and bond carry, as there is no verdict on them. What the"
    " post's bending along its axis does to them is not among these. The model keeps infill and"
    " steel bonded and elastic; where the bond would part or the infill crack or crush, the"
    " stresses of the steel are no longer these either."
)


def details(comparison: Comparison, results: Sequence[SectionResult]) -> Iterator[Block]:
    """Every table that the case calls for, for the sections in that order."""
    case = comparison.case
    yield from tolerance_tables(case, results)
    yield from relief_tables(case, results)
    yield from length_tables(case, results)
    if words.contact(case) or case.corner is not None:
        yield from _contacts(case, results)
    yield from holding_the_plate(case, results)
    yield from _holding(results, case.display)
    filled = [result for result in results if result.section.infill is not None]
    if filled:
        yield from _infills(filled, case.display)
    if case.accuracy is not None:
        yield from _levels(case, results)


def _contacts(case: Case, results: Sequence[SectionResult]) -> Iterator[Block]:
    """Where each contact is; with friction, what it carries along the plate and how it moves."""
    units = case.display
    length, load = f"[{units.length.name}]", f"[{units.line_load.name}]"
    patches = [patch for result in results for patch in result.patches]
    rubs = any(patch.motion != "no friction" for patch in patches)
    columns = (
        *texts("section", "on the", folds=True, most=32),
        *numbers(f"middle at x\n{length}", f"line load q\n{load}"),
    )
    if rubs:
        columns += numbers(f"tangential load T\n{load}", "T/q\n[1]")
        columns += texts("motion", f"stick and slip from left to right, x\n{length}")
    rows = []
    for result in results:
        name = words.one_line(result.section.name)
        for plate, patch in zip(BODIES[1:], result.patches, strict=False):
            middle = words.pair(patch.centre, units.length)
            row = [name, plate, middle, units.line_load.number(patch.line_load)]
            if rubs:
                row += [words.tangential(patch, units.line_load), words.ratio(patch)]
                row += [patch.motion, words.zones(patch, units.length)]
            rows.append(row)
            name = ""
    notes = ["x: along the plate, from the first point of contact."]
    if len(results[0].patches) > 1:
        notes.append("Along the second plate it runs up, as y of the section does.")
    if rubs:
        notes.append(
            "T: what the post exerts on the plate along +x; without ± it is friction times q, as"
            " full sliding has it. Stick and slip are to the nearest node."
        )
    notes.extend(_beyond_the_cone(case, results))
    yield Table(columns, (tuple(rows),), "What the contact does", " ".join(notes))


def _beyond_the_cone(case: Case, results: Sequence[SectionResult]) -> Iterator[str]:
    """Where the direction of motion is beyond the friction angle: whether the contact slides."""
    mu, angle = case.contact.friction, abs(case.contact.angle)
    if mu == 0.0 or angle <= math.atan(mu):
        return
    beyond = "The direction of motion is beyond the friction angle"
    still = [r for r in results if r.contact.motion != "full sliding"]
    if not still:
        yield f"{beyond}, and the contact slides in full."
        return
    names = ", ".join(f"“{words.one_line(r.section.name)}”" for r in still)
    yield (
        f"{beyond}, and yet the contact of {names} does not slide in full: the bodies give way more"
        " along the plate than across it."
    )


def _holding(results: Sequence[SectionResult], units: Display) -> Iterator[Block]:
    """Loads and reactions of every body with their sum; sections that are alike stand together."""
    moment = f"[{units.moment_per_length.name}]"
    columns = (
        *texts("section", "body", "force on it", folds=True, most=32),
        *numbers(
            f"at x\n[{units.length.name}]", f"at y\n[{units.length.name}]",
            f"along x\n[{units.line_load.name}]", f"along y\n[{units.line_load.name}]",
            f"moment\n{moment}", f"about first contact\n{moment}",
        ),
    )  # fmt: skip
    groups: list[tuple[Row, ...]] = []
    bodies = BODIES[: len(results[0].bodies)]
    for number, body in enumerate(bodies):
        alike: dict[tuple[tuple[str, ...], ...], list[str]] = {}
        for result in results:
            rows = tuple(_balance(result, number, units))
            alike.setdefault(rows, []).append(words.one_line(result.section.name))
        for rows, names in alike.items():
            of = "every section" if len(names) == len(results) > 1 else ", ".join(names)
            first = [(of, body), *[("", "")] * (len(rows) - 1)]
            groups.append(tuple((*of, *row) for of, row in zip(first, rows, strict=True)))
    worst = max(result.reading.state.force_balance for result in results)
    notes = [
        "Along the axes of the body; moments counter-clockwise, of each force about its own place"
        " and then about the first point of contact. Largest residual of any nodal force or sum:"
        f" {worst:.0e} of the line load. Reactions of a plate: {_uncertainties(results, units)}."
    ]
    if any(patch.motion != "no friction" for r in results for patch in r.patches):
        notes.append(
            "The friction force acts on each body along its own undeformed surface, flat or round:"
            " its moments on post and plate differ by its lever, the patch's height on the round."
        )
    if len(bodies) > 2:
        notes.append(
            "The second plate has its own axes: x up along its face, y into the post, from its"
            " first point of contact."
        )
    yield Table(columns, tuple(groups), "What holds post and plate", " ".join(notes))


def _forces(result: SectionResult, number: int) -> tuple[Reaction, ...]:
    """Loads and reactions of the post, number 0, or of a plate."""
    state = result.reading.state
    if number == 0:
        return (*loads_on_post(result), *state.member_reactions)
    return (load_on_plate(state.patches[number - 1]), *result.patches[number - 1].reactions)


def _uncertainties(results: Sequence[SectionResult], units: Display) -> str:
    """Largest numerical uncertainty of the forces and moments that hold the plates."""
    uncertainties = np.max(
        [patch.reaction_uncertainty for r in results for patch in r.patches], axis=0
    )
    load = max(patch.line_load for r in results for patch in r.patches)
    force, moment = (float(b) for b in uncertainties)
    if force <= _ROUNDING * load:
        return "sure to rounding, as equilibrium alone gives them"
    line_load, couple = units.line_load, units.moment_per_length
    return (
        f"± {significant(line_load.of(force), 1)} {line_load.name} and"
        f" ± {significant(couple.of(moment), 1)} {couple.name} at most"
    )


def _balance(result: SectionResult, number: int, units: Display) -> Iterator[tuple[str, ...]]:
    """A row for each force on a body and one for their sum."""
    forces = _forces(result, number)
    left = total(forces)
    load, arm = result.line_load, result.section.radius
    along = words.alike([*(f.along for f in forces), left.along], load, units.line_load)
    across = words.alike([*(f.across for f in forces), left.across], load, units.line_load)
    couple, size = units.moment_per_length, load * arm
    own = words.alike([f.moment for f in forces], size, couple)
    about = words.alike([*(about_origin(f) for f in forces), left.moment], size, couple)
    for force, *figures in zip(forces, along, across, own, about, strict=False):
        # To a tenth of a micrometre; and adding nothing makes a zero of a negative zero.
        at = (units.length.number(round(c, 4) + 0.0) for c in (force.x, force.y))
        yield force.place, *at, *figures
    yield "sum", "", "", along[-1], across[-1], "", about[-1]


def _infills(results: Sequence[SectionResult], units: Display) -> Iterator[Block]:
    stress = f"[{units.stress.name}]"
    columns = (
        *texts("section", "infill", f"E\n{stress}", "ν\n[1]", folds=True, most=32),
        *numbers(
            f"largest tension\n{stress}", f"largest compression\n{stress}",
            f"tension across the bond\n{stress}", f"shear along the bond\n{stress}",
        ),
    )  # fmt: skip
    rows = []
    for result in results:
        infill = result.section.infill
        assert infill is not None
        stated = (infill.name, units.stress.number(infill.young), f"{infill.poisson:g}")
        keys = ("infill_tension", "infill_compression", "bond_tension", "bond_shear")
        figures = (words.pair(result.values[key], units.stress) for key in keys)
        rows.append(tuple(map(words.one_line, (result.section.name, *stated, *figures))))
    note = f"Principal stresses in the plane, tension positive. {INFILL_NOTE}"
    yield Table(columns, (tuple(rows),), "What the infill carries", note)


def _levels(case: Case, results: Sequence[SectionResult]) -> Iterator[Block]:
    """The history of the mesh levels, and whether they reached the accuracy asked for."""
    assert case.accuracy is not None
    units, bodies = case.display, BODIES[: len(results[0].bodies)]
    columns = (
        *texts("section", folds=True, most=32),
        *numbers("element size\n[of the standard]", "unknowns\n[1]"),
        *numbers(
            *(
                header
                for body in bodies
                for header in (f"peak von Mises, {body}\n[{units.stress.name}]", "±\n[%]")
            )
        ),
    )
    groups = []
    for result in results:
        names = [words.one_line(result.section.name), *[""] * (len(result.levels) - 1)]
        groups.append(
            tuple(
                (name, f"{level.size:g}", str(level.unknowns), *_peaks(level, units))
                for name, level in zip(names, result.levels, strict=True)
            )
        )
    title = f"Mesh levels; accuracy asked for: {words.percent(case.accuracy)}"
    note = "The first level has no coarser one to give its uncertainty."
    yield Table(columns, tuple(groups), title, note)
    for result in results:
        yield Line(words.accuracy(case, result), "bad" if result.stopped else "good")
    yield GAP


def _peaks(level: MeshLevel, units: Display) -> Iterator[str]:
    for peak, uncertainty in level.peaks:
        if uncertainty is None:
            yield from (units.stress.number(peak), "")
        else:
            yield from (
                words.pair(Value(peak, uncertainty), units.stress),
                f"{100 * uncertainty / peak:.2f}",
            )
