"""Figures and values of the registry: on levels that are made up, and on a corner solved coarsely.

Made up are the numbers of both levels: what two levels agree on has the least uncertainty.
"""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from bodies import case

from contactfe.assess.accuracy import Levels, Solved, expected_patches
from contactfe.assess.bodies import Bodies
from contactfe.assess.level import build
from contactfe.assess.places import BORE_SIDE, CONTACT, EDGE, PLATE_BACK, UNDER_CONTACT, Peak
from contactfe.assess.quantities import BESIDE_OF, QUANTITIES, Derived
from contactfe.assess.reading import read
from contactfe.assess.readout import figures, read_out, zones
from contactfe.assess.value import Body, Figure, Place, Value, key_of
from contactfe.solve.reactions import Reaction

PLATE = (400.0, 60.0)
LOAD, SECOND = 900.0, 300.0
P0 = 400.0
"""Peak pressure of what is made up, MPa."""


def stop(**keys):
    return case([(150.0, 25.0)], line_load=LOAD, plate=PLATE, margin=1.5, **keys)


def peaks(**stresses):
    """Peaks of a post, or of a plate, as a reading has them."""
    named = {"contact": CONTACT, "edge": EDGE, "side": BORE_SIDE,
             "under": UNDER_CONTACT, "back": PLATE_BACK}  # fmt: skip
    found = [Peak(of, 0.1, -0.2, named[zone], 0.3) for zone, of in stresses.items()]
    return tuple(sorted(found, key=lambda peak: -peak.von_mises))


def held(left=(30.0, 500.0, 70.0), right=(0.0, 400.0, 0.0)):
    """Reactions of both edges: along and across the plate, and their moment."""
    x = PLATE[0] / 2.0
    return Reaction("left edge", -x, -30.0, *left), Reaction("right edge", x, -30.0, *right)


NUMBERS = {
    "peak_pressure": P0, "half_width": 0.8, "approach": 0.2, "centre": 0.0,
    "tangential_load": 0.0, "motion": "no friction", "reactions": held(),
    "post": peaks(contact=220.0, side=30.0), "plate": peaks(under=210.0, back=20.0),
    "post_shear": 120.0, "plate_shear": 115.0, "bore_hoop": (50.0, -40.0), "stress": None,
    "added": -30.0, "back": 5.0, "deflection": 0.01, "filling": None, "participation": None,
    "slice": None,
}  # fmt: skip


def made(of, scale, numbers):
    """A level with these numbers, and the load of the first patch of a case."""
    n = SimpleNamespace(**NUMBERS | numbers)
    state = SimpleNamespace(
        centre=n.centre, tangential_load=n.tangential_load, motion=n.motion,
        reactions=n.reactions, line_load=of.line_loads[0], half_width=n.half_width,
    )  # fmt: skip
    patch = SimpleNamespace(
        state=state, peak_pressure=n.peak_pressure, half_width=n.half_width, peaks=n.plate,
        max_shear=n.plate_shear, back=n.back, deflection=n.deflection,
    )  # fmt: skip
    post = SimpleNamespace(
        peaks=n.post, max_shear=n.post_shear, added=(n.added,), bore_hoop=n.bore_hoop,
        centre=n.stress, filling=n.filling, participation=n.participation, strip=None,
    )  # fmt: skip
    # Of a post that was read as a slice alone the two are one.
    of_slice = post if n.slice is None else SimpleNamespace(**vars(post) | n.slice)
    reading = SimpleNamespace(
        state=SimpleNamespace(approach=n.approach, patches=(state,)), patches=(patch,),
        peak_pressure=n.peak_pressure, member_peaks=n.post, post=post, slice=of_slice,
    )  # fmt: skip
    return Solved(SimpleNamespace(case=of, section=of.sections[0], scale=scale), reading, 1, ())


def found(of=None, scale=1.0, before=None, **numbers):
    """What two levels give; ``before`` are the numbers of the coarse one that differ."""
    of = of or stop()
    coarse = made(of, 2.0 * scale, numbers | (before or {}))
    return read_out(Levels((coarse, made(of, scale, numbers))))


def off(key, *args, **keys):
    """The uncertainty of a value."""
    return found(*args, **keys).values[key].uncertainty


def close(number):
    return pytest.approx(number, rel=1e-9)


