"""A section as that of a long body under line loads that vary along it, in a basis of modes.

Under a line load q cos kz a prismatic body is displaced by u(x, y) cos kz in the plane of its
section and w(x, y) sin kz along its axis, and each wave number k is a problem on the section alone,

    (K + k² Mμ) u + k (Cᵀ − D) w = f,    k (C − Dᵀ) u + (Kw + k² Mw) w = 0,

where K is the stiffness of the slice, Kw = ∫ μ ∇w·∇w, Mμ = ∫ μ u·u, Mw = ∫ (λ + 2μ) w w, and
C = ∫ λ w ∇·u, D = ∫ μ u·∇w couple the two. It is regular for k > 0; the beam is in it. The answers
to a dozen wave numbers, with the slice's own and the rigid motions, are a basis in which the body
of any length is one small problem along its axis: see :mod:`.bar`.

At a free end stresses on the section are released that no wave has released. The basis has as well
what a load that fades from the end as e^−κz does where both displacements fade so, with the least
energy; and of every mode what frees it: w that lets the material give way along the axis (the
plane strain of u), u that follows the slope of w. Derived here, from the strains of
three-dimensional elasticity (Fourier's method for prismatic bodies is textbook matter; that its
answers serve as a basis for other loads and ends is a choice made here, checked against elements in
three dimensions).

A load is spread over a band of the contact line, so that nothing here is singular: what the contact
does nearer by is the slice's own affair.
"""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import block_diag
from scipy.sparse import coo_matrix, csc_matrix
from skfem import Basis, ElementTriP2

from contactfe.errors import SolveError
from contactfe.hand.stress import out_of_plane
from contactfe.solve.condense import CondensedBody, respond, unit_forces
from contactfe.solve.elastic import Floats
from contactfe.solve.lines import ContactLine, Ints, group_nodes
from contactfe.solve.ordering import elimination_order, factored
from contactfe.solve.parts import Part, per_element

LONGEST, SHORTEST = 0.15, 12.0
"""Wave numbers of the basis, over the radius."""

WAVES = 9
"""Wave numbers of the basis, for a mesh of the standard size; a coarser one has fewer."""

SLOWEST, FASTEST = 0.5, 20.0
"""Rates κ at which loads fade from an end, over the radius."""

RATES_PER_WAVE = 2 / 3
"""Rates of the basis for each of its wave numbers."""

_INDEPENDENT = 1e-10
"""Least share of a mode that the others do not have already, squared."""


@dataclass(frozen=True)
class PrismPart:
    """One material of a prism: what a unit of each mode does at its nodes, ``x`` (2, n) mm.

    ``strain`` (3, n, i) is εx, εy, γxy and ``moved`` (2, n, i) the displacement of the modes in the
    plane; ``slope`` (2, n, j) is ∂x w, ∂y w and ``along`` (n, j) w of those along the axis;
    ``slice_stress`` (m, n, 3) MPa is that of the slice under each unit load: σx, σy, τxy.
    """

    part: Part
    x: Floats
    strain: Floats
    moved: Floats
    slope: Floats
    along: Floats
    slice_stress: Floats


@dataclass(frozen=True)
class Prism:
    """A section reduced to i modes in its plane and j along the axis, for m unit line loads.

    ``still``, ``once`` and ``twice`` (i + j, i + j) are the energies of what is not differentiated
    along the axis, of what is on one side (the rows), and on both. ``loads`` (i, m) is the work of
    the unit loads on the modes, ``held`` (i, m) the same with what answers each in a slice,
    ``forces`` (m, 2) their resultants, ``slices`` (m, m) the displacement of the slice under them,
    mm per N/mm, as the loads weigh it. ``bending`` (2, 2) N mm² is the stiffness in bending about
    the ``centroid`` (2,) mm; zero of a body whose hold stops its displacement.
    """

    still: Floats
    once: Floats
    twice: Floats
    loads: Floats
    held: Floats
    forces: Floats
    slices: Floats
    bending: Floats
    centroid: Floats
    radius: float
    parts: tuple[PrismPart, ...]

    @property
    def modes(self) -> int:
        """How many modes there are in the plane, i."""
        return len(self.loads)

    def stress(self, part: PrismPart, value: Floats, slope: Floats) -> Floats:
        """Stress (n, 6) MPa at the nodes of a part: σx, σy, σz, τxy, τxz, τyz.

        ``value`` and ``slope`` (i + j,) are the modes' amplitudes there and their derivatives.
        """
        i, mu, lam = self.modes, part.part.material.mu, part.part.material.lam
        ex, ey, gxy = part.strain @ value[:i]
        ez = part.along @ slope[i:]
        gxz, gyz = part.slope @ value[i:] + part.moved @ slope[:i]
        mean = lam * (ex + ey + ez)
        direct = (mean + 2.0 * mu * e for e in (ex, ey, ez))
        return np.column_stack([*direct, mu * gxy, mu * gxz, mu * gyz])

    def slice_of(self, part: PrismPart, line_loads: Floats) -> Floats:
        """Stress (n, 6) MPa of the slice under line loads (m,), N/mm."""
        x, y, t = np.tensordot(line_loads, part.slice_stress, axes=1).T
        of = part.part.material
        nil = np.zeros_like(t)
        return np.column_stack([x, y, out_of_plane(x, y, of.poisson, of.state), t, nil, nil])

    def bent(self, part: PrismPart, moment: Floats) -> Floats:
        """Stress σz (n,) MPa of beam theory under a moment (2,) N mm that loads along x, y make."""
        if not self.bending.any():
            return np.zeros(part.x.shape[1])
        curvature = np.linalg.solve(self.bending, moment)
        away = part.x - self.centroid[:, None]
        stress: Floats = -part.part.material.young * (curvature @ away)
        return stress


