"""What is solved of a state, and in which order it is shown."""

import base64
import html
import io
import math
import re
from collections import OrderedDict
from dataclasses import replace
from itertools import pairwise

import pytest
from commands import SMALL
from pypdf import PdfReader
from sizings import Instead

from contactfe.assess.compare import compare
from contactfe.assess.overload.run import overload
from contactfe.explore import work
from contactfe.explore.process import Dropped
from contactfe.explore.state import State, pin, put, resize, unpin
from contactfe.explore.work import Beyond, Glance, Memory, Report, Solve, by_hand
from contactfe.report import words
from contactfe.report.figures import drawn

SIZING = "[sizing]\nwall = { from = 0.1, to = 0.5, count = 5 }\n"
TUBE = State(
    SMALL.replace('[[section]]\nname = "solid"', f'{SIZING}[[section]]\nname = "tube"')
    + 'wall = "25 mm"\n', "stop.toml",
)  # fmt: skip
PINNED = resize(pin(TUBE), {"outside_diameter": "150 mm", "wall": "30 mm"})
THIN = resize(pin(TUBE), {"outside_diameter": "150 mm", "wall": "1 mm"})
BAD_PIN = resize(pin(resize(TUBE, {"outside_diameter": "150 mm", "wall": "1 mm"})),
                 {"outside_diameter": "150 mm", "wall": "25 mm"})  # fmt: skip


def solved(state, memory, most=None):
    return [part for part in Solve(state, most).parts(memory) if part]


def kinds(parts):
    """What there is in each part; curves that follow one another count once."""
    found = [tuple(sorted(part)) for part in parts]
    return [one for before, one in pairwise([None, *found]) if (before, one) != (CURVE, CURVE)]


def cells(text):
    """The rows of the tables in a text of HTML."""

    def texts(of, tag):
        return re.findall(rf"<{tag}\b.*?</{tag}>", of, re.DOTALL)

    return [
        [html.unescape(re.sub("<[^>]*>", "", cell)).strip() for cell in texts(row, "t[dh]")]
        for row in texts(text, "tr")
    ]


def last(parts, key):
    """The last that there is of a key."""
    return next(part[key] for part in reversed(parts) if key in part)


def beside(parts):
    """The names of the sections that stand beside one another."""
    return [row[0] for row in cells(last(parts, "beside"))[1:]]


def members(memory):
    """The walls of the sections that bodies are kept of."""
    keys = (key for _, key in memory.kept)
    return {key[1].wall for key in keys if key[0] == "member"}


PICTURE = drawn.Picture(b"png", "walls", "a curve")
CURVE, ANSWER = ("curve",), ("answer", "held", "stage")
SOLVED = [ANSWER, ("hand",), ("verdicts",), ("most", "picture")]
REST = [("verdicts",), ("answer",), ("beside",), CURVE, ("stage",)]


