"""The post along its axis: a cantilever from its root under the force of the contact."""

from collections.abc import Iterator

from contactfe.assess.by_hand.impacted import plates
from contactfe.assess.by_hand.record import Step
from contactfe.assess.by_hand.root import root_lever
from contactfe.case import Case, Section
from contactfe.hand import cantilever, flexure, resultant, round_section, socket, torsion, weld
from contactfe.hand.formula import Worked


def post_force(case: Case) -> Iterator[Step]:
    """Force of each plate on the post, and the greatest that they can exert together."""
    mu, forces = case.contact.friction, []
    for impacted in plates(case):
        assert impacted.contact_length is not None  # with [cantilever] every force is stated
        force = resultant.normal_force.worked(impacted.mean, impacted.contact_length)
        forces.append(force.value)
        yield Step(
            f"normal_force{impacted.end}", "post", f"force normal to the {impacted.name}", force
        )
    together = (
        resultant.sliding_force.worked(forces[0], mu)
        if len(forces) == 1
        else resultant.corner_force.worked(forces[0], forces[1], mu)
    )
    yield Step("post_force", "post", "force on the post, all friction at work", together)


def post_steps(case: Case, section: Section) -> Iterator[Step]:
    """The steel of the section as a cantilever; an infill is not counted.

    The root is bent by the force where its resultant lies, which is not the middle of the contact
    where it is spread unevenly. In a socket moment and shear force are greatest below its mouth,
    and the section is worked out for those.
    """
    assert case.cantilever is not None
    L, D, d = case.cantilever.length, section.outside_diameter, section.geometry.bore
    steel = case.post_material(section)
    E, nu, Y = steel.young, steel.poisson, steel.yield_strength
    forces = list(post_force(case))
    yield from forces
    V = forces[-1].worked.value
    slender = cantilever.slenderness_limits(L, D)
    lever = root_lever(case)
    moment = cantilever.root_moment.worked(V, lever)
    sunk = tuple(_socket_steps(case, section, V, lever))
    inside = {step.key: step.worked.value for step in sunk}
    lever = inside.get("socket_lever", lever)
    most = max(V, inside.get("socket_shear", 0.0))
    stress = cantilever.bending_stress.worked(V, lever, D, d)
    shear = (
        flexure.solid_shear_stress.worked(most, D, nu)
        if section.geometry.along == "solid"
        else flexure.tube_shear_stress.worked(most, D, d, nu)
    )
    elastic = cantilever.yield_limits(stress.value, Y)
    length = case.contact_length or 0.0
    mu = case.contact.friction
    pressed = sum(step.worked.value for step in forces[:-1])
    torque = resultant.friction_torque.worked(pressed, mu, section.radius)
    twist = torsion.torsion_stress.worked(torque.value, D, d)
    both = (
        torsion.von_mises_with_torsion.worked(stress.value, shear.value, 0.0)
        if sunk
        else cantilever.root_von_mises.worked(V, lever, D, d, nu)
    )
    for key, label, worked, against in (
        ("post_area", "area", round_section.area.worked(D, d), None),
        (
            "post_second_moment", "second moment of area",
            round_section.second_moment.worked(D, d), None,
        ),
        (
            "post_elastic_modulus", "elastic section modulus",
            round_section.elastic_modulus.worked(D, d), None,
        ),
        (
            "post_plastic_modulus", "plastic section modulus",
            round_section.plastic_modulus.worked(D, d), None,
        ),
        ("post_root_moment", "bending moment at the root", moment.also(*slender), None),
        *((step.key, step.label, step.worked.also(*slender), None) for step in sunk),
        ("post_bending_stress", "bending stress at the root", stress.also(*slender, *elastic), Y),
        ("post_shear_stress", "greatest shear stress", shear.also(*slender, *elastic), None),
        ("post_von_mises", "von Mises stress at the root", both.also(*slender, *elastic), Y),
        (
            "post_deflection", "deflection at the contact",
            cantilever.deflection.worked(V, L, D, d, E, nu, length).also(*slender, *elastic), None,
        ),
        ("post_stiffness", "stiffness at the contact", cantilever.stiffness.worked(L, D, d, E, nu),
         None),
    ):  # fmt: skip
        yield Step(key, "post", label, worked, against)
    if mu > 0.0:
        both = torsion.von_mises_with_torsion.worked(stress.value, shear.value, twist.value)
        yield Step("post_torque", "post", "torque of friction, all friction at work", torque)
        yield Step("post_torsion_stress", "post", "shear stress of torsion", twist)
        yield Step(
            "post_twisted_von_mises", "post", "von Mises stress at the root with torsion",
            both.also(*slender, *elastic), Y,
        )  # fmt: skip
    for key, label, worked in _weld_steps(case, section, V, moment.value, torque.value):
        yield Step(key, "post", label, worked.also(*slender))


def _socket_steps(case: Case, section: Section, force: float, lever: float) -> Iterator[Step]:
    """The post in its socket, where it stands in one."""
    assert case.cantilever is not None
    if (depth := case.cantilever.socket_depth) is None:
        return
    D = section.outside_diameter
    counted = socket.depth_counted.worked(depth, D)
    h = counted.value
    far = socket.greatest_lever.worked(lever, h)
    for key, label, worked in (
        ("socket_depth", "depth of the socket that counts", counted),
        ("socket_lever", "distance of the force for the greatest moment in the socket", far),
        (
            "socket_moment", "greatest bending moment, in the socket",
            cantilever.root_moment.worked(force, far.value),
        ),
        (
            "socket_shear", "greatest shear force in the socket",
            socket.inner_shear.worked(force, lever, h),
        ),
        (
            "socket_pressure", "bearing pressure at the mouth of the socket",
            socket.mouth_pressure.worked(force, lever, h, D),
        ),
    ):  # fmt: skip
        yield Step(key, "post", label, worked)


def _weld_steps(
    case: Case, section: Section, force: float, moment: float, torque: float
) -> Iterator[tuple[str, str, Worked]]:
    """The throat of a fillet weld at the root, where there is one."""
    assert case.cantilever is not None
    if (throat := case.cantilever.weld_throat) is None:
        return
    D = section.outside_diameter
    yield (
        "weld_bending_stress", "root weld, stress from bending",
        weld.bending_stress.worked(moment, throat, D),
    )  # fmt: skip
    yield (
        "weld_shear_stress", "root weld, stress from shear",
        weld.shear_stress.worked(force, throat, D),
    )  # fmt: skip
    if torque:
        yield (
            "weld_torsion_stress", "root weld, stress from torsion",
            weld.torsion_stress.worked(torque, throat, D),
        )  # fmt: skip
    yield (
        "weld_resultant_stress", "root weld, resultant stress in the throat",
        weld.resultant_stress.worked(force, moment, throat, D, torque),
    )  # fmt: skip
