import re
from collections import OrderedDict
from dataclasses import replace
from pathlib import Path

import pytest
from sweeps import OVER, UNCERTAINTIES, data, failed, prepared, result, row, solution, without_times

import contactfe
from contactfe.assess.accuracy import solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.sweep import work as working
from contactfe.assess.sweep.run import prepare, solve_samples, sweep
from contactfe.assess.sweep.summary import judged
from contactfe.assess.sweep.task import Task
from contactfe.assess.sweep.uncertainty import uncertainty
from contactfe.assess.sweep.work import solve_task
from contactfe.assess.value import Figure
from contactfe.case import case_from_dict
from contactfe.case.patching import patched
from contactfe.errors import InputError, SolveError

TWO = {"plate.thickness": ["40 mm", "0.5 mm"]}


@pytest.fixture(scope="module")
def alone():
    """On a plate that can carry the load, and on one too thin."""
    return sweep(data(TWO), processes=1)


def test_a_sample_is_the_case_with_its_values_and_a_bad_one_is_a_row(alone):
    assert [s.number for s in alone.samples] == [0, 1]
    good, bad = alone.samples
    case = case_from_dict(patched(data(TWO), [(("plate", "thickness"), "40 mm")]))
    (section,) = case.sections
    levels = solve_levels(case, section, Bodies(case))
    found, reading = good.rows[0].solution, levels.fine.reading
    post, plate = found.number("post_peak"), found.number("plate_peak")
    assert post == reading.member_peaks[0].von_mises
    assert plate == reading.patch.peaks[0].von_mises
    hoop = found.number("bore_hoop_under_load"), found.number("bore_hoop_at_side")
    assert hoop == reading.bore_hoop
    assert found.number("approach") == reading.state.approach
    assert (
        found.uncertainties["post_peak"]
        == levels.value(lambda r: r.member_peaks[0].von_mises).uncertainty
    )
    assert found.number("stress_concentration") == pytest.approx(post * 120.0 / 600.0)
    assert found.number("post_utilisation") == post / 420.0
    assert found.number("plate_utilisation") == plate / 690.0
    assert found.mass_per_length == pytest.approx(7850e-6 * 3.14159265 * 95.0 * 25.0)
    assert found.line_load == 600.0
    (one,) = bad.rows
    assert one.solution is None
    assert one.refused
    assert re.match(r'\[sweep.over\] "plate.thickness" = "0.5 mm": .*at least a 250th', one.error)


def test_one_level_lies_within_the_uncertainty_of_two(alone):
    made = prepared(TWO)
    kept = OrderedDict()
    task = Task(0, made.plan.values(0), checked=False)
    (one,) = solve_task(made.work, task, kept).rows
    (two,) = alone.samples[0].rows
    assert one.solution.uncertainties is None
    for name in ("post_peak", "plate_peak", "peak_pressure", "half_width", "approach"):
        difference = abs(one.solution.number(name) - two.solution.number(name))
        assert difference <= two.solution.uncertainties[name]
    # What is kept serves again, to the last bit: here all of it, and for a stronger steel too.
    before = len(kept)
    again = solve_task(made.work, task, kept).rows[0].solution
    assert again == one.solution
    strong = replace(made.work, data=data(TWO) | {"post": data()["post"] | {"yield": "500 MPa"}})
    other = solve_task(strong, task, kept).rows[0].solution
    # Clauses go by the strength of the steel as well.
    beside = {"other": other.other, "other_ratio": other.other_ratio}
    use = {"post_utilisation": one.solution.figures["post_peak"].over(500.0)}
    assert other == replace(one.solution, figures={**one.solution.figures, **use}, **beside)
    assert other.other_ratio != one.solution.other_ratio
    assert len(kept) == before


def test_two_processes_give_the_same_to_the_last_bit(alone):
    assert without_times(solve_samples(prepared(TWO), processes=2)) == without_times(alone.samples)


def test_what_is_known_is_not_solved_again(monkeypatch):
    asked = []
    monkeypatch.setattr(
        working, "solve_levels", lambda case, *_: asked.append(case.line_load) or _fail("no")
    )
    found = list(solve_samples(prepared(), processes=1, known={0, 2}))
    assert [s.number for s in found] == [1, 3]
    assert asked == [600.0]  # the other has too thin a plate


