"""A computed figure, with its numerical uncertainty and the place where it was found."""

from __future__ import annotations

from dataclasses import dataclass

from contactfe.plain import plain


@dataclass(frozen=True)
class Place:
    """A named place of a body at (x, y) mm of its axes, ``depth`` mm below its surface."""

    zone: str
    x: float
    y: float
    depth: float = 0.0

    def __post_init__(self) -> None:
        plain(self)


@dataclass(frozen=True)
class Figure:
    """What one mesh level gives: no more is known of how sure it is."""

    value: float
    place: Place | None = None

    def __post_init__(self) -> None:
        plain(self)

    def over(self, by: float) -> Figure:
        """The figure over a number."""
        return Figure(self.value / by, self.place)


@dataclass(frozen=True)
class Value:
    """A figure with its numerical uncertainty, in the same unit."""

    value: float
    uncertainty: float
    place: Place | None = None

    def __post_init__(self) -> None:
        plain(self)

    @property
    def upper(self) -> float:
        """The value with its uncertainty added."""
        return self.value + self.uncertainty

    @property
    def at(self) -> Place:
        """The place. Raises ValueError for a value that has none."""
        if self.place is None:
            raise ValueError("this value has no place")
        return self.place

    def over(self, by: float) -> Value:
        """The value over a number that is sure."""
        return Value(self.value / by, self.uncertainty / by, self.place)
