"""The limits that a tube is made within, as stated or by the standard of its product."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any

from contactfe.case.kinds import Angle, Read
from contactfe.case.stock import mill_tolerance
from contactfe.case.table import Table, key
from contactfe.case.units import Measures, parse_percent, parse_quantity
from contactfe.case.wording import entry, inside
from contactfe.errors import InputError

if TYPE_CHECKING:
    from contactfe.case.bodies import Section
    from contactfe.case.stock import StockSize


@dataclass(frozen=True)
class Shares:
    """How far a size may fall short and go beyond, as shares of its nominal value."""

    under: float
    over: float

    def of(self, nominal: float) -> tuple[float, float]:
        """The least and the greatest size, mm.

        >>> Shares(0.125, 0.0).of(20.0)
        (17.5, 20.0)
        """
        return (1.0 - self.under) * nominal, (1.0 + self.over) * nominal


@dataclass(frozen=True)
class Lengths:
    """The same in mm."""

    under: Annotated[float, Measures("length")]
    over: Annotated[float, Measures("length")]

    def of(self, nominal: float) -> tuple[float, float]:
        """As that of ``Shares``."""
        return nominal - self.under, nominal + self.over


Deviation = Shares | Lengths

_EXAMPLES = '"10 %" or "1.5 mm", either way, or ["-12.5 %", "+10 %"]'


def parse_deviation(stated: object) -> Deviation:
    """Read how far a size may be off: a share or a length, either way, or one for each way.

    Raises InputError where it is neither, or a share is not less than 100 %.

    >>> parse_deviation("10 %"), parse_deviation(["-0.5 mm", "+1 mm"])
    (Shares(under=0.1, over=0.1), Lengths(under=0.5, over=1.0))
    """
    if isinstance(stated, list):
        if len(stated) != 2:
            raise InputError(f"must be {_EXAMPLES}")
        low, high = (_each(index, text) for index, text in enumerate(stated))
        if low[0] > 0.0 or high[0] < 0.0:
            raise InputError(f"must have what is under first, with a minus, such as {_EXAMPLES}")
    else:
        high = _one(stated)
        low = -high[0], high[1]
        if high[0] < 0.0:
            raise InputError(f"must not be negative; allowed: {_EXAMPLES}")
    if low[1] != high[1]:
        raise InputError(f"must be both shares or both lengths, such as {_EXAMPLES}")
    if low[1] and max(-low[0], high[0]) >= 1.0:
        raise InputError("must be less than 100 %")
    return (Shares if low[1] else Lengths)(abs(low[0]), high[0])


def _each(index: int, text: object) -> tuple[float, bool]:
    try:
        return _one(text)
    except InputError as error:
        raise inside(entry(index), text, error) from None


def _one(text: object) -> tuple[float, bool]:
    """A number, and whether it is a share; else it is in mm."""
    if not isinstance(text, str):
        raise InputError(f"must be {_EXAMPLES}")
    if text.strip().endswith("%"):
        return parse_percent(text), True
    return parse_quantity(text, "length"), False


def parse_straightness(text: object) -> float:
    """Read how far an axis is out of straight, over its length, such as "1 mm/m" or "0.1 %".

    Raises InputError where it is neither, or not from 0 to 2 %.

    >>> parse_straightness("1 mm/m"), parse_straightness("0.2 %")
    (0.001, 0.002)
    """
    ends = text.split("/") if isinstance(text, str) else []
    if len(ends) == 2:
        share = parse_quantity(ends[0], "length") / parse_quantity(f"1 {ends[1]}", "length")
    elif isinstance(text, str) and text.strip().endswith("%"):
        share = parse_percent(text)
    else:
        raise InputError('must be such as "1 mm/m", "1/8 in" over 10 ft as "0.1 %", or "0.2 %"')
    if not 0.0 <= share <= CROOKED:
        raise InputError(f"must be from 0 to {100 * CROOKED:g} %")
    return share


CROOKED = 0.02
"""Out-of-straightness up to which one is read: standards have some 0.1 to 0.2 %, and more is a
slip of the pen (a choice made here)."""

_SLOPE = 4.0
"""Slope of a parabolic bow at its end, over its rise over its length (derived here)."""

DEVIATION: dict[str, Any] = {
    "anyOf": [
        {"type": "string", "examples": ["10 %", "1.5 mm"]},
        {
            "type": "array",
            "prefixItems": [
                {"type": "string", "examples": [example]} for example in ("-12.5 %", "+10 %")
            ],
            "minItems": 2,
            "maxItems": 2,
        },
    ]
}


@dataclass(frozen=True)
class Tolerance(Table):
    """Limits that the post is made and set within, each way, or under and over nominal.

    A tube is solved at its least and its greatest wall too, where these are known: stated here, or
    by the product standard of a section's `designation`. What is stated here goes before that;
    sizes that `size` tries out of a list have that of their standard. With the greatest outside
    diameter goes the least wall, with the least diameter the greatest wall: the ring that bends
    most and the one that is relieved least. Solid rounds are solved at their nominal diameter: the
    contact stress goes by its square root.
    """

    wall: Annotated[
        Deviation | None, Read(parse_deviation, DEVIATION, "length"),
        key("of the wall of every tube, under and over", ["-10 %", "+15 %"], "10 %", "1.5 mm"),
    ] = None  # fmt: skip
    outside_diameter: Annotated[
        Deviation | None, Read(parse_deviation, DEVIATION, "length"),
        key("of the outside diameter of every tube, under and over", "1 %", "0.5 mm"),
    ] = None  # fmt: skip
    straightness: Annotated[
        float, Read(parse_straightness, {"type": "string", "examples": ["1 mm/m", "0.1 %"]}),
        key("rise of the bow of the post's axis over its length", "1 mm/m"),
    ] = 0.0  # fmt: skip
    tilt: Annotated[
        Angle, key("of setting post and plate, either way; adds to misalignment", "0.2 deg")
    ] = 0.0

    def __post_init__(self) -> None:
        object.__setattr__(self, "tilt", abs(self.tilt))

    @property
    def turned(self) -> str:
        """The key by which it turns the post."""
        return "tilt" if self.tilt else "straightness"

    @property
    def angle(self) -> float:
        """By how much the plate may be off the post, rad, beside what [alignment] states.

        The tilt, and what the bow adds.
        """
        return self.tilt + self.bow_angle

    @property
    def bow_angle(self) -> float:
        """The slope of a bowed post at its tip to the line from root to tip, by which it is set.

        That of an even bow, four times its rise over its length. It covers the slope in the middle
        of the contact with the bow along the contact, which are less (derived here).
        """
        return _SLOPE * self.straightness


@dataclass(frozen=True)
class Limits:
    """Between which sizes a tube is made, mm, and by what."""

    wall: tuple[float, float]
    outside_diameter: tuple[float, float]
    source: str

    @property
    def made(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Outside diameter and wall of the slenderest ring, and of the stoutest."""
        (thin, thick), (small, large) = self.wall, self.outside_diameter
        return (large, thin), (small, thick)

    @property
    def fault(self) -> str:
        """What of the limits leaves no tube, or is no tolerance; empty where they do."""
        thin, thick = self.wall
        if thin == thick:  # else what was never looked at would count as covered
            return "allows no deviation"
        if thin <= 0.0:
            return "leaves no wall"
        return "leaves no bore" if 2.0 * thick >= self.outside_diameter[0] else ""


