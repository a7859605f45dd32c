"""The page of one tab: what is asked on it, and what it is sent in answer."""

from __future__ import annotations

import base64
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from contactfe.case.wording import told
from contactfe.errors import ContactfeError, InputError
from contactfe.explore.inputs import moved, shown
from contactfe.explore.process import Process
from contactfe.explore.state import State, pin, take, unpin
from contactfe.explore.work import Beyond, Glance, Report, Solve, by_hand
from contactfe.report import words
from contactfe.report.answer import CAUTION
from contactfe.report.files import aside, check_target, ordinary

Json = dict[str, Any]

STATUS = {
    "hand": "Hand figures; solving",
    "coarse": "Coarse mesh, without ±; solving the fine one",
    "solved": "Solved on two meshes",
    "complete": "Solved on two meshes; all walls tried",
    "refused": "Not solved",
}
"""What is said of each stage of an answer."""

ENDED = "Its process ended: out of memory? A change solves anew"
"""What is said where a process ended that nobody has ended."""

WAITS, WORKING = "Waits for the answer of two meshes", "Being solved, which may take a minute"
"""What is said of strikes beyond first yield that are not there yet."""

STALE = "Before the last change"

HEAD = "# Moved by hand with contactfe explore, from"
"""How a case file begins that was saved from the page."""


