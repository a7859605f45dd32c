"""One mesh level of one section: meshed, condensed, solved, and read off where it matters."""

import time
from dataclasses import dataclass

import numpy as np

from contactfe.assess.beam import axial_stress
from contactfe.assess.bodies import Bodies, Focus, beside
from contactfe.assess.places import Impacted, Peak, member_peaks, plate_peaks
from contactfe.case import Case, Section
from contactfe.section.grading import Grading, Patch
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve.condense import CondensedBody
from contactfe.solve.elastic import Floats
from contactfe.solve.field import StressField, principal, sample, traction, with_axial
from contactfe.solve.joint import (
    Joint,
    JointState,
    PatchState,
    join,
    member_fields,
    plate_field,
    solve_joint,
)
from contactfe.solve.lines import ContactLine, Frame
from contactfe.solve.patch import between


@dataclass(frozen=True)
class Level:
    """A joint meshed for expected patches at one scale of element size."""

    case: Case
    section: Section
    outline: MemberOutline
    plate_outlines: tuple[PlateOutline, ...]
    patches: tuple[Patch, ...]
    bore: Floats | None
    scale: float
    grading: Grading
    joint: Joint
    build_seconds: float


@dataclass(frozen=True)
class PatchReading:
    """A patch and the plate it is on. Stresses in MPa, lengths in mm.

    ``member_added`` and ``plate_added`` are the stress along the surface at the middle of the patch
    beyond the −p that a half-space has there: what bending of the body adds. ``back`` is the stress
    along the plate's back opposite the middle of the patch, ``deflection`` how far the back moves
    away from the post there.
    """

    state: PatchState
    peak_pressure: float
    field: StressField
    peaks: tuple[Peak, ...]
    max_shear: float
    member_added: float
    plate_added: float
    back: float
    deflection: float

    @property
    def half_width(self) -> float:
        """Half-width of the patch, mm."""
        return self.state.half_width


@dataclass(frozen=True)
class Filling:
    """What the infill of a bore carries, MPa.

    Largest and least principal stress in the plane; largest tension and shear across the bond.
    """

    tension: float
    compression: float
    bond_tension: float
    bond_shear: float


@dataclass(frozen=True)
class Reading:
    """A solved level: contact, fields, the peak of every zone, and stresses at named points.

    Stresses in MPa, lengths in mm. ``bore_hoop`` is the hoop stress at the bore under the load and
    at the side; ``centre`` the stress of a solid's centre along and across the load.
    """

    state: JointState
    patches: tuple[PatchReading, ...]
    member_field: StressField
    infill_field: StressField | None
    member_peaks: tuple[Peak, ...]
    member_shear: float
    bore_hoop: tuple[float, float] | None
    centre: tuple[float, float] | None
    filling: Filling | None
    solve_seconds: float

    @property
    def patch(self) -> PatchReading:
        """The first patch, the only one unless the post is in a corner."""
        return self.patches[0]

    @property
    def half_width(self) -> float:
        """Half-width of the first patch, mm."""
        return self.patch.half_width

    @property
    def peak_pressure(self) -> float:
        """Peak pressure of the first patch, MPa."""
        return self.patch.peak_pressure


def patches_of(reading: Reading) -> tuple[Patch, ...]:
    """The patches as solved, for meshes to be made for."""
    return tuple(
        Patch(p.centre, p.half_width, p.motion != "no friction", borders(p))
        for p in reading.state.patches
    )


def borders(patch: PatchState) -> tuple[float, ...]:
    """Where sticking gives way to slip, mm along the line, halfway between unlike nodes."""
    return tuple((a[2] + b[1]) / 2.0 for a, b in zip(patch.parts, patch.parts[1:], strict=False))


def build(
    case: Case,
    bodies: Bodies,
    section: Section,
    patches: tuple[Patch, ...],
    scale: float,
    focus: Focus = (),
) -> Level:
    """Mesh and condense a section and the plates it strikes for expected patches."""
    tangential = case.contact.friction > 0.0
    offsets = case.offsets
    start = time.perf_counter()
    grading, member = bodies.member(section, patches, scale, focus, tangential)
    plates = [
        bodies.plate(offset, patch, scale, tangential)
        for offset, patch in zip(offsets, patches, strict=True)
    ]
    joint = join(member, *plates, radius=section.radius)
    seconds = time.perf_counter() - start
    outlines = tuple(bodies.plate_outline(offset) for offset in offsets)
    return Level(
        case=case, section=section, outline=bodies.outline(section), plate_outlines=outlines,
        patches=patches, bore=bodies.bore(section), scale=scale, grading=grading, joint=joint,
        build_seconds=seconds,
    )  # fmt: skip


