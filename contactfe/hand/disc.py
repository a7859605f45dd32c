"""A solid round squeezed across its diameter: stresses by loads at a point, on an arc, by contact.

The plane-elastic field is the same in plane strain and plane stress. x runs across the load line
and y along it, from the centre; the loads push inward at y = ±D/2. Away from the contact patches
the field of two loads at points is that of the real contacts; at the centre a patch of half-width a
lowers the tension across by about (2a/D)², see :func:`contact_centre_across`.
"""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand import check
from contactfe.hand.check import Array, HeldBy, State
from contactfe.hand.formula import Given, at_most, formula
from contactfe.hand.stress import von_mises

WIDEST_CONTACT = 0.3
"""Half-width over radius up to which the contact-width correction keeps within 1 % of the sum of
loads at points that are spread as a Hertz pressure over the arc: 1 − (2a/D)², derived here."""

_TIMOSHENKO = (
    "S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., article on the circular"
    " disk: from memory, not seen"
)
_CENTRE = _TIMOSHENKO + "; beam shear: half of it, derived here"
_FROCHT = (
    "M. M. Frocht, Photoelasticity, vol. II, disk under concentrated loads: from memory, not seen"
)
_HONDROS = "G. Hondros, Aust. J. Appl. Sci. 10 (1959) 243–268: from memory, not seen"
_AWAJI = (
    "H. Awaji and S. Sato, J. Soc. Mater. Sci. Japan 27 (1978) 336–341: seen in the public abstract"
)
_SHARE = "c = 2 under diametral loads, 1 under beam shear"


def _share(held_by: HeldBy) -> int:
    return 2 if held_by == "diametral" else 1


def _share_part(**given: Any) -> dict[str, Given]:
    return {"share": Given("c", float(_share(given["held_by"])))}


def point_loads(
    x: ArrayLike, y: ArrayLike, line_load: float, diameter: float
) -> tuple[Array, Array, Array]:
    """Stresses σx, σy, τxy, MPa, in a disc under two diametral line loads at y = ±D/2.

    ``x`` across and ``y`` along the load line in mm from the centre, of any shapes that broadcast;
    each result has the broadcast shape. ``line_load`` q in N/mm, ``diameter`` D in mm. Tension
    positive. Raises ValueError for a negative load, a diameter that is not positive, points
    outside the disc, and at a load itself, where the stress is unbounded.

    Source: S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., article on the
    circular disk — from memory, not seen. Two fields of Flamant and an even tension of q/(πR).
    With r1² = x² + (R − y)², r2² = x² + (R + y)²:

        σx = q/(πR) − (2q/π)((R − y)x²/r1⁴ + (R + y)x²/r2⁴)
        σy = q/(πR) − (2q/π)((R − y)³/r1⁴ + (R + y)³/r2⁴)
        τxy = (2q/π)((R − y)²x/r1⁴ − (R + y)²x/r2⁴)

    >>> print(*point_loads(0.0, 0.0, np.pi, 2.0))
    1.0 -3.0 0.0
    """
    check.not_negative(line_load=line_load)
    check.positive(diameter=diameter)
    radius = diameter / 2
    x, y = np.broadcast_arrays(
        np.asarray(x, dtype=float) / radius, np.asarray(y, dtype=float) / radius
    )
    if not np.all(np.hypot(x, y) <= 1 + 1e-9):
        raise ValueError("x and y must not name points outside the disc")
    below, above = 1 - y, 1 + y
    near, far = (x**2 + below**2) ** 2, (x**2 + above**2) ** 2
    if np.any(np.minimum(near, far) < 1e-60):
        raise ValueError("x and y must not name a load point itself: its stress is unbounded")
    unit = line_load / (np.pi * radius)
    across = unit * (1 - 2 * x**2 * (below / near + above / far))
    along = unit * (1 - 2 * (below**3 / near + above**3 / far)) + 0.0  # no load gives 0, not −0
    return across, along, 2 * unit * x * (below**2 / near - above**2 / far)


@formula(
    name="stress at the centre across the load",
    symbol="σx",
    form="{share}·{line_load}/(π·{diameter})",
    dimension="stress",
    parts=_share_part,
    source=_CENTRE,
    note=_SHARE,
)
def centre_across(line_load: float, diameter: float, held_by: HeldBy) -> float:
    """Stress at the centre of a solid round across the load line, MPa; a tension.

    2q/(πD) under diametral loads, where it is the same all along the load line, and half of it
    under beam shear. ``line_load`` q in N/mm, ``diameter`` D in mm. Raises ValueError for a
    negative load, a diameter that is not positive or an unknown support.

    Source: diametral, S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., article on
    the circular disk — from memory, not seen. Beam shear derived here, see
    :func:`.thick_ring.disc_centre_stress`.

    >>> print(centre_across(1000.0, 100.0, "diametral"))
    6.3662
    """
    check.not_negative(line_load=line_load)
    check.positive(diameter=diameter)
    check.holding(held_by)
    return _share(held_by) * line_load / (np.pi * diameter)


