"""Tubes loaded along part of a generator, in three dimensions, by a general-purpose library.

Reference: NGSolve with Netgen (written against version 6.2.2608), linear elasticity, curved
hexahedra of order 4. Nothing is taken from contactfe, whose own solution is compared with what
this finds, ``three_dimensions.json`` beside it. It is run by hand: minutes and 20 GB for a wall.

    python tests/published/three_dimensions.py 25 15 37.5   # walls, mm: writes their curves
    python tests/published/three_dimensions.py --check      # wall 25 on a coarser mesh

The tube lies along z, from its free tip at z = 0 to its clamped root at z = 8 D. The contact is the
generator x = y = 0, y runs from there into the tube. Half of it, x ≥ 0, is meshed in the polar
coordinates (angle from the contact, depth below the outer surface, z), boxes all, and then bent
into shape as a deformation of the mesh: points are looked up in those coordinates, so that none
falls outside a curved face. All loads are right-hand sides of one factorisation.

Sources of difference:

- the mesh: ``--check`` says how much, for every curve;
- a force on a line has infinite stress and displacement there: elements shrink towards it, and
  nothing is read nearer to it than 4 mm. Within some 10 mm of where a load ends, and of the tip,
  ``depth_4`` and ``depth_8`` change over lengths of 4 and 8 mm, less than elements are long there:
  those stations are not to be compared;
- stress jumps from element to element: it is averaged over both sides of a face.
"""

import json
import re
import sys
from dataclasses import dataclass
from itertools import pairwise, product
from pathlib import Path
from time import perf_counter
from typing import Any

import netgen.meshing as nm
import ngsolve as ng
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

DATA = Path(__file__).with_suffix(".json")
MADE_ON = "2026-11-29"

D, R = 150.0, 75.0
LENGTH = 8 * D
YOUNG, POISSON = 210_000.0, 0.3
MEAN_LOAD = 1000.0
"""Line load on the whole section, averaged over the contact, N/mm."""

INSIDE = 1e-6
"""How far from a face a point is looked up, mm."""

UNRESOLVED = 10.0
"""How far from an end of a load, or the tip, stress near the line is not resolved, mm."""


@dataclass(frozen=True)
class Fineness:
    """Of a mesh: order of elements, lines by angle, layers a diameter, parts of those at ends."""

    order: int
    angles: tuple[float, ...]
    layers: int
    parts_at_ends: int


SIDE = np.pi / 2
USUAL = Fineness(4, (0.0, 0.03, 0.09, 0.22, 0.5, 0.95, 1.35, 1.8, 2.25, 2.7, np.pi), 8, 2)
COARSER = Fineness(4, (0.0, 0.05, 0.2, 0.5, 1.0, SIDE, 2.0, 2.5, np.pi), 8, 1)
DEPTHS = (0.0, 1.0, 2.7, 7.0)
"""Lines below the contact, mm; elements further below are at most ``FAR`` high."""
FAR = 10.5


@dataclass(frozen=True)
class Load:
    """A contact of a length, its end nearer to the tip ``start`` mm from it."""

    place: str
    shape: str
    length: float
    start: float

    def ends(self) -> Floats:
        return self.start + np.array([0.0, self.length])

    def intensity(self) -> Any:
        """Line load on the whole section, N/mm, as a function of the library."""
        along = (ng.z - self.start) / self.length
        inside = ng.IfPos(along, ng.IfPos(1 - along, 1, 0), 0)
        return MEAN_LOAD * inside * (1 if self.shape == "even" else 2 * (1 - along))

    def stations(self) -> Floats:
        """Where curves are read: within the contact, at its ends, and beyond them."""
        half = self.length / 2
        within = half * np.array([0.0, 0.25, 0.5, 0.8, 0.9, 1.0])
        beyond = half + D * np.array([0.1, 0.25, 0.5, 0.75, 1.0, 1.5])
        away = np.concatenate([within, beyond])
        z = self.start + half + np.concatenate([-away[:0:-1], away])
        return np.round(z[(z >= 0) & (z <= LENGTH)], 6)


def all_loads() -> list[Load]:
    lengths = [f * D for f in (0.5, 1.0, 2.0, 4.0)]
    places = {"flush": lambda c: 0.0, "near": lambda c: D / 4, "long": lambda c: (LENGTH - c) / 2}
    return [
        Load(place, shape, c, start(c))
        for (place, start), c, shape in product(places.items(), lengths, ("even", "peaked"))
    ]


