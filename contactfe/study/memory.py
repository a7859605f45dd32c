"""Memory that was let go, given back to the system."""

import ctypes


def give_back() -> None:
    """Give the system what this process let go and its C library still holds.

    Arrays and factors of many sizes, made in turn, leave gaps that glibc keeps: over a study they
    come to as much as all that is in use. Nothing is done where the C library has no such call.
    """
    trim = getattr(ctypes.CDLL(None), "malloc_trim", None)
    if trim is not None:
        trim(0)
