"""Surroundings of a run that are odd: one line and a status, or no harm at all."""

import os
import signal
import subprocess
import sys
import time

import pytest
from commands import SMALL


def run(folder, *words, **more):
    return subprocess.run(
        [sys.executable, "-m", "contactfe", *words],
        cwd=folder, capture_output=True, text=True, check=False, **more,
    )  # fmt: skip


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "small.toml").write_text(SMALL)
    return tmp_path


def closing(number):
    """A command line that closes a stream before the program begins."""
    return f'exec "$0" -m contactfe "$@" {number}>&-'


@pytest.mark.parametrize("number", [1, 2])
def test_a_stream_that_is_closed_ends_no_run(folder, number):
    words = ["bash", "-c", closing(number), sys.executable, "compare", "small.toml"]
    done = subprocess.run(words, cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert done.stderr.count("Traceback") == 0
    assert (folder / "small-results" / "results.json").exists()


def test_a_fault_keeps_its_status_where_nobody_hears(folder):
    words = ["bash", "-c", closing(2), sys.executable, "hand", "none.toml"]
    done = subprocess.run(words, cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode == 2


def one_line(done, status, *parts):
    assert done.returncode == status
    assert done.stderr.count("\n") == 1
    for part in parts:
        assert part in done.stderr


def test_a_link_that_leads_to_itself_is_no_folder(folder):
    (folder / "loop").symlink_to("loop")
    for out in ("loop", "loop/in"):
        one_line(run(folder, "compare", "small.toml", "--out", out), 2, out, "cannot be a folder")


def test_a_name_that_is_no_text_is_refused_before_the_work(folder):
    name = b"odd\xff.toml"
    (folder / os.fsdecode(name)).write_text(SMALL)
    one_line(run(folder, "compare", name), 2, "not UTF-8")


def test_settings_of_figures_that_are_no_text_are_named(folder):
    (folder / "matplotlibrc").write_bytes(b"\xff\x00")
    one_line(run(folder, "compare", "small.toml"), 2, "matplotlibrc", "current folder")


@pytest.mark.parametrize("megabytes", [600, 1000])
def test_too_little_memory_is_said_before_the_work(folder, megabytes):
    limited = f'ulimit -v {megabytes}000; exec "$0" -m contactfe compare small.toml'
    words = ["bash", "-c", limited, sys.executable]
    done = subprocess.run(words, cwd=folder, capture_output=True, text=True, check=False)
    one_line(done, 3, "address space", "ulimit -v")


OTHERS = ("sweep", "size", "envelope")


@pytest.mark.parametrize("words", [["verify", "ring"], *([of, "small.toml"] for of in OTHERS)])
def test_so_it_is_by_other_commands(folder, words):
    over = '[sweep.over]\n"load.line_load" = ["300 N/mm", "400 N/mm"]\n[plate]'
    more = "[sizing]\n[envelope]\noffset = ['0 mm', '10 mm']\n"
    (folder / "small.toml").write_text(SMALL.replace("[plate]", more + over))
    limited = 'ulimit -v 1000000; exec "$0" -m contactfe "$@"'
    words = ["bash", "-c", limited, sys.executable, *words]
    done = subprocess.run(words, cwd=folder, capture_output=True, text=True, check=False)
    one_line(done, 3, "address space", "ulimit -v")


def test_processes_for_which_there_are_too_few_open_files_are_not_begun(folder):
    over = '[sweep.over]\n"load.line_load" = ["300 N/mm", "400 N/mm"]\n[plate]'
    (folder / "small.toml").write_text(SMALL.replace("[plate]", over))
    limited = 'ulimit -n 24; exec "$0" -m contactfe sweep small.toml --processes 2'
    words = ["bash", "-c", limited, sys.executable]
    done = subprocess.run(words, cwd=folder, capture_output=True, text=True, check=False)
    one_line(done, 3, "--processes 1", "ulimit -n")


def test_a_run_that_is_asked_to_end_does_so_without_a_word_of_a_library(folder):
    """Nor from the processes that it began, which hold standard error open."""
    loads = [f"{load} N/mm" for load in range(300, 320)]
    over = f'[sweep.over]\n"load.line_load" = {loads}\n[plate]'
    (folder / "small.toml").write_text(SMALL.replace("[plate]", over))
    process = subprocess.Popen(
        [sys.executable, "-m", "contactfe", "sweep", "small.toml", "--processes", "2"],
        cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    record, ends = folder / "small-sweep" / "samples.jsonl", time.monotonic() + 60.0
    while not record.exists() or record.read_bytes().count(b"\n") < 2:  # both are at work
        assert process.poll() is None
        assert time.monotonic() < ends
        time.sleep(0.01)
    process.terminate()
    _, error = process.communicate(timeout=60)
    assert (process.returncode, error) == (-signal.SIGTERM, "")
