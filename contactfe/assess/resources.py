"""How large a mesh this machine can hold."""

import os
import resource

from contactfe.errors import SolveError

LARGEST = 600_000
"""Displacement unknowns of all bodies beyond which no finer level is begun."""

BYTES_PER_UNKNOWN = 8_000
"""Memory of a level per unknown, with factors, fields and samples. Measured 4600 to 6300 for solids
of 20 000 to 120 000 unknowns, with and without friction; the search for first yield adds bodies."""


LEAST_SPACE = 1_500_000_000
"""Address space with which a common case is solved. With 1.0 GB its factors find no memory, with
0.6 GB a library ends the process without a word."""


def check_space() -> None:
    """Refuse to begin where the process may not have the memory. Raises SolveError."""
    most, _ = resource.getrlimit(resource.RLIMIT_AS)
    if most != resource.RLIM_INFINITY and most < LEAST_SPACE:
        raise SolveError(
            f"{LEAST_SPACE / 1e9:g} GB of address space are needed, and the limit on this process"
            f" (ulimit -v) is {most / 1e9:.2g} GB"
        )


def room_for(unknowns: float) -> str:
    """Why a level of so many unknowns is not begun, in words; empty where it may be."""
    if unknowns > LARGEST:
        return f"the next mesh would have {unknowns:.2g} unknowns, and {LARGEST:g} is the bound"
    needed, free = BYTES_PER_UNKNOWN * unknowns, _free_memory()
    if free is not None and needed > free:
        return (
            f"the next mesh needs about {needed / 1e9:.2g} GB of memory, and {free / 1e9:.2g} GB"
            " are free"
        )
    return ""


def _free_memory() -> float | None:
    """Free memory in bytes, where the system states it."""
    try:
        return float(os.sysconf("SC_AVPHYS_PAGES") * os.sysconf("SC_PAGE_SIZE"))
    except (ValueError, OSError, AttributeError):
        return None
