"""`contactfe schema`."""

import click


@click.command()
@click.argument("of", type=click.Choice(["case"]))
def schema(of: str) -> None:
    """Print the JSON Schema of the case file, for an editor.

    With it an editor checks and completes a case as it is written.
    """
    del of  # the one there is
    from contactfe.report.reference import case_file_schema

    click.echo(case_file_schema(), nl=False)
