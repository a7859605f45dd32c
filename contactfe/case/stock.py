"""Tubes that are made to a list of sizes, out of stock.toml, found by their designation.

And bars that a tube may be bored from, which have the yield strength of the bar.
"""

import json
import math
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache
from importlib.resources import files
from typing import Any

from contactfe.case.units import parse_quantity
from contactfe.errors import InputError

DENSITY = 7850.0
"""kg/m³ of the steel that masses are listed for: EN 10210-2 (from memory, not seen)."""

BORED_BAR, BORED_INCH_BAR = BORED_BARS = ("bored bar", "bored inch bar")
"""How the bars go by where lists of sizes are named: those in mm, and those in inches."""

_SUGGESTIONS = 3
_MM2_IN_M2 = 1e6
_MM_IN_INCH = 25.4
_NOISE = 1e-9
_THICK = 0.15
"""Wall over outside diameter from which on ASTM A519 counts a tube as thick."""


@dataclass(frozen=True)
class StockSize:
    """One tube of a list; lengths in mm, nominal."""

    designation: str  # as a case file gives it: "ASME B36.10M NPS 6 XXS"
    outside_diameter: float
    wall: float
    listed_in: str  # "ASME B36.10M"
    source: str  # of the dimensions, and whether they were seen
    note: str  # what the wall may fall short by, and what is taken for design
    catalogue: bool = True  # pipe or hollow section that a stockist lists; else made to order
    made_to: tuple[str, ...] = ()  # product standards it may be made to; none of a bored bar

    @property
    def bore_ratio(self) -> float:
        """Bore over outside diameter."""
        return 1 - 2 * self.wall / self.outside_diameter

    @property
    def mass_per_length(self) -> float:
        """Mass of the nominal size in steel of ``DENSITY``, kg/m."""
        area = math.pi * (self.outside_diameter - self.wall) * self.wall
        return DENSITY * area / _MM2_IN_M2


@cache
def _data() -> dict[str, Any]:
    return tomllib.loads(files("contactfe.case").joinpath("stock.toml").read_text("utf-8"))


@cache
def sizes() -> tuple[StockSize, ...]:
    """Every size that is known, list by list, each by outside diameter and wall."""
    data = _data()
    found: list[StockSize] = []
    for a_list in [*data["pipe"], *data["tube"]]:
        mm = parse_quantity(f"1 {a_list['unit']}", "length")
        rows = _pipes(a_list) if "size" in a_list else _tubes(a_list)
        of_list = [
            StockSize(
                designation=f"{a_list['name']} {name}",
                outside_diameter=mm * outside,
                wall=mm * wall,
                listed_in=a_list["name"],
                source=a_list["source"],
                note=a_list["note"],
                catalogue=a_list.get("catalogue", True),
                made_to=tuple(a_list["made_to"]),
            )
            for name, outside, wall in rows
        ]
        found.extend(sorted(of_list, key=lambda size: (size.outside_diameter, size.wall)))
    return tuple(found)


def lists() -> tuple[str, ...]:
    """Names of the lists, in the order of the file."""
    return tuple(dict.fromkeys(size.listed_in for size in sizes()))


def nearest(name: str, outside_diameter: float, within: float) -> tuple[StockSize, ...]:
    """The sizes of a list that have its outside diameter nearest to one, mm, by wall.

    Bored bars count as lists. Empty where none lies ``within`` that share of the diameter.

    >>> [size.wall for size in nearest("AISC HSS", 170.0, 0.02)]
    [10.9728, 12.7]
    >>> nearest("AISC HSS", 160.0, 0.01)
    ()
    """
    of_list = bored_bars() if name in BORED_BARS else sizes()
    found = [size for size in of_list if size.listed_in == name]
    closest = min(abs(size.outside_diameter - outside_diameter) for size in found)
    if closest > within * outside_diameter:
        return ()
    at = [s for s in found if abs(s.outside_diameter - outside_diameter) <= closest * (1 + 1e-9)]
    return tuple(sorted(at, key=lambda size: (size.outside_diameter, size.wall)))


@cache
def bored_bars() -> tuple[StockSize, ...]:
    """Tubes bored from round bars: each bar with its bores, by diameter and wall.

    They are no sizes that a section may name, as its steel would be looked up by the wall.
    """
    found: list[StockSize] = []
    for bar in _data()["bar"]:
        mm = parse_quantity(f"1 {bar['unit']}", "length")
        for outside in bar["outside"]:
            most = bar["largest_bore"] * outside
            first, step = bar["least_bore"], bar["step"]
            bores = [first + step * k for k in range(int((most - first) / step + _NOISE) + 1)]
            found.extend(
                StockSize(
                    f"{bar['name']} {outside:g}, bore {bore:g} {bar['unit']}",
                    mm * outside,
                    mm * (outside - bore) / 2,
                    bar["name"],
                    bar["source"],
                    bar["note"],
                    catalogue=False,
                )
                for bore in reversed(bores)
            )
    return tuple(found)


@dataclass(frozen=True)
class MillTolerance:
    """Between which sizes a stock size is delivered, mm, and by which product standards."""

    wall: tuple[float, float]
    outside_diameter: tuple[float, float]
    standards: tuple[str, ...]
    source: str  # of the tolerances, and whether they were seen


