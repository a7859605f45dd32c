"""The command line: thin commands, which import heavy libraries inside the command itself.

What reads the case is imported first and the rest once it is read, so that a fault in the file is
told at once.
"""

import gc
import io
import logging
import os
import sys

import click

from contactfe import __version__
from contactfe.cli.catalogue import catalogue
from contactfe.cli.common import BAD_INPUT, INTERRUPTED, NOT_SOLVED, fail
from contactfe.cli.compare import compare
from contactfe.cli.envelope import envelope
from contactfe.cli.explore import explore
from contactfe.cli.hand import hand
from contactfe.cli.impact import impact
from contactfe.cli.new import new
from contactfe.cli.overload import overload
from contactfe.cli.report import report
from contactfe.cli.scale import scale
from contactfe.cli.schema import schema
from contactfe.cli.size import size
from contactfe.cli.stiffness import stiffness
from contactfe.cli.sweep import sweep
from contactfe.cli.verify import verify
from contactfe.errors import ContactfeError, InputError

NEW_OBJECTS = 50_000
"""Objects made before Python looks for those that are of no use any more. To load what a command
needs makes very many, all of use: `hand` took 0.54 s with Python's own number, 0.46 s with this."""


class _Commands(click.Group):
    """Commands whose output may go to one that stops reading, such as head, which is no fault."""

    def invoke(self, ctx: click.Context) -> object:
        """As click does; it exits with the status of a check that fails where a pipe breaks."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            # Say nothing, and keep Python from flushing to no one.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            ctx.exit(0)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="contactfe")
def cli() -> None:
    """Contact stress where a round steel post strikes a bumper plate.

    Solves post and plate in section as elastic bodies in unilateral contact, checks the stresses
    against yield and hand formulas, and says which section of the post relieves the contact.
    """


for _command in (
    new,
    impact,
    compare,
    explore,
    report,
    envelope,
    size,
    stiffness,
    overload,
    sweep,
    scale,
    hand,
    verify,
    catalogue,
    schema,
):
    cli.add_command(_command)


def main() -> None:
    """Run the command line; every error becomes one line and an exit status.

    A fault of the program itself is reported in one line too; with ``CONTACTFE_TRACEBACK=1`` in the
    environment its traceback is printed, for a report to the developers.
    """
    gc.set_threshold(NEW_OBJECTS)
    try:
        _settle_surroundings()
        sys.exit(cli.main(prog_name="contactfe", standalone_mode=False))
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except (click.Abort, KeyboardInterrupt):
        exec("")  # else `python -m` ends by the signal, where it stopped the import of a library
        fail("stopped; earlier results are as they were", INTERRUPTED)
    except InputError as error:
        fail(str(error), BAD_INPUT)
    except ContactfeError as error:
        fail(f"not solved: {error}", NOT_SOLVED)
    except MemoryError:
        fail("not solved: out of memory", NOT_SOLVED)
    except OSError as error:
        fail(f"{error.filename or 'output'}: {error.strerror or error}", BAD_INPUT)
    except Exception as error:
        if os.environ.get("CONTACTFE_TRACEBACK") == "1":
            raise
        fail(
            f"a fault of contactfe itself ({type(error).__name__}: {' '.join(str(error).split())});"
            " please report it with what the same command prints after"
            " 'export CONTACTFE_TRACEBACK=1'",
            NOT_SOLVED,
        )


def _settle_surroundings() -> None:
    """Keep the user's surroundings from failing a run that they have no part in.

    Figures are drawn straight to files, whatever display is set up; a terminal that lacks a
    character shows another; matplotlib's remarks on its cache folder are not for our user, nor are
    those of the process that frees the semaphores of a run that was killed. Raises InputError where
    matplotlib could not be loaded.
    """
    silent = os.environ.get("PYTHONWARNINGS"), "ignore:resource_tracker"
    os.environ["PYTHONWARNINGS"] = ",".join(filter(None, silent))
    os.environ["MPLBACKEND"] = "agg"
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"  # none are ours; to look takes 0.03 s
    # What is closed is None; whatever writes to it is to be heard by no one.
    sys.stdout, sys.stderr = (
        stream or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
        for stream in (sys.stdout, sys.stderr)
    )
    if os.path.isfile("matplotlibrc"):  # which matplotlib reads before its own
        try:
            with open("matplotlibrc", encoding="utf-8") as file:
                file.read()
        except (OSError, UnicodeError) as error:
            raise InputError(
                f"matplotlibrc: in the current folder: cannot be read: {error}"
            ) from None
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
