"""Hand formulas of line contact, at rest, sliding and repeated, beside textbooks and handbooks.

The tolerance is that of the print: half a unit of its last digit, or what the book rounds on the
way. Where a source prints no value its formula was evaluated apart from this package.
"""

from functools import partial

import numpy as np
from scipy.optimize import bisect

from contactfe.hand import approach, hertz, partial_slip, shakedown, sliding, stress
from contactfe.hand.check import Array
from contactfe.hand.search import greatest
from contactfe.verify.row import Row

_NORTON = "R. L. Norton, Machine Design, 4th ed., example 7-2: seen in a public extract"
_BORESI = (
    "A. P. Boresi and R. J. Schmidt, Advanced Mechanics of Materials, 6th ed., ch. 17, steel"
    " rollers: seen in a public extract"
)
_HANDBOOK = "Mechanical Engineer's Data Handbook, contact stress, p. 52: seen in a public extract"
_ROARK = (
    "W. C. Young and R. G. Budynas, Roark's Formulas for Stress and Strain, 7th ed., Table 14.1"
    " case 2: from memory, not seen"
)
_JOHNSON = "K. L. Johnson, Contact Mechanics, 1985, {}: from memory, not seen"
_MCEWEN = "E. McEwen, Phil. Mag. 40 (1949): from memory, not seen"
_SMITH_LIU = "J. O. Smith and C. K. Liu, J. Appl. Mech. 20 (1953): from memory, not seen"
_SLIP = (
    "C. Cattaneo, Rend. Acc. Lincei 27 (1938); R. D. Mindlin, J. Appl. Mech. 16 (1949);"
    " K. L. Johnson, Contact Mechanics, 1985, section 7.2: from memory, not seen"
)
_PALMGREN = "A. Palmgren, Ball and Roller Bearing Engineering, 1959: from memory, not seen"
_COMPUTED = "; value computed here"
_LAST = "last printed digit"
_DIGIT = "last digit of the value"
_GRID = "found on a grid of 0.002 a"

_hand = partial(Row, kind="hand formula")
_field = partial(Row, kind="exact field")
_E_STAR = 200e3 / 1.82
"""Contact modulus of steel on steel, 200 GPa and ν = 0.3, plane strain, MPa."""
_K = 3.0**-0.5
"""Shear strength after von Mises of a yield strength of 1."""


# --- worked examples ------------------------------------------------------------------------------

_WHEEL = "crane wheel of 12 in on a rail, 5000 lbf on 0.875 in, 30e6 psi, ν = 0.28"
_WHEEL_LOAD = 5000.0 / 0.875
_WHEEL_MODULUS = 30e6 / (2.0 * (1.0 - 0.28**2))


def _wheel_half_width() -> float:
    return float(hertz.half_width(_WHEEL_LOAD, 6.0, _WHEEL_MODULUS))


def _wheel_pressure() -> float:
    return float(hertz.peak_pressure(_WHEEL_LOAD, 6.0, _WHEEL_MODULUS))


def _wheel_along_axle() -> float:
    across, into, _ = hertz.stress_field(0.0, 0.0, _wheel_half_width(), _wheel_pressure())
    return float(stress.out_of_plane(across, into, 0.28, "plane strain"))


def _wheel_shear() -> tuple[float, float]:
    """Peak shear, psi, and its depth, in."""
    shear, depth = hertz.peak_max_shear(_wheel_pressure(), 0.28, "plane strain")
    return shear, depth * _wheel_half_width()


