"""Contact stiffness as data: JSON, and CSV of the curves and of the points for gap elements.

Lengths in mm, line loads in N/mm, stiffness in N/mm per mm of line or N/mm, forces in N in JSON and
kN in the CSV of curves, whatever units the case asks for. The points are what someone copies into
another program: their CSV is in the report's units, which its heads name.
"""

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path

from contactfe.assess.stiffness import SectionStiffness, StiffnessResult, WithPost
from contactfe.case import Case
from contactfe.case.display import SI, Display
from contactfe.hand.similitude import factor
from contactfe.report import stiffness_words, words
from contactfe.report.json_file import Json, case_path, head
from contactfe.report.specimen import specimen
from contactfe.report.values import pair


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
            "effective_length": case.contact_length,
            "offset": float(case.contact.offset),
            "scale": case.scale,
        },
        "gap": None if case.motion is None else case.motion.gap,
        "sign_convention": stiffness_words.sign(case),
        "counting_the_bending_twice": stiffness_words.twice(result),
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
                    section.section.name, q, approach, section.uncertainties[k], curve.tangent[k],
                    q / approach, curve.exponent[k], part.post, part.ring, part.layer, part.plate,
                    *_both_sizes(case, q, approach, SI),
                ]
            )  # fmt: skip
    _write(path, [*columns, *_more_columns(case, SI)], rows)


def write_points(result: StiffnessResult, path: Path) -> None:
    """Write the points of each section for a gap element, from no load on, in the report's units.

    Raises OSError where the file cannot be written.
    """
    case, units = result.case, result.case.display
    length, load = units.length, units.line_load
    bent = any(section.with_post is not None for section in result.sections)
    rows = []
    for section in result.sections:
        post = section.with_post
        for k, (q, d) in enumerate(
            zip(section.points.line_load, section.points.approach, strict=True)
        ):
            row: list[object] = [section.section.name, k, length.of(float(d)), load.of(float(q))]
            row += _both_sizes(case, float(q), float(d), units)
            if bent:
                row.append("" if post is None else length.of(float(post.points.approach[k])))
            if case.motion is not None:
                row.append(length.of(case.motion.gap))
            rows.append(row)
    columns = ["section", "point", f"approach [{length.name}]", f"line load [{load.name}]"]
    columns += _more_columns(case, units)
    if bent:
        columns.append(f"travel with the post's bending [{length.name}]")
    if case.motion is not None:
        columns.append(f"gap [{length.name}]")
    _write(path, columns, rows)


def _more_columns(case: Case, units: Display) -> list[str]:
    """Columns of the whole contact, and of a specimen of reduced size, where they are stated."""
    whole, force = case.contact_length is not None, units.force.name
    more = [f"force [{force}]"] if whole else []
    if case.scale is not None:
        of = specimen(case.scale)
        more += [
            f"line load, {of} [{units.line_load.name}]",
            f"approach, {of} [{units.length.name}]",
        ]
        more += [f"force, {of} [{force}]"] if whole else []
    return more


def _both_sizes(case: Case, q: float, approach: float, units: Display) -> list[float]:
    """The figures of those columns."""
    force = [] if case.contact_length is None else [units.force.of(q * case.contact_length)]
    if case.scale is None:
        return force
    by = {of: factor(of, case.scale) for of in ("line load", "length", "force")}
    return [
        *force,
        units.line_load.of(q * by["line load"]),
        units.length.of(approach * by["length"]),
        *(F * by["force"] for F in force),
    ]


def _write(path: Path, columns: Sequence[str], rows: Iterable[Sequence[object]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(columns)
        for row in rows:
            table.writerow([f"{x:.8g}" if isinstance(x, float) else x for x in row])


def _section(case: Case, section: SectionStiffness) -> Json:
    curve, power, spring, points = section.curve, section.power, section.spring, section.points
    length, post = case.contact_length, section.with_post

    def whole(per_line: float) -> float | None:
        return None if length is None else per_line * length

    names = ("contact_post", "ring", "contact_plate", "plate_bending")
    return {
        "name": section.section.name,
        "shape": section.section.shape,
        "approach_between": stiffness_words.datum(case, section.section),
        **pair("half_width", section.half_width),
        **pair("approach", section.approach),
        **pair("tangent_stiffness", section.tangent),
        **pair("secant_stiffness", section.secant),
        "whole_tangent_stiffness": whole(section.tangent.value),
        "whole_secant_stiffness": whole(section.secant.value),
        **pair("exponent", section.exponent),
        "shares": {
            key: entry
            for name, part in zip(names, section.parts, strict=True)
            for key, entry in pair(name, part).items()
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
            "force": None if length is None else (points.line_load * length).tolist(),
            "largest_error_over_load": points.error,
            "travel_with_post": None if post is None else post.points.approach.tolist(),
            "largest_error_with_post_over_load": None if post is None else post.points.error,
        },
        "impact": _impact(case, section),
        "with_post": None if post is None else _with_post(post),
        "curve": {
            "ends_at": section.most,
            "line_load": curve.line_load.tolist(),
            "approach": curve.approach.tolist(),
            "approach_uncertainty": section.uncertainties.tolist(),
            "tangent_stiffness": curve.tangent.tolist(),
            **{
                f"share_{name}": [getattr(part, of) for part in section.shares]
                for name, of in zip(names, ("post", "ring", "layer", "plate"), strict=True)
            },
        },
        "unknowns": section.unknowns,
        "specimen": None if case.scale is None else _specimen(case, section, case.scale),
    }


def _impact(case: Case, section: SectionStiffness) -> Json:
    """What springs and points are for."""
    impact, length = section.impact, case.contact_length
    return {
        "peak_contact_force": impact.force,
        "not_found": impact.why,
        "up_to_line_load": section.up_to,
        "up_to_force": None if length is None else section.up_to * length,
        "points_end_at_line_load": float(section.points.line_load[-1]),
        "points_end_before_it": section.short(length),
    }


def _with_post(post: WithPost) -> Json:
    """The spring of a model without the post; stiffness is of the whole contact, N/mm."""
    return {
        "travel": post.displacement,
        "whole_tangent_stiffness": post.tangent,
        "whole_secant_stiffness": post.secant,
        "whole_linear_stiffness": post.spring.stiffness,
        "largest_error_over_load": post.spring.error,
        "peak_line_load": post.peak_line_load,
        "contact_alone_over_this": post.too_stiff,
        "too_soft_if_counted_twice": post.too_soft,
    }


def _specimen(case: Case, section: SectionStiffness, scale: float) -> Json:
    """What a specimen of reduced size has; its curve is the prototype's, both axes times S."""
    per_line, length = factor("line stiffness", scale), factor("length", scale)
    along, whole = case.contact_length, factor("stiffness", scale)
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
