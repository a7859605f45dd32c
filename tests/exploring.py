"""The page of `contactfe explore`, served by a process of its own and seen in a browser."""

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")

SECONDS = 60.0
"""After which nothing is waited for any more: many times what it takes."""

_FIND = """
const all = (root, selector) => [
  ...root.querySelectorAll(selector),
  ...[...root.querySelectorAll("*")].flatMap(({ shadowRoot: r }) => (r ? all(r, selector) : [])),
];
const find = (selector) => all(document, selector)[0];
"""
"""Looks into shadow roots as well, where the page is."""

_SEEN = """
const main = find("main");
window.seen = [];
new MutationObserver(() => window.seen.push({
  stage: main.dataset.stage,
  status: find("#status").textContent,
  rows: all(document, '[data-slot="answer"] tr').map((r) => [...r.cells].map((c) => c.textContent)),
  slots: Object.fromEntries(all(document, "[data-slot]").map((slot) => [slot.dataset.slot, {
    stale: slot.hasAttribute("data-stale"),
    mark: slot.querySelector(".mark").textContent,
  }])),
})).observe(main, { attributeFilter: ["data-stage"] });
"""


def until(true: Callable[[], Any], what: str, seconds: float = SECONDS) -> Any:
    """What it gives once that is something."""
    ends = time.monotonic() + seconds
    while not (found := true()):
        assert time.monotonic() < ends, f"{what}: not within {seconds} s"
        time.sleep(0.02)
    return found


@dataclass(frozen=True)
class Served:
    """A server and the address that it named."""

    process: subprocess.Popen[str]
    url: str

    @property
    def port(self) -> int:
        """That it listens on."""
        return int(self.url.rstrip("/").rpartition(":")[2])

    def children(self) -> set[int]:
        """Its processes that have not ended, without the one that multiprocessing keeps."""
        tasks = Path(f"/proc/{self.process.pid}/task").glob("*/children")
        every = {int(pid) for task in tasks for pid in task.read_text().split()}
        return {pid for pid in every if "spawn_main" in command(pid)}


def command(pid: int) -> str:
    """Its command line; empty where it has ended."""
    try:
        return Path(f"/proc/{pid}/cmdline").read_text()
    except OSError:
        return ""


