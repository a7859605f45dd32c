"""Tubes loaded along part of a generator, in three dimensions, by a general-purpose library.

Reference: NGSolve with Netgen (written against version 6.2.2608), linear elasticity, curved
hexahedra of order 4. Nothing is taken from contactfe, whose own solution is compared with what
this finds, ``three_dimensions.json`` beside it. It is run by hand: minutes and 20 GB for a wall.

    python tests/published/three_dimensions.py 25 15 37.5   # walls, mm: writes their curves
    python tests/published/three_dimensions.py --check      # wall 25 on a coarser mesh

The tube lies along z, from its free tip at z = 0 to its clamped root at z = 8 D. The contact is the
generator x = y = 0, y runs from there into the tube. Half of it, x ≥ 0, is meshed in the polar
coordinates (angle from the contact, depth below the outer surface, z), then bent into shape as a
deformation of the mesh: points are looked up in those coordinates. All loads are right-hand sides
of one factorisation.

Sources of difference:

- the mesh, whose lines stand beside the curves of each wall: ``differences`` and
  ``section_error`` in the file. ``depth_4`` of walls 15 and 25 is 1 and 3 % off;
- a force on a line has infinite stress and displacement there: elements shrink towards it, and
  nothing is read nearer to it than 4 mm. Where a load ends, and at the tip, ``depth_4`` and
  ``depth_8`` change over lengths of 4 and 8 mm, shorter than the elements: stations within
  ``UNRESOLVED`` of there are not to be compared;
- stress jumps from layer to layer: it is averaged over both sides. All else lies within elements.
"""

import json
import re
import sys
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import netgen.meshing as nm
import ngsolve as ng
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

DATA = Path(__file__).with_suffix(".json")

D, R = 150.0, 75.0
LENGTH = 8 * D
YOUNG, POISSON = 210_000.0, 0.3
ORDER = 4
MEAN_LOAD = 1000.0  # N/mm on the whole section, averaged over the contact
INSIDE = 1e-6  # mm from a face: where points are looked up
UNRESOLVED = 10.0  # mm from an end of a load, or the tip: stress near the line is not resolved


@dataclass(frozen=True)
class Fineness:
    """Lines of a mesh of elements of order 4."""

    angles: tuple[float, ...]
    depths: tuple[float, ...]  # mm, near the contact; elements further below are evenly high
    highest: float  # mm
    parts_at_ends: int  # of layers, D/8 thick, beside the end of a load near the tip

    def lines(self, wall: float) -> tuple[Floats, Floats, Floats]:
        """By angle, by depth, and along z."""
        below = int(np.ceil((wall - self.depths[-1]) / self.highest))
        depths = np.union1d(self.depths, np.linspace(self.depths[-1], wall, below + 1))
        z = np.append(np.arange(50) * D / 8, 6.25 * D + np.arange(8) * D / 4)
        ends = np.concatenate([load.ends() for load in all_loads() if load.place != "long"])
        parts = [
            np.linspace(*layer, (self.parts_at_ends if np.isin(layer, ends).any() else 1) + 1)
            for layer in pairwise(z)
        ]
        return np.array(self.angles), depths, np.unique(np.concatenate(parts))


ANGLES = (0.0, 0.03, 0.1, 0.25, 0.65, 1.15, 1.65, 2.15, 2.65, np.pi)
USUAL = Fineness(ANGLES, (0.0, 1.0, 2.8, 9.0), 15.0, 2)
COARSER = Fineness((0.0, 0.04, 0.15, 0.45, 1.0, 1.6, 2.3, np.pi), (0.0, 1.5, 4.5), 13.0, 1)


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
        shape = 1 if self.shape == "even" else 2 * (1 - along)
        return MEAN_LOAD * ng.IfPos(along * (1 - along), shape, 0)

    def stations(self) -> Floats:
        """Where curves are read: within the contact, at its ends, and beyond them."""
        half = self.length / 2
        within = half * np.array([0.0, 0.25, 0.5, 0.8, 0.9, 1.0])
        away = np.append(within, half + D * np.array([0.1, 0.25, 0.5, 0.75, 1.0, 1.5]))
        z = self.start + half + np.append(-away[:0:-1], away)
        return np.round(z[(z >= 0) & (z <= LENGTH)], 6)


def all_loads() -> list[Load]:
    return [
        Load(place, shape, c, {"flush": 0.0, "near": D / 4, "long": (LENGTH - c) / 2}[place])
        for place in ("flush", "near", "long")
        for c in (0.5 * D, D, 2 * D, 4 * D)
        for shape in ("even", "peaked")
    ]


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
    for number, grid in (
        (1, nodes[0]), (1, nodes[-1]), (2, nodes[:, :, -1]),
        (3, nodes[:, :, 0]), (3, nodes[:, 0]), (3, nodes[:, -1]),
    ):  # fmt: skip
        for i, j in np.ndindex(*(n - 1 for n in grid.shape)):
            c = grid[i : i + 2, j : j + 2]
            net.Add(nm.Element2D(number, [c[0, 0], c[1, 0], c[1, 1], c[0, 1]]))
    for pair in pairwise(nodes[0, 0]):
        net.Add(nm.Element1D(list(pair), index=1))
    net.SetCD2Name(1, "contact")
    return ng.Mesh(net)


