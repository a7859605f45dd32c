"""A process that works at what it was asked last, whatever becomes of it."""

import os
import signal
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from queue import Empty, SimpleQueue

import pytest
from exploring import until

from contactfe.explore.process import Process


@dataclass(frozen=True)
class Counted:
    """Gives the number of its process, then counts, a little while each."""

    up_to: int
    seconds: float = 0.0

    def parts(self, memory) -> Iterator[dict]:
        yield {"process": os.getpid()}
        for count in range(self.up_to):
            time.sleep(self.seconds)
            yield {"count": count}
        yield {"done": True}


@dataclass(frozen=True)
class Looking:
    """Looks again and again into what is kept, as meshing does, within one part."""

    times: int

    def parts(self, memory) -> Iterator[dict]:
        yield {"process": os.getpid()}
        for _ in range(self.times):
            time.sleep(0.01)
            assert "nothing" not in memory.kept
        yield {"done": True}


@dataclass(frozen=True)
class Silent:
    """Gives nothing for long."""

    def parts(self, memory) -> Iterator[dict]:
        time.sleep(100.0)
        yield {"done": True}


@dataclass(frozen=True)
class Failing:
    """Has a fault of its own."""

    error: Exception

    def parts(self, memory) -> Iterator[dict]:
        yield {}
        raise self.error


@pytest.fixture
def told():
    """What was told, as it comes."""
    return SimpleQueue()


@pytest.fixture
def process(told):
    of = Process(lambda number, part: told.put((number, part)))
    yield of
    of.close()


def until_told(told, last, seconds=60.0):
    """All that is told up to a part that has such a key, or is None."""
    found = []
    while True:
        found.append(told.get(timeout=seconds))
        part = found[-1][1]
        if part is None or last in part:
            return found


def test_it_answers_in_order_and_is_one_process(process, told):
    process.ask(1, Counted(3))
    first = until_told(told, "done")
    assert [part for _, part in first[1:]] == [{"count": k} for k in range(3)] + [{"done": True}]
    assert {number for number, _ in first} == {1}
    process.ask(2, Counted(0))
    second = until_told(told, "done")
    assert {number for number, _ in second} == {2}
    assert second[0][1] == first[0][1] != {"process": os.getpid()}


@pytest.mark.parametrize("long", [Counted(10_000, 0.01), Looking(10_000)], ids=["parts", "kept"])
def test_what_it_was_at_is_dropped_between_parts_and_bodies(process, told, long):
    process.ask(1, long)
    until_told(told, "process")
    time.sleep(0.3)  # until it is past what follows a part
    process.ask(2, Counted(1))
    found = until_told(told, "done", 15.0)  # the long one takes 100 s
    assert [number for number, part in found if "done" in part] == [2]


def test_of_many_that_wait_the_last_alone_is_answered(process, told):
    process.ask(1, Looking(30))
    until_told(told, "process")
    for number in range(2, 40):
        process.ask(number, Counted(0))
    found = until_told(told, "done")
    while found[-1][0] != 39:
        found += until_told(told, "done")
    assert found[-1] == (39, {"done": True})
    answered = {number for number, part in found if "done" in part}
    assert len(answered) < 20
    with pytest.raises(Empty):
        told.get(timeout=0.2)


@pytest.mark.parametrize(
    "error", [ValueError("of a\ntest"), MemoryError()], ids=["fault", "memory"]
)
def test_a_fault_is_told_in_one_line_and_ends_nothing(process, told, error):
    process.ask(1, Failing(error))
    ((number, part),) = until_told(told, "fault")
    assert number == 1
    assert part["fault"]
    assert "\n" not in part["fault"]
    process.ask(2, Counted(0))
    assert until_told(told, "done")[-1] == (2, {"done": True})


def test_it_begins_anew_where_it_was_killed(process, told):
    process.ask(1, Counted(10_000, 0.01))
    before = until_told(told, "process")[-1][1]["process"]
    os.kill(before, signal.SIGKILL)
    assert until_told(told, "none of these")[-1] == (1, None)
    process.ask(2, Counted(0))
    found = until_told(told, "done")
    assert found[-1] == (2, {"done": True})
    assert found[0][1]["process"] != before


def test_the_end_of_a_process_is_that_of_the_last_question_though_it_gave_nothing(process, told):
    process.ask(1, Counted(0))
    of = until_told(told, "done")[0][1]["process"]
    process.ask(2, Silent())
    time.sleep(0.2)
    os.kill(of, signal.SIGKILL)
    assert until_told(told, "none of these") == [(2, None)]


def test_what_is_asked_as_it_ends_is_answered_or_told_to_have_ended(process, told):
    process.ask(1, Counted(10_000, 0.01))
    of = until_told(told, "process")[-1][1]["process"]
    os.kill(of, signal.SIGKILL)
    process.ask(2, Counted(0))
    while (found := until_told(told, "done"))[-1][1] is None:
        process.ask(2, Counted(0))  # it was sent to the one that ended
    assert found[-1] == (2, {"done": True})


def test_it_is_not_ended_by_ctrl_c(process, told):
    process.ask(1, Counted(20, 0.01))
    os.kill(until_told(told, "process")[-1][1]["process"], signal.SIGINT)
    assert until_told(told, "done")[-1] == (1, {"done": True})


def test_it_is_ended_at_once_and_asked_no_more(process, told):
    process.ask(1, Counted(10_000, 0.01))
    of = until_told(told, "process")[-1][1]["process"]
    process.close()
    until(lambda: not Path(f"/proc/{of}").exists(), "its end")
    time.sleep(0.2)
    while not told.empty():
        assert told.get() != (1, None)  # as nobody is to hear of it
    process.ask(2, Counted(0))
    with pytest.raises(Empty):
        told.get(timeout=0.5)
    process.close()  # twice is as once


def test_what_was_never_asked_has_no_process(told):
    Process(lambda number, part: told.put((number, part))).close()
    assert told.empty()
