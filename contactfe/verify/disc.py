"""A solid round between two loads, beside Timoshenko and Goodier's disc."""

from collections.abc import Callable
from functools import partial

from contactfe.hand import disc
from contactfe.hand.check import HeldBy
from contactfe.verify.row import Row
from contactfe.verify.sources import LAST_PRINTED, TIMOSHENKO, VALUE_COMPUTED

_DISC = TIMOSHENKO.format("circular disk") + VALUE_COMPUTED


def _disc() -> list[Row]:
    bar: tuple[float, float, HeldBy] = (1000.0, 100.0, "diametral")
    measures: list[tuple[str, str, float, Callable[[], float]]] = [
        (
            "von-mises-plane-stress",
            "von Mises stress, plane stress",
            22.954,
            partial(disc.centre_von_mises, *bar, 0.3, "plane stress"),
        ),
        (
            "von-mises-plane-strain",
            "von Mises stress, plane strain",
            22.200,
            partial(disc.centre_von_mises, *bar, 0.3, "plane strain"),
        ),
    ]
    return [
        Row(
            f"disc-centre-{key}", "hand formula",
            f"solid round of 100 mm, two loads of 1000 N/mm, ν = 0.3: {case} at the centre",
            _DISC, value, tool, 6e-4, LAST_PRINTED, unit="MPa", absolute=True,
        )
        for key, case, value, tool in measures
    ]  # fmt: skip


ROWS: tuple[Row, ...] = tuple(_disc())
