"""Whether the load of a case covers the blow that its motion ends in, said where it is used."""

from rich.text import Text

from contactfe.case import Case
from contactfe.case.display import significant
from contactfe.errors import SolveError


def beside_demand(case: Case) -> str | None:
    """A sentence on the load beside [demand]; None where the case states no motion."""
    if case.demand is None:
        return None
    from contactfe.case.struck import demanded, load_covers  # which load scipy

    try:
        force = demanded(case)
    except SolveError as error:
        return f"[demand] is NOT ANSWERED, and the load may not cover it: {error}."
    if force is None:
        return "Whether the load covers the blow of [demand], contactfe demand says."
    assert case.effective_length is not None  # or it would not be known
    stated = case.line_load * case.effective_length
    text = case.display.force.text(force)
    if abs(stated / force - 1.0) < 1e-9:
        return f"The load is the peak contact force of [demand], {text}."
    if load_covers(case):
        return f"The load covers the peak contact force of [demand], {text}."
    return (
        f"The load DOES NOT COVER the peak contact force of [demand], {text}: it is"
        f" {significant(stated / force, 4)} of it."
    )


def demand_lines(case: Case) -> list[Text]:
    """The same as a line of a page, or none."""
    sentence = beside_demand(case)
    if sentence is None:
        return []
    from contactfe.case.struck import load_covers

    return [Text(sentence, style="" if load_covers(case) else "bold red")]
