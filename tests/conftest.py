import gc
from collections.abc import Iterator
from mmap import PAGESIZE
from pathlib import Path
from unittest.mock import patch

import pytest
from threadpoolctl import threadpool_limits

from contactfe.study.memory import give_back

ALONE = {"test_pinned.py", "test_uncertainty.py", "test_verification.py"}
"""Files whose tests take long and share nothing."""


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """One worker runs the tests of a file, and solves once what they share; then come the others.

    First of all come those of ``tests/report`` that share solved comparisons.
    """
    for item in items:
        if item.get_closest_marker("xdist_group") is None and item.path.name not in ALONE:
            item.add_marker(pytest.mark.xdist_group(str(item.path)))


@pytest.fixture(scope="session", autouse=True)
def one_blas_thread() -> Iterator[None]:
    """Small factorisations slow down when BLAS threads wait for one another."""
    with threadpool_limits(limits=1, user_api="blas"):
        yield


@pytest.fixture(scope="session", autouse=True)
def no_wait_for_the_disk() -> Iterator[None]:
    """A process that is killed loses nothing of what it wrote; only without power would it."""
    with patch("os.fsync"):
        yield


LET_GO = 200e6
"""Bytes by which a module has to have grown the process before what it made is collected."""


@pytest.fixture(scope="module", autouse=True)
def memory_given_back() -> Iterator[None]:
    """What a module has solved is let go at its end: tests that fork would copy its tables."""
    before = _resident()
    yield
    if _resident() - before > LET_GO:
        gc.collect()
        give_back()


def _resident() -> int:
    """Memory of this process, bytes; 0 where the system does not tell it so."""
    told = Path("/proc/self/statm")
    return int(told.read_text().split()[1]) * PAGESIZE if told.exists() else 0
