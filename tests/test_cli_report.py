"""The command report, as a user meets it: one run, its file, and what it refuses."""

import os
import shutil

import pytest
from calculations import joined, read
from commands import SMALL, run, run_here

from contactfe.assess.envelope import AtContact
from contactfe.assess.overload.run import BeyondYield
from contactfe.report.answer import LINES


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A folder with the small case and its report."""
    here = tmp_path_factory.mktemp("report")
    (here / "stop.toml").write_text(
        SMALL + '[document]\ncalculation = "C-7"\ndate = 2026-05-04\n', encoding="utf-8"
    )
    done = run("report", "stop.toml", cwd=here)
    assert done.returncode == 0, done.stderr
    assert "stop-report.pdf" in done.stdout
    assert "Answer\n" in done.stdout
    assert done.stdout.count("\n") <= LINES
    return here


def test_the_report_is_a_pdf_of_the_case(folder):
    pages = read((folder / "stop-report.pdf").read_bytes()).pages
    first = joined(pages[0].extract_text())
    assert "Teststop" in first
    assert "C-7" in first
    assert "2026-05-04" in first
    assert {path.name for path in folder.iterdir()} == {"stop.toml", "stop-report.pdf"}


def test_a_report_of_the_same_case_is_written_over_and_of_another_is_not(folder, tmp_path):
    before = (folder / "stop-report.pdf").read_bytes()
    again = run_here("report", "stop.toml", cwd=folder)
    assert again.returncode == 0
    assert (folder / "stop-report.pdf").read_bytes() == before  # solved anew, and yet the same
    shutil.copy(folder / "stop.toml", tmp_path / "other.toml")
    shutil.copy(folder / "stop-report.pdf", tmp_path / "kept.pdf")
    refused = run_here("report", "other.toml", "--out", "kept.pdf", cwd=tmp_path)
    assert refused.returncode == 2
    assert "kept.pdf" in refused.stderr
    assert (tmp_path / "kept.pdf").read_bytes() == before


@pytest.mark.parametrize("what", ["foreign", "folder", "nowhere", "link"])
def test_what_may_not_be_written_is_said_before_the_case_is_solved(what, folder, tmp_path):
    (tmp_path / "foreign").write_text("mine", encoding="utf-8")
    (tmp_path / "folder").mkdir()
    os.symlink("foreign", tmp_path / "link")
    name = "nowhere/report.pdf" if what == "nowhere" else what
    refused = run_here("report", folder / "stop.toml", "--out", name, cwd=tmp_path)
    assert refused.returncode == 2
    assert refused.stderr.startswith(f"--out {name}: ")
    assert len(refused.stderr.splitlines()) == 1
    assert (tmp_path / "foreign").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("given", [["--out", "a.html"], ["--out", "a.PDF", "--html"]])
def test_a_name_that_says_another_kind_is_refused(given, folder, tmp_path):
    refused = run_here("report", folder / "stop.toml", *given, cwd=tmp_path)
    assert refused.returncode == 2
    assert refused.stderr.startswith(f"--out {given[1]}: ")
    assert list(tmp_path.iterdir()) == []


def test_html(folder, tmp_path):
    done = run_here("report", folder / "stop.toml", "--html", cwd=tmp_path)
    assert done.returncode == 0
    text = (tmp_path / "stop-report.html").read_text(encoding="utf-8")
    assert "<h1>Test stop</h1>" in text
    assert text.count("<svg") >= 4


def test_a_fault_of_the_case_is_one_line(tmp_path):
    (tmp_path / "stop.toml").write_text(
        SMALL + '[document]\npaper = "A3"\ndate = "soon"\n', encoding="utf-8"
    )
    refused = run_here("report", "stop.toml", cwd=tmp_path)
    assert refused.returncode == 2
    date, paper = refused.stderr.splitlines()
    assert "[document] paper" in paper
    assert '"US Letter"' in paper
    assert "[document] date" in date


def test_what_an_envelope_has_solved_is_taken_and_that_of_another_case_is_not(
    tmp_path, monkeypatch
):
    case = tmp_path / "wide.toml"
    case.write_text(SMALL + '[envelope]\noffset = ["0 mm", "20 mm"]\n', encoding="utf-8")
    assert run_here("envelope", case, cwd=tmp_path).returncode == 0
    solved = []
    solve = AtContact.solve
    monkeypatch.setattr(AtContact, "solve", lambda self, *of: solved.append(1) or solve(self, *of))
    taken = run_here("report", case, "--processes", "1", cwd=tmp_path)
    assert taken.returncode == 0
    assert taken.stderr.startswith("2 solves")
    assert not solved
    kept = (tmp_path / "wide-envelope" / "rows.jsonl").read_bytes()
    (tmp_path / "wide-report.pdf").unlink()
    case.write_text(case.read_text().replace("400 N/mm", "500 N/mm"), encoding="utf-8")
    anew = run_here("report", case, "--processes", "1", cwd=tmp_path)
    assert (anew.returncode, anew.stderr) == (0, "")
    assert len(solved) == 2
    assert (tmp_path / "wide-envelope" / "rows.jsonl").read_bytes() == kept


def test_what_is_solved_beyond_first_yield_is_taken_from_the_folder_of_overload(
    tmp_path, monkeypatch
):
    case = tmp_path / "struck.toml"
    case.write_text(SMALL + "[overload]\nfactors = [1.1]\n", encoding="utf-8")
    solved = []
    solve = BeyondYield.solve
    monkeypatch.setattr(
        BeyondYield, "solve", lambda self, *of: solved.append(1) or solve(self, *of)
    )
    assert run_here("overload", case, "--processes", "1", cwd=tmp_path).returncode == 0
    assert solved == [1]
    taken = run_here("report", case, "--processes", "1", cwd=tmp_path)
    assert (taken.returncode, solved) == (0, [1])
    assert taken.stderr.startswith("1 solves")
    text = joined(
        "".join(p.extract_text() for p in read((tmp_path / "struck-report.pdf").read_bytes()).pages)
    )
    assert "Beyondfirstyield" in text


def test_a_case_that_overload_refuses_is_refused_with_its_table(tmp_path):
    case = tmp_path / "rough.toml"
    case.write_text(SMALL + "[contact]\nfriction = 0.2\n[overload]\n", encoding="utf-8")
    refused = run_here("report", case, cwd=tmp_path)
    assert refused.returncode == 2
    assert "[contact] friction" in refused.stderr
    assert len(refused.stderr.splitlines()) == 1
