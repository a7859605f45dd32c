"""Line contact of a section with one plate, after Hertz, and sliding where there is friction."""

import math
from collections.abc import Iterator

from contactfe.assess.by_hand.half_space import (
    bending_limit,
    patch_limits,
    plate_bending,
    post_bending,
)
from contactfe.assess.by_hand.impacted import ImpactedPlate
from contactfe.assess.by_hand.record import Step, Topic
from contactfe.case import Case, Material, Section
from contactfe.hand import (
    approach,
    approach_pair,
    crowning,
    hertz,
    roughness,
    shakedown,
    sliding,
)
from contactfe.hand.formula import Worked


def contact_steps(case: Case, section: Section, impacted: ImpactedPlate) -> Iterator[Step]:
    """What the contact of a section with one plate is."""
    first, of_second, at = impacted.number == 0, impacted.of_second, impacted.at
    topic: Topic = "contact" if first else "second contact"
    names = ("post" if first else f"post at {impacted.name}", impacted.name)
    q, mu, state = impacted.line_load, case.contact.friction, case.state
    post, plate, R = case.post_material(section), case.plate_material, section.radius

    def step(
        key: str,
        label: str,
        worked: Worked,
        against: float | None = None,
        bending: tuple[str, float | None] = ("", None),
    ) -> Step:
        # A load of its own, such as that at first yield, has a patch and bending of its own: the
        # patch and the pressure grow as its root, the bending as the load itself.
        grown = math.sqrt(worked.value / q) if worked.dimension == "line load" else 1.0
        limits = patch_limits(case, section, at, grown * width.value)
        body, stress = bending
        if stress is not None:
            limits = (*limits, bending_limit(body, grown * stress, p0))
        return Step(f"{key}{impacted.end}", topic, label, worked.also(*limits), against)

    modulus = hertz.contact_modulus.worked(
        post.young, post.poisson, plate.young, plate.poisson, state
    )
    E_star = modulus.value
    width = hertz.half_width.worked(q, R, E_star)
    pressure = hertz.peak_pressure.worked(q, R, E_star)
    p0 = pressure.value
    if first:
        yield Step("contact_modulus", topic, "contact modulus", modulus)
    yield step("hertz_half_width", f"half-width, Hertz{of_second}", width)
    yield step("hertz_peak_pressure", f"peak pressure, Hertz{of_second}", pressure)
    bendings = (
        ("post", post_bending(case, section, impacted.number)),
        ("plate", plate_bending(case, impacted)),
    )
    for of, body, steel, bending in zip(
        ("", "_plate"), names, (post, plate), bendings, strict=True
    ):
        yield from (
            step(f"{key}{of}", f"{label}, {body}", worked, against, bending)
            for key, label, worked, against in _body(steel, pressure, R, E_star, mu, case)
        )
    hold = case.support(section).formulas
    if section.geometry.in_plane == "disc" and hold is not None:  # a tube gives way as a ring too
        a, t = width.value, case.plate.thickness
        below: approach.PlateHeldBy = "rigid base" if case.plate.support.base else "edges"
        datum = "the plate's base" if below == "rigid base" else "the plate's back"
        reach = approach.reach_limit(t, case.plate.width / 2.0 - abs(at))
        bodies = (
            post.young, post.poisson, plate.young, plate.poisson, hold, below, state,
        )  # fmt: skip
        yield step(
            "approach", f"approach, middle of the post to {datum}{of_second}",
            approach_pair.post_on_plate.worked(q, R, t, a, *bodies).also(reach),
        )  # fmt: skip
        yield step(
            "tangent_stiffness", f"tangent stiffness of that approach{of_second}",
            approach_pair.tangent_stiffness.worked(R, t, a, *bodies).also(reach),
        )  # fmt: skip
    yield step(
        "greatest_roughness", f"roughness up to which surfaces count as smooth{of_second}",
        roughness.greatest_roughness.worked(width.value, R).of(width),
    )  # fmt: skip
    if impacted.contact_length is not None:
        yield Step(
            f"end_drop{impacted.end}", topic,
            f"drop of the ends that avoids an edge concentration{of_second}",
            _end_drop(case, section, impacted, impacted.contact_length),
        )  # fmt: skip


def _end_drop(case: Case, section: Section, impacted: ImpactedPlate, length: float) -> Worked:
    """What the ends stand back by; of an uneven load, by its peak, as its more loaded end needs.

    Along the post a contact is in plane strain, whatever its section is taken for.
    """
    post, plate, q = case.post_material(section), case.plate_material, impacted.line_load
    E_star = hertz.contact_modulus.plain(
        post.young, post.poisson, plate.young, plate.poisson, "plane strain"
    )
    width = hertz.half_width.worked(q, section.radius, E_star)
    drop = crowning.end_drop.worked(q, width.value, E_star, length).of(width)
    wall = section.geometry.wall
    of_post = ("c/R, the post", section.radius) if wall is None else ("c/h, the wall", wall)
    return drop.also(
        *patch_limits(case, section, impacted.at, width.value),
        crowning.depth_limit(of_post[0], length, of_post[1]),
        crowning.depth_limit("c/t, the plate's thickness", length, case.plate.thickness),
    )


def _body(
    steel: Material, pressure: Worked, R: float, E_star: float, mu: float, case: Case
) -> Iterator[tuple[str, str, Worked, float | None]]:
    """Stresses of the pressure, no surer than it is, and loads, each with a pressure of its own."""
    Y, nu, state, p0 = steel.yield_strength, steel.poisson, case.state, pressure.value
    yield (
        "hertz_peak_von_mises", "peak von Mises stress, Hertz",
        hertz.peak_von_mises.worked(p0, nu, state).of(pressure), Y,
    )  # fmt: skip
    yield (
        "hertz_max_shear",
        "greatest shear stress, Hertz",
        hertz.peak_max_shear.worked(p0, nu, state).of(pressure),
        None,
    )
    yield (
        "hertz_first_yield_line_load", "line load at first yield, Hertz",
        hertz.first_yield_line_load.worked(Y, R, E_star, nu, state), None,
    )  # fmt: skip
    if mu > 0.0:
        yield (
            "sliding_peak_von_mises", "peak von Mises stress, full sliding",
            sliding.peak_von_mises.worked(p0, mu, nu, state).of(pressure), Y,
        )  # fmt: skip
        yield (
            "sliding_edge_tension", "tension behind it, full sliding",
            sliding.edge_stress.worked(p0, mu).of(pressure), None,
        )  # fmt: skip
        yield (
            "sliding_first_yield_line_load", "line load at first yield, full sliding",
            sliding.first_yield_line_load.worked(Y, R, E_star, mu, nu, state), None,
        )  # fmt: skip
    yield (
        "shakedown_line_load", "line load at the shakedown limit",
        shakedown.limit_line_load.worked(Y, R, E_star, mu, nu, state), None,
    )  # fmt: skip
