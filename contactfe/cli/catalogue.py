"""`contactfe catalogue`."""

import click

from contactfe.cli.common import full_option


@click.command()
@click.argument("like", metavar="[TEXT]", required=False)
@full_option
def catalogue(like: str | None, full: bool) -> None:
    """List the steels and stock sizes that a case may name.

    Without TEXT they are counted; with it those whose name holds the text are listed.
    """
    from contactfe.report.catalogue import catalogue_answer, catalogue_page
    from contactfe.report.page import print_page

    print_page(catalogue_page(like) if full or like is not None else catalogue_answer())