@formula(
    name="stress at the centre along the load",
    symbol="σy",
    form="−3·{share}·{line_load}/(π·{diameter})",
    dimension="stress",
    parts=_share_part,
    source=_CENTRE,
    note=_SHARE,
)
def centre_along(line_load: float, diameter: float, held_by: HeldBy) -> float:
    """Stress at the centre of a solid round along the load line, MPa; a compression.

    −6q/(πD) under diametral loads, half of it under beam shear. Arguments, errors and source are
    those of :func:`centre_across`.

    >>> print(centre_along(1000.0, 100.0, "diametral"))
    -19.099
    """
    return 0.0 - 3 * centre_across.plain(line_load, diameter, held_by)  # no load gives 0, not −0


@formula(
    name="greatest shear stress at the centre",
    symbol="τ",
    form="2·{share}·{line_load}/(π·{diameter})",
    dimension="stress",
    parts=_share_part,
    source=_CENTRE,
    note=_SHARE,
)
def centre_shear(line_load: float, diameter: float, held_by: HeldBy) -> float:
    """Greatest shear stress at the centre of a solid round, MPa: half the difference of the two.

    4q/(πD) under diametral loads, half of it under beam shear. The third principal stress lies
    between the other two in either plane state, so this is the greatest of any plane. Arguments,
    errors and source are those of :func:`centre_across`.

    >>> print(centre_shear(1000.0, 100.0, "diametral"))
    12.732
    """
    return 2 * centre_across.plain(line_load, diameter, held_by)


@formula(
    name="von Mises stress at the centre",
    symbol="σvM",
    form="{share}·{line_load}/(π·{diameter})·√(12 + (1 − 2·{poisson})²)",
    dimension="stress",
    parts=lambda **given: {
        **_share_part(**given),
        "poisson": Given("ν", given["poisson"] if given["state"] == "plane strain" else 0.0),
    },
    source=_CENTRE + "; the measure by its definition",
    note=_SHARE + "; ν counts as 0 in plane stress",
)
def centre_von_mises(
    line_load: float, diameter: float, held_by: HeldBy, poisson: float, state: State
) -> float:
    """Von Mises stress at the centre of a solid round, MPa.

    √13 times the stress across in plane stress, 3.487 times at ν = 0.3 in plane strain. Arguments
    and errors are those of :func:`centre_across` and :func:`.stress.von_mises`.

    Source: :func:`centre_across`, :func:`centre_along`; definition of the measure.

    >>> print(centre_von_mises(1000.0, 100.0, "diametral", 0.3, "plane stress"))
    22.954
    """
    across = centre_across.plain(line_load, diameter, held_by)
    return float(von_mises(across, -3 * across, 0.0, poisson, state))


@formula(
    name="stress along the load on the diameter across it",
    symbol="σy",
    form="2·{line_load}/(π·{diameter})·(1 − 4·{diameter}⁴/({diameter}² + 4·{x}²)²)",
    dimension="stress",
    given={"x": ("x", "length")},
    source=_FROCHT,
    note="diametral loads; x from the centre",
)
def along_across_the_middle(x: ArrayLike, line_load: float, diameter: float) -> Array:
    """Stress along the load, MPa, at x on the diameter across it, under two diametral loads.

    ``x`` in mm from the centre, of any shape, which the result has; ``line_load`` q in N/mm,
    ``diameter`` D in mm. It is −6q/(πD) at the centre and 0 at the rim. Raises ValueError as
    :func:`point_loads` does.

    Source: M. M. Frocht, Photoelasticity, vol. II — from memory, not seen; :func:`point_loads` at
    y = 0.

    >>> print(along_across_the_middle([0.0, 25.0, 50.0], 1000.0, 100.0))
    [-19.099 -9.931 0. ]
    """
    return point_loads(x, 0.0, line_load, diameter)[1]


