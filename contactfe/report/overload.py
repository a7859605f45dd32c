"""The files of strikes beyond first yield: page, figures, JSON and CSV, and a record of sections.

In JSON lengths are in mm, stresses in MPa, line loads in N/mm at the peak along the post, and
energies in N mm per mm; the CSV file is in the units that the case asks for.
"""

from collections.abc import Iterator
from dataclasses import asdict
from functools import partial
from pathlib import Path

from contactfe.assess.overload.marks import MARKS
from contactfe.assess.overload.result import (
    OverloadResult,
    Ranked,
    SecondStrike,
    SectionOverload,
    Strike,
)
from contactfe.assess.overload.strikes import SHIFTS
from contactfe.assess.value import Value
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.csv_file import Column, both, columns_of, write_csv
from contactfe.report.figures import save_figures
from contactfe.report.figures.choice import overloads_named
from contactfe.report.folder import ResultsFolder
from contactfe.report.json_file import Json, case_path, head
from contactfe.report.output import Output
from contactfe.report.overload_page import answer, overload_answer, overload_page
from contactfe.report.overload_record import SECTIONS, overload_record, owner
from contactfe.report.overload_words import WHY
from contactfe.report.record import add
from contactfe.report.values import pair, place_columns, values_data
from contactfe.report.verdicts import check_data, verdict_data


def overload_document(result: OverloadResult) -> Json:
    """The whole result as a dictionary that ``json`` can write; no value is NaN or infinite."""
    case = result.case
    begin = head(case.title)
    return {
        **begin,
        "units": {**begin["units"], "energy": "N mm/mm"},
        "case": {
            "source": case.source,
            "path": case_path(case),
            "state": case.state,
            "held_by": case.held_by,
            "plate_held_by": case.plate.held_by,
            "line_load": float(case.line_load),
            "factors": list(case.overload.factors),
        },
        "compared_at": result.compared_at,
        "by_dent": _ranked(result.by_dent),
        "by_reserve": _ranked(result.by_reserve),
        "by_concentration": list(result.comparison.by_concentration),
        "sections": [_section(result, of) for of in result.sections],
        "satisfied": result.satisfied,
        **verdict_data(result.checks, result.open_items),
        "answer": " ".join(answer(result)),
        "cautions": list(words.cautions(case, yields=True)),
    }


def _ranked(by: Ranked | None) -> Json | None:
    if by is None:
        return None
    return {
        "names": list(by.names),
        "values": [value.value for value in by.values],
        "uncertainties": [value.uncertainty for value in by.values],
        "leading": list(by.leading),
    }


def _section(result: OverloadResult, of: SectionOverload) -> Json:
    solved = result.comparison.section(of.section)
    return {
        "section": of.section,
        **pair("stress_concentration", solved.stress_concentration),
        **pair("first_yield", of.first_yield),
        "first_body": of.first_body,
        "shakedown_line_load": {name: body.shakedown_line_load for name, body in solved.bodies},
        **pair("spans", of.spans),
        **pair("collapses", of.collapses),
        "sure_of": of.sure_of,
        "solved_to": of.solved_to,
        "ended": of.ended or None,
        "left_out": list(of.left_out),
        "why_left_out": WHY[of.ended] if of.left_out else None,
        "mean_over_peak_line_load": of.whole,
        "unknowns": of.unknowns,
        "strikes": [_strike(strike) for strike in of.strikes],
        "loading": None if of.loading is None else asdict(of.loading),
        "zones": None if of.zones is None else [asdict(zone) for zone in of.zones],
    }


def _strike(strike: Strike) -> Json:
    line_load, approach = strike.unloading
    return {
        "line_load": strike.line_load,
        "factor": strike.factor,
        "of_case": strike.of_case,
        "values": values_data(strike.values, MARKS),
        "unloading": {"line_load": list(line_load), "approach": list(approach)},
        "dents": [asdict(dent) for dent in strike.dents],
        "second": [_second(second) for second in strike.second],
        "beside": [check_data(check) for check in strike.beside],
    }


def _second(second: SecondStrike) -> Json:
    return {
        "shift": second.shift,
        **pair("post", second.post),
        **pair("plate", second.plate),
        **pair("dissipated", second.dissipated),
        "yields": second.yields,
    }


Item = tuple[SectionOverload, Strike]


def _columns() -> Iterator[Column[Item]]:
    yield Column("section", "text", lambda item: item[0].section)
    yield Column("peak line load", "real", lambda item: item[1].line_load, "line load")
    yield Column("mean over peak line load", "real", lambda item: item[0].whole, "1")
    yield Column("over first yield", "real", lambda item: item[1].factor, "1")
    yield Column("load of the case [yes/no]", "yes or no", lambda item: item[1].of_case)
    yield from both("first yield", "line load", lambda item: item[0].first_yield)
    for mark in MARKS:
        yield from both(mark.label, mark.dimension, partial(_figure, mark.key))
        if mark.key in {"post_plastic_strain", "plate_plastic_strain"}:
            places = place_columns(mark.label)
            yield from columns_of(partial(_figure, mark.key), places)
    for shift in SHIFTS:
        named = f"strike {shift:g} half-widths aside"
        again = partial(_shifted, shift)
        yield from columns_of(
            again, (Column[SecondStrike](f"{named} yields [yes/no]", "yes or no", _yields),)
        )
        for body in ("post", "plate"):
            what = f"{named}, plastic strain added to the {body}"
            yield from columns_of(again, both(what, None, partial(_added, body)))
    yield from both("plastic zone through the wall at", "line load", lambda item: item[0].spans)
    yield from both("collapse at", "line load", lambda item: item[0].collapses)
    yield Column("solved to", "real", lambda item: item[0].solved_to, "line load")
    yield Column(
        "other checks that fail", "text",
        lambda item: "; ".join(check.label for check in item[1].fails_beside),
    )  # fmt: skip


def _figure(key: str, item: Item) -> Value | None:
    return item[1].values.get(key)


def _shifted(shift: float, item: Item) -> SecondStrike | None:
    return next((second for second in item[1].second if second.shift == shift), None)


def _yields(second: SecondStrike) -> bool:
    return second.yields


def _added(body: str, second: SecondStrike) -> Value:
    return second.post if body == "post" else second.plate


COLUMNS: tuple[Column[Item], ...] = tuple(_columns())
"""Those of the CSV file."""


def _write(result: OverloadResult, draft: Path) -> None:
    items = [(of, strike) for of in result.sections for strike in of.strikes]
    write_csv(draft / "overload.csv", COLUMNS, items, result.case.display)
    save_figures(result, draft)


def _keep(result: OverloadResult, folder: Path) -> None:
    """Add the sections that the record lacks, so that a later run can go on from there."""
    with overload_record(result.case, folder) as record:
        for number, of in enumerate(result.sections):
            if number not in record:
                add(record, of)


def _others(case: Case) -> tuple[str, ...]:
    return ("overload.csv", "overload.txt", *overloads_named(case))


FOLDER = ResultsFolder(
    "overload", "overload.json", _others, "strikes beyond first yield",
    sections=r"overload-[a-z0-9-]+\.png", record=SECTIONS, owner=owner,
)  # fmt: skip
OUTPUT = Output(
    FOLDER, "overload.txt", overload_answer, overload_page, overload_document, _write, _keep
)
save_overload = OUTPUT.save
