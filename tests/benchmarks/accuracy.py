"""Accuracy of the default settings: ``python tests/benchmarks/accuracy.py`` prints a table.

Hertz closed forms (Johnson, Contact Mechanics, 1985, section 4.2(c): from memory, not seen), exact
ring series and disc (plane elasticity, derived here), and the patch test.
"""

import sys
from pathlib import Path

import numpy as np
from threadpoolctl import threadpool_limits

sys.path.insert(0, str(Path(__file__).parents[1]))

from bodies import STEEL, block, case

from contactfe.assess.level import Bodies
from contactfe.assess.section import assess_section
from contactfe.hand import hertz, thick_ring
from contactfe.solve import holds
from contactfe.solve.condense import condense
from contactfe.solve.pair import join, solve_pair

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
        x = r.reading.state.x
        inside = np.abs(x) < 0.85 * a
        worst = np.abs(r.reading.state.pressure - hertz.pressure(x, a, p0))[inside].max() / p0
        print(
            f"{ratio:7.4f} {r.unknowns:9d} {100 * (r.peak_pressure.value / p0 - 1):+8.3f}"
            f" {100 * (r.half_width.value / a - 1):+11.3f} {100 * worst:16.3f}"
            f" {100 * (r.member.peak.von_mises / vm - 1):+16.3f}"
            f" {100 * (r.plate.peak.von_mises / vm - 1):+9.3f}"
        )


def ring_rows() -> None:
    print("\nring, hoop stress at the bore, difference from the exact series in %")
    print("  ri/ro   held by       under load   at side")
    for held_by in ("opposed", "beam shear"):
        for ratio in (0.3, 0.4, 0.5, 0.6, 0.7, 0.8):
            r = solved(R * (1 - ratio), line_load=200.0, held_by=held_by)
            exact = thick_ring.bore_hoop(
                200.0, R, R * ratio, np.array([0.0, np.pi / 2]), held_by, 0.3, "plane strain"
            )
            under, side = (100 * (v.value / e - 1) for v, e in zip(r.bore_hoop, exact, strict=True))
            print(f"{ratio:7.2f}   {held_by:10s} {under:+12.3f} {side:+10.3f}")
    for held_by in ("opposed", "beam shear"):
        r = solved(None, line_load=100.0, held_by=held_by)
        across, along = thick_ring.disc_centre_stress(100.0, 2 * R, held_by)
        print(
            f"  disc    {held_by:10s}  along {100 * (r.reading.centre[0] / along - 1):+.3f},"
            f" across {100 * (r.reading.centre[1] / across - 1):+.3f}"
        )


def patch_row() -> None:
    top = block(np.linspace(-1, 1, 7), np.linspace(0, 1, 4), "bottom", "midplane")
    base = block(np.linspace(-1, 1, 11), np.linspace(-1, 0, 5), "top", "back")
    pair = join(condense(top, STEEL, holds.opposed(top)), condense(base, STEEL, holds.bedded(base)))
    pressure = solve_pair(pair, 300.0).pressure
    print(f"\npatch test, non-matching meshes: {np.abs(pressure / 150.0 - 1).max():.1e} of p")


if __name__ == "__main__":
    with threadpool_limits(limits=1, user_api="blas"):
        hertz_rows()
        ring_rows()
        patch_row()
