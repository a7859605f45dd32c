"""A post in three dimensions against elements, shells and Michell's theory, none of them ours.

``three_dimensions.json`` is a tube of 150 mm by elements in three dimensions; what made it is the
script of that name, which says what is to be compared. z runs from the tip there, from the root
here.
"""

import json
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from prisms import LENGTH, RADIUS, STANDARD, node, pressed, steel, under
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu
from skfem import Basis, ElementTriP2

from contactfe.hand import thick_ring
from contactfe.solve.bar import neighbours
from contactfe.solve.beam import shear_patterns
from contactfe.solve.condense import respond
from contactfe.verify import bodies
from contactfe.verify.bodies import STEEL

DATA = json.loads(Path(__file__).with_name("three_dimensions.json").read_text("utf-8"))
PROBLEM, WALLS = DATA["problem"], DATA["walls"]
INSET = 0.1 * RADIUS
"""Distance from the ends of a contact from which figures are claimed."""

EVERY = pytest.mark.parametrize("wall", sorted(WALLS, key=float))


def test_the_problem_is_the_one_solved_here():
    assert PROBLEM["outside_diameter"] == 2.0 * RADIUS
    assert PROBLEM["length"] == LENGTH
    assert PROBLEM["poisson"] == STEEL.poisson
    assert set(WALLS) == {"15", "25", "37.5"}
    for wall in WALLS.values():
        stated = {(load["place"], load["shape"], load["length"]) for load in wall["loads"]}
        assert len(stated) == len(wall["loads"]) == 24


def read(part, wall, name, of):
    """A quantity of the reference as the bar has it: the slice's exact, and what is added to it."""
    bore = RADIUS - wall
    if name in {"bore_under", "bore_side"}:
        angle, (x, y), component = {
            "bore_under": (0.0, (0.0, wall), 0), "bore_side": (np.pi / 2, (bore, RADIUS), 1),
        }[name]  # fmt: skip
        exact = thick_ring.bore_hoop(
            of.line_loads[0], RADIUS, bore, angle, "beam shear", STEEL.poisson, "plane strain"
        )
        return exact + of.added[0][1][node(part, x, y), component]
    k = under(of.prism)
    if name == "axial_under":
        return of.whole(part)[k, 2] + of.prism.bent(part, of.moment)[k]
    if name == "shear_under":  # of a face that looks the other way
        return -of.whole(part)[node(part, 0.0, wall / 2.0), 5]
    x, y = {"u_side": (bore, RADIUS), "u_far": (0.0, 2.0 * RADIUS)}[name]
    moved = part.moved[1, node(part, x, y)] @ of.value[: of.prism.modes]
    return moved * STEEL.young / PROBLEM["young"]


NAMES = "bore_under", "bore_side", "axial_under", "shear_under", "u_side", "u_far"


@cache
def errors(wall):
    """Of every load its place and length, which stations are clear of its ends, and the errors of
    each quantity over the contact, relative to the greatest of its curve."""
    found, bore = [], RADIUS - float(wall)
    for load in WALLS[wall]["loads"]:
        start, length = LENGTH - load["start"] - load["length"], load["length"]
        z, q = np.array([start, start + length]), PROBLEM["mean_line_load"]
        shape = {"even": [[q, q]], "peaked": [[0.0, 2.0 * q]]}[load["shape"]]
        at = LENGTH - np.array(load["z"])
        inside = (at > z[0] - 1e-6) & (at < z[1] + 1e-6)
        of = pressed(*z, bore=bore, **STANDARD)
        part, curves = steel(of.prism), {}
        places = neighbours(of, z, np.array(shape), at[inside])
        for name in NAMES:
            ours = np.array([read(part, float(wall), name, one) for one in places])
            theirs = np.array(load[name])[inside]
            curves[name] = np.abs(ours - theirs) / np.abs(theirs).max()
        deep = np.minimum(at[inside] - z[0], z[1] - at[inside])
        found.append(((load["place"], length), deep > INSET - 0.1, curves))
    return found


