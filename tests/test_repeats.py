"""A case that is solved again gives the same figures to the last bit."""

import json

import pytest
from commands import SMALL, run

TUBE = """
[[section]]
name = "tube"
outside_diameter = "150 mm"
wall = "25 mm"
"""


@pytest.mark.parametrize("command", ["compare", "stiffness"])
def test_threads_and_processes_change_no_bit(tmp_path, command):
    (tmp_path / "case.toml").write_text(SMALL + TUBE)

    def solved(threads: str, processes: int) -> str:
        done = run(
            command, "case.toml", "--json", "-", "--processes", processes, cwd=tmp_path,
            OMP_NUM_THREADS=threads, OPENBLAS_NUM_THREADS=threads,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout, object_hook=_but_for_times)

    assert solved("1", 1) == solved("4", 2)


def _but_for_times(table: dict) -> dict:
    return {key: value for key, value in table.items() if key != "solve_seconds"}
