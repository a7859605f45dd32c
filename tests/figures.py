"""What a drawn figure says, read off it: its heads, its legend, and lines by their labels."""

from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D


def heads(figure: Figure) -> list[tuple[str, str]]:
    """Name and note of every head, panel by panel."""
    placed = [
        text.get_text()
        for ax in figure.axes
        for text in ax.texts
        if getattr(text, "xycoords", None) == "axes fraction" and text.xy == (0.0, 1.0)
    ]
    return list(zip(placed[::2], placed[1::2], strict=True))


def check_legend(figure: Figure) -> list[str]:
    """The labels of the legend: each of the panels once, and with the look that it has there."""
    (legend,) = figure.legends
    drawn: dict[str, list[Artist]] = {}
    for ax in figure.axes:
        for handle, label in zip(*ax.get_legend_handles_labels(), strict=True):
            drawn.setdefault(label, []).append(handle)
    names = [text.get_text() for text in legend.get_texts()]
    assert len(names) == len(set(names))
    assert set(names) == set(drawn)
    for name, shown in zip(names, legend.legend_handles, strict=True):
        if isinstance(shown, Line2D):
            assert _look(shown) in [_look(of) for of in drawn[name] if isinstance(of, Line2D)]
    return names


def _look(of: Line2D) -> tuple[object, ...]:
    return of.get_color(), of.get_marker(), of.is_dashed()


def line_of(ax: Axes, label: str) -> Line2D:
    """The only line of that label in a panel."""
    (found,) = (line for line in ax.get_lines() if line.get_label() == label)
    return found
