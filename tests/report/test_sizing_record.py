"""The record of a sizing: trials of this case, in the state that it is in, and no others."""

import json
import math
from dataclasses import fields, replace

import pytest
from restated import restated
from sizings import case, check, pool

from contactfe.assess.bodies import Bodies
from contactfe.assess.sizing.candidates import from_stock, wall
from contactfe.assess.sizing.record import PLACES, Tried
from contactfe.assess.sizing.run import size
from contactfe.assess.sizing.trial import attempt
from contactfe.case import Cantilever, Case, Envelope
from contactfe.case.alignment import Alignment
from contactfe.errors import InputError
from contactfe.report import sizing_record as module
from contactfe.report.json_file import head
from contactfe.report.record import add
from contactfe.report.sizing import FOLDER, save_sizing, sizing_document
from contactfe.report.sizing_record import TRIALS, owner, trial_fingerprint, trial_record

CASE = case(stock=["bored bar"])


def kept(of, folder):
    with trial_record(of, folder) as record:
        return list(record)


def solved(stated, **how):
    """The result, and what was solved for it and not known before."""
    with pytest.MonkeyPatch.context() as patch:
        known = how.pop("known", ())
        asked = pool(patch, **how)
        new = []
        return size(stated, 1, None, known, new.append), asked, new


@pytest.fixture(scope="module")
def whole():
    return solved(CASE)


def test_what_was_kept_comes_back_and_nothing_of_it_is_solved_again(whole, tmp_path):
    result, asked, new = whole
    assert len(new) == len(asked)
    save_sizing(result, tmp_path / "out")
    save_sizing(result, tmp_path / "out")  # nothing is added twice
    back = kept(CASE, tmp_path / "out")
    assert repr(back) == repr(new)  # to the last digit, and of the same types
    again, asked, new = solved(CASE, known=back)
    assert (asked, new) == ([], [])
    assert sizing_document(again) == sizing_document(result)
    assert owner(tmp_path / "out" / TRIALS) == (None, CASE.title)


@pytest.mark.parametrize("share", [0.0, 0.3, 0.9])
def test_from_part_of_it_the_rest_is_solved(whole, share):
    result, asked, every = whole
    part = every[: round(share * len(every))]
    again, left, _ = solved(CASE, known=part)
    assert len(left) == len(asked) - len(part)
    assert sizing_document(again) == sizing_document(result)


def test_a_fine_trial_counts_only_beside_the_coarse_one_that_it_starts_from(whole, tmp_path):
    _, _, every = whole
    off = [
        replace(one, coarse=replace(one.coarse, plate=1.0)) for one in every if one.coarse
    ]  # fmt: skip
    _, _, new = solved(CASE, known=[*(one for one in every if one.coarse is None), *off])
    assert len(new) == len(off)
    with trial_record(CASE, tmp_path) as record:
        for one in (*off, *every):
            add(record, one)
    assert kept(CASE, tmp_path) == [*off, *every]


def test_a_margin_counts(tmp_path):
    """The loads may shrink to a margin of the post's, which only that trial has."""
    stated = case("380 MPa")
    result, _, every = solved(stated)
    with trial_record(stated, tmp_path) as record:
        for one in every:
            add(record, one)
    assert kept(stated, tmp_path) == every  # in their order, and none in the place of another
    assert list(result.tried) == every
    (at_margin,) = [one for one in every if one.margin != 1.0]
    again, _, new = solved(stated, known=every)
    assert new == []
    assert sizing_document(again) == sizing_document(result)
    again, _, new = solved(stated, known=[o for o in every if o is not at_margin])
    assert new == [at_margin]
    assert again.diameters[0].load_factor_to_pass == result.diameters[0].load_factor_to_pass


CHANGES = {
    "load": {"line_load": 601.0},
    "plate": {"plate": replace(CASE.plate, thickness=51.0)},
    "post": {"post": replace(CASE.post, held_by="diametral")},
    "margin": {"yield_margin": 1.1},
    "units": {"report_units": "US customary"},
    "envelope": {"envelope": Envelope((0.0, 9.0), (0.0,), (0.0,))},
    "cantilever": {"cantilever": Cantilever(450.0)},
    "alignment": {"alignment": Alignment(0.001)},
    "contact length": {"contact_length": 160.0},
}


