"""The post as it is read: a slice in contact, at one place along the axis with the bending of the
post and what the neighbours of the slice add, or the greatest of several places.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from contactfe.assess.beam import axial_stress
from contactfe.assess.bodies import beside
from contactfe.assess.level import Level
from contactfe.assess.places import EDGES, Impacted, Peak, member_peaks
from contactfe.case.alignment import Strip
from contactfe.solve.bar import Neighbours, neighbours
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
from contactfe.solve.joint import JointState, PatchState, member_fields, solve_joint
from contactfe.solve.lines import ContactLine, Frame
from contactfe.solve.parts import WHOLE
from contactfe.solve.patch import between
from contactfe.solve.prism import at_node


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
class Slice:
    """A slice of the post in contact: its state, and the fields of its parts by name."""

    level: Level
    state: JointState
    fields: Mapping[str, StressField]


def solved_slice(level: Level, strip: Strip, times: float = 1.0) -> Slice:
    """The slice of a strip under ``times`` its line loads."""
    state = solved(level, _loads(level, strip, times))
    return Slice(level, state, member_fields(level.joint, state))


def solved(level: Level, loads: Sequence[float]) -> JointState:
    """A level in contact under line loads, N/mm, one for each plate."""
    contact = level.case.contact
    return solve_joint(level.joint, *loads, angle=contact.angle, friction=contact.friction)


def _loads(level: Level, strip: Strip, times: float) -> list[float]:
    """Line loads on every plate at a strip, N/mm."""
    means = level.case.mean_line_loads
    return [times * ratio * q for ratio, q in zip(strip.ratios, means, strict=True)]


def at_strip(level: Level, strip: Strip, times: float, peak: Slice) -> PostReading:
    """The post at a strip, whose slice is that of the ``peak`` where its loads are the same."""
    loads = [patch.line_load for patch in peak.state.patches]
    same = np.allclose(_loads(level, strip, times), loads, rtol=1e-9)
    return read_strip(peak if same else solved_slice(level, strip, times), strip, times)


def read_strip(at: Slice, strip: Strip, times: float = 1.0) -> PostReading:
    """The post at a strip: its slice, with the bending of the post and what its neighbours add."""
    level, neighbour, share = at.level, None, None
    if strip.profile is not None:
        neighbour = _beside(at, strip, times)
        own = None
        if level.section.geometry.read_at == "bore":
            # Of the line load there: the slice may stand for an end where there is more.
            share_of_load = neighbour.line_loads[0] / at.state.patches[0].line_load
            own = share_of_load * _bore_hoop(level, at.fields["steel"])[0]
        share = _participation(level, neighbour, own)
    moment = times * strip.moment
    fields = {
        name: _bent(level, field, name, moment, neighbour) for name, field in at.fields.items()
    }
    return replace(read_slice(at, fields), strip=strip, participation=share)


def _beside(at: Slice, strip: Strip, times: float) -> Neighbours:
    """What the neighbours of a strip add to its slice, which may slide on its plates."""
    assert strip.profile is not None
    patches = at.state.patches
    # Friction in the proportion that it has at the strip; on the post it points the other way.
    dragged = [-patch.tangential_load / patch.line_load for patch in patches]
    (found,) = _neighbours(at.level, strip.profile, np.array([strip.place]), times, dragged)
    # The slice that is read has both plates' loads, also beyond the contact with one of them.
    read = [*(p.line_load for p in patches), *(-p.tangential_load for p in patches)]
    there = found.line_loads
    return replace(found, line_loads=np.where(there == 0.0, read[: len(there)], there))


def read_slice(at: Slice, fields: Mapping[str, StressField] | None = None) -> PostReading:
    """The post at a slice: its own fields, or those with what is added to them."""
    fields = at.fields if fields is None else fields
    level, steel, infill = at.level, fields["steel"], fields.get("infill")
    frames = (Frame(), beside(level.outline.radius))
    impacted = [
        Impacted(frame, patch.centre, patch.half_width)
        for frame, patch in zip(frames, at.state.patches, strict=False)
    ]
    geometry, mirrored = level.section.geometry, level.case.symmetric(level.section)
    samples, body = sample(steel, mirrored=mirrored), level.joint.member
    return PostReading(
        field=steel,
        infill_field=infill,
        peaks=member_peaks(samples, level.outline, impacted, mirrored, level.bore),
        max_shear=float(samples.max_shear.max()),
        added=tuple(
            added_at(body, line, steel, patch)
            for line, patch in zip(body.lines, at.state.patches, strict=True)
        ),
        bore_hoop=_bore_hoop(level, steel) if geometry.read_at == "bore" else None,
        centre=_centre(level, steel) if geometry.read_at == "centre" else None,
        filling=None if infill is None else _filling(level, infill),
    )


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
        shares.append(_participation(level, one, own))
    return None if None in shares else np.array(shares, dtype=float)


def _participation(level: Level, neighbour: Neighbours, own: float | None) -> float | None:
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


def added_at(
    body: CondensedBody, line: ContactLine, field: StressField, patch: PatchState
) -> float:
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
        hoops.append(_along(member, nearest(member, x, y), np.array([-radial[1], radial[0]])))
    return hoops[0], hoops[1]


def _centre(level: Level, member: StressField) -> tuple[float, float]:
    """Stress of a solid's centre along and across the load."""
    at = member.stress[nearest(member, 0.0, level.outline.radius)]
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


def nearest(field: StressField, x: float, y: float) -> int:
    """The node nearest to a point; outlines put a node on each point read, or very near."""
    p = field.mesh.doflocs
    return int(np.argmin((p[0] - x) ** 2 + (p[1] - y) ** 2))
