"""The tables of a case file that only hand formulas and clauses use: [cantilever], [standards].

Field names are the keys of the file.
"""

from typing import Annotated, get_args

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator

from contactfe.case.model import Family, Method
from contactfe.case.stated_values import Length, PartialFactor, Stress, Table
from contactfe.case.wording import entry, inside, listed
from contactfe.errors import InputError


def _families(stated: object) -> tuple[str, ...]:
    known = get_args(Family)
    allowed = listed([f'"{name}"' for name in known])
    if not isinstance(stated, list):
        raise InputError(f"must be a list of any of {allowed}; [] for none")
    for index, name in enumerate(stated):
        if name not in known:
            raise inside(entry(index), name, f"is no family of standards; known are {allowed}")
    return tuple(dict.fromkeys(stated))


class StatedCantilever(Table):
    """[cantilever]; the post from its root at the moving floor to the middle of the contact."""

    length: Length = Field(examples=["900 mm"])
    weld_throat: Length | None = None
    electrode_strength: Stress | None = None

    @field_validator("electrode_strength")
    @classmethod
    def _of_a_weld(cls, strength: float | None, info: ValidationInfo) -> float | None:
        if strength is not None and info.data.get("weld_throat", "") is None:
            raise InputError("must not be stated without weld_throat")
        return strength


class StatedStandards(Table):
    """[standards]; partial factors are those recommended unless the national annex has others."""

    apply: Annotated[tuple[Family, ...], BeforeValidator(_families)] = get_args(Family)
    method: Method = "LRFD"
    gamma_M0: PartialFactor = 1.0
    gamma_M2: PartialFactor = 1.25
    gamma_M6_ser: PartialFactor = 1.0
    gamma_m: PartialFactor = 1.0