@pytest.mark.parametrize("what", CHANGES)
def test_trials_of_a_changed_case_do_not_count_until_the_change_is_undone(whole, tmp_path, what):
    _, _, every = whole
    with trial_record(CASE, tmp_path) as record:
        add(record, every[0])
    assert kept(restated(CASE, **CHANGES[what]), tmp_path) == []
    assert kept(CASE, tmp_path) == every[:1]


OTHER = {"envelope": Envelope((1.0,), (0.0,), (0.0,)), "alignment": Alignment(0.001)}
OF_CASE = trial_fingerprint(CASE)


def test_all_that_a_case_states_counts_but_what_no_trial_follows_from():
    apart = {
        name
        for name in (field.name for field in fields(Case))
        if trial_fingerprint(replace(CASE, **{name: OTHER.get(name, "changed")})) == OF_CASE
    }
    assert apart == {"title", "source", "sections", "accept", "sizing", "sweep", "overload"}
    tables = (CASE.post, CASE.plate, CASE.load, CASE.contact, CASE.model, CASE.check, CASE.report)
    for table in (*tables, CASE.standards):
        name = type(table).__name__.lower()
        for field in fields(table):
            other = replace(CASE, **{name: replace(table, **{field.name: "changed"})})
            assert trial_fingerprint(other) != trial_fingerprint(CASE), (name, field.name)


def test_trials_with_figures_of_other_places_do_not_count(whole, tmp_path, monkeypatch):
    _, _, every = whole
    fewer = replace(every[0], trial=replace(every[0].trial, places=every[0].trial.places[:-1]))
    with monkeypatch.context() as patch:
        patch.setattr(module, "PLACES", PLACES[:-1])
        with trial_record(CASE, tmp_path) as record:
            add(record, fewer)
        assert kept(CASE, tmp_path) == [fewer]
    assert kept(CASE, tmp_path) == []
    assert (tmp_path / TRIALS).read_bytes().count(b"\n") == 2


def test_what_does_not_matter_to_a_trial_does_not_discard_it(whole, tmp_path):
    _, _, every = whole
    with trial_record(CASE, tmp_path) as record:
        add(record, every[0])
    wider = case(outside_diameter=["150 mm", "160 mm"], stock=["EN 10220"])
    assert kept(replace(wider, title="Other words", sections=()), tmp_path) == every[:1]


def test_a_trial_with_a_figure_that_json_has_not_is_left_out(whole, tmp_path):
    _, _, every = whole
    trial = replace(every[0].trial, hand=(check(0.0, reserve=math.inf),))
    with trial_record(CASE, tmp_path) as record:
        add(record, replace(every[0], trial=trial))
        add(record, every[1])
        assert list(record) == [every[1]]


def test_what_is_really_solved_comes_back_to_the_last_digit(tmp_path):
    stated = replace(CASE, envelope=Envelope((0.0, 40.0), (0.0,), (0.2,)))
    coarse = None
    tried = []
    for candidate in (
        wall(150.0, 0.25),
        wall(150.0, 0.25),
        from_stock(CASE, CASE.sizing, 150.0)[0],
    ):
        trial = attempt(stated, candidate, Bodies(stated), coarse)
        tried.append(Tried(trial, coarse, 1.0))
        coarse = trial if not tried[1:] else None
    assert [one.trial.fine for one in tried] == [False, True, False]
    with trial_record(stated, tmp_path) as record:
        for one in tried:
            add(record, one)
    assert repr(kept(stated, tmp_path)) == repr(tried)


def test_a_folder_of_a_version_that_kept_no_record_is_known_by_its_document(tmp_path):
    mine = {**head(CASE.title), "case": {"path": None}, "files": ["size.json"], "digests": {}}
    (tmp_path / "size.json").write_text(json.dumps(mine))
    FOLDER.check(CASE, tmp_path)
    theirs = tmp_path / TRIALS  # of somebody else, whose last line would be taken for a torn one
    theirs.write_text("trials of mine\nthe last")
    with pytest.raises(InputError, match=rf"no {TRIALS} of contactfe"):
        FOLDER.check(CASE, tmp_path)
