"""An invented case with a [sizing], and a crew that makes its trials up; mm, MPa."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from contactfe.assess.checks import Check, Kind
from contactfe.assess.sizing.record import Trial
from contactfe.assess.sizing.trial import Job
from contactfe.case import Case, case_from_dict
from contactfe.hand.formula import Limit
from contactfe.study.crew import Crew, Progress

DATA = {
    "title": "Invented stop $2$ [b]",
    "post": {"held_by": "beam shear", "young": "210 GPa", "poisson": 0.3, "yield": "460 MPa"},
    "plate": {
        "width": "400 mm",
        "thickness": "60 mm",
        "held_by": "rigid base",
        "young": "210 GPa",
        "poisson": 0.3,
        "yield": "890 MPa",
    },
    "load": {"line_load": "1500 N/mm"},
    "standards": {"apply": []},
    "section": [{"name": "solid 150", "outside_diameter": "150 mm"}],
}


def case(yields: str = "460 MPa", units: str = "SI", scale: float | None = None, **sizing) -> Case:
    data = DATA | {"post": DATA["post"] | {"yield": yields}, "report": {"units": units}}
    data |= {"sizing": sizing} if sizing else {}
    return case_from_dict(data | ({} if scale is None else {"scale": scale}))


def contact(share: float) -> float:
    """A peak in the contact zone much as it is, least at 0.17."""
    return 481.0 - 77.0 * math.exp(-(abs(math.log(share / 0.17)) ** 1.5) * 2.0)


AT_EDGE = 0.12
"""Walls below that share of the diameter peak at the edge of the contact, of the contact zone."""


def bore(share: float) -> float:
    return 180.0 * (0.17 / share) ** 2.2


BEYOND = Limit("L/D", 1.5, 2.0, "at least")


def check(ratio: float, kind: Kind = "clauses", key: str = "c", label: str = "a clause", **more):
    """A check of that ratio, of the post's contact unless it is said otherwise."""
    stated = {"limit_state": "contact stress", "section": "", "body": "post", "source": "invented"}
    return Check(
        key=key, label=label, kind=kind, demand=ratio, resistance=1.0, dimension=None,
        **(stated | more),
    )  # fmt: skip


Hand = Callable[[float], tuple[Check, ...]]


class Instead(Crew):
    """Makes trials by formula: the fine level lies ``level`` above the coarse one.

    Walls below ``refused`` cannot be solved.
    """

    def __init__(
        self,
        case: Case,
        progress: Progress | None = None,
        asked: list[Job] | None = None,
        level: float = 0.002,
        refused: float = 0.0,
        hand: Hand = lambda _: (),
        contact: Callable[[float], float] = contact,
    ) -> None:
        super().__init__(case, 1, progress)
        self.case, self.level, self.refused = case, level, refused
        self.asked = [] if asked is None else asked
        self.hand, self.contact = hand, contact

    def each(self, points: Sequence[Job], left: int) -> Iterator[tuple[Job, Trial]]:
        for job in reversed(points):
            self.asked.append(job)
            yield job, self._trial(job)

    def _trial(self, job: Job) -> Trial:
        share, section = job.candidate.share, job.candidate.section
        if share < self.refused:
            fine = job.coarse is not None
            return Trial(job.candidate, fine, error="[load]: it is too much", refused=True)
        limits = self.case.limits(section, job.candidate.stock)
        made = () if limits is None else tuple(wall / outside for outside, wall in limits.made)
        trial = self._at(job, share)
        return replace(trial, made=tuple(self._at(job, at) for at in made))

    def _at(self, job: Job, share: float) -> Trial:
        fine = job.coarse is not None
        times = 1.0 + (self.level if fine else 0.0)
        peak, inner = times * self.contact(share), times * bore(share)
        solid = job.candidate.section.wall is None
        edge = peak if share < AT_EDGE else None
        places = (peak, None, None, 100.0, None)
        if not solid:
            places = (peak, inner, inner / 2.0, 100.0, edge)
        steel = self.case.post_material(job.candidate.section)
        return Trial(
            job.candidate, fine, places, 486.0, "contact zone", "plate under contact",
            steel=steel, hand=self.hand(share),
            yield_factor=steel.yield_strength / job.margin / max(peak, inner),
        )  # fmt: skip


def pool(monkeypatch, **how) -> list[Job]:
    """Put it in the place of the crew; returns what it is asked for."""
    import contactfe.assess.sizing.run as module

    asked: list[Job] = []
    monkeypatch.setattr(
        module, "Crew", lambda case, processes, progress: Instead(case, progress, asked, **how)
    )
    return asked
