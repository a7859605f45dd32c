"""How the post meets the plate along its axis."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Along:
    """Angles in the plane of the blow and the post's axis, rad.

    ``tilt`` is that of the plate's face to the unbent post, positive where the tip is met first;
    ``misalignment`` is what it may differ by either way.
    """

    tilt: float = 0.0
    misalignment: float = 0.0


@dataclass(frozen=True)
class Spread:
    """How unevenly a section is loaded along the contact, as its bending was solved for.

    ``peak_ratio`` is the greatest line load over the mean one; ``moment``, N mm, the bending moment
    of the post that its slice carries besides, positive where it stretches the struck side;
    ``lever``, mm, the distance from the root at which the force counts for the root.
    """

    peak_ratio: float
    moment: float
    lever: float
