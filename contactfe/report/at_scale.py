"""A comparison at test scale: what its specimen has and shows, beside the prototype.

Nothing is solved for it: at equal stress every figure is that of the prototype times its factor.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from contactfe.assess.results import Comparison, SectionResult
from contactfe.case import Case
from contactfe.case.scaling import ratio
from contactfe.hand.quantities import Dimension
from contactfe.hand.similitude import factor, rule
from contactfe.report import words
from contactfe.report.blocks import Column, Table, numbers
from contactfe.report.json_file import Json
from contactfe.report.scale_document import scale_of
from contactfe.report.specimen import scaled_number, specimen

_NOTE = (
    "Peak of post and plate: of von Mises stress. Similitude at equal stress, with the same"
    " material and added mass; contactfe scale states the whole specimen, its rules and what does"
    " not scale. The specimen has the steels of the prototype, with the strengths of the"
    " prototype's thicknesses, and so the same utilisation."
)


@dataclass(frozen=True)
class _Figure:
    key: str  # of the JSON document
    name: str  # the head of a column
    dimension: Dimension
    value: float | None  # of the prototype, as held; None where there is none


def at_scale(comparison: Comparison, results: Sequence[SectionResult]) -> Iterator[Table]:
    """A table of prototype and specimen, for the sections in that order; nothing without scale."""
    case, units = comparison.case, comparison.case.display
    if case.scale is None:
        return
    figures = [_figures(case, result) for result in results]
    shown = [k for k in range(len(figures[0])) if any(of[k].value for of in figures)]
    heads = [
        f"{of.name}\n× {rule(of.dimension)}\n[{units.unit(of.dimension).name}]"
        for of in (figures[0][k] for k in shown)
    ]
    scales = ((1.0, "prototype"), (case.scale, specimen(case.scale)))
    groups = tuple(
        tuple(
            (
                words.one_line(result.section.name) if scale == 1.0 else "",
                what,
                *(scaled_number(of[k].value, of[k].dimension, scale, units) for k in shown),
            )
            for scale, what in scales
        )
        for result, of in zip(results, figures, strict=True)
    )
    yield Table(
        (Column("section", folds=True, most=26), Column(), *numbers(*heads)),
        groups,
        f"At test scale {ratio(case.scale)}",
        _NOTE,
    )


def at_scale_json(comparison: Comparison) -> Json | None:
    """The specimen of every section, in the order of the case; None without a scale."""
    case = comparison.case
    if case.scale is None:
        return None
    return {
        **scale_of(case.scale),
        "sections": [
            {"name": result.section.name}
            | {
                figure.key: None
                if figure.value is None
                else float(figure.value * factor(figure.dimension, case.scale))
                for figure in _figures(case, result)
            }
            for result in comparison.sections
        ],
    }


def _figures(case: Case, result: SectionResult) -> tuple[_Figure, ...]:
    """What a section has and shows at the first plate; the plate's peak is that of the first."""
    section, length = result.section, case.contact_length
    force = None if length is None else case.line_load * length
    return (
        _Figure("outside_diameter", "Ø", "length", section.outside_diameter),
        _Figure("wall", "wall", "length", section.wall),
        _Figure("line_load", "line\nload", "line load", result.line_load),
        _Figure("force", "force", "force", force),
        _Figure("half_width", "half-\nwidth", "length", result.half_width.value),
        _Figure("approach", "approach", "length", result.approach.value),
        _Figure(
            "peak_contact_pressure", "peak\npressure", "stress", result.peak_contact_pressure.value
        ),
        _Figure("peak_von_mises", "peak,\npost", "stress", result.member.peak_von_mises.value),
        _Figure(
            "peak_von_mises_plate", "peak,\nplate", "stress", result.plate.peak_von_mises.value
        ),
    )
