"""The wall of a post sized: curves, edges and least values found by solving."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from contactfe.assess.checks import Check, OpenItem, as_made, counted
from contactfe.assess.hazard import motion_checks
from contactfe.assess.open_items import open_items
from contactfe.assess.resources import check_space
from contactfe.assess.sizing.answers import (
    best,
    chosen,
    ratio,
)
from contactfe.assess.sizing.candidates import (
    catalogue,
    contacts_of,
    from_stock,
    shares_of,
    sizing_of,
    wall,
)
from contactfe.assess.sizing.curve import Curve
from contactfe.assess.sizing.judge import Pair, called, judge
from contactfe.assess.sizing.record import (
    Asked,
    Best,
    Candidate,
    Diameter,
    SizingResult,
    StockAnswer,
    Trial,
    Tried,
    Wall,
)
from contactfe.assess.sizing.trial import Job
from contactfe.case import Case
from contactfe.case.sizing import Sizing
from contactfe.errors import InputError, SolveError
from contactfe.study.crew import Crew, Progress, how_many

_MOST_ROUNDS = 30


def size(
    case: Case,
    processes: int | None = None,
    progress: Progress | None = None,
    known: Iterable[Tried] = (),
    keep: Callable[[Tried], None] | None = None,
) -> SizingResult:
    """Find the walls that pass, and the one that concentrates stress least, for every diameter.

    What is tried is stated by ``case.sizing``, or its defaults where the case has none; the walls
    are of the steel and hold of the post. Where the case has an envelope every wall is judged at
    every contact of it. The result does not depend on the number of processes; with more than one,
    a script must call this below ``if __name__ == "__main__":``.

    Parameters
    ----------
    case
        what the engineer stated
    processes
        how many to share the work; as many as there are cores to use where it is None
    progress
        called with the number of solves done and that known to be needed, which grows
    known
        trials of this very case, which are not solved again
    keep
        called with each trial that was solved now, as soon as it is there

    Raises
    ------
    InputError
        if the walls stated do not suit the case, or none of them the model
    SolveError
        if no wall could be solved, or a process of several ended before its time
    """
    sizing = sizing_of(case)
    check_space()
    with Crew(case.settled(), how_many(processes), progress) as crew:
        work = _Work(case, sizing, crew, {one.asked: one.trial for one in known}, keep)
        work.begin()
        for _ in range(_MOST_ROUNDS):
            if not work.another_round():
                break
        return work.result()


class _Work:
    """What is known so far of every diameter, and the next solves that follow from it."""

    def __init__(
        self,
        case: Case,
        sizing: Sizing,
        crew: Crew,
        known: dict[Asked, Trial],
        keep: Callable[[Tried], None] | None,
    ) -> None:
        self._case, self._sizing, self._crew = case, sizing, crew
        self._known, self._keep = known, keep
        self._curves: dict[float, Curve] = {}
        self._stock: dict[float, dict[str, Pair]] = {}

    def begin(self) -> None:
        """Every wall of every curve, and every stock size, on the coarse level."""
        diameters = self._sizing.outside_diameters
        walls = [
            (outside, wall(outside, share))
            for outside in diameters
            for share in shares_of(self._case, self._sizing, outside)
        ]
        stock = [
            (outside, candidate)
            for outside in diameters
            for candidate in from_stock(self._case, self._sizing, outside)
        ]
        tried = [candidate for _, candidate in (*walls, *stock)]
        trials = self._solve([(one, None, 1.0) for one in tried])
        pairs = [Pair(trial) for trial in trials]
        self._curves = {outside: Curve(self._case, self._sizing, outside) for outside in diameters}
        self._stock = {outside: {} for outside in diameters}
        for (outside, candidate), pair in zip(walls, pairs[: len(walls)], strict=True):
            self._curves[outside].pairs[candidate.share] = pair
        for (outside, candidate), pair in zip(stock, pairs[len(walls) :], strict=True):
            self._stock[outside][candidate.section.name] = pair
        self._check_some()

    def another_round(self) -> bool:
        """Solve what follows from what is known; False where nothing does."""
        coarse: list[tuple[float, Candidate]] = []
        fine: list[tuple[float, Pair]] = []
        for outside, curve in self._curves.items():
            for share, sure in curve.wanted():
                pair = curve.pairs.get(share)
                if pair is None:
                    coarse.append((outside, wall(outside, share)))
                elif sure and not pair.sure:
                    fine.append((outside, pair))
            fine.extend((outside, pair) for pair in self._wanted_stock(outside))
        if not coarse and not fine:
            return False
        wanted: list[Asked] = [(candidate, None, 1.0) for _, candidate in coarse]
        wanted += [(pair.coarse.candidate, pair.coarse, 1.0) for _, pair in fine]
        trials = self._solve(wanted)
        for (outside, candidate), trial in zip(coarse, trials[: len(coarse)], strict=True):
            self._curves[outside].pairs[candidate.share] = Pair(trial)
        for (outside, pair), trial in zip(fine, trials[len(coarse) :], strict=True):
            candidate = pair.coarse.candidate
            if candidate.stock is None:
                self._curves[outside].pairs[candidate.share] = Pair(pair.coarse, trial)
            else:
                self._stock[outside][candidate.section.name] = Pair(pair.coarse, trial)
        return True

    def _solve(self, wanted: Sequence[Asked]) -> list[Trial]:
        """Their trials, in their order; those known are not solved again, and others are kept."""
        jobs = [Job(number, *asked) for number, asked in enumerate(wanted)]
        there = {job.number: self._known[job.asked] for job in jobs if job.asked in self._known}
        of = {(job.candidate, job.coarse is not None): job for job in jobs}

        def keep(trial: Trial) -> None:
            job = of[trial.candidate, trial.fine]
            self._known[job.asked] = trial
            if self._keep is not None:
                self._keep(Tried(trial, job.coarse, job.margin))

        return self._crew.solve(jobs, there, keep)

    def result(self) -> SizingResult:
        """All that was found."""
        found = []
        for outside, curve in self._curves.items():
            diameter = curve.diameter()
            closest = None if diameter.passing else best(diameter.walls, ratio, lambda _: 0.0)
            stock = self._stock_walls(outside)
            found.append(
                replace(
                    diameter,
                    closest_to_passing=closest,
                    load_factor_to_pass=self._load_factor(outside, closest),
                    stock=StockAnswer(stock, *chosen(stock)),
                    catalogue=catalogue(outside),
                )
            )
        pairs = [pair for curve in self._curves.values() for pair in curve.pairs.values()]
        pairs += [pair for by in self._stock.values() for pair in by.values()]
        of_stop = motion_checks(self._case)
        return SizingResult(
            case=self._case,
            walls=self._sizing.walls,
            checks=self._sizing.checks,
            contacts=len(contacts_of(self._case)),
            diameters=tuple(found),
            solved=len(pairs),
            solved_on_both_levels=sum(pair.fine is not None for pair in pairs),
            of_stop=of_stop,
            open_items=self._open_items(found, of_stop),
            tried=tuple(
                Tried(trial, coarse, margin) for (_, coarse, margin), trial in self._known.items()
            ),
        )

    def _open_items(
        self, found: Sequence[Diameter], of_stop: Sequence[Check]
    ) -> tuple[OpenItem, ...]:
        """What no check of the walls that are answers covers."""
        case = self._case
        walls = [wall for diameter in found for wall in diameter.answers]
        least = [
            diameter.least_concentration.wall
            for diameter in found
            if diameter.least_concentration is not None
        ]
        checks = [check for wall in walls for check in wall.checks]
        decided = [
            wall.bounds
            for wall in walls
            if wall.bounds is not None
            and (
                wall in least
                or wall.bounds.half_space_peak > wall.yield_strength / case.yield_margin
            )
        ]
        items = open_items(
            case,
            [wall.candidate.section for wall in walls],
            [*checks, *of_stop],
            decided,
        )
        names = {w.candidate.section.name: called(case, w.candidate) for w in walls}
        return tuple(
            replace(item, sections=tuple(names[name] for name in item.sections))
            if item.key != "relief"  # which has their sizes
            else item
            for item in items
        )

    def _check_some(self) -> None:
        pairs = [pair for curve in self._curves.values() for pair in curve.pairs.values()]
        if any(not pair.error for pair in pairs):
            return
        text = f"{self._case.source}: none of {len(pairs)} walls could be solved; first:"
        errors = [pair.error for pair in pairs]
        raise (InputError if pairs[0].coarse.refused else SolveError)(f"{text} {errors[0]}")

    def _stock_walls(self, outside: float) -> tuple[Wall, ...]:
        curve = self._curves[outside]
        levels, apart = curve.levels, curve.walls()[0].unchanging
        walls = [
            judge(self._case, pair, levels, self._sizing.checks)
            for pair in self._stock[outside].values()
        ]
        return tuple(replace(wall, unchanging=apart) for wall in walls)

    def _wanted_stock(self, outside: float) -> list[Pair]:
        """Sizes that are an answer as far as is known, but were not solved on both levels."""
        answers = chosen(self._stock_walls(outside))
        names = dict.fromkeys(w.candidate.section.name for w in answers if w is not None)
        return [p for name in names if not (p := self._stock[outside][name]).sure]

    def _load_factor(self, outside: float, closest: Best | None) -> float | None:
        """By how much all loads have to shrink for the closest wall to pass.

        Not known along a post that bends: under less force another part of it meets the plate; nor
        where a limit of the wall fails, whose first yield is not looked for.
        """
        if closest is None or self._case.alignment is not None:
            return None
        failing = [check for check in counted(closest.wall.checks) if not check.passes]
        if any(map(as_made, failing)):
            return None
        factors = [check.reserve for check in failing if check.kind != "stress"]
        if any(check.kind == "stress" for check in failing):
            pair = self._curves[outside].pairs[closest.wall.share]
            # The verdict counts the uncertainty, so the loads may not use it up.
            uncertainties = [
                v.uncertainty / v.value
                for v in (closest.wall.post_peak_von_mises, closest.wall.plate_peak_von_mises)
            ]
            margin = self._case.yield_margin * (1.0 + max(uncertainties))
            at_margin = pair.coarse.candidate, pair.coarse, margin
            factors += [trial.yield_factor for trial in self._solve([at_margin])]
        known = [factor for factor in factors if factor is not None]
        covered = all(check.verdict == "fails" for check in failing)
        return min(known) if covered and len(known) == len(factors) else None
