"""Memory given back to the system."""

from pathlib import Path

import numpy as np

from contactfe.study.memory import give_back

PAGE = 4096
MOST = 64_000_000


def held() -> int:
    """Bytes that the process has in memory."""
    return int(Path("/proc/self/statm").read_text().split()[1]) * PAGE


def test_what_lies_below_something_in_use_is_given_back():
    rows = [np.ones(12_500) for _ in range(MOST // 100_000)]  # small enough to share the heap
    last = rows[-1]
    before = held()
    del rows
    give_back()
    assert before - held() > 0.8 * MOST
    assert last.sum() == 12_500
