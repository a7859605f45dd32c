"""The search with trials that are made up: what is asked for, and what is said of it."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
import sizings
from restated import restated
from sizings import DATA, bore, case, contact, pool

from contactfe.assess.sizing import trial
from contactfe.assess.sizing.answers import chosen
from contactfe.assess.sizing.early_yield import EarlyYield
from contactfe.assess.sizing.record import PLATE
from contactfe.assess.sizing.run import size
from contactfe.assess.sizing.search import TOLERANCE
from contactfe.case import Envelope, case_from_dict
from contactfe.case.alignment import Alignment
from contactfe.case.tolerance import Shares, Tolerance
from contactfe.errors import InputError, SolveError

MARGIN = 460.0


def peak(share):
    return max(contact(share), bore(share))


def clause(ratio, covers=True, key="c", reserve=0.7):
    """One outside its scope applies, without a verdict, where its ratio is above 1."""
    return (
        sizings.check(
            ratio, key=key, exceeded=() if covers else (sizings.BEYOND,),
            applies=covers or ratio > 1.0, reserve=reserve,
        ),
    )  # fmt: skip


def test_the_walls_that_pass_and_the_one_of_least_concentration(monkeypatch):
    """A post that may reach 460 MPa, and peaks known by formula, 0.2 % higher on the fine level."""
    asked = pool(monkeypatch)
    (found,) = size(case()).diameters
    (band,) = found.passing
    fine = 1.002 * 1.003  # with the least uncertainty of that level
    assert fine * peak(band.least.share) <= MARGIN < fine * peak(band.fails_below.share)
    assert fine * peak(band.most.share) <= MARGIN < fine * peak(band.fails_above.share)
    for edge, beyond in ((band.least, band.fails_below), (band.most, band.fails_above)):
        assert edge.solved_on_both_levels
        assert beyond.solved_on_both_levels
        assert abs(edge.share - beyond.share) <= 0.005 * 1.001
    assert found.smallest is band
    assert abs(found.least_concentration.wall.share - 0.17) <= 0.005 * 1.001
    assert found.least_concentration.low.share <= 0.17 <= found.least_concentration.high.share
    assert found.least_concentration.wall.stress_concentration.value == pytest.approx(
        1.002 * contact(found.least_concentration.wall.share) / (1500.0 / 150.0), rel=1e-12
    )
    assert (
        found.least_concentration.alike_from <= 150.0 * 0.17 <= found.least_concentration.alike_to
    )
    assert (found.closest_to_passing, found.load_factor_to_pass) == (None, None)
    # 40 walls; the two edges take two each, or four where the first are off, the least value two.
    coarse = [job for job in asked if job.coarse is None]
    assert len(coarse) <= 40 + 10
    assert len(asked) - len(coarse) <= 4 + 8 + 3 + 1


def test_other_walls_are_carried_over_by_the_ratio_of_the_levels(monkeypatch):
    pool(monkeypatch, level=0.01)
    (found,) = size(case()).diameters
    for wall in found.walls:
        assert wall.post_peak_von_mises.value == pytest.approx(1.01 * peak(wall.share), rel=1e-9)
        share = wall.post_peak_von_mises.uncertainty / wall.post_peak_von_mises.value
        # The fine level states the difference; the others how far the ratio departs from 1.
        assert share == pytest.approx(0.01 / 1.01 if wall.solved_on_both_levels else 0.01, rel=1e-6)
    assert found.walls[0].governing_place == "bore under load"
    assert found.walls[-1].governing_place == "contact zone"
    assert found.walls[-1].places[1] is None


def test_what_governs_may_be_the_plate(monkeypatch):
    pool(monkeypatch)
    (found,) = size(case("900 MPa")).diameters
    assert found.walls[-1].governing_place == PLATE
    assert found.walls[-1].governing.key == "von_mises_plate"


def test_a_case_that_cannot_pass_says_by_what_and_how_it_would(monkeypatch):
    """The least of the made-up peaks is 404 MPa, so 380 MPa cannot be met: by 6 %."""
    pool(monkeypatch)
    (found,) = size(case("380 MPa")).diameters
    assert found.passing == ()
    assert not found.satisfied
    assert abs(found.closest_to_passing.wall.share - 0.17) <= 0.006
    wall = found.closest_to_passing.wall
    assert wall.governing.most == pytest.approx(1.002 * 404.0 * 1.003 / 380.0, rel=2e-3)
    # The made-up post yields in proportion to its load, so the factor is one over the ratio.
    assert found.load_factor_to_pass == pytest.approx(1.0 / wall.governing.most, rel=1e-6)
    # Along a post that bends, less force meets the plate elsewhere.
    (found,) = size(replace(case("380 MPa"), alignment=Alignment())).diameters
    assert found.passing == ()
    assert found.load_factor_to_pass is None


def test_the_margin_on_yield_counts_for_what_the_loads_may_be(monkeypatch):
    pool(monkeypatch)
    (found,) = size(restated(case("400 MPa"), yield_margin=1.2)).diameters
    assert found.load_factor_to_pass == pytest.approx(
        1.0 / found.closest_to_passing.wall.governing.most, rel=1e-6
    )


def test_what_is_not_known_of_one_check_is_not_known_of_all(monkeypatch):
    """The post fails as well, and by how much its load must shrink is known."""
    pool(monkeypatch, hand=lambda share: clause(1.25 + share / 10, reserve=None))
    (found,) = size(case("380 MPa")).diameters
    assert [c.key for c in found.closest_to_passing.wall.checks if not c.passes] == [
        "c",
        "von_mises_post",
    ]
    assert found.load_factor_to_pass is None


def test_the_closest_wall_is_that_of_the_least_ratio(monkeypatch):
    """Which a clause has at 0.3 of the diameter; stress is least concentrated at 0.17."""
    pool(monkeypatch, hand=lambda share: clause(1.1 + abs(share - 0.3)))
    (found,) = size(case()).diameters
    assert abs(found.closest_to_passing.wall.share - 0.3) <= 0.006
    assert abs(found.least_concentration.wall.share - 0.17) <= 0.006


def test_one_in_twenty_walls_is_compared_and_the_ends(monkeypatch):
    for count, expected in ((40, {0, 39}), (100, {0, 25, 50, 74, 99})):
        asked = pool(monkeypatch, contact=lambda share: 400.0 + 100.0 * abs(share - 0.4))
        size(case("3000 MPa", wall={"from": 0.05, "to": 0.43, "count": count}))
        shares = sorted(job.candidate.share for job in asked[:count])
        fine = [job.candidate.share for job in asked if job.coarse is not None]
        compared = {k for k, share in enumerate(shares) if share in fine}
        least = min(range(count), key=lambda k: abs(shares[k] - 0.4))
        # The two or three about the least concentration are solved in any case.
        assert {k for k in compared if abs(k - least) > 1} == expected


def test_what_is_counted(monkeypatch):
    asked = pool(monkeypatch, refused=0.12)
    off = replace(case(), envelope=Envelope((0.0, 40.0), (0.0,), (0.0,)))
    result = size(off)
    assert result.contacts == 2
    assert result.solved == sum(job.coarse is None for job in asked)
    assert result.solved_on_both_levels == sum(job.coarse is not None for job in asked)


def test_a_diameter_is_feasible_by_a_wall_or_by_stock(monkeypatch):
    pool(monkeypatch)
    result = size(case())
    (found,) = result.diameters
    (band,) = found.passing
    higher = replace(band, least=band.most)
    assert replace(found, passing=(band, higher)).smallest is band
    none = replace(found, passing=())
    by_stock = replace(none, stock=replace(none.stock, lightest=band.least))
    assert [of.satisfied for of in (found, none, by_stock)] == [True, False, True]
    satisfied = [replace(result, diameters=of).satisfied for of in ((found, none), (found,) * 2)]
    assert satisfied == [False, True]


def test_the_load_and_what_is_open_count_beside_the_walls(monkeypatch):
    pool(monkeypatch)
    result = size(case())
    assert [item.key for item in result.open_items] == [
        "motion", "sharing", "post", "tolerance",
    ]  # fmt: skip
    assert (result.satisfied, result.settled) == (True, False)
    why = tuple((item.key, "by the engineer") for item in result.open_items)
    accepting = restated(case(), accepted=why)
    assert size(accepting).settled
    short = sizings.check(4.0, "load", "load", limit_state="load")
    monkeypatch.setattr("contactfe.assess.sizing.run.motion_checks", lambda _: (short,))
    result = size(accepting)
    assert result.of_stop == (short,)
    assert (result.satisfied, result.settled) == (True, False)
    assert "motion" not in {item.key for item in result.open_items}


def half_space(peak):
    """What the post's peak would be without relief, by hand."""
    return (sizings.check(peak, "hand", "hertz_peak_von_mises"),)


