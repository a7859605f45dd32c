"""What is said of the clauses of a case that do not scale with its specimen."""

from collections.abc import Iterator

from contactfe.assess.unscaled import roller_bound, roller_shares
from contactfe.case import Case
from contactfe.report import words


def unscaled_clauses(case: Case, scale: float) -> Iterator[str]:
    """A sentence where a clause of the case has another ratio in its specimen; else nothing."""
    found: dict[str, list[str]] = {}
    for name, share in roller_shares(case, scale).items():
        found.setdefault(f"{share:.3f}", []).append(f"“{words.one_line(name)}”")
    if not found:
        return
    each = ", ".join(
        f"{share} of the prototype's for {', '.join(of)}" for share, of in found.items()
    )
    yield (
        "AISC 360, J7(b), for rollers does not scale: above a diameter of"
        f" {case.display.length.text(roller_bound(case))} its strength grows as the root of the"
        f" diameter. Its ratio in the specimen is {each}, so a specimen that satisfies it does not"
        " show that the prototype does."
    )
