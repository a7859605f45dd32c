"""Several values of one quantity, stated one by one or as an even range."""

from collections.abc import Callable, Mapping

from contactfe.case.wording import entry, inside, not_as_asked, written
from contactfe.errors import InputError

MOST = 100_000
"""Bound on the values of a range, and on the combinations of an envelope."""

_RANGE_KEYS = ("from", "to", "count")


def parse_spread(
    stated: object, read: Callable[[object], float], examples: tuple[object, object]
) -> tuple[float, ...]:
    """Read a list of values or a range { from = .., to = .., count = .. }, each value by `read`.

    The values keep the order of the list, or run evenly from one end of the range to the other,
    both included; a value that was there before is left out. `examples` are two values as a file
    may hold them, for messages.

    Raises InputError where it is neither, is empty, has a fault of its own, or a value that `read`
    refuses with one; the message then names the value.

    >>> parse_spread([0.0, 0.2, 0.0], float, (0.1, 0.3))
    (0.0, 0.2)
    >>> parse_spread({"from": 0.2, "to": -0.2, "count": 3}, float, (0.1, 0.3))
    (0.2, 0.0, -0.2)
    """
    if isinstance(stated, list):
        if not stated:
            raise InputError("must hold at least one value")
        values = tuple(_read(read, value, entry(index)) for index, value in enumerate(stated))
    elif isinstance(stated, Mapping):
        values = _range(stated, read)
    else:
        one, other = (written(example) for example in examples)
        raise InputError(
            f"must be a list such as [{one}, {other}], or a range such as "
            f"{{ from = {one}, to = {other}, count = 5 }}"
        )
    return tuple(dict.fromkeys(values))


def _range(stated: Mapping[str, object], read: Callable[[object], float]) -> tuple[float, ...]:
    if set(stated) != set(_RANGE_KEYS):
        raise InputError(
            f"a range must have the keys {', '.join(_RANGE_KEYS)} and no others"
            f"{not_as_asked(stated, _RANGE_KEYS)}"
        )
    first, last = _read(read, stated["from"], "from"), _read(read, stated["to"], "to")
    count = stated["count"]
    # TOML's true is a bool, which Python counts among the integers.
    if not isinstance(count, int) or isinstance(count, bool):
        raise inside("count", count, "must be a whole number")
    least = 1 if first == last else 2
    if not least <= count <= MOST:
        one = "" if first == last else ", or 1 where from and to are the same"
        raise inside("count", count, f"must be from {least} to {MOST}{one}")
    if first == last:
        return (first,)
    # Weights that are exactly 0 and 1 at the ends, and equal in the middle.
    steps = count - 1
    return tuple(first * ((steps - i) / steps) + last * (i / steps) for i in range(count))


def _read(read: Callable[[object], float], value: object, place: str) -> float:
    try:
        return read(value)
    except InputError as error:
        raise inside(place, value, error) from None
