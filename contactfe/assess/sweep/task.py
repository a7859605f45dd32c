"""What a crew is given to do, in few words: it is sent from process to process."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass
from typing import Any

from contactfe.assess.sweep.plan import Written
from contactfe.assess.sweep.result import Sample
from contactfe.case.across import Location


@dataclass(frozen=True)
class Task:
    """A sample to be solved: the values of the keys, and whether on two mesh levels."""

    number: int
    values: tuple[Written, ...]
    checked: bool


@dataclass(frozen=True)
class Work:
    """What all samples of a sweep share: the tables of the file, and where each key's values go."""

    data: Mapping[str, Any]
    source: str
    places: tuple[tuple[Location, ...], ...]
    sections: tuple[str, ...]


Kept = OrderedDict[Hashable, object]
"""Bodies that samples share; the least lately used goes first."""

Solve = Callable[[Work, Task, Kept], Sample]
"""What a crew does with a task: ``solve_task`` of ``work.py``, or what stands for it in a test."""
