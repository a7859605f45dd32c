"""Cases solved by finite elements beside closed forms, exact series and a textbook's example.

What is held against Hertz has bodies that are large beside the patch; all is at the standard mesh
unless said. Where a source gives a formula, its value is computed here.
"""

from collections.abc import Callable, Iterator
from functools import partial

import numpy as np

from contactfe.assess.results import SectionResult
from contactfe.case.units import parse_quantity
from contactfe.hand import hertz, partial_slip, sliding, strip, strip_deflection, thick_ring
from contactfe.hand.check import HeldBy, State
from contactfe.solve.elastic import Elastic, Floats
from contactfe.solve.field import StressField, sample
from contactfe.solve.friction import SLIP, STICK
from contactfe.solve.joint import PatchState
from contactfe.solve.reactions import Reaction
from contactfe.verify import cases
from contactfe.verify.bodies import STEEL
from contactfe.verify.cases import RADIUS, Solution
from contactfe.verify.exact import BondedDisc, corner_stress, polar
from contactfe.verify.row import Row

_JOHNSON = "K. L. Johnson, Contact Mechanics, 1985, {}: from memory, not seen"
_COMPUTED = "; computed here"
_HERTZ = _JOHNSON.format("section 4.2 and eqs 4.43 to 4.47") + _COMPUTED
_TIMOSHENKO = (
    "S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., {}: from memory, not seen"
)
_NORTON = "R. L. Norton, Machine Design, 4th ed., example 7-2: seen in a public extract"
_SERIES = "exact series of a thick ring, derived here (contactfe.hand.thick_ring); computed here"

_MESH = "standard FE mesh"
_FINITE = "finite round: q/(πR)"

_row = partial(Row, kind="finite elements")

BORE_RATIOS = (0.3, 0.5, 0.7, 0.8)
SLIDING = ((0.003, 0.1), (0.003, 0.3), (0.006, 0.2), (0.006, 0.5))
"""a/R and friction of what slides in full; the peak comes to the surface from friction 0.263 on."""

PUSHES = (0.25, 0.5, 0.75, 0.95)
"""Tangential load over friction times normal load, in partial slip."""

