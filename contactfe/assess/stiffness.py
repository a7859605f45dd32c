"""How stiff the contact of each section of a case is, for a time-history model of the building.

The curve is that of :mod:`.follow`; its uncertainty is what the coarse mesh level and the fine one
differ by, as everywhere in this package.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from threadpoolctl import threadpool_limits

from contactfe.assess.accuracy import BESIDE, COARSE, uncertainty
from contactfe.assess.beam import bends
from contactfe.assess.bodies import Bodies
from contactfe.assess.follow import (
    MOST,
    Followed,
    follow_load,
    force_approach,
    square,
    times_carried,
)
from contactfe.assess.gap_element import Linear, PowerLaw, Table, linear, power_law, table
from contactfe.assess.in_series import Way, tilts, whole_way
from contactfe.assess.results import Value
from contactfe.assess.shares import Shares, shares
from contactfe.case import Case, Section
from contactfe.errors import SolveError
from contactfe.solve.curve import ForceApproach
from contactfe.solve.elastic import Floats

__all__ = [
    "ForceApproach",
    "SectionStiffness",
    "StiffnessResult",
    "force_approach",
    "section_stiffness",
    "stiffness",
]

_SPARE = 0.98
"""Of the multiple of the load that the coarse level carries, what the fine one is solved for."""


@dataclass(frozen=True)
class SectionStiffness:
    """The stiffness of one section and its plate, per mm of contact line; in N/mm and mm.

    ``curve`` ends at ``most`` times the case's load; ``blurs`` (n,) mm are the uncertainties of its
    approaches and ``shares`` (n) its parts. ``approach``, ``tangent``, ``secant`` (N/mm per mm) and
    ``exponent``, d ln q / d ln δ, are those at the case's load, of which ``parts`` are the shares
    of the approach, in the order of :class:`.Shares`. ``power``, ``spring`` and ``points`` are what
    stands for the curve in other programs. ``way`` is the curve with the bending of the post along
    its axis in series, at the stated tilt, None where that is not known; ``way_points`` are its.
    """

    section: Section
    most: float
    curve: ForceApproach
    blurs: Floats
    shares: tuple[Shares, ...]
    approach: Value
    tangent: Value
    secant: Value
    exponent: Value
    parts: tuple[Value, Value, Value, Value]
    half_width: Value
    power: PowerLaw
    spring: Linear
    points: Table
    unknowns: int
    way: Way | None = None
    way_points: Table | None = None


@dataclass(frozen=True)
class StiffnessResult:
    """The stiffness of every section of a case, in its order."""

    case: Case
    sections: tuple[SectionStiffness, ...]

    def section(self, name: str) -> SectionStiffness:
        """The result of the section of that name. Raises KeyError where there is none."""
        for result in self.sections:
            if result.section.name == name:
                return result
        raise KeyError(name)


def stiffness(
    case: Case, points: int = 100, progress: Callable[[str], None] | None = None
) -> StiffnessResult:
    """The contact stiffness of every section of a case.

    ``points`` is the number of points of each curve; ``progress`` is called with the name of each
    section before it is solved. Raises what :func:`.follow_load` raises.
    """
    bodies = Bodies(square(case))
    found = []
    # The factorisations call BLAS on small blocks only: more threads would wait for one another.
    with threadpool_limits(limits=1, user_api="blas"):
        for section in case.sections:
            if progress is not None:
                progress(section.name)
            try:
                found.append(section_stiffness(case, section, bodies, points))
            except SolveError as error:
                raise SolveError(f"{case.source}: section “{section.name}”: {error}") from error
    return StiffnessResult(case, tuple(found))


def section_stiffness(
    case: Case, section: Section, bodies: Bodies, points: int = 100
) -> SectionStiffness:
    """The stiffness of one section on two mesh levels. Raises what :func:`.follow_load` raises.

    The curve goes to 1.25 times the case's load, or as far as the model carries it.
    """
    coarse = follow_load(case, section, bodies, MOST, points, COARSE)
    carried = times_carried(coarse)
    most = MOST if carried >= MOST else max(1.0, _SPARE * carried)
    known = tuple(coarse.patch(1.0, number) for number in range(len(case.line_loads)))
    fine = follow_load(case, section, bodies, most, points, expected=known)
    q, curve = case.line_load, fine.curve
    way = _way(case, section, curve)

    def value(of: Callable[[ForceApproach], float]) -> Value:
        return _value(of(curve), of(coarse.curve))

    approach = value(lambda c: float(c.approach_at(q)))
    return SectionStiffness(
        section=section,
        most=most,
        curve=curve,
        blurs=_blurs(fine, coarse),
        shares=tuple(shares(fine, load / q) for load in curve.line_load),
        approach=approach,
        tangent=value(lambda c: float(c.tangent_at(c.approach_at(q)))),
        secant=value(lambda c: float(q / c.approach_at(q))),
        exponent=value(lambda c: float(c.tangent_at(c.approach_at(q)) * c.approach_at(q) / q)),
        parts=_parts(fine, coarse, approach.value),
        half_width=_value(fine.patch(1.0).half_width, coarse.patch(1.0).half_width),
        power=power_law(curve, q),
        spring=linear(curve, q),
        points=table(curve, q),
        unknowns=fine.level.joint.unknowns,
        way=way,
        way_points=None if way is None else table(way.curve, q),
    )


def _way(case: Case, section: Section, curve: ForceApproach) -> Way | None:
    if not bends(case, section):
        return None
    return whole_way(case, section, curve, tilts(case, section)[0])


def _value(fine: float, coarse: float) -> Value:
    return Value(fine, uncertainty(fine, coarse))


def _blurs(fine: Followed, coarse: Followed) -> Floats:
    q, approach = fine.curve.line_load, fine.curve.approach
    others = coarse.curve.approach_at(q)
    blurs: Floats = np.array([uncertainty(*pair) for pair in zip(approach, others, strict=True)])
    return blurs


def _parts(fine: Followed, coarse: Followed, approach: float) -> tuple[Value, Value, Value, Value]:
    best, other = shares(fine, 1.0), shares(coarse, 1.0)

    def value(of: float, beside: float) -> Value:
        # A share is a difference of parts of the size of the whole, and the hand formulas in it are
        # no surer.
        return Value(of, uncertainty(of, beside, least=BESIDE * abs(approach)))

    return (
        value(best.post, other.post),
        value(best.ring, other.ring),
        value(best.layer, other.layer),
        value(best.plate, other.plate),
    )
