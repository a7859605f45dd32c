"""Points solved by the workers of a Dask scheduler that is there already."""

from __future__ import annotations

import asyncio
import threading
from collections import OrderedDict
from collections.abc import Generator, Iterable, Iterator
from itertools import islice
from typing import Any, TypeVar
from uuid import uuid4

import contactfe
from contactfe.errors import InputError, SolveError
from contactfe.study.blas import one_thread
from contactfe.study.point import Kept, Point

Answer = TypeVar("Answer")

LONGEST_BLOCK = 8
"""Points in one task of the scheduler: they share bodies, and its overhead of about a millisecond
a task; a worker that is lost costs them all another solve."""

AHEAD = 3
"""Blocks for each thread of the workers that the scheduler holds at a time, however many points."""

PATIENCE = 15.0
"""Seconds that a scheduler is waited for."""


def dask_answers(
    shared: Any, points: Iterable[Point[Answer]], left: int, address: str
) -> Generator[tuple[Point[Answer], Answer]]:
    """Each of ``left`` points with its answer, by the workers of a scheduler, as it is found.

    The scheduler repeats elsewhere what a lost worker was at. A block that its workers do not
    survive is tried point by point, and a point that they do not survive is left unsolved.

    Raises
    ------
    InputError
        if the library is not installed, no scheduler answers, or its workers have another version
    SolveError
        if the scheduler is lost
    """
    try:
        from distributed import Client
    except ImportError:
        raise InputError(
            "--scheduler needs the library distributed: pip install 'contactfe[dask]'"
        ) from None
    try:
        asyncio.run(_reach(address))
        client = Client(address, timeout=PATIENCE, set_as_default=False)
    # Where the library's settings lack a certificate, or do not allow what is not encrypted, it
    # raises others.
    except (OSError, ValueError, TypeError, RuntimeError) as error:
        why = " ".join(str(error).split()) or type(error).__name__
        raise InputError(
            f'--scheduler "{address}": no Dask scheduler answers there: {why}'
        ) from None
    with client:
        _check_workers(client, address)
        yield from _gathered(client, shared, iter(points), left)


async def _reach(address: str) -> None:
    """See that something answers: a client that finds nothing would complain again as it ends."""
    from distributed.comm import connect
    from distributed.security import Security

    stated = Security().get_connection_args("client")  # certificates, of the library's settings
    comm = await connect(address, timeout=PATIENCE, **stated)
    await comm.close()


def _check_workers(client: Any, address: str) -> None:
    """Refuse workers that would not give what this process would.

    Those that come later are not asked.
    """
    try:
        versions = client.run(_version)
    except Exception as error:
        raise InputError(
            f'--scheduler "{address}": a worker cannot load contactfe: {error}'
        ) from None
    if other := {version for version in versions.values() if version != contactfe.__version__}:
        raise InputError(
            f'--scheduler "{address}": its workers have contactfe {", ".join(sorted(other))}, this'
            f" is {contactfe.__version__}"
        )


def block_length(left: int, workers: int) -> int:
    """How many points a worker takes next: fewer towards the end, so that none waits for another.

    >>> block_length(1000, 2), block_length(40, 2), block_length(3, 2)
    (8, 5, 1)
    """
    return max(1, min(LONGEST_BLOCK, left // (4 * workers)))


def _gathered(
    client: Any, shared: Any, points: Iterator[Point[Answer]], left: int
) -> Iterator[tuple[Point[Answer], Answer]]:
    from distributed import as_completed

    token = uuid4().hex
    blocks: dict[str, tuple[Point[Answer], ...]] = {}
    alone: list[Point[Answer]] = []
    threads, asked = 1, 0
    going = as_completed(loop=client.loop)

    def submit() -> bool:
        """Hand the scheduler one block more; False where there is none."""
        nonlocal left, asked
        if alone:
            block: tuple[Point[Answer], ...] = (alone.pop(),)
        else:
            block = tuple(islice(points, block_length(left, threads)))
            left -= len(block)
        if not block:
            return False
        asked += 1
        # Tasks of one study go in the order they were asked for.
        key = f"contactfe-{token}-{asked}"
        future = client.submit(_solve, shared, block, key=key, pure=False, priority=-asked)
        blocks[future.key] = block
        going.add(future)
        return True

    while True:
        # Workers come and go.
        threads = max(1, sum(client.nthreads().values())) if asked % 50 == 0 else threads
        while len(blocks) < AHEAD * threads and submit():
            pass
        if not blocks:
            return
        future = next(going)
        block = blocks.pop(future.key)
        try:
            found = future.result()
        except Exception as error:
            if client.status != "running":
                raise SolveError(f"the scheduler was lost: {error}") from None
            if len(block) > 1:
                alone.extend(reversed(block))
                continue
            text = " ".join(str(error).split())
            why = f"its workers were lost, or a fault there: {text}"
            found = (block[0].unsolved(shared, why),)
        yield from zip(block, found, strict=True)


_kept: Kept = OrderedDict()
"""In a worker, the bodies that it keeps from one block to the next."""

_one_at_a_time = threading.Lock()
"""Neither gmsh nor the bodies kept are for two threads at once: workers should have one each."""


def _solve(shared: Any, block: tuple[Point[Answer], ...]) -> tuple[Answer, ...]:
    with _one_at_a_time, one_thread():
        return tuple(point.solve(shared, _kept) for point in block)


def _version() -> str:
    return contactfe.__version__
