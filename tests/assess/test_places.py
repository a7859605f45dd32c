import numpy as np
import pytest
from bodies import case

from contactfe.assess import places
from contactfe.assess.bodies import beside
from contactfe.assess.compare import compare
from contactfe.assess.places import Impacted
from contactfe.section.outlines import MemberOutline, PlateOutline
from contactfe.solve.field import Samples
from contactfe.solve.lines import Frame

TUBE = MemberOutline(75.0, 50.0)


def struck(half_width, centre=0.0):
    return Impacted(Frame(), centre, half_width)


def only_at(x, y, others=()):
    """Samples with stress 100 at one point, less at others."""
    points = [(x, y), *others]
    xs, ys = np.array(points, dtype=float).T
    value = np.array([100.0] + [1.0] * len(others))
    return Samples(xs, ys, value, value / 2)


@pytest.mark.parametrize(
    ("x", "y", "zone"),
    [
        (0.0, 0.7, places.CONTACT),
        (0.2, 0.05, places.CONTACT),
        (1.0, 0.3, places.EDGE),
        (-1.0, 0.3, places.EDGE),
        (0.0, 25.0, places.BORE_UNDER_LOAD),
        (50.0, 75.0, places.BORE_SIDE),
        (0.0, 125.0, places.BORE_TOP),
        (75.0, 75.0, places.OUTSIDE),
        (0.0, 150.0, places.OUTSIDE),
    ],
)
def test_zones_of_a_tube(x, y, zone):
    peak = places.member_peaks(only_at(x, y), TUBE, [struck(1.0)], mirrored=True)[0]
    assert (peak.zone, peak.von_mises, peak.x, peak.y) == (zone, 100.0, abs(x), y)


def test_zones_of_a_solid_and_a_plate():
    solid = MemberOutline(75.0, 0.0)
    assert (
        places.member_peaks(only_at(0.0, 0.7), solid, [struck(1.0)], mirrored=True)[0].zone
        == places.CONTACT
    )
    assert (
        places.member_peaks(only_at(0.0, 75.0), solid, [struck(1.0)], mirrored=True)[0].zone
        == places.CORE
    )
    plate = PlateOutline(300.0, 40.0)
    assert (
        places.plate_peaks(only_at(0.0, -0.7), plate, struck(1.0), mirrored=True)[0].zone
        == places.UNDER_CONTACT
    )
    assert (
        places.plate_peaks(only_at(0.0, -40.0), plate, struck(1.0), mirrored=True)[0].zone
        == places.PLATE_BACK
    )
    assert (
        places.plate_peaks(only_at(90.0, 0.0), plate, struck(1.0), mirrored=True)[0].zone
        == places.PLATE_FACE
    )


def test_peaks_come_largest_first_with_their_depth():
    samples = only_at(0.0, 25.0, others=[(0.0, 0.7), (75.0, 75.0)])
    peaks = places.member_peaks(samples, TUBE, [struck(1.0)], mirrored=True)
    assert [p.von_mises for p in peaks] == sorted((p.von_mises for p in peaks), reverse=True)
    assert peaks[0].depth == pytest.approx(25.0)


def test_a_wide_patch_on_a_thin_wall_keeps_the_bore_apart():
    # Four half-widths reach past mid-wall here: the bore must still be called the bore.
    thin = MemberOutline(75.0, 69.0)
    assert (
        places.member_peaks(only_at(0.0, 6.0), thin, [struck(3.0)], mirrored=True)[0].zone
        == places.BORE_UNDER_LOAD
    )


def test_a_flat_maximum_is_placed_nearest_to_the_load_line():
    # Points in this order: x, y, stress. The largest lies aside by chance of the mesh, a flat part
    # of it on the load line, and of the two there the higher one counts.
    points = [
        (0.06, 0.70, 100.0),
        (-0.03, 0.69, 99.985),
        (0.00, 0.60, 99.981),
        (0.00, 0.72, 99.990),
        (0.00, 0.75, 99.979),
        (75.0, 75.0, 5.0),
    ]
    x, y, stress = np.array(points).T
    peak = places.member_peaks(
        Samples(x, y, stress, stress / 2), TUBE, [struck(1.0)], mirrored=True
    )[0]
    assert (peak.von_mises, peak.x, peak.y) == (100.0, 0.0, 0.72)
    assert peak.depth == pytest.approx(0.72)


