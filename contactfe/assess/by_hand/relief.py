"""The tube that the contact of a section would stress least."""

from collections.abc import Iterator

from contactfe.assess.by_hand.record import Step
from contactfe.case import Case, Section
from contactfe.hand import relief
from contactfe.hand.formula import Worked


def relief_steps(case: Case, section: Section, half_width: Worked) -> Iterator[Step]:
    """Best wall of the section's diameter, and its relief, of a frictionless contact with one plate
    whose length is stated.
    """
    covered = case.support(section).formulas == "beam shear" and case.state == "plane strain"
    length = case.contact_length
    if length is None or not covered or case.corner is not None or case.contact.friction > 0.0:
        return
    sizes = half_width.value, section.radius, length
    for key, label, of in (
        ("best_wall", "wall of a tube of least stress over its radius", relief.best_wall),
        (
            "best_wall_relief", "stress that it saves, of that of a solid",
            relief.relief_of_best_wall,
        ),
    ):  # fmt: skip
        yield Step(key, "section", label, of.worked(*sizes))
