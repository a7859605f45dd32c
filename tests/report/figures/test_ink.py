"""Colours, and how heads and captions fit."""

import numpy as np
import pytest
from matplotlib import colormaps
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb

from contactfe.report.figures.choice import chosen
from contactfe.report.figures.draw import FIGURES
from contactfe.report.figures.ink import ACROSS, ALONG, INK, STRESS, lay_out, settings
from contactfe.report.figures.panels import (
    caption,
    caption_of,
    heads,
    legend,
    name_lines,
    panels,
)


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


def test_a_head_is_set_in_lines_and_a_caption_breaks_its_longest_words():
    for name in ("W" * 200, "iiii " * 60, "stop on grid line A, level 2, tube 120 x 25 " * 3):
        figure, axes = panels(3, (1.0,))
        tops = list(axes[:, 0])
        heads(tops, [(name, "of any lines")] * 3)
        kept, note = tops[0].texts[-2:]
        assert kept.get_text().count("\n") == 2
        begin, end = kept.get_text().replace("\n", " ").split("…")
        assert min(len(begin), len(end)) >= 6
        joined = [part.replace(" ", "") for part in (name, begin, end)]
        assert joined[0].startswith(joined[1])
        assert joined[0].endswith(joined[2])
        FigureCanvasAgg(figure).draw()
        width = tops[0].bbox.width
        assert 0.7 * width < kept.get_window_extent().width < 1.1 * width
        assert kept.get_window_extent().y0 > note.get_window_extent().y0
    figure, ((ax,),) = panels(1, (1.0,))
    heads([ax], [("short", "")])
    assert ax.texts[-2].get_text() == "short"
    caption(figure, "x" * 500 + " $5")
    FigureCanvasAgg(figure).draw()
    (text,) = figure.artists
    assert "".join(text.get_text().split()) == "x" * 500 + "$5"
    assert caption_of(figure) == "X" + "x" * 499 + " $5"


def test_names_that_are_cut_to_the_same_have_their_number():
    _, axes = panels(4, (1.0,))
    names = [f"{'beginsalike' * 20}{k}{'andendsalike' * 20}" for k in range(4)]
    heads(list(axes[:, 0]), [(name, "") for name in names])
    kept = [ax.texts[0].get_text() for ax in axes[:, 0]]
    assert [name[:2] for name in kept] == ["1.", "2.", "3.", "4."]
    assert len(set(kept)) == 4


def test_of_names_that_are_cut_to_the_same_what_differs_is_kept():
    _, axes = panels(4, (1.0,))
    names = [f"{'stop on grid line A ' * 4}level {k} {'of tempered bar ' * 4}" for k in range(4)]
    heads(list(axes[:, 0]), [(name, "") for name in names])
    assert [ax.texts[0].get_text() for ax in axes[:, 0]] == [f"…{k}…" for k in range(4)]


def test_a_line_is_named_where_no_other_runs():
    """Two lines that cross in the middle, and a third along the top."""
    figure, ((ax,),) = panels(1, (1.5,))
    x = np.linspace(0.0, 1.0, 50)
    lines = [ax.plot(x, y, label=name)[0] for name, y in (("up", x), ("down", 1.0 - x))]
    lines += ax.plot(x, 0.0 * x + 1.1, label="level")
    ax.set(xlim=(0.0, 1.0), ylim=(0.0, 1.2))
    name_lines(ax, {"up": "up here", "down": "down here"})
    FigureCanvasAgg(figure).draw()
    assert [text.get_text() for text in ax.texts] == ["up here", "down here"]
    for own, text in zip(lines, ax.texts, strict=False):
        box = text.get_window_extent()
        off = {
            line: np.min(
                np.hypot(
                    *np.maximum(
                        np.abs(ax.transData.transform(line.get_xydata()) - (box.p0 + box.p1) / 2)
                        - box.size / 2,
                        0.0,
                    ).T
                )
            )
            for line in lines
        }
        assert min(off, key=off.get) is own
        assert min(off.values()) > 0.0
    legend(figure, [ax])
    assert [text.get_text() for text in figure.legends[0].get_texts()] == ["level"]


@pytest.mark.parametrize("name", FIGURES)
def test_a_panel_is_measured_once_and_put_where_the_layout_itself_puts_it(
    name, comparison, monkeypatch
):
    measured = []

    def counted(ax, *given, **how):
        measured.append(ax)
        return measure(ax, *given, **how)

    measure = Axes.get_tightbbox
    monkeypatch.setattr(Axes, "get_tightbbox", counted)
    with settings():
        figure, other = (FIGURES[name](comparison, chosen(comparison)) for _ in "ab")
        lay_out(figure)
        once = len(measured)
        FigureCanvasAgg(other)
        other.get_layout_engine().execute(other)
    # One of another size may have other numbers, and is then measured once more.
    assert len(figure.axes) <= once <= 1.5 * len(figure.axes)
    assert len(measured) - once >= 2 * len(other.axes)  # else there is nothing to be saved
    for ax, of in zip(figure.axes, other.axes, strict=True):
        # To the line, in pixels: what is 0.3 mm wide is five of them.
        assert np.abs(ax.bbox.extents - of.bbox.extents).max() < 3.0