@contextmanager
def served(case: Path, *words: str) -> Iterator[Served]:
    """The command on a case file, ended behind it where it has not been."""
    process = subprocess.Popen(
        [sys.executable, "-m", "contactfe", "explore", case.name, "--no-open", *words],
        cwd=case.parent, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    try:
        assert process.stdout is not None
        line = process.stdout.readline()
        assert " is on " in line, line or process.communicate()[1]
        yield Served(process, line.rpartition(" is on ")[2].strip())
    finally:
        process.kill()
        process.communicate()


@contextmanager
def browser(downloads: Path) -> Iterator[Any]:
    """Chromium without a window, 1280 × 720 inside, which puts what it is sent into a folder."""
    from selenium import webdriver

    options = webdriver.ChromeOptions()
    for argument in (
        "--headless=new", "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader",
        "--disable-dev-shm-usage",
    ):  # fmt: skip
        options.add_argument(argument)
    options.binary_location = CHROMIUM
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    os.environ["SE_OFFLINE"] = "true"  # it has its driver, and is to look for none
    driver = webdriver.Chrome(options=options, service=webdriver.ChromeService(DRIVER))
    try:
        inner = driver.execute_script("return [outerWidth - innerWidth, outerHeight - innerHeight]")
        driver.set_window_size(1280 + inner[0], 720 + inner[1])
        to = {"behavior": "allow", "downloadPath": str(downloads)}
        driver.execute_cdp_cmd("Browser.setDownloadBehavior", to)
        yield driver
    finally:
        driver.quit()


class Page:
    """A tab with the page."""

    def __init__(self, driver: Any, url: str) -> None:
        self.driver = driver
        self._before = 0
        driver.get(url)
        until(lambda: self.js("return find('main')"), "the page")
        self.js(_SEEN)

    def js(self, code: str, *arguments: object) -> Any:
        """What a script returns, which may ``find`` a selector and ``all`` that fit it."""
        return self.driver.execute_script(_FIND + code, *arguments)

    def find(self, selector: str) -> Any:
        """The first element of a selector."""
        found = self.js("return find(arguments[0])", selector)
        assert found is not None, selector
        return found

    def text(self, selector: str) -> str:
        """What stands in it, to be seen or not."""
        return str(self.js("return find(arguments[0]).textContent", selector))

    def rows(self, slot: str) -> list[list[str]]:
        """The tables of a slot, by rows."""
        return self.js(
            "return all(document, `[data-slot=${arguments[0]}] tr`)"
            ".map((row) => [...row.cells].map((cell) => cell.textContent.trim()))", slot,
        )  # type: ignore[no-any-return]  # fmt: skip

    def stage(self) -> dict[str, str]:
        """The data of the page: stage, asked, accepted."""
        return dict(self.js("return {...find('main').dataset}"))

    def wait(self, *stages: str) -> None:
        """Until the last move is accepted and the answer at one of those stages."""

        def there() -> bool:
            at = self.stage()
            accepted = int(at.get("accepted", 0))
            last = accepted == int(at.get("asked", -1)) and accepted > self._before
            return last and at.get("stage") in stages

        until(there, f"{stages}, {self.stage()}, {self.text('#status')}")

    def wait_for(self, *stages: str) -> None:
        """Until the answer is at one of those stages, whatever has been asked and refused since."""
        until(lambda: self.stage().get("stage") in stages, f"{stages}, {self.stage()}")

    def seen(self) -> list[dict[str, Any]]:
        """What it showed at each change of its stage since this was asked last."""
        return list(self.js("return window.seen.splice(0)"))

    def slide(self, key: str, value: float | None = None) -> None:
        """Put a slider somewhere, at its end where that is not said."""
        self._asks()
        self.js(
            "const range = find(`[data-key='${arguments[0]}'] input[type=range]`);"
            "range.value = arguments[1] ?? range.max;"
            "range.dispatchEvent(new Event('input', { bubbles: true }))", key, value,
        )  # fmt: skip

    def type(self, key: str, text: str) -> None:
        """Write into a field, and leave it by Enter."""
        self._asks()
        self.js(
            "const of = find(`[data-key='${arguments[0]}'] input`); of.focus(); of.select()", key
        )
        self.keys(text, "\ue007")

    def keys(self, *keys: str) -> None:
        """Press keys, wherever the focus is."""
        from selenium.webdriver import ActionChains

        ActionChains(self.driver).send_keys(*keys).perform()

    def choose(self, key: str, value: str | bool) -> None:
        """Choose of a list, or tick."""
        self._asks()
        self.js(
            "const of = find(`[data-key='${arguments[0]}'] :is(select, input)`);"
            "of[of.type === 'checkbox' ? 'checked' : 'value'] = arguments[1];"
            "of.dispatchEvent(new Event('change', { bubbles: true }))", key, value,
        )  # fmt: skip

    def press(self, button: str) -> None:
        """Press the button that does so, or that has such a label."""
        self._asks()
        self.js(
            "find(`[data-do='${arguments[0]}'], button[aria-label='${arguments[0]}']`).click()",
            button,
        )

    def names(self) -> list[str]:
        """Those of the pinned sections."""
        code = "return all(document, '.pins li').map((row) => row.firstChild.textContent)"
        return list(self.js(code))

    def fault(self, key: str) -> str:
        """The line at an input that says what is wrong."""
        return self.text(f"[data-key='{key}'] .fault")

    def value(self, key: str) -> str:
        """What stands in its field."""
        return str(
            self.js("return find(`[data-key='${arguments[0]}'] :is(input, select)`).value", key)
        )

    def _asks(self) -> None:
        self._before = int(self.stage().get("accepted", 0))


def downloaded(folder: Path, name: str) -> bytes:
    """A file that the browser was sent, once it is whole; it is taken away."""
    path = folder / name
    until(path.exists, f"{name}, of {[p.name for p in folder.iterdir()]}")
    content = path.read_bytes()
    path.unlink()
    return content
