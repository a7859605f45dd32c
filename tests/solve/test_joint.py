from dataclasses import replace

import numpy as np
import pytest
from bodies import STEEL, block, member, plate
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.errors import SolveError
from contactfe.hand import hertz
from contactfe.solve import contact, holds
from contactfe.solve.condense import condense
from contactfe.solve.contact import ContactSystem, solve_contact
from contactfe.solve.elastic import Elastic
from contactfe.solve.field import sample
from contactfe.solve.joint import join, member_fields, normal_system, plate_field, solve_joint
from contactfe.solve.patch import between
from contactfe.solve.supports import Hold

E_STAR = hertz.contact_modulus(200e3, 0.3, 200e3, 0.3, "plane strain")


def whole(joint, state):
    """Stress of a member of one material."""
    return member_fields(joint, state)["whole"]


def blocks(width: float = 2.0, upper=STEEL, lower=STEEL):
    """Two blocks of equal width, one on the other, with meshes that do not match."""
    w = width / 2
    top = block(np.linspace(-w, w, 7), np.linspace(0, 1, 4), "bottom", "midplane")
    base = block(np.linspace(-w, w, 11), np.linspace(-1, 0, 5), "top", "back")
    return condense(top, upper, holds.diametral(top)), condense(base, lower, holds.rigid_base(base))


def test_patch_uniform_pressure_passes_between_meshes_that_do_not_match():
    # Standard patch test of contact (common practice, no source): equal blocks pressed flat carry
    # p = q / width everywhere, and σx = 0, σy = −p in both, whatever the meshes.
    upper, lower = blocks()
    joint = join(upper, lower)
    state = solve_joint(joint, 300.0)
    assert np.abs(state.patch.pressure / 150.0 - 1.0).max() < 1e-10
    for field in (whole(joint, state), plate_field(joint, state)):
        sx, sy, sz, t = field.stress.T
        assert np.abs(sy + 150.0).max() < 1e-8
        assert np.abs(np.concatenate([sx, t])).max() < 1e-8
        assert np.abs(sz + 0.3 * 150.0).max() < 1e-8


def test_the_displacement_is_the_shortening_of_both_blocks():
    # Plane strain, free sides: shortening p h (1−ν²)/E of each block, here of different steel.
    soft = Elastic(100e3, 0.35)
    upper, lower = blocks(upper=STEEL, lower=soft)
    state = solve_joint(join(upper, lower), 300.0)
    expected = 150.0 * ((1 - 0.3**2) / 200e3 + (1 - 0.35**2) / 100e3)
    assert state.approach == pytest.approx(expected, rel=1e-9)


def test_stress_is_linear_in_the_load_where_the_patch_is_fixed():
    upper, lower = blocks()
    joint = join(upper, lower)
    one, ten = solve_joint(joint, 10.0), solve_joint(joint, 100.0)
    assert ten.patch.pressure == pytest.approx(10 * one.patch.pressure, rel=1e-10)
    stress = [whole(joint, state).von_mises for state in (one, ten)]
    assert stress[1] == pytest.approx(10 * stress[0], rel=1e-8)


def test_hertz_pressure_grows_like_the_root_of_the_load():
    # Loads a fifth apart on one mesh: peak pressure ∝ √q, half-width ∝ √q (Hertz).
    joint = join(
        member(75.0, 0.0, 1.2, "beam shear", 1.0), plate(300.0, 150.0, 1.2, scale=1.0), radius=75.0
    )
    low, high = solve_joint(joint, 1250.0), solve_joint(joint, 1500.0)
    root = np.sqrt(1500 / 1250)
    assert high.patch.pressure.max() / low.patch.pressure.max() == pytest.approx(root, rel=2e-3)
    assert high.patch.half_width / low.patch.half_width == pytest.approx(root, rel=5e-3)


def test_residuals_are_reported_and_small(tube, bed):
    joint = join(tube, bed, radius=75.0)
    state = solve_joint(joint, 1500.0)
    # Above zero too: a residual that rounding never touches was not computed.
    assert 0.0 < state.force_balance < 1e-9
    assert 0.0 < state.complementarity < 1e-9
    assert joint.couplings[0].weight @ state.patch.pressure == pytest.approx(1500.0, rel=1e-12)


