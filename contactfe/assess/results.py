"""What an assessment returns: frozen records with units in their docstrings, and no computing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

from contactfe.assess.by_hand.record import SectionByHand, Step
from contactfe.assess.checks import Check, Checked, OpenItem, Verdict, verdict_of
from contactfe.assess.value import Body, Value, Values, key_of
from contactfe.case import Case, Material, Section
from contactfe.case.tolerance import Limits
from contactfe.hand.quantities import Dimension
from contactfe.shown import Shown

if TYPE_CHECKING:  # who only writes or shows records needs no solver
    from contactfe.assess.reading import Reading
    from contactfe.solve.joint import SlipState
    from contactfe.solve.reactions import Reaction


@dataclass(frozen=True)
class BodyResult(Body):
    """One body against yield, with its steel. Stresses in MPa, loads in N/mm.

    ``places`` are the peaks of its zones, the largest first, which is that of the body.
    ``shakedown_line_load`` is that up to which repeated strikes of a half-space come to yield no
    more, at the friction of the case: a hand formula.
    """

    material: Material
    places: tuple[Value, ...]
    shakedown_line_load: float

    @property
    def max_shear(self) -> Value:
        """Largest shear stress, MPa."""
        return self._of("max_shear")

    @property
    def first_yield_line_load(self) -> Value | None:
        """Line load at first yield, N/mm; None where it is beyond the range of the model."""
        return self.get("first_yield")


@dataclass(frozen=True)
class Along:
    """What a part of a contact line does: ``motion`` from x = ``start`` to ``end`` mm."""

    motion: Literal["stick", "slip"]
    start: float
    end: float


class OfReaction(NamedTuple):
    """A force, N/mm, and a moment, N mm/mm."""

    force: float
    moment: float


@dataclass(frozen=True)
class PatchResult:
    """A patch and the plate it is on, in the axes of that plate, in mm, MPa and N/mm.

    ``zones`` say what the parts of the patch do, from left to right, to the nearest node.
    ``reactions`` hold the plate, and ``reaction_uncertainty`` has the largest uncertainties of
    their forces, N/mm, and moments, N mm/mm.
    """

    values: Values
    number: int
    line_load: float
    motion: SlipState
    zones: tuple[Along, ...]
    plate: BodyResult
    reactions: tuple[Reaction, ...]
    reaction_uncertainty: OfReaction

    @property
    def half_width(self) -> Value:
        """Half-width of the patch."""
        return self._of("half_width")

    @property
    def centre(self) -> Value:
        """Its middle, from the first point of contact."""
        return self._of("centre")

    @property
    def peak_contact_pressure(self) -> Value:
        """Peak pressure."""
        return self._of("peak_pressure")

    @property
    def tangential_load(self) -> Value:
        """What the post exerts on the plate along +x."""
        return self._of("tangential_load")

    @property
    def back_stress(self) -> Value:
        """Stress along the plate's back opposite the patch."""
        return self._of("back_stress")

    @property
    def deflection(self) -> Value:
        """How far the back moves away there."""
        return self._of("deflection")

    def _of(self, key: str) -> Value:
        return self.values[key_of(key, self.number)]


@dataclass(frozen=True)
class MeshLevel:
    """One level of the mesh: element size over the standard one, unknowns, peak stresses in MPa.

    ``peaks`` are those of the post and of each plate; of the first level they have no uncertainty.
    """

    size: float
    unknowns: int
    peaks: tuple[tuple[float, float | None], ...]


@dataclass(frozen=True)
class HandCheck:
    """A hand formula beside the computed value.

    ``computed_uncertainty`` is that of the computed value, in the same unit; ``limit`` the relative
    difference from which on it is to be said why they differ.
    """

    step: Step
    computed: float
    computed_uncertainty: float
    limit: float

    @property
    def key(self) -> str:
        """The key of the step."""
        return self.step.key

    @property
    def label(self) -> str:
        """What the step gives, in words."""
        return self.step.label

    @property
    def dimension(self) -> Dimension:
        """What both values measure."""
        assert self.step.worked.dimension is not None  # a computed figure has a unit
        return self.step.worked.dimension

    @property
    def source(self) -> str:
        """Where the formula is from."""
        return self.step.worked.source

    @property
    def hand(self) -> float:
        """The value by hand."""
        return self.step.worked.value

    @property
    def difference(self) -> float:
        """Hand over computed, less one."""
        return self.hand / self.computed - 1.0


@dataclass(frozen=True)
class Tried:
    """A tilt of the plate to the post, rad, with the greatest line load there, N/mm."""

    tilt: float
    peak_line_load: float


@dataclass(frozen=True)
class Doubling:
    """The tilt, rad, at which the peak line load is twice that without tilt.

    None where that is beyond the range of the model; ``why_not`` says why.
    """

    tilt: float | None
    why_not: str = ""


@dataclass(frozen=True)
class Pair:
    """Line load, N/mm, and bending moment of the post, N mm, that meet at a place.

    At a ``tilt``, rad, and ``place`` mm from the root.
    """

    tilt: float
    place: float
    line_load: float
    moment: float