def layers(fineness: Fineness) -> Floats:
    """Planes z between elements."""
    loaded = 6.25 * D
    fine = np.arange(0.0, loaded, D / fineness.layers)
    z = np.append(fine, np.arange(loaded, LENGTH + 1.0, 2 * D / fineness.layers))
    ends = np.concatenate([load.ends() for load in all_loads()])
    parts = [
        np.linspace(*cell, (fineness.parts_at_ends if np.isin(cell, ends).any() else 1) + 1)
        for cell in pairwise(z)
    ]
    return np.unique(np.concatenate(parts))


def boxes(angles: Floats, depths: Floats, z: Floats) -> Any:
    """Mesh in polar coordinates."""
    net = nm.Mesh(dim=3)
    nodes = np.empty((len(angles), len(depths), len(z)), dtype=object)
    for i, j, k in np.ndindex(nodes.shape):
        nodes[i, j, k] = net.Add(nm.MeshPoint(nm.Pnt(angles[i], depths[j], z[k])))
    for number, name in enumerate(("symmetry", "root", "free"), start=1):
        net.Add(nm.FaceDescriptor(surfnr=number, domin=1, bc=number))
        net.SetBCName(number - 1, name)
    for i, j, k in np.ndindex(*(n - 1 for n in nodes.shape)):
        c = nodes[i : i + 2, j : j + 2, k : k + 2]
        corners = [c[a, b, m] for m in (0, 1) for a, b in ((0, 0), (1, 0), (1, 1), (0, 1))]
        net.Add(nm.Element3D(1, corners))
    faces = [(1, nodes[0]), (1, nodes[-1]), (2, nodes[:, :, -1])]
    faces += [(3, nodes[:, :, 0]), (3, nodes[:, 0]), (3, nodes[:, -1])]
    for number, grid in faces:
        for i, j in np.ndindex(*(n - 1 for n in grid.shape)):
            c = grid[i : i + 2, j : j + 2]
            net.Add(nm.Element2D(number, [c[0, 0], c[1, 0], c[1, 1], c[0, 1]]))
    for pair in pairwise(nodes[0, 0]):
        net.Add(nm.Element1D(list(pair), index=1))
    net.SetCD2Name(1, "contact")
    return ng.Mesh(net)


class Tube:
    """The tube of a wall, factorised, and its curves under one load after another."""

    def __init__(self, wall: float, fineness: Fineness) -> None:
        self.wall = wall
        below = int(np.ceil((wall - DEPTHS[-1]) / FAR))
        self.depths = np.union1d(DEPTHS, np.linspace(DEPTHS[-1], wall, below + 1))
        self.mesh = boxes(np.array(fineness.angles), self.depths, layers(fineness))
        self.bend = ng.GridFunction(ng.VectorH1(self.mesh, order=fineness.order))
        angle, r = ng.x, R - ng.y
        self.bend.Set(ng.CF((r * ng.sin(angle) - ng.x, R - r * ng.cos(angle) - ng.y, 0)))
        self.mesh.SetDeformation(self.bend)

        self.space = ng.VectorH1(
            self.mesh, order=fineness.order,
            dirichletx="symmetry|root", dirichlety="root", dirichletz="root",
        )  # fmt: skip
        u, v = self.space.TnT()
        self.energy = ng.BilinearForm(self.space, symmetric=True, condense=True)
        self.energy += ng.InnerProduct(stress(u), ng.Sym(ng.Grad(v))) * ng.dx
        self.energy.Assemble()
        self.inverse = self.energy.mat.Inverse(self.space.FreeDofs(True), "sparsecholesky")
        self.u = ng.GridFunction(self.space)

    def solve(self, load: Load) -> None:
        """Find the displacement; check that the unloaded part bears the force in shear."""
        v = self.space.TestFunction().Trace()
        force = ng.LinearForm(self.space)
        line = self.mesh.BBoundaries("contact")
        force += ng.SymbolicLFI(load.intensity() / 2 * v[1], ng.BBND, definedon=line)
        force.Assemble()
        self.u.vec.data = self.inverse * force.vec
        self.u.vec.data += self.energy.harmonic_extension * self.u.vec
        unloaded = LENGTH - 6 * D
        shear = ng.IfPos(ng.z - 6 * D, stress(self.u)[1, 2], 0) / unloaded
        arriving = -2 * ng.Integrate(shear, self.mesh)
        if abs(arriving / (MEAN_LOAD * load.length) - 1) > 1e-6:
            raise ArithmeticError(f"{load}: {arriving} N arrive at the root")

    def curve(self, angle: float, depth: float, component: str, z: Floats) -> Floats:
        """MPa or mm at stations, averaged over the sides of the faces that a point lies on."""
        row, *column = ("xyz".index(axis) for axis in component)
        field = stress(self.u)[row, column[0]] if column else self.u[row]
        sides = (-INSIDE, INSIDE)
        total = np.zeros_like(z)
        for a, b, c in product(sides, sides, sides):
            at_angle = np.clip(angle + a / R, INSIDE / R, np.pi - INSIDE / R)
            at_depth = np.clip(depth + b, INSIDE, self.wall - INSIDE)
            at_z = np.clip(z + c, INSIDE, LENGTH - INSIDE)
            place = self.mesh(np.full_like(z, at_angle), np.full_like(z, at_depth), at_z)
            total += np.array(field(place)).ravel()
        return total / 8


