"""Posts of one section in three dimensions, made once for all tests that ask for them, and the
resultants of their stress.

Lengths in mm. By default elements are twice the standard size and the basis has the waves that go
with it, as on the coarse level of a case.
"""

from functools import cache

import numpy as np
from skfem import Basis, ElementTriP2

from contactfe.solve.bar import bar
from contactfe.solve.elastic import Elastic
from contactfe.solve.prism import prism
from contactfe.verify import bodies

RADIUS, DIAMETER = 75.0, 150.0
LENGTH = 8.0 * DIAMETER
BAND = 0.05
"""Half-width of a load over the radius."""

STANDARD = {"scale": 1.0, "waves": 9}
"""The mesh and the basis of the standard level."""

CONCRETE = Elastic(30e3, 0.2)


@cache
def post(
    bore=50.0, held_by="beam shear", infill=None, tangential=False, scale=2.0, waves=6,
    radius=RADIUS, band=BAND,
):  # fmt: skip
    """The prism of a round post of steel, solid where ``bore`` is 0."""
    if held_by == "rigid core":
        body = bodies.post_on_core(radius, bore, 0.3 * radius)
    else:
        body = bodies.post(
            radius, bore, 0.3 * radius, held_by, scale, infill=infill, tangential=tangential
        )
    return prism(body, radius, band * radius, waves)


@cache
def pressed(start, end, length=LENGTH, **of):
    """That post of some length, met from ``start`` to ``end``."""
    return bar(post(**of), length, start, end)


def steel(of):
    """The part of a prism that meets the plate."""
    return next(part for part in of.parts if part.part.name != "infill")


def node(part, x, y):
    """Number of the node of a part nearest to a point."""
    return int(np.argmin((part.x[0] - x) ** 2 + (part.x[1] - y) ** 2))


def under(of):
    """Number of the node at the bore, or at the centre of a solid, under the load."""
    part = steel(of)
    middle = np.flatnonzero(np.abs(part.x[0]) < 1e-6)
    below = middle[part.x[1, middle] < of.radius * (1.0 + 1e-6)]
    return int(below[np.argmax(part.x[1, below])])


def over_section(of, fields):
    """Integrals (c,) over the section of nodal fields (n, c) of each part, and of them times x, y
    from the middle (c, 2)."""
    total, moments = 0.0, 0.0
    for part, field in zip(of.parts, fields, strict=True):
        basis = Basis(part.part.mesh, ElementTriP2(), intorder=6)
        x = np.asarray(basis.global_coordinates()) - np.reshape((0.0, of.radius), (2, 1, 1))
        shapes = np.stack([np.asarray(basis.basis[i][0]) + 0.0 * basis.dx for i in range(6)])
        there = np.einsum("iep,iec->epc", shapes, field[part.part.mesh.dofs.element_dofs])
        total = total + np.einsum("epc,ep->c", there, basis.dx)
        moments = moments + np.einsum("epc,aep,ep->ca", there, x, basis.dx)
    return total, moments


def resultants(of, stresses):
    """Forces (3,) along x, y, z, N, and moments (3,), N mm, of stresses (n, 6) of each part.

    The first moment is that which stretches the side at smaller x, the second that at smaller y,
    the third turns x to y.
    """
    total, moments = over_section(of, stresses)
    force = total[[4, 5, 2]]
    return force, np.array([-moments[2, 0], -moments[2, 1], moments[5, 0] - moments[4, 1]])
