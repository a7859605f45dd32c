"""The line load along a bent post beside closed forms: rigid, on a foundation, and even."""

from functools import partial

import numpy as np
from numpy.typing import NDArray

from contactfe.hand import cantilever, round_section
from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import Beam, Pressed, press
from contactfe.verify.row import Row, field_row

FORCE, LENGTH, CONTACT = 150e3, 450.0, 160.0
"""The post of these rows: N, and mm from the root and along the contact."""

_BEAM = Beam(5.2e12, 1.27e9)
_BENT = Beam(5.2e12, np.inf)
_RIGID = Beam(np.inf, np.inf)

_HETENYI = (
    "beam on an elastic foundation (M. Hetényi, 1946: from memory, not seen), its four constants"
    " derived here for a cantilever that touches near its end{}"
)
_STATICS = "statics of a rigid bar on springs that cannot pull; derived here"
_TRAPEZOID = "the trapezoidal rule over 100 slices; a peak inside them is met to the nearest node"


def linear(stiffness: float) -> ForceApproach:
    """A law of constant slope, N/mm/mm."""
    approach = np.array([1e-6, 1.0])
    return ForceApproach(stiffness * approach, approach, np.full(2, stiffness), "tangent")


def founded(
    beam: Beam, stiffness: float, force: float, length: float, contact: float, tilt: float = 0.0
) -> tuple[Floats, Floats]:
    """Places z, mm, and line load there, N/mm, of a cantilever on a linear foundation that pulls.

    With S = κGA and δ the approach, EI δ'''' − (EI k/S) δ'' + k δ = 0 over the contact, with
    M = EI(kδ/S − δ'') and Q = EI(δ''' − kδ'/S); at the tip both vanish, at the near end Q is the
    force and the axis turns as the free part of the post does under both.
    """
    EI, S, k = beam.bending, beam.shear, stiffness
    a, c = length - contact / 2.0, contact
    roots = np.roots([1.0, 0.0, -k / S, 0.0, k / EI])
    decay = np.where(roots.real > 0.0, np.exp(-roots * c), 1.0)  # so that none grows too large

    def at(s: float, order: int) -> NDArray[np.complex128]:
        wave: NDArray[np.complex128] = decay * roots**order * np.exp(roots * s)
        return wave

    def moment(s: float) -> NDArray[np.complex128]:
        carried: NDArray[np.complex128] = EI * (k / S * at(s, 0) - at(s, 2))
        return carried

    def shear(s: float) -> NDArray[np.complex128]:
        carried: NDArray[np.complex128] = EI * (at(s, 3) - k / S * at(s, 1))
        return carried

    turn = at(0.0, 1) + shear(0.0) / S + moment(0.0) * a / EI  # δ' + Q/S + M a/EI
    rows = np.array([moment(c), shear(c), shear(0.0), turn])
    constants = np.linalg.solve(rows, np.array([0.0, 0.0, force, tilt - force * a**2 / (2.0 * EI)]))
    s = np.linspace(0.0, c, 401)
    q = k * np.array([at(x, 0) for x in s]) @ constants
    return a + s, q.real


def _peak(found: Pressed) -> float:
    return float(found.line_load.max())


def _pressed(beam: Beam, stiffness: float, tilt: float = 0.0) -> Pressed:
    return press(beam, linear(stiffness), FORCE, LENGTH, CONTACT, tilt)


def _published(beam: Beam, stiffness: float, tilt: float) -> float:
    return float(founded(beam, stiffness, FORCE, LENGTH, CONTACT, tilt)[1].max())


def _soft_deflection() -> float:
    """Middle of the contact of a tube on a law so soft that the load is even."""
    D, d, E, nu = 150.0, 90.0, 210e3, 0.3
    shear = cantilever.shear_coefficient.plain(D, d, nu) * E / (2.0 * (1.0 + nu))
    beam = Beam(
        E * round_section.second_moment.plain(D, d),
        float(shear * round_section.area.plain(D, d)),
    )
    found = press(beam, linear(1.0), FORCE, LENGTH, CONTACT)
    return float(np.interp(LENGTH, found.z, found.deflection))


_line = partial(field_row, unit="N/mm", why=_TRAPEZOID)

ROWS: tuple[Row, ...] = (
    _line(
        key="along-rigid-tilt",
        case="rigid post, tilt 0.1 mrad on 30 kN/mm/mm: peak line load",
        source=_STATICS,
        published=FORCE / CONTACT + 30e3 * 1e-4 * CONTACT / 2.0,
        tool=lambda: _peak(_pressed(_RIGID, 30e3, 1e-4)),
        allowed=1e-9,
        why="the trapezoidal rule is exact",
    ),
    _line(
        key="along-rigid-parted",
        case="rigid post, tilt 5 mrad on 30 kN/mm/mm, parted in part: peak line load",
        source=_STATICS,
        published=(2.0 * FORCE * 30e3 * 5e-3) ** 0.5,
        tool=lambda: _peak(_pressed(_RIGID, 30e3, 5e-3)),
        allowed=1e-4,
    ),
    _line(
        key="along-rigid-parted-length",
        case="the same: length in contact",
        source=_STATICS,
        published=(2.0 * FORCE / (30e3 * 5e-3)) ** 0.5,
        tool=lambda: CONTACT - _pressed(_RIGID, 30e3, 5e-3).parted,
        allowed=1e-3,
        unit="mm",
    ),
    *(
        _line(
            key=f"along-founded-{name}",
            case=f"{what}, tilt {1e3 * tilt:g} mrad on {k / 1e3:g} kN/mm/mm: peak line load",
            source=_HETENYI.format(of),
            published=partial(_published, beam, k, tilt),
            tool=partial(lambda b, s, t: _peak(_pressed(b, s, t)), beam, k, tilt),
            allowed=2e-4,
        )
        for name, what, of, beam, k, tilt in (
            ("bending", "post without shear", "", _BENT, 4e3, 0.0),
            ("tilted", "post without shear", "", _BENT, 15e3, 3e-3),
            ("shear", "post with shear", ", with its shear", _BEAM, 4e3, 0.0),
        )
    ),
    _line(
        key="along-soft-deflection",
        case="tube on a law so soft that the load is even: deflection at the contact",
        source="Timoshenko's beam under an even load near its end, derived here",
        published=cantilever.deflection.plain(FORCE, LENGTH, 150.0, 90.0, 210e3, 0.3, CONTACT),
        tool=_soft_deflection,
        allowed=1e-4,
        why="the load is even within 1e-5; 100 slices",
        unit="mm",
    ),
)
