"""The page of a test specimen: what the case states beside what the specimen has, and the rules."""

from collections.abc import Iterator
from itertools import groupby

from contactfe.assess.unscaled import roller_bound, roller_shares
from contactfe.case import Case
from contactfe.case.across import Location
from contactfe.case.display import significant
from contactfe.case.faults import place
from contactfe.case.specimen import Pair, Specimen
from contactfe.hand.similitude import SOURCE, Scaled, damper_factor, factor, rule
from contactfe.report import words
from contactfe.report.answer import Room, answer_page, spared
from contactfe.report.blocks import Block, Column, Line, Page, Table, framed, lines, numbers
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
    " rate, which is 1/√S times; welds, their toughness and residual stress; surface finish and"
    " tolerances; steel, which in another thickness is of another grade or heat.",
)


def scale_page(found: Specimen) -> Page:
    """The whole page."""
    return framed(
        f"{found.case.title}, {heading(found.scale)}",
        CAUTIONS,
        Line(
            f"Equal stress and acceleration, same material: S = {found.scale:g}, length of the"
            " specimen over length of the prototype."
        ),
        _stated(found),
        _results(found),
        *lines(remarks(found)),
    )


def scale_answer(found: Specimen) -> Page:
    """Load, sizes and motion of the specimen, and what in it is not to scale."""

    def blocks(room: Room) -> Iterator[Block]:
        whole = _stated(found)
        table = spared(whole, 3, 2 * room.rows)
        yield table
        if (left := _rows(whole) - _rows(table)) > 0:
            yield Line(f"{left} more quantities are not listed here.")
        yield from lines(remarks(found)[: room.named])
        yield from lines(CAUTIONS[: room.reasons])

    what = f"Equal stress and acceleration, same material: S = {found.scale:g}, specimen/prototype."
    return answer_page(f"{found.case.title}, {heading(found.scale)}", what, blocks)


def _rows(table: Table) -> int:
    return sum(map(len, table.groups))


def remarks(found: Specimen) -> tuple[str, ...]:
    """What the tables of a specimen do not say, and which of its clauses are not to scale."""
    return (*found.remarks, *unscaled_clauses(found.case, found.scale))


def damper_exponents(case: Case) -> tuple[float, ...]:
    """Each velocity exponent of the case's dampers, once."""
    dampers = () if case.motion is None else case.motion.dampers
    return tuple(dict.fromkeys(damper.exponent for damper in dampers))


def unscaled_clauses(case: Case, scale: float) -> Iterator[str]:
    """A sentence where a clause of the case has another ratio in its specimen; else nothing."""
    found: dict[str, list[str]] = {}
    for name, share in roller_shares(case, scale).items():
        found.setdefault(f"{share:.3f}", []).append(f"“{words.one_line(name)}”")
    if not found:
        return
    each = ", ".join(
        f"{share} of the prototype's for {', '.join(of)}" for share, of in found.items()
    )
    yield (
        "AISC 360, J7(b), for rollers does not scale: above a diameter of"
        f" {case.display.length.text(roller_bound(case))} its strength grows as the root of the"
        f" diameter. Its ratio in the specimen is {each}, so a specimen that satisfies it does not"
        " show that the prototype does."
    )


def _stated(found: Specimen) -> Table:
    rows = tuple(
        (
            words.one_line(place(found.stated, at)),
            words.one_line(", ".join(pair.quantity.text for pair in pairs)),
            words.one_line(", ".join(pair.text for pair in pairs)),
            significant(pairs[0].factor),
            rule(pairs[0].quantity.dimension),
        )
        for at, pairs in _by_key(found.pairs)
    )
    return Table(
        (
            Column("key", folds=True, most=52),
            *(
                Column(head, numbers=True, folds=True, most=30)
                for head in ("prototype", heading(found.scale), "factor")
            ),
            Column("rule"),
        ),
        (rows,),
        "What the case states",
        "Quantities stand as in the file. Plain numbers, names and choices stay.",
    )


def _by_key(pairs: tuple[Pair, ...]) -> Iterator[tuple[Location, list[Pair]]]:
    """The quantities of each key; those of a list stand together."""

    def key(pair: Pair) -> Location:
        at = pair.quantity.place
        return at[:-1] if isinstance(at[-1], int) else at

    for at, of in groupby(pairs, key):
        yield at, list(of)


def _results(found: Specimen) -> Table:
    rows = [(name, significant(factor(of, found.scale)), rule(of)) for name, of in RESULTS]
    law = "damper coefficient C of F = C·v^α"
    exponents = damper_exponents(found.case)
    rows += [
        (f"{law}, α = {of:g}", significant(damper_factor(found.scale, of)), DAMPER_RULE)
        for of in exponents
    ] or [(f"{law}, for any α", "", DAMPER_RULE)]
    return Table(
        (Column("quantity", least=52), *numbers("factor"), Column("rule")),
        (tuple(rows),),
        "Results of the specimen over those of the prototype",
        f"Source: {SOURCE}.",
    )
