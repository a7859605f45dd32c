"""What the README shows is run here, so that it cannot drift from the program."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from commands import run_here
from pinned.answers import WIDTH, first_lines, shown
from saying import figures

from contactfe import document, read_case
from contactfe.report.output import answer_of
from contactfe.report.page import as_text
from contactfe.verify.rows import rows

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text()
DOCS = ROOT / "contactfe" / "docs"
CASES = "".join((DOCS / name).read_text() for name in ("cases.md", "questions.md"))
BY_HAND, COMMANDS = ((DOCS / name).read_text() for name in ("by-hand.md", "commands.md"))
LIBRARIES = [
    "libglu1-mesa",
    "libgl1",
    "libxrender1",
    "libxcursor1",
    "libxft2",
    "libxinerama1",
    "libgomp1",
]


def blocks(language: str, page: str = README) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", page, flags=re.DOTALL)


def test_it_opens_with_the_job_and_has_two_commands():
    assert README.startswith("# contactfe\n\n")
    first = README.split("\n\n")[1]
    assert "strikes a plate" in first
    assert len(blocks("sh")) == 2
    for mark in ("<!-- run -->\n```sh", "<!-- test -->\n```sh"):
        assert mark in README  # .ci/run finds the commands by these
    for library in LIBRARIES:
        assert all(library in block for block in blocks("sh"))


def test_the_case_shown_runs(tmp_path):
    (tmp_path / "shown.toml").write_text(blocks("toml")[0])
    done = run_here("compare", "shown.toml", "--json", "-", "--processes", 1, cwd=tmp_path)
    assert json.loads(done.stdout)["least_concentration"] == "tube"


@pytest.mark.parametrize("block", blocks("toml", CASES))
def test_what_may_be_added_to_a_case_reads(tmp_path, block):
    (tmp_path / "cases").mkdir()
    (tmp_path / "meshes").symlink_to(ROOT / "meshes")
    path = tmp_path / "cases" / "shown.toml"
    path.write_text(f"{blocks('toml')[0]}\n{block}")
    more = read_case(path)
    path.write_text(blocks("toml")[0])
    assert more != read_case(path)


def test_the_python_shown_does_what_the_command_does(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "cases").mkdir()
    name = "quayside-annex-stop.toml"
    (tmp_path / "cases" / name).write_text((ROOT / "cases" / name).read_text())
    lines = blocks("python")[0].strip().splitlines()
    assert len(lines) == 5
    names: dict = {}
    exec("\n".join(lines[:-1]), names)
    answer = names[lines[-1]]
    assert answer.least_concentration in answer.reason
    assert answer.least_concentration in answer._repr_html_()
    written = json.loads((tmp_path / "quayside" / "results.json").read_text())
    assert written["sections"] == document(answer)["sections"]
    figures_quoted({s["name"]: s for s in written["sections"]})
    found = first_lines(as_text(answer_of(answer), WIDTH))
    assert figures("\n".join(found)) == figures("\n".join(shown()[Path(name).stem][1]))


def figures_quoted(by_name):
    """The README quotes the figures of the case that its first command runs."""
    text = " ".join(README.split())
    best, solid = by_name["tube 150 x 25"], by_name["solid 150"]
    less = 1 - best["stress_concentration"] / solid["stress_concentration"]
    assert (
        f"{best['member']['peak_von_mises']:.0f} MPa, {100 * less:.1f} % less than the"
        f" {solid['member']['peak_von_mises']:.0f} MPa of the solid"
    ) in text
    assert f"adds {-best['added_hoop_stress']:.0f} MPa of hoop compression" in text
    thinner = by_name["tube 150 x 20"]["added_hoop_stress"]
    assert f"compression is {-thinner:.0f} MPa" in text


def test_the_verification_set_is_as_large_as_said():
    kinds = [row.kind for row in rows()]
    solved = sum(kind in {"finite elements", "reference library"} for kind in kinds)
    assert f"{len(kinds)} rows, {solved} of them solved cases" in BY_HAND


def test_the_formulas_shown_print_what_is_shown():
    shown = blocks("python", COMMANDS)[1]
    done = subprocess.run([sys.executable, "-c", shown], capture_output=True, text=True, check=True)
    comments = [line for line in shown.splitlines() if line.startswith("# ")]
    assert [f"# {line}" for line in done.stdout.splitlines()] == comments


ON_BOTH = ("--out", "--json", "--strict", "--accuracy")


@pytest.mark.parametrize(
    ("command", "option"),
    [
        *(("compare", option) for option in ON_BOTH),
        *(("envelope", option) for option in (*ON_BOTH, "--processes")),
        *(("hand", option) for option in ("--steps", "--json", "--strict")),
        *(("verify", option) for option in ("--json", "--strict")),
    ],
)
def test_options_named_exist(option, command):
    done = run_here(command, "--help", cwd=ROOT)
    assert option in done.stdout
    assert option in COMMANDS


def test_it_is_short_and_its_links_lead_somewhere():
    assert len(README.splitlines()) <= 130
    for page in (ROOT / "README.md", ROOT / "cases" / "README.md", *DOCS.glob("*.md")):
        for link in re.findall(r"\]\(([^)\s]+)\)", page.read_text()):
            path, _, heading = link.partition("#")
            target = (page.parent / path).resolve() if path else page
            assert target.exists(), (page, link)
            heads = re.findall(r"^#+ (.*)$", target.read_text(), re.MULTILINE) if heading else ()
            slugs = [re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads]
            assert not heading or heading in slugs, (page, link)


def test_every_command_is_among_its_questions():
    from contactfe.cli import cli

    for name in cli.list_commands(None):
        assert f"`{name}" in README or f"contactfe {name}" in README, name
