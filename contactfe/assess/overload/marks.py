"""The figures of a strike beyond first yield: what each is, and how it is read off one level.

Lengths in mm, stresses in MPa, energies in N mm per mm of contact. A dent is measured as in a shop:
its depth is that below a straight edge, or on the post a template of its radius, laid over it.
"""

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from contactfe.assess.level import Level
from contactfe.assess.overload.result import ZONE
from contactfe.assess.overload.strikes import Again, Followed, Struck
from contactfe.assess.places import PLATE_BACK, Impacted, Peak, member_peaks, plate_peaks
from contactfe.assess.value import Figure, Figures, Place
from contactfe.hand.quantities import Dimension
from contactfe.solve.condense import respond
from contactfe.solve.elastic import Floats
from contactfe.solve.field import Samples, von_mises
from contactfe.solve.lines import Frame, Ints
from contactfe.solve.strike import StrikeState, Striking
from contactfe.solve.yielding import YieldingBody, at_nodes, inner_forces

SPAN = 3.0
"""Half of the straight edge that a dent is measured under, in half-widths of the contact."""

_EDGE = 0.1
"""Share of a dent's depth at which its width is read."""

_BODIES = ("post", "plate")


@dataclass(frozen=True)
class Mark:
    """A figure of a strike: key, label, dimension."""

    key: str
    label: str
    dimension: Dimension | None


def _of_bodies(key: str, label: str, dimension: Dimension | None) -> tuple[Mark, ...]:
    return tuple(Mark(f"{body}_{key}", f"{label} of the {body}", dimension) for body in _BODIES)


MARKS: tuple[Mark, ...] = (
    Mark("approach", "approach under the load", "length"),
    Mark("approach_left", "approach that stays", "length"),
    Mark("half_width", "half-width of the patch under the load", "length"),
    Mark("peak_pressure", "peak contact pressure under the load", "stress"),
    *_of_bodies("dent_depth", "depth of the dent", "length"),
    *_of_bodies("dent_width", "width of the dent", "length"),
    *_of_bodies("plastic_strain", "greatest plastic strain", None),
    *_of_bodies("plastic_depth", "depth of the plastic zone", "length"),
    *_of_bodies("plastic_width", "width of the plastic zone", "length"),
    *_of_bodies("residual_at_contact", "residual stress along the surface at contact", "stress"),
    *_of_bodies("residual_peak", "greatest residual von Mises stress", "stress"),
    Mark("bore_plastic_strain", "greatest plastic strain at the bore", None),
    Mark("bore_residual", "residual hoop stress at the bore under the load", "stress"),
    Mark("plate_back_plastic_strain", "greatest plastic strain at the back of the plate", None),
    Mark("work", "work of the impact force, up to the load", "moment per length"),
    Mark("energy_taken", "energy that stays, heat and residual stress", "moment per length"),
    Mark("restitution", "equivalent coefficient of restitution", None),
    Mark("reverse_yield", "energy dissipated in unloading, over that in loading", None),
)  # fmt: skip
"""Every figure, in the order in which it is shown."""


@dataclass(frozen=True)
class Profile:
    """How far the surface of a body stays dented: ``below`` (n,) mm the straight edge at ``x``."""

    x: Floats
    below: Floats


@dataclass(frozen=True)
class _Zone:
    """The plastic zone under the contact: depth and width, mm, and whether it spans the wall."""

    depth: float
    width: float
    spans: bool


