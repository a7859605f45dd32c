"""Meshes with named groups of edges and triangles in an open file format, by meshio."""

import warnings
from collections.abc import Iterator
from contextlib import redirect_stderr
from io import StringIO
from pathlib import Path
from xml.etree import ElementTree

import meshio
import numpy as np
from numpy.typing import NDArray

from contactfe.errors import InputError

_READERS = {".msh": meshio.gmsh.read, ".vtu": meshio.vtu.read, ".xdmf": meshio.xdmf.read}
"""Readers by suffix. ``meshio.read`` would print, and end the process, where these raise."""

MOST_BYTES = 500_000_000
"""Length of a mesh file: some hundred times one of the unknowns that are solved at most."""

FARTHEST = 1e6
"""Coordinate of a node, mm, beyond which no post is meant."""


def write_mesh(mesh: meshio.Mesh, path: Path) -> None:
    """Write a mesh with its named groups of edges and triangles as .msh 2.2, lengths in mm.

    The groups become physical groups of dimension 1 and 2; a cell that is in no group goes into
    the group "body".
    """
    number = {name: k for k, name in enumerate(mesh.cell_sets, start=1)}
    body = len(number) + 1
    physical = []
    names = {}
    for k, block in enumerate(mesh.cells):
        tags = np.full(len(block), body, dtype=np.int32)
        for name, members in mesh.cell_sets.items():
            if len(members[k]):
                tags[members[k]] = number[name]
                names[name] = np.array([number[name], block.dim])
        if (tags == body).any():
            names["body"] = np.array([body, block.dim])
        physical.append(tags)
    meshio.write(
        path,
        meshio.Mesh(
            np.column_stack([mesh.points, np.zeros(len(mesh.points))]),
            mesh.cells,
            cell_data={"gmsh:physical": physical, "gmsh:geometrical": physical},
            field_data=names,
        ),
        file_format="gmsh22",
        binary=False,
    )


def load_mesh(path: Path) -> meshio.Mesh:
    """Whatever mesh a .msh, .vtu or .xdmf file holds, as meshio reads it.

    Raises
    ------
    InputError
        if the file is absent, is in no known format, or cannot be read in full
    """
    reader = _READERS.get(path.suffix.lower())
    if reader is None:
        allowed = ", ".join(_READERS)
        raise InputError(f"{path}: a mesh file must end in {allowed}, not in {path.suffix!r}")
    if not path.is_file():
        raise InputError(f"{path}: there is no such file")
    if path.stat().st_size > MOST_BYTES:
        raise InputError(f"{path}: has more than {MOST_BYTES / 1e6:g} MB, the most for a mesh")
    if path.suffix.lower() == ".xdmf":
        _check_companions(path)
    if path.suffix.lower() == ".vtu" and path.read_bytes().count(b"<Piece") > 1:
        # meshio would keep the cells of the last piece alone, without a word.
        raise InputError(f"{path}: holds more than one piece; write it as a single one")
    try:
        # What it warns of shows below, in what it read.
        with warnings.catch_warnings(action="ignore"), redirect_stderr(StringIO()):
            mesh = reader(path)
    except ModuleNotFoundError as error:
        raise InputError(
            f"{path}: reading this format needs the package {error.name};"
            " install it, or write the mesh as .msh or .vtu"
        ) from error
    except Exception as error:  # meshio's readers raise whatever they stumble on
        raise InputError(f"{path}: cannot be read as a mesh: {_reason(path, error)}") from error
    if np.any(np.abs(mesh.points[np.isfinite(mesh.points)]) > FARTHEST):
        raise InputError(f"{path}: has a node that is more than {FARTHEST:g} mm away")
    if path.suffix.lower() == ".msh" and (odd := _odd_node(path)) is not None:
        raise InputError(f"{path}: has an element with node {odd}, and nodes are counted from 1")
    for block in mesh.cells:
        nodes = np.asarray(block.data)
        if nodes.size and not 0 <= nodes.min() <= nodes.max() < len(mesh.points):
            raise InputError(f"{path}: has {block.type} cells with nodes that are not in the file")
    return mesh


def _odd_node(path: Path) -> str | None:
    """A node that an element of a text file names and that cannot be; meshio takes another."""
    content = path.read_bytes()
    head = content.partition(b"$MeshFormat")[2].split(None, 2)
    if head[1:2] != [b"0"]:  # a binary file
        return None
    lines = content.partition(b"$Elements")[2].partition(b"$EndElements")[0].split(b"\n")[2:]
    rows = [line.split() for line in lines]
    if head[0].startswith(b"2"):
        named = iter([row[3 + int(row[2]) :] for row in rows if len(row) > 3])
    else:
        named = _of_blocks(rows)
    return next((node.decode() for row in named for node in row if int(node) < 1), None)


