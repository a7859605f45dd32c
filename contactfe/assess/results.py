"""What an assessment returns: frozen records with units in their docstrings, and no computing."""

from dataclasses import dataclass

from contactfe.assess.level import Reading
from contactfe.assess.places import Peak
from contactfe.case import Case, Material, Section
from contactfe.case.units import Dimension


@dataclass(frozen=True)
class Value:
    """A computed figure with its numerical uncertainty, in the same unit."""

    value: float
    uncertainty: float


@dataclass(frozen=True)
class BodyResult:
    """One body against yield. Stresses in MPa, loads in N/mm.

    ``peak`` is the largest of ``places`` (one peak per zone, largest first), ``uncertainty`` its
    numerical uncertainty; ``utilisation`` is peak · margin / yield strength; ``satisfied`` holds
    with the uncertainty added. ``first_yield_line_load``, with its own numerical
    uncertainty, is None where it lies beyond what the model carries.
    """

    material: Material
    peak: Peak
    uncertainty: float
    places: tuple[Peak, ...]
    max_shear: Value
    utilisation: float
    satisfied: bool
    first_yield_line_load: float | None
    first_yield_uncertainty: float | None


@dataclass(frozen=True)
class HandCheck:
    """A hand formula beside the computed value; ``remark`` says why they differ, where they do.

    Both values are in mm, MPa or N/mm, as ``dimension`` has it. ``difference`` is hand over
    computed, less one.
    """

    key: str
    label: str
    dimension: Dimension
    hand: float
    computed: float
    difference: float
    remark: str
    source: str


@dataclass(frozen=True)
class SectionResult:
    """A section solved and checked, in mm, MPa, N/mm and kg/m.

    ``bore_hoop`` holds the hoop stress at the bore under the load and at the side;
    ``added_hoop`` what bending of the section adds to the hoop stress at the first point of contact
    (a half-space has −p there); ``reading`` the fine solution, for figures and fields.
    """

    section: Section
    line_load: float
    half_width: Value
    peak_pressure: Value
    approach: Value
    member: BodyResult
    plate: BodyResult
    bore_hoop: tuple[Value, Value] | None
    added_hoop: Value
    stress_concentration: Value
    mass_per_length: float
    hand: tuple[HandCheck, ...]
    unknowns: int
    remeshed: int
    solve_seconds: float
    reading: Reading

    @property
    def utilisation(self) -> float:
        """The larger utilisation of the two bodies."""
        return max(self.member.utilisation, self.plate.utilisation)

    @property
    def satisfied(self) -> bool:
        """Whether both bodies stay below yield with the margin asked for."""
        return self.member.satisfied and self.plate.satisfied

    def hand_value(self, key: str) -> float | None:
        """The hand value of that key, or None where the formula does not apply to the section."""
        return next((check.hand for check in self.hand if check.key == key), None)


@dataclass(frozen=True)
class Comparison:
    """Every section of a case, and the answer. The rankings hold section names, best first."""

    case: Case
    sections: tuple[SectionResult, ...]
    by_concentration: tuple[str, ...]
    by_utilisation: tuple[str, ...]
    by_mass: tuple[str, ...]
    reason: str

    @property
    def least_concentration(self) -> str:
        """Name of the section with the least stress concentration."""
        return self.by_concentration[0]

    @property
    def satisfied(self) -> bool:
        """Whether every section passes."""
        return all(s.satisfied for s in self.sections)

    def section(self, name: str) -> SectionResult:
        """The result of the section of that name. Raises KeyError where there is none."""
        for result in self.sections:
            if result.section.name == name:
                return result
        raise KeyError(name)

    def _repr_html_(self) -> str:
        """What a notebook shows; loads the report only then, as assess itself needs none of it."""
        from contactfe.report.notebook import html

        return html(self)