_CRANE_WHEEL = (
    _hand(
        key="hertz-crane-wheel-half-width",
        case=f"Half-width, {_WHEEL}",
        source=_NORTON,
        published=0.0518,
        tool=_wheel_half_width,
        allowed=5e-5,
        absolute=True,
        why=_LAST,
        unit="in",
    ),
    _hand(
        key="hertz-crane-wheel-area",
        case=f"Area of the contact, {_WHEEL}",
        source=_NORTON,
        published=0.091,
        tool=lambda: 2.0 * _wheel_half_width() * 0.875,
        allowed=5e-4,
        absolute=True,
        why=_LAST,
        unit="in²",
    ),
    _hand(
        key="hertz-crane-wheel-mean-pressure",
        case=f"Mean pressure, {_WHEEL}",
        source=_NORTON,
        published=55169.0,
        tool=lambda: _WHEEL_LOAD / (2.0 * _wheel_half_width()),
        allowed=1.0,
        absolute=True,
        why=_LAST,
        unit="psi",
    ),
    _hand(
        key="hertz-crane-wheel-peak-pressure",
        case=f"Peak pressure, {_WHEEL}",
        source=_NORTON,
        published=70243.0,
        tool=_wheel_pressure,
        allowed=1.0,
        absolute=True,
        why=_LAST,
        unit="psi",
    ),
    _hand(
        key="hertz-crane-wheel-along-axle",
        case=f"Stress along the axle at the surface, {_WHEEL}",
        source=_NORTON,
        published=-39336.0,
        tool=_wheel_along_axle,
        allowed=1.0,
        absolute=True,
        why=_LAST,
        unit="psi",
    ),
    _hand(
        key="hertz-crane-wheel-shear",
        case=f"Peak shear stress, {_WHEEL}",
        source=_NORTON,
        published=21354.0,
        tool=lambda: _wheel_shear()[0],
        allowed=1.3e-2,
        why="the book rounds 0.3003 up to 0.304",
        unit="psi",
    ),
    _hand(
        key="hertz-crane-wheel-shear-depth",
        case=f"Depth of that shear stress, {_WHEEL}",
        source=_NORTON,
        published=0.041,
        tool=lambda: _wheel_shear()[1],
        allowed=5e-4,
        absolute=True,
        why=_LAST,
        unit="in",
    ),
)

_ROLLERS = "two steel rollers of 40 mm radius, 24.1 kN on 20 mm, 200 GPa, ν = 0.29"
_ROLLERS_RUB = 1.0 / 9.0


def _rollers_pressure() -> float:
    E_star = hertz.contact_modulus(200e3, 0.29, 200e3, 0.29, "plane strain")
    return float(hertz.peak_pressure(24.1e3 / 20.0, hertz.relative_radius(40.0, 40.0), E_star))


def _rollers_compression() -> float:
    """Greatest compressive principal stress in the plane while they rub, MPa."""

    def pressed(x: Array, z: Array) -> Array:
        sx, sz, txz = sliding.stress_field(x, z, 1.0, 1.0, _ROLLERS_RUB)
        size: Array = np.hypot((sx - sz) / 2.0, txz) - (sx + sz) / 2.0
        return size

    return -greatest(pressed, (0.0, 1.2), (0.0, 1.2))[0] * _rollers_pressure()


def _rollers_shear() -> float:
    """Greatest shear stress of any plane while they rub, MPa."""

    def shear(x: Array, z: Array) -> Array:
        field = sliding.stress_field(x, z, 1.0, 1.0, _ROLLERS_RUB)
        return stress.max_shear(*field, 0.29, "plane strain")

    return greatest(shear, (0.0, 1.2), (0.0, 1.2))[0] * _rollers_pressure()


_STEEL_ROLLERS = (
    _hand(
        key="hertz-rollers-pressure",
        case=f"Greatest compression, {_ROLLERS}",
        source=_BORESI,
        published=1445.0,
        tool=_rollers_pressure,
        allowed=2e-3,
        why="the book rounds the half-width first",
        unit="MPa",
    ),
    _hand(
        key="hertz-rollers-shear",
        case=f"Peak shear stress, {_ROLLERS}",
        source=_BORESI,
        published=433.0,
        tool=lambda: hertz.peak_max_shear(_rollers_pressure(), 0.29, "plane strain")[0],
        allowed=4e-3,
        why="the book rounds the half-width first",
        unit="MPa",
    ),
    _hand(
        key="sliding-rollers-tension",
        case=f"Greatest tension, friction 1/9, {_ROLLERS}",
        source=_BORESI,
        published=321.6,
        tool=lambda: float(sliding.edge_stress(_rollers_pressure(), _ROLLERS_RUB)),
        allowed=0.05,
        absolute=True,
        why=_LAST,
        unit="MPa",
    ),
    _hand(
        key="sliding-rollers-compression",
        case=f"Greatest compression, friction 1/9, {_ROLLERS}",
        source=_BORESI,
        published=-1635.2,
        tool=_rollers_compression,
        allowed=1.2e-2,
        why="the book rounds 1.117 up to 1.13",
        unit="MPa",
    ),
    _hand(
        key="sliding-rollers-shear",
        case=f"Peak shear stress, friction 1/9, {_ROLLERS}",
        source=_BORESI,
        published=448.6,
        tool=_rollers_shear,
        allowed=1.5e-2,
        why="the book rounds 0.306 up to 0.31",
        unit="MPa",
    ),
)


