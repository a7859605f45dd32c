from collections.abc import Iterator

import pytest
from threadpoolctl import threadpool_limits


@pytest.fixture(scope="session", autouse=True)
def one_blas_thread() -> Iterator[None]:
    """Small factorisations slow down when BLAS threads wait for one another."""
    with threadpool_limits(limits=1, user_api="blas"):
        yield
