"""A kind of folder of results that needs no solving, and processes that end in the midst of it."""

import os
import signal
import sys
import warnings
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from envelopes import case

from contactfe.report.folder import ResultsFolder

KIND = ResultsFolder(
    "things", "things.json", lambda of: ("a.txt", *(f"{s.name}.vtu" for s in of.sections)),
    sections=r"[a-z0-9-]+\.vtu",
)  # fmt: skip

STEPS = {
    "open", "os.rename", "os.link", "os.remove", "os.rmdir", "os.mkdir", "os.chown", "os.chmod",
    "fcntl.flock", "ctypes.dlsym",
}  # fmt: skip
"""Events of Python that come before each call by which a folder is changed."""


def of_case(tmp_path, *names):
    made = case(str(tmp_path / "stop.toml"), sections=2)
    sections = (replace(made.sections[0], name=name) for name in names or ("one", "two"))
    return replace(made, sections=tuple(sections))


def fill(of, folder, text="first"):
    def write(draft):
        for name in KIND.others(of):
            (draft / name).write_text(f"{text} {name}")

    content = {
        "title": of.title, "generator": {"name": "contactfe"}, "case": {"path": of.source}
    }  # fmt: skip
    return KIND.fill(of, folder, content, write)


def content(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*") if path.is_file()
    }  # fmt: skip


def killed(work: Callable[[], object], step: int) -> bool:
    """Whether a process is killed before a step of its work, the first being 1."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of threads that other tests left
        child = os.fork()
    if child == 0:
        left = [step]

        def count(event, _):
            left[0] -= event in STEPS
            if event in STEPS and left[0] == 0:
                os.kill(os.getpid(), signal.SIGKILL)

        status = 1
        try:
            sys.addaudithook(count)
            work()
            status = 0
        finally:
            os._exit(status)
    _, status = os.waitpid(child, 0)
    assert status in {0, signal.SIGKILL}
    return status != 0


def left_over(*folders: Path) -> list[str]:
    """What contactfe left in the midst of writing."""
    return [path.name for folder in folders for path in folder.rglob(".contactfe-*")]
