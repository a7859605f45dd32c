import errno
import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from contactfe.errors import InputError
from contactfe.report import compare_output
from contactfe.report.compare_output import FOLDER, save

FILES = {
    "results.json",
    "steps.txt",
    "drawing-note.txt",
    "table.txt",
    "sections.png",
    "pressure.png",
    "load_line.png",
    "solid-120.vtu",
    "tube-120-x-20.vtu",
}


def _names(folder):
    return {path.name for path in folder.iterdir()}


def _with(comparison, **case):
    return replace(comparison, case=replace(comparison.case, **case))


@pytest.fixture
def quick(monkeypatch):
    """Figures and fields as empty files: what is asked here is where files go."""

    def touch(comparison, folder):
        path = folder / "sections.png"
        path.touch()
        return [path]

    monkeypatch.setattr(compare_output, "save_figures", touch)
    monkeypatch.setattr(compare_output, "write_fields", lambda *_: [])


def test_everything_is_written_and_nothing_else_is_left(comparison, tmp_path):
    folder = tmp_path / "new" / "results"
    paths = save(comparison, folder)
    assert {path.name for path in paths} == _names(folder) == FILES
    assert all(path.parent == folder for path in paths)
    assert _names(folder.parent) == {"results"}
    fields = {name for name in FILES if re.fullmatch(FOLDER.sections, name)}
    assert fields == {"solid-120.vtu", "tube-120-x-20.vtu"}  # what may be removed
    assert set(json.loads((folder / "results.json").read_text(encoding="utf-8"))["files"]) == FILES


@pytest.mark.parametrize(
    "step", ["compare_output.save_figures", "compare_output.write_fields", "folder.write_json"]
)
def test_a_failure_midway_leaves_earlier_results_untouched(
    comparison, tmp_path, quick, monkeypatch, step
):
    folder = tmp_path / "results"
    save(comparison, folder)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}

    def full(*args):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(f"contactfe.report.{step}", full)
    with pytest.raises(InputError, match=r"results.*No space left.*--out"):
        save(comparison, folder)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    assert _names(tmp_path) == {"results"}


def test_another_program_s_folder_is_refused(comparison, tmp_path, quick):
    folder = tmp_path / "results"
    folder.mkdir()
    (folder / "thesis.tex").touch()
    with pytest.raises(InputError, match=r"results: .*thesis\.tex.*--out"):
        save(comparison, folder)
    assert _names(folder) == {"thesis.tex"}


@pytest.mark.parametrize("text", ["{}", "[1]", "no json", '{"generator": {"name": "other"}}'])
def test_another_program_s_results_are_refused(comparison, tmp_path, quick, text):
    (tmp_path / "results.json").write_text(text)
    with pytest.raises(InputError, match=r"no results\.json"):
        save(comparison, tmp_path)


def test_an_empty_folder_is_taken(comparison, tmp_path, quick):
    save(comparison, tmp_path)
    assert "results.json" in _names(tmp_path)


def test_results_of_another_case_are_refused(comparison, tmp_path, quick):
    folder = tmp_path / "results"
    save(_with(comparison, source=str(tmp_path / "one.toml")), folder)
    before = (folder / "results.json").read_bytes()
    for other in (
        _with(comparison, source=str(tmp_path / "two.toml")),
        comparison,
    ):
        with pytest.raises(InputError, match=r"another case.*one\.toml.*--out"):
            save(other, folder)
    assert (folder / "results.json").read_bytes() == before


def test_a_case_keeps_its_folder_under_another_title(comparison, tmp_path, quick):
    source = str(tmp_path / "one.toml")
    save(_with(comparison, source=source), tmp_path / "results")
    save(_with(comparison, source=source, title="Renamed"), tmp_path / "results")


def test_cases_without_a_file_go_by_their_title(comparison, tmp_path, quick):
    save(comparison, tmp_path / "results")
    save(comparison, tmp_path / "results")
    with pytest.raises(InputError, match="another case"):
        save(_with(comparison, title="Another stop"), tmp_path / "results")


def test_a_relative_path_is_the_same_case(comparison, tmp_path, quick, monkeypatch):
    monkeypatch.chdir(tmp_path)
    save(_with(comparison, source="one.toml"), Path("results"))
    save(_with(comparison, source=str(tmp_path / "one.toml")), Path("results"))


def test_a_file_in_the_way_is_refused(comparison, tmp_path, quick):
    (tmp_path / "results").write_text("a file")
    with pytest.raises(InputError, match=r"is a file.*--out"):
        save(comparison, tmp_path / "results")
    with pytest.raises(InputError, match=r"cannot be written.*--out"):
        save(comparison, tmp_path / "results" / "below")
    assert (tmp_path / "results").read_text() == "a file"


def test_a_link_to_a_folder_stays_a_link(comparison, tmp_path, quick):
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    save(comparison, tmp_path / "link")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real" / "results.json").exists()


def test_the_default_folder_is_named_after_the_case(comparison):
    assert FOLDER.default(comparison.case) == Path("invented-stop-1-a-results")
    case = replace(comparison.case, source="cases/mill-house-stop.toml")
    assert FOLDER.default(case) == Path("mill-house-stop-results")
