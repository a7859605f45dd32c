"""The report as HTML in a browser: nothing is asked for, nothing is amiss, something is seen."""

import io
import json
import os
import shutil

import pytest
from calculations import found, sheets
from PIL import Image

from contactfe.report.html import as_document

CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")

pytestmark = pytest.mark.skipif(
    None in {CHROMIUM, DRIVER},
    reason="no browser here: apt-get install chromium chromium-driver",
)


@pytest.fixture(scope="module")
def seen(comparison, tmp_path_factory):
    """Requests, lines of the console, and the first screen."""
    webdriver = pytest.importorskip("selenium.webdriver")
    path = tmp_path_factory.mktemp("html") / "report.html"
    path.write_text(as_document(sheets(found(comparison))), encoding="utf-8")
    options = webdriver.ChromeOptions()
    for argument in ("--headless=new", "--no-sandbox", "--disable-gpu", "--window-size=1000,1400"):
        options.add_argument(argument)
    options.binary_location = CHROMIUM
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    os.environ["SE_OFFLINE"] = "true"  # it has its driver, and is to look for none
    browser = webdriver.Chrome(options=options, service=webdriver.ChromeService(DRIVER))
    try:
        browser.get(path.as_uri())
        events = [json.loads(e["message"])["message"] for e in browser.get_log("performance")]
        asked = [
            event["params"]["request"]["url"]
            for event in events
            if event["method"] == "Network.requestWillBeSent"
        ]
        width = browser.execute_script("return document.documentElement.scrollWidth")
        fits = width <= browser.execute_script("return window.innerWidth")
        shot = Image.open(io.BytesIO(browser.get_screenshot_as_png())).convert("L")
        return path.as_uri(), asked, browser.get_log("browser"), shot, fits
    finally:
        browser.quit()


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
