"""What gives way between floor and plate: the contact of a section and, in series, its post.

The post bends along its axis as a cantilever, which mostly gives way more than its contact does. A
plate that stands straight is met nearer the root than by an even load, and there the post is
stiffer, so an even load would make an impact too soft.
"""

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from contactfe.assess.beam import beam_of, bends
from contactfe.case import Case, Section
from contactfe.solve.curve import ForceApproach
from contactfe.solve.elastic import Floats
from contactfe.solve.line import Law, Pressed, press

_POINTS = 50
"""Forces that a post is pressed with; with 100 the displacements changed by 2e-5."""


@dataclass(frozen=True)
class Way:
    """Mean line load over the displacement of the floor from its first touch of the plate.

    ``curve`` has that displacement as its approach; at its points ``peak`` (n,) is the largest line
    load, N/mm, and ``bending`` (n,) the deflection of the post in the middle of its contact, mm.
    """

    curve: ForceApproach
    peak: Floats
    bending: Floats

    def peak_over_mean(self, line_load: float) -> float:
        """Largest line load over the mean one, which is given in N/mm."""
        return float(np.interp(line_load, self.curve.line_load, self.peak / self.curve.line_load))

    def bending_at(self, displacement: float) -> float:
        """Deflection of the post, mm, at a displacement, mm; beyond the curve that at its end."""
        return float(np.interp(displacement, [0.0, *self.curve.approach], [0.0, *self.bending]))


def tilts(case: Case, section: Section) -> tuple[float, ...]:
    """Tilts of the plate, rad, that the post may be pressed at: a straight one unless stated."""
    if case.alignment is None or not bends(case, section):
        return (0.0,)
    tilt, off = case.alignment.tilt, case.alignment.misalignment
    return tuple(dict.fromkeys((tilt, tilt - off, tilt + off)))


def whole_way(case: Case, section: Section, curve: ForceApproach, tilt: float = 0.0) -> Way:
    """The force–approach curve of a section with the bending of its post, where the case states it.

    The displacement is that of :func:`.press` against a plate at a ``tilt`` in rad, counted from
    the first touch. The curve ends where the mean line load is that of the curve's end; slices
    under more, as ``peak`` gives, follow the curve's last tangent.

    Raises SolveError where the forces along the post do not come into balance.
    """
    if not bends(case, section):
        return Way(curve, curve.line_load, np.zeros_like(curve.line_load))
    assert case.cantilever is not None  # of one that bends
    assert case.contact_length is not None  # [cantilever] needs it
    c, length = case.contact_length, case.cantilever.length
    beam, law = beam_of(case, section), Law(curve.approach, curve.line_load, curve.tangent)
    loads = law.most * (np.arange(1, _POINTS + 1) / _POINTS) ** 2
    found = [press(beam, law, float(q) * c, length, c, tilt) for q in loads]
    first_touch = abs(tilt) * c / 2.0
    displacement = np.array([_displacement(one, tilt, length) + first_touch for one in found])
    through = CubicSpline(np.log(loads), np.log(displacement))
    exponent = 1.0 / through(np.log(loads), 1)
    return Way(
        ForceApproach(loads, displacement, exponent * loads / displacement),
        np.array([one.line_load.max() for one in found]),
        np.array([np.interp(length, one.z, one.deflection) for one in found]),
    )


def _displacement(pressed: Pressed, tilt: float, length: float) -> float:
    """Displacement of the plate's face against the root in the middle of the contact, mm."""
    face = pressed.approach[0] + pressed.deflection[0]
    return float(face - tilt * (pressed.z[0] - length))
