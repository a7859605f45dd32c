"""Folders of results: nothing of anyone else's is lost, and what can fail is asked first."""

import errno
import hashlib
import json
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest
from folders import KIND, content, fill, of_case
from waiting import within

from contactfe.errors import InputError
from contactfe.report import files
from contactfe.report.files import claimed


def changed(folder, **entries):
    """The document with other entries: as an edit, or another program, might leave it."""
    path = folder / "things.json"
    path.write_text(json.dumps(json.loads(path.read_text()) | entries))


def sha(data):
    return hashlib.sha256(data).hexdigest()


def refused(of, folder, match):
    """Both before the work and after it, and nothing is touched."""
    before = content(folder)
    for ask in (lambda: KIND.check(of, folder), lambda: fill(of, folder, "second")):
        with pytest.raises(InputError, match=match) as error:
            ask()
        assert "\n" not in str(error.value)
        assert "--out" in str(error.value)
    assert content(folder) == before


def test_the_document_keeps_the_digest_of_every_file(tmp_path):
    of = of_case(tmp_path)
    written = fill(of, tmp_path / "r")
    assert [path.name for path in written] == ["things.json", "a.txt", "one.vtu", "two.vtu"]
    document = json.loads((tmp_path / "r" / "things.json").read_text())
    assert document["files"] == [path.name for path in written]
    assert document["digests"] == {p.name: sha(p.read_bytes()) for p in written[1:]}


def test_own_files_are_replaced_and_those_of_sections_that_are_gone_removed(tmp_path):
    folder = tmp_path / "r"
    fill(of_case(tmp_path), folder)
    (folder / "notes.txt").write_text("mine")
    fill(of_case(tmp_path, "two", "three"), folder, "second")
    assert set(content(folder)) == {"things.json", "a.txt", "two.vtu", "three.vtu", "notes.txt"}
    assert (folder / "two.vtu").read_text() == "second two.vtu"


def test_a_file_that_was_changed_since_is_neither_written_over_nor_removed(tmp_path):
    folder = tmp_path / "r"
    of = of_case(tmp_path)
    fill(of, folder)
    (folder / "one.vtu").write_text("with notes of mine")
    refused(of, folder, r"r: one\.vtu would be written over and is not as contactfe wrote it")
    fill(of_case(tmp_path, "two"), folder, "second")  # it is not to be written: it stays
    assert (folder / "one.vtu").read_text() == "with notes of mine"


@pytest.mark.parametrize("digests", [None, [], "x", {}, {"a.txt": 3}, {"a.txt": ["x"]}, {"x": {}}])
def test_without_its_digest_a_file_is_not_written_over(tmp_path, digests):
    """So are those of a version that kept none."""
    of = of_case(tmp_path)
    fill(of, tmp_path / "r")
    changed(tmp_path / "r", digests=digests)
    refused(of, tmp_path / "r", r"a\.txt, one\.vtu, two\.vtu would be written over")


def test_a_document_is_not_believed_beyond_names_of_ours(tmp_path):
    """Whatever names it lists, with digests that are right: other places, other names, folders."""
    folder, mine = tmp_path / "r", b"mine"
    of = of_case(tmp_path)
    fill(of, folder)
    (folder / "below").mkdir()
    others = [
        folder / "precious.txt", folder / "PRECIOUS.VTU", folder / ".vtu", folder / "my notes.vtu",
        folder / "below" / "x.vtu", tmp_path / "x.vtu", tmp_path / "stop.toml",
    ]  # fmt: skip
    for path in others:
        path.write_bytes(mine)
    (folder / "dir.vtu").mkdir()
    names = [os.path.relpath(path, folder) for path in others] + [str(p) for p in others]
    names += [
        "",
        ".",
        "..",
        "below",
        "dir.vtu",
        "\0",
        "a\n.vtu",
        "x" * 5000,
        *map(str, range(9999)),
    ]
    document = json.loads((folder / "things.json").read_text())
    changed(folder, files=names, digests=document["digests"] | dict.fromkeys(names, sha(mine)))
    fill(of, folder, "second")
    assert all(path.read_bytes() == mine for path in others)
    assert (folder / "dir.vtu").is_dir()
    assert (folder / "a.txt").read_text() == "second a.txt"


@pytest.mark.parametrize("kind", ["link", "hanging link", "folder", "pipe", "link for document"])
def test_what_is_no_ordinary_file_is_not_written_over(tmp_path, kind):
    folder, theirs = tmp_path / "r", tmp_path / "theirs"
    of = of_case(tmp_path)
    fill(of, folder)
    if kind == "link for document":
        theirs.write_bytes((folder / "things.json").read_bytes())
        (folder / "things.json").unlink()
        (folder / "things.json").symlink_to(theirs)
        refused(of, folder, "no things.json of contactfe")
        return
    place = folder / "a.txt"
    theirs.write_bytes(place.read_bytes())  # by its digest it would pass
    place.unlink()
    {
        "link": lambda: place.symlink_to(theirs),
        "hanging link": lambda: place.symlink_to(tmp_path / "none"),
        "folder": place.mkdir,
        "pipe": lambda: os.mkfifo(place),
    }[kind]()
    with within(10):
        refused(of, folder, r"a\.txt would be written over")
    assert theirs.read_text() == "first a.txt"


