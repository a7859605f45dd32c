"""A sweep from its tables to its samples, by whichever crew is to do the work."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Mapping
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from contactfe.assess.resources import check_space
from contactfe.assess.sweep.plan import Plan, plan
from contactfe.assess.sweep.result import Sample, SweepResult
from contactfe.assess.sweep.task import Task, Work
from contactfe.case import Case, case_from_dict
from contactfe.case.across import Location
from contactfe.case.patching import check_paths, places
from contactfe.case.reader import read_tables
from contactfe.errors import InputError


@dataclass(frozen=True)
class Prepared:
    """A sweep ready to be solved: the case it starts from, its samples, and what they share."""

    case: Case
    plan: Plan
    work: Work


def prepare(data: Mapping[str, Any], source: str = "<data>") -> Prepared:
    """Read the tables of a case that states a sweep, and plan it.

    Raises
    ------
    InputError
        if they are no case, state no sweep, vary a key that there is not, or a mesh cannot be read
    """
    case = case_from_dict(data, source)
    if case.sweep is None:
        raise InputError(
            f'{source}: has no [sweep]; add one with method = "grid" and, under [sweep.over], what'
            ' is varied, such as "plate.thickness" = ["40 mm", "60 mm"]'
        )
    check_paths(data, case.sweep, source)
    at = tuple(places(data, key.path) for key in case.sweep.keys)
    names = tuple(section.name for section in case.sections)
    held = tuple(_held(locations, names) for locations in at)
    _check_meshes(case)
    return Prepared(case, plan(case.sweep, held), Work(data, source, at, names))


def solve_samples(
    prepared: Prepared,
    processes: int | None = None,
    scheduler: str | None = None,
    known: Container[int] = (),
) -> Iterator[Sample]:
    """Solve the samples of a sweep but those known, and give each as it is finished.

    What a sample comes to depends on neither the order nor who solves it; what could not be solved
    says why in its rows.

    Parameters
    ----------
    prepared
        the sweep
    processes
        how many of this machine share the work; as many as there are cores to use where it is None
    scheduler
        address of a Dask scheduler whose workers do it in their place
    known
        numbers of samples that are not to be solved again

    Raises
    ------
    InputError
        if there are fewer than one processes, or the scheduler cannot be used
    SolveError
        if the scheduler is lost
    """
    tasks = _tasks(prepared.plan, known)
    left = sum(number not in known for number in range(prepared.plan.count))
    if scheduler is not None:
        from contactfe.study.dask import dask_answers

        with closing(dask_answers(prepared.work, tasks, left, scheduler)) as found:
            yield from (sample for _, sample in found)
        return
    from contactfe.study.crew import Crew, how_many

    check_space()
    processes = max(1, min(how_many(processes), left))
    with Crew(prepared.work, processes, apart=True) as crew:
        yield from (sample for _, sample in crew.each(tasks, left))


def sweep(
    data: Mapping[str, Any] | str | Path,
    source: str | None = None,
    processes: int | None = None,
    scheduler: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> SweepResult:
    """Solve every sample of a sweep, and keep the rows in memory: half a kilobyte and more each.

    ``data`` is the path of a case file, or its tables as ``tomllib`` reads them; ``source`` the
    file that messages name and paths of meshes start from, that path where there is one; the other
    arguments, and what is raised, are those of :func:`solve_samples`. ``progress`` is called with
    the samples done and those of all, first and after each. With more than one process a script
    must call this below ``if __name__ == "__main__":``, as every process reads the script anew.

    Raises TypeError for anything else, such as a ``Case``, which does not hold the file's keys.
    """
    if isinstance(data, str | Path):
        tables: Mapping[str, Any] = read_tables(data)
        source = str(data) if source is None else source
    elif isinstance(data, Mapping):
        tables = data
    else:
        raise TypeError(
            "sweep takes the path of a case file or its tables as tomllib reads them, as it varies"
            f" the file's keys; not {type(data).__name__}"
        )
    prepared = prepare(tables, "<data>" if source is None else source)
    count = prepared.plan.count
    tell = progress or (lambda _done, _of: None)
    tell(0, count)
    found: list[Sample | None] = [None] * count
    for done, sample in enumerate(solve_samples(prepared, processes, scheduler), start=1):
        found[sample.number] = sample
        tell(done, count)
    samples = tuple(sample for sample in found if sample is not None)
    assert len(samples) == count  # by what a crew promises
    return SweepResult(prepared.case, prepared.plan, samples)


def _check_meshes(case: Case) -> None:
    """Read every mesh of the case; of one whose section is varied, no more is known yet."""
    assert case.sweep is not None
    if not case.meshes:
        return
    from contactfe.assess.bodies import Bodies
    from contactfe.section.files import load_mesh

    if not any(key.path.startswith("section") for key in case.sweep.keys):
        Bodies(case).check_drawn()
        return
    for mesh in case.meshes:
        load_mesh(mesh)


def _held(at: tuple[Location, ...], names: tuple[str, ...]) -> frozenset[str] | None:
    """The sections that a key is one of, by the places of its values; None where it is of all."""
    if any(location[0] != "section" for location in at):
        return None
    return frozenset(names[int(location[1])] for location in at)


def _tasks(plan: Plan, known: Container[int]) -> Iterator[Task]:
    for number in plan.order():
        sample = int(number)
        if sample not in known:
            yield Task(sample, plan.values(sample), plan.checked(sample))
