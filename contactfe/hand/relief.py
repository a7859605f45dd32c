"""The tube that a contact of finite length stresses least, and what it saves over a solid.

A line load bends a tube as a ring, which puts the contact into hoop compression and so lowers its
peak von Mises stress; docs/theory.md says more. Both formulas are fitted to solves by this tool,
the table and chart of docs/relief_chart.py: a post held by beam shear, long beyond its contact, of
one elastic steel with the plate, Poisson's ratio 0.3, without friction; an even line load over the
length c; a plate that is a half-space to it. What the post does as a beam along its axis is left
out and comes on top. Places nearer to an end of the contact than R/10 or 2 a are not looked at,
whence the knee at a/R = 0.05.

Relief is by how much the peak of the post lies below that of a solid of its diameter in the same
contact, as a share of that; the best wall is the one of the greatest relief.
"""

import numpy as np
from numpy.typing import ArrayLike

from contactfe.hand.formula import Limit, at_least, at_most, formula, limited
from contactfe.hand.quantities import Lengths, Numbers

SOURCE = "fitted here to this tool's solves; see docs/relief_chart.py"

NARROWEST, WIDEST = 0.005, 0.08
"""Half-width over radius between which posts were solved."""

SHORTEST, LONGEST = 0.5, 4.0
"""Length of the contact over the diameter between which posts were solved."""

MOST_SHEAR = 0.065
"""(a/R)(c/D) up to which the shear of a post that carries the force to one root stresses its bore
at the side no more than the contact is stressed, at the best wall: by `hand.flexure`, 0.84 to 1.01
of it there for c of 1 to 4 D, and 0.99 to 1.19 at 0.08."""


def _limits(
    half_width: ArrayLike, radius: ArrayLike, contact_length: ArrayLike
) -> tuple[Limit, ...]:
    narrow = np.divide(half_width, radius)
    long = np.divide(contact_length, np.multiply(2.0, radius))
    return (
        at_least("a/R", narrow, NARROWEST),
        at_most("a/R", narrow, WIDEST),
        at_least("c/D", long, SHORTEST),
        at_most("c/D", long, LONGEST),
        at_most("(a/R)·(c/D), by the shear of the post", narrow * long, MOST_SHEAR),
    )


@formula(
    "best wall over radius",
    "h/R",
    source=SOURCE,
    symbols={"contact_length": "c"},
    note="of least peak von Mises stress; a long post, an even line load over c, frictionless",
)
def best_wall(half_width: Lengths, radius: Lengths, contact_length: Lengths) -> Numbers:
    """Wall of the tube with the least peak von Mises stress, over its outside radius.

    Within 0.65 % of the best walls of the table. Its stress is at most 1 % above the least there.
    """
    limited(*_limits(half_width, radius, contact_length))
    root = np.sqrt(half_width / radius)
    long = contact_length / (2 * radius)
    near = np.minimum(half_width / radius, 0.05)
    return root / (0.289 + 0.0372 / long**1.075 + 0.6 * root + 1.44 * near)


@formula(
    "relief of the best wall",
    "r",
    source=SOURCE,
    symbols={"contact_length": "c"},
    note="1 less the peak von Mises stress over that of a solid; see the best wall",
)
def relief_of_best_wall(half_width: Lengths, radius: Lengths, contact_length: Lengths) -> Numbers:
    """Share by which the best wall lowers the peak von Mises stress of a solid.

    Within 0.0045 of the table, 0.16 being its mean. Of 200 posts drawn by chance, with walls of
    :func:`best_wall`, it was from 0.0054 less to 0.0033 more.
    """
    limited(*_limits(half_width, radius, contact_length))
    near = np.minimum(half_width / radius, 0.05)
    long = contact_length / (2 * radius)
    beyond = half_width / radius - near
    return 0.1474 + (0.0638 + 0.99 * near) * np.exp(-1.25 * long) - 0.217 * beyond
