"""Checks by hand of a wall that is tried; nothing is solved here."""

import pytest
from sizings import DATA

from contactfe.assess.sizing.trial import checks_at
from contactfe.case import case_from_dict

LENGTH = 400.0


def checks(**cantilever):
    """Of a post of 150 mm, bent far over its yield strength of 460 MPa."""
    load = {"force": "2000 kN", "effective_length": "200 mm"}
    stated = {"cantilever": {"length": f"{LENGTH} mm", **cantilever}, "load": load}
    case = case_from_dict(DATA | stated)
    return {check.key: check for check in checks_at(case, case.sections[0], 0)}


def test_a_stress_over_yield_is_a_verdict_and_not_out_of_range():
    bending = checks()["post_bending_stress"]
    stress = 32 * 10e3 * 200 * LENGTH / (3.141592653589793 * 150**3)
    assert bending.ratio == pytest.approx(stress / 460, rel=1e-9)
    assert bending.ratio > 2
    assert not bending.satisfied
    assert bending.covers
    assert all(not c.covers or "σ/Y" not in str(c.exceeded) for c in checks().values())


def test_other_limits_of_range_stay():
    bending = checks(length="250 mm")["post_bending_stress"]
    assert [limit.what for limit in bending.exceeded] == ["L/D"]
    assert not bending.covers