def _of_blocks(rows: list[list[bytes]]) -> Iterator[list[bytes]]:
    """Nodes of each element of format 4.1, in which a line says how many are in a block."""
    at = 0
    while at < len(rows) and len(rows[at]) == 4:
        count = int(rows[at][3])
        yield from (row[1:] for row in rows[at + 1 : at + 1 + count])
        at += 1 + count


def _check_companions(path: Path) -> None:
    """Refuse files that an .xdmf names and that are not beside it, or lead elsewhere."""
    try:
        items = [*ElementTree.parse(path).iter("DataItem")]
        kinds = {item.get("Format", "XML") for item in items}
    except (ElementTree.ParseError, UnicodeError, ValueError) as error:
        raise InputError(f"{path}: cannot be read as a mesh: {error}") from None
    if other := sorted(kinds - {"XML", "HDF"}):
        raise InputError(f"{path}: holds numbers as {other[0]}; XML or HDF can be read")
    apart = [item.text or "" for item in items if item.get("Format") == "HDF"]
    for name in {text.partition(":")[0].strip() for text in apart}:
        beside = path.parent / name
        if Path(name).name != name or beside.is_symlink() or not beside.is_file():
            raise InputError(f"{path}: names {name!r}, which must be a file in its own folder")
        if beside.stat().st_size > MOST_BYTES:
            raise InputError(
                f"{beside}: has more than {MOST_BYTES / 1e6:g} MB, the most for a mesh"
            )
        if _leads_elsewhere(beside):
            raise InputError(f"{beside}: holds a link to another file")


def _leads_elsewhere(path: Path) -> bool:
    """Whether a file of HDF5 links to another, or keeps numbers in another."""
    import h5py

    def linked(_: str, link: object) -> bool | None:
        return isinstance(link, h5py.ExternalLink) or None

    def stored(_: str, item: h5py.Group | h5py.Dataset) -> bool | None:
        return bool(getattr(item, "external", None)) or None

    try:
        with h5py.File(path, "r") as file:
            return bool(file.visititems_links(linked) or file.visititems(stored))
    except OSError:
        return False  # meshio says what is wrong with it


def named_cells(mesh: meshio.Mesh) -> dict[str, list[NDArray[np.bool_]]]:
    """The groups that a mesh names: for each, which cells of each block belong to it.

    Groups are the physical names of a .msh file; in .vtu and .xdmf, which have no such names, the
    cell data: an array called like the group that is 1 where the cell belongs to it, and 0
    elsewhere.
    """
    named = {}
    for name, members in mesh.cell_sets.items():  # .msh 4.1
        if not name.startswith("gmsh:"):
            named[name] = [
                np.isin(np.arange(len(block)), [] if part is None else part)
                for block, part in zip(mesh.cells, members, strict=True)
            ]
    physical = mesh.cell_data.get("gmsh:physical")
    if physical is not None:  # .msh 2.2, where surfaces and lines are numbered apart
        for name, (number, dimension) in mesh.field_data.items():
            named.setdefault(
                name,
                [
                    (tag == number) & (block.dim == dimension)
                    for block, tag in zip(mesh.cells, physical, strict=True)
                ],
            )
    for name, blocks in mesh.cell_data.items():
        if not name.startswith("gmsh:"):
            named.setdefault(
                name,
                [np.asarray(values).reshape(len(values), -1)[:, 0] == 1 for values in blocks],
            )
    return named


def read_mesh(path: Path) -> meshio.Mesh:
    """Read a mesh with named groups of edges and triangles as ``write_mesh`` wrote it.

    Raises
    ------
    InputError
        if the file cannot be read as a mesh, or names no group of edges
    """
    mesh = load_mesh(path)
    named = named_cells(mesh)
    edges = [
        part.any()
        for group in named.values()
        for block, part in zip(mesh.cells, group, strict=True)
        if block.type == "line3"
    ]
    if not any(edges):
        raise InputError(f"{path}: names no group of edges (physical groups of dimension 1)")
    sets = {name: [np.flatnonzero(part) for part in group] for name, group in named.items()}
    return meshio.Mesh(mesh.points[:, :2], mesh.cells, cell_sets=sets)


def _reason(path: Path, error: Exception) -> str:
    """The reader's complaint on one line, with what to do where it can be known."""
    if "gmsh:physical" in str(error):
        return "some of its elements belong to no physical group; save only those that do"
    if path.suffix.lower() == ".xdmf" and isinstance(error, KeyError):
        return (
            f"it mixes cells of a type that cannot be read (number {error.args[0]});"
            " beside lines, .xdmf can hold linear triangles only: write it as .msh or .vtu"
        )
    return (str(error).strip() or "it is damaged or of another format").splitlines()[0]
