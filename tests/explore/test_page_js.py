"""The page alone in a browser, told by the test what a server would tell it, and when."""

import base64
from pathlib import Path

import pytest
from commands import SMALL
from exploring import CHROMIUM, DRIVER, Page, browser, downloaded

from contactfe.explore import page as module
from contactfe.explore.inputs import moved, shown
from contactfe.explore.state import State

pytestmark = pytest.mark.skipif(
    None in {CHROMIUM, DRIVER},
    reason="no browser here: apt-get install chromium chromium-driver",
)

SOURCE = Path(module.__file__).with_name("page.js").read_text("utf-8")
TUBE = State(SMALL + 'wall = "20 mm"\n', "stop.toml")

_BEGIN = """
const done = arguments[1];
const source = URL.createObjectURL(new Blob([arguments[0]], { type: "text/javascript" }));
import(source).then(({ render }) => {
  window.asked = [];
  const model = { on: (_, f) => (window.hear = f), send_msg: (sent) => asked.push(sent) };
  const document_ = { on_event: (name, f) => (window[name] = f) };
  document.body.replaceChildren(render({ model, view: { model: { document: document_ } } }));
  done();
});
"""


class Alone(Page):
    """The page without a server: what it asks, and what it is told."""

    def __init__(self, driver):
        self.driver, self._before = driver, 0
        driver.get("about:blank")
        driver.execute_async_script(_BEGIN, SOURCE)

    def asked(self):
        """What it has asked since this was looked at last."""
        return self.js("return asked.splice(0)")

    def tell(self, **part):
        """Tell it a part of an answer."""
        self.js("hear(arguments[0])", part)

    def answer(self, number, state=TUBE, **more):
        """Accept a question, with the inputs of a state."""
        told = {"inputs": shown(state, TUBE), "pinned": [], "stale": "old", "stage": "hand"}
        self.tell(answers=number, **(told | more))

    def stale(self):
        """The slots that are marked."""
        slots = self.js("return all(document, '[data-stale]').map((e) => e.dataset.slot)")
        marks = self.js(
            "return all(document, '.mark').filter((e) => e.textContent)"
            ".map((e) => e.parentElement.dataset.slot)"
        )
        assert slots == marks
        return set(slots)


@pytest.fixture(scope="module")
def downloads(tmp_path_factory):
    return tmp_path_factory.mktemp("downloads")


@pytest.fixture(scope="module")
def driver(downloads):
    pytest.importorskip("selenium")
    with browser(downloads) as driver:
        yield driver


@pytest.fixture
def page(driver):
    """The page once its first question is answered."""
    page = Alone(driver)
    (hello,) = page.asked()
    assert (hello["number"], hello["ask"]) == (1, "hello")
    page.answer(1)
    return page


def test_parts_of_another_question_are_too_late(page):
    page.tell(number=1, answer="<p>first</p>", stage="solved", status="one")
    page.slide("section.wall", 25)
    page.tell(number=1, verdicts="<p>in time</p>")  # as nothing is accepted yet
    page.answer(2, moved(TUBE, TUBE, "section.wall", 25), status="two")
    page.tell(number=1, answer="<p>late</p>", stage="complete", status="late")
    assert page.text("[data-slot=answer] .content") == "first"
    assert page.text("[data-slot=verdicts] .content") == "in time"
    assert (page.stage()["stage"], page.text("#status")) == ("hand", "two")
    assert page.stale() == {"answer", "verdicts"}
    page.tell(number=2, answer="<p>second</p>", stage="solved")
    assert page.text("[data-slot=answer] .content") == "second"
    assert page.stage()["stage"] == "solved"


def test_what_was_refused_ends_nothing_of_what_was_accepted(page):
    page.slide("section.wall", 25)
    page.answer(2)
    page.type("contact.offset", "4 km")
    page.tell(answers=3, wrong={"key": "contact.offset", "text": "why not"})
    assert page.fault("contact.offset") == "why not"
    page.tell(number=3, answer="<p>of none</p>")
    page.tell(number=2, answer="<p>second</p>", stage="solved")
    assert page.text("[data-slot=answer] .content") == "second"
    assert page.stage()["accepted"] == "2"
    page.slide("section.wall", 26)
    page.answer(4)
    assert page.fault("contact.offset") == ""
    page.tell(answers=5, wrong={"key": None, "text": "why not"})
    assert page.text("#say") == "why not"


