"""The page of `contactfe explore` in a browser, as a user moves it."""

import http.client
import io
import json
import signal
import sysconfig
from dataclasses import dataclass, field
from pathlib import Path
from types import SimpleNamespace
from urllib.parse import urlsplit

import pytest
from commands import run_here
from exploring import CHROMIUM, DRIVER, Page, Served, browser, downloaded, served, until
from pypdf import PdfReader

import contactfe
from contactfe.assess.value import Value
from contactfe.case.display import SI, US
from contactfe.report import words
from contactfe.report.check_names import short
from contactfe.report.overload_words import in_fine

pytestmark = pytest.mark.skipif(
    None in {CHROMIUM, DRIVER},
    reason="no browser here: apt-get install chromium chromium-driver",
)

LONG = "a-tube-whose-name-has-sixty-characters-and-no-blank-in-it-60"
PINNED = "tube 150 x 30"

CASE = f"""# An invented stop.
title = "Test stop"

[post]
held_by = "beam shear"  # this remark is kept
young = "200 GPa"
poisson = 0.3
yield = "690 MPa"

[plate]
width = "300 mm"
thickness = "40 mm"
held_by = "rigid base"
young = "200 GPa"
poisson = 0.3
yield = "890 MPa"

[load]
line_load = "1.5 kN/mm"

[check]
yield_margin = 1.5

[sizing]
wall = {{ from = 0.1, to = 0.5, count = 5 }}

[[section]]
name = "{LONG}"
outside_diameter = "150 mm"
wall = "20 mm"

[[section]]
name = "{PINNED}"
outside_diameter = "150 mm"
wall = "30 mm"
"""

GLANCE = {
    "stress_concentration": None,
    "post_peak": "stress",
    "plate_peak": "stress",
    "half_width": "length",
    "peak_pressure": "stress",
    "bore_hoop_under_load": "stress",
}
"""What the answer shows of a solved section, and what it measures."""

TAB, RIGHT = "\ue004", "\ue014"
"""Keys, as a driver is told them."""

SLOTS = {"answer", "hand", "verdicts", "beside", "picture", "curve"}


@dataclass
class Site:
    """A case that is served, its page in a browser, and what was noted of either."""

    case: Path
    server: Served
    page: Page
    downloads: Path
    report: bytes = b""
    at: str = ""  # the question with which the page was last as it was opened
    console: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    frames: list[str] = field(default_factory=list)

    def gather(self) -> None:
        """Take what the browser has noted since this was done last."""
        log = self.page.driver.get_log("browser")
        self.console += [e["message"] for e in log if e["level"] in {"WARNING", "SEVERE"}]
        for entry in self.page.driver.get_log("performance"):
            event = json.loads(entry["message"])["message"]
            match event["method"]:
                case "Network.requestWillBeSent":
                    self.asked.append(event["params"]["request"]["url"])
                case "Network.webSocketCreated":
                    self.asked.append(event["params"]["url"])
                case "Network.webSocketFrameReceived":
                    self.frames.append(event["params"]["response"]["payloadData"])

    def download(self) -> str:
        """The case file as the page has it."""
        self.page.press("download")
        return downloaded(self.downloads, "stop-explored.toml").decode()

    def compared(self, text: str) -> dict:
        """What `compare` has of a case file."""
        path = self.downloads / "compared.toml"
        path.write_text(text, encoding="utf-8")
        done = run_here("compare", path, "--json", "-", cwd=self.downloads)
        path.unlink()
        assert done.returncode == 0, done.stderr
        return json.loads(done.stdout)


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """The page once every wall is tried; its report is made meanwhile."""
    pytest.importorskip("selenium")
    pytest.importorskip("panel")
    folder, downloads = (tmp_path_factory.mktemp(name) for name in ("served", "downloads"))
    case = folder / "stop.toml"
    case.write_text(CASE)
    with served(case) as server, browser(downloads) as driver:
        page = Page(driver, server.url)
        of = Site(case, server, page, downloads)
        page.wait("solved", "complete")
        page.press("report")
        page.wait_for("complete")
        of.report = downloaded(downloads, "stop-report.pdf")
        yield of


@pytest.fixture
def page(site):
    """The page as the case was opened, solved."""
    if site.page.stage()["asked"] != site.at:
        site.page.press("again")
        site.page.wait("solved", "complete")
        site.at = site.page.stage()["asked"]
    site.page.seen()
    yield site.page
    site.gather()


