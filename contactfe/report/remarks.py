"""Why a hand formula and the computed figure beside it differ, where they do."""

from contactfe.assess.handchecks import contact_zones
from contactfe.assess.results import HandCheck, SectionResult
from contactfe.case import Case


def remark(case: Case, result: SectionResult, check: HandCheck) -> str:
    """Which limit of its range the formula passed, and why it parts from the computed figure by
    more than it should; empty where neither is so.
    """
    passed = "; ".join(map(case.display.limit, check.step.worked.exceeded))
    remarks = [f"outside its range ({passed})"] if passed else []
    if abs(check.difference) > check.limit:
        remarks.append(_why(case, result, check.key))
    of_post = "peak_von_mises" in check.key and not check.key.endswith("_plate")
    if of_post and (share := share_of_peak(case, result)) is not None and share < _FULL:
        remarks.append(
            f"by hand under the peak line load, and read where that is {100 * share:.0f} % of it"
        )
    return "; ".join(remarks)


_FULL = 0.995
"""Share of the peak line load from which a place counts as under all of it."""


def share_of_peak(case: Case, result: SectionResult) -> float | None:
    """Line load where the post is stressed most over the greatest along it; None of an even one."""
    strip = result.reading.post.strip
    if result.length is None or strip is None:
        return None
    return float(strip.ratios[0] * case.line_load / result.length.peak_line_load)


def _why(case: Case, result: SectionResult, key: str) -> str:
    number = 1 if key.endswith("_second") else 0
    key = key.removesuffix("_second")
    body = "plate" if key.endswith("_plate") else "post"
    method = key.partition("_")[0]
    if key in {"hertz_half_width", "hertz_peak_pressure"}:
        why = _not_half_space(case, result, number)
    elif method in {"hertz", "sliding"}:
        elsewhere = _yields_elsewhere(result, number, body) if "yield" in key else ""
        why = elsewhere or _at_contact(case, result, number, body, method)
    elif method in {"approach", "layer", "strip"}:
        why = _on_plate(case, result, number, method)
    elif method == "disc":
        why = "the exact value is for a load at a point"
    else:
        why = _ring(case, result, key)
    return why


def _at_contact(case: Case, result: SectionResult, number: int, body: str, method: str) -> str:
    """What the finite bodies add along the surface at a contact, beside friction that is left out.

    With friction the peak by hand is that of a contact which slides.
    """
    if method == "hertz" and not _frictionless(case):
        return "friction is left out"
    patch, stress = result.reading.patches[number], case.display.stress
    added = result.reading.post.added[number] if body == "post" else patch.plate_added
    friction = "" if _frictionless(case) else ", and friction,"
    why = (
        f"bending and finite size of the {body}{friction} add {stress.signed(added)} along the"
        " surface at the contact, which a half-space does not have"
    )
    if body == "post" and result.axial_stress != 0.0:
        why += f"; its bending along its axis adds {stress.signed(result.axial_stress)} there"
    motion = result.patches[number].motion
    if not _frictionless(case) and motion != "full sliding":
        return f"not all friction is at work, the contact being in {motion}; {why}"
    return why


def _yields_elsewhere(result: SectionResult, number: int, body: str) -> str:
    """That a body yields first where the formula does not look; empty if it yields there."""
    one = result.member if body == "post" else result.patches[number].plate
    if one.peak_von_mises.at.zone in contact_zones(number, body):
        return ""
    this = "the contact" if len(result.patches) == 1 else "this contact"
    return f"the {body} yields first at the {one.peak_von_mises.at.zone}, not at {this}"


def _ring(case: Case, result: SectionResult, key: str) -> str:
    wall = result.section.geometry.wall
    assert wall is not None  # of a ring
    slender = wall / (result.section.radius - wall / 2.0)
    also = "" if _frictionless(case) else "friction is left out; "
    if key.startswith("ring"):
        share = result.half_width.value / wall
        return (
            f"{also}the patch is {share:.2f} of the wall wide from its middle to its edge; the"
            " series takes the load at a point"
        )
    if key.startswith("thin_ring"):
        return (
            f"{also}the wall is {slender:.2f} of the mean radius; thin-ring bending is for up to"
            " 0.1"
        )
    return (
        f"{also}plane sections are assumed to stay plane, which they do not so near the load in"
        f" a wall of {slender:.2f} of the mean radius"
    )


def _not_half_space(case: Case, result: SectionResult, number: int) -> str:
    """Which of the lengths that Hertz takes as endless is nearest to the half-width."""
    section = result.section
    lengths = {
        "radius": section.radius,
        "plate's thickness": case.plate.thickness,
        "distance to the plate's edge": case.plate.width / 2.0 - abs(case.offsets[number]),
    }
    if section.geometry.wall is not None:
        lengths["wall"] = section.geometry.wall
    name = min(lengths, key=lambda k: lengths[k])
    share = result.reading.patches[number].half_width / lengths[name]
    return f"the half-width is {share:.3f} of the {name}, which Hertz takes as endless"


def _on_plate(case: Case, result: SectionResult, number: int, method: str) -> str:
    edge = _from_edge(case, result, number)
    if method != "strip":
        what = "plate" if method == "approach" else "layer"
        return f"a {what} without ends, on a base without friction; {edge}"
    share = case.plate.thickness / case.plate.width
    also = "" if _frictionless(case) else "; friction along the plate is left out"
    return f"a strip in bending; the thickness is {share:.2f} of the span; {edge}{also}"


def _from_edge(case: Case, result: SectionResult, number: int) -> str:
    at, plate = case.offsets[number] + result.patches[number].centre.value, case.plate
    away = (plate.width / 2 - abs(at)) / plate.thickness
    return f"the nearer edge is {away:.1f} thicknesses from the load"


def _frictionless(case: Case) -> bool:
    return case.contact.friction == 0.0
