"""Points solved by one process or several: each once, whoever solves it and whatever ends."""

import os
import signal
import subprocess
import sys
import threading
import time
from dataclasses import replace
from multiprocessing import active_children

import pytest
from crews import Ends, EndsOnce, Fails, Threads, Where, end
from sweeps import Deadly, StandIn, many, tasks

from contactfe.assess.sweep.task import Task
from contactfe.errors import InputError, SolveError
from contactfe.study.crew import Crew, how_many, usable_cores


def test_one_process_works_here_in_order():
    with Crew("s") as crew:
        found = list(crew.each(map(Where, range(4)), 4))
        assert active_children() == []
    assert [answer[:3] for _, answer in found] == [(k, "s", os.getpid()) for k in range(4)]
    assert [answer[3] for _, answer in found] == [1, 2, 3, 4]  # what is kept stays


def test_others_share_the_work_of_this_process_and_answers_come_in_order():
    points = [Where(k) for k in range(60)]
    with Crew("s", 2) as crew:
        crew.solve([Where(0, 0.0), Where(1, 4.0), Where(2, 0.0)])  # until the other is there
        found = crew.solve(points)
        assert len(active_children()) == 1
    assert [number for number, *_ in found] == list(range(60))
    workers = {pid for *_, pid, _ in found}
    assert len(workers) == 2
    assert os.getpid() in workers
    assert active_children() == []


def test_a_crew_that_is_apart_leaves_this_process_out():
    with Crew("s", 2, apart=True) as crew:
        pids = {answer[2] for _, answer in crew.each(map(Where, range(40)), 40)}
    assert os.getpid() not in pids
    assert 1 <= len(pids) <= 2


def test_what_is_known_is_not_solved_again_and_what_is_found_is_kept():
    told, kept = [], []
    with Crew("s", 1, lambda *of: told.append(of)) as crew:
        found = crew.solve([Where(k) for k in (5, 6, 7)], {6: "known"}, kept.append)
        crew.solve([Where(8)])
        crew.solve([Where(9)], counted=False)
    assert found[1] == "known"
    assert [one[0] for one in kept] == [5, 7]
    assert told == [(1, 3), (2, 3), (3, 3), (3, 4), (4, 4)]


@pytest.mark.parametrize("processes", [1, 2])
def test_what_a_point_raises_ends_the_study_and_its_processes(processes):
    with pytest.raises(SolveError, match="number 3"), Crew("s", processes) as crew:
        crew.solve([Fails(k) for k in range(6)])
    assert active_children() == []


def test_a_point_that_no_process_survives_is_tried_twice_and_then_said(tmp_path):
    shared = os.getpid(), str(tmp_path)
    with pytest.raises(SolveError, match="ended 2 times"), Crew(shared, 2, apart=True) as crew:
        crew.solve([Ends(0)])
    assert len(list(tmp_path.iterdir())) == 2


def test_a_point_that_ended_a_process_is_not_given_to_this_one(tmp_path):
    script = (
        "from contactfe.study.crew import Crew\n"
        "from crews import Kills\n"
        f"with Crew({str(tmp_path / 'ended')!r}, 2) as crew:\n"
        "    crew.solve([Kills(0), Kills(1)])\n"
    )
    found = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)}, timeout=60,
    )  # fmt: skip
    assert found.returncode == 1, found.stderr
    assert "SolveError" in found.stderr
    assert "ended 2 times" in found.stderr


def test_a_process_that_dies_costs_its_sample_a_try_and_no_other(tmp_path):
    made = many(20)
    work = replace(made.work, source=str(tmp_path / "once"))
    with Crew(work, 2, apart=True) as crew:
        found = {s.number: s.rows[0] for _, s in crew.each(tasks(made, Deadly), 20)}
    assert sorted(found) == list(range(20))
    lost = {k for k, one in found.items() if one.solution is None}
    assert lost == {12}  # 13 N/mm ends each process; 7 N/mm only the first
    assert found[12].error == "its process ended 2 times: out of memory?"
    assert found[6].solution.line_load == 7.0
    assert (tmp_path / "once-13.0").read_text() == "xx"
    assert (tmp_path / "once-7.0").read_text() == "x"


