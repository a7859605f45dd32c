"""What is computed: figures by key, with their numerical uncertainty and the place of each.

The keys are those of the registry in :mod:`.quantities`; that of a second patch, or of the plate
that it is on, has ``_second`` behind it. Lengths are in mm, stresses in MPa, line loads in N/mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

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
        return Figure(self.value / by)


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
        return Value(self.value / by, self.uncertainty / by)


Figures = Mapping[str, Figure]
"""What one mesh level gives, by key."""

Values = Mapping[str, Value]
"""The same with the uncertainty, by two levels."""

BodyName = Literal["post", "plate", "second plate"]
BODIES: tuple[BodyName, ...] = ("post", "plate", "second plate")
"""The post and each plate that it strikes, by what reports call them."""


def key_of(key: str, number: int) -> str:
    """A key for the patch of that number."""
    return f"{key}_second" if number else key


@dataclass(frozen=True)
class Body:
    """A body among values: its peak von Mises stress beside what is allowed."""

    values: Values
    name: BodyName

    def get(self, what: str) -> Value | None:
        """A value of the body by the end of its key, such as ``peak``; None where it has none."""
        if self.name == "post":
            return self.values.get(f"post_{what}")
        return self.values.get(key_of(f"plate_{what}", BODIES.index(self.name) - 1))

    @property
    def peak_von_mises(self) -> Value:
        """Peak von Mises stress, MPa, and its place."""
        return self._of("peak")

    @property
    def utilisation(self) -> Value:
        """That over the yield strength, times the margin."""
        return self._of("utilisation")

    @property
    def satisfied(self) -> bool:
        """Whether it stays below what is allowed with the uncertainty added."""
        return self.utilisation.upper <= 1.0

    def _of(self, what: str) -> Value:
        value = self.get(what)
        if value is None:
            raise KeyError(f"{self.name}: {what}")
        return value
