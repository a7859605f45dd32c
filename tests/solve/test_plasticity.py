"""Radial return at a point, against closed forms and against itself."""

from dataclasses import replace
from itertools import pairwise
from math import sqrt

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from contactfe.solve.elastic import Elastic
from contactfe.solve.plasticity import (
    IN_PLANE,
    Plastic,
    deviator,
    norm,
    plane_tangent,
    product,
    returned,
    trace,
    virgin,
)

E, NU, Y, H = 200e3, 0.29, 345.0, 5e3
STEEL = Elastic(E, NU)
MU = STEEL.mu
NONE = np.zeros(6)

LAWS = [
    Plastic(STEEL, Y),
    Plastic(STEEL, Y, H),
    Plastic(STEEL, Y, H, "kinematic"),
]

components = st.lists(st.floats(-1.0, 1.0), min_size=6, max_size=6).map(np.array)
laws = st.sampled_from(LAWS)


def of_mises(tensor):
    """The equivalent stress of stress (6,), written out."""
    x, y, z, xy, xz, yz = tensor
    shears = xy**2 + xz**2 + yz**2
    return sqrt(((x - y) ** 2 + (y - z) ** 2 + (z - x) ** 2) / 2.0 + 3.0 * shears)


def tension(law, path):
    """Stress and state along a path of (axial strain, axial plastic strain) in simple tension.

    The lateral strains are those of simple tension, so the stress across has to come out as 0.
    """
    state, found = virgin(()), []
    for axial, plastic in path:
        across = -NU * (axial - plastic) - plastic / 2.0
        at = returned(law, np.array([axial, across, across, 0.0, 0.0, 0.0]), state, NONE)
        state = at.state
        found.append(at)
    return found


def shear(law, path):
    """Stress and state along a path of the engineering shear strain γxz."""
    state, found = virgin(()), []
    for gamma in path:
        at = returned(law, np.array([0.0, 0.0, 0.0, 0.0, gamma / 2.0, 0.0]), state, NONE)
        state = at.state
        found.append(at)
    return found


def drawn(law, strains, beside=NONE):
    """The state after a path of strain increments, each component up to 4 yield strains."""
    state, strain = virgin(()), np.zeros(6)
    for increment in strains:
        strain = strain + 4.0 * Y / E * increment
        state = returned(law, strain, state, beside).state
    return strain, state


@pytest.mark.parametrize("law", LAWS)
def test_tension_follows_its_line_of_hardening(law):
    # Beyond Y the stress is Y + H εp and the strain σ/E + εp.
    plastic = np.array([0.0, 1e-4, 2e-3, 0.01, 0.05])
    stress = Y + law.hardening * plastic
    for at, p, s in zip(
        tension(law, zip(stress / E + plastic, plastic, strict=True)), plastic, stress, strict=True
    ):
        assert at.stress == pytest.approx([s, 0, 0, 0, 0, 0], abs=1e-9 * E)
        assert at.state.equivalent == pytest.approx(p, abs=1e-12)
        assert at.state.strain == pytest.approx([p, -p / 2, -p / 2, 0, 0, 0], abs=1e-12)


def test_steel_is_elastic_up_to_its_yield_strength_and_not_beyond():
    below, above = (
        tension(LAWS[0], [(share * Y / E, 0.0)])[0] for share in (1.0 - 1e-9, 1.0 + 1e-9)
    )
    assert not below.yields
    assert below.soft == 1.0
    assert below.along == 0.0
    assert above.yields


def test_tension_then_compression_of_a_surface_that_grows_yields_at_the_mirror_stress():
    # Isotropic: after 0.01 in tension, at −(Y + 0.01 H); from there the slope goes on.
    law, p, back = LAWS[1], 0.01, 0.004
    low = -(Y + H * (p + back))
    first, turn, on = tension(
        law, [((Y + H * p) / E + p, p), (-(Y + H * p) / E + p, p), (low / E + p - back, p - back)]
    )
    assert first.yields
    assert not turn.yields or turn.added < 1e-12
    assert on.stress == pytest.approx([low, 0, 0, 0, 0, 0], abs=1e-9 * E)
    assert on.state.equivalent == pytest.approx(p + back, rel=1e-9)


def test_tension_then_compression_of_a_surface_that_moves_yields_early():
    # Bauschinger: the elastic range stays 2Y, so compression yields at (Y + H p) − 2Y, above −Y.
    law, p, back = LAWS[2], 0.01, 0.004
    high = Y + H * p
    early, low = high - 2.0 * Y, high - 2.0 * Y - H * back
    first, inside, on = tension(
        law,
        [
            (high / E + p, p),
            ((early + 1e-6 * Y) / E + p, p),
            (low / E + p - back, p - back),
        ],
    )
    assert first.yields
    assert not inside.yields
    assert on.yields
    assert on.stress == pytest.approx([low, 0, 0, 0, 0, 0], abs=1e-9 * E)
    assert on.state.equivalent == pytest.approx(p + back, rel=1e-9)
    # Back stress of the tension test: 2/3 H of the plastic strain that is left.
    assert on.state.back == pytest.approx(2.0 / 3.0 * H * on.state.strain, rel=1e-9)


def test_cycles_of_a_surface_that_moves_close_from_the_first():
    # Between ± the same strain, linear kinematic hardening repeats; isotropic creeps to elastic.
    path = [0.02, -0.02] * 6
    moves = [at.stress[4] for at in shear(LAWS[2], path)]
    assert moves[2:] == pytest.approx([moves[0], moves[1]] * 5, rel=1e-9)
    grows = shear(replace(LAWS[1], hardening=50e3), path * 8)
    assert all(later.added <= before.added for before, later in pairwise(grows[1:]))
    assert grows[-1].added < 1e-3 * grows[0].added


