"""What each command gives: its page, its document, and the folder with these and its other files.

Each kind of result has a module of its own; only that of the result at hand is loaded.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from itertools import takewhile
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Generic, TypeAlias, TypeVar

from contactfe.report.blocks import Line, Page, Table
from contactfe.report.files import claimed
from contactfe.report.folder import ResultsFolder
from contactfe.report.json_file import Json
from contactfe.report.page import as_text, write_page

if TYPE_CHECKING:
    from contactfe.assess.envelope import EnvelopeResult
    from contactfe.assess.impact import ImpactResult
    from contactfe.assess.overload.result import OverloadResult
    from contactfe.assess.results import Comparison
    from contactfe.assess.sizing.record import SizingResult
    from contactfe.assess.stiffness import StiffnessResult
    from contactfe.assess.sweep.result import SweepResult

    Result: TypeAlias = (
        Comparison
        | ImpactResult
        | EnvelopeResult
        | SizingResult
        | StiffnessResult
        | OverloadResult
        | SweepResult
    )

Found = TypeVar("Found")


@dataclass(frozen=True)
class Output(Generic[Found]):
    """What a kind of result is shown and kept as.

    ``answer`` is what is printed; ``page`` is all that was found, and written under the name
    ``text``; ``document`` is its data; ``write`` puts the other files into a folder, and ``keep``
    what stays in it from one run to the next.
    """

    folder: ResultsFolder
    text: str
    answer: Callable[[Found], Page]
    page: Callable[[Found], Page]
    document: Callable[[Found], Json]
    write: Callable[[Found, Path], None]
    keep: Callable[[Found, Path], None] = lambda _found, _folder: None

    def save(self, found: Found, folder: str | Path) -> list[Path]:
        """Write every file into ``folder`` and return them.

        A failure leaves earlier results as they were. Earlier results of the same case are
        replaced; files that someone else put among them stay.

        Raises
        ------
        InputError
            if the folder holds anything but such results of this case, or what was changed since
            under the name of one of their files, or cannot be written
        """
        case: Any = found.case  # type: ignore[attr-defined]
        folder = Path(folder)

        def write(draft: Path) -> None:
            write_page(self.page(found), draft / self.text)
            self.write(found, draft)

        self.folder.check(case, folder)
        with claimed(folder, case):
            self.keep(found, folder)
            return self.folder.fill(case, folder, self.document(found), write)


@dataclass(frozen=True)
class Shows:
    """The functions that write a kind of result and give its answer for a notebook, by name.

    Each is of the module ``contactfe.report.<name>``. None writes what is only shown.
    """

    answer: str
    save: str | None = None


SHOWN = MappingProxyType(
    {
        "contactfe.assess.results.Comparison": Shows(
            "table.comparison_answer", "compare_output.save"
        ),
        "contactfe.assess.impact.ImpactResult": Shows(
            "impact_page.impact_answer", "impact_output.save_impact"
        ),
        "contactfe.assess.envelope.EnvelopeResult": Shows(
            "envelope_page.envelope_answer", "envelope.save_envelope"
        ),
        "contactfe.assess.sizing.record.SizingResult": Shows(
            "sizing_page.sizing_answer", "sizing.save_sizing"
        ),
        "contactfe.assess.stiffness.StiffnessResult": Shows(
            "stiffness_page.stiffness_answer", "stiffness_output.save_stiffness"
        ),
        "contactfe.assess.overload.result.OverloadResult": Shows(
            "overload_page.overload_answer", "overload.save_overload"
        ),
        "contactfe.assess.sweep.result.SweepResult": Shows(
            "sweep_page.result_answer", "sweep_files.save_sweep"
        ),
        "contactfe.assess.by_hand.record.ByHand": Shows("by_hand.hand_answer"),
    }
)
"""Each kind of result. By names: who made a result has loaded its type, and no other need be."""


def answer_of(result: object) -> Page:
    """The answer of a result, as a notebook shows it. Raises TypeError where it is none."""
    shows = _shows(result)
    if shows is None:
        raise TypeError(f"{type(result).__name__} is no result of contactfe")
    page: Page = _function(shows.answer)(result)
    return page


def brief(result: object) -> str:
    """Its first lines, as a prompt shows them: up to its table, or with that if it begins so."""
    title, _, *blocks = answer_of(result)
    told = [*takewhile(lambda block: not isinstance(block, Table), blocks)]
    said = [block for block in told if isinstance(block, Line)]
    return as_text([title, *(said or blocks[: len(told) + 1])]).rstrip()


def save(result: Result, folder: str | Path) -> list[Path]:
    """Write what ``compare``, ``impact``, ``envelope``, ``size``, ``stiffness``, ``overload`` or
    ``sweep`` gave into ``folder``; returns the files. A failure leaves earlier results as they
    were.

    Raises
    ------
    InputError
        if the folder is not for that result, holds files of these names that contactfe did not
        write or that were changed since, or cannot be written
    TypeError
        if it is none of these results
    """
    shows = _shows(result)
    if shows is None or shows.save is None:
        raise TypeError(
            "save takes what compare, impact, envelope, size, stiffness, overload or sweep returns,"
            f" not {type(result).__name__}"
        )
    return list(_function(shows.save)(result, folder))


def _shows(result: object) -> Shows | None:
    names = (f"{kind.__module__}.{kind.__qualname__}" for kind in type(result).__mro__)
    return next((SHOWN[name] for name in names if name in SHOWN), None)


def _function(name: str) -> Callable[..., Any]:
    module, _, function = name.partition(".")
    found: Callable[..., Any] = getattr(import_module(f"contactfe.report.{module}"), function)
    return found
