"""One sample of a sweep, from the tables of the case file to its rows."""

from __future__ import annotations

import math
import time
from collections.abc import Mapping
from typing import Any

from contactfe.assess.accuracy import Solved, expected_patches, settled, solve_levels
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.check_list import (
    beside_solved,
    by_hand_checks,
    infill_checks,
    von_mises_check,
)
from contactfe.assess.checks import governing, verdict_of
from contactfe.assess.hazard import motion_checks
from contactfe.assess.limits import check_patch
from contactfe.assess.quantities import LISTED
from contactfe.assess.readout import figures, read_out
from contactfe.assess.sweep.result import Sample, Solution, SweepRow
from contactfe.assess.sweep.task import Task, Work
from contactfe.assess.value import Figure, Figures, Value, key_of
from contactfe.case import Case, Section
from contactfe.case.patching import Put, read_sample
from contactfe.case.wording import told
from contactfe.errors import ContactfeError, InputError
from contactfe.study.point import Kept


def solve_task(work: Work, task: Task, kept: Kept) -> Sample:
    """A row for each section of a sample. Whatever goes wrong is stated there.

    A value that one section cannot have keeps the others from nothing.
    """
    begin = time.perf_counter()
    try:
        case = read_sample(work.data, _puts(work, task), work.source)
    except Exception:
        seconds = (time.perf_counter() - begin) / len(work.sections)
        each = range(len(work.sections))
        return Sample(task.number, tuple(_alone(work, task, kept, k, seconds) for k in each))
    bodies = Bodies(case, kept)
    return Sample(
        task.number, tuple(_row(case, section, bodies, task.checked) for section in case.sections)
    )


def _puts(work: Work, task: Task) -> tuple[Put, ...]:
    paths = work.data["sweep"]["over"]
    return tuple(map(Put, paths, work.places, task.values))


def _alone(work: Work, task: Task, kept: Kept, number: int, before: float) -> SweepRow:
    """The row of one section of a case that could not be read with all of them."""
    begin = time.perf_counter() - before
    try:
        case = read_sample(work.data, _puts(work, task), work.source, number)
    except Exception as error:
        name, seconds = work.sections[number], time.perf_counter() - begin
        return _failed(work.source, name, error, seconds)
    (section,) = case.sections
    return _row(case, section, Bodies(case, kept), task.checked)


def _row(case: Case, section: Section, bodies: Bodies, checked: bool) -> SweepRow:
    begin = time.perf_counter()
    try:
        solution = _solution(loaded(case, section, bodies), section, bodies, checked)
    except Exception as error:
        return _failed(case.source, section.name, error, time.perf_counter() - begin)
    return SweepRow(section.name, solution, time.perf_counter() - begin)


def _failed(source: str, section: str, error: Exception, seconds: float) -> SweepRow:
    """A row that states an error: a fault of the program too must not end the samples after it."""
    text = told(error, source)
    if isinstance(error, MemoryError):
        text = "out of memory"
    elif not isinstance(error, ContactfeError):
        text = told(f"a fault of contactfe itself ({type(error).__name__}: {text})")
    return SweepRow(section, None, seconds, text, isinstance(error, InputError))


def _solution(case: Case, section: Section, bodies: Bodies, checked: bool) -> Solution:
    if not checked and case.accuracy is None:
        solved = _standard_level(case, section, bodies)
        return _made(case, section, bodies, solved, figures(solved), None, solved.meshes)
    levels = solve_levels(case, section, bodies)
    values = read_out(levels).values
    found = {key: Figure(value.value, value.place) for key, value in values.items()}
    uncertainties = {key: value.uncertainty for key, value in values.items()}
    return _made(case, section, bodies, levels.fine, found, uncertainties, levels.meshes)


def _standard_level(case: Case, section: Section, bodies: Bodies) -> Solved:
    """The standard level alone, placed by the patches that are expected: two thirds of the time.

    Raises what ``solve_levels`` raises.
    """
    expected = expected_patches(case, section)
    for number, patch in enumerate(expected):
        check_patch(case, section, number, patch)
    return settled(case, section, bodies, expected, 1.0, ())


def _made(
    case: Case,
    section: Section,
    bodies: Bodies,
    solved: Solved,
    found: Figures,
    uncertainties: Mapping[str, float] | None,
    meshes: int,
) -> Solution:
    plates = [found[key_of("plate_peak", number)].value for number in range(len(case.line_loads))]
    return Solution(
        # A record of many samples keeps what its table has.
        figures={key: figure for key, figure in found.items() if key in LISTED},
        uncertainties=None
        if uncertainties is None
        else {key: of for key, of in uncertainties.items() if key in LISTED},
        line_load=case.line_loads[0],
        plate=plates.index(max(plates)) + 1,
        mass_per_length=case.mass_per_length(section, *bodies.areas(section)),
        unknowns=solved.level.joint.unknowns,
        meshes=meshes,
        **_beside(case, section, found),
    )


def _beside(case: Case, section: Section, found: Figures) -> dict[str, Any]:
    """What the checks beside the solved stresses come to: the post, clauses, infill, the load.

    The uncertainty of what was solved counts where the row as a whole is judged.
    """
    strength = case.post_material(section).yield_strength
    stress = von_mises_check(case, section, "post", Value(found["post_peak"].value, 0.0), strength)
    hand = by_hand_checks(case, section_by_hand(case, section))
    plain = {key: Value(figure.value, 0.0) for key, figure in found.items()}
    _, *beside = beside_solved([stress, *infill_checks(section, plain)], hand)
    checks = [*motion_checks(case), *beside]
    worst = governing(checks)
    if worst is None:
        return {"other": "", "other_ratio": None, "other_verdict": "passes"}
    ratio = None if worst.ratio is None or math.isinf(worst.ratio) else worst.ratio
    return {"other": worst.label, "other_ratio": ratio, "other_verdict": verdict_of(checks)}
