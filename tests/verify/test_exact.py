"""The exact fields that solved cases are held against: limits, symmetry and equilibrium."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from contactfe.hand import thick_ring
from contactfe.solve.elastic import Elastic
from contactfe.verify.bodies import STEEL
from contactfe.verify.cases import CONCRETE, HARD
from contactfe.verify.exact import BondedDisc, corner_stress, michell

R, BORE, LOAD = 75.0, 50.0, 400.0
ANGLES = np.linspace(0.0, np.pi, 37)


@pytest.mark.parametrize("side", ["steel", "disc"])
def test_bonded_steel_in_steel_is_the_solid(side):
    found = getattr(BondedDisc(STEEL, LOAD, R, BORE), side)(BORE, ANGLES)
    solid = thick_ring.stress(BORE, ANGLES, LOAD, R, 0.0, "diametral", 0.3, "plane strain")
    # The series left off after order 60 is (2/3)^60, 3e-11 of the load.
    assert found == pytest.approx(np.array(solid), abs=1e-6 * LOAD / R)


def test_bonded_vanishing_infill_is_the_tube():
    found = BondedDisc(Elastic(1e-3, 0.3), LOAD, R, BORE).steel(BORE, ANGLES)
    tube = thick_ring.stress(BORE, ANGLES, LOAD, R, BORE, "diametral", 0.3, "plane strain")
    assert found == pytest.approx(np.array(tube), abs=1e-5 * np.abs(tube[1]).max())


@pytest.mark.parametrize("infill", [CONCRETE, HARD], ids=["soft", "hard"])
def test_bonded_disc_is_in_equilibrium(infill):
    # Tractions agree across the bond, and half the load crosses the level diameter on each side:
    # but for 4e-6 that the orders beyond 400 carry near the outside.
    bonded = BondedDisc(infill, LOAD, R, BORE, 400)
    steel, inside = bonded.steel(BORE, ANGLES), bonded.disc(BORE, ANGLES)
    assert steel[[0, 2]] == pytest.approx(inside[[0, 2]], abs=1e-9 * np.abs(steel).max())
    points, weights = np.polynomial.legendre.leggauss(40)
    level = np.array([np.pi / 2.0])
    through = 0.0
    for low, high, series in ((0.0, BORE, bonded.disc), (BORE, R, bonded.steel)):
        half = (high - low) / 2.0
        for point, weight in zip(points, weights, strict=True):
            r = (low + high) / 2.0 + half * point
            through += weight * half * series(r, level)[1, 0]
    assert 2.0 * through == pytest.approx(-LOAD, rel=2e-5)


@given(st.integers(1, 6).map(lambda n: 2 * n), st.floats(0.3, 1.0), st.floats(0.0, 0.5))
def test_displacements_of_michell_have_the_strains_of_their_stresses(n, r, poisson):
    # Hooke's law in plane strain, 2μ ε = σ − ν (σr + σθ): εr = ∂ur/∂r, εθ = (ur + n uθ)/r where
    # ur goes with cos nθ and uθ with sin nθ, 2 εrθ = ∂uθ/∂r − (uθ + n ur)/r.
    material, h = Elastic(1.0, poisson), 1e-5 * r
    radial, hoop, shear, ur, ut = michell(n, r, material)
    slope = (michell(n, r + h, material) - michell(n, r - h, material)) / (2.0 * h)
    size = np.abs(hoop).max()
    mean = poisson * (radial + hoop)
    # The difference quotient leaves 1e-8 or so.
    assert slope[3] == pytest.approx(radial - mean, abs=1e-6 * size)
    assert (ur + n * ut) / r == pytest.approx(hoop - mean, abs=1e-9 * size)
    assert slope[4] - (ut + n * ur) / r == pytest.approx(2.0 * shear, abs=1e-6 * size)


def test_corner_of_equal_loads_is_even_about_the_diagonal():
    # σr and σθ at 45° − β and 45° + β are alike, τrθ opposite.
    beta = np.linspace(0.1, 2.0, 9)
    r = np.full_like(beta, 60.0)
    before, after = (
        corner_stress(r, np.pi / 4.0 + side * beta, (100.0, 100.0), R, BORE) for side in (-1, 1)
    )
    assert before[:2] == pytest.approx(after[:2], rel=1e-9)
    assert before[2] == pytest.approx(-after[2], rel=1e-9, abs=1e-9)
