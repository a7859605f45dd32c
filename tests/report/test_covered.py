"""What a page says of its load beside the motion that a case states."""

import pytest
from motions import moving

from contactfe.assess.by_hand.case import by_hand
from contactfe.case.struck import demanded, load_covers
from contactfe.errors import SolveError
from contactfe.report.by_hand import by_hand_page
from contactfe.report.covered import beside_demand, demand_lines
from contactfe.report.page import write_page


def load(force):
    return {"load": {"force": f"{force} N", "effective_length": "1200 mm"}}


def test_the_load_of_a_motion_is_its_blow():
    case = moving()
    assert demanded(case) == pytest.approx(case.line_load * 1200.0, rel=1e-12)
    assert beside_demand(case).startswith("The load is the peak contact force of [demand], ")
    assert load_covers(case)


def test_a_load_of_its_own_covers_it_or_not():
    force = demanded(moving())
    enough, less = moving(**load(1.01 * force)), moving(**load(0.99 * force))
    assert load_covers(enough)
    assert beside_demand(enough).startswith("The load covers the peak contact force of [demand], ")
    assert not load_covers(less)
    assert beside_demand(less).startswith("The load DOES NOT COVER the peak contact force of")
    assert beside_demand(less).endswith("it is 0.9900 of it.")
    (line,) = demand_lines(less)
    assert "red" in str(line.style)


@pytest.mark.parametrize(
    "values",
    [
        {"load": {"line_load": "9 kN/mm"}},
        {**load(1000.0), "impact": {"law": "section"}},
    ],
)
def test_what_is_not_known_here_is_left_to_the_demand(values):
    case = moving(**values)
    assert demanded(case) is None
    assert load_covers(case)
    assert beside_demand(case) == (
        "Whether the load covers the blow of [demand], contactfe demand says."
    )


def test_without_a_motion_nothing_is_said():
    case = moving(demand=None, impact=None, load={"line_load": "400 N/mm"})
    assert demand_lines(case) == []
    assert load_covers(case)


def test_a_blow_that_is_not_found_is_not_covered(monkeypatch):
    def fails(_):
        raise SolveError("no")

    case = moving(**load(1e9))
    monkeypatch.setattr("contactfe.case.struck.peak_force", fails)
    assert not load_covers(case)
    assert "NOT ANSWERED" in beside_demand(case)


def test_the_hand_page_says_it(tmp_path):
    write_page(by_hand_page(by_hand(moving(**load(1000.0)))), tmp_path / "page.txt")
    assert "The load DOES NOT COVER" in (tmp_path / "page.txt").read_text()
