"""The tables of a case file that say what is to be tried: [along], [size] and [sweep].

Field names are the keys of the file.
"""

from contactfe.case.along import Along
from contactfe.case.sizing import Sizing
from contactfe.case.stated_values import Angle, Lengths, Table


class StatedAlong(Table):
    """[along]; by default the plate stands along the unbent post."""

    tilt: Angle = 0.0
    misalignment: Angle = 0.0

    @property
    def resolved(self) -> Along:
        """As the case has it."""
        return Along(self.tilt, abs(self.misalignment))


class StatedSize(Table):
    """[size]."""

    outside_diameter: Lengths

    @property
    def resolved(self) -> Sizing:
        """As the case has it."""
        return Sizing(self.outside_diameter)
