import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from contactfe.section.grading import (
    ACROSS,
    AT_FRICTION,
    FOCUS_FINER,
    GROWTH,
    Frame,
    Patch,
    member_grading,
    plate_grading,
    size_at,
)
from contactfe.section.outlines import MemberOutline, PlateOutline

TUBE = MemberOutline(75.0, 50.0)
FILLED = MemberOutline(75.0, 69.0, filled=True)
A = 1.2


def on_rim(outline, centre):
    """Point of the outer circle above x = centre, near the plate."""
    return centre, outline.radius - np.sqrt(outline.radius**2 - centre**2)


@given(
    turn=st.floats(-0.5, 0.5), shift=st.floats(-100.0, 100.0),
    x=st.floats(-200.0, 200.0), y=st.floats(-200.0, 200.0),
)  # fmt: skip
def test_a_frame_goes_out_and_back(turn, shift, x, y):
    frame = Frame(turn, 75.0, shift)
    # Lengths of some hundreds, rounded a few times.
    assert np.array(frame.back(*frame.out(x, y))) == pytest.approx(np.array([x, y]), abs=1e-11)


def test_a_frame_that_agrees_with_the_section_changes_no_bit():
    values = np.random.default_rng(1).normal(size=100)
    x, y = Frame(0.0, 75.0).out(values, 3.0 * values)
    assert np.array_equal(x, values)
    assert np.array_equal(y, 3.0 * values)


def test_a_patch_off_the_axis_is_refined_where_it_lies():
    for centre in (-6.0, 0.0, 6.0):
        grading = member_grading(TUBE, Patch(centre, A))
        x, y = on_rim(TUBE, centre)
        assert grading.turn == pytest.approx(np.arcsin(centre / 75.0))
        assert grading.refined(x, y + 0.5 * A)
        assert not grading.refined(x + 3.0 * A, y + 0.5 * A)
        assert not grading.refined(x - 3.0 * A, y + 0.5 * A)
        assert size_at(grading, x, y + 0.5 * A) == pytest.approx(A / ACROSS)


def test_the_plate_is_refined_below_its_patch():
    for outline, centre in (
        (PlateOutline(400.0, 60.0), 0.0),
        (PlateOutline(400.0, 60.0, 90.0), 4.0),
    ):
        grading = plate_grading(outline, Patch(centre, A))
        assert grading.refined(centre, -0.7 * A)
        assert not grading.refined(centre - 3.0 * A, -0.7 * A)
        # At the two edges of contact twice as fine, and far away coarse.
        at = size_at(
            grading, centre + np.array([-A, 0.0, A, 50.0 * A]), np.array([0.0, -A, 0.0, 0.0])
        )
        assert at[:3] == pytest.approx(np.array([0.5, 1.0, 0.5]) * A / ACROSS)
        assert at[3] > 40.0 * at[1]


def test_a_second_patch_is_refined_at_the_side():
    # Contact turned by the first patch, the second at its own place all the same.
    side = Patch(-4.0, 0.8)
    grading = member_grading(TUBE, Patch(6.0, A), side=side)
    y = 75.0 - 4.0
    x = np.sqrt(75.0**2 - 4.0**2)
    assert grading.refined(x - 0.5 * 0.8, y)
    assert not grading.refined(x - 0.5 * 0.8, y + 3.0 * 0.8)
    at = size_at(grading, [x - 0.4, x, x], [y, y + 0.8, y - 0.8])
    assert at == pytest.approx(np.array([1.0, 0.5, 0.5]) * 0.8 / ACROSS)
    assert grading.side.reach == pytest.approx(3.0 * 0.8)
    assert (grading.half_width, grading.reach) == pytest.approx((A, 3.0 * A))


@settings(max_examples=50)
@given(
    centre=st.floats(-8.0, 8.0), scale=st.floats(1.0, 3.0),
    x=st.floats(-75.0, 75.0), y=st.floats(0.0, 150.0),
    angle=st.floats(0.0, 6.3), step=st.floats(0.0, 20.0),
    filled=st.booleans(), focused=st.booleans(),
)  # fmt: skip
def test_size_grows_no_faster_than_it_may(centre, scale, x, y, angle, step, filled, focused):
    outline = FILLED if filled else TUBE
    focus = ((40.0, 40.0), (0.3, 0.9)) if focused else ()
    grading = member_grading(outline, Patch(centre, A), scale, focus)
    here = size_at(grading, x, y)
    there = size_at(grading, x + step * np.cos(angle), y + step * np.sin(angle))
    assert abs(here - there) <= GROWTH * step + 1e-9


def test_sizes_grow_with_the_scale():
    x, y = np.meshgrid(np.linspace(-75.0, 75.0, 41), np.linspace(0.0, 150.0, 41))
    fine, coarse = (size_at(member_grading(FILLED, Patch(0.0, A), s), x, y) for s in (1.0, 2.0))
    assert fine.shape == x.shape
    assert (coarse >= fine).all()
    assert (coarse <= 2.0 * fine + 1e-12).all()


def test_an_infill_is_coarse_away_from_its_rim_and_centre():
    grading = member_grading(FILLED, Patch(0.0, A))
    # Half way out, at 45 degrees, and at the rim there.
    middle, rim = size_at(grading, np.array([0.5, 1.0]) * 48.8, 75.0 + np.array([0.5, 1.0]) * 48.8)
    assert rim == pytest.approx(6.0 / 4.0, rel=0.01)
    assert middle > 3.5 * rim
    # Under the load and at the side as fine as the wall asks for, and finer at the centre.
    at_bore = size_at(grading, [0.0, 69.0, -69.0], [6.0, 75.0, 75.0])
    assert at_bore == pytest.approx(6.0 / 10.0)
    assert size_at(grading, 0.0, 75.0) == pytest.approx(69.0 / 16.0)


