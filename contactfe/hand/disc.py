"""A solid round squeezed across its diameter: the stresses at its centre.

The plane-elastic field is the same in plane strain and plane stress. Away from the contact patches
it is that of loads at points; at the centre a patch of half-width a lowers the tension across by
about (2a/D)². Beam shear gives half of what an equal load opposite does, see
:func:`.thick_ring.disc_centre_stress`.
"""

from functools import partial

import numpy as np

from contactfe.hand.check import HeldBy, State
from contactfe.hand.formula import formula, shown
from contactfe.hand.quantities import Length, LineLoad, Poisson, Stress

_CENTRE = (
    "S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, 3rd ed., article on the circular"
    " disk: from memory, not seen; beam shear: half of it, derived here"
)
_SHARE = "c = 2 under diametral loads, 1 under beam shear"

_formula = partial(formula, source=_CENTRE, note=_SHARE)


def _share(held_by: HeldBy) -> float:
    return 2.0 if held_by == "diametral" else 1.0


@_formula("stress at the centre across the load", "σx")
def centre_across(line_load: LineLoad, diameter: Length, held_by: HeldBy) -> Stress:
    """Stress across the load line, a tension; under diametral loads the same all along that line.

    >>> print(centre_across(1000.0, 100.0, "diametral"))
    6.3662
    """
    share = shown("share", _share(held_by), "c")
    return share * line_load / (np.pi * diameter)


@_formula("stress at the centre along the load", "σy")
def centre_along(line_load: LineLoad, diameter: Length, held_by: HeldBy) -> Stress:
    """Stress along the load line; a compression."""
    share = shown("share", _share(held_by), "c")
    return 0.0 - 3 * share * line_load / (np.pi * diameter)


@formula(
    "von Mises stress at the centre",
    "σvM",
    source=_CENTRE + "; the measure by its definition",
    note=_SHARE + "; ν counts as 0 in plane stress",
)
def centre_von_mises(
    line_load: LineLoad, diameter: Length, held_by: HeldBy, poisson: Poisson, state: State
) -> Stress:
    """Von Mises stress: √13 times that across in plane stress, 3.487 times for ν = 0.3 in strain.

    >>> print(centre_von_mises(1000.0, 100.0, "diametral", 0.3, "plane stress"))
    22.954
    """
    share = shown("share", _share(held_by), "c")
    poisson = shown("poisson", poisson if state == "plane strain" else 0.0)
    unit = share * line_load / (np.pi * diameter)
    return float(unit * np.sqrt(12 + (1 - 2 * poisson) ** 2))
