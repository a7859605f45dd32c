"""The range of the model: patch, displacement and slenderness beyond which a case is refused."""

from contactfe.assess.reading import Reading
from contactfe.case import Case, Section
from contactfe.case.across import too_slim
from contactfe.case.wording import written_key
from contactfe.errors import InputError
from contactfe.hand import strip_deflection
from contactfe.section.grading import Patch

LARGEST_PATCH = 0.1
"""Half-width over radius up to which contact of a round is treated on undeformed geometry. Usual
bound of Hertz theory (a much less than R): common practice, no source."""

SMALLEST_PATCH = 1e-6
"""Half-width over radius below which no mesh is made: nothing built is pressed so lightly."""

LARGEST_DISPLACEMENT = 0.1
"""Displacement of the post towards the plate's hold, over the radius, up to which displacements
count as small: a choice made here."""

STEEPEST_TILT = 0.05
"""Turn of the impacted face at the contact, radians, up to which its displacements count as small:
a choice made here."""

LARGEST_POISSON = 0.46
"""Poisson's ratio in plane strain up to which the ± of a solved contact holds. Next to 0.5 a mesh
resists what keeps its volume: by Hertz half-widths are off by 0.3 % at 0.46, their ±, by 0.5 % at
0.48, and by up to 4 % at 0.499."""

_PLATE_ROOM = 2.5  # the candidate line of contact must fit on the plate with room at its ends
_PLATE_DEPTHS = 2.0  # a patch as wide as the plate is thick is no longer a contact on its face


def widest_patch(case: Case, section: Section, number: int = 0) -> float:
    """Largest half-width (mm) that the radius and the plate of that number allow."""
    return min(
        LARGEST_PATCH * section.radius,
        _room(case, number) / _PLATE_ROOM,
        case.plate.thickness / _PLATE_DEPTHS,
    )


def check_patch(case: Case, section: Section, number: int, patch: Patch) -> None:
    """Refuse a patch too wide or too small for the radius, not well on the plate, or in a body that
    hardly changes its volume.

    A patch off the first point of contact shows how far the plate turns there.

    ``number`` is that of the plate: 0, or 1 for the second of a corner.

    Raises
    ------
    InputError
        naming the file, the key, the value and the limit
    """
    _check_volume(case, section)
    half_width, units = patch.half_width, case.display
    ratio, load = half_width / section.radius, _load(case, number)
    of = f"the contact patch of section {section.name!r} has a half-width of"
    if ratio > LARGEST_PATCH:
        q = case.line_load if number == 0 or case.corner is None else case.corner.line_load
        most = q * (LARGEST_PATCH / ratio) ** 2
        raise InputError(
            f"{load}: {of} {ratio:.3f} of its radius; it must stay small beside the radius,"
            f" at most {LARGEST_PATCH:g} of it, which allows about {units.line_load.text(most)}"
        )
    if ratio < SMALLEST_PATCH:
        raise InputError(
            f"{load}: {of} {ratio:.1e} of its radius; it must be at least {SMALLEST_PATCH:g} of it"
        )
    tilt = abs(patch.centre) / section.radius
    if tilt > STEEPEST_TILT:
        spring = case.plate.spring
        soft = (
            ""
            if spring is None
            else (
                f'; elastic supports stiffer than "{units.line_stiffness.text(spring)}" or a'
                " smaller offset are needed"
            )
        )
        raise InputError(
            f"{load}: the plate turns by {tilt:.3g} rad where section {section.name!r} strikes it;"
            f" it must be small, at most {STEEPEST_TILT:g} rad{soft}"
        )
    text, offset = units.length.text, case.offsets[number]
    if case.plate.thickness < _PLATE_DEPTHS * half_width:
        raise InputError(
            f"{_plate(case, 'thickness', case.plate.thickness)}: {of} {text(half_width)}; the"
            f" thickness must be at least {_PLATE_DEPTHS:g} half-widths,"
            f" {text(_PLATE_DEPTHS * half_width)}"
        )
    room = case.plate.width / 2.0 - abs(offset + patch.centre)
    if room < _PLATE_ROOM * half_width:
        if offset == 0.0:
            where = _plate(case, "width", case.plate.width)
        else:
            table = "contact" if number == 0 else "corner"
            where = f'{case.source}: [{table}] offset = "{text(offset)}"'
        raise InputError(
            f"{where}: {of} {text(half_width)}; its middle must lie at least {_PLATE_ROOM:g}"
            f" half-widths, {text(_PLATE_ROOM * half_width)}, from the edge of the plate, not"
            f" {text(room)}"
        )