STRIPS: tuple[tuple[cases.Edges, float], ...] = tuple(
    (kind, offset)
    for kind in ("two edges", "clamped edges", "springs")
    for offset in (0.0, 60.0, -120.0)
)
"""How the plate is held, and where it is struck, mm from its middle."""

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
        yield _row(
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


# --- Hertz ----------------------------------------------------------------------------------------


def _hertz(ratio: float, yield_strength: float) -> Iterator[Row]:
    q, p0 = cases.hertz_load(ratio), cases.hertz_pressure(ratio)

    def found() -> SectionResult:
        return cases.large_solid(q, yield_strength=yield_strength)

    of, solve = f"solid of 150 mm, a/R = {ratio:g}", f"hertz {ratio:g}"
    row = partial(_row, solve=solve)
    yield row(
        key=f"fe-hertz-{ratio:g}-peak-pressure",
        case=f"Peak pressure, {of}",
        source=_HERTZ,
        published=p0,
        tool=lambda: found().peak_pressure.value,
        allowed=2e-3,
        why=f"{_MESH}; 0.03 % measured",
        unit="MPa",
    )
    yield row(
        key=f"fe-hertz-{ratio:g}-half-width",
        case=f"Half-width of the patch, {of}",
        source=_HERTZ,
        published=ratio * RADIUS,
        tool=lambda: found().half_width.value,
        allowed=3e-3,
        why=_MESH,
        unit="mm",
    )
    if ratio <= 0.005:  # beyond, the finite round shows by more than the mesh does
        yield row(
            key=f"fe-hertz-{ratio:g}-post-von-mises",
            case=f"Peak von Mises stress over p0, post, {of}",
            source=_HERTZ,
            published=0.5575,
            tool=lambda: found().member.peak.von_mises / p0,
            allowed=7e-3,
            why=_FINITE,
        )
        yield row(
            key=f"fe-hertz-{ratio:g}-plate-von-mises",
            case=f"Peak von Mises stress over p0, plate, {of}",
            source=_HERTZ,
            published=0.5575,
            tool=lambda: found().plate.peak.von_mises / p0,
            allowed=7e-3,
            why=_MESH,
        )
        yield row(
            key=f"fe-hertz-{ratio:g}-depth",
            case=f"Depth of the peak von Mises stress over half-width, post, {of}",
            source=_HERTZ,
            published=0.704,
            tool=lambda: found().member.peak.depth / (ratio * RADIUS),
            allowed=0.08,
            absolute=True,
            why="flat maximum: known less well than its value",
        )
        yield row(
            key=f"fe-hertz-{ratio:g}-max-shear",
            case=f"Peak shear stress over p0, post, {of}",
            source=_HERTZ,
            published=0.3003,
            tool=lambda: found().member.max_shear.value / p0,
            allowed=7e-3,
            why=_FINITE,
        )

    def yielding() -> float:
        load = found().member.first_yield_line_load
        assert load is not None
        return float(hertz.peak_pressure(load, RADIUS, cases.E_STAR)) / yield_strength

    yield row(
        key=f"fe-hertz-first-yield-{yield_strength:g}",
        case=f"p0 over yield strength at first yield, solid of {yield_strength:g} MPa,"
        f" a/R = {3.58 * yield_strength / cases.E_STAR:.2g} there",
        source=_JOHNSON.format("eq. 6.4: 1.79 for ν = 0.3"),
        published=1.79,
        tool=yielding,
        allowed=1e-2,
        why=f"printed to 3 digits; {_FINITE}",
    )


def _aluminium_plate() -> Iterator[Row]:
    """Unlike materials by a case as a case file states it."""
    q, aluminium = 300.0, (70e3, 0.33)
    modulus = float(hertz.contact_modulus(200e3, 0.3, *aluminium, "plane strain"))
    p0 = float(hertz.peak_pressure(q, RADIUS, modulus))

    def found() -> SectionResult:
        return cases.large_solid(q, plate_steel=aluminium)

    row = partial(_row, solve="aluminium plate")
    of = "steel post of 150 mm on an aluminium plate, 300 N/mm"
    yield row(
        key="fe-aluminium-plate-peak-pressure",
        case=f"Peak pressure, {of}",
        source=_HERTZ,
        published=p0,
        tool=lambda: found().peak_pressure.value,
        allowed=3e-3,
        why=_MESH,
        unit="MPa",
    )
    yield row(
        key="fe-aluminium-plate-half-width",
        case=f"Half-width, {of}",
        source=_HERTZ,
        published=float(hertz.half_width(q, RADIUS, modulus)),
        tool=lambda: found().half_width.value,
        allowed=4e-3,
        why=_MESH,
        unit="mm",
    )
    yield row(
        key="fe-aluminium-plate-von-mises",
        case=f"Peak von Mises stress over p0, the plate with ν = 0.33, {of}",
        source=_HERTZ,
        published=0.5469,
        tool=lambda: found().plate.peak.von_mises / p0,
        allowed=8e-3,
        why=_MESH,
    )


def _plane_stress() -> Iterator[Row]:
    q = 300.0
    yield _row(
        key="fe-plane-stress-peak-pressure",
        case="Peak pressure in plane stress, solid of 150 mm, 300 N/mm, 1/E* = 2/E",
        source=_HERTZ,
        published=float(np.sqrt(q * 100e3 / (np.pi * RADIUS))),
        tool=lambda: cases.large_solid(q, state="plane stress").peak_pressure.value,
        allowed=3e-3,
        why=f"{_MESH}; plane strain lies 5 % off",
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

    row = partial(_row, source=_NORTON, solve="crane wheel")
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
        tool=lambda: found().peak_pressure.value / psi,
        allowed=3e-3,
        why=_MESH,
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
    row = partial(_row, solve=f"unlike {names} {state}")
    of = f"{names}, {state}, a/R = {UNLIKE_RATIO:g}"
    yield row(
        key=f"fe-{key}-peak-pressure",
        case=f"Peak pressure, {of}",
        source=_HERTZ,
        published=p0,
        tool=lambda: float(found().state.patch.pressure.max()),
        allowed=1.5e-3,
        why=f"{_MESH}; 0.06 % measured",
        unit="MPa",
    )
    yield row(
        key=f"fe-{key}-half-width",
        case=f"Half-width, {of}",
        source=_HERTZ,
        published=UNLIKE_RATIO * RADIUS,
        tool=lambda: found().state.patch.half_width,
        allowed=1.5e-3,
        why=f"{_MESH}; 0.06 % measured",
        unit="mm",
    )
    for body, material in (("post", upper), ("plate", lower)):
        yield row(
            key=f"fe-{key}-{body}-von-mises",
            case=f"Peak von Mises stress, {body}, {of}",
            source=_HERTZ,
            published=hertz.peak_von_mises(p0, material.poisson, state)[0],
            tool=lambda body=body: cases.peak(
                found().post["whole"] if body == "post" else found().plate
            ),
            allowed=4e-3,
            why=f"{_FINITE}; 0.23 % measured",
            unit="MPa",
        )


# --- ring and disc --------------------------------------------------------------------------------

_RING_LOAD = 200.0
_PLACES = ("under the load", "at the side")


def _bore(ratio: float, held_by: HeldBy) -> Iterator[Row]:
    angles = np.array([0.0, np.pi / 2.0])
    exact = thick_ring.bore_hoop(
        _RING_LOAD, RADIUS, RADIUS * ratio, angles, held_by, 0.3, "plane strain"
    )
    for place, where in enumerate(_PLACES):
        yield _row(
            key=f"fe-bore-{ratio:g}-{held_by}-{where}".replace(" ", "-"),
            case=f"Hoop stress at the bore {where}, bore ratio {ratio:g}, {held_by}",
            source=_SERIES,
            published=float(exact[place]),
            tool=partial(_hoop, ratio, held_by, _RING_LOAD, place),
            allowed=5e-3,
            why=f"{_MESH}; 0.18 % measured",
            unit="MPa",
            solve=f"bore {ratio:g} {held_by}",
        )
    if (ratio, held_by) == (0.5, "opposed"):
        for place, printed in enumerate((20.29, -17.88)):
            yield _row(
                key=f"fe-bore-of-half-the-diameter-{_PLACES[place]}".replace(" ", "-"),
                case=f"Hoop stress at the bore {_PLACES[place]} over q/(π ro), ro = 2 ri, opposed",
                source=_TIMOSHENKO.format("table for the ring of ro = 2 ri"),
                published=printed,
                tool=partial(_hoop_factor, place),
                allowed=1e-2,
                why="the table is half a percent off the exact series",
                solve="bore 0.5 opposed",
            )


def _hoop(ratio: float, held_by: HeldBy, load: float, place: int) -> float:
    hoop = cases.ring(ratio, held_by, load).bore_hoop
    assert hoop is not None
    return hoop[place]


def _hoop_factor(place: int) -> float:
    """Of the ring of ro = 2 ri, over q/(π ro)."""
    return _hoop(0.5, "opposed", _RING_LOAD, place) * np.pi * RADIUS / _RING_LOAD


def _thin_ring(held_by: HeldBy, factor: float, source: str) -> Row:
    """Moment factor × q R under the load, as hoop stress 6M/h² of a wall of 7.5 mm."""
    load, wall, mean = 20.0, 7.5, 71.25
    return _row(
        key=f"fe-thin-ring-{held_by}".replace(" ", "-"),
        case=f"Hoop stress at the bore under the load, wall 7.5 mm of 150 mm, {held_by}: 6M/h²",
        source=source,
        published=6.0 * factor * load * mean / wall**2,
        tool=lambda: _hoop(0.9, held_by, load, 0),
        allowed=5e-2,
        why="thin-ring formula at h/R = 0.105",
        unit="MPa",
        solve=f"bore 0.9 {held_by}",
    )


def _disc(held_by: HeldBy, factors: tuple[float, float], source: str) -> Iterator[Row]:
    """A small load: the patch takes 1.15 (a/R)² off the tension (Awaji and Sato, J. Soc. Mater.
    Sci. Japan 27 (1978) 336, abstract seen).
    """
    load = 100.0

    def found(number: int) -> float:
        centre = cases.ring(0.0, held_by, load).centre
        assert centre is not None
        return centre[number] * np.pi * 2.0 * RADIUS / load

    for number, where in enumerate(("along", "across")):
        yield _row(
            key=f"fe-disc-centre-{held_by}-{where}".replace(" ", "-"),
            case=f"Stress at the centre of a solid {where} the load over q/(πD), {held_by}",
            source=source,
            published=factors[number],
            tool=partial(found, number),
            allowed=5e-3,
            why=f"{_MESH}; 0.18 % measured",
            solve=f"disc {held_by}",
        )


# --- plate held at its edges ----------------------------------------------------------------------

_D = float(strip.bending_stiffness(cases.THICKNESS, 200e3, 0.3, "plane strain"))
_S = float(strip.shear_stiffness(cases.THICKNESS, 200e3, 0.3))
SHEAR_RATIO = strip.shear_ratio(cases.SPAN, _D, _S)
"""What shear adds to the bending of the strip, as contactfe.hand.strip takes it."""

_STRIP = "beam theory with shear, κ = 5/6 (contactfe.hand.strip): common practice; computed here"
_BACK = "beam theory, and a local correction derived here (contactfe.hand.strip); computed here"


def beam_edges(kind: cases.Edges) -> strip.Edges:
    """The edges of the strip in bending; springs settle it, and do not bend it."""
    return "clamped" if kind == "clamped edges" else "supported"


def _strip(kind: cases.Edges, offset: float) -> Iterator[Row]:
    span, t, q = cases.SPAN, cases.THICKNESS, cases.STRIP_LOAD
    edges, clamped = beam_edges(kind), kind == "clamped edges"
    row = partial(_row, solve=f"strip {kind} {offset:g}")
    where = "middle" if not offset else f"{abs(offset):g} mm {'right' if offset > 0.0 else 'left'}"
    key, of = f"fe-strip-{kind}-{where}".replace(" ", "-"), f"plate on {kind}, struck {where}"

    def found() -> Solution:
        return cases.held_plate(kind, offset)

    def edge(side: str) -> Reaction:
        return {r.place: r for r in found().state.patch.reactions}[f"{side} edge"]

    def under() -> float:
        x, _, stress = cases.back_of_plate(found(), offset)
        return float(stress[np.argmin(np.abs(x - offset))])

    moment = float(strip.moment(offset, q, span, offset, edges, SHEAR_RATIO))
    yield row(
        key=f"{key}-back",
        case=f"Stress of the back under the load, {of}",
        source=_BACK,
        published=float(strip.back_stress(moment, q, t)),
        tool=under,
        allowed=9e-3 if clamped else 5e-4,
        why="the clamp holds means over the face" if clamped else f"{_MESH}; 0.014 % measured",
        unit="MPa",
    )
    # Away from the load, where the dent of the contact is not felt, towards the farther edge.
    place = offset + (100.0 if offset <= 0.0 else -100.0)
    exact = float(strip_deflection.deflection(place, q, span, offset, edges, _D, _S))
    if kind == "springs":
        exact += float(strip_deflection.settlement(place, q, span, offset, cases.SPRING))

    def deflection() -> float:
        x, w, _ = cases.back_of_plate(found(), offset)
        return float(np.interp(place, x, w))

    yield row(
        key=f"{key}-deflection",
        case=f"Deflection 100 mm beside the load, {of}",
        source=_STRIP,
        published=exact,
        tool=deflection,
        allowed=1.2e-2,
        why="beam theory at L/t = 9.6; 0.9 % measured",
        unit="mm",
    )
    left, _, start, end = strip.reactions(q, span, offset, edges, SHEAR_RATIO)
    if offset:
        yield row(
            key=f"{key}-reaction",
            case=f"Reaction of the left edge, {of}",
            source=_STRIP,
            published=float(left),
            tool=lambda: edge("left").across,
            allowed=(4e-3 if clamped else 5e-4) * q,
            absolute=True,
            why="the clamp holds means over the face" if clamped else "the patch is 0.1 mm off",
            unit="N/mm",
        )
    if clamped:
        # A moment that is negative in the strip turns its left edge counter-clockwise.
        for side, value in (("left", -float(start)), ("right", float(end))):
            yield row(
                key=f"{key}-moment-{side}",
                case=f"Moment of the {side} edge, {of}",
                source=_STRIP,
                published=value,
                tool=lambda side=side: edge(side).moment,
                allowed=1.5e-2 * max(abs(start), abs(end)),
                absolute=True,
                why="the clamp holds means over the face; 0.9 % measured",
                unit="N·mm/mm",
            )


# --- friction -------------------------------------------------------------------------------------


def peak_near(field: StressField, half_width: float) -> tuple[float, float, float]:
    """Greatest von Mises stress near a contact, MPa, with its x and its depth, mm."""
    found = sample(field)
    near = (np.abs(found.x) < 3.0 * half_width) & (np.abs(found.y) < 3.0 * half_width)
    peak = np.argmax(np.where(near, found.von_mises, 0.0))
    return float(found.von_mises[peak]), float(found.x[peak]), abs(float(found.y[peak]))


def _sliding(ratio: float, friction: float) -> Iterator[Row]:
    q, a, p0 = cases.hertz_load(ratio), ratio * RADIUS, cases.hertz_pressure(ratio)
    exact, ahead, depth = sliding.peak_von_mises(p0, friction, 0.3, "plane strain")

    def found() -> Solution:
        return cases.sliding(ratio, friction)

    source = (
        "J. O. Smith and C. K. Liu, J. Appl. Mech. 20 (1953); K. L. Johnson, Contact Mechanics,"
        " 1985, section 7.1: from memory, not seen; peak computed here"
    )
    row = partial(_row, solve=f"sliding {ratio:g} {friction:g}")
    key, of = f"fe-sliding-{friction:g}", f"sliding, friction {friction:g}, a/R = {ratio:g}"
    yield row(
        key=f"{key}-drag",
        case=f"Drag on the plate over line load, {of}",
        source="Coulomb's law",
        published=friction,
        tool=lambda: found().state.patch.tangential_load / q,
        allowed=1e-9,
        why="rounding",
    )
    yield row(
        key=f"{key}-peak-pressure",
        case=f"Peak pressure, {of}: friction leaves that of like bodies",
        source=_JOHNSON.format("section 7.1 and eq. 4.45") + _COMPUTED,
        published=p0,
        tool=lambda: float(found().state.patch.pressure.max()),
        allowed=2e-3,
        why=_MESH,
        unit="MPa",
    )
    yield row(
        key=f"{key}-plate-von-mises",
        case=f"Peak von Mises stress over p0, plate, {of}",
        source=source,
        published=exact / p0,
        tool=lambda: peak_near(found().plate, a)[0] / p0,
        allowed=2e-3,
        why=f"{_MESH}; 0.1 % measured",
    )
    yield row(
        key=f"{key}-post-von-mises",
        case=f"Peak von Mises stress over p0, post, {of}",
        source=source,
        published=exact / p0,
        tool=lambda: peak_near(found().post["whole"], a)[0] / p0,
        allowed=4e-3,
        why=_FINITE,
    )
    yield row(
        key=f"{key}-ahead",
        case=f"Peak von Mises stress ahead of the middle over half-width, plate, {of}",
        source=source,
        published=ahead,
        tool=lambda: peak_near(found().plate, a)[1] / a,
        allowed=0.05,
        absolute=True,
        why="flat maximum",
    )
    yield row(
        key=f"{key}-depth",
        case=f"Depth of the peak von Mises stress over half-width, plate, {of}",
        source=source,
        published=depth,
        tool=lambda: peak_near(found().plate, a)[2] / a,
        allowed=0.05,
        absolute=True,
        why="flat maximum",
    )


def _partial_slip(mobilised: float) -> Iterator[Row]:
    a, p0 = cases.SLIP_RATIO * RADIUS, cases.hertz_pressure(cases.SLIP_RATIO)
    friction = cases.SLIP_FRICTION
    source = (
        "C. Cattaneo, Rend. Acc. Lincei 27 (1938); R. D. Mindlin, J. Appl. Mech. 16 (1949);"
        " K. L. Johnson, Contact Mechanics, 1985, section 7.2: from memory, not seen"
    ) + _COMPUTED

    def line() -> Floats:
        return cases.sliding_joint(cases.SLIP_RATIO).member.lines[0].x

    def border() -> float:
        """Halfway between the last node that sticks and the first that slips."""
        x, regime = np.abs(line()), cases.pushed(mobilised).regime
        return float(x[regime == STICK].max() + x[regime == SLIP].min()) / 2.0 / a

    def middle() -> float:
        traction = cases.pushed(mobilised).traction
        return float(-traction[np.argmin(np.abs(line()))]) / (friction * p0)

    row = partial(_row, source=source, absolute=True, solve="partial slip")
    of = f"pushed by {mobilised:g} µq"
    yield row(
        key=f"fe-partial-slip-{mobilised:g}-stick",
        case=f"Half-width that sticks over that of contact, {of}",
        published=float(partial_slip.stick_half_width(a, mobilised)) / a,
        tool=border,
        allowed=0.035,
        why="nodes stand up to 0.07 a apart there",
    )
    yield row(
        key=f"fe-partial-slip-{mobilised:g}-middle",
        case=f"Traction in the middle of contact over µ p0, {of}",
        published=float(partial_slip.traction(0.0, a, p0, friction, mobilised)) / (friction * p0),
        tool=middle,
        allowed=0.04,
        why=f"{_MESH}; 2.5 % measured",
    )


# --- corner, and filled tube ----------------------------------------------------------------------


def _corner(bore: float) -> Iterator[Row]:
    what = f"tube of {2 * RADIUS:g} × {RADIUS - bore:g} mm" if bore else "solid of 150 mm"
    name = "tube" if bore else "solid"
    row = partial(_row, solve=f"corner {name}")
    loads = cases.CORNER_LOADS

    def patch(number: int) -> PatchState:
        return cases.corner(bore)[0].state.patches[number]

    for number, (which, q) in enumerate(zip(("first", "second"), loads, strict=True)):
        yield row(
            key=f"fe-corner-{name}-{which}-pressure",
            case=f"Peak pressure on the {which} plate of a corner, {what}, {q:g} N/mm",
            source=_HERTZ,
            published=float(hertz.peak_pressure(q, RADIUS, cases.E_STAR)),
            tool=lambda number=number: float(patch(number).pressure.max()),
            allowed=2e-3,
            why=f"{_MESH}; 0.05 % measured",
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
                tool=lambda x=x, y=y: _hoop_at(cases.corner(bore)[0].post["whole"], x, y),
                allowed=8e-3 * float(np.abs(hoop).max()),
                absolute=True,
                why=f"{_MESH}; 0.8 % of the greatest all round",
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
            why=f"{_MESH}; 0.01 % measured",
            unit="MPa",
        )
    for number, (which, q) in enumerate(zip(("first", "second"), loads, strict=True)):
        p0 = float(hertz.peak_pressure(q, RADIUS, cases.E_STAR))
        yield row(
            key=f"fe-corner-{which}-plate-von-mises",
            case=f"Peak von Mises stress in the {which} plate of a corner, {what}",
            source=_HERTZ,
            published=hertz.peak_von_mises(p0, 0.3, "plane strain")[0],
            tool=lambda number=number: cases.peak(
                cases.corner(0.0)[1] if number else cases.corner(0.0)[0].plate
            ),
            allowed=1e-2,
            why="plates of 200 mm; 0.2 % measured",
            unit="MPa",
        )


def _hoop_at(field: StressField, x: float, y: float) -> float:
    """σθ, MPa, at the node nearest to a point."""
    nodes = field.mesh.doflocs
    node = np.argmin((nodes[0] - x) ** 2 + (nodes[1] - y) ** 2)
    return float(polar(field, RADIUS)[2][1, node])


def _filled() -> Iterator[Row]:
    """A tube of 150 × 25 mm with an infill, squeezed: limits of the infill, and an exact field."""
    bore, q = cases.FILLED_BORE, cases.FILLED_LOAD
    angles = np.array([0.0, np.pi / 2.0])
    tube = thick_ring.bore_hoop(q, RADIUS, bore, angles, "opposed", 0.3, "plane strain")
    of = "tube of 150 × 25 mm, opposed"

    def faint(x: float, y: float) -> float:
        return _hoop_at(cases.filled("opposed", cases.FAINT).post["steel"], x, y)

    def centre(component: int) -> float:
        field = cases.filled("opposed", STEEL).post["infill"]
        return float(cases.at(field, 0.0, RADIUS)[component]) * np.pi * 2.0 * RADIUS / q

    for where, x, y, exact in (
        ("under the load", 0.0, RADIUS - bore, tube[0]),
        ("at the side", bore, RADIUS, tube[1]),
    ):
        yield _row(
            key=f"fe-filled-faint-{where}".replace(" ", "-"),
            case=f"Hoop stress at the bore {where}, infill as soft as nothing, {of}",
            source=_SERIES,
            published=float(exact),
            tool=partial(faint, x, y),
            allowed=5e-3,
            why=_MESH,
            unit="MPa",
            solve="filled",
        )
    for component, (where, factor) in enumerate((("across", 2.0), ("along", -6.0))):
        yield _row(
            key=f"fe-filled-steel-centre-{where}",
            case=f"Stress at the centre {where} the load over q/(πD), infill of steel, {of}",
            source=_TIMOSHENKO.format("chapter 4, circular disk"),
            published=factor,
            tool=partial(centre, component),
            allowed=1e-2,
            why=f"{_MESH}, coarse in the infill",
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
        field = cases.filled("opposed", infill).post[part]
        nodes = field.mesh.doflocs
        node = np.argmin(nodes[0] ** 2 + (nodes[1] - RADIUS + bore) ** 2)
        return float(polar(field, RADIUS)[2][component, node])

    greatest = max(np.abs(exact.steel(bore, angles)).max(), np.abs(exact.disc(bore, angles)).max())
    row = partial(_row, source=source, unit="MPa", absolute=True, solve="filled")
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


ROWS: tuple[Row, ...] = (
    *_blocks(),
    *_hertz(0.0025, 150.0),
    *_hertz(0.005, 235.0),
    *_hertz(0.015, 345.0),
    *_aluminium_plate(),
    *_plane_stress(),
    *_crane_wheel(),
    *(row for s in ("plane strain", "plane stress") for n in PAIRS for row in _unlike(n, s)),
    *(row for h in ("opposed", "beam shear") for r in BORE_RATIOS for row in _bore(r, h)),
    _thin_ring(
        "opposed",
        0.3183,
        "W. C. Young and R. G. Budynas, Roark's Formulas for Stress and Strain, 7th ed., Table 9.2"
        " case 1: from memory, not seen",
    ),
    _thin_ring("beam shear", 0.2387, "moment 3/(4π) q R, derived here"),
    *_disc("opposed", (-6.0, 2.0), _TIMOSHENKO.format("chapter 4, circular disk")),
    *_disc("beam shear", (-3.0, 1.0), "half of two opposed loads, derived here"),
    *(row for kind, offset in STRIPS for row in _strip(kind, offset)),
    *(row for ratio, friction in SLIDING for row in _sliding(ratio, friction)),
    *(row for mobilised in PUSHES for row in _partial_slip(mobilised)),
    *_corner(0.0),
    *_corner(cases.CORNER_BORE),
    *_filled(),
)
