"""A post struck by two plates at right angles, by finite elements, against superposed line loads.

The exact field of one line load is that of contactfe.hand.thick_ring (derived there, held against
printed values in test_ring.py); the other is the same, turned by a quarter. By Saint-Venant the
body away from the patches does not feel that the loads are spread over them. Both are balanced by
beam shear, the torque of the pair being none.
"""

from functools import cache

import numpy as np
import pytest
from bodies import STEEL, plate

from contactfe.assess.bodies import beside
from contactfe.hand import hertz, thick_ring
from contactfe.section.body import to_skfem
from contactfe.section.grading import Patch, member_grading
from contactfe.section.mesher import mesh_member
from contactfe.section.outlines import MemberOutline
from contactfe.solve import holds
from contactfe.solve.condense import BENEATH, condense
from contactfe.solve.field import sample
from contactfe.solve.joint import join, member_fields, plate_field, solve_joint

R, BORE, LOADS = 75.0, 45.0, (200.0, 120.0)
E_STAR = hertz.contact_modulus(200e3, 0.3, 200e3, 0.3, "plane strain")
WIDTHS = tuple(float(hertz.half_width(q, R, E_STAR)) for q in LOADS)


@cache
def solved(bore, tangential=False):
    """Joint, state and stress of the post between two bedded plates."""
    outline = MemberOutline(R, bore)
    patches = [Patch(0.0, a) for a in WIDTHS]
    mesh = to_skfem(mesh_member(outline, member_grading(outline, patches[0], 1.0, (), patches[1])))
    frames = dict(BENEATH) | {"contact side": beside(R)}
    post = condense(mesh, STEEL, holds.beam_shear(mesh, STEEL), frames, tangential)
    plates = [plate(400.0, 200.0, a, scale=1.0, tangential=tangential) for a in WIDTHS]
    joint = join(post, *plates, radius=R)
    state = solve_joint(joint, *LOADS)
    return joint, state, member_fields(joint, state)["whole"]


def superposed(r, phi, bore):
    """σr, σθ, τrθ of both line loads; ``phi`` from the first towards +x, where the second is."""
    fields = [
        thick_ring.stress(r, phi - turn, q, R, bore, "beam shear", 0.3, "plane strain")
        for q, turn in zip(LOADS, (0.0, np.pi / 2.0), strict=True)
    ]
    return [sum(parts) for parts in zip(*fields, strict=True)]


def polar(field):
    """r, angle from the first load, and σr, σθ, τrθ at the nodes."""
    x, y = field.mesh.doflocs[0], field.mesh.doflocs[1] - R
    r, phi = np.hypot(x, y), np.arctan2(x, -y)
    sx, sy, _, t = field.stress.T
    s, c = np.sin(phi), np.cos(phi)  # e_r = (s, −c), e_θ = (c, s)
    radial = sx * s**2 + sy * c**2 - 2 * t * s * c
    hoop = sx * c**2 + sy * s**2 + 2 * t * s * c
    return r, phi, radial, hoop, (sx - sy) * s * c + t * (s**2 - c**2)


@pytest.mark.parametrize("bore", [0.0, BORE])
def test_each_patch_is_that_of_hertz(bore):
    _, state, _ = solved(bore)
    for patch, q, a in zip(state.patches, LOADS, WIDTHS, strict=True):
        assert patch.line_load == pytest.approx(q, rel=1e-9)
        p0 = float(hertz.peak_pressure(q, R, E_STAR))
        assert patch.pressure.max() == pytest.approx(p0, rel=2e-3)  # 0.05 % measured
        assert patch.half_width == pytest.approx(a, rel=2e-3)
        assert abs(patch.centre) < 1e-2 * a  # the ring bends: 0.3 % measured
    (held,) = state.member_reactions
    assert (held.along, held.across) == pytest.approx((LOADS[1], -LOADS[0]), rel=1e-9)
    assert held.moment == pytest.approx(0.0, abs=1e-2)


