"""What distinguishes the plates of a case: number, load, and how steps of each are named."""

from dataclasses import dataclass

from contactfe.case import Case


@dataclass(frozen=True)
class ImpactedPlate:
    """A plate that is struck ``at`` mm from its middle."""

    number: int
    line_load: float  # N/mm, normal to it: the peak where it is spread unevenly along the post
    mean: float  # N/mm, what that is over the whole contact length
    at: float
    contact_length: float | None  # mm of contact line where a force was stated, else None

    @property
    def end(self) -> str:
        """What ends the keys of its steps."""
        return "" if self.number == 0 else "_second"

    @property
    def name(self) -> str:
        """What it is called in words."""
        return "plate" if self.number == 0 else "second plate"

    @property
    def of_second(self) -> str:
        """What ends the labels of its steps."""
        return "" if self.number == 0 else f", {self.name}"


def plates(case: Case, shifts: tuple[float, ...] = ()) -> tuple[ImpactedPlate, ...]:
    """The plates of a case in order, each struck as far along as its shift, mm, says."""
    corner = case.corner
    lengths = (case.contact_length, None if corner is None else corner.contact_length)
    means = (case.line_load, *(() if corner is None else (corner.line_load,)))
    along = (*shifts, 0.0, 0.0)
    return tuple(
        ImpactedPlate(number, load, mean, offset + along[number], lengths[number])
        for number, (load, mean, offset) in enumerate(
            zip(case.line_loads, means, case.offsets, strict=True)
        )
    )
