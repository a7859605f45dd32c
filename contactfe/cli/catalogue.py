"""`contactfe steels` and `contactfe sizes`."""

import click


@click.command()
def steels() -> None:
    """List the steel grades that a case may name: strengths by thickness, and their source."""
    from rich.console import Console

    from contactfe.report.catalogue import print_steels

    print_steels(Console())


@click.command()
@click.argument("like", metavar="[TEXT]", required=False)
def sizes(like: str | None) -> None:
    """List the stock sizes that a section may name, or those whose designation holds TEXT."""
    from rich.console import Console

    from contactfe.report.catalogue import print_sizes

    print_sizes(Console(), like)
