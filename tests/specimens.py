"""A case that states a quantity of every kind, for tests of the specimen that is made of it."""

STATED = {
    "title": "Invented stop",
    "scale": 0.25,
    "post": {"held_by": "beam shear", "steel": "EN 10025-2 S355", "density": "7850 kg/m3"},
    "plate": {
        "width": "400 mm", "thickness": "60 mm", "held_by": "elastic supports",
        "spring": "4 kN/mm/mm", "steel": "bar",
    },
    "load": {"force": "90 kip", "contact_length": "12 in"},
    "contact": {"offset": "-30 mm", "angle": "10 deg", "friction": 0.2},
    "envelope": {
        "offset": {"from": "-50 mm", "to": "50 mm", "count": 3}, "angle": ["0 deg", "0.1 rad"],
    },
    "check": {"yield_margin": 1.1},
    "cantilever": {
        "length": "900 mm", "weld_throat": "14 mm", "electrode_strength": "70 ksi",
        "tip": "600 mm",
    },
    "motion": {
        "gap": "300 mm", "mass": "2000 t", "displacement": "450 mm", "period": "3 s",
        "bumper_mass": "5 t", "bumper_spring": "80 kN/mm",
        "damper": [
            {"force": "1000 kN", "at_velocity": "1 m/s", "exponent": 0.4, "angle": "20 deg"},
            {"force": "300 kN", "at_velocity": "40 in/s", "exponent": 1.0, "count": 2},
        ],
    },
    "contact_law": {
        "law": "power", "force": "900 kN", "approach": "0.2 mm", "exponent": 1.1,
        "restitution": 0.65,
    },
    "sizing": {
        "outside_diameter": ["150 mm", "6 in"],
        "wall": {"from": "10 mm", "to": "40 mm", "count": 7},
        "stock": ["EN 10220"],
    },
    "grade": {
        "bar": {
            "young": "205 GPa", "poisson": 0.3, "over": ["0 mm", "40 mm"],
            "yield": ["620 MPa", "580 MPa"], "ultimate": ["750 MPa", "710 MPa"],
            "largest": "300 mm", "source": "the certificate",
        }
    },
    "section": [
        {"name": "solid", "outside_diameter": "150 mm"},
        {
            "name": "filled", "outside_diameter": "150 mm", "bore": "100 mm",
            "infill": {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"},
        },
        {"name": "pipe", "designation": "ASME B36.10M NPS 6 XXS", "steel": "ASTM A106 Gr C"},
        {
            "name": "own", "outside_diameter": "160 mm", "mesh": "meshes/ribbed-tube.msh",
            "mesh_unit": "mm", "steel_thickness": "20 mm",
        },
    ],
}  # fmt: skip
"""All but what goes ill with the rest, such as [corner] beside [envelope]."""

CORNER = {
    key: value
    for key, value in STATED.items()
    if key in {"title", "post", "load", "plate", "grade"}
} | {
    "corner": {"line_load": "300 N/mm", "offset": "20 mm"},
    "section": STATED["section"][:1],
    "motion": {"gap": "300 mm", "mass": "2000 t", "velocity": "0.7 m/s"},
    "contact_law": {"law": "linear", "stiffness": "500 kN/mm"},
}  # fmt: skip
