"""Records hold Python's own numbers and booleans, so that whatever reads them can write them."""

from dataclasses import fields
from typing import Any


def plain(record: Any) -> None:
    """Turn each scalar of numpy in a dataclass into the number or boolean of Python that it is.

    For ``__post_init__``. A numpy float passes for a float, but what it is compared with becomes a
    boolean of numpy, which JSON does not take.
    """
    for field in fields(record):
        value = getattr(record, field.name)
        if type(value).__module__ == "numpy" and getattr(value, "ndim", 1) == 0:
            object.__setattr__(record, field.name, value.item())
