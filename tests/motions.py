"""Motions of invented stops, for tests of the impact."""

import copy
import tomllib
from functools import cache

from commands import SMALL

from contactfe.assess.impact import ImpactResult, impact_force
from contactfe.case import Case, case_from_dict

MOVING = """
[motion]
gap = "300 mm"
mass = "2000 t"
displacement = "450 mm"
period = "3 s"
bumper_mass = "3 t"
[[motion.damper]]
force = "1000 kN"
at_velocity = "1 m/s"
exponent = 0.4
[contact_law]
law = "linear"
stiffness = "400 kN/mm"
"""

STOP = SMALL.replace('line_load = "400 N/mm"', 'contact_length = "1200 mm"') + MOVING
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


FREE_FALL = {"motion__displacement": None, "motion__period": None, "motion__velocity": "0.7 m/s"}
"""A velocity that is stated, and so a floor that nothing drives back."""

FIXED = {"motion__bumper_mass": None, "motion__damper": None}
"""A fixed stop."""


@cache
def of_a_post_that_bends(**alignment: str) -> ImpactResult:
    """The same contact in series with the bending of a cantilever, without a dashpot."""
    return impact_force(
        moving(
            load={"force": "300 kN", "contact_length": "160 mm"},
            cantilever={"length": "300 mm"},
            contact_law={"law": "section"},
            motion__bumper_mass="0.4 t",
            motion__damper__0__force="200 kN",
            **({"alignment": alignment} if alignment else {}),
        )
    )


@cache
def of_sections() -> ImpactResult:
    """The impact of a case whose contact is the curve of its one section, past the stated load."""
    return impact_force(
        moving(
            load={"force": "150 kN", "contact_length": "1000 mm"},
            contact_law={"law": "section", "restitution": 0.8},
            motion__bumper_mass="0.1 t",
            scale=0.25,
        )
    )
