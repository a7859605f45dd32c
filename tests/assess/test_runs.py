import os
import signal
from collections import Counter, deque
from dataclasses import replace

import pytest
from envelopes import case
from hypothesis import given
from hypothesis import strategies as st

from contactfe.assess import runs
from contactfe.assess.accuracy import solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.runs import Crew, shares, solve_row, take
from contactfe.case import Contact
from contactfe.errors import InputError, SolveError

CASE = case(
    offset=["-60 mm", "0 mm", "100 mm"], angle=["0 deg", "8 deg"], friction=[0.3], sections=1
)
(TUBE,) = CASE.sections
JOBS = [(TUBE, contact) for contact in CASE.envelope.contacts]


@pytest.fixture(scope="module")
def alone():
    with Crew(CASE, 1) as crew:
        return list(crew.rows(JOBS))


def test_rows_come_in_order_and_are_those_of_the_section_alone(alone):
    assert [row.contact for row in alone] == [contact for _, contact in JOBS]
    at = CASE.at(JOBS[1][1])
    levels = solve_levels(at, TUBE, Bodies(at))
    post, plate = alone[1].post, alone[1].plate
    assert replace(post.peak, place=None) == levels.peaks(0)[-1]
    assert replace(plate.peak, place=None) == levels.peaks(1)[-1]
    assert post.utilisation.value == post.peak.value / 420.0
    assert plate.utilisation.value == plate.peak.value / 690.0
    assert plate.utilisation.uncertainty == plate.peak.uncertainty / 690.0


def test_neither_order_nor_what_is_kept_changes_a_row(alone, monkeypatch):
    # Bodies are keyed by what they are meshed for, so another history gives the same ones.
    monkeypatch.setattr("contactfe.assess.bodies.MOST_KEPT", 30_000)
    with Crew(CASE, 1) as crew:
        assert list(crew.rows(JOBS[::-1]))[::-1] == alone


def test_two_processes_give_the_same_rows_to_the_last_bit(alone):
    with Crew(CASE, 2) as crew:
        found = {row.contact: row for row in crew.rows(JOBS)}
        full = crew.assessed(JOBS[1:3])
    assert [found[contact] for _, contact in JOBS] == alone
    assert [c.case.contact for c in full] == [contact for _, contact in JOBS[1:3]]
    for comparison, row in zip(full, alone[1:3], strict=True):
        (section,) = comparison.sections
        assert section.member.peak.value == row.post.peak.value
        assert section.plate.utilisation.value == row.plate.utilisation.value


def test_the_reactions_of_a_row_carry_its_load(alone):
    # Edges free to turn: at the middle each carries half the load, at an offset the nearer one
    # (1/2 + offset/width) of it, and what friction turns of it by the thickness.
    for row in alone:
        force, offset = row.values["largest_reaction"], row.contact.offset
        along, across = row.values["reaction_along"], row.values["reaction_across"]
        T = row.values["tangential_load"].value
        assert force.at.zone == ("right edge" if offset > 0 else "left edge") or offset == 0.0
        # Friction acts half a thickness above the middle of the edges; 0.2 for a patch 0.1 mm off.
        share = 600.0 * (0.5 + abs(offset) / 300.0)
        assert across.value == pytest.approx(share, abs=abs(T) * 25.0 / 300.0 + 0.2)
        assert force.value == pytest.approx((along.value**2 + across.value**2) ** 0.5)


def test_tangential_load_is_exact_only_where_friction_is_used_up(alone):
    for row in alone:
        T, motion = row.values["tangential_load"], row.motion
        if motion == "full sliding":
            # To the balance of forces of the solver, 1e-9 of the load.
            assert abs(T.value) == pytest.approx(0.3 * 600.0, abs=1e-6)
            assert T.uncertainty == 0.0
        else:
            assert T.uncertainty >= 0.003 * 0.3 * 600.0 * 0.999
    assert {row.motion for row in alone} >= {"full sliding"}


@pytest.mark.parametrize(("kind", "refused"), [(InputError, True), (SolveError, False)])
def test_an_error_becomes_a_row(monkeypatch, kind, refused):
    def fails(case, *_):
        raise kind(f"{case.source}: too much")

    monkeypatch.setattr(runs, "solve_levels", fails)
    row = solve_row(CASE, TUBE, Contact(), Bodies(CASE))
    assert (row.values, row.error, row.refused) == ({}, "too much", refused)
    assert not row.solved
    with pytest.raises(KeyError):
        _ = row.utilisation


def test_other_faults_are_not_hidden(monkeypatch):
    def fails(*_):
        raise KeyError("a fault of the program")

    monkeypatch.setattr(runs, "solve_levels", fails)
    with pytest.raises(KeyError):
        solve_row(CASE, TUBE, Contact(), Bodies(CASE))


def test_a_process_that_dies_is_an_error(monkeypatch):
    with Crew(CASE, 2) as crew:
        crew._submit(0, abs, -1).result()
        (process,) = crew._workers[0]._processes.values()
        os.kill(process.pid, signal.SIGKILL)
        process.join()
        with pytest.raises(SolveError, match="ended before its work was done"):
            list(crew.rows(JOBS))


def _jobs(sizes):
    """Jobs of one section with that many angles at each offset."""
    return [
        (TUBE, Contact(float(k), 0.01 * j)) for k, size in enumerate(sizes) for j in range(size)
    ]


@given(
    sizes=st.lists(st.integers(1, 40), min_size=1, max_size=12),
    count=st.integers(1, 5),
    data=st.data(),
)
def test_every_job_is_taken_once_whoever_is_faster(sizes, count, data):
    jobs = _jobs(sizes)
    queues = shares(jobs, count)
    taken, workers = [], list(range(count))
    while workers:
        worker = data.draw(st.sampled_from(workers))
        job = take(queues, worker)
        if job is None:
            workers.remove(worker)
        else:
            taken.append(job)
    assert Counter(taken) == Counter(jobs)


def test_shares_keep_plates_together_and_are_even():
    queues = shares(_jobs([5] * 10), 2)
    assert [sum(map(len, queue)) for queue in queues] == [25, 25]
    assert all(len({job[1].offset for job in block}) == 1 for queue in queues for block in queue)
    offsets = [job[1].offset for queue in queues for block in queue for job in block]
    assert offsets == sorted(offsets)


def test_who_has_nothing_left_takes_over_whole_plates_or_half_of_a_long_one():
    (queue,) = shares(_jobs([1, 1, 1, 1, 1]), 1)
    queues = [deque(), queue]
    assert [take(queues, 0)[1].offset for _ in range(2)] == [3.0, 4.0]
    assert len(queue) == 3
    long, short = deque(_jobs([12])), deque(_jobs([11]))
    queues = [deque(), deque([long])]
    assert take(queues, 0) == (TUBE, Contact(0.0, 0.06))
    assert len(long) == 6
    assert take([deque(), deque([short])], 0) is None  # not worth its bodies


def test_the_parts_of_a_reaction_are_no_surer_than_the_whole(alone):
    # One of them may be nothing, or the same on both meshes by statics.
    for row in alone:
        force = row.values["largest_reaction"]
        for key in ("largest_reaction", "reaction_along", "reaction_across"):
            assert row.values[key].uncertainty >= 0.003 * force.value * (1.0 - 1e-12)
