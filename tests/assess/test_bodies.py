"""What bodies are kept under: nothing they are made for may be left out of it."""

from collections import OrderedDict
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from bodies import case
from restated import restated
from sweeps import data

from contactfe.assess import bodies as module
from contactfe.assess.bodies import Bodies, stepped
from contactfe.case import Infill, case_from_dict
from contactfe.case.patching import patched
from contactfe.errors import InputError
from contactfe.section.grading import Patch

COARSE = 5.0
"""Element size of these bodies over the standard one: only which they are is of interest."""

CASE = case([(150.0, 25.0), (150.0, 30.0)], line_load=600.0)
CORNER = case([(150.0, 25.0), (150.0, 30.0)], line_load=600.0, corner=300.0)
PLATE = {"offset": 0.0, "patch": Patch(0.0, 1.0), "scale": COARSE, "tangential": False}
MEMBER = {
    "section": CASE.sections[0], "patches": (Patch(0.0, 1.0),), "scale": COARSE, "focus": (),
    "tangential": False,
}  # fmt: skip
TWO = {"patches": (Patch(0.0, 1.0), Patch(0.0, 1.0))}


def same(one, other):
    """Whether two bodies are alike: mesh and compliance."""
    return (
        np.array_equal(one.mesh.doflocs, other.mesh.doflocs)
        and one.compliance.shape == other.compliance.shape
        and np.allclose(one.compliance, other.compliance, rtol=1e-9)
    )


def test_what_is_let_go_is_of_that_section_alone():
    one, other = CASE.sections
    keys = [("member", one, 1.0), ("member", other, 1.0), ("drawn", one), ("plate", 0.0)]
    kept = OrderedDict(((None, key), key) for key in keys)
    Bodies(CASE, kept).forget(one)
    assert list(kept.values()) == [keys[1], keys[3]]


def test_what_is_kept_is_of_those_sections_alone_beside_the_plates():
    one, other = CASE.sections
    kinds = "member", "prism", "bar", "drawn"
    keys = [(kind, of, 1.0)[: 2 if kind == "drawn" else 3] for kind in kinds for of in (one, other)]
    keys.append(("plate", 0.0))
    for sections in ((one,), (other,), (one, other), ()):
        kept = OrderedDict(((None, key), key) for key in keys)
        Bodies(CASE, kept).keep(iter(sections))
        assert list(kept.values()) == [key for key in keys[:-1] if key[1] in sections] + keys[-1:]


@pytest.mark.parametrize(
    "change",
    [
        {"offset": 40.0},
        {"patch": Patch(0.0, 1.5)},
        {"patch": Patch(1.0, 1.0)},
        {"patch": Patch(0.0, 1.0, friction=True)},
        {"patch": Patch(0.0, 1.0, friction=True, borders=(0.4,))},
        {"scale": 3.0},
        {"tangential": True},
        {"symmetric": True},
    ],
    ids=str,
)
def test_a_plate_is_kept_under_all_it_is_made_for(change):
    kept = Bodies(CASE)
    first = kept.plate(**PLATE)
    other = kept.plate(**PLATE | change)
    assert not same(first, other)
    assert same(other, Bodies(CASE).plate(**PLATE | change))
    assert kept.plate(**PLATE) is first


@pytest.mark.parametrize(
    ("base", "change"),
    [
        ({}, {"section": CASE.sections[1]}),
        ({}, {"patches": (Patch(0.0, 1.5),)}),
        ({}, {"patches": (Patch(1.0, 1.0),)}),
        ({}, {"patches": (Patch(0.0, 1.0, friction=True, borders=(0.4,)),)}),
        ({}, TWO),
        (TWO, {"patches": (Patch(0.0, 1.0), Patch(0.0, 1.5))}),
        ({}, {"scale": 3.0}),
        ({}, {"focus": ((0.0, 25.0),)}),
        ({}, {"tangential": True}),
        ({}, {"symmetric": True}),
    ],
    ids=str,
)
def test_a_member_is_kept_under_all_it_is_made_for(base, change):
    kept = OrderedDict()

    def member(kept, of):
        return Bodies(CORNER if len(of["patches"]) > 1 else CASE, kept).member(**of)

    first = member(kept, MEMBER | base)
    other = member(kept, MEMBER | base | change)
    assert not same(first[1], other[1])
    assert same(other[1], member(OrderedDict(), MEMBER | base | change)[1])
    assert member(kept, MEMBER | base) is first


def test_an_infill_is_another_section():
    kept, filled = Bodies(CASE), replace(CASE.sections[0], infill=Infill(1e3, 0.2, 2e3, name="a"))
    stiffer = replace(filled, infill=Infill(30e3, 0.2, 2e3, name="a"))
    found = [kept.member(**MEMBER | {"section": s})[1] for s in (filled, stiffer)]
    assert not same(*found)
    assert [part.material.young for part in found[1].parts] == [200e3, 30e3]


