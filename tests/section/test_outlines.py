import math

import pytest

from contactfe.section.outlines import geometry_of

STATED = {"filled": False, "drawn": False, "governing_thickness": None}


def test_a_solid_is_a_disc_whose_strength_goes_by_its_diameter():
    solid = geometry_of(150.0, None, **STATED)
    assert solid.area == pytest.approx(math.pi * 150**2 / 4, rel=1e-14)
    assert (solid.bore, solid.wall, solid.steel_thickness) == (0.0, None, 150.0)
    assert (solid.in_plane, solid.along, solid.read_at) == ("disc", "solid", "centre")
    assert not solid.hollow


def test_a_tube_is_a_ring_whose_strength_goes_by_its_wall():
    tube = geometry_of(150.0, 25.0, **STATED)
    assert tube.area == pytest.approx(math.pi * (150 - 25) * 25, rel=1e-14)
    assert (tube.bore, tube.wall, tube.steel_thickness, tube.infill_area) == (100, 25, 25, 0)
    assert (tube.in_plane, tube.along, tube.read_at) == ("ring", "tube", "bore")


def test_a_filled_tube_is_a_tube_along_the_post_and_no_ring():
    tube = geometry_of(150.0, 25.0, **STATED)
    filled = geometry_of(150.0, 25.0, **STATED | {"filled": True})
    assert filled.area == tube.area  # of the steel alone
    assert filled.infill_area == pytest.approx(math.pi * 50**2, rel=1e-14)
    assert filled.outline.filled
    assert (filled.in_plane, filled.along, filled.product) == (None, "tube", "tube")


def test_of_an_own_mesh_no_formula_holds_and_it_keeps_its_areas_to_itself():
    own = geometry_of(160.0, None, **STATED | {"drawn": True})
    assert (own.bore, own.area, own.infill_area) == (0.0, None, 0.0)
    assert (own.in_plane, own.along, own.read_at, own.symmetric) == (None, None, None, False)
    assert own.hollow  # as far as is known


@pytest.mark.parametrize(
    ("thickness", "counts"),
    [(None, (160.0, "outside_diameter", "solid")), (20.0, (20.0, "steel_thickness", "tube"))],
)
def test_an_own_mesh_counts_as_cut_from_bar_unless_its_thickness_is_stated(thickness, counts):
    own = geometry_of(160.0, None, **STATED | {"drawn": True, "governing_thickness": thickness})
    assert (own.steel_thickness, own.thickness_key, own.product) == counts
