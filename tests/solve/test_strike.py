"""Post and plate that yield along a path of line loads: against closed forms and themselves."""

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import pytest
from bodies import STEEL, block, member, plate, two_edges
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.errors import SolveError
from contactfe.solve import holds, strike
from contactfe.solve.condense import condense
from contactfe.solve.joint import join, solve_joint
from contactfe.solve.plasticity import Plastic
from contactfe.solve.strike import StrikeState, Striking, at_rest, equilibrium, path
from contactfe.solve.yielding import inner_forces, yielding_body

R, BORE, HALF, Y = 75.0, 50.0, 3.0, 345.0
MILD = Plastic(STEEL, Y, 2000.0)
HARD = Plastic(STEEL, Y, 20e3, "kinematic")  # yields back as a thick tube is let go
LOAD = 4000.0
STEPS = 16


def struck(post, base, law=MILD, radius=R, moved=0.0):
    """A post and a plate of one steel that yields."""
    return Striking(
        join(post, base, radius=radius, moved=moved),
        (yielding_body(post, law), yielding_body(base, law)),
    )


def along(of, start, to, steps, measure=LOAD):
    """The states of a path of even steps."""
    return list(path(of, start, to, abs(to - start.line_load) / steps, measure))


@cache
def pair(scale=3.0, offset=0.0, held=holds.rigid_base):
    """A tube and a plate, meshed for the patch that a strike of LOAD leaves."""
    return (
        member(R, BORE, HALF, "beam shear", scale),
        plate(300.0, 60.0, HALF, held, scale, offset=offset),
    )


@dataclass(frozen=True)
class Story:
    """A strike and its release."""

    of: Striking
    rise: list[StrikeState]
    fall: list[StrikeState]

    @property
    def peak(self):
        return self.rise[-1]

    @property
    def left(self):
        return self.fall[-1]


@cache
def story(law=MILD, load=LOAD, steps=STEPS, release=6, offset=0.0, held=holds.rigid_base):
    of = struck(*pair(offset=offset, held=held), law)
    rise = along(of, at_rest(of), load, steps)
    return Story(of, rise, along(of, rise[-1], 0.0, release))


def largest(state):
    """Largest equivalent plastic strain of post and plate."""
    return np.array([body.plastic.equivalent.max() for body in state.bodies])


def dent(of, state):
    """Depth of the dents of post and plate, mm: their lowest below the ends of the line."""
    depths = []
    for body, at, sign in zip(of.bodies, state.bodies, (1.0, -1.0), strict=True):
        v = sign * at.u.reshape(-1, 2)[body.body.lines[0].nodes, 1]
        depths.append(v.max() - (v[0] + v[-1]) / 2.0)
    return np.array(depths)


# --- equilibrium ----------------------------------------------------------------------------------


def test_forces_balance_on_the_way_up_and_down():
    of, states = story().of, story().rise + story().fall
    for state in states:
        assert state.balance < 1e-9
        assert of.coupling.weight @ state.pressure == pytest.approx(
            state.line_load, abs=1e-9 * LOAD
        )
        assert state.pressure.min() >= 0.0
    # Apart from what the solver says of itself: the stress of the plate carries the load from its
    # contact line to its back, and nothing else anywhere.
    peak, base = story().peak, of.bodies[1]
    forces = inner_forces(base, peak.bodies[1].stress, LOAD).reshape(-1, 2)
    line, back = base.body.lines[0].nodes, base.body.hold.fixed // 2
    assert forces[line, 1].sum() == pytest.approx(-LOAD, rel=1e-9)
    assert forces[back, 1].sum() == pytest.approx(LOAD, rel=1e-9)
    forces[line] = forces[back] = 0.0
    assert np.abs(forces).max() < 1e-9 * LOAD
    assert sum(peak.yielding) > 100  # of steel that yields, not of an elastic joint


