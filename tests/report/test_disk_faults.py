"""A disk that fails, or a process that is killed, at each call by which results are written."""

import builtins
import errno
import io
import os
import re
import resource
import shutil
import signal
import subprocess
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

import pytest
from folders import content, killed, left_over
from sizings import case as sizing_case
from sizings import pool
from sweeps import prepared, result, row

from contactfe.assess.sizing.run import size
from contactfe.assess.sweep.summary import summary
from contactfe.errors import InputError
from contactfe.report import compare_output, sizing
from contactfe.report.blocks import Line
from contactfe.report.csv_file import Column, write_csv
from contactfe.report.files import aside, claimed, named
from contactfe.report.json_file import write_json
from contactfe.report.page import write_page
from contactfe.report.record import add as add_to
from contactfe.report.sizing_record import trial_record
from contactfe.report.sweep_files import check_sweep_files, sweep_files, write_files
from contactfe.report.sweep_record import sweep_record

CALLS = ("rename", "replace", "link", "mkdir", "fsync", "write", "ftruncate")


@contextmanager
def failing(number):
    """Have the disk full at that call, the first being 1; yields how many more there may be."""
    left = [number]

    def fails():
        left[0] -= 1
        return left[0] == 0

    def full():
        return OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    def called(call):
        def one(*words, **more):
            if fails():
                raise full()
            return call(*words, **more)

        return one

    def opened(file, mode="r", *words, open=io.open, **more):
        writes = not isinstance(file, int) and set(mode) & set("wxa")
        if writes and fails():
            if number % 2:
                raise full()
            return open("/dev/full", mode.replace("x", "w"), *words, **more)
        return open(file, mode, *words, **more)

    with ExitStack() as patches:
        for call in CALLS:
            patches.enter_context(patch(f"os.{call}", called(getattr(os, call))))
        for module in (io, builtins):
            patches.enter_context(patch.object(module, "open", opened))
        yield left


PAGE = tuple(Line(f"line {k}") for k in range(20))
TEXT = [Column("name", "text", lambda one: one)]


def quick(output, made, *names):
    """An output whose pages take no time, and whose other files have what was ``made``."""

    def write(_, draft):
        for name in names:
            if name.endswith(".csv"):
                write_csv(draft / name, TEXT, [made] * 300)
            elif name.endswith(".txt"):
                write_page(PAGE, draft / name)
            else:
                with named(draft / name):
                    (draft / name).write_bytes(made.encode() * 1000)

    def document(found):
        case = {"path": None}
        return {
            "title": found.case.title, "generator": {"name": "contactfe"}, "case": case,
            "made": made,
        }  # fmt: skip

    return replace(output, page=lambda _: PAGE, document=document, write=write)


@pytest.fixture(scope="module")
def sized():
    with pytest.MonkeyPatch.context() as monkeypatch:
        pool(monkeypatch)
        return size(sizing_case(stock=["bored bar"]))


def comparing(found, folder):
    names = ("steps.txt", "drawing-note.txt", "sections.png")
    return lambda made: quick(compare_output.OUTPUT, made, *names).save(found, folder)


def sizing_of(found, folder):
    def work(made):
        sizing.FOLDER.check(found.case, folder)
        with claimed(folder, found.case):
            with trial_record(found.case, folder) as record:
                record.add(found.tried[0])
            quick(sizing.OUTPUT, made, "size.csv", "size.png").save(found, folder)

    return work


def sweeping(_, folder):
    made = result([row()] * 4)

    def work(_made):
        of, files = prepared(), sweep_files(made.case, folder)
        check_sweep_files(of, files)
        with sweep_record(of, files.record) as record:
            for sample in made.samples:
                if sample.number not in record:
                    record.add(sample)
            write_files(summary(made), files)

    return work


KINDS = {"compare": comparing, "size": sizing_of, "sweep": sweeping}
RECORDS = {"trials.jsonl", "samples.jsonl"}


def results(folder):
    """What is there beside the record, which grows, and drafts."""
    return {
        name: data for name, data in content(folder).items()
        if ".contactfe-" not in name and name not in RECORDS
    }  # fmt: skip


@pytest.fixture(params=KINDS)
def of(request, sized, tmp_path):
    """What writes results of a kind, and the folder that it writes them to."""
    found = request.getfixturevalue("comparison") if request.param == "compare" else sized
    folder = tmp_path / "above" / "r"
    return KINDS[request.param](found, folder), folder


def whole(of):
    """Results of a first run, and those of a second one, which are the same for a sweep."""
    work, folder = of
    found = []
    for made in ("first", "second"):
        work(made)
        found.append(results(folder))
    shutil.rmtree(folder)
    return found


def refusal(work):
    """What it says where it cannot write."""
    try:
        work("second")
    except (InputError, OSError) as error:
        return str(error)
    return ""


