"""A tube squeezed between plates by a general finite-element library: what is no single figure.

Displacement, patch, hoop stress and peaks are rows of contactfe.verify.reference, and
contactfe/verify/reference_fe.py says how the reference works and what sets the tolerances.
"""

import numpy as np
import pytest

from contactfe.solve.patch import between
from contactfe.verify.reference import FE_PROBLEMS
from contactfe.verify.reference_fe import (
    LIBRARY,
    MIDDLES,
    SMOOTHING,
    bell,
    both,
    von_mises_of_both,
)

pytest.importorskip(
    LIBRARY, reason="needs the reference libraries: pip install contactfe[reference]"
)


@pytest.fixture(params=FE_PROBLEMS)
def solved(request):
    return both(request.param)


def test_the_reference_has_converged(solved):
    softer, found = solved.softer, solved.found
    for name, value in vars(found).items():
        assert value == pytest.approx(getattr(softer, name), rel=1e-3), name
    for boundary, sign in (("mid", -1.0), ("line", -1.0), ("arc", 1.0)):
        assert solved.reference.force(boundary) == pytest.approx(sign * found.line_load, rel=1e-6)


def test_pressure_along_the_patch(solved):
    a, patch = solved.found.half_width, solved.own.state.patch
    x = np.linspace(-1.5, 1.5, 30_001) * a
    p = between(patch.x, patch.pressure, x)
    for middle in MIDDLES * a:
        mine = np.trapezoid(p * bell(x, middle, SMOOTHING * a), x)
        theirs = solved.reference.pressed(middle, SMOOTHING * a)
        assert mine == pytest.approx(theirs, rel=3e-3)


@pytest.mark.parametrize("body", ["post", "plate"])
def test_von_mises_stress_everywhere(solved, body):
    theirs, mine = von_mises_of_both(solved, body)
    off = np.abs(mine - theirs) / theirs.max()
    assert np.quantile(off, 0.99) < 4e-3
    assert off.max() < 1.5e-2  # 1e-2 at the bore, between the places where elements are small
