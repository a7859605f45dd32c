"""New results come all at once: in one step of the system, or brought in by the next run."""

import ctypes
import errno
import fcntl
import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from folders import KIND, content, fill, killed, left_over, of_case
from sweeps import result, row

import contactfe
from contactfe.errors import InputError
from contactfe.report import exchange, files
from contactfe.report.files import claimed

NEW = ("two", "three")
NAMES = {"things.json", "a.txt", "two.vtu", "three.vtu"}


def fails(code):
    def call(*_, **__):
        raise OSError(code, os.strerror(code))

    return call


def no_way_out(monkeypatch, folder):
    """As if the folder above could not be written, or were on another disk."""
    rename = os.rename

    def within(one, other):
        if Path(one).parent != Path(other).parent and Path(other).parent == folder.parent:
            raise OSError(errno.EACCES, "Permission denied")
        rename(one, other)

    monkeypatch.setattr("os.rename", within)


IN_PLACE = {
    "no exchange": lambda patch, _: patch.setattr(exchange, "exchange", fails(errno.EINVAL)),
    "no such call": lambda patch, _: patch.setattr(ctypes, "CDLL", lambda *_, **__: object()),
    "no links": lambda patch, _: patch.setattr("os.link", fails(errno.EPERM)),
    "another's folder": lambda patch, _: patch.setattr("os.chown", fails(errno.EPERM)),
    "closed above": no_way_out,
    "a folder in it": lambda _, folder: (folder / "photos").mkdir(),
    "shell in it": lambda patch, folder: patch.chdir(folder),
}


@pytest.fixture
def results(tmp_path):
    """Earlier results with a file of someone else."""
    folder = tmp_path / "above" / "r"
    fill(of_case(tmp_path), folder)
    (folder / "notes.txt").write_text("mine")
    return folder


def complete(tmp_path, folder):
    """The earlier results and the new ones of the tests below."""
    other = tmp_path / "other" / "r"
    fill(of_case(tmp_path, *NEW), other, "second")
    return content(folder), content(other) | {"notes.txt": b"mine"}


def whole(folder):
    return {name: data for name, data in content(folder).items() if ".contactfe-" not in name}


def test_killed_at_any_step_the_folder_holds_all_earlier_results_or_all_new_ones(tmp_path, results):
    of, seen, step = of_case(tmp_path, *NEW), [], 1
    earlier, new = complete(tmp_path, results)
    while killed(lambda: fill(of, results, "second"), step):
        seen.append(whole(results))
        assert seen[-1] in (earlier, new), step
        KIND.check(of_case(tmp_path), results)
        assert whole(results) == seen[-1]  # none comes back, or gets lost
        fill(of_case(tmp_path), results)  # the next run, and back to the start
        assert content(results) == earlier
        assert left_over(results.parent) == []
        step += 1
    assert content(results) == new
    assert earlier in seen
    assert new in seen


@pytest.mark.parametrize("why", IN_PLACE)
def test_where_folders_cannot_be_exchanged_files_are_put_in_place(
    tmp_path, results, monkeypatch, why
):
    _, new = complete(tmp_path, results)
    IN_PLACE[why](monkeypatch, results)
    before = results.stat().st_ino
    written = fill(of_case(tmp_path, *NEW), results, "second")
    assert {path.name for path in written} == NAMES
    assert content(results) == new
    assert results.stat().st_ino == before
    assert left_over(results.parent) == []


def test_killed_while_files_are_put_in_place_the_next_run_brings_in_the_rest(
    tmp_path, results, monkeypatch
):
    of, half, step = of_case(tmp_path, *NEW), 0, 1
    earlier, new = complete(tmp_path, results)
    IN_PLACE["no exchange"](monkeypatch, results)
    while killed(lambda: fill(of, results, "second"), step):
        half += whole(results) not in (earlier, new)
        KIND.check(of, results)  # what a run asks first
        assert whole(results) in (earlier, new), step
        fill(of_case(tmp_path), results)
        assert content(results) == earlier
        assert left_over(results.parent) == []
        step += 1
    assert content(results) == new
    assert half > 3


def test_killed_while_the_rest_is_brought_in_that_is_done_again(tmp_path, results, monkeypatch):
    of, step = of_case(tmp_path, *NEW), 1
    earlier, new = complete(tmp_path, results)
    with monkeypatch.context() as patch:
        patch.setattr(exchange, "exchange", fails(errno.EINVAL))
        patch.setattr(exchange, "_settle", fails(errno.EIO))
        with pytest.raises(InputError, match="Input/output error"):
            fill(of, results, "second")
    assert whole(results) == earlier
    while killed(lambda: KIND.check(of, results), step):
        step += 7  # each next one goes on from there
    assert step > 20
    assert content(results) == new


