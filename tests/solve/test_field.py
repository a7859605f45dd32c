import numpy as np
import pytest
from bodies import member

from contactfe.solve.field import StressField, max_shear, sample, traction, von_mises
from contactfe.solve.lines import edge_nodes


@pytest.mark.parametrize(
    # σx, σy, σz, τxy: von Mises, maximum shear. Textbook states; common practice, no source.
    ("stress", "equivalent", "shear"),
    [
        ([100.0, 0.0, 0.0, 0.0], 100.0, 50.0),  # uniaxial
        ([100.0, 50.0, 0.0, 0.0], np.sqrt(7500.0), 50.0),  # the zero out of plane counts
        ([100.0, 50.0, 120.0, 0.0], np.sqrt(3900.0), 35.0),  # so does a larger one
        ([0.0, 0.0, 0.0, 40.0], np.sqrt(3.0) * 40.0, 40.0),  # pure shear
        ([-70.0, -70.0, -70.0, 0.0], 0.0, 0.0),  # even pressure
        ([-100.0, -100.0, -60.0, 0.0], 40.0, 20.0),  # middle of a Hertz patch, ν = 0.3
    ],
)
def test_equivalent_stresses_of_known_states(stress, equivalent, shear):
    assert von_mises(np.array(stress)) == pytest.approx(equivalent)
    assert max_shear(np.array(stress)) == pytest.approx(shear)


def test_samples_find_a_peak_between_the_nodes():
    mesh = member(75.0, 0.0, 5.0, "beam shear", 4.0).mesh
    x, y = mesh.doflocs
    # A parabola whose top lies at no node: quadratic interpolation holds it exactly.
    stress = np.zeros((x.size, 4))
    stress[:, 0] = 100.0 - ((x - 31.7) ** 2 + (y - 92.3) ** 2) / 50.0
    field = StressField(mesh, stress, np.zeros((x.size, 2)))
    samples = sample(field)
    top = np.argmax(samples.von_mises * (samples.von_mises <= 100.0 + 1e-9))
    assert samples.von_mises[top] == pytest.approx(100.0, abs=0.2)
    assert np.hypot(samples.x[top] - 31.7, samples.y[top] - 92.3) < 3.0
    assert samples.von_mises[top] > field.von_mises[field.von_mises <= 100.0].max()


def test_traction_on_an_edge_is_the_stress_through_it():
    # Even stress on a round: σ n for every direction of n, of which the edges take their parts.
    body = member(75.0, 50.0, 5.0, "beam shear", 2.0)
    mesh, (sx, sy, t) = body.mesh, (120.0, -45.0, 70.0)
    stress = np.tile([sx, sy, 30.0, t], (mesh.doflocs.shape[1], 1))
    field = StressField(mesh, stress, np.zeros((len(stress), 2)))
    facets = mesh.boundaries["bore"]
    across, along = traction(field, facets)
    x, y = mesh.doflocs[:, edge_nodes(mesh, facets)]
    nx, ny = x / 50.0, (y - 75.0) / 50.0
    through = np.array([sx * nx + t * ny, t * nx + sy * ny])
    # Edges are parabolas: their normals are those of the circle to 1e-3.
    assert across == pytest.approx(through[0] * nx + through[1] * ny, abs=0.3)
    assert np.hypot(across, along) == pytest.approx(np.hypot(*through), abs=0.3)
