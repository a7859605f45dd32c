"""How far post and plate are half-spaces at their contact, which is what Hertz takes them for."""

import math

from contactfe.assess.by_hand.impacted import ImpactedPlate
from contactfe.assess.by_hand.plate import plate_moment
from contactfe.case import Case, Section
from contactfe.hand import ring
from contactfe.hand.formula import Limit, at_most

LARGEST_SHARE = 0.1
"""Half-width over wall, plate thickness and distance to the plate's edge up to which a body counts
as a half-space. Measured by solved cases at the bound: peak pressure and half-width of a plate
within 0.15 %, its peak von Mises stress within 9 %; peak pressure on a tube within 8 %."""

LARGEST_BENDING = 0.05
"""Stress of bending at the impacted face over peak pressure up to which the stresses are those of
the contact alone. A tube of a third of the radius, at 0.25 by this measure, has 16 % less peak von
Mises stress than a solid, one of half the radius, at 0.10, has 6 % less (solved)."""


def patch_limits(case: Case, section: Section, at: float, half_width: float) -> tuple[Limit, ...]:
    """How wide a patch is beside what a half-space has without end.

    Its half-width in mm, and how far it lies off the plate's middle, ``at``.
    """
    lengths = {
        "a/h, the wall": section.geometry.wall,
        "a/t, the plate's thickness": case.plate.thickness,
        "a/(distance to the plate's edge)": case.plate.width / 2.0 - abs(at),
    }
    return tuple(
        at_most(what, half_width / length, LARGEST_SHARE)
        for what, length in lengths.items()
        if length is not None
    )


def post_bending(case: Case, section: Section, number: int) -> float | None:
    """Stress of ring bending at a contact, MPa; 0 of a solid, None where no formula gives it.

    In a corner the load of the other plate, a quarter turn on, bends the ring there as well.
    """
    hold, geometry = case.support(section).formulas, section.geometry
    if not geometry.hollow:
        return 0.0
    h = geometry.wall
    if geometry.in_plane != "ring" or h is None or hold is None:
        return None
    loads = [(case.line_loads[number], 0.0)]
    if case.corner is not None:
        loads.append((case.line_loads[1 - number], math.pi / 2.0))
    moments = (ring.bending_moment.plain(q, section.radius - h / 2.0, at, hold) for q, at in loads)
    return abs(float(6.0 * sum(moments) / h**2))


def plate_bending(case: Case, impacted: ImpactedPlate) -> float | None:
    """Stress of bending at the impacted face of a plate, MPa; None where no formula gives it."""
    if case.plate.support.base:
        return 0.0
    if case.plate.support.strip is None:
        return None
    return 6.0 * plate_moment(case, impacted).value / case.plate.thickness**2


def bending_limit(body: str, bending: float, peak_pressure: float) -> Limit:
    """What the bending of a body is beside its contact."""
    what = f"bending stress of the {body} / peak pressure p0"
    return at_most(what, bending / peak_pressure, LARGEST_BENDING)
