"""Which section relieves the contact, by how much, and why."""

from collections.abc import Callable

from contactfe.assess.bodies import Bodies, each_section
from contactfe.assess.check_list import load_check
from contactfe.assess.open_items import open_items
from contactfe.assess.reason import reason
from contactfe.assess.relief import reliefs
from contactfe.assess.results import Comparison, SectionResult
from contactfe.assess.section import assess_section
from contactfe.case import Case


def compare(case: Case, progress: Callable[[str], None] | None = None) -> Comparison:
    """Solve and rank every section of a case.

    Parameters
    ----------
    case
        what the engineer stated
    progress
        called with the name of each section before it is solved

    Raises
    ------
    InputError
        if a mesh cannot be used, or the load or the plate does not suit the model
    SolveError
        if a section cannot be solved to the residuals asked for
    """
    bodies = Bodies(case)
    results = each_section(bodies, lambda section: assess_section(case, section, bodies), progress)

    def ranked(key: Callable[[SectionResult], float]) -> tuple[str, ...]:
        return tuple(r.section.name for r in sorted(results, key=key))

    load = load_check(case)
    checks = (*(() if load is None else (load,)), *(c for r in results for c in r.checks))
    by_concentration = ranked(lambda r: r.stress_concentration.value)
    relieved = reliefs(case, results)
    return Comparison(
        case,
        tuple(results),
        by_concentration,
        ranked(lambda r: r.utilisation.value),
        ranked(lambda r: r.mass_per_length),
        reason(results, by_concentration[0], case.display.stress, relieved),
        checks,
        open_items(case, case.sections, checks, relieved),
    )
