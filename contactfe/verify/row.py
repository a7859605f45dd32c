"""One row of the verification table: a case with a known answer, and what the tool finds for it."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from importlib.util import find_spec
from typing import Literal

Kind = Literal["hand formula", "standard", "exact field", "finite elements", "reference library"]
"""What stands in the tool's column: a formula or clause, an exact series or field, a solved case,
or a solved case beside the same one solved by an independent open library."""


@dataclass(frozen=True)
class Row:
    """A case, what a source gives for it, and how to find it with this tool.

    ``published`` is in ``unit``, as the source prints it or its formula gives it; a callable where
    a library must be run for it. ``allowed`` is the largest difference that passes: relative to
    the published value, or in ``unit`` where ``absolute``; ``why`` gives its reason. ``needs``
    names the module that must be installed. Rows of one ``solve`` share a solution.
    """

    key: str  # unique, lower case, words joined by dashes
    kind: Kind
    case: str  # what is asked, in one line
    source: str  # document, edition, section or equation; says whether it was seen
    published: float | Callable[[], float]
    tool: Callable[[], float]
    allowed: float
    why: str
    unit: str = "1"
    absolute: bool = False
    needs: str | None = None
    solve: str | None = None


@dataclass(frozen=True)
class Outcome:
    """A row that was run. ``difference`` is as ``allowed``; all are None where it was not run."""

    row: Row
    published: float | None
    tool: float | None
    difference: float | None
    passed: bool | None
    remark: str = ""


def run(row: Row) -> Outcome:
    """Find the tool's value and hold it against the published one.

    A row whose library is not installed is not run, and says so.
    """
    if row.needs is not None and find_spec(row.needs) is None:
        return Outcome(row, None, None, None, None, f"not run: {row.needs} is not installed")
    published = row.published() if callable(row.published) else row.published
    tool = float(row.tool())
    difference = tool - published
    if not row.absolute:
        difference /= abs(published)
    passed = math.isfinite(difference) and abs(difference) <= row.allowed
    return Outcome(row, published, tool, difference, passed)
