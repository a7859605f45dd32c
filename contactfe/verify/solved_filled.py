"""A filled tube solved by finite elements: the bond beside its exact field.

Beside it stand the limits: an infill as soft as nothing is the tube, one of steel the solid.
"""

from collections.abc import Iterator
from functools import partial

import numpy as np

from contactfe.hand import thick_ring
from contactfe.solve.elastic import Elastic
from contactfe.verify import cases
from contactfe.verify.bodies import STEEL
from contactfe.verify.cases import RADIUS
from contactfe.verify.exact import BondedDisc, hoop_at, polar
from contactfe.verify.row import Row, solved_row
from contactfe.verify.sources import MESH, RING_SERIES, TIMOSHENKO


def _filled() -> Iterator[Row]:
    """A tube of 150 × 25 mm with an infill, squeezed: limits of the infill, and an exact field."""
    bore, q = cases.FILLED_BORE, cases.FILLED_LOAD
    angles = np.array([0.0, np.pi / 2.0])
    tube = thick_ring.bore_hoop(q, RADIUS, bore, angles, "diametral", 0.3, "plane strain")
    of = "tube of 150 × 25 mm, diametral"

    def faint(x: float, y: float) -> float:
        return hoop_at(cases.filled("diametral", cases.FAINT).post["steel"], RADIUS, x, y)

    def centre(component: int) -> float:
        field = cases.filled("diametral", STEEL).post["infill"]
        return float(cases.at(field, 0.0, RADIUS)[component]) * np.pi * 2.0 * RADIUS / q

    for where, x, y, exact in (
        ("under the load", 0.0, RADIUS - bore, tube[0]),
        ("at the side", bore, RADIUS, tube[1]),
    ):
        yield solved_row(
            key=f"fe-filled-faint-{where}".replace(" ", "-"),
            case=f"Hoop stress at the bore {where}, infill as soft as nothing, {of}",
            source=RING_SERIES,
            published=float(exact),
            tool=partial(faint, x, y),
            allowed=5e-3,
            why=MESH,
            unit="MPa",
            solve="filled",
        )
    for component, (where, factor) in enumerate((("across", 2.0), ("along", -6.0))):
        yield solved_row(
            key=f"fe-filled-steel-centre-{where}",
            case=f"Stress at the centre {where} the load over q/(πD), infill of steel, {of}",
            source=TIMOSHENKO.format("chapter 4, circular disk"),
            origin="from memory",
            published=factor,
            tool=partial(centre, component),
            allowed=1e-2,
            why=f"{MESH}, coarse in the infill",
            solve="filled",
        )
    for name, infill in (("concrete", cases.CONCRETE), ("three times steel", cases.HARD)):
        yield from _bonded(name, infill, of)


def _bonded(name: str, infill: Elastic, of: str) -> Iterator[Row]:
    """The bond under the load, on both sides."""
    bore = cases.FILLED_BORE
    exact = BondedDisc(infill, cases.FILLED_LOAD, RADIUS, bore)
    zero, angles = np.zeros(1), np.linspace(0.0, np.pi, 91)
    source = "exact series of a disc bonded into a ring, derived here (contactfe.verify.exact)"

    def at_bond(part: str, component: int) -> float:
        field = cases.filled("diametral", infill).post[part]
        nodes = field.mesh.doflocs
        node = np.argmin(nodes[0] ** 2 + (nodes[1] - RADIUS + bore) ** 2)
        return float(polar(field, RADIUS)[2][component, node])

    greatest = max(np.abs(exact.steel(bore, angles)).max(), np.abs(exact.disc(bore, angles)).max())
    row = partial(solved_row, source=source, unit="MPa", absolute=True, solve="filled")
    key = f"fe-filled-{name}".replace(" ", "-")
    sides = (
        ("steel", "hoop", exact.steel(bore, zero)[1, 0], 1),
        ("steel", "radial", exact.steel(bore, zero)[0, 0], 0),
        ("infill", "hoop", exact.disc(bore, zero)[1, 0], 1),
    )
    for part, stress, value, component in sides:
        yield row(
            key=f"{key}-bond-{part}-{stress}",
            case=f"{stress.capitalize()} stress at the bond under the load, {part} side,"
            f" infill {name}, {of}",
            published=float(value),
            tool=lambda part=part, component=component: at_bond(part, component),
            allowed=1e-2 * float(greatest),
            why="1 % of the greatest at the bond, seen from one side",
        )


ROWS: tuple[Row, ...] = tuple(_filled())
