"""Accuracy of the default settings: ``python tests/benchmarks/accuracy.py`` prints a table.

Hertz closed forms (Johnson, Contact Mechanics, 1985, section 4.2(c): from memory, not seen), exact
ring series and disc (plane elasticity, derived here), the patch test, and sliding and partial slip
(Johnson, sections 7.1 and 7.2: from memory, not seen).
"""

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from bodies import STEEL, block, case, member, plate

from contactfe.assess.bodies import Bodies
from contactfe.assess.section import assess_section
from contactfe.hand import hertz, sliding, thick_ring
from contactfe.solve import holds
from contactfe.solve.condense import condense
from contactfe.solve.contact import path_of_touching
from contactfe.solve.field import sample
from contactfe.solve.friction import follow
from contactfe.solve.joint import friction_system, join, plate_field, solve_joint
from contactfe.study.blas import one_thread

R = 75.0
E_STAR = hertz.contact_modulus(200e3, 0.3, 200e3, 0.3, "plane strain")


def solved(wall, **changes):
    c = case([(2 * R, wall)], **changes)
    return assess_section(c, c.sections[0], Bodies(c))


def hertz_rows() -> None:
    print(
        "solid on a thick wide plate (900 x 450 mm), ν = 0.3, differences from the half-space in %"
    )
    print("   a/R   unknowns   p0     half-width   pressure inside 0.85 a   post vM   plate vM")
    for ratio in (0.0025, 0.005, 0.015):
        q = float(np.pi * E_STAR * R * ratio**2 / 4)
        r = solved(None, line_load=q, plate=(900.0, 450.0))
        a, p0 = ratio * R, float(hertz.peak_pressure(q, R, E_STAR))
        vm, _ = hertz.peak_von_mises(p0, 0.3, "plane strain")
        patch = r.reading.state.patch
        x = patch.x
        inside = np.abs(x) < 0.85 * a
        worst = np.abs(patch.pressure - hertz.pressure(x, a, p0))[inside].max() / p0
        print(
            f"{ratio:7.4f} {r.unknowns:9d} {100 * (r.peak_contact_pressure.value / p0 - 1):+8.3f}"
            f" {100 * (r.half_width.value / a - 1):+11.3f} {100 * worst:16.3f}"
            f" {100 * (r.member.peak_von_mises.value / vm - 1):+16.3f}"
            f" {100 * (r.plate.peak_von_mises.value / vm - 1):+9.3f}"
        )


def ring_rows() -> None:
    print("\nring, hoop stress at the bore, difference from the exact series in %")
    print("  ri/ro   held by       under load   at side")
    for held_by in ("diametral", "beam shear"):
        for ratio in (0.3, 0.4, 0.5, 0.6, 0.7, 0.8):
            r = solved(R * (1 - ratio), line_load=200.0, held_by=held_by)
            exact = thick_ring.bore_hoop(
                200.0, R, R * ratio, np.array([0.0, np.pi / 2]), held_by, 0.3, "plane strain"
            )
            under, side = (
                100 * (v.value / e - 1) for v, e in zip(r.bore_hoop_stress, exact, strict=True)
            )
            print(f"{ratio:7.2f}   {held_by:10s} {under:+12.3f} {side:+10.3f}")
    for held_by in ("diametral", "beam shear"):
        r = solved(None, line_load=100.0, held_by=held_by)
        across, along = thick_ring.disc_centre_stress(100.0, 2 * R, held_by)
        print(
            f"  disc    {held_by:10s}  along {100 * (r.reading.centre[0] / along - 1):+.3f},"
            f" across {100 * (r.reading.centre[1] / across - 1):+.3f}"
        )


def patch_row() -> None:
    top = block(np.linspace(-1, 1, 7), np.linspace(0, 1, 4), "bottom", "midplane")
    base = block(np.linspace(-1, 1, 11), np.linspace(-1, 0, 5), "top", "back")
    joint = join(
        condense(top, STEEL, holds.diametral(top)), condense(base, STEEL, holds.rigid_base(base))
    )
    pressure = solve_joint(joint, 300.0).patch.pressure
    print(f"\npatch test, non-matching meshes: {np.abs(pressure / 150.0 - 1).max():.1e} of p")


def pressed(ratio: float):
    """A solid on a thick wide plate, with tangential components, for a/R = ratio."""
    a = ratio * R
    return join(
        member(R, 0.0, a, "beam shear", 1.0, tangential=True),
        plate(900.0, 450.0, a, scale=1.0, tangential=True),
        radius=R,
    )


def sliding_rows() -> None:
    print("\nfull sliding, a/R 0.006: plate, differences from the half-space, % of p0 or the peak")
    print("  friction   surface inside 0.88 a   beyond 1.13 a   peak vM   tension at the edge")
    ratio = 0.006
    a, q = ratio * R, float(np.pi * E_STAR * R * ratio**2 / 4)
    p0 = float(hertz.peak_pressure(q, R, E_STAR))
    joint = pressed(ratio)
    for friction in (0.1, 0.2, 0.3, 0.5):
        field = plate_field(joint, solve_joint(joint, q, angle=1.2, friction=friction))
        x, y = field.mesh.doflocs
        face = (y == 0.0) & (np.abs(x) < 2 * a)
        x, sx = x[face] / a, field.stress[face, 0]
        off = np.abs(sx - sliding.stress_field(x, 0.0, 1.0, p0, friction)[0]) / p0
        vm, _, _ = sliding.peak_von_mises(p0, friction, 0.3, "plane strain")
        print(
            f"{friction:10.2f} {100 * off[np.abs(x) < 0.88].max():20.2f}"
            f" {100 * off[np.abs(x) > 1.13].max():14.2f}"
            f" {100 * (sample(field).von_mises.max() / vm - 1):+11.2f}"
            f" {100 * (sx.max() / sliding.edge_stress(p0, friction) - 1):+14.1f}"
        )


def step_rows() -> None:
    print("\nsteps of the path, a/R 0.015, friction 0.3, differences from 1024 even steps")
    print("  angle   steps               traction of a node, % of µp0   tangential load, % of µq")
    ratio, friction = 0.015, 0.3
    q = np.array([np.pi * E_STAR * R * ratio**2 / 4])
    joint = pressed(ratio)
    for degrees in (0.0, 10.0, 15.0):
        system = friction_system(joint, np.radians(degrees))
        touching = path_of_touching(system.normal, q)
        paths = {f"{len(touching)} where nodes touch": touching}
        for n in (16, 32, 64, 1024):
            paths[f"{n} even"] = np.outer((np.arange(1, n + 1) / n) ** 2, q)
        states = {name: follow(system, friction, path) for name, path in paths.items()}
        best = states.pop("1024 even")
        for name, state in states.items():
            off = state.traction - best.traction
            node = np.abs(off).max() / (friction * best.pressure.max())
            load = abs(system.weight @ off) / (friction * q[0])
            print(f"{degrees:7.0f}   {name:20s} {100 * node:14.2f} {100 * load:26.3f}")


if __name__ == "__main__":
    with one_thread():
        hertz_rows()
        ring_rows()
        patch_row()
        sliding_rows()
        step_rows()
