"""The comparison as a JSON-ready dictionary: plain numbers, text and null, for other programs.

Lengths are in mm, stresses in MPa, line loads in N/mm, mass in kg/m, differences are ratios, for
every case alike; only the reason and the remarks, which are sentences, name the units that the case
asks for. Keys keep their order; sections come in the order of the case.
"""

import json
from importlib import metadata
from pathlib import Path
from typing import Any

import contactfe
from contactfe.assess.places import Peak
from contactfe.assess.results import BodyResult, Comparison, HandCheck, SectionResult, Value
from contactfe.case import Case, Material
from contactfe.case.display import SI
from contactfe.report import words

Json = dict[str, Any]

FROM_DATA = "<data>"
"""What a case that was not read from a file names as its source."""

LIBRARIES = ("gmsh", "scikit-fem", "numpy", "scipy")
"""Whose versions can move the figures in their last digits."""

HAND_KEYS = (
    "hertz_half_width",
    "hertz_peak_pressure",
    "hertz_peak_von_mises",
    "hertz_first_yield_line_load",
    "hertz_peak_von_mises_plate",
    "hertz_first_yield_line_load_plate",
    "ring_bore_under_load",
    "ring_bore_at_side",
    "thin_ring_bore_under_load",
    "thin_ring_bore_at_side",
    "curved_beam_bore_under_load",
    "curved_beam_bore_at_side",
    "disc_centre_along",
    "disc_centre_across",
)
"""Hand values that every section lists, null where the formula does not apply to its shape."""


def document(comparison: Comparison) -> Json:
    """The whole comparison as a dictionary that ``json`` can write; no value is NaN or infinite."""
    case = comparison.case
    return {
        "title": case.title,
        "generator": {"name": "contactfe", "version": contactfe.__version__},
        "libraries": {name: _version(name) for name in LIBRARIES},
        "units": {
            "length": "mm",
            "stress": "MPa",
            "line_load": "N/mm",
            "mass_per_length": "kg/m",
        },
        "case": _case(case),
        "sections": [_section(case, result) for result in comparison.sections],
        "least_concentration": comparison.least_concentration,
        "by_concentration": list(comparison.by_concentration),
        "by_utilisation": list(comparison.by_utilisation),
        "by_mass": list(comparison.by_mass),
        "satisfied": comparison.satisfied,
        "reason": comparison.reason,
        "cautions": list(words.CAUTIONS),
    }


def write_json(path: Path, content: Json) -> None:
    """Write a document in UTF-8, indented, ending in a line break.

    Raises ValueError for NaN and infinity, which JSON does not know, and OSError where the file
    cannot be written.
    """
    text = json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False)
    path.write_text(f"{text}\n", encoding="utf-8", newline="\n")


def case_path(case: Case) -> str | None:
    """Absolute path of the case file; None for a case that was not read from a file."""
    return None if case.source == FROM_DATA else str(Path(case.source).resolve())


def _case(case: Case) -> Json:
    return {
        "source": case.source,
        "path": case_path(case),
        "state": case.state,
        "held_by": case.held_by,
        "line_load": float(case.line_load),
        "effective_length": case.effective_length,
        "yield_margin": float(case.yield_margin),
        "report_units": case.report_units,
        "plate": {
            "width": float(case.plate.width),
            "thickness": float(case.plate.thickness),
            "held_by": case.plate.held_by,
            "material": _material(case.plate_material),
        },
    }


def _section(case: Case, result: SectionResult) -> Json:
    section, state = result.section, result.reading.state
    return {
        "name": section.name,
        "shape": section.shape,
        "outside_diameter": float(section.outside_diameter),
        "wall": section.wall,
        "mass_per_length": float(result.mass_per_length),
        "line_load": float(result.line_load),
        "held_by": case.held_by,
        **_value("peak_contact_pressure", result.peak_pressure),
        **_value("half_width", result.half_width),
        **_value("approach", result.approach),
        "member": _body(result.member, result.half_width.value),
        "plate": _body(result.plate, result.half_width.value),
        "bore_hoop_stress": _bore_hoop(result.bore_hoop),
        **_value("added_hoop_stress", result.added_hoop),
        **_value("stress_concentration", result.stress_concentration),
        "utilisation": float(result.utilisation),
        "satisfied": bool(result.satisfied),
        "hand": _hand_values(result),
        "hand_checks": [_check(check) for check in result.hand],
        "residuals": {
            "force_balance": float(state.force_balance),
            "complementarity": float(state.complementarity),
        },
        "unknowns": int(result.unknowns),
        "remeshed": int(result.remeshed),
        "solve_seconds": float(result.solve_seconds),
    }


def _body(body: BodyResult, half_width: float) -> Json:
    load, blur = body.first_yield_line_load, body.first_yield_uncertainty
    return {
        "peak_von_mises": float(body.peak.von_mises),
        "x": float(body.peak.x),
        "y": float(body.peak.y),
        "zone": body.peak.zone,
        "depth": float(body.peak.depth),
        "depth_in_half_widths": float(body.peak.depth / half_width),
        "uncertainty": float(body.uncertainty),
        "first_yield_line_load": None if load is None else float(load),
        "first_yield_line_load_uncertainty": None if blur is None else float(blur),
        "utilisation": float(body.utilisation),
        "satisfied": bool(body.satisfied),
        **_value("max_shear", body.max_shear),
        "places": [_place(place, half_width) for place in body.places],
        "material": _material(body.material),
    }


def _place(peak: Peak, half_width: float) -> Json:
    return {
        "zone": peak.zone,
        "von_mises": float(peak.von_mises),
        "x": float(peak.x),
        "y": float(peak.y),
        "depth": float(peak.depth),
        "depth_in_half_widths": float(peak.depth / half_width),
    }


def _bore_hoop(hoop: tuple[Value, Value] | None) -> Json | None:
    if hoop is None:
        return None
    under, side = hoop
    return {**_value("under_load", under), **_value("at_side", side)}


def _hand_values(result: SectionResult) -> dict[str, float | None]:
    """Every key of every section, so that a reader need not ask which shape it has."""
    stated = {check.key: float(check.hand) for check in result.hand}
    return {key: stated.get(key) for key in HAND_KEYS}


def _check(check: HandCheck) -> Json:
    return {
        "key": check.key,
        "label": check.label,
        "unit": SI.unit(check.dimension).name,
        "hand": float(check.hand),
        "computed": float(check.computed),
        "difference": float(check.difference),
        "remark": check.remark,
        "source": check.source,
    }


def _material(material: Material) -> Json:
    return {
        "name": material.name,
        "young": float(material.young),
        "poisson": float(material.poisson),
        "yield_strength": float(material.yield_strength),
        "source": material.source,
    }


def _value(key: str, value: Value) -> Json:
    """A value and, beside it, its uncertainty."""
    return {key: float(value.value), f"{key}_uncertainty": float(value.uncertainty)}


def _version(library: str) -> str | None:
    """Version of an installed library; null where its installer left no record of it."""
    try:
        return metadata.version(library)
    except metadata.PackageNotFoundError:
        return None