class Tube:
    """The tube of a wall, factorised, and its curves under one load after another."""

    def __init__(self, wall: float, lines: tuple[Floats, Floats, Floats]) -> None:
        self.wall = wall
        self.mesh = boxes(*lines)
        self.bend = ng.GridFunction(ng.VectorH1(self.mesh, order=ORDER))
        r = R - ng.y
        self.bend.Set(ng.CF((r * ng.sin(ng.x) - ng.x, R - r * ng.cos(ng.x) - ng.y, 0)))
        self.mesh.SetDeformation(self.bend)
        held = {"dirichletx": "symmetry|root", "dirichlety": "root", "dirichletz": "root"}
        self.space = ng.VectorH1(self.mesh, order=ORDER, **held)
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
        work = load.intensity() / 2 * v[1]
        force += ng.SymbolicLFI(work, ng.BBND, definedon=self.mesh.BBoundaries("contact"))
        force.Assemble()
        self.u.vec.data = self.inverse * force.vec  # no force acts within elements
        self.u.vec.data += self.energy.harmonic_extension * self.u.vec
        shear = ng.IfPos(ng.z - 6 * D, stress(self.u)[1, 2], 0)
        arriving = -2 * ng.Integrate(shear, self.mesh) / (LENGTH - 6 * D)
        if abs(arriving / (MEAN_LOAD * load.length) - 1) > 1e-5:
            raise ArithmeticError(f"{load}: {arriving} N arrive at the root")

    def curve(self, angle: float, depth: float, component: str, z: Floats) -> Floats:
        """MPa or mm at stations, averaged over both sides of each."""
        row, *column = ("xyz".index(axis) for axis in component)
        field = stress(self.u)[row, column[0]] if column else self.u[row]
        at_angle = np.full_like(z, np.clip(angle, INSIDE / R, np.pi - INSIDE / R))
        at_depth = np.full_like(z, np.clip(depth, INSIDE, self.wall - INSIDE))
        sides = np.clip([z - INSIDE, z + INSIDE], INSIDE, LENGTH - INSIDE)
        before, after = (np.ravel(field(self.mesh(at_angle, at_depth, side))) for side in sides)
        return (before + after) / 2


def places(wall: float) -> dict[str, tuple[float, float, str]]:
    """Angle, depth, and which component of stress or displacement is a quantity."""
    under, side, far = 0.0, np.pi / 2, np.pi
    return {
        "bore_under": (under, wall, "xx"), "bore_side": (side, wall, "yy"),
        "depth_4": (under, 4.0, "xx"), "depth_8": (under, 8.0, "xx"),
        "axial_under": (under, wall, "zz"), "shear_under": (under, wall / 2, "yz"),
        "u_under": (under, wall, "y"), "u_side": (side, wall, "y"), "u_far": (far, 0.0, "y"),
    }  # fmt: skip


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
    lines = fineness.lines(wall)
    tube = Tube(wall, lines)
    loads = []
    for load in all_loads():
        tube.solve(load)
        z = load.stations()
        curves = {name: rounded(tube.curve(*place, z)) for name, place in places(wall).items()}
        loads.append({**vars(load), "z": rounded(z), **curves})
    names = ("lines_by_angle", "lines_by_depth", "layers")
    mesh = dict(zip(names, map(rounded, lines), strict=True))
    return {"unknowns": tube.space.ndof, **mesh, "loads": loads}


def differences(wall: dict[str, Any], other: dict[str, Any]) -> dict[str, float]:
    """Largest over the loads and the resolved stations, relative to a curve's greatest value."""
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
    today = date.today().isoformat()
    data["made"] = {"by": "NGSolve", "version": ng.__version__, "on": today, "order": ORDER}
    data["problem"] = {
        "units": "N, mm, MPa", "outside_diameter": D, "length": LENGTH, "young": YOUNG,
        "poisson": POISSON, "mean_line_load": MEAN_LOAD, "depths_unresolved_within": UNRESOLVED,
    }  # fmt: skip
    if arguments == ["--check"]:
        other = solved(25.0, COARSER)
        found = differences(data["walls"]["25"], other)
        data["differences"] = {"wall": 25, "unknowns_of_other": other["unknowns"], **found}
    else:
        data["walls"].update({wall: solved(float(wall), USUAL) for wall in arguments})
    text = json.dumps(data, indent=1)
    lists_on_a_line = re.sub(r"\[[^][{}]*\]", lambda found: " ".join(found[0].split()), text)
    DATA.write_text(lists_on_a_line + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