def _fail(text, kind=SolveError):
    raise kind(text)


@pytest.mark.parametrize(
    ("kind", "text", "refused"),
    [
        (SolveError, "<data>: no mesh held", False),
        (InputError, "<data>: [load]: no\n<data>: [plate]: no", True),
        (KeyError, "odd", False),
        (MemoryError, "", False),
    ],
)
def test_any_error_is_a_row_on_one_line(monkeypatch, kind, text, refused):
    monkeypatch.setattr(working, "solve_levels", lambda *_: _fail(text, kind))
    made = prepared()
    (one,) = solve_task(made.work, Task(0, made.plan.values(0), True), OrderedDict()).rows
    assert (one.solution, one.refused) == (None, refused)
    assert (
        one.error
        == {
            SolveError: "no mesh held",
            InputError: "[load]: no; [plate]: no",
            KeyError: "a fault of contactfe itself (KeyError: 'odd')",
            MemoryError: "out of memory",
        }[kind]
    )


def test_a_sample_that_is_no_case_has_a_row_for_each_section():
    made = prepared({"plate.thickness": ["-5 mm", "50 mm"]})
    sample = solve_task(made.work, Task(0, made.plan.values(0), True), OrderedDict())
    assert [r.section for r in sample.rows] == ["tube 2.5 [x]"]
    (row,) = sample.rows
    assert re.match(r'\[sweep\.over\] "plate\.thickness" = "-5 mm": .*zero', row.error)


def test_a_case_without_a_sweep_is_refused_and_so_is_no_process():
    bare = {key: value for key, value in data().items() if key != "sweep"}
    with pytest.raises(InputError, match=r"x.toml: has no \[sweep\]"):
        prepare(bare, "x.toml")
    with pytest.raises(InputError, match="at least 1"):
        list(solve_samples(prepared(), processes=0))
    with pytest.raises(InputError, match="did you mean thickness"):
        contactfe.sweep(data({"plate.thicknes": ["4 mm"]}))


@pytest.mark.parametrize("of", [str, Path])
def test_a_sweep_of_a_case_file_is_that_of_its_tables(monkeypatch, tmp_path, of):
    monkeypatch.setattr(working, "solve_levels", lambda *_: _fail("no"))
    path = tmp_path / "x.toml"
    path.write_text(
        "title = 'Invented'\nload.line_load = '600 N/mm'\npost.steel = 'ASTM A36'\n"
        "post.held_by = 'diametral'\nplate = {width = '300 mm', thickness = '50 mm', held_by ="
        " 'rigid base', steel = 'ASTM A36'}\n"
        "section = [{name = 'a', outside_diameter = '120 mm'}]\n"
        "sweep = {method = 'list', over = {'load.line_load' = ['500 N/mm', '700 N/mm']}}\n"
    )
    found = sweep(of(path), processes=1)
    assert found.case.source == str(path)
    assert [found.plan.numbers(s.number) for s in found.samples] == [(500,), (700,)]
    assert [s.rows[0].error for s in found.samples] == ["no", "no"]
    assert sweep(of(path), "told.toml", processes=1).case.source == "told.toml"
    with pytest.raises(InputError, match=r"none\.toml: .*no such file"):
        sweep(of(tmp_path / "none.toml"))


@pytest.mark.parametrize("of", [case_from_dict(data()), None, b"x.toml"])
def test_a_sweep_of_anything_else_is_refused_in_one_line(of):
    with pytest.raises(TypeError, match=f"^sweep takes the path .* not {type(of).__name__}$"):
        contactfe.sweep(of)


def test_a_key_of_one_section_has_no_value_in_the_others():
    solid = {"name": "solid", "outside_diameter": "120 mm"}
    tables = data({"section.wall": ["20 mm", "30 mm"], "plate.thickness": ["40 mm"]})
    tables |= {"section": [*tables["section"], solid]}
    of = prepare(tables).plan
    assert [of.numbers_of(1, name) for name in ("tube 2.5 [x]", "solid")] == [(30, 40), (None, 40)]
    by_name = {"method": "latin hypercube", "samples": 2}
    by_name["over"] = {"section.solid.outside_diameter": {"from": "90 mm", "to": "99 mm"}}
    named = prepare(tables | {"sweep": by_name}).plan
    (value,) = named.numbers_of(0, "solid")
    assert 90.0 <= value <= 99.0
    assert named.numbers_of(0, "tube 2.5 [x]") == (None,)


