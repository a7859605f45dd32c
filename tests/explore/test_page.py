"""What a tab is sent, of processes that are made up: in time, late, ended and at fault."""

import base64
import tomllib

import pytest
from commands import SMALL

from contactfe.explore import page
from contactfe.explore.page import HEAD, STATUS, WAITS, WORKING, Tab
from contactfe.explore.state import PINNED, opened
from contactfe.explore.work import Beyond, Glance, Report, Solve

SECTIONS = "".join(
    f'[[section]]\nname = "s{k}"\noutside_diameter = "{100 + k} mm"\n' for k in range(PINNED + 1)
)


class Noted:
    """In place of a process: notes what is asked, and tells what it is given to tell."""

    def __init__(self, tell):
        self.tell, self.asked, self.closed = tell, [], False

    def ask(self, number, what):
        self.asked.append((number, what))

    def close(self):
        self.closed = True


class Opened:
    """A tab of a case, its processes, and what it was sent."""

    def __init__(self, folder, text):
        self.case = folder / "stop.toml"
        self.case.write_text(text)
        self.sent = []
        self.tab = Tab(*opened(self.case), folder, self.sent.append)
        self.glances, self.solves = self.tab._glances, self.tab._solves
        self.number = 0

    @property
    def reports(self):
        return self.tab._reports

    @property
    def strikes(self):
        return self.tab._strikes

    def ask(self, ask, key="", value=None):
        """What is sent in answer, the last part of it."""
        self.number += 1
        del self.sent[:]
        self.tab.got({"ask": ask, "key": key, "value": value, "number": self.number})
        return self.sent[-1]

    def told(self, process, part, number=None):
        """What is sent where a process tells a part."""
        del self.sent[:]
        process.tell(self.number if number is None else number, part)
        return list(self.sent)


@pytest.fixture
def tab(monkeypatch, tmp_path):
    monkeypatch.setattr(page, "Process", Noted)
    return Opened(tmp_path, SMALL + 'wall = "25 mm"\n')


def wall(tab, value):
    return tab.ask("move", "section.wall", value)


def test_a_move_is_answered_by_hand_and_asked_of_both_processes(tab):
    answer = wall(tab, 30)
    assert answer["answers"] == 1
    assert (answer["stage"], answer["status"]) == ("hand", STATUS["hand"])
    assert answer["stale"]
    assert answer["say"] == ""
    assert {"answer", "hand", "held", "inputs", "pinned"} <= answer.keys()
    ((number, glance),), ((also, solve),) = tab.glances.asked, tab.solves.asked
    assert number == also == 1
    assert (type(glance), type(solve)) == (Glance, Solve)
    assert glance.state is solve.state
    assert solve.state.case.sections[0].wall == 30.0
    shown = {one["key"]: one for one in answer["inputs"]}
    assert shown["section.wall"]["value"] == 30.0
    assert len(tab.ask("pin")["pinned"]) == 1
    number, solve = tab.solves.asked[-1]
    assert (number, len(solve.state.pinned)) == (2, 1)


def test_what_a_process_tells_is_sent_with_its_number_and_what_its_stage_means(tab):
    wall(tab, 30)
    assert tab.told(tab.glances, {"answer": "a", "stage": "coarse"}) == [
        {"number": 1, "answer": "a", "stage": "coarse", "status": STATUS["coarse"]}
    ]
    for stage in ("solved", "refused", "complete"):
        assert tab.told(tab.solves, {"stage": stage}) == [
            {"number": 1, "stage": stage, "status": STATUS[stage]}
        ]
    assert tab.told(tab.solves, {"curve": {}}) == [{"number": 1, "curve": {}}]
    assert len(set(STATUS.values())) == len(STATUS)


@pytest.mark.parametrize("stage", ["solved", "refused", "complete"])
def test_a_coarse_answer_that_comes_after_the_fine_one_is_not_sent(tab, stage):
    wall(tab, 30)
    coarse = {"answer": "a", "stage": "coarse"}
    tab.told(tab.solves, {"curve": {}})  # which is no answer yet
    assert tab.told(tab.glances, coarse)
    tab.told(tab.solves, {"stage": stage})
    assert tab.told(tab.glances, coarse) == []
    wall(tab, 31)
    assert tab.told(tab.glances, coarse)[0]["number"] == 2
    assert tab.told(tab.glances, coarse, number=1) == []


def test_of_a_glance_that_fails_the_solve_tells(tab):
    wall(tab, 30)
    assert tab.told(tab.glances, None) == tab.told(tab.glances, {"fault": "of a test"}) == []
    (part,) = tab.told(tab.solves, {"fault": "of a test"})
    assert (part["number"], part["stage"], part["status"]) == (1, "refused", "of a test")
    assert tab.told(tab.glances, {"stage": "coarse"}) == []