def test_a_path_ends_at_its_load_by_steps_no_longer_than_asked():
    loads = np.array([0.0, *(state.line_load for state in story().rise)])
    assert loads[-1] == LOAD
    assert (np.diff(loads) > 0.0).all()
    assert np.diff(loads).max() <= LOAD / STEPS * (1.0 + 1e-12)
    assert story().left.line_load == 0.0


def test_no_body_reaches_into_the_other():
    # The gap along the line, from the displacements of both, weighted as pressure is.
    of = story().of
    for state in (story().rise[4], story().peak, story().fall[2]):
        rise, sink = (
            at.u.reshape(-1, 2)[body.body.lines[0].nodes, 1]
            for body, at in zip(of.bodies, state.bodies, strict=True)
        )
        c = of.coupling
        gap = c.gap + c.weight * (rise - state.approach) - c.transfer @ sink
        size = c.weight.max() * state.approach
        assert gap.min() > -1e-9 * size
        assert np.abs(gap[state.pressure > 0.0]).max() < 1e-9 * size
        assert gap.max() > 1e-3 * size


def test_below_first_yield_the_joint_is_the_elastic_one():
    of = story().of
    elastic = solve_joint(of.joint, 700.0)
    state = equilibrium(of, at_rest(of), 700.0, LOAD)
    assert state.yielding == (0, 0)
    assert largest(state).max() == 0.0
    assert state.dissipated == 0.0
    assert state.pressure == pytest.approx(elastic.patch.pressure, rel=1e-9, abs=1e-9)
    assert state.approach == pytest.approx(elastic.approach, rel=1e-9)
    assert state.half_width == pytest.approx(elastic.patch.half_width, rel=1e-9)
    assert state.centre == pytest.approx(elastic.patch.centre, abs=1e-9)
    assert state.bodies[0].u == pytest.approx(elastic.member_displacement, abs=1e-12)
    assert state.bodies[1].u == pytest.approx(elastic.patch.plate_displacement, abs=1e-12)
    # And once let go, nothing is left of it.
    left = equilibrium(of, state, 0.0, LOAD)
    assert max(np.abs(body.u).max() for body in left.bodies) < 1e-12
    assert left.stored == pytest.approx(0.0, abs=1e-15)


# --- energy and steps -----------------------------------------------------------------------------


def stepped():
    """One strike by steps, and by steps half as long."""
    return story(steps=32, release=24), story(steps=64, release=48)


def missing(of):
    """Work put in that is neither stored nor turned into heat, over the most work."""
    return np.array([(s.work - s.stored - s.dissipated) / of.peak.work for s in of.rise + of.fall])


def test_work_put_in_is_stored_or_turned_into_heat():
    # The work is by the trapezoid rule, so a release takes shorter steps than it needs. The error
    # is of second order where steel is elastic, of first where it yields.
    coarse, fine = (np.abs(missing(of)).max() for of in stepped())
    assert coarse < 0.005
    assert fine < 0.6 * coarse
    assert story().peak.dissipated > 0.1 * story().peak.work
    assert story().left.stored > 0.0  # residual stress


def test_springs_below_the_plate_store_their_part():
    # Elastic, and so soft that the springs have nearly all of it: each a half of q · q/2k.
    def on_springs(mesh):
        return holds.edges(mesh, "elastic supports", 100.0)

    of, load = struck(member(R, BORE, HALF, "beam shear", 3.0), plate(
        300.0, 60.0, HALF, on_springs, 3.0
    )), 500.0  # fmt: skip
    state = along(of, at_rest(of), load, 4)[-1]
    assert state.yielding == (0, 0)
    assert state.stored == pytest.approx(state.work, rel=0.005)
    assert state.stored > load**2 / (4.0 * 100.0) > 0.9 * state.stored


def test_steps_are_shortened_where_they_do_not_converge(monkeypatch):
    # With few iterations allowed, shorter steps than asked for lead to the same end.
    asked = along(story().of, at_rest(story().of), LOAD, 4)
    monkeypatch.setattr(strike, "MOST_ITERATIONS", 5)
    shorter = along(story().of, at_rest(story().of), LOAD, 4)
    assert len(shorter) > len(asked)
    assert max(state.iterations for state in shorter) <= 5 < max(s.iterations for s in asked)
    assert shorter[-1].line_load == LOAD
    assert shorter[-1].approach == pytest.approx(
        story(steps=64, release=48).peak.approach, rel=0.005
    )