def arc_loads(
    y: ArrayLike, line_load: float, diameter: float, half_angle: float
) -> tuple[Array, Array]:
    """Stresses across and along the load line, MPa, on that line, loads spread over two arcs.

    An even pressure q/(αD) acts on each arc of the rim that spans ``half_angle`` α in radians to
    both sides of the load line; ``line_load`` q in N/mm is pressure times arc, of which
    q sin α/α acts along the line. ``y`` in mm from the centre, of any shape, which both results
    have; ``diameter`` D in mm. Tension positive. Raises ValueError for a negative load, a diameter
    that is not positive, an angle not in (0, π/2], or points outside the disc.

    Source: G. Hondros, Aust. J. Appl. Sci. 10 (1959) 243–268 — from memory, not seen; tested here
    against the sum of :func:`point_loads`. With u = 2y/D:

        A = (1 − u²) sin 2α/((1 − u²)² + 4u² sin²α),  B = arctan((1 + u²) tan α/(1 − u²))
        across 2q(A − B)/(παD),  along −2q(A + B)/(παD)

    >>> print(*arc_loads(0.0, np.pi, 2.0, np.radians(10.0)))
    0.95963 -2.95963
    """
    check.not_negative(line_load=line_load)
    check.positive(diameter=diameter)
    _half_angle(half_angle)
    u = 2 * np.asarray(y, dtype=float) / diameter
    if not np.all(np.abs(u) <= 1):
        raise ValueError(f"y = {y!r} is not allowed: the disc reaches to {diameter / 2!r}")
    # The usual 1 − 2u² cos 2α + u⁴ of books is the same, but cancels at the rim for a small arc.
    size = np.hypot(1 - u**2, 2 * u * np.sin(half_angle))
    a = (1 - u**2) / size * (np.sin(2 * half_angle) / size)
    b = np.arctan2((1 + u**2) * np.tan(half_angle), 1 - u**2)
    unit = 2 * line_load / (np.pi * half_angle * diameter)
    return unit * (a - b), 0.0 - unit * (a + b)  # no load gives 0, not −0


@formula(
    name="stress at the centre across the load, spread over an arc",
    symbol="σx",
    form="2·{line_load}/(π·{diameter})·(sin(2·{half_angle}) − {half_angle})/{half_angle}",
    dimension="stress",
    given={"half_angle": ("α", "angle")},
    source=_HONDROS,
    note="diametral loads, each an even pressure over the arc 2α; q is pressure times arc",
)
def arc_centre_across(line_load: float, diameter: float, half_angle: float) -> float:
    """Stress at the centre across the load line, MPa, loads spread over two arcs.

    Arguments, errors and source are those of :func:`arc_loads`, at y = 0.

    >>> print(arc_centre_across(1000.0, 100.0, np.radians(10.0)))
    6.1092
    """
    return float(arc_loads(0.0, line_load, diameter, half_angle)[0])


@formula(
    name="stress at the centre along the load, spread over an arc",
    symbol="σy",
    form="−2·{line_load}/(π·{diameter})·(sin(2·{half_angle}) + {half_angle})/{half_angle}",
    dimension="stress",
    given={"half_angle": ("α", "angle")},
    source=_HONDROS,
    note="diametral loads, each an even pressure over the arc 2α; q is pressure times arc",
)
def arc_centre_along(line_load: float, diameter: float, half_angle: float) -> float:
    """Stress at the centre along the load line, MPa, loads spread over two arcs.

    Arguments, errors and source are those of :func:`arc_loads`, at y = 0.

    >>> print(arc_centre_along(1000.0, 100.0, np.radians(10.0)))
    -18.842
    """
    return float(arc_loads(0.0, line_load, diameter, half_angle)[1])


@formula(
    name="stress at the centre across the load, contacts of some width",
    symbol="σx",
    form="(1 − 1.15·(2·{half_width}/{diameter})² + 0.22·(2·{half_width}/{diameter})³)"
    "·2·{line_load}/(π·{diameter})",
    dimension="stress",
    limits=lambda _, **given: [
        at_most("2a/D", 2 * given["half_width"] / given["diameter"], WIDEST_CONTACT)
    ],
    source=_AWAJI,
    note="diametral loads; a is the half-width of each contact",
)
def contact_centre_across(line_load: float, diameter: float, half_width: float) -> float:
    """Stress at the centre across the load line, MPa, between two contacts of half-width a.

    (1 − 1.15 b² + 0.22 b³) 2q/(πD) with b = 2a/D. ``line_load`` q in N/mm, ``diameter`` D and
    ``half_width`` a in mm. Raises ValueError for a negative load or half-width, a diameter that is
    not positive or a half-width beyond D/2.

    Source: H. Awaji and S. Sato, J. Soc. Mater. Sci. Japan 27 (1978) 336–341 — formula seen in
    the public abstract, the article not seen. Within 1 % for b up to 0.3, see
    :data:`WIDEST_CONTACT`.

    >>> print(contact_centre_across(1000.0, 100.0, 5.0))
    6.2944
    """
    check.not_negative(line_load=line_load, half_width=half_width)
    check.positive(diameter=diameter)
    b = 2 * half_width / diameter
    if b > 1:
        raise ValueError(
            f"half_width = {half_width!r} is not allowed: it must not exceed {diameter / 2!r}"
        )
    return (1 - 1.15 * b**2 + 0.22 * b**3) * 2 * line_load / (np.pi * diameter)


def _half_angle(half_angle: float) -> None:
    if not 0 < half_angle <= np.pi / 2:
        raise ValueError(f"half_angle = {half_angle!r} is not allowed: it must lie in (0, π/2]")
