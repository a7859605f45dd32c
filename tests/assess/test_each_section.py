"""How many processes share the sections of a case."""

import pytest
from bodies import case
from restated import restated

from contactfe.assess import each_section as module
from contactfe.case.alignment import Alignment


@pytest.mark.parametrize(
    ("sections", "asked", "along", "share"),
    [
        (1, None, False, 1),
        (5, None, False, 1),
        (6, None, False, 2),
        (40, None, False, 8),
        (5, 3, False, 3),
        (2, None, True, 2),
        (2, 4, False, 2),
    ],
)
def test_few_sections_are_shared_where_that_is_worth_it(monkeypatch, sections, asked, along, share):
    told = []

    class Crew:
        def __init__(self, shared, processes, progress):
            told.append(processes)

        def __enter__(self):
            return self

        def __exit__(self, *_):
            pass

        def solve(self, points):
            return [point.number for point in points]

    monkeypatch.setattr(module, "Crew", Crew)
    monkeypatch.setattr("contactfe.study.crew.usable_cores", lambda: 8)
    of = case([(150.0, 20.0 + k) for k in range(sections)], line_load=900.0)
    if along:
        of = restated(of, alignment=Alignment(assumed=True))
    assert module.each_section(of, print, asked) == list(range(sections))
    assert told == [share]
