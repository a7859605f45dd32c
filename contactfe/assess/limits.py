"""How far the model carries: patch, travel and slenderness beyond which a case is refused."""

from contactfe.assess.level import Reading
from contactfe.case import Case, Section
from contactfe.errors import InputError

LARGEST_PATCH = 0.1
"""Half-width over radius up to which contact of a round is treated on undeformed geometry. Usual
bound of Hertz theory (a much less than R): common practice, no source."""

SMALLEST_PATCH = 1e-6
"""Half-width over radius below which no mesh is made: nothing built is pressed so lightly."""

LARGEST_TRAVEL = 0.1
"""Travel of the post towards the plate's hold, over the radius, up to which displacements count as
small: a choice made here."""

SLIMMEST_PLATE = 1.0 / 250.0
"""Least thickness over width of a plate: thinner ones bend out of small displacements."""

SLIMMEST_WALL = 1.0 / 200.0
"""Least wall over outside diameter of a tube, for the same reason."""

_PLATE_WIDTHS = 5.0  # the candidate line of contact must fit on the plate with room at its ends
_PLATE_DEPTHS = 2.0  # a patch as wide as the plate is thick is no longer a contact on its face


def widest_patch(case: Case, section: Section) -> float:
    """Largest half-width (mm) that radius and plate allow."""
    return min(
        LARGEST_PATCH * section.radius,
        case.plate.width / _PLATE_WIDTHS,
        case.plate.thickness / _PLATE_DEPTHS,
    )


def check_patch(case: Case, section: Section, half_width: float) -> None:
    """Refuse a patch too wide or too small for the radius or the plate.

    Raises
    ------
    InputError
        naming the file, the key, the value and the limit
    """
    ratio, units = half_width / section.radius, case.display
    of = f"the contact patch of section {section.name!r} has a half-width of"
    if ratio > LARGEST_PATCH:
        most = case.line_load * (LARGEST_PATCH / ratio) ** 2
        raise InputError(
            f"{_load(case)}: {of} {ratio:.3f} of its radius; it must stay small beside the radius,"
            f" at most {LARGEST_PATCH:g} of it, which allows about {units.line_load.text(most)}"
        )
    if ratio < SMALLEST_PATCH:
        raise InputError(
            f"{_load(case)}: {of} {ratio:.1e} of its radius; it must be at least"
            f" {SMALLEST_PATCH:g} of it"
        )
    for key, size, times in (
        ("width", case.plate.width, _PLATE_WIDTHS),
        ("thickness", case.plate.thickness, _PLATE_DEPTHS),
    ):
        if size < times * half_width:
            raise InputError(
                f"{_plate(case, key, size)}: {of} {units.length.text(half_width)}; the {key} must"
                f" be at least {times:g} half-widths, {units.length.text(times * half_width)}"
            )


def check_slimness(case: Case, section: Section) -> None:
    """Refuse a plate or a wall so thin that small displacements do not describe it.

    Raises
    ------
    InputError
        naming the file, the key, the value and the limit
    """
    plate, units = case.plate, case.display
    least = SLIMMEST_PLATE * plate.width
    if plate.thickness < least:
        raise InputError(
            f"{_plate(case, 'thickness', plate.thickness)}: must be at least a"
            f" {1 / SLIMMEST_PLATE:.0f}th of the width, {units.length.text(least)}"
        )
    least = SLIMMEST_WALL * section.outside_diameter
    if section.wall is not None and section.wall < least:
        raise InputError(
            f"{case.source}: section {section.name!r}, wall ="
            f' "{units.length.text(section.wall)}": must be at least a {1 / SLIMMEST_WALL:.0f}th of'
            f" the outside diameter, {units.length.text(least)}"
        )


def check_travel(case: Case, section: Section, reading: Reading) -> None:
    """Refuse a solution whose displacements are not small.

    Raises
    ------
    InputError
        naming the file, the key, the value and the limit
    """
    if not travels_little(section, reading):
        units = case.display
        raise InputError(
            f"{_load(case)}: section {section.name!r} and its plate give way by"
            f" {units.length.text(reading.state.approach)}; it must be small beside the radius, at"
            f" most {LARGEST_TRAVEL:g} of it, {units.length.text(LARGEST_TRAVEL * section.radius)}"
        )


def travels_little(section: Section, reading: Reading) -> bool:
    """Whether the travel of a solution counts as small."""
    return reading.state.approach <= LARGEST_TRAVEL * section.radius


def _load(case: Case) -> str:
    key = "line_load" if case.effective_length is None else "force over effective_length"
    return f'{case.source}: [load] {key} = "{case.display.line_load.text(case.line_load)}"'


def _plate(case: Case, key: str, size: float) -> str:
    return f'{case.source}: [plate] {key} = "{case.display.length.text(size)}"'
