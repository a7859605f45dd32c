"""Clauses put to a section: bearing on each plate, the post's section, its root weld."""

from collections.abc import Iterator
from dataclasses import replace

from contactfe.assess.by_hand.impacted import ImpactedPlate
from contactfe.assess.by_hand.record import Clauses
from contactfe.case import Case, Material, Section
from contactfe.codes import aashto_lrfd, aisc_360, en_1337_4, en_1993_1_1, en_1993_1_8
from contactfe.codes.clause import ClauseCheck
from contactfe.codes.scope import steel_contact
from contactfe.hand import weld
from contactfe.hand.formula import Worked
from contactfe.hand.stress import out_of_plane

CORRELATION = {"S235": 0.8, "S275": 0.85, "S355": 0.9}
"""Factor βw of EN 1993-1-8, Table 4.1, by the name of the steel: seen in an open-source library."""

SAFE_CORRELATION = 1.0
"""The greatest factor of that table, for steels that it does not name."""


def bearing_clauses(
    case: Case, section: Section, impacted: ImpactedPlate, found: dict[str, Worked]
) -> Iterator[Clauses]:
    """Line bearing of the post on one plate.

    All of these clauses have the contact of Hertz in them, and so its limits.
    """
    q, D = impacted.line_load, section.outside_diameter
    end, part = impacted.end, f"post on {impacted.name}"
    post, plate, stated = case.post_material(section), case.plate_material, case.standards
    Y = min(post.yield_strength, plate.yield_strength)
    # The stiffer body makes the narrower contact, so it is the safe one of the two.
    stiffer = max((post, plate), key=lambda steel: steel.young)
    checks: list[ClauseCheck] = []
    if "AISC" in stated.families:
        bearing = aisc_360.roller(q, D, Y, stated.method, case.report_units)
        product: aisc_360.Listed = (
            "bar" if section.geometry.product == "solid" else "hollow section"
        )
        of_post = aisc_360.listed(post.yield_strength, product, "Fy of the post")
        of_plate = aisc_360.listed(plate.yield_strength, "plate", "Fy of the plate")
        checks.append(replace(bearing, scope=(*bearing.scope, *of_post, *of_plate)))
    if "AASHTO" in stated.families:
        E, nu = stiffer.young, stiffer.poisson
        checks.append(aashto_lrfd.cylinder(q, D, Y, young=E, poisson=nu))
    if "EN" in stated.families:
        if post.ultimate_strength is not None and plate.ultimate_strength is not None:
            roller = en_1337_4.roller(
                q, section.radius, post.ultimate_strength, plate.ultimate_strength, Y,
                impacted.contact_length, stiffer.young, stated.gamma_m, stiffer.poisson,
            )  # fmt: skip
            checks.append(roller)
        flat = en_1993_1_8.flat_contact_by_analogy(
            q, D, Y, stated.gamma_M6_ser, stiffer.young, stiffer.poisson
        )
        checks.append(flat)
    for check in checks:
        steel = _of_steel(check, post, plate)
        yield Clauses(
            f"{check.clause.key}{end}", part, _heir(steel, found[f"hertz_half_width{end}"])
        )


def _heir(check: ClauseCheck, *demands: Worked) -> ClauseCheck:
    """The check with what its demands exceeded: it is no surer than they are.

    But for the yield strength, which the check itself is a measure of.
    """
    exceeded = (
        limit for demand in demands for limit in demand.exceeded if not limit.what.startswith("σ/Y")
    )
    return replace(check, scope=tuple(dict.fromkeys((*check.scope, *exceeded))))


def _of_steel(check: ClauseCheck, *bodies: Material) -> ClauseCheck:
    """The check, in whose scope both bodies are steel: its coefficients have steel in them."""
    limits = (limit for body in bodies for limit in steel_contact(body.young, body.poisson))
    return replace(check, scope=tuple(dict.fromkeys((*check.scope, *limits))))


def least_ultimate(post: Material, plate: Material) -> float | None:
    """The lower ultimate strength of the two steels, MPa; None where one is not known."""
    if post.ultimate_strength is None or plate.ultimate_strength is None:
        return None
    return min(post.ultimate_strength, plate.ultimate_strength)


