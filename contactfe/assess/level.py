"""One mesh level of one section: meshed, condensed, solved, and read off where it matters."""

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from contactfe.assess.beam import axial_stress, bends
from contactfe.assess.bodies import Bodies, Focus, beside
from contactfe.assess.places import EDGES, Impacted, Peak, member_peaks, plate_peaks
from contactfe.case import Case, Section
from contactfe.case.alignment import Strip
from contactfe.section.grading import Grading, Patch
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve.bar import Bar, Neighbours, neighbours
from contactfe.solve.condense import CondensedBody
from contactfe.solve.elastic import Floats
from contactfe.solve.field import (
    StressField,
    principal,
    sample,
    traction,
    with_added,
    with_axial,
)
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
from contactfe.solve.located import Located, located
from contactfe.solve.parts import WHOLE
from contactfe.solve.patch import between
from contactfe.solve.prism import Prism, at_node


@dataclass(frozen=True)
class Level:
    """A joint meshed for expected patches at one scale of element size.

    ``bars`` are the post in three dimensions, one for each profile of the case's spread; ``within``
    is where the nodes of each part lie in their mesh, by name.
    """

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
    bars: tuple[Bar, ...] = ()
    within: Mapping[str, Located] = field(default_factory=dict)


@dataclass(frozen=True)
class PatchReading:
    """A patch and the plate it is on. Stresses in MPa, lengths in mm.

    ``plate_added`` is the stress along the surface at the middle of the patch beyond the −p that a
    half-space has there: what bending of the body adds. ``back`` is the stress along the plate's
    back opposite the middle of the patch, ``deflection`` how far the back moves away from the post
    there.
    """

    state: PatchState
    peak_pressure: float
    field: StressField
    peaks: tuple[Peak, ...]
    max_shear: float
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
class PostReading:
    """The post at one place, or what is greatest of several: stresses in MPa.

    ``added`` is the stress along the surface at the middle of each patch beyond the −p that a
    half-space has there: what bending of the post adds. ``bore_hoop`` is the hoop stress at the
    bore under the load and at the side; ``centre`` the stress of a solid's centre along and across
    the load. ``strip`` is the place, and ``participation`` the share of the slice's own ring
    bending there; None of a slice alone.
    """

    field: StressField
    infill_field: StressField | None
    peaks: tuple[Peak, ...]
    max_shear: float
    added: tuple[float, ...]
    bore_hoop: tuple[float, float] | None
    centre: tuple[float, float] | None
    filling: Filling | None
    strip: Strip | None = None
    participation: float | None = None


@dataclass(frozen=True)
class Reading:
    """A solved level: contact, fields, the peak of every zone, and stresses at named points.

    ``post`` is what counts of the post, the greatest of every place along it that was looked at,
    the ``strips``; ``slice`` the post as the slice of a long even contact at the peak line load.
    """

    state: JointState
    patches: tuple[PatchReading, ...]
    post: PostReading
    slice: PostReading
    solve_seconds: float
    strips: tuple[PostReading, ...] = ()

    @property
    def patch(self) -> PatchReading:
        """The first patch, the only one unless the post is in a corner."""
        return self.patches[0]

    @property
    def member_field(self) -> StressField:
        """The field of the post's steel where it is stressed most."""
        return self.post.field

    @property
    def infill_field(self) -> StressField | None:
        """The field of its infill there."""
        return self.post.infill_field

    @property
    def member_peaks(self) -> tuple[Peak, ...]:
        """The peak of every zone of the post, the largest first."""
        return self.post.peaks

    @property
    def bore_hoop(self) -> tuple[float, float] | None:
        """Hoop stress at a tube's bore under the load and at the side, MPa."""
        return self.post.bore_hoop

    @property
    def centre(self) -> tuple[float, float] | None:
        """Stress of a solid's centre along and across the load, MPa."""
        return self.post.centre

    @property
    def filling(self) -> Filling | None:
        """What an infill carries."""
        return self.post.filling

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
    profiles = () if case.spread is None else case.spread.profiles
    rooted = bends(case, section)
    bars = tuple(
        bodies.bar(section, scale, tangential, rooted, p.length, *p.contact) for p in profiles
    )
    kernels = bars[0].prism.parts if bars else ()
    within = {
        part.name: located(of.part.mesh, part.mesh.doflocs)
        for part, of in zip(member.parts, kernels, strict=False)
    }
    return Level(
        case=case, section=section, outline=bodies.outline(section), plate_outlines=outlines,
        patches=patches, bore=bodies.bore(section), scale=scale, grading=grading, joint=joint,
        build_seconds=seconds, bars=bars, within=within,
    )  # fmt: skip


