"""The clause whose ratio of demand to resistance is another in a specimen of reduced size.

All ratios are the same in both but that of rollers after AISC 360: above a diameter its strength
grows as the root of the diameter, and below as the diameter. Of the share of a wall that AISC 360
counts, which the file of a specimen cannot state, that file's own remarks tell.
"""

from contactfe.case import Case
from contactfe.codes.aisc_360.bearing import BAND, roller

_YIELD = 300.0
"""MPa, for a share of two strengths of one steel: whichever it is."""


def roller_bound(case: Case) -> float:
    """The diameter, mm, above which the clause does not scale; it has a form for each system."""
    return BAND[case.report_units]


def roller_shares(case: Case, scale: float) -> dict[str, float]:
    """The clause's ratio in a specimen over that in its prototype, by section.

    Empty where the case does not apply it, or no section is above the bound.
    """
    if "AISC" not in case.standards.families:
        return {}
    bound = roller_bound(case)
    above = [section for section in case.sections if section.outside_diameter > bound]
    return {section.name: _share(section.outside_diameter, scale, case) for section in above}


def _share(diameter: float, scale: float, case: Case) -> float:
    """The steel drops out of it."""
    stated = case.standards.method, case.report_units
    specimen, prototype = (
        roller(by, by * diameter, _YIELD, *stated).ratio for by in (scale, 1.0)
    )  # fmt: skip
    return specimen / prototype
