"""Line contact at rest: Hertz's pressure, its peaks below the surface and its field.

Beside handbooks and Johnson's text. The tolerance is that of the print. Where a source prints no
value its formula was evaluated apart from this package.
"""

from functools import partial

import numpy as np

from contactfe.hand import hertz, stress
from contactfe.verify.row import Row, field_row, hand_row
from contactfe.verify.sources import (
    JOHNSON,
    LAST_PRINTED,
    ROARK_CONTACT,
    VALUE_COMPUTED,
    VALUE_DIGIT,
)

_HANDBOOK = "Mechanical Engineer's Data Handbook, contact stress, p. 52: seen in a public extract"
_MCEWEN = "E. McEwen, Phil. Mag. 40 (1949): from memory, not seen"

E_STAR = 200e3 / 1.82
"""Contact modulus of steel on steel, 200 GPa and ν = 0.3, plane strain, MPa."""
SHEAR_STRENGTH = 3.0**-0.5
"""Shear strength after von Mises of a yield strength of 1."""
BAR = "bar of 100 mm on a flat, 200 GPa, ν = 0.3"


def flat_pressure(line_load: float, diameter: float, young: float) -> float:
    """Hertz pressure, MPa, of a round on a flat of the same steel, in plane strain."""
    return float(hertz.peak_pressure.plain(line_load, diameter / 2, young / 1.82))


def _von_mises_yield() -> tuple[float, float]:
    """Peak von Mises stress over p0 and its depth over a, ν = 0.3."""
    return hertz.peak_von_mises(1.0, 0.3, "plane strain")


def _shear_peak() -> tuple[float, float]:
    return hertz.peak_max_shear(1.0, 0.3, "plane strain")


_HERTZ = (
    hand_row(
        key="hertz-bar-width",
        case=f"Full width of the contact at 1000 N/mm, {BAR}",
        source=_HANDBOOK + "; its formula √(32F(1 − ν²)r/(πLE)) evaluated here",
        published=float(np.sqrt(32.0 * 1000.0 * 0.91 * 50.0 / (np.pi * 200e3))),
        tool=lambda: 2.0 * float(hertz.half_width(1000.0, 50.0, E_STAR)),
        allowed=1e-12,
        why="rounding",
        unit="mm",
    ),
    hand_row(
        key="hertz-roark-pressure",
        case="Peak pressure over √(q E/D), steel on steel, ν = 0.3",
        source=ROARK_CONTACT,
        published=0.591,
        tool=lambda: float(hertz.peak_pressure.plain(1.0, 0.5, 1.0 / 1.82)),
        allowed=5e-4,
        absolute=True,
        why="rounded coefficient",
    ),
    hand_row(
        key="hertz-roark-width",
        case="Full width over √(q D/E), steel on steel, ν = 0.3",
        source=ROARK_CONTACT,
        published=2.15,
        tool=lambda: 2.0 * float(hertz.half_width.plain(1.0, 0.5, 1.0 / 1.82)),
        allowed=5e-3,
        absolute=True,
        why="rounded coefficient",
    ),
    hand_row(
        key="hertz-first-yield-von-mises",
        case="p0 over yield strength at first yield after von Mises, ν = 0.3",
        source=JOHNSON.format("section 6.1, eq. 6.4"),
        published=1.79,
        tool=lambda: 1.0 / _von_mises_yield()[0],
        allowed=5e-3,
        absolute=True,
        why=LAST_PRINTED,
    ),
    hand_row(
        key="hertz-first-yield-shear-strength",
        case="p0 over shear strength at first yield after von Mises, ν = 0.3",
        source=JOHNSON.format("section 6.1, eq. 6.4"),
        published=3.1,
        tool=lambda: 1.0 / (SHEAR_STRENGTH * _von_mises_yield()[0]),
        allowed=0.05,
        absolute=True,
        why=LAST_PRINTED,
    ),
    hand_row(
        key="hertz-first-yield-depth",
        case="Depth of first yield after von Mises over half-width, ν = 0.3",
        source=JOHNSON.format("section 6.1"),
        published=0.70,
        tool=lambda: _von_mises_yield()[1],
        allowed=5e-3,
        absolute=True,
        why=LAST_PRINTED,
    ),
    hand_row(
        key="hertz-first-yield-tresca",
        case="p0 over yield strength at first yield after Tresca",
        source=JOHNSON.format("section 6.1, eq. 6.5"),
        published=1.67,
        tool=lambda: 1.0 / (2.0 * _shear_peak()[0]),
        allowed=5e-3,
        absolute=True,
        why=LAST_PRINTED,
    ),
    hand_row(
        key="hertz-first-yield-load",
        case=f"Line load at first yield of 345 MPa, {BAR}",
        source=JOHNSON.format("section 6.1, eq. 6.6") + VALUE_COMPUTED,
        published=547.4,
        tool=lambda: float(hertz.first_yield_line_load(345.0, 50.0, E_STAR, 0.3, "plane strain")),
        allowed=0.05,
        absolute=True,
        why=VALUE_DIGIT,
        unit="N/mm",
    ),
    hand_row(
        key="hertz-shear",
        case="Peak shear stress in the plane over p0",
        source=JOHNSON.format("section 4.2"),
        published=0.300,
        tool=lambda: _shear_peak()[0],
        allowed=5e-4,
        absolute=True,
        why=LAST_PRINTED,
    ),
    hand_row(
        key="hertz-shear-depth",
        case="Depth of that shear stress over half-width",
        source=JOHNSON.format("section 4.2"),
        published=0.786,
        tool=lambda: _shear_peak()[1],
        allowed=5e-4,
        absolute=True,
        why=LAST_PRINTED,
    ),
)


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


COMPONENTS = (("sx", "σx along the surface"), ("sz", "σz into the body"), ("txz", "τxz"))
"""Short and long name of each stress of a field."""
_HERTZ_POINT = (-0.238740, -0.100044, -0.141963)


def _pressed(component: int) -> float:
    return float(hertz.stress_field(1.4, 0.6, 1.0, 1.0)[component])


_AXIS = (
    ("across", "Stress across the load line", -0.1213, "eqs 4.46"),
    ("along", "Stress along the load line", -0.7071, "eqs 4.46"),
    ("post", "Stress along the post", -0.2485, "eqs 4.46, ν = 0.3"),
    ("strain", "Von Mises stress in plane strain", 0.5337, "eqs 4.46, ν = 0.3"),
    ("stress", "Von Mises stress in plane stress", 0.6549, "eqs 4.46"),
)

_FIELDS = (
    *(
        field_row(
            key=f"hertz-axis-{part}",
            case=f"{what} over p0, one half-width below a Hertz pressure",
            source=JOHNSON.format(equations) + VALUE_COMPUTED,
            published=value,
            tool=partial(_axis, 1.0, part),
            allowed=5e-5,
            absolute=True,
            why=VALUE_DIGIT,
        )
        for part, what, value, equations in _AXIS
    ),
    *(
        field_row(
            key=f"hertz-field-{key}",
            case=f"{component} over p0 under a Hertz pressure at x = 1.4 a, z = 0.6 a",
            source=_MCEWEN + VALUE_COMPUTED,
            published=value,
            tool=partial(_pressed, i),
            allowed=5.1e-7,
            absolute=True,
            why=VALUE_DIGIT,
        )
        for i, ((key, component), value) in enumerate(zip(COMPONENTS, _HERTZ_POINT, strict=True))
    ),
)


ROWS: tuple[Row, ...] = (*_HERTZ, *_FIELDS)