def test_a_maximum_aside_that_is_no_accident_stays_there():
    # On the load line stress is 0.021 % less: more than counts as flat.
    x, y, stress = np.array([(0.8, 0.4, 100.0), (0.0, 0.7, 99.979), (75.0, 75.0, 5.0)]).T
    peak = places.member_peaks(
        Samples(x, y, stress, stress / 2), TUBE, [struck(1.0)], mirrored=True
    )[0]
    assert (peak.zone, peak.x, peak.y) == (places.EDGE, 0.8, 0.4)


def test_the_flat_maximum_of_a_plate_is_on_the_load_line():
    # Solved, not made up: the point of largest stress of this plate is 0.06 half-widths aside.
    plate = compare(case([(152.4, None)], held_by="diametral", plate_held="simply supported",
                         plate=(406.4, 76.2), line_load=525.4)).sections[0].plate  # fmt: skip
    assert (plate.peak_von_mises.at.zone, plate.peak_von_mises.at.x) == (places.UNDER_CONTACT, 0.0)


@pytest.mark.parametrize(
    ("struck_by", "x", "zone"),
    [
        (1, 50.0, places.BORE_SIDE),
        (1, -50.0, places.BORE_SIDE),
        (2, 50.0, places.BORE_UNDER_SECOND),
        (2, -50.0, places.BORE_SIDE),
    ],
)
def test_the_bore_under_a_second_load_is_at_its_side(struck_by, x, zone):
    patches = [struck(1.0), Impacted(beside(75.0), 0.0, 1.0)][:struck_by]
    (peak,) = places.member_peaks(only_at(x, 75.0), TUBE, patches, mirrored=False)
    assert (peak.zone, peak.x) == (zone, x)


def test_the_bore_of_a_drawn_section_is_what_lies_nearer_to_it_than_to_the_outside():
    round_one = MemberOutline(75.0, 0.0)
    bore = np.array([[0.0, 10.0], [55.0, 75.0]])
    for x, y, zone in ((0.0, 52.0, places.BORE), (60.0, 75.0, places.CORE), (0.0, 0.7, None)):
        (peak,) = places.member_peaks(only_at(x, y), round_one, [struck(1.0)], False, bore)
        assert peak.zone == (zone or places.CONTACT)


def slope(x, y, size):
    """Samples of one element, its corner at (x, y) and as wide as ``size``: stress rises with y."""
    steps = [(i, j) for i in range(5) for j in range(5 - i)]
    number = {at: k for k, at in enumerate(steps)}
    triangles = tuple(
        (number[i, j], number[i + d, j], number[i, j + d])
        for i, j in steps
        for d in (1, -1)
        if (i + d, j) in number and (i, j + d) in number
    )
    i, j = np.array(steps).T
    xs, ys = x + size * i / 4.0, y + size * j / 4.0
    stress = 100.0 + 10.0 * ys
    return Samples(xs, ys, stress, stress / 2, len(steps), triangles)


@pytest.mark.parametrize("size", [3.0, 4.0, 5.0])
def test_a_zone_cut_out_of_a_slope_peaks_on_its_border_whatever_the_mesh(size):
    """The back begins at half the thickness, 0.75 mm deep, between samples: 92.5 MPa there."""
    plate = PlateOutline(300.0, 1.5)
    of = {
        p.zone: p
        for p in places.plate_peaks(slope(40.0, -1.6, size), plate, struck(1.0), mirrored=False)
    }
    assert of[places.PLATE_BACK].von_mises == pytest.approx(92.5)
    assert (of[places.PLATE_BACK].y, of[places.PLATE_BACK].depth) == pytest.approx((-0.75, 0.75))


def test_a_peak_within_its_zone_is_that_of_a_sample():
    samples = slope(40.0, -1.6, 3.0)
    top = int(np.argmax(samples.von_mises))
    (face, _) = places.plate_peaks(samples, PlateOutline(300.0, 1.5), struck(1.0), mirrored=False)
    assert (face.von_mises, face.y) == (samples.von_mises[top], samples.y[top])
