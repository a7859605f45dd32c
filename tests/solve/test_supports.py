"""Supports and holds: their patterns, what they stop, and equilibrium in every hold."""

import numpy as np
import pytest
from bodies import STEEL, block, member_mesh, plate_mesh

from contactfe.errors import SolveError
from contactfe.solve import holds
from contactfe.solve.condense import condense, imbalance, respond
from contactfe.solve.reactions import reactions, unbalanced
from contactfe.solve.supports import edge_support

WIDTH, THICKNESS, OFFSET = 300.0, 60.0, 40.0
MIDDLE = -THICKNESS / 2.0


@pytest.fixture(scope="module")
def mesh():
    return plate_mesh(WIDTH, THICKNESS, 2.0, 3.0, offset=OFFSET)


HOLDS = {
    "rigid base": holds.rigid_base,
    "simply supported": lambda mesh: holds.edges(mesh, "simply supported"),
    "clamped": lambda mesh: holds.edges(mesh, "clamped"),
    "elastic supports": lambda mesh: holds.edges(mesh, "elastic supports", 500.0),
}


def resultant(mesh, load, about=(0.0, 0.0)):
    """Force along, force across, moment."""
    fx, fy = load.reshape(-1, 2).T
    x, y = mesh.doflocs
    return np.array([fx.sum(), fy.sum(), ((x - about[0]) * fy - (y - about[1]) * fx).sum()])


