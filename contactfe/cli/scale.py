"""`contactfe scale`."""

from pathlib import Path

import click

from contactfe.cli.common import case_argument, full_option, json_page_option
from contactfe.cli.results import check_json, show_or_dump


@click.command()
@case_argument
@click.option(
    "--to",
    type=float,
    metavar="SCALE",
    help="Length of the specimen over that of the prototype, such as 0.25; takes the place of the"
    " case's scale.",
)
@click.option(
    "--write",
    "write_to",
    metavar="SPECIMEN.toml",
    help="Write the specimen's case file as well; a file that is there is not overwritten.",
)
@json_page_option
@full_option
def scale(
    case_file: str, to: float | None, write_to: str | None, json_to: str | None, full: bool
) -> None:
    """Scale a case to a smaller test specimen, at equal stress.

    Prints every quantity of the case for prototype and specimen, and the factors of results.
    Exit status: 0, or 2 for bad input.
    """
    from contactfe.case.reader import case_from_dict, read_tables

    tables = read_tables(case_file)
    case = case_from_dict(tables, case_file)

    from contactfe.case.specimen import asked_scale, specimen
    from contactfe.errors import InputError
    from contactfe.report.scale import scale_answer, scale_page
    from contactfe.report.scale_document import scale_document
    from contactfe.report.specimen_file import check_new, write_specimen

    at = asked_scale(case, to)
    check_json(json_to, case)
    new = Path(write_to) if write_to is not None else None
    if new is not None:
        check_new(new)
        if json_to is not None and Path(json_to).resolve() == new.resolve():
            raise InputError(f"--write {new}: is named by --json as well; name another file")
    found = specimen(case, tables, at, Path() if new is None else new.parent)
    if new is not None:
        write_specimen(found, new)
    show_or_dump(found, json_to, scale_document, scale_page if full else scale_answer)
    if new is not None and json_to != "-":
        click.echo(f"specimen written to {new}")
