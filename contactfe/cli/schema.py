"""`contactfe schema`."""

import click


@click.command()
@click.argument("of", type=click.Choice(["case"]))
def schema(of: str) -> None:
    """Print the JSON Schema of the case file, by which an editor checks and completes one."""
    del of  # the one there is
    from contactfe.report.reference import case_file_schema

    click.echo(case_file_schema(), nl=False)
