"""The tables that state the impact: [load], [contact], [corner] and [envelope]."""

import itertools
import math
from collections.abc import Iterator, Mapping
from dataclasses import InitVar, dataclass, field
from typing import Annotated, Any

from contactfe.case.alignment import Distribution
from contactfe.case.kinds import (
    Angle,
    Angles,
    Force,
    Friction,
    Frictions,
    Length,
    LineLoad,
    Offset,
    Offsets,
)
from contactfe.case.spread import MOST
from contactfe.case.table import DERIVED, Reading, Table, key

_LOAD = (
    'must state either line_load = "1.5 kN/mm", '
    'or both force = "450 kN" and contact_length = "300 mm"'
)


def _stated_once(written: Mapping[str, Any]) -> bool:
    """Whether there is a line load, or a force and the length that it is spread over."""
    over_a_length = ("force" in written, "contact_length" in written)
    return not any(over_a_length) if "line_load" in written else all(over_a_length)


@dataclass(frozen=True)
class Load(Table):
    """How hard the post strikes: line_load, or force with contact_length.

    What goes by the post along its axis needs force and contact_length. With contact_length alone
    the force is the peak contact force of [motion].
    """

    line_load: Annotated[
        LineLoad | None, key("force per length of contact, normal to the plate, as a mean")
    ] = None
    force: InitVar[Annotated[Force | None, key("total force, over the contact length")]] = field(
        default=None, kw_only=True
    )
    contact_length: Annotated[
        Length | None, key("length of the line along which post and plate touch", "300 mm")
    ] = None
    distribution: Annotated[
        Distribution | None,
        key("the engineer's own statement that the force is even along the contact"),
    ] = None

    def __post_init__(self, force: float | None) -> None:
        if force is not None and self.contact_length is not None:
            object.__setattr__(self, "line_load", force / self.contact_length)

    @property
    def by_motion(self) -> bool:
        """Whether the force is left to the motion."""
        return self.line_load is None

    def faults(self, written: Mapping[str, Any], reading: Reading) -> Iterator[tuple[str, str]]:
        """One way to state the load, which may be left to a motion."""
        left_open = "contact_length" in written and not {"line_load", "force"} & set(written)
        if not (left_open and reading.moves) and not _stated_once(written):
            yield "", _LOAD


@dataclass(frozen=True)
class Contact(Table):
    """Where and how the post strikes the plate: by default its middle, squarely, frictionless."""

    offset: Annotated[
        Offset, key("from the plate's middle to where the post strikes, positive to +x", "90 mm")
    ] = 0.0  # mm
    angle: Annotated[
        Angle, key("from the plate's normal to the direction of motion, positive to +x")
    ] = 0.0  # rad
    friction: Annotated[Friction, key("Coulomb's coefficient")] = 0.0


@dataclass(frozen=True)
class Corner(Table):
    """A second plate, equal to the first and at right angles to it, struck at the same time.

    Its load is line_load, or force with contact_length. It stands at x = +radius. Angles of the
    contact, [envelope] and [alignment] go without it.
    """

    line_load: Annotated[LineLoad, key("force per length of contact, normal to this plate")] = (
        DERIVED
    )
    force: InitVar[Annotated[Force | None, key("total force, over the contact length")]] = field(
        default=None, kw_only=True
    )
    offset: Annotated[
        Offset, key("from this plate's middle to where the post strikes, positive to +y", "90 mm")
    ] = 0.0
    contact_length: Annotated[
        Length | None,
        key("length of the line along which post and this plate touch", "300 mm"),
    ] = None

    def __post_init__(self, force: float | None) -> None:
        if force is not None and self.contact_length is not None:
            object.__setattr__(self, "line_load", force / self.contact_length)

    def faults(self, written: Mapping[str, Any], _reading: Reading) -> Iterator[tuple[str, str]]:
        """One way to state the load."""
        if not _stated_once(written):
            yield "", _LOAD


@dataclass(frozen=True)
class Envelope(Table):
    """Contacts to be tried: every combination of the values stated, each once.

    What it does not state is as in [contact].
    """

    offsets: Annotated[Offsets, key("those to be tried", name="offset")] = DERIVED  # mm
    angles: Annotated[Angles, key("those to be tried", name="angle")] = DERIVED  # rad
    frictions: Annotated[Frictions, key("those to be tried", name="friction")] = DERIVED

    @property
    def contacts(self) -> tuple[Contact, ...]:
        """Every combination; the friction changes fastest, the offset slowest."""
        every = itertools.product(self.offsets, self.angles, self.frictions)
        return tuple(itertools.starmap(Contact, every))

    def beside(self, contact: Contact) -> "Envelope":
        """The same with what it does not state as in a contact."""
        return Envelope(
            self.offsets or (contact.offset,),
            self.angles or (contact.angle,),
            self.frictions or (contact.friction,),
        )

    def faults(self, _written: Mapping[str, Any], _reading: Reading) -> Iterator[tuple[str, str]]:
        """Something to be tried, and not too much of it."""
        stated = [s for s in (self.offsets, self.angles, self.frictions) if s is not None]
        if not stated:
            yield "", "must state at least one of offset, angle and friction"
        contacts = math.prod(map(len, stated))
        if contacts > MOST:
            yield "", f"asks for {contacts} contacts; at most {MOST} are allowed"
