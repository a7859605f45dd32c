"""`contactfe hand`."""

import sys

import click

from contactfe.cli.common import (
    NOT_SATISFIED,
    case_argument,
    full_option,
    json_page_option,
    strict_option,
)
from contactfe.cli.results import check_json, show_or_dump


@click.command()
@case_argument
@click.option("--steps", is_flag=True, help="Write each formula out: symbols, numbers, source.")
@full_option
@json_page_option
@strict_option("every check that applies passes and no item is open that the case does not accept")
def hand(case_file: str, steps: bool, full: bool, json_to: str | None, strict: bool) -> None:
    """Work a case out by formulas and clauses, without a mesh.

    Exit status: 0, or 1 with --strict if a clause or a stress is not satisfied, 2 for bad input.
    """
    from contactfe.case import read_case

    case = read_case(case_file)

    from contactfe.assess.by_hand.case import by_hand
    from contactfe.report.by_hand import by_hand_page, hand_answer
    from contactfe.report.hand_document import hand_document
    from contactfe.report.steps import steps_page

    check_json(json_to, case)
    found = by_hand(case)
    show_or_dump(
        found,
        json_to,
        hand_document,
        steps_page if steps else by_hand_page if full else hand_answer,
    )
    if json_to != "-" and not (steps or full):
        click.echo("--full prints every formula and clause as a table, --steps written out.")
    if strict and not found.settled:
        sys.exit(NOT_SATISFIED)