def limits_of(
    stated: Tolerance, section: Section, steel: str, size: StockSize | None, bought: bool = False
) -> Limits | None:
    """The limits of a tube; None where they are not known, and of what is no tube.

    ``steel`` is the name of its steel, by which the standard of the product goes where a stock size
    is made to several. What is stated goes before that standard, but of a size that is ``bought``,
    as it is tried out of a list.
    """
    nominal, outside = section.geometry.wall, section.outside_diameter
    if nominal is None:
        return None
    by, wall_by = "[tolerance]", stated.wall
    mill = None if size is None else mill_tolerance(size, steel)
    if section.wall_tolerance is not None:
        by, wall_by = "wall_tolerance", section.wall_tolerance
    if mill is not None and (bought or wall_by is None):
        if bought or stated.outside_diameter is None:
            return Limits(mill.wall, mill.outside_diameter, mill.source)
        diameter = stated.outside_diameter.of(outside)
        least, most = mill.outside_diameter
        by += ", WHICH IS NARROWER" if diameter[0] > least or diameter[1] < most else ""
        return Limits(mill.wall, diameter, f"{mill.source}; outside diameter by {by}")
    if wall_by is None:
        return None
    wall = wall_by.of(nominal)
    if stated.outside_diameter is not None:
        diameter = stated.outside_diameter.of(outside)
    else:
        diameter = (outside, outside) if mill is None else mill.outside_diameter
    if mill is not None:
        pairs = (wall, mill.wall), (diameter, mill.outside_diameter)
        narrower = any(own[0] > of[0] or own[1] < of[1] for own, of in pairs)
        by += ", WHICH IS NARROWER THAN " if narrower else ", in place of "
        by += f"by {mill.source}"
    return Limits(wall, diameter, by)
