"""How checks are named, in short for a narrow column and in full, with what they come to."""

from collections.abc import Callable, Iterable, Iterator

from contactfe.assess.checks import WALLS, Check
from contactfe.case.display import Display
from contactfe.report import words

_SECOND = "_second"

_SHORT = {
    "von_mises_post": "von Mises post",
    "von_mises_plate": "von Mises plate",
    "post_bending_stress": "root bending",
    "post_von_mises": "root von Mises",
    "post_twisted_von_mises": "root torsion",
    "hertz_peak_von_mises": "Hertz post",
    "hertz_peak_von_mises_plate": "Hertz plate",
    "sliding_peak_von_mises": "sliding post",
    "sliding_peak_von_mises_plate": "sliding plate",
    "disc_centre_von_mises": "disc centre",
    "ring_bore_under_load": "ring under load",
    "ring_bore_at_side": "ring at side",
    "thin_ring_bore_under_load": "thin ring under",
    "thin_ring_bore_at_side": "thin ring at side",
    "curved_beam_bore_under_load": "curved beam under",
    "curved_beam_bore_at_side": "curved beam at side",
    "strip_back_stress": "strip back",
    "strip_edge_stress": "strip edge",
    "strip_along_von_mises": "strip along",
    "strip_back_stress_with_friction": "strip, friction",
    "strip_edge_stress_with_friction": "edge, friction",
    "layer_back_stress": "layer back",
    "aisc_360.j7_roller": "AISC J7",
    "aisc_360.f8": "AISC F8",
    "aisc_360.f11_round": "AISC F11 post",
    "aisc_360.f11_plate": "AISC F11 plate",
    "aisc_360.h1_plate": "AISC H1 plate",
    "aisc_360.g5": "AISC G5",
    "aisc_360.g5_solid_by_analogy": "AISC G5 solid",
    "aisc_360.h3_2": "AISC H3.2",
    "aisc_360.h3_2_solid_by_analogy": "AISC H3.2 solid",
    "aisc_360.j2_4": "AISC J2.4",
    "aisc_360.j2_4_groove": "AISC J2.4 groove",
    "aisc_360.j7_socket_by_analogy": "AISC J7 socket",
    "aashto_lrfd.14_7_1_4_cylinder": "AASHTO 14.7.1.4",
    "en_1337_4.roller": "EN 1337-4",
    "en_1993_1_1.6_2_1_5": "EC3-1-1 6.2.1",
    "en_1993_1_1.6_2_5": "EC3-1-1 6.2.5",
    "en_1993_1_1.6_2_6_tube": "EC3-1-1 6.2.6",
    "en_1993_1_1.6_2_6_solid": "EC3-1-1 6.2.6(4)",
    "en_1993_1_1.6_2_7_tube": "EC3-1-1 6.2.7",
    "en_1993_1_1.6_2_7_solid": "EC3-1-1 6.2.7 solid",
    "en_1993_1_1.6_2_8": "EC3-1-1 6.2.8",
    "en_1993_1_8.flat_contact_by_analogy": "EC3-1-8 3.13",
    "en_1993_1_8.4_5_3_3": "EC3-1-8 4.5",
    "en_1993_1_8.4_7_1": "EC3-1-8 4.7.1",
    "en_1993_1_8.socket_by_analogy": "EC3-1-8 socket",
}
"""By the key of a check on the first plate; "EC3" is EN 1993."""

_AS_MADE = {f"_{wall.replace(' ', '_')}": wall for wall in WALLS}
"""What the keys of checks at the limits of a wall end in."""

_SOLVED = ", solved, with its numerical uncertainty"


def short(check: Check) -> str:
    """The short name of a check, "2nd" for one on the second plate; its whole one without one."""
    key, made = _nominal(check)
    name = _SHORT.get(key.removesuffix(_SECOND))
    if name is None:
        return check.label
    return f"{name}{' 2nd' if key.endswith(_SECOND) else ''}{made and f', {made}'}"


def sentence_name(check: Check) -> str:
    """The name of a check in a sentence: of a clause its short name and what it is put to."""
    return f"{short(check)}, {check.body}" if check.kind == "clauses" else check.label


def why(check: Check, units: Display) -> str:
    """Why a check has no verdict; empty where it has one."""
    if check.missing or not check.exceeded:
        return check.missing
    limits = (
        f"{limit.what} = {units.beside(limit)}, {limit.side} {units.bound(limit)}"
        for limit in check.exceeded
    )
    return f"outside its range: {', '.join(limits)}"


def _nominal(check: Check) -> tuple[str, str]:
    """The key of a check at nominal sizes, and at which limit of the wall it is; empty at none."""
    for end, wall in _AS_MADE.items():
        if check.key.endswith(end):
            return check.key.removesuffix(end), wall
    return check.key, ""


BUT = "†"
"""Marks what passes all but the checks that no wall of the diameter changes."""

Name = Callable[[Check, Display], str]
"""A check with its ratio, as it is worst, and why it has no verdict if it has none."""


def by_short_name(check: Check, units: Display) -> str:
    """By its short name."""
    ratio = "" if check.ratio is None else f" {words.ratio_text(check.most)}"
    because = why(check, units)
    return f"{short(check)}{ratio}" + (f" (no verdict: {because})" if because else "")


def in_full(check: Check, units: Display) -> str:
    """By its whole name."""
    ratio = "" if check.ratio is None else f", {words.ratio_text(check.most)} of what is allowed"
    because = why(check, units)
    return f"{check.label}{ratio}" + (f", NO VERDICT ({because})" if because else "")


def spelled_out(checks: Iterable[Check]) -> Iterator[str]:
    """Each short name among the checks and what it is short for, a name once, in one order."""
    order = {key: number for number, key in enumerate(_SHORT)}

    def place(check: Check) -> int:
        return order.get(_nominal(check)[0].removesuffix(_SECOND), -1)

    found = {check.key: check for check in checks if place(check) >= 0}
    for check in sorted(found.values(), key=lambda check: (place(check), check.key)):
        yield f"{short(check)}: {check.label}{_SOLVED if check.kind == 'stress' else ''}"
