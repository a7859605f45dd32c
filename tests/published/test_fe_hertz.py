"""Contact solved by finite elements against Hertz's closed forms for a half-space.

Source of the closed forms: Johnson, Contact Mechanics (1985), section 4.2(c) and eqs 4.43-4.47,
6.4: from memory, not seen. The bodies are made large beside the patch, a/R from 0.0025 to 0.015, on
a thick wide plate, and the mesh is that of the default settings.
"""

import numpy as np
import pytest
from bodies import case

from contactfe.assess.bodies import Bodies
from contactfe.assess.section import assess_section
from contactfe.hand import hertz

R, E, NU = 75.0, 200e3, 0.3
E_STAR = hertz.contact_modulus(E, NU, E, NU, "plane strain")


def load_for(ratio: float) -> float:
    """Line load (N/mm) that gives a/R = ratio: a² = 4 q R / (π E*)."""
    return float(np.pi * E_STAR * R * ratio**2 / 4.0)


def solved(ratio: float, **changes):
    c = case([(2 * R, None)], line_load=load_for(ratio), plate=(900.0, 450.0), **changes)
    return assess_section(c, c.sections[0], Bodies(c))


@pytest.fixture(scope="module", params=[0.0025, 0.005, 0.015])
def solid(request):
    return request.param, solved(request.param)


def test_peak_pressure_within_0_2_percent(solid):
    ratio, result = solid
    p0 = float(hertz.peak_pressure(load_for(ratio), R, E_STAR))
    assert result.peak_pressure.value == pytest.approx(p0, rel=2e-3)


def test_half_width_within_0_3_percent(solid):
    ratio, result = solid
    assert result.half_width.value == pytest.approx(ratio * R, rel=3e-3)


def test_pressure_pointwise_within_0_4_percent_of_the_peak_inside_0_85_a(solid):
    # Bodies are meshed for half-widths in steps of 5 %, so the finest elements may lie 2.5 % off
    # the edge of contact: measured 0.14 % where they meet it and 0.30 % where they do not.
    ratio, result = solid
    a = ratio * R
    p0 = float(hertz.peak_pressure(load_for(ratio), R, E_STAR))
    state = result.reading.state.patch
    inside = np.abs(state.x) < 0.85 * a
    assert inside.sum() > 20
    exact = hertz.pressure(state.x[inside], a, p0)
    assert np.abs(state.pressure[inside] - exact).max() < 4e-3 * p0


def test_peak_von_mises_within_0_7_percent_of_the_half_space():
    # 0.5575 p0 at 0.704 a for ν = 0.3. Only at a/R <= 0.005: the finite round adds a tension of
    # q/(πR) = p0 a/(2R) along the surface, which is of the size of the tolerance.
    for ratio in (0.0025, 0.005):
        result = solved(ratio)
        p0 = float(hertz.peak_pressure(load_for(ratio), R, E_STAR))
        for body in (result.member, result.plate):
            assert body.peak.von_mises == pytest.approx(0.5575 * p0, rel=7e-3)
            # The maximum is flat: its depth is known less well than its value.
            assert body.peak.depth / (ratio * R) == pytest.approx(0.704, abs=0.08)
            assert body.peak.x / (ratio * R) < 0.1


def test_maximum_shear_is_0_300_p0():
    # 0.3003 p0 at 0.786 a (the same source, eq. 4.47).
    result = solved(0.005)
    p0 = float(hertz.peak_pressure(load_for(0.005), R, E_STAR))
    assert result.member.max_shear.value == pytest.approx(0.3003 * p0, rel=7e-3)


def test_stress_down_the_axis():
    # σx = −p0[(1+2s²)/√(1+s²) − 2s], σz = −p0/√(1+s²), s = z/a (the same source, eq. 4.46).
    ratio = 0.0025
    result = solved(ratio)
    a, p0 = ratio * R, float(hertz.peak_pressure(load_for(ratio), R, E_STAR))
    field = result.reading.member_field
    x, y = field.mesh.doflocs
    on_axis = (x == 0.0) & (y < 2.5 * a)
    assert on_axis.sum() > 20
    across, along = hertz.axis_stress(y[on_axis], a, p0)
    tension = p0 * ratio / 2.0  # of the finite round: see above
    assert np.abs(field.stress[on_axis, 0] - across - tension).max() < 6e-3 * p0
    assert np.abs(field.stress[on_axis, 1] - along).max() < 6e-3 * p0


def test_first_yield_pressure_is_1_79_of_yield():
    # p0 at first yield = 1.79 Y by von Mises for ν = 0.3 (the same source, eq. 6.4).
    result = solved(0.004, yield_strength=345.0)
    load = result.member.first_yield_line_load
    p0 = float(hertz.peak_pressure(load, R, E_STAR))
    assert p0 / 345.0 == pytest.approx(1.79, rel=1e-2)


def test_unlike_materials():
    # 1/E* = (1−ν1²)/E1 + (1−ν2²)/E2: a steel post on a plate of aluminium.
    q = 300.0
    result = assess(
        case(
            [(2 * R, None)], line_load=q, plate=(900.0, 450.0), plate_young=70e3, plate_poisson=0.33
        )
    )
    modulus = 1.0 / ((1 - 0.3**2) / 200e3 + (1 - 0.33**2) / 70e3)
    assert result.peak_pressure.value == pytest.approx(np.sqrt(q * modulus / (np.pi * R)), rel=3e-3)
    assert result.half_width.value == pytest.approx(
        np.sqrt(4 * q * R / (np.pi * modulus)), rel=4e-3
    )
    # The softer body peaks at its own ν: 0.547 p0 for 0.33 (the same source, by maximising 4.46).
    assert result.plate.peak.von_mises == pytest.approx(
        0.5469 * result.peak_pressure.value, rel=8e-3
    )


def test_plane_stress_uses_its_own_modulus():
    # 1/E* = 1/E1 + 1/E2; mixing the plane states costs 5 % in p0.
    q = 300.0
    result = assess(case([(2 * R, None)], line_load=q, plate=(900.0, 450.0), state="plane stress"))
    assert result.peak_pressure.value == pytest.approx(np.sqrt(q * 100e3 / (np.pi * R)), rel=3e-3)


def test_worked_example_crane_wheel_on_rail():
    # Norton, Machine Design, 4th ed., example 7-2 (public extract seen): wheel of 12 in, contact
    # length 0.875 in, 5000 lbf, steel 30e6 psi, ν = 0.28. Printed: half-width 0.0518 in, largest
    # pressure 70 243 psi, τ13 = 21 354 psi from a factor of 0.304 where the exact one is 0.300
    # (so 1.5 % on that line). Carried through contactfe's own finite elements.
    inch, psi = 25.4, 6.894757e-3
    q = 5000.0 * 4.448222 / (0.875 * inch)
    result = assess(
        case([(12 * inch, None)], line_load=q, young=30e6 * psi, poisson=0.28,
             plate_young=30e6 * psi, plate_poisson=0.28, plate=(1200.0, 600.0))
    )  # fmt: skip
    assert result.half_width.value / inch == pytest.approx(0.0518, rel=3e-3)
    assert result.peak_pressure.value / psi == pytest.approx(70243.0, rel=3e-3)
    assert result.member.max_shear.value / psi == pytest.approx(21354.0, rel=2e-2)


def assess(c):
    return assess_section(c, c.sections[0], Bodies(c))
