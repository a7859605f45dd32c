"""Tubes at the limits of their walls: as a table, as data, and whom they do not part."""

from collections.abc import Iterator, Sequence

from contactfe.assess.checks import WALLS, as_made, governing
from contactfe.assess.results import AsMade, Comparison, SectionResult
from contactfe.case import Case
from contactfe.case.tolerance import Limits
from contactfe.report import words
from contactfe.report.blocks import Row, Table, numbers, texts
from contactfe.report.check_names import short
from contactfe.report.json_file import Json
from contactfe.report.values import pair

NOTE = (
    "Each tube is solved again with its least wall and greatest outside diameter, which bends most"
    " as a ring, and with its greatest wall and least diameter, which is relieved least; as its own"
    " post, with the load and the steel's strength of the nominal tube. It passes only if all three"
    " do. K is over the nominal diameter. Clauses and hand formulas are at nominal sizes: AISC 360"
    " has its own share of the nominal wall (B4.2), EN resistances are of nominal sizes, and"
    " neither is counted twice. Solids are at their nominal diameter: the contact stress goes by"
    " its square root. Mass, first yield and all other tables are of the nominal tube."
)

_COVERED = 0.875
"""Share of the nominal wall down to which clauses count it as it is: the least that the product
standards known here allow, of tubes that the clauses are written for."""


def tolerance_tables(case: Case, results: Sequence[SectionResult]) -> Iterator[Table]:
    """Every tube whose limits are known, nominal and at both; nothing where there is none."""
    found = [(result, result.limits) for result in results if result.limits is not None]
    if not found:
        return
    units = case.display
    length, stress = f"[{units.length.name}]", f"[{units.stress.name}]"
    columns = (
        *texts("section", "as made", folds=True, most=26),
        *numbers(
            f"Ø\n{length}",
            f"wall\n{length}",
            "K\n[1]",
            f"peak of\nthe post\n{stress}",
            f"bore hoop,\nunder load\n{stress}",
        ),
        *texts("governs", folds=True),
        *numbers("ratio\n[1]"),
    )
    groups = tuple(tuple(_rows(case, result)) for result, _ in found)
    sources: dict[str, list[str]] = {}
    for result, limits in found:
        sources.setdefault(limits.source, []).append(words.one_line(result.section.name))
    said = [f"Limits of {', '.join(names)}: {source}." for source, names in sources.items()]
    thin = [
        words.one_line(result.section.name)
        for result, limits in found
        if limits.wall[0] < _COVERED * (result.section.geometry.wall or 0.0)
    ]
    if thin:
        said.append(
            f"NOT COVERED by the clauses' own shares: {', '.join(thin)}, whose least wall is less"
            f" than {_COVERED:g} of the nominal one. Clauses and hand formulas at nominal sizes are"
            " not on the safe side there."
        )
    yield Table(columns, groups, "Within the limits of the wall", "\n".join([NOTE, *said]))


def _rows(case: Case, result: SectionResult) -> Iterator[Row]:
    units, section = case.display, result.section
    nominal = AsMade(
        section.outside_diameter, section.geometry.wall or 0.0, (result.member.peak_von_mises,),
        result.stress_concentration,
        tuple(check for check in result.checks if check.kind == "stress" and not as_made(check)),
        bore_hoop_stress_under_load=result.bore_hoop_stress and result.bore_hoop_stress[0],
    )  # fmt: skip
    name = words.one_line(section.name)
    for what, one in zip(("nominal", *WALLS), (nominal, *result.as_made), strict=True):
        K, worst = one.stress_concentration, governing(one.checks)
        stresses = one.post_peak_von_mises, one.bore_hoop_stress_under_load
        yield (
            name, what, units.length.number(one.outside_diameter), units.length.number(one.wall),
            "" if K is None else words.pair(K),
            *("" if of is None else words.pair(of, units.stress) for of in stresses),
            one.error or ("" if worst is None else short(worst)),
            "" if worst is None or worst.ratio is None
            else words.ratio_text(worst.ratio, worst.ratio_uncertainty),
        )  # fmt: skip
        name = ""


def not_parted(comparison: Comparison) -> tuple[str, ...]:
    """The sections whose K within their limits may be as little as that of the best within its."""
    best, *others = (comparison.section(name) for name in comparison.by_concentration)
    most = max(K.upper for K in best.concentrations)
    return tuple(
        other.section.name
        for other in others
        if (best.as_made or other.as_made)
        and min(K.value - K.uncertainty for K in other.concentrations) <= most
    )


def ranked_as_made(comparison: Comparison) -> Iterator[str]:
    """A sentence on the best section and those that the limits do not part from it, if any."""
    best = comparison.section(comparison.least_concentration)
    names = not_parted(comparison)
    if not (best.as_made or names):
        return
    values = [K.value for K in best.concentrations]
    span = f"K of “{words.one_line(best.section.name)}”, {min(values):.1f} to {max(values):.1f},"
    if not names:
        if len(comparison.sections) > 1:
            yield f"Within the limits of the walls {span} stays the least."
        return
    of = ", ".join(f"“{words.one_line(name)}”" for name in names)
    yield f"A tie within the limits of the walls: {span} is not parted from {of}."


def limits_data(limits: Limits | None) -> Json | None:
    """Limits as data, in mm; None where they are not known."""
    if limits is None:
        return None
    (thin, thick), (small, large) = limits.wall, limits.outside_diameter
    return {
        "least_wall": thin,
        "greatest_wall": thick,
        "least_outside_diameter": small,
        "greatest_outside_diameter": large,
        "source": limits.source,
    }


def tolerance_data(limits: Limits | None, made: Sequence[AsMade]) -> Json | None:
    """The limits of a tube and what was solved at them, in mm and MPa; None without limits."""
    data = limits_data(limits)
    if data is None:
        return None
    names = (wall.replace(" ", "_") for wall in WALLS)
    return data | {
        name: {
            "outside_diameter": one.outside_diameter,
            "wall": one.wall,
            **pair("stress_concentration", one.stress_concentration),
            **pair("post_peak_von_mises", one.post_peak_von_mises),
            **pair("plate_peak_von_mises", one.plate_peak_von_mises),
            **pair("bore_hoop_stress_under_load", one.bore_hoop_stress_under_load),
            "error": one.error or None,
        }
        for name, one in zip((f"at_{name}" for name in names), made, strict=True)
    }
