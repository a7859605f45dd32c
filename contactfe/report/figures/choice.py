"""Which figures there are, and which sections they have room for."""

from contactfe.assess.results import Comparison, SectionResult
from contactfe.case import Case
from contactfe.report import words
from contactfe.report.slugs import unique_slugs

ALWAYS = ("sections.png", "pressure.png", "load_line.png")
"""The figures that every comparison has."""

MOST = 4


def named(case: Case) -> tuple[str, ...]:
    """The figures of a comparison, by the names of their files."""
    hollow = any(section.geometry.hollow for section in case.sections)
    return (
        *ALWAYS,
        *(("length.png",) if case.alignment is not None else ()),
        *(("relief.png",) if case.finite and hollow else ()),
        *(("convergence.png",) if case.accuracy is not None else ()),
    )


def impacts_named(case: Case) -> tuple[str, ...]:
    """That of each impact: one for each section where they have curves of their own."""
    if case.motion is None or case.motion.contact_law.law != "section":
        return ("impact.png",)
    return tuple(f"impact-{name}.png" for name in unique_slugs(s.name for s in case.sections))


def overloads_named(case: Case) -> tuple[str, ...]:
    """Those of strikes beyond first yield: of all sections, and one for each."""
    return (
        "overload.png",
        *(f"overload-{name}.png" for name in unique_slugs(s.name for s in case.sections)),
    )


def chosen(comparison: Comparison) -> tuple[SectionResult, ...]:
    """At most ``MOST`` sections, the best by K first; the first solid is among them."""
    rank = comparison.by_concentration.index
    kept = sorted(comparison.sections, key=lambda result: rank(result.section.name))[:MOST]
    solid = next((r for r in comparison.sections if not r.section.geometry.hollow), None)
    if solid is not None and solid not in kept:
        kept[-1] = solid
    return tuple(kept)


def shown_of(comparison: Comparison, shown: tuple[SectionResult, ...]) -> str:
    """A sentence on what a figure leaves out; empty where it shows every section."""
    if len(shown) == len(comparison.sections):
        return ""
    solid = any(not r.section.geometry.hollow for r in comparison.sections)
    which = "the best by K and the first solid round" if solid else "the best by K"
    return f"Shown are {len(shown)} of {len(comparison.sections)} sections: {which}."


def stated(case: Case) -> str:
    """What a figure of the contact that the case states says where it stands alone."""
    parts = (loaded(case), words.corner(case), words.contact(case))
    return "; ".join(part for part in parts if part)


def loaded(case: Case) -> str:
    """Title, load and plane state of a case."""
    return f"{words.one_line(case.title)} at {words.line_load(case)}, {case.state}"


def axial_words(shown: tuple[SectionResult, ...]) -> str:
    """Where along the post it is shown, and that its bending counts; empty of slices alone."""
    parts = []
    if any(result.relief is not None for result in shown):
        parts.append(
            "The post is shown where it is stressed most along the contact, exact values are those"
            " of a slice."
        )
    if any(result.axial_stress != 0.0 for result in shown):
        parts.append(
            "The von Mises stress of the post includes the axial stress of its bending as a"
            " cantilever."
        )
    return " ".join(parts)
