"""What an approach is made of: the contact, the ring, and the plate as a whole.

The contact's share is that of a solid post and a plate without bending, by the hand formulas of
:mod:`.hand.approach` at the half-width that was solved. What the solved post gives way more than
that solid is the ring's, what is left over is the plate's: its bending and shear, its elastic
supports, how it turns under the post, and what its edges add where they are near. So the shares add
up, and the error of a hand formula falls to the body that it is of.
"""

from dataclasses import dataclass

import numpy as np

from contactfe.assess.follow import Followed
from contactfe.hand import approach, approach_hold
from contactfe.solve.patch import between


@dataclass(frozen=True)
class Shares:
    """Parts of an approach, mm, which add up to it.

    ``contact_post`` that of a solid round of the post's diameter and steel, held as the post is (by
    beam shear where the post is held by a rigid core); ``ring`` what the post gives way beyond it:
    by its bore, its infill, its core or its drawn shape, and by the load of a second plate;
    ``contact_plate`` that of the plate without bending, between face and base or, held at its
    edges, face and back; ``plate_bending`` the rest.
    """

    contact_post: float
    ring: float
    contact_plate: float
    plate_bending: float

    @property
    def contact(self) -> float:
        """The contact's share: both bodies near it."""
        return self.contact_post + self.contact_plate

    @property
    def total(self) -> float:
        """The whole approach."""
        return self.contact_post + self.ring + self.contact_plate + self.plate_bending


def shares(followed: Followed, times: float) -> Shares:
    """Shares of the approach to the first plate at that many times the case's loads."""
    level = followed.level
    case, section, joint = level.case, level.section, level.joint
    pressure, _ = followed.state(times)
    # Where only a few nodes touch the half-width is known from more load, as it grows by the root.
    known = max(times, followed.resolved)
    patch = followed.patch(known)
    member, n = joint.member, joint.member.candidates
    line = member.lines[0]
    raised = member.compliance[: len(line.nodes), :n] @ (joint.weight * pressure)
    (of_post,) = between(line.x, raised, np.array([patch.centre * times / known]))
    q, a = times * case.line_load, patch.half_width * np.sqrt(times / known)
    held = case.support(section).formulas or "beam shear"
    steel, plate = case.post_material(section), case.plate_material
    post = approach_hold.solid.plain(
        q, section.radius, a, steel.young, steel.poisson, held, case.state
    )
    below = approach.layer if case.plate.support.base else approach.strip
    layer = below.plain(q, case.plate.thickness, a, plate.young, plate.poisson, case.state)
    total = followed.curve.approach_at(q)
    return Shares(float(post), float(of_post - post), float(layer), float(total - of_post - layer))
