"""The record of strikes beyond first yield: sections of this case, as it is, and no others."""

from dataclasses import replace

import pytest
from overloads import SOLID, TUBE, solved
from restated import restated

from contactfe.case import Cantilever
from contactfe.case.overload import Overload
from contactfe.report.overload_record import SECTIONS, overload_record, owner
from contactfe.report.record import MOST_BYTES


def kept(of, folder):
    with overload_record(of, folder) as record:
        return list(record)


@pytest.fixture
def folder(tmp_path):
    of = solved()
    with overload_record(of.case, tmp_path) as record:
        for one in reversed(of.sections):
            record.add(one)
    return tmp_path


def test_sections_come_back_as_they_were_in_the_order_of_the_case(folder):
    of = solved()
    assert kept(of.case, folder) == list(of.sections)
    assert owner(folder / SECTIONS) == (None, of.case.title)
    assert owner(folder / "none") is None
    lines = (folder / SECTIONS).read_bytes().splitlines()
    assert max(map(len, lines)) < MOST_BYTES / 4  # six strikes and larger zones have room


def changes():
    case = solved().case
    plate, post = case.plate, case.post
    return {
        "factors": replace(case, overload=Overload((1.2,))),
        "load": restated(case, line_load=1201.0),
        "hardening": replace(case, post=replace(post, steel=replace(post.steel, hardening=2000.0))),
        "kind of hardening": replace(
            case, plate=replace(plate, steel=replace(plate.steel, hardening_kind="kinematic"))
        ),
        "plate size": replace(case, plate=replace(plate, thickness=51.0)),
        "post along its axis": replace(case, cantilever=Cantilever(450.0)),
        "units": restated(case, report_units="US customary"),
    }


@pytest.mark.parametrize("what", changes())
def test_those_of_a_changed_case_do_not_count_until_the_change_is_undone(folder, what):
    assert kept(changes()[what], folder) == []
    assert len(kept(solved().case, folder)) == 2


def test_what_does_not_matter_to_a_section_does_not_discard_it(folder):
    case = solved().case
    assert len(kept(replace(case, title="Other words"), folder)) == 2
    only = [of.section for of in kept(replace(case, sections=case.sections[1:]), folder)]
    assert only == [TUBE]
    thinner = replace(case.sections[1], wall=19.0)
    other = replace(case, sections=(case.sections[0], thinner))
    assert [of.section for of in kept(other, folder)] == [SOLID]
