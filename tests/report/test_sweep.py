import csv
import json
import shutil
from dataclasses import replace

import pyarrow.parquet as pq
import pytest
from saying import figures, only, said
from sweeps import UNCERTAINTIES, data, failed, prepared, result, row

import contactfe
from contactfe.assess.sweep.result import Sample, SweepResult
from contactfe.assess.sweep.run import prepare
from contactfe.assess.sweep.summary import judged, summary
from contactfe.case.display import SI
from contactfe.errors import InputError
from contactfe.report.csv_file import ROWS_AT_A_TIME
from contactfe.report.page import WIDEST, as_text
from contactfe.report.sweep_files import check_sweep_files, save_sweep, sweep_files
from contactfe.report.sweep_page import sweep_page
from contactfe.report.sweep_record import sweep_fingerprint, sweep_record
from contactfe.report.sweep_table import columns

OVER = {"plate.thickness": ["1 in", "2 in"], "contact.friction": [0.1, 0.2]}
ROWS = [
    row(200.0, UNCERTAINTIES),
    row(500.0),
    failed("[plate] thickness 3 is odd, “so”"),
    row(50.0, bore_hoop_under_load=None, bore_hoop_at_side=None),
]


@pytest.fixture
def made():
    return result(ROWS, OVER)


def read(path):
    with path.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def test_the_table_has_a_row_for_each_sample_with_its_keys_and_figures(made, tmp_path):
    (path,) = save_sweep(made, tmp_path / "out.csv")
    one, two, bad, four = read(path)
    assert [r["sample"] for r in (one, two, bad, four)] == ["0", "1", "2", "3"]
    keys = [(r["plate.thickness [in]"], r["contact.friction [1]"]) for r in (one, two, bad, four)]
    assert keys == [("1.0", "0.1"), ("1.0", "0.2"), ("2.0", "0.1"), ("2.0", "0.2")]
    assert one["post peak von Mises [MPa]"] == "200.0"
    assert one["post peak von Mises, uncertainty [MPa]"] == "2.0"
    assert float(one["post utilisation [1]"]) == pytest.approx(200.0 / 420.0)
    assert float(one["post utilisation, uncertainty [1]"]) == pytest.approx(2.0 / 420.0)
    assert float(one["plate utilisation [1]"]) == pytest.approx(300.0 / 690.0)
    assert float(one["K, uncertainty [1]"]) == pytest.approx(2.0 / 5.0)  # D/q of the made-up rows
    assert (one["uncertainty from"], two["uncertainty from"]) == ("two levels", "checked samples")
    assert float(two["post peak von Mises, uncertainty [MPa]"]) == pytest.approx(5.0)
    assert [r["below yield"] for r in (one, two, bad, four)] == ["yes", "no", "no", "yes"]
    assert (bad["solved"], bad["error"]) == ("no", "[plate] thickness 3 is odd, “so”")
    assert bad["post peak von Mises [MPa]"] == bad["unknowns"] == ""
    assert (one["error"], four["bore hoop at side [MPa]"]) == ("", "")
    assert [one[f"post {of}"] for of in ("zone", "x [mm]", "y [mm]")] == [
        "edge of contact", "0.5", "0.25",
    ]  # fmt: skip
    assert [one[f"plate {of}"] for of in ("zone", "x [mm]", "y [mm]")] == [
        "plate under contact", "0.0", "-0.5",
    ]  # fmt: skip


def with_a_solid(over):
    """A tube and a solid, of which every sample is solved."""
    tables = data(over)
    solid = {"name": "solid", "outside_diameter": "120 mm"}
    made = prepare(tables | {"section": [*tables["section"], solid]})
    use = (200.0, 300.0, 250.0, 350.0)
    samples = tuple(
        Sample(
            k,
            tuple(replace(row(use[k], UNCERTAINTIES), section=s.name) for s in made.case.sections),
        )
        for k in range(made.plan.count)
    )
    return SweepResult(made.case, made.plan, samples)