def section_of(document, name):
    return next(section for section in document["sections"] if section["name"] == name)


def governs(document, name):
    """The check of the greatest ratio of a section, of which all have a verdict here."""
    checks = [c for c in document["checks"] if c["section"] == name and c["applies"]]
    assert {c["verdict"] for c in checks} <= {"passes", "fails"}
    return max(checks, key=lambda c: c["ratio"] + c["ratio_uncertainty"])


def pair(document, name, key, units=SI):
    """A value of a section in a document, as a page writes it beside its uncertainty."""
    of, dimension = section_of(document, name)["values"][key], GLANCE[key]
    unit = None if dimension is None else units.unit(dimension)
    return list(words.with_uncertainty(Value(of["value"], of["uncertainty"]), unit))


def judged(document, name):
    """The short name of the check that governs a section, its ratio, and the verdict."""
    check = governs(document, name)
    text = words.ratio_text(check["ratio"], check["ratio_uncertainty"])
    return short(SimpleNamespace(**check)), text, section_of(document, name)["verdict"]


def assert_answer(rows, document, units=SI):
    """The answer is that of the first section of a document, in every figure."""
    name = document["sections"][0]["name"]
    check, governing, verdict = judged(document, name)
    _, of_verdict, of_check, *figures = rows
    assert of_verdict[1].lower() == verdict
    assert check in of_check[0]
    assert of_check[1] == governing
    solved = [key for key in GLANCE if key in section_of(document, name)["values"]]
    assert [row[1:3] for row in figures] == [pair(document, name, key, units) for key in solved]


def assert_beside(rows, document, names, units=SI):
    """So are those of the sections beside one another, the best first."""
    best_first = [name for name in document["by_concentration"] if name in names]
    expected = []
    for name in best_first:
        check, governing, verdict = judged(document, name)
        figures = [" ".join(pair(document, name, k, units)) for k in list(GLANCE)[:2]]
        expected.append([name, *figures, check, governing, verdict])
    assert [[*row[:-1], row[-1].lower()] for row in rows[1:]] == expected


def with_solid(text, name, diameter="150 mm"):
    return f'{text}\n[[section]]\nname = "{name}"\noutside_diameter = "{diameter}"\n'


def answers(site, page, units=SI):
    """The document of the case as it stands, which all on the page has to be of."""
    page.wait("complete")
    text = site.download()
    rows = page.rows("beside")
    solid = [row[0] for row in rows if row[0].startswith("solid")]
    document = site.compared(with_solid(text, *solid) if solid else text)
    names = [section["name"] for section in document["sections"]]
    assert_answer(page.rows("answer"), document, units)
    assert_beside(rows, document, names, units)
    return document


def test_a_wall_that_is_slid_is_solved_as_compare_does(site, page):
    page.slide("section.wall", 25)
    document = answers(site, page)
    assert document["sections"][0]["wall"] == 25.0
    assert [section["name"] for section in document["sections"]][1] == PINNED
    assert document["sections"][2]["wall"] is None  # the solid bar, which the page adds


def test_so_is_one_that_is_written_with_another_unit_and_shown_so(site, page):
    page.type("section.wall", "1 in")
    page.wait("solved", "complete")
    page.choose("report.units", "US customary")
    page.wait("solved", "complete")
    assert page.value("section.wall") == "1 in"
    page.type("section.wall", "1.1")  # of the unit shown
    document = answers(site, page, US)
    assert document["sections"][0]["wall"] == pytest.approx(1.1 * 25.4)
    units = {row[0].rpartition("[")[2] for row in page.rows("answer") if "[" in row[0]}
    assert units == {"ksi]", "in]"}


def test_the_end_of_the_slider_and_the_tick_are_a_solid_bar(site, page):
    page.slide("section.wall")
    page.wait("solved", "complete")
    assert page.value("section.wall") == "solid"
    assert page.js("return find('#section-solid').checked")
    text = site.download()
    assert "wall" not in text.partition("[[section]]")[2].partition("[[section]]")[0]
    page.choose("section.solid", False)
    page.wait("hand", "coarse", "solved", "complete")
    page.choose("section.solid", True)
    page.wait("solved", "complete")
    assert site.download() == text


