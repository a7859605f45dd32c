"""A contact of finite length: where the post may be stressed most, and what its neighbours do.

A tube of 150 mm and 25 mm wall, mostly over one diameter; read on meshes of twice the standard size
unless a tolerance asks for less.
"""

from dataclasses import replace
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest
from bodies import case, no_first_yield
from restated import restated

from contactfe.assess import finite as module
from contactfe.assess.accuracy import Solved, expected_patches
from contactfe.assess.bodies import Bodies
from contactfe.assess.finite import (
    FAR,
    INSET,
    Ends,
    chosen,
    ends,
    even_spread,
    inset,
    relief_along,
    stations,
)
from contactfe.assess.level import build
from contactfe.assess.places import BORE_UNDER_LOAD, CONTACT, EDGES
from contactfe.assess.post import Filling, participations, read_strip, solved_slice, worst_of
from contactfe.assess.reading import read
from contactfe.assess.section import assess_section
from contactfe.case import Cantilever, Contact, Corner, Infill
from contactfe.case.alignment import Profile, Spread, Strip
from contactfe.errors import InputError
from contactfe.hand import thick_ring

D, WALL, Q = 150.0, 25.0, 600.0
FLUSH, LONG = Cantilever(900.0, tip=D / 2), Cantilever(900.0, tip=900.0)
"""Ends with its contact of one diameter, and six diameters off."""


def stop(length=D, cantilever=LONG, section=(D, WALL), corner=None, **keys):
    """``corner`` is the line load on the second plate and the length of contact with it."""
    of = restated(case([section], line_load=Q, **keys), contact_length=length)
    second = corner and Corner(corner[0], 0.0, corner[1])
    return replace(of, cantilever=cantilever, corner=second)


class TestOfACase:
    def test_it_is_finite_where_every_length_is_known_in_plane_strain(self):
        assert stop().finite
        assert stop(cantilever=None).finite
        assert not stop(length=None, cantilever=None).finite
        assert not stop(state="plane stress").finite
        assert stop(corner=(300.0, 80.0)).finite
        assert not stop(corner=(300.0, None)).finite
        assert stop(corner=(300.0, 80.0)).contact_lengths == (150.0, 80.0)

    def test_a_post_ends_where_it_is_stated(self):
        of = stop(cantilever=Cantilever(900.0, tip=250.0))
        assert ends(of, of.sections[0]) == (Ends(1150.0, 825.0, 975.0),)
        # Beyond three diameters from the contact its end is not felt.
        far = stop(cantilever=Cantilever(900.0, tip=5000.0))
        assert ends(far, far.sections[0]) == (Ends(975.0 + FAR * D, 825.0, 975.0),)

    def test_one_that_states_no_tip_may_end_with_its_contact_or_go_on(self):
        of = stop(cantilever=Cantilever(900.0))
        flush, far = ends(of, of.sections[0])
        assert flush == Ends(975.0, 825.0, 975.0)
        assert far == replace(flush, length=975.0 + FAR * D)
        # Without [cantilever] the root is as far off as is not felt.
        loose = stop(cantilever=None)
        flush, far = ends(loose, loose.sections[0])
        assert (flush.start, flush.end) == (FAR * D, FAR * D + D)
        assert (flush.length, far.length) == (FAR * D + D, 2 * FAR * D + D)

    def test_a_contact_begins_at_the_root_at_the_least(self):
        of = stop(length=300.0, cantilever=Cantilever(150.0 - 1e-12, tip=200.0))
        (found,) = ends(of, of.sections[0])
        assert found.start == 0.0

    def test_in_a_corner_the_longer_contact_counts(self):
        of = stop(corner=(300.0, 400.0))
        (found,) = ends(of, of.sections[0])
        assert (found.start, found.end) == (700.0, 1100.0)


