from dataclasses import replace
from multiprocessing import active_children

import pytest
from sweeps import deadly, prepared, stand_in

from contactfe.assess.sweep.local import block_length, local_samples, unsolved
from contactfe.assess.sweep.task import Task


def tasks(made):
    for k in range(made.plan.count):
        yield Task(k, made.plan.values(k), False)


def many(count: int):
    return prepared({"load.line_load": {"from": "1 N/mm", "to": f"{count} N/mm", "count": count}})


def test_a_process_that_dies_costs_its_sample_a_try_and_no_other(tmp_path):
    made = many(20)
    work = replace(made.work, source=str(tmp_path / "once"))
    found = {s.number: s.rows[0] for s in local_samples(work, tasks(made), 20, 2, deadly)}
    assert sorted(found) == list(range(20))
    lost = {k for k, one in found.items() if one.solution is None}
    assert lost == {12}  # 13 N/mm ends each process; 7 N/mm only the first
    assert found[12].error == "its process ended 2 times: out of memory?"
    assert found[6].solution.line_load == 7.0
    assert sorted((tmp_path / "once").read_text().split()) == ["13.0", "13.0", "7.0"]


def test_no_more_processes_are_started_than_there_are_samples():
    made = many(5)
    samples = local_samples(made.work, tasks(made), 1, 4, stand_in)
    next(samples)
    assert active_children() == []
    samples.close()


def test_what_no_process_could_solve_has_a_row_for_each_section():
    work = replace(many(2).work, sections=("one", "two"))
    rows = unsolved(work, Task(3, (), False), "out of memory").rows
    assert [(row.section, row.solution, row.error) for row in rows] == [
        ("one", None, "out of memory"), ("two", None, "out of memory"),
    ]  # fmt: skip


def test_processes_end_when_no_more_is_asked_for():
    made = many(1000)
    samples = local_samples(made.work, tasks(made), 1000, 2, stand_in)
    next(samples)
    assert len(active_children()) == 2
    samples.close()
    assert active_children() == []


def test_one_process_works_here_in_order():
    made = many(5)
    found = [s.number for s in local_samples(made.work, tasks(made), 5, 1, stand_in)]
    assert found == [0, 1, 2, 3, 4]


@pytest.mark.parametrize("workers", [1, 2, 64])
def test_blocks_shrink_towards_the_end(workers):
    left, blocks = 1000, []
    while left:
        blocks.append(block_length(left, workers, 32))
        left -= blocks[-1]
    assert blocks == sorted(blocks, reverse=True)
    assert max(blocks) <= 32
    assert blocks[-1] == 1