def test_relief_is_open_for_the_answers_that_it_decides(monkeypatch):
    """The wall of least concentration in any case, others where they would not pass without it."""

    def open_for(peak, of):
        pool(monkeypatch, hand=lambda _: half_space(peak))
        result = size(of)
        items = {item.key: item for item in result.open_items}
        found = result.diameters[0]
        walls = {w.bounds.section: w for w in found.answers if w.bounds is not None}
        if "relief" not in items:
            return found, []
        return found, [walls[bounds.section] for bounds in items["relief"].bounds]

    strong = case("600 MPa")  # the thinnest that passes peaks at some 600 MPa by its bore
    found, walls = open_for(590.0, strong)
    assert walls == [found.least_concentration.wall]
    least = restated(strong, yield_margin=1.2)  # 500 MPa are allowed, and reached there
    found, walls = open_for(590.0, least)
    assert set(map(id, walls)) == {id(found.least_concentration.wall), id(found.smallest.least)}
    assert open_for(400.0, strong)[1] == []


def test_every_wall_that_is_named_is_an_answer(monkeypatch):
    """What is open is asked of them."""
    pool(monkeypatch)
    (found,) = size(case("380 MPa", stock=["bored bar"])).diameters
    stock = found.stock.least_concentration
    assert found.passing == ()
    assert {w.candidate.section.name for w in found.answers} == {
        w.candidate.section.name
        for w in (found.least_concentration.wall, found.closest_to_passing.wall, stock)
    }
    other = replace(
        found, closest_to_passing=replace(found.closest_to_passing, wall=found.walls[0])
    )
    assert found.walls[0] in other.answers


