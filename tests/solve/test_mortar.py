import numpy as np
import pytest

from contactfe.errors import SolveError
from contactfe.solve.mortar import couple


def line(corners: np.ndarray, bend: float = 0.0):
    """Nodes of a line of quadratic edges in order of x, middles moved by ``bend`` of the length."""
    middle = (corners[:-1] + corners[1:]) / 2 + bend * np.diff(corners)
    x = np.sort(np.concatenate([corners, middle]))
    k = 2 * np.arange(len(corners) - 1)
    return x, np.stack([k, k + 2, k + 1])


MEMBER = line(np.array([-1.0, -0.45, -0.1, 0.2, 0.7, 1.0]), 0.01)
PLATE = line(np.array([-1.3, -0.8, -0.3, 0.15, 0.25, 0.9, 1.4]))


def test_rows_of_the_transfer_sum_to_the_weight():
    c = couple(*MEMBER, *PLATE, lambda x: 0 * x)
    assert c.transfer.sum(axis=1) == pytest.approx(c.weight, abs=1e-14)
    assert c.weight.sum() == pytest.approx(2.0, rel=1e-13)  # the whole line
    assert np.all(c.weight > 0.0)


def test_a_line_coupled_with_itself_is_diagonal():
    # ∫ψj φk = δjk ∫φk: this is what makes the multipliers dual.
    c = couple(*MEMBER, *MEMBER, lambda x: 0 * x)
    assert c.transfer == pytest.approx(np.diag(c.weight), abs=1e-14)


def test_a_quadratic_displacement_passes_between_meshes_unchanged():
    # Straight edges: the plate holds any quadratic exactly, and the dual functions reproduce its
    # weighted nodal values on the member.
    member = line(np.array([-1.0, -0.45, -0.1, 0.2, 0.7, 1.0]))
    c = couple(*member, *PLATE, lambda x: 0 * x)
    for power in range(3):
        assert c.transfer @ PLATE[0] ** power == pytest.approx(
            c.weight * member[0] ** power, abs=1e-14
        )


def test_weighted_gap_of_a_quadratic_gap():
    member = line(np.linspace(-1, 1, 5))
    c = couple(*member, *PLATE, lambda x: 3.0 + x**2)
    assert c.gap == pytest.approx(c.weight * (3.0 + member[0] ** 2), abs=1e-13)


def test_a_member_longer_than_the_plate_is_an_error():
    with pytest.raises(SolveError, match="past"):
        couple(*PLATE, *MEMBER, lambda x: 0 * x)
