"""A formula that can be called for its number, or worked out: written, with its range and source.

``half_width(q, R, E_star)`` gives the number, for floats or arrays. ``half_width.worked(q, R,
E_star)`` gives a :class:`Worked`: the same number with its symbol, the form it was found by, what
was put in, the source, and each limit of the formula's range with where this use of it stands. A
number outside the range is never silent: a worked one carries the limits that it passed, and a
plain call warns of them with :class:`OutOfRangeWarning`.

A form is one expression in which each argument stands in braces. It is written with symbols or with
numbers, and it computes: the tests put every form's numbers in and compare. It uses + − · / ( ) ,
√( ) ² ³ ⁴ ^( ) π and the functions ln, exp, sin, cos, tan, arctan, sinh, min, max and abs.
"""

import functools
import inspect
import re
import warnings
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Generic, Literal, ParamSpec, TypeVar

import numpy as np
from numpy.typing import ArrayLike

Dimension = Literal[
    "length",
    "area",
    "section modulus",
    "second moment of area",
    "force",
    "moment",
    "line load",
    "stress",
    "angle",
    "line stiffness",
    "bedding",
    "bending stiffness",
    "moment per length",
    "velocity",
    "time",
    "mass",
    "stiffness",
    "energy",
    "frequency",
]
"""What a quantity measures; figures are held in the units of :data:`HELD_IN`."""

Units = Literal["SI", "US customary"]
"""The units that a form with constants of its own, such as Fy − 13 ksi, is written for."""

SYMBOLS: Mapping[str, tuple[str, Dimension | None]] = MappingProxyType(
    {
        "line_load": ("q", "line load"),
        "radius": ("R", "length"),
        "radius_1": ("R1", "length"),
        "radius_2": ("R2", "length"),
        "diameter": ("D", "length"),
        "outside_diameter": ("D", "length"),
        "wall": ("h", "length"),
        "mean_radius": ("R", "length"),
        "bore_radius": ("ri", "length"),
        "E_star": ("E*", "stress"),
        "young": ("E", "stress"),
        "young_1": ("E1", "stress"),
        "young_2": ("E2", "stress"),
        "poisson": ("ν", None),
        "poisson_1": ("ν1", None),
        "poisson_2": ("ν2", None),
        "half_width": ("a", "length"),
        "peak_pressure": ("p0", "stress"),
        "friction": ("µ", None),
        "yield_strength": ("Y", "stress"),
        "thickness": ("t", "length"),
        "span": ("L", "length"),
        "offset": ("e", "length"),
        "spring": ("k", "line stiffness"),
        "bending_stiffness": ("D", "bending stiffness"),
        "shear_stiffness": ("S", "line load"),
        "moment": ("M", "moment per length"),
        "depth": ("d", "length"),
        "force": ("F", "force"),
        "length": ("L", "length"),
    }
)
"""Symbol and dimension of each argument that means the same in every formula. A formula whose book
writes another symbol names it in ``given``."""

HELD_IN: Mapping[Dimension, str] = MappingProxyType(
    {
        "length": "mm",
        "area": "mm²",
        "section modulus": "mm³",
        "second moment of area": "mm⁴",
        "force": "N",
        "moment": "N·mm",
        "line load": "N/mm",
        "stress": "MPa",
        "angle": "rad",
        "line stiffness": "N/mm/mm",
        "bedding": "N/mm³",
        "bending stiffness": "N·mm",
        "moment per length": "N·mm/mm",
        "velocity": "mm/s",
        "time": "s",
        "mass": "t",
        "stiffness": "N/mm",
        "energy": "N·mm",
        "frequency": "rad/s",
    }
)
"""The unit that each quantity is held in. They are coherent, so masses are in tonnes (N s²/mm)."""

_RAISED = re.compile(r"\{(\w+)\}(?=[²³⁴^])")

P = ParamSpec("P")
R = TypeVar("R")


class OutOfRangeWarning(UserWarning):
    """A formula was called beyond its range: its number is not to be relied on."""


@dataclass(frozen=True)
class Limit:
    """One bound of a range: ``what`` has a ``value``, which must not go past ``bound``.

    >>> print(Limit("a/R", 0.28, 0.1, "at most"), Limit("a/R", 0.28, 0.1, "at most").exceeded)
    a/R = 0.28, at most 0.1 True
    """

    what: str  # a ratio or quantity by its symbol and, where that does not say it, in words
    value: float
    bound: float
    side: Literal["at most", "at least"]
    dimension: Dimension | None = None  # of value and bound; None for a ratio

    @property
    def exceeded(self) -> bool:
        """Whether the value lies beyond the bound; a value that is no number does."""
        inside = self.value <= self.bound if self.side == "at most" else self.value >= self.bound
        return not inside

    def __str__(self) -> str:
        return f"{self.what} = {self.value:.4g}, {self.side} {self.bound:.4g}"