class TestAnEvenSpread:
    def test_its_places_run_from_end_to_end_a_little_inside(self):
        of = stop()
        spread = even_spread(of, of.sections[0])
        assert (spread.peak_ratio, spread.lever) == (1.0, 900.0)
        inset = INSET * D / 2  # more than two half-widths
        assert [s.place for s in spread.strips] == pytest.approx(
            [825.0 + inset, 866.25, 900.0, 933.75, 975.0 - inset]
        )
        assert {(s.ratios, s.profile) for s in spread.strips} == {((1.0,), 0)}
        # Beyond each place the load bends the post, which carries it to its root.
        bent = [Q * (975.0 - s.place) ** 2 / 2 for s in spread.strips]
        assert [s.moment for s in spread.strips] == pytest.approx(bent)
        assert spread.profiles == (Profile(1425.0, (825.0, 975.0), ((1.0, 1.0),)),)

    @pytest.mark.parametrize(
        "of", [stop(cantilever=None), stop(corner=(300.0, D)), stop(held_by="rigid core")]
    )
    def test_a_post_that_is_not_known_to_bend_has_no_moment(self, of):
        assert {s.moment for s in even_spread(of, of.sections[0]).strips} == {0.0}

    def test_each_post_that_it_may_be_has_its_own(self):
        of = stop(cantilever=Cantilever(900.0))
        spread = even_spread(of, of.sections[0])
        assert [p.length for p in spread.profiles] == [975.0, 1425.0]
        assert [s.profile for s in spread.strips] == [0] * 5 + [1] * 5

    def test_of_a_short_contact_a_quarter_is_left_at_each_end(self):
        of = stop(length=20.0)
        assert stations(of, of.sections[0], 890.0, 910.0) == pytest.approx(
            [895.0, 897.5, 900.0, 902.5, 905.0]
        )

    @pytest.mark.parametrize("lengths", [(150.0, 60.0), (60.0, 150.0)])
    def test_in_a_corner_each_plate_is_met_over_its_own_length(self, lengths):
        of = stop(length=lengths[0], corner=(300.0, lengths[1]))
        spread = even_spread(of, of.sections[0])
        (profile,) = spread.profiles
        assert profile.contact == (825.0, 975.0)
        z = np.array([826.0, 869.0, 871.0, 900.0, 929.0, 931.0, 974.0])
        inside = (np.abs(z - 900.0) < 30.0).astype(float)
        for length, along in zip(lengths, profile.ratios, strict=True):
            expected = np.ones(7) if length == 150.0 else inside
            assert np.interp(z, profile.z, along) == pytest.approx(expected)
            # Its force is that of its length: the fall at its ends takes none of it away.
            assert np.trapezoid(along, profile.z) == pytest.approx(length, rel=1e-5)
        assert {s.ratios for s in spread.strips} == {(1.0, 1.0)}


@cache
def bodies():
    return Bodies(stop())


def made(of, spread=None, scale=2.0):
    """A case at every place of an even contact: its level; meshes are kept between cases."""
    section = of.sections[0]
    at = replace(of, spread=even_spread(of, section) if spread is None else spread)
    kept = Bodies(at, bodies()._kept)
    return build(at, kept, section, expected_patches(at, section), scale)


@cache
def along(of, scale=2.0):
    """The post at every place of an even contact, and as the slice of a long one."""
    level = made(of, scale=scale)
    # Without the bending of the post along its axis.
    strips = [replace(strip, moment=0.0) for strip in level.case.spread.strips]
    at = solved_slice(level, strips[0])
    return [read_strip(at, s) for s in strips], read_strip(at, replace(strips[0], profile=None))


def peak(reading, zone):
    return next(p.von_mises for p in reading.peaks if EDGES.get(p.zone, p.zone) == zone)


