import numpy as np
import pytest
from bodies import STEEL, block, member_mesh

from contactfe.errors import SolveError
from contactfe.solve.elastic import Elastic
from contactfe.solve.parts import WHOLE, parts_of, per_element

SOFT = Elastic(30e3, 0.2)
BOTH = {"steel": STEEL, "infill": SOFT}


@pytest.fixture(scope="module")
def filled():
    return member_mesh(75.0, 50.0, 2.0, 3.0, filled=True)


def test_a_body_of_one_material_is_one_part(filled):
    (part,) = parts_of(filled, STEEL)
    assert part.name == WHOLE
    assert part.mesh is filled
    assert len(part.joined) == 0
    (named,) = parts_of(member_mesh(75.0, 50.0, 4.0, 4.0), {"steel": STEEL})
    assert named.name == "steel"


def test_parts_cover_the_body_once_with_their_own_nodes(filled):
    steel, infill = parts_of(filled, BOTH)
    assert (steel.name, infill.name) == ("steel", "infill")
    assert len(steel.elements) + len(infill.elements) == filled.t.shape[1]
    for part in (steel, infill):
        # Node numbers lead back to the same points, element by element.
        assert np.array_equal(part.mesh.doflocs, filled.doflocs[:, part.nodes])
        assert np.array_equal(
            part.nodes[part.mesh.dofs.element_dofs], filled.dofs.element_dofs[:, part.elements]
        )
    radius = np.hypot(filled.doflocs[0], filled.doflocs[1] - 75.0)
    shared = np.intersect1d(steel.nodes, infill.nodes)
    assert radius[shared] == pytest.approx(50.0, rel=1e-9)


def test_joined_edges_are_the_bore_seen_from_both_sides(filled):
    steel, infill = parts_of(filled, BOTH)
    for part in (steel, infill):
        assert np.array_equal(np.sort(part.joined), np.sort(part.mesh.boundaries["bore"]))
        assert len(part.joined) == len(filled.boundaries["bore"])
    assert np.array_equal(np.sort(infill.mesh.boundary_facets()), np.sort(infill.joined))


def test_a_part_keeps_the_edges_that_are_its_own(filled):
    steel, infill = parts_of(filled, BOTH)
    assert len(steel.mesh.boundaries["contact"]) == len(filled.boundaries["contact"])
    assert len(infill.mesh.boundaries["contact"]) == 0


def test_constants_go_to_the_elements_of_their_part(filled):
    parts = parts_of(filled, BOTH)
    lam, mu = per_element(filled, parts)
    for part in parts:
        assert set(lam[part.elements]) == {part.material.lam}
        assert set(mu[part.elements]) == {part.material.mu}


@pytest.mark.parametrize(
    "groups",
    [
        {"steel": [0, 1, 2], "infill": [4, 5, 6, 7]},
        {"steel": [0, 1, 2, 3], "infill": [3, 4, 5, 6, 7]},
    ],
    ids=["a gap", "twice"],
)
def test_materials_must_cover_the_mesh_once(groups):
    mesh = block(np.linspace(0, 1, 3), np.linspace(0, 1, 3), "bottom", "midplane")
    mesh = mesh.with_subdomains({k: np.array(v, dtype=np.int32) for k, v in groups.items()})
    assert mesh.t.shape[1] == 8
    with pytest.raises(SolveError, match=r"steel, infill .* just once"):
        parts_of(mesh, BOTH)


def test_a_material_without_its_part_is_an_error():
    with pytest.raises(SolveError, match="infill"):
        parts_of(member_mesh(75.0, 50.0, 4.0, 4.0), BOTH)
