"""A specimen of a case: what scales, what stays, and that its contact is the prototype's."""

import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from pathlib import Path

import bodies
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from specimens import CORNER, STATED

from contactfe.assess.accuracy import expected_patches
from contactfe.assess.bodies import Bodies
from contactfe.assess.level import build
from contactfe.assess.reading import read
from contactfe.case import Cantilever, Section, case_from_dict, sizing
from contactfe.case.alignment import Alignment, Profile, Spread, Strip
from contactfe.case.motion import Damper
from contactfe.case.scaling import ratio, scaled
from contactfe.case.table import dimensions
from contactfe.errors import ContactfeError, InputError

ROOT = Path(__file__).parents[2]


SPREAD = Spread(
    1.6, 850.0, (Strip(700.0, (1.6,), 2e6, 0),), (Profile(950.0, (700.0, 900.0), ((1.6, 0.4),)),)
)

STOP = replace(
    case_from_dict(STATED, str(ROOT / "stop.toml")), spread=SPREAD,
    alignment=Alignment(0.001, 0.002),
)  # fmt: skip
"""What no file may state together."""


@pytest.fixture
def prototype():
    return STOP


def _leaves(held, at=""):
    """Every number of a record, by where it stands."""
    if is_dataclass(held):
        for field in fields(held):
            yield from _leaves(getattr(held, field.name), f"{at}.{field.name}")
    elif isinstance(held, tuple):
        for k, one in enumerate(held):
            yield from _leaves(one, f"{at}[{k}]")
    elif isinstance(held, Mapping):
        for key, one in held.items():
            yield from _leaves(one, f"{at}[{key}]")
    elif isinstance(held, float):
        yield at, held


@pytest.mark.parametrize("case", [STOP, case_from_dict(CORNER)])
@settings(max_examples=20)
@given(st.floats(0.1, 1.0), st.floats(0.1, 1.0))
def test_a_specimen_of_a_specimen_is_one_of_the_prototype(case, s, t):
    twice, once = (dict(_leaves(of)) for of in (scaled(scaled(case, s), t), scaled(case, s * t)))
    assert twice == pytest.approx(once, rel=1e-12)


def test_every_figure_at_a_quarter(prototype):
    """By hand: S, S² and so on at S = 1/4."""
    case = scaled(prototype, 0.25)
    assert case.title == "Invented stop, specimen 1:4"
    assert (case.scale, case.sweep, case.sizing.stock) == (None, None, ())
    load = 90 * 4448.2216152605 / (12 * 25.4)
    assert (case.line_load, case.contact_length) == pytest.approx((load / 4, 76.2))
    assert (case.plate.width, case.plate.thickness, case.plate.spring) == (100.0, 15.0, 4000.0)
    assert case.contact == replace(prototype.contact, offset=-7.5)
    assert case.envelope.offsets == (-12.5, 0.0, 12.5)
    assert case.envelope.angles == prototype.envelope.angles
    assert case.cantilever == Cantilever(225.0, 3.5, pytest.approx(70 * 6.894757293168361), 150.0)
    assert case.spread == Spread(
        1.6, 212.5, (Strip(175.0, (1.6,), 2e6 / 64, 0),),
        (Profile(237.5, (175.0, 225.0), ((1.6, 0.4),)),),
    )  # fmt: skip
    assert case.alignment == prototype.alignment
    assert case.sizing.outside_diameters == pytest.approx((37.5, 38.1))
    assert case.sizing.walls == sizing.WallLengths(2.5, 10.0, 7)
    solid, filled, pipe, own = case.sections
    assert (solid.outside_diameter, solid.wall) == (37.5, None)
    assert (filled.wall, filled.infill) == (6.25, prototype.sections[1].infill)
    assert (pipe.outside_diameter, pipe.stock) == (pytest.approx(168.275 / 4), None)
    assert (own.mesh_unit, own.governing_thickness) == (0.25, 5.0)
    of = case.motion
    assert (of.gap, of.displacement, of.period) == (75.0, 112.5, 1.5)
    assert (of.mass, of.bumper_mass) == (125.0, 5 / 16)
    assert of.bumper_spring == 20e3
    soft, stiff = of.dampers
    assert soft == Damper(62.5e3, 500.0, 0.4, math.radians(20.0))
    assert stiff == Damper(300e3 / 16, pytest.approx(508.0), 1.0, 0.0, 2)
    assert of.contact_law == replace(
        prototype.motion.contact_law, reference_force=900e3 / 16, reference_approach=0.05
    )


def test_the_corner_and_the_velocity_at_a_quarter():
    case = scaled(case_from_dict(CORNER), 0.25)
    assert (case.corner.line_load, case.corner.offset) == (75.0, 5.0)
    assert (case.motion.velocity, case.motion.contact_law.stiffness) == (350.0, 125e3)


