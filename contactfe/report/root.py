"""What the post hands on to whoever designs the part that holds its root."""

from collections.abc import Iterator, Sequence

from contactfe.assess.by_hand.record import SectionByHand
from contactfe.assess.by_hand.root import RootResultants
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.blocks import GAP, Block, Column, Line, Table, numbers
from contactfe.report.json_file import Json

Roots = Sequence[tuple[str, str, RootResultants]]
"""Level of hazard, section, and what its post hands on there."""


def root_table(found: Sequence[SectionByHand], case: Case) -> Iterator[Block]:
    """Forces, moments and torque at the root, a row for each section."""
    rows = [(section, section.root) for section in found if section.root is not None]
    if not rows:
        return
    title = "At the root, to hand to whoever designs what holds it"
    yield _table(
        case, "section", [("", section.section.name, root) for section, root in rows], title
    )
    yield Line(f"Of the load of the case, without factors. {_note(case)}")
    yield GAP


def root_by_level(case: Case, roots: Roots) -> Iterator[Block]:
    """The same at each level of hazard at which the gap closes, a row for each section."""
    if not roots:
        return
    title = "At the root, to hand to whoever designs what holds it"
    yield _table(case, "level, section", roots, title)
    yield Line(
        "Of the peak contact force, without factors, in the middle of the contact. A force that is"
        " shared unevenly acts nearer to one end: compare has its lever, and MORE MOMENT where that"
        f" is the end at the tip. {_note(case)}"
    )
    yield GAP


def _table(case: Case, head: str, roots: Roots, title: str) -> Table:
    """A row for each level and section; sections that are alike there stand together."""
    units = case.display
    force, moment = units.unit("force"), units.unit("moment")
    heads = (
        *(f"{name}\n[{force.name}]" for name in ("force\nnormal", "\nalong", "\nresultant")),
        *(f"{name}\n[{moment.name}]" for name in ("moment\nnormal", "\nalong", "\nresultant")),
        f"\ntorque\n[{moment.name}]",
        f"\nlever\n[{units.length.name}]",
    )
    columns = (Column(head, folds=True, most=34), *numbers(*heads))
    alike: dict[tuple[str, ...], list[str]] = {}
    for level, section, root in roots:
        figures = (
            *map(units.force.number, (root.force_normal, root.force_along, root.force)),
            *(moment.number(m) for m in _moments(root)),
            units.length.number(round(root.lever, 3)),
        )
        alike.setdefault((words.one_line(level), *figures), []).append(words.one_line(section))
    table = tuple(
        (", ".join(filter(None, (level, *names))), *figures)
        for (level, *figures), names in alike.items()
    )
    return Table(columns, (table,), title)


def _note(case: Case) -> str:
    return (
        "Normal: away from the first plate, as it pushes the post. Along: along that plate, by"
        f" friction either way{' and by the second plate' if case.corner is not None else ''}. Each"
        " force bends the root in its own direction, with the lever. Torque: of friction about the"
        " axis of the post, either way. All friction counts as at work across the post; along its"
        " axis, where the floor rises or falls, it would act in place of that and is not counted."
    )


def root_data(root: RootResultants | None) -> Json | None:
    """The same for programs, in N and N mm."""
    if root is None:
        return None
    return {
        "force_normal": root.force_normal,
        "force_along": root.force_along,
        "force": root.force,
        "moment_of_normal": root.moment_of_normal,
        "moment_of_along": root.moment_of_along,
        "moment": root.moment,
        "torque": root.torque,
        "lever": root.lever,
    }


def root_by_level_data(roots: Roots) -> list[Json]:
    """The same at each level of hazard, by level and section."""
    return [
        {"level": level or None, "section": section, **(root_data(root) or {})}
        for level, section, root in roots
    ]


def _moments(root: RootResultants) -> tuple[float, float, float, float]:
    return root.moment_of_normal, root.moment_of_along, root.moment, root.torque
