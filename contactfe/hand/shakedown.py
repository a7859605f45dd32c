"""Repeated loading above first yield: up to which pressure yielding stops after a few impacts.

Above first yield the first impacts leave residual stresses. If some field of them keeps every
later state within yield, yielding comes to an end and the steel answers elastically from then on
(Melan's theorem, for an elastic and perfectly plastic body). Above the limit each impact adds to
the strain.

The load of these formulas traverses the surface: it passes over every place, in full sliding.
Residual stresses that are the same everywhere along the surface can then only be σx and σy, not σz
or τxz, and these two may be any function of depth: that breaks no balance. Other fields would do no
better: one that varies along the surface, averaged along it, serves as well, since the states
within yield form a convex set (derived here). So the limit is that of the depth at which the best
σx and σy help least. In plane stress σy is none, of the load or residual, and σx alone helps. Yield
is after von Mises, the body a half-space under Hertz pressure: neither plate bending nor ring
bending is in it.

Without σx and σy in view, |τxz| <= k must hold at every depth, with k = Y/√3 the shear strength;
books take that for the limit. Below the surface the two residual stresses can
bring the rest within yield, so that it is. At the surface they cannot: the two stresses vary along
the contact while the traction µp is in full there, and the lower Poisson's ratio, the more they do.
In plane strain with ν = 0.3 the surface governs from µ = 0.317 on and allows up to 8 % less than
that bound. In plane stress it always governs and allows half as much without friction.

What it means for a stop (derived here, by the same theorem). The residual field found for a
traversing load also serves impacts at one place or at any number of places, of any size up to the
limit, with any friction up to µ in either direction: they are all among the states it covers or
lie between them. So below the limit, repeated impacts cease to yield the contact. It is safe, not
exact, for impacts that always meet the same place, where residual σz and τxz can help too; the
hardening of steel and the flattening of the first impacts help in either case. The first impacts
do yield: the limit is no elastic check, and says nothing of fatigue.
"""

from collections.abc import Sequence
from functools import cache
from itertools import combinations

import numpy as np

from contactfe.hand import check, hertz, sliding
from contactfe.hand.check import Array, State
from contactfe.hand.formula import formula, limited, shown
from contactfe.hand.quantities import Friction, Lengths, LineLoads, Poisson, Stresses

Point = tuple[float, float, float]

_OUTSIDE = 1.0 + np.geomspace(1e-3, 20.0, 60)
_TRAVERSE = np.concatenate([-_OUTSIDE, np.sin(np.linspace(-np.pi / 2, np.pi / 2, 301)), _OUTSIDE])
"""Places x/a as the load passes over, close together where stress changes fast. A flat top between
two of them is missed by 1e-5 of it."""

_DEPTHS = np.linspace(0.0, 1.2, 97)
"""Depths z/a that are tried. A flat top between two of them is missed by 1e-4 of it."""


def least_strength(friction: float, poisson: float, state: State) -> tuple[float, float]:
    """Least shear strength over peak pressure, k/p0, that shakes down, and the depth z/a for it.

    ``friction`` µ, ``poisson`` ν of the body, which does not matter in plane stress. To 0.01 %,
    from below. Raises ValueError for negative friction, ν outside [0, 0.5] or an unknown state.

    In plane strain without friction it is 1/4 for ν of 0.067 or more, which is a pressure of 2.31
    times the yield strength and 1.29 times that at first yield (ν = 0.3); below that ν the surface
    governs with (1 − 2ν)/(2√3). In plane stress it is 1/2, a pressure of 1.15 times the yield
    strength. It is never less than the greatest |τxz|/p0, and in plane strain that below the
    surface.

    >>> print(*least_strength(0.2, 0.3, "plane strain"))
    0.31226 0.4125
    >>> print(*least_strength(0.5, 0.3, "plane strain"))
    0.53139 0.0
    """
    check.not_negative(friction=friction)
    check.poisson_ratio(poisson=poisson)
    check.plane_state(state)
    return _least_strength(float(friction), float(poisson) if state == "plane strain" else None)


@cache
def _least_strength(friction: float, poisson: float | None) -> tuple[float, float]:
    """The same; no Poisson's ratio means plane stress."""
    needs = [_needed(depth, friction, poisson) for depth in _DEPTHS]
    worst = int(np.argmax(needs))
    return needs[worst], float(_DEPTHS[worst])