def at_most(what: str, value: ArrayLike, bound: float, dim: Dimension | None = None) -> Limit:
    """A limit from above; of an array its greatest value counts."""
    return Limit(what, float(np.max(value)), bound, "at most", dim)


def at_least(what: str, value: ArrayLike, bound: float, dim: Dimension | None = None) -> Limit:
    """A limit from below; of an array its least value counts."""
    return Limit(what, float(np.min(value)), bound, "at least", dim)


@dataclass(frozen=True)
class Given:
    """What was put into a formula: symbol, value as held, and what it measures.

    A value may be a word, such as a plane state; a dimension of None is that of a plain number.
    """

    symbol: str
    value: float | str
    dimension: Dimension | None = None


@dataclass(frozen=True)
class Worked:
    """A formula worked out for one set of numbers, in the units that its dimension is held in.

    ``form`` writes the result as an expression of ``given``; where it is None no short one exists
    and ``note`` says how the value was found. ``units`` names the units that the form's own
    constants are in, None where it holds in any coherent ones. ``limits`` are those of the range
    of validity, exceeded or not.
    """

    key: str  # stable name of the formula, such as "hertz.half_width"
    name: str  # in words
    symbol: str
    form: str | None
    given: Mapping[str, Given]
    value: float
    dimension: Dimension | None
    source: str
    limits: tuple[Limit, ...] = ()
    note: str = ""
    units: Units | None = None

    @property
    def exceeded(self) -> tuple[Limit, ...]:
        """The limits of its range beyond which this number lies; empty within the range."""
        return tuple(limit for limit in self.limits if limit.exceeded)

    @property
    def within(self) -> bool:
        """Whether the number lies within the range of its formula."""
        return not self.exceeded

    def __float__(self) -> float:
        return self.value

    def __str__(self) -> str:
        """One line, in the units that everything is held in, with the limits that were passed.

        >>> from contactfe.hand.hertz import half_width
        >>> print(half_width.worked(1e5, 50.0, 100e3))
        a = √(4·q·R/(π·E*)) = √(4·100000 N/mm·50 mm/(π·100000 MPa)) = 7.9788 mm, outside its range:
        a/R = 0.1596, at most 0.1
        """
        written = (
            self.symbol,
            self.by_symbols(),
            self.by_numbers(held),
            held(self.value, self.dimension),
        )
        mark = "; ".join(map(str, self.exceeded))
        line = " = ".join(part for part in written if part)
        return f"{line}, outside its range: {mark}" if mark else line

    def also(self, *limits: Limit) -> "Worked":
        """The same with further limits, of things that the formula's own arguments do not tell."""
        return replace(self, limits=tuple(dict.fromkeys((*self.limits, *limits))))

    def of(self, *parts: "Worked") -> "Worked":
        """The same as computed from ``parts``: no surer than they are, it has their limits."""
        return self.also(*(limit for part in parts for limit in part.limits))

    def by_symbols(self) -> str:
        """The form written with symbols; empty without one."""
        if self.form is None:
            return ""
        return self.form.format_map({name: given.symbol for name, given in self.given.items()})

    def by_numbers(self, text: Callable[[float, Dimension | None], str]) -> str:
        """The form with its numbers put in, each written by ``text``; empty without one.

        A number with a unit stands in brackets before a power, and a negative one anywhere.
        """
        if self.form is None:
            return ""
        numbers = {}
        for name, given in self.given.items():
            value = given.value
            number = value if isinstance(value, str) else text(value, given.dimension)
            numbers[name] = f"({number})" if number.startswith("-") else number
            bare = number.startswith("-") or " " not in number
            numbers[f"{name}_raised"] = numbers[name] if bare else f"({number})"
        return _RAISED.sub(r"{\1_raised}", self.form).format_map(numbers)


def held(value: float, dimension: Dimension | None) -> str:
    """A figure to five digits, with the unit that it is held in."""
    number = f"{value:.5g}" if not 99999.5 <= abs(value) < 1e7 else f"{value:.0f}"
    return number if dimension is None else f"{number} {HELD_IN[dimension]}"


