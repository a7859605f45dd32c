"""The record of a study: nothing lost, nothing mixed in, nothing believed that was not written."""

import json
import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from waiting import within

from contactfe.assess.quantities import QUANTITIES
from contactfe.assess.sweep.result import SweepRow
from contactfe.case.wording import LONGEST, told
from contactfe.errors import InputError
from contactfe.report.record import Kind, fingerprint, read_head, record


@dataclass(frozen=True)
class Answer:
    number: int
    figure: float = 0.5
    text: str = "Öl [b] \n"
    more: dict[str, float] = field(default_factory=dict)


COUNT = 6
KIND = Kind(
    "answers", Answer, COUNT, lambda a: a.number if a.number < COUNT else None, lambda _: "of"
)
HEAD = {"title": "A title", "of": "of"}
MADE = [Answer(1, 0.1), Answer(4, 1e300), Answer(0, -1 / 3)]
IN_ORDER = [MADE[2], MADE[0], MADE[1]]


def kept(path, kind=KIND):
    with record(path, kind, HEAD) as found:
        assert len(found) == len(list(found))
        assert all((answer.number in found) for answer in found)
        return list(found)


def spoiled(path, kind=KIND):
    with record(path, kind, HEAD) as found:
        return found.spoiled


@pytest.fixture
def path(tmp_path):
    at = tmp_path / "r.jsonl"
    fill(at)
    return at


def fill(path, answers=MADE):
    with record(path, KIND, HEAD) as found:
        for answer in answers:
            before = path.stat().st_size
            found.add(answer)
            assert path.stat().st_size > before  # on the disk at once
            assert answer.number in found


def lines(path):
    return path.read_bytes().splitlines(keepends=True)


def test_answers_come_back_as_they_were_in_the_order_of_their_points(path):
    assert kept(path) == IN_ORDER
    fill(path, [Answer(5)])
    assert kept(path) == [*IN_ORDER[:2], MADE[1], Answer(5)]
    assert read_head(path, "answers")["title"] == "A title"
    assert read_head(path, "answers")["generator"]["name"] == "contactfe"
    assert spoiled(path) == 0


def test_the_last_answer_of_a_point_counts_and_is_counted_once(path):
    fill(path, [Answer(4, 7.0)])
    assert kept(path) == [*IN_ORDER[:2], Answer(4, 7.0)]


@given(figure=st.floats(allow_nan=False, allow_infinity=False), text=st.text())
def test_answers_come_back_to_the_last_bit(tmp_path_factory, figure, text):
    at = tmp_path_factory.mktemp("record") / "r.jsonl"
    made = Answer(2, figure, text.encode("utf-8", "replace").decode(), {"a": figure})
    fill(at, [made])
    assert kept(at) == [made]


@pytest.mark.parametrize("figure", [float("nan"), float("inf")])
def test_what_json_has_no_number_for_is_not_written(path, figure):
    before = path.read_bytes()
    with pytest.raises(ValueError, match="JSON"):
        fill(path, [Answer(3, figure)])
    assert path.read_bytes() == before


@pytest.mark.parametrize("cut", [1, 20, 100])
def test_a_line_cut_off_in_writing_is_taken_away(path, cut):
    whole = path.read_bytes()
    path.write_bytes(whole[:-cut])
    assert kept(path) == [MADE[0], MADE[1]]
    assert spoiled(path) == 0
    assert path.read_bytes() == b"".join(lines(path)[:3])
    fill(path, MADE[2:])
    assert path.read_bytes() == whole


@pytest.mark.parametrize("left", [1, 20])
def test_one_that_is_cut_off_in_its_first_line_is_refused(path, left):
    path.write_bytes(path.read_bytes()[:left])
    before = path.read_bytes()
    with pytest.raises(InputError, match="first line"):
        fill(path)
    assert path.read_bytes() == before


EDITS = {
    "a figure": (b"1e+300", b"2e+300"),
    "not a number": (b"1e+300", b"NaN"),
    "infinity": (b"1e+300", b"1e999"),
    "another point": (b'"number":4', b'"number":3'),
    "another study": (b'"of":"of"', b'"of":"fo"'),
    "the digest": (b'"digest":"', b'"digest":"0'),
    "no digest": (b'"digest"', b'"digests"'),
    "a key more": (b'"more":{}', b'"more":{"x":1.0}'),
    "a type": (b"1e+300", b'"x"'),
    "no line of ours": (b"{", b""),
    "bytes": (b"1e+300", b"\xff"),
}


