"""A section drawn elsewhere, made as fine as a grading asks for."""

from collections.abc import Callable

import meshio
import numpy as np
from scipy.spatial import cKDTree

from contactfe.errors import InputError
from contactfe.section.grading import Grading, size_at
from contactfe.section.quadratic import Floats, with_groups
from contactfe.section.refine import refine

AS_DRAWN = 2.0
"""Scale of element size at which the elements are as large as drawn, away from refined zones."""

_LONGEST = 1.4
"""Longest edge over the size asked for that is left alone. Meshers take the size for the mean edge,
and halves of one element are not to be halved again for a smaller neighbour."""


def graded_section(
    drawn: meshio.Mesh, grading: Grading, scale: float, radius: float
) -> meshio.Mesh:
    """The mesh of ``read_section``, refined, with the groups that the solver works with.

    Elements are no larger than ``grading`` asks for, and than ``scale``/2 of those drawn there: the
    drawing stands for the coarse level. Of the drawn line the group ``contact`` keeps what the
    grading looks for contact on; the rest joins ``outside``. The group ``member`` is ``steel``.

    Raises
    ------
    InputError
        if the line drawn for contact does not reach as far as contact is looked for, or the mesh
        would become too large
    """
    as_drawn = _drawn_size(drawn)

    def size(x: Floats, y: Floats) -> Floats:
        return _LONGEST * np.minimum(size_at(grading, x, y), scale / AS_DRAWN * as_drawn(x, y))

    fine = refine(drawn, size, radius)
    cells, sets = fine.cells_dict, fine.cell_sets_dict
    lines = {
        name: cells["line3"][groups["line3"]]
        for name, groups in sets.items()
        if len(groups.get("line3", ()))
    }
    reach, centre = grading.reach, grading.contact.patch.centre
    x = fine.points[lines["contact"][:, :2], 0] - centre
    near = np.any(np.abs(x) < reach, axis=1)
    if x.min() > -reach or x.max() < reach:
        raise InputError(
            f"the line of the group 'contact' reaches from x = {x.min() + centre:.4g} to"
            f" {x.max() + centre:.4g} mm about its lowest point; contact is looked for from"
            f" {centre - reach:.4g} to {centre + reach:.4g} mm"
        )
    lines |= {"contact": lines["contact"][near], "outside": lines["contact"][~near]}
    triangles = cells["triangle6"]
    surfaces = {}
    for name, groups in sets.items():
        if len(groups.get("triangle6", ())):
            mask = np.zeros(len(triangles), dtype=bool)
            mask[groups["triangle6"]] = True
            surfaces["steel" if name == "member" else name] = mask
    return with_groups(
        fine.points,
        triangles,
        surfaces,
        {name: edges for name, edges in lines.items() if len(edges)},
    )


def _drawn_size(drawn: meshio.Mesh) -> Callable[[Floats, Floats], Floats]:
    """Longest edge of the drawn element nearest to a point, mm."""
    corners = drawn.points[drawn.cells_dict["triangle6"][:, :3]]
    longest = np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2).max(axis=1)
    nearest = cKDTree(corners.mean(axis=1))

    def size(x: Floats, y: Floats) -> Floats:
        found: Floats = longest[nearest.query(np.column_stack([x, y]))[1]]
        return found

    return size