def test_two_levels_that_agree_are_no_surer_than_the_floor():
    for key in ("peak_pressure", "half_width", "approach", "deflection"):
        assert off(key) == close(0.003 * NUMBERS[key])
        assert off(key, scale=0.5) == close(0.0015 * NUMBERS[key])
        assert off(key, before={key: 1.01 * NUMBERS[key]}) == close(0.01 * NUMBERS[key])
    # Of a patch that slips in part the difference counts 1/(√2 − 1) times.
    slips = {"motion": "partial slip", "before": {"half_width": 0.81}}
    assert off("half_width", **slips) == close(0.01 * (2**0.5 + 1))


@pytest.mark.parametrize(("friction", "share"), [(0.29, 0.003), (0.3, 0.005)])
def test_a_stress_that_friction_puts_at_the_surface_is_less_sure(friction, share):
    of = stop(friction=friction)
    for key, number in {"post_peak": 220.0, "plate_peak": 210.0,
                        "post_max_shear": 120.0, "plate_max_shear": 115.0}.items():  # fmt: skip
        assert off(key, of) == close(share * number)
    assert off("peak_pressure", of) == close(0.003 * P0)


@pytest.mark.parametrize(("coarse", "stated"), [(1.01, 0.06), (1.2, 0.2)])
def test_a_small_stress_is_no_surer_than_the_pressure_beside_it(coarse, stated):
    small, other = {"bore_hoop": (1.0, 1.0)}, {"bore_hoop": (coarse, coarse)}
    values = found(scale=0.5, before=other, **small).values
    for key in ("bore_hoop_under_load", "bore_hoop_at_side"):
        assert values[key] == Value(1.0, close(stated))
    values = found(scale=0.5, before={"stress": (coarse, coarse)}, stress=(1.0, 1.0)).values
    for key in ("centre_along", "centre_across"):
        assert values[key] == Value(1.0, close(stated))
    values = found(scale=0.5, before={"added": coarse}, added=1.0).values
    assert values["added_hoop"] == Value(1.0, close(stated))


def test_a_section_has_only_the_stresses_of_its_kind():
    tube, solid = found().values, found(bore_hoop=None, stress=(-20.0, 6.0)).values
    assert tube.keys() - solid.keys() == {"bore_hoop_under_load", "bore_hoop_at_side"}
    assert solid.keys() - tube.keys() == {"centre_along", "centre_across"}
    filling = SimpleNamespace(tension=1.0, compression=-2.0, bond_tension=0.5, bond_shear=0.25)
    filled = found(filling=filling).values
    infill = {key: filled[key] for key in filled.keys() - tube.keys()}
    assert infill == {
        "infill_tension": Value(1.0, close(0.003)), "infill_compression": Value(-2.0, close(0.006)),
        "bond_tension": Value(0.5, close(0.0015)), "bond_shear": Value(0.25, close(0.00075)),
    }  # fmt: skip


FINITE = {"slice_post_peak", "slice_stress_concentration"}
"""Of a slice, beside what a finite contact makes of it; more by the kind of section."""


def test_what_is_of_a_slice_stands_beside_a_finite_contact_alone():
    slice_ = {"peaks": peaks(contact=200.0, side=35.0), "bore_hoop": (60.0, -45.0)}
    long, short = found().values, found(slice=slice_, participation=0.8).values
    bore = {"slice_bore_hoop_under_load", "slice_bore_hoop_at_side"}
    assert short.keys() - long.keys() == FINITE | bore | {"participation"}
    assert long.keys() <= short.keys()
    assert short["participation"] == Value(0.8, close(0.02))  # more than 0.06 of 1 − 0.8
    assert short["post_peak"].value == 220.0
    peak = short["slice_post_peak"]
    assert (peak.value, peak.uncertainty, peak.place.zone) == (200.0, close(0.6), CONTACT)
    assert short["slice_stress_concentration"].value == close(200.0 * 150.0 / LOAD)
    assert short["slice_bore_hoop_under_load"].value == 60.0
    assert short["slice_bore_hoop_at_side"].value == -45.0
    solid = found(bore_hoop=None, stress=(-20.0, 6.0), slice={"centre": (-22.0, 7.0)}).values
    assert {key: of.value for key, of in solid.items() if key.startswith("slice_centre")} == {
        "slice_centre_along": -22.0, "slice_centre_across": 7.0
    }  # fmt: skip
    assert not bore & solid.keys()


