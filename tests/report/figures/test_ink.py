"""Colours, and how heads and captions fit."""

import numpy as np
from matplotlib import colormaps
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb

from contactfe.report.figures.ink import ACROSS, ALONG, INK, STRESS
from contactfe.report.figures.panels import caption, head, panels


def _lightness(colour):
    linear = np.where(
        np.asarray(colour) <= 0.04045,
        np.asarray(colour) / 12.92,
        ((np.asarray(colour) + 0.055) / 1.055) ** 2.4,
    )
    luminance = linear @ [0.2126, 0.7152, 0.0722]
    return 116 * np.cbrt(luminance) - 16


def test_stress_colours_darken_evenly():
    lightness = _lightness(colormaps[STRESS].colors)
    steps = -np.diff(lightness)
    assert lightness[0] > 90
    assert lightness[-1] < 25
    assert steps.min() > 0.5 * steps.mean()
    assert steps.max() < 1.6 * steps.mean()


def test_curves_differ_in_lightness():
    across, along, mises = sorted(_lightness(to_rgb(c)) for c in (ACROSS, ALONG, INK))
    assert min(along - across, mises - along) > 15


def test_a_head_is_cut_to_its_panel_and_a_caption_breaks_its_longest_words():
    figure, ((ax,),) = panels(1, 2.0, (1.0,))
    for name in ("W" * 80, "iiii " * 60, "stop on grid line A, level 2, tube 120 x 25"):
        head(ax, name, "of any lines")
        kept, note = ax.texts[-2:]
        begin, end = kept.get_text().split("…")
        assert min(len(begin), len(end)) >= 6
        assert name.startswith(begin)
        assert name.rstrip().endswith(end)
        FigureCanvasAgg(figure).draw()
        assert 0.8 * ax.bbox.width < kept.get_window_extent().width < 1.1 * ax.bbox.width
        assert kept.get_window_extent().y0 > note.get_window_extent().y0
    head(ax, "short")
    assert ax.texts[-2].get_text() == "short"
    caption(figure, "x" * 500 + " $5")
    FigureCanvasAgg(figure).draw()
    (text,) = figure.artists
    assert "".join(text.get_text().split()) == "x" * 500 + "$5"