def test_steels_keep_the_strengths_of_the_prototype(prototype):
    case = scaled(prototype, 0.1)
    for section, small in zip(prototype.sections, case.sections, strict=True):
        big = prototype.post_material(section)
        assert replace(case.post_material(small), source="") == replace(big, source="")
    assert case.plate_material.yield_strength == prototype.plate_material.yield_strength == 580.0
    # At its own thickness the bar of 15 mm would have 355 MPa.
    assert case.post_material(case.sections[0]).yield_strength == 295.0
    twice = scaled(case, 0.5)
    for of in (case, twice):
        assert of.post_material(of.sections[0]).source.count("scaled with the specimen") == 1


KEPT = {
    "straightness",
    "yield_margin", "accuracy", "scale", "poisson", "young", "friction", "frictions", "gamma_M0",
    "gamma_M2", "gamma_M6_ser", "gamma_m", "exponent", "restitution", "peak_ratio", "ratios",
    "yield_strength", "ultimate_strength", "design_wall", "damping", "hardening",
}  # fmt: skip
"""Ratios, and what is of the material; what has a dimension says itself how it scales."""


def test_no_figure_of_a_case_is_forgotten(prototype):
    """Whoever gives a record of the case a figure must say here whether it scales."""
    records = {type(prototype): prototype}

    def walk(held):
        if is_dataclass(held):
            records[type(held)] = held
            for field in fields(held):
                walk(getattr(held, field.name))
        elif isinstance(held, tuple):
            for one in held:
                walk(one)

    walk(prototype)
    walk(case_from_dict(CORNER))
    walk(sizing.Sizing())
    for kind in records:
        for field in fields(kind):
            if field.name in dimensions(kind) or "float" not in str(field.type):
                continue
            shares = kind is sizing.Walls
            assert shares or field.name in KEPT, (kind, field.name)


@pytest.mark.parametrize("scale", [0.0, -1.0, 1.5, float("nan")])
def test_a_scale_out_of_range_is_refused(prototype, scale):
    with pytest.raises(ValueError, match="scale = "):
        scaled(prototype, scale)


def test_a_case_goes_by_its_own_scale_unless_one_is_given(prototype):
    own = replace(prototype, scale=0.5)
    assert scaled(own) == scaled(prototype, 0.5)
    assert scaled(own, 0.25) == scaled(prototype, 0.25)
    with pytest.raises(InputError, match=r"states no scale; write scale = 0\.25"):
        scaled(replace(prototype, scale=None))


@pytest.mark.parametrize(("scale", "written"), [(0.25, "1:4"), (0.3, "1:3.333"), (0.4, "1:2.5")])
def test_the_ratio_as_drawings_write_it(scale, written):
    assert ratio(scale) == written


# A power of 2 hardly changes a digit, and another scale only the last of each, which the solution
# carries on by the condition of the stiffness, some 1e5.
ROUNDING = {0.25: 1e-11, 0.3: 1e-8}


@cache
def solved(scale):
    """A tube that slides along a plate on elastic supports, off its middle, solved at a scale."""
    case = scaled(
        bodies.case(
            [(150.0, 25.0)],
            plate_held="elastic supports",
            spring=4e3,
            offset=20.0,
            friction=0.1,
            angle=3.0,
        ),
        scale,
    )
    section = case.sections[0]
    patches = expected_patches(case, section)
    return read(build(case, Bodies(case), section, patches, 3.0))


@pytest.mark.parametrize(("scale", "tolerance"), ROUNDING.items())
class TestSolved:
    """The finite element results of a specimen are those of its prototype."""

    def test_stresses_stay(self, scale, tolerance):
        for figure in (
            lambda r: r.peak_pressure,
            lambda r: r.member_peaks[0].von_mises,
            lambda r: r.patch.peaks[0].von_mises,
            lambda r: r.post.max_shear,
            lambda r: r.patch.back,
            lambda r: r.bore_hoop[0],
            lambda r: r.post.added[0],
            lambda r: len(r.member_field.stress),
        ):
            assert figure(solved(scale)) == pytest.approx(figure(solved(1.0)), rel=tolerance)

    def test_lengths_and_loads_scale(self, scale, tolerance):
        for figure in (
            lambda r: r.half_width,
            lambda r: r.state.rigid_displacement[0],
            lambda r: r.patch.deflection,
            lambda r: r.member_peaks[0].y,
            lambda r: r.patch.state.tangential_load,
        ):
            expected = scale * figure(solved(1.0))
            assert figure(solved(scale)) == pytest.approx(expected, rel=tolerance)


def test_an_own_mesh_is_read_in_its_smaller_unit(prototype):
    own = prototype.sections[3]
    small = scaled(prototype, 0.25)
    big_area, _ = Bodies(prototype).areas(own)
    area, _ = Bodies(small).areas(small.sections[3])
    assert area == pytest.approx(big_area / 16)
    wrong = Section("own", 40.0, mesh=own.mesh)
    with pytest.raises(ContactfeError, match="mm"):
        Bodies(replace(small, sections=(wrong,))).areas(wrong)
