"""Contact stiffness as data: JSON, and CSV of the curves and of the points for gap elements.

For programs: lengths in mm, line loads in N/mm, stiffness in N/mm per mm of line or N/mm, forces in
N in JSON and kN in CSV, whatever units the case asks for.
"""

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path

from contactfe.assess.results import Value
from contactfe.assess.stiffness import SectionStiffness, StiffnessResult
from contactfe.case import Case
from contactfe.hand.similitude import factor
from contactfe.report import stiffness_words, words
from contactfe.report.json_file import Json, case_path, head
from contactfe.report.specimen import specimen

_KILO = 1e3


def stiffness_document(result: StiffnessResult) -> Json:
    """The whole result as a dictionary that ``json`` can write; no value is NaN or infinite."""
    case = result.case
    begin = head(case.title)
    return {
        **begin,
        "units": {**begin["units"], "force": "N", "stiffness": "N/mm"},
        "case": {
            "source": case.source,
            "path": case_path(case),
            "state": case.state,
            "held_by": case.held_by,
            "plate_held_by": case.plate.held_by,
            "line_load": float(case.line_load),
            "corner_line_load": None if case.corner is None else float(case.corner.line_load),
            "effective_length": case.effective_length,
            "offset": float(case.contact.offset),
            "scale": case.scale,
        },
        "note": stiffness_words.POWER_NOTE,
        "left_out": stiffness_words.left_out(case) or None,
        "shares": stiffness_words.shares_note(case),
        "sections": [_section(case, section) for section in result.sections],
        "cautions": list(words.cautions(case, evenly=True)),
    }


def write_curves(result: StiffnessResult, path: Path) -> None:
    """Write one line for each point of each curve, under the names and units of the columns.

    Raises OSError where the file cannot be written.
    """
    case = result.case
    columns = [
        "section", "line load [N/mm]", "approach [mm]", "approach, uncertainty [mm]",
        "tangent stiffness [N/mm/mm]", "secant stiffness [N/mm/mm]", "exponent [1]",
        "share of the contact, post [mm]", "share of the ring [mm]",
        "share of the contact, plate [mm]", "share of the plate's bending [mm]",
    ]  # fmt: skip
    rows = []
    for section in result.sections:
        curve = section.curve
        for k, q in enumerate(curve.line_load):
            part, approach = section.shares[k], curve.approach[k]
            rows.append(
                [
                    section.section.name, q, approach, section.blurs[k], curve.tangent[k],
                    q / approach, curve.exponent[k], part.post, part.ring, part.layer, part.plate,
                    *_both_sizes(case, q, approach),
                ]
            )  # fmt: skip
    _write(path, [*columns, *_more_columns(case)], rows)


def write_points(result: StiffnessResult, path: Path) -> None:
    """Write the points of each section for a gap element, from no load on.

    Raises OSError where the file cannot be written.
    """
    bent = any(section.way_points is not None for section in result.sections)
    rows = []
    for section in result.sections:
        with_post = None if section.way_points is None else section.way_points.approach
        for number, (q, d) in enumerate(
            zip(section.points.line_load, section.points.approach, strict=True)
        ):
            travel = [] if not bent else ["" if with_post is None else float(with_post[number])]
            rows.append(
                [section.section.name, number, d, q, *_both_sizes(result.case, q, d), *travel]
            )
    columns = ["section", "point", "approach [mm]", "line load [N/mm]"]
    columns += _more_columns(result.case)
    _write(path, [*columns, *(["travel with the post's bending [mm]"] if bent else [])], rows)


def _more_columns(case: Case) -> list[str]:
    """Columns of the whole contact, and of a specimen of reduced size, where they are stated."""
    whole = case.effective_length is not None
    more = ["force [kN]"] if whole else []
    if case.scale is not None:
        of = specimen(case.scale)
        more += [f"line load, {of} [N/mm]", f"approach, {of} [mm]"]
        more += [f"force, {of} [kN]"] if whole else []
    return more


