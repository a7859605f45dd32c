"""Clauses put to a section: bearing on each plate, the post's section, its root weld."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from contactfe.assess.by_hand.impacted import ImpactedPlate
from contactfe.assess.by_hand.record import Clauses
from contactfe.assess.by_hand.root import root_lever
from contactfe.case import Case, Material, Section
from contactfe.codes import aashto_lrfd, aisc_360, en_1337_4, en_1993_1_1, en_1993_1_8
from contactfe.codes.clause import ClauseCheck
from contactfe.codes.scope import steel_contact
from contactfe.hand import flexure, round_section, socket, torsion, weld
from contactfe.hand.formula import Worked, at_most
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
        bearing = replace(bearing, scope=(*bearing.scope, *of_post, *of_plate))
        checks.append(_of_table(bearing, post, plate))
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


def _of_table(check: ClauseCheck, *bodies: Material) -> ClauseCheck:
    """A clause of AISC 360, outside its scope where a body is of no steel in its tables."""
    names = sorted({steel.name for steel in bodies if steel.other_material})
    if not names:
        return check
    what = f"steels ({', '.join(names)}) that no table of AISC 360 lists: A3.1b leaves them to the"
    what += " engineer of record; their number"
    return replace(check, scope=(*check.scope, at_most(what, len(names), 0)))


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
        bent = aisc_360.plate_flexure(abs(moment.value), t, Y, stated.method)
        yield Clauses(f"{bent.clause.key}{end}", part, _heir(_of_table(bent, steel), moment))
        if mu:
            axial, span, E = found[f"strip_friction_axial{end}"], case.plate.width, steel.young
            both = aisc_360.plate_combined(
                abs(moment.value), axial.value, t, span, Y, stated.method, E
            )
            both = _of_table(both, steel)
            yield Clauses(f"{both.clause.key}{end}", part, _heir(both, moment, axial))
    if "EN" in stated.families:
        along = worst(*(f"strip_{place}_stress{mu}" for place in ("back", "edge")))
        across = float(out_of_plane(along.value, 0.0, steel.poisson, case.state))
        point = en_1993_1_1.yield_at_a_point(along.value, across, 0.0, Y, stated.gamma_M0)
        yield Clauses(f"{point.clause.key}{end}", part, _heir(point, along))


def post_clauses(case: Case, section: Section, found: dict[str, Worked]) -> Iterator[Clauses]:
    """Bending, shear and torsion of the post, and what holds its root, by the steps found for it.

    In a socket the section takes the greatest moment and shear force within it, and where a clause
    takes both, those that meet.
    """
    assert case.cantilever is not None
    steel, stated = case.post_material(section), case.standards
    root = found.get("socket_moment", found["post_root_moment"])
    V = found["post_force"].value
    pairs: tuple[tuple[float, float], ...] = ((root.value, V),)
    if "socket_depth" in found:
        pairs = socket.together(V, root_lever(case), found["socket_depth"].value)
    T = found["post_torque"].value if "post_torque" in found else 0.0
    checks: list[ClauseCheck] = []
    if "AISC" in stated.families:
        of_post = _aisc_of_post(case, section, steel, pairs, T)
        checks += (_of_table(check, steel) for check in of_post)
    if "EN" in stated.families:
        checks += _en_of_post(case, section, steel, pairs, T)
    for check in checks:
        yield Clauses(check.clause.key, "post section", _heir(check, root))
    match case.cantilever.fixing:
        case "fillet weld":
            yield from _fillet_weld(case, section, steel, found)
        case "groove weld":
            for check in _groove_weld(case, section, steel, found):
                yield Clauses(check.clause.key, "root weld", _heir(check, root))
        case "socket":
            for check in _socket(case, steel, found["socket_pressure"].value):
                yield Clauses(check.clause.key, "root socket", _heir(check, root))


def _worst(
    clause: Callable[[float, float], ClauseCheck], pairs: Sequence[tuple[float, float]]
) -> ClauseCheck:
    """A clause put to each pair of moment and shear force that meet: the one of largest ratio.

    Its reserve is the least of all, which under more load may be that of another pair.
    """
    checks = [clause(*pair) for pair in pairs]
    worst, least = max(checks, key=lambda check: check.ratio), min(c.load_factor for c in checks)
    if least >= worst.load_factor:
        return worst
    return replace(worst, ratio_grows="faster than the load", stated_load_factor=least)


def _aisc_of_post(
    case: Case,
    section: Section,
    steel: Material,
    pairs: Sequence[tuple[float, float]],
    T: float,
) -> Iterator[ClauseCheck]:
    assert case.cantilever is not None
    D, h, Y = section.outside_diameter, section.geometry.wall, steel.yield_strength
    method, E = case.standards.method, steel.young
    M, V = map(max, zip(*pairs, strict=True))
    if h is None:
        yield aisc_360.solid_round_flexure(M, D, Y, method)
        yield aisc_360.solid_round_shear(V, D, Y, method)
        if T:
            yield _worst(lambda m, v: aisc_360.solid_round_combined(m, v, T, D, Y, method), pairs)
        return
    length, share = case.cantilever.length, steel.design_wall
    yield aisc_360.round_hss_flexure(M, D, h, Y, method, E, share)
    yield aisc_360.round_hss_shear(V, D, h, length, Y, method, E, share)
    if T:
        of = D, h, length, Y, method, E, share
        yield _worst(lambda m, v: aisc_360.round_hss_combined(m, v, T, *of), pairs)


def _en_of_post(
    case: Case,
    section: Section,
    steel: Material,
    pairs: Sequence[tuple[float, float]],
    T: float,
) -> Iterator[ClauseCheck]:
    D, h, Y = section.outside_diameter, section.geometry.wall, steel.yield_strength
    gamma = case.standards.gamma_M0
    M, V = map(max, zip(*pairs, strict=True))
    yield en_1993_1_1.bending(M, D, Y, h, gamma)
    if h is None:
        yield en_1993_1_1.solid_shear(V, D, Y, gamma)
    else:
        yield en_1993_1_1.tube_shear(V, D, h, Y, gamma)
    yield _worst(lambda m, v: en_1993_1_1.bending_with_shear(m, v, D, Y, h, gamma), pairs)
    if T and h is None:
        yield _worst(lambda m, v: en_1993_1_1.solid_combined(m, v, T, D, Y, gamma), pairs)
    elif T and h is not None:
        yield _worst(lambda m, v: en_1993_1_1.tube_combined(m, v, T, D, h, Y, gamma), pairs)


def _fillet_weld(
    case: Case, section: Section, steel: Material, found: dict[str, Worked]
) -> Iterator[Clauses]:
    """A fillet weld all round, where its strength is known, with the throat that it needs."""
    cantilever, stated = case.cantilever, case.standards
    assert cantilever is not None
    assert cantilever.weld_throat is not None
    stress, root = found["weld_resultant_stress"], found["post_root_moment"]
    checks: list[ClauseCheck] = []
    if "AISC" in stated.families and cantilever.electrode_strength is not None:
        check = aisc_360.fillet_weld(stress.value, cantilever.electrode_strength, stated.method)
        checks.append(check)
    if "EN" in stated.families and steel.ultimate_strength is not None:
        throat, fu = cantilever.weld_throat, steel.ultimate_strength
        line_load, factor = stress.value * throat, correlation(steel)
        checks.append(en_1993_1_8.fillet_weld(line_load, throat, fu, factor, stated.gamma_M2))
    V, T = found["post_force"].value, found.get("post_torque")
    for check in checks:
        # Force and strength per length of weld grow with the throat alike, so their ratio is
        # that of the stresses.
        needed = weld.required_throat.worked(
            V, root.value, section.outside_diameter, stress.value / check.ratio,
            0.0 if T is None else T.value,
        ).of(root)  # fmt: skip
        least = [replace(at, value=needed.value) for at in check.scope if at.what == "throat"]
        yield Clauses(check.clause.key, "root weld", _heir(check, stress), needed.also(*least))


def _groove_weld(
    case: Case, section: Section, steel: Material, found: dict[str, Worked]
) -> Iterator[ClauseCheck]:
    """A groove weld through the whole section, where the tensile strength of the post is known."""
    cantilever, stated = case.cantilever, case.standards
    assert cantilever is not None
    if (fu := steel.ultimate_strength) is None:
        return
    Y, FEXX = steel.yield_strength, cantilever.electrode_strength
    D, wall = section.outside_diameter, section.geometry.wall
    V, M = found["post_force"].value, found["post_root_moment"].value
    T = found["post_torque"].value if "post_torque" in found else 0.0

    def face(bore: float) -> tuple[float, float, float]:
        shear = (
            flexure.tube_shear_stress.plain(V, D, bore, steel.poisson)
            if bore
            else flexure.solid_shear_stress.plain(V, D, steel.poisson)
        )
        bending = M / round_section.elastic_modulus.plain(D, bore)
        return bending, shear, torsion.torsion_stress.plain(T, D, bore)

    if "AISC" in stated.families:
        design = 0.0 if wall is None else D - 2 * steel.design_wall * wall
        check = aisc_360.groove_weld(*face(design), Y, fu, FEXX, stated.method)
        yield _of_table(check, steel)
    if "EN" in stated.families:
        stresses = face(section.geometry.bore)
        yield en_1993_1_8.groove_weld(*stresses, Y, fu, FEXX, stated.gamma_M0)


def _socket(case: Case, steel: Material, pressure: float) -> Iterator[ClauseCheck]:
    """Bearing in a socket, where its yield strength is known."""
    cantilever, stated = case.cantilever, case.standards
    assert cantilever is not None
    if cantilever.socket_yield is None:
        return
    Y = min(steel.yield_strength, cantilever.socket_yield)
    if "AISC" in stated.families:
        yield _of_table(aisc_360.socket(pressure, Y, stated.method), steel)
    if "EN" in stated.families:
        yield en_1993_1_8.socket(pressure, Y, stated.gamma_M0)


def correlation(steel: Material) -> float:
    """Factor βw of a steel; that of the strongest where the table does not name it."""
    named = (factor for name, factor in CORRELATION.items() if name in steel.name)
    return next(named, SAFE_CORRELATION)
