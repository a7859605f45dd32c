"""The line contact of a round bar on a thick plate by a boundary-element library.

Reference: ContactMechanics (written against version 1.8.3), a general-purpose solver for elastic
half-spaces: Green's function applied by FFT on an even grid, contact found by its constrained
conjugate gradients. It knows nothing of meshes, mortars or active-set Newton steps. Both bodies
enter it as one half-plane of contact modulus E* against a rigid profile, which is the circle's own.

Sources of difference, which set the tolerances:

- the library's line is periodic. Its neighbours, each a box L away, dish the surface like a
  curvature: the kernel ln|sin(πs/L)| is ln|πs/L| − (πs/L)²/6 + …, so the pressure rises and the
  half-width falls by (πa/L)²/12, 0.8e-4 for L = 100 a, and 2.1e-3 for L = 20 a (derived here; the
  first test measures it);
- its grid: N = 2¹⁴ cells put 328 across the patch, which resolves the pressure to about 1e-5 of the
  peak inside 0.85 a, where no edge is near (halving N moves it by less);
- finite bodies instead of half-planes: of order (a/R)², 2e-4 at most;
- contactfe's own mesh. At the fine level, 8 quadratic elements per half-width, 4e-4 is left in the
  peak and 6e-4 in the half-width: 7e-4 and 9e-4 in all. At twice the resolution no more than a few
  1e-5 and 2e-4: 3e-4 and 5e-4 in all. Along the patch more is allowed, 3e-3 and 1e-3 of the peak:
  pressure steepens towards 0.85 a and is interpolated between nodes there.
"""

import warnings

import numpy as np
import pytest
from bodies import STEEL, member, plate

from contactfe.solve.joint import join, solve_joint
from contactfe.solve.patch import between

REASON = "needs the reference libraries: pip install contactfe[reference]"
with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it warns that it runs without MPI
    library = pytest.importorskip("ContactMechanics", reason=REASON)
    topography = pytest.importorskip("SurfaceTopography", reason=REASON)

E_STAR = STEEL.young / (2 * (1 - STEEL.poisson**2))
RADIUS = 75.0
WIDTHS = [0.005, 0.01, 0.015]
"""a/R."""


class Reference:
    """The library's solution: x, pressure, and from them the peak and the half-width."""

    def __init__(self, line_load, box, points=2**14):
        self.x = (np.arange(points) - points // 2) * (box / points)
        profile = -(RADIUS - np.sqrt(RADIUS**2 - self.x**2))
        contact = library.Systems.NonSmoothContactSystem(
            library.PeriodicFFTElasticHalfSpace((points,), E_STAR, (box,)),
            topography.UniformLineScan(profile, box, periodic=True),
        )
        result = contact.minimize_proxy(external_force=line_load, pentol=1e-10, maxiter=10_000)
        assert result.success
        self.pressure = np.asarray(result.jac).ravel() * points / box
        self.peak = self.pressure.max()
        # Half-width by its own way: p² is straight in x² for a round contact, cells at the edge
        # (where a cell is half in, half out) left aside.
        inside = self.pressure > 0.3 * self.peak
        line = np.polynomial.Polynomial.fit(self.x[inside] ** 2, self.pressure[inside] ** 2, 1)
        self.half_width = np.sqrt(line.roots()[0])
        touching = np.abs(self.x[self.pressure > 0.0]).max()
        assert abs(touching - self.half_width) < 3 * box / points


def load_for(half_width_expected):
    """Line load of the Hertz contact of this half-width: it only sets the size of the problem."""
    return np.pi * E_STAR * half_width_expected**2 / (4 * RADIUS)


def contactfe_state(line_load, expected, scale):
    """A solid round bar squeezed between two thick plates on rigid beds."""
    joint = join(
        member(RADIUS, 0.0, expected, "opposed", scale),
        plate(400.0, 200.0, expected, scale=scale),
        radius=RADIUS,
    )
    return solve_joint(joint, line_load).patch


def test_the_box_is_wide_enough():
    # The reference itself: its pressure rises above Hertz's p0 = √(qE*/πR) by what the neighbours
    # do, in boxes of 20 a and 100 a alike.
    a = 0.01 * RADIUS
    q = load_for(a)
    hertz = np.sqrt(q * E_STAR / (np.pi * RADIUS))
    for box in (20.0, 100.0):
        rise = (np.pi / box) ** 2 / 12
        assert Reference(q, box * a).peak / hertz - 1 == pytest.approx(rise, rel=0.02, abs=2e-5)


@pytest.mark.parametrize("ratio", WIDTHS)
@pytest.mark.parametrize(
    ("scale", "peak", "width", "shape"),
    [(1.0, 7e-4, 9e-4, 3e-3), (0.5, 3e-4, 5e-4, 1e-3)],
    ids=["fine", "finer"],
)
def test_line_contact(ratio, scale, peak, width, shape):
    a = ratio * RADIUS
    q = load_for(a)
    reference = Reference(q, 100.0 * a)
    state = contactfe_state(q, a, scale)
    assert state.pressure.max() == pytest.approx(reference.peak, rel=peak)
    assert state.half_width == pytest.approx(reference.half_width, rel=width)
    inside = np.abs(reference.x) < 0.85 * reference.half_width
    off = np.abs(between(state.x, state.pressure, reference.x) - reference.pressure)
    assert off[inside].max() < shape * reference.peak
