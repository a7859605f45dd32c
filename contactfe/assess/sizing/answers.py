"""What a curve of judged walls says: where walls pass, and which does best in some figure."""

from collections.abc import Callable, Sequence
from itertools import groupby

from contactfe.assess.sizing.record import Band, Best, Wall


def ratio(wall: Wall) -> float:
    """The largest ratio of the checks that count; infinite for a wall that was not solved."""
    return max((check.ratio for check in wall.checks), default=float("inf"))


def concentration(wall: Wall) -> float:
    """Its stress concentration; infinite for a wall that was not solved."""
    return float("inf") if wall.error else wall.concentration.value


def bands(walls: Sequence[Wall]) -> tuple[Band, ...]:
    """Runs of walls that pass; ``walls`` rise."""
    found = []
    for passes, run in groupby(enumerate(walls), key=lambda pair: pair[1].passes):
        if not passes:
            continue
        numbers = [number for number, _ in run]
        first, last = numbers[0], numbers[-1]
        found.append(
            Band(
                least=walls[first],
                most=walls[last],
                below=walls[first - 1] if first > 0 else None,
                above=walls[last + 1] if last + 1 < len(walls) else None,
            )
        )
    return tuple(found)


def best(
    walls: Sequence[Wall], of: Callable[[Wall], float], blur: Callable[[Wall], float]
) -> Best | None:
    """The wall whose figure is least; None where no wall has a finite one. ``walls`` rise.

    ``blur`` gives the numerical uncertainty of the figure.
    """
    number = min(range(len(walls)), key=lambda k: of(walls[k]), default=None)
    if number is None or of(walls[number]) == float("inf"):
        return None
    here = walls[number]
    most = of(here) + blur(here)

    def alike(wall: Wall) -> bool:
        return of(wall) - (0.0 if of(wall) == float("inf") else blur(wall)) <= most

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
    """Of stock sizes, the lightest that passes and the one of the least stress concentration."""
    passing = [wall for wall in walls if wall.passes]
    solved = [wall for wall in walls if not wall.error]
    return (
        min(passing, key=lambda wall: (wall.mass_per_length, ratio(wall)), default=None),
        min(solved, key=concentration, default=None),
    )