def test_a_focus_near_contact_is_as_fine_as_contact():
    point = (4.0 + 2.0 * A, 3.0)
    plain, focused = (member_grading(TUBE, Patch(4.0, A), 1.0, focus) for focus in ((), (point,)))
    assert not plain.refined(*point)
    assert focused.refined(*point)
    assert size_at(focused, *point) == pytest.approx(A / ACROSS)
    assert focused.zones[: len(plain.zones)] == plain.zones


def test_a_focus_near_the_second_patch_is_as_fine_as_that():
    grading = member_grading(TUBE, Patch(0.0, A), 1.0, ((73.0, 75.0),), Patch(0.0, 0.8))
    assert size_at(grading, 73.0, 75.0) == pytest.approx(0.8 / ACROSS)


@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.parametrize("point", [(36.0, 40.0), (-36.0, 40.0), (-3.0, 140.0)])
def test_a_focus_elsewhere_is_finer_than_its_place(point, scale):
    plain, focused = (member_grading(TUBE, Patch(6.0, A), scale, focus) for focus in ((), (point,)))
    without = size_at(plain, *point)
    assert size_at(focused, *point) == pytest.approx(without / FOCUS_FINER)
    # A square wide enough that a peak may move by an element of before and be held by it.
    for dx, dy in ((without, 0.0), (0.0, without), (-without, -without)):
        assert focused.refined(point[0] + dx, point[1] + dy)
    assert not focused.refined(point[0], point[1] + 4.0 * without)


def test_a_plate_takes_a_focus_where_it_lies():
    grading = plate_grading(PlateOutline(400.0, 60.0, 90.0), Patch(2.0, A), 1.0, ((-50.0, -60.0),))
    assert grading.refined(-50.0, -60.0)
    assert size_at(grading, -50.0, -60.0) == pytest.approx(60.0 / 4.0 / FOCUS_FINER, rel=0.3)


def test_contact_must_lie_well_inside_the_face():
    near = PlateOutline(400.0, 60.0, 197.9)
    with pytest.raises(ValueError, match=r"inside the plate's face, from -397\.9 to 2\.1 mm"):
        plate_grading(near, Patch(0.0, A, reach=1.7))
    plate_grading(near, Patch(-1.0, A, reach=1.7))
    with pytest.raises(ValueError, match="inside the plate's face"):
        plate_grading(PlateOutline(400.0, 60.0), Patch(-250.0, A))


def test_patches_that_cannot_be():
    with pytest.raises(ValueError, match=r"within 37\.5 mm .* not at -40 mm"):
        member_grading(TUBE, Patch(-40.0, A))
    with pytest.raises(ValueError, match=r"within 37\.5 mm .* not at 40 mm"):
        member_grading(TUBE, Patch(0.0, A), side=Patch(40.0, A))
    with pytest.raises(ValueError, match="lower half"):
        member_grading(MemberOutline(75.0, 50.0, True), Patch(0.0, A), side=Patch(0.0, A))
    with pytest.raises(ValueError, match="must not reach each other"):
        member_grading(TUBE, Patch(30.0, 20.0), side=Patch(-30.0, 20.0))
    # Nor may the second reach the top of the round, where its halves meet.
    with pytest.raises(ValueError, match="must not reach each other"):
        member_grading(TUBE, Patch(-37.0, 5.0), side=Patch(37.0, 25.0))


def test_outlines_that_cannot_be():
    with pytest.raises(ValueError, match="bore_radius"):
        MemberOutline(75.0, 75.0)
    with pytest.raises(ValueError, match="filled section needs"):
        MemberOutline(75.0, 0.0, filled=True)
    with pytest.raises(ValueError, match="width and thickness"):
        PlateOutline(0.0, 5.0)
    with pytest.raises(ValueError, match="half the width of 300 mm, not -150 mm"):
        PlateOutline(300.0, 40.0, -150.0)


@pytest.mark.parametrize("border", [-0.5 * A, 0.0, 0.5 * A])
def test_borders_of_slip_are_refined_where_they_are(border):
    # Of a first patch, and of a plate, on both sides of its middle: zones stand for their mirror
    # images. Those of a second patch are mirrored to the other side of the member instead.
    fine = pytest.approx(A / ACROSS / AT_FRICTION)
    outline = PlateOutline(400.0, 60.0)
    for centre in (0.0, 6.0):
        patch = Patch(centre, A, friction=True, borders=(centre + border,))
        grading = member_grading(TUBE, patch)
        assert size_at(grading, *grading.frame.out(border, 0.0)) == fine
        assert size_at(plate_grading(outline, patch), centre + border, 0.0) == fine
        side = member_grading(TUBE, Patch(0.0, A), side=patch)
        y = 75.0 + centre + border
        x = np.sqrt(75.0**2 - (y - 75.0) ** 2)
        assert size_at(side, x, y) == fine
        if border != 0.0:  # its mirror image is none of the second patch's
            assert size_at(side, x, y - 2.0 * border) > 0.5 * A / ACROSS


def test_edges_under_friction_are_finer_still():
    for patch, finer in ((Patch(0.0, A), 2.0), (Patch(0.0, A, friction=True), AT_FRICTION)):
        for grading in (
            member_grading(TUBE, patch),
            plate_grading(PlateOutline(400.0, 60.0), patch),
        ):
            at = size_at(grading, np.array([-A, A]), np.zeros(2))
            assert at == pytest.approx(A / ACROSS / finer)