def test_a_mesh_that_the_case_reads_is_not_written_over(tmp_path):
    """Though contactfe wrote it: a field that was taken for the mesh of a section."""
    folder = tmp_path / "r"
    of = of_case(tmp_path)
    fill(of, folder)
    own = replace(of.sections[0], mesh=folder / "one.vtu")
    refused(replace(of, sections=(own, of.sections[1])), folder, r"one\.vtu would be written over")


def test_a_document_nested_without_end_is_none_of_ours(tmp_path):
    (tmp_path / "things.json").write_text("[" * 100_000)
    refused(of_case(tmp_path), tmp_path, "no things.json of contactfe")


OTHER_RUN = """
import sys, time
from pathlib import Path
from envelopes import case
from contactfe.report.files import claimed
with claimed(Path(sys.argv[1]), case()):
    print("held", flush=True)
    sys.stdin.readline()
"""


@pytest.fixture
def other_run(tmp_path):
    tests = Path(__file__).parents[1]
    process = subprocess.Popen(
        [sys.executable, "-c", OTHER_RUN, tmp_path / "r"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        env=os.environ | {"PYTHONPATH": os.pathsep.join([str(tests), *sys.path])},
    )  # fmt: skip
    assert process.stdout.readline() == "held\n"
    with process:
        yield process
        process.kill()


def test_a_folder_in_use_is_refused_until_that_run_ends_however_it_does(tmp_path, other_run):
    of = of_case(tmp_path)
    with pytest.raises(InputError, match=r"r: another run .*--out"):
        fill(of, tmp_path / "r")
    assert content(tmp_path / "r") == {}
    other_run.kill()
    other_run.wait()
    fill(of, tmp_path / "r")


def test_a_claim_within_a_claim_is_the_same_and_ends_with_the_outer_one(tmp_path):
    of, folder = of_case(tmp_path), tmp_path / "r"

    def elsewhere():
        with ThreadPoolExecutor(1) as other:
            other.submit(fill, of, folder).result()

    with claimed(folder, of):
        fill(of, folder)
        with claimed(tmp_path / "r" / ".." / "r", of):
            pass
        with pytest.raises(InputError, match="another run"):
            elsewhere()
    elsewhere()


def test_a_folder_that_another_run_makes_at_the_same_time_stays(tmp_path, monkeypatch):
    def taken(*_):
        raise BlockingIOError

    monkeypatch.setattr("fcntl.flock", taken)
    with pytest.raises(InputError, match="another run"):
        fill(of_case(tmp_path), tmp_path / "r")
    assert (tmp_path / "r").is_dir()


def test_folders_made_for_a_run_that_writes_nothing_are_gone_again(tmp_path):
    with claimed(tmp_path / "a" / "b", of_case(tmp_path)):
        assert (tmp_path / "a" / "b").is_dir()
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_was_made_is_removed_while_it_is_held(tmp_path, monkeypatch):
    """Or a run that began in between would go on in a folder that is no longer there."""
    rmdir, held = Path.rmdir, []

    def noted(path):
        handle = os.open(path, os.O_RDONLY)
        held.append(files.lock(handle) is False)
        os.close(handle)
        rmdir(path)

    monkeypatch.setattr(Path, "rmdir", noted)
    with claimed(tmp_path / "r", of_case(tmp_path)):
        pass
    assert held == [True]


def test_a_full_disk_is_found_first(tmp_path, monkeypatch):
    usage = files.shutil.disk_usage(tmp_path)
    monkeypatch.setattr("shutil.disk_usage", lambda _: usage._replace(free=3_200_000))
    with pytest.raises(InputError, match=r"r: .* 3\.2 MB .* 20 MB"):
        fill(of_case(tmp_path), tmp_path / "r")
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_written_is_found_first(tmp_path, monkeypatch):
    def read_only(**_):
        raise OSError(errno.EROFS, "Read-only file system")

    monkeypatch.setattr("tempfile.TemporaryFile", read_only)
    with pytest.raises(InputError, match=r"r: .* Read-only file system"):
        fill(of_case(tmp_path), tmp_path / "r")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("place", ["file/below", "file/far/below", "/proc/none/below"])
def test_a_folder_that_cannot_be_made_is_found_first(tmp_path, place):
    (tmp_path / "file").write_text("mine")
    with pytest.raises(InputError, match=r"below: .*cannot be written.*--out"):
        fill(of_case(tmp_path), tmp_path / place)
    assert content(tmp_path) == {"file": b"mine"}
