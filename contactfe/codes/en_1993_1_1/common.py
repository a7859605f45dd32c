"""What the clauses of EN 1993-1-1 share."""

from contactfe.codes.clause import Standard

EN_1993_1_1 = Standard(
    name="EN 1993-1-1",
    edition="2005",
    cited="EN 1993-1-1:2005",
    text="seen in public open-source libraries",
    symbols={
        "wall": "t",
        "area": "A",
        "shear_area": "Av",
        "modulus": "W",
        "yield_strength": "fy",
        "design_strength": "fyd",
        "gamma_M0": "γM0",
        "moment": "MEd",
        "shear": "VEd",
        "shear_resistance": "VRd",
        "reduction": "ρ",
        "stress_x": "σx,Ed",
        "stress_z": "σz,Ed",
        "shear_stress": "τEd",
    },
)
