"""Cases solved beside the same ones solved by independent open libraries, where installed."""

from collections.abc import Iterator
from functools import partial

from contactfe.verify import reference_bem, reference_fe
from contactfe.verify.cases import RADIUS, at
from contactfe.verify.reference_fe import Both
from contactfe.verify.row import Row

_row = partial(Row, kind="reference library", origin="library")

BEM_RATIOS = (0.005, 0.01, 0.015)
BEM_LEVELS = (("standard mesh", 1.0, 7e-4, 9e-4), ("twice as fine", 0.5, 3e-4, 5e-4))
"""Mesh, its element size, and what is allowed in peak pressure and half-width."""

FE_PROBLEMS = {
    "thick tube, plate on a rigid base": "thick-tube",
    "thin tube, plate that bends": "thin-tube",
}
"""The problems of the finite element library, and what their keys call them."""


def _bem(ratio: float) -> Iterator[Row]:
    row = partial(
        _row,
        source="ContactMechanics, half-space by boundary elements with FFT, run here",
        needs=reference_bem.LIBRARY,
        solve=f"bem {ratio:g}",
    )
    for mesh, scale, pressure, width in BEM_LEVELS:
        of = f"solid of 150 mm, a/R = {ratio:g}, {mesh}"
        key = f"reference-bem-{ratio:g}-{mesh.replace(' ', '-')}"
        why = "FE mesh, box of 100 a, finite bodies"
        yield row(
            key=f"{key}-peak-pressure",
            case=f"Peak pressure, {of}",
            published=lambda: reference_bem.wide(ratio).peak,
            tool=lambda scale=scale: float(reference_bem.own(ratio, scale).pressure.max()),
            allowed=pressure,
            why=why,
            unit="MPa",
        )
        yield row(
            key=f"{key}-half-width",
            case=f"Half-width, {of}",
            published=lambda: reference_bem.wide(ratio).half_width,
            tool=lambda scale=scale: reference_bem.own(ratio, scale).half_width,
            allowed=width,
            why=why,
            unit="mm",
        )


def _fe(name: str, short: str) -> Iterator[Row]:
    problem = reference_fe.PROBLEMS[name]
    c = problem.bore

    def both() -> Both:
        return reference_fe.both(name)

    row = partial(
        _row,
        source="NGSolve with Netgen, cubic elements with contact of its own, run here",
        needs=reference_fe.LIBRARY,
        why="both meshes",
        solve=f"ngsolve {short}",
    )
    key = f"reference-fe-{short}"
    yield row(
        key=f"{key}-travel",
        case=f"Rigid-body displacement at the line load that the library finds, {name}",
        published=problem.rigid_displacement,
        tool=lambda: both().own.state.approach,
        allowed=2e-4,
        unit="mm",
    )
    yield row(
        key=f"{key}-half-width",
        case=f"Half-width, {name}",
        published=lambda: both().found.half_width,
        tool=lambda: both().own.state.patch.half_width,
        allowed=2e-3,
        unit="mm",
    )
    yield row(
        key=f"{key}-peak-pressure",
        case=f"Peak pressure, {name}",
        published=lambda: both().found.peak_pressure,
        tool=lambda: float(both().own.state.patch.pressure.max()),
        allowed=2e-3,
        unit="MPa",
    )
    yield row(
        key=f"{key}-hoop-under-load",
        case=f"Hoop stress at the bore under the load, {name}",
        published=lambda: both().found.hoop_under_load,
        tool=lambda: float(at(both().own.post["whole"], 0.0, RADIUS - c)[0]),
        allowed=2e-3,
        unit="MPa",
    )
    yield row(
        key=f"{key}-hoop-at-side",
        case=f"Hoop stress at the bore at the side, {name}",
        published=lambda: both().found.hoop_at_side,
        tool=lambda: float(at(both().own.post["whole"], c, RADIUS)[1]),
        allowed=2e-3,
        unit="MPa",
    )
    yield row(
        key=f"{key}-post-von-mises",
        case=f"Peak von Mises stress, post, {name}",
        published=lambda: reference_fe.peaks_of_both(name, "post")[0],
        tool=lambda: reference_fe.peaks_of_both(name, "post")[1],
        allowed=2e-3,
        unit="MPa",
    )
    yield row(
        key=f"{key}-plate-von-mises",
        case=f"Peak von Mises stress, plate, {name}",
        published=lambda: reference_fe.peaks_of_both(name, "plate")[0],
        tool=lambda: reference_fe.peaks_of_both(name, "plate")[1],
        allowed=2e-3,
        unit="MPa",
    )


ROWS: tuple[Row, ...] = (
    *(row for ratio in BEM_RATIOS for row in _bem(ratio)),
    *(row for name, short in FE_PROBLEMS.items() for row in _fe(name, short)),
)
