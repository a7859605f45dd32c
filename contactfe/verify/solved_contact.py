"""Contact at rest solved by finite elements, beside a patch test, Hertz and a textbook's wheel.

Like and unlike materials, both plane states, SI and US customary units. What is held against Hertz
has bodies that are large beside the patch; all is at the standard mesh. Where a source gives a
formula, its value is computed here.
"""

from collections.abc import Callable, Iterator
from functools import partial

import numpy as np

from contactfe.assess.results import SectionResult
from contactfe.case.units import parse_quantity
from contactfe.hand import approach, hertz
from contactfe.hand.check import State
from contactfe.solve.elastic import Elastic, Floats
from contactfe.verify import cases
from contactfe.verify.cases import RADIUS, Solution
from contactfe.verify.row import Row, solved_row
from contactfe.verify.sources import (
    COMPUTED,
    EXACT_ROUND,
    FINITE_ROUND,
    HERTZ_FIELD,
    JOHNSON,
    MESH,
    NORTON,
)

PAIRS = {
    "steel on aluminium": ((200e3, 0.3), (70e3, 0.33)),
    "concrete on steel": ((30e3, 0.2), (200e3, 0.3)),
    "ν 0 on ν 0.45": ((110e3, 0.0), (200e3, 0.45)),
}
UNLIKE_RATIO = 0.005


def _of_blocks(pick: Callable[[Floats], float]) -> float:
    return float(pick(cases.pressed_blocks(300.0).state.patch.pressure))


def _blocks() -> Iterator[Row]:
    """The patch test of contact."""
    for what, pick in (("Least", np.min), ("Greatest", np.max)):
        yield solved_row(
            key=f"fe-blocks-{what.lower()}-pressure",
            case=f"{what} pressure between blocks of 2 mm pressed flat by 300 N/mm, unlike meshes",
            source="balance of forces",
            published=150.0,
            tool=partial(_of_blocks, pick),
            allowed=1e-10,
            why="rounding: the patch test is exact",
            unit="MPa",
            solve="blocks",
        )


def _hertz(ratio: float, yield_strength: float) -> Iterator[Row]:
    q, p0 = cases.hertz_load(ratio), cases.hertz_pressure(ratio)

    def found() -> SectionResult:
        return cases.large_solid(q, yield_strength=yield_strength)

    of, solve = f"solid of 150 mm, a/R = {ratio:g}", f"hertz {ratio:g}"
    row = partial(solved_row, solve=solve)
    yield row(
        key=f"fe-hertz-{ratio:g}-peak-pressure",
        case=f"Peak pressure, {of}",
        source=HERTZ_FIELD,
        published=p0,
        tool=lambda: found().peak_contact_pressure.value,
        allowed=2e-3,
        why=f"{MESH}; 0.03 % measured",
        unit="MPa",
    )
    yield row(
        key=f"fe-hertz-{ratio:g}-half-width",
        case=f"Half-width of the patch, {of}",
        source=HERTZ_FIELD,
        published=ratio * RADIUS,
        tool=lambda: found().half_width.value,
        allowed=3e-3,
        why=MESH,
        unit="mm",
    )
    if ratio <= 0.005:  # beyond, the finite round shows by more than the mesh does
        yield row(
            key=f"fe-hertz-{ratio:g}-post-von-mises",
            case=f"Peak von Mises stress over p0, post, {of}",
            source=HERTZ_FIELD,
            published=0.5575,
            tool=lambda: found().member.peak_von_mises.value / p0,
            allowed=7e-3,
            why=FINITE_ROUND,
        )
        yield row(
            key=f"fe-hertz-{ratio:g}-plate-von-mises",
            case=f"Peak von Mises stress over p0, plate, {of}",
            source=HERTZ_FIELD,
            published=0.5575,
            tool=lambda: found().plate.peak_von_mises.value / p0,
            allowed=7e-3,
            why=MESH,
        )
        yield row(
            key=f"fe-hertz-{ratio:g}-depth",
            case=f"Depth of the peak von Mises stress over half-width, post, {of}",
            source=HERTZ_FIELD,
            published=0.704,
            tool=lambda: found().member.peak_von_mises.at.depth / (ratio * RADIUS),
            allowed=0.08,
            absolute=True,
            why="flat maximum: known less well than its value",
        )
        yield row(
            key=f"fe-hertz-{ratio:g}-max-shear",
            case=f"Peak shear stress over p0, post, {of}",
            source=HERTZ_FIELD,
            published=0.3003,
            tool=lambda: found().member.max_shear.value / p0,
            allowed=7e-3,
            why=FINITE_ROUND,
        )

    def yielding() -> float:
        load = found().member.first_yield_line_load
        assert load is not None
        return float(hertz.peak_pressure(load.value, RADIUS, cases.E_STAR)) / yield_strength

    yield row(
        key=f"fe-hertz-first-yield-{yield_strength:g}",
        case=f"p0 over yield strength at first yield, solid of {yield_strength:g} MPa,"
        f" a/R = {3.58 * yield_strength / cases.E_STAR:.2g} there",
        source=JOHNSON.format("eq. 6.4: 1.79 for ν = 0.3"),
        origin="from memory",
        published=1.79,
        tool=yielding,
        allowed=1e-2,
        why=f"printed to 3 digits; {FINITE_ROUND}",
    )


