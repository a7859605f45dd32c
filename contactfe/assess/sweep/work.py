"""One sample of a sweep, from the tables of the case file to its rows."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from contactfe.assess.accuracy import (
    Levels,
    Solved,
    beside_contact,
    expected_patches,
    settled,
    solve_levels,
)
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.check_list import by_hand_checks, load_check
from contactfe.assess.checks import governing, verdict_of
from contactfe.assess.level import Reading
from contactfe.assess.limits import check_patch, check_slimness
from contactfe.assess.results import Value
from contactfe.assess.sweep.result import Figures, Sample, SweepRow, Uncertainties
from contactfe.assess.sweep.task import Kept, Task, Work
from contactfe.case import Case, Section
from contactfe.case.patching import Put, read_sample
from contactfe.errors import ContactfeError, InputError

Made = TypeVar("Made")


class SharedBodies(Bodies):
    """Bodies kept from one case to the next, where all that they are made of is the same."""

    def __init__(self, case: Case, kept: Kept) -> None:
        super().__init__(case)
        self._kept = kept

    def _remembered(self, key: Hashable, make: Callable[[], Made]) -> Made:
        return super()._remembered((self._made_of(key), key), make)

    def _made_of(self, key: Hashable) -> Hashable:
        """What a body takes from the case, beside its key there."""
        case = self.case
        match key:
            case ("plate", *_):
                plate, steel = case.plate, case.plate_material
                sizes = plate.width, plate.thickness, plate.held_by, plate.spring
                return sizes, case.state, steel.young, steel.poisson
            case ("member" | "drawn", Section() as section, *_):
                steel = case.post_material(section)
                return case.hold(section), case.state, steel.young, steel.poisson
        return case  # of which another kind may take anything


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
    bodies = SharedBodies(case, kept)
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
    return _row(case, section, SharedBodies(case, kept), task.checked)


def _row(case: Case, section: Section, bodies: Bodies, checked: bool) -> SweepRow:
    begin = time.perf_counter()
    try:
        figures = _figures(loaded(case, section, bodies), section, bodies, checked)
    except Exception as error:
        return _failed(case.source, section.name, error, time.perf_counter() - begin)
    return SweepRow(section.name, figures, time.perf_counter() - begin)


def _failed(source: str, section: str, error: Exception, seconds: float) -> SweepRow:
    """A row that states an error: a fault of the program too must not end the samples after it."""
    text = str(error).replace(f"{source}: ", "")
    if isinstance(error, MemoryError):
        text = "out of memory"
    elif not isinstance(error, ContactfeError):
        text = f"a fault of contactfe itself ({type(error).__name__}: {text})"
    line = "; ".join(filter(None, (part.strip() for part in text.splitlines())))
    return SweepRow(section, None, seconds, line, isinstance(error, InputError))


def _figures(case: Case, section: Section, bodies: Bodies, checked: bool) -> Figures:
    if not checked and case.accuracy is None:
        return _read(case, section, bodies, _standard_level(case, section, bodies))
    levels = solve_levels(case, section, bodies)
    figures = _read(case, section, bodies, levels.fine)
    return replace(figures, meshes=levels.meshes, uncertainties=_uncertainties(levels))


def _standard_level(case: Case, section: Section, bodies: Bodies) -> Solved:
    """The standard level alone, placed by the patches that are expected: two thirds of the time.

    Raises what ``solve_levels`` raises.
    """
    check_slimness(case, section)
    expected = expected_patches(case, section)
    for number, patch in enumerate(expected):
        check_patch(case, section, number, patch)
    return settled(case, section, bodies, expected, 1.0, ())


def _read(case: Case, section: Section, bodies: Bodies, solved: Solved) -> Figures:
    reading = solved.reading
    post = reading.member_peaks[0]
    number = _hardest(reading)
    plate = reading.patches[number].peaks[0]
    hoop = reading.bore_hoop or (None, None)
    return Figures(
        line_load=case.line_loads[0],
        peak_pressure=reading.peak_pressure,
        half_width=reading.half_width,
        approach=reading.state.approach,
        post_peak=post.von_mises,
        post_zone=post.zone,
        post_x=post.x,
        post_y=post.y,
        post_allowed=case.post_material(section).yield_strength / case.yield_margin,
        plate=number + 1,
        plate_peak=plate.von_mises,
        plate_zone=plate.zone,
        plate_x=plate.x,
        plate_y=plate.y,
        plate_allowed=case.plate_material.yield_strength / case.yield_margin,
        stress_concentration=post.von_mises * section.outside_diameter / case.line_load,
        bore_hoop_under_load=hoop[0],
        bore_hoop_at_side=hoop[1],
        mass_per_length=case.mass_per_length(section, *bodies.areas(section)),
        unknowns=solved.level.joint.unknowns,
        meshes=solved.meshes,
        uncertainties=None,
        **_beside(case, section),
    )


def _beside(case: Case, section: Section) -> dict[str, Any]:
    """What the checks beside the solved stresses come to: the post, clauses, the load."""
    load = load_check(case)
    hand = by_hand_checks(case, section_by_hand(case, section))
    checks = [*(() if load is None else (load,)), *(c for c in hand if c.kind != "hand")]
    worst = governing(checks)
    if worst is None:
        return {"other": "", "other_ratio": None, "other_verdict": "passes"}
    ratio = None if worst.ratio is None or math.isinf(worst.ratio) else worst.ratio
    return {"other": worst.label, "other_ratio": ratio, "other_verdict": verdict_of(checks)}


def _hardest(reading: Reading) -> int:
    """Number from 0 of the plate with the largest peak."""
    return max(range(len(reading.patches)), key=lambda k: reading.patches[k].peaks[0].von_mises)


def _uncertainties(levels: Levels) -> Uncertainties:
    def of(figure: Callable[[Reading], float]) -> float:
        return levels.value(figure).uncertainty

    plate = _hardest(levels.fine.reading)
    hoops: Sequence[Value | None] = (None, None)
    if levels.fine.reading.bore_hoop is not None:
        hoops = [beside_contact(levels, lambda r, k=k: _hoop(r, k)) for k in (0, 1)]  # type: ignore[misc]
    return Uncertainties(
        peak_pressure=of(lambda r: r.peak_pressure),
        half_width=of(lambda r: r.half_width),
        approach=of(lambda r: r.state.approach),
        post_peak=of(lambda r: r.member_peaks[0].von_mises),
        plate_peak=of(lambda r: r.patches[plate].peaks[0].von_mises),
        bore_hoop_under_load=None if hoops[0] is None else hoops[0].uncertainty,
        bore_hoop_at_side=None if hoops[1] is None else hoops[1].uncertainty,
    )


def _hoop(reading: Reading, which: int) -> float:
    assert reading.bore_hoop is not None
    return reading.bore_hoop[which]
