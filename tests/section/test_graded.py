"""A section drawn elsewhere, made as fine as contact needs it and no coarser than drawn."""

import numpy as np
import pytest

from contactfe.errors import InputError
from contactfe.section.graded import graded_section
from contactfe.section.grading import Patch, member_grading, size_at
from contactfe.section.mesher import mesh_member
from contactfe.section.outlines import MemberOutline
from contactfe.section.quadratic import with_groups

R = 75.0
TUBE = MemberOutline(R, 50.0)
DRAWN_REACH = 17.0  # 1.7 half-widths of 10 mm


@pytest.fixture(scope="module")
def drawn():
    """A tube whose line of contact goes 17 mm to both sides, with elements of the standard size."""
    mesh = mesh_member(TUBE, member_grading(TUBE, Patch(0.0, 10.0, reach=1.7), 1.0))
    lines = mesh.cells_dict["line3"]
    groups = {name: lines[mesh.cell_sets_dict[name]["line3"]] for name in ("contact", "bore")}
    triangles = mesh.cells_dict["triangle6"]
    return with_groups(mesh.points, triangles, {"member": np.ones(len(triangles), bool)}, groups)


def elements(mesh):
    """Middles (n, 2) and longest edges (n,) of the triangles."""
    corners = mesh.points[mesh.cells_dict["triangle6"][:, :3]]
    edges = np.linalg.norm(corners - np.roll(corners, 1, axis=1), axis=2)
    return corners.mean(axis=1), edges.max(axis=1)


def edges_of(mesh, name):
    """x at the ends of the edges of a group."""
    return mesh.points[mesh.cells_dict["line3"][mesh.cell_sets_dict[name]["line3"]][:, :2], 0]


@pytest.mark.parametrize("centre", [0.0, 5.0])
def test_it_is_as_fine_as_the_grading_asks_for_at_contact(drawn, centre):
    grading = member_grading(TUBE, Patch(centre, 2.0, reach=1.7))
    fine = graded_section(drawn, grading, 1.0, R)
    middles, longest = elements(fine)
    # A mesher's mean edge is the size asked for, the longest of an element 1.4 times that.
    assert np.all(longest <= 1.4 * size_at(grading, *middles.T) * (1.0 + 1e-9))
    contact, outside = edges_of(fine, "contact"), edges_of(fine, "outside")
    reach = grading.reach
    assert contact.min() <= centre - reach <= contact.min() + 1.0
    assert contact.max() - 1.0 <= centre + reach <= contact.max()
    assert outside.min() == pytest.approx(-DRAWN_REACH)
    assert outside.max() == pytest.approx(DRAWN_REACH)
    assert len(contact) + len(outside) >= len(edges_of(drawn, "contact"))
    assert "steel" in fine.cell_sets
    assert "member" not in fine.cell_sets


def test_away_from_contact_the_drawing_is_the_coarse_level(drawn):
    # At scale 2 as drawn, at 1 halved, even where the grading would allow larger elements.
    counts, sizes = [], []
    for mesh in (
        drawn,
        graded_section(drawn, member_grading(TUBE, Patch(0.0, 2.0), 2.0), 2.0, R),
        graded_section(drawn, member_grading(TUBE, Patch(0.0, 2.0), 1.0), 1.0, R),
    ):
        middles, longest = elements(mesh)
        far = middles[:, 1] > 120.0
        counts.append(far.sum())
        sizes.append(longest[far].max())
    assert counts[1] == counts[0]
    assert counts[2] >= 3.5 * counts[0]
    assert sizes[2] <= 0.7 * sizes[0]


@pytest.mark.parametrize("centre", [-14.5, 14.5])
def test_a_line_too_short_at_either_end_is_refused(drawn, centre):
    # It is looked for up to 3.4 mm from the middle of the patch, that is to 17.9 mm.
    with pytest.raises(InputError, match=r"reaches from x = -17 to 17 mm .* looked for from"):
        graded_section(drawn, member_grading(TUBE, Patch(centre, 2.0, reach=1.7)), 1.0, R)
