"""The line contact of a round bar on a thick plate by a boundary-element library.

Reference: ContactMechanics (written against version 1.8.3), a general-purpose solver for elastic
half-spaces: Green's function applied by FFT on an even grid, contact found by its constrained
conjugate gradients. It knows nothing of meshes, mortars or active-set Newton steps. Both bodies
enter it as one half-plane of contact modulus E* against a rigid profile, which is the circle's own.

Sources of difference, which set the tolerances:

- the library's line is periodic. Its neighbours, each a box L away, dish the surface like a
  curvature: the kernel ln|sin(πs/L)| is ln|πs/L| − (πs/L)²/6 + …, so the pressure rises and the
  half-width falls by (πa/L)²/12, 0.8e-4 for L = 100 a, and 2.1e-3 for L = 20 a (derived here; a
  test measures it);
- its grid: N = 2¹⁴ cells put 328 across the patch, which resolves the pressure to about 1e-5 of the
  peak inside 0.85 a, where no edge is near (halving N moves it by less);
- finite bodies instead of half-planes: of order (a/R)², 2e-4 at most;
- contactfe's own mesh. At the fine level, 8 quadratic elements per half-width, 4e-4 is left in the
  peak and 6e-4 in the half-width: 7e-4 and 9e-4 in all. At twice the resolution no more than a few
  1e-5 and 2e-4: 3e-4 and 5e-4 in all.
"""

import warnings
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from typing import Any

import numpy as np

from contactfe.errors import SolveError
from contactfe.solve.elastic import Floats
from contactfe.solve.joint import PatchState, join, solve_joint
from contactfe.verify.bodies import plate, post
from contactfe.verify.cases import E_STAR, RADIUS, hertz_load

LIBRARY = "ContactMechanics"
"""The module that must be installed; it brings SurfaceTopography."""


@dataclass(frozen=True)
class Pressed:
    """The library's contact: cells ``x`` (n,) mm, their pressure MPa, its peak, the half-width."""

    x: Floats
    pressure: Floats
    peak: float
    half_width: float


@cache
def by_library(line_load: float, box: float, points: int = 2**14) -> Pressed:
    """A solid of :data:`RADIUS` on a half-space under a line load (N/mm), every ``box`` mm.

    Raises
    ------
    SolveError
        if the library does not converge, or its half-width is unclear by more than 3 cells
    """
    library, topography = _libraries()
    x = (np.arange(points, dtype=np.float64) - points // 2) * (box / points)
    profile = -(RADIUS - np.sqrt(RADIUS**2 - x**2))
    contact = library.Systems.NonSmoothContactSystem(
        library.PeriodicFFTElasticHalfSpace((points,), E_STAR, (box,)),
        topography.UniformLineScan(profile, box, periodic=True),
    )
    result = contact.minimize_proxy(external_force=line_load, pentol=1e-10, maxiter=10_000)
    if not result.success:
        raise SolveError("the boundary-element reference did not converge")
    pressure: Floats = np.asarray(result.jac, dtype=float).ravel() * points / box
    peak = float(pressure.max())
    # Half-width by its own method: p² is straight in x² for a round contact, cells at the edge
    # (where a cell is half in, half out) left aside.
    inside = pressure > 0.3 * peak
    line = np.polynomial.Polynomial.fit(x[inside] ** 2, pressure[inside] ** 2, 1)
    half_width = float(np.sqrt(line.roots()[0]))
    if abs(np.abs(x[pressure > 0.0]).max() - half_width) > 3 * box / points:
        raise SolveError("the boundary-element reference has no clear half-width")
    return Pressed(x, pressure, peak, half_width)


def wide(ratio: float) -> Pressed:
    """The library's contact at the load of a/R = ratio, in a box of a hundred half-widths."""
    return by_library(hertz_load(ratio), 100.0 * ratio * RADIUS)


@cache
def own(ratio: float, scale: float) -> PatchState:
    """The patch by contactfe at that load: a solid between two thick plates on rigid bases."""
    a = ratio * RADIUS
    joint = join(
        post(RADIUS, 0.0, a, "diametral", scale),
        plate(400.0, 200.0, a, scale=scale),
        radius=RADIUS,
    )
    return solve_joint(joint, hertz_load(ratio)).patch


def _libraries() -> tuple[Any, Any]:
    """The optional libraries, loaded where they are used."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # one warns that it runs without MPI
        return import_module(LIBRARY), import_module("SurfaceTopography")