# --- Hertz ----------------------------------------------------------------------------------------

_BAR = "bar of 100 mm on a flat, 200 GPa, ν = 0.3"


def _von_mises_yield() -> tuple[float, float]:
    """Peak von Mises stress over p0 and its depth over a, ν = 0.3."""
    return hertz.peak_von_mises(1.0, 0.3, "plane strain")


def _shear_peak() -> tuple[float, float]:
    return hertz.peak_max_shear(1.0, 0.3, "plane strain")


def _orthogonal(place: int) -> float:
    return shakedown.orthogonal_shear(0.0)[place]


_HERTZ = (
    _hand(
        key="hertz-bar-width",
        case=f"Full width of the contact at 1000 N/mm, {_BAR}",
        source=_HANDBOOK + "; its formula √(32F(1 − ν²)r/(πLE)) evaluated here",
        published=float(np.sqrt(32.0 * 1000.0 * 0.91 * 50.0 / (np.pi * 200e3))),
        tool=lambda: 2.0 * float(hertz.half_width(1000.0, 50.0, _E_STAR)),
        allowed=1e-12,
        why="rounding",
        unit="mm",
    ),
    _hand(
        key="hertz-roark-pressure",
        case="Peak pressure over √(q E/D), steel on steel, ν = 0.3",
        source=_ROARK,
        published=0.591,
        tool=lambda: float(hertz.peak_pressure.plain(1.0, 0.5, 1.0 / 1.82)),
        allowed=5e-4,
        absolute=True,
        why="rounded coefficient",
    ),
    _hand(
        key="hertz-roark-width",
        case="Full width over √(q D/E), steel on steel, ν = 0.3",
        source=_ROARK,
        published=2.15,
        tool=lambda: 2.0 * float(hertz.half_width.plain(1.0, 0.5, 1.0 / 1.82)),
        allowed=5e-3,
        absolute=True,
        why="rounded coefficient",
    ),
    _hand(
        key="hertz-first-yield-von-mises",
        case="p0 over yield strength at first yield after von Mises, ν = 0.3",
        source=_JOHNSON.format("section 6.1, eq. 6.4"),
        published=1.79,
        tool=lambda: 1.0 / _von_mises_yield()[0],
        allowed=5e-3,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="hertz-first-yield-shear-strength",
        case="p0 over shear strength at first yield after von Mises, ν = 0.3",
        source=_JOHNSON.format("section 6.1, eq. 6.4"),
        published=3.1,
        tool=lambda: 1.0 / (_K * _von_mises_yield()[0]),
        allowed=0.05,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="hertz-first-yield-depth",
        case="Depth of first yield after von Mises over half-width, ν = 0.3",
        source=_JOHNSON.format("section 6.1"),
        published=0.70,
        tool=lambda: _von_mises_yield()[1],
        allowed=5e-3,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="hertz-first-yield-tresca",
        case="p0 over yield strength at first yield after Tresca",
        source=_JOHNSON.format("section 6.1, eq. 6.5"),
        published=1.67,
        tool=lambda: 1.0 / (2.0 * _shear_peak()[0]),
        allowed=5e-3,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="hertz-first-yield-load",
        case=f"Line load at first yield of 345 MPa, {_BAR}",
        source=_JOHNSON.format("section 6.1, eq. 6.6") + _COMPUTED,
        published=547.4,
        tool=lambda: float(hertz.first_yield_line_load(345.0, 50.0, _E_STAR, 0.3, "plane strain")),
        allowed=0.05,
        absolute=True,
        why=_DIGIT,
        unit="N/mm",
    ),
    _hand(
        key="hertz-shear",
        case="Peak shear stress in the plane over p0",
        source=_JOHNSON.format("section 4.2"),
        published=0.300,
        tool=lambda: _shear_peak()[0],
        allowed=5e-4,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="hertz-shear-depth",
        case="Depth of that shear stress over half-width",
        source=_JOHNSON.format("section 4.2"),
        published=0.786,
        tool=lambda: _shear_peak()[1],
        allowed=5e-4,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="hertz-orthogonal-shear",
        case="Greatest shear along the surface over p0",
        source=_JOHNSON.format("section 9.2"),
        published=0.25,
        tool=lambda: _orthogonal(0),
        allowed=5e-4,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="hertz-orthogonal-shear-place",
        case="Distance of that shear from the load line over half-width",
        source=_JOHNSON.format("section 9.2"),
        published=0.87,
        tool=lambda: _orthogonal(1),
        allowed=5e-3,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="hertz-orthogonal-shear-depth",
        case="Depth of that shear over half-width",
        source=_JOHNSON.format("section 9.2"),
        published=0.50,
        tool=lambda: _orthogonal(2),
        allowed=5e-3,
        absolute=True,
        why=_LAST,
    ),
)


