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
