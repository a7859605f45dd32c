"""A post in the corner of two plates solved by finite elements, beside exact fields.

The field of a corner is that of two line loads, superposed.
"""

from collections.abc import Iterator
from functools import partial

import numpy as np

from contactfe.hand import hertz, thick_ring
from contactfe.solve.joint import PatchState
from contactfe.verify import cases
from contactfe.verify.cases import RADIUS
from contactfe.verify.exact import corner_stress, hoop_at
from contactfe.verify.row import Row, solved_row
from contactfe.verify.sources import HERTZ_FIELD, MESH


def _corner(bore: float) -> Iterator[Row]:
    what = f"tube of {2 * RADIUS:g} × {RADIUS - bore:g} mm" if bore else "solid of 150 mm"
    name = "tube" if bore else "solid"
    row = partial(solved_row, solve=f"corner {name}")
    loads = cases.CORNER_LOADS

    def patch(number: int) -> PatchState:
        return cases.corner(bore)[0].state.patches[number]

    for number, (which, q) in enumerate(zip(("first", "second"), loads, strict=True)):
        yield row(
            key=f"fe-corner-{name}-{which}-pressure",
            case=f"Peak pressure on the {which} plate of a corner, {what}, {q:g} N/mm",
            source=HERTZ_FIELD,
            published=float(hertz.peak_pressure(q, RADIUS, cases.E_STAR)),
            tool=lambda number=number: float(patch(number).pressure.max()),
            allowed=2e-3,
            why=f"{MESH}; 0.05 % measured",
            unit="MPa",
        )
    superposed = "two exact fields of one line load superposed, derived here; computed here"
    if bore:
        round_bore = np.linspace(-np.pi, np.pi, 181)
        hoop = corner_stress(np.full(181, bore), round_bore, loads, RADIUS, bore)[1]
        for where, phi in (("under the first load", 0.0), ("under the second load", np.pi / 2)):
            x, y = bore * np.sin(phi), RADIUS - bore * np.cos(phi)
            exact = corner_stress(np.array([bore]), np.array([phi]), loads, RADIUS, bore)[1, 0]
            yield row(
                key=f"fe-corner-bore-{where}".replace(" ", "-"),
                case=f"Hoop stress at the bore {where} of a corner, {what}",
                source=superposed,
                published=float(exact),
                tool=lambda x=x, y=y: hoop_at(cases.corner(bore)[0].post["whole"], RADIUS, x, y),
                allowed=8e-3 * float(np.abs(hoop).max()),
                absolute=True,
                why=f"{MESH}; 0.8 % of the greatest all round",
                unit="MPa",
            )
        return
    (across_1, along_1), (across_2, along_2) = (
        thick_ring.disc_centre_stress(q, 2.0 * RADIUS, "beam shear") for q in loads
    )
    for component, (where, exact) in enumerate(
        (("along the first plate", across_1 + along_2), ("along the second", along_1 + across_2))
    ):
        yield row(
            key=f"fe-corner-centre-{where}".replace(" ", "-"),
            case=f"Stress at the centre {where}, post in a corner, {what}",
            source=superposed,
            published=float(exact),
            tool=lambda component=component: float(
                cases.at(cases.corner(0.0)[0].post["whole"], 0.0, RADIUS)[component]
            ),
            allowed=1e-3,
            why=f"{MESH}; 0.01 % measured",
            unit="MPa",
        )
    for number, (which, q) in enumerate(zip(("first", "second"), loads, strict=True)):
        p0 = float(hertz.peak_pressure(q, RADIUS, cases.E_STAR))
        yield row(
            key=f"fe-corner-{which}-plate-von-mises",
            case=f"Peak von Mises stress in the {which} plate of a corner, {what}",
            source=HERTZ_FIELD,
            published=hertz.peak_von_mises(p0, 0.3, "plane strain")[0],
            tool=lambda number=number: cases.peak(
                cases.corner(0.0)[1] if number else cases.corner(0.0)[0].plate
            ),
            allowed=1e-2,
            why="plates of 200 mm; 0.2 % measured",
            unit="MPa",
        )


ROWS: tuple[Row, ...] = (*_corner(0.0), *_corner(cases.CORNER_BORE))