def test_a_key_that_a_section_does_not_have_is_empty_there(tmp_path):
    made = with_a_solid({"section.wall": ["20 mm", "25 mm"], "plate.thickness": ["40 mm", "50 mm"]})
    (path,) = save_sweep(made, tmp_path / "out.csv")
    walls = [(r["section"], r["section.wall [mm]"]) for r in read(path)]
    assert walls == [
        (name, wall if "tube" in name else "")
        for wall in ("20.0", "20.0", "25.0", "25.0") for name in ("tube 2.5 [x]", "solid")
    ]  # fmt: skip
    assert {r["plate.thickness [mm]"] for r in read(path)} == {"40.0", "50.0"}
    assert all(r["plate.thickness [mm]"] for r in read(path))
    (table,) = save_sweep(made, tmp_path / "out.parquet")
    walls = pq.read_table(table)["section.wall [mm]"].to_pylist()
    assert walls == [20.0, None, 20.0, None, 25.0, None, 25.0, None]
    page = blocks(made)
    wall, thickness = "section.wall = 20 mm", "plate.thickness = 40 mm"
    assert only(page, "“tube 2.5 [x]”", "least", "sample 0", wall, thickness)
    assert only(page, "“solid”", "least", "sample 0").endswith(f": {thickness}")


def test_a_section_with_none_of_the_keys_is_said_to_have_none():
    page = blocks(with_a_solid({"section.wall": ["20 mm", "25 mm"]}))
    assert not said(page, "“solid”", "least utilisation")
    assert only(page, "“solid”", "none of the keys")
    assert only(page, "“tube 2.5 [x]”", "largest", "sample 1", "section.wall = 25 mm")


def test_parquet_holds_the_same_with_its_types(made, tmp_path):
    (path,) = save_sweep(made, tmp_path / "out.parquet")
    table = pq.read_table(path)
    of = columns(made)
    assert table.column_names == [column.head(SI) for column in of]
    found = table.to_pylist()
    for line, stated in zip(judged(made), found, strict=True):
        assert list(stated.values()) == [column.cell(line) for column in of]
    assert [str(table.schema.field(n).type) for n in ("sample", "below yield", "section")] == [
        "int64", "bool", "string"
    ]  # fmt: skip
    assert str(table.schema.field("post peak von Mises [MPa]").type) == "double"


def test_a_long_table_is_written_in_parts(tmp_path, monkeypatch):
    monkeypatch.setattr("contactfe.report.csv_file.ROWS_AT_A_TIME", 3)
    (path,) = save_sweep(result(ROWS, OVER), tmp_path / "out.parquet")
    assert pq.ParquetFile(path).num_row_groups == 2
    assert pq.read_table(path)["sample"].to_pylist() == [0, 1, 2, 3]
    assert ROWS_AT_A_TIME > 3


def test_parquet_without_its_library_is_refused_before_the_work(tmp_path, monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "pyarrow", None)
    one = prepared()
    with pytest.raises(InputError, match=r"pip install 'contactfe\[parquet\]'"):
        check_sweep_files(one, sweep_files(one.case, tmp_path / "a.parquet"))


def blocks(result):
    return sweep_page(summary(result))


def page(result) -> str:
    return " ".join(as_text(blocks(result), WIDEST).split())


def test_the_page_names_the_ends_and_the_errors(made):
    found, text = blocks(made), page(made)
    assert figures(only(found, "sweep of", "every combination")) == [2, 4, 1]
    assert "plate.thickness [in] 1, 2 contact.friction [1] 0.1, 0.2" in text
    least, most = "“tube 2.5 [x]”, least", "“tube 2.5 [x]”, largest"
    assert only(found, least, "sample 3", "plate.thickness = 2 in", "contact.friction = 0.2")
    assert only(found, most, "sample 1", "plate.thickness = 1 in", "contact.friction = 0.2")
    # Post 500/420 ± 1 %; the plate governs at 300/690 ± 0.5 % where the post has 50/420.
    assert "3 of 4 2 50 to 500 0.435 ± 0.002 plate, under contact 1.19 ± 0.01 post" in text
    assert only(found, "not solved", "1 of 4", "sample 2", "[plate] thickness 3 is odd")
    assert figures(only(found, "rows", "not count as passed")) == [1, 4]
    assert only(found, "1 of 3 rows", "two mesh levels")
    assert only(found, "work:", "0.76 s")


def test_the_page_is_in_the_units_of_the_case():
    made = prepare(data(OVER, units="US customary"))
    text = page(SweepResult(made.case, made.plan, result(ROWS, OVER).samples))
    assert "Mises [ksi]" in text
    assert "7.3 to 72.5" in text  # 50 and 500 MPa
    assert "MPa" not in text


