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

Without σx and σy in view, |τxz| <= k must hold at every depth, with k the shear strength; books
take that for the limit (:func:`orthogonal_shear`). Below the surface the two residual stresses can
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
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check, hertz, sliding
from contactfe.hand.check import Array, State
from contactfe.hand.formula import Given, Limit, formula
from contactfe.hand.search import greatest

Point = tuple[float, float, float]

_OUTSIDE = 1.0 + np.geomspace(1e-3, 20.0, 60)
_TRAVERSE = np.concatenate([-_OUTSIDE, np.sin(np.linspace(-np.pi / 2, np.pi / 2, 301)), _OUTSIDE])
"""Places x/a as the load passes over, close together where stress changes fast. A flat top between
two of them is missed by 1e-5 of it."""

_DEPTHS = np.linspace(0.0, 1.2, 97)
"""Depths z/a that are tried. A flat top between two of them is missed by 1e-4 of it."""

_JOHNSON = "K. L. Johnson, Contact Mechanics, 1985, section 9.2: from memory, not seen"
_BOUND = (
    "Melan's theorem: K. L. Johnson, Contact Mechanics, 1985, section 9.2 (from memory, not seen);"
    " the best residual stresses after von Mises derived here"
)
_HOW = (
    "r is the least shear strength over peak pressure with which residual σx and σy (in plane"
    " stress σx alone) keep every state within yield, at the depth that needs most; found depth by"
    " depth"
)


def _rubs(_: object, **given: Any) -> list[Limit]:
    return [sliding.plausible_friction(given["friction"])]


def _rubs_on_a_small_patch(q: Array, **given: Any) -> list[Limit]:
    patch = hertz.small_patch(q, given["radius"], given["E_star"])
    return [patch, sliding.plausible_friction(given["friction"])]


def _strength_part(**given: Any) -> dict[str, Given]:
    body = given["friction"], given["poisson"], given["state"]
    return {"r": Given("r", least_strength(*body)[0])}


@formula(
    name="greatest orthogonal shear",
    symbol="|τxz|/p0",
    form=None,
    dimension=None,
    limits=_rubs,
    part=0,
    note="found by a search of the field of full sliding",
    source=_JOHNSON,
)
def orthogonal_shear(friction: float) -> tuple[float, float, float]:
    """Greatest |τxz|/p0 under Hertz pressure p and the traction µp, and its place x/a, z/a.

    Without friction 1/4 at x = ±0.866 a, z = 0.5 a. With it the place ahead governs, until at
    µ = 0.367 the traction itself, µ at the middle of the surface, is greater. No load with more
    than k of it can shake down. Raises ValueError for negative friction.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 9.2 — from memory, not seen; found here
    by a search of :func:`.sliding.stress_field`.

    >>> print(*orthogonal_shear(0.2))
    0.312269 0.863686 0.414692
    """
    check.not_negative(friction=friction)

    def measure(x: Array, z: Array) -> Array:
        _, _, shear = sliding.stress_field(x, z, 1.0, 1.0, friction)
        size: Array = np.abs(shear)
        return size

    inside, x, z = greatest(measure, (0.0, 1.2), (0.1, 1.3))
    return (inside, x, z) if inside > friction else (friction, 0.0, 0.0)


def least_strength(friction: float, poisson: float, state: State) -> tuple[float, float]:
    """Least shear strength k/p0 that shakes down, and the depth z/a that needs it.

    ``friction`` µ, ``poisson`` ν of the body, which does not matter in plane stress. To 0.01 %,
    from below. Raises ValueError for negative friction, ν outside [0, 0.5] or an unknown state.

    Source: as :func:`limit_peak_pressure`.

    >>> print(*least_strength(0.2, 0.3, "plane strain"))
    0.31226 0.4125
    >>> print(*least_strength(0.5, 0.3, "plane strain"))
    0.53139 0.0
    >>> print(*least_strength(0.0, 0.3, "plane stress"))
    0.5 0.0
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
    name="peak pressure at the shakedown limit",
    symbol="pS",
    form="{yield_strength}/(√(3)·{r})",
    dimension="stress",
    limits=_rubs,
    parts=_strength_part,
    note=_HOW,
    source=_BOUND,
)
def limit_peak_pressure(
    yield_strength: ArrayLike, friction: float, poisson: float, state: State
) -> Array:
    """Peak pressure p0, MPa, up to which a body shakes down under a load that traverses.

    ``yield_strength`` Y in MPa, of any shape, which the result has; ``friction`` µ of 0 or more;
    ``poisson`` ν of the body. k = Y/√3 after von Mises. In plane strain without friction it is 4k
    for ν of 0.067 or more, which is 2.31 times the yield strength and 1.29 times the pressure at
    first yield (ν = 0.3); below that ν the surface governs at 2√3 k/(1 − 2ν). In plane stress it is
    2k, 1.15 times the yield strength. It is never more than k over :func:`orthogonal_shear`, and in
    plane strain that value below the surface. Raises ValueError for a strength that is not
    positive, negative friction, ν outside [0, 0.5] or an unknown state.

    What is bounded: impacts of an elastic and perfectly plastic half-space, by Melan's theorem,
    with residual σx and σy (in plane stress σx alone) free at each depth. For a load that traverses
    in full sliding it is the limit itself, for lesser loads and frictions, and those that stay at a
    place, a safe one.

    Source: K. L. Johnson, Contact Mechanics, 1985, section 9.2 — from memory, not seen — for the
    theorem and p0 = k/max(|τxz|/p0); the best residual stresses after von Mises derived here, as a
    smallest ball at each depth. To 0.01 %.

    >>> print(limit_peak_pressure(345.0, 0.5, 0.3, "plane strain"))
    374.84
    >>> print(limit_peak_pressure(345.0, 0.0, 0.3, "plane stress"))
    398.37
    """
    check.positive(yield_strength=yield_strength)
    ratio, _ = least_strength(friction, poisson, state)
    p0: Array = np.divide(yield_strength, np.sqrt(3) * ratio, dtype=float)
    return p0


@formula(
    name="line load at the shakedown limit",
    symbol="qS",
    form="π·{radius}·({yield_strength}/(√(3)·{r}))²/{E_star}",
    dimension="line load",
    limits=_rubs_on_a_small_patch,
    parts=_strength_part,
    note=_HOW,
    source=_BOUND,
)
def limit_line_load(
    yield_strength: ArrayLike,
    radius: ArrayLike,
    E_star: ArrayLike,
    friction: float,
    poisson: float,
    state: State,
) -> Array:
    """Line load q, N/mm, up to which a body shakes down under a load that traverses.

    ``yield_strength`` Y in MPa, ``radius`` R in mm, ``E_star`` E* in MPa, of any shapes that
    broadcast; ``friction`` µ and ``poisson`` ν of the body. q = πR p0²/E* with p0 of
    :func:`limit_peak_pressure`, whose source, bound and limits hold here too; and a/R up to about
    0.1 under that load. Raises ValueError for a strength, radius or modulus that is not positive,
    negative friction, ν outside [0, 0.5] or an unknown state.

    >>> print(limit_line_load(345.0, 50.0, 200e3 / 1.82, 0.0, 0.3, "plane strain"))
    907.4
    """
    check.positive(radius=radius, E_star=E_star)
    p0 = limit_peak_pressure.plain(yield_strength, friction, poisson, state)
    load: Array = np.pi * p0**2 * np.divide(radius, E_star)
    return load
