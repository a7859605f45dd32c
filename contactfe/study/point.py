"""A point of a study: what one solve needs, sent from process to process."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from typing import Any, Protocol, TypeVar

from contactfe.errors import SolveError

Kept = OrderedDict[Hashable, object]
"""What a process keeps from one point to the next, its bodies; the least lately used goes first."""

Answer_co = TypeVar("Answer_co", covariant=True)


class Point(Protocol[Answer_co]):
    """What one solve needs beside what all points of the study share.

    A frozen dataclass, small, as it is sent to the process that solves it. ``number`` is its place
    in the study. Points of one ``group`` share bodies: they follow one another, and one process
    solves them where it can.
    """

    @property
    def number(self) -> int:
        """Its place in the study."""

    @property
    def group(self) -> Hashable:
        """Equal for points that share bodies."""

    def solve(self, shared: Any, kept: Kept) -> Answer_co:
        """Its answer, which follows from the point and what is shared alone."""

    def unsolved(self, shared: Any, why: str) -> Answer_co:
        """Its answer where no process survives it. Raises SolveError where there can be none."""


def no_answer(why: str) -> SolveError:
    """The error of a point without which the study has no result."""
    return SolveError(
        f"{why} Or a script that does not keep its work below 'if __name__ == \"__main__\":'"
    )