@dataclass(frozen=True)
class LengthResult:
    """How a section shares the force along the contact, in N, mm, rad; z is from the root.

    ``z``, ``line_load`` q, ``deflection`` w (away from the plate) and ``approach`` δ (negative
    where the post has parted) run over the contact at the governing ``tilt``, that of the largest
    peak of all ``tried``. ``peak_from_root`` is where the peak is, ``moment_at_peak`` the bending
    moment there, and ``moment_used`` the one that the section is checked with: that of the
    ``worst_pair``, None where the post is stressed most at the peak. ``slope`` is that of the bent
    post in the middle of the contact, ``parted_length`` the length that does not touch,
    ``resultant_from_root`` the distance from the root to the resultant, and ``root_lever`` the
    greatest of all tried and of an even load. ``evenest`` is the tilt of the least peak,
    ``doubling`` the tilts, down and up, that double the peak of none, ``rigid_peak`` the peak if
    the post did not bend. ``bending_stiffness`` EI, N mm², and ``shear_stiffness`` κGA, N, are the
    stiffness of the post; ``force_balance`` is the largest imbalance of forces over the force.
    """

    mean_line_load: float
    tilt: float
    tried: tuple[Tried, ...]
    z: tuple[float, ...]
    line_load: tuple[float, ...]
    deflection: tuple[float, ...]
    approach: tuple[float, ...]
    peak_from_root: float
    moment_at_peak: float
    moment_used: float
    worst_pair: Pair | None
    slope: float
    parted_length: float
    resultant_from_root: float
    root_lever: float
    evenest: Tried
    doubling: tuple[Doubling, Doubling]
    rigid_peak: float
    bending_stiffness: float
    shear_stiffness: float
    force_balance: float

    @property
    def peak_line_load(self) -> float:
        """The greatest line load, N/mm."""
        return max(self.line_load)

    @property
    def peak_over_mean(self) -> float:
        """The greatest line load over the mean one."""
        return self.peak_line_load / self.mean_line_load

    @property
    def rigid_peak_over_mean(self) -> float:
        """The peak if the post did not bend, over the mean line load."""
        return self.rigid_peak / self.mean_line_load


@dataclass(frozen=True)
class ReliefResult:
    """What a contact of finite length leaves of the relief of a slice.

    ``contact_length`` mm is that of the contact, ``tip`` mm the distance from its middle to the
    free end of the post that governs, ``tip_stated`` whether the case says so. ``z`` (n,) mm runs
    from the middle of the contact to the tip; ``participation`` (n,) is the share of the slice's
    own ring bending, None where the post hardly bears, and None altogether of a section without a
    bore. ``place`` mm is where the post is stressed most.
    """

    contact_length: float
    tip: float
    tip_stated: bool
    place: float
    z: tuple[float, ...]
    line_load: tuple[float, ...]
    participation: tuple[float | None, ...] | None


@dataclass(frozen=True)
class AsMade:
    """A tube solved at a limit of what it is made within; mm, MPa.

    ``peaks`` are the peak von Mises stresses of the post and of each plate,
    ``stress_concentration`` is K over the nominal diameter, so that it compares with that of the
    nominal tube; None where it could not be solved, and then ``error`` says why. ``checks`` are
    those of the peaks. ``bore_hoop_stress_under_load`` is the hoop stress at the bore under the
    load, None where it was not read.
    """

    outside_diameter: float
    wall: float
    peaks: tuple[Value | None, ...]
    stress_concentration: Value | None
    checks: tuple[Check, ...]
    error: str = ""
    bore_hoop_stress_under_load: Value | None = None

    @property
    def post_peak_von_mises(self) -> Value | None:
        """Peak von Mises stress of the post."""
        return self.peaks[0]

    @property
    def plate_peak_von_mises(self) -> Value | None:
        """That of the first plate."""
        return self.peaks[1]


class BoreHoop(NamedTuple):
    """Hoop stress at a bore, MPa."""

    under_load: Value
    at_side: Value


