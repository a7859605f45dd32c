"""A case by hand as a JSON-ready dictionary, in the units that everything is held in.

Values are in N, mm, MPa and what follows from them; a dimension of null is that of a plain number.
Keys keep their order; sections come in the order of the case.
"""

from contactfe.assess.by_hand.record import ByHand, Clauses, SectionByHand, Step
from contactfe.codes.clause import GOVERNS
from contactfe.hand.formula import Limit, Worked
from contactfe.hand.quantities import HELD_IN
from contactfe.report import words
from contactfe.report.inputs import inputs
from contactfe.report.json_file import Json, case_path, finite, head
from contactfe.report.root import root_data
from contactfe.report.verdicts import verdict_data


def hand_document(found: ByHand) -> Json:
    """Every step and clause of every section; no value is NaN or infinite."""
    return {
        **head(found.case.title),
        "case": {"source": found.case.source, "path": case_path(found.case)},
        "given": list(inputs(found.case)),
        "sections": [
            {"name": section.section.name, **section_by_hand(section)} for section in found.sections
        ],
        "satisfied": found.satisfied,
        **verdict_data(found.checks, found.open_items),
        "cautions": [GOVERNS, *words.cautions(found.case, evenly=True)],
    }


def section_by_hand(found: SectionByHand) -> Json:
    """The steps, the clauses and what is left out of one section."""
    return {
        "steps": [_step(step) for step in found.steps],
        "clauses": [_clauses(clauses) for clauses in found.clauses],
        "left_out": list(found.left_out),
        "root": root_data(found.root),
    }


def _step(step: Step) -> Json:
    return {
        "key": step.key,
        "topic": step.topic,
        "label": step.label,
        **worked_document(step.worked),
        "utilisation": step.utilisation,
    }


def _clauses(clauses: Clauses) -> Json:
    check = clauses.check
    clause = check.clause
    return {
        "key": clauses.key,
        "part": clauses.part,
        "standard": clause.standard,
        "edition": clause.edition,
        "newer_edition": clause.newer_edition or None,
        "clause": clause.number,
        "title": clause.title,
        "level": clause.level,
        "demand": finite(check.demand.value),
        "resistance": finite(check.resistance.value),
        "unit": _unit(check.demand),
        "ratio": finite(check.ratio),
        "ratio_grows": check.ratio_grows,
        "load_factor": finite(check.load_factor),
        "satisfied": check.satisfied,
        "within_scope": check.within_scope,
        "exceeded": [_limit(limit) for limit in check.exceeded],
        "reach": clause.reach,
        "written_for": clause.written_for,
        "carries": clause.carries,
        "text": clause.text,
        "steps": [worked_document(step) for step in (*check.steps, check.demand, check.resistance)],
    }


def worked_document(worked: Worked) -> Json:
    """A formula worked out, with its numbers, range and source."""
    return {
        "formula": worked.formula,
        "name": worked.name,
        "symbol": worked.symbol,
        "form": worked.by_symbols() or None,
        "given": {
            name: {"symbol": given.symbol, "value": given.value, "dimension": given.dimension}
            for name, given in worked.given.items()
        },
        "value": finite(worked.value),
        "unit": _unit(worked),
        "within_range": worked.within_range,
        "limits": [_limit(limit) for limit in worked.limits],
        "note": worked.note,
        "source": worked.source,
    }


def _unit(worked: Worked) -> str | None:
    return None if worked.dimension is None else HELD_IN[worked.dimension]


def _limit(limit: Limit) -> Json:
    return {
        "what": limit.what,
        "value": finite(limit.value),
        "side": limit.side,
        "bound": limit.bound,
        "exceeded": limit.exceeded,
    }
