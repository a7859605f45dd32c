"""Meshes with named groups of edges in an open file format, by meshio."""

from pathlib import Path

import meshio
import numpy as np

from contactfe.errors import InputError


def write_mesh(mesh: meshio.Mesh, path: Path) -> None:
    """Write a mesh with its named line groups as .msh 2.2, lengths in mm.

    The line groups become physical groups of dimension 1, the triangles the group "body".
    """
    names = {name: number for number, name in enumerate(mesh.cell_sets, start=1)}
    body = len(names) + 1
    physical = []
    for k, block in enumerate(mesh.cells):
        tags = np.full(len(block), body, dtype=np.int32)
        for name, number in names.items():
            tags[mesh.cell_sets[name][k]] = number
        physical.append(tags)
    field_data = {name: np.array([number, 1]) for name, number in names.items()}
    meshio.write(
        path,
        meshio.Mesh(
            np.column_stack([mesh.points, np.zeros(len(mesh.points))]),
            mesh.cells,
            cell_data={"gmsh:physical": physical, "gmsh:geometrical": physical},
            field_data=field_data | {"body": np.array([body, 2])},
        ),
        file_format="gmsh22",
        binary=False,
    )


def read_mesh(path: Path) -> meshio.Mesh:
    """Read a mesh with named line groups as ``write_mesh`` wrote it.

    Raises
    ------
    InputError
        if the file cannot be read as a mesh, or names no group of edges
    """
    try:
        mesh = meshio.read(path)
    except (Exception, SystemExit) as error:  # its readers raise whatever they stumble on
        raise InputError(f"{path}: cannot be read as a mesh: {error}") from error
    groups = {name: number for name, (number, dim) in mesh.field_data.items() if dim == 1}
    if not groups:
        raise InputError(f"{path}: names no group of edges (physical groups of dimension 1)")
    tags = mesh.cell_data["gmsh:physical"]
    sets = {
        name: [
            np.flatnonzero(tag == number) if block.type == "line3" else np.array([], dtype=int)
            for block, tag in zip(mesh.cells, tags, strict=True)
        ]
        for name, number in groups.items()
    }
    return meshio.Mesh(mesh.points[:, :2], mesh.cells, cell_sets=sets)
