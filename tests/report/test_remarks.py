"""Why a hand formula and the computed figure beside it part, where they do."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from alignments import bent
from bodies import case
from saying import only

from contactfe.assess import places
from contactfe.assess.compare import compare
from contactfe.report.remarks import remark, share_of_peak


@pytest.fixture(scope="module")
def answer():
    return compare(case([(150.0, None), (150.0, 25.0)], margin=1.5))


def remarks_of(answer, name):
    result = answer.section(name)
    return {check.key: (check, remark(answer.case, result, check)) for check in result.hand_checks}


def test_remarks_say_why_where_hand_and_computed_part(answer):
    said = remarks_of(answer, "150 x 25")
    assert said["ring_bore_under_load"][1] == ""
    assert "0.40 of the mean radius" in said["thin_ring_bore_at_side"][1]
    assert "MPa along the surface" in said["hertz_peak_von_mises"][1]
    assert "friction" not in said["hertz_peak_von_mises"][1]  # there is none
    for key, (check, why) in said.items():
        assert check.difference == pytest.approx(check.hand / check.computed - 1.0)
        rough = key.startswith(("thin", "curved", "layer"))
        limit = 0.03 if rough else 0.02 if "yield" in key else 0.01
        out_of_range = not check.step.worked.within_range
        assert bool(why) == (abs(check.difference) > limit or out_of_range), key
        assert why.startswith("outside its range (") == out_of_range, key
    assert "h/R = 0.4, at most 0.1" in said["thin_ring_bore_at_side"][1]


def test_what_agrees_needs_no_remark(answer):
    said = remarks_of(answer, "solid 150")
    assert said["approach_of_axis"][1] == ""
    assert said["hertz_first_yield_line_load"][1] == ""


def test_the_remark_on_first_yield_names_the_place_that_yields():
    found = compare(case([(150.0, 12.0)], line_load=1200.0, held_by="diametral"))
    assert found.sections[0].member.peak_von_mises.at.zone == places.BORE_UNDER_LOAD
    _, why = remarks_of(found, "150 x 12")["hertz_first_yield_line_load"]
    assert only([why], "post", f"first at the {places.BORE_UNDER_LOAD}")
    # The patch at the load at which the contact alone would yield is wide for that wall.
    assert only([why], "outside its range (a/h,")


@pytest.mark.parametrize(
    ("section", "keys", "shortest", "name"),
    [
        ((150.0, 25.0), {}, 25.0, "wall"),
        ((150.0, None), {}, 60.0, "plate's thickness"),
        ((100.0, None), {}, 50.0, "radius"),
        ((150.0, None), {"offset": -170.0}, 30.0, "distance to the plate's edge"),
    ],
)
def test_hertz_is_explained_by_the_shortest_of_the_lengths_it_takes_as_endless(
    answer, section, keys, shortest, name
):
    stop = case([section], **keys)
    (check,) = (c for c in answer.sections[0].hand_checks if c.key == "hertz_half_width")
    check = replace(check, computed=2.0 * check.hand)
    reading = SimpleNamespace(patches=[SimpleNamespace(half_width=1.2)])
    result = replace(answer.sections[0], section=stop.sections[0], reading=reading)
    why = remark(stop, result, check)
    assert only([why], f"{1.2 / shortest:.3f} of the {name}", "Hertz")


def test_a_peak_read_beside_that_of_the_line_load_says_so():
    (section,) = bent().sections
    share = share_of_peak(bent().case, section)
    assert 0.0 < share <= 1.0
    (check,) = (one for one in section.hand_checks if one.key == "hertz_peak_von_mises")
    whole, half = (
        replace(section, length=replace(section.length, line_load=(most,)))
        for most in (share * section.length.peak_line_load, 2.0 * section.length.peak_line_load)
    )
    assert "read where" not in remark(bent().case, whole, check)
    text = f"read where that is {50 * share:.0f} % of it"
    assert text in remark(bent().case, half, check)
    (plate,) = (one for one in section.hand_checks if one.key == "hertz_peak_von_mises_plate")
    assert "read where" not in remark(bent().case, half, plate)
