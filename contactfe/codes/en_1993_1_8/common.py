"""What the clauses of EN 1993-1-8 share: the standard's symbols, and how its texts were seen."""

from types import MappingProxyType

from contactfe.codes.clause import Symbols

STANDARD, EDITION = "EN 1993-1-8", "2005"
SEEN = "seen in a public extract"
SOURCE = "EN 1993-1-8:2005, {}: seen in a public extract"

SYMBOLS: Symbols = MappingProxyType(
    {
        "pin_diameter": ("d", "length"),
        "hole_diameter": ("d0", "length"),
        "diameter": ("d", "length"),
        "yield_strength": ("fy", "stress"),
        "tensile_strength": ("fup", "stress"),
        "area": ("A", "area"),
        "elastic_modulus": ("Wel", "section modulus"),
        "gamma_M0": ("γM0", None),
        "gamma_M2": ("γM2", None),
        "gamma_M6_ser": ("γM6,ser", None),
        "force": ("FEd,ser", "force"),
        "moment": ("MEd", "moment"),
        "shear": ("Fv,Ed", "force"),
        "moment_resistance": ("MRd", "moment"),
        "shear_resistance": ("Fv,Rd", "force"),
    }
)
