"""Two sections struck at 1.5 times first yield, solved once, and made-up ends of their reserve."""

from dataclasses import replace
from functools import lru_cache

from calculations import DATA

from contactfe.assess.overload.rank import judged
from contactfe.assess.overload.result import OverloadResult
from contactfe.assess.overload.run import overload
from contactfe.assess.value import Value
from contactfe.case import case_from_dict

SOLID, TUBE = (section["name"] for section in DATA["section"])


@lru_cache
def solved() -> OverloadResult:
    """A solid and a tube, whose K is less."""
    load = {"line_load": "0.8 kN/mm"}  # which neither yields at
    return overload(case_from_dict(DATA | {"load": load, "overload": {"factors": [1.5]}}))


def changed(**changes: object) -> OverloadResult:
    """The same with these in the record of the tube, ranked and judged anew."""
    of = solved()
    sections = [replace(s, **changes) if s.section == TUBE else s for s in of.sections]
    return judged(of.comparison, sections)


def spanned(share: float = 0.7) -> OverloadResult:
    """Where the plastic zone spans the tube's wall, at a share of the load that it is solved to."""
    load = share * solved().section(TUBE).solved_to
    return changed(spans=Value(load, 0.01 * load))


def unsolved() -> OverloadResult:
    """Where the tube is not struck, as its first yield is beyond the model."""
    return changed(
        first_yield=None, strikes=(), loading=None, zones=None, spans=None, collapses=None,
        solved_to=0.0, ended="first yield", left_out=(1000.0,),
    )  # fmt: skip


def no_strike() -> OverloadResult:
    """Where the tube is strained too far before the first load that it is to be struck with."""
    return changed(strikes=(), ended="plastic strain", left_out=(1900.0,))
