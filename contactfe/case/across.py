"""Faults that show only between the tables of a case, or between a case and the world around it."""

import os
from collections.abc import Iterator

from contactfe.case.alignment import why_even
from contactfe.case.bodies import Section
from contactfe.case.display import Display
from contactfe.case.grades import ThicknessError
from contactfe.case.holds import POST_SUPPORTS, named
from contactfe.case.model import Case
from contactfe.case.motion import Motion
from contactfe.case.steels import widest
from contactfe.case.wording import short, visible
from contactfe.errors import InputError

SLIMMEST_PLATE = 1.0 / 250.0
"""Least thickness over width of a plate: thinner ones bend out of small displacements."""

SLIMMEST_WALL = 1.0 / 200.0
"""Least wall over outside diameter of a tube, for the same reason; series by hand have some
10 diameters of terms for each wall, too."""

Location = tuple[int | str, ...]
"""Keys from the top down to a fault, with sections counted from 0."""


def across(case: Case) -> Iterator[tuple[Location, str]]:
    """Place and message of each fault: names, holds, steels, files and contacts that do not fit."""
    if case.motion is not None:
        yield from _of_motion(case.motion, case.load.by_motion)
        yield from _of_levels(case.motion, case.display)
    numbers: dict[str, int] = {}
    for index, section in enumerate(case.sections):
        number = numbers.setdefault(section.name, index + 1)
        if number != index + 1:
            yield ("section", index, "name"), f"is already the name of section {number}"
        for keys, message in (*_of_section(case, section), *too_slim(case, section)):
            yield ("section", index, *keys), message
    try:
        _ = case.plate_material
    except ThicknessError as error:
        yield ("plate", "thickness"), str(error)
    except InputError as error:
        yield ("plate", "steel"), str(error)
    least = SLIMMEST_PLATE * case.plate.width
    if case.plate.thickness < least:
        yield (
            ("plate", "thickness"),
            f"must be at least a {1 / SLIMMEST_PLATE:.0f}th of the width,"
            f" {case.display.length.text(least)}",
        )
    yield from _of_offsets(case)
    yield from _of_a_second_plate(case)
    yield from _of_diametral(case)
    yield from _of_a_cantilever(case)
    yield from _of_the_length(case)
    yield from _of_the_tolerance(case)
    yield from _of_the_curve(case)


def _of_motion(motion: Motion, gives_the_load: bool) -> Iterator[tuple[Location, str]]:
    """Place and message of each fault of a motion, which may have to give the case its load."""
    massless = motion.bumper_mass == 0.0
    if motion.held and massless and motion.contact_law.restitution < 1.0:
        yield (
            ("contact_law", "restitution"),
            "needs bumper_mass in [motion]: what the contact's dashpot takes goes by the masses of"
            " floor and bumper",
        )
    if massless and motion.bumper_spring > 0.0 and not motion.dampers:
        yield ("motion", "bumper_spring"), "needs bumper_mass or a [[motion.damper]] beside it"
    if not massless and not motion.held:
        yield (
            ("motion", "bumper_mass"),
            "needs bumper_spring or a [[motion.damper]], which hold the bumper; leave it out for a"
            " fixed stop",
        )
    if gives_the_load and motion.contact_law.law == "section":
        yield (
            ("load",),
            'must state force beside [contact_law] law = "section", whose curve a section is meshed'
            " for",
        )


def _of_levels(motion: Motion, units: Display) -> Iterator[tuple[Location, str]]:
    """Levels of hazard: each under a name of its own, with a period, and one that is an impact."""
    numbers: dict[str, int] = {}
    harmonic = [level for level in motion.levels if level.displacement is not None]
    for index, level in enumerate(motion.levels):
        number = numbers.setdefault(level.name, index + 1)
        if number != index + 1:
            yield ("motion", "level", index, "name"), f"is already the name of level {number}"
        if level in harmonic and motion.at(level).period is None:
            yield (
                ("motion", "level", index, "displacement"),
                'needs the period of the isolation system, here or in [motion]: period = "3 s"',
            )
    if motion.levels and not harmonic:
        for key in ("period", "damping"):
            if getattr(motion, key) is not None:
                yield ("motion", key), "must not be stated where every level states velocity"
    if motion.levels and not any(motion.at(level).closes for level in motion.levels):
        most = max(level.displacement for level in harmonic if level.displacement is not None)
        yield (
            ("motion", "gap"),
            "must be less than the displacement of one level at least,"
            f" {units.length.text(most)} at most: the stop is never struck",
        )