def test_a_clause_counts_where_it_is_asked_for_and_without_cover_by_its_ratio_alone(monkeypatch):
    pool(monkeypatch, hand=lambda _: clause(0.5, covers=False))
    (found,) = size(case()).diameters
    assert found.passing[0].least.share < 0.17
    assert found.passing[0].least.passes
    assert [check.key for check in found.passing[0].least.silent] == ["c"]
    pool(monkeypatch, hand=lambda share: clause(0.5 if share > 0.2 else 1.5, covers=False))
    (found,) = size(case()).diameters
    (band,) = found.passing
    assert band.fails_below.share <= 0.2 < band.least.share
    assert band.fails_below.verdict == band.fails_below.governing.verdict == "no verdict"
    (found,) = size(case(checks=["stress"])).diameters
    assert found.passing[0].least.share < 0.17
    pool(monkeypatch, hand=lambda share: clause(1.25 + share / 10))
    (found,) = size(case()).diameters
    assert found.closest_to_passing.wall.governing.key == "c"
    assert found.load_factor_to_pass == 0.7  # what the clause itself says
    pool(monkeypatch, hand=lambda share: clause(1.25 + share / 10, covers=False))
    assert size(case()).diameters[0].load_factor_to_pass is None


@pytest.mark.parametrize("covers", [True, False])
def test_a_check_that_no_wall_changes_stands_apart_and_walls_are_sized_by_the_rest(
    monkeypatch, covers
):
    """As a root weld does: the walls are those of the search without it, but none passes."""
    pool(monkeypatch)
    (without,) = size(case()).diameters
    pool(monkeypatch, hand=lambda _: clause(1.94, covers))
    result = size(case())
    (found,) = result.diameters
    assert [c.key for c in found.unchanging_checks] == [c.key for c in found.in_the_way] == ["c"]
    assert found.unchanging_checks[0].verdict == ("fails" if covers else "no verdict")
    assert [(b.least.share, b.most.share) for b in found.passing] == [
        (b.least.share, b.most.share) for b in without.passing
    ]
    least = found.smallest.least
    assert (least.passes_what_walls_change, least.passes, least.governing.key) == (
        True,
        False,
        "von_mises_post",
    )
    assert not found.satisfied
    assert not result.satisfied


