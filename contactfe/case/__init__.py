"""The case: what the engineer states about the post, the plate and the blow, read and checked."""

from contactfe.case.material import Material
from contactfe.case.model import Case, Contact, Corner, Envelope, Infill, Section
from contactfe.case.reader import case_from_dict, read_case

__all__ = [
    "Case",
    "Contact",
    "Corner",
    "Envelope",
    "Infill",
    "Material",
    "Section",
    "case_from_dict",
    "read_case",
]
