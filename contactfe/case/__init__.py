"""The case: what the engineer states about the post, the plate and the impact, read and checked."""

from contactfe.case.material import Material
from contactfe.case.model import (
    Cantilever,
    Case,
    Contact,
    Corner,
    Envelope,
    Infill,
    Section,
    Standards,
)
from contactfe.case.reader import case_from_dict, read_case

__all__ = [
    "Cantilever",
    "Case",
    "Contact",
    "Corner",
    "Envelope",
    "Infill",
    "Material",
    "Section",
    "Standards",
    "case_from_dict",
    "read_case",
]
