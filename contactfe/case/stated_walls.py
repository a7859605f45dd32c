"""The kinds of value that [sizing] may hold: diameters, a range of walls, names of stock lists."""

from collections.abc import Mapping
from typing import Annotated

from pydantic import BeforeValidator, ValidationInfo

from contactfe.case.sizing import SOLID, WallLengths, Walls
from contactfe.case.spread import parse_spread
from contactfe.case.stated_values import REPORT_UNITS, Measures
from contactfe.case.stock import BORED_BAR, BORED_BARS, lists
from contactfe.case.units import LARGEST, parse_quantity
from contactfe.case.wording import InsideError, entry, inside, listed, not_as_asked, with_value
from contactfe.errors import InputError

FEWEST, MOST = 5, 400
"""Bounds on the walls of a curve: fewer do not show where it bends."""

_EXAMPLES = (
    '{ from = "8 mm", to = "75 mm" } or, as shares of the outside diameter,'
    " { from = 0.05, to = 0.5, count = 40 }"
)


def _diameters(stated: object, info: ValidationInfo) -> tuple[float, ...]:
    """One outside diameter, mm, or several; messages have lengths of the kind the case asks for."""
    if isinstance(stated, str):
        return (_diameter(stated),)
    asked = (info.context or {}).get(REPORT_UNITS)
    examples = ("6 in", "8 in") if asked == "US customary" else ("150 mm", "180 mm")
    return parse_spread(stated, _diameter, examples)


def _diameter(text: object) -> float:
    diameter = parse_quantity(text, "length")
    if diameter < 1 / LARGEST:
        raise InputError("must be greater than zero")
    return diameter


def parse_walls(stated: object) -> Walls | WallLengths:
    """Read a range of walls: two lengths, or two shares of the outside diameter, up to 0.5.

    Raises InputError where it is no such range.

    >>> parse_walls({"from": 0.1, "to": 0.4})
    Walls(least=0.1, most=0.4, count=40)
    >>> parse_walls({"from": "8 mm", "to": "2 cm", "count": 12})
    WallLengths(least=8.0, most=20.0, count=12)
    """
    if not isinstance(stated, Mapping):
        raise InputError(f"must be a range such as {_EXAMPLES}")
    keys = set(stated)
    if not {"from", "to"} <= keys or not keys <= {"from", "to", "count"}:
        wrong = not_as_asked(stated, ("from", "to"), ("count",))
        raise InputError(f"a range must have the keys from and to, may have count{wrong}")
    count = stated.get("count", Walls().count)
    if not isinstance(count, int) or isinstance(count, bool) or not FEWEST <= count <= MOST:
        raise inside("count", count, f"must be a whole number from {FEWEST} to {MOST}")
    ends = [stated["from"], stated["to"]]
    numbers = [isinstance(end, int | float) and not isinstance(end, bool) for end in ends]
    if all(numbers):
        low, high = (float(end) for end in ends)
        if not 0.0 < low < high <= SOLID:
            raise InsideError(
                f"from = {low:g}, to = {high:g}: shares of the outside diameter must run from above"
                " 0 to a greater one, at most 0.5"
            )
        return Walls(low, high, count)
    if any(numbers):
        raise InputError(f"from and to must be both lengths or both shares, such as {_EXAMPLES}")
    lengths = []
    for key in ("from", "to"):
        try:
            length = parse_quantity(stated[key], "length")
        except InputError as error:
            raise inside(key, stated[key], error) from None
        lengths.append(length)
    low, high = lengths
    if not 1 / LARGEST < low < high:
        least, most = (with_value(key, stated[key]) for key in ("from", "to"))
        raise InsideError(f"{least}, {most}: must run from above 0 to a greater wall")
    return WallLengths(low, high, count)


def parse_stock(stated: object) -> tuple[str, ...]:
    """Read names of lists of sizes, none twice; bored bars count as lists.

    Raises InputError where it is no list, or names one that is not known.

    >>> parse_stock(["EN 10220", "bored bar", "EN 10220"])
    ('EN 10220', 'bored bar')
    """
    known = (*lists(), *BORED_BARS)
    if not isinstance(stated, list):
        raise InputError(f'must be a list such as ["{known[0]}", "{BORED_BAR}"]')
    for index, name in enumerate(stated):
        if name not in known:
            raise inside(entry(index), name, f"is no list of sizes; known are {_all(known)}")
    return tuple(dict.fromkeys(stated))


def _all(names: tuple[str, ...]) -> str:
    return listed([f'"{name}"' for name in names])


Diameters = Annotated[tuple[float, ...], BeforeValidator(_diameters), Measures("length")]
WallRange = Annotated[Walls | WallLengths, BeforeValidator(parse_walls), Measures("length")]
StockLists = Annotated[tuple[str, ...], BeforeValidator(parse_stock)]
