"""What the clauses of EN 1993-1-1 share: the standard's symbols, and how its text was seen."""

from types import MappingProxyType

from contactfe.codes.clause import Symbols

STANDARD, EDITION = "EN 1993-1-1", "2005"
SEEN = "seen in a public open-source library that cites the clause"
SOURCE = "EN 1993-1-1:2005, {}: seen in public open-source libraries"
SYMBOLS: Symbols = MappingProxyType(
    {
        "yield_strength": "fy",
        "design_strength": "fyd",
        "gamma_M0": "γM0",
        "modulus": "W",
        "area": "A",
        "shear_area": "Av",
        "shear": "VEd",
        "shear_resistance": "VRd",
        "reduction": "ρ",
        "stress_x": "σx,Ed",
        "stress_z": "σz,Ed",
        "shear_stress": "τEd",
    }
)
