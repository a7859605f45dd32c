"""What holds the plate, for whoever designs bracket, weld or anchors: as a table and as data."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict

from contactfe.assess.plate_hold import OnHold, PlateHold, plate_holds
from contactfe.assess.results import SectionResult
from contactfe.assess.value import BODIES
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.blocks import Row, Table, numbers, texts
from contactfe.report.json_file import Json

_NIL = 1e-6
"""Share of the normal force from which on a force along the plate has a direction."""

_EVEN = 1e-9

_SLIDING = 1e-3
"""Share that full sliding may be short of friction times the normal force, as it is solved."""


def holding_the_plate(case: Case, results: Sequence[SectionResult]) -> Iterator[Table]:
    """What the plate exerts at each place that holds it; sections that are alike stand together."""
    units = case.display
    force, couple, whole = units.line_load.name, units.moment_per_length.name, units.force.name
    columns = (
        *texts("section", "held at", "acts", folds=True, most=32),
        *numbers(
            f"x from its\nmiddle\n[{units.length.name}]",
            f"x from the\ncontact\n[{units.length.name}]",
            f"normal\n[{force}]", f"along x\n[{force}]", f"moment\n[{couple}]",
        ),
    )  # fmt: skip
    if any(length is not None for length in case.contact_lengths):
        columns += numbers(
            f"whole,\nnormal\n[{whole}]", f"along x\n[{whole}]", f"moment\n[{units.moment.name}]"
        )
    groups: dict[tuple[Row, ...], list[str]] = {}
    holds = [(result, hold) for result in results for hold in plate_holds(case, result)]
    for result, hold in holds:
        rows = tuple(row[: len(columns) - 1] for row in _rows(case, hold))
        groups.setdefault(rows, []).append(words.one_line(result.section.name))
    yield Table(
        columns,
        tuple(
            tuple(
                (of, *row)
                for of, row in zip(
                    (_names(names, len(results)), *[""] * (len(rows) - 1)), rows, strict=True
                )
            )
            for rows, names in groups.items()
        ),
        "What holds the plate: for bracket, weld or anchors",
        " ".join(_notes(case, holds)),
    )


def _names(names: list[str], count: int) -> str:
    return "every section" if len(names) == count > 1 else ", ".join(names)


def _rows(case: Case, hold: PlateHold) -> Iterator[tuple[str, ...]]:
    units, second = case.display, ", second plate" if hold.number else ""
    size = max(abs(one.normal) for one in (*hold.places, hold.total))
    every = (*hold.places, hold.total) if len(hold.places) > 1 else hold.places
    for one in every:
        figures = (
            ("normal", units.line_load, units.force, size),
            ("along", units.line_load, units.force, size),
            ("moment", units.moment_per_length, units.moment, size * case.plate.thickness),
        )
        values = [(unit, of, _shown(getattr(one, key), scale)) for key, unit, of, scale in figures]
        wholes = [(of, hold.over_the_length(value)) for _, of, value in values]
        yield (
            BODIES[1 + hold.number] if one is hold.total else f"{one.place}{second}",
            _acts(one, size),
            *(units.length.number(round(x, 3) + 0.0) for x in (one.x, one.lever)),
            *(unit.number(value) for unit, _, value in values),
            *("" if value is None else of.number(value) for of, value in wholes),
        )


def _shown(value: float, size: float) -> float:
    """What is left of rounding alone is nothing."""
    return 0.0 if abs(value) <= _NIL * size else value


def _acts(one: OnHold, size: float) -> str:
    """The direction of the force in words."""
    normal = "away from the post" if one.normal >= 0.0 else "towards the post"
    if abs(one.along) <= _NIL * size:
        return normal
    return f"{normal}, {'+' if one.along > 0.0 else '−'}x"


def _notes(case: Case, holds: Sequence[tuple[SectionResult, PlateHold]]) -> Iterator[str]:
    units = case.display
    yield (
        "What the plate exerts on what holds it: normal positive away from the post, along the"
        " plate along +x, moments counter-clockwise, each about its own place, that of the whole"
        " plate about its middle, half its width and thickness; its x is where the normal force"
        " alone has that moment. Dead weight and prying of the bracket are not in it."
    )
    ratios = {
        words.one_line(result.section.name): hold.peak_ratio
        for result, hold in holds
        if abs(hold.peak_ratio - 1.0) > _EVEN
    }
    if ratios:
        each = ", ".join(f"“{name}” {ratio:.3g}" for name, ratio in ratios.items())
        yield (
            f"Per length it is that under the peak line load, over the mean: {each}. The whole is"
            " the mean times the contact length."
        )
        off = {words.one_line(r.section.name): h.towards_tip for r, h in holds if h.towards_tip}
        if off:
            each = ", ".join(
                f"“{name}” {units.length.number(round(x, 2))}" for name, x in off.items()
            )
            yield (
                "Along the post it acts off the middle of the contact, positive towards the tip, by"
                f" {each} {units.length.name}: times the force, one more moment, about x."
            )
    elif holds[0][1].contact_length is not None:
        yield "The force counts as even along the contact."
    yield from _friction(case, holds)
    if case.plate.support.base:
        pull = max(hold.total.pull for _, hold in holds)
        wholes = [hold.over_the_length(hold.total.pull) or 0.0 for _, hold in holds]
        over = "" if max(wholes) == 0.0 else f", {units.force.text(max(wholes))} as a whole"
        yield (
            "The base is modelled to hold both ways: beside the load it pulls the plate towards it"
            f" by {units.line_load.text(pull)} in all{over}, and presses by that much more under"
            " the load. Anchors take it, or the plate lifts a little there."
        )


def _friction(case: Case, holds: Sequence[tuple[SectionResult, PlateHold]]) -> Iterator[str]:
    """What friction may add to a contact that was solved without full sliding."""
    units, most = case.display, case.contact.friction
    sticking = [
        hold
        for _, hold in holds
        if abs(hold.total.along) < (1.0 - _SLIDING) * most * hold.total.normal
    ]
    if not sticking:
        return
    wholes = [hold.over_the_length(most * hold.total.normal) for hold in sticking]
    known = [whole for whole in wholes if whole is not None]
    greatest = f", {units.force.text(max(known))} as a whole" if known else ""
    yield (
        f"The force along x is that of the motion solved, which does NOT slide in full. As at the"
        f" post's root, friction may bring {most:g} of the normal force{greatest}, either way along"
        " the plate, or along the post in its place."
    )


def plate_hold_data(case: Case, result: SectionResult) -> list[Json]:
    """The same as data, in mm, N/mm and N mm/mm; wholes in N and N mm."""
    return [
        {
            "places": [_data(hold, one) for one in hold.places],
            "total": _data(hold, hold.total),
            "peak_ratio": hold.peak_ratio,
            "contact_length": hold.contact_length,
            "towards_tip": hold.towards_tip,
        }
        for hold in plate_holds(case, result)
    ]


def _data(hold: PlateHold, one: OnHold) -> Json:
    keys = ("normal", "along", "moment", "pull")
    return asdict(one) | {f"whole_{key}": hold.over_the_length(getattr(one, key)) for key in keys}
