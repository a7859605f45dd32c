import numpy as np
import pytest
from bodies import STEEL, block, member, plate_mesh, two_edges

from contactfe.errors import SolveError
from contactfe.solve import condense as condense_module
from contactfe.solve import holds
from contactfe.solve.condense import condense, imbalance, respond, rigid_motions, unit_forces
from contactfe.solve.lines import Frame
from contactfe.solve.reactions import reactions
from contactfe.solve.supports import Hold


def nothing():
    return np.array([], dtype=int)


def test_compliance_is_symmetric_and_positive(tube, bed):
    # Maxwell-Betti reciprocity; positive because pushing a body costs work.
    for body in (tube, bed):
        unit = np.zeros((body.unknowns, 2))
        i, j = body.contact[3], body.contact[-8]
        unit[2 * i + 1, 0] = unit[2 * j + 1, 1] = 1.0
        u, _ = respond(body, unit)
        assert u[2 * j + 1, 0] == pytest.approx(u[2 * i + 1, 1], rel=1e-9)
        assert np.linalg.eigvalsh(body.compliance).min() > 0.0
        # Nothing is kept of the copies of its factor, each as large as what it solves with.
        assert (body.factor.L.data.size, body.factor.U.indices.size) == (0, 0)


def test_compliance_is_the_displacement_for_unit_forces():
    body = member(75.0, 50.0, 2.0, "beam shear", scale=3.0, tangential=True)
    n = body.candidates
    assert body.tangential
    assert body.compliance.shape == (2 * n, 2 * n)
    nodes = body.contact
    for column, component in ((4, 1), (n + 7, 0)):  # a normal force, then a tangential one
        load = np.zeros(body.unknowns)
        load[2 * nodes[column % n] + component] = 1.0
        u, _ = respond(body, load)
        both = np.concatenate([u[2 * nodes + 1], u[2 * nodes]])
        assert body.compliance[:, column] == pytest.approx(both, rel=1e-8, abs=1e-14)


def test_forces_on_a_line_are_given_in_its_own_axes():
    # A line whose plate stands upright: its normal is −x, its tangent +y.
    mesh = block(np.linspace(0, 1, 4), np.linspace(0, 1, 4), "bottom", "midplane")
    side = mesh.facets_satisfying(lambda p: np.isclose(p[0], 1.0))
    mesh = mesh.with_boundaries(dict(mesh.boundaries) | {"side": side})
    frames = {"contact": Frame(), "side": Frame((1.0, 0.0), (0.0, 1.0))}
    body = condense(mesh, STEEL, holds.diametral(mesh), frames, tangential=True)
    below, beside = (len(line.nodes) for line in body.lines)
    assert body.candidates == below + beside
    units = unit_forces(body, tangential=True).toarray().reshape(-1, 2, 2 * body.candidates)
    total = units.sum(axis=0)
    expected = [
        [0.0, 1.0], [-1.0, 0.0],  # normals below and beside
        [1.0, 0.0], [0.0, 1.0],  # tangents
    ]  # fmt: skip
    assert pytest.approx(np.repeat(expected, [below, beside] * 2, axis=0)) == total.T
    # The lower side's block is that of the body condensed with the lower side alone.
    alone = condense(mesh, STEEL, holds.diametral(mesh))
    assert body.compliance[:below, :below] == pytest.approx(alone.compliance, rel=1e-12)


def test_a_load_off_the_axis_is_balanced_in_force_and_moment(tube):
    load = np.zeros(tube.unknowns)
    load[2 * tube.contact[0] + 1] = 100.0
    load[2 * tube.contact[0]] = 7.0
    u, r = respond(tube, load)
    balanced = load + tube.supported.patterns.T @ r
    total = rigid_motions(tube.mesh) @ balanced
    assert np.abs(total).max() < 1e-9 * 100.0
    assert imbalance(tube, load, u, r) < 1e-12  # the pins of a balanced body carry nothing


def test_displacement_of_a_balanced_body_has_no_rigid_part(tube):
    load = np.zeros(tube.unknowns)
    load[2 * tube.contact + 1] = 1.0
    u, _ = respond(tube, load)
    work = tube.supported.patterns @ u
    assert np.abs(work).max() < 1e-12