def worst(wall, name, *places, ends=False, shortest=0.0):
    return max(
        curves[name][inner | ends].max()
        for (place, length), inner, curves in errors(wall)
        if length >= shortest and (place in places or not places)
    )


@EVERY
@pytest.mark.parametrize("name", ["bore_under", "bore_side"])
def test_hoop_stress_at_the_bore_all_along_the_contact(wall, name):
    # Measured: 0.9, 1.4 and 2.8 % at the most, by wall, of contacts half a diameter long that are
    # peaked; 1.8 % of longer ones. At the very ends, which nothing is claimed of, 3.2 %. At the
    # median 1.0 %. More waves (14) make the 2.8 % of the thickest wall 2.0 %.
    thick = float(wall) > 0.4 * RADIUS
    assert worst(wall, name) < (3e-2 if thick else 2e-2)
    assert worst(wall, name, shortest=2.0 * RADIUS) < 2e-2
    assert worst(wall, name, ends=True) < 4e-2
    assert np.median([curves[name][inner].max() for _, inner, curves in errors(wall)]) < 1.2e-2


@EVERY
def test_stress_along_the_axis(wall):
    # 2.8 % measured, where the end of a short contact is the tip; else 1.9 %.
    assert worst(wall, "axial_under") < 3.5e-2
    assert worst(wall, "axial_under", "near", "long") < 2.5e-2


@EVERY
def test_shear_in_the_wall_under_the_contact(wall):
    # It is greatest where a load ends, and steepest: at the tip 8 % measured, else 1.6 %.
    assert worst(wall, "shear_under", "near", "long") < 2.5e-2
    assert worst(wall, "shear_under", "flush") < 0.1


@EVERY
@pytest.mark.parametrize("name", ["u_side", "u_far"])
def test_deflection(wall, name):
    # 1.2 % too stiff measured: the basis lacks how the clamped root gives way.
    assert worst(wall, name) < 1.5e-2


# A long even contact.


def michell(bore):
    """What a long even contact of a unit line load adds to a slice: hoop stress at the bore under
    it, MPa.

    Where the load is even the beam's shear grows along the axis, and the warp of the section with
    it, which strains the axis; across it the material follows (Michell's problem, in A. E. H. Love,
    A Treatise on the Mathematical Theory of Elasticity, 4th ed., chapter XVI: from memory, not
    seen). Derived here for a deflection a(z) of the axis in its series of derivatives,

        u = a e + a″u₂ + a⁗u₄,  w = −a′(y − R) + a‴w₃,  a⁗ = q/EI,

    each from those before it by the equilibrium of the section. The slice has the load and the
    change of the beam's shear alone; the load is in both, and only what is left is solved for.
    """
    body = bodies.post(RADIUS, bore, 0.3 * RADIUS, "beam shear")
    mesh, x = body.mesh, body.mesh.doflocs
    basis, nodes, n = Basis(mesh, ElementTriP2(), intorder=4), mesh.dofs.element_dofs, x.shape[1]
    lam, mu, dx = STEEL.lam, STEEL.mu, basis.dx
    phi = np.stack([np.asarray(basis.basis[i][0]) + 0.0 * dx for i in range(6)])
    grad = np.stack([basis.basis[i][0].grad for i in range(6)])

    def there(values):  # at the points of integration, and the slopes
        return np.einsum("iep,ie->ep", phi, values[nodes]), np.einsum(
            "iaep,ie->aep", grad, values[nodes]
        )

    def gathered(local):
        return np.bincount(nodes.ravel(), local.sum(axis=2).ravel(), n)

    def in_plane(u, w):
        """Nodal forces (2n,) on the section by u″ and w′."""
        (value, slope), load = there(w), np.empty(2 * n)
        for a in range(2):
            shear = mu * (there(u[a::2])[0] + slope[a]) * phi
            load[a::2] = gathered((shear - lam * value * grad[:, a]) * dx)
        return load

    K = body.stiffness
    u0, w1 = np.zeros(2 * n), RADIUS - x[1]
    u0[1::2] = 1.0
    u2 = respond(body, in_plane(u0, w1))[0]

    ux, uy = there(u2[0::2]), there(u2[1::2])
    swelling, stretch = ux[1][0] + uy[1][1], there(w1)[0]
    along = gathered(
        (lam * swelling + (lam + 2.0 * mu) * stretch) * phi * dx
        - mu * (grad[:, 0] * ux[0] + grad[:, 1] * uy[0]) * dx
    )
    w3 = warped(mesh, grad, dx, along / mu)

    growing = in_plane(u2, w3)  # of resultant −EI, which the load and the beam's shear make up for
    EI = -growing[1::2].sum()
    rest = growing + EI * shear_patterns(mesh, STEEL)[1]
    u4 = respond(body, rest)[0]
    assert np.abs(K @ u4 - rest).max() < 1e-6 * np.abs(rest).max()
    ex, ey = (slope_at(mesh, node_at(mesh, bore), u4[a::2] / EI)[a] for a in range(2))
    ez = w3[node_at(mesh, bore)] / EI
    return lam * (ex + ey + ez) + 2.0 * mu * ex


