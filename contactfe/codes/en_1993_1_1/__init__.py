"""EN 1993-1-1, Design of steel structures: yield at a point, bending and shear of a round post.

Partial factors are NDPs (nationally determined parameters); the default is the recommended value.
Clauses for ``wall=None`` are those of a solid round.
"""

from contactfe.codes.en_1993_1_1.bending import bending
from contactfe.codes.en_1993_1_1.combined import bending_with_shear, solid_combined, tube_combined
from contactfe.codes.en_1993_1_1.point import yield_at_a_point
from contactfe.codes.en_1993_1_1.shear import solid_shear, tube_shear

__all__ = [
    "bending",
    "bending_with_shear",
    "solid_combined",
    "solid_shear",
    "tube_combined",
    "tube_shear",
    "yield_at_a_point",
]
