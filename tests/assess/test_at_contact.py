"""One contact of an envelope solved: its row, whoever solves it."""

from collections import OrderedDict
from dataclasses import replace

import pytest
from envelopes import case

from contactfe.assess import envelope as module
from contactfe.assess.accuracy import solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.envelope import InFull, contacts_of
from contactfe.errors import InputError, SolveError
from contactfe.study.crew import Crew

CASE = case(
    offset=["-60 mm", "0 mm", "100 mm"], angle=["0 deg", "8 deg"], friction=[0.3], sections=1
)
(TUBE,) = CASE.sections
POINTS = contacts_of(CASE)


@pytest.fixture(scope="module")
def alone():
    with Crew(CASE) as crew:
        return crew.solve(POINTS)


def test_rows_come_in_order_and_are_those_of_the_section_alone(alone):
    assert [row.contact for row in alone] == list(CASE.envelope.contacts)
    at = CASE.at(POINTS[1].contact)
    levels = solve_levels(at, TUBE, Bodies(at))
    post, plate = alone[1].post, alone[1].plate
    assert replace(post.peak_von_mises, place=None) == levels.peaks(0)[-1]
    assert replace(plate.peak_von_mises, place=None) == levels.peaks(1)[-1]
    assert post.utilisation.value == post.peak_von_mises.value / 420.0
    assert plate.utilisation.value == plate.peak_von_mises.value / 690.0
    assert plate.utilisation.uncertainty == plate.peak_von_mises.uncertainty / 690.0


def test_neither_order_nor_what_is_kept_changes_a_row(alone, monkeypatch):
    # Bodies are keyed by what they are meshed for, so another history gives the same ones.
    monkeypatch.setattr("contactfe.assess.bodies.MOST_KEPT", 30_000)
    with Crew(CASE) as crew:
        assert crew.solve(POINTS[3::-1])[::-1] == alone[:4]


def test_two_processes_give_the_same_rows_to_the_last_bit(alone):
    with Crew(CASE, 2, apart=True) as crew:
        assert crew.solve(POINTS[:4]) == alone[:4]
        full = crew.solve([InFull(0, POINTS[1]), InFull(1, POINTS[2])])
    assert [c.case.contact for c in full] == [point.contact for point in POINTS[1:3]]
    for comparison, row in zip(full, alone[1:3], strict=True):
        (section,) = comparison.sections
        assert section.member.peak_von_mises.value == row.post.peak_von_mises.value
        assert section.plate.utilisation.value == row.plate.utilisation.value


def test_the_reactions_of_a_row_carry_its_load(alone):
    # Edges free to turn: at the middle each carries half the load, at an offset the nearer one
    # (1/2 + offset/width) of it, and what friction turns of it by the thickness.
    for row in alone:
        force, offset = row.values["largest_reaction"], row.contact.offset
        along, across = row.values["reaction_along"], row.values["reaction_across"]
        T = row.values["tangential_load"].value
        assert force.at.zone == ("right edge" if offset > 0 else "left edge") or offset == 0.0
        # Friction acts half a thickness above the middle of the edges; 0.2 for a patch 0.1 mm off.
        share = 600.0 * (0.5 + abs(offset) / 300.0)
        assert across.value == pytest.approx(share, abs=abs(T) * 25.0 / 300.0 + 0.2)
        assert force.value == pytest.approx((along.value**2 + across.value**2) ** 0.5)


def test_tangential_load_is_exact_only_where_friction_is_used_up(alone):
    for row in alone:
        T, motion = row.values["tangential_load"], row.motion
        if motion == "full sliding":
            # To the balance of forces of the solver, 1e-9 of the load.
            assert abs(T.value) == pytest.approx(0.3 * 600.0, abs=1e-6)
            assert T.uncertainty == 0.0
        else:
            assert T.uncertainty >= 0.003 * 0.3 * 600.0 * 0.999
    assert {row.motion for row in alone} >= {"full sliding"}


@pytest.mark.parametrize(("kind", "refused"), [(InputError, True), (SolveError, False)])
def test_an_error_becomes_a_row(monkeypatch, kind, refused):
    def fails(case, *_):
        raise kind(f"{case.source}: too much")

    monkeypatch.setattr(module, "solve_levels", fails)
    row = POINTS[0].solve(CASE, OrderedDict())
    assert (row.values, row.error, row.refused) == ({}, "too much", refused)
    assert not row.solved
    with pytest.raises(KeyError):
        _ = row.utilisation


def test_other_faults_are_not_hidden(monkeypatch):
    def fails(*_):
        raise KeyError("a fault of the program")

    monkeypatch.setattr(module, "solve_levels", fails)
    with pytest.raises(KeyError):
        POINTS[0].solve(CASE, OrderedDict())


def test_a_row_that_no_process_survives_ends_the_envelope():
    for point in (POINTS[0], InFull(0, POINTS[0])):
        with pytest.raises(SolveError, match=r"tube/120 \[x\] 25.*it ended"):
            point.unsolved(CASE, "it ended")


def test_contacts_at_one_place_of_the_plate_are_a_group():
    assert len({point.group for point in POINTS}) == 3
    assert [point.number for point in POINTS] == list(range(6))


def test_the_parts_of_a_reaction_are_no_surer_than_the_whole(alone):
    # One of them may be nothing, or the same on both meshes by statics.
    for row in alone:
        force = row.values["largest_reaction"]
        for key in ("largest_reaction", "reaction_along", "reaction_across"):
            assert row.values[key].uncertainty >= 0.003 * force.value * (1.0 - 1e-12)