class Formula(Generic[P, R]):
    """A function with what a reader needs to check it by hand; made by :func:`formula`."""

    def __init__(
        self,
        function: Callable[P, R],
        *,
        name: str,
        symbol: str,
        form: str | None,
        dimension: Dimension | None,
        source: str,
        limits: Callable[..., Iterable[Limit]] | None,
        given: Mapping[str, tuple[str, Dimension | None]],
        parts: Callable[..., Mapping[str, Given]] | None,
        part: int | None,
        note: str,
        units: Units | None,
    ) -> None:
        functools.update_wrapper(self, function)
        self._function = function
        self._signature = inspect.signature(function)
        self._names = {**SYMBOLS, **given}
        self._limits = limits
        self._parts = parts
        self._part = part
        self.name, self.symbol, self.form, self.dimension = name, symbol, form, dimension
        self.source, self.note, self.units = source, note, units
        module = function.__module__.removeprefix("contactfe.").partition(".")[2]
        self.key = f"{module or function.__module__}.{function.__name__}"

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """The number or numbers. Warns with OutOfRangeWarning where they lie out of range."""
        value = self._function(*args, **kwargs)
        for limit in self._where(value, self._bound(*args, **kwargs)):
            if limit.exceeded:
                message = f"{self.name} ({self.key}): outside its range, {limit}"
                warnings.warn(message, OutOfRangeWarning, stacklevel=2)
        return value

    def plain(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """The number or numbers without regard to the range, for use inside other formulas."""
        return self._function(*args, **kwargs)

    def worked(self, *args: P.args, **kwargs: P.kwargs) -> Worked:
        """The formula worked out for plain numbers, marked where it is out of range."""
        value = self._function(*args, **kwargs)
        arguments = self._bound(*args, **kwargs)
        result: Any = value if self._part is None else value[self._part]  # type: ignore[index]
        given = {name: self._given(name, at) for name, at in arguments.items()}
        if self._parts is not None:
            given |= self._parts(**arguments)
        return Worked(
            self.key, self.name, self.symbol, self.form, given, float(result),
            self.dimension, self.source, tuple(self._where(value, arguments)), self.note,
            self.units,
        )  # fmt: skip

    def _bound(self, *args: P.args, **kwargs: P.kwargs) -> dict[str, Any]:
        bound = self._signature.bind(*args, **kwargs)
        bound.apply_defaults()
        return dict(bound.arguments)

    def _where(self, value: Any, arguments: Mapping[str, Any]) -> Iterable[Limit]:
        return () if self._limits is None else self._limits(value, **arguments)

    def _given(self, name: str, value: Any) -> Given:
        if isinstance(value, str):
            return Given(name.replace("_", " "), value)
        symbol, dimension = self._names[name]
        return Given(symbol, float(value), dimension)


def formula(
    *,
    name: str,
    symbol: str,
    form: str | None,
    dimension: Dimension | None,
    source: str,
    limits: Callable[..., Iterable[Limit]] | None = None,
    given: Mapping[str, tuple[str, Dimension | None]] = MappingProxyType({}),
    parts: Callable[..., Mapping[str, Given]] | None = None,
    part: int | None = None,
    note: str = "",
    units: Units | None = None,
) -> Callable[[Callable[P, R]], Formula[P, R]]:
    """Make a function of numbers a :class:`Formula`.

    ``form`` names arguments in braces, and what ``parts(**arguments)`` gives: coefficients that the
    arguments determine, with ``note`` to say how. ``limits(value, **arguments)`` gives the limits
    of its range. ``given`` is symbol and dimension of arguments that :data:`SYMBOLS` does not have,
    or that the source writes otherwise; arguments that are words need none. ``part`` picks the
    result out of a function that returns several. ``units`` are those of constants in the form.
    """

    def make(function: Callable[P, R]) -> Formula[P, R]:
        return Formula(
            function, name=name, symbol=symbol, form=form, dimension=dimension, source=source,
            limits=limits, given=given, parts=parts, part=part, note=note,
            units=units,
        )  # fmt: skip

    return make


def added(key: str, name: str, symbol: str, *parts: Worked) -> Worked:
    """The sum of worked figures of one dimension, such as the stresses of two loads.

    The sum is as good as its parts: it carries the limits of all of them.
    """
    given = {
        f"part_{n}": Given(f"{part.symbol},{n}", part.value, part.dimension)
        for n, part in enumerate(parts, 1)
    }
    return Worked(
        key, name, symbol, " + ".join(f"{{{part}}}" for part in given), given,
        sum(part.value for part in parts), parts[0].dimension, "superposition",
    ).of(*parts)  # fmt: skip