@pytest.mark.filterwarnings("error")
def test_steel_that_gives_way_under_the_contact_finds_no_equilibrium(monkeypatch):
    whole = strike.normal_system

    def given_way(joint):
        system = whole(joint)
        return replace(system, compliance=-system.compliance)

    def indefinite(*_):
        return np.linalg.cholesky(-np.eye(2))

    for name, stands_in in (("normal_system", given_way), ("solve_contact", indefinite)):
        with monkeypatch.context() as patch:
            patch.setattr(strike, name, stands_in)
            with pytest.raises(SolveError, match="no equilibrium"):
                equilibrium(story().of, at_rest(story().of), LOAD, LOAD)


def test_half_the_steps_move_no_answer():
    # Steps are to be shorter than those in which contact takes up node after node: with 16, some 3
    # nodes to a step, the largest plastic strain of the post, a point at the edge of contact, is
    # 15 % off. That point stays the last to settle: 0.8 % here, 0.4 % from 64 to 128.
    once, twice = stepped()
    for name in ("peak", "left"):
        a, b = getattr(once, name), getattr(twice, name)
        assert a.approach == pytest.approx(b.approach, rel=0.005)
        assert largest(a)[0] == pytest.approx(largest(b)[0], rel=0.012)
        assert largest(a)[1] == pytest.approx(largest(b)[1], rel=0.005)
        assert dent(once.of, a) == pytest.approx(dent(twice.of, b), rel=0.005)
        assert a.dissipated == pytest.approx(b.dissipated, rel=0.005)
    assert once.left.approach > 0.05 * once.peak.approach
    assert dent(once.of, once.left).min() > 1e-3


# --- symmetry and scale ---------------------------------------------------------------------------


def mirrored(state):
    """What of a state has a mirror image: where it is, and how much."""
    return state.approach, state.peak_pressure, state.half_width, *largest(state), state.dissipated


def test_a_strike_in_the_middle_leaves_a_symmetric_dent():
    for state in (story().peak, story().left):
        if state.line_load:
            assert state.pressure == pytest.approx(state.pressure[::-1], abs=1e-6 * Y)
            assert state.centre == pytest.approx(0.0, abs=1e-6)
        for body, at in zip(story().of.bodies, state.bodies, strict=True):
            u = at.u.reshape(-1, 2)[body.body.lines[0].nodes]
            u = u - [u[:, 0].mean(), 0.0]
            assert u == pytest.approx(u[::-1] * [-1.0, 1.0], abs=1e-7)


def test_strikes_off_the_middle_to_either_side_are_mirror_images():
    # A plate on two edges bends askew below a strike off its middle.
    right, left = (story(load=2500.0, steps=8, offset=at, held=two_edges) for at in (60.0, -60.0))
    for name in ("peak", "left"):
        a, b = getattr(right, name), getattr(left, name)
        assert mirrored(a) == pytest.approx(mirrored(b), rel=1e-6)
        assert a.pressure == pytest.approx(b.pressure[::-1], abs=1e-5 * Y)
    assert right.peak.centre == pytest.approx(-left.peak.centre, rel=1e-5)
    assert abs(right.peak.centre) > 0.01


