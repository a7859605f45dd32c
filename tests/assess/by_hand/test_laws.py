"""Laws that a case by hand keeps whatever its numbers."""

import math
from dataclasses import replace

import bodies
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from restated import restated

from contactfe.assess.by_hand.case import by_hand
from contactfe.case import Cantilever, Case

FREE_OF_SCALE = {"stress", None}
"""Dimensions of figures that lengths and line loads scaled alike leave as they are."""

few = settings(deadline=None, max_examples=25)
loads = st.floats(20.0, 1500.0)
scales = st.floats(0.3, 3.0)
diameters = st.floats(60.0, 200.0)
shares = st.floats(0.08, 0.4)  # of the diameter
holds = st.sampled_from(["beam shear", "diametral"])
plates = st.sampled_from(["rigid base", "simply supported", "clamped"])


def stop(diameter, wall, line_load, scale=1.0, **keys) -> Case:
    case = bodies.case(
        [(scale * diameter, wall and scale * wall)],
        line_load=scale * line_load,
        plate=(400.0 * scale, 60.0 * scale),
        yield_strength=345.0,
        **keys,
    )
    steel = replace(case.post.steel, ultimate_strength=450.0)
    return restated(
        case,
        post=replace(case.post, steel=steel),
        plate=replace(case.plate, steel=steel),
        contact_length=200.0 * scale,
        cantilever=Cantilever(900.0 * scale, 10.0 * scale, 483.0),
    )


def found(*args, **keys):
    return by_hand(stop(*args, **keys)).sections[0]


@few
@given(diameters, st.none() | shares, loads, scales, holds, plates, st.floats(0.0, 0.5))
def test_a_stop_of_another_size_has_the_same_stresses_and_ratios(
    diameter, share, load, scale, held_by, plate_held, friction
):
    wall = share and share * diameter
    keys = {"held_by": held_by, "plate_held": plate_held, "friction": friction}
    one = found(diameter, wall, load, **keys)
    other = found(diameter, wall, load, scale, **keys)
    compared = 0
    for here, there in zip(one.steps, other.steps, strict=True):
        assert here.key == there.key
        if here.worked.dimension in FREE_OF_SCALE:
            # The series and searches keep nine digits at least; small differences of large
            # stresses lose some.
            assert there.worked.value == pytest.approx(here.worked.value, rel=1e-7, abs=1e-9), (
                here.key
            )
            compared += 1
        elif here.worked.dimension in {"length", "line load"}:
            assert there.worked.value == pytest.approx(scale * here.worked.value, rel=1e-7), (
                here.key
            )
    assert compared > 8
    # Up to 630 mm, where the rule of AISC for rollers is in proportion to the diameter.
    for here, there in zip(one.clauses, other.clauses, strict=True):
        assert there.check.ratio == pytest.approx(here.check.ratio, rel=1e-9), here.key


@few
@given(diameters, loads, st.floats(0.1, 4.0))
def test_hertz_grows_with_the_root_of_the_load(diameter, load, times):
    one, other = found(diameter, None, load), found(diameter, None, times * load)
    for key in ("hertz_peak_von_mises", "hertz_peak_von_mises_plate"):
        grown = other.step(key).utilisation / one.step(key).utilisation
        assert grown == pytest.approx(math.sqrt(times))
    for key in ("hertz_first_yield_line_load", "shakedown_line_load"):
        assert other.value(key) == pytest.approx(one.value(key))  # a strength, not a demand


@few
@given(diameters, loads, st.floats(0.1, 4.0), st.sampled_from(["SI", "US customary"]))
def test_ratios_of_rollers_grow_with_the_load(diameter, load, times, units):
    def ratio(load, key):
        section = found(diameter, None, load, units=units)
        return next(c.check.ratio for c in section.clauses if c.key == key)

    for key in ("aisc_360.j7_roller", "aashto_lrfd.14_7_1_4_cylinder", "en_1337_4.roller"):
        assert ratio(times * load, key) == pytest.approx(times * ratio(load, key))
    flat = "en_1993_1_8.flat_contact_by_analogy"
    assert ratio(times * load, flat) == pytest.approx(math.sqrt(times) * ratio(load, flat))


@few
@given(diameters, shares, loads, loads)
def test_a_ring_in_a_corner_adds_up(diameter, share, first, second):
    wall = share * diameter

    def hoop(place, load, **keys):
        return found(diameter, wall, load, **keys).value(f"ring_bore_{place}")

    # A quarter turn takes one place of the bore to the other.
    both = replace(stop(diameter, wall, first, corner=second), cantilever=None)
    at_side = by_hand(both).sections[0].value("ring_bore_at_side")
    parts = hoop("at_side", first) + hoop("under_load", second)
    assert at_side == pytest.approx(parts, rel=1e-9, abs=1e-9)


@few
@given(diameters, st.none() | shares, loads, holds, plates)
def test_units_shown_change_no_number_that_is_held(diameter, share, load, held_by, plate_held):
    wall = share and share * diameter
    keys = {"held_by": held_by, "plate_held": plate_held}
    one = found(diameter, wall, load, units="SI", **keys)
    other = found(diameter, wall, load, units="US customary", **keys)
    assert one.steps == other.steps
    for here, there in zip(one.clauses, other.clauses, strict=True):
        if here.key != "aisc_360.j7_roller":  # whose two forms differ by rounding
            assert here == there
        else:
            assert there.check.ratio == pytest.approx(here.check.ratio, rel=0.01)
