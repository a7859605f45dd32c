"""One contact of an envelope: what a section and its plate come to there."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from annotated_types import MaxLen

from contactfe.assess.value import Body, BodyName, Value
from contactfe.case import Contact
from contactfe.case.alignment import Spread
from contactfe.case.wording import LONGEST
from contactfe.solve.joint import SlipState


@dataclass(frozen=True)
class Row:
    """A section at a contact: solved, or the error that kept it from being so.

    ``values`` go by the keys of the registry and are empty where it was not solved; ``line_load``
    N/mm is what was solved for: the peak where it is spread unevenly along the post, as ``spread``
    tells, which is None where it counts as even. ``stopped`` says why the accuracy that the case
    asks for was not reached, and is empty if it was. ``refused`` says that the error is one of the
    input, beyond the range of the model, and not of the solution.
    """

    section: str
    contact: Contact
    values: Mapping[str, Value] = field(default_factory=dict, hash=False)
    motion: SlipState = "no friction"
    stopped: str = ""
    line_load: float = 0.0
    spread: Spread | None = None
    error: Annotated[str, MaxLen(LONGEST)] = ""
    refused: bool = False

    @property
    def place(self) -> tuple[str, Contact]:
        """Its section and contact, which no other row of an envelope has."""
        return self.section, self.contact

    @property
    def solved(self) -> bool:
        """Whether it was solved."""
        return bool(self.values)

    @property
    def post(self) -> Body:
        """The post there."""
        return Body(self.values, "post")

    @property
    def plate(self) -> Body:
        """The plate there."""
        return Body(self.values, "plate")

    @property
    def body(self) -> Body:
        """The body of the larger utilisation, uncertainty counted. KeyError if not solved."""
        post, plate = self.post, self.plate
        return post if post.utilisation.upper >= plate.utilisation.upper else plate

    @property
    def governs(self) -> BodyName:
        """The name of that body. Raises KeyError if not solved."""
        return self.body.name

    @property
    def utilisation(self) -> Value:
        """Utilisation of that body. Raises KeyError if not solved."""
        return self.body.utilisation

    @property
    def most(self) -> float:
        """That utilisation with its uncertainty added. Raises KeyError if not solved."""
        return self.utilisation.upper
