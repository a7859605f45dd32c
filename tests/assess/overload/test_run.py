"""Sections struck beyond first yield: what is asked of each strike, and which section is better."""

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from contactfe.assess.accuracy import COARSE
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.compare import compare
from contactfe.assess.overload import run
from contactfe.assess.overload.marks import MARKS
from contactfe.assess.overload.run import BeyondYield, overload, point_of
from contactfe.assess.overload.strikes import UNLOADING, follow
from contactfe.assess.reading import read
from contactfe.case import case_from_dict, read_case
from contactfe.case.overload import Overload
from contactfe.errors import InputError
from contactfe.section.grading import Patch
from contactfe.solve.field import von_mises
from contactfe.solve.strike import equilibrium
from contactfe.solve.yielding import at_nodes

CASES = Path(__file__).parents[3] / "cases"


def stop(*walls: float, load: str = "700 N/mm", factors: tuple[float, ...] = (1.5,), **tables):
    """A post of 100 mm on a plate of 200 × 40 mm: one solid bar, and tubes of those walls, mm."""
    tubes = [
        {"name": f"tube {w:g}", "outside_diameter": "100 mm", "wall": f"{w} mm"} for w in walls
    ]
    stated = {
        "title": "Stop",
        "post": {"held_by": "beam shear", "young": "210 GPa", "poisson": 0.3, "yield": "355 MPa"},
        "plate": {
            "width": "200 mm", "thickness": "40 mm", "held_by": "rigid base", "young": "210 GPa",
            "poisson": 0.3, "yield": "355 MPa",
        },
        "load": {"line_load": load},
        "section": [{"name": "bar", "outside_diameter": "100 mm"}, *tubes],
        "overload": {"factors": list(factors)},
    }  # fmt: skip
    return case_from_dict({**stated, **tables}, "stop.toml")


@pytest.fixture(scope="module")
def case():
    return stop(9, load="700 N/mm", factors=(1.5, 3.0))


@pytest.fixture(scope="module")
def found(case):
    return overload(case)


def test_every_factor_and_the_case_s_own_load_are_struck(found, case):
    for of in found.sections:
        asked = {factor * of.first_yield.value for factor in (1.5, 3.0)}
        if case.line_load > of.first_yield.value:
            asked.add(case.line_load)
        assert [s.line_load for s in of.strikes] == pytest.approx(sorted(asked))
        assert [s.of_case for s in of.strikes] == [
            s.line_load == case.line_load for s in of.strikes
        ]
        assert not of.left_out
        assert of.ended == ""


def test_first_yield_is_that_of_compare(found):
    for of, result in zip(found.sections, found.comparison.sections, strict=True):
        loads = [body.first_yield_line_load.value for _, body in result.bodies]
        assert of.first_yield.value == min(loads)


def test_a_harder_strike_leaves_more(found):
    growing = (
        "post_dent_depth", "plate_dent_depth", "post_plastic_strain", "post_plastic_depth",
        "energy_taken", "approach_left",
    )  # fmt: skip
    for of in found.sections:
        for key in growing:
            values = [s.values[key].value for s in of.strikes]
            # A plate may have yielded all that it does by then: the same but for rounding.
            assert all(b >= a * (1.0 - 1e-9) for a, b in pairwise(values)), key
        assert all(a > b for a, b in zip(*_restitutions(of), strict=True))


def _restitutions(of):
    e = [s.values["restitution"].value for s in of.strikes]
    return e, [*e[1:], 0.0]


def test_figures_are_all_of_the_registry_and_finite(found):
    keys = {mark.key for mark in MARKS}
    bar, tube = found.sections
    of_bores = {"bore_plastic_strain", "bore_residual"}
    for of, expected in ((bar, keys - of_bores), (tube, keys)):
        for strike in of.strikes:
            assert set(strike.values) == expected
            assert all(np.isfinite([v.value, v.uncertainty]).all() for v in strike.values.values())


def test_energy_that_stays_is_what_restitution_leaves(found):
    for of in found.sections:
        for strike in of.strikes:
            v = strike.values
            taken = v["energy_taken"].value / v["work"].value
            assert taken == pytest.approx(1.0 - v["restitution"].value ** 2, rel=1e-9)


def test_the_unloading_ends_without_load_at_the_approach_that_stays(found):
    for of in found.sections:
        for strike in of.strikes:
            loads, approaches = strike.unloading
            assert loads[0] == strike.line_load
            assert loads[-1] == 0.0
            assert len(loads) >= UNLOADING
            assert approaches[-1] == strike.values["approach_left"].value
            assert (np.diff(approaches) < 0.0).all()


def test_the_dent_is_what_the_profile_is_deep(found):
    for of in found.sections:
        for strike in of.strikes:
            for body, dent in zip(("post", "plate"), strike.dents, strict=True):
                assert max(dent.below) == strike.values[f"{body}_dent_depth"].value
                assert min(dent.below) >= -1e-15
                assert 0.0 < strike.values[f"{body}_dent_width"].value < np.ptp(dent.x) + 1e-9


def test_loading_leaves_the_dents_that_unloading_leaves(found):
    """The curve has each strike's own dents, and between them what would spring back at once."""
    for of in found.sections:
        path = of.loading
        for strike in of.strikes:
            for number, body in enumerate(("post", "plate")):
                depth = np.interp(strike.line_load, path.line_load, path.dents[number])
                assert depth == pytest.approx(strike.values[f"{body}_dent_depth"].value, rel=1e-12)


def test_a_plastic_zone_spans_the_wall_of_the_tube_alone(found):
    bar, tube = found.sections
    assert bar.spans is None
    assert bar.reserve is None
    assert tube.first_yield.value < tube.spans.value <= tube.solved_to
    assert tube.reserve == tube.spans
    assert tube.sure_of == tube.spans.value - tube.spans.uncertainty


