"""From a case to everything that can be said of it by hand."""

from collections.abc import Iterator, Sequence

from contactfe.assess.by_hand.contact import contact_steps
from contactfe.assess.by_hand.record import ByHand, SectionByHand, Step
from contactfe.case import Case, Section


def by_hand(case: Case) -> ByHand:
    """Every applicable formula and clause for every section of a case, without a mesh."""
    return ByHand(case, tuple(section_by_hand(case, section) for section in case.sections))


def section_by_hand(
    case: Case, section: Section, shifts: Sequence[float] = (0.0, 0.0)
) -> SectionByHand:
    """The same for one section; ``shifts`` say how far along each plate its patch is off, in mm."""
    return SectionByHand(section, tuple(_steps(case, section, shifts)), (), ())


def _steps(case: Case, section: Section, shifts: Sequence[float]) -> Iterator[Step]:
    plates = 1 if case.corner is None else 2
    for number in range(plates):
        yield from contact_steps(case, section, number)
