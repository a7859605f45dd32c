"""What contactfe stands on, as pyproject.toml states it."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
LICENCES = ROOT / "contactfe" / "docs" / "licences.md"
STATED = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def test_the_licence_of_every_dependency_is_listed():
    extras = STATED["optional-dependencies"]
    needed = [*STATED["dependencies"], *extras["dask"], *extras["parquet"], *extras["explore"]]
    direct = LICENCES.read_text("utf-8").split("\n\n")[2]
    listed = re.findall(r"^\| ([\w-]+) \| .+ \| .+ \|$", direct, re.MULTILINE)
    assert sorted(listed[1:]) == sorted(re.match(r"[\w-]+", one)[0] for one in needed)
