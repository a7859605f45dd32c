"""What a page says, without the wording of it: which sentences have given parts."""

import re
from collections.abc import Iterable

from contactfe.report.blocks import Block, Line, Table


def said(of: str | Iterable[str | Block], *parts: str) -> list[str]:
    """Of a text the sentences, of a page the lines and notes, that have all parts, in any case."""
    if isinstance(of, str):
        texts = re.split(r"(?<=\.) ", " ".join(of.split()))
    else:
        texts = [" ".join(text.split()) for block in of for text in _texts(block)]
    return [text for text in texts if all(part.lower() in text.lower() for part in parts)]


def _texts(block: str | Block) -> list[str]:
    if isinstance(block, Table):
        return block.note.splitlines()
    return [block] if isinstance(block, str) else [block.text] if isinstance(block, Line) else []


def only(of: str | Iterable[str | Block], *parts: str) -> str:
    """The only one of them."""
    found = said(of, *parts)
    assert len(found) == 1, (parts, found)
    return found[0]


def figures(text: str) -> list[float]:
    """The numbers in a text."""
    return [float(figure) for figure in re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?(?!\w)", text)]