def test_a_failure_while_files_are_put_in_place_says_what_is_there(tmp_path, results, monkeypatch):
    of, replace = of_case(tmp_path, *NEW), os.replace
    _, new = complete(tmp_path, results)

    def once(one, other):
        if Path(other) == results / "things.json":
            raise OSError(errno.EIO, "Input/output error")
        replace(one, other)

    with monkeypatch.context() as patch:
        patch.setattr(exchange, "exchange", fails(errno.EINVAL))
        patch.setattr(os, "replace", once)
        with pytest.raises(InputError, match=r"error; .*incomplete"):
            fill(of, results, "second")
    KIND.check(of, results)
    assert content(results) == new


def test_a_first_result_is_there_as_a_whole_or_not_at_all(tmp_path):
    of, folder, step = of_case(tmp_path), tmp_path / "above" / "r", 1
    while killed(lambda: fill(of, folder), step):
        there = set(whole(folder)) if folder.exists() else set()
        assert there in (set(), {"things.json", "a.txt", "one.vtu", "two.vtu"})
        fill(of, folder)
        assert left_over(folder.parent) == []
        for path in folder.iterdir():
            path.unlink()
        folder.rmdir()
        step += 1
    assert step > 20


def test_a_sweep_is_there_as_a_whole_or_not_at_all(tmp_path):
    """Table and page; the record stays the file that it was."""
    made, folder, step = result([row()] * 4), tmp_path / "s", 1
    folder.mkdir()
    (folder / "samples.jsonl").write_text("record")
    record, whole_sets = (folder / "samples.jsonl").stat().st_ino, []
    while killed(lambda: contactfe.save_sweep(made, folder), step):
        whole_sets.append(set(whole(folder)))
        assert whole_sets[-1] in ({"samples.jsonl"}, {"samples.jsonl", "sweep.csv", "sweep.txt"})
        contactfe.save_sweep(made, folder)
        assert left_over(tmp_path) == []
        (folder / "sweep.csv").unlink()
        (folder / "sweep.txt").unlink()
        step += 1
    assert len(set(map(frozenset, whole_sets))) == 2
    assert (folder / "samples.jsonl").stat().st_ino == record


def test_the_new_folder_is_as_the_earlier_one_was(tmp_path, results):
    results.chmod(0o2750)
    link = tmp_path / "link"
    link.symlink_to(results)
    (results / "shortcut").symlink_to("notes.txt")
    before, mine = results.stat(), (results / "notes.txt").stat().st_ino
    fill(of_case(tmp_path, *NEW), link, "second")
    after = results.stat()
    assert after.st_ino != before.st_ino  # it was exchanged
    assert (after.st_mode, after.st_uid, after.st_gid) == (
        before.st_mode, before.st_uid, before.st_gid
    )  # fmt: skip
    assert link.is_symlink()
    assert (results / "shortcut").readlink() == Path("notes.txt")
    assert ((results / "notes.txt").stat().st_ino, (results / "notes.txt").stat().st_nlink) == (
        mine, 1
    )  # fmt: skip


def test_out_here_keeps_the_folder_that_the_shell_is_in(tmp_path, monkeypatch):
    here = tmp_path / "here"
    (here / "below").mkdir(parents=True)
    (here / "below").rmdir()
    monkeypatch.chdir(here)
    for text in ("first", "second"):
        fill(of_case(tmp_path), Path(), text)
    assert here.stat().st_ino == Path().stat().st_ino
    assert (here / "a.txt").read_text() == "second a.txt"


def test_a_record_that_is_open_goes_on_in_the_new_folder(tmp_path, results):
    with (results / "rows.jsonl").open("wb") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        file.write(b"one\n")
        file.flush()
        before = results.stat().st_ino
        fill(of_case(tmp_path, *NEW), results, "second")
        file.write(b"two\n")
        file.flush()
        assert results.stat().st_ino != before
        with (results / "rows.jsonl").open("rb") as again:
            assert again.read() == b"one\ntwo\n"
            with pytest.raises(BlockingIOError):
                fcntl.flock(again, fcntl.LOCK_EX | fcntl.LOCK_NB)


