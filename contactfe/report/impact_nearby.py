"""What force a motion near the one stated gives, as :mod:`contactfe.assess.nearby` has it: in
sentences, as a table and as data. A velocity at closure that is stated has none near it.
"""

from __future__ import annotations

from collections.abc import Iterator

from contactfe.assess.impact import ImpactResult, SectionImpact
from contactfe.assess.nearby import SENSITIVE, SHARE, Key, Nearby, sensitive
from contactfe.case.display import Display, significant
from contactfe.case.motion import Motion
from contactfe.report.blocks import Column, Table, numbers
from contactfe.report.json_file import Json
from contactfe.report.specimen import scaled_number, specimen

LABELS: dict[Key, str] = {
    "displacement_minus_10_percent": f"displacement {-100 * SHARE:+.0f} %",
    "displacement_plus_10_percent": f"displacement {100 * SHARE:+.0f} %",
    "pseudo_velocity": "v = ω·u0",
}

_PSEUDO_VELOCITY = (
    "ω·u0 is the greatest velocity of harmonic motion of that displacement and period. It is no"
    " bound for an earthquake: relative velocities of long-period, highly damped floors exceed it."
    " State velocity, at closure of the gap, from a time history where there is one."
)


def sensitivity(impact: SectionImpact) -> Iterator[str]:
    """How much more force a tenth more displacement gives, where that is much."""
    motion = impact.motion
    if not impact.sensitive or motion.displacement is None:
        return
    plus = next(one for one in impact.nearby if one.key == "displacement_plus_10_percent")
    more = "a force that was not found"
    if plus.peak_contact_force is not None:
        rise = plus.peak_contact_force / impact.peak_contact_force.value - 1.0
        more = f"{100.0 * rise:+.0f} % of force"
    yield (
        f"SENSITIVE to the displacement: {100 * SHARE:+.0f} % of it gives {more}, more than the"
        f" {100 * SENSITIVE:+.0f} % from which on this line is printed. The gap is"
        f" {significant(motion.gap / motion.displacement, 3)} of the displacement, and the velocity"
        " at closure falls to zero as the gap nears it."
    )


def not_found(result: ImpactResult, impact: SectionImpact) -> Iterator[str]:
    """Of which motions near the one stated the force was not found, and why."""
    lost = [one for one in impact.nearby if one.not_found is not None]
    if lost:
        names = ", ".join(LABELS[one.key] for one in lost)
        beyond = "beyond the range of the model: "
        why = beyond if result.motion.contact_law.law == "section" else ""
        yield f"Not found: {names}: {why}{lost[0].not_found}."


def nearby_force(one: Nearby, units: Display) -> str:
    """The force of a motion near the one stated, or why there is none."""
    if one.peak_contact_force is None:
        return "not found"
    return (
        units.force.number(one.peak_contact_force)
        if one.velocity_at_closure
        else "0, the gap stays open"
    )


def nearby_table(result: ImpactResult, impact: SectionImpact) -> Iterator[Table]:
    """The force beside those of motions near the one stated."""
    case, units = result.case, result.case.display
    stated = impact.motion.displacement
    if not impact.nearby or stated is None:
        return
    heads = [
        f"displacement\n[{units.length.name}]", f"v at closure\n[{units.velocity.name}]",
        f"peak contact force\n[{units.force.name}]", "of that of the\nmotion stated",
    ]  # fmt: skip
    if case.scale is not None:
        heads.append(f"force, {specimen(case.scale)}\n[{units.force.name}]")
    force, v = impact.peak_contact_force.value, impact.response.impact.velocity
    shown = [
        (
            LABELS[one.key],
            one.displacement,
            one.velocity_at_closure,
            one.peak_contact_force,
            nearby_force(one, units),
        )
        for one in impact.nearby
    ]
    shown.append(("as stated", stated, v, force, units.force.number(force)))
    rows = []
    for label, displacement, velocity, found, text in sorted(shown, key=lambda row: row[2]):
        cells = [label, units.length.number(displacement), units.velocity.number(velocity), text]
        cells.append("" if found is None else f"{100.0 * found / force:.0f} %")
        if case.scale is not None:
            cells.append(scaled_number(found, "force", case.scale, units))
        rows.append(tuple(cells))
    title = "The force beside that of motions near the one stated"
    yield Table((Column(least=24), *numbers(*heads)), (tuple(rows),), title, _PSEUDO_VELOCITY)


def nearby_document(motion: Motion, nearby: tuple[Nearby, ...], force: float) -> Json | None:
    """The same as data, beside a peak contact force in N, 0 where the gap stays open; None where
    the velocity at closure is stated.
    """
    stated = motion.displacement
    if not nearby or stated is None:
        return None
    motions: Json = {
        one.key: {
            "displacement": one.displacement,
            "velocity_at_closure": one.velocity_at_closure,
            "gap_closes": one.velocity_at_closure > 0.0,
            "peak_contact_force": one.peak_contact_force,
            "over_peak_contact_force": None
            if one.peak_contact_force is None or force == 0.0
            else one.peak_contact_force / force,
            "not_found": one.not_found,
        }
        for one in nearby
    }
    return {
        **motions,
        "gap_over_displacement": motion.gap / stated,
        "sensitive": sensitive(nearby, force),
        "sensitive_above": 1.0 + SENSITIVE,
        "note": _PSEUDO_VELOCITY,
    }