def test_one_that_fails_where_it_applies_and_is_above_1_where_it_does_not_stands_apart(monkeypatch):
    """As a roller clause of one ratio whose scope a thin wall leaves; not one that some pass."""
    pool(monkeypatch, hand=lambda share: clause(1.3, covers=share > 0.1))
    (found,) = size(case()).diameters
    assert [(c.key, c.verdict) for c in found.in_the_way] == [("c", "fails")]
    assert found.passing
    no_verdict = [replace(clause(0.5)[0], missing="too thin")]
    pool(monkeypatch, hand=lambda share: clause(0.5) if share > 0.2 else tuple(no_verdict))
    (found,) = size(case()).diameters
    assert found.unchanging_checks == ()
    assert found.smallest.fails_below.verdict == "no verdict"
    assert found.smallest.fails_below.share <= 0.2 < found.smallest.least.share


def test_the_closest_wall_is_that_of_the_least_ratio_of_those_that_walls_change(monkeypatch):
    """Not the thinnest, which the check that no wall changes made of it."""
    pool(monkeypatch, hand=lambda _: clause(1.94))
    (found,) = size(case("380 MPa")).diameters
    assert abs(found.closest_to_passing.wall.share - 0.17) <= 0.006
    assert found.closest_to_passing.wall.governing.key == "von_mises_post"
    assert found.load_factor_to_pass == 0.7  # to pass, the loads must suit the weld as well
    pool(monkeypatch, hand=lambda _: clause(1.94, covers=False))
    (found,) = size(case("380 MPa")).diameters
    assert found.closest_to_passing.wall.governing.key == "von_mises_post"
    assert found.load_factor_to_pass is None  # what has no verdict has none under less load either


def test_a_check_that_no_wall_changes_may_pass(monkeypatch):
    pool(monkeypatch, hand=lambda _: clause(0.98))
    result = size(case())
    (found,) = result.diameters
    assert [c.key for c in found.unchanging_checks] == ["c"]
    assert found.in_the_way == ()
    assert found.smallest.least.governing.key == "von_mises_post"
    assert result.satisfied
    result = size(case(checks=["clauses"]))
    (found,) = result.diameters
    assert [band.least.share for band in found.passing] == [0.05, 0.5]
    assert result.satisfied
    pool(monkeypatch, hand=lambda _: clause(1.02))
    result = size(case(checks=["clauses"]))
    (found,) = result.diameters
    assert (found.passing, found.closest_to_passing, found.load_factor_to_pass) == ((), None, None)
    assert not result.satisfied


def test_a_size_of_stock_that_passes_the_check_no_wall_changes_is_an_answer(monkeypatch):
    """Another outside diameter has another weld: NPS 5 is 141.3 mm, thinner than the 150 mm."""
    pool(monkeypatch, hand=lambda _: clause(1.94))
    stated = case(stock=["bored bar"])
    (found,) = size(stated).diameters
    assert (found.stock.lightest.passes_what_walls_change, found.stock.lightest.passes) == (
        True,
        False,
    )
    only = next(
        w for w in found.stock.walls if w.passes_what_walls_change and w is not found.stock.lightest
    )
    passing = replace(only, checks=tuple(c for c in only.checks if c.key != "c"))
    stock = tuple(passing if w is only else w for w in found.stock.walls)
    assert chosen(stock)[0] is passing
    by_stock = replace(found, stock=replace(found.stock, lightest=passing))
    assert by_stock.satisfied


BANDED = DATA | {
    "post": {"held_by": "beam shear", "steel": "banded"},
    "grade": {
        "banded": {
            "young": "210 GPa", "poisson": 0.3, "over": ["0 mm", "80 mm"],
            "yield": ["520 MPa", "300 MPa"], "largest": "200 mm",
            "source": "the certificate",
        }
    },
}  # fmt: skip
"""As a tube 520 MPa, which passes; as the bar 300 MPa, which does not."""


def test_the_jump_between_tube_and_bar_is_an_edge_that_is_not_bisected(monkeypatch):
    asked = pool(monkeypatch)
    stated = {"wall": {"from": 0.2, "to": 0.5, "count": 6}}
    result = size(case_from_dict(BANDED | {"sizing": stated}))
    (found,) = result.diameters
    (band,) = found.passing
    assert band.most.wall == pytest.approx((150.0 - 20.0) / 2)  # the least bore of 20 mm
    assert band.fails_above.solid
    assert all(w.solid or 150.0 - 2 * w.wall >= 20.0 - 1e-9 for w in found.walls)
    assert result.solved <= 8
    assert len(asked) <= 8 + 8


