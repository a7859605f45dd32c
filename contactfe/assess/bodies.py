"""The bodies of a case, meshed and factored, and kept while other contacts may need them again."""

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable
from dataclasses import replace
from typing import TypeVar, cast

import meshio
import numpy as np

from contactfe.assess.resources import check_space
from contactfe.case import Case, Section
from contactfe.case.holds import POST_SUPPORTS, named
from contactfe.case.wording import with_article
from contactfe.errors import InputError
from contactfe.section.body import to_skfem
from contactfe.section.foreign import read_section, require_hold
from contactfe.section.graded import graded_section
from contactfe.section.grading import (
    BEYOND_MEMBER,
    CANDIDATE_REACH,
    FACE_USED,
    LEAST_REACH,
    Grading,
    Patch,
    member_grading,
    plate_grading,
)
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.section.quadratic import curved_area
from contactfe.solve import holds
from contactfe.solve.bar import Bar, bar
from contactfe.solve.condense import BENEATH, CondensedBody, condense
from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.lines import Frame
from contactfe.solve.prism import WAVES, Prism, prism
from contactfe.study.point import Kept

Focus = tuple[tuple[float, float], ...]

WIDTH_STEP = 1.02
"""Bodies are graded for half-widths in steps of this ratio, so that like contacts share them."""

CENTRE_STEP = 0.1
"""And for patches off the first point of contact in steps of this share of the half-width."""

MOST_KEPT = 250_000
"""Displacement unknowns of the bodies kept at a time, beside those in use: some 0.9 GB."""

PRISM_PATCH, PRISM_BAND = 0.3, 0.05
"""Half-widths, over the radius, that the mesh of a prism is graded for and that its loads have: of
one mesh for every load, as far as the contact line of a section drawn elsewhere has room. A load
over no more than the contact has a bore stress within 1 % of the contact's own; what neighbours add
is then within 1 % of what they do."""

_WAVES_FEWER = 3
"""Wave numbers of a prism that a mesh coarser by ``COARSE`` goes without."""

FINEST_PRISM = 0.5
"""Element size down to which a prism is meshed, over the standard one."""

Made = TypeVar("Made")


