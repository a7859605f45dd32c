"""Peaks over mesh levels as they are drawn."""

import numpy as np
import pytest
from figures import figure_of

from contactfe.report.figures import save_figures
from contactfe.report.figures.choice import chosen
from contactfe.report.figures.convergence import convergence_figure, history
from contactfe.report.figures.draw import FIGURES, figures_of


def test_convergence_is_drawn_where_an_accuracy_is_asked_for(comparison, oblique, tmp_path):
    assert list(figures_of(comparison.case)) == list(FIGURES)
    assert list(figures_of(oblique.case)) == [*FIGURES, "convergence.png"]
    written = [p.name for p in save_figures(oblique, tmp_path)]
    assert written == [p for p in figures_of(oblique.case) if (tmp_path / p).is_file()]
    with pytest.raises(ValueError, match="no accuracy"):
        convergence_figure(comparison, chosen(comparison))


def test_every_level_has_its_peak_and_uncertainty(oblique):
    (result,) = oblique.sections
    (ax,) = figure_of("convergence.png", oblique).axes
    assert ax.get_xscale() == "log"
    band = next(p for p in ax.patches if p.get_label() == "accuracy asked for")
    low, high = band.get_y(), band.get_y() + band.get_height()
    assert (low, high) == pytest.approx((-5.0, 5.0))
    assert len(ax.containers) == 2
    for number, container in enumerate(ax.containers):
        values = history(result, number)
        line, _, (bars,) = container.lines
        np.testing.assert_array_equal(line.get_ydata(), [v.value for v in values])
        # Marks are set apart by a few per cent.
        unknowns = [level.unknowns for level in result.levels]
        np.testing.assert_allclose(line.get_xdata(), unknowns, rtol=0.05)
        peak, uncertainty = result.levels[-1].peaks[number]
        assert values[-1].value == 0.0
        assert values[-1].uncertainty == pytest.approx(100.0 * uncertainty / peak)
        coarse, _ = result.levels[0].peaks[number]
        assert values[0].value == pytest.approx(100.0 * (coarse - peak) / peak)
        assert np.isnan(values[0].uncertainty)
        last = bars.get_segments()[-1]
        assert np.ptp(last[:, 1]) == pytest.approx(2.0 * values[-1].uncertainty)
