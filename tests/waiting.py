"""A test that would wait for ever fails instead."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def within(seconds: int) -> Iterator[None]:
    """Fail what takes longer, as to read from a pipe that nobody writes to."""

    def late(*_: object) -> None:
        raise AssertionError(f"took more than {seconds} s")

    before = signal.signal(signal.SIGALRM, late)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)