@pytest.fixture(scope="module", autouse=True)
def drawn_small():
    """Figures of few dots, which take less time."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(work, "DOTS", 20)
        yield


@pytest.fixture
def asked(monkeypatch):
    """The walls of the sections that were solved since."""
    found = []
    solve = work.assess_as_made

    def counting(case, section, of):
        found.append(section.wall)
        return solve(case, section, of)

    monkeypatch.setattr(work, "assess_as_made", counting)
    return found


@pytest.fixture(scope="module")
def memory():
    return Memory(OrderedDict())


@pytest.fixture(scope="module")
def parts(memory):
    """What a state of two tubes gives."""
    return solved(PINNED, memory)


def test_the_most_wanted_comes_first(parts):
    assert kinds(parts) == [*SOLVED, *REST]
    assert [part["stage"] for part in parts if "stage" in part] == ["solved", "complete"]
    assert len([part for part in parts if "curve" in part]) > 3  # it is seen to grow
    for part in parts:
        for image in (part.get("picture"), part.get("curve")):
            if image:
                kind, data = image["src"].split(",")
                assert kind == "data:image/png;base64"
                assert base64.b64decode(data).startswith(b"\x89PNG")
                assert image["alt"]
                assert image["caption"]


def test_what_is_shown_is_what_compare_finds(parts):
    """Of the sections of the file, and of the solid bar that the page adds."""
    case = PINNED.case
    solid = replace(case.sections[0], name="solid 150 mm", wall=None)
    document = compare(replace(case, sections=(*case.sections, solid)))
    first = document.section(case.sections[0].name)
    K = words.with_uncertainty(first.stress_concentration)
    stress = words.with_uncertainty(first.member.peak_von_mises, case.display.stress)
    for answer in (part["answer"] for part in parts if "answer" in part):
        rows = [tuple(row[1:3]) for row in cells(answer)]
        assert {K, stress} <= set(rows)
    rows = cells(last(parts, "beside"))[1:]
    assert [row[0] for row in rows] == list(document.by_concentration)
    for name, *figures in rows:
        result = document.section(name)
        assert figures[:2] == [
            words.pair(result.stress_concentration),
            words.pair(result.member.peak_von_mises, case.display.stress),
        ]
    (hand,) = [part["hand"] for part in parts if "hand" in part]
    assert len(cells(hand)) == 1 + len(first.hand_checks)
    assert "tube" in last(parts, "verdicts")  # the pinned one has a verdict, the added none
    assert "solid" not in last(parts, "verdicts")


def test_how_much_is_open_is_of_all_sections_in_the_end(parts):
    """A tube of no known limits is one item more: it is of the sections that are pinned, too."""
    first, final = [part["answer"] for part in parts if "answer" in part]
    assert cells(first)[1][1] == cells(final)[1][1] == "passes"
    items = [compare(PINNED.case), compare(replace(PINNED.case, sections=PINNED.case.sections[:1]))]
    count = [f"{len(found.open_items)} OPEN" for found in items]
    assert [cells(final)[1][2], cells(first)[1][2]] == count
    assert count[0] != count[1]


@pytest.mark.parametrize("every", [4, 5, 1000])
def test_the_curve_is_drawn_as_it_grows_and_once_it_is_whole(monkeypatch, every):
    made = Instead(TUBE.case)
    given = []
    monkeypatch.setattr(work.Job, "solve", lambda job, _case, _kept: made._trial(job))
    monkeypatch.setattr(work, "REDRAWN", every)
    monkeypatch.setattr(drawn, "picture", lambda _figure, *of, dots: given.append(of) or PICTURE)
    memory = Memory(OrderedDict())
    parts = list(work._curve(TUBE.case, memory))
    tried = [len(diameter.walls) for diameter, *_ in given]
    assert tried == sorted(tried)
    whole = memory.curve(TUBE.case).found()
    assert given[-1][0] == whole
    assert {wall for *_, wall in given} == {25.0}  # where the section is marked
    solves = sum(
        1 + (pair.fine is not None) for pair in memory.curve(TUBE.case).curve.pairs.values()
    )
    assert len(given) == math.ceil(solves / every) == sum("curve" in part for part in parts)
    del given[:]
    assert list(work._curve(TUBE.case, memory)) == [{"curve": work._image(PICTURE)}]
    assert [of[0] for of in given] == [whole]


def test_a_solid_bar_has_no_other_beside_it():
    parts = Solve(State(SMALL, "stop.toml"), None).parts(Memory(OrderedDict()))
    found = next(part for part in parts if "beside" in part)
    assert beside([found]) == ["solid"]


def test_the_solid_bar_beside_is_of_the_steel_and_hold_of_the_section():
    tube = replace(TUBE.case.sections[0], steel="EN 10025-2 S355", held_by="diametral")
    solid = work._solid(TUBE.case, tube)
    assert (solid.outside_diameter, solid.wall) == (150.0, None)
    assert (solid.steel, solid.held_by) == (tube.steel, tube.held_by)


def test_a_glance_has_no_uncertainty_and_no_verdict(parts):
    memory = Memory(OrderedDict())
    list(Glance(TUBE).parts(memory))
    assert members(memory) == {25.0}
    (part,) = Glance(PINNED).parts(memory)
    assert tuple(sorted(part)) == ("answer", "stage")
    assert part["stage"] == "coarse"
    rows, fine = cells(part["answer"]), cells(last(parts, "answer"))
    assert "±" not in part["answer"]
    assert rows[1][1] == "NO VERDICT"
    assert not any(row[2] for row in rows)
    figures = {row[0]: row[1:] for row in fine}
    coarse = {row[0]: row[1:] for row in rows[2:] if row[1]}
    assert len(coarse) == 3  # K and both peaks
    for label, (figure, _, formula) in coarse.items():
        assert float(figure) == pytest.approx(float(figures[label][0]), rel=0.02)
        assert formula == figures[label][2]
    assert members(memory) == {30.0}  # no glance is taken at a pinned one


def test_a_glance_is_at_the_contact_of_the_case_and_gives_nothing_where_it_cannot_be_solved():
    (alone,) = Glance(TUBE).parts(Memory(OrderedDict()))
    wide = put(TUBE, "envelope", {"offset": {"from": "0 mm", "to": "145 mm", "count": 3}})
    assert len(wide.case.envelope.contacts) == 3
    (same,) = Glance(wide).parts(Memory(OrderedDict()))
    assert same == alone
    assert list(Glance(THIN).parts(Memory(OrderedDict()))) == []


def test_a_section_that_cannot_be_solved_is_told_and_the_others_are_shown(memory):
    refused, *others = solved(THIN, memory)
    assert refused["stage"] == "refused"
    assert "7.5 mm" in refused["answer"]  # how far it may give way
    assert kinds(others) == [("verdicts",), ("beside",), CURVE]
    assert set(beside(others)) == {"tube", "solid 150 mm"}
    assert "src" in last(others, "curve")


def test_a_pinned_one_that_cannot_be_solved_is_named_and_the_rest_is_shown(memory):
    parts = solved(BAD_PIN, memory)
    assert kinds(parts) == [*SOLVED, *REST]
    assert parts[-1] == {"stage": "complete"}
    moved, thin = BAD_PIN.case.sections
    assert set(beside(parts)) == {moved.name, "solid 150 mm"}
    for key in ("verdicts", "beside"):
        assert f"{thin.name}”" in last(parts, key)
        assert "7.5 mm" in last(parts, key)


def test_where_no_wall_can_be_tried_its_place_says_why(memory):
    tables = TUBE.tables | {"sizing": {"wall": {"from": 0.45, "to": 0.49, "count": 5}}}
    state = TUBE.changed(lambda of: of.update(tables))
    parts = solved(state, memory)
    (curve,) = [part["curve"] for part in parts if "curve" in part]
    assert curve.keys() == {"text"}
    assert "least_bore" in curve["text"]
    assert parts[-1] == {"stage": "complete"}


def test_nothing_is_solved_again_where_a_wall_has_gone_there_and_back(memory, asked):
    first = solved(PINNED, memory)
    del asked[:]
    there = solved(resize(PINNED, {"outside_diameter": "150 mm", "wall": "22 mm"}), memory)
    assert asked == [22.0]  # the pinned one, the solid bar and the curve are as they were
    assert len([part for part in there if "curve" in part]) == 1
    del asked[:]
    back = solved(PINNED, memory)
    assert asked == []
    assert {k: last(back, k) for k in ("answer", "beside", "curve")} == {
        k: last(first, k) for k in ("answer", "beside", "curve")
    }
    assert len([part for part in back if "curve" in part]) == 1  # nothing of it is new
    for changed in (
        put(TUBE, "plate.thickness", "41 mm"),
        put(TUBE, "contact.offset", "5 mm"),
        put(TUBE, "load.line_load", "410 N/mm"),
        put(TUBE, "post.yield", "350 MPa"),
    ):
        del asked[:]
        next(Solve(changed, None).parts(memory))
        assert asked == [25.0]
    del asked[:]
    next(Solve(put(changed, "title", "Another"), None).parts(memory))
    assert asked == []


def test_bodies_of_sections_that_are_gone_are_let_go():
    memory = Memory(OrderedDict())
    for state, left in ((TUBE, {25.0}), (PINNED, {30.0, 25.0}), (unpin(PINNED, "tube"), {30.0})):
        parts = Solve(state, None).parts(memory)
        before = {id(body) for (_, key), body in memory.kept.items() if key[0] == "plate"}
        while "beside" not in next(parts):
            pass
        assert members(memory) - {None} == left  # that of the solid bar is there as well
        plates = {id(body) for (_, key), body in memory.kept.items() if key[0] == "plate"}
        assert before <= plates


def test_what_is_remembered_has_its_bounds(monkeypatch, asked):
    monkeypatch.setattr(work, "MOST_RESULTS", 2)
    memory = Memory(OrderedDict())
    walls = [
        TUBE,
        *(resize(TUBE, {"outside_diameter": "150 mm", "wall": w}) for w in ("26 mm", "27 mm")),
    ]
    for state in (walls[0], walls[1], walls[0], walls[2], walls[0], walls[1]):
        next(Solve(state, None).parts(memory))
    assert asked == [25.0, 26.0, 27.0, 26.0]  # the least lately used went first


class Busy(OrderedDict):
    """What is kept, looked into so many times before something else is asked."""

    left = 10**9

    def __contains__(self, key):
        self.left -= 1
        if self.left < 0:
            raise Dropped
        return super().__contains__(key)


def test_one_that_was_dropped_leaves_what_is_known_as_it_was(parts):
    memory = Memory(Busy())
    for times in (0, 3, 8):
        memory.kept.left = times
        with pytest.raises(Dropped):
            solved(PINNED, memory)
    memory.kept.left = 10**9
    again = []
    for part in Solve(PINNED, None).parts(memory):
        again.append(part)
        if "beside" in part:
            break
    for key in ("answer", "hand", "verdicts", "beside"):
        assert last(again, key) == last(parts, key)


def test_the_scale_of_colours_is_that_of_the_section_or_the_one_that_is_given(memory, monkeypatch):
    given, draw = [], drawn.picture

    def drawing(figure, of, shown, most, dots):
        given.append((most, [result.section for result in shown]))
        return draw(figure, of, shown, most, dots=dots)

    monkeypatch.setattr(drawn, "picture", drawing)

    def most(fixed):
        parts = Solve(PINNED, fixed).parts(memory)
        return next(part for part in parts if "picture" in part)["most"]

    own = most(None)
    assert most(2.0 * own) == 2.0 * own
    assert [scale for scale, _ in given] == [own, 2.0 * own]
    assert all(shown == [PINNED.case.sections[0]] for _, shown in given)
    post = compare(replace(PINNED.case, sections=PINNED.case.sections[:1])).sections[0]
    assert own >= post.member.peak_von_mises.value


def test_by_hand_takes_no_solving(asked):
    found = by_hand(PINNED)
    assert asked == []
    assert found.keys() == {"answer", "hand", "held"}
    rows = cells(found["answer"])
    assert rows[1][1] == "NO VERDICT"
    assert not any(row[1] or row[2] for row in rows[2:])
    assert all(row[3] for row in rows[2:])


def test_a_report_is_of_the_state(memory):
    plain = State(PINNED.text.replace(SIZING, ""), PINNED.source)  # whose walls are not sized
    (part,) = Report(plain).parts(memory)
    made = part["file"]
    assert (made["name"], made["type"]) == ("stop-report.pdf", "application/pdf")
    pages = PdfReader(io.BytesIO(base64.b64decode(made["data"]))).pages
    text = "".join("".join(page.extract_text() for page in pages).split())  # whatever parts words
    for section in PINNED.case.sections:
        assert section.name.replace(" ", "") in text
    (part,) = Report(THIN).parts(memory)
    assert part.keys() == {"say"}
    assert "7.5 mm" in part["say"]


REFUSED = {
    "[contact] friction": {"contact": {"friction": 0.2}},
    "[contact] angle": {"contact": {"friction": 0.2, "angle": "5 deg"}},
    "[model] state": {"model": {"state": "plane stress"}},
}


@pytest.mark.parametrize("key", REFUSED)
def test_a_case_that_is_not_struck_beyond_first_yield_says_why(key, monkeypatch):
    state = TUBE.changed(lambda tables: tables.update(REFUSED[key]))
    monkeypatch.setattr(work, "assess_as_made", None)  # it is said before anything is solved
    (part,) = Beyond(state).parts(Memory(OrderedDict()))
    assert (part["plastic"], part["working"]) == (None, "")
    assert f"{key} = " in html.unescape(part["beyond"])
    assert "stop.toml" not in part["beyond"]


def test_a_section_that_is_not_solved_has_no_strikes():
    thin = resize(TUBE, {"outside_diameter": "150 mm", "wall": "1 mm"})
    (part,) = Beyond(thin).parts(Memory(OrderedDict()))
    assert (part["plastic"], part["working"]) == (None, "")
    (refused,) = [p for p in Solve(thin, None).parts(Memory(OrderedDict())) if "stage" in p]
    assert part["beyond"] == refused["answer"]


def test_strikes_are_those_of_the_command(monkeypatch):
    # A pinned section with what is refused does not count, as it is not the one that is moved.
    told = []
    monkeypatch.setattr(work.explored, "beyond", lambda result: told.append(result) or ())
    monkeypatch.setattr(drawn, "picture", lambda *_, **__: PICTURE)
    state = pin(TUBE.changed(lambda tables: tables.update(overload={"factors": [1.1]})))
    filled = {"young": "30 GPa", "poisson": 0.2, "density": "2400 kg/m3"}
    state = state.changed(lambda tables: tables["section"][1].update(infill=filled))
    parts = list(Beyond(state).parts(Memory(OrderedDict())))
    assert [tuple(part) for part in parts] == [("beyond",), ("plastic", "working")]
    assert parts[-1]["plastic"]["alt"] == PICTURE.alt
    (result,) = told
    alone = replace(state.case, sections=state.case.sections[:1])
    assert result.sections == overload(alone).sections
    assert result.sections[0].strikes
