"""The files of an envelope: its page, a figure, JSON and CSV, and a record of rows, which grows.

In JSON lengths are in mm, stresses in MPa, line loads in N/mm, moments in N mm/mm and angles in
radians, beside which degrees are stated; the CSV file and the sentences of the answer are in the
units that the case asks for.
"""

import math
from collections.abc import Iterator
from pathlib import Path

from contactfe.assess.checks import Verdict
from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope
from contactfe.assess.quantities import QUANTITIES
from contactfe.assess.row import Row
from contactfe.assess.value import Body, Values
from contactfe.report import words
from contactfe.report.csv_file import Column, columns_of, write_csv
from contactfe.report.document import document, stated_contact
from contactfe.report.envelope_page import answer, envelope_answer, envelope_page
from contactfe.report.envelope_record import ROWS, owner, row_record
from contactfe.report.figures import save_figures
from contactfe.report.folder import ResultsFolder
from contactfe.report.json_file import Json, head
from contactfe.report.output import Output
from contactfe.report.ranking import ties
from contactfe.report.values import columns, pair, values_data
from contactfe.report.verdicts import verdict_data


def envelope_document(result: EnvelopeResult) -> Json:
    """The whole result as a dictionary that ``json`` can write; no value is NaN or infinite.

    Every row has every key; what was not solved has null and says why in ``error``.
    """
    case = result.case
    assert case.envelope is not None
    return {
        **head(case.title),
        "case": _case(result),
        "envelope": {
            "offsets": list(case.envelope.offsets),
            "angles": list(case.envelope.angles),
            "angles_degrees": [math.degrees(angle) for angle in case.envelope.angles],
            "frictions": list(case.envelope.frictions),
        },
        "sections": [_section(section) for section in result.sections],
        "rows": [_row(row, verdict) for row, verdict in judged(result)],
        "by_utilisation": list(result.by_utilisation),
        "by_peak": list(result.by_peak),
        "ties": {"by_utilisation": ties(result.by_utilisation, result.utilisation_of)},
        "satisfied": result.satisfied,
        **verdict_data(result.checks, result.open_items),
        "accurate": result.accurate,
        "answer": " ".join(answer(result)),
        "cautions": list(words.cautions(result.case)),
    }


FILES = ("envelope.json", "envelope.csv", "envelope.txt", "envelope.png")
FOLDER = ResultsFolder(
    "envelope", FILES[0], lambda _: FILES[1:], "the envelope", record=ROWS, owner=owner
)


DIGITS = 10
"""Digits and decimals of the CSV file: fewer than rounding leaves, more than any figure is known
to."""


def _write(result: EnvelopeResult, draft: Path) -> None:
    units = result.case.display
    write_csv(draft / "envelope.csv", COLUMNS, judged(result), units, DIGITS, DIGITS)
    save_figures(result, draft)


def _keep(result: EnvelopeResult, folder: Path) -> None:
    """Add the rows that the record lacks, so that a later run can go on from there."""
    with row_record(result.case, folder) as record:
        for number, row in enumerate(result.rows):
            if number not in record:
                record.add(row)


OUTPUT = Output(
    FOLDER, "envelope.txt", envelope_answer, envelope_page, envelope_document, _write, _keep
)
save_envelope = OUTPUT.save


def judged(result: EnvelopeResult) -> Iterator[tuple[Row, Verdict]]:
    """Every row with its verdict, section after section."""
    for section in result.sections:
        yield from zip(section.rows, section.verdicts, strict=True)


def _case(result: EnvelopeResult) -> Json:
    """The case without its one contact, in whose place there is the envelope."""
    solved = next(s.assessed for s in result.sections if s.assessed is not None)
    return {key: value for key, value in document(solved)["case"].items() if key != "contact"}