def test_errors_that_differ_in_numbers_alone_are_one_kind():
    made = result([failed("wall 3.5 is odd"), failed("wall 4 is odd"), failed("no"), row()], OVER)
    (section,) = summary(made).sections
    assert [(e.count, e.sample, e.example) for e in section.errors.values()] == [
        (2, 0, "wall 3.5 is odd"), (1, 2, "no")
    ]  # fmt: skip
    assert figures(only(blocks(made), "uncertainty", "not known")) == [1]


def record(path, one, *samples):
    with sweep_record(one, path) as kept:
        for number in samples:
            kept.add(Sample(number, (ROWS[number],)))
        return len(kept), [s.number for s in kept], [n in kept for n in range(4)]


def test_a_record_gives_its_samples_in_order_and_goes_on(tmp_path):
    path, one = tmp_path / "samples.jsonl", prepared(OVER)
    assert record(path, one, 3, 0) == (2, [0, 3], [True, False, False, True])
    with path.open("a") as file:
        file.write('{"number": 1, "rows": [')  # cut off while it was written
    assert record(path, one, 2) == (3, [0, 2, 3], [True, False, True, True])
    with sweep_record(one, path) as kept:
        # The same to the last bit, however often it is gone through.
        assert list(kept) == list(kept) == [Sample(k, (ROWS[k],)) for k in (0, 2, 3)]


def test_other_lines_of_a_record_are_passed_over(tmp_path):
    path, one = tmp_path / "samples.jsonl", prepared(OVER)
    record(path, one, 1)
    with sweep_record(one, path) as kept:
        kept.add(Sample(99, (ROWS[0],)))
        kept.add(Sample(2, (replace(ROWS[0], section="of another case"),)))
        kept.add(Sample(3, ()))
    with path.open("a") as file:
        file.write('{"number": 0, "rows": []}\nnonsense\n')
    with sweep_record(one, path) as kept:
        assert kept.spoiled == 2
    assert record(path, one, 0) == (2, [0, 1], [True, True, False, False])


def test_the_record_of_another_sweep_is_refused(tmp_path):
    path, one = tmp_path / "samples.jsonl", prepared(OVER)
    record(path, one, 1)
    for idle in ({"title": "Renamed"}, {"sizing": {"outside_diameter": ["150 mm"]}}):
        record(path, prepare(data(OVER) | idle))  # not a figure follows from it
    before = path.read_bytes()
    for other in (
        prepared(OVER | {"contact.friction": [0.1, 0.3]}),
        prepared(OVER, levels=2),
        prepare(data(OVER) | {"load": {"line_load": "601 N/mm"}}),
        prepare(data(OVER, units="US customary")),  # errors are worded in them
    ):
        with pytest.raises(InputError, match=r"samples\.jsonl: .*another sweep"):
            record(path, other)
    assert path.read_bytes() == before
    path.write_text("mine\n")
    with pytest.raises(InputError, match=r"samples\.jsonl: .*not a record"):
        record(path, one)
    assert path.read_text() == "mine\n"


def test_a_mesh_of_its_own_counts_by_its_content(tmp_path):
    one, mesh = prepared(OVER), tmp_path / "a.msh"
    section = replace(one.case.sections[0], wall=None, mesh=mesh)
    own = replace(one, case=replace(one.case, sections=(section,)))

    def of(content):
        mesh.write_text(content)
        return sweep_fingerprint(own)

    assert of("x") == of("x") != of("y")


def test_two_runs_do_not_share_a_record(tmp_path):
    path, one = tmp_path / "samples.jsonl", prepared(OVER)
    with sweep_record(one, path), pytest.raises(InputError, match="another run"):
        record(path, one)


def test_where_files_go_and_what_is_not_overwritten(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    one = prepared(OVER)
    names = [str(p) for p in vars(sweep_files(one.case, None)).values()]
    assert names == [f"invented-stop-4-b-sweep/{n}" for n in
                     ("sweep.csv", "samples.jsonl", "sweep.txt")]  # fmt: skip
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "thesis.txt").touch()
    (tmp_path / "mine.csv").touch()
    (tmp_path / "file").touch()
    for out, part in [
        ("mine", "mine: already holds"), ("mine.csv", r"mine\.csv: .*without its record"),
        ("none/a.csv", "no folder none"), ("file", "file: is a file"),
    ]:  # fmt: skip
        with pytest.raises(InputError, match=part):
            check_sweep_files(one, sweep_files(one.case, out))
    check_sweep_files(one, sweep_files(one.case, "new"))