def test_moves_that_follow_one_another_end_with_the_last(site, page):
    walls = [22.0, 24.0, 26.0, 28.0, 32.0, 34.0, 36.0, 38.0, 40.0, 41.0]
    for wall in walls:
        page.slide("section.wall", wall)
    document = answers(site, page)
    assert document["sections"][0]["wall"] == 41.0
    stages = [one["stage"] for one in page.seen()]
    assert stages[-1] == "complete"
    assert 1 <= stages.count("hand") <= len(walls)


def test_what_is_not_yet_of_the_case_is_marked(page):
    page.wait_for("complete")
    page.seen()
    page.slide("section.wall", 27)
    page.wait("complete")
    hand, *others, complete = page.seen()
    assert hand["stage"] == "hand"
    assert [one["stage"] for one in others] == ["coarse", "solved"]
    stale = {name for name, slot in hand["slots"].items() if slot["stale"]}
    assert stale == SLOTS - {"answer", "hand"}  # which are of the case by then
    assert all(bool(slot["mark"]) == slot["stale"] for slot in hand["slots"].values())
    assert not any(slot["stale"] or slot["mark"] for slot in complete["slots"].values())
    figures = [row[1:] for row in hand["rows"][2:]]
    assert all(solved == uncertainty == "" for solved, uncertainty, _ in figures)
    assert all(by_hand for *_, by_hand in figures)
    coarse = others[0]["rows"]
    assert not any(row[2] for row in coarse)
    assert coarse[1][1] == hand["rows"][1][1] == "NO VERDICT"
    assert len({one["status"] for one in (hand, *others)}) == 3


def test_colours_stay_until_they_are_fitted(page):
    def scale():
        page.wait("solved", "complete")
        until(lambda: not page.js("return find('[data-slot=picture]').dataset.stale != null"), "it")
        return (
            page.js("return find('[data-slot=picture] img').alt").partition(" MPa")[0].split()[-1]
        )

    page.press("fit")
    before = scale()
    page.slide("load.line_load", 1000)
    assert scale() == before
    page.press("fit")
    assert float(scale()) < 0.9 * float(before)
    page.press("again")
    page.wait("solved", "complete")
    page.press("fit")
    assert scale() == before


BAD = {
    "section.wall": "99 in",
    "contact.friction": "x",
    "plate.thickness": "3 kN",
    "contact.offset": "400 mm",
    "section.steel": "ASTM A992",  # which is made as plate alone
}


def test_a_bad_value_is_told_where_it_stands_and_changes_nothing(site, page):
    page.wait_for("complete")
    page.seen()
    before = page.rows("answer"), page.rows("beside"), site.download()
    for key, text in BAD.items():
        put = page.choose if key == "section.steel" else page.type
        put(key, text)
        until(lambda key=key: page.fault(key), key)
        assert (
            page.js("return find(arguments[0]).ariaInvalid", f"#{key.replace('.', '-')}") == "true"
        )
        assert (page.rows("answer"), page.rows("beside"), site.download()) == before
    assert all(map(page.fault, BAD))
    assert page.seen() == []  # no stage since
    assert not page.js("return all(document, '[data-stale]').length")
    page.type("section.wall", "29")
    page.wait("solved", "complete")
    assert not any(map(page.fault, BAD))
    assert page.js("return all(document, '[aria-invalid]').length") == 0
    assert page.value("contact.friction") == "0"
    assert page.value("section.wall") == "29 mm"


def test_a_bad_value_does_not_end_what_is_being_solved(site, page):
    page.slide("section.wall", 23)
    page.type("contact.offset", "4 km")
    until(lambda: page.fault("contact.offset"), "the fault")
    page.wait_for("solved", "complete")
    assert_answer(page.rows("answer"), site.compared(site.download()))


def test_sections_are_pinned_taken_and_taken_off(site, page):
    moved = page.js("return find('[data-slot=answer]').textContent")
    page.press("pin")
    page.wait("solved", "complete")
    assert page.names() == [LONG, PINNED]
    page.press("pin")
    page.wait("solved", "complete")
    first, *others = page.names()
    assert others == [LONG, PINNED]
    page.press("pin")
    until(lambda: page.text("#say"), "why not")
    assert page.names() == [first, *others]
    names = [s["name"] for s in site.compared(site.download())["sections"]]
    assert len(set(names)) == len(names) == 4
    assert names[1:] == [first, *others]
    page.press(f"Move: {PINNED}")
    page.wait("complete")
    assert page.value("section.wall") == "30 mm"
    assert PINNED not in page.names()
    assert page.text("#say") == ""
    assert page.js("return find('[data-slot=answer]').textContent") != moved
    for name in page.names():
        page.press(f"Take off: {name}")
        page.wait("solved", "complete")
    assert page.names() == []
    document = answers(site, page)
    assert document["sections"][0]["name"] == PINNED


