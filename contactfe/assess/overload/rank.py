"""Which section is better beyond first yield: by the dent that a load leaves, by the reserve."""

from collections.abc import Sequence

import numpy as np

from contactfe.assess.checks import Check
from contactfe.assess.hazard import motion_checks
from contactfe.assess.overload.result import SEEN, OverloadResult, Ranked, SectionOverload
from contactfe.assess.results import Comparison
from contactfe.assess.value import Value
from contactfe.case import Case


def judged(comparison: Comparison, sections: Sequence[SectionOverload]) -> OverloadResult:
    """The sections ranked, and checked at the load of the case."""
    case = comparison.case
    at = _compared_at(case, sections)
    checks = (
        *motion_checks(case),
        *(
            check
            for of, result in zip(sections, comparison.sections, strict=True)
            for check in (
                reserve_check(case, of),
                *(c for c in result.checks if c.kind in {"post", "clauses"}),
            )
        ),
    )
    return OverloadResult(
        case, tuple(sections), comparison, at,
        None if at is None else _ranked({s.section: _dent_at(s, at) for s in sections}, 1.0),
        _ranked({s.section: _sure(s) for s in sections if s.strikes}, -1.0),
        checks, comparison.open_items,
    )  # fmt: skip


def reserve_check(case: Case, of: SectionOverload) -> Check:
    """The load of the case against what a section takes before its wall is plastic throughout.

    Both are at the peak along the post. No verdict where it was not solved so far.
    """
    demand, missing = case.line_load / of.whole, ""
    if of.reserve is None and demand > of.solved_to:
        missing = (
            "its first yield is beyond the range of the model"
            if of.first_yield is None
            else "it was not solved up to the load of the case"
        )
    return Check(
        "overload_reserve", "load against a plastic zone through the wall, or collapse", "stress",
        "collapse", of.section, "post", demand, of.sure_of or None, "line load",
        "solved with steel that yields", missing=missing,
    )  # fmt: skip


def _compared_at(case: Case, sections: Sequence[SectionOverload]) -> float | None:
    """The mean line load at which dents are compared: the case's where it leaves any, else the
    largest that all sections were solved to.
    """
    if not all(s.strikes for s in sections):
        return None
    most = min(s.solved_to * s.whole for s in sections)
    dented = any(_dent_at(s, case.line_load).value > SEEN for s in sections)
    return case.line_load if dented and case.line_load <= most else most


def _dent_at(of: SectionOverload, mean: float) -> Value:
    """The deeper dent that a mean line load leaves, mm."""
    path = of.loading
    assert path is not None  # who asks has looked
    load, deeper = mean / of.whole, np.max(path.dents, axis=0)
    return Value(
        float(np.interp(load, path.line_load, deeper)),
        float(np.interp(load, path.line_load, path.uncertainty)),
    )


def _sure(of: SectionOverload) -> Value:
    """The mean line load that a section takes before the end of its reserve, as far as known."""
    if of.reserve is not None:
        return of.reserve.over(1.0 / of.whole)
    return Value(of.solved_to * of.whole, 0.0)


def _ranked(values: dict[str, Value], sign: float) -> Ranked | None:
    """Names by rising value, or falling where ``sign`` is −1."""
    if not values:
        return None
    names = sorted(values, key=lambda name: sign * values[name].value)
    best = values[names[0]]
    leading = [
        name
        for name in names
        if abs(values[name].value - best.value) <= values[name].uncertainty + best.uncertainty
    ]
    return Ranked(tuple(names), tuple(values[name] for name in names), tuple(leading))