def test_the_bar_that_yields_first_is_the_better_beyond(found):
    """Of these two the tube bends until its wall is plastic through; the bar only dents."""
    assert found.by_reserve.names == ("bar", "tube 9")
    assert found.by_reserve.leading == ("bar",)
    assert found.compared_at == min(s.solved_to for s in found.sections)
    dents = dict(zip(found.by_dent.names, found.by_dent.values, strict=True))
    assert [v.value for v in found.by_dent.values] == sorted(v.value for v in dents.values())


def test_the_relief_of_a_tube_is_open_beyond_yield_whatever_compare_says():
    one = stop(20, factors=(1.0,))
    one = replace(one, sections=one.sections[1:])
    assert "relief" not in {item.key for item in compare(one).open_items}
    result = overload(one)
    (item,) = (item for item in result.open_items if item.key == "relief")
    assert [bounds.section for bounds in item.bounds] == ["tube 20"]


def test_checks_hold_the_load_against_the_reserve(found, case):
    checks = {c.section: c for c in found.checks if c.key == "overload_reserve"}
    for of in found.sections:
        check = checks[of.section]
        assert check.demand == pytest.approx(case.line_load)
        assert check.resistance == of.sure_of
        assert check.verdict == "passes"
    assert not any(c.key.startswith("von_mises") for c in found.checks)


def test_known_sections_are_not_solved_again(case, found, monkeypatch):
    def refuse(*_args):
        raise AssertionError

    monkeypatch.setattr(run, "_section", refuse)
    kept = []
    again = overload(case, known=found.sections, keep=kept.append)
    assert again.sections == found.sections
    assert kept == []


def test_a_load_beyond_the_range_is_left_out_and_has_no_verdict():
    far = stop(load="4 kN/mm", factors=(1.0,))
    (of,) = overload(far).sections
    assert of.left_out == (4000.0,)
    assert [s.factor for s in of.strikes] == [1.0]
    (check,) = (c for c in overload(far).checks if c.key == "overload_reserve")
    assert check.verdict == "no verdict"
    assert check.missing


def test_what_is_not_covered_is_refused_before_anything_is_solved(monkeypatch):
    monkeypatch.setattr(run, "compare", lambda *_: pytest.fail("solved"))
    for tables in ({"contact": {"friction": 0.2}}, {"model": {"state": "plane stress"}}):
        with pytest.raises(InputError):
            overload(stop(**tables))


@pytest.mark.parametrize("name", ["causeway-lodge-stop", "mill-house-stop"])
def test_before_yield_the_steel_is_stressed_as_in_the_verdict(name):
    """With the bending of the post, and what its neighbours add, at the load of first yield.

    Read from elements on the one side, by patch recovery on the other.
    """
    whole = read_case(CASES / f"{name}.toml")
    section = whole.sections[0]
    alone = replace(whole, sections=(section,), envelope=None)
    point = point_of(0, compare(alone).sections[0])
    bodies = Bodies(alone)
    at = loaded(alone, section, bodies)
    patch = Patch(point.centre, point.half_width)
    first = point.first_yield.value
    of = follow(at, section, bodies, patch, first, (first,), COARSE)
    steel = of.striking.bodies[0]
    state = equilibrium(of.striking, of.loading[0], 0.5 * first, first)
    mine = von_mises(at_nodes(steel, state.bodies[0].stress))
    verdict = read(of.level, 0.5 * first / at.line_loads[0]).post.field
    theirs = von_mises(verdict.stress)
    inside = steel.body.mesh.doflocs[1] > 0.3 * patch.half_width  # surfaces are recovered otherwise
    assert mine[inside].max() == pytest.approx(theirs[inside].max(), rel=0.02)
    assert np.abs(mine - theirs)[inside].max() < 0.05 * theirs.max()


@pytest.mark.parametrize("wall", [None, 25.0])
def test_yield_begins_at_the_load_of_first_yield(wall):
    """The path finds its first plastic strain where `compare` finds first yield."""
    one = stop(*([] if wall is None else [wall]), factors=(1.0,))
    one = replace(one, sections=one.sections[-1:])
    point = point_of(0, compare(one).sections[0])
    first, sure = point.first_yield.value, point.first_yield.uncertainty
    of = follow(
        one,
        one.sections[0],
        Bodies(one),
        Patch(point.centre, point.half_width),
        first,
        (first,),
        1.0,
    )
    rest = of.loading[0]
    assert sum(equilibrium(of.striking, rest, first - sure, first).yielding) == 0
    assert sum(equilibrium(of.striking, rest, first + sure, first).yielding) > 0


def test_a_point_takes_the_body_that_yields_first():
    case = stop(plate={
        "width": "200 mm", "thickness": "40 mm", "held_by": "rigid base", "young": "210 GPa",
        "poisson": 0.3, "yield": "235 MPa",
    })  # fmt: skip
    result = compare(case).sections[0]
    point = point_of(0, result)
    assert point.body == "plate"
    assert point.first_yield == result.plate.first_yield_line_load


def test_hardening_steel_dents_less():
    soft, hard = stop(), stop(post={
        "held_by": "beam shear", "young": "210 GPa", "poisson": 0.3, "yield": "355 MPa",
        "hardening": "10 GPa",
    })  # fmt: skip
    (a,), (b,) = overload(soft).sections, overload(hard).sections
    assert a.first_yield == b.first_yield
    a_dent, b_dent = (s.strikes[0].values["post_dent_depth"] for s in (a, b))
    assert b_dent.upper < 0.95 * a_dent.value


def test_default_factors():
    assert Overload().factors == (1.2, 2.0, 3.0)
    assert BeyondYield(3, stop().sections[0], None, "post", 0.0, 0.0).group == 3