def read_strike(of: Followed, struck: Struck) -> Figures:
    """The figures of a strike on its level, by key."""
    loaded, left = struck.loaded, struck.released
    taken = left.dissipated + left.stored  # what a sum over the path would have left, but exact
    found: dict[str, float | Figure] = {
        "approach": loaded.approach,
        "approach_left": left.approach,
        "half_width": loaded.half_width,
        "peak_pressure": loaded.peak_pressure,
        "work": loaded.work,
        "energy_taken": taken,
        "restitution": float(np.sqrt(max(1.0 - taken / loaded.work, 0.0))),
        "reverse_yield": (left.dissipated - loaded.dissipated) / max(loaded.dissipated, 1e-300),
    }
    for number, body in enumerate(_BODIES):
        steel = of.striking.bodies[number]
        state, line = left.bodies[number], steel.body.lines[0]
        dent = profile(of.striking, left, number, loaded)
        found[f"{body}_dent_depth"] = float(dent.below.max())
        found[f"{body}_dent_width"] = _width(dent)
        peaks = strain_peaks(of.level, loaded, steel, number)
        found[f"{body}_plastic_strain"] = _figure(peaks[0])
        if number == 1:
            back = [p.von_mises for p in peaks if p.zone == PLATE_BACK]
            found["plate_back_plastic_strain"] = max(back, default=0.0)
        zone = _zone(of.level, steel, loaded, number)
        found[f"{body}_plastic_depth"] = zone.depth
        found[f"{body}_plastic_width"] = zone.width
        yielded = state.plastic.equivalent.any()  # else nothing but rounding is left
        stress = at_nodes(steel, state.stress if yielded else np.zeros_like(state.stress))
        middle = line.nodes[np.argmin(np.abs(line.x - loaded.centre))]
        found[f"{body}_residual_at_contact"] = float(stress[middle, 0])
        found[f"{body}_residual_peak"] = float(von_mises(stress).max())
        if number == 0 and (node := _bore_node(of.level)) is not None:
            found["bore_residual"] = _hoop(of.level, stress[node])
            at_bore = [p.von_mises for p in peaks if p.zone.startswith("bore")]
            found["bore_plastic_strain"] = max(at_bore, default=0.0)
    return {
        key: value if isinstance(value, Figure) else Figure(float(value))
        for key, value in found.items()
    }


def read_again(again: Again, first: StrikeState) -> Figures:
    """What a second strike adds: plastic strain of either body, and heat over that of the first."""
    added = [
        Figure(float((after.plastic.equivalent - before.plastic.equivalent).max()))
        for before, after in zip(again.before.bodies, again.after.bodies, strict=True)
    ]
    heat = again.after.dissipated / first.dissipated if first.dissipated else 0.0
    return {"post": added[0], "plate": added[1], "dissipated": Figure(heat)}


def dents(of: Striking, states: tuple[StrikeState, ...]) -> Floats:
    """Depth of the dents (states, 2), mm, of post and plate, were each state let spring back."""
    depths = np.zeros((len(states), 2))
    for row, state in zip(depths, states, strict=True):
        if sum(float(body.plastic.equivalent.max()) for body in state.bodies) > 0.0:
            row[:] = [profile(of, state, number, state).below.max() for number in (0, 1)]
    return depths


def profile(of: Striking, state: StrikeState, number: int, under: StrikeState) -> Profile:
    """The dent that stays in a body, were it let spring back, about the patch ``under`` a load."""
    steel, line = of.bodies[number], of.bodies[number].body.lines[0]
    near = np.abs(line.x - under.centre) <= SPAN * under.half_width
    if not state.bodies[number].plastic.equivalent.any():  # nothing but rounding would stay
        return Profile(line.x[near], np.zeros(int(near.sum())))
    u, stress = state.bodies[number].u, state.bodies[number].stress
    eased = steel.body.stiffness @ u - inner_forces(steel, stress, state.line_load)
    moved = respond(steel.body, eased)[0].reshape(-1, 2)[line.nodes, 1]
    x, outwards = line.x[near], (moved if number else -moved)[near]
    return Profile(x, _edge(x, outwards) - outwards)


def _edge(x: Floats, height: Floats) -> Floats:
    """A straight edge (n,) laid over a profile: its upper hull."""
    on: list[int] = []
    for k in range(len(x)):
        while len(on) > 1 and _turns(x, height, on[-2], on[-1], k):
            on.pop()
        on.append(k)
    over: Floats = np.interp(x, x[on], height[on])
    return over


def _turns(x: Floats, y: Floats, a: int, b: int, c: int) -> bool:
    """Whether point b lies on or below the line from a to c."""
    return bool((x[b] - x[a]) * (y[c] - y[a]) >= (y[b] - y[a]) * (x[c] - x[a]))


def _width(dent: Profile) -> float:
    """Width about the deepest point over which it is deeper than a share of its depth."""
    x, below = dent.x, dent.below
    deep, least = int(below.argmax()), _EDGE * below.max()
    if below.max() <= 0.0:
        return 0.0
    right = next((k for k in range(deep, len(x)) if below[k] < least), len(x) - 1)
    left = next((k for k in range(deep, -1, -1) if below[k] < least), 0)
    ends = [
        np.interp(least, [below[out], below[within]], [x[out], x[within]])
        for out, within in ((right, right - 1), (left, left + 1))
    ]
    return float(ends[0] - ends[1])