def node_at(mesh, bore):
    """The node at the bore under the load."""
    x, y = mesh.doflocs
    return int(np.argmin(x**2 + (y - RADIUS + bore) ** 2))


def slope_at(mesh, k, values):
    """Slopes (2,) at a node of nodal values: the mean of what its elements have."""
    corners = np.array([[0, 1, 0, 0.5, 0.5, 0], [0, 0, 1, 0, 0.5, 0.5]])
    basis = Basis(mesh, ElementTriP2(), quadrature=(corners, np.full(6, 1 / 12)))
    grad = np.stack([basis.basis[i][0].grad for i in range(6)])
    nodes = mesh.dofs.element_dofs
    corner, element = np.nonzero(nodes == k)
    each = np.einsum("ian,in->an", grad[:, :, element, corner], values[nodes[:, element]])
    return each.mean(axis=1)


def warped(mesh, grad, dx, load):
    """Solves ∇²w = −load with no mean."""
    nodes = mesh.dofs.element_dofs
    local = np.einsum("iaep,jaep,ep->ije", grad, grad, dx)
    rows, columns = np.repeat(nodes, 6, axis=0), np.tile(nodes, (6, 1))
    n = mesh.doflocs.shape[1]
    matrix = coo_matrix((local.ravel(), (rows.ravel(), columns.ravel())), (n, n)).tocsc()
    found = np.zeros(n)
    found[1:] = splu(matrix[1:, 1:]).solve(load[1:])
    return found


def added(bore, length, post_length, share=0.5, **of):
    """Hoop stress at the bore, MPa, that the neighbours add under an even unit load in the middle
    of a post, at a share of the contact's length."""
    start = (post_length - length) / 2.0
    ends = start, start + length
    post_ = pressed(*ends, length=post_length, bore=bore, **of)
    place = np.array([start + share * length])
    (one,) = neighbours(post_, np.array(ends), np.array([[1.0, 1.0]]), place)
    return one.added[0][1][under(post_.prism), 0]


def exact(bore, held_by="beam shear"):
    return thick_ring.bore_hoop(1.0, RADIUS, bore, 0.0, held_by, STEEL.poisson, "plane strain")


