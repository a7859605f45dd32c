"""A section as that of a long body: the energy of its modes, and the stress of known motions."""

from unittest.mock import patch

import numpy as np
import pytest
from prisms import BAND, CONCRETE, RADIUS, node, post, resultants, steel, under

from contactfe.errors import SolveError
from contactfe.hand import round_section, thick_ring
from contactfe.solve.prism import at_node, prism
from contactfe.verify import bodies
from contactfe.verify.bodies import STEEL

SECTIONS = pytest.mark.parametrize(
    "of", [{}, {"bore": 0.0}, {"infill": CONCRETE}], ids=["tube", "solid", "filled"]
)


def energy(of):
    """Twice the energy of slopes and values of the modes' amplitudes, as one matrix."""
    return np.block([[of.twice, of.once], [of.once.T, of.still]])


def in_plane(of, motion):
    """Amplitudes of a motion (2, n) of (x, y), which must be one of the section's."""
    modes = np.hstack([part.moved.reshape(-1, of.modes).T for part in of.parts])
    return of_modes(modes, np.hstack([motion(*part.x).ravel() for part in of.parts]))


def along(of, motion):
    """Amplitudes of a motion (n,) along the axis."""
    modes = np.hstack([part.along.T for part in of.parts])
    return of_modes(modes, np.hstack([motion(*part.x) for part in of.parts]))


def of_modes(modes, wanted):
    found = np.linalg.lstsq(modes.T, wanted)[0]
    assert modes.T @ found == pytest.approx(wanted, abs=1e-6 * np.abs(wanted).max())
    return found


def both(of, u=None, w=None):
    """Amplitudes of what moves in the plane and along the axis, as one vector."""
    i, j = of.modes, len(of.still) - of.modes
    return np.concatenate([np.zeros(i) if u is None else u, np.zeros(j) if w is None else w])


def shift(x, y):
    return np.stack([np.zeros_like(x), np.ones_like(x)])


def turn(x, y):
    return np.stack([RADIUS - y, x])


@SECTIONS
def test_no_motion_has_negative_energy(of):
    size = np.linalg.eigvalsh(energy(post(**of)))
    assert size.min() > -1e-9 * size.max()


@SECTIONS
def test_rigid_motions_cost_nothing(of):
    # A tilt of the axis moves the section along it and displaces it with a slope: the shear of one
    # cancels that of the other, and where it does not is 4 μA. To the mesh's circles.
    section = post(**of)
    E, nil = energy(section), both(section)
    lifted = both(section, u=in_plane(section, shift))
    turned = both(section, u=in_plane(section, turn))
    pulled = both(section, w=along(section, lambda x, y: np.ones_like(x)))
    tilted = both(section, w=along(section, lambda x, y: RADIUS - y))
    bore = 2.0 * of.get("bore", 50.0)
    shear = STEEL.mu * round_section.area(2 * RADIUS, bore)
    if "infill" in of:
        shear += CONCRETE.mu * round_section.area(bore)
    for slope, value in ((nil, lifted), (nil, turned), (nil, pulled), (lifted, tilted)):
        motion = np.concatenate([slope, value])
        size = 1.0 if value is not turned else RADIUS**2
        assert abs(motion @ E @ motion) < 1e-6 * shear * size
    sheared = np.concatenate([lifted, -tilted])
    assert sheared @ E @ sheared == pytest.approx(4.0 * shear, rel=1e-4)


def test_energy_of_twist_and_stretch_is_the_closed_form():
    # Without leave to contract a stretch costs λ + 2μ; a twist costs GJ. To the mesh's circles.
    section = post()
    G, nu = STEEL.mu, STEEL.poisson
    turned = both(section, u=in_plane(section, turn))
    pulled = both(section, w=along(section, lambda x, y: np.ones_like(x)))
    J = np.pi / 2.0 * (RADIUS**4 - 50.0**4)
    assert turned @ section.twice @ turned == pytest.approx(G * J, rel=1e-4)
    area = round_section.area(2 * RADIUS, 100.0)
    held = 2.0 * G * (1.0 - nu) / (1.0 - 2.0 * nu)
    assert pulled @ section.twice @ pulled == pytest.approx(held * area, rel=1e-4)


def test_stress_of_twist_and_stretch():
    section = post()
    part, nil = steel(section), both(section)
    x, y = part.x
    twist = section.stress(part, nil, both(section, u=in_plane(section, turn)))
    G = STEEL.mu
    assert twist[:, 4] == pytest.approx(G * (RADIUS - y), abs=1e-6 * G * RADIUS)
    assert twist[:, 5] == pytest.approx(G * x, abs=1e-6 * G * RADIUS)
    assert np.abs(twist[:, :4]).max() < 1e-6 * G * RADIUS
    pulled = both(section, w=along(section, lambda x, y: np.ones_like(x)))
    stretch = section.stress(part, nil, pulled)
    lam, mu = STEEL.lam, STEEL.mu
    exact = np.array([lam, lam, lam + 2.0 * mu, 0.0, 0.0, 0.0])
    assert stretch == pytest.approx(np.tile(exact, (len(x), 1)), abs=1e-6 * lam)


