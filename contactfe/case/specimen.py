"""The case file of a test specimen, out of that of its prototype."""

from __future__ import annotations

import copy
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from contactfe.case.grades import Grade, Product
from contactfe.case.material import Material
from contactfe.case.measured import Measured, measured
from contactfe.case.model import Case
from contactfe.case.scaling import specimen_title
from contactfe.case.steels import grades
from contactfe.case.units import times
from contactfe.errors import InputError
from contactfe.hand.similitude import factor

OF_THE_PROTOTYPE = "as thick as the prototype"
"""What is put behind the name of a steel whose strengths the specimen takes from the prototype."""

_LEAST, _MOST = 0.01, 1.0  # as `scale` of a case file


@dataclass(frozen=True)
class Pair:
    """A quantity of the prototype's file, and as the specimen has it, in the same unit."""

    quantity: Measured
    text: str
    factor: float


@dataclass(frozen=True)
class Specimen:
    """A specimen of a case: its tables as a file has them, and what they do not state."""

    case: Case  # of the prototype, with the tables of its file
    stated: Mapping[str, Any]
    scale: float  # length of the specimen over that of the prototype
    pairs: tuple[Pair, ...]
    tables: dict[str, Any]
    remarks: tuple[str, ...]


def asked_scale(case: Case, stated: float | None) -> float:
    """The scale that is asked for, or that of the case.

    Raises InputError where there is none, or it is out of bounds.
    """
    if stated is not None and not _LEAST <= stated <= _MOST:
        raise InputError(
            f"--to {stated:g}: must be a number from {_LEAST:g} to {_MOST:g}, length of the"
            " specimen over prototype"
        )
    scale = case.scale if stated is None else stated
    if scale is None:
        raise InputError(
            f"{case.source}: states no scale; write scale = 0.25 at its top, or give --to 0.25"
        )
    return scale


def specimen(case: Case, data: Mapping[str, Any], scale: float, folder: Path) -> Specimen:
    """The specimen of ``case``, whose file has the tables ``data``; it is to lie in ``folder``.

    Lengths, loads and what moves are scaled as :mod:`contactfe.hand.similitude` has it. A stock
    size becomes the tube that it is; a steel that would have another strength at the specimen's
    thickness becomes a grade of the file's own, with the prototype's strengths.
    """
    tables = _by_size(data, case)
    pairs = tuple(_pair(quantity, scale) for quantity in measured(tables))
    for pair in pairs:
        _put(tables, pair)
    remarks = [*_sizes(case), *_tried(tables), *_steels(tables, case, scale)]
    remarks += _whole_walls(tables, case)
    _drawn(tables, case, scale, folder)
    tables.pop("scale", None)
    tables["title"] = specimen_title(case, scale)
    return Specimen(case, data, scale, pairs, tables, tuple(remarks))


def _pair(quantity: Measured, scale: float) -> Pair:
    by = factor(quantity.dimension, scale)
    # What does not change stays as it was written, to the last digit.
    return Pair(quantity, quantity.text if by == 1.0 else times(quantity.text, by), by)


def _put(tables: dict[str, Any], pair: Pair) -> None:
    *above, last = pair.quantity.place
    node: Any = tables
    for key in above:
        node = node[key]
    node[last] = pair.text


def _by_size(data: Mapping[str, Any], case: Case) -> dict[str, Any]:
    """The tables, a copy, with stock sizes by their dimensions."""
    tables = copy.deepcopy(dict(data))
    length = case.display.length
    for table, section in zip(tables["section"], case.sections, strict=True):
        if section.stock is not None:
            del table["designation"]
            sizes = ("outside_diameter", section.outside_diameter), *section.geometry.sizes
            for key, value in sizes:
                table[key] = f"{length.of(value):.12g} {length.name}"
    return tables


def _sizes(case: Case) -> Iterator[str]:
    names = [f"“{section.name}”" for section in case.sections if section.stock is not None]
    if names:
        yield (
            f"Stock sizes do not scale: {', '.join(names)} of the specimen are to be made to the"
            " outside diameter and wall that they have at this scale."
        )


def _tried(tables: dict[str, Any]) -> Iterator[str]:
    """What is to be tried on the prototype and has no meaning, or another, for a specimen."""
    if tables.get("sizing", {}).pop("stock", None) is not None:
        yield "The lists of stock sizes of [sizing] are left out: sizes of stock do not scale."
    if tables.pop("sweep", None) is not None:
        yield "[sweep] is left out: its values are those of the prototype."


