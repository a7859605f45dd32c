"""Going: formulas whose form is still a text."""

import functools
import inspect
import warnings
from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Any, Generic, ParamSpec, TypeVar

from contactfe.hand.formula import _RECORD, Given, Limit, OutOfRangeWarning, Units, Worked
from contactfe.hand.quantities import Dimension

P = ParamSpec("P")
R = TypeVar("R")

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
        value = self._quiet(*args, **kwargs)
        for limit in self._where(value, self._bound(*args, **kwargs)):
            if limit.exceeded:
                message = f"{self.name} ({self.key}): outside its range, {limit}"
                warnings.warn(message, OutOfRangeWarning, stacklevel=2)
        return value

    def plain(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """The number or numbers without regard to the range, for use inside other formulas."""
        return self._quiet(*args, **kwargs)

    def worked(self, *args: P.args, **kwargs: P.kwargs) -> Worked:
        """The formula worked out for plain numbers, marked where it is out of range."""
        value = self._quiet(*args, **kwargs)
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

    def _quiet(self, *args: Any, **kwargs: Any) -> Any:
        token = _RECORD.set(None)
        try:
            return self._function(*args, **kwargs)
        finally:
            _RECORD.reset(token)

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


def old_formula(
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
