"""From a case file to a case, or to one line for every fault in it."""

import os
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from contactfe.case.across import across, of_motion
from contactfe.case.alignment import Alignment, why_even
from contactfe.case.faults import Tell, brackets, fault, faults
from contactfe.case.model import (
    Cantilever,
    Case,
    Contact,
    Corner,
    Envelope,
    Infill,
    Plate,
    Post,
    Section,
    Standards,
)
from contactfe.case.motion import Motion
from contactfe.case.stated import StatedCase, read_stated
from contactfe.case.stated_bodies import StatedInfill, StatedSection
from contactfe.case.stated_contact import StatedCorner, StatedEnvelope
from contactfe.case.stated_standards import StatedCantilever, StatedStandards
from contactfe.errors import InputError


def read_case(path: str | Path) -> Case:
    """Read a case file, TOML in UTF-8, into N, mm and MPa; the files in `cases/` show the format.

    Raises InputError where the file cannot be read, is no TOML, or states no usable case; the
    message has one line for each fault: file, key, value, and what is allowed.
    """
    return case_from_dict(read_tables(path), str(path))


def read_tables(path: str | Path) -> dict[str, Any]:
    """The tables of a case file as TOML has them, before anything about them is checked.

    Raises InputError where the file cannot be read or is no TOML.
    """
    source = str(path)
    try:
        content = Path(path).read_bytes()
    except FileNotFoundError:
        raise InputError(f"{source}: there is no such file") from None
    except IsADirectoryError:
        raise InputError(f"{source}: is a directory, a case is a file") from None
    except OSError as error:
        raise InputError(f"{source}: cannot be read: {error.strerror}") from None
    try:
        text = content.decode("utf-8-sig")  # some editors put a mark in front
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise InputError(f"{source}: line {line} is not UTF-8 text") from None
    try:
        return tomllib.loads(text)
    except ValueError as error:  # TOMLDecodeError, and integers of absurd length
        raise InputError(f"{source}: is not valid TOML: {error}{brackets(text)}") from None


def case_from_dict(data: Mapping[str, Any], source: str = "<data>") -> Case:
    """Build a case from tables as `tomllib` reads them; messages call their origin `source`.

    Paths of meshes are taken from the folder of `source`, or from the current one without it.

    Raises InputError as `read_case` does.
    """
    return case_with(fault, data, source)


def case_with(tell: Tell, data: Mapping[str, Any], source: str) -> Case:
    """The same, with each fault put in words by `tell`, as :func:`contactfe.case.faults.fault`."""
    if not data:
        raise InputError(
            f"{source}: is empty; a case needs title, [post], [plate], [load] and [[section]]"
        )
    try:
        stated = read_stated(data)
    except ValidationError as error:
        raise _refusal(source, faults(data, error, tell)) from None
    motion = _motion(stated)
    # Before the case is resolved, whose load may be that of the motion.
    unmoved = () if motion is None else of_motion(motion, stated.load.by_motion)
    if unfit := [tell(data, location, message) for location, message in unmoved]:
        raise _refusal(source, unfit)
    case = _resolved(stated, motion, source)
    if unfit := [tell(data, location, message) for location, message in across(case)]:
        raise _refusal(source, unfit)
    if case.alignment is None and case.distribution is None and not why_even(case):
        return replace(case, alignment=Alignment(assumed=True))
    return case


def _resolved(stated: StatedCase, motion: Motion | None, source: str) -> Case:
    post, plate = stated.post, stated.plate
    contact = Contact(stated.contact.offset, stated.contact.angle, stated.contact.friction)
    return Case(
        title=stated.title,
        source=source,
        post=Post(post.held_by, post.grade_or_material, post.density),
        plate=Plate(
            plate.width, plate.thickness, plate.held_by, plate.grade_or_material, plate.spring
        ),
        sections=tuple(_section(section, Path(source).parent) for section in stated.section),
        line_load=_line_load(stated, motion),
        contact_length=stated.load.contact_length,
        state=stated.model.state,
        yield_margin=stated.check.yield_margin,
        report_units=stated.report.units,
        contact=contact,
        corner=_corner(stated.corner),
        accuracy=stated.accuracy,
        envelope=_envelope(stated.envelope, contact),
        grades=tuple(grade.grade(name) for name, grade in stated.grade.items()),
        cantilever=_cantilever(stated.cantilever),
        standards=_standards(stated.standards),
        motion=motion,
        alignment=None if stated.alignment is None else stated.alignment.resolved,
        distribution=stated.load.distribution,
        accepted=stated.accept.resolved,
        sizing=None if stated.sizing is None else stated.sizing.resolved,
        sweep=None if stated.sweep is None else stated.sweep.resolved,
        scale=stated.scale,
    )


def _section(stated: StatedSection, folder: Path) -> Section:
    return Section(
        name=stated.name,
        outside_diameter=stated.resolved_outside_diameter,
        wall=stated.resolved_wall,
        steel=stated.steel,
        held_by=stated.held_by,
        infill=_infill(stated.infill),
        # Links are not followed: the path stays one that its author knows.
        mesh=None if stated.mesh is None else Path(os.path.abspath(folder / stated.mesh)),
        mesh_unit=stated.mesh_unit,
        governing_thickness=stated.steel_thickness,
        stock=stated.designation,
    )


def _infill(stated: StatedInfill | None) -> Infill | None:
    if stated is None:
        return None
    return Infill(stated.name, stated.young, stated.poisson, stated.density)


def _corner(stated: StatedCorner | None) -> Corner | None:
    if stated is None:
        return None
    return Corner(stated.resolved_line_load, stated.offset, stated.contact_length)


def _envelope(stated: StatedEnvelope | None, contact: Contact) -> Envelope | None:
    if stated is None:
        return None
    return Envelope(
        offsets=(contact.offset,) if stated.offset is None else stated.offset,
        angles=(contact.angle,) if stated.angle is None else stated.angle,
        frictions=(contact.friction,) if stated.friction is None else stated.friction,
    )


def _cantilever(stated: StatedCantilever | None) -> Cantilever | None:
    if stated is None:
        return None
    return Cantilever(stated.length, stated.weld_throat, stated.electrode_strength)


def _standards(stated: StatedStandards) -> Standards:
    return Standards(
        families=stated.apply,
        method=stated.method,
        gamma_M0=stated.gamma_M0,
        gamma_M2=stated.gamma_M2,
        gamma_M6_ser=stated.gamma_M6_ser,
        gamma_m=stated.gamma_m,
    )


def _motion(stated: StatedCase) -> Motion | None:
    if stated.motion is None or stated.contact_law is None:
        return None
    return stated.motion.resolved(stated.contact_law.resolved)


def _line_load(stated: StatedCase, motion: Motion | None) -> float:
    """The line load stated, or the mean one of the peak contact force that the motion gives."""
    if not stated.load.by_motion:
        return stated.load.resolved_line_load
    from contactfe.case.impact import peak_force

    assert motion is not None  # the tables say so
    assert stated.load.contact_length is not None
    return peak_force(motion) / stated.load.contact_length


def _refusal(source: str, lines: list[str]) -> InputError:
    return InputError("\n".join(f"{source}: {line}" for line in lines))