def test_a_process_that_dies_while_this_one_works_loses_no_point_and_doubles_none(tmp_path):
    with Crew((os.getpid(), str(tmp_path)), 3) as crew:
        found = [(point.number, one[0]) for point, one in crew.each(map(EndsOnce, range(30)), 30)]
    assert list(tmp_path.iterdir())
    assert sorted(found) == [(number, number) for number in range(30)]


def test_a_process_that_is_not_ready_yet_is_not_waited_for():
    begun = time.monotonic()
    with Crew("s", 2) as crew:
        found = crew.solve([Where(0, 0.0), Where(1, 0.0), Where(2, 0.0)])
    assert time.monotonic() - begun < 0.25  # a process takes longer to begin
    assert {pid for *_, pid, _ in found} == {os.getpid()}


def test_a_study_without_points_begins_no_process():
    before = active_children()
    with Crew("s", 3, apart=True) as crew:
        assert crew.solve([]) == []
        assert crew.solve([Where(0)], {0: "known"}) == ["known"]
        assert not set(active_children()) - set(before)


def test_processes_that_cannot_begin_are_an_error_and_not_a_wait(monkeypatch):
    monkeypatch.setattr("contactfe.study.crew._begin", end)
    with (
        pytest.raises(SolveError, match="No process could be begun"),
        Crew("s", 2, apart=True) as crew,
    ):
        crew.solve([Where(0)])


def test_a_process_that_dies_between_points_is_replaced():
    with Crew("s", 2, apart=True) as crew:
        list(crew.each([Where(0)], 1))
        for child in active_children():
            os.kill(child.pid, signal.SIGKILL)
            child.join()
        assert sorted(number for _, (number, *_) in crew.each(map(Where, range(4)), 4)) == [
            0, 1, 2, 3,
        ]  # fmt: skip


def test_what_no_process_could_solve_has_a_row_for_each_section():
    work = replace(many(2).work, sections=("one", "two"))
    rows = Task(3, (), False).unsolved(work, "out of memory").rows
    assert [(row.section, row.solution, row.error) for row in rows] == [
        ("one", None, "out of memory"), ("two", None, "out of memory"),
    ]  # fmt: skip


def test_processes_end_when_no_more_is_asked_for():
    made = many(1000)
    with Crew(made.work, 2, apart=True) as crew:
        next(crew.each(tasks(made, StandIn), 1000))
        assert len(active_children()) == 2
    assert active_children() == []


def test_an_interrupt_ends_the_processes_at_once():
    def interrupt():
        time.sleep(1.0)
        signal.pthread_kill(threading.main_thread().ident, signal.SIGINT)

    threading.Thread(target=interrupt).start()
    begun = time.monotonic()
    with pytest.raises(KeyboardInterrupt), Crew("s", 2, apart=True) as crew:
        crew.solve([Where(k, 60.0) for k in range(2)])
    assert time.monotonic() - begun < 20.0
    assert active_children() == []


def test_as_many_processes_as_cores_unless_it_is_stated():
    assert how_many(None) == usable_cores()
    assert how_many(3) == 3
    with pytest.raises(InputError, match="processes = 0 must be at least 1"):
        how_many(0)


def test_every_blas_of_a_fresh_process_works_on_one_thread():
    with Crew(None, 1, apart=True) as crew:
        alone = crew.solve([Threads(0)])
    with Crew(None, 2, apart=True) as crew:
        found = crew.solve([Threads(0), Threads(1)])
    for threads in (*alone, *found):
        assert len(threads) > 1  # numpy and scipy bring one each
        assert {number for _, number in threads} == {1}


@pytest.mark.parametrize("call", ["os.open", "threading.Thread.start"])
def test_processes_that_the_limits_do_not_let_begin_are_refused_first(monkeypatch, call):
    def fails(*_, **__):
        raise OSError(24, "Too many") if call == "os.open" else RuntimeError("can't start")

    monkeypatch.setattr(call, fails)
    with pytest.raises(SolveError, match=r"1 more processes .*(Too many|can't start);.*ulimit"):
        Crew("s", 2)
    Crew("s", 1).__exit__(None, None, None)  # this one needs none