def read(level: Level, times: float = 1.0) -> Reading:
    """Solve a level under ``times`` its loads and read off what is asked of every solve.

    The post is read at every strip of the case's spread, whose line loads and bending moments grow
    with the loads, in proportion.
    """
    case = level.case
    start = time.perf_counter()
    state = _solved(level, [times * q for q in case.line_loads])
    seconds = time.perf_counter() - start
    alone = Slice(level, state, member_fields(level.joint, state))
    spread, slice_ = case.spread, _post(alone, alone.fields)
    strips = [
        _at_strip(level, strip, times, alone) for strip in (() if spread is None else spread.strips)
    ]
    post = worst_of(strips) if strips else slice_
    return Reading(
        state=state,
        patches=tuple(
            _patch(level, state, number, case.symmetric(level.section))
            for number in range(len(state.patches))
        ),
        post=post,
        slice=slice_,
        solve_seconds=seconds,
        strips=tuple(strips),
    )


@dataclass(frozen=True)
class Slice:
    """A slice of the post in contact: its state, and the fields of its parts by name."""

    level: Level
    state: JointState
    fields: Mapping[str, StressField]


def solved_slice(level: Level, strip: Strip, times: float = 1.0) -> Slice:
    """The slice of a strip under ``times`` its line loads."""
    state = _solved(level, _loads(level, strip, times))
    return Slice(level, state, member_fields(level.joint, state))


def _solved(level: Level, loads: Sequence[float]) -> JointState:
    contact = level.case.contact
    return solve_joint(level.joint, *loads, angle=contact.angle, friction=contact.friction)


def _loads(level: Level, strip: Strip, times: float) -> list[float]:
    """Line loads on every plate at a strip, N/mm."""
    means = level.case.mean_line_loads
    return [times * ratio * q for ratio, q in zip(strip.ratios, means, strict=True)]


def _at_strip(level: Level, strip: Strip, times: float, peak: Slice) -> PostReading:
    """The post at a strip, whose slice is that of the ``peak`` where its loads are the same."""
    loads = [patch.line_load for patch in peak.state.patches]
    same = np.allclose(_loads(level, strip, times), loads, rtol=1e-9)
    return read_strip(peak if same else solved_slice(level, strip, times), strip, times)


def read_strip(at: Slice, strip: Strip, times: float = 1.0) -> PostReading:
    """The post at a strip: its slice, with the bending of the post and what its neighbours add."""
    if strip.profile is None:
        return replace(read_among(at, None, times * strip.moment), strip=strip)
    # The slice that is read has both plates' loads, also beyond the contact with one of them.
    neighbour = neighbour_of(at, strip, times)
    there = neighbour.line_loads
    loads = np.where(there == 0.0, _unit_loads(at, neighbour.prism), there)
    neighbour = replace(neighbour, line_loads=loads)
    return replace(read_among(at, neighbour, times * strip.moment), strip=strip)


def read_among(at: Slice, neighbour: Neighbours | None, moment: float = 0.0) -> PostReading:
    """The post at a slice with what its neighbours add, under a bending moment in N mm."""
    level, share = at.level, None
    if neighbour is not None:
        hoop = level.section.geometry.read_at == "bore"
        own = _bore_hoop(level, at.fields["steel"])[0] if hoop else None
        share = participation(level, neighbour, own)
    fields = {
        name: _bent(at.level, field, name, moment, neighbour) for name, field in at.fields.items()
    }
    return replace(_post(at, fields), participation=share)