def places(wall: float) -> dict[str, tuple[float, float, str]]:
    """Angle, depth, and which component of stress or displacement is a quantity."""
    return {
        "bore_under": (0.0, wall, "xx"),
        "bore_side": (SIDE, wall, "yy"),
        "depth_4": (0.0, 4.0, "xx"),
        "depth_8": (0.0, 8.0, "xx"),
        "axial_under": (0.0, wall, "zz"),
        "shear_under": (0.0, wall / 2, "yz"),
        "u_under": (0.0, wall, "y"),
        "u_side": (SIDE, wall, "y"),
        "u_far": (np.pi, 0.0, "y"),
    }


def stress(u: Any) -> Any:
    """Of a displacement, by Hooke's law."""
    strain = ng.Sym(ng.Grad(u))
    mu = YOUNG / 2 / (1 + POISSON)
    lam = 2 * mu * POISSON / (1 - 2 * POISSON)
    return 2 * mu * strain + lam * ng.Trace(strain) * ng.Id(3)


def rounded(values: Floats) -> list[float]:
    return [float(f"{value:.6g}") for value in values]


def solved(wall: float, fineness: Fineness) -> dict[str, Any]:
    """Curves of every load, as they are written."""
    began = perf_counter()
    tube = Tube(wall, fineness)
    loads = []
    for load in all_loads():
        tube.solve(load)
        z = load.stations()
        curves = {name: rounded(tube.curve(*place, z)) for name, place in places(wall).items()}
        loads.append({**vars(load), "z": rounded(z), **curves})
    print(f"wall {wall}: {tube.space.ndof} unknowns, {perf_counter() - began:.0f} s", flush=True)
    return {
        "unknowns": tube.space.ndof,
        "elements": tube.mesh.ne,
        "order": fineness.order,
        "lines_by_angle": rounded(np.array(fineness.angles)),
        "lines_by_depth": rounded(tube.depths),
        "layers": rounded(layers(fineness)),
        "loads": loads,
    }


def differences(wall: dict[str, Any], other: dict[str, Any]) -> dict[str, float]:
    """Largest difference of each quantity over the loads, relative to a curve's greatest value.

    That of ``depth_4`` and ``depth_8`` is found at the stations that are resolved.
    """
    found = dict.fromkeys(places(25.0), 0.0)
    for load, ours, theirs in zip(all_loads(), wall["loads"], other["loads"], strict=True):
        from_ends = np.abs(np.subtract.outer(ours["z"], [0.0, *load.ends()])).min(axis=1)
        for quantity, largest in found.items():
            a, b = np.array(ours[quantity]), np.array(theirs[quantity])
            used = from_ends > (UNRESOLVED if quantity.startswith("depth") else -1.0)
            apart = np.abs(a - b)[used].max(initial=0.0) / np.abs(a).max()
            found[quantity] = max(largest, float(f"{apart:.2g}"))
    return found


def main(arguments: list[str]) -> None:
    data = json.loads(DATA.read_text()) if DATA.exists() else {"walls": {}}
    data["made"] = {"by": "NGSolve", "version": ng.__version__, "on": MADE_ON}
    data["problem"] = {
        "units": "N, mm, MPa", "outside_diameter": D, "length": LENGTH, "clamped_at": LENGTH,
        "young": YOUNG, "poisson": POISSON, "mean_line_load": MEAN_LOAD,
        "depths_unresolved_within": UNRESOLVED,
    }  # fmt: skip
    if arguments == ["--check"]:
        other = solved(25.0, COARSER)
        data["differences"] = {
            "wall": 25, "unknowns_of_other": other["unknowns"],
            **differences(data["walls"]["25"], other),
        }  # fmt: skip
    else:
        data["walls"].update({wall: solved(float(wall), USUAL) for wall in arguments})
    text = json.dumps(data, indent=1)
    lists_on_a_line = re.sub(r"\[[^][{}]*\]", lambda found: " ".join(found[0].split()), text)
    DATA.write_text(lists_on_a_line + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
