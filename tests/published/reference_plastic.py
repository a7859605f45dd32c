"""A post pressed on a plate beyond first yield, and unloaded, by a general finite-element library.

Reference: NGSolve with Netgen (written against version 6.2.2608), small strain, plane strain, von
Mises yield with linear hardening. Own geometry by OpenCASCADE, own triangles, cubic and curved,
own return to the yield surface, own contact. Nothing is taken from contactfe.

The right half of the lower half of the post is solved, with the right half of the plate. The
mid-plane of the post stays plane, at −δ, and slides; the back of the plate lies on a rigid base
and slides. Geometry is linear: gaps are measured along y where the unloaded surfaces lie.

A step of an elastic-plastic body, by the implicit Euler rule, is the least of a convex energy of
the displacement (J. C. Simo and T. J. R. Hughes, Computational Inelasticity, Springer 1998,
chapters 1 to 3, from memory, not seen). With the trial stress s = 2μ dev(ε − εp) − ⅔Hk εp and its
excess f = |s| − √⅔ (Y + Hi α) over yield, the energy is the elastic one of no further flow, less
f²/2(2μ + ⅔(Hi + Hk)) where f > 0. The library takes both derivatives; Newton's method finds the
displacement together with the δ at which the load is the one asked for.

Sources of difference at the default fineness, found by finer meshes, elements of order 4, steps of
half the load, and a tenth and ten times the stiffness k:

- steps: 5e-4 in the approach, 1e-3 in the residual displacement, 3e-3 in the work of flow, 7e-3 in
  plastic strain and 1e-2 of the greatest residual stress; they fall in proportion to the step;
- meshes: 3e-4, 1e-3, 2e-3, 3e-3 and 1e-2 of the same; a tenth of an element where a plastic
  zone begins or ends;
- the layer of compliance 1/k that carries the load: 1e-4.

In a tube that bends, flow below the contact keeps off the axis and is greatest near the surface at
the edge of the patch. There the strain differs by a third between those meshes, and a point of it
is of no use for a comparison.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from importlib import import_module
from itertools import pairwise
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from contactfe.errors import SolveError

Floats = NDArray[np.float64]
Body = Literal["post", "plate"]
BODIES: tuple[Body, Body] = ("post", "plate")

LIBRARY = "ngsolve"
"""The module that must be installed; it brings Netgen."""

STRAIN = 1e-4
"""Plastic strain that bounds a plastic zone."""

PLACES = np.array([0.001, *np.arange(0.5, 4.01, 0.5), 5.0, 6.0])
"""Where along x residual displacement is reported, mm."""

DEPTHS = np.array([0.25, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 6.0])
"""Where on the axis, below the surface, strain and stress are, mm."""

BELOW = 1e-5
"""How far inside a body its surface is read, mm: the surfaces touch, and a point is in one body."""


@dataclass(frozen=True)
class Steel:
    """MPa. ``isotropic`` and ``kinematic`` are slopes of stress over plastic strain; both may act.

    Without ``yield_stress`` the body stays elastic.
    """

    yield_stress: float | None = 345.0
    isotropic: float = 0.0
    kinematic: float = 0.0
    young: float = 210e3
    poisson: float = 0.3

    @property
    def shear(self) -> float:
        """Shear modulus, MPa."""
        return self.young / (2 * (1 + self.poisson))

    @property
    def bulk(self) -> float:
        """Bulk modulus, MPa."""
        return self.young / (3 * (1 - 2 * self.poisson))

    @property
    def first_yield(self) -> float:
        """The yield stress, or one that is out of reach."""
        return 1e9 if self.yield_stress is None else self.yield_stress


@dataclass(frozen=True)
class Problem:
    """Lengths in mm, loads in N/mm. ``loads`` are taken up one after the other, then down again.

    Below the first of them next to nothing flows. ``expected`` is a half-width at the last to
    mesh for.
    """

    bore: float = 0.0
    radius: float = 75.0
    width: float = 400.0
    thickness: float = 60.0
    post: Steel = Steel()
    plate: Steel = Steel()
    loads: tuple[float, ...] = (782.0, 1173.0, 1564.0, 1955.0, 2346.0)
    expected: float = 1.5

    def arc(self, x: Any) -> Any:
        """Height of the unloaded post over the plate."""
        return self.radius - np.sqrt(self.radius**2 - x**2)


HARD, DRIFTING = Steel(isotropic=2100.0), Steel(kinematic=2100.0)
PROBLEMS = {
    "solid post": Problem(),
    "solid post, isotropic hardening": Problem(post=HARD, plate=HARD),
    "solid post, kinematic hardening": Problem(post=DRIFTING, plate=DRIFTING),
    "solid post, elastic plate": Problem(plate=Steel(None)),
    "tube": Problem(bore=50.0),
}


@dataclass(frozen=True)
class Fineness:
    """Order of the displacement; elements per half-width; steps from a load to the next."""

    order: int = 3
    per_half_width: int = 12
    steps: int = 8
    stiffness: float = 1e4
    """k of the contact, in E* over the half-width."""


@dataclass(frozen=True)
class InBody:
    """What is found in one body: strains at the greatest load, the rest after unloading."""

    peak_strain: float
    """Greatest equivalent plastic strain."""
    peak_at: tuple[float, float]
    """Where: x and depth below the surface, mm."""
    zones: tuple[tuple[float, float], ...]
    """On the axis, from and to which depth plastic strain exceeds STRAIN, mm."""
    strain: Floats
    """Equivalent plastic strain at DEPTHS."""
    residual_lift: Floats
    """Displacement uy at PLACES, relative to mid-plane or base, mm."""
    residual_stress: Floats
    """σx at DEPTHS, MPa."""


@dataclass(frozen=True)
class Found:
    """What the library finds, N/mm and mm, energies in N (mJ per mm of length), of the whole."""

    loads: Floats
    loading: Floats
    """Approach δ at those loads on the way up, and on the way down:"""
    unloading: Floats
    residual_displacement: float
    """δ at which contact is lost."""
    work_in: float
    """Work of the load up to its greatest value, and that over the whole path:"""
    work_left: float
    plastic_work: float
    """Work of plastic flow over the whole path, of which hardening stores a part:"""
    stored: float
    elastic: float
    """Elastic energy of the residual stresses."""
    flow_on_unloading: float
    """Greatest equivalent plastic strain that unloading adds."""
    post: InBody
    plate: InBody


def lines(problem: Problem, size: float) -> Floats:
    """Ends x of the elements along either line, which face each other."""
    x = [0.0]
    while x[-1] < 5.4 * problem.expected:
        x.append(x[-1] + max(size, size + 0.25 * (x[-1] - 1.5 * problem.expected)))
    return np.array(x)


def reference_mesh(problem: Problem, fineness: Fineness) -> Any:
    """Half of both bodies, x ≥ 0, as two faces that share nothing."""
    ng, occ = _libraries()
    r, c, w, t = problem.radius, problem.bore, problem.width / 2, problem.thickness
    size = problem.expected / fineness.per_half_width
    x = lines(problem, size)
    middles = (x[1:] + x[:-1]) / 2

    def point(x: float, y: float) -> Any:
        return occ.Pnt(float(x), float(y), 0.0)

    def round_(start: float, end: float, radius: float) -> Any:
        """Of a circle about the post's axis, angles from its lowest point."""
        angles = (start, (start + end) / 2, end)
        return occ.ArcOfCircle(*(point(radius * np.sin(a), r - radius * np.cos(a)) for a in angles))

    def straight(*ends: tuple[float, float]) -> list[Any]:
        return [occ.Segment(point(*p), point(*q)) for p, q in pairwise(ends)]

    angles = [*np.arcsin(x / r), np.pi / 2]
    edges = [round_(p, q, r) for p, q in pairwise(angles)]
    edges += straight((r, r), (c, r))
    edges += [round_(np.pi / 2, 0.0, c)] if c else []
    edges += straight((0, r - c), (0, 0))
    upper = occ.Face(occ.Wire(edges))
    lower = occ.Face(occ.Wire(straight(*((p, 0.0) for p in x), (w, 0), (w, -t), (0, -t), (0, 0))))

    # A face forgets the names of the edges that it was made of.
    slope = np.sqrt(0.5)
    names = [(upper, "arc", p, problem.arc(p)) for p in middles]
    names += [(lower, "line", p, 0.0) for p in middles]
    names += [
        (upper, "axis", 0.0, (r - c) / 2), (upper, "mid", (r + c) / 2, r),
        (lower, "axis", 0.0, -t / 2), (lower, "back", w / 2, -t),
    ]  # fmt: skip
    if c:
        names.append((upper, "bore", c * slope, r - c * slope))
    for body, name, px, py in names:
        body.edges.Nearest((px, py, 0.0)).name = name
    for name in ("bore", "mid") if c else ():
        upper.edges[name].maxh = (r - c) / 14
    upper.faces.name, lower.faces.name = BODIES

    wanted = import_module("netgen.meshing").MeshingParameters(maxh=8.0, grading=0.3)
    far, h = 0.0, size
    while far < 0.4 * r:
        far += 0.8 * h
        h = max(size, size + 0.25 * (far - 2 * problem.expected))
        for angle in np.arange(0.0, np.pi / 2, min(0.8 * h / far, 0.4)):
            px, py = far * np.sin(angle), far * np.cos(angle)
            wanted.RestrictH(x=px, y=-py, z=0, h=h)
            if c < np.hypot(px, py - r) < r:
                wanted.RestrictH(x=px, y=py, z=0, h=h)
    shape = occ.OCCGeometry(occ.Compound([upper, lower]), dim=2)
    mesh = ng.Mesh(shape.GenerateMesh(mp=wanted))
    mesh.Curve(fineness.order)
    return mesh


