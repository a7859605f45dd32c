"""A mesh level solved, and read off where it matters: contact, plates, and the post."""

import time
from dataclasses import dataclass, replace

from contactfe.assess.level import Level
from contactfe.assess.places import Impacted, Peak, plate_peaks
from contactfe.assess.post import (
    Filling,
    PostReading,
    Slice,
    added_at,
    at_strip,
    nearest,
    read_slice,
    solved,
    worst_of,
)
from contactfe.section.grading import Patch
from contactfe.solve.field import StressField, sample
from contactfe.solve.joint import JointState, PatchState, member_fields, plate_field
from contactfe.solve.lines import Frame


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


def read(level: Level, times: float = 1.0) -> Reading:
    """Solve a level under ``times`` its loads and read off what is asked of every solve.

    The post is read at every strip of the case's spread, whose line loads and bending moments grow
    with the loads, in proportion.
    """
    case = level.case
    start = time.perf_counter()
    state = solved(level, [times * q for q in case.line_loads])
    seconds = time.perf_counter() - start
    alone = Slice(level, state, member_fields(level.joint, state))
    spread, slice_ = case.spread, read_slice(alone)
    strips = [
        at_strip(level, strip, times, alone) for strip in (() if spread is None else spread.strips)
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


def at_place_of(reading: Reading, of: Reading) -> Reading:
    """A reading whose figures of one place are of the place where another has its worst."""
    strip = of.post.strip
    if strip is None or strip == reading.post.strip:
        return reading
    return replace(reading, post=worst_of(reading.strips, strip))


def _patch(
    level: Level,
    state: JointState,
    number: int,
    mirrored: bool,
) -> PatchReading:
    patch, outline = state.patches[number], level.plate_outlines[number]
    field = plate_field(level.joint, state, number)
    samples = sample(field, mirrored=mirrored)
    impacted = Impacted(Frame(), patch.centre, patch.half_width)
    plate = level.joint.plates[number]
    back = nearest(field, patch.centre, -outline.thickness)
    return PatchReading(
        state=patch,
        peak_pressure=float(patch.pressure.max()),
        field=field,
        peaks=plate_peaks(samples, outline, impacted, mirrored),
        max_shear=float(samples.max_shear.max()),
        plate_added=added_at(plate, plate.lines[0], field, patch),
        back=float(field.stress[back, 0]),
        deflection=0.0 - float(field.displacement[back, 1]),
    )
