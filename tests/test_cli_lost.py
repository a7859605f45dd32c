"""Nothing may get lost by a command, and what can fail fails before the work."""

import errno
import json
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from click.testing import CliRunner
from commands import SMALL, run_here

from contactfe import cli
from contactfe.assess.by_hand.case import by_hand
from contactfe.case import read_case
from contactfe.errors import InputError
from contactfe.report.files import claimed

MOTION = """
[motion]
mass = "150 t"
period = "3 s"
displacement = "400 mm"
gap = "250 mm"
[contact_law]
law = "section"
"""
MESHES = Path(__file__).parents[1] / "meshes"
EVERY = SMALL.replace(
    'line_load = "400 N/mm"', 'force = "80 kN"\ncontact_length = "200 mm"'
).replace("[plate]", f"{MOTION}\n[envelope]\noffset = ['0 mm']\n[sizing]\n[plate]")

SOLVING = ("compare", "envelope", "stiffness", "impact", "size", "overload")


@pytest.fixture
def stop(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "stop.toml"
    path.write_text(EVERY)

    def solved(*_, **__):
        raise AssertionError("solved before it was refused")

    monkeypatch.setattr("contactfe.assess.bodies.condense", solved)
    return path


def content(folder):
    return {p: p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def refused(folder, *words, match):
    before, entries = content(folder), sorted(folder.rglob("*"))
    done = CliRunner().invoke(cli.cli, [*map(str, words)])
    assert isinstance(done.exception, InputError), (done.exception, done.output)
    text = str(done.exception)
    assert match in text
    assert "\n" not in text
    assert content(folder) == before
    assert sorted(folder.rglob("*")) == entries  # no folder is left either


@pytest.mark.parametrize("command", SOLVING)
def test_what_is_not_refused_is_solved_there(stop, command):
    """So that what the tests below refuse is refused before the work."""
    words = ("--processes", "1") if command in {"envelope", "size"} else ()
    done = CliRunner().invoke(cli.cli, [command, str(stop), *words])
    assert isinstance(done.exception, AssertionError), (done.exception, done.output)


@pytest.mark.parametrize("command", [*SOLVING, "hand", "scale"])
@pytest.mark.parametrize(
    "target", ["stop.toml", "link.json", "mesh.msh", "notes.txt", "other.json"]
)
def test_json_writes_over_no_file_but_an_earlier_result(stop, tmp_path, command, target):
    (tmp_path / "link.json").symlink_to(stop)
    (tmp_path / "mesh.msh").write_bytes(b"$MeshFormat")
    (tmp_path / "notes.txt").write_text("mine")
    other = {"generator": {"name": "contactfe"}, "case": {"path": str(tmp_path / "other.toml")}}
    (tmp_path / "other.json").write_text(json.dumps(other))
    more = ("--to", "0.5") if command == "scale" else ()
    refused(
        tmp_path, command, stop, "--json", target, *more,
        match=f"--json {target}: is there already",
    )  # fmt: skip


def test_json_again_is_written_again(stop, tmp_path):
    for title in ("Test stop", "Renamed"):
        stop.write_text(EVERY.replace("Test stop", title))
        done = run_here("hand", stop, "--json", "hand.json", cwd=tmp_path)
        assert (done.returncode, done.stderr) == (0, "")
        assert json.loads((tmp_path / "hand.json").read_text())["title"] == title
    assert sorted(p.name for p in tmp_path.iterdir()) == ["hand.json", "stop.toml"]


def test_a_file_that_appears_while_the_work_is_done_is_not_written_over(
    stop, tmp_path, monkeypatch
):
    target = tmp_path / "hand.json"

    def meanwhile(case):
        target.write_text("mine")
        return by_hand(case)

    monkeypatch.setattr("contactfe.assess.by_hand.case.by_hand", meanwhile)
    done = CliRunner().invoke(cli.cli, ["hand", str(stop), "--json", str(target)])
    assert isinstance(done.exception, InputError)
    assert target.read_text() == "mine"


def test_a_refusal_is_one_line_and_status_2(stop, tmp_path):
    done = run_here("hand", stop, "--json", "stop.toml", cwd=tmp_path)
    assert (done.returncode, done.stdout, done.stderr.count("\n")) == (2, "", 1)
    assert stop.read_text() == EVERY


def test_json_may_not_be_a_file_that_out_writes(stop, tmp_path):
    (tmp_path / "out").mkdir()
    refused(
        tmp_path, "compare", stop, "--out", "out", "--json", "out/table.txt",
        match="--json out/table.txt: ",
    )  # fmt: skip


def test_scale_refuses_one_name_for_two_files(stop, tmp_path):
    refused(
        tmp_path, "scale", stop, "--to", "0.5", "--write", "a.toml", "--json", "./a.toml",
        match="--write a.toml: is named by --json",
    )  # fmt: skip


def test_verify_writes_over_no_result_of_a_case(stop, tmp_path):
    result = {"generator": {"name": "contactfe"}, "case": {"path": str(stop)}}
    (tmp_path / "hand.json").write_text(json.dumps(result))
    refused(tmp_path, "verify", "nothing", "--json", "hand.json", match="is there already")


@pytest.mark.parametrize("command", SOLVING)
class TestBeforeTheWork:
    def test_a_folder_in_use(self, stop, tmp_path, command):
        with claimed(tmp_path / "out", read_case(stop)), ThreadPoolExecutor(1) as another:
            done = another.submit(run_here, command, stop, "--out", "out", cwd=tmp_path).result()
        assert (done.returncode, done.stderr.count("\n")) == (2, 1)
        assert "out: another run is at work there" in done.stderr

    def test_a_full_disk(self, stop, tmp_path, monkeypatch, command):
        monkeypatch.setattr("shutil.disk_usage", lambda _: type("", (), {"free": 1000}))
        refused(tmp_path, command, stop, match="results cannot be written there: 0.0 MB are free")

    @pytest.mark.parametrize("option", ["--out", "--json"])
    def test_a_read_only_place(self, stop, tmp_path, monkeypatch, command, option):
        def read_only(**_):
            raise OSError(errno.EROFS, "Read-only file system")

        monkeypatch.setattr("tempfile.TemporaryFile", read_only)
        refused(tmp_path, command, stop, option, "new", match="Read-only file system")

    def test_a_file_as_parent(self, stop, tmp_path, command):
        refused(tmp_path, command, stop, "--out", "stop.toml/out", match="cannot be written there")

    def test_a_foreign_file_under_a_name_that_would_be_written(self, stop, tmp_path, command):
        names = {
            "compare": ("results.json", "table.txt"), "envelope": ("rows.jsonl", "envelope.png"),
            "size": ("size.json", "size.png"), "stiffness": ("stiffness.json", "curve.csv"),
            "impact": ("impact.json", "history.csv"),
            "overload": ("sections.jsonl", "overload.csv"),
        }  # fmt: skip
        document, theirs = names[command]
        mine = {
            "generator": {"name": "contactfe"}, "title": "Test stop", "files": [document, theirs],
            "case": {"path": str(stop)},
        }  # fmt: skip
        if command == "envelope":
            mine |= {"kind": "rows of an envelope", "path": str(stop)}
        if command == "overload":
            mine |= {"kind": "sections of an overload", "path": str(stop)}
        (tmp_path / "out").mkdir()
        (tmp_path / "out" / document).write_text(json.dumps(mine) + "\n")
        (tmp_path / "out" / theirs).write_text("mine")
        match = f"out: {theirs} would be written over and is not as contactfe wrote it"
        refused(tmp_path, command, stop, "--out", "out", match=match)


OWN = """
[[section]]
name = "own"
outside_diameter = "150 mm"
mesh = "own.msh"
"""
SWEEP = '[sweep.over]\n"load.line_load" = ["300 N/mm", "400 N/mm"]\n[plate]'


@pytest.mark.parametrize(
    "command", ["compare", "envelope", "stiffness", "impact", "overload", "sweep"]
)
@pytest.mark.parametrize("kind", ["nonsense", "another size"])
def test_an_own_mesh_that_cannot_be_used_is_found_before_the_work(
    stop, tmp_path, monkeypatch, command, kind
):
    text = SMALL.replace("[plate]", SWEEP) if command == "sweep" else EVERY
    monkeypatch.setattr("contactfe.assess.sweep.work.solve_task", None)
    stop.write_text(text + OWN)
    (tmp_path / "own.msh").write_bytes(
        b"nonsense" if kind == "nonsense" else (MESHES / "ribbed-tube.msh").read_bytes()
    )
    match = "own.msh: cannot be read as a mesh" if kind == "nonsense" else "150"
    refused(tmp_path, command, stop, match=match)


def test_a_mesh_whose_diameter_a_sweep_varies_is_read_first_as_well(stop, tmp_path):
    swept = SWEEP.replace("load.line_load", "section.own.outside_diameter")
    swept = swept.replace('"300 N/mm", "400 N/mm"', '"150 mm", "160 mm"')
    stop.write_text(SMALL.replace("[plate]", swept) + OWN)
    (tmp_path / "own.msh").write_bytes(b"nonsense")
    refused(tmp_path, "sweep", stop, match="own.msh: ")
