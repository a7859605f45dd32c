"""Clauses of standards as functions: demand, resistance, ratio, scope and applicability.

Nothing here knows a mesh, a solver or the rest of the package, but for :mod:`contactfe.hand`.

====================  ============================================================================
:mod:`.clause`        what a clause is, how it is declared, and what comes of checking it
:mod:`.scope`         limits that many clauses share: the steel that they are intended for
:mod:`.tube`          bore and slenderness of a tube, and whether its wall fits
:mod:`.us`            US customary units
:mod:`.aisc_360`      bearing of rollers, bending and shear of rounds, plate and root weld
:mod:`.aashto_lrfd`   service load of cylinders in bearings
:mod:`.en_1337_4`     load of a roller of a bearing per length
:mod:`.en_1993_1_1`   yield at a point, bending and shear of a round post
:mod:`.en_1993_1_8`   contact stress after that of a pin, and the root weld
====================  ============================================================================
"""

# All of them, so that clause.CLAUSES is complete.
from contactfe.codes import aashto_lrfd, aisc_360, en_1337_4, en_1993_1_1, en_1993_1_8

__all__ = ["aashto_lrfd", "aisc_360", "en_1337_4", "en_1993_1_1", "en_1993_1_8"]
