"""The command as a user gives it, and a small case to give it."""

import os
import subprocess
import sys

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
"""
"""What is open in it, accepted."""


def run(*words, cwd, **changes) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "contactfe", *map(str, words)],
        cwd=cwd, capture_output=True, text=True, check=False,
        env=os.environ | changes,
    )  # fmt: skip
