import gc
from collections.abc import Iterator

import pytest
from threadpoolctl import threadpool_limits

from contactfe.study.memory import give_back


@pytest.fixture(scope="session", autouse=True)
def one_blas_thread() -> Iterator[None]:
    """Small factorisations slow down when BLAS threads wait for one another."""
    with threadpool_limits(limits=1, user_api="blas"):
        yield


@pytest.fixture(scope="module", autouse=True)
def memory_given_back() -> Iterator[None]:
    """What a module has solved is let go at its end: tests that fork would copy its tables."""
    yield
    gc.collect()
    give_back()
