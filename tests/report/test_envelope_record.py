"""The record of an envelope: rows of this case, in the state that it is in, and no others."""

from dataclasses import replace

import pytest
from envelopes import DATA, case, failed, row
from restated import restated

from contactfe.case import Cantilever, Corner, case_from_dict
from contactfe.case.alignment import Alignment
from contactfe.report.envelope_record import ROWS, owner, row_fingerprint, row_record

CASE = case(offset=["0 mm", "9 mm"], angle=["0 deg", "3 deg"], sections=2)
ONE, TWO = (section.name for section in CASE.sections)
CONTACTS = CASE.envelope.contacts
MADE = [row(ONE, CONTACTS[1]), failed(TWO, CONTACTS[0]), row(TWO, CONTACTS[3])]


def kept(of, folder):
    with row_record(of, folder) as record:
        return list(record)


def fill(folder, rows=MADE, of=CASE):
    with row_record(of, folder) as record:
        for one in rows:
            record.add(one)


def test_rows_come_back_in_the_order_of_the_envelope(tmp_path):
    folder = tmp_path / "a" / "b"
    fill(folder)
    assert kept(CASE, folder) == MADE
    fill(folder, [row(ONE, CONTACTS[0])])
    assert kept(CASE, folder) == [row(ONE, CONTACTS[0]), *MADE]
    assert owner(folder / ROWS) == (None, CASE.title)
    assert owner(folder / "none") is None


def test_a_row_with_neither_values_nor_an_error_is_passed_over(tmp_path):
    """As one that keeps its figures in another form would be read."""
    fill(tmp_path, [replace(MADE[0], values={})])
    assert kept(CASE, tmp_path) == []


def changes():
    plate, post = CASE.plate, CASE.post
    return {
        "load": restated(CASE, line_load=601.0),
        "plate size": replace(CASE, plate=replace(plate, thickness=51.0)),
        "plate hold": replace(CASE, plate=replace(plate, held_by="clamped")),
        "plate steel": replace(
            CASE, plate=replace(plate, steel=replace(plate.steel, yield_strength=1.0))
        ),
        "post hold": replace(CASE, post=replace(post, held_by="diametral")),
        "post steel": replace(CASE, post=replace(post, steel=replace(post.steel, young=1.0))),
        "wall": replace(CASE, sections=(replace(CASE.sections[0], wall=24.0), *CASE.sections[1:])),
        "state": restated(CASE, state="plane stress"),
        "margin": restated(CASE, yield_margin=1.1),
        "accuracy": replace(CASE, accuracy=0.01),
        "units": restated(CASE, report_units="US customary"),
        "contact length": restated(CASE, contact_length=160.0),
        "corner": replace(CASE, corner=Corner(600.0)),
        "alignment": replace(CASE, alignment=Alignment(0.001)),
    }


@pytest.mark.parametrize("what", changes())
def test_rows_of_a_changed_case_do_not_count_until_the_change_is_undone(tmp_path, what):
    changed = changes()[what]
    fill(tmp_path, MADE[:1])
    assert kept(changed, tmp_path) == []
    fill(tmp_path, [row(ONE, CONTACTS[2])], changed)
    assert kept(changed, tmp_path) == [row(ONE, CONTACTS[2])]
    assert kept(CASE, tmp_path) == [MADE[0]]


def test_the_length_of_a_post_that_may_bend_counts_and_its_weld_does_not():
    of = replace(CASE, alignment=Alignment(0.001), cantilever=Cantilever(450.0))
    (section, *_) = of.sections
    before = row_fingerprint(of, section)
    assert row_fingerprint(replace(of, cantilever=Cantilever(451.0)), section) != before
    assert row_fingerprint(replace(of, cantilever=Cantilever(450.0, 6.0)), section) == before


@pytest.mark.parametrize("table", ["post", "plate"])
def test_a_grade_counts_by_what_it_stands_for(table):
    def of(strength):
        steel = {"young": "210 GPa", "poisson": 0.3, "source": "made up"}
        keys = {key: DATA[table][key] for key in DATA[table] if key not in {*steel, "yield"}}
        return case_from_dict(
            DATA
            | {"envelope": {"offset": ["0 mm"]}, table: {**keys, "steel": "bar"}}
            | {"grade": {"bar": {**steel, "yield": strength, "ultimate": "900 MPa"}}}
        )

    one, other = of("420 MPa"), of("430 MPa")
    prints = [row_fingerprint(case, case.sections[0]) for case in (one, other, of("420 MPa"))]
    assert prints[0] != prints[1]
    assert prints[0] == prints[2]


def test_what_does_not_matter_to_a_row_does_not_discard_it(tmp_path):
    fill(tmp_path)
    more = case(offset=["-9 mm", "0 mm", "9 mm"], angle=["0 deg", "3 deg"], sections=3)
    assert kept(replace(more, title="Other words"), tmp_path) == MADE
    only = replace(CASE, sections=CASE.sections[:1])
    assert kept(only, tmp_path) == MADE[:1]
    assert kept(case(offset=["9 mm"], angle=["3 deg"], sections=2), tmp_path) == MADE[2:]


def test_an_own_mesh_counts_by_its_content_not_by_its_place(tmp_path):
    one, other, third = (tmp_path / name for name in ("a.msh", "b.msh", "c.msh"))
    one.write_text("x")
    other.write_text("x")
    third.write_text("y")
    section = replace(CASE.sections[0], wall=None)
    prints = [row_fingerprint(CASE, replace(section, mesh=p)) for p in (one, other, third)]
    assert prints[0] == prints[1] != prints[2]
    assert row_fingerprint(CASE, section) not in prints
