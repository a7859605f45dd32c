"""`contactfe verify`."""

import sys

import click

from contactfe.cli.common import (
    NOT_SATISFIED,
    count_progress,
    full_option,
    json_page_option,
    strict_option,
)
from contactfe.cli.results import check_json, show_or_dump


@click.command()
@click.argument("like", metavar="[TEXT]", required=False)
@full_option
@json_page_option
@strict_option("every row passes")
def verify(like: str | None, full: bool, json_to: str | None, strict: bool) -> None:
    """Check the tool against known answers.

    They are printed values, exact solutions and results of other libraries. With TEXT only the rows
    whose case, source or kind holds it are run. A row whose library is not installed is not run,
    which is no failure.

    Exit status: 0, or 1 with --strict if a row does not pass, 2 for bad input, 130 if stopped.
    """
    from contactfe.report.verification import (
        verification_answer,
        verification_document,
        verification_page,
    )
    from contactfe.verify import run_all
    from contactfe.verify.rows import rows_like

    check_json(json_to)
    rows = rows_like(like)
    with count_progress("rows") as tell:
        outcomes = run_all(rows, tell)
    page = verification_page if full or like is not None else verification_answer
    show_or_dump(outcomes, json_to, verification_document, page)
    if strict and any(outcome.passed is False for outcome in outcomes):
        sys.exit(NOT_SATISFIED)
