"""A formula that can be called for its number, or worked out: written, with its range and source.

``half_width(q, R, E_star)`` gives the number, for floats or arrays. ``half_width.worked(q, R,
E_star)`` gives a :class:`Worked`: the same number with its symbol, the form it was found by, what
was put in, the source, and each limit of the formula's range with where this use of it stands. A
number outside the range is never silent: a worked one carries the limits that it passed, and a
plain call warns of them with :class:`OutOfRangeWarning`.

The printed form is made from the function itself (:mod:`.typeset`): one expression in which each
argument stands in braces, to be written with symbols or with numbers. The tests put the numbers of
every form in and compare.
"""

import functools
import inspect
import re
import warnings
from collections.abc import Callable, Mapping
from contextvars import ContextVar
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any, Generic, Literal, ParamSpec, TypeVar, get_args, get_origin

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.quantities import HELD_IN, SYMBOLS, US, Dimension, Quantity, Refuse

Units = Literal["SI", "US customary"]
"""The units that a form with constants of its own, such as Fy − 13 ksi, is written for."""

_RAISED = re.compile(r"\{(\w+)\}(?=[²³⁴^])")

P = ParamSpec("P")
R = TypeVar("R")
T = TypeVar("T")


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

    formula: str  # stable name of the formula, such as "hertz.half_width"
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
    def within_range(self) -> bool:
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


_RECORD: ContextVar["_Record | None"] = ContextVar("record", default=None)


class _Record:
    """What a formula shows of its way to the result while it is worked out.

    ``units`` are those that its body is run in, where they are not the ones of :data:`HELD_IN`.
    """

    def __init__(self, symbols: Mapping[str, str], units: Mapping[Dimension, float]) -> None:
        self.symbols = symbols
        self.units = units
        self.given: dict[str, Given] = {}
        self.limits: list[Limit] = []


def shown(key: str, value: T, symbol: str = "", dimension: Dimension | None = None) -> T:
    """The value as it is, which stands in the printed form by its symbol.

    To be called as ``name = shown("name", ...)`` in the body of a formula. The symbol is that of
    :data:`SYMBOLS` where none is given.
    """
    record = _RECORD.get()
    if record is not None:
        number: Any = value
        record.given[key] = Given(symbol or record.symbols[key], number, dimension)
    return value


def written_as(form: T, value: T) -> T:  # noqa: ARG001
    """The value as it is, which is printed as ``form``: the same figure, but with fewer digits."""
    return value


def limited(*limits: Limit) -> None:
    """State, in the body of a formula, how far this use of it stands from the ends of its range."""
    record = _RECORD.get()
    if record is not None:
        for one in limits:
            unit = record.units[one.dimension] if record.units and one.dimension else 1.0
            record.limits.append(replace(one, value=one.value * unit, bound=one.bound * unit))


class Arguments:
    """What the annotations of a function say of its arguments (:mod:`.quantities`)."""

    def __init__(self, function: Callable[..., Any], symbols: Mapping[str, str]) -> None:
        self._signature = inspect.signature(function)
        self.symbols = {**SYMBOLS, **symbols}
        self.dimensions: dict[str, Dimension | None] = {}
        self._allowed: dict[str, Callable[[Any], Any]] = {}
        for argument in self._signature.parameters.values():
            self._take(argument.name, argument.annotation)
        self.result = self._signature.return_annotation

    def bound(self, *args: Any, **kwargs: Any) -> dict[str, Any]:
        """The arguments by name, each of them allowed. Raises ValueError for one that is not."""
        bound = self._signature.bind(*args, **kwargs)
        bound.apply_defaults()
        return {name: self._allowed[name](value) for name, value in bound.arguments.items()}

    def given(self, name: str, value: Any) -> Given:
        """One of them as it is shown."""
        if isinstance(value, str):
            return Given(name.replace("_", " "), value)
        return Given(self.symbols[name], float(value), self.dimensions[name])

    def described(self) -> str:
        """Their symbols and units, for a docstring."""
        return "; ".join(
            f"{name} {self.symbols[name]}, {HELD_IN[dimension]}" if dimension else name
            for name, dimension in self.dimensions.items()
        )

    def _take(self, name: str, annotation: Any) -> None:
        """What an annotation says of an argument: what is allowed, its symbol and dimension."""
        if type(None) in get_args(annotation):  # may be left out
            annotation = get_args(annotation)[0]
        if get_origin(annotation) is Literal:
            self._allowed[name] = functools.partial(_one_of, name, get_args(annotation))
            return
        said = getattr(annotation, "__metadata__", ())
        (quantity,) = (one for one in said if isinstance(one, Quantity))
        allowed = next((one for one in said if callable(one)), quantity.refuse)
        symbol = next((one for one in said if isinstance(one, str)), None)
        if symbol is not None:
            self.symbols[name] = symbol
        self.dimensions[name] = quantity.dimension
        self._allowed[name] = functools.partial(_allowed, name, allowed)


