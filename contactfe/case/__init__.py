"""The case: what the engineer states about the post, the plate and the impact, read and checked."""

from contactfe.case.bodies import Infill, Section
from contactfe.case.contact import Contact, Corner, Envelope
from contactfe.case.material import Material
from contactfe.case.model import Case
from contactfe.case.reader import case_from_dict, read_case
from contactfe.case.settings import Cantilever, Standards

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