def test_the_middle_of_a_patch_is_no_surer_than_its_half_width():
    assert off("centre", centre=0.01) == close(0.003 * 0.8)
    assert off("centre", scale=0.5, centre=0.01) == close(0.003 * 0.8)
    assert off("centre", centre=0.01, before={"centre": -0.03}) == close(0.04)


def test_the_added_stress_is_no_surer_than_the_middle_where_friction_makes_it_steep():
    # It falls by 2μ p0 per half-width, and the middle is sure to 0.04 of 0.8 mm.
    moved = {"centre": 0.01, "before": {"centre": -0.03}}
    beside = 0.0003 * P0
    assert off("added_hoop", **moved) == close(beside)
    slope = 2.0 * 0.2 * P0
    assert off("added_hoop", stop(friction=0.2), **moved) == close(beside + slope * 0.04 / 0.8)


@pytest.mark.parametrize(
    ("motion", "load", "stated"),
    [
        ("no friction", 0.0, 0.0),
        ("full sliding", 180.0, 0.0),
        ("sticking", 100.0, 0.54),  # 0.3 % of μ q
        ("partial slip", 100.0, 0.54),
    ],
)
def test_a_friction_force_is_exact_where_it_is_nil_or_used_up(motion, load, stated):
    of = stop(friction=0.2)
    values = found(of, tangential_load=load, motion=motion).values
    assert values["tangential_load"] == Value(load, close(stated))
    assert values["tangential_ratio"] == Value(load / LOAD, close(stated / LOAD))
    part = {"tangential_load": load, "motion": motion, "before": {"tangential_load": load + 5.0}}
    times = 5.0 * (2**0.5 + 1) if motion == "partial slip" else 5.0
    assert off("tangential_load", of, **part) == close(times if stated else 0.0)


def test_stress_along_the_back_is_no_surer_than_what_presses_through():
    assert off("back_stress") == close(0.003 * LOAD / PLATE[1])
    assert off("back_stress", back=50.0) == close(0.003 * 50.0)


def test_the_largest_reaction_is_compared_at_the_place_that_the_fine_level_has():
    # On the coarse level the other edge has the larger force, by chance.
    before = {"reactions": held(left=(30.0, 510.0, 72.0), right=(0.0, 600.0, 9.0))}
    values = found(before=before).values
    force = (30.0**2 + 500.0**2) ** 0.5
    place = Place("left edge", -200.0, -30.0)
    of = {key: values[key] for key in values if key.startswith("reaction_")}
    assert values["largest_reaction"] == Value(
        close(force), close((30.0**2 + 510.0**2) ** 0.5 - force), place
    )
    assert of == {
        "reaction_along": Value(30.0, close(0.003 * force), place),
        "reaction_across": Value(500.0, close(10.0), place),
        "reaction_moment": Value(70.0, close(2.0), place),
    }
    # Statics alone fixes a moment of nothing, to rounding.
    alone = found(reactions=held(left=(30.0, 500.0, 0.0))).values
    assert alone["reaction_moment"].uncertainty == close(1e-7 * force * PLATE[0])


def test_other_places_are_no_surer_than_meshes_made_for_the_peak_are_there():
    of = found().zones
    assert of.keys() == {"post_peak", "plate_peak"}
    assert of["post_peak"] == (
        Value(220.0, close(0.66), Place(CONTACT, 0.1, -0.2, 0.3)),
        Value(30.0, close(0.22), Place(BORE_SIDE, 0.1, -0.2, 0.3)),
    )
    assert [place.uncertainty for place in of["plate_peak"]] == [close(0.63), close(0.21)]
    # At a bore that is bonded to a rigid core stress falls off steeply; the plate has none.
    core = found(stop(held_by="rigid core")).zones
    assert [place.uncertainty for place in core["post_peak"]] == [close(0.66), close(0.66)]
    assert core["plate_peak"] == of["plate_peak"]


def test_each_place_is_compared_with_itself_and_the_peak_with_the_peak():
    # The peak goes from the bore to the edge of contact, whose zone was called contact before.
    before = {"post": peaks(contact=215.0, side=216.0)}
    edge, side = found(post=peaks(edge=220.0, side=214.0), before=before).zones["post_peak"]
    assert (edge.at.zone, edge.uncertainty) == (EDGE, close(4.0))
    assert (side.at.zone, side.uncertainty) == (BORE_SIDE, close(2.0))
    other = found(post=peaks(edge=214.0, side=220.0), before=before).zones["post_peak"]
    assert [place.uncertainty for place in other] == [close(4.0), close(1.0)]