def test_no_wall_between_the_least_bore_and_the_bar_is_tried_or_said_to_pass(monkeypatch):
    asked = pool(monkeypatch)
    (found,) = size(case("3000 MPa", least_bore="60 mm", stock=["bored bar"])).diameters
    tubes, bar = found.passing
    assert (tubes.most.wall, tubes.fails_above) == (pytest.approx(45.0), None)
    assert (bar.least, bar.most, bar.fails_below, bar.least.solid) == (
        bar.most,
        bar.least,
        None,
        True,
    )
    assert all(job.candidate.share == 0.5 or job.candidate.share <= 0.3 + 1e-9
               for job in asked)  # fmt: skip
    assert found.least_bore == 60.0
    # Of bars there are those that leave it: bores of 60 to 120 mm.
    assert len(found.stock.walls) == 7


def test_the_least_concentration_is_not_looked_for_beyond_the_least_bore(monkeypatch):
    """It falls up to the bar, which is worse than the thickest tube."""
    asked = pool(
        monkeypatch, contact=lambda share: 500.0 if share == 0.5 else 450.0 - 100.0 * share
    )
    (found,) = size(case("3000 MPa")).diameters
    best = found.least_concentration
    assert best.wall.share == best.high.share == pytest.approx((1 - 20 / 150) / 2)
    assert best.alike_to == best.wall.wall
    assert {job.candidate.share for job in asked if job.candidate.share > best.wall.share} == {0.5}


def test_stock_near_the_diameter_is_judged_and_the_answers_on_both_levels(monkeypatch):
    pool(monkeypatch)
    stated = case(stock=["ASME B36.10M", "bored bar"], outside_diameter=["150 mm"])
    (found,) = size(stated).diameters
    stock = found.stock
    assert {w.candidate.stock.listed_in for w in stock.walls} == {"ASME B36.10M", "bored bar"}
    passing = [w for w in stock.walls if w.passes]
    assert stock.lightest.mass_per_length == min(w.mass_per_length for w in passing)
    assert stock.least_concentration.stress_concentration.value == min(
        w.stress_concentration.value for w in stock.walls
    )
    assert stock.lightest.solved_on_both_levels
    assert stock.least_concentration.solved_on_both_levels
    assert sum(w.solved_on_both_levels for w in stock.walls) <= 4
    assert [near.list for near in found.catalogue] == [
        "ASME B36.10M", "AISC HSS", "EN 10210-2 CHS"
    ]  # fmt: skip
    assert found.catalogue[0].least_bore_ratio == pytest.approx(1 - 2 * 0.75 / 5.563)


def test_a_bored_bar_has_the_steel_of_the_bar(monkeypatch):
    asked = pool(monkeypatch)
    stated = case(stock=["bored bar"])
    banded = replace(
        stated, post=replace(stated.post, steel="EN 10025-2 S355"), sections=stated.sections
    )
    size(banded)
    bars = [job.candidate for job in asked if job.candidate.stock is not None]
    # EN 10025-2: less strength over 100 mm than of a thin product.
    thick = banded.post_material(replace(bars[0].section, wall=None))
    assert {bar.steel for bar in bars} == {thick}
    assert thick.yield_strength < 355.0


def test_diameters_are_those_stated_or_of_the_sections(monkeypatch):
    pool(monkeypatch)
    assert [d.outside_diameter for d in size(case()).diameters] == [150.0]
    stated = case(outside_diameter=["140 mm", "180 mm"], wall={"from": 0.1, "to": 0.4, "count": 7})
    result = size(stated)
    assert [d.outside_diameter for d in result.diameters] == [140.0, 180.0]
    assert result.diameters[0].walls[0].wall == pytest.approx(14.0)
    assert result.diameters[1].walls[-1].wall == pytest.approx(72.0)


def test_walls_that_cannot_be_solved_do_not_pass(monkeypatch):
    pool(monkeypatch, refused=0.12)
    (found,) = size(case()).diameters
    assert found.walls[0].error == "[load]: it is too much"
    assert not found.walls[0].passes
    assert found.least_concentration.wall.share > 0.12
    pool(monkeypatch, refused=1.0)
    with pytest.raises(InputError, match=r"none of 36 walls .*\[load\]"):
        size(case())


