"""`contactfe stiffness` as a user gives it."""

import json
import re

from commands import SMALL, run_here

from contactfe.report.answer import LINES


def test_it_prints_and_writes_what_it_found(tmp_path):
    (tmp_path / "small.toml").write_text(SMALL)
    done = run_here(
        "stiffness", "small.toml", "--points", "12", "--json", "found.json", cwd=tmp_path
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count("\n") <= LINES
    whole = (tmp_path / "small-stiffness" / "stiffness.txt").read_text()
    assert "q = A·δ^n: n = 1.0" in whole
    assert "q = A·δ^n: n = 1.0" not in done.stdout
    assert re.search("6 files .*small-stiffness", done.stdout)
    found = json.loads((tmp_path / "found.json").read_text())
    (section,) = found["sections"]
    assert len(section["curve"]["line_load"]) == 12
    assert len((tmp_path / "small-stiffness" / "curve.csv").read_text().splitlines()) == 13
    assert (tmp_path / "small-stiffness" / "stiffness.png").read_bytes()[1:4] == b"PNG"
    assert (tmp_path / "small-stiffness" / "stiffness.txt").read_text()[:9] == "Test stop"
