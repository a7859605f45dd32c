from dataclasses import replace

import pytest
from bodies import case

from contactfe.assess import accuracy, resources
from contactfe.assess.accuracy import peaks_of, solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.section import assess_section


def solved(wanted, section=(100.0, 15.0)):
    c = replace(case([section], line_load=600.0), accuracy=wanted)
    return c, solve_levels(c, c.sections[0], Bodies(c))


def test_a_loose_accuracy_costs_nothing_more():
    _, levels = solved(0.05)
    assert [s.level.scale for s in levels.solved] == [2.0, 1.0]
    assert levels.stopped == ""


def test_finer_levels_follow_until_the_peaks_are_sure_enough():
    c, levels = solved(0.002)
    scales = [s.level.scale for s in levels.solved]
    assert scales == [2.0, 1.0, 0.5]
    unknowns = [s.level.joint.unknowns for s in levels.solved]
    assert unknowns == sorted(unknowns)
    for k in range(2):
        value = levels.value(lambda r, k=k: peaks_of(r)[k])
        assert value.uncertainty <= 0.002 * value.value
        # Each finer level is surer, and the last was needed.
        blur = [v.uncertainty for v in levels.history(lambda r, k=k: peaks_of(r)[k])[1:]]
        assert blur == sorted(blur, reverse=True)
    result = assess_section(c, c.sections[0], Bodies(c))
    assert result.stopped == ""
    assert [level.size for level in result.levels] == scales
    assert result.levels[0].peaks[0][1] is None
    assert result.levels[-1].peaks[0] == (result.member.peak.von_mises, result.member.uncertainty)


@pytest.mark.parametrize(
    ("limit", "value", "words"),
    [
        ("LARGEST", 40_000, "40000 is the bound"),
        ("BYTES_PER_UNKNOWN", 1e9, "GB of memory"),
    ],
)
def test_a_bound_stops_refinement_and_says_so(monkeypatch, limit, value, words):
    monkeypatch.setattr(resources, limit, value)
    _, levels = solved(0.001)
    assert words in levels.stopped
    assert "the uncertainty of its peak is 0.3" in levels.stopped
    assert len(levels.solved) == 2  # what was reached is still there


def test_a_machine_that_does_not_tell_its_memory_is_trusted(monkeypatch):
    def unknown(_):
        raise ValueError("unrecognised configuration name")

    monkeypatch.setattr(resources.os, "sysconf", unknown)
    assert resources.room_for(100_000.0) == ""


def test_the_floor_shrinks_with_the_elements():
    assert accuracy.uncertainty(100.0, 100.0, 0.5) == pytest.approx(0.15)
    assert accuracy.uncertainty(100.0, 103.0, 0.5) == pytest.approx(3.0)
