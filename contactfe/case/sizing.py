"""Which walls are tried when the wall is sized, and which checks they have to pass."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal, get_args

from pydantic import AfterValidator, ValidationInfo

from contactfe.case.kinds import Length, Names, Quantity, Read, range_of, read_positive
from contactfe.case.spread import parse_spread
from contactfe.case.stock import BORED_BARS, lists
from contactfe.case.table import Reading, Table, key
from contactfe.case.units import LARGEST, Measures, parse_quantity
from contactfe.case.wording import InsideError, inside, not_as_asked, with_value
from contactfe.errors import InputError

CheckKind = Literal["stress", "post", "clauses", "hand"]
"""What counts: the solved stresses of post and plate; the stresses of the post along its axis by
hand; the clauses of the standards; every other stress by hand, of contact, section and plate."""

CHECKS: tuple[CheckKind, ...] = ("stress", "post", "clauses")
"""Those that count unless stated. The last is left out: its formulas estimate what is solved."""

SOLID = 0.5
"""Wall over outside diameter of a solid bar."""

LEAST_BORE = 20.0
"""Least bore of a tube, mm, unless stated: heads for deep-hole drilling begin at about that size,
and a slimmer bore in a post is work that few shops take (common practice, no source)."""

LEAST_BORE_RATIO = 0.25
"""Bore over outside diameter that takes its place where it is less, as slim tubes are drawn and not
drilled (common practice, no source)."""


@dataclass(frozen=True)
class Walls:
    """An even range of walls as shares of the outside diameter, both ends included."""

    least: float = 0.05
    most: float = SOLID
    count: int = 40

    def shares(self, _outside_diameter: float) -> tuple[float, ...]:
        """Walls over an outside diameter (mm), rising; here whatever it is.

        >>> Walls(0.1, 0.5, 3).shares(150.0)
        (0.1, 0.3, 0.5)
        """
        return _even(self.least, self.most, self.count)


@dataclass(frozen=True)
class WallLengths:
    """The same in mm."""

    least: Annotated[float, Measures("length")]
    most: Annotated[float, Measures("length")]
    count: int

    def shares(self, outside_diameter: float) -> tuple[float, ...]:
        """As that of ``Walls``; what leaves no bore is a solid bar.

        >>> WallLengths(40.0, 80.0, 3).shares(100.0)
        (0.4, 0.5)
        """
        even = _even(self.least, self.most, self.count)
        return tuple(dict.fromkeys(min(wall / outside_diameter, SOLID) for wall in even))


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
    asked = (info.context or Reading()).units
    examples = ("6 in", "8 in") if asked == "US customary" else ("150 mm", "180 mm")
    return parse_spread(stated, _diameter, examples)


def _diameter(text: object) -> float:
    return read_positive(text, "length")


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
    for end in ("from", "to"):
        try:
            lengths.append(parse_quantity(stated[end], "length"))
        except InputError as error:
            raise inside(end, stated[end], error) from None
    low, high = lengths
    if not 1 / LARGEST < low < high:
        least, most = (with_value(end, stated[end]) for end in ("from", "to"))
        raise InsideError(f"{least}, {most}: must run from above 0 to a greater wall")
    return WallLengths(low, high, count)


def _some(checks: tuple[CheckKind, ...]) -> tuple[CheckKind, ...]:
    if not checks:
        raise InputError("must hold at least one check")
    return tuple(dict.fromkeys(checks))


_LENGTH = Quantity("length").schema
_DIAMETERS: dict[str, Any] = {
    "anyOf": [
        _LENGTH,
        {"type": "array", "items": _LENGTH},
        range_of(_LENGTH, "from", "to", "count"),
    ]
}
_WALLS = range_of({"anyOf": [_LENGTH, {"type": "number"}]}, "from", "to")


@dataclass(frozen=True)
class Sizing(Table):
    """Walls and stock sizes that `size` tries, of the post's steel and hold.

    Between the wall that leaves the least bore and the solid bar no wall is tried; a post on a
    rigid core needs a range that ends before the solid. `contactfe catalogue` has the lists.
    """

    outside_diameters: Annotated[
        tuple[float, ...], Read(_diameters, _DIAMETERS, "length"),
        key(
            "one or several; those of the sections without it",
            ["150 mm", "160 mm"], name="outside_diameter",
        ),
    ] = ()  # fmt: skip
    walls: Annotated[
        Walls | WallLengths, Read(parse_walls, _WALLS, "length"),
        key(
            "range of walls, as lengths or shares of the diameter; this one without it",
            {"from": 0.05, "to": 0.5, "count": 40}, name="wall",
        ),
    ] = Walls()  # fmt: skip
    stock: Annotated[
        tuple[str, ...], Names(lambda: (*lists(), *BORED_BARS), "list of sizes"),
        key("lists of sizes that are tried too", ["EN 10220", "bored bar"]),
    ] = ()  # fmt: skip
    checks: Annotated[
        tuple[CheckKind, ...],
        AfterValidator(_some),
        key('that a wall has to pass; all but "hand" without it', list(get_args(CheckKind))),
    ] = CHECKS
    least_bore: Annotated[
        Length | None,
        key("20 mm without it, or a quarter of the outside diameter where that is less", "20 mm"),
    ] = None

    def bore(self, outside_diameter: float) -> float:
        """The least bore, mm, that is tried at an outside diameter, mm.

        >>> Sizing().bore(150.0), Sizing().bore(60.0), Sizing(least_bore=30.0).bore(150.0)
        (20.0, 15.0, 30.0)
        """
        if self.least_bore is not None:
            return self.least_bore
        return min(LEAST_BORE, LEAST_BORE_RATIO * outside_diameter)


def _even(least: float, most: float, count: int) -> tuple[float, ...]:
    # Weights that are exactly 0 and 1 at the ends.
    steps = count - 1
    return tuple(least * ((steps - k) / steps) + most * (k / steps) for k in range(count))