def test_a_whole_failure_of_the_solver_is_told_apart(monkeypatch):
    monkeypatch.setattr(
        sizings.Instead, "_trial",
        lambda _, job: sizings.Trial(job.candidate, False, error="no mesh held the patch"),
    )  # fmt: skip
    pool(monkeypatch)
    with pytest.raises(SolveError, match="no mesh held"):
        size(case())


def test_progress_counts_up_to_all_that_was_solved(monkeypatch):
    asked = pool(monkeypatch)
    told = []
    result = size(case(), progress=lambda *n: told.append(n))
    assert told[0] == (0, 36)  # of 40, five leave less than the least bore, for which one is added
    assert told[-1] == (len(asked), len(asked))
    assert all(done <= of for done, of in told)
    assert result.solved_on_both_levels == sum(job.coarse is not None for job in asked)


def test_what_is_stated_must_suit():
    with pytest.raises(InputError, match=r"processes = 0 .*at least 1"):
        size(case(), processes=0)
    held = case()
    held = replace(held, post=replace(held.post, held_by="rigid core"))
    with pytest.raises(InputError, match=r"\[sizing\] wall: .*solid"):
        size(held)


def test_walls_are_tried_where_the_strength_of_the_steel_steps(monkeypatch):
    pool(monkeypatch)
    stated = replace(case(), post=replace(case().post, steel="EN 10025-2 S355"))
    (found,) = size(stated).diameters
    walls = [round(wall.wall, 3) for wall in found.walls]
    assert {16.0, 16.008, 40.0, 40.02} <= set(walls)


def test_first_yield_is_that_of_the_contact_that_yields_first_as_loads_grow():
    """The second contact is stressed less now, and yields first: its stress grows faster."""
    one, two = EarlyYield(3.0, "plate"), EarlyYield(2.0, "plate")
    assert trial._follow(None, 1.0, 3) == {0: 1.0, 1: 1.0, 2: 1.0}
    assert trial._first([one, two, None], None) == (two, 1)
    assert trial._first([None], None) == (None, 0)
    # The fine level follows the contact that the coarse one found; a margin asks for all anew.
    coarse = SimpleNamespace(yield_factor=3.1, yields_at=1)
    assert trial._follow(coarse, 1.0, 3) == {1: 3.1}
    assert trial._first([None, one, None], coarse) == (one, 1)
    assert trial._first([None, None, None], coarse) == (None, 1)
    assert trial._follow(coarse, 1.5, 2) == {0: 1.0, 1: 1.0}
    assert trial._follow(SimpleNamespace(yield_factor=None, yields_at=0), 1.0, 3) == {}


def test_a_hand_figure_beyond_its_range_gives_no_verdict():
    stubby = case_from_dict(
        DATA | {
            "load": {"force": "60 kN", "contact_length": "150 mm"},
            "cantilever": {"length": "200 mm"},
        }
    )  # fmt: skip
    section = stubby.sections[0]
    post = [c for c in trial.checks_at(stubby, section, 0) if c.kind == "post"]
    assert post
    assert {c.verdict for c in post} == {"no verdict"}
    slim = replace(stubby, cantilever=replace(stubby.cantilever, length=600.0))
    found = [c for c in trial.checks_at(slim, section, 0) if c.kind == "post"]
    assert {c.verdict for c in found} == {"passes"}


def test_walls_that_pass_do_so_at_their_limits_too(monkeypatch):
    """Ends of the band: those of nominal walls over one less, or more, by the tolerance."""
    pool(monkeypatch)
    (nominal,) = size(case()).diameters[0].passing
    made = replace(case(), tolerance=Tolerance(wall=Shares(0.1, 0.05)))
    result = size(made)
    (band,) = result.diameters[0].passing
    within = 2 * TOLERANCE  # each end is found to within it
    assert band.least.share == pytest.approx(nominal.least.share / 0.9, abs=within)
    assert band.most.share == pytest.approx(nominal.most.share / 1.05, abs=within)
    assert "tolerance" not in {item.key for item in result.open_items}
    assert {len(w.as_made) for w in result.diameters[0].walls if not w.solid} == {2}
    (below,) = [w for w in result.diameters[0].walls if w is band.fails_below]
    assert below.governing.key == "von_mises_post_least_wall"
    assert below.limits.wall == pytest.approx((0.9 * below.wall, 1.05 * below.wall))
