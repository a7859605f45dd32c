"""Contact solved by finite elements against the field of Hertz: what is no single figure.

Source: Johnson, Contact Mechanics (1985), section 4.2(c) and eqs 4.43-4.47: from memory, not seen.
Single figures are rows of contactfe.verify.solved_contact; the cases solved are the same.
"""

import numpy as np
import pytest

from contactfe.hand import hertz
from contactfe.verify.cases import RADIUS, hertz_load, hertz_pressure, large_solid

# Ratio a/R and yield strength, MPa, of the rows that share the solve.
SOLVED = [(0.0025, 150.0), (0.005, 235.0), (0.015, 345.0)]


@pytest.mark.parametrize(("ratio", "strength"), SOLVED)
def test_pressure_pointwise_within_0_4_percent_of_the_peak_inside_0_85_a(ratio, strength):
    # Bodies are meshed for half-widths in steps of 5 %, so the finest elements may lie 2.5 % off
    # the edge of contact: measured 0.14 % where they meet it and 0.30 % where they do not.
    result = large_solid(hertz_load(ratio), yield_strength=strength)
    a, p0 = ratio * RADIUS, hertz_pressure(ratio)
    state = result.reading.state.patch
    inside = np.abs(state.x) < 0.85 * a
    assert inside.sum() > 20
    exact = hertz.pressure(state.x[inside], a, p0)
    assert np.abs(state.pressure[inside] - exact).max() < 4e-3 * p0


def test_stress_down_the_axis():
    # σx = −p0[(1+2s²)/√(1+s²) − 2s], σz = −p0/√(1+s²), s = z/a (the same source, eq. 4.46).
    ratio, strength = SOLVED[0]
    result = large_solid(hertz_load(ratio), yield_strength=strength)
    a, p0 = ratio * RADIUS, hertz_pressure(ratio)
    field = result.reading.member_field
    x, y = field.mesh.doflocs
    on_axis = (x == 0.0) & (y < 2.5 * a)
    assert on_axis.sum() > 20
    across, along = hertz.axis_stress(y[on_axis], a, p0)
    # The finite round adds a tension of q/(πR) = p0 a/(2R) along the surface.
    tension = p0 * ratio / 2.0
    assert np.abs(field.stress[on_axis, 0] - across - tension).max() < 6e-3 * p0
    assert np.abs(field.stress[on_axis, 1] - along).max() < 6e-3 * p0
    assert result.member.peak_von_mises.at.x / a < 0.1
    assert result.plate.peak_von_mises.at.x / a < 0.1
