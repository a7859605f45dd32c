"""A bent post pressed along its contact, as rows of length.toml ask for it, and its closed form."""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from contactfe.hand import cantilever, round_section
from contactfe.solve.elastic import Floats
from contactfe.solve.force_approach import ForceApproach
from contactfe.solve.line import Beam, press


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


def founded_peak(
    bending: float,
    shear: float,
    stiffness: float,
    tilt: float,
    force: float,
    length: float,
    contact_length: float,
) -> float:
    """Greatest line load of that cantilever, N/mm."""
    beam = Beam(bending, shear)
    return float(founded(beam, stiffness, force, length, contact_length, tilt)[1].max())


def pressed(
    of: Literal["peak line load", "touching length"],
    bending: float,
    shear: float,
    stiffness: float,
    tilt: float,
    force: float,
    length: float,
    contact_length: float,
) -> float:
    """Greatest line load, N/mm, or the length that touches, mm, of a post as a case finds it.

    On a law of constant slope, and so that it does not pull.
    """
    found = press(Beam(bending, shear), linear(stiffness), force, length, contact_length, tilt)
    return (
        contact_length - found.parted if of == "touching length" else float(found.line_load.max())
    )


def soft_deflection(
    force: float,
    length: float,
    outside_diameter: float,
    bore: float,
    young: float,
    poisson: float,
    contact_length: float,
) -> float:
    """Deflection of a tube in the middle of its contact, mm, on a law so soft that q is even."""
    size = outside_diameter, bore
    shear = cantilever.shear_coefficient.plain(*size, poisson) * young / (2.0 * (1.0 + poisson))
    beam = Beam(
        young * round_section.second_moment.plain(*size),
        float(shear * round_section.area.plain(*size)),
    )
    found = press(beam, linear(1.0), force, length, contact_length)
    return float(np.interp(length, found.z, found.deflection))