@pytest.mark.parametrize("what", EDITS)
def test_a_line_that_is_not_as_it_was_written_counts_for_nothing(path, what):
    old, new = EDITS[what]
    first, *others = lines(path)
    assert old in others[1]
    others[1] = others[1].replace(old, new)
    path.write_bytes(b"".join([first, *others]))
    assert kept(path) == IN_ORDER[:2]
    assert spoiled(path) == 1
    fill(path, [MADE[1]])  # solved anew
    assert kept(path) == IN_ORDER


def test_other_spaces_between_its_words_are_no_edit(path):
    first, *others = lines(path)
    spaced = [json.dumps(json.loads(line), separators=(",", " : ")).encode() for line in others]
    path.write_bytes(b"\n".join([first.strip(), *spaced]) + b"\n")
    assert kept(path) == IN_ORDER


def test_lines_of_other_kinds_are_passed_over_and_counted(path):
    with path.open("ab") as file:
        file.write(b'\xff\n[]\n{"of": 1}\n{"of": "of", "answer": {"number": 3}}\nnonsense\n\n')
        file.write(b'{"of": "of", "answer": ' + b"[" * 100_000 + b"\n")
    assert spoiled(path) == 7
    assert kept(path) == IN_ORDER


def test_answers_of_what_was_changed_wait_until_the_change_is_undone(path):
    changed = replace(KIND, of=lambda _: "another")
    assert kept(path, changed) == []
    assert spoiled(path, changed) == 0
    with record(path, changed, HEAD) as found:
        found.add(Answer(2, 9.0))
    assert kept(path, changed) == [Answer(2, 9.0)]
    assert kept(path) == IN_ORDER


def test_answers_to_points_that_are_not_asked_are_left_alone(path):
    less = replace(KIND, count=2, number=lambda a: a.number if a.number < 2 else None)
    assert kept(path, less) == IN_ORDER[:2]
    assert spoiled(path, less) == 0
    assert kept(path) == IN_ORDER


def test_two_runs_at_a_time_are_refused(path):
    def another():
        with pytest.raises(InputError, match="another run"):
            kept(path)
        return True

    with record(path, KIND, HEAD), ThreadPoolExecutor(1) as other:
        assert other.submit(another).result()
    assert kept(path) == IN_ORDER


def test_a_place_that_cannot_be_written(tmp_path):
    (tmp_path / "file").touch()
    with pytest.raises(InputError, match=r"file.*cannot be written.*--out"):
        kept(tmp_path / "file" / "r.jsonl")


@pytest.mark.parametrize("content", ["", "nonsense", "[]", json.dumps({"generator": {}})])
def test_a_record_of_another_program_is_none_of_ours(tmp_path, content):
    (tmp_path / "r.jsonl").write_text(content)
    assert read_head(tmp_path / "r.jsonl", "answers") is None
    assert read_head(tmp_path / "none", "answers") is None


def test_a_record_of_another_kind_is_none_of_ours(path):
    assert read_head(path, "rows") is None


def test_a_fingerprint_is_of_the_program_too(monkeypatch):
    before = fingerprint({"a": 1.0})
    assert fingerprint({"a": 1.0}) == before != fingerprint({"a": 2.0})
    with monkeypatch.context() as other:
        other.setattr("contactfe.report.record.QUANTITIES", QUANTITIES[1:])
        assert fingerprint({"a": 1.0}) != before  # a figure that a record has not is looked for
    monkeypatch.setattr("contactfe.__version__", "0.0.0")
    assert fingerprint({"a": 1.0}) != before


def test_a_pipe_or_a_device_is_no_record_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "link").symlink_to("/dev/zero")
    for name in ("pipe", "link"):
        with within(10):
            assert read_head(tmp_path / name, "answers") is None


def test_a_line_of_a_record_has_a_greatest_length(path):
    before = kept(path)
    with path.open("ab") as file:
        file.write(b"x" * 900_000 + b"\n")
    assert kept(path) == before  # it is passed over
    with path.open("ab") as file:
        file.write(b"x" * 1_000_001)
    there = path.read_bytes()
    with pytest.raises(InputError, match=r"r\.jsonl: has a line of more than 1 MB.*--out"):
        kept(path)
    assert path.read_bytes() == there


def test_an_error_that_is_kept_is_short_and_shows_every_character():
    text = told("a.toml: one\na.toml: two " + chr(0x9B) + "x" * 10_000, "a.toml")
    assert text.startswith("one; two [U+009B]xx")
    assert len(text) == LONGEST
    kind = Kind("rows", SweepRow, 1, lambda _: 0, lambda _: "of")
    row = SweepRow("tube", None, 0.0, text)
    assert kind.read(kind.adapter.dump_python(row, mode="json")) == row
    with pytest.raises(ValueError, match="error"):
        kind.read(kind.adapter.dump_python(SweepRow("tube", None, 0.0, text + "x"), mode="json"))
