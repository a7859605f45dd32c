from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.errors import SolveError
from contactfe.solve import line
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import Beam, influence, press
from contactfe.verify.length import founded, linear

POST = Beam(5.2e12, 1.27e9)
RIGID = Beam(np.inf, np.inf)
WHERE = (150e3, 450.0, 160.0)


def power(exponent: float, most: float = 0.5, points: int = 60) -> ForceApproach:
    """q = 25 kN/mm · (δ/0.1 mm)^n, like a contact."""
    d = np.geomspace(1e-3, most, points)
    q = 2500.0 * (d / 0.1) ** exponent
    return ForceApproach(q, d, exponent * q / d, "tangent")


CONTACT = power(1.1)

tilts = st.floats(-0.05, 0.05)
exponents = st.floats(1.0, 1.5)


def test_sizes_that_are_none_are_refused():
    for where in ((0.0, 450.0, 160.0), (1.0, -1.0, 160.0), (1.0, 450.0, 0.0)):
        with pytest.raises(ValueError, match="must be positive"):
            press(POST, CONTACT, *where)
    with pytest.raises(ValueError, match="at most twice"):
        press(POST, CONTACT, 1.0, 450.0, 901.0)
    # from the root on it can be
    assert press(POST, CONTACT, 1e3, 450.0, 900.0).z[0] == 0.0


def test_the_influence_is_that_of_a_cantilever_and_the_same_both_ways():
    z = np.linspace(0.0, 500.0, 11)
    G = influence(POST, z, z)
    np.testing.assert_allclose(G, G.T)
    tip = 500.0**3 / (3 * POST.bending) + 500.0 / POST.shear  # FL³/3EI + FL/κGA
    assert G[-1, -1] == pytest.approx(tip)
    # beyond the force the axis runs straight, at FL²/2EI
    slope = (G[-1, 5] - G[-2, 5]) / 50.0
    assert slope == pytest.approx(250.0**2 / (2 * POST.bending))


@settings(max_examples=25, deadline=None)
@given(tilts, exponents)
def test_what_is_found_is_in_balance_and_follows_the_law(tilt, exponent):
    law = power(exponent)
    found = press(POST, law, *WHERE, tilt)
    assert found.residual <= line.RESIDUAL
    assert found.force == pytest.approx(WHERE[0], rel=1e-9)
    # A residual of 1e-10 of the force, which the stiffness of the law makes larger.
    largest = found.line_load.max()
    followed = law.line_load_at(found.approach)
    np.testing.assert_allclose(followed, found.line_load, atol=1e-6 * largest)
    face = found.approach + found.deflection  # is straight, at the tilt
    np.testing.assert_allclose(face - face[0], tilt * (found.z - found.z[0]), atol=1e-9)
    assert found.line_load.max() >= WHERE[0] / WHERE[2] * (1 - 1e-12)
    # moment of all that lies beyond the near end
    assert found.moment[0] == pytest.approx(WHERE[0] * (found.lever - found.z[0]), rel=1e-9)
    assert found.moment[-1] == 0.0
    assert np.all(np.diff(found.moment) <= 0.0)


@settings(max_examples=15, deadline=None)
@given(st.floats(0.0, 0.05), exponents)
def test_a_rigid_post_is_pressed_alike_at_either_tilt(tilt, exponent):
    law = power(exponent)
    one, other = (press(RIGID, law, *WHERE, at) for at in (tilt, -tilt))
    np.testing.assert_allclose(one.line_load, other.line_load[::-1], rtol=1e-7, atol=1e-4)
    assert one.parted == pytest.approx(other.parted, abs=1e-6)


def test_a_rigid_post_without_tilt_is_pressed_evenly():
    found = press(RIGID, CONTACT, *WHERE)
    np.testing.assert_allclose(found.line_load, WHERE[0] / WHERE[2])
    assert found.lever == pytest.approx(WHERE[1])
    assert found.parted == 0.0


@settings(max_examples=15, deadline=None)
@given(st.floats(0.1, 1.0), tilts)
def test_a_smaller_model_of_the_same_stress_is_pressed_alike(scale, tilt):
    """Lengths times s, force times s², EI times s⁴, κGA times s², q and δ times s."""
    small = replace(CONTACT, approach=scale * CONTACT.approach, line_load=scale * CONTACT.line_load)
    beam = Beam(scale**4 * POST.bending, scale**2 * POST.shear)
    F, L, c = WHERE
    large = press(POST, CONTACT, *WHERE, tilt)
    found = press(beam, small, scale**2 * F, scale * L, scale * c, tilt)
    np.testing.assert_allclose(found.line_load, scale * large.line_load, rtol=1e-6, atol=1e-5)
    np.testing.assert_allclose(found.deflection, scale * large.deflection, rtol=1e-6)


@pytest.mark.parametrize(
    ("beam", "stiffness", "tilt"),
    [(POST, 4e3, 0.0), (POST, 15e3, 3e-3), (Beam(5.2e12, np.inf), 4e3, 0.0)],
)
def test_the_whole_curve_is_that_of_a_beam_on_an_elastic_foundation(beam, stiffness, tilt):
    z, q = founded(beam, stiffness, *WHERE, tilt)
    assert q.min() > 0.0  # so the closed form, which can pull, does not
    errors = []
    for slices in (25, 100):
        found = press(beam, linear(stiffness), *WHERE, tilt, slices)
        exact = np.interp(found.z, z, q)
        errors.append(np.abs(found.line_load - exact).max() / q.max())
    assert errors[1] < 2e-5
    assert errors[1] < errors[0] / 8  # of second order: sixteen, less what the 401 points are off


def test_slices_go_to_where_there_is_contact():
    """Parted over most of its length: a finer grid hardly moves the peak."""
    coarse, fine = (press(POST, CONTACT, *WHERE, 0.05, slices=n) for n in (line.SLICES, 400))
    assert coarse.parted > 0.75 * WHERE[2]
    assert coarse.line_load.max() == pytest.approx(fine.line_load.max(), rel=1e-4)
    assert coarse.parted == pytest.approx(fine.parted, rel=1e-4)
    assert np.count_nonzero(coarse.line_load) > 0.7 * line.SLICES


def test_slope_is_that_of_the_deflection():
    """So soft in shear that the force at a node itself shows: half of it counts there."""
    found = press(replace(POST, shear=1e6), CONTACT, *WHERE, 0.15)
    assert found.parted == 0.0  # one even grid
    np.testing.assert_allclose(
        np.gradient(found.deflection, found.z)[1:-1], found.slope[1:-1], rtol=1e-5
    )


def test_past_the_end_of_a_law_it_is_pressed_only_where_that_goes_on():
    mean = WHERE[0] / WHERE[2]
    less = mean / CONTACT.largest_load
    short = replace(
        CONTACT,
        line_load=less * CONTACT.line_load,
        tangent_stiffness=less * CONTACT.tangent_stiffness,
    )
    assert press(POST, short, *WHERE).line_load.max() > mean
    with pytest.raises(SolveError, match="past the end of the force–approach curve"):
        press(POST, replace(short, past_end="error"), *WHERE)


def test_what_does_not_settle_is_an_error(monkeypatch):
    monkeypatch.setattr(line, "_MOST_STEPS", 1)
    with pytest.raises(SolveError, match="did not settle"):
        press(POST, CONTACT, *WHERE, 1e-3)