# --- fields ---------------------------------------------------------------------------------------


def _axis(s: float, part: str) -> float:
    """A stress at the depth s·a over p0, ν = 0.3."""
    across, along = hertz.axis_stress(s, 1.0, 1.0)
    return float(
        {
            "across": across,
            "along": along,
            "post": stress.out_of_plane(across, along, 0.3, "plane strain"),
            "strain": stress.von_mises(across, along, 0.0, 0.3, "plane strain"),
            "stress": stress.von_mises(across, along, 0.0, 0.3, "plane stress"),
        }[part]
    )


_COMPONENTS = (("sx", "σx along the surface"), ("sz", "σz into the body"), ("txz", "τxz"))
_HERTZ_POINT = (-0.238740, -0.100044, -0.141963)
_DRAG_POINT = (0.872060, 0.161413, -0.455011)


def _pressed(component: int) -> float:
    return float(hertz.stress_field(1.4, 0.6, 1.0, 1.0)[component])


def _dragged(component: int) -> float:
    return float(sliding.drag_stress(-0.7, 0.2, 1.0, 1.0)[component])


_AXIS = (
    ("across", "Stress across the load line", -0.1213, "eqs 4.46"),
    ("along", "Stress along the load line", -0.7071, "eqs 4.46"),
    ("post", "Stress along the post", -0.2485, "eqs 4.46, ν = 0.3"),
    ("strain", "Von Mises stress in plane strain", 0.5337, "eqs 4.46, ν = 0.3"),
    ("stress", "Von Mises stress in plane stress", 0.6549, "eqs 4.46"),
)

_FIELDS = (
    *(
        _field(
            key=f"hertz-axis-{part}",
            case=f"{what} over p0, one half-width below a Hertz pressure",
            source=_JOHNSON.format(equations) + _COMPUTED,
            published=value,
            tool=partial(_axis, 1.0, part),
            allowed=5e-5,
            absolute=True,
            why=_DIGIT,
        )
        for part, what, value, equations in _AXIS
    ),
    *(
        _field(
            key=f"hertz-field-{key}",
            case=f"{component} over p0 under a Hertz pressure at x = 1.4 a, z = 0.6 a",
            source=_MCEWEN + _COMPUTED,
            published=value,
            tool=partial(_pressed, i),
            allowed=5.1e-7,
            absolute=True,
            why=_DIGIT,
        )
        for i, ((key, component), value) in enumerate(zip(_COMPONENTS, _HERTZ_POINT, strict=True))
    ),
    *(
        _field(
            key=f"sliding-field-{key}",
            case=f"{component} over µ p0 under the drag alone at x = −0.7 a, z = 0.2 a",
            source=_SMITH_LIU + _COMPUTED,
            published=value,
            tool=partial(_dragged, i),
            allowed=5.1e-7,
            absolute=True,
            why=_DIGIT,
        )
        for i, ((key, component), value) in enumerate(zip(_COMPONENTS, _DRAG_POINT, strict=True))
    ),
)


