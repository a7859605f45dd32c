"""The tables of a case file that state the impact: [load], [contact], [corner] and [envelope].

Field names are the keys of the file. The rules across keys raise at the key they name.
"""

import math

from pydantic import ValidationInfo, model_validator

from contactfe.case.alignment import Distribution
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

BY_MOTION = "by motion"
"""Key of pydantic's context that says whether the case has a [motion], from which the force on the
post may come; without the key nothing is known of that."""

_LOAD = (
    'must state either line_load = "1.5 kN/mm", '
    'or both force = "450 kN" and contact_length = "300 mm"'
)


class _StatedForce(Table):
    """A line load, or a force and the length that it is spread over."""

    line_load: LineLoad | None = None
    force: Force | None = None
    contact_length: Length | None = None

    @property
    def resolved_line_load(self) -> float:
        """Line load, N/mm, where the table states it."""
        if self.line_load is not None:
            return self.line_load
        assert self.force is not None  # by the rules of each table
        assert self.contact_length is not None
        return self.force / self.contact_length

    @property
    def _complete(self) -> bool:
        over_a_length = (self.force is not None, self.contact_length is not None)
        return not any(over_a_length) if self.line_load is not None else all(over_a_length)


class StatedLoad(_StatedForce):
    """[load]; with the contact length alone, the force is that of [motion].

    ``distribution`` is the engineer's own statement of how the force runs along the contact.
    """

    distribution: Distribution | None = None

    @model_validator(mode="after")
    def _stated(self, info: ValidationInfo) -> "StatedLoad":
        if self.by_motion and (info.context or {}).get(BY_MOTION, True):
            return self
        if not self._complete:
            raise InputError(_LOAD)
        return self

    @property
    def by_motion(self) -> bool:
        """Whether the force is left to the motion."""
        stated = self.line_load is not None or self.force is not None
        return self.contact_length is not None and not stated


class StatedCorner(_StatedForce):
    """[corner]; the load is normal to the second plate."""

    offset: Offset = 0.0

    @model_validator(mode="after")
    def _stated(self) -> "StatedCorner":
        if not self._complete:
            raise InputError(_LOAD)
        return self


class StatedContact(Table):
    """[contact]; by default a square impact on the middle of the plate, without friction."""

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