def test_a_derived_value_is_the_other_over_what_is_sure():
    values = found(before={"post": peaks(contact=230.0, side=30.0)}).values
    allowed, peak = 690.0 / 1.5, values["post_peak"]
    assert (peak.uncertainty, peak.upper, peak.at.zone) == (close(10.0), close(230.0), CONTACT)
    assert values["post_utilisation"] == Value(close(220.0 / allowed), close(10.0 / allowed))
    assert values["stress_concentration"].value == close(220.0 * 150.0 / LOAD)
    assert values["plate_utilisation"].value == close(210.0 / allowed)
    assert Body(values, "post").satisfied
    with pytest.raises(ValueError, match="no place"):
        _ = values["approach"].at


def test_keys_are_unique_and_each_derived_is_of_a_quantity():
    keys = [entry.key for entry in QUANTITIES]
    assert len(set(keys)) == len(keys)
    assert not any(key.endswith("_second") for key in keys)
    read_off = {entry.key: entry for entry in QUANTITIES if not isinstance(entry, Derived)}
    derived = [entry for entry in QUANTITIES if isinstance(entry, Derived)]
    assert len(derived) == 5
    for entry in derived:
        assert entry.of_patch == read_off[entry.of].of_patch
    assert {key.removesuffix("_second") for key in BESIDE_OF.values()} <= read_off.keys()


@pytest.fixture(scope="module")
def corner():
    """A post in a corner, on meshes coarser than any that results are read from."""
    of = stop(corner=SECOND)
    (section,), bodies = of.sections, Bodies(of)
    expected = expected_patches(of, section)
    coarse, fine = (build(of, bodies, section, expected, scale) for scale in (8.0, 4.0))
    return Levels(tuple(Solved(level, read(level), 1, ()) for level in (coarse, fine)))


def test_values_are_the_figures_of_the_fine_level(corner):
    one, both = figures(corner.fine), read_out(corner)
    assert one == {key: Figure(v.value, v.place) for key, v in both.values.items()}
    # Exact without friction, and on a rigid base.
    exact = {key for key, value in both.values.items() if value.uncertainty == 0.0}
    assert {key.removesuffix("_second") for key in exact} == {
        "tangential_load", "tangential_ratio", "deflection"
    }  # fmt: skip
    assert both.zones.keys() == {"post_peak", "plate_peak", "plate_peak_second"}
    for key, of_zones in both.zones.items():
        assert of_zones[0] == both.values[key]
        assert zones(corner.fine, key) == tuple(Figure(v.value, v.place) for v in of_zones)


def test_the_second_patch_of_a_corner_has_keys_of_its_own(corner):
    values, reading = read_out(corner).values, corner.fine.reading
    # First yield is found over loads, and not read off one.
    second = {entry.key for entry in QUANTITIES if entry.of_patch} - {"plate_first_yield"}
    assert {key for key in values if key.endswith("_second")} == {key_of(k, 1) for k in second}
    assert second <= values.keys()
    for number, patch in enumerate(reading.patches):
        assert values[key_of("peak_pressure", number)].value == patch.peak_pressure
        assert values[key_of("plate_peak", number)].value == patch.peaks[0].von_mises
    # Hertz: the root of the load.
    ratio = values["peak_pressure"].value / values["peak_pressure_second"].value
    assert ratio == pytest.approx((LOAD / SECOND) ** 0.5, rel=0.02)
    plate = Body(values, "second plate")
    assert plate.peak_von_mises == values["plate_peak_second"]
    assert plate.utilisation == plate.peak_von_mises.over(690.0 / 1.5)
    assert plate.get("first_yield") is None


def test_the_second_friction_force_is_over_the_second_load(corner):
    solved = corner.fine
    first, second = solved.reading.patches
    pulled = replace(second, state=replace(second.state, tangential_load=30.0))
    found = figures(replace(solved, reading=replace(solved.reading, patches=(first, pulled))))
    assert found["tangential_ratio_second"].value == 30.0 / SECOND
    assert found["tangential_ratio"].value == 0.0