def test_the_report_is_of_the_case(site):
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(site.report)).pages]
    text = "".join("".join(pages).split())  # which parts words where letters stand apart
    document = site.compared(CASE)
    assert PINNED.replace(" ", "") in text
    for section in document["sections"]:
        K, uncertainty = pair(document, section["name"], "stress_concentration")
        assert f"{K}{uncertainty}".replace(" ", "") in text


def test_it_is_saved_beside_the_case_and_over_nothing_else(site, page):
    page.slide("section.wall", 24)
    page.wait("hand", "coarse", "solved", "complete")
    saved = site.case.with_name("stop-explored.toml")
    for wall in (24, 26):  # the second over the first
        page.slide("section.wall", wall)
        page.press("save")
        until(lambda: saved.name in page.text("#say"), "a word of it")
        assert saved.read_text() == site.download()
        assert contactfe.read_case(saved).sections[0].wall == wall
        assert "# this remark is kept" in saved.read_text()
        page.slide("section.wall", 25)  # which takes the word away
        page.wait("hand", "coarse", "solved", "complete")
    saved.write_text("of someone else's")
    page.press("save")
    until(lambda: saved.name in page.text("#say"), "a word of it")
    assert saved.read_text() == "of someone else's"
    saved.unlink()
    assert site.case.read_text() == CASE
    assert [path.name for path in site.case.parent.iterdir()] == [site.case.name]


def test_tabs_have_a_state_and_a_process_each(site, page):
    page.wait_for("complete")
    before, text, processes = page.rows("answer"), site.download(), site.server.children()
    own = page.driver.current_window_handle
    page.driver.switch_to.new_window("tab")
    other = Page(page.driver, site.server.url)
    other.wait("hand", "coarse")
    other.slide("section.wall", 50)
    other.wait("solved", "complete")
    assert other.rows("answer")[3] != before[3]
    assert site.server.children() > processes
    page.driver.close()
    page.driver.switch_to.window(own)
    assert (page.rows("answer"), site.download()) == (before, text)
    until(lambda: site.server.children() == processes, "the end of the other tab's", 15)


def test_ctrl_c_ends_it_and_what_it_has_begun(site, page):
    own = page.driver.current_window_handle
    site.gather()
    page.driver.switch_to.new_window("tab")
    try:
        with served(site.case) as server:
            other = Page(page.driver, server.url)
            other.wait("hand", "coarse", "solved")
            left = server.children()
            assert left, other.text("#status")
            server.process.send_signal(signal.SIGINT)
            _, error = server.process.communicate(timeout=15)
            assert server.process.returncode == 0
            assert error == ""
            until(lambda: not any(Path(f"/proc/{pid}").exists() for pid in left), "their end", 15)
            until(lambda: other.text("#say"), "a word of it")
    finally:
        page.driver.close()
        page.driver.switch_to.window(own)
        for kind in ("browser", "performance"):
            page.driver.get_log(kind)  # of a server that is gone


def asked_of(server, path, **headers):
    """What the server answers to such a request."""
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=10)
    try:
        connection.request("GET", path, headers=headers)
        found = connection.getresponse()
        return found.status, b"" if found.status == 101 else found.read()
    finally:
        connection.close()


def test_a_page_of_another_origin_gets_no_answer(site):
    upgrade = {
        "Upgrade": "websocket", "Connection": "Upgrade", "Sec-WebSocket-Version": "13",
        "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
    }  # fmt: skip
    own = site.server.url.rstrip("/")
    assert asked_of(site.server, "/ws", **upgrade, Origin=own)[0] == 101
    for origin in ("http://evil.example", f"http://evil.example:{site.server.port}", "null"):
        assert asked_of(site.server, "/ws", **upgrade, Origin=origin)[0] == 403


def _lines(path):
    return Path(path).read_text().splitlines()


def test_it_listens_on_this_machine_alone(site):
    listening = [
        address
        for table in ("tcp", "tcp6")
        for _, address, _, state, *_ in map(str.split, _lines(f"/proc/net/{table}"))
        if state == "0A" and int(address.rpartition(":")[2], 16) == site.server.port
    ]
    assert listening == [f"0100007F:{site.server.port:04X}"]


