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
    """What a module has solved goes with it: tests that fork copy the tables of all that is left."""
    yield
    gc.collect()
    give_back()
