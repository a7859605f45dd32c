"""A body that its right half stands for answers symmetric loads as the whole does."""

import numpy as np
import pytest
from bodies import STEEL
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.errors import SolveError
from contactfe.section.body import to_skfem
from contactfe.section.grading import Patch, member_grading, plate_grading
from contactfe.section.mesher import mesh_member, mesh_plate
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve import holds
from contactfe.solve.condense import condense, imbalance, out_of_balance, respond
from contactfe.solve.elastic import Elastic
from contactfe.solve.fold import fold_of
from contactfe.solve.joint import join, member_fields, plate_field, solve_joint

WIDE = Patch(0.0, 3.0, True)
SOFT = Elastic(30e3, 0.2)
POSTS = {
    "beam shear": (MemberOutline(75.0, 50.0), {"steel": STEEL}),
    "filled": (MemberOutline(75.0, 50.0, False, True), {"steel": STEEL, "infill": SOFT}),
    "solid": (MemberOutline(75.0, 0.0), {"steel": STEEL}),
    "diametral": (MemberOutline(75.0, 50.0, True), {"steel": STEEL}),
    "rigid core": (MemberOutline(75.0, 50.0), {"steel": STEEL}),
}  # fmt: skip
PLATES = {
    "rigid base": holds.rigid_base,
    "clamped": lambda mesh: holds.edges(mesh, "clamped"),
    "simply supported": lambda mesh: holds.edges(mesh, "simply supported"),
    "elastic supports": lambda mesh: holds.edges(mesh, "elastic supports", 800.0),
}  # fmt: skip


def post(name, symmetric):
    outline, material = POSTS[name]
    mesh = to_skfem(mesh_member(outline, member_grading(outline, WIDE, 2.0)))
    held_by = "beam shear" if name in {"filled", "solid"} else name
    hold = holds.POST[held_by](mesh, material, "bore", symmetric)
    return condense(mesh, material, hold, tangential=True, symmetric=symmetric)


def plate(name, symmetric):
    outline = PlateOutline(300.0, 60.0)
    mesh = to_skfem(mesh_plate(outline, plate_grading(outline, WIDE, 2.0)))
    return condense(mesh, STEEL, PLATES[name](mesh), tangential=True, symmetric=symmetric)


def close(one, other, to=1e-7):
    assert np.abs(one - other).max() <= to * np.abs(one).max()


@pytest.mark.parametrize("friction", [0.0, 0.3])
@pytest.mark.parametrize(
    ("of_post", "of_plate"),
    [*((name, "rigid base") for name in POSTS), *(("beam shear", name) for name in PLATES)],
)
def test_a_folded_joint_is_the_whole_one(of_post, of_plate, friction):
    joints = [
        join(post(of_post, half), plate(of_plate, half), radius=75.0) for half in (False, True)
    ]
    assert joints[1].member.stiffness.nnz < 0.52 * joints[0].member.stiffness.nnz
    whole, half = (solve_joint(joint, 9000.0, friction=friction) for joint in joints)
    assert half.approach == pytest.approx(whole.approach, rel=1e-7)
    for name in ("pressure", "plate_displacement"):
        close(getattr(whole.patch, name), getattr(half.patch, name))
    # The tangential traction is small, and its slip smaller.
    close(whole.patch.pressure, whole.patch.pressure + whole.patch.traction - half.patch.traction)
    for one, other in zip(whole.patch.reactions, half.patch.reactions, strict=True):
        assert one.place == other.place
        found = np.array([[r.along, r.across, r.moment / 60.0, r.pull] for r in (one, other)])
        assert np.abs(found[0] - found[1]).max() < 1e-5 * 9000.0
    for name, field in member_fields(joints[0], whole).items():
        close(field.stress, member_fields(joints[1], half)[name].stress, 1e-6)
    close(*(plate_field(j, s).stress for j, s in zip(joints, (whole, half), strict=True)), 1e-6)


@settings(max_examples=10, deadline=None)
@given(st.lists(st.floats(-1.0, 1.0), min_size=4, max_size=4))
def test_what_is_not_symmetric_in_a_load_does_not_count(forces):
    body = _BODY
    load = np.zeros(body.unknowns)
    near = body.contact[len(body.contact) // 4]
    load[[2 * near, 2 * near + 1, 2 * body.contact[-1], 2 * body.contact[0] + 1]] = forces
    both = (load + body.fold.of_each(load)) / 2.0
    u, r = respond(body, load)
    assert u == pytest.approx(respond(body, both)[0], abs=1e-12)
    assert u == pytest.approx(body.fold.of_each(u), abs=1e-12)
    if np.abs(both).sum() > 1e-3:
        assert imbalance(body, both, u, r) < 1e-9
        left = out_of_balance(body, both, u, r)
        assert left == pytest.approx(body.fold.of_each(left), abs=1e-9)


_BODY = post("beam shear", True)


def test_only_a_mesh_that_is_its_own_mirror_image_folds():
    mesh = _BODY.mesh
    fold = fold_of(mesh)
    assert mesh.doflocs[0, fold.image] == pytest.approx(-mesh.doflocs[0], abs=0.0)
    aside = MemberOutline(75.0, 50.0, True)
    turned = to_skfem(mesh_member(aside, member_grading(aside, Patch(2.0, 3.0), 2.0)))
    with pytest.raises(SolveError, match="mirror image"):
        fold_of(turned)


def test_every_hold_is_tried():
    assert set(PLATES) == set(holds.PLATE)
    assert set(POSTS) >= set(holds.POST)
