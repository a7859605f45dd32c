"""One mesh level of one section: meshed, condensed, solved, and read off where it matters."""

import time
from dataclasses import dataclass

import numpy as np

from contactfe.assess.places import Peak, member_peaks, plate_peaks
from contactfe.case import Case, Section
from contactfe.section.body import to_skfem
from contactfe.section.grading import Grading, member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve import holds
from contactfe.solve.condense import CondensedBody, condense
from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.field import StressField, sample
from contactfe.solve.pair import (
    ContactState,
    Pair,
    half_width,
    join,
    member_field,
    plate_field,
    solve_pair,
)

_PLATE_STEP = 1.1
"""Plates are graded for half-widths in steps of this ratio, so that sections share them."""


class Bodies:
    """Meshes and factors the bodies of a case; keeps plates, which all sections can share."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self.plate_outline = PlateOutline(case.plate.width, case.plate.thickness)
        self._plates: dict[tuple[int, float], CondensedBody] = {}

    def outline(self, section: Section) -> MemberOutline:
        """Outline of a section as it is modelled: its lower half between opposed plates."""
        return MemberOutline(section.radius, section.bore_radius, self.case.held_by == "opposed")

    def member(self, section: Section, grading: Grading) -> CondensedBody:
        """The member of a section, factored."""
        mesh = to_skfem(mesh_member(self.outline(section), grading))
        steel = self.case.post_material(section)
        if self.case.held_by == "opposed":
            hold = holds.opposed(mesh)
        else:
            hold = holds.beam_shear(mesh, section.radius, section.bore_radius, steel.poisson)
        return condense(mesh, Elastic(steel.young, steel.poisson, self.case.state), hold)

    def plate(self, expected_half_width: float, scale: float) -> CondensedBody:
        """The plate, factored, graded for about this half-width (mm)."""
        step = round(np.log(expected_half_width) / np.log(_PLATE_STEP))
        if (step, scale) not in self._plates:
            grading = plate_grading(self.plate_outline, _PLATE_STEP**step, scale)
            mesh = to_skfem(mesh_plate(self.plate_outline, grading))
            steel = self.case.plate_material
            hold = (
                holds.bedded(mesh) if self.case.plate.held_by == "bedded" else holds.two_edges(mesh)
            )
            self._plates[step, scale] = condense(
                mesh, Elastic(steel.young, steel.poisson, self.case.state), hold
            )
        return self._plates[step, scale]


@dataclass(frozen=True)
class Level:
    """A pair meshed for one half-width at one scale of element size."""

    section: Section
    outline: MemberOutline
    plate_outline: PlateOutline
    grading: Grading
    pair: Pair
    build_seconds: float


@dataclass(frozen=True)
class Reading:
    """A solved level: contact, fields, the peak of every zone, and stresses at named points.

    Stresses in MPa, lengths in mm. ``bore_hoop`` is the hoop stress at the bore under the load and
    at the side; ``centre`` the stress of a solid's centre along and across the load;
    ``member_added`` and ``plate_added`` the stress along the surface at the first point of contact
    beyond the −p that a half-space has there: what bending of the body adds.
    """

    state: ContactState
    half_width: float
    peak_pressure: float
    member_field: StressField
    plate_field: StressField
    member_peaks: tuple[Peak, ...]
    plate_peaks: tuple[Peak, ...]
    member_shear: float
    plate_shear: float
    bore_hoop: tuple[float, float] | None
    centre: tuple[float, float] | None
    member_added: float
    plate_added: float
    solve_seconds: float


def build(
    bodies: Bodies,
    section: Section,
    expected_half_width: float,
    scale: float,
    focus: tuple[float, float] | None = None,
) -> Level:
    """Mesh and condense the pair for an expected half-width (mm); see ``member_grading``."""
    outline = bodies.outline(section)
    grading = member_grading(outline, expected_half_width, scale, focus)
    start = time.perf_counter()
    pair = join(
        bodies.member(section, grading), bodies.plate(expected_half_width, scale), section.radius
    )
    seconds = time.perf_counter() - start
    return Level(section, outline, bodies.plate_outline, grading, pair, seconds)


def read(level: Level, line_load: float) -> Reading:
    """Solve a level at ``line_load`` (N/mm) and read off what is asked of every solve."""
    start = time.perf_counter()
    state = solve_pair(level.pair, line_load)
    seconds = time.perf_counter() - start
    a = half_width(state)
    member, plate = member_field(level.pair, state), plate_field(level.pair, state)
    in_member, in_plate = sample(member), sample(plate)
    radius, bore = level.outline.radius, level.outline.bore_radius
    on_axis = float(state.pressure[np.argmin(np.abs(state.x))])
    if bore > 0.0:
        hoop = (float(_at(member, 0.0, radius - bore)[0]), float(_at(member, bore, radius)[1]))
        centre = None
    else:
        hoop = None
        across, along, *_ = _at(member, 0.0, radius)
        centre = (float(along), float(across))
    return Reading(
        state=state,
        half_width=a,
        peak_pressure=float(state.pressure.max()),
        member_field=member,
        plate_field=plate,
        member_peaks=member_peaks(in_member, level.outline, a),
        plate_peaks=plate_peaks(in_plate, level.plate_outline, a),
        member_shear=float(in_member.max_shear.max()),
        plate_shear=float(in_plate.max_shear.max()),
        bore_hoop=hoop,
        centre=centre,
        member_added=float(_at(member, 0.0, 0.0)[0]) + on_axis,
        plate_added=float(_at(plate, 0.0, 0.0)[0]) + on_axis,
        solve_seconds=seconds,
    )


def _at(field: StressField, x: float, y: float) -> Floats:
    """Stress (4,) at the node nearest to a point; outlines put a node on each point read."""
    p = field.mesh.doflocs
    nearest = int(np.argmin((p[0] - x) ** 2 + (p[1] - y) ** 2))
    stress: Floats = field.stress[nearest]
    return stress