def test_a_process_that_ends_before_its_work_is_done_is_told_of(tab):
    wall(tab, 30)
    tab.told(tab.solves, {"stage": "solved"})
    (part,) = tab.told(tab.solves, None)
    assert (part["number"], part["stage"]) == (1, "refused")
    assert part["status"] not in STATUS.values()
    tab.told(tab.solves, {"stage": "complete"})
    assert tab.told(tab.solves, None) == []
    wall(tab, 31)
    (part,) = tab.told(tab.solves, None)
    assert (part["number"], part["stage"]) == (2, "refused")


def test_a_refused_value_says_what_stays_and_asks_nothing(tab):
    wall(tab, 30)
    for key, value, stays in (
        ("section.wall", "99 in", "30 mm"), ("plate.thickness", "x", "40 mm"),
        ("contact.friction", 7, "0"),
    ):  # fmt: skip
        answer = tab.ask("move", key, value)
        assert answer.keys() == {"answers", "wrong"}
        assert answer["answers"] == tab.number
        assert answer["wrong"]["key"] == key
        assert answer["wrong"]["text"].endswith(f" {stays}")
        assert str(tab.case.parent) not in answer["wrong"]["text"]
    answer = tab.ask("move", "section.steel", "no such")  # a choice stays as it is to be seen
    assert "as the post" not in answer["wrong"]["text"]
    assert len(tab.solves.asked) == len(tab.glances.asked) == 1
    assert tab.told(tab.solves, {"stage": "solved"}, number=1)  # which is still of the case


def test_a_tab_is_told_what_was_left_out(monkeypatch, tmp_path):
    monkeypatch.setattr(page, "Process", Noted)
    tab = Opened(tmp_path, SMALL + SECTIONS)
    answer = tab.ask("hello")
    first = tab.sent[0]
    assert first["title"] == "Test stop"
    assert first["caution"]
    assert f"s{PINNED}" in first["say"]
    assert f"s{PINNED - 1}" not in first["say"]
    assert answer["pinned"] == [f"s{k}" for k in range(PINNED)]
    assert "wrong" in tab.ask("pin")
    assert len(tab.ask("unpin", value="s0")["pinned"]) == PINNED - 1
    again = tab.ask("again")
    assert again["pinned"] == answer["pinned"]


def test_the_scale_of_colours_is_that_of_the_last_answer_until_it_is_fitted(tab):
    wall(tab, 30)
    assert tab.solves.asked[-1][1].most is None
    tab.told(tab.solves, {"most": 400.0})
    wall(tab, 31)
    assert tab.solves.asked[-1][1].most == 400.0
    tab.told(tab.solves, {"most": 500.0}, number=1)  # which came too late
    wall(tab, 32)
    assert tab.solves.asked[-1][1].most == 400.0
    before = tab.solves.asked[-1][1]
    tab.ask("fit")
    number, what = tab.solves.asked[-1]
    assert (number, what.most) == (tab.number, None)
    assert what.state == before.state
    tab.told(tab.solves, {"most": 500.0})
    tab.ask("hello")
    assert tab.solves.asked[-1][1] == Solve(before.state, 500.0)


def test_a_report_is_made_by_a_process_of_its_own_and_handed_on(tab):
    wall(tab, 30)
    before = tab.reports
    assert tab.ask("report") == {"answers": 2}
    assert tab.sent[0]["say"]
    assert before.closed
    reports = tab.reports
    assert reports is not before
    ((_, what),) = reports.asked
    assert type(what) is Report
    assert what.state is tab.solves.asked[-1][1].state
    part = {"file": {"name": "stop-report.pdf", "type": "application/pdf", "data": ""}}
    (sent,) = tab.told(reports, part)
    assert sent["file"] == part["file"]
    assert "stop-report.pdf" in sent["say"]
    assert "number" not in sent  # it is wanted whatever has been moved since
    assert reports.closed
    assert len(tab.solves.asked) == 1


def test_a_report_of_a_case_that_has_changed_since_says_so(tab):
    part = {"file": {"name": "stop-report.pdf", "type": "application/pdf", "data": ""}}
    wall(tab, 30)
    tab.ask("report")
    (of_now,) = tab.told(tab.reports, part)
    tab.ask("report")
    wall(tab, 31)
    (of_before,) = tab.told(tab.reports, part)
    assert of_before["say"] != of_now["say"]
    assert of_before["file"] == of_now["file"]
    wall(tab, 30)
    tab.ask("report")
    wall(tab, "99 in")  # which is refused
    assert tab.told(tab.reports, part) == [of_now]


@pytest.mark.parametrize("part", [{"say": "why not"}, {"fault": "why not"}, None])
def test_a_report_that_is_not_made_says_why(tab, part):
    tab.ask("report")
    (sent,) = tab.told(tab.reports, part)
    assert sent.keys() == {"say"}
    assert part is None or "why not" in sent["say"]
    assert "None" not in sent["say"]
    assert tab.reports.closed


