"""How far a solid post comes to a plate where beam shear holds it, which its middle does not show.

Its axis as a beam is there the mean of its section on which the beam shear does work.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from contactfe.assess.by_hand.half_space import patch_limits
from contactfe.assess.by_hand.impacted import ImpactedPlate
from contactfe.assess.by_hand.record import Step, Topic
from contactfe.case import Case, Section
from contactfe.hand import approach, approach_hold
from contactfe.hand.formula import Limit, added

KEY = "approach_of_axis"


def hold_steps(
    case: Case, section: Section, impacted: ImpactedPlate, half_width: float
) -> Iterator[Step]:
    """The approach of a post held by its beam shear, of which the solved contact has the same.

    Of a solid alone: a tube gives way as a ring too. Held otherwise its middle is the hold.
    ``half_width`` in mm.
    """
    support = case.support(section)
    if section.geometry.in_plane != "disc" or not (support.axis and support.formulas):
        return
    post, plate, t = case.post_material(section), case.plate_material, case.plate.thickness
    on_base, q, a = case.plate.support.base, impacted.line_load, half_width
    below, datum = (approach.layer, "base") if on_base else (approach.strip, "back")
    of_post = approach_hold.solid.worked(
        q, section.radius, a, post.young, post.poisson, support.formulas, case.state
    )
    of_plate = below.worked(q, t, a, plate.young, plate.poisson, case.state)
    end = impacted.of_second
    topic: Topic = "contact" if impacted.number == 0 else "second contact"
    label = f"approach, post's hold to the plate's {datum}"
    reach = approach.reach_limit(t, case.plate.width / 2.0 - abs(impacted.at))
    total = replace(
        added(f"{KEY}.added", label, "δ", of_post, of_plate),
        source=f"the sum of two. Post: {of_post.source}. Plate: {of_plate.source}",
    )
    yield Step(
        f"{KEY}_post{impacted.end}",
        topic,
        f"post's part of the approach of its hold{end}",
        of_post,
        minor=True,
    )
    yield Step(
        f"{KEY}_plate{impacted.end}",
        topic,
        f"plate's part of that approach{end}",
        of_plate,
        minor=True,
    )
    limits = _once((*total.limits, *patch_limits(case, section, impacted.at, a), reach))
    yield Step(f"{KEY}{impacted.end}", topic, f"{label}{end}", replace(total, limits=limits))


def _once(limits: Iterable[Limit]) -> tuple[Limit, ...]:
    """Of limits from above on one ratio, such as those of a formula and of the patch, the lowest.

    The ratio is what a limit names before a comma; behind it stands what it is in words.
    """
    kept: dict[str, Limit] = {}
    for limit in limits:
        ratio = limit.what.partition(",")[0]
        if ratio not in kept or limit.bound <= kept[ratio].bound:
            kept[ratio] = limit
    return tuple(kept.values())