def test_unchecked_rows_take_the_largest_ratio_of_the_checked_ones():
    worse = UNCERTAINTIES | {"post_peak": 4.0}
    rows = [
        row(250.0, worse),
        row(200.0, UNCERTAINTIES),
        row(100.0, bore_hoop_at_side=50.0),
        failed(),
    ]
    found = uncertainty(result(rows))
    assert found.of(rows[1]) == UNCERTAINTIES  # its own
    # 2/200 and 4/250 of the peak; of the hoop, which is near nil there, 0.54/541 of the pressure.
    assert found.of(rows[2])["post_peak"] == pytest.approx(100.0 * 4.0 / 250.0)
    assert found.of(rows[2])["bore_hoop_at_side"] == pytest.approx(0.54)
    assert found.of(rows[3]) is None
    solid = row(100.0, bore_hoop_under_load=None, bore_hoop_at_side=None)
    assert "bore_hoop_at_side" not in found.of(solid)


def test_ratios_are_those_of_the_section_itself_and_of_sizes():
    """An approach may be negative; the uncertainty of one is not."""
    known = [
        row(200.0, UNCERTAINTIES, approach=-0.1),
        replace(row(200.0, UNCERTAINTIES), section="other"),
    ]
    worse = replace(known[1].solution, uncertainties=UNCERTAINTIES | {"post_peak": 8.0})
    found = uncertainty(result([known[0], replace(known[1], solution=worse), row(), row()]))
    assert found.of(row(100.0))["post_peak"] == pytest.approx(1.0)
    assert found.of(replace(row(100.0), section="other"))["post_peak"] == pytest.approx(4.0)
    assert found.of(replace(row(100.0), section="unknown")) is None
    assert found.of(row(approach=-0.2))["approach"] == pytest.approx(0.0006)


def test_a_row_passes_only_with_its_uncertainty():
    # Allowed are 420 and 690 MPa; the ratio is 1 %, and 0.5 % for the plate.
    rows = [row(200.0, UNCERTAINTIES), row(415.0), row(416.0), row(plate=687.0)]
    assert [one.passes for one in judged(result(rows))] == [True, True, False, False]
    none = list(judged(result([row(), failed()])))
    assert [one.passes for one in none] == [None, False]
    assert none[0].uncertainties is None


def test_collapse_beyond_its_formula_is_covered_by_the_solved_post():
    squeezed = data() | {"post": data()["post"] | {"held_by": "diametral"}}
    case = case_from_dict({key: of for key, of in squeezed.items() if key != "sweep"})
    for peak, verdict in ((400.0, "passes"), (430.0, "no verdict")):  # of 420 MPa
        found = {"post_peak": Figure(peak)}
        assert working._beside(case, case.sections[0], found)["other_verdict"] == verdict


def test_progress_is_told_from_the_first(monkeypatch):
    monkeypatch.setattr(working, "solve_levels", lambda *_: _fail("no"))
    told = []
    sweep(data(), processes=1, progress=lambda *of: told.append(of))
    assert told == [(k, 4) for k in range(5)]
    assert len(OVER) == 2


def test_a_value_that_one_section_cannot_have_keeps_the_others_from_nothing(monkeypatch):
    monkeypatch.setattr(working, "_solution", lambda *_: solution())
    tables = data({"section.wall": ["20 mm", "40 mm"]})
    tables["section"] = [
        {"name": "solid", "outside_diameter": "70 mm"},
        {"name": "thin", "outside_diameter": "70 mm", "wall": "9 mm"},
        {"name": "thick", "outside_diameter": "120 mm", "wall": "9 mm"},
    ]
    good, bad = solve_samples(prepare(tables, "x.toml"), processes=1)
    assert [row.error for row in good.rows] == ["", "", ""]
    assert [row.section for row in bad.rows] == ["solid", "thin", "thick"]
    thin = r'\[sweep\.over\] "section\.wall" = "40 mm", section 2 "thin": .*35 mm'
    assert [bool(row.error) for row in bad.rows] == [False, True, False]
    assert re.match(thin, bad.rows[1].error)
    assert [row.refused for row in bad.rows] == [False, True, False]