def test_beyond_first_yield_nothing_is_solved_until_it_is_switched_on(tab):
    wall(tab, 30)
    assert tab.told(tab.solves, {"stage": "solved"})[-1]["stage"] == "solved"
    assert tab.strikes.asked == []
    assert tab.ask("beyond", value=True) == {"answers": 2}  # of which the answer stays as it is
    assert tab.sent[0] == {"number": 1, "working": WORKING}
    ((number, what),) = tab.strikes.asked
    assert (number, type(what)) == (1, Beyond)
    assert what.state is tab.solves.asked[-1][1].state
    assert len(tab.solves.asked) == 1


@pytest.mark.parametrize("stage", ["solved", "refused"])
def test_it_waits_for_the_fine_answer_and_ends_with_the_next_move(tab, stage):
    tab.ask("hello")
    tab.ask("beyond", value=True)
    assert tab.sent[0] == {"working": WAITS}
    assert wall(tab, 30)["working"] == WAITS
    assert tab.told(tab.solves, {"stage": stage}, number=1)[1:] == []  # of the case before
    assert tab.told(tab.solves, {"curve": {}})[1:] == []
    assert tab.told(tab.solves, {"stage": stage})[1:] == [{"number": 3, "working": WORKING}]
    first = tab.strikes
    assert tab.told(tab.solves, {"stage": "complete"})[1:] == []
    assert tab.strikes is first
    wall(tab, 31)
    assert first.closed
    assert tab.told(first, {"beyond": "late"}, number=3) == []
    tab.told(tab.solves, {"stage": stage})
    assert tab.strikes is not first
    assert tab.told(tab.strikes, {"beyond": "b"}) == [{"number": 4, "beyond": "b"}]
    assert not tab.strikes.closed
    last = {"plastic": None, "working": ""}
    assert tab.told(tab.strikes, last) == [{"number": 4, **last}]
    assert tab.strikes.closed  # as its work is done


def test_what_is_switched_off_is_taken_away_and_not_solved(tab):
    wall(tab, 30)
    tab.told(tab.solves, {"stage": "solved"})
    tab.ask("beyond", value=True)
    process = tab.strikes
    tab.ask("beyond", value=False)
    assert tab.sent[0] == {"beyond": None, "plastic": None, "working": ""}
    assert process.closed
    assert tab.told(process, {"beyond": "late"}) == []
    assert wall(tab, 31)["working"] == ""
    tab.told(tab.solves, {"stage": "solved"})
    assert tab.strikes.asked == []


@pytest.mark.parametrize("part", [{"fault": "of a test"}, None])
def test_strikes_whose_process_fails_say_so(tab, part):
    wall(tab, 30)
    tab.told(tab.solves, {"stage": "solved"})
    tab.ask("beyond", value=True)
    (sent,) = tab.told(tab.strikes, part, number=1)
    assert sent.keys() == {"number", "working"}
    assert sent["working"] not in {"", WAITS, WORKING}
    assert tab.strikes.closed


def test_the_switch_is_no_part_of_the_case(tab):
    wall(tab, 30)
    tab.ask("download")
    before = tab.sent[0]
    tab.ask("beyond", value=True)
    tab.ask("download")
    assert tab.sent[0] == before


def test_what_is_saved_begins_with_its_head_once(tab):
    wall(tab, 30)
    tab.ask("save")
    saved = tab.case.with_name("stop-explored.toml")
    assert saved.name in tab.sent[0]["say"]
    text = saved.read_text()
    assert text.startswith(f"{HEAD} stop.toml")
    assert text.count(HEAD) == 1
    assert text.partition("\n")[2] == tab.solves.asked[-1][1].state.text
    folder = saved.parent / "again"
    folder.mkdir()
    other = Opened(folder, text)
    other.ask("save")
    again = folder / "stop-explored.toml"
    assert again.read_text() == text
    assert tomllib.loads(text)["section"][0]["wall"] == "30 mm"


def test_what_is_downloaded_is_what_is_saved(tab):
    wall(tab, 30)
    tab.ask("download")
    file = tab.sent[0]["file"]
    tab.ask("save")
    saved = tab.case.with_name(file["name"])
    assert base64.b64decode(file["data"]) == saved.read_bytes()
    assert file["type"] == "application/toml"


def test_nothing_is_saved_over_what_is_not_of_this_page(tab):
    saved = tab.case.with_name("stop-explored.toml")
    saved.write_text(f"# not so\n{HEAD}\n")
    answer = tab.ask("save")
    assert "wrong" in answer
    assert f" {saved.name}" in answer["wrong"]["text"]  # without a folder before it
    assert str(tab.case.parent) not in answer["wrong"]["text"]
    assert saved.read_text() == f"# not so\n{HEAD}\n"


def test_no_path_is_told_where_the_folder_is_gone(tab):
    tab.case.unlink()
    tab.case.parent.rmdir()
    answer = tab.ask("save")
    assert answer.keys() == {"answers", "wrong"}
    assert tab.case.parent.name not in answer["wrong"]["text"]


def test_a_tab_that_is_closed_ends_all_its_processes(tab):
    tab.tab.close()
    assert tab.glances.closed
    assert tab.solves.closed
    assert tab.reports.closed
    assert tab.strikes.closed
