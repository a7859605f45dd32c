"""The accuracy that may be asked for, in a case file or on a command line."""

from contactfe.case.units import parse_percent
from contactfe.errors import InputError

FINEST, COARSEST = 0.001, 0.2
"""What may be asked for: meshes for less than this take too long, more is worth no mesh."""

# The bounds themselves pass, however their decimals round.
_EDGE = 1e-9


def parse_accuracy(text: object) -> float:
    """Read the relative uncertainty asked for of the peak stresses, such as "2 %", as a fraction.

    Raises InputError where the text is no number of percent, or is not from 0.1 % to 20 %.

    >>> parse_accuracy("0.5 %")
    0.005
    """
    accuracy = parse_percent(text)
    if not FINEST * (1 - _EDGE) <= accuracy <= COARSEST * (1 + _EDGE):
        raise InputError(f"must be from {FINEST:.1%} to {COARSEST:.0%}".replace("%", " %"))
    return accuracy