class TestWhereItIsStressedMost:
    def test_the_contact_at_the_ends_and_the_bore_in_the_middle(self):
        """Of a post that goes on: at an end less of the ring's bending relieves the contact."""
        posts, slice_ = along(stop())
        contact = [peak(of, CONTACT) for of in posts]
        assert np.argmax(contact) in {0, 4}
        assert np.argmin(contact) in {1, 2, 3}
        assert contact[0] > 1.04 * contact[2] > 1.04 * peak(slice_, CONTACT)
        hoop = [of.bore_hoop[0] for of in posts]
        assert np.argmax(hoop) == 2
        assert hoop[2] > 1.3 * hoop[0]
        assert np.argmax([peak(of, BORE_UNDER_LOAD) for of in posts]) == 2

    def test_where_the_post_ends_with_its_contact_the_bore_is_stressed_more(self):
        """Nothing beyond the end holds the ring there, which bends more than a slice."""
        flush, _ = along(stop(cantilever=FLUSH))
        far, slice_ = along(stop())
        hoop = [[of.bore_hoop[0] for of in posts] for posts in (flush, far)]
        assert max(hoop[0]) > 1.15 * max(hoop[1])
        assert np.argmax(hoop[0]) == 4
        assert hoop[0][4] > slice_.bore_hoop[0]
        # Towards the root both go on alike.
        assert hoop[0][0] == pytest.approx(hoop[1][0], rel=0.01)

    def test_a_place_is_what_it_is_of_a_slice_where_its_neighbours_are_left_out(self):
        _, slice_ = along(stop())
        exact = thick_ring.bore_hoop(
            Q, D / 2, D / 2 - WALL, np.array([0.0, np.pi / 2]), "beam shear", 0.3, "plane strain"
        )
        assert slice_.bore_hoop == pytest.approx(exact, rel=2e-3)  # the coarse level
        assert slice_.participation is None


class TestTheShareOfRingBending:
    def test_over_one_diameter(self):
        """0.84 in the middle, 0.50 at the ends; the same as the hoop stress at the bore has."""
        level = made(stop())
        (profile,) = level.case.spread.profiles
        z = np.linspace(*profile.contact, 9)
        posts, slice_ = along(stop())
        shares = participations(level, 0, z, slice_)
        assert shares[4] == pytest.approx(0.836, abs=0.004)  # by elements in three dimensions
        # A coarse mesh has 3 % less of what neighbours add; the standard one 1 %.
        assert shares[[0, -1]] == pytest.approx([0.50, 0.50], abs=0.02)
        assert shares == pytest.approx(shares[::-1], abs=2e-3)  # the root is as far as the tip
        assert posts[2].participation == pytest.approx(shares[4], rel=1e-9)
        ratio = posts[2].bore_hoop[0] / slice_.bore_hoop[0]
        assert ratio == pytest.approx(shares[4], abs=2e-3)  # read at another node

    def test_it_is_the_relief_along_the_contact(self):
        found = relieved(stop())
        assert (found.contact_length, found.tip, found.tip_stated) == (D, D / 2 + FAR * D, True)
        z, shares = np.array(found.z), np.array(found.participation)
        assert (z[0], z[20], z[-1]) == pytest.approx((-D / 2, 0.0, D / 2))
        assert shares == pytest.approx(shares[::-1], abs=2e-3)
        assert shares[20] == pytest.approx(0.836, abs=0.004)
        assert set(found.line_load) == {Q}
        every = even_spread(stop(), stop().sections[0]).strips
        assert found.place in {strip.place - 900.0 for strip in every}

    def test_what_is_not_stated_is_not_said_to_be(self):
        assert not relieved(stop(cantilever=Cantilever(900.0))).tip_stated
        loose = relieved(stop(cantilever=None))
        assert not loose.tip_stated

    def test_where_the_post_hardly_bears_it_says_nothing(self):
        of = stop()
        profile = Profile(1425.0, (825.0, 880.0, 975.0), ((0.0, 0.0, 2.0),))
        found = relieved(of, Spread(2.0, 900.0, (Strip(960.0, (1.6,), 0.0, 0),), (profile,)))
        bears = np.array(found.line_load) >= 0.1 * 2.0 * Q
        assert [share is not None for share in found.participation] == bears.tolist()
        assert 20 < bears.sum() < 30
        assert found.place == 60.0

    def test_a_solid_has_none(self):
        of = stop(section=(D, None))
        found = relieved(of)
        assert found.participation is None
        posts, slice_ = along(of)
        assert {post.participation for post in posts} == {None}
        # Its centre is stressed less than a slice's where the load fades along it.
        assert 0.5 < posts[2].centre[0] / slice_.centre[0] < 1.0

    def test_in_plane_stress_there_is_none_and_the_slice_stays(self):
        of = stop(state="plane stress")
        level = build(of, Bodies(of), of.sections[0], expected_patches(of, of.sections[0]), 4.0)
        reading = read(level)
        assert reading.post is reading.slice
        assert level.bars == ()
        assert relief_along(Solved(level, reading, 1, ())) is None


