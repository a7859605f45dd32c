"""The computed fields of all bodies, for any viewer that opens VTK's unstructured grids (.vtu)."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from contactfe.assess.bodies import beside
from contactfe.assess.results import Comparison, SectionResult
from contactfe.report.files import named
from contactfe.report.slugs import slug, unique_slugs
from contactfe.solve.elastic import Floats
from contactfe.solve.field import StressField
from contactfe.solve.lines import Frame

STRESSES = ("stress x [MPa]", "stress y [MPa]", "stress z [MPa]", "shear stress xy [MPa]")

MEMBER, PLATE, INFILL, SECOND_PLATE = range(4)
"""Numbers of the bodies in the file."""


@dataclass(frozen=True)
class _Body:
    """A body's field, the frame of its axes, and its rigid-body displacement (2,), mm, in the
    section's.
    """

    number: int
    field: StressField
    frame: Frame
    rigid_displacement: Floats

    @property
    def points(self) -> Floats:
        """Nodes (n, 2), mm, in the section's axes."""
        points: Floats = self.field.mesh.doflocs
        return self.frame.outside(points).T

    @property
    def displacement(self) -> Floats:
        """Displacement (n, 2), mm, in the section's axes, with the rigid-body displacement."""
        # Row vectors turn by the axes themselves, columns by their transpose.
        moved: Floats = self.field.displacement @ self.frame.axes + self.rigid_displacement
        return moved

    @property
    def stress(self) -> Floats:
        """Stresses (n, 4), MPa, in the section's axes."""
        x, y, z, t = self.field.stress[:, :4].T
        tensor = np.moveaxis(np.array([[x, t], [t, y]]), -1, 0)
        turned = self.frame.axes.T @ tensor @ self.frame.axes
        return np.column_stack([turned[:, 0, 0], turned[:, 1, 1], z, turned[:, 0, 1]])


def write_fields(comparison: Comparison, folder: Path) -> list[Path]:
    """One file for each section, named after it. Raises OSError where a file cannot be written."""
    names = unique_slugs(r.section.name for r in comparison.sections)
    return [
        write_vtu(result, folder, name)
        for result, name in zip(comparison.sections, names, strict=True)
    ]


def write_vtu(result: SectionResult, folder: Path, name: str | None = None) -> Path:
    """Write all bodies of a section as quadratic triangles into ``folder``; returns the file.

    All are in the axes of the section. Nodes lie where the bodies were before the impact, in mm; of
    a post held diametrally that is the half below the plane of symmetry, as solved. Node data:
    displacement in mm, with the rigid-body displacement of the post's hold, so that bodies drawn
    displaced touch; the stresses σx, σy, σz, τxy, the von Mises stress and the maximum shear stress
    in MPa, tension positive. Cell data: ``body``, 0 in the member's steel, 1 in the plate, 2 in an
    infill, 3 in the second plate of a corner. ``name`` is the file's, without suffix; by default a
    slug of the section's. Raises OSError where the file cannot be written.
    """
    import meshio

    bodies = tuple(_bodies(result))
    sizes = [len(body.points) for body in bodies]
    firsts = np.cumsum([0, *sizes[:-1]])
    # scikit-fem numbers the nodes of an element as VTK does: corners, then middles of 01, 12, 20.
    blocks = [body.field.mesh.dofs.element_dofs.T for body in bodies]
    cells = np.vstack([block + first for block, first in zip(blocks, firsts, strict=True)])
    number = np.repeat([body.number for body in bodies], [len(block) for block in blocks])
    stress = np.vstack([body.stress for body in bodies])
    path = folder / f"{name or slug(result.section.name)}.vtu"
    mesh = meshio.Mesh(
        _in_space(np.vstack([body.points for body in bodies])),
        [("triangle6", cells)],
        point_data={
            "displacement [mm]": _in_space(np.vstack([body.displacement for body in bodies])),
            "von Mises stress [MPa]": np.concatenate([body.field.von_mises for body in bodies]),
            "maximum shear stress [MPa]": np.concatenate([body.field.max_shear for body in bodies]),
            **{key: np.ascontiguousarray(stress[:, k]) for k, key in enumerate(STRESSES)},
        },
        cell_data={"body": [number.astype(np.int32)]},
    )
    with named(path):
        meshio.write(path, mesh, file_format="vtu", binary=True, compression="zlib")
    return path


def _bodies(result: SectionResult) -> Iterator[_Body]:
    reading, own, still = result.reading, Frame(), np.zeros(2)
    rigid_displacement = np.asarray(reading.state.rigid_displacement)
    yield _Body(MEMBER, reading.member_field, own, rigid_displacement)
    yield _Body(PLATE, reading.patches[0].field, own, still)
    if reading.infill_field is not None:
        yield _Body(INFILL, reading.infill_field, own, rigid_displacement)
    if len(reading.patches) > 1:
        yield _Body(SECOND_PLATE, reading.patches[1].field, beside(result.section.radius), still)


def _in_space(plane: Floats) -> Floats:
    """(n, 2) as (n, 3): the format knows points and vectors in space only."""
    return np.column_stack([plane, np.zeros(len(plane))])
