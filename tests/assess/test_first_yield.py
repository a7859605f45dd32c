"""How sure a load at first yield is: two levels are read at that load, not at the case's."""

import math
from types import SimpleNamespace

import pytest

from contactfe.assess import first_yield
from contactfe.assess.accuracy import Levels, Solved
from contactfe.assess.first_yield import (
    YIELD_TOLERANCE,
    Yielding,
    read_beyond,
    uncertainty_of,
    within,
)
from contactfe.errors import SolveError
from contactfe.section.grading import Patch


def level(name, scale=1.0):
    return SimpleNamespace(name=name, scale=scale, case=None, section=None, patches="as there")


def reading(stress):
    """A reading whose only peak is that stress; nothing slips."""
    return SimpleNamespace(
        peaks=(SimpleNamespace(von_mises=stress),), state=SimpleNamespace(patches=())
    )


def stated(monkeypatch, at, coarse_peak):
    """Uncertainty of 1000 N/mm, at twice the case's load, where the coarse level reads that."""
    fine, coarse = level("fine"), level("coarse", 2.0)
    both = Levels((Solved(coarse, reading(100.0), 1, ()), Solved(fine, reading(100.0), 1, ())))
    asked = []

    def read(of, times):
        asked.append((of.name, times))
        if coarse_peak is None:
            raise SolveError("no")
        return reading(coarse_peak)

    def build(case, bodies, section, patches, scale):
        return level(f"{patches}, {scale:g}")

    monkeypatch.setattr(first_yield, "read", read)
    monkeypatch.setattr(first_yield, "build", build)
    found = Yielding(1000.0, 0.5, 2.0, fine if at == "the case's mesh" else at, reading(400.0))
    return uncertainty_of(None, both, found, lambda r: r.peaks), asked


@pytest.mark.parametrize(
    ("at", "read_on"),
    [("the case's mesh", "coarse"), (level("another"), "as there, 2")],
)
def test_a_load_at_first_yield_is_as_sure_as_its_peak_there(monkeypatch, at, read_on):
    """The levels agree at the case's load, and are 2 % apart at first yield."""
    uncertainty, asked = stated(monkeypatch, at, 408.0)
    assert asked == [(read_on, 2.0)]
    assert uncertainty == pytest.approx(1000.0 * (0.02 + YIELD_TOLERANCE) / 0.5)


def test_chance_agreement_there_is_not_certainty(monkeypatch):
    uncertainty, _ = stated(monkeypatch, "the case's mesh", 400.0)
    assert uncertainty == pytest.approx(1000.0 * (0.003 + YIELD_TOLERANCE) / 0.5)


def test_what_the_coarse_level_cannot_solve_is_not_stated(monkeypatch):
    assert stated(monkeypatch, "the case's mesh", None)[0] is None


def searched(monkeypatch, strength, power, most=math.inf):
    """First yield of a peak of 300 MPa that grows by a power which itself grows; and the loads
    read. Loads up to ``most`` times the case's 1000 N/mm are within the range of the model.
    """
    reads = [1.0]

    def peak(times):
        return reading(300.0 * times**power * math.exp(0.05 * math.log(times) ** 2))

    def beyond(bodies, levels, before, times, *_):
        reads.append(times)
        return levels[0], peak(times)

    def room(*_):  # half-widths grow as the root of the load
        return math.sqrt(most / reads[-1])

    monkeypatch.setattr(first_yield, "read_beyond", beyond)
    monkeypatch.setattr(first_yield, "room", room)
    monkeypatch.setattr(first_yield, "within", lambda *_: room() >= 1.0)
    of = SimpleNamespace(case=SimpleNamespace(line_loads=(1000.0,)), scale=1.0)
    steel = SimpleNamespace(yield_strength=strength)
    return first_yield.first_yield(None, [of], peak(1.0), steel, lambda r: r.peaks), reads


@pytest.mark.parametrize("strength", [200.0, 310.0, 600.0, 2000.0])
@pytest.mark.parametrize("power", [0.4, 0.5, 1.0])
def test_the_search_ends_where_the_peak_reaches_yield(monkeypatch, strength, power):
    found, reads = searched(monkeypatch, strength, power)
    c = math.log(strength / 300.0)
    x = (math.sqrt(power**2 + 0.2 * c) - power) / 0.1  # of the logarithm of the load
    growing = power + 0.1 * x
    assert found.line_load == pytest.approx(1000.0 * math.exp(x), rel=YIELD_TOLERANCE / growing)
    assert found.times == reads[-1] == found.line_load / 1000.0
    assert found.power == pytest.approx(growing, rel=0.1)
    assert len(reads) <= 7


def test_no_load_beyond_the_range_of_the_model_is_stated(monkeypatch):
    for most, known in ((4.0, True), (3.42, False), (3.2, False), (1.5, False)):
        found, reads = searched(monkeypatch, 600.0, 0.5, most)  # it yields at 3.43 times the load
        assert (found is not None) == known
        assert max(reads) < 1.05 * most


def test_another_load_is_read_on_the_mesh_that_suits_it(monkeypatch):
    """Half-widths grow as the root of the load, and the places of patches with it."""

    def build(case, bodies, section, patches, scale):
        return SimpleNamespace(patches=patches, scale=scale)

    monkeypatch.setattr(first_yield, "patches_of", lambda of: of.patches)
    monkeypatch.setattr(first_yield, "suits", lambda there, wanted, _: there == wanted)
    monkeypatch.setattr(first_yield, "build", build)
    monkeypatch.setattr(
        first_yield, "read", lambda of, times: SimpleNamespace(patches=of.patches, times=times)
    )
    monkeypatch.setattr(first_yield, "loads_on", lambda level: "its range")
    monkeypatch.setattr(first_yield, "fitted", lambda solve, expected: solve(expected)[2])
    last = SimpleNamespace(patches=(Patch(2.0, 3.0, borders=(1.0,)),))
    levels = [level("first")]
    for _ in range(2):  # the second time it is there
        found, there = read_beyond(None, levels, last, 7.0, math.log(4.0), 5.0)
        assert (found.patches, found.scale, there.times) == ((Patch(8.0, 6.0),), 5.0, 7.0)
        assert (len(levels), levels[-1]) == (2, found)


def test_the_range_is_that_of_patch_and_displacements(monkeypatch):
    """The least room of the patches counts."""
    patches = (SimpleNamespace(half_width=1.0), SimpleNamespace(half_width=2.0))
    read = SimpleNamespace(patches=patches)
    small = [True]
    monkeypatch.setattr(first_yield, "widest_patch", lambda case, section, number: 2.5)
    monkeypatch.setattr(first_yield, "small_displacements", lambda *_: small[0])
    assert first_yield.room(level("a"), read) == 1.25
    assert within(level("a"), read)
    patches[1].half_width = 2.6
    assert not within(level("a"), read)
    patches[1].half_width, small[0] = 2.0, False
    assert not within(level("a"), read)
