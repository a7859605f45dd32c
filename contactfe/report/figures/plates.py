"""What is drawn of a plate in its own axes: its edges, and where the drawing cuts it."""

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Polygon

from contactfe.report.figures.grid import Place
from contactfe.report.figures.ink import INK
from contactfe.solve.elastic import Floats


@dataclass(frozen=True)
class DrawnPlate:
    """The part of a plate from x = ``left`` to ``right``, down to ``depth`` below its face, mm.

    In the axes of the plate. A ``cut`` edge, one of "left", "right" and "back", is not the plate's
    own: the plate goes on there, and the line waves by ``wave`` mm.
    """

    left: float
    right: float
    depth: float
    cut: frozenset[str]
    wave: float

    @property
    def edges(self) -> dict[str, Floats]:
        """Lines (2, n), mm: face, right edge, back and left edge, one after the other."""
        t = np.linspace(0.0, 1.0, 120)
        inwards = self.wave * (np.sin(4.0 * np.pi * t) - 1.5)

        def waves(edge: str) -> Floats:
            return inwards if edge in self.cut else 0.0 * t

        back = self.depth + waves("back")
        start, end = self.left - waves("left")[0], self.right + waves("right")[0]
        across = start + t * (end - start)
        return {
            "face": np.array([across, 0.0 * t]),
            "right": np.array([self.right + waves("right"), -t * back[-1]]),
            "back": np.array([across, -back])[:, ::-1],
            "left": np.array([self.left - waves("left"), -t * back[0]])[:, ::-1],
        }


def drawn(
    edges: tuple[float, float], limits: tuple[float, float], thickness: float, deepest: float,
    wave: float,
) -> DrawnPlate:  # fmt: skip
    """The part of a plate between ``limits`` and no deeper than ``deepest``; all in mm.

    ``edges`` are the abscissae of its own two edges.
    """
    cut = {
        name
        for name, beyond in (
            ("left", edges[0] < limits[0]),
            ("right", edges[1] > limits[1]),
            ("back", thickness > deepest),
        )
        if beyond
    }
    return DrawnPlate(
        max(edges[0], limits[0]), min(edges[1], limits[1]), min(thickness, deepest),
        frozenset(cut), wave,
    )  # fmt: skip


def outline(ax: Axes, plate: DrawnPlate, place: Place) -> Polygon:
    """Draw the edges of a plate, and return its area, to which its colours are to be clipped."""
    edges = plate.edges
    for name, line in edges.items():
        x, y = place(line)
        ax.plot(x, y, color=INK, linewidth=0.6 if name in plate.cut else 0.9, zorder=3)
    return Polygon(place(np.concatenate(list(edges.values()), axis=1)).T, transform=ax.transData)
