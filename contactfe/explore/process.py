"""A process of one page's own, which works at what it was asked last."""

from __future__ import annotations

import signal
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterator
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import Any, Protocol

from contactfe.study.crew import signals_later

Json = dict[str, Any]


class Asked(Protocol):
    """What is asked of a process: small, as it is sent there."""

    def parts(self, memory: Any) -> Iterator[Json]:
        """What it gives, bit by bit."""


class Dropped(Exception):  # noqa: N818  (no error: nobody waits any more)
    """Something else was asked meanwhile, so that no one waits for this any more."""


class _Kept(OrderedDict[Hashable, object]):
    """What is kept of bodies; looked into before each is meshed, where a solve may be dropped."""

    def __init__(self, asked: Connection) -> None:
        super().__init__()
        self._asked = asked

    def __contains__(self, key: object) -> bool:
        if self._asked.poll():
            raise Dropped
        return super().__contains__(key)


class Process:
    """A process that is begun with the first question, and given the latest only.

    ``tell`` is called by a thread of its own with the number of a question and each part of the
    answer, and with that of the last question and None where the process ended before its time.
    """

    def __init__(self, tell: Callable[[int, Json | None], None]) -> None:
        self._tell = tell
        self._lock = threading.Lock()
        self._ends: Connection | None = None
        self._process: Any = None
        self._last, self._closed = 0, False

    def ask(self, number: int, what: Asked) -> None:
        """Ask something; what it was at before is dropped."""
        with self._lock:
            if self._closed:
                return
            self._last = number
            ends = self._ends or self._begin()
            try:
                ends.send((number, what))
            except OSError:  # it ended; the thread that listens has not yet said so
                self._begin().send((number, what))

    def close(self) -> None:
        """End it at once, whatever it is at."""
        with self._lock:
            self._closed = True
            if self._process is not None:
                self._process.kill()
                self._process.join()

    def _begin(self) -> Connection:
        context = get_context("spawn")
        self._ends, theirs = context.Pipe()
        with signals_later():
            self._process = context.Process(target=_work, args=(theirs,), daemon=True)
            self._process.start()
            theirs.close()
            listens = threading.Thread(target=self._listen, args=(self._ends,), daemon=True)
            listens.start()
        return self._ends

    def _listen(self, ends: Connection) -> None:
        try:
            while True:
                self._tell(*ends.recv())
        except (EOFError, OSError):
            pass
        with self._lock:
            if self._closed or self._ends is not ends:
                return
            self._ends = None
        self._tell(self._last, None)


def _work(asked: Connection) -> None:
    """Answer until the other end is closed, be it by its owner's death."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    from contactfe.explore.work import Memory
    from contactfe.study.blas import one_thread

    one_thread()
    memory = Memory(_Kept(asked))
    try:
        while True:
            number, what = asked.recv()
            while asked.poll():
                number, what = asked.recv()
            try:
                for part in what.parts(memory):
                    if part:
                        asked.send((number, part))
                    if asked.poll():
                        break
            except Dropped:
                continue
            except MemoryError:
                asked.send((number, {"fault": "out of memory"}))
            except Exception as error:
                what = " ".join(f"{type(error).__name__}: {error}".split())
                asked.send((number, {"fault": f"a fault of contactfe itself ({what})"}))
    except (EOFError, OSError):
        return
