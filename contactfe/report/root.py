"""What the post hands on to whoever designs the part that holds its root."""

from collections.abc import Iterator, Sequence

from contactfe.assess.by_hand.record import SectionByHand
from contactfe.assess.by_hand.root import RootResultants
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.blocks import GAP, Block, Column, Line, Table, numbers
from contactfe.report.json_file import Json


def root_table(found: Sequence[SectionByHand], case: Case) -> Iterator[Block]:
    """Forces, moments and torque at the root, a row for each section."""
    rows = [(section, section.root) for section in found if section.root is not None]
    if not rows:
        return
    units = case.display
    force, moment = units.unit("force"), units.unit("moment")
    heads = (
        *(f"{name}\n[{force.name}]" for name in ("force\nnormal", "\nalong", "\nresultant")),
        *(f"{name}\n[{moment.name}]" for name in ("moment\nnormal", "\nalong", "\nresultant")),
        f"\ntorque\n[{moment.name}]",
    )
    columns = (Column("section", folds=True, most=26), *numbers(*heads))
    table = tuple(
        (
            words.one_line(section.section.name),
            *map(units.force.number, (root.normal, root.along, root.force)),
            *(units.unit("moment").number(m) for m in _moments(root)),
            units.unit("moment").number(root.torque),
        )
        for section, root in rows
    )
    lever = units.length.text(rows[0][1].lever)
    title = "At the root, to hand to whoever designs what holds it"
    yield Table(columns, (table,), title)
    yield Line(
        "Of the load of the case, without factors. Normal: away from the first plate, as it pushes"
        " the post. Along: along that plate, by friction either way"
        f"{' and by the second plate' if case.corner is not None else ''}. Each force bends the"
        f" root in its own direction, at {lever} from it. Torque: of friction about the axis of the"
        " post, either way. All friction counts as at work across the post; along its axis, where"
        " the floor rises or falls, it would act in place of that and is not counted."
    )
    yield GAP


def root_data(root: RootResultants | None) -> Json | None:
    """The same for programs, in N and N mm."""
    if root is None:
        return None
    normal, along, moment = _moments(root)
    return {
        "force_normal": root.normal,
        "force_along": root.along,
        "force": root.force,
        "moment_of_normal": normal,
        "moment_of_along": along,
        "moment": moment,
        "torque": root.torque,
        "lever": root.lever,
    }


def _moments(root: RootResultants) -> tuple[float, float, float]:
    return root.normal * root.lever, root.along * root.lever, root.moment