def relieved(of, spread=None):
    level = made(of, spread)
    return relief_along(Solved(level, read(level), 1, ()))


@pytest.mark.parametrize(
    ("keys", "off"),
    [
        ({"held_by": "diametral"}, 5e-3),
        ({"poisson": 0.0}, 5e-3),
        # As a beam the post takes its σz along, whose change along the axis bends the ring.
        ({}, 2e-2),
    ],
)
def test_a_long_contact_comes_to_the_slice(keys, off):
    """Over six diameters, in the middle: 0.1 % measured where no beam bends it, else 1.4 %."""
    posts, slice_ = along(stop(length=6 * D, **keys))
    middle = posts[2]
    assert middle.participation == pytest.approx(1.0, abs=off)
    assert middle.bore_hoop == pytest.approx(slice_.bore_hoop, rel=off)
    assert peak(middle, CONTACT) == pytest.approx(peak(slice_, CONTACT), rel=5e-3)
    assert posts[0].participation < 0.65


class TestWhatIsChosen:
    @pytest.fixture(autouse=True)
    def coarse(self, monkeypatch):
        monkeypatch.setattr(module, "COARSE", 4.0)

    def of(self, at):
        section = at.sections[0]
        return chosen(at, section, Bodies(at, bodies()._kept), even_spread(at, section))

    def test_the_worst_of_the_contact_and_of_the_bore_are_kept(self):
        every, found = even_spread(stop(), stop().sections[0]).strips, self.of(stop()).strips
        assert set(found) < set(every)
        assert every[2] in found  # bore
        assert every[0] in found or every[4] in found  # contact

    def test_every_zone_has_its_worst_place_of_all(self):
        """Of what comes to half of the largest peak, and of the hoop stress at the bore always."""
        at = stop(cantilever=Cantilever(900.0))
        level = made(at, scale=4.0)
        state = solved_slice(level, level.case.spread.strips[0])
        every = worst_of([read_strip(state, s) for s in level.case.spread.strips])
        kept = worst_of([read_strip(state, s) for s in _as_of(at, self.of(at)).strips])
        assert peak(kept, CONTACT) == pytest.approx(peak(every, CONTACT), rel=1e-9)
        assert kept.bore_hoop[0] == pytest.approx(every.bore_hoop[0], rel=1e-9)

    def test_each_strip_is_read_under_its_own_line_load(self):
        """And not under the next higher of a few, which would have the second of these the worst:
        it bends more and bears less."""
        at = stop(section=(D, None))
        bearing, bent, light = (
            Strip(900.0, (1.6,)), Strip(900.0, (1.45,), 3e6), Strip(900.0, (0.5,))
        )  # fmt: skip
        spread = Spread(1.6, 900.0, (bent, bearing, light))
        found = chosen(at, at.sections[0], Bodies(at, bodies()._kept), spread)
        assert found.strips == (bearing,)

    def test_a_profile_that_no_strip_uses_is_dropped(self):
        at = stop(cantilever=Cantilever(900.0))
        spread = even_spread(at, at.sections[0])
        assert len(spread.profiles) == 2
        only = module._with(spread, [spread.strips[7], spread.strips[9]])
        assert only.profiles == (spread.profiles[1],)
        assert [strip.profile for strip in only.strips] == [0, 0]
        assert only.strips[0].place == spread.strips[7].place
        both = module._with(spread, [spread.strips[0], spread.strips[9]])
        assert both.profiles == spread.profiles
        unknown = module._with(spread, [Strip(900.0, (1.0,))])
        assert (unknown.profiles, unknown.strips[0].profile) == ((), None)

    def test_a_zone_that_is_stressed_little_is_left_out_but_a_bore(self, monkeypatch):
        spread = even_spread(stop(), stop().sections[0])
        stresses = {  # at each of the five places
            CONTACT: (300.0, 250.0, 240.0, 250.0, 299.0),
            "elsewhere": (10.0, 149.0, 10.0, 10.0, 10.0),
            "nearly": (10.0, 10.0, 10.0, 151.0, 10.0),
            BORE_UNDER_LOAD: (1.0, 1.0, 3.0, 1.0, 1.0),
        }
        monkeypatch.setattr(module, "_readings", lambda *_: made_up(stresses))
        found = chosen(stop(), stop().sections[0], Bodies(stop(), bodies()._kept), spread)
        assert [spread.strips.index(s) for s in found.strips] == [0, 2, 3]