@pytest.mark.parametrize("bore", [37.5, 50.0, 60.0])
def test_a_long_even_contact_adds_what_michells_theory_has(bore):
    # 0.14 q/R: 3.5, 1.4 and 0.4 % of the slice's. Within 0.2 % of the slice's; 0.1 % measured, of
    # elements that are not quite free of stress where the beam bends: least where it bends less.
    slice_ = exact(bore)
    found = added(bore, LENGTH, LENGTH, 0.7, **STANDARD)
    assert found == pytest.approx(michell(bore), abs=2e-3 * slice_)
    assert michell(bore) * RADIUS == pytest.approx(0.144, abs=0.005)


@pytest.mark.parametrize("bore", [37.5, 50.0, 60.0])
def test_a_long_even_contact_between_plates_is_the_ring(bore):
    found = added(bore, LENGTH, LENGTH, held_by="diametral")
    assert abs(found) < 2e-3 * exact(bore, "diametral")


def test_a_long_even_contact_is_the_exact_ring_by_itself_too():
    # On a fine mesh, its load over a narrow band: 0.2 % measured under the load, 0.1 % at the side.
    fine = {"held_by": "diametral", "scale": 0.5, "waves": 4, "band": 0.01}
    post_ = pressed(0.0, LENGTH, **fine)
    ends, middle = np.array([0.0, LENGTH]), np.array([LENGTH / 2.0])
    (one,) = neighbours(post_, ends, np.array([[1.0, 1.0]]), middle)
    part = steel(post_.prism)
    whole = one.whole(part)
    assert whole[under(post_.prism), 0] == pytest.approx(exact(50.0, "diametral"), rel=3e-3)
    side = thick_ring.bore_hoop(1.0, RADIUS, 50.0, np.pi / 2, "diametral", 0.3, "plane strain")
    assert whole[node(part, 50.0, RADIUS), 1] == pytest.approx(side, rel=2e-3)


# A thin tube.

MANY = 150
"""Circumferential harmonics of the shell; of the next, what the ends take away is nothing."""


def shell(t, a, length, nu=0.3):
    """Share of the ring's hoop stress at the bore under the middle of an even load on a long tube.

    A shell of thickness t and mean radius a by Love and Kirchhoff's hypothesis, with Sanders's
    change of twist (J. L. Sanders, NASA TR R-24, 1959: from memory, not seen; checked by its
    vanishing in a rigid turn). Under a load q cos kz cos nφ it is displaced by U sin kz cos nφ
    along, V cos kz sin nφ around and W cos kz cos nφ outwards, found by the least energy; the even
    load is their integral. The first harmonic is the beam: its hoop stress goes with the load.
    """
    k = np.concatenate([np.geomspace(3e-3, 0.05, 300)[:-1], np.linspace(0.05, 60.0, 4000)]) / a
    nil, one = np.zeros_like(k), np.ones_like(k)
    B, D = 1.0 / (1.0 - nu**2), t**2 / 12.0 / (1.0 - nu**2)
    weight = 2.0 / np.pi * np.sin(k * length / 2.0) / k
    long, ring = 0.0, 0.0
    for n in range(MANY):
        rows = {
            "εz": (k, nil, nil), "εφ": (nil, n / a * one, one / a), "γ": (-n / a * one, -k, nil),
            "κz": (nil, nil, k**2), "κφ": (nil, n / a**2 * one, n**2 / a**2 * one),
            "2χ": (n / (2 * a**2) * one, -1.5 * k / a, -2 * n * k / a),
        }  # fmt: skip
        e = {name: np.stack(row, axis=1) for name, row in rows.items()}

        def energy(along, around, turned, e=e):
            def times(p, q):
                return e[p][:, :, None] * e[q][:, None, :]

            mixed = times(along, around) + times(around, along)
            half = (1.0 - nu) / 2.0 * times(turned, turned)
            return times(along, along) + times(around, around) + nu * mixed + half

        stiff = B * energy("εz", "εφ", "γ") + D * energy("κz", "κφ", "2χ")
        inwards = np.zeros((len(k), 3, 1))
        inwards[:, 2] = -1.0 / (np.pi * a * t)
        moved = np.linalg.solve(stiff, inwards)[:, :, 0]
        stretch, bend = (
            ((e[around] + nu * e[along]) * moved).sum(axis=1)
            for around, along in (("εφ", "εz"), ("κφ", "κz"))
        )
        hoop = B * (stretch - t / 2.0 * bend) * (0.5 if n == 0 else 1.0)
        ring += hoop[0]
        # Below the least of k the stress is as there.
        least = hoop[0] * k[0] * length / np.pi
        long += hoop[0] if n == 1 else least + np.trapezoid(hoop * weight, k)
    return long / ring


