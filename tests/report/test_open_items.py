"""Why what is open is open, in words."""

from dataclasses import replace
from typing import get_args

import pytest
from alignments import case
from handcases import TUBE, stop
from motions import moving
from restated import restated

from contactfe.assess.checks import Bounds, OpenItem, OpenKey
from contactfe.case.alignment import why_even
from contactfe.case.settings import Accept
from contactfe.case.table import keys
from contactfe.report.open_items import not_long, settled_by, worded
from contactfe.report.verdicts import open_data, open_lines

SUNK = case(cantilever={"length": "450 mm", "socket_depth": "200 mm"})
GROOVED = case(cantilever={"length": "450 mm", "root": "groove weld"})
KNOWN = {"compressive_strength": "9 MPa", "tensile_strength": "1 MPa", "bond_strength": "1 MPa"}


def filled(**strengths):
    infill = {"young": "30 GPa", "poisson": 0.2, "density": "2 t/m^3"} | strengths
    tube = {"name": "grouted", "outside_diameter": "150 mm", "wall": "20 mm", "infill": infill}
    return case(section=[tube], alignment=None)


UNWELDED = case(alignment=None)
"""A cantilever, and no throat of its weld."""

WELDED = case(cantilever={"length": "450 mm", "weld_throat": "12 mm"})
OWN_CURVE = moving(
    contact_law={"law": "section"}, load={"force": "700 kN", "contact_length": "500 mm"}
)
AT_LEVELS = moving(
    motion__displacement=None, motion__level=[{"name": "MCE", "displacement": "310 mm"}]
)


def bounds(why, bore=170.0):
    return Bounds("tube", 404.0, 430.0, bore, why)


@pytest.mark.parametrize(
    "items",
    [
        [
            OpenItem("motion", stop()),
            OpenItem("motion", OWN_CURVE),
            OpenItem("motion", moving()),
            OpenItem("motion", moving(), why="force not found"),
            OpenItem("motion", moving(), why=0.24),
            OpenItem("motion", AT_LEVELS, why=0.24),
        ],
        [OpenItem("law", moving()), OpenItem("law", moving(), why=4.0)],
        [OpenItem("ground", moving()), OpenItem("ground", OWN_CURVE)],
        [OpenItem("sharing", stop()), OpenItem("sharing", case())],
        [
            OpenItem("post", stop()),
            OpenItem("post", case(), why="own mesh"),
            OpenItem("post", case()),
        ],
        [OpenItem("root", UNWELDED), OpenItem("root", WELDED)],
        [
            OpenItem("relief", stop(TUBE), why=why, bounds=of)
            for why in ("length not stated", "plane stress")
            for of in ((), (bounds(why),))
        ],
    ],
)
def test_each_reason_has_its_own_sentence_under_the_label_of_its_key(items):
    labels, reasons = zip(*map(worded, items), strict=True)
    assert len(set(labels)) == 1
    assert len(set(reasons)) == len(items)


@pytest.mark.parametrize(
    ("item", "named"),
    [
        (OpenItem("motion", stop()), "[motion]"),
        (OpenItem("motion", OWN_CURVE), "contactfe impact"),
        (OpenItem("motion", moving(load={"line_load": "9 kN/mm"})), "[load]"),
        (OpenItem("motion", moving(), why="force not found"), "not found"),
        (OpenItem("sharing", stop()), why_even(stop())),
        (OpenItem("sharing", case()), "by hand"),
        (OpenItem("post", stop()), "[cantilever]"),
        (OpenItem("post", case(), why="own mesh"), "own mesh"),
        (OpenItem("root", UNWELDED), "states no weld_throat"),
        (OpenItem("root", SUNK), "socket_yield"),
        (OpenItem("root", GROOVED), "ultimate"),
        (OpenItem("infill", filled()), "no strength"),
        (OpenItem("infill", filled(compressive_strength="20 MPa")), "bond_strength"),
        (OpenItem("infill", filled(**KNOWN)), "bending along its axis"),
        (OpenItem("root", WELDED), "electrode_strength"),
        (OpenItem("relief", stop(TUBE), why="plane stress"), "plane stress"),
        (OpenItem("relief", stop(TUBE), why="length not stated"), "length is not stated"),
    ],
)
def test_a_reason_names_what_keeps_it_open(item, named):
    assert named in worded(item)[1]


