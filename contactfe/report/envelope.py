"""An envelope as data: JSON and CSV.

Lengths are in mm, stresses in MPa, line loads in N/mm, moments in N mm/mm and angles in radians,
beside which degrees are stated; the sentences of the answer are in the units that the case asks
for.
"""

import csv
import math
from pathlib import Path

from contactfe.assess.checks import Verdict
from contactfe.assess.envelope import EnvelopeResult, SectionEnvelope
from contactfe.assess.row import Row
from contactfe.assess.value import Body, Value, Values
from contactfe.case import Contact
from contactfe.report import words
from contactfe.report.document import document
from contactfe.report.envelope_page import answer
from contactfe.report.json_file import Json, head
from contactfe.report.ranking import ties
from contactfe.report.values import cells, heads, pair, pair_heads, values_data
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
        "rows": [
            _row(row, verdict)
            for section in result.sections
            for row, verdict in zip(section.rows, section.verdicts, strict=True)
        ],
        "by_utilisation": list(result.by_utilisation),
        "by_peak": list(result.by_peak),
        "ties": {"by_utilisation": ties(result.by_utilisation, result.utilisation_of)},
        "satisfied": result.satisfied,
        **verdict_data(result.checks, result.open_items),
        "accurate": result.accurate,
        "answer": " ".join(answer(result)),
        "cautions": list(words.cautions(result.case)),
    }


def write_csv(result: EnvelopeResult, path: Path) -> None:
    """Write one line for each row, under a line that names the columns and their units.

    The figures are those of the JSON document, but angles are in degrees. Raises OSError where the
    file cannot be written.
    """
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(_COLUMNS)
        for section in result.sections:
            for row, verdict in zip(section.rows, section.verdicts, strict=True):
                table.writerow(_cells(row, verdict))


def _case(result: EnvelopeResult) -> Json:
    """The case without its one contact, in whose place there is the envelope."""
    solved = next(s.assessed for s in result.sections if s.assessed is not None)
    return {key: value for key, value in document(solved)["case"].items() if key != "contact"}


def _section(section: SectionEnvelope) -> Json:
    row, highest = section.governing, section.highest
    return {
        "name": section.section.name,
        "contacts": len(section.rows),
        "solved": len(section.solved),
        "satisfied": section.satisfied,
        "governing": None if row is None else _governing(row),
        "ties": [_contact(tie.contact) for tie in section.ties],
        "highest_post_peak": None
        if highest is None
        else {**_contact(highest.contact), **_body(highest.post)},
        "at_governing": None
        if section.assessed is None
        else document(section.assessed)["sections"][0],
        "reason": None if section.assessed is None else section.assessed.reason,
    }


def _governing(row: Row) -> Json:
    return {
        **_contact(row.contact),
        "body": row.governs,
        "zone": row.body.peak.at.zone,
        **pair("utilisation", row.utilisation),
    }


def _row(row: Row, verdict: Verdict) -> Json:
    def figure(key: str, of: str) -> Json:
        return pair(key, row.values.get(of))

    at = row if row.solved else None
    return {
        "section": row.section,
        **_contact(row.contact),
        "error": row.error or None,
        "satisfied": verdict == "passes",
        "verdict": verdict,
        "governs": at and at.governs,
        **pair("utilisation", None if at is None else at.utilisation),
        "post": None if at is None else _body(at.post),
        "plate": None if at is None else _body(at.plate),
        **figure("peak_contact_pressure", "peak_pressure"),
        **figure("half_width", "half_width"),
        **figure("tangential_load", "tangential_load"),
        **figure("tangential_ratio", "tangential_ratio"),
        "values": values_data(row.values),
        "line_load": at and at.line_load,
        "motion": at and at.motion,
        "largest_reaction": None if at is None else _held(at.values),
        "stopped": at and (at.stopped or None),
    }


def _contact(contact: Contact) -> Json:
    return {
        "offset": contact.offset,
        "angle": contact.angle,
        "angle_degrees": math.degrees(contact.angle),
        "friction": contact.friction,
    }


def _body(body: Body) -> Json:
    place = body.peak.at
    return {
        **pair("peak_von_mises", body.peak),
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


_THERE = (
    "post_peak", "post_utilisation", "plate_peak", "plate_utilisation", "peak_pressure",
    "half_width",
)  # fmt: skip
"""Listed quantities that have columns of their own."""

_COLUMNS = (
    "section", "offset [mm]", "angle [deg]", "friction [1]", "passes [yes/no]", "governs",
    *(
        column
        for body in ("post", "plate")
        for column in (
            *pair_heads(f"{body} peak von Mises", "MPa"),
            f"{body} zone", f"{body} x [mm]", f"{body} y [mm]",
            *pair_heads(f"{body} utilisation", "1"),
        )
    ),
    *pair_heads("peak pressure", "MPa"), *pair_heads("half-width", "mm"),
    *pair_heads("tangential load", "N/mm"),
    *pair_heads("tangential over normal load", "1"),
    "motion", "largest reaction at", *pair_heads("largest reaction", "N/mm"),
    "line load solved for [N/mm]", "error", *heads(*_THERE),
)  # fmt: skip


def _cells(row: Row, verdict: Verdict) -> list[object]:
    c, values = row.contact, row.values
    begin = [row.section, c.offset, math.degrees(c.angle), c.friction]
    if not row.solved:
        error = _COLUMNS.index("error")
        empty = [""] * len(_COLUMNS)
        return [*begin, "no", *empty[len(begin) + 1 : error], row.error, *empty[error + 1 :]]
    bodies = [
        cell
        for body in (row.post, row.plate)
        for cell in (
            *_both(body.peak), body.peak.at.zone, body.peak.at.x, body.peak.at.y,
            *_both(body.utilisation),
        )
    ]  # fmt: skip
    pairs = ("peak_pressure", "half_width", "tangential_load", "tangential_ratio")
    held = values["largest_reaction"]
    return [
        *begin, "yes" if verdict == "passes" else "no", row.governs, *bodies,
        *(cell for key in pairs for cell in _both(values[key])),
        row.motion, held.at.zone, *_both(held), row.line_load, "", *cells(values, *_THERE),
    ]  # fmt: skip


def _both(value: Value) -> tuple[float, float]:
    return value.value, value.uncertainty
