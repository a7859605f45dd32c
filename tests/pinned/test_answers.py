"""The answers that cases/README.md shows, held to what is pinned and to what is soon worked out."""

import re
import tomllib

import pytest
from pinned.answers import CASES, MOST, WIDTH, commands, first_lines, shown
from pinned.pins import RUNS, pinned
from saying import figures

from contactfe import by_hand, impact_force, read_case
from contactfe.report.output import answer_of
from contactfe.report.page import as_text

SHOWN = shown()


def test_every_case_has_the_answer_of_its_first_command():
    assert {path.stem for path in CASES.glob("*.toml")} == set(SHOWN)
    assert {name: command for name, (command, _) in SHOWN.items()} == commands()
    for _, lines in SHOWN.values():
        assert 3 <= len(lines) <= MOST
        assert max(map(len, lines)) <= WIDTH


@pytest.mark.parametrize("name", ["granary-lift-stop", "tannery-wharf-stop", "signal-house-stop"])
def test_what_is_found_without_a_mesh_is_as_shown(name):
    command, lines = SHOWN[name]
    found = {"hand": by_hand, "impact": impact_force}[command](read_case(CASES / f"{name}.toml"))
    again = first_lines(as_text(answer_of(found), WIDTH))
    assert figures("\n".join(again)) == figures("\n".join(lines))


def pinned_of(command: str) -> list:
    return [run for run in RUNS if run.command == command == SHOWN.get(run.case.stem, ("",))[0]]


@pytest.mark.parametrize("run", pinned_of("compare"), ids=lambda run: run.name)
def test_stress_concentrations_are_those_that_are_pinned(run):
    """Or lie within the accuracy that the pinned run asks for."""
    pins, (_, lines) = pinned(run), SHOWN[run.case.stem]
    names = [section["name"] for section in tomllib.loads(run.case.read_text())["section"]]
    told = re.findall(r"“([^”]+)”[^“]*?K = ([\d.]+\d)", " ".join(lines))
    assert len(told) == 2
    for name, K in told:
        known = pins[f"/sections/{names.index(name)}/stress_concentration"]
        assert float(K) == pytest.approx(known, rel=1e-2 if run.options else 0.0, abs=0.051)


@pytest.mark.parametrize("run", pinned_of("sweep"), ids=lambda run: run.name)
def test_the_range_of_a_sweep_is_that_which_is_pinned(run):
    pins, (_, lines) = pinned(run), SHOWN[run.case.stem]
    ends = [pins[f"/rows/*/post peak von Mises [MPa]#{end}"] for end in ("least", "greatest")]
    assert " to ".join(f"{of:.0f}" for of in ends) in lines[-1]