def made_up(stresses):
    """Readings at five places, of these stresses in each zone."""
    return [
        SimpleNamespace(
            peaks=tuple(
                SimpleNamespace(zone=zone, von_mises=of[k]) for zone, of in stresses.items()
            ),
            bore_hoop=(-stresses[BORE_UNDER_LOAD][k], 0.0),
        )
        for k in range(5)
    ]


def _as_of(at, spread):
    """A spread whose strips have the numbers of profiles of all of them."""
    every = even_spread(at, at.sections[0])
    lengths = [profile.length for profile in every.profiles]
    return replace(
        spread,
        profiles=every.profiles,
        strips=tuple(
            replace(s, profile=lengths.index(spread.profiles[s.profile].length))
            for s in spread.strips
        ),
    )


class TestInACorner:
    def test_beyond_the_shorter_contact_only_the_longer_bends_the_ring(self):
        """As if there were one plate, but for what the other does from afar."""
        both, _ = along(stop(length=300.0, corner=(500.0, 60.0)))
        one, slice_ = along(stop(length=300.0))
        for place in (0, 4):
            for found, alone in zip(both[place].bore_hoop, one[place].bore_hoop, strict=True):
                assert found == pytest.approx(alone, abs=0.12 * slice_.bore_hoop[0])

    def test_equal_plates_stress_it_alike(self):
        posts, _ = along(stop(corner=(Q, D)), scale=1.0)
        under, side = posts[2].bore_hoop
        # Of differences of some 70 MPa; the post is held as a beam along both alike.
        assert under == pytest.approx(side, abs=1.0)


OTHERS = {
    "friction": ({}, {"contact": Contact(0.0, 0.3, 0.2)}),
    "diametral": ({"held_by": "diametral"}, {}),
    "rigid core": ({"held_by": "rigid core"}, {}),
    "filled": ({}, {}),
}


@pytest.mark.parametrize("kind", OTHERS)
def test_every_kind_of_post_is_read_in_three_dimensions(kind):
    """Of the slice's stress there is a good part, and not much more than it."""
    keys, changes = OTHERS[kind]
    of = replace(stop(**keys), **changes)
    if kind == "filled":
        infill = Infill(30e3, 0.2, 2300.0, name="grout")
        of = replace(of, sections=tuple(replace(s, infill=infill) for s in of.sections))
    reading = read(made(of, scale=4.0))
    post, slice_ = reading.post, reading.slice
    assert post is not slice_
    pairs = [
        (post.peaks[0].von_mises, slice_.peaks[0].von_mises),
        (post.max_shear, slice_.max_shear),
        *zip(post.bore_hoop or (), slice_.bore_hoop or (), strict=True),
    ]
    if kind == "rigid core":
        pairs = pairs[:2]  # at a bonded bore the hoop stress is nearly nothing
    if kind == "filled":
        filled, alone = post.filling, slice_.filling
        pairs += [(filled.compression, alone.compression), (filled.bond_shear, alone.bond_shear)]
    for found, alone in pairs:
        assert np.isfinite(found)
        assert 0.5 < found / alone < 1.5
        assert found != pytest.approx(alone, rel=1e-6)
    field = reading.member_field
    assert np.isfinite(field.stress).all()


