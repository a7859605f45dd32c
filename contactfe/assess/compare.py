"""Which section relieves the contact, by how much, and why."""

from collections.abc import Callable, Sequence

from contactfe.assess.as_made import assess_as_made
from contactfe.assess.each_section import each_section
from contactfe.assess.hazard import motion_checks
from contactfe.assess.open_items import open_items
from contactfe.assess.relief import reliefs
from contactfe.assess.results import Comparison, SectionResult
from contactfe.assess.softness import softness
from contactfe.case import Case
from contactfe.study.crew import Progress


def compare(case: Case, processes: int | None = 1, progress: Progress | None = None) -> Comparison:
    """Solve and rank every section of a case; a tube of known limits at both of its walls too.

    The result does not depend on the number of processes; with more than one, a script must call
    this below ``if __name__ == "__main__":``, as every process reads the script anew.

    Parameters
    ----------
    case
        what the engineer stated
    processes
        how many to share the sections; where it is None, as many as there are cores to use, and
        of few sections fewer
    progress
        called with the number of sections done and that of all, first and after each

    Raises
    ------
    InputError
        if a mesh cannot be used, or the load or the plate does not suit the model
    SolveError
        if a section cannot be solved to the residuals asked for
    """
    return compared(case, each_section(case, assess_as_made, processes, progress))


def compared(case: Case, results: Sequence[SectionResult]) -> Comparison:
    """The sections of a case ranked, from what was found of each."""

    def ranked(key: Callable[[SectionResult], float]) -> tuple[str, ...]:
        return tuple(r.section.name for r in sorted(results, key=key))

    checks = (*motion_checks(case), *(c for r in results for c in r.checks))
    return Comparison(
        case,
        tuple(results),
        ranked(lambda r: r.stress_concentration.value),
        ranked(lambda r: r.utilisation.value),
        ranked(lambda r: r.mass_per_length),
        checks,
        open_items(case, case.sections, checks, reliefs(case, results), softness(case, results)),
    )