# --- sliding and partial slip ---------------------------------------------------------------------

_SLIDING_PEAKS = ((0.1, 0.5654), (0.2, 0.5900), (0.25, 0.6093), (1.0 / 3.0, 0.7149), (0.5, 0.9747))
"""Friction, and peak von Mises stress over p0, ν = 0.3."""


def _sliding_peak(friction: float, result: int) -> float:
    return sliding.peak_von_mises(1.0, friction, 0.3, "plane strain")[result]


_SLIDING = (
    _hand(
        key="sliding-edge-tension",
        case="Tension behind the contact over p0, friction 1/3",
        source=_JOHNSON.format("section 7.1"),
        published=2.0 / 3.0,
        tool=lambda: float(sliding.edge_stress(1.0, 1.0 / 3.0)),
        allowed=1e-12,
        why="rounding",
    ),
    *(
        _hand(
            key=f"sliding-{friction:.3g}-von-mises",
            case=f"Peak von Mises stress over p0, sliding, friction {friction:.3g}, ν = 0.3",
            source=_SMITH_LIU + "; peak computed here",
            published=value,
            tool=partial(_sliding_peak, friction, 0),
            allowed=1e-4,
            absolute=True,
            why=_GRID,
        )
        for friction, value in _SLIDING_PEAKS
    ),
    *(
        _hand(
            key=f"sliding-0.2-{name}",
            case=f"{what} over half-width, friction 0.2, ν = 0.3",
            source=_SMITH_LIU + "; peak computed here",
            published=place,
            tool=partial(_sliding_peak, 0.2, result),
            allowed=0.01,
            absolute=True,
            why=f"{_GRID}; flat maximum",
        )
        for result, name, what, place in (
            (1, "ahead", "That peak ahead of the middle", 0.55),
            (2, "depth", "Depth of that peak", 0.57),
        )
    ),
    _hand(
        key="sliding-first-yield",
        case="p0 over yield strength at first yield, sliding, friction 0.3, ν = 0.3",
        source=_SMITH_LIU + "; peak computed here",
        published=1.500,
        tool=lambda: float(sliding.first_yield_peak_pressure(1.0, 0.3, 0.3, "plane strain")),
        allowed=6e-4,
        absolute=True,
        why=_GRID,
    ),
)


def _traction(at_stick: bool) -> float:
    """Over µ p0, in the middle or at the border of the part that sticks, pushed by µq/2."""
    x = partial_slip.stick_half_width(1.0, 0.5) if at_stick else 0.0
    return float(partial_slip.traction(x, 1.0, 1.0 / 0.3, 0.3, 0.5))


_SLIPS = tuple(
    _hand(
        key=f"partial-slip-{name}",
        case=f"{what}, a contact pushed by {mobilised:g} µq",
        source=_SLIP + _COMPUTED,
        published=value,
        tool=tool,
        allowed=5.1e-5,
        absolute=True,
        why=_DIGIT,
    )
    for name, what, mobilised, value, tool in (
        (
            "stick",
            "Half-width that sticks over that of contact",
            0.25,
            0.8660,
            lambda: partial_slip.stick_half_width(1.0, 0.25),
        ),
        ("middle", "Traction in the middle over µ p0", 0.5, 0.2929, lambda: _traction(False)),
        ("border", "Traction where sticking ends over µ p0", 0.5, 0.7071, lambda: _traction(True)),
        (
            "edge",
            "Tension behind over µ p0",
            0.75,
            1.7321,
            lambda: partial_slip.edge_stress(1.0 / 0.3, 0.3, 0.75),
        ),
    )
)


# --- shakedown ------------------------------------------------------------------------------------

_SHAKEDOWN_VALUES = (
    (0.1, 0.3, 3.56),
    (0.2, 0.3, 3.20),
    (0.3, 0.3, 2.90),
    (0.35, 0.5, 2.77),
)
"""Friction, ν, p0 over shear strength, where a place below the surface governs."""
_MELAN = (
    "Melan's theorem, residual stresses free at each depth, derived here; value found here by"
    " another search"
)