def _of_section(case: Case, section: Section) -> Iterator[tuple[Location, str]]:
    try:
        case.post_material(section)
    except ThicknessError as error:
        yield (_governing(section),), str(error)
    except InputError as error:
        yield ("steel",) if section.steel else (), str(error)
    of = section.steel or case.post.steel
    if (
        isinstance(of, str)
        and section.geometry.product == "tube"
        and section.outside_diameter > widest(of)
    ):
        text = case.display.length.text
        yield (
            ("outside_diameter" if section.stock is None else "designation",),
            f'must be at most {text(widest(of))}: "{of}" covers no wider tube',
        )
    # Not pathlib's check, which raises where the path is no path at all.
    if section.mesh is not None and not os.path.isfile(section.mesh):
        yield ("mesh",), f"there is no such file, {short(visible(str(section.mesh)))}"
    support = case.support(section)
    if support.core:
        held = f'held by "{support.name}"'
        if not section.geometry.hollow:
            own = ("held_by",) if section.held_by else ()
            yield own, f"is {held} and has no bore; state wall, bore, designation or mesh"
        if section.infill is not None:
            yield ("infill",), f"must not be stated where the bore is {held}"


def too_slim(case: Case, section: Section) -> Iterator[tuple[Location, str]]:
    """Place and message of a wall that small displacements do not describe."""
    wall, least = section.geometry.wall, SLIMMEST_WALL * section.outside_diameter
    if wall is not None and wall < least:
        text = case.display.length.text
        yield (
            (_governing(section),),
            f"leaves a wall of {text(wall)}, which must be at least a"
            f" {1 / SLIMMEST_WALL:.0f}th of the outside diameter, {text(least)}",
        )


def _governing(section: Section) -> str:
    """The key that states the thickness which the strength of a section's steel goes by."""
    return section.geometry.thickness_key if section.stock is None else "designation"


def _of_offsets(case: Case) -> Iterator[tuple[Location, str]]:
    most = case.plate.width / 2
    text = case.display.length.text
    message = f"must be less than half the plate's width, {text(most)}, from its middle"
    if abs(case.contact.offset) >= most:
        yield ("contact", "offset"), message
    if case.corner is not None and abs(case.corner.offset) >= most:
        yield ("corner", "offset"), message
    # An envelope without offsets has that of [contact], so a fault of both is reported once.
    offsets = () if case.envelope is None else case.envelope.offsets
    beyond = [o for o in offsets if abs(o) >= most and o != case.contact.offset]
    if beyond:
        yield ("envelope", "offset"), f"each {message}, not {text(beyond[0])}"


def _of_a_second_plate(case: Case) -> Iterator[tuple[Location, str]]:
    if case.corner is None:
        return
    if case.contact.angle != 0.0:
        yield (
            ("contact", "angle"),
            "must be 0 beside [corner]: the two loads set the direction of motion",
        )
    if case.envelope is not None:
        yield ("envelope",), "must not be stated beside [corner]"


def _of_diametral(case: Case) -> Iterator[tuple[Location, str]]:
    """What a diametral post cannot do: it is squeezed squarely, between two plates already."""
    squeezed = next((s for s in case.sections if case.support(s).half), None)
    if squeezed is None:
        return
    why = f'held by "{case.hold(squeezed)}", as section “{squeezed.name}” is'
    if case.corner is not None:
        yield ("corner",), f"must not be stated for a post {why}"
    message = f"must be 0 for a post {why}: it is squeezed squarely"
    if case.contact.angle != 0.0:
        yield ("contact", "angle"), message
    if case.envelope is not None and set(case.envelope.angles) - {0.0, case.contact.angle}:
        yield ("envelope", "angle"), f"each {message}"


