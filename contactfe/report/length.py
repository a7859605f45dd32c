"""How the force is shared along the contact: as a table, and as data."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict

from contactfe.assess.results import Doubling, LengthResult, SectionResult
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.hand.cantilever import SHORTEST
from contactfe.report import words
from contactfe.report.blocks import Column, Table, numbers
from contactfe.report.json_file import Json

NOTE = (
    "The post is a cantilever, rigid at its root, that a straight plate presses over the"
    " contact length. Each slice follows the force–approach curve of its section, its ring"
    " bending with its neighbours' (in plane stress for itself, and the post is Timoshenko's"
    " beam), and can part from the plate. Tilt: of the plate to the unbent post, positive where"
    " the tip is met first; the post's own slope is that of its axis in the middle of the"
    " contact, z the distance from the root. Evenest: the tilt of the least peak. Doubled: the"
    " tilts at which the peak is twice that of no tilt. Half-width, pressure, the plate, and"
    " all hand formulas and clauses of contact, ring and plate are checked with the peak line"
    " load; the post where it is stressed most, with the line load and the moment that meet"
    " there, which stretches the impacted face by the axial stress. First yield is with all"
    " loads grown alike. The force on the post stays that of the case; its root is bent by it"
    " at the farthest resultant of the tilts tried, and not nearer than in the middle of the"
    " contact."
)
"""What stands below the table."""


def length_tables(case: Case, results: Sequence[SectionResult]) -> Iterator[Table]:
    """The share of each section along the contact; nothing where the case has it even."""
    found = [(result, result.length) for result in results if result.length is not None]
    if not found:
        return
    units = case.display
    load, angle, length = units.line_load.name, units.angle.name, units.length.name
    mean = units.line_load.text(case.line_load)
    heads = (
        f"peak line\nload\n[{load}]", "peak\n/ mean\n[1]",
        f"peak\nat z\n[{length}]", f"worst\ntilt\n[{angle}]",
        f"post's\nslope\n[{angle}]", f"parted\nover\n[{length}]",
        f"moment\nat peak\n[{units.moment.name}]", f"moment\nchecked\n[{units.moment.name}]",
        f"axial\nstress\n[{units.stress.name}]", "peak if\nrigid\n[mean]",
        f"evenest\nat tilt\n[{angle}]", "peak\nthere\n[mean]",
        f"doubled\nat −\n[{angle}]", f"doubled\nat +\n[{angle}]",
    )  # fmt: skip
    rows = tuple(
        (
            words.one_line(result.section.name),
            units.line_load.number(share.peak_line_load),
            significant(share.peak_over_mean, 3), units.length.number(share.peak_from_root),
            units.angle.number(share.tilt), significant(units.angle.of(share.slope), 3),
            significant(units.length.of(share.parted_length), 3),
            units.moment.number(share.moment_at_peak), units.moment.number(share.moment_used),
            significant(units.stress.of(result.axial_stress), 3),
            significant(share.rigid_peak_over_mean, 3),
            significant(units.angle.of(share.evenest.tilt), 3),
            significant(share.evenest.peak_line_load / share.mean_line_load, 3),
            *(_doubling(at, units) for at in share.doubling),
        )
        for result, share in found
    )  # fmt: skip
    yield Table(
        (Column("section", folds=True, least=14, most=20), *numbers(*heads)),
        (rows,),
        f"Along the post: mean line load {mean}",
        "\n".join([NOTE, *_notes(found, units), *_stubby(case, found)]),
    )


def _doubling(at: Doubling, units: Display) -> str:
    return "–" if at.tilt is None else significant(units.angle.of(at.tilt), 3)


def _notes(found: Sequence[tuple[SectionResult, LengthResult]], units: Display) -> Iterator[str]:
    if any(len(share.tried) > 1 for _, share in found):
        for result, share in found:
            tried = ", ".join(
                f"{units.angle.text(t.tilt)}: {units.line_load.text(t.peak_line_load)}"
                for t in sorted(share.tried, key=lambda t: t.tilt)
            )
            yield f"{words.one_line(result.section.name)}: peak at each tilt tried, {tried}."
    for result, share in found:
        name = words.one_line(result.section.name)
        if share.worst_pair is not None:
            pair = share.worst_pair
            yield (
                f"{name}: the post is stressed most at a tilt of {units.angle.text(pair.tilt)},"
                f" z = {units.length.text(pair.place)}, by {units.line_load.text(pair.line_load)}"
                f" with {units.moment.text(pair.moment)}."
            )
        for why in dict.fromkeys(at.why_not for at in share.doubling if at.why_not):
            yield f"{name}, twice the peak of no tilt (–): {why}."


def _stubby(case: Case, found: Sequence[tuple[SectionResult, LengthResult]]) -> Iterator[str]:
    """What a beam is no more: a post shorter than its formulas are for."""
    assert case.cantilever is not None
    for result, _ in found:
        ratio = case.cantilever.length / result.section.outside_diameter
        if ratio < SHORTEST:
            yield (
                f"{words.one_line(result.section.name)}: L/D = {significant(ratio, 3)}, below"
                f" {SHORTEST:g}: so short a post is no beam, its root gives way as well, and its"
                " share along the contact is an estimate only."
            )


def length_data(result: SectionResult) -> Json | None:
    """The same as data, in N, mm, MPa and rad; None where the load is even."""
    share = result.length
    if share is None:
        return None
    low, high = share.doubling
    return {
        "mean_line_load": share.mean_line_load,
        "peak_line_load": share.peak_line_load,
        "peak_over_mean": share.peak_over_mean,
        "peak_from_root": share.peak_from_root,
        "tilt": share.tilt,
        "tried": [{"tilt": t.tilt, "peak_line_load": t.peak_line_load} for t in share.tried],
        "slope": share.slope,
        "parted_length": share.parted_length,
        "moment_at_peak": share.moment_at_peak,
        "moment_used": share.moment_used,
        "worst_pair": None if share.worst_pair is None else asdict(share.worst_pair),
        "axial_stress": result.axial_stress,
        "resultant_from_root": share.resultant_from_root,
        "root_lever": share.root_lever,
        "rigid_peak_over_mean": share.rigid_peak_over_mean,
        "evenest": {"tilt": share.evenest.tilt, "peak_line_load": share.evenest.peak_line_load},
        "doubling": [{"tilt": at.tilt, "why_not": at.why_not or None} for at in (low, high)],
        "bending_stiffness": share.bending_stiffness,
        "shear_stiffness": share.shear_stiffness,
        "force_balance": share.force_balance,
        "z": list(share.z),
        "line_load": list(share.line_load),
        "deflection": list(share.deflection),
        "approach": list(share.approach),
    }