def semi_membrane(t, a, length, nu=0.3, *, lag=False):
    """The same of the bending moment, by Vlasov's semi-membrane theory, derived here.

    A harmonic n ≥ 2 that neither stretches the ring nor shears the wall has the energy of a beam,
    E t π a³/n⁴ · W″², on an elastic foundation, the ring's bending, D π (n² − 1)²/a³ · W². Under an
    even load there is 1 − e^−βl cos βl of the ring's W in its middle, l being half the length and
    4β⁴ foundation over beam; the ring's moment is in proportion to 1/(n² − 1). With ``lag`` the
    beam gives way in shear too, by G t π a/n²: that of the wall as a membrane.
    """
    n = np.arange(2.0, 400.0)[:, None]
    beam, bed = 1.0 / n**4, t**2 / (12.0 * (1.0 - nu**2)) * (n**2 - 1.0) ** 2 / a**6
    k = np.linspace(1e-6, 60.0 / a, 20001)
    gives = 2.0 * (1.0 + nu) * a**2 * n**2 if lag else 0.0
    stiff = k**4 * beam / (1.0 + k**2 * beam * gives)
    weight = 2.0 / np.pi * np.sin(k * length / 2.0) / k
    left = np.trapezoid(bed / (bed + stiff) * weight, k, axis=1)
    if not lag:
        rate = (bed / beam / 4.0) ** 0.25 * length / 2.0
        closed = (1.0 - np.exp(-rate) * np.cos(rate))[:, 0]
        assert left[:8] == pytest.approx(closed[:8], abs=2e-3)
        left = closed
    share = 1.0 / (n[:, 0] ** 2 - 1.0)
    return float(left @ share / share.sum())


@pytest.mark.parametrize("diameters", [1.0, 2.0, 4.0])
@pytest.mark.parametrize(("thin", "within"), [(0.05, 3e-3), (0.1, 1e-2)])
def test_a_thin_tube_is_a_shell(thin, within, diameters):
    # Measured: 0.1 % at a wall of a twentieth of the radius, 0.7 % at a tenth.
    t, length = thin * RADIUS, diameters * 2.0 * RADIUS
    left = 1.0 + added(RADIUS - t, length, 40.0 * RADIUS) / exact(RADIUS - t)
    assert left == pytest.approx(shell(t, RADIUS - t / 2.0, length), rel=within)


@pytest.mark.parametrize(("diameters", "within"), [(1.0, 5e-2), (2.0, 2e-2), (4.0, 1e-2)])
def test_semi_membrane_theory_is_near(diameters, within):
    # It leaves out how the wall bends and twists along the axis, and so has 4 % more of the ring
    # left over one diameter, 1.7 % over two and 0.6 % over four. Shear lag is not what is missing:
    # it makes the wall give way more, by 2.4, 1.1 and 0.3 %.
    t, length = 0.05 * RADIUS, diameters * 2.0 * RADIUS
    left = 1.0 + added(RADIUS - t, length, 40.0 * RADIUS) / exact(RADIUS - t)
    plain = semi_membrane(t, RADIUS - t / 2.0, length)
    lagging = semi_membrane(t, RADIUS - t / 2.0, length, lag=True)
    assert left < plain < lagging
    assert left == pytest.approx(plain, rel=within)
    assert lagging == pytest.approx(plain, rel=3e-2)