class Reference:
    """The library's model, loaded step by step, and what is read off it."""

    def __init__(self, problem: Problem, fineness: Fineness) -> None:
        self.ng, _ = _libraries()
        ng = self.ng
        self.problem, self.fineness = problem, fineness
        self.mesh = reference_mesh(problem, fineness)
        space = ng.VectorH1(
            self.mesh, order=fineness.order, dirichletx="axis", dirichlety="mid|back"
        )
        self.u = ng.GridFunction(space)
        self.down = ng.GridFunction(space)  # of the mid-plane alone, by 1
        self.down.Set(ng.CF((0, -1)), definedon=self.mesh.Boundaries("mid"))
        self.approach = 0.0

        points = ng.comp.IntegrationRuleSpace(self.mesh, order=fineness.order)
        self.dx = ng.dx(intrules=points.GetIntegrationRules())
        # Plastic strain εx, εy, εxy (εz follows, as its trace is 0) and equivalent strain α.
        self.plastic = [ng.GridFunction(points) for _ in range(4)]
        self.place = [ng.GridFunction(points) for _ in range(2)]
        for at, value in zip(self.place, (ng.x, ng.y), strict=True):
            at.Interpolate(value)
        self.steel = {
            name: self.mesh.MaterialCF({b: getattr(getattr(problem, b), name) for b in BODIES})
            for name in ("shear", "bulk", "first_yield", "isotropic", "kinematic")
        }

        trial = space.TrialFunction()
        energy = self._energy(trial).Compile()
        self.bodies = ng.BilinearForm(space, symmetric=True)
        self.bodies += ng.Variation(energy * self.dx)
        self.pressed = ng.BilinearForm(space, symmetric=True)
        self.pressed += ng.Variation(energy * self.dx)
        self.flowed = [c.Compile() for c in self._flowed(self.u)]

        place = ng.CF((ng.x, ng.y))
        overlap = (place + trial - place.Other() - trial.Other())[1]
        self.k = ng.Parameter(1.0)
        self.contact = ng.ContactBoundary(self.mesh.Boundaries("line"), self.mesh.Boundaries("arc"))
        self.contact.AddEnergy(ng.IfPos(overlap, self.k / 2 * overlap**2, 0))
        # Paired once, unloaded. As many points per edge as it has unknowns: more would ask for no
        # overlap at more points than the edge can bend to.
        self.contact.Update(
            ng.GridFunction(space), self.pressed, intorder=2 * fineness.order - 1, maxdist=1.0
        )

    def _strain(self, u: Any) -> tuple[list[Any], Any]:
        """Deviator x, y, z, xy of the elastic strain at no further flow, and the trace."""
        g = self.ng.Grad(u)
        px, py, pxy, _ = self.plastic
        trace = g[0, 0] + g[1, 1]
        mean = trace / 3
        deviator = [g[0, 0] - mean - px, g[1, 1] - mean - py, px + py - mean]
        return [*deviator, (g[0, 1] + g[1, 0]) / 2 - pxy], trace

    def _trial(self, u: Any) -> tuple[list[Any], Any, Any]:
        """Direction of flow x, y, xy, excess over yield f, and f over the amount of flow."""
        px, py, pxy, alpha = self.plastic
        deviator, _ = self._strain(u)
        back = (px, py, -px - py, pxy)
        s = [
            2 * self.steel["shear"] * e - 2 / 3 * self.steel["kinematic"] * p
            for e, p in zip(deviator, back, strict=True)
        ]
        size = self.ng.sqrt(s[0] ** 2 + s[1] ** 2 + s[2] ** 2 + 2 * s[3] ** 2 + 1e-12)
        limit = self.steel["first_yield"] + self.steel["isotropic"] * alpha
        slope = 2 * self.steel["shear"]
        slope += 2 / 3 * (self.steel["isotropic"] + self.steel["kinematic"])
        return [s[i] / size for i in (0, 1, 3)], size - np.sqrt(2 / 3) * limit, slope

    def _elastic(self, u: Any) -> Any:
        (x, y, z, xy), trace = self._strain(u)
        of_shape = self.steel["shear"] * (x**2 + y**2 + z**2 + 2 * xy**2)
        return self.steel["bulk"] / 2 * trace**2 + of_shape

    def _energy(self, u: Any) -> Any:
        _, excess, slope = self._trial(u)
        return self._elastic(u) - self.ng.IfPos(excess, excess**2 / (2 * slope), 0)

    def _flowed(self, u: Any) -> list[Any]:
        """The plastic strains at the end of the step."""
        along, excess, slope = self._trial(u)
        amount = self.ng.IfPos(excess, excess / slope, 0)
        steps = [*(amount * n for n in along), np.sqrt(2 / 3) * amount]
        return [p + step for p, step in zip(self.plastic, steps, strict=True)]

    def start(self, approach: float) -> None:
        """Press elastic or nearly so, the contact ever stiffer: what any load can start from."""
        problem = self.problem
        compliance = sum((1 - s.poisson**2) / s.young for s in (problem.post, problem.plate))
        self.u.vec.data = approach * self.down.vec
        self.approach = approach
        for relative in (1e-2, 1e-1, 1.0):
            k = relative * self.fineness.stiffness / compliance / problem.expected
            self.k.Set(k)
            self._newton(self.pressed, None)

    def load(self, line_load: float) -> None:
        """One step of load, up or down; plastic flow is kept."""
        self._newton(self.pressed, line_load / 2)
        self._keep()

    def release(self) -> None:
        """One step to no load, without contact."""
        self._newton(self.bodies, None)
        self._keep()

    def _keep(self) -> None:
        new = [self.ng.GridFunction(p.space) for p in self.plastic]
        for p, value in zip(new, self.flowed, strict=True):
            p.Interpolate(value)
        for old, p in zip(self.plastic, new, strict=True):
            old.vec.data = p.vec

    def _newton(self, form: Any, force: float | None) -> None:
        """Least energy at that force on half the mid-plane, or with the mid-plane where it is.

        Steps are halved until they no longer lead far past the least: the energy is convex, so
        its slope along a step tells.
        """
        product = self.ng.InnerProduct
        u, down = self.u.vec, self.down.vec
        residual, step, unit, start, work = (u.CreateVector() for _ in range(5))
        form.Apply(u, residual)
        for _ in range(60):
            form.AssembleLinearization(u)
            inverse = form.mat.Inverse(self.u.space.FreeDofs(), "sparsecholesky")
            step.data = -(inverse * residual)
            sink = 0.0
            if force is not None:
                work.data = form.mat * down
                unit.data = down - inverse * work
                work.data = form.mat * step + residual
                missing = force - product(down, work)
                work.data = form.mat * unit
                sink = missing / product(down, work)
                step.data += sink * unit
            slope = product(step, residual) - (force or 0.0) * sink
            start.data = u
            low, high, length = 0.0, 2.0, 1.0
            for _ in range(12):
                u.data = start + length * step
                form.Apply(u, residual)
                now = product(step, residual) - (force or 0.0) * sink
                if abs(now) <= 0.8 * abs(slope) or now <= 0.0 or abs(now) < 1e-13:
                    break
                high = length
                length = (low + high) / 2
            self.approach += length * sink
            if abs(slope) < 1e-10:
                return
        raise SolveError("the finite-element reference did not converge")

    @property
    def line_load(self) -> float:
        """Load on both halves, N/mm: work of the inner forces on a mid-plane that sinks by 1."""
        inner = self.u.vec.CreateVector()
        self.bodies.Apply(self.u.vec, inner)
        return 2 * float(self.ng.InnerProduct(self.down.vec, inner))

    def whole(self, density: Any) -> float:
        """Integral over both halves."""
        return 2 * float(self.ng.Integrate(density * self.dx, self.mesh))

    def energies(self) -> tuple[float, float, float]:
        """Elastic energy, work of plastic flow, and the part of it that hardening stores."""
        px, py, pxy, alpha = self.plastic
        lost = self.steel["first_yield"] * alpha
        size = px**2 + py**2 + (px + py) ** 2 + 2 * pxy**2
        kept = self.steel["isotropic"] / 2 * alpha**2 + self.steel["kinematic"] / 3 * size
        stored = self.whole(kept)
        return self.whole(self._elastic(self.u)), self.whole(lost) + stored, stored

    @cached_property
    def _patchwise(self) -> tuple[Any, Any]:
        """Polynomials of the elements, to read what is known at points of integration alone."""
        space = self.ng.L2(self.mesh, order=self.fineness.order - 1)
        trial, test = space.TnT()
        mass = self.ng.BilinearForm(space, symmetric=True)
        mass += trial * test * self.dx
        mass.Assemble()
        return space, mass.mat.Inverse(inverse="sparsecholesky")

    def on_axis(self, value: Any, body: Body, depth: Floats) -> Floats:
        """That value at x = 0, at depths below the surface."""
        space, inverse = self._patchwise
        right = self.ng.LinearForm(space)
        right += value * space.TestFunction() * self.dx
        right.Assemble()
        fitted = self.ng.GridFunction(space)
        fitted.vec.data = inverse * right.vec
        y = depth if body == "post" else -depth
        return np.ravel(fitted(self.mesh(np.full_like(y, 1e-6), y)))

    def stress_along(self) -> Any:
        """σx."""
        (x, *_), trace = self._strain(self.u)
        return self.steel["bulk"] * trace + 2 * self.steel["shear"] * x

    def lift(self, body: Body, x: Floats) -> Floats:
        """Displacement uy of a surface, relative to mid-plane or base."""
        y, moved = np.full_like(x, -BELOW), 0.0
        if body == "post":
            y, moved = self.problem.arc(x) + BELOW, self.approach
        return np.array(self.u(self.mesh(x, y)))[:, 1] + moved

    def strains(self) -> Floats:
        """α at all points of integration."""
        return np.array(self.plastic[3].vec)

    def peak(self, body: Body) -> tuple[float, tuple[float, float]]:
        """Greatest α, and its x and depth."""
        x, y = (np.array(p.vec) for p in self.place)
        strain = np.where((y > 0) == (body == "post"), self.strains(), -1.0)
        i = int(strain.argmax())
        depth = y[i] - self.problem.arc(x[i]) if body == "post" else -y[i]
        return float(strain[i]), (float(x[i]), float(depth))

    def zones(self, body: Body) -> tuple[tuple[float, float], ...]:
        """Where on the axis α exceeds STRAIN, from and to; slivers of half an element stay out."""
        p = self.problem
        depth = np.arange(0.002, p.radius - p.bore if body == "post" else p.thickness, 0.004)
        over = self.on_axis(self.plastic[3], body, depth) > STRAIN
        ends = np.flatnonzero(np.diff(np.concatenate([[False], over, [False]]).astype(int)))
        pairs = [(depth[i] - 0.002, depth[j - 1] + 0.002) for i, j in ends.reshape(-1, 2)]
        least = p.expected / self.fineness.per_half_width / 2
        return tuple((float(a), float(b)) for a, b in pairs if b - a > least)

    def beyond_yield(self) -> float:
        """Greatest excess of the equivalent stress over what the steel has hardened to, MPa."""
        _, excess, _ = self._trial(self.u)
        at_points = self.ng.GridFunction(self.plastic[3].space)
        at_points.Interpolate(np.sqrt(1.5) * excess)
        return float(np.max(at_points.vec))

    def gap(self) -> Floats:
        """Gap between surfaces that do not press, were δ = 0, at fine places along x."""
        x = np.linspace(PLACES[0], PLACES[-1], 2001)
        gap: Floats = self.problem.arc(x) + self.lift("post", x) - self.lift("plate", x)
        return gap


