"""The page of a test specimen: what the case states beside what the specimen has, and the rules."""

from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import Any

from rich import box
from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from contactfe.case import Case
from contactfe.case.across import Location
from contactfe.case.display import significant
from contactfe.case.faults import place
from contactfe.case.specimen import Pair, Specimen
from contactfe.hand.similitude import SOURCE, Scaled, damper_factor, factor, rule
from contactfe.report import words
from contactfe.report.scale_clauses import unscaled_clauses
from contactfe.report.specimen import specimen as heading

RESULTS: tuple[tuple[str, Scaled | None], ...] = (
    ("stress, pressure, yield strength", "stress"),
    ("stress concentration K, utilisation, any plain ratio", None),
    ("half-width, approach, deflection, every length", "length"),
    ("angle", "angle"),
    ("line load", "line load"),
    ("force", "force"),
    ("moment", "moment"),
    ("moment per length along the post", "moment per length"),
    ("stiffness", "stiffness"),
    ("stiffness per length along the post", "line stiffness"),
    ("energy", "energy"),
    ("time, period, duration of the impact", "time"),
    ("frequency", "frequency"),
    ("velocity", "velocity"),
    ("acceleration", "acceleration"),
    ("mass that moves, with what is added", "mass"),
    ("mass per length of the steel itself", "mass per length"),
)
"""What results state, and what it measures."""

DAMPER_RULE = "S^(2 − α/2)"

CAUTIONS = (
    "Mass must be added to the specimen: what moves scales by S², and the steel's own mass by S³.",
    "Not scaled: stress from the steel's own weight, which is S times that of the prototype; strain"
    " rate, 1/√S times; welds, their toughness and residual stress; surface finish and tolerances;"
    " and that steel of another thickness is of another grade or heat.",
)


def scale_page(case: Case, data: Mapping[str, Any], found: Specimen) -> RenderableType:
    """The whole page. ``data`` are the tables of the prototype's file."""
    title = Text(f"{words.one_line(case.title)}, {heading(found.scale)}", style="bold")
    about = Text(
        f"Equal stress and acceleration, same material: S = {found.scale:g}, length of the specimen"
        " over length of the prototype.\n"
    )
    parts: list[RenderableType] = [title, about, _stated(data, found)]
    parts.append(_note("Quantities stand as in the file. Plain numbers, names and choices stay."))
    parts += [_results(case, found.scale), _note(f"Source: {SOURCE}.")]
    parts.extend(Text(remark) for remark in remarks(case, found))
    parts.extend(Text(f"Caution: {line}") for line in CAUTIONS)
    return Group(*parts)


def remarks(case: Case, found: Specimen) -> tuple[str, ...]:
    """What the tables of a specimen do not say, and which of its clauses are not to scale."""
    return (*found.remarks, *unscaled_clauses(case, found.scale))


def damper_exponents(case: Case) -> tuple[float, ...]:
    """Each velocity exponent of the case's dampers, once."""
    dampers = () if case.motion is None else case.motion.dampers
    return tuple(dict.fromkeys(damper.exponent for damper in dampers))


def _stated(data: Mapping[str, Any], found: Specimen) -> Table:
    table = _table("What the case states")
    table.add_column("key", overflow="fold", max_width=52)
    for header in ("prototype", heading(found.scale), "factor"):
        table.add_column(header, justify="right", overflow="fold", max_width=30)
    table.add_column("rule")
    for at, pairs in _by_key(found.pairs):
        first = pairs[0]
        table.add_row(
            Text(words.one_line(place(data, at))),
            Text(words.one_line(", ".join(pair.quantity.text for pair in pairs))),
            Text(words.one_line(", ".join(pair.text for pair in pairs))),
            significant(first.factor),
            rule(first.quantity.dimension),
        )
    return table


def _by_key(pairs: tuple[Pair, ...]) -> Iterator[tuple[Location, list[Pair]]]:
    """The quantities of each key; those of a list stand together."""

    def key(pair: Pair) -> Location:
        at = pair.quantity.place
        return at[:-1] if isinstance(at[-1], int) else at

    for at, of in groupby(pairs, key):
        yield at, list(of)


def _results(case: Case, scale: float) -> Table:
    table = _table("Results of the specimen over those of the prototype")
    table.add_column("quantity", min_width=52)
    table.add_column("factor", justify="right")
    table.add_column("rule")
    for name, dimension in RESULTS:
        table.add_row(name, significant(factor(dimension, scale)), rule(dimension))
    exponents = damper_exponents(case)
    for exponent in exponents:
        law = f"damper coefficient C of F = C·v^α, α = {exponent:g}"
        table.add_row(law, significant(damper_factor(scale, exponent)), DAMPER_RULE)
    if not exponents:
        table.add_row("damper coefficient C of F = C·v^α, for any α", "", DAMPER_RULE)
    return table


def _table(title: str) -> Table:
    return Table(
        box=box.SIMPLE_HEAD, padding=(0, 2, 0, 0), show_edge=False,
        title=Text(title, style="bold"), title_justify="left",
    )  # fmt: skip


def _note(text: str) -> RenderableType:
    return Padding(Text(text, style="dim"), (0, 0, 1, 0))
