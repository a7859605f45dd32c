"""The tube that a contact of finite length stresses least, and what it saves over a solid.

A line load bends a tube as a ring, which puts the contact into hoop compression and so lowers its
peak von Mises stress; see docs/theory.md. Both formulas are fitted to this tool's own solves, the
table and chart that docs/relief_chart.py makes: an even line load over a length c of a long post,
frictionless, post and plate of one steel of Poisson's ratio 0.3, plane strain in the slice, the
plate a half-space, the post held by beam shear. Relief is by how much the peak lies below that of a
solid of the same diameter in the same contact, as a share of it. What the post does as a beam along
its axis comes on top.
"""

import numpy as np

from contactfe.hand.check import Array
from contactfe.hand.formula import Limit, at_least, at_most, formula, limited
from contactfe.hand.quantities import Length, Number

SOURCE = "fitted here to this tool's solves; see docs/relief_chart.py"

NARROWEST, WIDEST = 0.01, 0.08
"""Half-width over radius between which posts were solved."""

SHORTEST, LONGEST = 0.5, 4.0
"""Length of the contact over the diameter between which posts were solved."""

MOST_SHEAR = 0.065
"""(a/R)(c/D) up to which the shear of a post that carries the force to one root stresses the bore
of the best wall less than the contact is stressed: it was more from 0.07 on."""


def wall_ratio(narrow: float | Array, long: float | Array) -> Array:
    """Best wall over radius for a/R and c/D."""
    root = np.sqrt(narrow)
    ratio: Array = root / (0.263 + 0.032 * np.power(long, -1.23) + 1.015 * root)
    return ratio


def saved(narrow: float | Array, long: float | Array) -> Array:
    """Relief of the best wall for a/R and c/D."""
    share: Array = 0.151 + (0.058 + 0.29 * np.sqrt(narrow)) * np.exp(-1.5 * np.asarray(long))
    return share