def test_twice_the_shape_has_the_same_stress_at_twice_the_line_load():
    def of(size):
        post = member(size * R, size * BORE, size * HALF, "beam shear", 3.0)
        base = plate(size * 300.0, size * 60.0, size * HALF, scale=3.0)
        striking = struck(post, base, radius=size * R)
        peak = along(striking, at_rest(striking), size * LOAD, 8, size * LOAD)[-1]
        return peak, along(striking, peak, 0.0, 2, size * LOAD)[-1]

    for one, two in zip(of(1.0), of(2.0), strict=True):
        assert two.approach == pytest.approx(2.0 * one.approach, rel=1e-6)
        assert two.pressure == pytest.approx(one.pressure, abs=1e-5 * Y)
        assert two.dissipated == pytest.approx(4.0 * one.dissipated, rel=1e-6)
        assert largest(two) == pytest.approx(largest(one), rel=1e-6)
        for a, b in zip(one.bodies, two.bodies, strict=True):
            assert b.stress == pytest.approx(a.stress, abs=1e-5 * Y)


# --- after the strike -----------------------------------------------------------------------------


def test_the_same_load_again_is_elastic():
    first, of = story().peak, story().of
    again = along(of, story().left, LOAD, 5)
    assert all(state.yielding == (0, 0) for state in again)
    assert largest(again[-1]) == pytest.approx(largest(first), rel=1e-12)
    assert again[-1].approach == pytest.approx(first.approach, rel=1e-8)
    assert again[-1].pressure == pytest.approx(first.pressure, abs=1e-6 * Y)
    more = along(of, again[-1], 1.1 * LOAD, 2)[-1]
    assert sum(more.yielding) > 0
    assert (largest(more) > largest(first)).all()


@given(st.floats(0.05, 0.95))
@settings(max_examples=5, deadline=None)
def test_release_and_loading_again_pass_the_same_states(share):
    # The steel is elastic on both: how far it was let go before leaves no trace.
    of, peak = story().of, story().peak
    down = equilibrium(of, peak, share * LOAD, LOAD)
    up = equilibrium(of, story().left, share * LOAD, LOAD)
    assert down.approach == pytest.approx(up.approach, rel=1e-8)
    assert down.pressure == pytest.approx(up.pressure, abs=1e-6 * Y)


def test_steel_that_yields_back_is_told_of_where_it_does():
    # As long as isotropic steel of this tube is let go nothing yields; with a surface that moves,
    # and half as much load again, the tube's ring does, and takes up energy.
    assert all(state.yielding == (0, 0) for state in story().fall)
    back = story(law=HARD, load=6000.0, steps=12, release=12)
    assert back.left.yielding[0] > 0
    assert back.left.dissipated > back.peak.dissipated
    assert largest(back.left)[0] > largest(back.peak)[0]
    # By release in twice the steps, no other answer.
    fine = along(back.of, back.peak, 0.0, 24)[-1]
    assert back.left.approach == pytest.approx(fine.approach, rel=0.005)
    assert largest(back.left) == pytest.approx(largest(fine), rel=0.005)


def centre_of_strain(body, state):
    """Where along x, mm, the plastic strain of a body has its middle."""
    weight = body.area * state.plastic.equivalent
    return float((weight * body.body.gradients.x[0]).sum() / weight.sum())


@pytest.mark.parametrize("shift", [1.2, -1.2])
def test_a_post_that_has_moved_strikes_where_it_has_moved_to(shift):
    # A plate on a rigid base is as stiff a little way along: but for its mesh, the same strike.
    here = struck(*pair())
    there = struck(*pair(), moved=shift)
    a, b = (along(of, at_rest(of), LOAD, 8)[-1] for of in (here, there))
    assert b.approach == pytest.approx(a.approach, rel=0.005)
    middles = [centre_of_strain(of.bodies[1], s.bodies[1]) for of, s in ((here, a), (there, b))]
    assert middles == pytest.approx([0.0, shift], abs=0.1 * abs(shift))
    # The post knows nothing of it.
    assert centre_of_strain(there.bodies[0], b.bodies[0]) == pytest.approx(0.0, abs=0.1)


