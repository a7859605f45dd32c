"""How large a mesh this machine can hold."""

import os

LARGEST = 600_000
"""Displacement unknowns of all bodies beyond which no finer level is begun."""

BYTES_PER_UNKNOWN = 8_000
"""Memory of a level per unknown, with factors, fields and samples. Measured 4600 to 6300 for solids
of 20 000 to 120 000 unknowns, with and without friction; the search for first yield adds bodies."""


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
