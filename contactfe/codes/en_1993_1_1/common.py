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
    newer="edition 2022, seen in public open-source libraries in part: bending is 8.2.5 there,"
    " shear 8.2.6, bending with shear 8.2.8(4), the shear resistance with torsion eq. 8.33, of the"
    " same forms, with ρ by Vc,Rd; its class limits were not seen",
)
