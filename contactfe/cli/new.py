"""`contactfe new`."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from contactfe.case.display import ReportUnits


@click.command()
@click.argument("new_file", metavar="FILE.toml")
@click.option(
    "--units",
    type=click.Choice(["SI", "US"], case_sensitive=False),
    default="SI",
    show_default=True,
    help="Units of the file and of its results; US is for US customary.",
)
def new(new_file: str, units: str) -> None:
    """Write a commented case to start from.

    It is an invented stop that runs as it is, with all that may be added as comments. A file that
    is there is not overwritten. Exit status: 0, or 2 for bad input.
    """
    from contactfe.report.starting_case import write_starting_case

    shown: ReportUnits = "SI" if units == "SI" else "US customary"
    write_starting_case(Path(new_file), shown)
    click.echo(f"written: {new_file}; next: contactfe compare {new_file}")
