"""File names made of section names, which may hold any character."""

import re
import unicodedata
from collections.abc import Iterable

_LONGEST = 60


def slug(text: str) -> str:
    """The text in lower case ASCII letters, digits and hyphens; "section" where nothing is left.

    >>> slug("Tube 6 x 3/4 in"), slug("Rohr Ø 150 × 20"), slug("鋼管")
    ('tube-6-x-3-4-in', 'rohr-150-20', 'section')
    """
    ascii_text = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", ascii_text)[:_LONGEST].strip("-") or "section"


def unique_slugs(names: Iterable[str]) -> list[str]:
    """A slug for each name; repeated ones are numbered from the second on.

    >>> unique_slugs(["tube 6", "tube/6", "tube 6 2"])
    ['tube-6', 'tube-6-2', 'tube-6-2-2']
    """
    slugs: list[str] = []
    for name in names:
        base = candidate = slug(name)
        number = 2
        while candidate in slugs:
            candidate = f"{base}-{number}"
            number += 1
        slugs.append(candidate)
    return slugs