def _drawn(tables: dict[str, Any], case: Case, scale: float, folder: Path) -> None:
    """Own meshes, in a smaller unit and by their path from where the file is to lie."""
    for table, section in zip(tables["section"], case.sections, strict=True):
        if section.mesh is not None:
            table["mesh"] = Path(os.path.relpath(section.mesh, folder.absolute())).as_posix()
            table["mesh_unit"] = f"{scale * section.mesh_unit:.12g} mm"


def _steels(tables: dict[str, Any], case: Case, scale: float) -> Iterator[str]:
    """Built-in steels that are stronger when thinner, as grades of the file with scaled bands.

    Grades of the case's own have had theirs scaled, as every length.
    """
    built_in = {grade.name: grade for grade in grades()}
    uses: dict[str, list[tuple[float, Product]]] = {}
    for thickness, product, steel in _used(case):
        if isinstance(steel, str) and steel in built_in:
            uses.setdefault(steel, []).append((thickness, product))
    for name, of in uses.items():
        grade = built_in[name]
        if all(_same(grade, thickness, product, scale) for thickness, product in of):
            continue
        new = f"{name}, {OF_THE_PROTOTYPE}"
        tables.setdefault("grade", {})[new] = _stated(grade, scale)
        for table in (tables["post"], tables["plate"], *tables["section"]):
            if table.get("steel") == name:
                table["steel"] = new
        yield (
            f"{name} goes by thickness, and the specimen is thinner. It keeps the strengths of the"
            f" prototype's thicknesses: its file states them as “{new}”. Order it with that yield"
            " strength, or cut it from stock as thick as the prototype's."
        )


def _whole_walls(tables: Mapping[str, Any], case: Case) -> Iterator[str]:
    """Tubes of which AISC 360 counts a share of the wall, and all of it by the specimen's file.

    The share is that of a product standard, by a stock size or a built-in steel: neither is left of
    a plain size in a steel of the file's own.
    """
    if "AISC" not in case.standards.families or case.cantilever is None:
        return
    built_in = {grade.name for grade in grades()}
    shares = {
        section.name: case.post_material(section).design_wall
        for table, section in zip(tables["section"], case.sections, strict=True)
        if table.get("steel", tables["post"].get("steel")) not in built_in
    }
    if names := [f"“{name}”" for name, share in shares.items() if share < 1.0]:
        yield (
            f"AISC 360, B4.2 counts {min(shares.values()):g} of the prototype's wall of"
            f" {', '.join(names)}, and the whole wall of the specimen, a plain size to the file:"
            " ratios of the specimen's post by AISC 360 are lower than the prototype's, and do not"
            " show that it passes."
        )


def _used(case: Case) -> Iterator[tuple[float, Product, str | Material]]:
    """The thickness, the product and the steel of every body."""
    yield case.plate.thickness, "plate", case.plate.steel
    for section in case.sections:
        geometry = section.geometry
        yield geometry.steel_thickness, geometry.product, section.steel or case.post.steel


def _same(grade: Grade, thickness: float, product: Product, scale: float) -> bool:
    """Whether a steel is as strong at the specimen's thickness, and is made as thin."""
    here, there = grade.material(thickness, product), grade.material(scale * thickness, product)
    strengths = [(m.yield_strength, m.ultimate_strength) for m in (here, there)]
    return strengths[0] == strengths[1]


def _stated(grade: Grade, scale: float) -> dict[str, Any]:
    """A grade as the table of a case, its bands of thickness scaled."""

    def MPa(strength: float) -> str:
        return f"{strength:.12g} MPa"

    table: dict[str, Any] = {
        "young": MPa(grade.young),
        "poisson": grade.poisson,
        "over": [f"{scale * band.over:.12g} mm" for band in grade.bands],
        "yield": [MPa(band.yield_strength) for band in grade.bands],
    }
    ultimate = [band.ultimate_strength for band in grade.bands]
    if all(strength is not None for strength in ultimate):
        table["ultimate"] = [MPa(strength) for strength in ultimate if strength is not None]
    table["source"] = f"{grade.name}: {grade.source}; thickness as in the prototype"
    return table
