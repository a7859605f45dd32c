"""A solid round between two loads, at points, spread evenly or as a contact's pressure.

Timoshenko and Goodier's disc, Hondros' arcs, and the contact of Awaji and Sato.
"""

from collections.abc import Callable
from functools import partial

import numpy as np

from contactfe.hand import disc
from contactfe.hand.check import HeldBy
from contactfe.verify.row import Row
from contactfe.verify.sources import LAST_PRINTED, TIMOSHENKO, VALUE_COMPUTED

_DISC = TIMOSHENKO.format("circular disk") + VALUE_COMPUTED
_HONDROS = (
    "G. Hondros, Aust. J. Appl. Sci. 10 (1959) 243: formula from memory, not seen; value computed"
    " here by a Fourier series"
)
_AWAJI = (
    "H. Awaji and S. Sato, J. Soc. Mater. Sci. Japan 27 (1978) 336: formula seen in the public"
    " abstract; value computed here"
)
_SPREAD = "plane elasticity, loads at points spread as a Hertz pressure over the arc: computed here"


def _disc() -> list[Row]:
    points = [
        ("centre-across", 0.0, 0.0, 0, 1.0),
        ("centre-along", 0.0, 0.0, 1, -3.0),
        ("half-radius-along", 0.0, 0.5, 1, -13 / 3),
        ("near-the-load-along", 0.0, 0.8, 1, -10.1111),
        ("half-radius-beside-along", 0.5, 0.0, 1, -1.56),
        ("aslant-shear", 0.4, 0.4, 2, 0.7162),
    ]
    words = ("stress across the load", "stress along the load", "shear stress")
    field = [
        Row(
            f"disc-{key}",
            "exact field",
            f"solid round, two loads: {words[part]} at x = {x:g} R across and y = {y:g} R along the"
            " load, over q/(πR)",
            _DISC,
            value,
            partial(_at, x, y, part),
            6e-5,
            LAST_PRINTED,
            absolute=True,
        )
        for key, x, y, part, value in points
    ]
    bar: tuple[float, float, HeldBy] = (1000.0, 100.0, "diametral")
    measures: list[tuple[str, str, float, Callable[[], float]]] = [
        ("shear", "greatest shear stress", 12.732, partial(disc.centre_shear, *bar)),
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
    centre = [
        Row(
            f"disc-centre-{key}", "hand formula",
            f"solid round of 100 mm, two loads of 1000 N/mm, ν = 0.3: {case} at the centre",
            _DISC, value, tool, 6e-4, LAST_PRINTED, unit="MPa", absolute=True,
        )
        for key, case, value, tool in measures
    ]  # fmt: skip
    return [*field, *centre]


def _at(x: float, y: float, part: int) -> float:
    return float(disc.point_loads(x, y, np.pi, 2.0)[part])


def _spread() -> list[Row]:
    arcs = [
        (2.5, 0.0, 0, 0.99746),
        (10.0, 0.0, 0, 0.95963),
        (15.0, 0.0, 0, 0.90986),
        (15.0, 0.0, 1, -2.90986),
        (15.0, 0.5, 0, 0.67118),
        (15.0, 0.5, 1, -3.87981),
    ]
    even = [
        Row(
            f"arc-{degrees:g}-{'along' if part else 'across'}-{round(10 * y)}".replace(".", "-"),
            "hand formula",
            f"solid round, loads spread evenly over ±{degrees:g}°: stress"
            f" {'along' if part else 'across'} the load at {y:g} R, over q/(πR)",
            _HONDROS,
            value,
            partial(_on_arc, degrees, y, part),
            5.1e-6,
            LAST_PRINTED,
            absolute=True,
        )
        for degrees, y, part, value in arcs
    ]
    half_width = float(np.sin(np.radians(10.0)))
    contact = [
        Row(
            f"contact-width-{key}",
            "hand formula",
            "solid round between two contacts of half-width R sin 10°: stress across the load at"
            " the centre, over q/(πR)",
            source,
            value,
            partial(disc.contact_centre_across, np.pi, 2.0, half_width),
            allowed,
            why,
        )
        for key, source, value, allowed, why in (
            ("formula", _AWAJI, 0.96648, 1e-5, LAST_PRINTED),
            ("pressure", _SPREAD, 0.96969, 0.005, "a polynomial fitted to computed values"),
        )
    ]
    return [*even, *contact]


def _on_arc(degrees: float, y: float, part: int) -> float:
    return float(disc.arc_loads(y, np.pi, 2.0, float(np.radians(degrees)))[part])


ROWS: tuple[Row, ...] = (*_disc(), *_spread())
