"""A bumper plate on a Winkler bed over its whole back, under the line load of the post.

The bed gives way at each point by the pressure there over its stiffness k, MPa for each mm: a plate
on grout or an elastic pad, which spreads the load by bending. A base that does not give way is the
subject of :mod:`.layer`. x runs from the load, deflection w is positive away from the post, moment
M positive where it stretches the back. All is for one millimetre along the post.

Everything scales with the length ℓ = (4D/k)^¼, 1/λ in Hetényi's notation. The bed is "bonded", so
that it pulls where the plate rises, or "loose", so that it lets go there. A loose weightless plate
touches its bed over πℓ/2 to each side of the load and hangs free beyond; between those ends it is a
strip of length πℓ with free ends (derived here from Hetényi's strip of finite length, whose end
pressure vanishes at that length). Its moment, deflection and pressure at the load are
coth(π/2) = 1.0903 times those of a bonded one.

Valid for a plate that reaches far enough beyond the load (:func:`reach_limits`) and is thin beside
ℓ (:func:`thinness_limits`). The stress at the back is that of :func:`.strip.back_stress`.
"""

from typing import Any, Literal, get_args

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array
from contactfe.hand.formula import Dimension, Given, Limit, at_least, formula

Bed = Literal["bonded", "loose"]
"""Whether the bed can pull at the back of the plate, or only push."""

_LOOSE = float(1 / np.tanh(np.pi / 2))
_LENGTH: tuple[str, Dimension] = ("ℓ", "length")
_HETENYI = (
    "M. Hetényi, Beams on Elastic Foundation, 1946, {}: from memory, not seen; coth(π/2) of a loose"
    " bed derived here"
)
_ON_THE_BED = {"characteristic_length": _LENGTH, "bedding": ("k", "bedding")}
_FACTOR = "c = 1 on a bonded bed, c = coth(π/2) = 1.0903 on a loose one"


def reach_limits(edge_distance: float, characteristic_length: float, bed: Bed) -> tuple[Limit, ...]:
    """How far the plate reaches beyond the load, in lengths ℓ, to count as one without ends.

    ``edge_distance`` is that of the load from the nearer edge and ``characteristic_length`` ℓ, mm.
    A loose plate that reaches πℓ/2 beyond the load to both sides is exact. On a bonded bed a
    reach of πℓ keeps the moment to 0.4 % and the deflection to 1.1 % for a load in the middle
    (:func:`finite_moment`, :func:`finite_deflection`). Raises ValueError for a length that is not
    positive or an unknown bed.

    Source: derived here.
    """
    check.positive(edge_distance=edge_distance, characteristic_length=characteristic_length)
    _bed(bed)
    bound = np.pi if bed == "bonded" else np.pi / 2
    reach = edge_distance / characteristic_length
    return (at_least("distance of the load from the nearer edge over ℓ", reach, bound),)


def thinness_limits(thickness: float, characteristic_length: float) -> tuple[Limit, ...]:
    """How thin the plate is beside the length ℓ over which its bed carries.

    ``thickness`` t and ``characteristic_length`` ℓ in mm. At ℓ = 2t the deflection of an exact
    elastic strip on the same bonded bed is 3 to 5 % more than the beam's, its stress at the back
    4 to 5 % less (measured in the tests); at ℓ = t, 6 to 7 % and 14 to 16 %. Raises ValueError for
    a size that is not positive.
    """
    check.positive(thickness=thickness, characteristic_length=characteristic_length)
    return (at_least("ℓ/t", characteristic_length / thickness, 2.0),)


@formula(
    name="characteristic length of the plate on its bed",
    symbol="ℓ",
    form="(4·{bending_stiffness}/{bedding})^(1/4)",
    dimension="length",
    given={"bedding": ("k", "bedding")},
    source=_HETENYI.format("section 3"),
)
def characteristic_length(bending_stiffness: float, bedding: float) -> float:
    """Length ℓ, mm, over which a plate spreads a line load on its bed: (4D/k)^¼, or 1/λ.

    ``bending_stiffness`` D in N mm²/mm (:func:`.strip.bending_stiffness`), ``bedding`` k in MPa
    for each mm of deflection. Raises ValueError for one that is not positive.

    Source: M. Hetényi, Beams on Elastic Foundation, 1946, section 3 — from memory, not seen.

    >>> print(characteristic_length(2.28938e9, 100.0))
    97.823
    """
    check.positive(bending_stiffness=bending_stiffness, bedding=bedding)
    return float((4 * bending_stiffness / bedding) ** 0.25)