class Bodies:
    """Meshes and factors the bodies of a case, and remembers those used last.

    They are ``kept`` from one case to the next, where all that they are made of is the same.
    """

    def __init__(self, case: Case, kept: Kept | None = None) -> None:
        check_space()
        self.case = case
        self._kept: Kept = OrderedDict() if kept is None else kept

    @property
    def kept(self) -> Kept:
        """What is kept, for another case to go on with."""
        return self._kept

    def outline(self, section: Section) -> MemberOutline:
        """Outline of a section as it is modelled: its lower half if that stands for it.

        Of a section drawn elsewhere, the full round that its contact line belongs to.

        Raises
        ------
        InputError
            naming the key, if half of it cannot stand for it
        """
        support, geometry = self.case.support(section), section.geometry
        if support.half and not geometry.round:
            whole = named(other for other in POST_SUPPORTS.values() if not other.half)
            raise InputError(
                f"{self._key(section)}: {with_article(geometry.shape)} can be held by {whole}, not"
                f' by "{support.name}", which takes half a round'
            )
        return replace(geometry.outline, lower_half=support.half)

    def drawn(self, section: Section) -> meshio.Mesh:
        """The mesh of a section drawn elsewhere, read and checked.

        Raises
        ------
        InputError
            naming the file, if its mesh does not suit the section
        """
        assert section.mesh is not None
        path = section.mesh

        def make() -> meshio.Mesh:
            if self.case.corner is not None:
                raise InputError(
                    f"{self._key(section)}: {path} has one contact line; a corner needs two,"
                    " so a section drawn elsewhere cannot strike one"
                )
            try:
                mesh = read_section(path, section.mesh_unit, section.radius)
                if self.case.support(section).core:
                    require_hold(mesh, path)
            except InputError as error:
                raise InputError(f"{self._key(section)}: {error}") from error
            if ("infill" in mesh.cell_sets) != (section.infill is not None):
                has, states = (
                    ("has", "states none") if section.infill is None else ("has no", "states one")
                )
                raise InputError(
                    f"{self._key(section)}: {path} {has} group 'infill', and the section {states}"
                )
            return mesh

        return self._remembered(("drawn", section), make)

    def check_drawn(self) -> None:
        """Check every section, and read those drawn elsewhere, before the first is solved.

        Raises InputError as :meth:`outline` and :meth:`drawn` do.
        """
        for section in self.case.sections:
            self.outline(section)
            if section.mesh is not None:
                self.drawn(section)

    def bore(self, section: Section) -> Floats | None:
        """Points (2, n) along the bore of a section drawn elsewhere; None if it names no bore."""
        if section.mesh is None or "bore" not in (mesh := self.drawn(section)).cell_sets:
            return None
        edges = mesh.cells_dict["line3"][mesh.cell_sets_dict["bore"]["line3"]]
        points: Floats = mesh.points[np.unique(edges)].T
        return points

    def areas(self, section: Section) -> tuple[float, float]:
        """Areas of the steel and of the infill of a section, mm²."""
        geometry = section.geometry
        if geometry.area is not None and geometry.infill_area is not None:
            return geometry.area, geometry.infill_area
        drawn = self.drawn(section)
        triangles, sets = drawn.cells_dict["triangle6"], drawn.cell_sets_dict
        of = [sets.get(name, {}).get("triangle6", []) for name in ("member", "infill")]
        steel, infill = (curved_area(drawn.points, triangles[cells]) for cells in of)
        return steel, infill

    def plate_outline(self, offset: float) -> PlateOutline:
        """Outline of a plate struck at an offset (mm) from its middle."""
        return PlateOutline(self.case.plate.width, self.case.plate.thickness, offset)

    def member(
        self,
        section: Section,
        patches: tuple[Patch, ...],
        scale: float,
        focus: Focus,
        tangential: bool,
        symmetric: bool = False,
    ) -> tuple[Grading, CondensedBody]:
        """The member of a section with its grading, for one patch or for the two of a corner.

        A ``symmetric`` one answers only loads that are symmetric to the load line, and costs less.
        """
        patches = tuple(
            self._reaching(stepped(patch, section.radius), offset, self._line(section))
            for patch, offset in zip(patches, self.case.offsets, strict=True)
        )

        def make() -> tuple[Grading, CondensedBody]:
            side = patches[1] if len(patches) > 1 else None
            outline = self.outline(section)
            grading = member_grading(outline, patches[0], scale, focus, side)
            if section.mesh is None:
                mesh = to_skfem(mesh_member(outline, grading))
            else:
                mesh = to_skfem(self._regraded(section, grading, scale))
            steel = self.case.post_material(section)
            material = {"steel": Elastic(steel.young, steel.poisson, self.case.state)}
            if section.infill is not None:
                infill = section.infill
                material["infill"] = Elastic(infill.young, infill.poisson, self.case.state)
            held_by = holds.POST[self.case.hold(section)]
            hold = held_by(mesh, material, section.geometry.core, symmetric)
            frames = dict(BENEATH)
            if side is not None:
                frames["contact side"] = beside(section.radius)
            return grading, condense(mesh, material, hold, frames, tangential, symmetric)

        key = "member", section, patches, scale, focus, tangential, symmetric
        return self._remembered(key, make)

    def prism(self, section: Section, scale: float, tangential: bool) -> Prism:
        """A section reduced to the modes of a long body, for line loads that vary along it."""
        scale = max(scale, FINEST_PRISM)

        def make() -> Prism:
            widest = self._line(section) / (WIDTH_STEP * LEAST_REACH)
            width = min(PRISM_PATCH * section.radius, widest)
            patch = Patch(0.0, width, reach=LEAST_REACH)
            patches = (patch,) if self.case.corner is None else (patch, patch)
            _, body = self.member(section, patches, scale, (), tangential)
            waves = max(WAVES - round(_WAVES_FEWER * np.log2(scale)), _WAVES_FEWER)
            return prism(body, section.radius, PRISM_BAND * section.radius, waves)

        return self._remembered(("prism", section, scale, tangential), make)

    def bar(
        self, section: Section, scale: float, tangential: bool, rooted: bool, *ends: float
    ) -> Bar:
        """A post of a section: its length, and where its contact begins and ends, mm.

        ``rooted`` is as in :class:`.Bar`.
        """

        def make() -> Bar:
            length, start, end = ends
            return bar(self.prism(section, scale, tangential), length, start, end, rooted)

        return self._remembered(("bar", section, scale, tangential, rooted, ends), make)

    def _line(self, section: Section) -> float:
        """Reach, mm, of the contact line of a section drawn elsewhere; without end of others."""
        if section.mesh is None:
            return np.inf
        mesh = self.drawn(section)
        edges = mesh.cells_dict["line3"][mesh.cell_sets_dict["contact"]["line3"]]
        x = mesh.points[edges, 0]
        return float(min(-x.min(), x.max()))

    def _reaching(self, patch: Patch, offset: float, line: float = np.inf) -> Patch:
        """The patch with contact looked for as far as the plate struck there has room.

        So has a drawn ``line``. All in mm.
        """
        if patch.reach < CANDIDATE_REACH:
            return patch
        face = self.case.plate.width / 2.0 - abs(offset + patch.centre)
        room = min(FACE_USED * face / BEYOND_MEMBER, line - abs(patch.centre))
        room /= patch.half_width
        reach = max(LEAST_REACH, min(patch.reach, 0.99 * room))
        later = max(0.0, min(patch.later, 0.99 * BEYOND_MEMBER * (room - reach)))
        return replace(patch, reach=reach, later=later)

    def _key(self, section: Section) -> str:
        """The section and the key that makes it its shape."""
        return f"{self.case.source}: section {section.name!r}, {section.geometry.key}"

    def _regraded(self, section: Section, grading: Grading, scale: float) -> meshio.Mesh:
        drawn = self.drawn(section)
        try:
            return graded_section(drawn, grading, scale, section.radius)
        except InputError as error:
            raise InputError(f"{self._key(section)}: {section.mesh}: {error}") from error

    def plate(
        self, offset: float, patch: Patch, scale: float, tangential: bool, symmetric: bool = False
    ) -> CondensedBody:
        """The plate struck at ``offset`` (mm) from its middle, for about this patch.

        ``symmetric`` as of the member.
        """
        patch = self._reaching(stepped(patch, self.case.plate.thickness), offset)

        def make() -> CondensedBody:
            outline = self.plate_outline(offset)
            grading = plate_grading(outline, patch, scale)
            mesh = to_skfem(mesh_plate(outline, grading))
            plate, steel = self.case.plate, self.case.plate_material
            hold = holds.PLATE[plate.held_by](mesh, plate.spring or np.inf)
            material = {"steel": Elastic(steel.young, steel.poisson, self.case.state)}
            return condense(mesh, material, hold, tangential=tangential, symmetric=symmetric)

        return self._remembered(("plate", offset, patch, scale, tangential, symmetric), make)

    def forget(self, section: Section) -> None:
        """Let go what is kept of a section, which no other point has; plates stay."""
        for key in [key for key in self._kept if _of(key) == section]:
            del self._kept[key]

    def keep(self, sections: Iterable[Section]) -> None:
        """Let go what is kept of every section but these; plates stay."""
        for section in {of for key in self._kept if (of := _of(key)) is not None} - set(sections):
            self.forget(section)

    def _remembered(self, key: Hashable, make: Callable[[], Made]) -> Made:
        """What ``make`` returns, made once and kept until others have been used more lately."""
        key = self._made_of(key), key
        if key not in self._kept:
            self._kept[key] = make()
        self._kept.move_to_end(key)
        while len(self._kept) > 1 and sum(map(_unknowns, self._kept.values())) > MOST_KEPT:
            self._kept.popitem(last=False)
        return cast(Made, self._kept[key])

    def _made_of(self, key: Hashable) -> Hashable:
        """What a body takes from the case, beside its key there."""
        case = self.case
        match key:
            case ("plate", *_):
                plate, steel = case.plate, case.plate_material
                sizes = plate.width, plate.thickness, plate.held_by, plate.spring
                return sizes, case.state, steel.young, steel.poisson
            case (("member" | "prism" | "bar"), Section() as section, *_):
                steel = case.post_material(section)
                two = case.corner is not None
                return case.hold(section), case.state, steel.young, steel.poisson, two
            case ("drawn", Section() as section):
                return case.hold(section), case.corner is None
        return case  # of which another kind may take anything


