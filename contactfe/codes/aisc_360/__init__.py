"""AISC 360-22, Specification for Structural Steel Buildings: bearing, round members, root weld.

Every clause is checked by LRFD (the demand of the LRFD load combinations against φ times the
nominal strength) or by ASD (that of the ASD combinations against the nominal strength over Ω).

Where a form has constants with units, such as Fy − 13 ksi, the SI and the US customary form differ
by rounding and ``units`` names the one to use; arguments and results are in N, mm and MPa in both.
All the other forms hold in any coherent units.
"""

from contactfe.codes.aisc_360.bearing import roller, socket
from contactfe.codes.aisc_360.combined import (
    plate_combined,
    round_hss_combined,
    solid_round_combined,
)
from contactfe.codes.aisc_360.common import Listed, Method, design_wall, listed
from contactfe.codes.aisc_360.flexure import plate_flexure, round_hss_flexure, solid_round_flexure
from contactfe.codes.aisc_360.shear import round_hss_shear, solid_round_shear
from contactfe.codes.aisc_360.welds import fillet_weld, groove_weld

__all__ = [
    "Listed",
    "Method",
    "design_wall",
    "fillet_weld",
    "groove_weld",
    "listed",
    "plate_combined",
    "plate_flexure",
    "roller",
    "round_hss_combined",
    "round_hss_flexure",
    "round_hss_shear",
    "socket",
    "solid_round_combined",
    "solid_round_flexure",
    "solid_round_shear",
]