def _factor(**given: Any) -> dict[str, Given]:
    return {"factor": Given("c", _bed(given["bed"]))}


@formula(
    name="bending moment under the load, plate on a bed",
    symbol="M",
    form="{factor}·{line_load}·{characteristic_length}/4",
    dimension="moment per length",
    given=_ON_THE_BED,
    parts=_factor,
    note=_FACTOR,
    source=_HETENYI.format("section 3"),
)
def moment_under_load(line_load: float, characteristic_length: float, bed: Bed) -> float:
    """Bending moment M, N mm/mm, under the load: qℓ/4 on a bonded bed.

    ``line_load`` q in N/mm, ``characteristic_length`` ℓ in mm. Positive: it stretches the back.
    Raises ValueError for a negative load, a length that is not positive or an unknown bed.

    Source: M. Hetényi, Beams on Elastic Foundation, 1946, section 3 — from memory, not seen; a
    loose bed derived here.

    >>> print(moment_under_load(1000.0, 97.823, "bonded"), moment_under_load(1e3, 97.823, "loose"))
    24455.75 26664.9
    """
    _check(line_load, characteristic_length)
    return _bed(bed) * line_load * characteristic_length / 4


@formula(
    name="deflection under the load, plate on a bed",
    symbol="w",
    form="{factor}·{line_load}/(2·{bedding}·{characteristic_length})",
    dimension="length",
    given=_ON_THE_BED,
    parts=_factor,
    note=_FACTOR,
    source=_HETENYI.format("section 3"),
)
def deflection_under_load(
    line_load: float, characteristic_length: float, bedding: float, bed: Bed
) -> float:
    """Deflection w, mm, under the load: q/(2kℓ) on a bonded bed.

    ``bedding`` k in MPa for each mm; the rest, errors and source as in
    :func:`moment_under_load`. Raises ValueError for a bedding that is not positive too.

    >>> print(deflection_under_load(1000.0, 97.823, 100.0, "bonded"))
    0.051113
    """
    _check(line_load, characteristic_length)
    check.positive(bedding=bedding)
    return _bed(bed) * line_load / (2 * bedding * characteristic_length)


@formula(
    name="peak pressure on the bed",
    symbol="pb",
    form="{factor}·{line_load}/(2·{characteristic_length})",
    dimension="stress",
    given=_ON_THE_BED,
    parts=_factor,
    note=_FACTOR,
    source=_HETENYI.format("section 3"),
)
def bed_pressure(line_load: float, characteristic_length: float, bed: Bed) -> float:
    """Peak pressure on the bed, MPa, right under the load: kw, or q/(2ℓ) on a bonded bed.

    Arguments, errors and source as in :func:`moment_under_load`. Positive in compression.

    >>> print(bed_pressure(1000.0, 97.823, "bonded"))
    5.1113
    """
    _check(line_load, characteristic_length)
    return _bed(bed) * line_load / (2 * characteristic_length)


def moment(x: ArrayLike, line_load: float, characteristic_length: float) -> Array:
    """Bending moment M, N mm/mm, at x mm from the load, on a bonded bed without ends.

    M = qℓ/4 e^(−s)(cos s − sin s) with s = |x|/ℓ; it bends the other way from πℓ/4 on, by at most
    a fifth (0.208) of the peak. ``x`` of any shape, which the result has. Raises ValueError for a
    negative load or a length that is not positive.

    Source: M. Hetényi, Beams on Elastic Foundation, 1946, section 3 — from memory, not seen.

    >>> print(moment([0.0, 100.0], 1000.0, 100.0))
    [25000.         -2769.84]
    """
    _check(line_load, characteristic_length)
    s = np.abs(np.asarray(x, dtype=float)) / characteristic_length
    M: Array = line_load * characteristic_length / 4 * np.exp(-s) * (np.cos(s) - np.sin(s))
    return M


