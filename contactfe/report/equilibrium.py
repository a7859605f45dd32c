"""The loads on a body and what holds it against them, in the body's own axes."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from contactfe.assess.bodies import beside
from contactfe.assess.results import SectionResult
from contactfe.solve.joint import PatchState
from contactfe.solve.lines import Frame
from contactfe.solve.reactions import Reaction

CONTACT_LOAD = "contact load"
SECOND_LOAD = "contact load of the second plate"


@dataclass(frozen=True)
class Total:
    """Sum of forces in N/mm, and of moments about the origin in N mm/mm, counter-clockwise."""

    along: float
    across: float
    moment: float


def about_origin(force: Reaction) -> float:
    """Moment of a force and its own moment about the first point of contact, N mm/mm."""
    return force.moment + force.x * force.across - force.y * force.along


def total(forces: Sequence[Reaction]) -> Total:
    """What is left of all forces on a body: nothing, but for rounding."""
    return Total(
        sum(f.along for f in forces),
        sum(f.across for f in forces),
        sum(about_origin(f) for f in forces),
    )


def load_on_plate(patch: PatchState) -> Reaction:
    """The contact load on a plate, at the first point of contact, in the axes of the plate.

    Its moment is that of the pressure, whose middle may lie aside of that point.
    """
    moment = -float(patch.weight @ (patch.pressure * patch.x))
    return Reaction(CONTACT_LOAD, 0.0, 0.0, patch.tangential_load, -patch.line_load, moment)


def loads_on_post(result: SectionResult) -> tuple[Reaction, ...]:
    """The contact loads on the post, each at the first point of its contact."""
    radius = result.section.radius
    frames = (Frame(), beside(radius))
    states = result.reading.state.patches
    return tuple(
        _on_post(patch, frame, radius, place)
        for patch, frame, place in zip(states, frames, (CONTACT_LOAD, SECOND_LOAD), strict=False)
    )


def _on_post(patch: PatchState, frame: Frame, radius: float, place: str) -> Reaction:
    """In the plate's axes the load acts on the circle; then it turns with them."""
    x, push, friction_force = patch.x, patch.weight * patch.pressure, -patch.weight * patch.traction
    y = radius - np.sqrt(radius**2 - x**2)
    along, across = frame.axes.T @ np.array([friction_force.sum(), push.sum()])
    at_x, at_y = frame.origin
    moment = float((x * push - y * friction_force).sum())
    return Reaction(place, at_x, at_y, float(along), float(across), moment)
