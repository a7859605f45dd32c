"""One row of the verification table: a case with a known answer, and what the tool finds for it."""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from importlib.util import find_spec
from typing import Literal

from contactfe.assess.resources import check_space
from contactfe.errors import ContactfeError
from contactfe.study.blas import one_thread

Kind = Literal["hand formula", "standard", "exact field", "finite elements", "reference library"]
"""What stands in the tool's column: a formula or clause, an exact series or field, a solved case,
or a solved case beside the same one solved by an independent open library."""

Origin = Literal["seen", "companion", "from memory", "computed here", "library"]
"""Where a published value is from: a text that was seen, a published companion that works a book's
examples, a text that was not seen, a formula or theory that was evaluated here, or another library.
"""


@dataclass(frozen=True)
class Row:
    """A case, what a source gives for it, and how to find it with this tool.

    ``published`` is in ``unit``, as the source prints it or its formula gives it; a callable where
    a library must be run for it. ``allowed`` is the largest difference that passes: relative to
    the published value, or in ``unit`` where ``absolute``; ``why`` gives its reason. ``needs``
    names the module that must be installed. Rows of one ``solve`` share a solution. ``origin`` is
    what ``source`` says of the value, to be counted; who states none claims the least.
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
    origin: Origin = "computed here"


solved_row = partial(Row, kind="finite elements")


@dataclass(frozen=True)
class Outcome:
    """A row that was run. ``difference`` is as ``allowed``; all are None where it was not run.

    A row that could not be solved has not passed: it has no value, and ``remark`` says why.
    ``seconds`` is how long it took; the first row of a shared solve has the time of the solve.
    """

    row: Row
    published: float | None
    value: float | None
    difference: float | None
    passed: bool | None
    remark: str = ""
    seconds: float = 0.0


def run(row: Row) -> Outcome:
    """Find the tool's value and hold it against the published one.

    A row whose library is not installed is not run, and says so.
    """
    if row.needs is not None and find_spec(row.needs) is None:
        return Outcome(row, None, None, None, None, f"{row.needs} is not installed")
    start = time.perf_counter()
    try:
        published = row.published() if callable(row.published) else row.published
        tool = float(row.tool())
    except ContactfeError as error:
        spent = time.perf_counter() - start
        return Outcome(row, None, None, None, False, f"not solved: {error}", spent)
    difference = tool - published
    if not row.absolute:
        difference /= abs(published)
    passed = abs(difference) <= row.allowed  # what is no number has not passed
    spent = time.perf_counter() - start
    return Outcome(row, published, tool, difference, passed, seconds=spent)


def run_all(
    rows: Sequence[Row], progress: Callable[[int, int], None] | None = None
) -> tuple[Outcome, ...]:
    """Run rows in their order; ``progress`` is called with those done and all, as they are done.

    Raises SolveError where the process may not have the memory.
    """
    check_space()
    tell = progress or (lambda _done, _of: None)
    outcomes: list[Outcome] = []
    tell(0, len(rows))
    with one_thread():
        for row in rows:
            outcomes.append(run(row))
            tell(len(outcomes), len(rows))
    return tuple(outcomes)
