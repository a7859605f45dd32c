"""Contact stiffness as JSON: lengths in mm, line loads in N/mm, stiffness in N/mm per mm of line or
N/mm, forces in N, whatever units the case asks for.
"""

from contactfe.assess.stiffness import SectionStiffness, StiffnessResult, WithPost
from contactfe.case import Case
from contactfe.hand.similitude import factor
from contactfe.report import words
from contactfe.report.hand_over import hand_over_data
from contactfe.report.json_file import Json, case_path, head
from contactfe.report.stiffness_page import POWER_NOTE, left_out, specimen_coefficient
from contactfe.report.stiffness_shares import datum, shares_note
from contactfe.report.stiffness_springs import sign, twice
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
        "sign_convention": sign(case),
        "counting_the_bending_twice": twice(result),
        "note": POWER_NOTE,
        "left_out": left_out(case) or None,
        "shares": shares_note(case),
        "sections": [_section(case, section) for section in result.sections],
        "cautions": list(words.cautions(case, evenly=True)),
    }


def _section(case: Case, section: SectionStiffness) -> Json:
    curve, power, spring, points = section.curve, section.power_law, section.linear, section.points
    length, post = case.contact_length, section.with_post

    def whole(per_line: float) -> float | None:
        return None if length is None else per_line * length

    return {
        "name": section.section.name,
        "shape": section.section.shape,
        "approach_between": datum(case, section.section),
        **pair("half_width", section.half_width),
        **pair("approach", section.approach),
        **pair("tangent_stiffness", section.tangent_stiffness),
        **pair("secant_stiffness", section.secant_stiffness),
        "whole_tangent_stiffness": whole(section.tangent_stiffness.value),
        "whole_secant_stiffness": whole(section.secant_stiffness.value),
        **pair("exponent", section.exponent),
        "shares": {
            key: entry
            for name, part in section.shares._asdict().items()
            for key, entry in pair(name, part).items()
        },
        "power_law": {
            "coefficient": power.coefficient,
            "coefficient_unit": "N/mm per mm^exponent",
            "exponent": power.exponent,
            "whole_coefficient": whole(power.coefficient),
            "from_line_load": power.from_line_load,
            "to_line_load": power.to_line_load,
            "largest_relative_error": power.largest_relative_error,
        },
        "linear": {
            "stiffness": spring.stiffness,
            "whole_stiffness": whole(spring.stiffness),
            "largest_error_over_load": spring.largest_error_over_load,
        },
        "points": {
            "approach": points.approach.tolist(),
            "line_load": points.line_load.tolist(),
            "force": None if length is None else (points.line_load * length).tolist(),
            "largest_error_over_load": points.largest_error_over_load,
            "travel_with_post": None if post is None else post.points.approach.tolist(),
            "largest_error_with_post_over_load": None
            if post is None
            else post.points.largest_error_over_load,
        },
        "impact": _impact(case, section),
        "hand_over": hand_over_data(case, section),
        "with_post": None if post is None else _with_post(post),
        "curve": {
            "ends_at": section.ends_at,
            "line_load": curve.line_load.tolist(),
            "approach": curve.approach.tolist(),
            "approach_uncertainty": section.uncertainties.tolist(),
            "tangent_stiffness": curve.tangent_stiffness.tolist(),
            **{
                f"share_{name}": [getattr(part, name) for part in section.curve_shares]
                for name in section.shares._fields
            },
        },
        "unknowns": section.unknowns,
        "specimen": None if case.scale is None else _specimen(case, section, case.scale),
    }


def _impact(case: Case, section: SectionStiffness) -> Json:
    """What springs and points are for."""
    impact, length = section.impact, case.contact_length
    return {
        "peak_contact_force": impact.peak_contact_force,
        "not_found": impact.not_found,
        "up_to_line_load": section.up_to_line_load,
        "up_to_force": None if length is None else section.up_to_line_load * length,
        "points_end_at_line_load": float(section.points.line_load[-1]),
        "points_end_before_it": section.short(length),
    }


def _with_post(post: WithPost) -> Json:
    """The spring of a model without the post; stiffness is of the whole contact, N/mm."""
    return {
        "travel": post.travel,
        "whole_tangent_stiffness": post.whole_tangent_stiffness,
        "whole_secant_stiffness": post.whole_secant_stiffness,
        "whole_linear_stiffness": post.spring.stiffness,
        "largest_error_over_load": post.spring.largest_error_over_load,
        "peak_line_load": post.peak_line_load,
        "contact_alone_over_this": post.contact_alone_over_this,
        "too_soft_if_counted_twice": post.too_soft_if_counted_twice,
    }


def _specimen(case: Case, section: SectionStiffness, scale: float) -> Json:
    """What a specimen of reduced size has; its curve is the prototype's, both axes times S."""
    per_line, length = factor("line stiffness", scale), factor("length", scale)
    along, whole = case.contact_length, factor("stiffness", scale)
    return {
        "scale": scale,
        "line_load": case.line_load * factor("line load", scale),
        "approach": section.approach.value * length,
        "tangent_stiffness": section.tangent_stiffness.value * per_line,
        "secant_stiffness": section.secant_stiffness.value * per_line,
        "whole_tangent_stiffness": None
        if along is None
        else section.tangent_stiffness.value * along * whole,
        "whole_secant_stiffness": None
        if along is None
        else section.secant_stiffness.value * along * whole,
        "power_law_coefficient": specimen_coefficient(section, scale),
        "exponent": section.power_law.exponent,
    }
