"""How far beyond first yield a section is loaded, and which cases that is not worked out for."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any

from contactfe.case.kinds import Number, Read, each
from contactfe.case.table import Table, key
from contactfe.case.wording import quoted, with_value
from contactfe.errors import InputError

if TYPE_CHECKING:
    from contactfe.case.model import Case

FACTORS = (1.2, 2.0, 3.0)
"""Loads over that of first yield, unless stated (a choice made here)."""

MOST_FACTORS = 6
"""Each is a load to be solved to."""

_FACTOR = Number("a number from 1 to 4", 1.0, 4.0)


def parse_factors(stated: object) -> tuple[float, ...]:
    """Read a rising list of factors.

    Raises InputError where it is no such list.

    >>> parse_factors([1, 2.5])
    (1.0, 2.5)
    """
    if not isinstance(stated, list):
        raise InputError(f"must be a list such as {list(FACTORS)}")
    if len(stated) > MOST_FACTORS:
        raise InputError(f"must hold at most {MOST_FACTORS} values, not {len(stated)}")
    factors = each(stated, _FACTOR.read)
    if any(factor <= before for before, factor in itertools.pairwise(factors)):
        raise InputError("each must be greater than the one before")
    return factors


_LIST: dict[str, Any] = {
    "type": "array",
    "items": _FACTOR.schema,
    "minItems": 1,
    "maxItems": MOST_FACTORS,
}


@dataclass(frozen=True)
class Overload(Table):
    """How far beyond first yield `overload` loads each section.

    A factor is a multiple of the section's own load at first yield, not of the load that the case
    states. At 1 it just begins to yield.
    """

    factors: Annotated[
        tuple[float, ...], Read(parse_factors, _LIST),
        key(
            "multiples of the section's first-yield load that it is loaded to: 1 to 6 numbers from"
            " 1 to 4, rising; these without it",
            list(FACTORS),
        ),
    ] = FACTORS  # fmt: skip


def check_overload(case: "Case") -> None:
    """Refuse a case that loads beyond first yield are not worked out for.

    Raises
    ------
    InputError
        with one line for each fault: file, key, value, and what is allowed
    """
    if faults := list(_not_covered(case)):
        raise InputError("\n".join(f"{case.source}: {line}" for line in faults))


def _not_covered(case: "Case") -> Iterator[str]:
    """Place and message of each fault of a case, a line each."""
    contact = case.contact
    if case.state != "plane strain":
        yield f'{with_value("[model] state", case.state)}: must be "plane strain" for overload'
    if contact.friction > 0.0:
        yield f"{with_value('[contact] friction', contact.friction)}: must be 0 for overload"
    if contact.angle != 0.0:
        angle = case.display.angle.text(contact.angle)
        yield f"{with_value('[contact] angle', angle)}: must be 0 for overload"
    if case.corner is not None:
        yield "[corner]: must not be stated for overload, which is of one plate"
    for number, section in enumerate(case.sections, 1):
        if section.infill is not None:
            yield (
                f"section {number} {quoted(section.name)}, infill: must not be stated for overload:"
                " an infill crushes, and no law of that is known here"
            )