def neighbour_of(at: Slice, strip: Strip, times: float) -> Neighbours:
    """What the neighbours of a strip add to its slice, which may slide on its plates."""
    assert strip.profile is not None
    # Friction in the proportion that it has at the strip; on the post it points the other way.
    dragged = [-patch.tangential_load / patch.line_load for patch in at.state.patches]
    (found,) = _neighbours(at.level, strip.profile, np.array([strip.place]), times, dragged)
    return found


def _unit_loads(at: Slice, of: Prism) -> Floats:
    """Line loads of a slice as it was solved, N/mm, on each unit load of a prism."""
    patches = at.state.patches
    loads = [*(p.line_load for p in patches), *(-p.tangential_load for p in patches)]
    return np.array(loads[: len(of.forces)])


def _neighbours(
    level: Level, number: int, at: Floats, times: float, dragged: Sequence[float]
) -> tuple[Neighbours, ...]:
    """Those at places (k,) mm of the profile of a number; ``dragged`` is friction over load."""
    spread, bar = level.case.spread, level.bars[number]
    assert spread is not None
    profile = spread.profiles[number]
    q = times * np.array(profile.ratios) * np.array(level.case.mean_line_loads)[:, None]
    if len(bar.prism.forces) > len(q):
        q = np.vstack([q, np.array(dragged)[:, None] * q])
    return neighbours(bar, np.array(profile.z), q, at)


def participations(level: Level, number: int, at: Floats, of_slice: PostReading) -> Floats | None:
    """Share of the slice's own ring bending at places (k,) mm of the profile of a number.

    ``of_slice`` is the slice at the peak line load. Of the normal loads alone; None of a section
    without a bore, or with a core in it.
    """
    spread, nil = level.case.spread, [0.0] * len(level.case.line_loads)
    assert spread is not None
    profile = spread.profiles[number]
    ratios = np.interp(at, profile.z, profile.ratios[0]) / spread.peak_ratio
    shares = []
    for ratio, one in zip(ratios, _neighbours(level, number, at, 1.0, nil), strict=True):
        own = None if of_slice.bore_hoop is None else ratio * of_slice.bore_hoop[0]
        shares.append(participation(level, one, own))
    return None if None in shares else np.array(shares, dtype=float)


def participation(level: Level, neighbour: Neighbours, own: float | None) -> float | None:
    """Share of the slice's own ring bending: hoop stress at the bore under the load, over its.

    ``own`` MPa is the slice's, where it was read. None of a section without a bore, or with a core
    in it.
    """
    outline = level.outline
    if level.case.support(level.section).core:
        return None
    part = next(p for p in neighbour.prism.parts if p.part.name in {"steel", WHOLE})
    x, y = part.x
    if outline.bore_radius > 0.0:
        node = int(np.argmin(x**2 + (y - outline.wall) ** 2))
    elif level.bore is not None:
        lowest = level.bore[:, np.argmin(level.bore[1] + np.abs(level.bore[0]))]
        node = int(np.argmin((x - lowest[0]) ** 2 + (y - lowest[1]) ** 2))
    else:
        return None
    at = at_node(part, node)
    if own is None:
        own = float(neighbour.slice(at)[0, 0])
    added = float((neighbour.whole(at) - neighbour.slice(at))[0, 0])
    return 1.0 + added / own if own else 0.0


def _post(at: Slice, fields: Mapping[str, StressField]) -> PostReading:
    level, steel, infill = at.level, fields["steel"], fields.get("infill")
    frames = (Frame(), beside(level.outline.radius))
    impacted = [
        Impacted(frame, patch.centre, patch.half_width)
        for frame, patch in zip(frames, at.state.patches, strict=False)
    ]
    geometry, mirrored = level.section.geometry, level.case.symmetric(level.section)
    samples, body = sample(steel), level.joint.member
    return PostReading(
        field=steel,
        infill_field=infill,
        peaks=member_peaks(samples, level.outline, impacted, mirrored, level.bore),
        max_shear=float(samples.max_shear.max()),
        added=tuple(
            _added(body, line, steel, patch)
            for line, patch in zip(body.lines, at.state.patches, strict=True)
        ),
        bore_hoop=_bore_hoop(level, steel) if geometry.read_at == "bore" else None,
        centre=_centre(level, steel) if geometry.read_at == "centre" else None,
        filling=None if infill is None else _filling(level, infill),
    )


