"""The line contact of a round bar by a boundary-element library: what is no single figure.

Peak pressure and half-width are rows of contactfe.verify.reference, and contactfe/verify/
reference_bem.py says how the reference works and what sets the tolerances. Along the patch more is
allowed, 3e-3 and 1e-3 of the peak: pressure steepens towards 0.85 a and is interpolated between
nodes there.
"""

import warnings

import numpy as np
import pytest

from contactfe.hand import hertz
from contactfe.solve.patch import between
from contactfe.verify.cases import E_STAR, RADIUS, hertz_load
from contactfe.verify.reference import BEM_LEVELS, BEM_RATIOS
from contactfe.verify.reference_bem import LIBRARY, by_library, own, wide

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it warns that it runs without MPI
    pytest.importorskip(
        LIBRARY, reason="needs the reference libraries: pip install contactfe[reference]"
    )


def test_the_box_is_wide_enough():
    # The reference itself: its pressure rises above Hertz's p0 = √(qE*/πR) by what the neighbours
    # do, in boxes of 20 a and 100 a alike.
    ratio = 0.01
    q = hertz_load(ratio)
    p0 = hertz.peak_pressure(q, RADIUS, E_STAR)
    for box in (20.0, 100.0):
        rise = (np.pi / box) ** 2 / 12
        found = by_library(q, box * ratio * RADIUS).peak
        assert found / p0 - 1 == pytest.approx(rise, rel=0.02, abs=2e-5)


@pytest.mark.parametrize(
    ("ratio", "scale"),
    [
        pytest.param(ratio, scale, id=f"{mesh}-{ratio:g}")
        for ratio in BEM_RATIOS
        for mesh, scale, *_ in BEM_LEVELS
    ],
)
def test_pressure_along_the_patch(ratio, scale):
    reference, state = wide(ratio), own(ratio, scale)
    inside = np.abs(reference.x) < 0.85 * reference.half_width
    off = np.abs(between(state.x, state.pressure, reference.x) - reference.pressure)
    assert off[inside].max() < (3e-3 if scale == 1.0 else 1e-3) * reference.peak
