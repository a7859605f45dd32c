from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from bodies import assess, case

from contactfe.assess import accuracy, resources
from contactfe.assess.accuracy import Levels, Solved, peaks_of, solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.errors import SolveError
from contactfe.section.grading import Patch


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
        uncertainty = [v.uncertainty for v in levels.peaks(k)[1:]]
        assert uncertainty == sorted(uncertainty, reverse=True)
    result = assess(c)
    assert result.stopped == ""
    assert [level.size for level in result.levels] == scales
    assert result.levels[0].peaks[0][1] is None
    assert result.levels[-1].peaks[0] == (
        result.member.peak_von_mises.value,
        result.member.peak_von_mises.uncertainty,
    )


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
    assert "uncertainty of its peak is 0.3" in levels.stopped
    assert len(levels.solved) == 2  # what was reached is still there


def test_a_machine_that_does_not_tell_its_memory_is_trusted(monkeypatch):
    def unknown(_):
        raise ValueError("unrecognised configuration name")

    monkeypatch.setattr(resources.os, "sysconf", unknown)
    assert resources.room_for(100_000.0) == ""


def test_the_floor_shrinks_with_the_elements():
    assert accuracy.numerical_uncertainty(100.0, 100.0, 0.5) == pytest.approx(0.15)
    assert accuracy.numerical_uncertainty(100.0, 103.0, 0.5) == pytest.approx(3.0)


def peak(stress, x=0.0, y=0.0):
    return SimpleNamespace(von_mises=stress, x=x, y=y)


def test_what_the_neighbours_add_is_no_surer_for_the_accuracy_than_as_it_is_printed():
    def solved(post, slice_):
        own = SimpleNamespace(peaks=(SimpleNamespace(von_mises=slice_),))
        peaks = (SimpleNamespace(von_mises=post),)
        state = SimpleNamespace(patches=())
        reading = SimpleNamespace(member_peaks=peaks, slice=own, patches=(), state=state)
        level = SimpleNamespace(case=case([(150.0, 25.0)], line_load=600.0), scale=1.0)
        return Solved(level, reading, 1, ())

    levels = Levels((solved(300.0, 200.0), solved(300.0, 200.0)))
    assert levels.peaks(0)[-1].uncertainty == pytest.approx(0.06 * 100.0)
    assert accuracy._worst(levels) == pytest.approx(0.02)


def test_every_plate_counts_in_the_accuracy():
    plates = tuple(SimpleNamespace(peaks=(peak(p), peak(1.0))) for p in (200.0, 100.0))
    reading = SimpleNamespace(member_peaks=(peak(300.0), peak(2.0)), patches=plates)
    assert peaks_of(reading) == (300.0, 200.0, 100.0)


@pytest.mark.parametrize(
    ("motions", "slips"),
    [(("sticking",), False), (("partial slip",), True), (("full sliding", "partial slip"), True)],
)
def test_partial_slip_of_any_patch_widens_the_uncertainty(motions, slips):
    state = SimpleNamespace(patches=[SimpleNamespace(motion=m) for m in motions])
    assert accuracy.slipping(SimpleNamespace(state=state)) is slips
    # Errors that fall with the root of the element size: half of it leaves 1/√2 of the error, so
    # that of the finer level is the difference over √2 − 1 (derived here).
    found = accuracy.numerical_uncertainty(100.0, 103.0, partial_slip=slips)
    assert found == pytest.approx(3.0 / (np.sqrt(2.0) - 1.0) if slips else 3.0)


def levels(fine, coarse, scale):
    """Two levels that are made up: what is read off them is what they are given as."""

    def one(figure):
        state = SimpleNamespace(patches=())
        reading = SimpleNamespace(figure=figure, state=state)
        return Solved(SimpleNamespace(scale=scale), reading, 1, ())

    return Levels((one(coarse), one(fine)))


def test_the_least_uncertainty_shrinks_with_the_elements():
    of = levels(1.0, 1.001, 0.5)
    assert of.value(lambda r: r.figure, 0.1).uncertainty == pytest.approx(0.05)
    assert of.value(lambda r: r.figure, 0.001).uncertainty == pytest.approx(0.0015)


def test_every_place_where_the_stress_has_peaked_stays_refined(monkeypatch):
    # A peak that goes to and fro between two places is held once both are fine.
    places = iter([(0.0, 8.0), (8.0, 0.0), (0.0, 8.0)])
    asked = []

    def build(case, bodies, section, patches, scale, focus):
        asked.append(focus)
        refined = lambda x, y: any(np.hypot(x - u, y - v) < 0.2 for u, v in focus)  # noqa: E731
        return SimpleNamespace(grading=SimpleNamespace(refined=refined))

    patches = (Patch(0.0, 1.0),)
    monkeypatch.setattr(accuracy, "build", build)
    monkeypatch.setattr(
        accuracy, "read", lambda _: SimpleNamespace(member_peaks=(peak(1.0, *next(places)),))
    )
    monkeypatch.setattr(accuracy, "patches_of", lambda _: patches)
    for check in ("check_displacement", "check_patch"):
        monkeypatch.setattr(accuracy, check, lambda *_: None)
    solved = accuracy.settled(None, SimpleNamespace(radius=1.0), None, patches, 1.0, ())
    assert solved.meshes == 3
    assert [len(focus) for focus in asked] == [0, 1, 2]
    assert solved.focus == asked[-1]


def test_a_level_that_cannot_be_solved_leaves_those_that_were(monkeypatch):
    honest = accuracy.settled

    def fails(*words):
        if words[4] < 1.0:
            raise SolveError("contact residual 7e-09 exceeds 1e-09")
        return honest(*words)

    monkeypatch.setattr(accuracy, "settled", fails)
    _, levels = solved(0.001)
    assert len(levels.solved) == 2
    assert "residual 7e-09" in levels.stopped
