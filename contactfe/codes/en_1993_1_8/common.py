"""What the clauses of EN 1993-1-8 share."""

from contactfe.codes.clause import Standard

EN_1993_1_8 = Standard(
    name="EN 1993-1-8",
    edition="2005",
    cited="EN 1993-1-8:2005",
    text="seen in a public extract",
    symbols={
        "diameter": "d",
        "throat": "a",
        "yield_strength": "fy",
        "tensile_strength": "fu",
        "correlation": "βw",
        "gamma_M0": "γM0",
        "gamma_M2": "γM2",
        "gamma_M6_ser": "γM6,ser",
    },
    newer="edition 2024 (from memory); what it changed was not seen, and an amendment of the rules"
    " for pins was proposed (Conde et al., J. Constr. Steel Res. 201, 2023)",
)
