"""What the clauses of EN 1993-1-1 share: the standard's symbols, and how its text was seen."""

from types import MappingProxyType

from contactfe.codes.clause import Symbols

STANDARD, EDITION = "EN 1993-1-1", "2005"
SEEN = "seen in a public open-source library that cites the clause"
SOURCE = "EN 1993-1-1:2005, {}: seen in public open-source libraries"
SYMBOLS: Symbols = MappingProxyType(
    {
        "yield_strength": ("fy", "stress"),
        "design_strength": ("fyd", "stress"),
        "gamma_M0": ("γM0", None),
        "modulus": ("W", "section modulus"),
        "area": ("A", "area"),
        "shear_area": ("Av", "area"),
        "shear": ("VEd", "force"),
        "shear_resistance": ("VRd", "force"),
        "reduction": ("ρ", None),
        "stress_x": ("σx,Ed", "stress"),
        "stress_z": ("σz,Ed", "stress"),
        "shear_stress": ("τEd", "stress"),
    }
)