def test_nothing_overlaps_and_nothing_pulls(tube, bed):
    system = normal_system(join(tube, bed, radius=75.0))
    state = solve_joint(join(tube, bed, radius=75.0), 1500.0)
    gap = system.compliance @ state.patch.pressure + system.gap - system.weight * state.approach
    assert state.patch.pressure.min() >= 0.0
    assert gap.min() > -1e-12
    assert np.abs(gap * state.patch.pressure).max() < 1e-9
    assert (gap > 1e-6).any()  # part of the line stays open: the test is of contact, not of glue


def test_mirrored_meshes_give_mirrored_pressure():
    # Meshes off symmetry: a symmetric section is meshed symmetric, so shift its nodes sideways.
    def skewed(body, held, sign):
        mesh = body.mesh
        x, y = mesh.doflocs
        inside = np.setdiff1d(
            np.arange(x.size), mesh.dofs.get_facet_dofs(mesh.boundary_facets()).flatten()
        )
        points = mesh.doflocs.copy()
        shift = 0.02 * np.sin(3.0 * np.hypot(x, y) + 1.0) * np.hypot(x, y)
        points[0, inside] += sign * shift[inside]
        moved = type(mesh)(points, mesh.t).with_boundaries(dict(mesh.boundaries))
        return condense(moved, STEEL, held(moved))

    upper, lower = member(75.0, 50.0, 1.2, "beam shear"), plate(300.0, 60.0, 1.2)
    pressures = []
    for sign in (1.0, -1.0):
        joint = join(
            skewed(upper, lambda mesh: holds.beam_shear(mesh, STEEL), sign),
            skewed(lower, holds.rigid_base, sign),
            radius=75.0,
        )
        pressures.append(solve_joint(joint, 1500.0).patch.pressure)
    assert pressures[0] == pytest.approx(pressures[1][::-1], rel=1e-7, abs=1e-6)
    assert np.abs(pressures[0] - pressures[0][::-1]).max() > 1e-3  # the meshes were not symmetric


def test_swapping_the_materials_keeps_the_contact():
    # E* is symmetric in the two bodies (Hertz): pressure and patch stay, up to the finite bodies.
    soft = Elastic(100e3, 0.33)
    width = float(
        hertz.half_width(
            700.0, 75.0, hertz.contact_modulus(200e3, 0.3, 100e3, 0.33, "plane strain")
        )
    )
    one = solve_joint(
        join(
            member(75.0, 0.0, width, "beam shear"),
            plate(600.0, 300.0, width, steel=soft),
            radius=75.0,
        ),
        700.0,
    )
    two = solve_joint(
        join(
            member(75.0, 0.0, width, "beam shear", steel=soft),
            plate(600.0, 300.0, width),
            radius=75.0,
        ),
        700.0,
    )
    assert one.patch.pressure.max() == pytest.approx(two.patch.pressure.max(), rel=3e-3)
    assert one.patch.half_width == pytest.approx(two.patch.half_width, rel=5e-3)
    steel_only = float(hertz.peak_pressure(700.0, 75.0, E_STAR))
    assert abs(one.patch.pressure.max() / steel_only - 1.0) > 0.1  # the soft body does matter


@settings(max_examples=8, deadline=None)
@given(
    length=st.floats(0.05, 20.0),
    modulus=st.floats(0.1, 10.0),
    wall=st.sampled_from([0.0, 25.0, 40.0]),
)
def test_scaling_same_patch_ratio_same_stress(length, modulus, wall):
    # Dimensional analysis: lengths times s with q / (E R) kept leave stresses over E as they were.
    bore = 75.0 - wall if wall else 0.0
    base = join(
        member(75.0, bore, 1.2, "beam shear", 3.0), plate(300.0, 60.0, 1.2, scale=3.0), radius=75.0
    )
    s, steel = length, Elastic(200e3 * modulus, 0.3)
    other = join(
        member(75.0 * s, bore * s, 1.2 * s, "beam shear", 3.0, steel),
        plate(300.0 * s, 60.0 * s, 1.2 * s, scale=3.0, steel=steel),
        radius=75.0 * s,
    )
    p = solve_joint(base, 1500.0)
    r = solve_joint(other, 1500.0 * s * modulus)
    assert r.patch.pressure.max() / modulus == pytest.approx(p.patch.pressure.max(), rel=2e-3)
    peak = sample(whole(base, p)).von_mises.max()
    assert sample(whole(other, r)).von_mises.max() / modulus == pytest.approx(peak, rel=5e-3)
    assert r.approach / s == pytest.approx(p.approach, rel=2e-3)


