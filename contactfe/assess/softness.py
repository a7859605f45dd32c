"""How soft the contact law that a case states is beside the contact that was solved.

An impact comes to the force at which contact and post have taken its energy. A law that takes more
energy than they do up to a force finds too small a force, unless something else gives way.
"""

from collections.abc import Sequence

import numpy as np

from contactfe.assess.results import SectionResult
from contactfe.case import Case
from contactfe.case.impact import stated_energy


def softness(case: Case, results: Sequence[SectionResult]) -> dict[str, float]:
    """By section, the energy of the stated law up to the load over that of the contact solved.

    The post's bending is in it where its sharing of the load was solved. The energy of the contact
    is taken as that of a spring to its own force and approach, which is more than its own, as it
    stiffens. Empty where no law or no contact length is stated, and in a corner.
    """
    if case.motion is None or case.contact_length is None or case.corner is not None:
        return {}
    found = {}
    for result in results:
        mean = result.line_load if result.length is None else result.length.mean_line_load
        stated = stated_energy(case.motion, mean * case.contact_length)
        if stated is not None:
            found[result.section.name] = stated / _energy(result, case.contact_length)
    return found


def _energy(result: SectionResult, length: float) -> float:
    """N mm, of half of each force along the contact through its displacement."""
    if result.length is None:
        return 0.5 * length * result.line_load * result.approach.value
    along = result.length
    pressed = np.array(along.line_load) * (np.array(along.deflection) + np.array(along.approach))
    return 0.5 * float(np.trapezoid(pressed, along.z))
