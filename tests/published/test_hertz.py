"""Hertz line contact beside what books print, each row with its source, value and tolerance.

The tolerance is that of the print: half a unit of its last digit, or what the book rounds on the
way. ``from memory, not seen`` marks a value whose page was not open when it was written down;
``public extract`` one whose printed numbers were read in a public copy of that part.
"""

import numpy as np
import pytest

from contactfe.hand import hertz, stress

NORTON = "Norton, Machine Design, 4th ed., example 7-2, crane wheel on rail (public extract)"
BORESI = (
    "Boresi & Schmidt, Advanced Mechanics of Materials, 6th ed., ch. 17, rollers (public extract)"
)
HANDBOOK = "Mechanical Engineer's Data Handbook, contact stress, p. 52 (public extract)"
JOHNSON = "Johnson, Contact Mechanics, 1985, section {} (from memory, not seen)"


def norton():
    """A 12 in wheel, 5000 lbf on 0.875 in, 30e6 psi, ν = 0.28 both; inches and psi."""
    E_star = hertz.contact_modulus(30e6, 0.28, 30e6, 0.28, "plane strain")
    q = 5000 / 0.875
    a, p0 = float(hertz.half_width(q, 6.0, E_star)), float(hertz.peak_pressure(q, 6.0, E_star))
    across, into, _ = hertz.stress_field(0.0, 0.0, a, p0)
    shear, depth = hertz.peak_max_shear(p0, 0.28, "plane strain")
    return {
        "half-width": a,
        "area": 2 * a * 0.875,
        "mean pressure": q / (2 * a),
        "peak pressure": p0,
        "stress into the rail": into,
        "stress along the axle": stress.out_of_plane(across, into, 0.28, "plane strain"),
        "peak shear": shear,
        "its depth": depth * a,
    }


def boresi():
    """Two steel rollers of 40 mm radius, 24.1 kN on 20 mm, 200 GPa, ν = 0.29; mm and MPa."""
    E_star = hertz.contact_modulus(200e3, 0.29, 200e3, 0.29, "plane strain")
    p0 = float(hertz.peak_pressure(24.1e3 / 20, hertz.relative_radius(40.0, 40.0), E_star))
    return {
        "greatest stress": -min(hertz.axis_stress(0.0, 1.0, p0)),
        "peak shear": hertz.peak_max_shear(p0, 0.29, "plane strain")[0],
    }


def johnson():
    """Pressures at first yield by yield strength, and the two peaks by p0, at ν = 0.3."""
    von_mises, depth = hertz.peak_von_mises(1.0, 0.3, "plane strain")
    shear, shear_depth = hertz.peak_max_shear(1.0, 0.3, "plane strain")
    return {
        "p0/Y at first yield, von Mises": 1 / von_mises,
        "p0/k at first yield, von Mises": np.sqrt(3) / von_mises,
        "depth of first yield z/a": depth,
        "p0/Y at first yield, Tresca": 1 / (2 * shear),
        "peak shear/p0": shear,
        "depth of peak shear z/a": shear_depth,
    }


@pytest.mark.parametrize(
    ("source", "example", "quantity", "printed", "tolerance"),
    [
        (NORTON, norton, "half-width", 0.0518, 0.00005),
        (NORTON, norton, "area", 0.091, 0.0005),
        (NORTON, norton, "mean pressure", 55169, 1),
        (NORTON, norton, "peak pressure", 70243, 1),
        (NORTON, norton, "stress into the rail", -70243, 1),
        (NORTON, norton, "stress along the axle", -39336, 1),
        # The book rounds the factor 0.3003 up to 0.304.
        (NORTON, norton, "peak shear", 21354, 0.013 * 21354),
        (NORTON, norton, "its depth", 0.041, 0.0005),
        # The book rounds the half-width before it divides by it.
        (BORESI, boresi, "greatest stress", 1445, 0.002 * 1445),
        (BORESI, boresi, "peak shear", 433, 0.004 * 433),
        (JOHNSON.format("6.1"), johnson, "p0/Y at first yield, von Mises", 1.79, 0.005),
        (JOHNSON.format("6.1"), johnson, "p0/k at first yield, von Mises", 3.1, 0.05),
        (JOHNSON.format("6.1"), johnson, "depth of first yield z/a", 0.70, 0.005),
        (JOHNSON.format("6.1"), johnson, "p0/Y at first yield, Tresca", 1.67, 0.005),
        (JOHNSON.format("4.2"), johnson, "peak shear/p0", 0.300, 0.0005),
        (JOHNSON.format("4.2"), johnson, "depth of peak shear z/a", 0.786, 0.0005),
    ],
)
def test_printed_value(source, example, quantity, printed, tolerance):
    assert example()[quantity] == pytest.approx(printed, abs=tolerance), f"{source}: {quantity}"


