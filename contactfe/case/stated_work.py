"""The tables of a case file that say what is to be tried: [alignment], [sizing] and [sweep].

Field names are the keys of the file.
"""

from pydantic import Field, field_validator

from contactfe.case.alignment import Alignment
from contactfe.case.sizing import CHECKS, CheckKind, Sizing, Walls
from contactfe.case.stated_values import Angle, Length, Table
from contactfe.case.stated_walls import Diameters, StockLists, WallRange
from contactfe.errors import InputError


class StatedAlignment(Table):
    """[alignment]; small angles, by default zero: the plate stands along the unbent post.

    ``tilt`` has a sign, positive where the tip is met first; ``misalignment`` is either way.
    """

    tilt: Angle = 0.0
    misalignment: Angle = 0.0

    @property
    def resolved(self) -> Alignment:
        """As the case has it."""
        return Alignment(self.tilt, abs(self.misalignment))


class StatedSizing(Table):
    """[sizing]; by default the outside diameters of the sections, and walls from thin to solid."""

    outside_diameter: Diameters | None = None
    wall: WallRange = Walls()
    stock: StockLists = ()
    checks: list[CheckKind] = Field(default=list(CHECKS))
    least_bore: Length | None = None

    @field_validator("checks")
    @classmethod
    def _at_least_one(cls, checks: list[CheckKind]) -> list[CheckKind]:
        if not checks:
            raise InputError("must hold at least one check")
        return checks

    @property
    def resolved(self) -> Sizing:
        """As the case has it."""
        diameters = self.outside_diameter or ()
        checks = tuple(dict.fromkeys(self.checks))
        return Sizing(diameters, self.wall, self.stock, checks, self.least_bore)