@pytest.mark.parametrize("new", [True, False])
def test_a_disk_that_is_full_at_any_call_costs_no_earlier_result(of, new):
    work, folder = of
    (first, second), number, refused = whole(of), 1, 0
    named_files = set()
    while True:
        if not new and not folder.exists():
            work("first")
        with failing(number) as left:
            said = refusal(work)
        refused += bool(said)
        assert not said or re.fullmatch(rf"{re.escape(str(folder))}.*No space left.*", said)
        named_files |= {name for name in second if f" {name}: " in said}
        if left[0] > 0:
            break
        there = results(folder) if folder.exists() else {}
        assert there in ([{}, second] if new else [first, second]), number
        work("second")
        assert results(folder) == second
        assert left_over(folder.parent) == []
        shutil.rmtree(folder)
        number += 1
    assert refused > 5
    if new:
        assert named_files == set(second)  # each of them could not be written at some time


def test_killed_at_many_calls_no_earlier_result_is_lost_and_the_next_run_goes_on(of):
    """At every call of a smaller result in test_exchange."""
    work, folder = of
    first, second = whole(of)
    step = 2
    while True:
        if step % 2 and not folder.exists():
            work("first")
        if not killed(lambda: work("second"), step):
            break
        there = results(folder) if folder.exists() else {}
        assert there in ([first, second] if step % 2 else [{}, second]), step
        work("second")
        assert results(folder) == second
        assert left_over(folder.parent) == []
        shutil.rmtree(folder)
        step += 5
    assert step > 20


def test_a_file_by_name_that_a_killed_run_left_half_written_is_removed(tmp_path):
    step, path = 1, tmp_path / "x.json"
    while killed(lambda: write_json(path, {"a": 1}), step):
        write_json(path, {"a": 2})
        assert [p.name for p in tmp_path.iterdir()] == ["x.json"]
        step += 1
    assert step > 2


def test_what_another_run_writes_beside_is_not_removed(tmp_path):
    with aside(tmp_path / "x.json") as draft:
        draft.write_text("{}")
        write_json(tmp_path / "y.json", {})
        assert draft.exists()
    assert {p.name for p in tmp_path.iterdir()} == {"x.json", "y.json"}


def test_a_record_that_has_no_room_is_named_and_goes_on_later(sized, tmp_path):
    """Beyond the first answers, in the midst of a line."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    with trial_record(sized.case, tmp_path) as record:
        record.add(sized.tried[0])
    kept = (tmp_path / "trials.jsonl").read_bytes()
    heard = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)

    def add():
        with trial_record(sized.case, tmp_path) as record:
            resource.setrlimit(resource.RLIMIT_FSIZE, (len(kept) + 100, before[1]))
            add_to(record, sized.tried[1])

    try:
        with pytest.raises(InputError, match=r"trials\.jsonl: results cannot be .*too large"):
            add()
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, heard)
    with trial_record(sized.case, tmp_path) as record:
        assert list(record) == [sized.tried[0]]
        record.add(sized.tried[1])
    assert (tmp_path / "trials.jsonl").read_bytes().startswith(kept)


@pytest.fixture
def small_disk(tmp_path):
    disk = tmp_path / "disk"
    disk.mkdir()
    words = ["mount", "-t", "tmpfs", "-o", "size=400k", "tmpfs", disk]
    if (
        not shutil.which("mount")
        or subprocess.run(words, capture_output=True, check=False).returncode
    ):
        pytest.skip("a small disk may not be mounted here")
    yield disk
    subprocess.run(["umount", disk], check=True)


def test_a_disk_that_fills_up_leaves_earlier_results(comparison, small_disk, monkeypatch):
    monkeypatch.setattr("contactfe.report.files.room_for", lambda _: 0.0)
    save = comparing(comparison, small_disk / "r")
    save("first")
    before = content(small_disk)
    with pytest.raises(InputError, match=r"there: sections\.png: No space left"):
        save("x" * 1000)
    assert content(small_disk) == before


@pytest.mark.parametrize("kind", ["compare", "size"])
def test_a_folder_that_is_removed_while_the_run_goes_on_is_made_anew(
    comparison, sized, tmp_path, kind
):
    found, folder = (comparison if kind == "compare" else sized), tmp_path / "r"
    with claimed(folder, found.case):
        folder.rmdir()
        KINDS[kind](found, folder)("first")
    assert results(folder)


@pytest.mark.parametrize("moved", [False, True])
def test_a_record_that_is_removed_while_the_run_goes_on_ends_it(sized, tmp_path, moved):
    folder = tmp_path / "r"
    with trial_record(sized.case, folder) as record:
        record.add(sized.tried[0])
        if moved:
            (folder / "trials.jsonl").rename(folder / "mine.jsonl")
        else:
            shutil.rmtree(folder)
        with pytest.raises(InputError, match=r"trials\.jsonl: was removed while"):
            add_to(record, sized.tried[1])


def test_a_record_begun_by_a_run_that_was_killed_at_once_is_begun_again(sized, tmp_path):
    Path(tmp_path, "trials.jsonl").touch()
    sizing.FOLDER.check(sized.case, tmp_path)
    with trial_record(sized.case, tmp_path) as record:
        record.add(sized.tried[0])
    with trial_record(sized.case, tmp_path) as record:
        assert len(record) == 1
