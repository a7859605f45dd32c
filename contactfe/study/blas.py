"""The linear algebra library, on one thread while points are solved."""

from __future__ import annotations

from contextlib import AbstractContextManager
from functools import cache
from typing import Any

from threadpoolctl import ThreadpoolController


@cache
def _libraries() -> ThreadpoolController:
    """Found once, as that takes long; a limit reaches only those that are loaded by then."""
    import scipy.linalg  # noqa: F401  (it brings a library of its own)

    return ThreadpoolController()


def one_thread() -> AbstractContextManager[Any]:
    """Have BLAS work on one thread from now on, or, as a context, within it.

    The factorisations call it on small blocks only: more threads would wait for one another, and
    change the last digits of what is solved.
    """
    limit: AbstractContextManager[Any] = _libraries().limit(limits=1, user_api="blas")
    return limit
