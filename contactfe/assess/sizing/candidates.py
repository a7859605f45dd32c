"""What is tried: the walls of a diameter, and the stock sizes that lie near it."""

from collections.abc import Iterator
from dataclasses import replace

from contactfe.assess.sizing.record import Candidate, Catalogue
from contactfe.case import Case, Contact, Section
from contactfe.case.sizing import SOLID, Sizing
from contactfe.case.steels import thickest
from contactfe.case.stock import BORED_BARS, nearest, sizes
from contactfe.errors import InputError

NEAR = 0.15
"""How far the outside diameter of a stock size may lie from the one that is sized, over it."""


JUST_ABOVE = 1.0005
"""A wall over that at which the strength of its steel steps."""

_ROUNDING = 1e-9
"""Relative, of the bore that a wall leaves."""


def sizing_of(case: Case) -> Sizing:
    """What is to be sized, with the diameters of the case's sections where it states none.

    Raises
    ------
    InputError
        if a solid bar is to be tried although the post is held at its bore
    """
    stated = case.sizing or Sizing()
    if not stated.outside_diameters:
        own = dict.fromkeys(section.outside_diameter for section in case.sections)
        stated = replace(stated, outside_diameters=tuple(own))
    for outside in stated.outside_diameters:
        if case.post.support.core and stated.walls.shares(outside)[-1] >= SOLID:
            raise InputError(
                f"{case.source}: [sizing] wall: a solid bar has no bore for held_by ="
                f' "{case.held_by}";'
                " state a range that ends before it, such as wall = { from = 0.05, to = 0.45 }"
            )
    return stated


def contacts_of(case: Case) -> tuple[Contact, ...]:
    """The contacts that a wall is judged at: those of the envelope, or the one of the case."""
    return (case.contact,) if case.envelope is None else case.envelope.contacts


def wall(outside_diameter: float, share: float) -> Candidate:
    """The plain section of a diameter (mm) whose wall is that share of it."""
    solid = share >= SOLID
    section = Section(
        name=f"{outside_diameter:g} solid" if solid else f"{outside_diameter:g} wall {share:.6f}",
        outside_diameter=outside_diameter,
        wall=None if solid else share * outside_diameter,
    )
    return Candidate(section, SOLID if solid else share)


def jumps_of(case: Case, sizing: Sizing, outside_diameter: float) -> tuple[float, ...]:
    """Shares of a diameter (mm) from which on walls are another thing than up to them.

    Over some the steel of a tube has another strength, or is not listed; over the last, which
    leaves the least bore, there is the solid bar alone.
    """
    of = case.post.steel
    edges = list(case.post_thickness_steps)
    if isinstance(of, str) and (most := thickest(of, "tube", case.grades)) is not None:
        edges.append(most)
    last = (1.0 - sizing.bore(outside_diameter) / outside_diameter) / 2.0
    found = {thickness / outside_diameter for thickness in edges}
    return (*sorted(share for share in found if share < last), last)


def shares_of(case: Case, sizing: Sizing, outside_diameter: float) -> tuple[float, ...]:
    """Walls to be tried as shares of a diameter (mm), rising: those stated that leave the least
    bore or none, and each wall in their range at which something jumps, with one just above.

    Raises InputError where the least bore leaves no tube of the range.
    """
    stated = sizing.walls.shares(outside_diameter)
    *steps, last = jumps_of(case, sizing, outside_diameter)
    if stated[0] > last:
        length = case.display.length.text
        raise InputError(
            f"{case.source}: [sizing] least_bore: a bore of {length(sizing.bore(outside_diameter))}"
            f" at Ø {length(outside_diameter)} leaves none of the tubes of [sizing] wall; state a"
            " least_bore that does, or thinner walls"
        )
    found = {share for share in stated if share <= last or share >= SOLID}
    found |= {side * share for share in steps for side in (1.0, JUST_ABOVE)} | {last}
    return tuple(sorted(share for share in found if stated[0] <= share <= stated[-1]))


def from_stock(case: Case, sizing: Sizing, outside_diameter: float) -> tuple[Candidate, ...]:
    """Every size of the lists named that has the diameter of its list nearest to this one.

    A bored bar has the steel of the post as a solid round of the bar's diameter; where the steel is
    not made so, there are none. Nor are there bars with less than the least bore.
    """
    return tuple(_from_stock(case, sizing, outside_diameter))


def _from_stock(case: Case, sizing: Sizing, outside_diameter: float) -> Iterator[Candidate]:
    for name in sizing.stock:
        for size in nearest(name, outside_diameter, NEAR):
            share = size.wall / size.outside_diameter
            if name not in BORED_BARS:
                rolled = Section(name=size.designation, stock=size.designation)
                yield Candidate(rolled, share, stock=size)
                continue
            bored = Section(
                name=size.designation, outside_diameter=size.outside_diameter, wall=size.wall
            )
            if bored.geometry.bore < sizing.bore(outside_diameter) * (1.0 - _ROUNDING):
                continue
            try:
                steel = case.post_material(replace(bored, wall=None))
            except InputError:
                continue
            yield Candidate(bored, share, steel, size)


def catalogue(outside_diameter: float) -> tuple[Catalogue, ...]:
    """Of each list of pipes and hollow sections, the heaviest wall at the diameter nearest to this.

    Lists without a size near it are left out.
    """
    found = []
    for name in dict.fromkeys(size.listed_in for size in sizes() if size.catalogue):
        if near := nearest(name, outside_diameter, NEAR):
            heaviest = min(near, key=lambda size: size.bore_ratio)
            found.append(
                Catalogue(
                    name, heaviest.outside_diameter, heaviest.bore_ratio, heaviest.designation
                )
            )
    return tuple(found)
