"""The unit that was meant by one that is not known: other names, plurals, capitals, slips."""

import re
from collections.abc import Callable, Collection
from difflib import get_close_matches
from itertools import islice, product

# Names in lower case, and the known units that each may stand for, the likelier one first.
_OTHER_NAMES: dict[str, tuple[str, ...]] = {
    '"': ("in",),
    "'": ("ft",),
    "inches": ("in",),
    "foot": ("ft",),
    "feet": ("ft",),
    "meter": ("m",),
    "meters": ("m",),
    "metre": ("m",),
    "metres": ("m",),
    "millimeters": ("mm",),
    "millimetres": ("mm",),
    # Pounds are a mass here: known by its name, but not always what is meant by it.
    "lb": ("lb", "lbf"),
    "lbs": ("lb", "lbf"),
    "pound": ("lb", "lbf"),
    "pounds": ("lb", "lbf"),
    "lbm": ("lb",),
    "k": ("kip",),
    "klb": ("kip",),
    "klbs": ("kip",),
    "klbf": ("kip",),
    "kips": ("kip",),
    "newton": ("N",),
    "newtons": ("N",),
    "tonne": ("t",),
    "tonnes": ("t",),
    "kilogram": ("kg",),
    "kilograms": ("kg",),
    "kgs": ("kg",),
    "kp": ("kgf",),
    "psf": ("lbf/ft^2",),
    "ksf": ("kip/ft^2",),
    "plf": ("lbf/ft", "lb/ft"),
    "klf": ("kip/ft",),
    "pli": ("lbf/in",),
    "kli": ("kip/in",),
    "pcf": ("lb/ft^3", "lbf/ft^3"),
    "pci": ("lbf/in^3", "lb/in^3"),
    "kci": ("kip/in^3",),
    "ips": ("in/s",),
    "fps": ("ft/s",),
    "sec": ("s",),
    "secs": ("s",),
    "second": ("s",),
    "seconds": ("s",),
    "msec": ("ms",),
    "degree": ("deg",),
    "degrees": ("deg",),
    "radian": ("rad",),
    "radians": ("rad",),
}

# Names in lower case of units that no known one equals.
_A_TON = "a US ton is 2000 lb and weighs 2 kip, a metric one is 1 t"
_A_MIL = "a mil is 0.001 in"
_IN_KNOWN_UNITS = {
    "ton": _A_TON,
    "tons": _A_TON,
    "klb": "1 klb is 1000 lb",
    "klbs": "1 klb is 1000 lb",
    "slug": "a slug is 1 lbf*s^2/ft",
    "slugs": "a slug is 1 lbf*s^2/ft",
    "mil": _A_MIL,
    "mils": _A_MIL,
    "yd": "a yard is 3 ft",
    "msi": "1 Msi is 1000 ksi",
    "mph": "1 mph is 17.6 in/s",
    "min": "1 min is 60 s",
    "hz": "1 Hz is 6.283185 rad/s",
    "bar": "1 bar is 0.1 MPa",
}

_NAME = re.compile(r"[A-Za-z]+|[\"']")
_MOST = 64
"""Combinations of what the names of one unit may stand for that are tried: a bound on time."""


def meant(unit: str, known: Collection[str], fits: Callable[[str], bool]) -> str | None:
    """The unit that may be meant by one that is not known; None if nothing comes to mind.

    ``fits`` tells whether a unit made of known names is of the dimension that is asked for.

    >>> meant("kips/inches", ["mm", "in", "kip"], lambda unit: True)
    'kip/in'
    """
    # "kip-ft" is a product, and "in." an abbreviation.
    plain = re.sub(r"(?<=[A-Za-z])\.", "", unit).replace("-", "*")
    parts = _NAME.split(plain)
    choices: list[list[str]] = []
    for name, behind in zip(_NAME.findall(plain), parts[1:], strict=True):
        may_be = _may_be(name, known)
        # A ratio keeps its meaning only in front, and without a power.
        if choices or re.match(r"[\^0-9]", behind):
            may_be = [m for m in may_be if "/" not in m]
        choices.append(may_be)
    for names in islice(product(*choices), _MOST):
        expression = parts[0] + "".join(
            f"{name}{behind}" for name, behind in zip(names, parts[1:], strict=True)
        )
        if fits(expression):
            return expression
    return None


def in_known_units(unit: str) -> str | None:
    """What a unit that no known one equals comes to; None for any other.

    >>> in_known_units("mils")
    'a mil is 0.001 in'
    """
    return next(
        (_IN_KNOWN_UNITS[n] for n in map(str.lower, _NAME.findall(unit)) if n in _IN_KNOWN_UNITS),
        None,
    )


def _may_be(name: str, known: Collection[str]) -> list[str]:
    """Known units that a name may stand for, the likeliest first."""
    as_known = [name] if name in known else []
    other = _OTHER_NAMES.get(name.lower(), ())
    capitals = [unit for unit in known if unit.lower() == name.lower()]
    found = list(dict.fromkeys([*as_known, *other, *capitals]))
    if found or name.lower() in _IN_KNOWN_UNITS:
        return found
    return get_close_matches(name, known, n=3, cutoff=0.6)
