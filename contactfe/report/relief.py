"""What a contact of finite length leaves of the relief of a slice: as a table, and as data."""

from collections.abc import Iterator, Sequence

from contactfe.assess.results import ReliefResult, SectionResult
from contactfe.case import Case
from contactfe.case.display import Display, significant
from contactfe.report import words
from contactfe.report.blocks import Column, Table, numbers
from contactfe.report.json_file import Json
from contactfe.report.values import page_pairs

NOTE = (
    "The post in three dimensions: each slice is bent as a ring by its own line load and held"
    " back, or bent further, by its neighbours. Share: hoop stress at the bore under the load"
    " over that of the slice alone under the same line load; where it is less than 1, the"
    " contact zone is relieved by that much less; a post that ends with its contact bends more"
    " there, and its free end loses the support of plane strain. The share is given where the"
    " post is stressed most, at z from the middle of the contact, positive towards the tip, and"
    " as the least and the greatest along the contact. Slice: the same section as a slice of a"
    " long even contact under the peak line load, without the bending of the post along its"
    " axis. All other tables, K, first yield and verdicts are of the finite contact, with the"
    " bending moment of the post where [cantilever] states it; hand formulas of the ring stand"
    " beside the slice."
)
"""What stands below the table."""

SHARP_END = (
    "A contact that ends sharply has a stress concentration at its very end that no elastic"
    " figure says anything of: it is not in these figures, which are read from a tenth of the"
    " radius or two half-widths inside, the end standing there with its largest line load."
    " Crowning or a chamfer takes it away; the drop of the ends that does so is among the hand"
    " formulas."
)


def relief_tables(case: Case, results: Sequence[SectionResult]) -> Iterator[Table]:
    """The relief of each section over its contact; nothing where it counts as long."""
    found = [(result, result.relief) for result in results if result.relief is not None]
    if not found:
        return
    units = case.display
    length, stress = f"[{units.length.name}]", f"[{units.stress.name}]"
    heads = (
        "contact\n/ D\n[1]", f"tip\nat z\n{length}", f"stressed\nmost at z\n{length}",
        "share\nthere\n[1]", "least\nshare\n[1]", "greatest\nshare\n[1]",
        f"post\npeak\n{stress}", f"slice's\npeak\n{stress}", "K\n[1]", "slice's\nK\n[1]",
        f"bore\nhoop\n{stress}", f"slice's\nbore hoop\n{stress}",
    )  # fmt: skip
    rows = tuple(
        (
            words.one_line(result.section.name),
            significant(relief.contact_length / result.section.outside_diameter, 3),
            significant(units.length.of(relief.tip), 4), _place(relief, units),
            *_shares(result, relief),
            *_figures(result, units),
        )
        for result, relief in found
    )  # fmt: skip
    yield Table(
        (Column("section", folds=True, least=14, most=20), *numbers(*heads)),
        (rows,),
        "Over the length of the contact",
        "\n".join([NOTE, *_tips(found), SHARP_END]),
    )


def _place(relief: ReliefResult, units: Display) -> str:
    return significant(units.length.of(relief.place), 3)


def _shares(result: SectionResult, relief: ReliefResult) -> tuple[str, str, str]:
    known = [share for share in relief.participation or () if share is not None]
    value = result.values.get("participation")
    if value is None or not known:
        return "–", "–", "–"
    there, _ = words.with_uncertainty(value, None)
    return there, words.fixed(min(known), 2), words.fixed(max(known), 2)


def _figures(result: SectionResult, units: Display) -> Iterator[str]:
    keys = (
        "post_peak", "slice_post_peak", "stress_concentration", "slice_stress_concentration",
        "bore_hoop_under_load", "slice_bore_hoop_under_load",
    )  # fmt: skip
    for figure, _ in page_pairs(result.values, units, *keys):
        yield figure or "–"


def _tips(found: Sequence[tuple[SectionResult, ReliefResult]]) -> Iterator[str]:
    if any(not relief.tip_stated for _, relief in found):
        yield (
            "The post's free end is not stated ([cantilever] tip): a post that ends with its"
            " contact and a long one are both looked at, and the worse of the two counts, place by"
            " place."
        )


def relief_data(relief: ReliefResult | None) -> Json | None:
    """The same as data, in N and mm; None where the contact counts as long."""
    if relief is None:
        return None
    shares = relief.participation
    return {
        "contact_length": relief.contact_length,
        "tip": relief.tip,
        "tip_stated": relief.tip_stated,
        "place": relief.place,
        "z": list(relief.z),
        "line_load": list(relief.line_load),
        "participation": None if shares is None else list(shares),
    }
