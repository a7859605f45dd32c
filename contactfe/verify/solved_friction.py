"""Contacts with friction solved by finite elements: sliding in full, and slipping in part.

Beside Smith and Liu's field of the one and Cattaneo's and Mindlin's tractions of the other.
"""

from collections.abc import Iterator
from functools import partial

import numpy as np

from contactfe.hand import partial_slip, sliding
from contactfe.solve.elastic import Floats
from contactfe.solve.field import StressField, sample
from contactfe.solve.friction import SLIP, STICK
from contactfe.verify import cases
from contactfe.verify.cases import RADIUS, Solution
from contactfe.verify.row import Row, solved_row
from contactfe.verify.sources import COMPUTED, FINITE_ROUND, JOHNSON, MESH, PARTIAL_SLIP

SLIDING = ((0.003, 0.1), (0.003, 0.3), (0.006, 0.2), (0.006, 0.5))
"""a/R and friction of what slides in full; the peak comes to the surface from friction 0.263 on."""

PUSHES = (0.25, 0.5, 0.75, 0.95)
"""Tangential load over friction times normal load, in partial slip."""


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
    row = partial(solved_row, solve=f"sliding {ratio:g} {friction:g}")
    key, of = f"fe-sliding-{friction:g}", f"sliding, friction {friction:g}, a/R = {ratio:g}"
    yield row(
        key=f"{key}-drag",
        case=f"Friction on the plate over line load, {of}",
        source="Coulomb's law",
        published=friction,
        tool=lambda: found().state.patch.tangential_load / q,
        allowed=1e-9,
        why="rounding",
    )
    yield row(
        key=f"{key}-peak-pressure",
        case=f"Peak pressure, {of}: friction leaves that of like bodies",
        source=JOHNSON.format("section 7.1 and eq. 4.45") + COMPUTED,
        published=p0,
        tool=lambda: float(found().state.patch.pressure.max()),
        allowed=2e-3,
        why=MESH,
        unit="MPa",
    )
    yield row(
        key=f"{key}-plate-von-mises",
        case=f"Peak von Mises stress over p0, plate, {of}",
        source=source,
        published=exact / p0,
        tool=lambda: peak_near(found().plate, a)[0] / p0,
        allowed=2e-3,
        why=f"{MESH}; 0.1 % measured",
    )
    yield row(
        key=f"{key}-post-von-mises",
        case=f"Peak von Mises stress over p0, post, {of}",
        source=source,
        published=exact / p0,
        tool=lambda: peak_near(found().post["whole"], a)[0] / p0,
        allowed=4e-3,
        why=FINITE_ROUND,
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
    source = PARTIAL_SLIP + COMPUTED

    def line() -> Floats:
        return cases.sliding_joint(cases.SLIP_RATIO).member.lines[0].x

    def border() -> float:
        """Halfway between the last node that sticks and the first that slips."""
        x, regime = np.abs(line()), cases.pushed(mobilised).regime
        return float(x[regime == STICK].max() + x[regime == SLIP].min()) / 2.0 / a

    def middle() -> float:
        traction = cases.pushed(mobilised).traction
        return float(-traction[np.argmin(np.abs(line()))]) / (friction * p0)

    row = partial(solved_row, source=source, absolute=True, solve="partial slip")
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
        why=f"{MESH}; 2.5 % measured",
    )


ROWS: tuple[Row, ...] = (
    *(row for ratio, friction in SLIDING for row in _sliding(ratio, friction)),
    *(row for mobilised in PUSHES for row in _partial_slip(mobilised)),
)