def test_bodies_are_shared_only_where_all_they_are_made_of_is_the_same():
    def made_of(path, value, kind):
        case = case_from_dict(patched(data(), [] if path is None else [(path, value)]))
        return Bodies(case)._made_of((kind, case.sections[0]))

    kinds = ("plate", "member", "prism", "bar", "drawn")
    before = {kind: made_of(None, None, kind) for kind in kinds}
    for path, value, changes in [
        (("post", "yield"), "500 MPa", ""), (("plate", "yield"), "500 MPa", ""),
        (("load", "line_load"), "500 N/mm", ""), (("post", "poisson"), 0.2, "member prism bar"),
        (("post", "young"), "200 GPa", "member prism bar"),
        (("post", "held_by"), "diametral", "member prism bar drawn"),
        (("plate", "thickness"), "60 mm", "plate"), (("plate", "young"), "200 GPa", "plate"),
        (("plate", "held_by"), "simply supported", "plate"),
        (("model", "state"), "plane stress", "plate member prism bar"),
        (("corner",), {"line_load": "300 N/mm"}, "member prism bar drawn"),
    ]:  # fmt: skip
        for kind in kinds:
            assert (made_of(path, value, kind) != before[kind]) == (kind in changes.split()), (
                path,
                kind,
            )
    # Of what is not known to be either, nothing is shared between cases that differ at all.
    assert made_of(("load", "line_load"), "500 N/mm", "new") != made_of(None, None, "new")


def test_bodies_serve_another_case_where_all_they_are_made_of_is_the_same():
    kept = OrderedDict()
    first = Bodies(CASE, kept).member(**MEMBER)
    assert Bodies(restated(CASE, line_load=900.0), kept).member(**MEMBER) is first
    post = replace(CASE.post, steel=replace(CASE.post.steel, young=190e3))
    assert not same(Bodies(replace(CASE, post=post), kept).member(**MEMBER)[1], first[1])
    assert Bodies(CASE, kept).member(**MEMBER) is first


def test_what_was_used_last_is_kept(monkeypatch):
    monkeypatch.setattr(module, "MOST_KEPT", 2)
    monkeypatch.setattr(module, "_unknowns", lambda _: 1)
    made = []
    kept = Bodies(CASE)

    def use(name):
        return kept._remembered(name, lambda: made.append(name) or name)

    for name in "abacab":  # c takes the place of b, which was used before a was again
        assert use(name) == name
    assert made == ["a", "b", "c", "b"]


def test_like_patches_share_a_mesh_and_keep_their_borders():
    # Half-widths go by steps of 2 %, centres by a tenth of them, borders by half of that.
    one = stepped(Patch(0.31, 1.0, friction=True, borders=(-0.52, 0.26)))
    assert one == stepped(Patch(0.29, 1.005, friction=True, borders=(-0.48, 0.24)))
    assert one.half_width == pytest.approx(1.0)
    assert one.centre == pytest.approx(0.3)
    assert one.borders == pytest.approx((-0.5, 0.25))
    assert one.friction
    assert stepped(Patch(0.3, 1.03)) != stepped(Patch(0.3, 1.0))


@pytest.mark.parametrize(("held_by", "half"), [(None, True), ("rigid core", False)])
def test_a_hold_of_its_own_makes_a_whole_section_of_it(held_by, half):
    # Of a section held by "diametral" the lower half is modelled; a core needs the whole bore.
    c = case([(150.0, 25.0, {"held_by": held_by} if held_by else {})], held_by="diametral")
    assert Bodies(c).outline(c.sections[0]).lower_half is half
    _, body = Bodies(c).member(**MEMBER | {"section": c.sections[0]})
    assert (body.mesh.doflocs[1].max() > 100.0) is not half
    assert body.hold.bonded == (() if half else ("bore",))


@pytest.mark.parametrize(("draws", "states"), [(True, False), (False, True)])
def test_a_drawing_has_an_infill_where_the_case_states_one(monkeypatch, draws, states):
    sets = {"member": [], "contact": []} | ({"infill": []} if draws else {})
    drawing = SimpleNamespace(cell_sets=sets)
    monkeypatch.setattr(module, "read_section", lambda *_: drawing)
    infill = Infill(30e3, 0.2, 2.3e3, name="grout")
    drawn = replace(CASE.sections[0], wall=None, mesh=Path("a.msh"))
    section = replace(drawn, infill=infill if states else None)
    with pytest.raises(InputError, match=r"a\.msh.* has .*group 'infill'.* states"):
        Bodies(CASE).drawn(section)
    agrees = replace(drawn, infill=infill if draws else None)
    assert Bodies(CASE).drawn(agrees) is drawing
