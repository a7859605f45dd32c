"""How sure a load at first yield is: two levels are read at that load, not at the case's."""

from types import SimpleNamespace

import pytest

from contactfe.assess import first_yield
from contactfe.assess.accuracy import Levels, Solved
from contactfe.assess.first_yield import YIELD_TOLERANCE, Yielding, uncertainty_of
from contactfe.errors import SolveError


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
