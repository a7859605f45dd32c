"""What of the clauses of a case does not scale with its specimen.

All ratios of demand to resistance are the same in both, but for that of rollers after AISC 360:
above a diameter its strength grows as the root of the diameter, and below as the diameter.
"""

from collections.abc import Iterator

from contactfe.case import Case
from contactfe.codes.aisc_360.bearing import BAND, roller
from contactfe.report import words

_YIELD = 300.0
"""MPa, for a share of two strengths of one steel: whichever it is."""


def unscaled_clauses(case: Case, scale: float) -> Iterator[str]:
    """A sentence where a clause of the case has another ratio in its specimen; else nothing."""
    if "AISC" not in case.standards.families:
        return
    bound = BAND[case.report_units]
    found: dict[str, list[str]] = {}
    for section in case.sections:
        if section.outside_diameter > bound:
            share = f"{_share(section.outside_diameter, scale, case):.3f}"
            found.setdefault(share, []).append(f"“{words.one_line(section.name)}”")
    if not found:
        return
    each = ", ".join(
        f"{share} of the prototype's for {', '.join(of)}" for share, of in found.items()
    )
    yield (
        "AISC 360, J7(b), for rollers does not scale: above a diameter of"
        f" {case.display.length.text(bound)} its strength grows as the root of the diameter. Its"
        f" ratio in the specimen is {each}, so a specimen that satisfies it does not tell that the"
        " prototype does."
    )


def _share(diameter: float, scale: float, case: Case) -> float:
    """The clause's ratio in a specimen over that in its prototype; the steel drops out of it."""
    stated = case.standards.method, case.report_units
    specimen, prototype = (
        roller(by, by * diameter, _YIELD, *stated).ratio for by in (scale, 1.0)
    )  # fmt: skip
    return specimen / prototype
