import gc
import signal
from collections.abc import Iterator
from mmap import PAGESIZE
from pathlib import Path
from typing import Any
from unittest.mock import patch

import pytest
from xdist.scheduler import LoadScopeScheduling

from contactfe.study.blas import one_thread
from contactfe.study.memory import give_back

ALONE = {"test_generated.py", "test_pinned.py", "test_uncertainty.py"}
"""Files whose tests take long and share nothing."""

SHARING = Path("tests", "report"), Path("tests", "published")
"""Folders whose files share what they solve."""


class ByFile(LoadScopeScheduling):
    """One worker runs the tests of a file, and solves once what they share; others come last."""

    def _split_scope(self, nodeid: str) -> str:
        file = Path(nodeid.partition("::")[0])
        if file.name in ALONE:
            return nodeid
        return str(next((folder for folder in SHARING if folder in file.parents), file))


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> ByFile:
    return ByFile(config, log)


@pytest.fixture(scope="session", autouse=True)
def one_blas_thread() -> Iterator[None]:
    """Small factorisations slow down when BLAS threads wait for one another."""
    with one_thread():
        yield


@pytest.fixture(scope="session", autouse=True)
def stopped_by_ctrl_c() -> None:
    """What runs in the background may be deaf to it, and the processes of the tests with it."""
    if signal.getsignal(signal.SIGINT) == signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


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
