from dataclasses import replace

import numpy as np
import pytest
from alignments import case

from contactfe.assess.beam import _layered, axial_stress, beam_of
from contactfe.case import Infill, Section

TUBE = Section("tube", 150.0, wall=30.0)
E, G = 210e3, 210e3 / 2.6


def filled(young: float, poisson: float = 0.3) -> Section:
    return replace(TUBE, infill=Infill(young, poisson, 2400.0, name="grout"))


def test_a_bare_post_has_the_stiffness_of_its_round():
    beam = beam_of(case(), TUBE)
    assert beam.bending == pytest.approx(E * np.pi / 64 * (150.0**4 - 90.0**4))
    # κ of m = 0.6 at ν = 0.3 by Cowper's formula, worked out apart: 6·1.3·1.36² over
    # 8.8·1.36² + 23.6·0.36
    kappa = 7.8 * 1.36**2 / (8.8 * 1.36**2 + 23.6 * 0.36)
    assert beam.shear == pytest.approx(kappa * G * np.pi / 4 * (150.0**2 - 90.0**2))


def test_an_infill_of_steel_makes_a_solid_of_a_tube():
    solid, found = beam_of(case(), Section("solid", 150.0)), beam_of(case(), filled(E))
    assert found.bending == pytest.approx(solid.bending)
    assert found.shear == pytest.approx(solid.shear)


def test_an_infill_of_nothing_leaves_the_tube():
    tube, found = beam_of(case(), TUBE), beam_of(case(), filled(1e-3))
    assert found.bending == pytest.approx(tube.bending)
    assert found.shear == pytest.approx(tube.shear, rel=1e-5)  # a millionth of nothing is left
    stiffness = [beam_of(case(), filled(E)).shear for E in (1.0, 30e3, 100e3, 210e3)]
    assert stiffness == sorted(stiffness)


def test_an_infill_stiffer_than_steel_is_corrected_as_a_solid_is():
    steel = (E, 0.3)
    of_solid = beam_of(case(), filled(E)).shear / _layered(150.0, 90.0, steel, steel)
    stiffer = _layered(150.0, 90.0, steel, (2 * E, 0.3))
    assert beam_of(case(), filled(2 * E)).shear == pytest.approx(of_solid * stiffer)


def test_shear_spread_over_each_width_has_0_9_of_a_solid():
    """Jourawski's κ = 0.9 of a round of one material, whatever ν, exactly."""
    steel = (E, 0.3)
    found = _layered(150.0, 90.0, steel, steel)
    assert found == pytest.approx(0.9 * G * np.pi / 4 * 150.0**2, rel=1e-5)  # 2000 layers


def test_shear_spread_over_each_width_has_two_thirds_of_a_thin_tube():
    """Its flow is (2V/A) sin θ along the wall; of that the part along the force, (2V/A) sin² θ,
    has the energy (V²/2GA)·4·3/8: derived here. With the part across κ would be 1/2."""
    found = _layered(150.0, 149.0, (E, 0.3), (0.0, 0.0))
    # A wall of 1/300 of the diameter.
    assert found == pytest.approx(2 / 3 * G * np.pi / 4 * (150.0**2 - 149.0**2), rel=1e-3)


def test_an_infill_gives_way_in_shear_by_its_own_poisson():
    soft, stiff = (beam_of(case(), filled(30e3, nu)).shear for nu in (0.3, 0.0))
    # The infill has G of 11.5 and 15 GPa on 0.36 of the area, beside 80.8 GPa of the steel's 0.64.
    assert 1.01 < stiff / soft < 1.05
    # What corrects it goes by that modulus: 15 GPa both.
    steel, infills = (E, 0.3), ((30e3, 0.0), (39e3, 0.3))
    one, other = (
        beam_of(case(), filled(*infill)).shear / _layered(150.0, 90.0, steel, infill)
        for infill in infills
    )
    assert one == pytest.approx(other)


def test_bending_stretches_the_impacted_face_in_proportion_to_the_moment():
    at, moment = case(), 10e6
    y = np.array([0.0, 75.0, 150.0])
    stress = axial_stress(at, Section("solid", 150.0), E, moment, y)
    most = 32 * moment / (np.pi * 150.0**3)  # M/W of a solid round
    np.testing.assert_allclose(stress, [most, 0.0, -most], atol=1e-9)
    assert not axial_stress(at, TUBE, E, 0.0, y).any()
    grout = axial_stress(at, filled(30e3), 30e3, moment, y)
    steel = axial_stress(at, filled(30e3), E, moment, y)
    np.testing.assert_allclose(grout, steel * 30e3 / E)
    # Steel and infill bend together: M y E/(EI) of both.
    EI = np.pi / 64 * (E * (150.0**4 - 90.0**4) + 30e3 * 90.0**4)
    np.testing.assert_allclose(steel, moment * (75.0 - y) * E / EI, atol=1e-9)
