"""What the clauses of EN 1993-1-8 share: the standard's symbols, and how its texts were seen."""

from types import MappingProxyType

from contactfe.codes.clause import Symbols

STANDARD, EDITION = "EN 1993-1-8", "2005"
SEEN = "seen in a public extract"
SOURCE = "EN 1993-1-8:2005, {}: seen in a public extract"

SYMBOLS: Symbols = MappingProxyType(
    {
        "pin_diameter": "d",
        "hole_diameter": "d0",
        "diameter": "d",
        "yield_strength": "fy",
        "tensile_strength": "fup",
        "area": "A",
        "elastic_modulus": "Wel",
        "gamma_M0": "γM0",
        "gamma_M2": "γM2",
        "gamma_M6_ser": "γM6,ser",
        "force": "FEd,ser",
        "moment": "MEd",
        "shear": "Fv,Ed",
        "moment_resistance": "MRd",
        "shear_resistance": "Fv,Rd",
    }
)