def _needed(depth: float, friction: float, poisson: float | None) -> float:
    """Least k/p0 at one depth z/a, with the best residual σx and σy there.

    After von Mises, in plane strain k² = u² + v² + τxz² with u = (σx − σz)/2 and
    v = (σy − (σx + σz)/2)/√3, and the residual stresses shift every state by one amount in u and
    one in v (derived here). So what is sought is the radius of the smallest ball about all states
    (u, v, τxz) whose centre has τxz = 0. The states of friction the other way, mirrored in τxz,
    then lie in it too.

    In plane stress k² = u² + (σz/2)² + τxz² with u = (σx − σz/2)/√3, of which residual σx shifts
    u alone: the centre has neither of the others.
    """
    sx, sz, txz = sliding.stress_field(_TRAVERSE, depth, 1.0, 1.0, friction)
    if poisson is None:
        parts = ((sx - sz / 2) / np.sqrt(3), np.zeros_like(sx), txz**2 + sz**2 / 4)
    else:
        parts = ((sx - sz) / 2, (poisson - 0.5) * (sx + sz) / np.sqrt(3), txz**2)
    states = np.stack(parts, axis=-1)
    return _smallest_ball(np.vstack([states, np.zeros(3)]))  # the last: the load is away


def _smallest_ball(points: Array) -> float:
    """Radius of the smallest ball about points (u, v, w²), its centre at w = 0.

    Three of them at most lie on it. They are found by adding the farthest point to those of the
    ball so far until none lies outside, by more than rounding; each ball is larger than the one
    before, so that ends.
    """
    held: tuple[Point, ...] = (_point(points[points[:, 2].argmax()]),)
    while True:
        square, (u, v), on = _ball_of_few(held)
        squares = (points[:, 0] - u) ** 2 + (points[:, 1] - v) ** 2 + points[:, 2]
        farthest = int(squares.argmax())
        if squares[farthest] <= square + 1e-10 * squares[farthest]:
            return float(np.sqrt(square))
        held = (*on, _point(points[farthest]))


def _point(row: Array) -> Point:
    return float(row[0]), float(row[1]), float(row[2])


def _ball_of_few(
    points: Sequence[Point],
) -> tuple[float, tuple[float, float], tuple[Point, ...]]:
    """Square of the radius, centre, and the points that it rests on, of up to four points.

    Each one to three of the points have a ball of their own; of those balls the smallest that
    holds all the points is the one.
    """
    balls = []
    for count in (1, 2, 3):
        for on in combinations(points, count):
            centre = _centre(on)
            if centre is not None:
                balls.append((max(_square(p, centre) for p in points), centre, on))
    return min(balls, key=lambda ball: ball[0])


def _square(point: Point, centre: tuple[float, float]) -> float:
    return (point[0] - centre[0]) ** 2 + (point[1] - centre[1]) ** 2 + point[2]


def _centre(on: tuple[Point, ...]) -> tuple[float, float] | None:
    """Centre as far from each of one to three points; None where there is no single one."""
    u, v, square = on[0]
    if len(on) == 1:
        return u, v
    rises = [
        (p[0] - u, p[1] - v, ((p[0] - u) ** 2 + (p[1] - v) ** 2 + p[2] - square) / 2)
        for p in on[1:]
    ]
    (du, dv, half) = rises[0]
    length = du**2 + dv**2
    if len(on) == 2:  # on the line through both
        return (u + du * half / length, v + dv * half / length) if length > 0.0 else None
    (eu, ev, other) = rises[1]
    across = du * ev - dv * eu
    if abs(across) <= 1e-12 * (length + eu**2 + ev**2):
        return None
    return u + (half * ev - dv * other) / across, v + (du * other - half * eu) / across


@formula(
    "line load at the shakedown limit",
    "qS",
    note="r is the least shear strength over peak pressure with which residual σx and σy (in plane"
    " stress σx alone) keep every state within yield, at the depth that needs most; found depth by"
    " depth",
    source="Melan's theorem: K. L. Johnson, Contact Mechanics, 1985, section 9.2 (from memory, not"
    " seen); the best residual stresses after von Mises derived here",
)
def limit_line_load(
    yield_strength: Stresses,
    radius: Lengths,
    E_star: Stresses,
    friction: Friction,
    poisson: Poisson,
    state: State,
) -> LineLoads:
    """Line load up to which a body, of that ν, shakes down under a load that traverses.

    For such a load in full sliding it is the limit itself, for lesser loads and frictions, and
    those that stay at a place, a safe one. r is that of :func:`least_strength`.

    >>> print(limit_line_load(345.0, 50.0, 200e3 / 1.82, 0.0, 0.3, "plane strain"))
    907.4
    """
    r = shown("r", least_strength(friction, poisson, state)[0], "r")
    q = np.pi * radius * (yield_strength / (np.sqrt(3) * r)) ** 2 / E_star
    limited(hertz.small_patch(q, radius, E_star), sliding.plausible_friction(friction))
    return q