def _shakes_down(friction: float, poisson: float) -> float:
    """p0 over shear strength at the limit."""
    return float(shakedown.limit_peak_pressure(1.0, friction, poisson)) / _K


def _surface_takes_over() -> float:
    def side(friction: float) -> float:
        return 1.0 if shakedown.orthogonal_shear(friction)[2] == 0.0 else -1.0

    return float(bisect(side, 0.3, 0.4, xtol=1e-4))


_SHAKEDOWN = (
    _hand(
        key="shakedown-rolling",
        case="p0 over shear strength at the shakedown limit without friction",
        source=_JOHNSON.format("section 9.2"),
        published=4.00,
        tool=lambda: _shakes_down(0.0, 0.3),
        allowed=5e-3,
        absolute=True,
        why=_LAST,
    ),
    _hand(
        key="shakedown-surface-takes-over",
        case="Friction from which the traction is the greatest shear along the surface",
        source=_JOHNSON.format("section 9.2"),
        published=0.367,
        tool=_surface_takes_over,
        allowed=5e-4,
        absolute=True,
        why=_LAST,
    ),
    *(
        _hand(
            key=f"shakedown-{friction:g}",
            case=f"p0 over shear strength at the shakedown limit, friction {friction:g},"
            f" ν = {poisson:g}",
            source=_JOHNSON.format("section 9.2") + "; field of McEwen and Smith and Liu searched"
            " here on a grid",
            published=value,
            tool=partial(_shakes_down, friction, poisson),
            allowed=5.1e-3,
            absolute=True,
            why=_DIGIT,
        )
        for friction, poisson, value in _SHAKEDOWN_VALUES
    ),
    _hand(
        key="shakedown-surface-incompressible",
        case="p0 over shear strength at the shakedown limit, friction 0.5, ν = 0.5: 1/µ",
        source=_JOHNSON.format("section 9.2"),
        published=2.0,
        tool=lambda: _shakes_down(0.5, 0.5),
        allowed=1e-9,
        why="rounding",
    ),
    *(
        _hand(
            key=f"shakedown-surface-{friction:g}-{poisson:g}",
            case=f"p0 over shear strength at the shakedown limit after von Mises, friction"
            f" {friction:g}, ν = {poisson:g}",
            source=_MELAN,
            published=value,
            tool=partial(_shakes_down, friction, poisson),
            allowed=3e-4,
            why="places along the surface",
        )
        for friction, poisson, value in (
            (0.367, 0.3, 2.5054),
            (0.5, 0.3, 1.8819),
            (0.367, 0.2, 2.2872),
        )
    ),
    _hand(
        key="shakedown-bar-load",
        case=f"Line load at the shakedown limit of 345 MPa without friction, {_BAR}",
        source=_JOHNSON.format("section 9.2 and eq. 6.6") + _COMPUTED,
        published=907.4,
        tool=lambda: float(shakedown.limit_line_load(345.0, 50.0, _E_STAR, 0.0, 0.3)),
        allowed=0.05,
        absolute=True,
        why=_DIGIT,
        unit="N/mm",
    ),
)


# --- approach -------------------------------------------------------------------------------------

_STRAIN = "value computed here as the integral of strain between contact and datum"
_SECTION = _JOHNSON.format("section 5.6")
_STEEL = (200e3, 0.3)


def _half_width(radius: float) -> float:
    """Half-width, mm, of a contact of this relative radius, steel at 1000 N/mm."""
    return float(hertz.half_width(1000.0, radius, _E_STAR))


def _bar(depth: float) -> tuple[float, float, float]:
    return 50.0, depth, _half_width(50.0)


