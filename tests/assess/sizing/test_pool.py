"""What a process makes of a job: the bodies it keeps, and all that the job says."""

from dataclasses import replace

from sizings import case

from contactfe.assess.sizing import pool
from contactfe.assess.sizing.candidates import wall
from contactfe.assess.sizing.pool import Job


def test_bodies_are_kept_for_the_case_and_the_steel_that_they_are_of(monkeypatch):
    monkeypatch.setattr(pool, "attempt", lambda *given: given)
    monkeypatch.setattr(pool, "_kept", {})
    stated, plain = case(), wall(150.0, 0.2)
    bar = replace(plain, steel=replace(stated.post_material(plain.section), young=190e3))
    bodies = {}
    for of in (stated, replace(stated, line_load=900.0)):
        for candidate in (plain, bar):
            number, (at, tried, kept, coarse, margin) = pool._try(
                of, 7, Job(candidate, "coarse", 1.1)
            )
            assert (number, tried, coarse, margin) == (7, candidate, "coarse", 1.1)
            assert kept.case == at
            assert at.line_load == of.line_load
            assert at.post_material(candidate.section).young == (
                210e3 if candidate is plain else 190e3
            )
            bodies[of.line_load, candidate.steel] = kept
            # And they serve again.
            assert pool._try(of, 8, Job(candidate))[1][2] is kept
    assert len({id(kept) for kept in bodies.values()}) == 4
