"""How post and plate are held: what the other rooms ask of each way, one entry for each.

The supports themselves, as the solve takes them, are in :mod:`contactfe.solve.holds`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

PostHold = Literal["beam shear", "diametral", "rigid core"]
PlateHold = Literal["rigid base", "simply supported", "clamped", "elastic supports"]


@dataclass(frozen=True)
class PostSupport:
    """What balances the contact force on the post.

    ``words`` follow "post", ``datum`` is what of the post an approach is measured from.
    ``formulas`` are those of a ring or a disc that hold for it, None where none does. ``axis``
    says whether the post bends along its axis as a cantilever; ``half``, whether its lower half
    stands for the whole, struck alike from the opposite side; ``core``, whether it is bonded to a
    rigid core, at which the stress of an elastic body has no bound.
    """

    name: PostHold
    words: str
    datum: str
    formulas: Literal["beam shear", "diametral"] | None = None
    axis: bool = False
    half: bool = False
    core: bool = False


@dataclass(frozen=True)
class PlateSupport:
    """What holds the plate.

    ``words`` follow "plate", with ``{spring}`` where its stiffness stands; ``datum`` is what an
    approach is measured towards. ``base`` says whether its back lies on a rigid base; ``strip`` is
    how the edges of a strip that hold for it are held, None where none does; ``spring``, whether
    the case states the stiffness of its supports.
    """

    name: PlateHold
    words: str
    datum: str
    base: bool = False
    strip: Literal["supported", "clamped"] | None = None
    spring: bool = False


POST_SUPPORTS: Mapping[PostHold, PostSupport] = {
    "beam shear": PostSupport(
        "beam shear", "held by its own beam shear",
        "the post's axis (the mean of its section on which the beam shear does work)",
        formulas="beam shear", axis=True,
    ),
    "diametral": PostSupport(
        "diametral", "held diametrally, struck alike from the opposite side",
        "the plane through the post's middle, half of what the two plates come together",
        formulas="diametral", half=True,
    ),
    "rigid core": PostSupport(
        "rigid core", "bonded to a rigid core", "the core that the post is bonded to", core=True
    ),
}  # fmt: skip

PLATE_SUPPORTS: Mapping[PlateHold, PlateSupport] = {
    "rigid base": PlateSupport(
        "rigid base", "on a rigid base", "the rigid base of the plate", base=True
    ),
    "simply supported": PlateSupport(
        "simply supported", "simply supported along its two edges",
        "the supported edges of the plate", strip="supported",
    ),
    "clamped": PlateSupport(
        "clamped", "clamped along its two edges", "the clamped edges of the plate",
        strip="clamped",
    ),
    "elastic supports": PlateSupport(
        "elastic supports", "on elastic supports of {spring} along each of its two edges",
        "the ground under the plate's elastic supports", strip="supported", spring=True,
    ),
}  # fmt: skip


def named(supports: Iterable[PostSupport | PlateSupport]) -> str:
    """Ways of holding by their names, as a case file writes them.

    >>> named(support for support in POST_SUPPORTS.values() if not support.half)
    '"beam shear" or "rigid core"'
    """
    return " or ".join(f'"{support.name}"' for support in supports)
