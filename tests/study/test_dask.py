"""The same sweep by a Dask scheduler with two workers in processes of their own, one killed."""

import logging
import os
import signal
import warnings

import pytest
from sweeps import Faulty, StandIn, data, many, prepared, tasks, without_times

from contactfe.assess.sweep.run import prepare, solve_samples
from contactfe.errors import InputError
from contactfe.study import dask
from contactfe.study.crew import Crew

distributed = pytest.importorskip("distributed")


@pytest.fixture(scope="module")
def cluster():
    with warnings.catch_warnings():
        warnings.simplefilter("default")
        with distributed.LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=":0",
            silence_logs=logging.CRITICAL,
        ) as made:  # fmt: skip
            yield made


def test_nothing_is_lost_with_a_worker_that_is_killed(cluster):
    made = many(300)
    found = []
    address = cluster.scheduler_address
    for _, sample in dask.dask_answers(made.work, tasks(made, StandIn), 300, address):
        found.append(sample)
        if len(found) == 40:
            os.kill(next(iter(cluster.workers.values())).pid, signal.SIGKILL)
    by_processes = Crew(made.work).each(tasks(made, StandIn), 300)
    assert without_times(found) == without_times(sample for _, sample in by_processes)
    assert all(s.rows[0].error == "" for s in found)


def test_a_block_with_a_fault_is_tried_sample_by_sample(cluster):
    made = many(80)
    address = cluster.scheduler_address
    found = [s for _, s in dask.dask_answers(made.work, tasks(made, Faulty), 80, address)]
    assert sorted(s.number for s in found) == list(range(80))
    ((lost, text),) = [(s.number, s.rows[0].error) for s in found if s.rows[0].error]
    assert (lost, text) == (12, "its workers were lost, or a fault there: a fault")


def test_the_same_as_on_this_machine_to_the_last_bit(cluster):
    made = prepare(data({"section.wall": ["20 mm"]}))
    (found,) = solve_samples(made, scheduler=cluster.scheduler_address)
    assert found.rows[0].solution is not None
    assert without_times([found]) == without_times(solve_samples(made, processes=1))


def test_a_scheduler_that_cannot_be_used_is_bad_input(cluster, monkeypatch):
    monkeypatch.setattr(dask, "PATIENCE", 0.2)
    for address in ("tcp://127.0.0.1:1", "odd://", ""):
        with pytest.raises(InputError, match=r"--scheduler .* no Dask scheduler answers there"):
            list(solve_samples(prepared(), scheduler=address))
    monkeypatch.setattr("contactfe.__version__", "0.0.1")
    monkeypatch.setattr(dask, "PATIENCE", 15.0)
    with pytest.raises(InputError, match=r"workers have contactfe .*, this is 0\.0\.1"):
        list(solve_samples(prepared(), scheduler=cluster.scheduler_address))


def test_without_the_library_the_line_says_what_to_install(monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    with pytest.raises(InputError, match=r"pip install 'contactfe\[dask\]'"):
        list(solve_samples(prepared(), scheduler="tcp://127.0.0.1:1"))


@pytest.mark.parametrize("workers", [1, 2, 64])
def test_blocks_shrink_towards_the_end(workers):
    left, blocks = 1000, []
    while left:
        blocks.append(dask.block_length(left, workers))
        left -= blocks[-1]
    assert blocks == sorted(blocks, reverse=True)
    assert max(blocks) <= dask.LONGEST_BLOCK
    assert blocks[-1] == 1


def test_an_encrypted_address_needs_certificates_of_the_library_s_settings():
    made = many(2)
    with pytest.raises(InputError, match=r'"tls://127\.0\.0\.1:1": no Dask scheduler answers'):
        list(dask.dask_answers(made.work, tasks(made), 2, "tls://127.0.0.1:1"))
