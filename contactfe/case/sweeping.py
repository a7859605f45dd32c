"""Which keys of a case are varied, and how."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

SweepMethod = Literal["grid", "list", "latin hypercube"]
"""Every combination; the values side by side; or samples spread evenly over ranges."""

Spacing = Literal["even", "log"]

Levels = Literal[1, 2]
"""Mesh levels that a sample is solved on: the standard one alone, or a coarser one before it."""

MOST_SAMPLES = 10_000_000
"""Bound on the samples of a sweep; beyond it a slip of the pen is likelier than patience."""


@dataclass(frozen=True)
class Swept:
    """A key by its dotted path in the file, with its values in the unit that they are written in.

    ``unit`` is empty for a plain number. For a Latin hypercube the two values are the ends of the
    range that samples are spread over.
    """

    path: str
    unit: str
    values: tuple[int | float, ...]
    spacing: Spacing = "even"

    def written(self, value: int | float) -> str | int | float:
        """A value as the file may have it, to the last digit.

        >>> Swept("plate.thickness", "mm", (40.0, 60.0)).written(50.0)
        '50 mm'
        """
        return f"{repr(value).removesuffix('.0')} {self.unit}" if self.unit else value

    def between(self, share: float) -> float:
        """The value at a share from 0 to 1 of the way from the first value to the last.

        >>> Swept("a", "", (1.0, 100.0)).between(0.5), Swept("a", "", (1, 100), "log").between(0.5)
        (50.5, 10.0)
        """
        first, last = self.values[0], self.values[-1]
        if self.spacing == "log":
            return math.exp((1.0 - share) * math.log(first) + share * math.log(last))
        # Weights that are exactly 0 and 1 at the ends.
        return (1.0 - share) * first + share * last


@dataclass(frozen=True)
class Sweep:
    """Keys in the order of the file, and how their values are joined to samples.

    ``samples`` and ``seed`` are those of a Latin hypercube, and None and 0 without one.
    """

    method: SweepMethod
    keys: tuple[Swept, ...]
    samples: int | None = None
    seed: int = 0
    levels: Levels = 1

    @property
    def count(self) -> int:
        """How many samples there are."""
        match self.method:
            case "grid":
                return math.prod(len(key.values) for key in self.keys)
            case "list":
                return len(self.keys[0].values)
        assert self.samples is not None
        return self.samples