def test_a_second_strike_beside_the_dent_yields_anew_and_one_into_it_does_not():
    left = story().left
    strains = {}
    for shift in (0.0, 1.2, -1.2):
        of = struck(*pair(), moved=shift)
        state = along(of, left, LOAD, 8)[-1]
        strains[shift] = sum(
            float(((b.plastic.equivalent - a.plastic.equivalent) * body.area).sum())
            for body, a, b in zip(of.bodies, left.bodies, state.bodies, strict=True)
        )
    assert strains[0.0] == pytest.approx(0.0, abs=1e-12)
    assert strains[1.2] > 1e-4
    assert strains[-1.2] == pytest.approx(strains[1.2], rel=1e-5)


# --- limits, and what is beside the plane ---------------------------------------------------------


def blocks(law):
    """Two blocks of 2 mm by 1 mm pressed flat on each other, with meshes that do not match."""
    top = block(np.linspace(-1, 1, 7), np.linspace(0, 1, 4), "bottom", "midplane")
    base = block(np.linspace(-1, 1, 11), np.linspace(-1, 0, 5), "top", "back")
    upper, lower = (
        condense(top, STEEL, holds.diametral(top)),
        condense(base, STEEL, holds.rigid_base(base)),
    )
    return struck(upper, lower, law, np.inf)


def test_blocks_that_yield_press_evenly_up_to_their_limit_and_stand_no_more():
    # 2Y/√3 in plane strain, over 2 mm, any text on plasticity: the patch test of contact, of steel
    # that yields throughout.
    of, limit = blocks(Plastic(STEEL, Y)), 4.0 * Y / np.sqrt(3.0)
    state = along(of, at_rest(of), 0.999 * limit, 10, limit)[-1]
    assert state.yielding == (of.bodies[0].area.size, of.bodies[1].area.size)
    assert state.pressure == pytest.approx(0.999 * limit / 2.0, rel=1e-9)
    for body in state.bodies:
        assert body.stress[..., 1] == pytest.approx(-0.999 * limit / 2.0, rel=1e-8)
        assert body.stress[..., [0, 3]] == pytest.approx(0.0, abs=1e-6 * Y)
    with pytest.raises(SolveError):
        along(of, at_rest(of), 1.001 * limit, 10, limit)


def test_hardening_carries_the_blocks_beyond_that_limit():
    # Plastic strain along y is −(√3/2) εp once σz is the mean of the others, so the pressure is
    # (2/√3)(Y + H εp) and the blocks are shorter by its elastic part and √3/2 εp of their 2 mm.
    # Of σz there is a little missing: found 1 % off.
    of, limit = blocks(MILD), 4.0 * Y / np.sqrt(3.0)
    state = along(of, at_rest(of), 1.2 * limit, 24, limit)[-1]
    plastic = 0.2 * Y / MILD.hardening
    assert largest(state) == pytest.approx(plastic, rel=0.01)
    shorter = 2.0 * (0.6 * limit * (1.0 - 0.3**2) / STEEL.young + np.sqrt(3.0) / 2.0 * plastic)
    assert state.approach == pytest.approx(shorter, rel=0.01)


def test_bending_beside_the_plane_makes_the_post_yield_sooner():
    # σz of a beam, +0.8 Y at the load and in balance by itself: the pressure is as without it until
    # something yields, and then more does.
    post, _ = pair()
    beside = np.zeros((*post.gradients.dx.shape, 6))
    beside[..., 2] = 0.8 * Y / 1000.0
    of = replace(story().of, bodies=(yielding_body(post, MILD, beside), story().of.bodies[1]))
    plain = equilibrium(story().of, at_rest(of), 1000.0, LOAD)
    bent = equilibrium(of, at_rest(of), 1000.0, LOAD)
    assert bent.yielding[0] > 10 + plain.yielding[0]
    assert bent.approach > plain.approach
    assert bent.balance < 1e-9
    light = [equilibrium(one, at_rest(one), 100.0, LOAD) for one in (of, story().of)]
    assert light[0].yielding == (0, 0)
    assert light[0].approach == pytest.approx(light[1].approach, rel=1e-12)
    assert light[0].bodies[0].stress[..., 2] == pytest.approx(
        light[1].bodies[0].stress[..., 2] + 0.08 * Y, abs=1e-9
    )