@pytest.mark.parametrize(
    ("item", "by"),
    [
        (OpenItem("motion", stop()), "[motion]"),
        (OpenItem("motion", OWN_CURVE), "contactfe impact"),
        (OpenItem("motion", moving(load={"line_load": "9 kN/mm"})), "[load] contact_length"),
        (OpenItem("motion", moving(), why=0.24), ""),
        (OpenItem("ground", moving()), ""),
        (OpenItem("sharing", stop()), "[cantilever]"),
        (OpenItem("sharing", case()), "contactfe compare"),
        (OpenItem("sharing", stop(cantilever=(450.0, 6.0, 480.0))), "[load] distribution"),
        (OpenItem("sharing", stop(corner=300.0)), "[load] distribution"),
        (OpenItem("law", moving(), why=4.0), 'law = "section"'),
        (OpenItem("tilt", case()), "[alignment]"),
        (OpenItem("post", stop()), "[cantilever]"),
        (OpenItem("post", case(), why="own mesh"), ""),
        (OpenItem("root", UNWELDED), "weld_throat"),
        (OpenItem("root", WELDED), "electrode_strength"),
        (OpenItem("root", SUNK), "socket_yield"),
        (OpenItem("relief", stop(TUBE), why="length not stated"), "[load] contact_length"),
        (OpenItem("relief", stop(TUBE), why="plane stress"), ""),
        (OpenItem("infill", filled(compressive_strength="20 MPa")), "bond_strength"),
        (OpenItem("infill", filled(**KNOWN)), ""),
        (OpenItem("tolerance", stop(TUBE)), "[tolerance]"),
        (OpenItem("tolerance", stop(TUBE), why="limits not solved"), "contactfe compare"),
    ],
)
def test_an_open_item_names_what_settles_it(item, by):
    assert by in settled_by(item)
    assert bool(by) == bool(settled_by(item))
    for by_name in (False, True):
        (line,) = (one.text for one in open_lines(item.case, [item], by_name=by_name))
        assert settled_by(item) in line


def test_every_key_that_a_case_accepts_has_its_words():
    assert set(get_args(OpenKey)) == set(keys(Accept))
    labels = {worded(OpenItem(key, case(), why="plane stress"))[0] for key in get_args(OpenKey)}
    assert len(labels) == len(get_args(OpenKey))


def test_the_numbers_of_a_reason_are_in_it():
    assert "24 % more force" in worded(OpenItem("motion", moving(), why=0.24))[1]
    soft = worded(OpenItem("law", moving(), why=6.25))[1]  # 2.5, its root, of a linear spring
    assert "6.25 times" in soft
    assert "2.50 times as large or more" in soft  # a contact that stiffens comes to more
    item = OpenItem(
        "relief",
        stop(TUBE),
        why="plane stress",
        bounds=(bounds("plane stress"), bounds("plane stress", None)),
    )
    found = worded(item)[1]
    for stress, count in (("404", 2), ("430", 2), ("170", 1)):
        assert found.count(f"{stress} MPa") == count
    us = replace(item, case=restated(item.case, report_units="US customary"))
    assert "ksi" in worded(us)[1]


def test_a_record_has_its_reasons_in_words():
    item = OpenItem("relief", stop(TUBE), ("tube",), "plane stress", (bounds("plane stress"),))
    (record,) = open_data([item])
    assert (record["label"], record["why"]) == worded(item)
    (of,) = record["bounds"]
    assert list(of) == ["section", "slice_peak", "half_space_peak", "bore", "why"]
    assert of["why"] == not_long("plane stress")
    us = replace(item, case=restated(item.case, report_units="US customary"))
    assert open_data([us]) == [record]  # in MPa, as its numbers
    (line,) = open_lines(item.case, [item])
    assert all(text in line.text for text in (*worded(item), "tube"))
    assert line.tone == "strong"
    taken = replace(item, case=restated(item.case, accepted=(("relief", "a long contact"),)))
    (line,) = open_lines(taken.case, [taken])
    assert (line.tone, "a long contact" in line.text) == ("plain", True)
    assert open_data([taken])[0]["accepted"] == "a long contact"


def test_by_name_what_is_accepted_does_not_stand_as_open():
    taken = restated(stop(), accepted=(("motion", "a frame"),))
    items = [OpenItem("motion", taken), OpenItem("post", taken)]
    still, accepted = (line.text for line in open_lines(taken, items, by_name=True))
    label = worded(items[0])[0]
    assert label in accepted
    assert label not in still
