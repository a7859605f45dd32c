"""The tables of a case file that state the blow: [load], [contact], [corner] and [envelope].

Field names are the keys of the file. The rules across keys raise at the key they name.
"""

import math

from pydantic import model_validator

from contactfe.case.spread import MOST
from contactfe.case.stated_values import (
    Angle,
    Angles,
    Force,
    Friction,
    Frictions,
    Length,
    LineLoad,
    Offset,
    Offsets,
    Table,
)
from contactfe.errors import InputError


class StatedLoad(Table):
    """[load]."""

    line_load: LineLoad | None = None
    force: Force | None = None
    effective_length: Length | None = None

    @model_validator(mode="after")
    def _one_way(self) -> "StatedLoad":
        over_a_length = (self.force is not None, self.effective_length is not None)
        if any(over_a_length) if self.line_load is not None else not all(over_a_length):
            raise InputError(
                'must state either line_load = "1.5 kN/mm", '
                'or both force = "450 kN" and effective_length = "300 mm"'
            )
        return self

    @property
    def resolved_line_load(self) -> float:
        """Line load, N/mm."""
        if self.line_load is not None:
            return self.line_load
        assert self.force is not None  # by _one_way
        assert self.effective_length is not None
        return self.force / self.effective_length


class StatedCorner(StatedLoad):
    """[corner]; the load is normal to the second plate."""

    offset: Offset = 0.0


class StatedContact(Table):
    """[contact]; by default a square blow on the middle of the plate, without friction."""

    offset: Offset = 0.0
    angle: Angle = 0.0
    friction: Friction = 0.0


class StatedEnvelope(Table):
    """[envelope]; what it does not state is as in [contact]."""

    offset: Offsets | None = None
    angle: Angles | None = None
    friction: Frictions | None = None

    @model_validator(mode="after")
    def _some_but_not_too_many(self) -> "StatedEnvelope":
        stated = [s for s in (self.offset, self.angle, self.friction) if s is not None]
        if not stated:
            raise InputError("must state at least one of offset, angle and friction")
        contacts = math.prod(map(len, stated))
        if contacts > MOST:
            raise InputError(f"asks for {contacts} contacts; at most {MOST} are allowed")
        return self
