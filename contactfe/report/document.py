"""The comparison as a JSON-ready dictionary: plain numbers, text and null, for other programs.

Lengths are in mm, stresses in MPa, line loads in N/mm, moments in N mm/mm, mass in kg/m, angles in
rad, differences are ratios, for every case alike; only the reason and the remarks, which are
sentences, name the units that the case asks for. Keys keep their order; sections come in the order
of the case. What a section has of one contact is that of the first plate; the second plate of a
corner has its own under ``corner``, in its own axes.
"""

import math
from collections.abc import Sequence
from dataclasses import asdict

from contactfe.assess.handchecks import HAND_KEYS
from contactfe.assess.places import SECOND_CONTACT, SECOND_EDGE
from contactfe.assess.results import (
    BodyResult,
    BoreHoop,
    Comparison,
    HandCheck,
    MeshLevel,
    PatchResult,
    SectionResult,
)
from contactfe.assess.value import Place, Values
from contactfe.case import Case, Contact, Material, Section
from contactfe.case.display import SI
from contactfe.report import words
from contactfe.report.at_scale import at_scale_json
from contactfe.report.equilibrium import load_on_plate
from contactfe.report.hand_document import section_by_hand
from contactfe.report.json_file import Json, case_path, head
from contactfe.report.length import length_data
from contactfe.report.plate_hold import plate_hold_data
from contactfe.report.ranking import ties
from contactfe.report.relief import relief_data
from contactfe.report.remarks import remark
from contactfe.report.tolerance import not_parted, tolerance_data
from contactfe.report.values import pair, values_data
from contactfe.report.verdicts import verdict_data
from contactfe.solve.joint import PatchState
from contactfe.solve.reactions import Reaction


def document(comparison: Comparison) -> Json:
    """The whole comparison as a dictionary that ``json`` can write; no value is NaN or infinite."""
    case = comparison.case
    return {
        **head(case.title),
        "case": _case(case),
        "sections": [_section(case, result) for result in comparison.sections],
        "least_concentration": comparison.least_concentration,
        "by_concentration": list(comparison.by_concentration),
        "by_utilisation": list(comparison.by_utilisation),
        "by_mass": list(comparison.by_mass),
        "satisfied": comparison.satisfied,
        **verdict_data(comparison.checks, comparison.open_items),
        "ties": {
            "by_concentration": ties(comparison.by_concentration, comparison.concentration_of),
            "by_utilisation": ties(comparison.by_utilisation, comparison.utilisation_of),
            "within_tolerance": list(not_parted(comparison)),
        },
        "reason": comparison.reason,
        "cautions": list(words.cautions(comparison.case)),
        "specimen": at_scale_json(comparison),
    }


def _case(case: Case) -> Json:
    return {
        "source": case.source,
        "path": case_path(case),
        "state": case.state,
        "held_by": case.held_by,
        "line_load": float(case.line_load),
        "effective_length": case.contact_length,
        "yield_margin": float(case.yield_margin),
        "report_units": case.report_units,
        "plate": {
            "width": float(case.plate.width),
            "thickness": float(case.plate.thickness),
            "held_by": case.plate.held_by,
            "spring": case.plate.spring,
            "material": _material(case.plate_material),
        },
        "contact": stated_contact(case.contact),
        "corner": _stated_corner(case),
        "along": None if case.alignment is None else asdict(case.alignment),
        "distribution": case.distribution,
        "accuracy": case.accuracy,
    }


def stated_contact(contact: Contact) -> Json:
    """Where and how post and plate meet."""
    return {
        "offset": float(contact.offset),
        "angle": float(contact.angle),
        "angle_degrees": math.degrees(contact.angle),
        "friction": float(contact.friction),
    }


def _stated_corner(case: Case) -> Json | None:
    corner = case.corner
    if corner is None:
        return None
    return {
        "line_load": float(corner.line_load),
        "offset": float(corner.offset),
        "effective_length": corner.contact_length,
    }


def _section(case: Case, result: SectionResult) -> Json:
    section, state = result.section, result.reading.state
    return {
        "name": section.name,
        "shape": section.shape,
        "outside_diameter": float(section.outside_diameter),
        **{"wall": None, **dict(section.geometry.sizes)},
        "stock": section.stock,
        "mass_per_length": float(result.mass_per_length),
        "line_load": float(result.line_load),
        "held_by": case.hold(section),
        **pair("peak_contact_pressure", result.peak_contact_pressure),
        **pair("half_width", result.half_width),
        **pair("approach", result.approach),
        "member": {
            **_body(result.member, [patch.half_width.value for patch in result.patches]),
            "reactions": [_reaction(r) for r in state.member_reactions],
        },
        "plate": _body(result.plate, [result.half_width.value]),
        "bore_hoop_stress": _bore_hoop(result.bore_hoop_stress),
        **pair("added_hoop_stress", result.added_hoop_stress),
        **pair("stress_concentration", result.stress_concentration),
        "values": values_data(result.values),
        "utilisation": float(result.utilisation.value),
        "satisfied": bool(result.satisfied),
        "verdict": result.verdict,
        "hand": _hand_values(result),
        "hand_checks": [_check(check, remark(case, result, check)) for check in result.hand_checks],
        "by_hand": section_by_hand(result.by_hand),
        "residuals": {
            "force_balance": float(state.force_balance),
            "complementarity": float(state.complementarity),
        },
        "unknowns": int(result.unknowns),
        "remeshed": int(result.remeshed),
        "solve_seconds": float(result.solve_seconds),
        "travel": [float(d) for d in state.rigid_displacement],
        "contact": _contact(result.contact, state.patch),
        "plate_hold": plate_hold_data(case, result),
        "corner": _second(result),
        "infill": _infill(section, result.values),
        "levels": [_level(level) for level in result.levels],
        "accuracy": _accuracy(case, result),
        "length": length_data(result),
        "relief": relief_data(result.relief),
        "tolerance": tolerance_data(result.limits, result.as_made),
    }