def pushed(body, along=0.0, across=-1000.0):
    """Nodal load (2N,) on the middle of the contact line."""
    load = np.zeros(body.unknowns)
    node = body.contact[len(body.contact) // 2]
    load[2 * node : 2 * node + 2] = along, across
    return load


def edge_points(body, name):
    """Nodes on an edge face, and the weights of the mean of a support there: (n,) and (n, 2)."""
    (support,) = (s for s in body.hold.supports if s.groups == (name,) and s.load[1::2].any())
    weights = support.load.reshape(-1, 2)[:, 1]
    return np.flatnonzero(weights), weights[weights != 0.0]


# --- patterns -------------------------------------------------------------------------------------


def test_edge_patterns_are_unit_forces_and_a_unit_moment(mesh):
    hold = holds.edges(mesh, "clamped")
    by_name = {}
    for support in hold.supports:
        by_name.setdefault(support.groups, []).append(support)
    for edge, x in ((holds.LEFT, -WIDTH / 2 - OFFSET), (holds.RIGHT, WIDTH / 2 - OFFSET)):
        shear, bending, thrust = by_name[(edge,)]
        about = (x, MIDDLE)
        assert resultant(mesh, shear.load, about) == pytest.approx([0, 1, 0], abs=1e-11)
        assert resultant(mesh, bending.load, about) == pytest.approx([0, 0, 1], abs=1e-11)
        assert resultant(mesh, thrust.load, about) == pytest.approx([1, 0, 0], abs=1e-11)


def test_thrust_is_shared_by_both_edges(mesh):
    *_, along = holds.edges(mesh, "simply supported").supports
    x = mesh.doflocs[0]
    fx = along.load.reshape(-1, 2)[:, 0]
    assert fx.sum() == pytest.approx(1.0)
    assert fx[x < 0.0].sum() == pytest.approx(0.5)


def test_thrust_of_a_plate_on_a_rigid_base_is_even_along_its_back(mesh):
    (along,) = holds.rigid_base(mesh).supports
    fx = along.load.reshape(-1, 2)[:, 0]
    assert fx.sum() == pytest.approx(1.0)
    assert fx @ mesh.doflocs[0] == pytest.approx(-OFFSET)


def test_a_pattern_follows_a_curved_edge():
    mesh = member_mesh(75.0, 50.0, 2.0, 2.0)
    support = edge_support(mesh, ("bore",), lambda x, y: (0.0 * x + 2.0, 3.0 * (y - 75.0) ** 2))
    length = 2.0 * np.pi * 50.0
    force = resultant(mesh, support.load)[:2]
    # Arcs of quadratic edges: their length is right to 1e-6 on this mesh.
    assert force == pytest.approx([2.0 * length, 3.0 * 50.0**2 / 2.0 * length], rel=1e-5)


# --- what supports stop ---------------------------------------------------------------------------


@pytest.mark.parametrize("held", ["simply supported", "elastic supports"])
def test_edges_give_way_by_reaction_over_spring(mesh, held):
    body = condense(mesh, STEEL, HOLDS[held](mesh))
    u, r = respond(body, pushed(body))
    gives = 0.0 if held == "simply supported" else 1.0 / 500.0
    for number, edge in enumerate((holds.LEFT, holds.RIGHT)):
        nodes, weights = edge_points(body, edge)
        mean = weights @ u[2 * nodes + 1]
        assert mean == pytest.approx(-r[number] * gives, abs=1e-12)
    # Statics: the load is 190 mm from the left edge of 300 mm.
    assert r[:2] == pytest.approx([1000.0 * 110.0 / 300.0, 1000.0 * 190.0 / 300.0], rel=1e-9)


def test_a_clamped_edge_neither_turns_nor_moves_in_the_mean(mesh):
    body = condense(mesh, STEEL, HOLDS["clamped"](mesh))
    u, _ = respond(body, pushed(body, along=300.0))
    for support in body.hold.supports:
        assert support.load @ u == pytest.approx(0.0, abs=1e-12)
    # Against the same plate free to turn, whose edges do: mean of u over the bending pattern.
    free = condense(mesh, STEEL, HOLDS["simply supported"](mesh))
    v, _ = respond(free, pushed(free, along=300.0))
    turns = [abs(s.load @ v) for s in body.hold.supports if not s.load[1::2].any()]
    assert max(turns) > 1e-4


def test_very_stiff_springs_are_rigid_edges(mesh):
    rigid = condense(mesh, STEEL, HOLDS["simply supported"](mesh))
    stiff = condense(mesh, STEEL, holds.edges(mesh, "elastic supports", 1e9))
    assert stiff.compliance == pytest.approx(rigid.compliance, abs=1e-4 * rigid.compliance.max())


def test_springs_add_a_rigid_settlement(mesh):
    # The hold is determinate, so springs change no force: the plate only moves as a body.
    rigid, soft = (
        condense(mesh, STEEL, HOLDS[name](mesh))
        for name in ("simply supported", "elastic supports")
    )
    u, v = (respond(body, pushed(body))[0].reshape(-1, 2) for body in (rigid, soft))
    x, y = mesh.doflocs
    moved = v - u
    left, right = -WIDTH / 2 - OFFSET, WIDTH / 2 - OFFSET
    at_left, at_right = -1000.0 * 110.0 / 300.0 / 500.0, -1000.0 * 190.0 / 300.0 / 500.0
    slope = (at_right - at_left) / WIDTH
    assert moved[:, 1] == pytest.approx(at_left + slope * (x - left), rel=1e-6, abs=1e-9)
    assert moved[:, 0] + slope * y == pytest.approx(moved[0, 0] + slope * y[0], abs=1e-9)
    assert right - left == pytest.approx(WIDTH)


def test_thrust_between_unclamped_edges_strains_the_plate_freely(mesh):
    # Determinate: half of a thrust to each edge, whatever the material.
    body = condense(mesh, STEEL, HOLDS["simply supported"](mesh))
    _, r = respond(body, pushed(body, along=300.0, across=0.0))
    assert r[2] == pytest.approx(-300.0)


# --- equilibrium ----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", HOLDS)
@pytest.mark.parametrize(("along", "across"), [(0.0, -1000.0), (300.0, 0.0), (-200.0, -900.0)])
def test_reactions_of_a_plate_balance_its_load(mesh, name, along, across):
    body = condense(mesh, STEEL, HOLDS[name](mesh))
    load = pushed(body, along, across)
    held = reactions(body, load, *respond(body, load))
    assert unbalanced(body, load, held) < 1e-10
    total = resultant(mesh, load)
    for r in held:
        total += [r.along, r.across, r.moment + r.x * r.across - r.y * r.along]
    # Forces over the load; moments over the load at half the width.
    assert total / [1.0, 1.0, WIDTH] == pytest.approx(np.zeros(3), abs=1e-7)
    assert {r.place for r in held} == (
        {"back"} if name == "rigid base" else {holds.LEFT, holds.RIGHT}
    )


def test_a_missing_reaction_is_out_of_balance(mesh):
    body = condense(mesh, STEEL, HOLDS["simply supported"](mesh))
    load = pushed(body)
    left, right = reactions(body, load, *respond(body, load))
    assert unbalanced(body, load, [left]) == pytest.approx(190.0 / 300.0, rel=1e-6)
    assert (left.x, left.y) == pytest.approx((-WIDTH / 2 - OFFSET, MIDDLE))
    assert right.moment == pytest.approx(0.0, abs=1e-6)


def test_clamped_edges_have_moments_that_bend_against_the_load(mesh):
    body = condense(mesh, STEEL, HOLDS["clamped"](mesh))
    load = pushed(body)
    left, right = reactions(body, load, *respond(body, load))
    # Fixed ends of a beam, load pushing down: the left turns counter-clockwise.
    assert left.moment > 0.0 > right.moment
    assert left.across + right.across == pytest.approx(1000.0, rel=1e-9)


@pytest.mark.parametrize("held_by", ["beam shear", "rigid core"])
@pytest.mark.parametrize(("along", "across"), [(0.0, 1000.0), (400.0, 900.0)])
def test_reactions_of_a_member_balance_its_load(held_by, along, across):
    mesh = member_mesh(75.0, 50.0, 2.0, 3.0)
    hold = holds.rigid_core(mesh) if held_by == "rigid core" else holds.beam_shear(mesh, STEEL)
    body = condense(mesh, STEEL, hold)
    load = pushed(body, along, across)
    held = reactions(body, load, *respond(body, load))
    assert unbalanced(body, load, held) < 1e-10
    (one,) = held
    assert one.place == ("bore" if held_by == "rigid core" else "beam shear")
    assert (one.along, one.across) == pytest.approx((-along, -across), rel=1e-9, abs=1e-7)
    # About the middle of the section: the load acts 75 mm below it.
    assert one.moment == pytest.approx(-along * 75.0, rel=1e-6, abs=1e-5)


def test_the_midplane_between_diametral_plates_stays_plane_and_carries_the_load():
    mesh = member_mesh(75.0, 50.0, 2.0, 3.0, lower_half=True)
    body = condense(mesh, STEEL, holds.diametral(mesh))
    load = pushed(body, along=100.0, across=1000.0)
    u, r = respond(body, load)
    on_plane = np.isclose(mesh.doflocs[1], 75.0)
    assert np.all(u[1::2][on_plane] == 0.0)
    (plane,) = reactions(body, load, u, r)
    assert plane.across == pytest.approx(-1000.0, rel=1e-9)
    assert plane.along == pytest.approx(-100.0, rel=1e-9)
    assert unbalanced(body, load, [plane]) < 1e-10


def test_a_rigid_core_does_not_move():
    mesh = member_mesh(75.0, 50.0, 2.0, 3.0)
    body = condense(mesh, STEEL, holds.rigid_core(mesh))
    u, _ = respond(body, pushed(body, 100.0, 1000.0))
    at_bore = np.isclose(np.hypot(mesh.doflocs[0], mesh.doflocs[1] - 75.0), 50.0)
    assert at_bore.sum() > 20
    assert np.abs(u.reshape(-1, 2)[at_bore]).max() == 0.0


@pytest.mark.parametrize("held", [holds.rigid_base, holds.rigid_core, HOLDS["simply supported"]])
def test_a_hold_needs_its_group_of_edges(held):
    mesh = block(np.linspace(0, 1, 4), np.linspace(0, 1, 4), "bottom", "midplane")
    with pytest.raises(SolveError, match="group"):
        held(mesh)


def test_a_core_may_hold_another_group_than_the_bore():
    mesh = member_mesh(75.0, 50.0, 2.0, 3.0)
    mesh = mesh.with_boundaries(dict(mesh.boundaries) | {"hold": mesh.boundaries["outside"]})
    hold = holds.rigid_core(mesh, "hold")
    assert hold.bonded == ("hold",)
    held = np.unique(hold.fixed // 2)
    assert np.hypot(mesh.doflocs[0], mesh.doflocs[1] - 75.0)[held] == pytest.approx(75.0, rel=1e-4)
    assert np.array_equal(hold.fixed, np.sort(np.concatenate([2 * held, 2 * held + 1])))


def test_a_pin_that_carries_something_is_out_of_balance(mesh):
    body = condense(mesh, STEEL, HOLDS["simply supported"](mesh))
    load = pushed(body)
    u, r = respond(body, load)
    assert imbalance(body, load, u, r) < 1e-9
    load[body.hold.pins[0]] += 1.0  # a thousandth of the load that no reaction answers
    assert imbalance(body, load, u, r) > 1e-5