def at_node(of: PrismPart, node: int) -> PrismPart:
    """A part cut down to one of its nodes."""
    return PrismPart(
        of.part, of.x[:, [node]], of.strain[:, [node]], of.moved[:, [node]],
        of.slope[:, [node]], of.along[[node]], of.slice_stress[:, [node]],
    )  # fmt: skip


def prism(body: CondensedBody, radius: float, band: float, waves: int = WAVES) -> Prism:
    """Reduce a body to the modes of a prism with its section and hold.

    The body must be condensed in plane strain. ``radius`` mm is that of its outline; ``band`` mm
    half the width over which the loads act: one along the normal of each contact line and, where
    the body was condensed with these, one along each tangent. Raises SolveError where the equations
    of a wave number are singular.
    """
    problem = _Problem(body)
    loads = _loads(body, band)
    n = body.unknowns // 2
    slices, answers = respond(body, loads)
    rates = round(waves * RATES_PER_WAVE)
    found = [problem.wave(k, loads) for k in np.geomspace(LONGEST, SHORTEST, waves) / radius]
    found += [problem.fading(k, loads) for k in np.geomspace(SLOWEST, FASTEST, rates) / radius]
    x, y = body.mesh.doflocs
    turning = np.column_stack([np.ones(n), x, y - radius])
    if len(problem.bonded):
        turning = turning[:, :0]
    u = np.hstack([slices, *(u for u, _ in found)])
    w = np.hstack([w for _, w in found])
    U = problem.independent(body.supported.rigid.T, np.hstack([u, problem.following(w)]), 2)
    W = problem.independent(turning, np.hstack([w, problem.giving(u)]), 1)
    modes = block_diag(U, W)
    lines = body.lines
    axes = [line.frame.axes[row] for row in ((1, 0) if body.tangential else (1,)) for line in lines]
    free_body = len(body.supported.rigid) == 3
    bending, centroid = problem.beam() if free_body else (np.zeros((2, 2)), np.zeros(2))
    return Prism(
        still=modes.T @ (problem.still @ modes),
        once=modes.T @ (problem.once @ modes),
        twice=modes.T @ (problem.twice @ modes),
        loads=U.T @ loads,
        held=U.T @ (loads + body.supported.patterns.T @ answers),
        forces=np.array(axes),
        slices=loads.T @ slices,
        bending=bending,
        centroid=centroid,
        radius=radius,
        parts=tuple(_part(part, U, W, slices) for part in body.parts),
    )


def _loads(body: CondensedBody, band: float) -> Floats:
    """Nodal forces (2N, m) of unit line loads, spread over the band as Hertz's pressure is."""
    units = unit_forces(body, body.tangential)
    components = 2 if body.tangential else 1
    columns, start = [], 0
    for line in body.lines * components:
        share = np.zeros(units.shape[1])
        share[start : start + len(line.nodes)] = _shares(line, band)
        start += len(line.nodes)
        columns.append(units @ share)
    return np.column_stack(columns)


def _shares(line: ContactLine, band: float) -> Floats:
    """Share (n,) of each node of a line in a unit load."""
    first, second, middle = line.edges
    length = line.x[second] - line.x[first]
    weight = np.zeros(len(line.x))
    for at, part in ((first, 1 / 6), (second, 1 / 6), (middle, 4 / 6)):
        np.add.at(weight, at, part * length)
    load = weight * np.sqrt(np.maximum(1.0 - (line.x / band) ** 2, 0.0))
    shares: Floats = load / load.sum()
    return shares


