"""What an annotation refuses: one argument of each kind, by name, with its value."""

from typing import Annotated, Literal

import numpy as np
import pytest

from contactfe.hand import quantities as q
from contactfe.hand.formula import formula


@formula("all kinds", "x", source="made up", symbols={"number": "n"})
def every(
    radius: q.Length = 1.0,
    line_load: q.LineLoad = 0.0,
    number: q.Number = 0.0,
    spring: Annotated[q.Number, q.POSITIVE] = 1.0,
    offset: Annotated[q.Length, q.UNCHECKED] = 1.0,
    poisson: q.Poisson = 0.0,
    length: q.PartialFactor = 1.0,
    friction: q.Share = 1.0,
    state: Literal["one", "other"] = "one",
) -> q.Number:
    """Takes everything."""
    return number


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("radius", (0.0, -3.0, np.inf, np.nan, [1.0, 0.0])),
        ("line_load", (-1.0, np.inf, np.nan, [1.0, -1.0])),
        ("number", (np.inf, np.nan)),
        ("spring", (0.0,)),
        ("poisson", (-0.1, 0.51, np.nan)),
        ("length", (0.99, np.inf, np.nan)),
        ("friction", (0.0, 1.01, np.nan)),
        ("state", ("two",)),
    ],
)
def test_what_is_not_allowed_is_named_with_its_value(name, values):
    for value in values:
        given = repr(np.asarray(value) if isinstance(value, list) else value)
        for call in (every, every.plain, every.worked):
            with pytest.raises(ValueError, match="is not allowed") as refused:
                call(**{name: value})
            assert str(refused.value).startswith(f"{name} = {given}"), refused.value


def test_the_ends_of_a_range_and_what_is_not_checked_are_taken():
    assert every(line_load=0.0, poisson=0.5, number=-7.0, offset=-np.inf) == -7.0
