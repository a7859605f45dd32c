"""The report as HTML in a browser: nothing is asked for, nothing is amiss, something is seen."""

import io
import json

import pytest
from calculations import found, sheets
from exploring import CHROMIUM, DRIVER, browser
from PIL import Image

from contactfe.report.html import as_document

pytestmark = pytest.mark.skipif(
    None in {CHROMIUM, DRIVER},
    reason="no browser here: apt-get install chromium chromium-driver",
)


@pytest.fixture(scope="module")
def seen(comparison, tmp_path_factory):
    """Requests, lines of the console, and the first screen."""
    folder = tmp_path_factory.mktemp("html")
    path = folder / "report.html"
    path.write_text(as_document(sheets(found(comparison))), encoding="utf-8")
    with browser(folder) as driver:
        driver.set_window_size(1000, 1400)
        driver.get(path.as_uri())
        events = [json.loads(e["message"])["message"] for e in driver.get_log("performance")]
        asked = [
            event["params"]["request"]["url"]
            for event in events
            if event["method"] == "Network.requestWillBeSent"
        ]
        width = driver.execute_script("return document.documentElement.scrollWidth")
        fits = width <= driver.execute_script("return window.innerWidth")
        shot = Image.open(io.BytesIO(driver.get_screenshot_as_png())).convert("L")
        return path.as_uri(), asked, driver.get_log("browser"), shot, fits


def test_no_request_leaves(seen):
    own, asked, *_ = seen
    assert own in asked  # the log works
    assert all(url == own or url.startswith("data:") for url in asked)


def test_the_console_is_silent(seen):
    assert seen[2] == []


def test_the_screen_is_not_blank_and_not_too_wide(seen):
    *_, shot, fits = seen
    counts = shot.histogram()
    dark = sum(counts[:128]) / sum(counts)
    assert 0.005 < dark < 0.5
    assert fits