@pytest.mark.parametrize("law", LAWS)
def test_shear_yields_at_its_share_and_follows_its_line(law):
    # τ = Y/√3 + (H/3) γp, and γ = τ/μ + γp.
    plastic = np.array([0.0, 1e-3, 0.02])
    tau = Y / sqrt(3.0) + law.hardening / 3.0 * plastic
    for at, t, p in zip(shear(law, tau / MU + plastic), tau, plastic, strict=True):
        assert at.stress == pytest.approx([0, 0, 0, 0, t, 0], abs=1e-9 * E)
        assert at.state.equivalent == pytest.approx(p / sqrt(3.0), abs=1e-12)


def test_stress_from_beside_the_plane_takes_part_in_yielding():
    # σz alone yields at Y, τyz alone at Y/√3; the other 4 components likewise.
    for component in range(6):
        strength = Y if component < 3 else Y / sqrt(3.0)
        for share, yields in ((1.0 - 1e-9, False), (1.0 + 1e-9, True)):
            beside = np.zeros(6)
            beside[component] = share * strength
            at = returned(LAWS[0], NONE, virgin(()), beside)
            assert at.yields == yields
            assert at.stress == pytest.approx(beside, abs=1e-6 * Y)


def test_pressure_alone_never_yields():
    at = returned(LAWS[0], -0.1 * np.array([1.0, 1.0, 1.0, 0, 0, 0]), virgin(()), NONE)
    assert not at.yields
    assert at.stress[:3] == pytest.approx(-0.3 * E / (3.0 * (1.0 - 2.0 * NU)))


@given(laws, st.lists(components, min_size=1, max_size=5), components)
@settings(max_examples=100, deadline=None)
def test_any_path_ends_on_the_yield_surface_or_inside(law, strains, beside):
    beside = 200.0 * beside
    before_strain, before = drawn(law, strains[:-1], beside)
    at = returned(law, before_strain + 4.0 * Y / E * strains[-1], before, beside)
    radius = Y + law.isotropic * at.state.equivalent
    size = of_mises(at.stress - at.state.back)
    assert size <= radius * (1.0 + 1e-9)
    assert size == pytest.approx(of_mises(deviator(at.stress) - at.state.back), rel=1e-9, abs=1e-9)
    if at.yields:
        assert size == pytest.approx(radius, rel=1e-9)
    assert abs(trace(at.state.strain)) < 1e-12
    assert abs(trace(at.state.back)) < 1e-9
    step = at.state.strain - before.strain
    assert norm(step) * sqrt(2.0 / 3.0) == pytest.approx(at.added, abs=1e-15, rel=1e-9)
    assert at.state.equivalent - before.equivalent == pytest.approx(at.added, abs=1e-14)
    # Plastic strain takes work, and what is beyond the hardening turns into heat: Y each of it.
    heat = product(at.stress - at.state.back, step) - law.isotropic * at.state.equivalent * at.added
    assert heat == pytest.approx(Y * at.added, abs=1e-9)


@given(laws, st.lists(components, min_size=1, max_size=4))
@settings(max_examples=50, deadline=None)
def test_what_was_returned_stays_where_it_is(law, strains):
    strain, state = drawn(law, strains)
    again = returned(law, strain, state, NONE)
    assert not again.yields
    assert again.added == 0.0


@given(laws, st.lists(components, min_size=1, max_size=3), components)
@settings(max_examples=50, deadline=None)
def test_turned_axes_give_the_turned_stress(law, strains, turn):
    # Every shear counts twice in a product: turning mixes them with the direct components.
    R = Rotation.from_rotvec(3.0 * turn[:3]).as_matrix()
    places = np.array([[0, 3, 4], [3, 1, 5], [4, 5, 2]])

    def turned(tensor):
        matrix = R @ tensor[places] @ R.T
        return matrix[[0, 1, 2, 0, 0, 1], [0, 1, 2, 1, 2, 2]]

    def stress(increments):
        strain, state = drawn(law, increments[:-1])
        return returned(law, strain + 4.0 * Y / E * increments[-1], state, NONE).stress

    there = stress([turned(each) for each in strains])
    assert there == pytest.approx(turned(stress(strains)), abs=1e-8 * Y)


@given(laws, st.lists(components, min_size=1, max_size=3), components, components)
@settings(max_examples=60, deadline=None)
def test_tangent_is_the_slope_of_the_stress(law, strains, last, beside):
    beside = 100.0 * beside
    before, state = drawn(law, strains, beside)
    strain = before + 4.0 * Y / E * last
    at = returned(law, strain, state, beside)
    step = 1e-6 * Y / E
    columns = []
    for component, share in zip(IN_PLANE, (1.0, 1.0, 0.5), strict=True):  # of γxy, εxy is half
        more = np.zeros(6)
        more[component] = share * step
        up, down = (returned(law, strain + sign * more, state, beside) for sign in (1.0, -1.0))
        assume(up.yields == down.yields == at.yields)  # the law has a kink at first yield
        columns.append((deviator(up.stress) - deviator(down.stress))[IN_PLANE] / (2.0 * step))
    found = plane_tangent(law, at.soft, at.along, at.normal)
    assert found == pytest.approx(np.stack(columns, axis=-1), abs=1e-5 * MU)
    assert found == pytest.approx(found.T)