def test_centre_of_a_solid():
    # Along one load and across the other: −3 and 1 times q/(πD), added crosswise. 0.01 % measured.
    _, _, field = solved(0.0)
    (across_1, along_1), (across_2, along_2) = (
        thick_ring.disc_centre_stress(q, 2.0 * R, "beam shear") for q in LOADS
    )
    r = polar(field)[0]
    sx, sy, _, t = field.stress[np.argmin(r)]
    assert r.min() < 1e-6
    assert sx == pytest.approx(across_1 + along_2, rel=1e-3)
    assert sy == pytest.approx(along_1 + across_2, rel=1e-3)
    assert t == pytest.approx(0.0, abs=1e-3 * abs(sy))


def test_hoop_stress_all_round_the_bore_of_a_tube():
    # 0.45 % of the greatest measured, away from the finest places of the bore.
    r, phi, _, hoop, _ = polar(solved(BORE)[2])
    bore = np.abs(r - BORE) < 1e-6 * BORE
    assert bore.sum() > 40
    exact = superposed(BORE, phi[bore], BORE)[1]
    assert np.abs(hoop[bore] - exact).max() < 8e-3 * np.abs(exact).max()
    one = thick_ring.bore_hoop(LOADS[0], R, BORE, phi[bore], "beam shear", 0.3, "plane strain")
    assert np.abs(exact - one).max() > 0.3 * np.abs(exact).max()  # the second load matters


@pytest.mark.parametrize("bore", [0.0, BORE])
def test_stress_all_over_the_body_away_from_the_patches(bore):
    # Measured 0.2 % of the greatest for the solid; 2.2 % for the tube, halfway between the loads
    # near the bore, where elements are largest: its greatest stress is elsewhere.
    r, phi, radial, hoop, shear = polar(solved(bore)[2])
    inside = (r < 0.85 * R) & (r > 1e-6)
    exact = superposed(np.maximum(r[inside], bore), phi[inside], bore)
    size = max(np.abs(part).max() for part in exact)
    for found, part in zip((radial, hoop, shear), exact, strict=True):
        assert np.abs(found[inside] - part).max() < (3e-2 if bore else 5e-3) * size


def test_friction_in_a_corner_balances_and_turns_nothing_without_it():
    joint, plain, _ = solved(BORE, tangential=True)
    state = solve_joint(joint, *LOADS, friction=0.2)
    for patch, q in zip(state.patches, LOADS, strict=True):
        assert patch.line_load == pytest.approx(q, rel=1e-9)
        assert abs(patch.tangential_load) <= 0.2 * q * (1.0 + 1e-9)
        assert np.all(np.abs(patch.traction) <= 0.2 * patch.pressure + 1e-9 * patch.pressure.max())
    # Travel into one plate is travel along the other, so each drags on the post the way it goes.
    assert state.patches[0].tangential_load > 0.0
    assert state.patches[1].tangential_load < 0.0
    (held,) = state.member_reactions
    loads = [p.tangential_load for p in state.patches]
    assert held.along == pytest.approx(LOADS[1] + loads[0], rel=1e-9)
    assert held.across == pytest.approx(-LOADS[0] + loads[1], rel=1e-9)
    assert state.patches[0].pressure.max() == pytest.approx(
        plain.patches[0].pressure.max(), rel=2e-2
    )


def test_each_patch_of_a_corner_has_a_motion_of_its_own():
    # The greater load pushes the post along the second plate, up to all the friction there; it
    # takes less than all of that at the first. Derived here from Coulomb's law.
    joint, _, _ = solved(BORE, tangential=True)
    first, second = solve_joint(joint, *LOADS, friction=0.6).patches
    assert second.tangential_load == pytest.approx(-0.6 * LOADS[1], rel=1e-9)
    assert second.motion == "full sliding"
    assert 0.0 < first.tangential_load < 0.6 * LOADS[0]
    assert first.motion == "sticking"


def test_each_plate_has_the_stress_of_its_own_load():
    # 0.2 % measured: bedded plates of 200 mm are all but half-spaces.
    joint, state, _ = solved(0.0)
    for number, q in enumerate(LOADS):
        p0 = float(hertz.peak_pressure(q, R, E_STAR))
        peak, _ = hertz.peak_von_mises(p0, 0.3, "plane strain")
        found = sample(plate_field(joint, state, number)).von_mises.max()
        assert found == pytest.approx(peak, rel=1e-2)