def test_no_path_of_the_machine_is_told(site, page):
    page.type("section.wall", "99 in")
    until(lambda: page.fault("section.wall"), "the fault")
    page.press("save")
    until(lambda: page.text("#say"), "a word of it")
    site.case.with_name("stop-explored.toml").unlink()
    site.gather()
    status, source = asked_of(site.server, "/")
    assert status == 200
    shown = page.js("return all(document, '*').map((e) => e.shadowRoot?.innerHTML ?? '').join()")
    told = [source.decode(), page.driver.page_source, shown, *site.frames, site.download()]
    assert "stop.toml" in shown  # the name alone
    assert any("stop.toml" in frame for frame in site.frames)
    places = [
        site.case.parent, Path(contactfe.__file__).parent, Path(sysconfig.get_path("purelib")),
        Path.home(), Path.cwd(),
    ]  # fmt: skip
    for place in places:
        assert not [text for text in told if str(place) in text], place


STRUCK = CASE.replace("[check]", "[overload]\nfactors = [1.1]\n\n[check]")


def test_what_is_beyond_first_yield_is_that_of_the_command(site, page):
    own = page.driver.current_window_handle
    case = site.downloads / "struck.toml"
    case.write_text(STRUCK.partition("[[section]]")[0] + STRUCK[STRUCK.rindex("[[section]]") :])
    page.driver.switch_to.new_window("tab")
    try:
        with served(case) as server:
            other = Page(page.driver, server.url)
            box = other.find("#beyond")
            assert box.accessible_name == "Beyond first yield"
            assert not box.is_selected()
            other.wait("solved", "complete")
            assert not other.find("[data-slot=beyond]").is_displayed()
            box.click()
            until(lambda: other.text("#working"), "a word of the work")
            other.slide("section.wall", 31)  # which ends it
            other.wait("solved", "complete")
            until(lambda: other.find("[data-slot=plastic]").is_displayed(), "the figure", 300.0)
            assert other.text("#working") == ""
            ((*_,), row) = other.rows("beyond")
            other.press("download")
            text = downloaded(site.downloads, "struck-explored.toml").decode()
            assert "31 mm" in text
            assert_struck(row, site, text)
            other.type("contact.friction", "0.2")
            until(lambda: "friction" in other.text("[data-slot=beyond] .content"), "why not")
            assert not other.find("[data-slot=plastic]").is_displayed()
            assert other.rows("beyond") == []
            assert other.js("return document.documentElement.scrollWidth") <= 1280
    finally:
        page.driver.close()
        page.driver.switch_to.window(own)
        case.unlink()
        for kind in ("browser", "performance"):
            page.driver.get_log(kind)  # of a server that is gone


def assert_struck(row, site, text):
    """The row of a strike has the figures that the command finds of the case file."""
    path = site.downloads / "as-downloaded.toml"
    path.write_text(text, encoding="utf-8")
    done = run_here("overload", path, "--json", "-", cwd=site.downloads)
    path.unlink()
    assert done.returncode == 0, done.stderr
    ((strike,),) = (section["strikes"] for section in json.loads(done.stdout)["sections"])
    values = {k: Value(v["value"], v["uncertainty"]) for k, v in strike["values"].items()}
    dents = [in_fine(values[f"{body}_dent_depth"], SI) for body in ("post", "plate")]
    assert row[:4] == ["1.1", SI.line_load.number(strike["line_load"]), *dents]
    assert (row[6] == "no") == (not any(second["yields"] for second in strike["second"]))


REACHED = "input, select, button, summary"


def visible(page):
    """What can be reached by the keyboard, in its order on the page."""
    return page.js(
        f"return all(document, '{REACHED}').filter((e) => e.checkVisibility() && !e.disabled)"
    )


def test_whatever_is_moved_or_pressed_has_a_name(page):
    tree = page.driver.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    roles = {"textbox", "slider", "checkbox", "combobox", "button", "DisclosureTriangle"}
    nodes = [n for n in tree if not n["ignored"] and n["role"]["value"] in roles]
    names = [n["name"]["value"] for n in nodes]
    assert len(nodes) == len(visible(page))
    assert all(names)
    sliders = [n["name"]["value"] for n in nodes if n["role"]["value"] == "slider"]
    assert len(set(sliders)) == len(sliders) == 7