def _section(section: SectionEnvelope) -> Json:
    row, highest = section.governing, section.highest_post_peak
    return {
        "name": section.section.name,
        "contacts": len(section.rows),
        "solved": len(section.solved),
        "satisfied": section.satisfied,
        "governing": None if row is None else _governing(row),
        "ties": [stated_contact(tie.contact) for tie in section.ties],
        "highest_post_peak": None
        if highest is None
        else {**stated_contact(highest.contact), **_body(highest.post)},
        "at_governing": None
        if section.assessed is None
        else document(section.assessed)["sections"][0],
        "reason": section.reason,
    }


def _governing(row: Row) -> Json:
    return {
        **stated_contact(row.contact),
        "body": row.governs,
        "zone": row.body.peak_von_mises.at.zone,
        **pair("utilisation", row.utilisation),
    }


def _row(row: Row, verdict: Verdict) -> Json:
    at, values = row if row.solved else None, row.values
    return {
        "section": row.section,
        **stated_contact(row.contact),
        "error": row.error or None,
        "satisfied": verdict == "passes",
        "verdict": verdict,
        "governs": at and at.governs,
        **pair("utilisation", None if at is None else at.utilisation),
        "post": None if at is None else _body(at.post),
        "plate": None if at is None else _body(at.plate),
        **pair("peak_contact_pressure", values.get("peak_pressure")),
        **pair("half_width", values.get("half_width")),
        **pair("tangential_load", values.get("tangential_load")),
        **pair("tangential_ratio", values.get("tangential_ratio")),
        "values": values_data(values),
        "line_load": at and at.line_load,
        "motion": at and at.motion,
        "largest_reaction": None if at is None else _held(values),
        "stopped": at and (at.stopped or None),
    }


def _body(body: Body) -> Json:
    place = body.peak_von_mises.at
    return {
        **pair("peak_von_mises", body.peak_von_mises),
        "zone": place.zone,
        "x": place.x,
        "y": place.y,
        **pair("utilisation", body.utilisation),
        "satisfied": body.satisfied,
    }


def _held(values: Values) -> Json:
    return {
        "place": values["largest_reaction"].at.zone,
        **pair("force", values["largest_reaction"]),
        **pair("along", values["reaction_along"]),
        **pair("across", values["reaction_across"]),
        **pair("moment", values["reaction_moment"]),
    }


def _values(*keys: str) -> tuple[Column[Row], ...]:
    return columns_of(lambda row: row.values, columns(*keys))


def _solved(*of: Column[Row]) -> tuple[Column[Row], ...]:
    return columns_of(lambda row: row if row.solved else None, of)


_OWN = (
    "post_peak", "post_utilisation", "plate_peak", "plate_utilisation", "peak_pressure",
    "half_width",
)  # fmt: skip
"""Listed quantities that stand where their own place is; the others are last."""

_CONTACT = (
    Column[Row]("section", "text", lambda row: row.section),
    Column[Row]("offset", "real", lambda row: row.contact.offset, "length"),
    Column[Row]("angle", "real", lambda row: row.contact.angle, "angle"),
    Column[Row]("friction", "real", lambda row: row.contact.friction, "1"),
)

_FOUND = (
    *_solved(Column("governs", "text", lambda row: row.governs)),
    *_values(*_OWN, "tangential_load", "tangential_ratio"),
    *_solved(
        Column("motion", "text", lambda row: row.motion),
        Column("largest reaction at", "text", lambda row: row.values["largest_reaction"].at.zone),
    ),
    *_values("largest_reaction"),
    *_solved(Column("line load solved for", "real", lambda row: row.line_load, "line load")),
    Column[Row]("error", "text", lambda row: row.error),
    *_values(*(e.key for e in QUANTITIES if e.listed and e.key not in _OWN)),
)  # fmt: skip

COLUMNS: tuple[Column[tuple[Row, Verdict]], ...] = (
    *columns_of(lambda pair: pair[0], _CONTACT),
    Column("passes [yes/no]", "yes or no", lambda pair: pair[1] == "passes"),
    *columns_of(lambda pair: pair[0], _FOUND),
)
"""Those of the CSV file."""