def _aluminium_plate() -> Iterator[Row]:
    """Unlike materials by a case as a case file states it."""
    q, aluminium = 300.0, (70e3, 0.33)
    modulus = float(hertz.contact_modulus(200e3, 0.3, *aluminium, "plane strain"))
    p0 = float(hertz.peak_pressure(q, RADIUS, modulus))

    def found() -> SectionResult:
        return cases.large_solid(q, plate_steel=aluminium)

    row = partial(solved_row, solve="aluminium plate")
    of = "steel post of 150 mm on an aluminium plate, 300 N/mm"
    yield row(
        key="fe-aluminium-plate-peak-pressure",
        case=f"Peak pressure, {of}",
        source=HERTZ_FIELD,
        published=p0,
        tool=lambda: found().peak_contact_pressure.value,
        allowed=3e-3,
        why=MESH,
        unit="MPa",
    )
    yield row(
        key="fe-aluminium-plate-half-width",
        case=f"Half-width, {of}",
        source=HERTZ_FIELD,
        published=float(hertz.half_width(q, RADIUS, modulus)),
        tool=lambda: found().half_width.value,
        allowed=4e-3,
        why=MESH,
        unit="mm",
    )
    yield row(
        key="fe-aluminium-plate-von-mises",
        case=f"Peak von Mises stress over p0, the plate with ν = 0.33, {of}",
        source=HERTZ_FIELD,
        published=0.5469,
        tool=lambda: found().plate.peak_von_mises.value / p0,
        allowed=8e-3,
        why=MESH,
    )


def _plane_stress() -> Iterator[Row]:
    q = 300.0
    yield solved_row(
        key="fe-plane-stress-peak-pressure",
        case="Peak pressure in plane stress, solid of 150 mm, 300 N/mm, 1/E* = 2/E",
        source=HERTZ_FIELD,
        published=float(np.sqrt(q * 100e3 / (np.pi * RADIUS))),
        tool=lambda: cases.large_solid(q, state="plane stress").peak_contact_pressure.value,
        allowed=3e-3,
        why=f"{MESH}; plane strain lies 5 % off",
        unit="MPa",
        solve="plane stress",
    )


