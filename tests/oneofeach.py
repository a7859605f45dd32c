"""A result of each kind of the public interface, made of a comparison or of numbers stated."""

from dataclasses import replace

import pytest
import sweeps
from envelopes import case as envelope_case
from envelopes import row as envelope_row
from motions import moving
from overloads import solved
from sizings import case as sizing_case
from sizings import pool
from springs import bending

from contactfe.assess.by_hand.case import by_hand
from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope
from contactfe.assess.impact import impact_force
from contactfe.assess.sizing.run import size


def an_envelope(comparison):
    of = envelope_case(offset=["0 mm", "40 mm"])
    (section,) = of.sections
    rows = tuple(
        envelope_row(section.name, contact, use)
        for contact, use in zip(of.envelope.contacts, (0.5, 0.7), strict=True)
    )
    at = replace(comparison, sections=comparison.sections[:1])
    found = SectionEnvelope(section, rows, ("passes", "passes"), rows[1], (), at)
    return EnvelopeResult(of, (found,), (section.name,), (section.name,), (), ())


def a_sizing(_):
    with pytest.MonkeyPatch.context() as patch:
        pool(patch)
        return size(sizing_case())


def an_impact(_):
    return impact_force(moving())


def a_sweep(_):
    return sweeps.result([sweeps.row(200.0, sweeps.UNCERTAINTIES), *[sweeps.row(500.0)] * 3])


RESULTS = {
    "Comparison": lambda comparison: comparison,
    "EnvelopeResult": an_envelope,
    "SizingResult": a_sizing,
    "ImpactResult": an_impact,
    "StiffnessResult": lambda _: bending(),
    "OverloadResult": lambda _: solved(),
    "SweepResult": a_sweep,
    "ByHand": lambda comparison: by_hand(comparison.case),
}
