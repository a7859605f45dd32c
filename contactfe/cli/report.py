"""`contactfe report`."""

from pathlib import Path

import click

from contactfe.cli.common import (
    accuracy_option,
    case_argument,
    count_progress,
    processes_option,
    with_accuracy,
)


@click.command()
@case_argument
@click.option(
    "--out",
    metavar="FILE",
    help="Write to this file [default: CASE-report.pdf, or .html, in the current folder].",
)
@click.option("--html", is_flag=True, help="Write one HTML file that needs no other, not a PDF.")
@accuracy_option
@processes_option
def report(
    case_file: str, out: str | None, html: bool, accuracy: str | None, processes: int | None
) -> None:
    """Write the calculation as one document, to check and sign.

    Solves all that the case asks for: the comparison, and the impact, contact stiffness, envelope,
    sizing, strikes beyond first yield and test specimen where it states their tables. Solves that
    `envelope`, `size` and `overload` have kept in the current folder are not made again. The title
    block is that of [document].

    Exit status: 0 if written, 2 for bad input, 3 if not solved, 130 if stopped.
    """
    from contactfe.case import read_case
    from contactfe.case.reader import content_of, read_tables
    from contactfe.errors import InputError

    case = with_accuracy(read_case(case_file), accuracy)
    content = content_of(case_file)

    from contactfe.assess.calculation import calculate
    from contactfe.report import envelope, envelope_record, overload, sizing, sizing_record
    from contactfe.report.calculation.file import Kind, check_report, default_file, write_report
    from contactfe.report.overload_record import overload_record
    from contactfe.report.page import print_page
    from contactfe.report.record import earlier
    from contactfe.report.table import comparison_answer

    kind: Kind = "html" if html else "pdf"
    path = default_file(case, kind) if out is None else Path(out)
    if (other := {"pdf": ".html", "html": ".pdf"}[kind]) == path.suffix.lower():
        raise InputError(f"--out {out}: ends in {other}, and is to be {kind.upper()}; see --html")
    check_report(path, case)
    rows = earlier(case, envelope.FOLDER, envelope_record.row_record)
    tried = earlier(case, sizing.FOLDER, sizing_record.trial_record)
    struck = earlier(case, overload.FOLDER, overload_record)
    if kept := len(rows) + len(tried) + len(struck):
        solves = f"{kept} solves of the envelope, of walls and beyond first yield"
        click.echo(f"{solves} are there from earlier runs", err=True)
    tables = read_tables(case_file)
    found = calculate(case, tables, count_progress, processes, rows, tried, struck)
    write_report(found, content, path, kind)
    print_page(comparison_answer(found.whole))
    click.echo(f"report written to {path}")