def _contact(patch: PatchResult, state: PatchState) -> Json:
    """What the contact with a plate does and what holds the plate, in the plate's axes.

    ``load_moment`` is that of the contact load on the plate about the first point of contact.
    """
    return {
        **pair("centre", patch.centre),
        **pair("tangential_load", patch.tangential_load),
        "load_moment": load_on_plate(state).moment,
        "motion": patch.motion,
        "zones": [
            {"motion": zone.motion, "start": float(zone.start), "end": float(zone.end)}
            for zone in patch.zones
        ],
        **pair("back_stress", patch.back_stress),
        **pair("deflection", patch.deflection),
        "reactions": [_reaction(r) for r in patch.reactions],
        "reaction_uncertainty": {
            "force": float(patch.reaction_uncertainty.force),
            "moment": float(patch.reaction_uncertainty.moment),
        },
    }


def _second(result: SectionResult) -> Json | None:
    """The second patch of a corner, with the keys that a section has of the first."""
    if len(result.patches) < 2:
        return None
    patch, state = result.patches[1], result.reading.state.patches[1]
    return {
        "line_load": float(patch.line_load),
        **pair("peak_contact_pressure", patch.peak_contact_pressure),
        **pair("half_width", patch.half_width),
        "plate": _body(patch.plate, [patch.half_width.value]),
        "contact": _contact(patch, state),
    }


def _reaction(reaction: Reaction) -> Json:
    return {
        "place": reaction.place,
        "x": reaction.x,
        "y": reaction.y,
        "along": reaction.along,
        "across": reaction.across,
        "moment": reaction.moment,
    }


def _infill(section: Section, values: Values) -> Json | None:
    if section.infill is None:
        return None
    return {
        "name": section.infill.name,
        "young": float(section.infill.young),
        "poisson": float(section.infill.poisson),
        "density": float(section.infill.density),
        **pair("tension", values["infill_tension"]),
        **pair("compression", values["infill_compression"]),
        **pair("bond_tension", values["bond_tension"]),
        **pair("bond_shear", values["bond_shear"]),
    }


def _level(level: MeshLevel) -> Json:
    """A level of the mesh; its peaks are those of the post and of each plate, in that order."""
    return {
        "size": float(level.size),
        "unknowns": int(level.unknowns),
        "peaks": [
            {
                "von_mises": float(peak),
                "uncertainty": None if uncertainty is None else float(uncertainty),
            }
            for peak, uncertainty in level.peaks
        ],
    }


def _accuracy(case: Case, result: SectionResult) -> Json:
    """What was asked for and whether it was reached; all null where nothing was asked."""
    asked = case.accuracy
    return {
        "asked": asked,
        "reached": None if asked is None else not result.stopped,
        "stopped": result.stopped or None,
    }


def _body(body: BodyResult, half_widths: Sequence[float]) -> Json:
    """A body; depths are also in half-widths of the patch that they are at, else of the first."""
    load = body.first_yield_line_load
    return {
        "peak_von_mises": body.peak_von_mises.value,
        **_at(body.peak_von_mises.at, half_widths),
        "uncertainty": body.peak_von_mises.uncertainty,
        "first_yield_line_load": None if load is None else load.value,
        "first_yield_line_load_uncertainty": None if load is None else load.uncertainty,
        "utilisation": body.utilisation.value,
        "satisfied": bool(body.satisfied),
        **pair("max_shear", body.max_shear),
        "places": [
            {
                "von_mises": peak.value,
                **_at(peak.at, half_widths),
                "uncertainty": peak.uncertainty,
            }
            for peak in body.places
        ],
        "material": _material(body.material),
        "utilisation_uncertainty": body.utilisation.uncertainty,
        "shakedown_line_load": float(body.shakedown_line_load),
    }


def _at(place: Place, half_widths: Sequence[float]) -> Json:
    at_second = place.zone in {SECOND_CONTACT, SECOND_EDGE}
    return {
        "x": place.x,
        "y": place.y,
        "zone": place.zone,
        "depth": place.depth,
        "depth_in_half_widths": float(place.depth / half_widths[1 if at_second else 0]),
    }


def _bore_hoop(hoop: BoreHoop | None) -> Json | None:
    if hoop is None:
        return None
    return {**pair("under_load", hoop.under_load), **pair("at_side", hoop.at_side)}


def _hand_values(result: SectionResult) -> dict[str, float | None]:
    """Every key of every section, so that a reader need not ask which shape it has."""
    stated = {check.key: float(check.hand) for check in result.hand_checks}
    return {key: stated.get(key) for key in HAND_KEYS}


def _check(check: HandCheck, why: str) -> Json:
    return {
        "key": check.key,
        "label": check.label,
        "unit": SI.unit(check.dimension).name,
        "hand": float(check.hand),
        "computed": float(check.computed),
        "computed_uncertainty": float(check.computed_uncertainty),
        "difference": float(check.difference),
        "remark": why,
        "source": check.source,
    }


def _material(material: Material) -> Json:
    return {
        "name": material.name,
        "young": float(material.young),
        "poisson": float(material.poisson),
        "yield_strength": float(material.yield_strength),
        "ultimate_strength": material.ultimate_strength,
        "source": material.source,
    }
