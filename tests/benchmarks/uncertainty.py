"""Whether every printed ± holds: ``python tests/benchmarks/uncertainty.py --seed 1 --cases 30``.

Draws cases at random, solves each at the standard accuracy and again to 0.2 % (finer meshes), and
counts, by kind of figure, how often the two differ by no more than the ± of the first. The column
"with ref." counts the ± of the reference as well, which is no truth either. The median is over
figures larger than their ±: the others are nil by symmetry. Nothing is asserted.

With ``--finite`` the contact has a length, of 0.4 to 4 diameters, and the post an end; every value
is held against the same case on meshes twice as fine, of section, plate and post in three
dimensions.
"""

import argparse
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from bodies import case
from restated import restated

from contactfe.assess.accuracy import Solved, solve_levels
from contactfe.assess.along import loaded
from contactfe.assess.bodies import Bodies
from contactfe.assess.compare import compare
from contactfe.assess.level import build
from contactfe.assess.places import EDGES
from contactfe.assess.reading import at_place_of, read
from contactfe.assess.readout import figures, read_out
from contactfe.case import Cantilever, Case, Corner, Infill
from contactfe.errors import ContactfeError
from contactfe.hand import hertz

REFERENCE = 0.002
E, NU = 210e3, 0.3


@dataclass(frozen=True)
class Printed:
    """A printed figure: what kind it is, which one of the result, its value and its ±."""

    kind: str
    which: str
    value: float
    uncertainty: float


def drawn(rng: np.random.Generator) -> Case:
    """A case over all that compare solves in two dimensions; SI steel."""
    diameter = float(rng.uniform(60.0, 400.0))
    radius = diameter / 2.0
    shape = rng.choice(["solid", "tube", "tube", "filled"])
    wall = None if shape == "solid" else float(radius * rng.uniform(0.12, 0.7))
    ratio = float(np.exp(rng.uniform(np.log(0.003), np.log(0.06))))  # a/R of a solid by Hertz
    E_star = hertz.contact_modulus(E, NU, E, NU, "plane strain")
    load = float(np.pi * E_star * radius * ratio**2 / 4.0)
    held = str(rng.choice(["rigid base", "simply supported", "clamped", "elastic supports"]))
    width, thickness = float(radius * rng.uniform(2.5, 8.0)), float(radius * rng.uniform(0.3, 1.2))
    contact = {}
    if rng.random() < 0.5:
        contact["offset"] = float(width * rng.uniform(-0.3, 0.3))
    if rng.random() < 0.5:
        contact["friction"] = float(rng.uniform(0.05, 0.5))
        if rng.random() < 0.7:
            contact["angle"] = float(rng.uniform(-40.0, 40.0))
    hold = str(rng.choice(["beam shear", "beam shear", "diametral", "rigid core"]))
    at_corner = rng.random() < 0.2
    found = case(
        [(diameter, wall)],
        held_by="beam shear" if at_corner else hold,
        line_load=load,
        plate=(width, thickness),
        plate_held=held,
        spring=float(load * rng.uniform(3.0, 30.0)) if held == "elastic supports" else None,
        young=E,
        plate_young=E,
        yield_strength=float(rng.uniform(235.0, 690.0)),
        plate_yield=float(rng.uniform(235.0, 690.0)),
        **contact,
    )
    if shape == "filled":
        (section,) = found.sections
        infill = Infill(float(rng.uniform(15e3, 40e3)), 0.2, 2300.0, name="grout")
        found = replace(found, sections=(replace(section, infill=infill),))
    if at_corner:
        found = replace(found, corner=Corner(float(load * rng.uniform(0.3, 1.0))))
    return found


def printed(of: Case) -> tuple[Printed, ...]:
    """Every figure with a ± that compare prints of a case of one section."""
    return tuple(_printed(of))


def _printed(of: Case) -> Iterator[Printed]:
    (result,) = compare(of).sections

    def value(kind, which, v):
        return Printed(kind, which, v.value, v.uncertainty)

    for name, body in result.bodies:
        for number, place in enumerate(body.places):
            kind = "peak of a body" if number == 0 else "other places"
            zone = EDGES.get(place.at.zone, place.at.zone)
            yield value(kind, f"{name}: {zone}", place)
        yield value("maximum shear", name, body.max_shear)
        if body.first_yield_line_load is not None:
            yield value("first yield", name, body.first_yield_line_load)
    for number, patch in enumerate(result.patches):
        at = f"plate {number + 1}"
        yield value("peak pressure", at, patch.peak_contact_pressure)
        yield value("half-width", at, patch.half_width)
        yield value("centre of the patch", at, patch.centre)
        yield value("tangential load", at, patch.tangential_load)
        yield value("plate back", at, patch.back_stress)
        yield value("plate deflection", at, patch.deflection)
        for held in patch.reactions:
            for part, uncertainty in zip(("along", "across", "moment"), (0, 0, 1), strict=True):
                yield Printed(
                    "reactions: " + ("moment" if uncertainty else "force"),
                    f"{at}, {held.place}, {part}", getattr(held, part),
                    patch.reaction_uncertainty[uncertainty],
                )  # fmt: skip
    yield value("approach", "", result.approach)
    yield value("stress concentration", "", result.stress_concentration)
    yield value("added hoop stress", "", result.added_hoop_stress)
    for kind, pair, which in (
        ("bore hoop stress", result.bore_hoop_stress, ("under the load", "at the side")),
        ("centre of a solid", result.centre, ("along", "across")),
    ):
        for name, v in zip(which, pair or (), strict=False):
            yield value(kind, name, v)
    for key in ("infill_tension", "infill_compression", "bond_tension", "bond_shear"):
        if key in result.values:
            yield value("infill and bond", key, result.values[key])


