"""Figures of results, drawn from what was computed, with nothing computed anew.

What they are drawn with takes long to load: it is when the first is drawn, and not by who only asks
which there are.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from contactfe.report.figures.draw import Drawable


def save_figures(result: Drawable, folder: Path) -> list[Path]:
    """Draw and write every figure of a result into ``folder``.

    Raises OSError where that cannot be done.
    """
    from contactfe.report.figures.draw import write_figures

    return write_figures(result, folder)