def _of_a_cantilever(case: Case) -> Iterator[tuple[Location, str]]:
    """Along its axis the post carries a force, which a line load alone does not state."""
    if case.cantilever is None:
        return
    loads, tip = [("load", case.contact_length)], case.cantilever.tip
    if case.corner is not None:
        loads.append(("corner", case.corner.contact_length))
    for table, length in loads:
        if length is None:
            yield (
                (table, "line_load"),
                "must be stated as force and contact_length beside [cantilever], which carries"
                " the force",
            )
        elif tip is not None and tip < length / 2.0:
            yield (
                ("cantilever", "tip"),
                "must be at least half the contact_length,"
                f" {case.display.length.text(length / 2.0)}: the post ends within its contact",
            )
        elif length > 2.0 * case.cantilever.length:
            yield (
                (table, "contact_length"),
                "must be at most twice the length of [cantilever],"
                f" {case.display.length.text(2.0 * case.cantilever.length)}: it would begin"
                " behind the post's root",
            )


STEEPEST_ALONG = 0.1
"""Tilt of the plate to the post with its misalignment, rad, up to which it counts as small: a
choice made here."""


def _of_the_length(case: Case) -> Iterator[tuple[Location, str]]:
    """A force is shared along the post by its bending as a round cantilever on one plate."""
    alignment = case.alignment
    if alignment is None:
        return
    if case.distribution is not None:
        yield ("load", "distribution"), "must not be stated beside [alignment], which finds it"
    if case.cantilever is None:
        yield ("alignment",), "needs [cantilever], whose bending it is about, and so [load] a force"
    if case.corner is not None:
        yield ("alignment",), "must not be stated beside [corner]"
    if abs(alignment.tilt) + alignment.off > STEEPEST_ALONG:
        of = [name for name in ("tilt", "misalignment") if getattr(alignment, name)]
        yield (
            ("alignment", of[0]) if of else ("tolerance", case.tolerance.turned),
            "must be small: tilt and misalignment, with what [tolerance] adds, together at most"
            f" {case.display.angle.text(STEEPEST_ALONG)}",
        )
    for index, section in enumerate(case.sections):
        if not case.support(section).axis:
            own = ("section", index) if section.held_by else ("post",)
            bending = named(support for support in POST_SUPPORTS.values() if support.axis)
            message = f"must be {bending} beside [alignment]: the post bends as a cantilever"
            yield (*own, "held_by"), message
            if not section.held_by:
                break
        if section.geometry.along is None:
            message = (
                "must not be stated beside [alignment], which knows the bending of rounds alone"
            )
            yield ("section", index, section.geometry.key), message


def _of_the_tolerance(case: Case) -> Iterator[tuple[Location, str]]:
    """A tilt where the force is shared along the post, and walls that leave a tube."""
    tolerance, length = case.tolerance, case.display.length.text
    if tolerance.angle > 0.0 and case.alignment is None:
        why = "[load] states the distribution" if case.distribution else why_even(case)
        if why:
            yield (
                ("tolerance", tolerance.turned),
                f"needs the force to be shared along the post by its bending: {why}",
            )
        elif tolerance.angle > STEEPEST_ALONG:
            most = case.display.angle.text(STEEPEST_ALONG)
            yield ("tolerance", tolerance.turned), f"must turn the post by at most {most}"
    if tolerance.outside_diameter is not None and tolerance.wall is None:
        tubes = [s for s in case.sections if s.geometry.wall is not None]
        if not tubes or any(case.limits(section) is None for section in tubes):
            message = 'needs wall beside it, such as wall = "10 %"'
            yield ("tolerance", "outside_diameter"), message
    for index, section in enumerate(case.sections):
        limits = case.limits(section)
        if limits is not None and limits.fault:
            own: Location = ("tolerance", "wall")
            if section.wall_tolerance is not None:
                own = ("section", index, "wall_tolerance")
            if 0.0 < limits.wall[0] < limits.wall[1] < section.outside_diameter / 2.0:
                own = ("tolerance", "outside_diameter")
            yield (
                own,
                f"{limits.fault} of section “{section.name}”, whose wall is"
                f" {length(section.geometry.wall or 0.0)} of Ø {length(section.outside_diameter)}",
            )


def _of_the_curve(case: Case) -> Iterator[tuple[Location, str]]:
    """A section's own curve is per length along the post, so its force needs the length."""
    own = case.motion is not None and case.motion.contact_law.law == "section"
    if own and case.contact_length is None:
        yield (
            ("load", "line_load"),
            'must be stated as force and contact_length beside [contact_law] law = "section"',
        )
    if own and case.corner is not None:
        yield ("corner",), 'must not be stated beside [contact_law] law = "section"'
