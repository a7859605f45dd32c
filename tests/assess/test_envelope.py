from dataclasses import replace
from types import SimpleNamespace

import pytest
from envelopes import case, failed, row
from hypothesis import given
from hypothesis import strategies as st
from restated import restated

import contactfe.assess.envelope as module
from contactfe.assess.by_hand.case import section_by_hand
from contactfe.assess.checks import Bounds, Check
from contactfe.assess.envelope import InFull, envelope, governing
from contactfe.assess.value import Value
from contactfe.case import Contact
from contactfe.case.alignment import Spread
from contactfe.errors import InputError, SolveError
from contactfe.study.crew import Crew

CASE = case(offset=["-50 mm", "0 mm", "50 mm"], friction=[0.0, 0.2], sections=2)
ONE, TWO = (section.name for section in CASE.sections)
CONTACTS = CASE.envelope.contacts


class Instead(Crew):
    """A crew that makes rows up: 0.5, 0.6, ... of yield in the post, and half that in the plate."""

    asked: list = []  # noqa: RUF012
    make = staticmethod(lambda s, c: row(s.name, c, 0.5 + 0.1 * CONTACTS.index(c)))
    full = staticmethod(lambda at: SimpleNamespace(at=at.contact, sections=()))

    def __init__(self, case, processes, progress):
        super().__init__(case, 1, progress)

    def each(self, points, left):
        for point in reversed(points):
            if isinstance(point, InFull):
                yield point, self.full(point.at)
            else:
                self.asked.append((point.section, point.contact))
                yield point, self.make(point.section, point.contact)


@pytest.fixture
def crew(monkeypatch):
    monkeypatch.setattr(module, "Crew", Instead)
    monkeypatch.setattr(Instead, "asked", [])
    return Instead


def test_rows_are_in_the_order_of_the_case_whatever_the_order_they_come_in(crew):
    result = envelope(CASE)
    assert [s.section.name for s in result.sections] == [ONE, TWO]
    for section in result.sections:
        assert tuple(r.contact for r in section.rows) == CONTACTS
        assert section.governing.contact == CONTACTS[-1]
        assert section.assessed.at == CONTACTS[-1]  # assessed in full where it governs
        assert section.ties == ()
    assert result.section(TWO).section.name == TWO
    with pytest.raises(KeyError):
        result.section("none")


def test_progress_and_keeping(crew):
    told, kept = [], []
    result = envelope(CASE, progress=lambda *n: told.append(n), keep=kept.append)
    assert told == [(k, 12) for k in range(13)]
    assert set(kept) == set(result.rows)
    assert len(kept) == 12


def test_known_rows_are_not_solved_again_and_others_not_mixed_in(crew):
    known = [row(ONE, CONTACTS[0], 0.97), row(ONE, Contact(7.0), 3.0), row("gone", CONTACTS[1])]
    told, kept = [], []
    result = envelope(CASE, None, lambda *n: told.append(n), known, kept.append)
    assert told[0] == (1, 12)
    assert len(kept) == len(crew.asked) == 11
    assert (CASE.sections[0], CONTACTS[0]) not in crew.asked
    assert result.sections[0].rows[0] is known[0]
    assert len(result.rows) == 12


def test_ranking_and_verdict_count_the_worst_contact(crew, monkeypatch):
    # The second section is better at most contacts and worse at one.
    def make(section, contact):
        use = 0.6 if section.name == ONE else 1.2 if contact == CONTACTS[2] else 0.3
        return row(section.name, contact, use, 0.2)

    monkeypatch.setattr(Instead, "make", staticmethod(make))
    result = envelope(CASE)
    assert result.by_utilisation == (ONE, TWO)
    assert result.by_peak == (ONE, TWO)
    assert [s.satisfied for s in result.sections] == [True, False]
    assert not result.satisfied


def test_the_plate_can_govern_where_the_post_peaks_less(crew, monkeypatch):
    def make(section, contact):
        return row(section.name, contact, *((0.5, 0.9) if section.name == ONE else (0.6, 0.1)))

    monkeypatch.setattr(Instead, "make", staticmethod(make))
    result = envelope(CASE)
    assert result.sections[0].governing.governs == "plate"
    assert result.sections[0].governing.utilisation.value == 0.9
    assert result.by_utilisation == (TWO, ONE)
    assert result.by_peak == (ONE, TWO)


def test_a_contact_that_fails_is_a_row_and_not_the_end(crew, monkeypatch):
    def make(section, contact):
        if contact == CONTACTS[3] or section.name == TWO:
            return failed(section.name, contact)
        return row(section.name, contact)

    monkeypatch.setattr(Instead, "make", staticmethod(make))
    result = envelope(CASE)
    one, two = result.sections
    assert one.rows[3].error == "it does not fit"
    assert len(one.solved) == 5
    assert not one.satisfied
    assert (two.governing, two.highest_post_peak, two.assessed, two.ties) == (None, None, None, ())
    unsolved = {c.section: c for c in result.checks if c.key == "contacts"}
    assert (unsolved[ONE].contact, unsolved[ONE].missing) == (3, "it does not fit")
    assert unsolved.keys() == {ONE, TWO}
    assert not result.satisfied
    assert result.by_utilisation == result.by_peak == (ONE,)


