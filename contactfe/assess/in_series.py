"""What gives way between floor and plate: the contact of a section and, in series, its post.

The post bends along its axis as a cantilever, which mostly gives way more than its contact does.
Where the case states how post and plate meet, [along], the force goes to where they touch, nearer
the root than an even load, and the post is stiffer for it.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from contactfe.assess.beam import beam_of, bends, post_stiffness
from contactfe.case import Case, Section
from contactfe.errors import SolveError
from contactfe.solve.curve import ForceApproach
from contactfe.solve.elastic import Floats
from contactfe.solve.line import Law, Pressed, press

_POINTS = 30
"""Forces that a post with [along] is pressed with; with 60 travels moved by 2e-5 of themselves."""

_MOST_TRIED = 30


@dataclass(frozen=True)
class Way:
    """Mean line load over the whole way that the floor goes after it has met the plate.

    ``curve`` has the travel as its approach; at its points ``peak`` (n,) is the largest line load,
    N/mm, and ``bending`` (n,) the deflection of the post in the middle of its contact, mm.
    """

    curve: ForceApproach
    peak: Floats
    bending: Floats

    def peak_over_mean(self, line_load: float) -> float:
        """Largest line load over the mean one, which is given in N/mm."""
        return float(np.interp(line_load, self.curve.line_load, self.peak / self.curve.line_load))

    def bending_at(self, travel: float) -> float:
        """Deflection of the post, mm, at a travel in mm; past the end of the curve that there."""
        return float(np.interp(travel, [0.0, *self.curve.approach], [0.0, *self.bending]))


def whole_way(case: Case, section: Section, curve: ForceApproach) -> Way:
    """The force–approach curve of a section with the bending of its post, where the case tells it.

    Without [along] the contact bears evenly: δ = δ(q) + q c/k, c being the effective length and k
    of :func:`.post_stiffness`. With it the way is that of :func:`.press` at the stated tilt, from
    the first touch on, and ends where the largest line load is that of the curve's end; a
    misalignment, which may be either way, is not in it. Source: springs in series.

    Raises SolveError where the forces along the post do not come into balance.
    """
    if not bends(case, section):
        return Way(curve, curve.line_load, np.zeros_like(curve.line_load))
    assert case.effective_length is not None  # [cantilever] needs it
    if case.along is not None:
        return _along(case, section, curve)
    gives = case.effective_length / post_stiffness(case, section)
    q = curve.line_load
    softer = ForceApproach(q, curve.approach + gives * q, 1.0 / (1.0 / curve.tangent + gives))
    return Way(softer, q, gives * q)


def _along(case: Case, section: Section, curve: ForceApproach) -> Way:
    assert case.along is not None
    assert case.cantilever is not None
    assert case.effective_length is not None
    c, length, tilt = case.effective_length, case.cantilever.length, case.along.tilt
    beam, law = beam_of(case, section), Law(curve.approach, curve.line_load, curve.tangent)

    def pressed(line_load: float) -> Pressed:
        return press(beam, law, line_load * c, length, c, tilt)

    most = _most(pressed, law.most)
    loads = most * (np.arange(1, _POINTS + 1) / _POINTS) ** 2
    found = [pressed(float(q)) for q in loads]
    first_touch = abs(tilt) * c / 2.0
    travel = np.array([_travel(one, tilt, length) + first_touch for one in found])
    through = CubicSpline(np.log(loads), np.log(travel))
    exponent = 1.0 / through(np.log(loads), 1)
    return Way(
        ForceApproach(loads, travel, exponent * loads / travel),
        np.array([one.line_load.max() for one in found]),
        np.array([np.interp(length, one.z, one.deflection) for one in found]),
    )


def _most(pressed: Callable[[float], Pressed], peak: float) -> float:
    """Mean line load, N/mm, under which the largest is that ``peak``, or a little less."""
    mean = peak
    for _ in range(_MOST_TRIED):
        found = float(pressed(mean).line_load.max())
        if found <= peak:
            return mean
        # Never far below: an uneven load gets more even as it grows.
        mean *= 0.999 * peak / found
    raise SolveError("no mean line load was found whose peak the force–approach curve reaches")


def _travel(pressed: Pressed, tilt: float, length: float) -> float:
    """Way of the plate's face against the root in the middle of the contact, mm."""
    face = pressed.approach[0] + pressed.deflection[0]
    return float(face - tilt * (pressed.z[0] - length))
