"""Hertz contact of unlike materials, by finite elements: E and ν of both bodies.

1/E* = (1 − ν1²)/E1 + (1 − ν2²)/E2 in plane strain, 1/E1 + 1/E2 in plane stress. Source: Johnson,
Contact Mechanics (1985), section 4.2(c) and eqs 4.43-4.47: from memory, not seen. A solid on a
thick wide plate, a/R = 0.005, at the standard element size, without friction.
"""

import numpy as np
import pytest
from bodies import member, plate

from contactfe.hand import hertz
from contactfe.solve.elastic import Elastic
from contactfe.solve.field import sample
from contactfe.solve.joint import join, member_fields, plate_field, solve_joint

R, RATIO = 75.0, 0.005
PAIRS = {
    "steel on aluminium": ((200e3, 0.3), (70e3, 0.33)),
    "concrete on steel": ((30e3, 0.2), (200e3, 0.3)),
    "ν = 0 on ν = 0.45": ((110e3, 0.0), (200e3, 0.45)),
}


@pytest.mark.parametrize("state", ["plane strain", "plane stress"])
@pytest.mark.parametrize("names", PAIRS)
def test_contact_and_peaks_of_unlike_materials(names, state):
    upper, lower = (Elastic(E, nu, state) for E, nu in PAIRS[names])
    modulus = hertz.contact_modulus(upper.young, upper.poisson, lower.young, lower.poisson, state)
    a = RATIO * R
    q = float(np.pi * modulus * R * RATIO**2 / 4.0)
    p0 = float(hertz.peak_pressure(q, R, modulus))
    joint = join(
        member(R, 0.0, a, "beam shear", 1.0, upper),
        plate(900.0, 450.0, a, scale=1.0, steel=lower),
        radius=R,
    )
    solved = solve_joint(joint, q)
    patch = solved.patch
    # Measured: 0.06 %, 0.06 % and 0.23 % of p0.
    assert patch.pressure.max() == pytest.approx(p0, rel=1.5e-3)
    assert patch.half_width == pytest.approx(a, rel=1.5e-3)
    inside = np.abs(patch.x) < 0.85 * a
    assert np.abs(patch.pressure - hertz.pressure(patch.x, a, p0))[inside].max() < 3e-3 * p0
    # Each body peaks by its own ν. Measured 0.23 %, the tension of the finite round in it.
    bodies = ((member_fields(joint, solved)["whole"], upper), (plate_field(joint, solved), lower))
    for field, of in bodies:
        peak, _ = hertz.peak_von_mises(p0, of.poisson, state)
        assert sample(field).von_mises.max() == pytest.approx(peak, rel=4e-3)
