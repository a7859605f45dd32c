"""The record of rows: nothing lost, nothing mixed in, nothing written over."""

import json
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest
from envelopes import case, failed, row
from hypothesis import given
from hypothesis import strategies as st

from contactfe.case import Contact
from contactfe.errors import InputError
from contactfe.report.rows import ROWS, fingerprint, head, row_log

CASE = case(offset=["0 mm"], sections=2)
ONE, TWO = (section.name for section in CASE.sections)
ROWS_MADE = [row(ONE, Contact(0.1, -0.3, 0.2)), failed(TWO, Contact(1 / 3)), row(TWO, Contact())]


def kept(of, folder):
    with row_log(of, folder) as log:
        return log.rows


def fill(folder, rows=ROWS_MADE, of=CASE):
    with row_log(of, folder) as log:
        for one in rows:
            before = (folder / ROWS).stat().st_size
            log.add(one)
            assert (folder / ROWS).stat().st_size > before  # on the disk at once
        assert log.added == len(rows)


def test_rows_come_back_as_they_were(tmp_path):
    folder = tmp_path / "a" / "b"
    fill(folder)
    assert kept(CASE, folder) == tuple(ROWS_MADE)
    fill(folder, [row(ONE, Contact(5.0))])
    assert kept(CASE, folder) == (*ROWS_MADE, row(ONE, Contact(5.0)))
    assert head(folder)["title"] == CASE.title


@given(post=st.floats(1e-6, 1e6), offset=st.floats(-1e3, 1e3), uncertainty=st.floats(0, 1))
def test_figures_come_back_to_the_last_bit(tmp_path_factory, post, offset, uncertainty):
    folder = tmp_path_factory.mktemp("log")
    made = row(ONE, Contact(offset, 0.1, 0.2), post=post, uncertainty=uncertainty)
    fill(folder, [made])
    assert kept(CASE, folder) == (made,)


@pytest.mark.parametrize("cut", [1, 20, 100])
def test_a_line_cut_off_in_writing_is_taken_away(tmp_path, cut):
    fill(tmp_path)
    path = tmp_path / ROWS
    whole = path.read_bytes()
    path.write_bytes(whole[:-cut])
    assert kept(CASE, tmp_path) == tuple(ROWS_MADE[:2])
    assert path.read_bytes() == whole[: whole.rfind(b"\n", 0, -1) + 1]
    fill(tmp_path, ROWS_MADE[2:])
    assert path.read_bytes() == whole


def test_lines_of_other_kinds_are_passed_over(tmp_path):
    fill(tmp_path, ROWS_MADE[:1])
    other = b'\xff\n[]\n{"of": 1}\n{"of": "x", "row": {"section": 3}}\nnonsense\n'
    with (tmp_path / ROWS).open("ab") as file:
        file.write(other)
    fill(tmp_path, ROWS_MADE[1:])
    assert kept(CASE, tmp_path) == tuple(ROWS_MADE)


def test_a_row_with_neither_values_nor_an_error_is_passed_over(tmp_path):
    """As one that keeps its figures in another form would be read."""
    fill(tmp_path, ROWS_MADE[:1])
    path = tmp_path / ROWS
    head, line = path.read_text().splitlines()
    of = json.loads(line)
    of["row"]["figures"] = of["row"].pop("values")
    path.write_text(f"{head}\n{json.dumps(of)}\n")
    assert kept(CASE, tmp_path) == ()


def changes():
    plate, post = CASE.plate, CASE.post
    return {
        "load": replace(CASE, line_load=601.0),
        "plate size": replace(CASE, plate=replace(plate, thickness=51.0)),
        "plate hold": replace(CASE, plate=replace(plate, held_by="clamped")),
        "plate steel": replace(
            CASE, plate=replace(plate, steel=replace(plate.steel, yield_strength=1.0))
        ),
        "post hold": replace(CASE, post=replace(post, held_by="diametral")),
        "post steel": replace(CASE, post=replace(post, steel=replace(post.steel, young=1.0))),
        "wall": replace(CASE, sections=(replace(CASE.sections[0], wall=24.0), *CASE.sections[1:])),
        "state": replace(CASE, state="plane stress"),
        "margin": replace(CASE, yield_margin=1.1),
        "accuracy": replace(CASE, accuracy=0.01),
        "units": replace(CASE, report_units="US customary"),
    }


@pytest.mark.parametrize("what", changes())
def test_rows_of_a_changed_case_do_not_count_until_the_change_is_undone(tmp_path, what):
    changed = changes()[what]
    fill(tmp_path, ROWS_MADE[:1])
    assert kept(changed, tmp_path) == ()
    fill(tmp_path, [row(ONE, Contact(9.0))], changed)
    assert kept(changed, tmp_path) == (row(ONE, Contact(9.0)),)
    assert kept(CASE, tmp_path) == (ROWS_MADE[0],)


def test_what_does_not_matter_to_a_row_does_not_discard_it(tmp_path):
    fill(tmp_path)
    more = case(offset=["0 mm", "9 mm"], angle=["3 deg"], sections=3)
    assert kept(replace(more, title="Other words"), tmp_path) == tuple(ROWS_MADE)
    only = replace(CASE, sections=CASE.sections[:1])
    assert kept(only, tmp_path) == (ROWS_MADE[0],)


def test_an_own_mesh_counts_by_its_content_not_by_its_place(tmp_path):
    one, other, third = (tmp_path / name for name in ("a.msh", "b.msh", "c.msh"))
    one.write_text("x")
    other.write_text("x")
    third.write_text("y")
    section = replace(CASE.sections[0], wall=None)
    prints = [fingerprint(CASE, replace(section, mesh=p)) for p in (one, other, third)]
    assert prints[0] == prints[1] != prints[2]
    assert fingerprint(CASE, section) not in prints


def test_another_version_of_the_program_starts_anew(tmp_path, monkeypatch):
    fill(tmp_path)
    monkeypatch.setattr("contactfe.__version__", "0.0.0")
    assert kept(CASE, tmp_path) == ()


def test_two_runs_at_a_time_are_refused(tmp_path):
    def another():
        with pytest.raises(InputError, match="another run is at work there"):
            kept(CASE, tmp_path)
        return True

    with row_log(CASE, tmp_path), ThreadPoolExecutor(1) as other:
        assert other.submit(another).result()
    assert kept(CASE, tmp_path) == ()


def test_a_place_that_cannot_be_written(tmp_path):
    (tmp_path / "file").touch()
    with (
        pytest.raises(InputError, match=r"file: results cannot be written there: .*--out"),
        row_log(CASE, tmp_path / "file"),
    ):
        pass


@pytest.mark.parametrize("content", ["", "nonsense", "[]", json.dumps({"generator": {}})])
def test_a_record_of_another_program_is_none_of_ours(tmp_path, content):
    (tmp_path / ROWS).write_text(content)
    assert head(tmp_path) is None
    assert head(tmp_path / "none") is None