def mill_tolerance(size: StockSize, steel: str = "") -> MillTolerance | None:
    """By the product standard that the steel is named after, or the widest of those that the size
    may be made to; None of a bored bar, which has none.

    >>> size = stock_size("AISC HSS 6.625 x 0.500")
    >>> [round(wall / size.wall, 3) for wall in mill_tolerance(size, "ASTM A500 Gr C").wall]
    [0.9, 1.1]
    """
    names = [name for name in size.made_to if steel.startswith(name)] or list(size.made_to)
    if not names:
        return None
    found = [_delivered(name, size) for name in names]
    walls, diameters = ([one[k] for one in found] for k in (0, 1))
    return MillTolerance(
        (min(w for w, _ in walls), max(w for _, w in walls)),
        (min(d for d, _ in diameters), max(d for _, d in diameters)),
        tuple(names),
        "; ".join(f"{name}: {tolerance_source(name)}" for name in names),
    )


def tolerance_source(standard: str) -> str:
    """What a product standard allows, in words, and whether that was seen."""
    return str(_data()["product"][standard]["source"])


def _delivered(name: str, size: StockSize) -> tuple[tuple[float, float], tuple[float, float]]:
    """Least and greatest wall and outside diameter of a size, mm, by one product standard."""
    D, t, rows = size.outside_diameter, size.wall, _data()["product"][name]["rows"]
    # A size on the edge of a row, whatever the rounding of its inches, belongs to the row above.
    inches = D / _MM_IN_INCH * (1.0 + _NOISE)
    row = next(row for row in rows if row.get("below", math.inf) > inches)
    row = row | (row.get("thick", {}) if t >= _THICK * D * (1.0 - _NOISE) else {})
    if "mass" in row:  # of the nominal diameter, with an even wall
        area = (1.0 + row["mass"] / 100.0) * (D - t) * t
        most = (D - math.sqrt(D**2 - 4.0 * area)) / 2.0
    else:
        most = (1.0 + row["over"] / 100.0) * t
    off = row.get("diameter", 0.0) / 100.0 * D
    off = min(max(off, row.get("least", 0.0)), row.get("most", math.inf))
    off = _MM_IN_INCH * row["diameter_in"] if "diameter_in" in row else off
    return ((1.0 - row["under"] / 100.0) * t, most), (D - off, D + off)


def _pipes(a_list: dict[str, Any]) -> Iterator[tuple[str, float, float]]:
    for nominal, row in a_list["size"].items():
        for schedule, wall in row.items():
            if schedule != "outside":
                yield f"{nominal} {schedule}", row["outside"], wall


def _tubes(a_list: dict[str, Any]) -> Iterator[tuple[str, float, float]]:
    for outside, walls in a_list["walls"].items():
        for wall in walls:
            written = f"{wall:.{a_list['decimals']}f}" if "decimals" in a_list else f"{wall:g}"
            yield f"{outside} x {written}", float(outside), wall


def stock_size(designation: str) -> StockSize:
    """The size of that designation.

    Raises InputError for a bored bar, and for one that is not known, with those that come closest
    to it.

    >>> stock_size("ASME B36.10M NPS 6 XXS").outside_diameter
    168.275
    """
    for size in sizes():
        if size.designation == designation:
            return size
    if any(bar.designation == designation for bar in bored_bars()):
        raise InputError(
            "is a bar, whose strength does not go by the wall that is left; state outside_diameter"
            " and bore, and young, poisson and yield of the bar"
        )
    raise InputError(
        f"is not a known size;{_close(designation, sizes())} contactfe catalogue lists them all"
    )


def sizes_like(text: str) -> tuple[StockSize, ...]:
    """The sizes whose designation has, for each word of a text, a word that begins with it.

    Bored bars are among them. Capitals do not count, and x may be ×. Raises InputError where there
    is none.

    >>> [size.designation for size in sizes_like("nps 6 xxs")]
    ['ASME B36.10M NPS 6 XXS']
    """
    every = (*sizes(), *bored_bars())
    found = tuple(size for size in every if alike(text, size.designation))
    if not found:
        quoted = json.dumps(text, ensure_ascii=False)
        raise InputError(
            f"nothing is like {quoted};{_close(text, every)} leave it out to list them all"
        )
    return found


def alike(text: str, name: str) -> bool:
    """Whether each word of a text begins a word of a name; capitals do not count.

    >>> alike("nps 6", "ASME B36.10M NPS 6 XXS"), alike("a53 e", "ASTM A53 Gr B")
    (True, False)
    """
    words = _words(text)
    return _matches(words, name) == len(words)


def _words(text: str) -> list[str]:
    return re.sub(r"(?<=\d)\s*[x×]\s*(?=[\d.])", " x ", text.lower()).split()


def _matches(words: list[str], name: str) -> int:
    """How many of the words one of the name begins with."""
    of = _words(name)
    return sum(any(_begins(one, word) for one in of) for word in words)


def _begins(one: str, word: str) -> bool:
    """A whole number may go on with decimals, not with more digits: 8 begins 8.625 but not 80."""
    rest = one[len(word) :]
    return one.startswith(word) and not (word.isdigit() and rest[:1].isdigit())


def _close(text: str, known: tuple[StockSize, ...]) -> str:
    """A question with the sizes that share most words with a text, the most alike of them first."""
    words = _words(text)
    shared = {size.designation: _matches(words, size.designation) for size in known}
    most = max(shared.values())
    if most == 0:
        return ""
    plain = " ".join(words)
    alike = sorted(
        (designation for designation, count in shared.items() if count == most),
        key=lambda designation: -SequenceMatcher(None, plain, designation.lower()).ratio(),
    )
    meant = " or ".join(json.dumps(one, ensure_ascii=False) for one in alike[:_SUGGESTIONS])
    return f" did you mean {meant}?"
