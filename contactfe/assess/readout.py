"""The one reader of solved contacts: from mesh levels to figures, and to values with uncertainty.

A figure goes by the key of its entry in :mod:`.quantities`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from contactfe.assess.accuracy import Levels, Solved
from contactfe.assess.places import EDGES
from contactfe.assess.quantities import QUANTITIES, At, Derived, Quantity, by_levels
from contactfe.assess.reading import at_place_of
from contactfe.assess.value import Figure, Value, Values, key_of
from contactfe.case import Case, Section

Read = TypeVar("Read", Figure, Value)


@dataclass(frozen=True)
class Readout:
    """The values of a solved contact, and those of every zone of a body, the largest first."""

    values: Values
    zones: Mapping[str, tuple[Value, ...]]


def figures(solved: Solved) -> dict[str, Figure]:
    """What one mesh level gives."""
    at = solved.level.case, solved.level.section
    read = {key: found[0] for key, _, found in _read(solved)}
    return read | _derived(*at, read)


def zones(solved: Solved, key: str) -> tuple[Figure, ...]:
    """The figures of a quantity zone by zone on one mesh level, the largest first."""
    return next(found for of, _, found in _read(solved) if of == key)


def read_out(levels: Levels) -> Readout:
    """What the last two mesh levels give: the figures of the fine one, with their uncertainty."""
    fine = levels.fine
    coarse = replace(levels.coarse, reading=at_place_of(levels.coarse.reading, fine.reading))
    before = {key: found for key, _, found in _read(coarse)}
    values, zoned = {}, {}
    for key, (quantity, number), found in _read(fine):
        both = At(fine.level, fine.reading, number), At(coarse.level, coarse.reading, number)
        first = _same(found[0], before[key]) if quantity.by_place else before[key][0]
        values[key] = Value(
            found[0].value,
            quantity.sure(*both, found[0].value, first.value),
            found[0].place,
        )
        if quantity.zones is not None:
            zoned[key] = (values[key], *_others(quantity, both, found[1:], before[key]))
    case, section = fine.level.case, fine.level.section
    return Readout(values | _derived(case, section, values), zoned)


def _read(solved: Solved) -> Iterator[tuple[str, tuple[Quantity, int], tuple[Figure, ...]]]:
    """Key, quantity and number of patch, and the figures of it, of all that the level has."""
    for quantity in QUANTITIES:
        if isinstance(quantity, Derived):
            continue
        for number in range(len(solved.reading.patches) if quantity.of_patch else 1):
            found = quantity.read(At(solved.level, solved.reading, number))
            if found:
                yield key_of(quantity.key, number), (quantity, number), found


def _others(
    quantity: Quantity, both: tuple[At, At], found: tuple[Figure, ...], before: tuple[Figure, ...]
) -> Iterator[Value]:
    assert quantity.zones is not None
    sure = by_levels(quantity.zones)
    for figure in found:
        other = _same(figure, before)
        yield Value(figure.value, sure(*both, figure.value, other.value), figure.place)


def _same(figure: Figure, among: tuple[Figure, ...]) -> Figure:
    """That of the same place, whose name may differ where contact and its edge vie."""
    return next(other for other in among if _zone(other) == _zone(figure))


def _zone(figure: Figure) -> str:
    assert figure.place is not None
    return EDGES.get(figure.place.zone, figure.place.zone)


def _derived(case: Case, section: Section, read: Mapping[str, Read]) -> dict[str, Read]:
    return {
        key_of(entry.key, number): read[of].over(entry.over(case, section, number))
        for entry in QUANTITIES
        if isinstance(entry, Derived)
        for number in range(len(case.line_loads) if entry.of_patch else 1)
        if (of := key_of(entry.of, number)) in read
    }