def _crane_wheel() -> Iterator[Row]:
    """The crane wheel of a textbook, solved."""
    inch, psi = parse_quantity("1 in", "length"), parse_quantity("1 psi", "stress")
    q = parse_quantity("5000 lbf", "force") / (0.875 * inch)
    steel = (30e6 * psi, 0.28)

    def found() -> SectionResult:
        return cases.large_solid(q, 12.0 * inch, steel, steel)

    row = partial(solved_row, source=NORTON, origin="seen", solve="crane wheel")
    of = "crane wheel of 12 in, 5000 lbf on 0.875 in"
    yield row(
        key="fe-crane-wheel-half-width",
        case=f"Half-width, {of}",
        published=0.0518,
        tool=lambda: found().half_width.value / inch,
        allowed=3e-3,
        why="last printed digit, and mesh",
        unit="in",
    )
    yield row(
        key="fe-crane-wheel-peak-pressure",
        case=f"Peak pressure, {of}",
        published=70243.0,
        tool=lambda: found().peak_contact_pressure.value / psi,
        allowed=3e-3,
        why=MESH,
        unit="psi",
    )
    yield row(
        key="fe-crane-wheel-shear",
        case=f"Peak shear stress, {of}",
        published=21354.0,
        tool=lambda: found().member.max_shear.value / psi,
        allowed=2e-2,
        why="printed by 0.304 p0; exact is 0.3003 p0",
        unit="psi",
    )


def _unlike(names: str, state: State) -> Iterator[Row]:
    upper, lower = (Elastic(E, nu, state) for E, nu in PAIRS[names])
    modulus = float(
        hertz.contact_modulus(upper.young, upper.poisson, lower.young, lower.poisson, state)
    )
    p0 = cases.hertz_pressure(UNLIKE_RATIO, modulus)

    def found() -> Solution:
        return cases.unlike(upper, lower, UNLIKE_RATIO)

    key = f"{names.replace(' ', '-')}-{state.replace(' ', '-')}"
    key = key.replace("ν", "nu")
    row = partial(solved_row, solve=f"unlike {names} {state}")
    of = f"{names}, {state}, a/R = {UNLIKE_RATIO:g}"
    yield row(
        key=f"fe-{key}-peak-pressure",
        case=f"Peak pressure, {of}",
        source=HERTZ_FIELD,
        published=p0,
        tool=lambda: float(found().state.patch.pressure.max()),
        allowed=1.5e-3,
        why=f"{MESH}; 0.06 % measured",
        unit="MPa",
    )
    yield row(
        key=f"fe-{key}-half-width",
        case=f"Half-width, {of}",
        source=HERTZ_FIELD,
        published=UNLIKE_RATIO * RADIUS,
        tool=lambda: found().state.patch.half_width,
        allowed=1.5e-3,
        why=f"{MESH}; 0.06 % measured",
        unit="mm",
    )
    for body, material in (("post", upper), ("plate", lower)):
        yield row(
            key=f"fe-{key}-{body}-von-mises",
            case=f"Peak von Mises stress, {body}, {of}",
            source=HERTZ_FIELD,
            published=hertz.peak_von_mises(p0, material.poisson, state)[0],
            tool=lambda body=body: cases.peak(
                found().post["whole"] if body == "post" else found().plate
            ),
            allowed=4e-3,
            why=f"{FINITE_ROUND}; 0.23 % measured",
            unit="MPa",
        )
    q, a = cases.hertz_load(UNLIKE_RATIO, modulus), UNLIKE_RATIO * RADIUS
    yield row(
        key=f"fe-{key}-approach",
        case=f"Approach of the post's middle to the contact, beam shear, {of}",
        source=EXACT_ROUND + COMPUTED,
        published=float(
            approach.solid(q, RADIUS, a, upper.young, upper.poisson, "beam shear", state)
        ),
        tool=lambda: cases.come_together(found().post["whole"], 0.0, RADIUS),
        allowed=3e-4,
        why=f"{MESH}; 0.003 % measured",
        unit="mm",
    )


ROWS: tuple[Row, ...] = (
    *_blocks(),
    *_hertz(0.0025, 150.0),
    *_hertz(0.005, 235.0),
    *_hertz(0.015, 345.0),
    *_aluminium_plate(),
    *_plane_stress(),
    *_crane_wheel(),
    *(row for s in ("plane strain", "plane stress") for n in PAIRS for row in _unlike(n, s)),
)
