"""Motions of invented stops, for tests of the demand."""

import copy
import tomllib
from functools import cache

from commands import SMALL

from contactfe.assess.demand import DemandResult, demand
from contactfe.case import Case, case_from_dict

MOVING = """
[demand]
gap = "300 mm"
mass = "2000 t"
displacement = "450 mm"
period = "3 s"
bumper_mass = "3 t"
[[demand.damper]]
force = "1000 kN"
at_velocity = "1 m/s"
exponent = 0.4
[impact]
law = "linear"
stiffness = "400 kN/mm"
"""

STOP = SMALL.replace('line_load = "400 N/mm"', 'effective_length = "1200 mm"') + MOVING
"""The small case of the commands, whose load is that of a floor that strikes a held bumper."""


def changed(**values: object) -> dict:
    """Tables of that case with other values; a key names a table and, after ``__``, its key.

    None takes a key or a table away.
    """
    data = tomllib.loads(STOP)
    for path, value in values.items():
        *above, last = path.split("__")
        node = data
        for key in above:
            node = node[int(key) if key.isdigit() else key]
        if value is None:
            del node[last]
        else:
            node[last] = copy.deepcopy(value)
    return data


def moving(**values: object) -> Case:
    return case_from_dict(changed(**values), "stop.toml")


FREE_FALL = {"demand__displacement": None, "demand__period": None, "demand__velocity": "0.7 m/s"}
"""A velocity that is stated, and so a floor that nothing drives back."""

FIXED = {"demand__bumper_mass": None, "demand__damper": None}
"""A fixed stop."""


@cache
def of_a_post_that_bends(**along: str) -> DemandResult:
    """The same contact in series with the bending of a cantilever, without a dashpot."""
    return demand(
        moving(
            load={"force": "300 kN", "effective_length": "160 mm"},
            cantilever={"length": "300 mm"},
            impact={"law": "section"},
            demand__bumper_mass="0.4 t",
            demand__damper__0__force="200 kN",
            **({"along": along} if along else {}),
        )
    )


@cache
def of_sections() -> DemandResult:
    """The demand of a case whose contact is the curve of its one section, past the stated load."""
    return demand(
        moving(
            load={"force": "150 kN", "effective_length": "1000 mm"},
            impact={"law": "section", "restitution": 0.8},
            demand__bumper_mass="0.1 t",
            scale=0.25,
        )
    )