def test_checks_by_hand_are_those_of_every_contact_and_the_worst_of_each_counts(crew):
    """The clause of bending with friction has no check at a contact without it."""
    result = envelope(CASE)
    for section in CASE.sections:
        own = {c.key: c for c in result.checks if c.section == section.name}
        every = [
            (clauses.check.ratio, number)
            for number, contact in enumerate(CONTACTS)
            for clauses in section_by_hand(CASE.at(contact), section).clauses
            if clauses.key == "aisc_360.h1_plate"
        ]
        assert len(every) == 3
        one = own["aisc_360.h1_plate"]
        assert (pytest.approx(one.ratio), one.contact) == max(every)
        assert {"stress", "clauses"} == {c.kind for c in own.values()}


def test_clauses_are_of_the_load_as_it_was_shared_along_the_post():
    made = row(ONE, CONTACTS[0])
    uneven = replace(made, spread=Spread(2.0, 0.0, 450.0))
    ratios = [
        {c.key: c.ratio for c in module._row_checks(CASE, CASE.sections[0], of, 0)}
        for of in (made, uneven)
    ]
    key = "aashto_lrfd.14_7_1_4_cylinder"
    assert ratios[1][key] == pytest.approx(2.0 * ratios[0][key])


@pytest.mark.parametrize(("post", "applies"), [(0.9, False), (1.1, True)])
def test_collapse_beyond_its_formula_is_covered_by_the_post_of_the_same_contact(post, applies):
    of = case(offset=["0 mm"])
    of = replace(of, post=replace(of.post, held_by="diametral"))
    (section,), (contact,) = of.sections, of.envelope.contacts
    found = module._row_checks(of, section, row(section.name, contact, post=post), 0)
    (one,) = (c for c in found if c.limit_state == "collapse")
    assert one.exceeded
    assert one.applies is applies


def test_the_load_and_what_is_open_count_in_the_verdict(crew, monkeypatch):
    monkeypatch.setattr(Instead, "make", staticmethod(lambda s, c: row(s.name, c)))
    strong = replace(CASE, standards=replace(CASE.standards, families=()))
    result = envelope(strong)
    assert [item.key for item in result.open_items] == ["motion", "sharing", "post", "tolerance"]
    assert (result.satisfied, result.settled) == (True, False)
    why = tuple((item.key, "by the engineer") for item in result.open_items)
    assert envelope(restated(strong, accepted=why)).settled
    # A load that falls short of the motion fails, and leaves nothing of it open.
    short = Check("load", "load", "load", "load", "", "stop", 4.0, 1.0, "force", "made up")
    monkeypatch.setattr(module, "motion_checks", lambda _: (short,))
    result = envelope(restated(strong, accepted=why))
    assert short in result.checks
    assert (result.satisfied, result.settled) == (False, False)
    assert "motion" not in {item.key for item in result.open_items}


def test_relief_that_decides_in_a_section_at_its_worst_is_open(crew, monkeypatch):
    bounds = Bounds(TWO, 300.0, 500.0, None, "length not stated")
    monkeypatch.setattr(
        Instead, "full", staticmethod(lambda at: SimpleNamespace(sections=(at.section.name,)))
    )
    asked = []

    def relieved(of, results):
        asked.extend(results)
        return (bounds,)

    monkeypatch.setattr(module, "reliefs", relieved)
    item = next(item for item in envelope(CASE).open_items if item.key == "relief")
    assert asked == [ONE, TWO]
    assert (item.sections, item.bounds) == ((TWO,), (bounds,))


@pytest.mark.parametrize(("refused", "kind"), [(True, InputError), (False, SolveError)])
def test_nothing_solved_is_an_error(crew, monkeypatch, refused, kind):
    monkeypatch.setattr(
        Instead, "make", staticmethod(lambda s, c: failed(s.name, c, refused or s.name == ONE))
    )
    with pytest.raises(kind, match=r"none of 12 contacts .*it does not fit"):
        envelope(CASE)


def test_a_case_without_an_envelope_is_told_what_to_add():
    with pytest.raises(InputError, match=r'^<data>: .*\[envelope\].*offset = \["-50 mm"'):
        envelope(case())


@pytest.mark.parametrize("processes", [0, -1])
def test_processes_must_be_one_at_least(processes):
    with pytest.raises(InputError, match=f"processes = {processes} must be at least 1"):
        envelope(CASE, processes)


uses = st.lists(
    st.tuples(st.floats(0.1, 2.0), st.floats(0.1, 2.0), st.floats(0.0, 0.1)), max_size=8
)


@given(uses=uses)
def test_no_row_is_surely_worse_than_the_governing_one_and_ties_overlap_it(uses):
    rows = [row(ONE, Contact(float(k)), *use) for k, use in enumerate(uses)]
    worst, ties = governing([*rows, failed(ONE, Contact(-1.0))])
    if not rows:
        assert (worst, ties) == (None, ())
        return
    low = worst.utilisation.value - worst.utilisation.uncertainty
    for other in rows:
        upper = max(
            body.utilisation.value + body.utilisation.uncertainty
            for body in (other.post, other.plate)
        )
        assert upper <= worst.most
        assert (other in ties) == (other is not worst and upper >= low)


def test_uncertainty_counts_in_which_body_governs():
    plain = row(ONE, Contact(), 0.50, 0.49)
    uncertain = replace(plain, values={**plain.values, "plate_utilisation": Value(0.49, 0.03)})
    assert (plain.governs, plain.most) == ("post", pytest.approx(0.51))
    assert (uncertain.governs, uncertain.most) == ("plate", pytest.approx(0.52))
    assert uncertain.body == uncertain.plate != uncertain.post