def at_place_of(reading: Reading, of: Reading) -> Reading:
    """A reading whose figures of one place are of the place where another has its worst."""
    strip = of.post.strip
    if strip is None or strip == reading.post.strip:
        return reading
    return replace(reading, post=worst_of(reading.strips, strip))


def worst_of(readings: Sequence[PostReading], at: Strip | None = None) -> PostReading:
    """The greatest of every figure of several places.

    What is of one place is the worst one's, or that of the strip ``at``.
    """
    worst = max(readings, key=lambda one: one.peaks[0].von_mises)
    worst = next((one for one in readings if at is not None and one.strip == at), worst)
    peaks: dict[str, Peak] = {}
    for one in readings:
        for peak in one.peaks:
            zone = EDGES.get(peak.zone, peak.zone)
            if zone not in peaks or peak.von_mises > peaks[zone].von_mises:
                peaks[zone] = peak
    return replace(
        worst,
        peaks=tuple(sorted(peaks.values(), key=lambda peak: -peak.von_mises)),
        max_shear=max(one.max_shear for one in readings),
        bore_hoop=_largest([one.bore_hoop for one in readings]),
        centre=_largest([one.centre for one in readings]),
        filling=_fullest([one.filling for one in readings]),
    )


def _largest(pairs: Sequence[tuple[float, float] | None]) -> tuple[float, float] | None:
    """Of each of two stresses the one of the largest size."""
    known = [pair for pair in pairs if pair is not None]
    if not known:
        return None
    return max((a for a, _ in known), key=abs), max((b for _, b in known), key=abs)


def _fullest(fillings: Sequence[Filling | None]) -> Filling | None:
    known = [one for one in fillings if one is not None]
    if not known:
        return None
    return Filling(
        max(one.tension for one in known),
        min(one.compression for one in known),
        max(one.bond_tension for one in known),
        max(one.bond_shear for one in known),
    )


def _bent(
    level: Level, field: StressField, part: str, moment: float, neighbour: Neighbours | None
) -> StressField:
    """The field of a part with the bending of the post and what the neighbours add."""
    material = next(p.material for p in level.joint.member.parts if p.name == part)
    if moment != 0.0:
        y = field.mesh.doflocs[1]
        bending = axial_stress(level.case, level.section, material.young, moment, y)
        field = with_axial(field, bending)
    if neighbour is None:
        return field
    added = next(stress for of, stress in neighbour.added if of.part.name == part)
    return with_added(field, level.within[part].read(added))


def _patch(
    level: Level,
    state: JointState,
    number: int,
    mirrored: bool,
) -> PatchReading:
    patch, outline = state.patches[number], level.plate_outlines[number]
    field = plate_field(level.joint, state, number)
    samples = sample(field)
    impacted = Impacted(Frame(), patch.centre, patch.half_width)
    plate = level.joint.plates[number]
    back = _nearest(field, patch.centre, -outline.thickness)
    return PatchReading(
        state=patch,
        peak_pressure=float(patch.pressure.max()),
        field=field,
        peaks=plate_peaks(samples, outline, impacted, mirrored),
        max_shear=float(samples.max_shear.max()),
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
    x, y, _, t = field.stress[of_part[line.nodes], :4].T
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
    x, y, _, t = field.stress[node, :4]
    dx, dy = direction
    return float(x * dx**2 + y * dy**2 + 2 * t * dx * dy)


def _nearest(field: StressField, x: float, y: float) -> int:
    """The node nearest to a point; outlines put a node on each point read, or very near."""
    p = field.mesh.doflocs
    return int(np.argmin((p[0] - x) ** 2 + (p[1] - y) ** 2))
