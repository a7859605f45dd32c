"""Names in order of a figure, with what its numerical uncertainty does not part said to be tied."""

from collections.abc import Callable, Sequence
from itertools import pairwise

from contactfe.assess.value import Value
from contactfe.report import words

Figure = Callable[[str], Value]
"""The figure of a name."""

TIED = " = "


def ties(names: Sequence[str], figure: Figure) -> list[list[str]]:
    """The names, which rise with the figure, in groups: each is parted from the one before it.

    >>> of = {"a": Value(1.0, 0.1), "b": Value(1.15, 0.1), "c": Value(2.0, 0.1)}
    >>> ties(["a", "b", "c"], of.__getitem__)
    [['a', 'b'], ['c']]
    """
    groups = [[names[0]]] if names else []
    for name, after in pairwise(names):
        low, high = figure(name), figure(after)
        if high.value - high.uncertainty <= low.value + low.uncertainty:
            groups[-1].append(after)
        else:
            groups.append([after])
    return groups


def ranked(names: Sequence[str], figure: Figure) -> str:
    """The names on a line, those that are tied joined by "="."""
    return ", ".join(TIED.join(map(words.one_line, group)) for group in ties(names, figure))


def places(names: Sequence[str], figure: Figure) -> dict[str, str]:
    """The place of each name, with "=" behind the place that several share.

    >>> of = {"a": Value(1.0, 0.1), "b": Value(1.15, 0.1), "c": Value(2.0, 0.1)}
    >>> places(["a", "b", "c"], of.__getitem__)
    {'a': '1=', 'b': '1=', 'c': '3'}
    """
    found: dict[str, str] = {}
    for group in ties(names, figure):
        place = f"{len(found) + 1}{'=' if len(group) > 1 else ''}"
        found.update(dict.fromkeys(group, place))
    return found
