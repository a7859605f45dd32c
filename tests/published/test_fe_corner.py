"""A post struck by two plates at right angles, by finite elements, against superposed line loads.

The exact field is that of contactfe.verify.exact. Single figures are rows of
contactfe.verify.solved_corner; the cases are the same.
"""

import numpy as np
import pytest

from contactfe.hand import hertz, thick_ring
from contactfe.solve.joint import solve_joint
from contactfe.verify.cases import CORNER_BORE as BORE
from contactfe.verify.cases import CORNER_LOADS as LOADS
from contactfe.verify.cases import E_STAR, at, corner, corner_joint
from contactfe.verify.cases import RADIUS as R
from contactfe.verify.exact import corner_stress, polar


def whole(bore):
    return corner(bore)[0].post["whole"]


@pytest.mark.parametrize("bore", [0.0, BORE])
def test_each_patch_carries_its_load_and_lies_where_it_is_struck(bore):
    state = corner(bore)[0].state
    for patch, q in zip(state.patches, LOADS, strict=True):
        a = float(hertz.half_width(q, R, E_STAR))
        assert patch.line_load == pytest.approx(q, rel=1e-9)
        assert patch.half_width == pytest.approx(a, rel=2e-3)
        assert abs(patch.centre) < 1e-2 * a  # the ring bends: 0.3 % measured
    (held,) = state.member_reactions
    assert (held.along, held.across) == pytest.approx((LOADS[1], -LOADS[0]), rel=1e-9)
    assert held.moment == pytest.approx(0.0, abs=1e-2)


def test_centre_of_a_solid_has_no_shear():
    _, sy, _, t = at(whole(0.0), 0.0, R)
    assert t == pytest.approx(0.0, abs=1e-3 * abs(sy))


def test_hoop_stress_all_round_the_bore_of_a_tube():
    # 0.45 % of the greatest measured, away from the finest places of the bore.
    r, phi, (_, hoop, _) = polar(whole(BORE), R)
    bore = np.abs(r - BORE) < 1e-6 * BORE
    assert bore.sum() > 40
    exact = corner_stress(np.full(bore.sum(), BORE), phi[bore], LOADS, R, BORE)[1]
    assert np.abs(hoop[bore] - exact).max() < 8e-3 * np.abs(exact).max()
    one = thick_ring.bore_hoop(LOADS[0], R, BORE, phi[bore], "beam shear", 0.3, "plane strain")
    assert np.abs(exact - one).max() > 0.3 * np.abs(exact).max()  # the second load matters


@pytest.mark.parametrize("bore", [0.0, BORE])
def test_stress_all_over_the_body_away_from_the_patches(bore):
    # Measured 0.2 % of the greatest for the solid; 2.2 % for the tube, halfway between the loads
    # near the bore, where elements are largest: its greatest stress is elsewhere.
    r, phi, stress = polar(whole(bore), R)
    inside = (r < 0.85 * R) & (r > 1e-6)
    exact = corner_stress(np.maximum(r[inside], bore), phi[inside], LOADS, R, bore)
    off = np.abs(stress[:, inside] - exact).max()
    assert off < (3e-2 if bore else 5e-3) * np.abs(exact).max()


def test_friction_in_a_corner_balances_and_turns_nothing_without_it():
    joint = corner_joint(BORE, tangential=True)
    state = solve_joint(joint, *LOADS, friction=0.2)
    for patch, q in zip(state.patches, LOADS, strict=True):
        assert patch.line_load == pytest.approx(q, rel=1e-9)
        assert abs(patch.tangential_load) <= 0.2 * q * (1.0 + 1e-9)
        assert np.all(np.abs(patch.traction) <= 0.2 * patch.pressure + 1e-9 * patch.pressure.max())
    # Displacement into one plate is displacement along the other, so the friction of
    # each acts on the post along the other's normal.
    assert state.patches[0].tangential_load > 0.0
    assert state.patches[1].tangential_load < 0.0
    (held,) = state.member_reactions
    loads = [p.tangential_load for p in state.patches]
    assert held.along == pytest.approx(LOADS[1] + loads[0], rel=1e-9)
    assert held.across == pytest.approx(-LOADS[0] + loads[1], rel=1e-9)
    plain = corner(BORE)[0].state
    assert state.patches[0].pressure.max() == pytest.approx(
        plain.patches[0].pressure.max(), rel=2e-2
    )


def test_each_patch_of_a_corner_has_a_motion_of_its_own():
    # The greater load pushes the post along the second plate, up to all the friction there; it
    # takes less than all of that at the first. Derived here from Coulomb's law.
    joint = corner_joint(BORE, tangential=True)
    first, second = solve_joint(joint, *LOADS, friction=0.6).patches
    assert second.tangential_load == pytest.approx(-0.6 * LOADS[1], rel=1e-9)
    assert second.motion == "full sliding"
    assert 0.0 < first.tangential_load < 0.6 * LOADS[0]
    assert first.motion == "sticking"