def one(seed: tuple[int, int]) -> tuple[str, list[tuple[Printed, Printed | None]], float]:
    """A case in words, its figures with those of the reference, and the seconds that took."""
    rng, start = np.random.default_rng(seed), time.perf_counter()
    while True:
        try:
            of = drawn(rng)
            found = printed(of)
            best = printed(replace(of, accuracy=REFERENCE))
        except ContactfeError:  # beyond the range of the model: draw another
            continue
        break
    (section,), plate, contact = of.sections, of.plate, of.contact
    text = (
        f"{seed[1]}: {section.shape} {section.outside_diameter:.0f} x {section.wall or 0:.1f},"
        f" {of.held_by}, q {of.line_load:.0f}; plate {plate.width:.0f} x {plate.thickness:.0f},"
        f" {plate.held_by}; offset {contact.offset:.0f}, angle {np.degrees(contact.angle):.0f},"
        f" friction {contact.friction:.2f}{', corner' if of.corner else ''}"
    )
    known = {(p.kind.replace("peak of a body", "other places"), p.which): p for p in best}
    pairs = [(p, known.get((p.kind.replace("peak of a body", "other places"), p.which)))
             for p in found]  # fmt: skip
    return text, pairs, time.perf_counter() - start


def finite(seed: tuple[int, int]) -> tuple[str, list[tuple[Printed, Printed | None]], float]:
    """The same of a contact of finite length, with the values of a mesh twice as fine."""
    rng, start = np.random.default_rng(seed), time.perf_counter()
    while True:
        try:
            of = drawn(rng)
            (section,) = of.sections
            D = section.outside_diameter
            c = D * float(np.exp(rng.uniform(np.log(0.4), np.log(4.0))))
            of = restated(of, contact_length=c)
            if of.corner is not None:
                shorter = c * float(rng.uniform(0.5, 1.0))
                of = replace(of, corner=replace(of.corner, contact_length=shorter))
            tip = c / 2.0 + D * float(rng.choice([0.0, 0.1, 0.5, 3.0]))
            if rng.random() < 0.6:
                root = max(c / 2.0, D * float(rng.uniform(1.0, 5.0)))
                of = replace(of, cantilever=Cantilever(root, tip=tip))
            bodies = Bodies(of)
            at = loaded(of, section, bodies)
            levels = solve_levels(at, section, bodies)
            fine = levels.fine
            level = build(at, bodies, section, fine.patches, 0.5, fine.focus)
            best = at_place_of(read(level), fine.reading)
        except ContactfeError:
            continue
        break
    known = figures(Solved(level, best, 1, ()))
    beyond = "unknown" if of.cantilever is None else f"{(tip - c / 2.0) / D:.1f} D"
    text = (
        f"{seed[1]}: {section.shape} {D:.0f} x {section.wall or 0:.1f}, {of.hold(section)},"
        f" c/D {c / D:.2f}, post beyond it {beyond},"
        f" friction {of.contact.friction:.2f}{', corner' if of.corner else ''}"
    )
    pairs = [
        (Printed(key, "", v.value, v.uncertainty), Printed(key, "", known[key].value, 0.0))
        for key, v in read_out(levels).values.items()
        if key in known
    ]
    return text, pairs, time.perf_counter() - start


def report(pairs: list[tuple[Printed, Printed | None]]) -> None:
    """The table: by kind, how many held, the median of ± over the figure, the worst excess."""
    kinds = list(dict.fromkeys(p.kind for p, _ in pairs))
    print(f"{'figure':24s}   held of     with ref.   median ±   worst of difference over ±")
    for kind in (*kinds, "all"):
        these = [(p, b) for p, b in pairs if b is not None and kind in {"all", p.kind}]
        off = np.array([abs(p.value - b.value) for p, b in these])
        mine = np.array([p.uncertainty for p, _ in these]) + _least(these)
        theirs = np.array([b.uncertainty for _, b in these])
        share = [p.uncertainty / abs(p.value) for p, _ in these if abs(p.value) > p.uncertainty]
        median = 100.0 * float(np.median(share or [0.0]))
        print(
            f"{kind:24s} {int((off <= mine).sum()):6d} {len(these):4d}"
            f" {int((off <= mine + theirs).sum()):11d} {median:8.3f} %"
            f" {float((off / mine).max()):12.2f}"
        )


def _least(these: list[tuple[Printed, Printed]]) -> np.ndarray:
    """What a figure that is exact may be off by rounding alone."""
    return np.array([1e-9 * max(1.0, abs(p.value)) for p, _ in these])


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--seed", type=int, required=True)
    parser.add_argument("--cases", type=int, default=30)
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--finite", action="store_true")
    asked = parser.parse_args()
    seeds = [(asked.seed, number) for number in range(asked.cases)]
    pairs = []
    with ProcessPoolExecutor(asked.processes) as pool:
        for text, found, seconds in pool.map(finite if asked.finite else one, seeds):
            print(f"{text}  ({seconds:.0f} s)", flush=True)
            for p, b in found:
                if b is None:
                    print(f"    {p.kind}, {p.which}: not in the reference")
                elif abs(p.value - b.value) > p.uncertainty + _least([(p, b)])[0]:
                    print(
                        f"    {p.kind}, {p.which}: {p.value:.6g} ± {p.uncertainty:.2g},"
                        f" reference {b.value:.6g} ± {b.uncertainty:.2g}"
                    )
            pairs += found
    print()
    report(pairs)


if __name__ == "__main__":
    main()
