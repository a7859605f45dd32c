"""Elimination by nested dissection: every node once, the last ones last, and little fill."""

import bodies
import numpy as np
import pytest
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

from contactfe.solve.condense import dofs_of
from contactfe.solve.elastic import gradients, stiffness
from contactfe.solve.ordering import elimination_order, factored
from contactfe.verify.bodies import STEEL


@pytest.fixture(scope="module")
def tube():
    return bodies.member(75.0, 50.0, 1.1, "beam shear", 4.0, tangential=True)


def test_every_node_comes_once_and_those_named_last_at_the_end(tube):
    last = tube.contact
    order = elimination_order(tube.mesh, last)
    assert np.array_equal(np.sort(order), np.arange(tube.mesh.doflocs.shape[1]))
    assert set(order[-len(last) :]) == set(last)


@pytest.mark.parametrize("cells", [1, 2, 3, 7])
def test_meshes_of_a_few_elements_are_ordered_as_well(cells):
    mesh = bodies.block(np.linspace(0, 3, cells + 1), np.linspace(0, 1, 2), "bottom", "held")
    order = elimination_order(mesh)
    assert np.array_equal(np.sort(order), np.arange(mesh.doflocs.shape[1]))


def test_the_fill_is_near_that_of_minimum_degree():
    """Without an order that suits the mesh it is many times as much."""
    mesh = bodies.member_mesh(75.0, 50.0, 1.1, 2.0)
    count = mesh.t.shape[1]
    K = stiffness(mesh, np.full(count, STEEL.lam), np.full(count, STEEL.mu), gradients(mesh))
    free = dofs_of(elimination_order(mesh))[:-4]
    A = K[free][:, free]
    least = splu(A, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}).nnz
    assert factored(A).nnz < 1.6 * least


def test_the_factors_solve_and_keep_the_order(tube):
    A = tube.stiffness[tube.free][:, tube.free]
    found = factored(A)
    assert np.array_equal(found.perm_c, np.arange(A.shape[0]))
    assert np.array_equal(found.perm_r, np.arange(A.shape[0]))
    load = np.zeros(A.shape[0])
    load[-1] = 1.0
    assert A @ found.solve(load) == pytest.approx(load, abs=1e-9)


def test_a_singular_matrix_is_refused():
    with pytest.raises(RuntimeError):
        factored(csc_matrix(np.zeros((3, 3))))