class Tab:
    """The state of one tab and the processes that work for it.

    ``send`` takes what the page is to show, from whichever thread. ``folder`` is that of the case
    file, whose path no tab is told.
    """

    def __init__(
        self, first: State, left: tuple[str, ...], folder: Path, send: Callable[[Json], None]
    ) -> None:
        self._first = self._state = first
        self._left, self._folder, self._send = left, folder, send
        self._number, self._most = 0, None
        self._lock, self._settled, self._complete = threading.Lock(), -1, -1
        # Two, so that a glance need not wait for a solve to be dropped, which is looked for only
        # before each mesh.
        self._glances = Process(self._glanced)
        self._solves = Process(self._solved)
        self._reports = Process(lambda _number, _part: None)  # of none yet
        self._strikes = Process(lambda _number, _part: None)
        self._beyond = False
        self._asked: dict[str, Callable[[str, Any], State | None]] = {
            "hello": lambda _key, _value: self._hello(),
            "move": lambda key, value: moved(self._state, self._first, key, value),
            "again": lambda _key, _value: self._first,
            "pin": lambda _key, _value: pin(self._state),
            "unpin": lambda _key, name: unpin(self._state, name),
            "take": lambda _key, name: take(self._state, name),
            "beyond": lambda _key, on: self._switch(bool(on)),
            "fit": lambda _key, _value: self._fit(),
            "download": lambda _key, _value: self._download(),
            "save": lambda _key, _value: self._save(),
            "report": lambda _key, _value: self._report(),
        }

    def got(self, asked: Json) -> None:
        """Answer what the page asks; a bad value leaves all as it was."""
        number = int(asked["number"])
        try:
            found = self._asked[asked["ask"]](asked.get("key") or "", asked.get("value"))
        except InputError as error:
            key, text = asked.get("key"), told(error, self._first.source)
            of = [
                one["text"]
                for one in shown(self._state, self._first)
                if one["key"] == key and "text" in one
            ]
            stays = "".join(f"; it stays {value}" for value in of)
            self._send({"answers": number, "wrong": {"key": key, "text": f"{text}{stays}"}})
            return
        if found is None:
            self._send({"answers": number})
            return
        hand: Json = {}
        with suppress(ContactfeError):  # of which the solve says why
            hand = by_hand(found)
        answer = {
            "answers": number,
            "inputs": shown(found, self._first),
            "pinned": list(found.pinned),
            "held": words.how_held(found.case),
            "stale": STALE,
            "stage": "hand",
            "status": STATUS["hand"],
            "say": "",
            "working": WAITS if self._beyond else "",
        }
        with self._lock:
            self._state, self._number = found, number  # once nothing can go wrong with it
            self._drop()
        self._send(answer | hand)
        self._glances.ask(number, Glance(found))
        self._solves.ask(number, Solve(found, self._most))

    def close(self) -> None:
        """End the processes, whatever they are at."""
        with self._lock:
            self._beyond = False  # none is begun behind it
            for process in (self._glances, self._solves, self._reports, self._strikes):
                process.close()

    def _hello(self) -> State:
        left = f"Left out: {', '.join(map(words.one_line, self._left))}." if self._left else ""
        title = words.one_line(self._state.case.title)
        self._send({"title": title, "caution": CAUTION, "say": left})
        return self._state

    def _fit(self) -> State:
        self._most = None
        return self._state

    def _glanced(self, number: int, part: Json | None) -> None:
        """Take a coarse answer, in a thread of its own, where the fine one is not there yet."""
        if part is None or "fault" in part:
            return  # the solve says what is to be said
        with self._lock:
            if number > self._settled:
                self._send({"number": number, "status": STATUS["coarse"], **part})

    def _solved(self, number: int, part: Json | None) -> None:
        """Take what the other process has found, in a thread of its own."""
        if part is None:
            if self._complete == number:  # there is nothing that it had still to do
                return
            part = {"stage": "refused", "status": ENDED}
        elif "fault" in part:
            part = {"stage": "refused", "status": part["fault"]}
        elif "stage" in part:
            part = part | {"status": STATUS[part["stage"]]}
        if number == self._number and "most" in part:
            self._most = part["most"]
        if part.get("stage") == "complete":
            self._complete = number
        with self._lock:
            if "stage" in part:
                self._settled = number
            self._send({"number": number, **part})
            if part.get("stage") in {"solved", "refused"} and self._beyond:
                self._strike(number)

    def _switch(self, on: bool) -> None:
        """Show what is beyond first yield, of this state and of those that follow; or no more."""
        with self._lock:
            self._beyond = on
            self._drop()
            if not on:
                self._send({"beyond": None, "plastic": None, "working": ""})
            elif self._settled == self._number:
                self._strike(self._number)
            else:
                self._send({"working": WAITS})

    def _strike(self, number: int) -> None:
        """Solve the state beyond first yield, if it still is that of the number.

        In a process that is ended with the next move: a solve looks up too seldom to be dropped.
        """
        if number != self._number:
            return
        self._drop()
        process = Process(lambda of, part: self._struck(process, of, part))
        self._strikes = process
        self._send({"number": number, "working": WORKING})
        process.ask(number, Beyond(self._state))

    def _drop(self) -> None:
        """End what is being solved beyond first yield; what it has still told is not heard."""
        self._strikes.close()
        self._strikes = Process(lambda _number, _part: None)

    def _struck(self, process: Process, number: int, part: Json | None) -> None:
        """Take what it has found, in a thread of its own."""
        with self._lock:
            if process is not self._strikes:  # something else is wanted meanwhile
                return
            if part is None or "fault" in part:
                part = {"working": ENDED if part is None else part["fault"]}
            self._send({"number": number, **part})
            if "working" in part:  # it has done its work
                process.close()

    def _text(self) -> str:
        text = self._state.text
        if text.startswith(HEAD):  # it was saved from here before
            text = text.partition("\n")[2]
        return f"{HEAD} {self._first.source}.\n{text}"

    def _name(self) -> str:
        return f"{Path(self._first.source).stem}-explored.toml"

    def _download(self) -> None:
        data = base64.b64encode(self._text().encode()).decode("ascii")
        self._send({"file": {"name": self._name(), "type": "application/toml", "data": data}})

    def _save(self) -> None:
        name = self._name()
        path = self._folder / name

        def ours(place: Path) -> bool:
            return ordinary(place) and place.read_bytes().startswith(HEAD.encode())

        try:
            check_target("save", path, ours, "case that was saved from this page")
            with aside(path) as draft:
                draft.write_text(self._text(), encoding="utf-8", newline="\n")
        except InputError as error:  # whose advice is for a name that can be chosen
            why, folder = str(error).partition("; ")[0], str(self._folder)
            why = why.replace(str(path), name).replace(folder, "of the case any more")
            raise InputError(f"{why}; download the case instead") from None
        except OSError as error:
            raise InputError(f"{name}: cannot be written: {error.strerror}") from None
        self._send({"say": f"Saved as {name}, beside {self._first.source}."})

    def _report(self) -> None:
        self._send({"say": "The report is being made."})
        self._reports.close()
        of = self._state
        process = Process(lambda _number, part: self._reported(process, of, part))
        self._reports = process
        process.ask(0, Report(of))

    def _reported(self, process: Process, of: State, part: Json | None) -> None:
        """Hand the report of a state on; its process has done its work."""
        if process is not self._reports:  # another was asked for meanwhile
            return
        if part is None:
            part = {"fault": "its process ended: out of memory?"}
        if "file" in part:
            since = "" if of == self._state else ", of the case before the last change"
            self._send({**part, "say": f"Report made: {part['file']['name']}{since}."})
        else:
            self._send({"say": f"No report: {part.get('fault') or part.get('say')}"})
        process.close()