def _both_sizes(case: Case, q: float, approach: float) -> list[float]:
    """The figures of those columns."""
    force = [] if case.effective_length is None else [q * case.effective_length / _KILO]
    if case.scale is None:
        return force
    by = {of: factor(of, case.scale) for of in ("line load", "length", "force")}
    scaled = [F * by["force"] for F in force]
    return [*force, q * by["line load"], approach * by["length"], *scaled]


def _write(path: Path, columns: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(columns)
        for row in rows:
            table.writerow([f"{x:.8g}" if isinstance(x, float) else x for x in row])


def _section(case: Case, section: SectionStiffness) -> Json:
    curve, power, spring, points = section.curve, section.power, section.spring, section.points
    length = case.effective_length

    def whole(per_line: float) -> float | None:
        return None if length is None else per_line * length

    names = ("contact_post", "ring", "contact_plate", "plate_bending")
    return {
        "name": section.section.name,
        "shape": section.section.shape,
        "approach_between": stiffness_words.datum(case, section.section),
        **_value("half_width", section.half_width),
        **_value("approach", section.approach),
        **_value("tangent_stiffness", section.tangent),
        **_value("secant_stiffness", section.secant),
        "whole_tangent_stiffness": whole(section.tangent.value),
        "whole_secant_stiffness": whole(section.secant.value),
        **_value("exponent", section.exponent),
        "shares": {
            key: entry
            for name, part in zip(names, section.parts, strict=True)
            for key, entry in _value(name, part).items()
        },
        "power_law": {
            "coefficient": power.coefficient,
            "coefficient_unit": "N/mm per mm^exponent",
            "exponent": power.exponent,
            "whole_coefficient": whole(power.coefficient),
            "from_line_load": power.low,
            "to_line_load": power.high,
            "largest_relative_error": power.error,
        },
        "linear": {
            "stiffness": spring.stiffness,
            "whole_stiffness": whole(spring.stiffness),
            "largest_error_over_load": spring.error,
        },
        "points": {
            "approach": points.approach.tolist(),
            "line_load": points.line_load.tolist(),
            "largest_error_over_load": points.error,
            **_with_post(section),
        },
        "curve": {
            "ends_at": section.most,
            "line_load": curve.line_load.tolist(),
            "approach": curve.approach.tolist(),
            "approach_uncertainty": section.blurs.tolist(),
            "tangent_stiffness": curve.tangent.tolist(),
            **{
                f"share_{name}": [getattr(part, of) for part in section.shares]
                for name, of in zip(names, ("post", "ring", "layer", "plate"), strict=True)
            },
        },
        "unknowns": section.unknowns,
        "specimen": None if case.scale is None else _specimen(case, section, case.scale),
    }


def _with_post(section: SectionStiffness) -> Json:
    """Travel of the floor at the points, with the bending of the post along its axis."""
    points = section.way_points
    return {
        "travel_with_post": None if points is None else points.approach.tolist(),
        "largest_error_with_post_over_load": None if points is None else points.error,
    }


def _specimen(case: Case, section: SectionStiffness, scale: float) -> Json:
    """What a specimen of reduced size has; its curve is the prototype's, both axes times S."""
    per_line, length = factor("line stiffness", scale), factor("length", scale)
    along, whole = case.effective_length, factor("stiffness", scale)
    return {
        "scale": scale,
        "line_load": case.line_load * factor("line load", scale),
        "approach": section.approach.value * length,
        "tangent_stiffness": section.tangent.value * per_line,
        "secant_stiffness": section.secant.value * per_line,
        "whole_tangent_stiffness": None if along is None else section.tangent.value * along * whole,
        "whole_secant_stiffness": None if along is None else section.secant.value * along * whole,
        "power_law_coefficient": specimen_coefficient(section, scale),
        "exponent": section.power.exponent,
    }


def specimen_coefficient(section: SectionStiffness, scale: float) -> float:
    """A of the specimen's power law, N/mm per mm^n: both line load and approach scale by S."""
    power = section.power
    line_load, length = factor("line load", scale), factor("length", scale)
    return float(power.coefficient * line_load / length**power.exponent)


def _value(key: str, value: Value) -> Json:
    return {key: value.value, f"{key}_uncertainty": value.uncertainty}