def deflection(
    x: ArrayLike, line_load: float, characteristic_length: float, bedding: float
) -> Array:
    """Deflection w, mm, at x mm from the load, on a bonded bed without ends.

    w = q/(2kℓ) e^(−s)(cos s + sin s) with s = |x|/ℓ; the plate rises from 3πℓ/4 on, by at most
    4.3 % of the peak. ``x`` of any shape, which the result has. Errors and source as in
    :func:`moment`, and for a bedding that is not positive.

    >>> print(deflection([0.0, 100.0 * np.pi], 1000.0, 100.0, 100.0))
    [ 0.05       -0.00216]
    """
    _check(line_load, characteristic_length)
    check.positive(bedding=bedding)
    s = np.abs(np.asarray(x, dtype=float)) / characteristic_length
    peak = line_load / (2 * bedding * characteristic_length)
    w: Array = peak * np.exp(-s) * (np.cos(s) + np.sin(s))
    return w


def _stretch(**given: Any) -> dict[str, Given]:
    return {"u": Given("u", given["span"] / given["characteristic_length"])}


_FINITE = (
    "M. Hetényi, Beams on Elastic Foundation, 1946, chapter on beams of finite length: from memory,"
    " not seen; checked against the equation of the beam"
)


@formula(
    name="bending moment under the load, plate of finite length on a bed",
    symbol="M",
    form=(
        "{line_load}·{characteristic_length}/4"
        "·((exp({u}) + exp(−{u}))/2 − cos({u}))/(sinh({u}) + sin({u}))"
    ),
    dimension="moment per length",
    given=_ON_THE_BED,
    parts=_stretch,
    note="u = L/ℓ",
    source=_FINITE,
)
def finite_moment(line_load: float, span: float, characteristic_length: float) -> float:
    """Bending moment M, N mm/mm, under a load in the middle of a plate of length L.

    qℓ/4 (cosh u − cos u)/(sinh u + sin u) with u = L/ℓ: qL/8 for a short plate, which is rigid, at
    most 1.090 qℓ/4, at u = π, and qℓ/4 for a long one. ``line_load`` q in N/mm, ``span`` L and
    ``characteristic_length`` ℓ in mm. Up to L = πℓ the plate presses on its bed everywhere, so
    there it holds for a loose bed too. Raises ValueError for a negative load or a length that is
    not positive.

    Source: M. Hetényi, Beams on Elastic Foundation, 1946, chapter on beams of finite length — from
    memory, not seen; checked against the equation of the beam in the tests.

    >>> print(finite_moment(1000.0, 400.0, 97.823))
    25646.03
    """
    u, e = _decay(line_load, span, characteristic_length)
    ratio = ((1 + e**2) / 2 - e * np.cos(u)) / ((1 - e**2) / 2 + e * np.sin(u))
    return float(line_load * characteristic_length / 4 * ratio)


@formula(
    name="deflection under the load, plate of finite length on a bed",
    symbol="w",
    form=(
        "{line_load}/(2·{bedding}·{characteristic_length})"
        "·((exp({u}) + exp(−{u}))/2 + cos({u}) + 2)/(sinh({u}) + sin({u}))"
    ),
    dimension="length",
    given=_ON_THE_BED,
    parts=_stretch,
    note="u = L/ℓ",
    source=_FINITE,
)
def finite_deflection(
    line_load: float, span: float, characteristic_length: float, bedding: float
) -> float:
    """Deflection w, mm, under a load in the middle of a plate of length L on a bed.

    q/(2kℓ) (cosh u + cos u + 2)/(sinh u + sin u) with u = L/ℓ: q/(kL) for a short plate. k times it
    is the peak pressure on the bed. ``bedding`` k in MPa for each mm; the rest, errors and source
    as in :func:`finite_moment`.

    >>> print(finite_deflection(1000.0, 400.0, 97.823, 100.0))
    0.055067
    """
    check.positive(bedding=bedding)
    u, e = _decay(line_load, span, characteristic_length)
    ratio = ((1 + e**2) / 2 + e * (np.cos(u) + 2)) / ((1 - e**2) / 2 + e * np.sin(u))
    return float(line_load / (2 * bedding * characteristic_length) * ratio)


def _bed(bed: str) -> float:
    """The factor of a bed on what a bonded one has at the load."""
    check.one_of("bed", bed, get_args(Bed))
    return 1.0 if bed == "bonded" else _LOOSE


def _check(line_load: float, characteristic_length: float) -> None:
    check.not_negative(line_load=line_load)
    check.positive(characteristic_length=characteristic_length)


def _decay(line_load: float, span: float, characteristic_length: float) -> tuple[float, float]:
    """L/ℓ = u and e⁻ᵘ, by which the parts that grow are divided: so no plate is too long."""
    _check(line_load, characteristic_length)
    check.positive(span=span)
    u = span / characteristic_length
    return u, float(np.exp(-u))
