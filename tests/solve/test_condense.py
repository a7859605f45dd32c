from dataclasses import replace

import numpy as np
import pytest
from bodies import STEEL, block, member

from contactfe.errors import SolveError
from contactfe.solve import condense as condense_module
from contactfe.solve.condense import (
    Hold,
    balanced,
    condense,
    displacement,
    group_nodes,
    imbalance,
    reaction,
)


def test_compliance_is_symmetric_and_positive(tube, bed):
    # Maxwell-Betti reciprocity; positive because pushing a body costs work.
    for body in (tube, bed):
        unit = np.zeros((body.unknowns, 2))
        i, j = body.contact[3], body.contact[-8]
        unit[2 * i + 1, 0] = unit[2 * j + 1, 1] = 1.0
        u = displacement(body, unit)
        assert u[2 * j + 1, 0] == pytest.approx(u[2 * i + 1, 1], rel=1e-9)
        assert np.linalg.eigvalsh(body.compliance).min() > 0.0


def test_a_load_off_the_axis_is_balanced_in_force_and_moment(tube):
    load = np.zeros(tube.unknowns)
    load[2 * tube.contact[0] + 1] = 100.0
    load[2 * tube.contact[0]] = 7.0
    total = tube.rigid @ balanced(tube, load)
    assert np.abs(total).max() < 1e-9 * 100.0 * 75.0
    u = displacement(tube, load)
    assert imbalance(tube, load, u) < 1e-12  # the pins of a balanced body carry nothing


def test_displacement_of_a_balanced_body_is_free_of_travel(tube):
    load = np.zeros(tube.unknowns)
    load[2 * tube.contact + 1] = 1.0
    work = tube.hold.balance @ displacement(tube, load)
    assert np.abs(work).max() < 1e-12


def test_two_ways_of_pinning_a_balanced_body_agree():
    # The pins only remove rigid motion, so where they sit must not matter.
    body = member(75.0, 50.0, 2.0, "beam shear", scale=3.0)
    x = body.mesh.doflocs[0]
    left, right = np.argmin(x), np.argmax(x)
    other = condense(
        body.mesh, STEEL, Hold(np.array([2 * left, 2 * left + 1, 2 * right + 1]), body.hold.balance)
    )
    assert np.allclose(other.compliance, body.compliance, rtol=0, atol=1e-9 * body.compliance.max())


def test_reaction_of_a_held_body_is_the_load(bed):
    load = np.zeros(bed.unknowns)
    load[2 * bed.contact + 1] = -2.0
    u = displacement(bed, load)
    assert reaction(bed, load, u) == pytest.approx(2.0 * len(bed.contact), rel=1e-10)


@pytest.mark.parametrize("fixed", [[], [0], [0, 1]], ids=["free", "one pin", "still turns"])
def test_a_body_that_is_not_held_is_an_error_not_a_number(fixed):
    mesh = block(np.linspace(0, 1, 4), np.linspace(0, 1, 4), "bottom", "midplane")
    with pytest.raises(SolveError):
        condense(mesh, STEEL, Hold(np.array(fixed, dtype=int)))


def test_nodes_of_a_group_come_in_order_and_an_empty_group_is_an_error(bed):
    x = bed.mesh.doflocs[0, group_nodes(bed.mesh, "contact")]
    assert np.all(np.diff(x) > 0.0)
    bare = replace(bed.mesh, _boundaries={"contact": np.array([], dtype=np.int32)})
    with pytest.raises(SolveError, match="contact"):
        group_nodes(bare, "contact")


def test_balance_is_force_along_each_axis_and_a_pure_torque(tube):
    x, y = tube.mesh.doflocs
    fx, fy = tube.hold.balance.reshape(3, -1, 2).transpose(2, 0, 1)
    resultants = np.stack([fx.sum(axis=1), fy.sum(axis=1), (x * fy - (y - 75.0) * fx).sum(axis=1)])
    along_x, along_y, torque = resultants.T
    assert along_x == pytest.approx([1.0, 0.0, 0.0], abs=2e-3)  # of the coarse mesh's circles
    assert along_y == pytest.approx([0.0, 1.0, 0.0], abs=2e-3)
    assert torque[:2] == pytest.approx([0.0, 0.0], abs=1e-5)
    assert torque[2] > 1.0


def test_an_unsymmetric_compliance_is_refused(monkeypatch, bed):
    honest = condense_module.displacement

    def skew(body, load):
        u = honest(body, load)
        u[2 * body.contact[0] + 1, -1] *= 1.001
        return u

    monkeypatch.setattr(condense_module, "displacement", skew)
    with pytest.raises(SolveError, match="unsymmetric"):
        condense(bed.mesh, STEEL, bed.hold)
