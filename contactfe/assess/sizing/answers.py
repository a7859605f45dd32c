"""What a curve of judged walls says: where walls pass, and which does best in some figure."""

import math
from collections.abc import Callable, Sequence
from itertools import groupby

from contactfe.assess.checks import Check, counted
from contactfe.assess.sizing.judge import rank
from contactfe.assess.sizing.record import Band, Best, Wall

_ROUNDING = 1e-9
"""Relative, of a ratio that no wall changes."""


def unchanging(walls: Sequence[Wall]) -> frozenset[str]:
    """Keys of the checks that no wall changes: of one ratio at all, or without a verdict at all.

    Of the walls that were solved, if there are several. A step of the steel's strength with its
    thickness is no work of the wall: within each strength the ratio is one. One that some pass
    alone is not among them.
    """
    solved = [wall for wall in walls if not wall.error]
    of = [{c.key: c for c in counted(wall.checks)} for wall in solved]
    strengths = [wall.yield_strength for wall in solved]
    if len(set(strengths)) == len(solved):  # each wall may owe its ratio to its steel
        return frozenset()
    everywhere = [key for key in of[0] if all(key in checks for checks in of)]
    return frozenset(key for key in everywhere if _alike([checks[key] for checks in of], strengths))


def worst_unchanging(walls: Sequence[Wall]) -> tuple[Check, ...]:
    """Those checks, each as at the wall where its ratio is largest, the governing one first."""
    every = [check for wall in walls for check in wall.checks if check.key in wall.unchanging]
    found = {check.key: check for check in sorted(every, key=rank)}
    return tuple(sorted(found.values(), key=rank, reverse=True))


def _alike(checks: Sequence[Check], strengths: Sequence[float]) -> bool:
    verdicts = {check.verdict for check in checks}
    if verdicts == {"no verdict"}:
        return True
    first = dict(zip(reversed(strengths), (c.most for c in reversed(checks)), strict=True))
    level = all(
        math.isclose(check.most, first[strength], rel_tol=_ROUNDING)
        for check, strength in zip(checks, strengths, strict=True)
    )
    return level and (len(verdicts) == 1 or "passes" not in verdicts)


def ratio(wall: Wall) -> float:
    """The largest ratio of the checks that the wall changes, with its uncertainty.

    Infinite for a wall that was not solved, or changes none.
    """
    return max((check.most for check in wall.changing), default=float("inf"))


def concentration(wall: Wall) -> float:
    """Its stress concentration; infinite for a wall that was not solved."""
    return float("inf") if wall.error else wall.stress_concentration.value


def bands(walls: Sequence[Wall]) -> tuple[Band, ...]:
    """Runs of walls that fit, of tubes or of the solid bar; ``walls`` rise."""
    found = []
    for (fits, _), run in groupby(
        enumerate(walls), key=lambda pair: (pair[1].passes_what_walls_change, pair[1].solid)
    ):
        if not fits:
            continue
        numbers = [number for number, _ in run]
        first, last = numbers[0], numbers[-1]
        below, above = walls[:first][-1:], walls[last + 1 :][:1]
        found.append(
            Band(
                least=walls[first],
                most=walls[last],
                fails_below=next(
                    (wall for wall in below if not wall.passes_what_walls_change), None
                ),
                fails_above=next(
                    (wall for wall in above if not wall.passes_what_walls_change), None
                ),
            )
        )
    return tuple(found)


def best(
    walls: Sequence[Wall], of: Callable[[Wall], float], uncertainty: Callable[[Wall], float]
) -> Best | None:
    """The wall whose figure is least; None where no wall has a finite one. ``walls`` rise.

    ``uncertainty`` gives that of the figure. Of a tube, those beside it are tubes.
    """
    number = min(range(len(walls)), key=lambda k: of(walls[k]), default=None)
    if number is None or of(walls[number]) == float("inf"):
        return None
    here = walls[number]
    walls = [wall for wall in walls if wall.solid == here.solid]
    number = next(k for k, wall in enumerate(walls) if wall is here)
    most = of(here) + uncertainty(here)

    def alike(wall: Wall) -> bool:
        return of(wall) - (0.0 if of(wall) == float("inf") else uncertainty(wall)) <= most

    low = high = number
    while low > 0 and alike(walls[low - 1]):
        low -= 1
    while high + 1 < len(walls) and alike(walls[high + 1]):
        high += 1
    return Best(
        wall=here,
        low=walls[max(number - 1, 0)],
        high=walls[min(number + 1, len(walls) - 1)],
        alike_from=walls[low].wall,
        alike_to=walls[high].wall,
    )


def chosen(walls: Sequence[Wall]) -> tuple[Wall | None, Wall | None]:
    """Of stock sizes, the lightest that fits and the one of the least stress concentration.

    One that passes all checks goes before one that fails what no wall of the diameter changes.
    """
    fitting = [wall for wall in walls if wall.passes_what_walls_change]
    solved = [wall for wall in walls if not wall.error]
    return (
        min(
            fitting, key=lambda wall: (not wall.passes, wall.mass_per_length, ratio(wall)),
            default=None,
        ),
        min(solved, key=concentration, default=None),
    )  # fmt: skip
