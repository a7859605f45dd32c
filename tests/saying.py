"""What a page says, without the wording of it: which sentences have given parts."""

import re
from collections.abc import Iterable

from contactfe.report.blocks import Block, Line


def said(of: str | Iterable[str | Block], *parts: str) -> list[str]:
    """The sentences of a text, or the lines of a page, that have all the parts, in any case."""
    if isinstance(of, str):
        texts = re.split(r"(?<=\.) ", " ".join(of.split()))
    else:
        lines = (text.text if isinstance(text, Line) else text for text in of)
        texts = [" ".join(text.split()) for text in lines if isinstance(text, str)]
    return [text for text in texts if all(part.lower() in text.lower() for part in parts)]


def one(of: str | Iterable[str | Block], *parts: str) -> str:
    """The only one of them."""
    found = said(of, *parts)
    assert len(found) == 1, (parts, found)
    return found[0]


def figures(text: str) -> list[float]:
    """The numbers in a text."""
    return [float(figure) for figure in re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?(?!\w)", text)]
