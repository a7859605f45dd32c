"""A section as a ring or a disc: hoop stress at the bore, stress at the centre, change of shape."""

import math
from collections.abc import Callable, Iterator

from contactfe.assess.by_hand.record import Step
from contactfe.case import Case, Section
from contactfe.hand import collapse, disc, ring, ring_deflection, ring_stress, thick_ring
from contactfe.hand.check import HeldBy
from contactfe.hand.formula import Limit, Worked, added, at_most

PLACES = (("under_load", "under the load", 0.0), ("at_side", "at the side", math.pi / 2.0))
"""Places at the bore with their angle from the load line; a second load stands at the side."""

LARGEST_CHANGE = 0.05
"""Change of diameter over diameter up to which displacements count as small: a tenth of the radius,
the bound on displacement in solved cases; a choice made here."""


def ring_steps(case: Case, section: Section, held_by: HeldBy) -> Iterator[Step]:
    """A tube as a ring, by three methods, with how it gives way."""
    q, r, h, state = case.line_loads[0], section.radius, section.geometry.wall, case.state
    assert h is not None  # of a ring
    steel = case.post_material(section)
    E, nu, Y = steel.young, steel.poisson, steel.yield_strength
    shift = ring.neutral_shift.worked(r, h)
    yield Step("ring_eccentricity", "section", "neutral circle off the mean one", shift)
    if case.corner is None:
        yield from _resultants(q, r - h / 2.0, held_by, shift.value)
    methods: tuple[tuple[str, str, Callable[[float, float], Worked]], ...] = (
        (
            "ring", "exact series",
            lambda q, at: thick_ring.bore_hoop.worked(q, r, r - h, at, held_by, nu, state),
        ),
        (
            "thin_ring", "thin ring",
            lambda q, at: ring_stress.thin_ring_hoop.worked(q, r, h, at, held_by),
        ),
        (
            "curved_beam", "curved beam",
            lambda q, at: ring_stress.curved_beam_hoop.worked(q, r, h, at, held_by),
        ),
    )  # fmt: skip
    for key, method, hoop in methods:
        for place, where, angle in PLACES:
            what = f"hoop stress, bore {where}, {method}"
            yield from _over_loads(f"{key}_bore_{place}", what, case, hoop, angle, Y)
    elastic = _elastic(float(thick_ring.bore_hoop.plain(q, r, r - h, 0.0, held_by, nu, state)), Y)
    for key, label, change in (
        ("ring_change_along", "change of diameter along the load", ring_deflection.change_along),
        ("ring_change_across", "change of diameter across the load", ring_deflection.change_across),
    ):
        if case.corner is None:
            worked = change.worked(q, r, h, E, nu, held_by, state)
            small = at_most("|ΔD|/D", abs(worked.value) / (2.0 * r), LARGEST_CHANGE)
            yield Step(key, "section", label, worked.also(small, elastic))
    if held_by == "diametral":
        crushed = collapse.collapse_load.worked(Y, r, h, state)
        below = at_most("q/P0", q / crushed.value, 1.0)
        yield Step(
            "ring_collapse_line_load", "section", "line load at plastic collapse",
            crushed.also(below),
        )  # fmt: skip


def _elastic(stress: float, yield_strength: float) -> Limit:
    """That a ring has not yielded, of which these formulas know nothing."""
    return at_most("σ/Y", abs(float(stress)) / yield_strength, 1.0)


def _resultants(q: float, mean_radius: float, held_by: HeldBy, shift: float) -> Iterator[Step]:
    """Moments and thrust of the wall, which the hoop stresses are made of."""
    for place, where, angle in PLACES:
        for key, ring_of, e in (("thin_ring_", "thin ring", 0.0), ("ring_", "curved beam", shift)):
            yield Step(
                f"{key}moment_{place}", "section", f"bending moment {where}, {ring_of}",
                ring.bending_moment.worked(q, mean_radius, angle, held_by, e),
                minor=(key, place) != ("ring_", "under_load"),
            )  # fmt: skip
        yield Step(
            f"ring_thrust_{place}", "section", f"normal force {where}",
            ring.normal_force.worked(q, angle, held_by), minor=True,
        )  # fmt: skip


def disc_steps(case: Case, section: Section, held_by: HeldBy) -> Iterator[Step]:
    """A solid as a disc: the stresses at its centre."""
    steel, D = case.post_material(section), section.outside_diameter

    def along(q: float, at: float) -> Worked:
        """Along the first load: a load at the side stretches its centre across itself."""
        of = disc.centre_along if at == 0.0 else disc.centre_across
        return of.worked(q, D, held_by)

    def across(q: float, at: float) -> Worked:
        of = disc.centre_across if at == 0.0 else disc.centre_along
        return of.worked(q, D, held_by)

    what = "centre stress {} the load, disc"
    yield from _over_loads("disc_centre_along", what.format("along"), case, along, 0.0, None)
    yield from _over_loads("disc_centre_across", what.format("across"), case, across, 0.0, None)
    if case.corner is None:
        yield Step(
            "disc_centre_von_mises", "section", "von Mises stress at the centre, disc",
            disc.centre_von_mises.worked(
                case.line_loads[0], D, held_by, steel.poisson, case.state
            ),
            steel.yield_strength,
        )  # fmt: skip


def _over_loads(
    key: str,
    label: str,
    case: Case,
    stress: Callable[[float, float], Worked],
    angle: float,
    against: float | None,
) -> Iterator[Step]:
    """Each load by itself and added: a second one strikes a quarter turn on."""
    first = stress(case.line_loads[0], angle)
    if case.corner is None:
        yield Step(key, "section", label, _yielding(first, against), against)
        return
    second = stress(case.line_loads[1], abs(angle - math.pi / 2.0))
    for end, of, part in (("first", "first load", first), ("second", "second load", second)):
        yield Step(f"{key}_by_{end}", "section", f"{label}, of the {of}", part, minor=True)
    total = added(f"{key}.added", label, first.symbol, first, second)
    yield Step(key, "section", f"{label}, of both loads", _yielding(total, against), against)


def _yielding(worked: Worked, yield_strength: float | None) -> Worked:
    """The stress with the limit that the ring has not yielded, where it is measured by that."""
    if yield_strength is None:
        return worked
    return worked.also(_elastic(worked.value, yield_strength))