def test_what_is_shown_is_marked_until_it_is_of_the_case(page):
    assert page.stale() == set()  # there was nothing to be stale
    page.tell(number=1, answer="a", hand="h", curve={"text": "none"})
    assert page.stale() == set()
    page.press("again")
    page.answer(2, answer="b")
    assert page.stale() == {"hand", "curve"}
    page.tell(number=2, curve={"text": "none"})
    assert page.stale() == {"hand"}
    page.tell(number=2, stage="complete")
    assert page.stale() == {"hand"}
    page.tell(number=2, hand="h")
    assert page.stale() == set()
    page.press("save")
    page.tell(answers=3)  # which changes nothing
    assert page.stale() == set()


def test_one_question_is_asked_at_a_time_and_of_those_that_wait_the_last_of_each(page):
    for wall in (25, 26, 27):
        page.slide("section.wall", wall)
    page.press("pin")
    page.slide("section.wall", 28)
    (first,) = page.asked()
    assert (first["number"], first["key"], first["value"]) == (2, "section.wall", 25)
    page.tell(number=1, hand="h")  # no answer to it
    assert page.asked() == []
    page.answer(2, moved(TUBE, TUBE, "section.wall", 25))
    slider = "return Number(find(\"[data-key='section.wall'] input[type=range]\").value)"
    assert page.js(slider) == 28  # ahead of what is said of it
    (second,) = page.asked()
    assert (second["number"], second["ask"]) == (3, "pin")
    page.answer(3, moved(TUBE, TUBE, "section.wall", 25))
    (third,) = page.asked()
    assert (third["number"], third["value"]) == (4, 28)
    page.answer(4, moved(TUBE, TUBE, "section.wall", 28))
    assert page.asked() == []
    page.answer(4, moved(TUBE, TUBE, "section.wall", 29))
    assert page.js(slider) == 29
    page.answer(4)
    assert page.value("section.wall") == "20 mm"


def test_a_fault_of_an_answer_does_not_end_the_questions(page):
    page.press("pin")
    page.press("save")
    page.tell(answers=0, say="a fault")
    assert [one["ask"] for one in page.asked()] == ["pin", "save"]
    assert page.stage()["accepted"] == "1"


def test_what_is_being_written_is_not_overwritten(page):
    page.js("find('#contact-offset').focus(); find('#contact-offset').select()")
    page.keys("12")
    page.answer(1)
    assert page.value("contact.offset") == "12"
    assert page.asked() == []
    page.keys("\ue007")  # Enter
    (asked,) = page.asked()
    assert (asked["key"], asked["value"]) == ("contact.offset", "12")
    page.keys("\ue007")  # again, with nothing new
    page.answer(2, moved(TUBE, TUBE, "contact.offset", 12))
    assert page.value("contact.offset") == "12 mm"
    assert page.asked() == []


def test_what_is_told_is_text_and_no_markup(page):
    of = "<b id='evil'>x</b>"
    page.tell(title=of, say=of, status=of, held=of, caution=of)
    page.tell(answers=1, wrong={"key": "section.wall", "text": of})
    page.tell(pinned=[of])
    page.tell(number=1, curve={"text": of})
    assert page.js("return all(document, '#evil').length") == 0
    for place in (
        "h1",
        "#say",
        "#status",
        "#held",
        "#caution",
        "figure[data-slot=curve] figcaption",
    ):
        assert page.text(place) == of
    assert (page.names(), page.fault("section.wall")) == ([of], of)


def test_pinned_sections_are_taken_and_taken_off_by_name(page):
    page.answer(1, pinned=["one", "two"])
    page.press("Move: two")
    page.answer(2, pinned=["one", "two"])
    page.press("Take off: one")
    found = [(one["ask"], one["value"]) for one in page.asked()]
    assert found == [("take", "two"), ("unpin", "one")]


