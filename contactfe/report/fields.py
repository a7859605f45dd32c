"""The computed fields of both bodies, for any viewer that opens VTK's unstructured grids (.vtu)."""

from pathlib import Path

import numpy as np

from contactfe.assess.results import Comparison, SectionResult
from contactfe.report.slugs import slug, unique_slugs
from contactfe.solve.elastic import Floats

STRESSES = ("stress x [MPa]", "stress y [MPa]", "stress z [MPa]", "shear stress xy [MPa]")


def write_fields(comparison: Comparison, folder: Path) -> list[Path]:
    """One file for each section, named after it. Raises OSError where a file cannot be written."""
    names = unique_slugs(r.section.name for r in comparison.sections)
    return [
        write_vtu(result, folder, name)
        for result, name in zip(comparison.sections, names, strict=True)
    ]


def write_vtu(result: SectionResult, folder: Path, name: str | None = None) -> Path:
    """Write both bodies of a section as quadratic triangles into ``folder``; returns the file.

    Nodes lie where the bodies were before the blow, in mm; of an opposed pair that is the half
    below the plane of symmetry, as solved. Node data: displacement in mm, with the member's travel
    towards the plate, so that bodies drawn displaced touch; the stresses σx, σy, σz, τxy, the von
    Mises stress and the maximum shear stress in MPa, tension positive. Cell data: ``body``, 0 in
    the member and 1 in the plate. ``name`` is the file's, without suffix; by default a slug of the
    section's. Raises OSError where the file cannot be written.
    """
    import meshio

    fields = (result.reading.member_field, result.reading.plate_field)
    travels = (-result.reading.state.approach, 0.0)
    sizes = [field.mesh.doflocs.shape[1] for field in fields]
    # scikit-fem numbers the nodes of an element as VTK does: corners, then middles of 01, 12, 20.
    cells = np.vstack(
        [
            field.mesh.dofs.element_dofs.T + first
            for field, first in zip(fields, (0, sizes[0]), strict=True)
        ]
    )
    body = np.repeat([0, 1], [field.mesh.dofs.element_dofs.shape[1] for field in fields])
    stress = np.vstack([field.stress for field in fields])
    moved = [
        field.displacement + np.array([0.0, travel])
        for field, travel in zip(fields, travels, strict=True)
    ]
    path = folder / f"{name or slug(result.section.name)}.vtu"
    mesh = meshio.Mesh(
        _in_space(np.vstack([field.mesh.doflocs.T for field in fields])),
        [("triangle6", cells)],
        point_data={
            "displacement [mm]": _in_space(np.vstack(moved)),
            "von Mises stress [MPa]": np.concatenate([field.von_mises for field in fields]),
            "maximum shear stress [MPa]": np.concatenate([field.max_shear for field in fields]),
            **{key: np.ascontiguousarray(stress[:, k]) for k, key in enumerate(STRESSES)},
        },
        cell_data={"body": [body.astype(np.int32)]},
    )
    meshio.write(path, mesh, file_format="vtu", binary=True, compression="zlib")
    return path


def _in_space(plane: Floats) -> Floats:
    """(n, 2) as (n, 3): the format knows points and vectors in space only."""
    return np.column_stack([plane, np.zeros(len(plane))])
