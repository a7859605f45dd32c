"""Quadratic elements cut into straight triangles, which is all that matplotlib can shade."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from matplotlib.tri import Triangulation
from numpy.typing import NDArray

from contactfe.case.display import Unit
from contactfe.solve.elastic import Floats
from contactfe.solve.field import StressField

Place = Callable[[Floats], Floats]
"""From points (2, n) of a body, in mm and in its own axes, to where they are drawn."""

_CUTS = ((0, 3, 5), (3, 1, 4), (5, 4, 2), (3, 4, 5))
"""Each element into four, at the middles of its sides; nodes are v0 v1 v2 m01 m12 m20."""


@dataclass(frozen=True)
class Grid:
    """Nodes (n,), von Mises stress there, and triangles (m, 3) between them, in the units shown."""

    x: Floats
    y: Floats
    von_mises: Floats
    triangles: NDArray[np.intp]

    def triangulation(self) -> Triangulation:
        """The same, as matplotlib wants it."""
        return Triangulation(self.x, self.y, self.triangles)

    def within(self, x0: float, x1: float, y0: float, y1: float) -> "Grid":
        """What a window shows: the triangles with a corner in it."""
        inside = (self.x >= x0) & (self.x <= x1) & (self.y >= y0) & (self.y <= y1)
        seen = self.triangles[inside[self.triangles].any(axis=1)]
        used, renumbered = np.unique(seen, return_inverse=True)
        return Grid(
            self.x[used], self.y[used], self.von_mises[used], renumbered.reshape(seen.shape)
        )


def grid(field: StressField, stress: Unit, place: Place, seen: float = 0.0) -> Grid:
    """The grid of a body, drawn at the places given, with stress in the unit shown.

    What is not as wide as ``seen`` at its corners is not cut.
    """
    x, y = place(field.mesh.doflocs)
    elements = field.mesh.dofs.element_dofs
    wide = np.maximum(np.ptp(x[elements[:3]], axis=0), np.ptp(y[elements[:3]], axis=0)) >= seen
    triangles = np.concatenate(
        [elements[:3, ~wide].T, *(elements[list(cut)][:, wide].T for cut in _CUTS)]
    )
    return Grid(x, y, stress.of(field.von_mises), triangles.astype(np.intp))