class Formula(Generic[P, R]):
    """A function with what a reader needs to check it by hand; made by :func:`formula`."""

    def __init__(
        self,
        function: Callable[P, R],
        name: str,
        symbol: str,
        *,
        source: str,
        symbols: Mapping[str, str],
        part: int | None,
        note: str,
        units: Units | None,
    ) -> None:
        functools.update_wrapper(self, function)
        self._function = function
        self._arguments = Arguments(function, symbols)
        self._part = part
        self.name, self.symbol, self.source, self.note, self.units = (
            name,
            symbol,
            source,
            note,
            units,
        )
        self.dimension = _measured(self._arguments.result, part)
        self.__doc__ = f"{inspect.getdoc(function)}\n\n{self._described()}"
        module = function.__module__.removeprefix("contactfe.").partition(".")[2]
        self.key = f"{module or function.__module__}.{function.__name__}"

    @functools.cached_property
    def form(self) -> str | None:
        """The result as an expression of the arguments in braces; None without a short one."""
        from contactfe.hand.typeset import form_of

        return form_of(self._function, self._part)

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """The number or numbers. Warns with OutOfRangeWarning where they lie out of range."""
        value, _, record = self._recorded(*args, **kwargs)
        for limit in record.limits:
            if limit.exceeded:
                message = f"{self.name} ({self.key}): outside its range, {limit}"
                warnings.warn(message, OutOfRangeWarning, stacklevel=2)
        return value

    def plain(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """The number or numbers without regard to the range, for use inside other formulas."""
        return self._run(self._arguments.bound(*args, **kwargs), None)

    def worked(self, *args: P.args, **kwargs: P.kwargs) -> Worked:
        """The formula worked out for plain numbers, marked where it is out of range."""
        value, arguments, record = self._recorded(*args, **kwargs)
        result: Any = value if self._part is None else value[self._part]  # type: ignore[index]
        given = {name: self._arguments.given(name, at) for name, at in arguments.items()}
        given |= {key: replace(one, value=float(one.value)) for key, one in record.given.items()}
        return Worked(
            self.key, self.name, self.symbol, self.form, given, float(result),
            self.dimension, self.source, tuple(record.limits), self.note, self.units,
        )  # fmt: skip

    def _described(self) -> str:
        """Units and ranges of the arguments, unit of the result, source: for the docstring."""
        result = f"{HELD_IN[self.dimension]}" if self.dimension else "a plain number"
        takes = self._arguments.described()
        return f"Takes {takes}. Gives {self.symbol}, {result}. Source: {self.source}"

    def _recorded(self, *args: P.args, **kwargs: P.kwargs) -> tuple[R, Mapping[str, Any], _Record]:
        arguments = self._arguments.bound(*args, **kwargs)
        record = _Record(self._arguments.symbols, US if self.units == "US customary" else {})
        return self._run(arguments, record), arguments, record

    def _run(self, arguments: Mapping[str, Any], record: _Record | None) -> R:
        token = _RECORD.set(record)  # one formula within another shows nothing of itself
        try:
            if self.units == "US customary":
                result: R = self._in_us_units(arguments)
                return result
            value: R = self._function(**arguments)  # type: ignore[call-arg]
            return value
        finally:
            _RECORD.reset(token)

    def _in_us_units(self, arguments: Mapping[str, Any]) -> Any:
        """A function whose constants are for inches and kips, given and giving mm and N."""
        measured = self._arguments.dimensions
        units = {name: US[dimension] for name, dimension in measured.items() if dimension}
        turned = {name: value / units.get(name, 1.0) for name, value in arguments.items()}
        result: Any = self._function(**turned)  # type: ignore[call-arg]
        return result if self.dimension is None else result * US[self.dimension]


def _one_of(name: str, words: tuple[str, ...], value: str) -> str:
    check.one_of(name, value, words)
    return value


def _allowed(name: str, refuse: Refuse, value: Any) -> Any:
    """A number as it is, or an array of what was given as a list; refused where not allowed."""
    if value is None:
        return None
    number = value if isinstance(value, int | float) else np.asarray(value, dtype=float)
    refuse(**{name: number})
    return number


def _measured(annotation: Any, part: int | None) -> Dimension | None:
    """The dimension of a result, of which ``part`` picks one of several."""
    if part is not None:
        annotation = get_args(annotation)[part]
    said = getattr(annotation, "__metadata__", ())
    return next((one.dimension for one in said if isinstance(one, Quantity)), None)


def formula(
    name: str,
    symbol: str,
    *,
    source: str,
    symbols: Mapping[str, str] = MappingProxyType({}),
    part: int | None = None,
    note: str = "",
    units: Units | None = None,
) -> Callable[[Callable[P, R]], Formula[P, R]]:
    """Make a function of numbers a :class:`Formula`.

    The function is the only place of its mathematics: the printed form is made from it
    (:mod:`.typeset`), the units and the ranges of its arguments come from their annotations
    (:mod:`.quantities`). In its body :func:`shown` gives a value that the form shows by a symbol,
    and :func:`limited` the limits of its range. ``symbols`` are those that the source writes
    otherwise than :data:`SYMBOLS`. ``part`` picks the result out of a function that returns
    several. ``note`` says what the form does not, and has to where there is none. ``units`` are
    those of constants in the form.
    """

    def make(function: Callable[P, R]) -> Formula[P, R]:
        return Formula(
            function, name, symbol, source=source, symbols=symbols, part=part, note=note,
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
