"""What a drawn figure says, read off it: its heads, its legend, and lines by their labels; and
comparisons of other sizes to draw.
"""

from dataclasses import replace
from itertools import combinations

from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.text import Text
from matplotlib.transforms import Bbox

from contactfe.assess.results import Comparison
from contactfe.report.figures.choice import chosen
from contactfe.report.figures.draw import figures_of
from contactfe.report.figures.ink import lay_out, settings
from contactfe.report.figures.panels import NAMED


def heads(figure: Figure) -> list[tuple[str, str]]:
    """Name and note of every head, panel by panel."""
    placed = [
        text.get_text()
        for ax in figure.axes
        for text in ax.texts
        if getattr(text, "xycoords", None) == "axes fraction" and text.xy == (0.0, 1.0)
    ]
    return [
        (name.replace("\n", " "), note)
        for name, note in zip(placed[::2], placed[1::2], strict=True)
    ]


def check_legend(figure: Figure) -> list[str]:
    """The labels of the legend: each of the panels once, and with the look that it has there.

    But for the lines that are named where they run.
    """
    (legend,) = figure.legends
    drawn: dict[str, list[Artist]] = {}
    lines = [line for ax in figure.axes for line in ax.lines if line.get_gid() == NAMED]
    named = {str(line.get_label()) for line in lines}
    for ax in figure.axes:
        for handle, label in zip(*ax.get_legend_handles_labels(), strict=True):
            if label not in named:
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


def check_texts(figure: Figure) -> None:
    """No text of a figure that is laid out lies on another or leaves the page."""
    texts = _texts(figure)
    for (a, box), (b, other) in combinations(texts, 2):
        overlap = (
            min(box.x1, other.x1) - max(box.x0, other.x0),
            min(box.y1, other.y1) - max(box.y0, other.y0),
        )
        assert min(overlap) <= 1.0, (a, b)
    for text, box in texts:
        assert figure.bbox.x0 <= box.x0 <= box.x1 <= figure.bbox.x1, text
        assert box.y1 <= figure.bbox.y1, text  # legend and caption hang below


def _texts(figure: Figure) -> list[tuple[str, Bbox]]:
    """Every text seen, with its box in pixels, without the line that leads from it."""
    texts: list[Text] = [*figure.texts, *figure.artists]  # type: ignore[list-item]
    for of in figure.legends:
        texts += of.get_texts()
    for ax in figure.axes:
        texts += [*ax.texts, ax.xaxis.label, ax.yaxis.label]
        for axis in (ax.xaxis, ax.yaxis):
            texts += [
                tick.label1
                for tick in axis.get_major_ticks()
                if tick.label1.get_visible()
                and axis.get_view_interval().min()
                <= tick.get_loc()
                <= axis.get_view_interval().max()
            ]
    return [(t.get_text(), Text.get_window_extent(t)) for t in texts if t.get_text()]


def line_of(ax: Axes, label: str) -> Line2D:
    """The only line of that label in a panel."""
    (found,) = (line for line in ax.get_lines() if line.get_label() == label)
    return found


def single_of(comparison):
    return replace(comparison, sections=comparison.sections[1:])


def many_of(comparison):
    """Six sections, made of two solved ones under other names."""
    solid, tube = comparison.sections
    sections = tuple(
        replace(r, section=replace(r.section, name=f"{r.section.name} no. {k}"))
        for k, r in enumerate((tube, tube, solid, tube, solid, tube))
    )
    names = tuple(r.section.name for r in sections)
    return replace(comparison, sections=sections, by_concentration=names[::-1])


def four_of(comparison):
    """The same section four times, as many as a figure has room for."""
    (result,) = comparison.sections
    sections = tuple(
        replace(result, section=replace(result.section, name=f"{result.section.name} {k}"))
        for k in range(4)
    )
    names = tuple(r.section.name for r in sections)
    return replace(comparison, sections=sections, by_concentration=names)


_DRAWN: dict[tuple[str, int], tuple[Comparison, Figure]] = {}


def figure_of(name: str, comparison: Comparison) -> Figure:
    """A figure of a comparison as it is laid out, drawn once for all tests of it."""
    key = name, id(comparison)
    if key not in _DRAWN:
        with settings():
            figure = figures_of(comparison.case)[name](comparison, chosen(comparison))
            lay_out(figure)
            figure.draw_without_rendering()
        _DRAWN[key] = comparison, figure  # while it is kept, no other has its id
    return _DRAWN[key][1]