def test_two_ways_of_pinning_a_balanced_body_agree():
    # The pins only remove rigid motion, so where they sit must not matter.
    body = member(75.0, 50.0, 2.0, "beam shear", scale=3.0)
    y = body.mesh.doflocs[1]
    low, high = np.argmin(y), np.argmax(y)
    pins = np.array([2 * low, 2 * low + 1, 2 * high])
    other = condense(body.mesh, STEEL, Hold(nothing(), body.hold.supports, pins))
    assert set(pins) != set(body.hold.pins)
    assert np.allclose(other.compliance, body.compliance, rtol=0, atol=1e-9 * body.compliance.max())


def test_pins_do_not_matter_to_a_plate_on_supports_either():
    mesh = plate_mesh(300.0, 60.0, 2.0, 3.0)
    hold = two_edges(mesh)
    x = mesh.doflocs[0]
    middle, right = np.argmin(np.abs(x)), np.argmax(x)
    other = Hold(nothing(), hold.supports, np.array([2 * middle, 2 * middle + 1, 2 * right + 1]))
    one, two = (condense(mesh, STEEL, h, tangential=True).compliance for h in (hold, other))
    assert np.allclose(one, two, rtol=0, atol=1e-9 * one.max())


def test_reaction_of_a_held_body_is_the_load(bed):
    load = np.zeros(bed.unknowns)
    load[2 * bed.contact + 1] = -2.0
    (back,) = reactions(bed, load, *respond(bed, load))
    assert back.place == "back"
    assert back.across == pytest.approx(2.0 * len(bed.contact), rel=1e-10)


def test_many_loads_are_answered_like_one_by_one(tube):
    rng = np.random.default_rng(3)
    loads = rng.normal(size=(tube.unknowns, 3))
    u, r = respond(tube, loads)
    for k in range(3):
        one, held = respond(tube, loads[:, k])
        assert u[:, k] == pytest.approx(one, rel=1e-9, abs=1e-12)
        assert r[:, k] == pytest.approx(held, rel=1e-9)


@pytest.mark.parametrize("fixed", [[], [0], [0, 1]], ids=["free", "one pin", "still turns"])
def test_a_body_that_is_not_held_is_an_error_not_a_number(fixed):
    mesh = block(np.linspace(0, 1, 4), np.linspace(0, 1, 4), "bottom", "midplane")
    with pytest.raises(SolveError):
        condense(mesh, STEEL, Hold(np.array(fixed, dtype=int)))


@pytest.mark.parametrize("kept", [0, 1, 2])
def test_pins_alone_do_not_hold_a_body(kept):
    # Pins stop the factor from failing; the supports must stop the motions themselves.
    mesh = plate_mesh(300.0, 60.0, 4.0, 4.0)
    hold = two_edges(mesh)
    short = Hold(nothing(), hold.supports[:kept], hold.pins)
    with pytest.raises(SolveError, match="rigid"):
        condense(mesh, STEEL, short)


def test_rigid_motions_stretch_nothing(tube):
    K = tube.stiffness
    for motion in rigid_motions(tube.mesh):
        assert np.abs(motion).max() <= 1.0 + 1e-12
        assert np.abs(K @ motion).max() < 1e-9 * abs(K).max()


def test_the_beam_shear_is_force_along_each_axis_and_a_pure_torque(tube):
    x, y = tube.mesh.doflocs
    patterns = tube.supported.patterns
    fx, fy = patterns.reshape(3, -1, 2).transpose(2, 0, 1)
    resultants = np.stack([fx.sum(axis=1), fy.sum(axis=1), (x * fy - (y - 75.0) * fx).sum(axis=1)])
    # Forces and torque are exact whatever the mesh; where a force acts is as good as the mesh, here
    # 4e-5 mm from the centre.
    assert pytest.approx(np.eye(3)[:, :2], abs=1e-9) == resultants[:2].T
    assert resultants[2] == pytest.approx([0.0, 0.0, 1.0], abs=2e-4)


def test_an_unsymmetric_compliance_is_refused(monkeypatch, bed):
    honest = condense_module.respond

    def skew(body, load):
        u, r = honest(body, load)
        u[2 * body.contact[0] + 1, -1] *= 1.001
        return u, r

    monkeypatch.setattr(condense_module, "respond", skew)
    with pytest.raises(SolveError, match="unsymmetric"):
        condense(bed.mesh, STEEL, bed.hold)