def read(level: Level, times: float = 1.0) -> Reading:
    """Solve a level under ``times`` its loads and read off what is asked of every solve.

    Where the load is spread unevenly, the bending of the post grows with it, in proportion.
    """
    case, outline = level.case, level.outline
    start = time.perf_counter()
    contact = case.contact
    state = solve_joint(
        level.joint,
        *(times * q for q in case.line_loads),
        angle=contact.angle,
        friction=contact.friction,
    )
    seconds = time.perf_counter() - start
    parts = {
        name: _bent(level, field, name, times)
        for name, field in member_fields(level.joint, state).items()
    }
    member, infill = parts["steel"], parts.get("infill")
    frames = (Frame(), beside(outline.radius))
    impacted = [
        Impacted(frame, patch.centre, patch.half_width)
        for frame, patch in zip(frames, state.patches, strict=False)
    ]
    geometry = level.section.geometry
    mirrored = case.symmetric(level.section)
    in_member = sample(member)
    return Reading(
        state=state,
        patches=tuple(
            _patch(level, state, number, member, mirrored) for number in range(len(state.patches))
        ),
        member_field=member,
        infill_field=infill,
        member_peaks=member_peaks(in_member, outline, impacted, mirrored, level.bore),
        member_shear=float(in_member.max_shear.max()),
        bore_hoop=_bore_hoop(level, member) if geometry.read_at == "bore" else None,
        centre=_centre(level, member) if geometry.read_at == "centre" else None,
        filling=None if infill is None else _filling(level, infill),
        solve_seconds=seconds,
    )


def _bent(level: Level, field: StressField, part: str, times: float) -> StressField:
    """The field of a part with the axial stress of the post's bending, where there is any."""
    if level.case.spread is None:
        return field
    material = next(p.material for p in level.joint.member.parts if p.name == part)
    y = field.mesh.doflocs[1]
    return with_axial(field, times * axial_stress(level.case, level.section, material.young, y))


def _patch(
    level: Level,
    state: JointState,
    number: int,
    member: StressField,
    mirrored: bool,
) -> PatchReading:
    patch, outline = state.patches[number], level.plate_outlines[number]
    field = plate_field(level.joint, state, number)
    samples = sample(field)
    impacted = Impacted(Frame(), patch.centre, patch.half_width)
    body, plate = level.joint.member, level.joint.plates[number]
    back = _nearest(field, patch.centre, -outline.thickness)
    return PatchReading(
        state=patch,
        peak_pressure=float(patch.pressure.max()),
        field=field,
        peaks=plate_peaks(samples, outline, impacted, mirrored),
        max_shear=float(samples.max_shear.max()),
        member_added=_added(body, body.lines[number], member, patch),
        plate_added=_added(plate, plate.lines[0], field, patch),
        back=float(field.stress[back, 0]),
        deflection=-float(field.displacement[back, 1]),
    )


def _added(body: CondensedBody, line: ContactLine, field: StressField, patch: PatchState) -> float:
    """Stress along the surface less −p, in the middle of a patch; ``field`` is of the first part.

    Between nodes it is quadratic, as the pressure is: where friction drags it is steep, and the
    node next to the middle would not do.
    """
    of_part = np.full(body.unknowns // 2, -1)
    of_part[body.parts[0].nodes] = np.arange(len(body.parts[0].nodes))
    x, y, _, t = field.stress[of_part[line.nodes]].T
    dx, dy = line.frame.tangent
    stress = x * dx**2 + y * dy**2 + 2 * t * dx * dy
    pressure = between(patch.x, patch.pressure, line.x)
    return float(between(line.x, stress + pressure, np.array([patch.centre]))[0])


def _bore_hoop(level: Level, member: StressField) -> tuple[float, float]:
    """Hoop stress at the bore under the first load and at its right side.

    The mesh has a node on both points, in the frame of its grading: it is turned with the patch.
    """
    outline, turn = level.outline, level.grading.turn
    radius, bore = outline.radius, outline.bore_radius
    hoops = []
    for angle in (turn - np.pi / 2, turn):
        radial = np.array([np.cos(angle), np.sin(angle)])
        x, y = np.array([0.0, radius]) + bore * radial
        hoops.append(_along(member, _nearest(member, x, y), np.array([-radial[1], radial[0]])))
    return hoops[0], hoops[1]


def _centre(level: Level, member: StressField) -> tuple[float, float]:
    """Stress of a solid's centre along and across the load."""
    at = member.stress[_nearest(member, 0.0, level.outline.radius)]
    return float(at[1]), float(at[0])


def _filling(level: Level, infill: StressField) -> Filling:
    (part,) = (p for p in level.joint.member.parts if p.name == "infill")
    high, low = principal(infill.stress)
    across, along = traction(infill, part.joined)
    return Filling(
        tension=float(high.max()),
        compression=float(low.min()),
        bond_tension=float(across.max()),
        bond_shear=float(np.abs(along).max()),
    )


def _along(field: StressField, node: int, direction: Floats) -> float:
    """Normal stress at a node in a direction (2,) of unit length, MPa."""
    x, y, _, t = field.stress[node]
    dx, dy = direction
    return float(x * dx**2 + y * dy**2 + 2 * t * dx * dy)


def _nearest(field: StressField, x: float, y: float) -> int:
    """The node nearest to a point; outlines put a node on each point read, or very near."""
    p = field.mesh.doflocs
    return int(np.argmin((p[0] - x) ** 2 + (p[1] - y) ** 2))
