"""Hostile moves: the state is the case file at every moment, and nothing else is told."""

import json
import random
import tomllib
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import generated
import pytest

from contactfe.assess.as_made import assess_as_made
from contactfe.assess.bodies import Bodies
from contactfe.assess.compare import compared
from contactfe.case import Case, case_from_dict, read_case
from contactfe.errors import InputError
from contactfe.explore import page, work
from contactfe.explore.page import Tab
from contactfe.explore.state import opened
from contactfe.report.blocks import Line
from contactfe.report.explored import at_a_glance

CASES = Path(__file__).parents[2] / "cases"

KEYS = [
    "section.outside_diameter", "section.wall", "section.solid", "section.designation",
    "section.steel", "section.name", "load.force", "load.line_load", "contact.offset",
    "contact.angle", "contact.friction", "plate.thickness", "plate.steel", "report.units",
    "title", "plate", "", "a.b",
]  # fmt: skip

VALUES = [
    "1 in", "22 mm", 12.5, 0.2, 30, "solid", "none", "as the post", "as the case states it", "SI",
    "US customary", "nan", "inf", "-5 mm", "0", "1e-320 mm", "1e308 mm", "12,5", '"', "'", "\n",
    'a"\n[section]\nx = 1\n', "\\", "\x00", "\u2028", "é日🙂", "9" * 400, "a" * 100_000, True,
    False, None, [], {}, {"a": 1}, [1], 10**400, -(10**400), float("nan"), float("inf"), 5e-324,
]  # fmt: skip


class Idle:
    """In place of a process: nothing is solved."""

    def __init__(self, _tell: object) -> None:
        pass

    def ask(self, _number: int, _what: object) -> None:
        """Take it."""

    def close(self) -> None:
        """Be gone."""


@pytest.fixture
def tab(request, monkeypatch, tmp_path):
    monkeypatch.setattr(page, "Process", Idle)
    first, left = opened(request.param)
    sent = []
    return Tab(first, left, tmp_path, sent.append), sent


def asked(by: random.Random, names: list[str]) -> dict:
    kind = by.choice(["move"] * 6 + ["pin", "unpin", "take", "again", "hello", "fit"])
    if kind == "move":
        return {"ask": kind, "key": by.choice(KEYS), "value": by.choice(VALUES)}
    return {"ask": kind, "value": by.choice([*names, "nobody", '"', None])}


@pytest.mark.parametrize("tab", sorted(CASES.glob("*.toml")), indirect=True, ids=lambda p: p.stem)
def test_text_is_case_after_any_moves(tab):
    tab, sent = tab
    by = random.Random(7)
    accepted = 0
    for number in range(1, 41):
        before = tab._state
        sent.clear()
        tab.got({**asked(by, list(before.pinned)), "number": number})
        assert sum(part.get("answers") == number for part in sent) == 1
        json.dumps(sent, allow_nan=False)
        for wrong in (part["wrong"] for part in sent if "wrong" in part):
            assert tab._state is before
            assert "\n" not in wrong["text"]
            assert str(CASES) not in wrong["text"]
        if tab._state is not before:
            accepted += 1
            assert case_from_dict(tomllib.loads(tab._text()), before.source) == tab._state.case
    assert accepted > 5


@pytest.mark.parametrize("seed", range(5000, 5008))
def test_drawn_cases_too(seed, monkeypatch, tmp_path):
    path = tmp_path / "drawn.toml"
    path.write_text(generated.text_of(generated.valid(random.Random(seed))), "utf-8")
    try:
        first, left = opened(path)
    except InputError:
        return
    monkeypatch.setattr(page, "Process", Idle)
    tab, by = Tab(first, left, tmp_path, lambda _: None), random.Random(seed)
    for number in range(1, 31):
        tab.got({**asked(by, list(tab._state.pinned)), "number": number})
        assert case_from_dict(tomllib.loads(tab._text()), first.source) == tab._state.case


@pytest.mark.parametrize("tab", [CASES / "causeway-lodge-stop.toml"], indirect=True)
def test_move_that_cannot_be_told_changes_nothing(tab, monkeypatch):
    tab, _ = tab
    before = tab._state

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(page, "by_hand", broken)
    with pytest.raises(ZeroDivisionError):
        tab.got({"ask": "move", "key": "contact.offset", "value": 3, "number": 1})
    assert tab._state is before


@pytest.mark.parametrize("tab", [CASES / "granary-lift-stop.toml"], indirect=True)
def test_hand_figures_say_what_load_they_are_of(tab):
    """Before the solve the load counts as even; the figures of the peak along the post differ."""
    tab, sent = tab
    tab.got({"ask": "hello", "number": 1})
    (told,) = (part["held"] for part in sent if "held" in part)
    assert told == work.by_hand(tab._state)["held"]
    assert "even" in told


@pytest.mark.parametrize("tab", [CASES / "causeway-lodge-stop.toml"], indirect=True)
def test_save_touches_no_file_of_another(tab, tmp_path):
    tab, sent = tab
    target, other = tmp_path / "causeway-lodge-stop-explored.toml", tmp_path / "other.toml"
    other.write_text("precious")
    target.symlink_to(other)
    tab.got({"ask": "save", "number": 1})
    assert other.read_text() == "precious"
    assert "wrong" in sent[-1]
    assert str(tmp_path) not in sent[-1]["wrong"]["text"]
    target.unlink()
    tab.got({"ask": "save", "number": 2})
    assert tomllib.loads(target.read_text()) == tab._state.tables


def test_stop_that_fails_stands_beside_the_verdict_of_its_section(tmp_path):
    """Of a gap that is closed where it must not be, no section knows."""
    path = CASES / "weir-keeper-stop.toml"
    case = read_case(path)
    case = replace(case, sections=case.sections[:1])
    closed = tmp_path / path.name
    closed.write_text(path.read_text("utf-8").replace('gap = "10 in"', 'gap = "1 in"'), "utf-8")
    solved = assess_as_made(case, case.sections[0], Bodies(case))

    def tones(of: Case) -> list[str]:
        of = replace(of, sections=case.sections)
        (rows,) = at_a_glance(of, solved.by_hand, compared(of, [solved])).groups
        return [cell.tone for row in rows for cell in row if isinstance(cell, Line)]

    assert tones(case) == ["bad"]
    assert tones(read_case(closed)) == ["bad", "bad"]


@pytest.mark.parametrize("host", ["127.0.0.1:5000", "localhost:5000", "elsewhere.example:5000"])
def test_page_asked_for_by_another_name_stays_empty(host, monkeypatch):
    """Else a page of elsewhere, whose name is made to lead here, could read and save."""
    server = pytest.importorskip("contactfe.explore.server")
    told = []
    document = SimpleNamespace(
        add_next_tick_callback=told.append, on_session_destroyed=lambda _: None
    )
    monkeypatch.setattr(
        server,
        "panel",
        SimpleNamespace(state=SimpleNamespace(curdoc=document, headers={"Host": host})),
    )
    monkeypatch.setattr(page, "Process", Idle)
    served = {"127.0.0.1:5000", "localhost:5000"}
    answers = []
    monkeypatch.setattr(server.Page, "on_msg", lambda _, answer: answers.append(answer))
    server._page(CASES / "quayside-annex-stop.toml", set(), served)
    for answer in answers:
        answer(SimpleNamespace(data={"ask": "hello", "number": 1}))
    assert bool(told) == (host in served)