_APPROACH = (
    _hand(
        key="approach-cylinder",
        case=f"Approach of the centre to the contact at 1000 N/mm, {_BAR}",
        source=f"{_SECTION}; {_STRAIN}",
        published=0.0146897,
        tool=lambda: float(
            approach.cylinder(1000.0, 50.0, _half_width(50.0), *_STEEL, "plane strain")
        ),
        allowed=1e-4,
        why="terms in (a/R)²",
        unit="mm",
    ),
    _hand(
        key="approach-plate",
        case=f"Approach of the flat 50 mm below the contact to it at 1000 N/mm, {_BAR}",
        source=f"{_SECTION}; {_STRAIN}",
        published=0.013509,
        tool=lambda: float(
            approach.plate(1000.0, 50.0, _half_width(50.0), *_STEEL, "plane strain")
        ),
        allowed=1e-4,
        why="terms in (a/d)², last digit",
        unit="mm",
    ),
    _hand(
        key="approach-between-flats",
        case=f"Shortening of the diameter between two flats at 1000 N/mm, {_BAR}",
        source=_SECTION + _COMPUTED,
        published=0.029379,
        tool=lambda: float(
            approach.between_flats(1000.0, 50.0, _half_width(50.0), *_STEEL, "plane strain")
        ),
        allowed=5.1e-7,
        absolute=True,
        why=_DIGIT,
        unit="mm",
    ),
    _hand(
        key="approach-two-cylinders",
        case="Approach of the centres of two bars of 100 mm at 1000 N/mm, 200 GPa, ν = 0.3",
        source=_SECTION + _COMPUTED,
        published=0.031387,
        tool=lambda: float(
            approach.two_cylinders(
                1000.0, 50.0, 50.0, _half_width(25.0), *_STEEL, *_STEEL, "plane strain"
            )
        ),
        allowed=5.1e-7,
        absolute=True,
        why=_DIGIT,
        unit="mm",
    ),
    _hand(
        key="approach-tangent-stiffness",
        case=f"Tangent stiffness, centre to 50 mm below the contact, at 1000 N/mm, {_BAR}",
        source=_SECTION + _COMPUTED,
        published=39522.0,
        tool=lambda: float(
            approach.tangent_stiffness(*_bar(50.0), *_STEEL, *_STEEL, "plane strain")
        ),
        allowed=0.5,
        absolute=True,
        why=_DIGIT,
        unit="N/mm/mm",
    ),
    _hand(
        key="approach-secant-stiffness",
        case=f"Secant stiffness, centre to 50 mm below the contact, at 1000 N/mm, {_BAR}",
        source=_SECTION + _COMPUTED,
        published=35462.0,
        tool=lambda: float(
            approach.secant_stiffness(*_bar(50.0), *_STEEL, *_STEEL, "plane strain")
        ),
        allowed=0.5,
        absolute=True,
        why=_DIGIT,
        unit="N/mm/mm",
    ),
    _hand(
        key="approach-roark-between-flats",
        case=f"Shortening between two flats by the handbook, at 1000 N/mm, {_BAR}",
        source=_ROARK + _COMPUTED,
        published=0.030191,
        tool=lambda: float(
            approach.handbook_between_flats(1000.0, 50.0, _half_width(50.0), *_STEEL)
        ),
        allowed=5.1e-7,
        absolute=True,
        why=_DIGIT,
        unit="mm",
    ),
    _hand(
        key="approach-roark-two-cylinders",
        case="Approach of two bars of 100 mm by the handbook, at 1000 N/mm, 200 GPa, ν = 0.3",
        source=_ROARK + _COMPUTED,
        published=0.032199,
        tool=lambda: float(
            approach.handbook_two_cylinders(1000.0, 50.0, 50.0, _half_width(25.0), *_STEEL)
        ),
        allowed=5.1e-7,
        absolute=True,
        why=_DIGIT,
        unit="mm",
    ),
    _hand(
        key="approach-roller",
        case="Approach of a steel roller and its raceway, 100 kN on 100 mm",
        source=_PALMGREN + _COMPUTED,
        published=0.03050,
        tool=lambda: float(approach.palmgren_roller(100e3, 100.0)),
        allowed=5e-6,
        absolute=True,
        why=_DIGIT,
        unit="mm",
    ),
)


ROWS: tuple[Row, ...] = (
    *_CRANE_WHEEL,
    *_STEEL_ROLLERS,
    *_HERTZ,
    *_FIELDS,
    *_SLIDING,
    *_SLIPS,
    *_SHAKEDOWN,
    *_APPROACH,
)
