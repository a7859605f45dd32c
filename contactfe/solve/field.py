"""Stress over a body: recovered nodal values, equivalent stresses, and where they peak."""

from dataclasses import dataclass, replace

import numpy as np
from skfem import ElementTriP2, MeshTri2

from contactfe.hand.stress import out_of_plane
from contactfe.solve.elastic import Floats
from contactfe.solve.lines import Ints, edge_nodes, shape_slope
from contactfe.solve.parts import Part
from contactfe.solve.recovery import Solved, recover


@dataclass(frozen=True)
class StressField:
    """Recovered stress at the nodes of a part of a body.

    ``mesh`` carries node k at ``mesh.doflocs[:, k]``; ``stress`` (N, 4) holds σx, σy, σz, τxy and,
    (N, 6), of a post whose load varies along it τxz, τyz too; ``displacement`` (N, 2) is measured
    from the hold's mean rigid-body displacement. MPa, mm, tension positive.
    """

    mesh: MeshTri2
    stress: Floats
    displacement: Floats

    @property
    def von_mises(self) -> Floats:
        """Von Mises stress at the nodes (N,), MPa."""
        return von_mises(self.stress)

    @property
    def max_shear(self) -> Floats:
        """Maximum shear stress at the nodes (N,), MPa, the out-of-plane stress included."""
        return max_shear(self.stress)


Triangles = tuple[tuple[int, int, int], ...]


@dataclass(frozen=True)
class Samples:
    """Stress at n points all over a body: x, y (mm), von Mises, maximum shear (MPa), each (n,).

    They come element by element, ``of_element`` of each; ``triangles`` are those that they divide
    an element into, by their numbers within it.
    """

    x: Floats
    y: Floats
    von_mises: Floats
    max_shear: Floats
    of_element: int = 1
    triangles: Triangles = ()


def stress_field(solved: Solved, part: Part) -> StressField:
    """Stress of one part of a solved body."""
    plane = recover(solved, part)
    of = part.material
    out = out_of_plane(plane[:, 0], plane[:, 1], of.poisson, of.state)
    stress = np.column_stack([plane[:, 0], plane[:, 1], out, plane[:, 2]])
    return StressField(part.mesh, stress, solved.u.reshape(-1, 2)[part.nodes])


def with_axial(field: StressField, axial: Floats) -> StressField:
    """The field with a stress along the body's axis added at its nodes: ``axial`` (N,) MPa."""
    stress = field.stress.copy()
    stress[:, 2] += axial
    return replace(field, stress=stress)


def with_added(field: StressField, added: Floats) -> StressField:
    """The field with stress (N, 6) MPa added at its nodes."""
    stress = added.copy()
    stress[:, : field.stress.shape[1]] += field.stress
    return replace(field, stress=stress)


def von_mises(stress: Floats) -> Floats:
    """Von Mises stress of (..., 4 or 6) stresses σx, σy, σz, τxy and, if there are, τxz, τyz."""
    x, y, z, *shear = np.moveaxis(stress, -1, 0)
    squared: Floats = 0.5 * ((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2)
    stress_: Floats = np.sqrt(squared + 3.0 * sum(t**2 for t in shear))
    return stress_


def max_shear(stress: Floats) -> Floats:
    """Half the largest difference of principal stresses of (..., 4 or 6), as :func:`von_mises`."""
    if stress.shape[-1] == 6:
        return _largest_shear(stress)
    high, low = principal(stress)
    z = stress[..., 2]
    shear: Floats = (np.maximum(high, z) - np.minimum(low, z)) / 2
    return shear


def _largest_shear(stress: Floats) -> Floats:
    """The same of (..., 6) stresses: √J2 sin(θ + π/3), θ the angle of Lode.

    cos 3θ = (3√3/2) J3/J2^1.5 (textbook mechanics: from memory, not seen).
    """
    x, y, z, xy, xz, yz = np.moveaxis(stress, -1, 0)
    mean = (x + y + z) / 3.0
    x, y, z = x - mean, y - mean, z - mean
    J2 = (x**2 + y**2 + z**2) / 2.0 + xy**2 + xz**2 + yz**2
    J3 = x * y * z + 2.0 * xy * yz * xz - x * yz**2 - y * xz**2 - z * xy**2
    full = np.maximum(J2, np.finfo(float).tiny)
    angle = np.arccos(np.clip(1.5 * np.sqrt(3.0) * J3 / full**1.5, -1.0, 1.0)) / 3.0
    shear: Floats = np.sqrt(J2) * np.sin(angle + np.pi / 3.0)
    return shear


def principal(stress: Floats) -> tuple[Floats, Floats]:
    """Largest and least principal stress in the plane of (..., 4 or 6) stresses of that order."""
    x, y, _, t = np.moveaxis(stress[..., :4], -1, 0)
    radius = np.hypot((x - y) / 2, t)
    return (x + y) / 2 + radius, (x + y) / 2 - radius


def traction(field: StressField, facets: Ints) -> tuple[Floats, Floats]:
    """Normal and shear stress (3, facets), MPa, at the nodes of edges of the field's mesh."""
    nodes = edge_nodes(field.mesh, facets)
    p = field.mesh.doflocs[:, nodes]
    slopes = shape_slope(np.array([-1.0, 1.0, 0.0]))  # (3 functions, 3 nodes)
    along = np.einsum("cie,ik->cke", p, slopes)
    tx, ty = along / np.linalg.norm(along, axis=0)
    nx, ny = ty, -tx
    x, y, _, t = np.moveaxis(field.stress[nodes, :4], -1, 0)
    across = x * nx**2 + y * ny**2 + 2 * t * nx * ny
    shear = x * nx * tx + y * ny * ty + t * (nx * ty + ny * tx)
    return across, shear


def sample(field: StressField, divisions: int = 4, mirrored: bool = False) -> Samples:
    """Evaluate a field on a lattice of ``divisions`` per element side: peaks hide between nodes.

    Of one that is symmetric to x = 0, ``mirrored``, the elements that reach to the right will do.
    """
    shapes, triangles = _lattice(divisions)  # (6, points)
    mesh = field.mesh
    nodes = mesh.dofs.element_dofs
    if mirrored:
        nodes = nodes[:, (mesh.doflocs[0, nodes] > 0.0).any(axis=0)]
    values = np.concatenate([mesh.doflocs, field.stress.T])[
        :, nodes
    ]  # (2 and components, 6 nodes, elements)
    x, y, *stress = np.einsum("cne,np->cep", values, shapes, optimize=True).reshape(len(values), -1)
    s = np.stack(stress, axis=-1)
    return Samples(x, y, von_mises(s), max_shear(s), shapes.shape[1], triangles)


def _lattice(divisions: int) -> tuple[Floats, Triangles]:
    """P2 shape functions (6, points) on a triangle's lattice of ``divisions`` per side.

    With the triangles that its points make.
    """
    steps = range(divisions + 1)
    points = [(i, j) for i in steps for j in steps if i + j <= divisions]
    number = {point: k for k, point in enumerate(points)}
    corners = [
        (at, (at[0] + step, at[1]), (at[0], at[1] + step)) for at in points for step in (1, -1)
    ]
    triangles = tuple(
        (number[a], number[b], number[c]) for a, b, c in corners if b in number and c in number
    )
    X = np.array(points).T / divisions
    element = ElementTriP2()
    shapes = [element.lbasis(X, i)[0] + np.zeros(X.shape[1]) for i in range(6)]
    return np.stack(shapes), triangles
