"""The case file as it may be written: the whole of it, and the tables that say how to work.

Bodies are in `stated_bodies.py`, the impact in `stated_contact.py`, the kinds of value in
`stated_values.py`.
"""

from collections.abc import Mapping
from typing import Any

from pydantic import Field, ValidationInfo, field_validator

from contactfe.case.display import ReportUnits
from contactfe.case.model import PlaneState
from contactfe.case.stated_bodies import StatedPlate, StatedPost, StatedSection
from contactfe.case.stated_contact import (
    BY_MOTION,
    StatedContact,
    StatedCorner,
    StatedEnvelope,
    StatedLoad,
)
from contactfe.case.stated_grade import GradeName, StatedGrade
from contactfe.case.stated_motion import StatedContactLaw, StatedMotion
from contactfe.case.stated_standards import StatedCantilever, StatedStandards
from contactfe.case.stated_sweep import StatedSweep
from contactfe.case.stated_values import (
    OWN_GRADES,
    REPORT_UNITS,
    Accuracy,
    Margin,
    Name,
    Scale,
    Table,
)
from contactfe.case.stated_work import StatedAlignment, StatedSizing
from contactfe.errors import InputError


class StatedModel(Table):
    """[model]; plane strain is the state of a long post away from its ends."""

    state: PlaneState = "plane strain"


class StatedCheck(Table):
    """[check]; by default the stress may reach the yield strength itself."""

    yield_margin: Margin = 1.0


class StatedAccept(Table):
    """[accept]; open items that the engineer has settled otherwise, each with the reason."""

    sharing: Name | None = None
    tilt: Name | None = None
    post: Name | None = None
    root: Name | None = None
    motion: Name | None = None
    relief: Name | None = None
    infill: Name | None = None

    @property
    def resolved(self) -> tuple[tuple[str, str], ...]:
        """As the case has it: key and reason of each that is stated."""
        return tuple((key, reason) for key, reason in self if reason is not None)


class StatedReport(Table):
    """[report]; the units of what is printed and drawn, whatever units the file itself uses."""

    units: ReportUnits = "SI"


class StatedCase(Table):
    """The whole file."""

    title: Name = Field(examples=["Lighthouse annex, stop S2"])
    accuracy: Accuracy | None = None
    scale: Scale | None = None
    post: StatedPost
    plate: StatedPlate
    load: StatedLoad
    contact: StatedContact = StatedContact()
    corner: StatedCorner | None = None
    envelope: StatedEnvelope | None = None
    model: StatedModel = StatedModel()
    check: StatedCheck = StatedCheck()
    accept: StatedAccept = StatedAccept()
    report: StatedReport = StatedReport()
    cantilever: StatedCantilever | None = None
    standards: StatedStandards = StatedStandards()
    motion: StatedMotion | None = None
    contact_law: StatedContactLaw | None = Field(default=None, validate_default=True)
    alignment: StatedAlignment | None = None
    sizing: StatedSizing | None = None
    sweep: StatedSweep | None = None
    section: list[StatedSection]
    grade: dict[GradeName, StatedGrade] = Field(default_factory=dict)

    @field_validator("section")
    @classmethod
    def _at_least_one(cls, section: list[StatedSection]) -> list[StatedSection]:
        if not section:
            raise InputError("must hold at least one section")
        return section

    @field_validator("contact_law")
    @classmethod
    def _beside_motion(
        cls, contact_law: StatedContactLaw | None, info: ValidationInfo
    ) -> StatedContactLaw | None:
        if "motion" in info.data and (info.data["motion"] is None) != (contact_law is None):
            raise InputError(
                'is missing beside [motion]; write for example law = "linear" and stiffness ='
                ' "500 kN/mm" in it'
                if contact_law is None
                else "needs [motion] beside it, which states the motion"
            )
        return contact_law


def read_stated(data: Mapping[str, Any]) -> StatedCase:
    """The tables of a case file, each looked at for itself. Raises pydantic's ValidationError."""
    # What the tables need to know of one another, before anything about them is checked.
    grades, report = data.get("grade"), data.get("report")
    named = grades if isinstance(grades, Mapping) else {}
    context = {
        OWN_GRADES: [name for name in named if isinstance(name, str)],
        BY_MOTION: "motion" in data,
        REPORT_UNITS: report.get("units") if isinstance(report, Mapping) else None,
    }
    return StatedCase.model_validate(dict(data), context=context)