def test_stress_in_the_plane_is_that_of_the_strain():
    # Of any displacement of the modes: σ = λ(εx + εy) + 2με, and σz = ν(σx + σy).
    section = post()
    part = steel(section)
    u = both(section, u=np.linspace(1.0, -0.5, section.modes))
    s = section.stress(part, u, both(section))
    E, nu = STEEL.young, STEEL.poisson
    ex, ey, gxy = part.strain @ u[: section.modes]
    x, y, t, size = s[:, 0], s[:, 1], s[:, 3], np.abs(s).max()
    assert (1 + nu) * ((1 - nu) * x - nu * y) == pytest.approx(E * ex, abs=1e-9 * size)
    assert (1 + nu) * ((1 - nu) * y - nu * x) == pytest.approx(E * ey, abs=1e-9 * size)
    assert 2 * (1 + nu) * t == pytest.approx(E * gxy, abs=1e-9 * size)
    assert s[:, 2] == pytest.approx(nu * (s[:, 0] + s[:, 1]), abs=1e-9 * size)


@pytest.mark.parametrize("tangential", [False, True])
def test_unit_loads_have_unit_resultants(tangential):
    section = post(tangential=tangential)
    moved = [in_plane(section, motion) for motion in (lambda *at: shift(*at)[::-1], shift)]
    work = [motion @ section.loads for motion in moved]
    assert np.transpose(work) == pytest.approx(section.forces, abs=1e-8)
    forces = [[0.0, 1.0], [1.0, 0.0]][: 1 + tangential]
    assert section.forces == pytest.approx(np.array(forces), abs=1e-12)
    if tangential:  # about the centre, a radius away: less the sag of a circle over the band
        lever = in_plane(section, turn) @ section.loads[:, 1]
        assert lever == pytest.approx(RADIUS, rel=BAND**2)


@SECTIONS
def test_bending_stiffness_is_that_of_beam_theory(of):
    # Σ E I, of a section as round as its mesh: 1e-5 measured.
    section = post(**of)
    bore = 2.0 * of.get("bore", 50.0)
    EI = STEEL.young * round_section.second_moment(2 * RADIUS, bore)
    if "infill" in of:
        EI += CONCRETE.young * round_section.second_moment(bore)
    assert section.bending == pytest.approx(EI * np.eye(2), rel=1e-4, abs=1e-6 * EI)
    assert section.centroid == pytest.approx([0.0, RADIUS], abs=1e-3)


@SECTIONS
@pytest.mark.parametrize("axis", [0, 1])
def test_stress_of_the_beam_has_its_moment(of, axis):
    section = post(**of)
    moment = np.eye(2)[axis] * 1e6
    stresses = []
    for part in section.parts:
        stress = np.zeros((part.x.shape[1], 6))
        stress[:, 2] = section.bent(part, moment)
        stresses.append(stress)
    force, found = resultants(section, stresses)
    assert found[:2] == pytest.approx(moment, abs=1.0)
    assert np.abs(force).max() < 1e-3 * 1e6 / RADIUS


@pytest.mark.parametrize("held_by", ["diametral", "rigid core"])
def test_what_its_hold_stops_does_not_bend(held_by):
    section = post(held_by=held_by)
    assert not section.bending.any()
    assert not section.bent(steel(section), np.array([1e6, 1e6])).any()


@pytest.mark.parametrize("held_by", ["beam shear", "diametral"])
def test_stress_of_the_slice_is_the_exact_series(held_by):
    # The load is spread over a band, and elements are coarse: 3.2 % and 2.1 % measured.
    section = post(held_by=held_by)
    part = steel(section)
    exact = thick_ring.bore_hoop(800.0, RADIUS, 50.0, 0.0, held_by, 0.3, "plane strain")
    slice_ = section.slice_of(part, np.array([800.0]))
    at = slice_[under(section)]
    assert at[0] == pytest.approx(exact, rel=4e-2)
    side = thick_ring.bore_hoop(800.0, RADIUS, 50.0, np.pi / 2, held_by, 0.3, "plane strain")
    assert slice_[node(part, 50.0, RADIUS), 1] == pytest.approx(side, rel=2e-2)
    assert slice_[:, 2] == pytest.approx(0.3 * (slice_[:, 0] + slice_[:, 1]), rel=1e-9)
    assert not slice_[:, 4:].any()


def test_slices_of_many_loads_add_up():
    section = post(tangential=True)
    part = steel(section)
    one, other = (section.slice_of(part, q) for q in (np.array([2.0, 0.0]), np.array([0.0, 3.0])))
    assert section.slice_of(part, np.array([2.0, 3.0])) == pytest.approx(one + other, abs=1e-12)
    assert section.slices == pytest.approx(section.slices.T, abs=1e-9 * section.slices.max())
    # A load presses its own place in.
    assert np.linalg.eigvalsh(section.slices).min() > 0.0


def test_a_node_of_a_part_has_what_the_part_has_there():
    section = post(tangential=True)
    part = steel(section)
    rng = np.random.default_rng(1)
    value, slope = rng.normal(size=(2, len(section.still)))
    alone = at_node(part, 17)
    assert section.stress(alone, value, slope) == pytest.approx(
        section.stress(part, value, slope)[[17]], rel=1e-12
    )
    q, moment = np.array([3.0, 1.0]), np.array([2e5, 1e6])
    assert section.slice_of(alone, q) == pytest.approx(section.slice_of(part, q)[[17]], rel=1e-12)
    assert section.bent(alone, moment) == pytest.approx(section.bent(part, moment)[[17]], rel=1e-12)


def test_a_wave_number_that_cannot_be_solved_is_an_error():
    body = bodies.post(RADIUS, 50.0, 0.3 * RADIUS, "beam shear", 4.0)
    with (
        patch("contactfe.solve.prism.factored", side_effect=RuntimeError("singular")),
        pytest.raises(SolveError, match=r"wave number .*singular"),
    ):
        prism(body, RADIUS, BAND * RADIUS, 3)