def _of(key: Hashable) -> Section | None:
    """The section that something kept is of; None for a plate."""
    match key:
        case (_, ("member" | "prism" | "bar" | "drawn", Section() as section, *_)):
            return section
    return None


def _unknowns(kept: object) -> int:
    """Displacement unknowns of a body that is kept, with a grading or alone."""
    body = kept[1] if isinstance(kept, tuple) else kept
    return body.unknowns if isinstance(body, CondensedBody) else 0


def stepped(patch: Patch, size: float = 1.0) -> Patch:
    """The patch of the grid of half-widths and places that a body of some ``size`` is meshed for.

    The grid goes with the size, mm, so that a body and its smaller model are meshed alike.
    """
    steps = round(np.log(patch.half_width / size) / np.log(WIDTH_STEP))
    width = float(size * WIDTH_STEP**steps)
    grid = CENTRE_STEP * width

    def on_grid(x: float, step: float) -> float:
        return step * round(x / step)

    borders = tuple(on_grid(x, grid / 2.0) for x in patch.borders)
    return replace(patch, centre=on_grid(patch.centre, grid), half_width=width, borders=borders)


def beside(radius: float) -> Frame:
    """Axes of the second plate's contact: its first point (R, R), its face x = R, mm."""
    return Frame((radius, radius), (0.0, 1.0))
