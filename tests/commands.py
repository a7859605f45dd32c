"""The command as a user gives it, and a small case to give it."""

import contextlib
import io
import os
import pty
import select
import subprocess
import sys
import tempfile
from unittest.mock import patch

import pytest

from contactfe import cli

SMALL = """
title = "Test stop"
[post]
held_by = "beam shear"
young = "200 GPa"
poisson = 0.3
yield = "345 MPa"
[plate]
width = "300 mm"
thickness = "40 mm"
held_by = "rigid base"
young = "200 GPa"
poisson = 0.3
yield = "345 MPa"
[load]
line_load = "400 N/mm"
[[section]]
name = "solid"
outside_diameter = "150 mm"
"""


ACCEPTED = """[accept]
motion = "the force is from a time history"
sharing = "invented for a test"
post = "invented for a test"
tolerance = "invented for a test"
"""
"""What is open in it, accepted."""


def run(*words, cwd, **changes) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "contactfe", *map(str, words)],
        cwd=cwd, capture_output=True, text=True, check=False,
        env=os.environ | changes,
    )  # fmt: skip


def run_here(*words, cwd) -> subprocess.CompletedProcess[str]:
    """The same in this process, which saves its start: for what no process of its own decides."""
    out, err = io.StringIO(), io.StringIO()
    with (
        contextlib.chdir(cwd),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
        patch.object(sys, "argv", ["contactfe", *map(str, words)]),
    ):
        try:
            cli.main()
        except SystemExit as end:
            status = end.code or 0
    return subprocess.CompletedProcess(words, status, out.getvalue(), err.getvalue())


def run_on_a_terminal(*words, cwd) -> tuple[bytes, str]:
    """What it shows on a terminal for standard error, and its standard output; it must succeed."""
    try:
        main, side = pty.openpty()
    except OSError as error:
        pytest.skip(f"there is no terminal here: {error}")
    with tempfile.TemporaryFile("w+") as out:  # not a pipe, which would fill up unread
        process = subprocess.Popen(
            [sys.executable, "-m", "contactfe", *map(str, words)], cwd=cwd, stdout=out,
            stderr=side, text=True, env=os.environ | {"TERM": "xterm"},
        )  # fmt: skip
        os.close(side)
        seen = b""
        with contextlib.suppress(OSError):  # the terminal's other side is closed
            while select.select([main], [], [], 60)[0] and (part := os.read(main, 4096)):
                seen += part
        os.close(main)
        assert process.wait(60) == 0
        out.seek(0)
        return seen, out.read()