class _Problem:
    """The matrices of one body, of which a wave number makes its equations.

    Unknowns are u node by node, then w. ``still`` and ``twice`` are the energies of what is not
    differentiated along the axis and of what is on both sides; ``once`` has what is on one side in
    its rows.
    """

    def __init__(self, body: CondensedBody) -> None:
        self.body, mesh = body, body.mesh
        basis = Basis(mesh, ElementTriP2(), intorder=4)
        self.nodes, self.n = mesh.dofs.element_dofs, mesh.doflocs.shape[1]
        lam, mu = (of[:, None] for of in per_element(mesh, body.parts))
        dx = basis.dx
        phi = np.stack([np.asarray(basis.basis[i][0]) + 0.0 * dx for i in range(6)])
        grad = np.stack([basis.basis[i][0].grad for i in range(6)])  # (6, 2, elements, points)
        x, y, z = 2 * self.nodes, 2 * self.nodes + 1, 2 * self.n + self.nodes

        def local(one: Floats, other: Floats, by: Floats) -> Floats:
            found: Floats = np.einsum("iep,jep,ep->ije", one, other, by, optimize=True)
            return found

        def made(*blocks: tuple[Ints, Ints, Floats], size: int = 3 * self.n) -> csc_matrix:
            rows = [np.repeat(row, 6, axis=0).ravel() for row, _, _ in blocks]
            columns = [np.tile(column, (6, 1)).ravel() for _, column, _ in blocks]
            data = np.concatenate([of.ravel() for _, _, of in blocks])
            at = np.concatenate(rows), np.concatenate(columns)
            return coo_matrix((data, at), (size, size)).tocsc()

        mass, sheared = local(phi, phi, dx), local(phi, phi, mu * dx)
        gx, gy = grad[:, 0], grad[:, 1]
        slopes = local(gx, gx, mu * dx) + local(gy, gy, mu * dx)
        self.mass = made((self.nodes, self.nodes, mass), size=self.n)
        plane = body.stiffness.tocoo()
        self.still = made((z, z, slopes)) + coo_matrix(
            (plane.data, (plane.row, plane.col)), (3 * self.n, 3 * self.n)
        )
        stretched = local(phi, phi, (lam + 2.0 * mu) * dx)
        self.twice = made((x, x, sheared), (y, y, sheared), (z, z, stretched))
        # ∫ μ u·∇w with u differentiated, ∫ λ w ∇·u with w differentiated.
        self.sliding = made((x, z, local(phi, gx, mu * dx)), (y, z, local(phi, gy, mu * dx)))
        self.swelling = made((z, x, local(phi, gx, lam * dx)), (z, y, local(phi, gy, lam * dx)))
        self.once = self.sliding + self.swelling
        E = np.empty((mesh.t.shape[1], 1))
        for part in body.parts:
            E[part.elements] = part.material.young
        self._stretch, self._x = E * dx, np.asarray(basis.global_coordinates())
        none = np.array([], dtype=np.intp)
        groups = [group_nodes(mesh, group) for group in body.hold.bonded]
        self.bonded: Ints = np.unique(np.concatenate([none, *groups]))
        self._free = free = self._order()
        wave = self.swelling.T - self.sliding
        self._parts = tuple(
            of.tocsc()[free][:, free]
            for of in (self.still, self.twice, wave + wave.T, -(self.once + self.once.T))
        )

    def _order(self) -> Ints:
        """The unknowns that nothing fixes, in the order of elimination: x, y, z node by node."""
        n = self.n
        nodes = elimination_order(self.body.mesh)
        order = np.column_stack([2 * nodes, 2 * nodes + 1, 2 * n + nodes]).ravel()
        held = np.zeros(3 * n, dtype=bool)
        held[self.body.hold.fixed] = True
        held[2 * n + self.bonded] = True
        free: Ints = order[~held[order]]
        return free

    def wave(self, k: float, loads: Floats) -> tuple[Floats, Floats]:
        """The modes (2N, m) and (N, m) of a wave number, per mm."""
        return self._solved(k, self._parts[2], loads)

    def fading(self, rate: float, loads: Floats) -> tuple[Floats, Floats]:
        """The same of a load that fades as e^−κz from an end, at a rate κ per mm."""
        return self._solved(rate, self._parts[3], loads)

    def _solved(self, k: float, coupled: csc_matrix, loads: Floats) -> tuple[Floats, Floats]:
        still, twice, *_ = self._parts
        right = np.vstack([loads, np.zeros((self.n, loads.shape[1]))])
        found = np.zeros_like(right)
        try:
            factor = factored(still + k * coupled + k**2 * twice)
        except RuntimeError as error:
            raise SolveError(f"a wave number of a section cannot be solved ({error})") from error
        found[self._free] = factor.solve(right[self._free])
        return found[: 2 * self.n], found[2 * self.n :]

    def following(self, w: Floats) -> Floats:
        """Displacements (2N, m) in the plane along the slopes of those along the axis."""
        along = np.zeros((2 * self.n, w.shape[1]))
        for part in self.body.parts:
            for a, slope in enumerate(_slopes(part, w[part.nodes])):
                along[2 * part.nodes + a] = slope
        along[self.body.hold.fixed] = 0.0
        return along

    def giving(self, u: Floats) -> Floats:
        """Displacements (N, m) along the axis in proportion to the strain ∇·u in the plane."""
        along = np.zeros((self.n, u.shape[1]))
        for part in self.body.parts:
            ex, ey, _ = _strain(part, np.stack([u[2 * part.nodes + a] for a in range(2)]))
            along[part.nodes] = part.material.lam * (ex + ey)
        along[self.bonded] = 0.0
        return along

    def independent(self, rigid: Floats, modes: Floats, components: int) -> Floats:
        """A basis of what rigid motions and modes span, orthonormal over the section.

        What a mode has of the rigid motions is taken off first: at long waves it is nearly all.
        """
        first = self._orthonormal(rigid, components)
        for _ in range(2):  # once more for rounding
            modes = modes - first @ (first.T @ self._weighed(modes, components))
        return np.hstack([first, self._orthonormal(modes, components)])

    def _orthonormal(self, modes: Floats, components: int) -> Floats:
        gram = modes.T @ self._weighed(modes, components)
        size = np.diag(gram)
        some = size > 0.0
        scale = 1.0 / np.sqrt(size[some])
        share, turned = np.linalg.eigh(scale[:, None] * gram[np.ix_(some, some)] * scale)
        kept = share > _INDEPENDENT * share.max(initial=0.0)
        basis: Floats = modes[:, some] @ (scale[:, None] * turned[:, kept] / np.sqrt(share[kept]))
        return basis

    def _weighed(self, modes: Floats, components: int) -> Floats:
        """The mass matrix times the modes."""
        if components == 1:
            weighed: Floats = self.mass @ modes
            return weighed
        both = [self.mass @ modes[a::2] for a in range(2)]
        return np.stack(both, axis=1).reshape(modes.shape)

    def beam(self) -> tuple[Floats, Floats]:
        """Stiffness in bending (2, 2) N mm² and the centroid (2,) mm, weighed by E."""
        E, x = self._stretch, self._x
        centroid = (E * x).sum(axis=(1, 2)) / E.sum()
        away = x - centroid[:, None, None]
        return np.einsum("ep,aep,bep->ab", E, away, away), centroid