def strain_peaks(
    level: Level, state: StrikeState, steel: YieldingBody, number: int
) -> tuple[Peak, ...]:
    """The greatest plastic strain of each zone of a body, in place of its stress."""
    strain = state.bodies[number].plastic.equivalent.ravel()
    x, y = steel.body.gradients.x.reshape(2, -1)
    samples = Samples(x, y, strain, np.zeros_like(strain))
    impacted = Impacted(Frame(), state.centre, state.half_width)
    if number:
        return plate_peaks(samples, level.plate_outlines[0], impacted, False)
    return member_peaks(samples, level.outline, [impacted], False, level.bore)


def spans(level: Level, steel: YieldingBody, state: StrikeState) -> bool:
    """Whether one plastic zone of the post reaches from contact, or the outside, to the bore."""
    return _zone(level, steel, state, 0).spans


def _zone(level: Level, steel: YieldingBody, state: StrikeState, number: int) -> _Zone:
    equivalent = state.bodies[number].plastic.equivalent
    strain = at_nodes(steel, equivalent[..., None])[:, 0]
    plastic = strain > ZONE
    if not plastic.any():
        return _Zone(0.0, 0.0, False)
    x, y = steel.body.mesh.doflocs
    ends = _sides(steel)
    both = plastic[ends].all(axis=0)
    links = coo_matrix((np.ones(both.sum()), ends[:, both]), shape=(len(x), len(x)))
    _, of = connected_components(links, directed=False)
    deep = level.outline.radius - np.hypot(x, y - level.outline.radius) if number == 0 else -y
    near = np.hypot(x - state.centre, y) < 2.0 * state.half_width
    if not (plastic & near).any():
        return _Zone(0.0, 0.0, False)
    mine = of[np.flatnonzero(plastic & near)[strain[plastic & near].argmax()]]
    inside = plastic & (of == mine)
    # Where the strain falls below the bound on the way out of the zone.
    out = inside[ends[0]] & ~plastic[ends[1]]
    back = inside[ends[1]] & ~plastic[ends[0]]
    a = np.concatenate([ends[0][out], ends[1][back]])
    b = np.concatenate([ends[1][out], ends[0][back]])
    share = (strain[a] - ZONE) / (strain[a] - strain[b])
    depths = np.concatenate([deep[inside], deep[a] + share * (deep[b] - deep[a])])
    widths = np.concatenate([x[inside], x[a] + share * (x[b] - x[a])])
    return _Zone(
        float(depths.max()), float(np.ptp(widths)), number == 0 and _spans(level, of, plastic, near)
    )


def _spans(level: Level, of: Ints, plastic: np.ndarray, near: np.ndarray) -> bool:
    """Whether a zone has both the bore and the contact, or the outside, in it."""
    wall = level.outline.wall
    mesh = level.joint.member.mesh
    x, y = mesh.doflocs
    deep = level.outline.radius - np.hypot(x, y - level.outline.radius)
    if level.outline.bore_radius <= 0.0:
        return False
    inner, outer = plastic & (deep > wall * (1.0 - 1e-6)), plastic & (near | (deep < wall * 1e-6))
    return bool(np.intersect1d(of[inner], of[outer]).size)


def _sides(steel: YieldingBody) -> Ints:
    """The halves of the sides of all elements, as pairs of nodes (2, n)."""
    mesh = steel.body.mesh
    middles = mesh.dofs.facet_dofs[0]
    pairs = np.concatenate([[mesh.facets[0], middles], [middles, mesh.facets[1]]], axis=1)
    return np.asarray(pairs, dtype=np.intp)


def _bore_node(level: Level) -> int | None:
    """The node of the post's bore under the load; None where there is no bore to read."""
    if level.section.geometry.read_at != "bore":
        return None
    radius, bore, turn = level.outline.radius, level.outline.bore_radius, level.grading.turn
    x, y = level.joint.member.mesh.doflocs
    at = bore * np.sin(turn), radius - bore * np.cos(turn)
    return int(np.argmin((x - at[0]) ** 2 + (y - at[1]) ** 2))


def _hoop(level: Level, stress: Floats) -> float:
    """Hoop stress at the bore under the load, whose radius is turned with the patch."""
    turn = level.grading.turn
    dx, dy = np.cos(turn), np.sin(turn)
    return float(stress[0] * dx**2 + stress[1] * dy**2 + 2.0 * stress[3] * dx * dy)


def _figure(peak: Peak) -> Figure:
    return Figure(peak.von_mises, Place(peak.zone, peak.x, peak.y, peak.depth))
