"""`contactfe catalogue`."""

import click


@click.command()
@click.argument("like", metavar="[TEXT]", required=False)
def catalogue(like: str | None) -> None:
    """List the steels and stock sizes that a case may name, or those whose name holds TEXT."""
    from contactfe.report.catalogue import catalogue_page
    from contactfe.report.page import print_page

    print_page(catalogue_page(like))