def plate_clauses(
    case: Case, impacted: ImpactedPlate, found: dict[str, Worked]
) -> Iterator[Clauses]:
    """Bending of one plate between its edges, with friction, by the steps found for it."""
    mu = "_with_friction" if case.contact.friction > 0.0 else ""
    end, part = impacted.end, impacted.name
    steel, stated, t = case.plate_material, case.standards, case.plate.thickness

    def worst(*keys: str) -> Worked:
        there = [found[f"{key}{end}"] for key in keys if f"{key}{end}" in found]
        return max(there, key=lambda worked: abs(worked.value))

    Y = steel.yield_strength
    if "AISC" in stated.families:
        moment = worst(*(f"strip_{place}moment{mu}" for place in ("", "edge_")))
        flexure = aisc_360.plate_flexure(abs(moment.value), t, Y, stated.method)
        yield Clauses(f"{flexure.clause.key}{end}", part, _heir(flexure, moment))
        if mu:
            axial, span, E = found[f"strip_friction_axial{end}"], case.plate.width, steel.young
            both = aisc_360.plate_combined(
                abs(moment.value), axial.value, t, span, Y, stated.method, E
            )
            yield Clauses(f"{both.clause.key}{end}", part, _heir(both, moment, axial))
    if "EN" in stated.families:
        along = worst(*(f"strip_{place}_stress{mu}" for place in ("back", "edge")))
        across = float(out_of_plane(along.value, 0.0, steel.poisson, case.state))
        point = en_1993_1_1.yield_at_a_point(along.value, across, 0.0, Y, stated.gamma_M0)
        yield Clauses(f"{point.clause.key}{end}", part, _heir(point, along))


def post_clauses(case: Case, section: Section, found: dict[str, Worked]) -> Iterator[Clauses]:
    """Bending and shear of the post at its root, and its weld, by the steps found for it."""
    assert case.cantilever is not None
    root = found["post_root_moment"]
    V, M = found["post_force"].value, root.value
    steel, stated = case.post_material(section), case.standards
    D, h, Y = section.outside_diameter, section.geometry.wall, steel.yield_strength
    checks: list[ClauseCheck] = []
    if "AISC" in stated.families:
        method, E = stated.method, steel.young
        if h is None:
            checks += [
                aisc_360.solid_round_flexure(M, D, Y, method),
                aisc_360.solid_round_shear(V, D, Y, method),
            ]
        else:
            length, share = case.cantilever.length, steel.design_wall
            checks += [
                aisc_360.round_hss_flexure(M, D, h, Y, method, E, share),
                aisc_360.round_hss_shear(V, D, h, length, Y, method, E, share),
            ]
    if "EN" in stated.families:
        gamma = stated.gamma_M0
        shear = (
            en_1993_1_1.solid_shear(V, D, Y, gamma)
            if h is None
            else en_1993_1_1.tube_shear(V, D, h, Y, gamma)
        )
        checks += [
            en_1993_1_1.bending(M, D, Y, h, gamma),
            shear,
            en_1993_1_1.bending_with_shear(M, V, D, Y, h, gamma),
        ]
    for check in checks:
        yield Clauses(check.clause.key, "post section", _heir(check, root))
    for check in _weld(case, steel, found):
        stress = found["weld_resultant_stress"]
        # Force and strength per length of weld grow with the throat alike, so their ratio is
        # that of the stresses.
        throat = weld.required_throat.worked(V, M, D, stress.value / check.ratio).of(root)
        least = [replace(at, value=throat.value) for at in check.scope if at.what == "throat"]
        yield Clauses(check.clause.key, "root weld", _heir(check, stress), throat.also(*least))


def _weld(case: Case, steel: Material, found: dict[str, Worked]) -> Iterator[ClauseCheck]:
    """The fillet weld at the root, where it is stated and its strength is known."""
    cantilever, stated = case.cantilever, case.standards
    assert cantilever is not None
    if cantilever.weld_throat is None:
        return
    stress = found["weld_resultant_stress"].value
    if "AISC" in stated.families and cantilever.electrode_strength is not None:
        yield aisc_360.fillet_weld(stress, cantilever.electrode_strength, stated.method)
    if "EN" in stated.families and steel.ultimate_strength is not None:
        throat, fu = cantilever.weld_throat, steel.ultimate_strength
        yield en_1993_1_8.fillet_weld(
            stress * throat, throat, fu, correlation(steel), stated.gamma_M2
        )


def correlation(steel: Material) -> float:
    """Factor βw of a steel; that of the strongest where the table does not name it."""
    named = (factor for name, factor in CORRELATION.items() if name in steel.name)
    return next(named, SAFE_CORRELATION)