def test_a_tube_with_a_vanishing_bore_is_the_solid():
    lower = plate(300.0, 60.0, 1.2)
    solid = solve_joint(join(member(75.0, 0.0, 1.2, "beam shear"), lower, radius=75.0), 1500.0)
    last = None
    for bore in (30.0, 10.0, 2.0):
        state = solve_joint(join(member(75.0, bore, 1.2, "beam shear"), lower, radius=75.0), 1500.0)
        distance = abs(state.approach - solid.approach)
        assert last is None or distance < last / 4.0  # like the bore's area
        last = distance
    assert last < 1e-3 * solid.approach
    assert state.patch.pressure.max() == pytest.approx(solid.patch.pressure.max(), rel=2e-4)


def test_pressure_between_nodes_and_outside(tube, bed):
    patch = solve_joint(join(tube, bed, radius=75.0), 1500.0).patch
    assert between(patch.x, patch.pressure, patch.x) == pytest.approx(patch.pressure, abs=1e-9)
    assert between(patch.x, patch.pressure, np.array([-50.0, 50.0])) == pytest.approx(0.0)
    x = np.linspace(patch.x[0], patch.x[-1], 20001)
    assert np.trapezoid(between(patch.x, patch.pressure, x), x) == pytest.approx(1500.0, rel=2e-3)


def test_contact_that_does_not_settle_is_an_error(tube, bed):
    system = normal_system(join(tube, bed, radius=75.0))
    with pytest.raises(SolveError, match="did not settle in 1 "):
        solve_contact(system, np.array([1500.0]), most=1)


@pytest.mark.parametrize(
    ("factor", "passes"), [(1.0, True), (1.0 + 1e-12, True), (1.0 + 1e-6, False)]
)
def test_a_wrong_answer_is_refused_by_its_residual(tube, bed, monkeypatch, factor, passes):
    # As if the linear solver had lost digits.
    honest = contact._on_active

    def off(*words):
        pressure, rigid_displacement = honest(*words)
        return factor * pressure, rigid_displacement

    monkeypatch.setattr(contact, "_on_active", off)
    system = normal_system(join(tube, bed, radius=75.0))
    if passes:
        assert solve_contact(system, np.array([1500.0])).complementarity < 1e-9
    else:
        with pytest.raises(SolveError, match="residual"):
            solve_contact(system, np.array([1500.0]))


@pytest.mark.parametrize("load", [0.0, -1.0, float("nan")])
def test_a_load_that_does_not_press_is_refused(tube, bed, load):
    with pytest.raises(ValueError, match="line_load"):
        solve_contact(normal_system(join(tube, bed, radius=75.0)), np.array([load]))


def test_a_plate_without_a_hold_is_an_error():
    body = plate(300.0, 60.0, 1.2)
    with pytest.raises(SolveError):
        condense(body.mesh, STEEL, Hold(np.array([], dtype=int)))


def test_groups_survive_into_the_solver(tube):
    assert set(tube.mesh.boundaries) == {"contact", "outside", "bore"}
    assert all(len(f) > 0 for f in tube.mesh.boundaries.values())


def test_forces_out_of_balance_are_refused(tube, bed):
    # As if the factor belonged to another stiffness.
    joint = join(tube, bed, radius=75.0)
    stiffer = replace(tube, stiffness=tube.stiffness * (1.0 + 1e-6))
    with pytest.raises(SolveError, match="out of balance"):
        solve_joint(replace(joint, member=stiffer), 1500.0)


def test_no_pressure_is_read_outside_the_line(tube, bed):
    patch = solve_joint(join(tube, bed, radius=75.0), 1500.0).patch
    ends = patch.pressure.copy()
    ends[[0, -1]] = 1.0  # so that reading past the ends would show
    assert between(patch.x, ends, np.array([-50.0, 50.0])) == pytest.approx(0.0)


