"""A file for --json: what may be written over, and that it is written whole or not at all."""

import errno
import json
import os
from pathlib import Path

import pytest
from waiting import within

from contactfe.errors import InputError
from contactfe.report import files
from contactfe.report.json_file import as_text, check_file, read_own, write_json

OF = "/some/where/stop.toml"
RESULT = {"title": "t", "generator": {"name": "contactfe"}, "case": {"path": OF}}


def put(path, content):
    path.write_text(content if isinstance(content, str) else json.dumps(content))
    return path


def test_a_new_file_and_an_earlier_result_of_the_same_case_may_be_written(tmp_path):
    check_file(tmp_path / "new.json", OF)
    check_file(put(tmp_path / "there.json", RESULT), OF)
    none = {key: RESULT[key] for key in ("title", "generator")}
    check_file(put(tmp_path / "verified.json", none), None)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["there.json", "verified.json"]


@pytest.mark.parametrize(
    "content",
    [
        "", "title = 'a case'", "{}", "[]", '"contactfe"', "3", "null", "[" * 100_000,
        {**RESULT, "generator": "contactfe"}, {**RESULT, "generator": {"name": "other"}},
        {**RESULT, "case": {"path": "/some/other.toml"}}, {**RESULT, "case": {"path": None}},
        {**RESULT, "case": {}}, {**RESULT, "case": [OF]}, {**RESULT, "case": OF},
        {**RESULT, "files": ["results.json"]}, {**RESULT, "kind": "rows of an envelope"},
        '{"kind": "samples of a sweep", "generator": {"name": "contactfe"}}',
    ],
)  # fmt: skip
@pytest.mark.parametrize("of", [OF, None])
def test_any_other_file_is_refused_and_left(tmp_path, content, of):
    path = put(tmp_path / "there.json", content)
    before = path.read_bytes()
    with pytest.raises(InputError, match=r"^--json .*there\.json: is there already"):
        check_file(path, of)
    assert path.read_bytes() == before


@pytest.mark.parametrize("way", ["link", "links", "hard link"])
def test_a_link_counts_as_what_it_leads_to(tmp_path, way):
    theirs, link = put(tmp_path / "stop.toml", "title = 'mine'"), tmp_path / "out.json"
    if way == "hard link":
        link.hardlink_to(theirs)
    else:
        (tmp_path / "between").symlink_to("stop.toml")
        link.symlink_to("between" if way == "links" else theirs)
    with pytest.raises(InputError, match=r"out\.json: is there already"):
        check_file(link, OF)
    put(theirs, RESULT)
    check_file(link, OF)


def test_a_link_stays_and_what_it_leads_to_is_written(tmp_path):
    (tmp_path / "far").mkdir()
    real, link = tmp_path / "far" / "real.json", tmp_path / "link.json"
    link.symlink_to(real)
    for content in (RESULT, {**RESULT, "title": "again"}):
        check_file(link, OF)
        write_json(link, content)
        assert link.is_symlink()
        assert json.loads(real.read_text()) == content
    assert [p.name for p in real.parent.iterdir()] == ["real.json"]


@pytest.mark.parametrize("kind", ["pipe", "loop", "/dev/null", "folder"])
def test_what_is_no_ordinary_file_is_refused(tmp_path, kind):
    path = tmp_path / "out.json"
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "loop":
        path.symlink_to(path)
    elif kind == "folder":
        path.mkdir()
    else:
        path = Path(kind)
    with within(10), pytest.raises(InputError, match=r"^--json .*name a"):
        check_file(path, OF)


def test_what_fails_leaves_what_was_there(tmp_path, monkeypatch):
    path = put(tmp_path / "out.json", RESULT)
    before = path.read_bytes()

    def full(self, *_, **__):
        self.touch()
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_text", full)
    with pytest.raises(OSError, match="No space left"):
        write_json(path, {**RESULT, "title": "again"})
    with pytest.raises(ValueError, match="JSON"):
        write_json(path, {**RESULT, "title": float("nan")})
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["out.json"]


def test_a_place_without_room_or_that_cannot_be_written_is_refused(tmp_path, monkeypatch):
    path = tmp_path / "new.json"
    usage = files.shutil.disk_usage(tmp_path)
    with monkeypatch.context() as patch:
        patch.setattr("shutil.disk_usage", lambda _: usage._replace(free=1000))
        with pytest.raises(InputError, match=r"new\.json: .*0\.0 MB are free"):
            check_file(path, OF)
    with monkeypatch.context() as patch:
        patch.setattr("os.access", lambda *_: False)  # whoever runs this may well write anywhere
        check_file(path, OF)
        with pytest.raises(InputError, match=r"new\.json: may not be written"):
            check_file(put(path, RESULT), OF)
    with pytest.raises(InputError, match=r"--json /proc/x\.json: "):
        check_file(Path("/proc/x.json"), OF)


def test_what_a_terminal_would_act_on_is_escaped_and_read_back(tmp_path):
    title = "".join(map(chr, (0x9B, 0x2028, 0x202E, 0xE0001, 0xD800, 0x7F))) + "µ “Ø”"
    content = {**RESULT, "title": title}
    text = as_text(content)
    assert "µ “Ø”" in text
    assert not any((ord(c) < 32 and c != "\n") or 0x7F <= ord(c) < 0xA0 for c in text)
    assert not set(title[:6]) & set(text)
    assert json.loads(text) == content


def test_a_document_too_long_or_too_deep_is_none_of_ours(tmp_path, monkeypatch):
    path = put(tmp_path / "x.json", RESULT)
    assert read_own(path) is not None
    monkeypatch.setattr(files, "MOST_BYTES", path.stat().st_size - 1)
    assert read_own(path) is None
    monkeypatch.undo()
    path.write_text("[" * 100_000)
    assert read_own(path) is None
    with pytest.raises(ValueError, match="too deep"):
        files.read_json(path)