def test_a_table_that_fails_leaves_the_one_before(made, tmp_path, monkeypatch):
    contactfe.save_sweep(made, tmp_path / "here")
    before = (tmp_path / "here" / "sweep.csv").read_bytes()

    def fails(*_):
        raise OSError(28, "no space left")

    monkeypatch.setattr("contactfe.report.sweep_files.write_table", fails)
    with pytest.raises(InputError, match="no space left"):
        contactfe.save_sweep(result([row()] * 4, OVER), tmp_path / "here")
    assert (tmp_path / "here" / "sweep.csv").read_bytes() == before
    assert sorted(p.name for p in (tmp_path / "here").iterdir()) == ["sweep.csv", "sweep.txt"]


@pytest.mark.parametrize("out", ["here", "a.csv", "a.parquet"])
def test_a_table_is_written_over_by_the_same_alone(made, tmp_path, out):
    table = contactfe.save(made, tmp_path / out)[0]
    before = table.read_bytes()
    contactfe.save(made, tmp_path / out)
    assert table.read_bytes() == before
    theirs = before + b"# checked by me"
    table.write_bytes(theirs)
    with pytest.raises(InputError, match=rf"{table.name}: is there already"):
        contactfe.save(made, tmp_path / out)
    assert table.read_bytes() == theirs
    assert not list(tmp_path.rglob(".*"))


@pytest.mark.parametrize("kind", ["link", "hanging link", "folder"])
def test_a_table_is_not_written_in_the_place_of_what_is_no_file(made, tmp_path, kind):
    (table,) = save_sweep(made, tmp_path / "real.csv")
    path = tmp_path / "a.csv"
    if kind == "folder":
        path.mkdir()
    else:
        path.symlink_to(table if kind == "link" else "none")
    with pytest.raises(InputError, match=r"a\.csv: is there already"):
        save_sweep(made, path)
    assert path.is_symlink() or path.is_dir()


def test_a_page_that_was_changed_keeps_the_table_as_it_was_too(made, tmp_path):
    table, page = save_sweep(made, tmp_path / "here")
    page.write_text("mine")
    table.unlink()
    with pytest.raises(InputError, match=r"sweep\.txt: is there already"):
        save_sweep(made, tmp_path / "here")
    assert [path.name for path in (tmp_path / "here").iterdir()] == ["sweep.txt"]
    assert page.read_text() == "mine"


def test_a_sweep_asks_for_room_first(tmp_path, monkeypatch):
    one = prepared(OVER)
    usage = shutil.disk_usage(tmp_path)
    monkeypatch.setattr("shutil.disk_usage", lambda _: usage._replace(free=100))
    with pytest.raises(InputError, match=r"new/far: .*0\.0 MB are free"):
        check_sweep_files(one, sweep_files(one.case, tmp_path / "new" / "far"))
    assert list(tmp_path.iterdir()) == []


def test_a_row_of_the_record_is_json_that_others_can_read(tmp_path):
    path = tmp_path / "samples.jsonl"
    record(path, prepared(OVER), 0)
    head, line = (json.loads(text) for text in path.read_text().splitlines())
    assert (head["kind"], head["samples"]) == ("samples of a sweep", 4)
    assert line["answer"]["rows"][0]["solution"]["figures"]["post_peak"]["value"] == 200.0


def test_checks_beside_the_stresses_have_columns_and_the_largest_is_on_the_page(tmp_path):
    weld = {"other": "a weld", "other_ratio": 1.31, "other_verdict": "fails"}
    made = result([row(200.0, UNCERTAINTIES), row(200.0, UNCERTAINTIES, **weld)], OVER)
    (path,) = save_sweep(made, tmp_path / "out.csv")
    of = [
        (r["below yield"], r["governing check beside the stresses"], r["its ratio [1]"],
         r["passes every check"])
        for r in read(path)
    ]  # fmt: skip
    assert of == [("yes", "a clause", "0.5", "yes"), ("yes", "a weld", "1.31", "no")]
    (section,) = summary(made).sections
    assert (section.passed, section.beside) == (1, (1.31, "a weld"))
    assert "1.31, a weld" in page(made)