# A compliance, and gaps, on which moving all nodes at once returns to a set met before.
CYCLING = ContactSystem(
    np.array(
        [
            [82.0, -35.0, -56.0, 35.0, 10.0, -61.0],
            [-35.0, 156.0, -13.0, -67.0, -15.0, 102.0],
            [-56.0, -13.0, 63.0, -5.0, 0.0, 29.0],
            [35.0, -67.0, -5.0, 63.0, 40.0, -69.0],
            [10.0, -15.0, 0.0, 40.0, 60.0, -44.0],
            [-61.0, 102.0, 29.0, -69.0, -44.0, 111.0],
        ]
    ),
    np.ones(6),
    np.array([-3.0, 11.0, -4.0, 3.0, -4.0, 1.0]),
    -np.ones((6, 1)),
    np.ones((1, 6)),
)


def test_a_cycle_of_active_sets_is_left(monkeypatch):
    used = []
    honest = contact._by_energy
    monkeypatch.setattr(contact, "_by_energy", lambda *words: used.append(1) or honest(*words))
    solution = solve_contact(CYCLING, np.array([1.0]))
    assert used  # else this test is of nothing
    gap = CYCLING.compliance @ solution.pressure + CYCLING.gap - solution.rigid_displacement
    assert solution.pressure.min() >= 0.0
    assert gap.min() > -1e-12
    assert np.abs(gap * solution.pressure).max() < 1e-12
    assert solution.pressure.sum() == pytest.approx(1.0)


def test_a_node_that_just_touches_is_no_reason_to_go_on_for_ever():
    # By symmetry the middle node has neither pressure nor gap: rounding decides its sign.
    compliance = np.array([[2.0, 1.0, 0.0], [1.0, 2.0, 1.0], [0.0, 1.0, 2.0]])
    system = ContactSystem(compliance, np.ones(3), np.zeros(3), -np.ones((3, 1)), np.ones((1, 3)))
    solution = solve_contact(system, np.array([1.0]))
    assert solution.pressure == pytest.approx([0.5, 0.0, 0.5])
    assert solution.iterations < 5


# Two patches of two nodes each, which know a little of each other.
TWO_PATCHES = ContactSystem(
    np.array(
        [[2.0, 1.0, 0.2, 0.0], [1.0, 2.0, 0.0, 0.1], [0.2, 0.0, 2.0, 1.0], [0.0, 0.1, 1.0, 2.0]]
    ),
    np.ones(4),
    np.zeros(4),
    -np.kron(np.eye(2), np.ones((2, 1))),
    np.kron(np.eye(2), np.ones((1, 2))),
)


def test_a_load_that_is_not_met_is_refused(monkeypatch):
    # All conditions of contact hold, under loads of which the second is a millionth too large.
    honest = contact._on_active
    monkeypatch.setattr(
        contact,
        "_on_active",
        lambda system, loads, active: honest(system, loads * [1.0, 1.0 + 1e-6], active),
    )
    with pytest.raises(SolveError, match=r"residual 1\.0e-06"):
        solve_contact(TWO_PATCHES, np.array([1.0, 2.0]))


def test_a_start_that_leaves_a_patch_without_nodes_is_not_taken():
    loads = np.array([1.0, 2.0])
    one = solve_contact(TWO_PATCHES, loads, start=np.array([True, True, False, False]))
    assert one.pressure == pytest.approx(solve_contact(TWO_PATCHES, loads).pressure)
    assert TWO_PATCHES.resultant @ one.pressure == pytest.approx(loads)


def test_a_path_has_a_step_where_a_node_leaves_as_the_load_grows():
    # The third node takes the second one's place: found among random whole numbers.
    system = ContactSystem(
        np.array([[6.0, -5.0, -9.0], [-5.0, 15.0, 15.0], [-9.0, 15.0, 23.0]]),
        np.ones(3),
        np.array([3.0, 2.0, 3.0]),
        -np.ones((3, 1)),
        np.ones((1, 3)),
    )
    path = contact.path_of_touching(system, np.array([20.0]))[:, 0]

    def touching(load):
        return (solve_contact(system, np.array([load])).pressure > 0.0).tolist()

    leaves = path[3]
    assert touching(0.999 * leaves) == [True, True, True]
    assert touching(1.001 * leaves) == [True, False, True]
    assert len(path) == 5


def test_a_plate_out_of_balance_is_refused(tube, bed):
    joint = join(tube, bed, radius=75.0)
    stiffer = replace(bed, stiffness=bed.stiffness * (1.0 + 1e-6))
    with pytest.raises(SolveError, match="out of balance"):
        solve_joint(replace(joint, plates=(stiffer,)), 1500.0)
