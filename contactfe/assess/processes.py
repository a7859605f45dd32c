"""What processes that share work have in common: how they begin, and that they end in time."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from multiprocessing.connection import Connection

from threadpoolctl import threadpool_limits


@contextmanager
def signals_later() -> Iterator[None]:
    """Keep signals waiting: processes and threads started meanwhile are born deaf to them.

    Ctrl-C is for this process alone. The signal of a broken pipe ends a process where gmsh is
    loaded, which takes away Python's own answer to it; its threads are to get an error instead.
    """
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGPIPE})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def begin(ends: Connection) -> None:
    """Make this process a worker: BLAS on one thread, and its end with that of its owner.

    ``ends`` is one end of a pipe whose other the owner holds.
    """
    threadpool_limits(limits=1, user_api="blas")
    threading.Thread(target=_end_with, args=(ends,), daemon=True).start()


def _end_with(ends: Connection) -> None:
    """End this process when the other end of the pipe is closed, be it by its owner's death."""
    try:
        ends.recv()
    except (EOFError, OSError):
        os._exit(1)