def _check_volume(case: Case, section: Section) -> None:
    if case.state != "plane strain":
        return
    bodies = (
        ("post", section.steel or case.post.steel, case.post_material(section)),
        ("plate", case.plate.steel, case.plate_material),
    )
    for table, steel, material in bodies:
        if material.poisson > LARGEST_POISSON:
            at = f"[grade.{written_key(steel)}]" if isinstance(steel, str) else f"[{table}]"
            raise InputError(
                f"{case.source}: {at} poisson = {material.poisson:g}: must be at most"
                f" {LARGEST_POISSON:g} for a contact that is solved in plane strain: what changes"
                " its volume less is too stiff on these meshes for their uncertainty to hold"
            )


def check_slimness(case: Case, section: Section) -> None:
    """Refuse a wall so thin that small displacements do not describe it, as a case file is.

    Raises InputError.
    """
    for _, message in too_slim(case, section):
        raise InputError(f"{case.source}: section {section.name!r} {message}")


def check_displacement(case: Case, section: Section, reading: Reading) -> None:
    """Refuse a solution whose displacements are not small.

    Raises
    ------
    InputError
        naming the file, the key, the value and the limit
    """
    for number in range(len(reading.patches)):
        check_give(case, section, number, _displacement(case, reading, number))


def check_give(case: Case, section: Section, number: int, displacement: float) -> None:
    """Refuse a displacement towards the plate of that number, mm, :func:`give`, that is not small.

    Raises
    ------
    InputError
        naming the file, the key, the value and the limit
    """
    text, most = case.display.length.text, LARGEST_DISPLACEMENT * section.radius
    if displacement > most:
        raise InputError(
            f"{_load(case, number)}: section {section.name!r} and its plate give way by"
            f" {text(displacement)}; it must be small beside the radius, at most"
            f" {LARGEST_DISPLACEMENT:g} of it, {text(most)}"
        )


def small_displacements(case: Case, section: Section, reading: Reading) -> bool:
    """Whether the displacement of a solution and the turn of its plates count as small."""
    return all(
        _displacement(case, reading, number) <= LARGEST_DISPLACEMENT * section.radius
        and abs(patch.state.centre) <= STEEPEST_TILT * section.radius
        for number, patch in enumerate(reading.patches)
    )


def _displacement(case: Case, reading: Reading, number: int) -> float:
    """Displacement of the post towards a plate, :func:`give`, mm."""
    rigid_displacement = reading.state.rigid_displacement
    towards = float(-rigid_displacement[1] if number == 0 else rigid_displacement[0])
    return give(case, number, towards, reading.patches[number].state.line_load)


def give(case: Case, number: int, towards: float, line_load: float) -> float:
    """Displacement towards a plate, less what it moves as a rigid body on elastic supports, mm."""
    plate, at = case.plate, case.offsets[number]
    if plate.spring is None:
        return towards
    return towards - float(
        strip_deflection.settlement(at, line_load, plate.width, at, plate.spring)
    )


def _room(case: Case, number: int) -> float:
    """Distance of the first point of contact from the nearer edge of the plate, mm."""
    return case.plate.width / 2.0 - abs(case.offsets[number])


def _load(case: Case, number: int) -> str:
    table, of = ("load", case) if number == 0 or case.corner is None else ("corner", case.corner)
    key = "line_load" if of.contact_length is None else "force over contact_length"
    stated = f'{case.source}: [{table}] {key} = "{case.display.line_load.text(of.line_load)}"'
    if case.spread is None:
        return stated
    return f"{stated}, {case.display.line_load.text(case.line_loads[0])} at its peak along the post"


def _plate(case: Case, key: str, size: float) -> str:
    return f'{case.source}: [plate] {key} = "{case.display.length.text(size)}"'
