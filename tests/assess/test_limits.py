from contextlib import nullcontext

import pytest
from bodies import case
from restated import restated

from contactfe.assess.accuracy import solve_levels
from contactfe.assess.bodies import Bodies
from contactfe.assess.compare import compare
from contactfe.assess.limits import check_patch
from contactfe.assess.section import assess_section
from contactfe.errors import InputError
from contactfe.section import grading
from contactfe.section.grading import Patch


@pytest.mark.parametrize(
    ("sections", "changes", "parts"),
    [
        # Patch against radius, width and thickness.
        ([(150.0, None)], {"line_load": 200e3}, ['line_load = "200000 N/mm"', "at most 0.1"]),
        ([(150.0, None)], {"line_load": 1e-9}, ["line_load", "at least 1e-06"]),
        ([(150.0, None)], {"plate": (5.0, 60.0)}, ['[plate] width = "5 mm"', "2.5 half-widths"]),
        ([(150.0, None)], {"plate": (400.0, 2.0)}, ['thickness = "2 mm"', "2 half-widths"]),
        # A patch that only shows when solved: this tube flattens.
        ([(150.0, 4.0)], {"line_load": 1500.0}, ["line_load", "0.1"]),
        # What hardly changes its volume.
        ([(150.0, None)], {"poisson": 0.47}, ["[post] poisson = 0.47", "at most 0.46"]),
        ([(150.0, None)], {"plate_poisson": 0.499}, ["[plate] poisson = 0.499", "at most 0.46"]),
        # Slimness and displacement.
        ([(150.0, None)], {"plate": (4000.0, 12.0)}, ['thickness = "12', "250th", "16 mm"]),
        ([(150.0, 0.5)], {"line_load": 1.0}, ['wall = "0.5 mm"', "200th", "0.75 mm"]),
        (
            [(150.0, None)],
            {"plate": (1000.0, 25.0), "plate_held": "simply supported", "line_load": 600.0},
            ["line_load", "give way by", "at most 0.1", "7.5 mm"],
        ),
    ],
)
def test_beyond_the_model_is_one_line_with_key_value_and_limit(sections, changes, parts):
    with pytest.raises(InputError) as refusal:
        compare(case(sections, **changes))
    message = str(refusal.value)
    assert message.startswith("<data>: ")
    assert "\n" not in message
    for part in parts:
        assert part in message


@pytest.mark.parametrize(
    ("sections", "changes"),
    [
        ([(150.0, 1.5)], {"line_load": 2.0}),  # a wall of 1 % of the diameter
        (
            [(150.0, None)],
            {"plate": (1000.0, 25.0), "plate_held": "simply supported", "line_load": 60.0},
        ),
        ([(150.0, None)], {"poisson": 0.46}),
        ([(150.0, None)], {"poisson": 0.4999, "state": "plane stress"}),
        ([(3000.0, None)], {"plate": (4000.0, 500.0)}),
        ([(5.0, None)], {"line_load": 20.0}),
        ([(150.0, None)], {"plate_young": 1e3, "plate_yield": 100.0, "line_load": 100.0}),
    ],
    ids=["thin", "slender", "hardly compressible", "incompressible", "huge", "tiny", "soft plate"],
)
def test_within_the_model_is_solved(sections, changes):
    c = case(sections, **changes)
    reading = solve_levels(c, c.sections[0], Bodies(c)).fine.reading
    assert reading.state.force_balance <= 1e-9
    assert reading.member_peaks[0].von_mises > 0.0


def test_the_key_named_is_one_that_the_file_has():
    c = case([(150.0, None)], line_load=200e3)
    with pytest.raises(InputError, match="force over contact_length"):
        compare(restated(c, contact_length=300.0))


def test_a_peak_outside_the_refined_zones_is_meshed_for(monkeypatch):
    # As if the refined zone were too shallow for the peak, which lies 0.7 half-widths deep.
    monkeypatch.setattr(grading, "REFINED_DEPTH", 0.2)
    c = case([(150.0, None)])
    levels = solve_levels(c, c.sections[0], Bodies(c))
    assert levels.coarse.meshes == 2
    assert levels.fine.meshes == 1  # the coarse level hands its focus on
    peak = levels.fine.reading.member_peaks[0]
    assert levels.fine.level.grading.refined(peak.x, peak.y)
    assert peak.depth / levels.fine.reading.half_width == pytest.approx(0.70, abs=0.05)


def test_first_yield_on_a_narrow_plate_is_none_not_an_error():
    c = case([(150.0, None)], line_load=300.0, plate=(5.0, 60.0))
    assert assess_section(c, c.sections[0], Bodies(c)).member.first_yield_line_load is None


def test_first_yield_does_not_hang_on_the_load_of_the_case():
    loads = []
    for q in (20.0, 900.0):
        c = case([(150.0, 12.0)], line_load=q)
        loads.append(assess_section(c, c.sections[0], Bodies(c)).member.first_yield_line_load.value)
    assert loads == pytest.approx([loads[0]] * 2, rel=4e-3)


@pytest.mark.parametrize(("centre", "fits"), [(3.0, False), (-3.0, True), (0.0, True)])
def test_the_edge_is_as_far_as_it_is_from_the_middle_of_the_patch(centre, fits):
    # 5 mm from the edge at first contact, of which 3 mm are needed: 2.5 half-widths.
    c = case([(150.0, None)], plate_held="simply supported", offset=195.0)
    told = nullcontext() if fits else pytest.raises(InputError, match=r"offset = .* not 2 mm")
    with told:
        check_patch(c, c.sections[0], 0, Patch(centre, 1.2))
