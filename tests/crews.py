"""Points that say who solved them, or end their process.

They are not in the file of their tests, which other processes could import only from the root.
"""

import os
import signal
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from threadpoolctl import threadpool_info

from contactfe.errors import SolveError
from contactfe.study.point import no_answer


@dataclass(frozen=True)
class Where:
    """A point that takes a while; its answer says which process and thread solved it, with what."""

    number: int
    seconds: float = 0.02

    @property
    def group(self):
        return self.number

    def solve(self, shared, kept):
        kept[self.number] = None
        time.sleep(self.seconds)
        return self.number, shared, os.getpid(), len(kept)

    def unsolved(self, shared, why):
        raise no_answer(why)


@dataclass(frozen=True)
class Fails(Where):
    def solve(self, shared, kept):
        if self.number == 3:
            raise SolveError("number 3")
        return super().solve(shared, kept)


@dataclass(frozen=True)
class Ends(Where):
    """Ends its process, but for the one that began: a folder records each."""

    def solve(self, shared, kept):
        began, folder = shared
        if os.getpid() != began:
            (Path(folder) / f"{self.number}-{os.getpid()}").touch()
            os.kill(os.getpid(), signal.SIGKILL)
        return super().solve(shared, kept)


@dataclass(frozen=True)
class EndsOnce(Where):
    """Ends another process the first time; the one that began waits for the first such end."""

    def solve(self, shared, kept):
        began, folder = shared
        if os.getpid() == began:
            until = time.monotonic() + 60.0
            while not any(Path(folder).iterdir()) and time.monotonic() < until:
                time.sleep(0.01)
        else:
            with suppress(FileExistsError):
                (Path(folder) / f"{self.number}").touch(exist_ok=False)
                os.kill(os.getpid(), signal.SIGKILL)
        return super().solve(shared, kept)


class Kills(Where):
    """Ends whoever solves it, and leaves a file; number 0 waits for that in its place."""

    def solve(self, shared, kept):
        if self.number == 0:
            while not Path(shared).exists():
                time.sleep(0.01)
            return 0, shared, os.getpid(), 0
        Path(shared).touch()
        os._exit(1)


@dataclass(frozen=True)
class Threads(Where):
    """Says on how many threads each linear algebra library works, once a solve has loaded all."""

    def solve(self, shared, kept):
        import contactfe.assess.section  # noqa: F401

        found = [one for one in threadpool_info() if one["user_api"] == "blas"]
        return [(one["filepath"], one["num_threads"]) for one in found]


def end(*_):
    """In place of how a process begins."""
    os._exit(3)