def test_friction_along_the_post_is_in_proportion_to_its_load():
    """Over a long contact what it drags is the slice's own: 0.09 MPa off measured in the plane.

    Without Poisson's ratio, as then no bending of the post is in it; if the neighbours were not
    dragged, or the other way, 25 or 50 MPa would be left.
    """
    of = replace(stop(length=6 * D, poisson=0.0), contact=Contact(0.0, 0.3, 0.2))
    level = made(of)
    strip = level.case.spread.strips[2]
    at = solved_slice(level, strip)
    assert at.state.patches[0].tangential_load == pytest.approx(0.2 * Q)
    post, slice_ = (read_strip(at, of) for of in (strip, replace(strip, profile=None)))
    added = post.field.stress[:, [0, 1, 3]] - slice_.field.stress[:, [0, 1, 3]]
    assert np.abs(added).max() < 0.2


@cache
def assessed():
    of = stop(cantilever=FLUSH)
    with no_first_yield():
        return of, assess_section(of, of.sections[0], Bodies(of, bodies()._kept))


class TestOfASection:
    def test_what_is_of_a_slice_stands_beside_it(self):
        _, result = assessed()
        values = result.values
        assert {
            "participation", "slice_post_peak", "slice_stress_concentration",
            "slice_bore_hoop_under_load", "slice_bore_hoop_at_side",
        } <= values.keys()  # fmt: skip
        assert result.relief is not None
        assert result.length is None
        exact = thick_ring.bore_hoop(
            Q, D / 2, D / 2 - WALL, np.array([0.0, np.pi / 2]), "beam shear", 0.3, "plane strain"
        )
        of_slice = values["slice_bore_hoop_under_load"]
        assert abs(of_slice.value - exact[0]) <= of_slice.uncertainty
        assert values["bore_hoop_under_load"].value != pytest.approx(of_slice.value, rel=0.01)
        assert values["participation"].value == result.reading.post.participation

    def test_by_hand_the_bore_is_compared_as_a_slice(self):
        """The formulas are of a slice, which the post is not."""
        _, result = assessed()
        found = {check.key: check for check in result.hand_checks}
        check = found["ring_bore_under_load"]
        assert check.computed == result.values["slice_bore_hoop_under_load"].value
        assert abs(check.difference) < 5e-3
        side = found["ring_bore_at_side"]
        assert side.computed == result.values["slice_bore_hoop_at_side"].value

    def test_over_no_stated_length_there_is_nothing_of_it(self):
        of = stop(length=None, cantilever=None)
        with no_first_yield():
            result = assess_section(of, of.sections[0], Bodies(of, bodies()._kept))
        assert result.relief is None
        assert not any(key.startswith("slice_") for key in result.values)
        assert "participation" not in result.values
        _, beside = assessed()
        # The contact of both is the slice's.
        for key in ("peak_pressure", "half_width", "approach"):
            assert result.values[key].value == pytest.approx(beside.values[key].value, rel=1e-9)


def test_places_are_two_half_widths_inside_where_those_are_more():
    of = stop()
    assert inset(of, of.sections[0]) == INSET * D / 2
    # a grows as the root of the load: to 0.09 of the radius.
    wide = of.loaded(Q * (0.09 * D / 2 / expected_patches(of, of.sections[0])[0].half_width) ** 2)
    assert inset(wide, wide.sections[0]) == pytest.approx(2 * 0.09 * D / 2)


def test_the_worst_of_an_infill_is_its_largest_of_each():
    posts, _ = along(stop())
    one, other = Filling(1.0, -5.0, 0.5, 2.0), Filling(2.0, -3.0, 0.2, 3.0)
    both = worst_of([replace(posts[0], filling=one), replace(posts[1], filling=other)])
    assert both.filling == Filling(2.0, -5.0, 0.5, 3.0)


@pytest.mark.parametrize(("cantilever", "rooted"), [(LONG, True), (None, False)])
def test_a_post_carries_its_load_to_its_root_only_where_that_is_known(cantilever, rooted):
    of = stop(cantilever=cantilever)
    section = of.sections[0]
    at = replace(of, spread=even_spread(of, section))
    level = build(at, bodies(), section, expected_patches(at, section), 4.0)
    assert {bar.rooted for bar in level.bars} == {rooted}


def test_a_contact_of_a_hundred_diameters_is_the_longest():
    assert ends(stop(length=99 * D, cantilever=None), stop().sections[0])
    with pytest.raises(InputError, match="contact_length"):
        ends(stop(length=101 * D, cantilever=None), stop().sections[0])
