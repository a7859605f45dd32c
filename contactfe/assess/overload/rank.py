"""Which section is better beyond first yield: by the dent that a load leaves, by the reserve."""

from collections.abc import Sequence

import numpy as np

from contactfe.assess.checks import Check, OpenItem
from contactfe.assess.hazard import motion_checks
from contactfe.assess.overload.result import OverloadResult, Ranked, SectionOverload
from contactfe.assess.relief import reliefs
from contactfe.assess.results import Comparison
from contactfe.assess.value import Value
from contactfe.case import Case


def judged(comparison: Comparison, sections: Sequence[SectionOverload]) -> OverloadResult:
    """The sections ranked, and checked at the load of the case."""
    case = comparison.case
    at = _compared_at(sections)
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
        _ranked(
            {s.section: _reserve(s) for s in sections if s.strikes},
            -1.0,
            frozenset(s.section for s in sections if s.strikes and s.reserve is None),
        ),
        checks, _open(comparison),
    )  # fmt: skip


def _open(comparison: Comparison) -> tuple[OpenItem, ...]:
    """What is open of the comparison, and of every tube its relief: all that follows goes by it."""
    case, sections = comparison.case, comparison.sections
    items = [item for item in comparison.open_items if item.key != "relief"]
    bounds = reliefs(case, sections, always=True)
    if bounds:
        names = tuple(one.section for one in bounds)
        every = len(names) == len(sections)
        items.append(OpenItem("relief", case, () if every else names, bounds[0].why, bounds))
    return tuple(items)


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


def _compared_at(sections: Sequence[SectionOverload]) -> float | None:
    """The mean line load at which dents are compared: the largest that all were solved to."""
    if not all(s.strikes for s in sections):
        return None
    return min(s.solved_to * s.whole for s in sections)


def _dent_at(of: SectionOverload, mean: float) -> Value:
    """The deeper dent that a mean line load leaves, mm."""
    path = of.loading
    assert path is not None  # who asks has looked
    load, deeper = mean / of.whole, np.max(path.dents, axis=0)
    return Value(
        float(np.interp(load, path.line_load, deeper)),
        float(np.interp(load, path.line_load, path.uncertainty)),
    )


def _reserve(of: SectionOverload) -> Value:
    """The load at the end of a section's reserve, or that it was solved to, over first yield."""
    first = of.first_yield
    assert first is not None  # who asks has looked
    return (of.reserve or Value(of.solved_to, 0.0)).over(first.value)


def _ranked(
    values: dict[str, Value], sign: float, without_end: frozenset[str] = frozenset()
) -> Ranked | None:
    """Names by rising value, or falling where ``sign`` is −1.

    Those ``without_end`` are at least of their value, so that none is known to be better.
    """
    if not values:
        return None
    names = sorted(values, key=lambda name: (name not in without_end, sign * values[name].value))
    best = values[names[0]]
    leading = [
        name
        for name in names
        if name in without_end
        or abs(values[name].value - best.value) <= values[name].uncertainty + best.uncertainty
    ]
    if without_end:  # a known end beyond what one of these was solved to is not known to be less
        least = min(values[name].value for name in without_end)
        leading = [n for n in names if n in without_end or values[n].upper >= least]
    return Ranked(tuple(names), tuple(values[name] for name in names), tuple(leading))