def test_what_is_put_there_in_the_last_moment_is_not_lost(tmp_path, results, monkeypatch):
    change = exchange.exchange

    def late(one, other):
        (results / "late.txt").write_text("mine")
        (results / "late").mkdir()
        (results / "notes.new").write_text("mine, edited")
        (results / "notes.new").replace(results / "notes.txt")
        change(one, other)

    monkeypatch.setattr(exchange, "exchange", late)
    fill(of_case(tmp_path, *NEW), results, "second")
    assert {p.name for p in results.iterdir()} == {*NAMES, "late.txt", "late", "notes.txt"}
    assert (results / "notes.txt").read_text() == "mine, edited"


def test_what_is_put_in_the_place_of_a_result_in_the_last_moment_stays(
    tmp_path, results, monkeypatch
):
    of = of_case(tmp_path, *NEW)
    _, new = complete(tmp_path, results)

    def late(*_):
        (results / "a.txt").write_text("mine")
        raise OSError(errno.EINVAL, "Invalid argument")

    with monkeypatch.context() as patch:
        patch.setattr(exchange, "exchange", late)
        with pytest.raises(InputError, match=r"a\.txt was changed meanwhile"):
            fill(of, results, "second")
    with pytest.raises(InputError, match=r"a\.txt would be"):
        KIND.check(of, results)
    assert (results / "a.txt").read_text() == "mine"
    (results / "a.txt").unlink()
    KIND.check(of, results)
    assert content(results) == new


FORGED = {"generator": {"name": "contactfe"}, "draft of": "r"}


@pytest.mark.parametrize(
    ("name", "mark"),
    [
        (".contactfe-mine", FORGED),
        (".contactfe-0123456789abcdef0", FORGED),
        (".contactfe-0123456789abcdef", None),
        (".contactfe-0123456789abcdef", []),
        (".contactfe-0123456789abcdef", FORGED | {"generator": {"name": "other"}}),
        (".contactfe-0123456789abcdef", FORGED | {"draft of": "another"}),
    ],
)
def test_a_stranger_s_folder_of_such_a_name_is_not_touched(tmp_path, results, name, mark):
    places = [results.parent / name]
    if mark != FORGED | {"draft of": "another"}:  # inside a folder it is for that one
        places.append(results / name)
    for place in places:
        (place / "files").mkdir(parents=True)
        (place / "files" / "x").write_text("mine")
        if mark is not None:
            (place / "draft.json").write_text(json.dumps(mark))
    fill(of_case(tmp_path, *NEW), results, "second")
    fill(of_case(tmp_path), results)
    assert all((place / "files" / "x").read_text() == "mine" for place in places)


def test_a_file_or_a_link_of_such_a_name_is_not_touched(tmp_path, results):
    (results / ".contactfe-0123456789abcdef").write_text("mine")
    (results / ".contactfe-0123456789abcdee").symlink_to(tmp_path)
    fill(of_case(tmp_path, *NEW), results, "second")
    assert (results / ".contactfe-0123456789abcdef").read_text() == "mine"
    assert (results / ".contactfe-0123456789abcdee").is_symlink()


def test_a_forged_draft_reaches_no_other_folder(tmp_path, results):
    """Though it is taken for one of ours, which is ready."""
    place, theirs = results / ".contactfe-0123456789abcdef", results.parent / "theirs.txt"
    theirs.write_text("first a.txt")
    digests = {"../theirs.txt": files.digest(theirs), str(theirs): files.digest(theirs)}
    (place / "files").mkdir(parents=True)
    (place / "x.txt").write_text("new")
    (place / "draft.json").write_text(json.dumps(FORGED))
    plan = {"files": ["../x.txt"], "earlier": digests}
    (place / "ready.json").write_text(json.dumps(plan))
    fill(of_case(tmp_path, *NEW), results, "second")
    assert theirs.exists()
    assert not (results / "x.txt").exists()


def test_an_unreadable_plan_is_no_traceback(tmp_path, results):
    place = results / ".contactfe-0123456789abcdef"
    (place / "files").mkdir(parents=True)
    (place / "draft.json").write_text(json.dumps(FORGED))
    for text in ("", "[]", "{}", '{"files": 3, "earlier": {}}'):
        (place / "ready.json").write_text(text)
        fill(of_case(tmp_path, *NEW), results, "second")
        assert place.exists()


AT_WORK = """
import sys
from pathlib import Path
from contactfe.report.exchange import draft_in
with draft_in(Path(sys.argv[1])) as draft:
    (draft / "x").touch()
    print(draft.parent, flush=True)
    sys.stdin.readline()
"""


