"""Test scale: the factors of a specimen of a quarter of its prototype's size, at equal stress."""

from functools import partial

from contactfe.hand.similitude import Scaled, damper_factor, factor
from contactfe.verify.row import Row, hand_row

_TABLE = (
    "H. Krawinkler and P. D. Moncarz, ACI SP-73 (1982), artificial mass and prototype material:"
    " from memory, not seen"
)
_DAMPER = "force by S², velocity by √S in F = C·v^α; value computed here"

_EXACT = "rounding alone"
_DIGIT = "last digit of the value"

_QUARTER: tuple[tuple[Scaled, float], ...] = (
    ("length", 1 / 4),
    ("stress", 1.0),
    ("acceleration", 1.0),
    ("time", 1 / 2),
    ("velocity", 1 / 2),
    ("force", 1 / 16),
    ("mass", 1 / 16),
    ("stiffness", 1 / 4),
    ("energy", 1 / 64),
    ("frequency", 2.0),
)

ROWS: tuple[Row, ...] = (
    *(
        hand_row(
            key=f"similitude-{dimension}",
            case=f"specimen 1:4 at equal stress: factor of {dimension}",
            source=_TABLE,
            published=published,
            tool=partial(factor, dimension, 0.25),
            allowed=1e-12,
            why=_EXACT,
        )
        for dimension, published in _QUARTER
    ),
    *(
        hand_row(
            key=f"similitude-damper-{name}",
            case=f"specimen 1:4 at equal stress: factor of a damper's C, α = {exponent:g}",
            source=_DAMPER,
            published=published,
            tool=partial(damper_factor, 0.25, exponent),
            allowed=5e-5,
            why=_DIGIT,
            absolute=True,
        )
        for name, exponent, published in (
            ("linear", 1.0, 0.125),
            ("soft", 0.4, 0.0825),
            ("square", 2.0, 0.25),
        )
    ),
)
