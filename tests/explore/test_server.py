"""What is refused before a page is served, in one line, and to how many it is."""

import socket
import subprocess
import sys
from types import SimpleNamespace

import pytest
from commands import SMALL, run

from contactfe.explore import page as explore_page


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.toml"
    path.write_text(SMALL)
    return path


def refused(done, *parts):
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    for part in parts:
        assert part in done.stderr


def test_without_its_library_it_says_what_to_install(small):
    code = (
        "import sys; sys.modules['panel'] = None\n"
        "sys.argv = ['contactfe', 'explore', 'small.toml', '--no-open']\n"
        "from contactfe.cli import main\n"
        "main()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=small.parent, capture_output=True, text=True, check=False
    )
    refused(done, "contactfe[explore]")


@pytest.mark.parametrize("address", ["0.0.0.0", "::", "localhost", "192.0.2.1", "a b"])
def test_it_is_served_on_one_address_of_the_machine_alone(small, address):
    pytest.importorskip("panel")
    words = "explore", small, "--no-open", "--address", address
    refused(run(*words, cwd=small.parent), "--address", address)


def test_a_port_that_is_taken_is_named(small):
    pytest.importorskip("panel")
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        refused(run("explore", small, "--no-open", "--port", port, cwd=small.parent), port)


def test_a_case_at_fault_is_refused_before_anything_is_served(small):
    small.write_text(SMALL.replace("young", "youngs", 1))
    refused(run("explore", small, "--no-open", cwd=small.parent), "youngs")


class Document:
    """In place of that of a session: what is sent to it, and what is called at its end."""

    def __init__(self):
        self.sent, self.ends = [], []

    def add_next_tick_callback(self, send):
        """Note what would be sent."""
        self.sent.append(send.args[0])

    def on_session_destroyed(self, end):
        """Keep it."""
        self.ends.append(end)


class Idle:
    """In place of a process: it notes its end."""

    ended = 0

    def __init__(self, _tell):
        pass

    def ask(self, _number, _what):
        """Take it."""

    def close(self):
        """Note it."""
        Idle.ended += 1


@pytest.fixture
def opened(small, monkeypatch):
    """Opens a page; returns its document and what answers its questions."""
    server = pytest.importorskip("contactfe.explore.server")
    monkeypatch.setattr(explore_page, "Process", Idle)
    answers, tabs = [], set()
    monkeypatch.setattr(server.Page, "on_msg", lambda _, answer: answers.append(answer))

    def of(host="here"):
        document = Document()
        state = SimpleNamespace(curdoc=document, headers={"Host": host})
        monkeypatch.setattr(server, "panel", SimpleNamespace(state=state))
        server._page(small, tabs, {"here"})
        return document, answers.pop()

    of.tabs, of.most = tabs, server.MOST_TABS
    return of


def asked(ask, **more):
    return SimpleNamespace(data={"ask": ask, "number": 1, **more})


def test_no_more_tabs_than_there_is_room_for(opened):
    pages = [opened() for _ in range(opened.most + 1)]
    assert opened.tabs == set()  # one that asks nothing has begun nothing
    for _, answer in pages:
        answer(asked("hello"))
    assert len(opened.tabs) == opened.most
    for document, _ in pages[:-1]:
        assert any("inputs" in part for part in document.sent)
    document, answer = pages[0]
    del document.sent[:]
    answer(asked("move", key="section.outside_diameter", value=160))
    assert any("inputs" in part for part in document.sent)  # one that is open stays so
    refused, answer = pages[-1]
    (part,) = refused.sent
    assert part.keys() == {"status"}
    before = Idle.ended
    pages[0][0].ends[0](None)
    assert Idle.ended == before + 4
    assert len(opened.tabs) == opened.most - 1
    answer(asked("hello"))
    assert any("inputs" in part for part in refused.sent)


def test_a_fault_of_its_own_is_told_and_the_page_goes_on(opened):
    document, answer = opened()
    answer(asked("nothing of this"))
    (part,) = document.sent
    assert part["answers"] == 0
    assert "\n" not in part["say"]
    answer(asked("hello"))
    assert any("inputs" in part for part in document.sent)


def test_a_case_that_was_changed_into_none_since_is_told_without_its_path(opened, small):
    small.write_text(SMALL.replace("young", "youngs", 1))
    document, answer = opened()
    answer(asked("hello"))
    (part,) = document.sent
    assert "youngs" in part["say"]
    assert part["title"] == small.name
    assert str(small.parent) not in part["say"]