def _part(part: Part, U: Floats, W: Floats, slices: Floats) -> PrismPart:
    moved = np.stack([U[2 * part.nodes + a] for a in range(2)])
    along = W[part.nodes]
    slope = _slopes(part, along)
    strain = _strain(part, moved)
    of_slice = _strain(part, np.stack([slices[2 * part.nodes + a] for a in range(2)]))
    mu, lam = part.material.mu, part.material.lam
    mean = lam * (of_slice[0] + of_slice[1])
    stress = np.stack([mean + 2 * mu * of_slice[0], mean + 2 * mu * of_slice[1], mu * of_slice[2]])
    return PrismPart(
        part,
        part.mesh.doflocs,
        strain,
        moved,
        slope,
        along,
        stress.transpose(2, 1, 0),
    )


def _strain(part: Part, moved: Floats) -> Floats:
    x, y = (_slopes(part, of) for of in moved)
    return np.stack([x[0], y[1], x[1] + y[0]])


def _slopes(part: Part, values: Floats) -> Floats:
    """Slopes (2, n, m) along x and y of nodal values (n, m): the mean of what elements have."""
    corners = np.array([[0, 1, 0, 0.5, 0.5, 0], [0, 0, 1, 0, 0.5, 0.5]])
    basis = Basis(part.mesh, ElementTriP2(), quadrature=(corners, np.full(6, 1 / 12)))
    grad = np.stack([basis.basis[i][0].grad for i in range(6)])  # (6, 2, elements, 6 nodes)
    nodes, n = part.mesh.dofs.element_dofs, part.mesh.doflocs.shape[1]
    ones = np.ones(nodes.size)
    share = coo_matrix((ones, (nodes.T.ravel(), np.arange(nodes.size))), (n, nodes.size)).tocsr()
    count = np.bincount(nodes.ravel(), minlength=n)[:, None]
    of_element = np.einsum("iaep,iem->aepm", grad, values[nodes], optimize=True)
    return np.stack([share @ of.reshape(nodes.size, -1) / count for of in of_element])
