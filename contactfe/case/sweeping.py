"""Which keys of a case are varied, and how."""

from dataclasses import dataclass
from typing import Literal

SweepMethod = Literal["grid", "list", "latin hypercube"]


@dataclass(frozen=True)
class Sweep:
    """Keys by their dotted path in the file, each with its values as written there.

    For a Latin hypercube the two values of a key are the ends of its range.
    """

    method: SweepMethod
    keys: tuple[str, ...]
    values: tuple[tuple[str | float, ...], ...]
    samples: int | None = None
    seed: int = 0
