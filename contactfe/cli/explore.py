"""`contactfe explore`."""

from ipaddress import ip_address

import click

from contactfe.cli.common import case_argument
from contactfe.errors import InputError


@click.command()
@case_argument
@click.option("--no-open", is_flag=True, help="Do not open the page in a browser.")
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    metavar="N",
    help="Listen on this port [default: one that is free].",
)
@click.option(
    "--address",
    metavar="ADDRESS",
    default="127.0.0.1",
    show_default=True,
    help="Listen on this address of the machine. Whoever reaches one that is not its own loopback"
    " can use the page: it asks for no password.",
)
def explore(case_file: str, no_open: bool, port: int | None, address: str) -> None:
    """Move a section by hand on a page, and see what follows.

    Serves the page on this machine, to it alone, and opens it. Its first section is moved, the next
    three are beside it. The case is not changed: what the page shows can be saved as another.

    Exit status: 0 if ended by Ctrl-C, 2 for bad input.
    """
    try:
        if ip_address(address).is_unspecified:
            raise ValueError
    except ValueError:
        raise InputError(
            f"--address {address}: must be one address of this machine, such as 127.0.0.1"
        ) from None
    from contactfe.case import read_case

    read_case(case_file)
    try:
        from contactfe.explore.server import serve
    except ModuleNotFoundError as error:
        if error.name not in {"panel", "bokeh"}:
            raise
        raise InputError(
            "explore needs the library panel: pip install 'contactfe[explore]'"
        ) from None
    serve(case_file, address, port, not no_open)