def test_the_keyboard_reaches_all_in_order_and_one_sees_where_it_is(page):
    expected = visible(page)
    page.js("arguments[0].focus()", expected[0])
    reached = []
    for _ in expected:
        element, style, width = page.js(
            "let e = document.activeElement;"
            "while (e.shadowRoot?.activeElement) e = e.shadowRoot.activeElement;"
            "const s = getComputedStyle(e); return [e, s.outlineStyle, parseFloat(s.outlineWidth)]"
        )
        reached.append(element)
        assert style == "solid"
        assert width >= 2.0
        page.keys(TAB)
    assert reached == expected


def test_arrow_keys_move_a_slider(site, page):
    slider = page.find("[data-key='section.wall'] input[type=range]")
    step = float(slider.get_attribute("step"))
    page.js("arguments[0].focus()", slider)
    page.keys(RIGHT, RIGHT, RIGHT)
    until(lambda: float(page.value("section.wall").split()[0]) == 20.0 + 3 * step, "three steps")
    page.wait_for("solved", "complete")


CONTRAST = """
const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
const rgba = (colour) => {
  canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1);
  return [...canvas.getImageData(0, 0, 1, 1).data];
};
const behind = (e) => {
  for (; e; e = e.parentElement ?? e.getRootNode().host) {
    const colour = rgba(getComputedStyle(e).backgroundColor);
    if (colour[3] === 255) return colour;
    if (colour[3] !== 0) throw new Error("a background that shows another");
  }
  return [255, 255, 255, 255];
};
const seen = new Map();
for (const e of all(find("main"), "*")) {
  const own = [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim());
  if (!(own || e.matches("input, select")) || !e.checkVisibility()) continue;
  const style = getComputedStyle(e);
  const pair = [rgba(style.color), behind(e)];
  seen.set(pair.join(), [...pair, style.opacity, e.outerHTML.slice(0, 60)]);
}
return [...seen.values()];
"""


def luminance(colour):
    """Relative, as the accessibility guidelines for the web define it."""
    linear = [
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
        for c in (byte / 255.0 for byte in colour[:3])
    ]
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def test_every_text_stands_out_from_what_is_behind_it(page):
    page.type("section.wall", "99 in")
    until(lambda: page.fault("section.wall"), "the fault")
    page.js("all(document, '.mark').forEach((e) => (e.textContent = 'of before'))")
    pairs = page.js(CONTRAST)
    page.js("all(document, '.mark').forEach((e) => (e.textContent = ''))")
    assert len(pairs) >= 3
    for ink, paper, opacity, what in pairs:
        dark, light = sorted([luminance(ink), luminance(paper)])
        assert (light + 0.05) / (dark + 0.05) >= 4.5, what
        assert (ink[3], opacity) == (255, "1"), what


@pytest.mark.parametrize("units", ["SI", "US customary"])
def test_nothing_is_wider_than_its_place(page, units):
    if units != "SI":
        page.choose("report.units", units)
    page.press("pin")
    page.wait("complete")
    assert page.names()[0] == LONG
    assert page.js("return [innerWidth, innerHeight]") == [1280, 720]
    assert page.js("return document.documentElement.scrollWidth") <= 1280
    over = page.js(
        "return all(document, '[data-slot], .row, .pins, header, form').filter("
        "(e) => e.checkVisibility() && e.scrollWidth > e.clientWidth).map((e) => e.outerHTML)"
    )
    assert over == []


def test_what_is_looked_at_first_is_on_the_first_screen(page):
    """Without scrolling: the inputs of size and load, the picture, and the answer."""
    bottoms = page.js(
        "return ['[data-key=\"plate.thickness\"]', '[data-slot=picture] img',"
        " '[data-slot=answer]'].map((s) => find(s).getBoundingClientRect().bottom)"
    )
    assert 0 < max(bottoms) <= 720


def test_no_request_leaves(site, page):
    site.gather()
    own = urlsplit(site.server.url)
    assert site.server.url in site.asked  # the log works
    assert any(url.startswith("ws:") for url in site.asked)
    for url in site.asked:
        at = urlsplit(url)
        if at.scheme not in {"data", "blob"}:
            assert (at.scheme in {"http", "ws"}, at.netloc) == (True, own.netloc), url


def test_the_console_is_silent(site, page):
    site.gather()
    assert site.console == []