def test_a_draft_in_use_is_not_touched_until_its_run_ends_however_it_does(tmp_path, results):
    with subprocess.Popen(
        [sys.executable, "-c", AT_WORK, results],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
    ) as process:  # fmt: skip
        inside = Path(process.stdout.readline().strip())
        fill(of_case(tmp_path, *NEW), results, "second")
        assert (inside / "files" / "x").exists()
        beside = inside.rename(results.parent / inside.name)
        fill(of_case(tmp_path), results)
        assert (beside / "files" / "x").exists()
        beside.rename(inside)
        process.kill()
    fill(of_case(tmp_path, *NEW), results, "second")
    assert left_over(results.parent) == []


def test_a_draft_beside_is_left_to_the_run_of_its_own_folder(tmp_path, results, monkeypatch):
    other, of = results.parent / "q", of_case(tmp_path)
    monkeypatch.setattr(exchange, "exchange", lambda *_: os._exit(0))
    assert not killed(lambda: fill(of, other), 10_000)
    monkeypatch.undo()
    (left,) = left_over(results.parent)
    fill(of, results)
    assert left_over(results.parent) == [left]
    fill(of, other)
    assert left_over(results.parent) == []


def elsewhere(of, folder):
    with ThreadPoolExecutor(1) as other:
        other.submit(fill, of, folder).result()


def test_the_claim_goes_over_to_the_new_folder(tmp_path, results):
    of = of_case(tmp_path)
    with claimed(results, of):
        before = results.stat().st_ino
        fill(of, results)
        assert results.stat().st_ino != before
        with pytest.raises(InputError, match="another run"):
            elsewhere(of, results)
        fill(of, results)
    elsewhere(of, results)


def test_a_claim_is_on_the_folder_that_is_there_once_it_is_locked(tmp_path, results, monkeypatch):
    """And not on one that another run had taken away since it was opened."""
    of, lock, calls = of_case(tmp_path), files.lock, []

    def meanwhile(handle):
        calls.append(handle)
        if len(calls) == 1:
            results.rename(results.with_name("gone"))
            results.mkdir()
        if len(calls) == 2:
            results.rmdir()
        return lock(handle)

    monkeypatch.setattr(files, "lock", meanwhile)
    with claimed(results, of):
        assert len(calls) == 3
        with pytest.raises(InputError, match="another run"):
            elsewhere(of, results)


def test_all_is_on_the_disk_before_folders_change_places(tmp_path, results, monkeypatch):
    sync, change, synced, states = os.fsync, exchange.exchange, [], []

    def noted(handle):
        synced.append(os.fstat(handle).st_ino)
        sync(handle)

    def exchanged(one, other):
        states.append({one.stat().st_ino, *((one / name).stat().st_ino for name in NAMES)})
        assert states[-1] <= set(synced)
        change(one, other)

    monkeypatch.setattr(os, "fsync", noted)
    monkeypatch.setattr(exchange, "exchange", exchanged)
    fill(of_case(tmp_path, *NEW), results, "second")
    assert len(states) == 1
    assert synced[-1] == results.parent.stat().st_ino


def test_a_file_that_does_not_reach_the_disk_leaves_earlier_results(tmp_path, results, monkeypatch):
    before = content(results)
    monkeypatch.setattr("os.fsync", fails(errno.ENOSPC))
    with pytest.raises(InputError, match="No space left"):
        fill(of_case(tmp_path, *NEW), results, "second")
    assert content(results) == before
    assert left_over(results.parent) == []


@pytest.mark.parametrize("call", ["os.rename", "os.link", "os.replace", "os.unlink", "os.mkdir"])
def test_a_call_that_fails_leaves_all_earlier_results_or_brings_all_new_ones(
    tmp_path, results, monkeypatch, call
):
    """If not at once, by the next run; each at every time that it is made."""
    of, ends = of_case(tmp_path, *NEW), set()
    earlier, new = complete(tmp_path, results)
    for time in range(1, 12):
        left, of_system = [time], getattr(os, call[3:])

        def once(*words, left=left, of_system=of_system, **more):
            left[0] -= 1
            if left[0] == 0:
                raise OSError(errno.EIO, "Input/output error")
            return of_system(*words, **more)

        with monkeypatch.context() as patch:
            patch.setattr(call, once)
            try:
                fill(of, results, "second")
                ends.add("written")
            except InputError:
                ends.add("refused")
        KIND.check(of, results)
        assert whole(results) in (earlier, new)
        fill(of_case(tmp_path), results)
        assert content(results) == earlier
        assert left_over(results.parent) == []
    assert "written" in ends