def path(loads: Sequence[float], steps: int) -> tuple[list[float], list[float]]:
    """Loads on the way up and, short of 0, on the way down, those given among them.

    Where nothing flows steps are there for the work alone.
    """
    first, *rest = loads
    up = [first * part for part in (0.05, 0.15, 0.3, 0.5, 0.75, 1.0)]
    for load in rest:
        up += list(np.linspace(up[-1], load, steps + 1)[1:])
    down = [loads[-1]]
    for load in loads[-2::-1]:
        down += [(down[-1] + load) / 2, load]
    return up, down[1:] + [first * part for part in (0.5, 0.25, 0.1, 0.03, 0.01)]


def solved(problem: Problem, fineness: Fineness = Fineness()) -> Found:
    """Load and unload. Raises SolveError if a step does not settle."""
    model = Reference(problem, fineness)
    model.start(0.01 * problem.expected)
    up, down = path(problem.loads, fineness.steps)
    at: list[float] = []
    for load in up:
        model.load(load)
        at.append(model.approach)
    strains = model.strains()
    peaks = {body: model.peak(body) for body in BODIES}
    zones = {body: model.zones(body) for body in BODIES}
    strain = {body: model.on_axis(model.plastic[3], body, DEPTHS) for body in BODIES}
    for load in down:
        model.load(load)
        at.append(model.approach)
    model.release()
    at.append(float(model.gap().min()))

    loads, approach = np.array([0.0, *up, *down, 0.0]), np.array([0.0, *at])
    top = len(up) + 1
    ways = [
        np.array([approach[way][loads[way] == load][0] for load in problem.loads])
        for way in (slice(top), slice(top - 1, None))
    ]
    stress = model.stress_along()
    bodies = {
        body: InBody(
            *peaks[body], zones[body], strain[body],
            model.lift(body, PLACES), model.on_axis(stress, body, DEPTHS),
        )
        for body in BODIES
    }  # fmt: skip
    elastic, plastic, stored = model.energies()
    return Found(
        np.array(problem.loads), ways[0], ways[1], at[-1],
        float(np.trapezoid(loads[:top], approach[:top])),
        float(np.trapezoid(loads, approach)),
        plastic, stored, elastic,
        float((model.strains() - strains).max()),
        bodies["post"], bodies["plate"],
    )  # fmt: skip


@cache
def found(name: str) -> Found:
    """The problem of that name, solved as finely as a test may take."""
    return solved(PROBLEMS[name])


def _libraries() -> tuple[Any, Any]:
    """The optional library and its geometry, loaded where they are used."""
    return import_module(LIBRARY), import_module("netgen.occ")