@dataclass(frozen=True)
class SectionResult:
    """A section solved and checked, in mm, MPa, N/mm and kg/m.

    ``values`` are all that was read off the solution, by the keys of the registry, and ``patches``
    and ``member`` show them by patch and body; ``by_hand`` every formula and clause that applies,
    ``hand_checks`` those that a computed figure stands beside; ``length`` how the force is shared
    along the contact, None where it counts as even; ``relief`` what a contact of finite length
    leaves of the slice's, None where that is not known; ``axial_stress`` MPa what the bending of
    the post along its axis adds at its impacted face where it is stressed most; ``levels`` the mesh
    levels from coarse to fine, and ``stopped`` why the accuracy asked for was not reached, else
    empty; ``reading`` is the fine solution, for figures and fields; ``checks`` all that it is
    checked for. ``limits`` are those of a tube, None where they are not known, and ``as_made`` it
    with its least and its greatest wall.
    """

    section: Section
    values: Values
    patches: tuple[PatchResult, ...]
    member: BodyResult
    mass_per_length: float
    hand_checks: tuple[HandCheck, ...]
    by_hand: SectionByHand
    levels: tuple[MeshLevel, ...]
    stopped: str
    remeshed: int
    solve_seconds: float
    reading: Reading
    length: LengthResult | None = None
    relief: ReliefResult | None = None
    axial_stress: float = 0.0
    checks: tuple[Check, ...] = ()
    limits: Limits | None = None
    as_made: tuple[AsMade, ...] = ()

    @property
    def contact(self) -> PatchResult:
        """The first patch, the only one unless the post is in a corner."""
        return self.patches[0]

    @property
    def line_load(self) -> float:
        """Line load on the first plate, N/mm."""
        return self.contact.line_load

    @property
    def approach(self) -> Value:
        """Approach of post and plate, mm."""
        return self.values["approach"]

    @property
    def added_hoop_stress(self) -> Value:
        """What bending adds to the hoop stress in the middle of the first patch, MPa.

        A half-space has −p there.
        """
        return self.values["added_hoop"]

    @property
    def stress_concentration(self) -> Value:
        """K: peak von Mises stress of the post over q/D."""
        return self.values["stress_concentration"]

    @property
    def concentrations(self) -> tuple[Value, ...]:
        """K of the nominal tube and, where they were solved, at the limits of its wall."""
        made = (one.stress_concentration for one in self.as_made)
        return (self.stress_concentration, *(K for K in made if K is not None))

    @property
    def bore_hoop_stress(self) -> BoreHoop | None:
        """Hoop stress at a tube's bore, MPa; None of others."""
        pair = self._pair("bore_hoop_under_load", "bore_hoop_at_side")
        return None if pair is None else BoreHoop(*pair)

    @property
    def centre(self) -> tuple[Value, Value] | None:
        """Stress of a solid's centre along and across the load, MPa; None of others."""
        return self._pair("centre_along", "centre_across")

    def _pair(self, one: str, other: str) -> tuple[Value, Value] | None:
        return (self.values[one], self.values[other]) if one in self.values else None

    @property
    def half_width(self) -> Value:
        """Half-width of the first patch, mm."""
        return self.contact.half_width

    @property
    def peak_contact_pressure(self) -> Value:
        """Peak pressure of the first patch, MPa."""
        return self.contact.peak_contact_pressure

    @property
    def plate(self) -> BodyResult:
        """The first plate."""
        return self.contact.plate

    @property
    def bodies(self) -> tuple[tuple[str, BodyResult], ...]:
        """The post and each plate, by what reports call them."""
        return tuple((body.name, body) for body in (self.member, *(p.plate for p in self.patches)))

    @property
    def unknowns(self) -> int:
        """Displacement unknowns of the finest level."""
        return self.levels[-1].unknowns

    @property
    def utilisation(self) -> Value:
        """The largest utilisation of the bodies."""
        return max((body.utilisation for _, body in self.bodies), key=lambda use: use.value)

    @property
    def verdict(self) -> Verdict:
        """What its checks come to."""
        return verdict_of(self.checks)

    @property
    def satisfied(self) -> bool:
        """Whether it passes every check that applies."""
        return self.verdict == "passes"

    def hand_value(self, key: str) -> float | None:
        """The hand value of that key, or None where the formula does not apply to the section."""
        return next((check.hand for check in self.hand_checks if check.key == key), None)


@dataclass(frozen=True, repr=False)
class Comparison(Checked, Shown):
    """Every section of a case, and the answer. The rankings hold section names, best first.

    ``checks`` are those of every section and of the load, ``open_items`` what none of them covers.
    """

    case: Case
    sections: tuple[SectionResult, ...]
    by_concentration: tuple[str, ...]
    by_utilisation: tuple[str, ...]
    by_mass: tuple[str, ...]
    checks: tuple[Check, ...]
    open_items: tuple[OpenItem, ...]

    @property
    def least_concentration(self) -> str:
        """Name of the section with the least stress concentration."""
        return self.by_concentration[0]

    @property
    def to_make(self) -> SectionResult:
        """The section of the least K that passes every check; of the least K where none passes."""
        ranked = [self.section(name) for name in self.by_concentration]
        return next((result for result in ranked if result.satisfied), ranked[0])

    @property
    def accurate(self) -> bool:
        """Whether every section reached the accuracy that the case asks for, if it asks for one."""
        return not any(s.stopped for s in self.sections)

    def concentration_of(self, name: str) -> Value:
        """The stress concentration of the section of that name."""
        return self.section(name).stress_concentration

    def mass_of(self, name: str) -> Value:
        """The mass of the section of that name, kg/m, without numerical uncertainty."""
        return Value(self.section(name).mass_per_length, 0.0)

    def utilisation_of(self, name: str) -> Value:
        """The largest utilisation of the section of that name."""
        return self.section(name).utilisation

    def section(self, name: str) -> SectionResult:
        """The result of the section of that name. Raises KeyError where there is none."""
        for result in self.sections:
            if result.section.name == name:
                return result
        raise KeyError(name)

    @property
    def reason(self) -> str:
        """Why the best section is the best, in a few plain sentences.

        Words are the report's, which is loaded only here.
        """
        from contactfe.report.reason import reason

        return reason(self)