@pytest.mark.parametrize("q", [10.0, 1000.0, 30000.0])
def test_handbook_form_of_the_width(q):
    """w = √(32F(1 − ν²)r/(πLE)), σ = 4F/(πwL); Mechanical Engineer's Data Handbook, p. 52."""
    E, nu, r = 210e3, 0.3, 75.0
    E_star = hertz.contact_modulus(E, nu, E, nu, "plane strain")
    w = np.sqrt(32 * q * (1 - nu**2) * r / (np.pi * E))
    assert 2 * hertz.half_width(q, r, E_star) == pytest.approx(w, rel=1e-12), HANDBOOK
    assert hertz.peak_pressure(q, r, E_star) == pytest.approx(4 * q / (np.pi * w)), HANDBOOK


@pytest.mark.parametrize(
    ("form", "coefficient", "tolerance"),
    [("p0 = c √(qE/D)", 0.591, 0.0005), ("2a = c √(qD/E)", 2.15, 0.005)],
)
def test_rounded_coefficients_for_steel_on_steel(form, coefficient, tolerance):
    """Young, Roark's Formulas for Stress and Strain, 7th ed., Table 14.1 case 2 — from memory."""
    E_star = hertz.contact_modulus(1.0, 0.3, 1.0, 0.3, "plane strain")
    value = {
        "p0 = c √(qE/D)": hertz.peak_pressure(1.0, 0.5, E_star),
        "2a = c √(qD/E)": 2 * hertz.half_width(1.0, 0.5, E_star),
    }[form]
    assert value == pytest.approx(coefficient, abs=tolerance)


@pytest.mark.parametrize(
    ("s", "across", "along", "out", "shear", "von_mises", "von_mises_plane_stress"),
    [
        (0.00, -1.0000, -1.0000, -0.6000, 0.0000, 0.4000, 1.0000),
        (0.25, -0.5914, -0.9701, -0.4685, 0.1894, 0.4529, 0.8469),
        (0.50, -0.3416, -0.8944, -0.3708, 0.2764, 0.5388, 0.7818),
        (0.75, -0.2000, -0.8000, -0.3000, 0.3000, 0.5568, 0.7211),
        (1.00, -0.1213, -0.7071, -0.2485, 0.2929, 0.5337, 0.6549),
        (2.00, -0.0249, -0.4472, -0.1416, 0.2111, 0.3777, 0.4353),
        (3.00, -0.0083, -0.3162, -0.0974, 0.1540, 0.2744, 0.3121),
    ],
)
def test_axis_by_the_printed_formulas(
    s, across, along, out, shear, von_mises, von_mises_plane_stress
):
    """Johnson, Contact Mechanics, eqs 4.46–4.47 (from memory, not seen), evaluated by hand."""
    sx, sz = hertz.axis_stress(s, 1.0, 1.0)
    found = [
        sx,
        sz,
        stress.out_of_plane(sx, sz, 0.3, "plane strain"),
        (sx - sz) / 2,
        stress.von_mises(sx, sz, 0.0, 0.3, "plane strain"),
        stress.von_mises(sx, sz, 0.0, 0.3, "plane stress"),
    ]
    expected = [across, along, out, shear, von_mises, von_mises_plane_stress]
    np.testing.assert_allclose(found, expected, atol=5.1e-5)


@pytest.mark.parametrize(
    ("x", "z", "across", "into", "shear"),
    [
        (0.3, 0.5, -0.329716, -0.841995, -0.107117),
        (-0.7, 0.2, -0.455011, -0.672844, 0.161413),
        (1.4, 0.6, -0.238740, -0.100044, -0.141963),
    ],
)
def test_field_by_the_printed_formulas(x, z, across, into, shear):
    """McEwen, Phil. Mag. 40 (1949); Johnson eqs 4.49 (from memory, not seen), evaluated apart."""
    found = hertz.stress_field(x, z, 1.0, 1.0)
    np.testing.assert_allclose(found, [across, into, shear], atol=5.1e-7)


def test_orthogonal_shear():
    """Johnson, section 9.2 (from memory, not seen): at most p0/4, at x = 0.87 a, z = 0.50 a."""
    x, z = np.meshgrid(np.linspace(0, 2, 401), np.linspace(0, 2, 401))
    shear = np.abs(hertz.stress_field(x, z, 1.0, 1.0)[2])
    at = np.unravel_index(shear.argmax(), shear.shape)
    assert shear.max() == pytest.approx(0.25, abs=1e-5)
    assert (x[at], z[at]) == (pytest.approx(0.866, abs=0.005), pytest.approx(0.5, abs=0.005))