def test_where_nothing_is_drawn_it_is_said_in_the_place_of_the_figure(page):
    def at():
        return page.js(
            "const of = find('[data-slot=curve]'), image = of.querySelector('img');"
            "return [image.hidden, of.querySelector('details').open, image.alt]"
        )

    page.tell(number=1, curve={"src": "data:,", "alt": "a curve", "caption": "walls"})
    assert at() == [False, False, "a curve"]
    page.tell(number=1, curve={"text": "no wall"})
    assert at() == [True, True, ""]
    assert page.text("[data-slot=curve] figcaption") == "no wall"


def test_the_switch_is_off_until_it_is_turned_and_takes_away_what_it_showed(page):
    box = page.find("#beyond")
    assert (box.aria_role, box.accessible_name) == ("checkbox", "Beyond first yield")
    assert not box.is_selected()

    def seen():
        code = "return find(`[data-slot=${arguments[0]}]`).hasAttribute('data-empty')"
        return [not page.js(code, name) for name in ("beyond", "plastic")]

    assert seen() == [False, False]
    for number, on in ((2, True), (3, False)):
        box.click()
        (asked,) = page.asked()
        assert (asked["ask"], asked["value"]) == ("beyond", on)
        page.tell(answers=number)
    page.tell(number=1, working="at it")
    assert page.text("#working") == "at it"
    figure = {"src": "data:,", "alt": "a zone", "caption": "zones"}
    page.tell(number=1, beyond="<p>dents</p>", plastic=figure, working="")
    assert seen() == [True, True]
    assert (page.text("[data-slot=beyond] .content"), page.text("#working")) == ("dents", "")
    page.press("again")
    page.answer(4)
    assert page.stale() == {"beyond", "plastic"}
    page.tell(number=4, beyond="<p>why not</p>", plastic=None)
    assert seen() == [True, False]
    page.tell(beyond=None, plastic=None)
    assert seen() == [False, False]
    assert page.stale() == set()


@pytest.mark.parametrize("units", ["SI", "US customary"])
def test_every_input_stands_as_it_is_told(page, units):
    state = moved(TUBE, TUBE, "report.units", units)
    page.answer(1, state)
    rows = page.js(
        "return all(document, '.row').map((row) => {"
        "const [first, range] = row.querySelectorAll('input, select');"
        "return [row.dataset.key, row.querySelector('label').textContent, first.value,"
        " first.checked, range ? ['min', 'max', 'step', 'value'].map((k) => Number(range[k])) : 0,"
        " row.querySelector('.note')?.textContent,"
        " [...(first.options ?? [])].map((o) => [o.value, o.text])]})"
    )
    assert [row[0] for row in rows] == [of["key"] for of in shown(state, TUBE)]
    for (_, label, text, ticked, ends, note, options), of in zip(
        rows, shown(state, TUBE), strict=True
    ):
        assert label == of["label"]
        if "choice" in of:
            assert text == of["choice"]
            assert [tuple(option) for option in options] == of["options"]
        elif "on" in of:
            assert ticked == of["on"]
        else:
            assert (text, note) == (of["text"], of["note"])
            *limits, value = ends
            assert limits == [pytest.approx(of[key]) for key in ("least", "most", "step")]
            assert value == pytest.approx(of["value"], abs=of["step"])
    assert any(row[5] for row in rows)


def test_inputs_that_a_case_has_no_more_are_taken_away(page):
    without = [one for one in shown(TUBE, TUBE) if one["key"] != "contact.angle"]
    assert page.js("return find(\"[data-key='contact.angle']\") !== undefined")
    page.answer(1, inputs=without)
    keys = page.js("return all(document, '.row').map((e) => e.dataset.key)")
    assert keys == [one["key"] for one in without]


def test_a_file_is_handed_to_the_browser(page, downloads):
    data = base64.b64encode("é of it".encode()).decode()
    page.tell(file={"name": "a-file.toml", "type": "application/toml", "data": data})
    assert downloaded(downloads, "a-file.toml").decode() == "é of it"


def test_a_server_that_is_gone_is_told_of(page):
    assert page.text("#say") == ""
    page.js("connection_lost()")
    assert page.text("#say")
