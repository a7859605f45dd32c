"""What the approach of a section is and is made of: between which points it is measured, and the
shares of the contact, the ring and the plate, as :mod:`contactfe.assess.shares` parts them.
"""

from collections.abc import Iterator

from contactfe.assess.stiffness import SectionStiffness
from contactfe.case import Case, Section
from contactfe.report.blocks import Column, Row, Table
from contactfe.report.specimen import figure_row, figure_table

_NO_RING, _NONE = "ring (none, the post is solid)", "none"
"""Label and figures of a ring that there is not."""


def datum(case: Case, section: Section) -> str:
    """Between which points the approach of a section is measured."""
    return f"{case.support(section).datum}, towards {case.plate.support.datum}"


def shares_note(case: Case) -> str:
    """How the shares are separated."""
    far = "base" if case.plate.support.base else "back"
    special = case.corner is not None or any(case.support(s).core for s in case.sections)
    also = ", a rigid core and the load of the second plate of a corner counted" if special else ""
    return (
        "Shares: the contact is a solid round of the post's diameter, and the plate between its"
        f" face and its {far}, by the hand formulas at the half-width solved; the ring is what the"
        f" post as solved gives way beyond that solid{also}; bending is the rest: what the plate as"
        " a whole and its supports give way."
    )


def share_table(case: Case, section: SectionStiffness) -> Table:
    """The contact alone, at the load of the case: its stiffness, and the shares of the approach."""
    title = "The contact alone, at the load of the case"
    beside = Column("of the approach", numbers=True)
    return figure_table(case, title, [_rows(case, section)], beside)


def _rows(case: Case, section: SectionStiffness) -> Iterator[Row]:
    length, approach = case.contact_length, section.approach
    yield figure_row(case, "line load", "", case.line_load, "line load")
    if length is not None:
        yield figure_row(case, "force on the contact length", "", case.line_load * length, "force")
    yield figure_row(case, "half-width", "", section.half_width, "length")
    yield figure_row(case, "approach", "100 %", approach, "length")
    ring = section.shares[1]
    for label, part in zip(_labels(case, section.section), section.shares, strict=True):
        if part is ring and label == _NO_RING and abs(ring.value) <= ring.uncertainty:
            # Nothing is there to give way, and its figure is numerical noise.
            yield f"  {label}", "", case.display.length.name, _NONE, _NONE
            continue
        share = f"{100.0 * part.value / approach.value:.1f} %".replace("-0.0 %", "0.0 %")
        yield figure_row(case, f"  {label}", share, part, "length")
    both = (("tangent", section.tangent_stiffness), ("secant", section.secant_stiffness))
    for name, value in both:
        label = f"{name} stiffness, per length of line"
        yield figure_row(case, label, "", value, "line stiffness")
    if length is not None:
        for name, value in both:
            whole = value.over(1.0 / length)
            yield figure_row(case, f"{name} stiffness, whole", "", whole, "stiffness")
    yield figure_row(case, "local exponent, d ln q / d ln δ", "", section.exponent, None)


def _labels(case: Case, section: Section) -> tuple[str, str, str, str]:
    """The four shares in the order of :class:`.Shares`."""
    beyond = "what its edges add" if case.plate.support.base else "its bending and supports"
    return (
        "contact, the post as a solid",
        _ring_label(case, section),
        "contact, the plate",
        f"plate, {beyond}",
    )


def _ring_label(case: Case, section: Section) -> str:
    """What gives way beyond a solid post, or stiffens it."""
    adds = [section.geometry.adds] if section.geometry.adds else []
    if case.support(section).core:
        adds.append("the core")
    if case.corner is not None:
        adds.append("the second plate's load")
    what = " and ".join(adds)
    return f"ring, what {what} add{'' if ' and ' in what else 's'}" if adds else _NO_RING
