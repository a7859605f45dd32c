"""Named steels: the yield strength by product and thickness out of steels.toml."""

import json
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from contactfe.case.material import Material
from contactfe.case.units import parse_quantity
from contactfe.errors import InputError

Product = Literal["solid", "tube", "plate"]

# A thickness on the edge of a band belongs to it, however the conversion of inches rounded.
_EDGE = 1 + 1e-9


@dataclass(frozen=True)
class _Grade:
    """One row of steels.toml; thicknesses in mm, strengths and moduli in MPa."""

    young: float
    poisson: float
    over: tuple[float, ...]
    yield_strength: tuple[float, ...]
    largest: dict[str, float]
    source: str
    elastic_source: str


@cache
def _grades() -> dict[str, _Grade]:
    data = tomllib.loads(files("contactfe.case").joinpath("steels.toml").read_text("utf-8"))
    grades = {}
    for table in data["table"]:
        mm = parse_quantity(f"1 {table['units']['thickness']}", "length")
        MPa = parse_quantity(f"1 {table['units']['yield']}", "stress")
        elastic = data["elastic"][table["elastic"]]
        for name, strengths in table["yield"].items():
            grades[f"{table['standard']} {name}"] = _Grade(
                young=parse_quantity(elastic["young"], "stress"),
                poisson=elastic["poisson"],
                over=tuple(mm * edge for edge in table["over"]),
                yield_strength=tuple(MPa * strength for strength in strengths),
                largest={product: mm * limit for product, limit in table["largest"].items()},
                source=f"{table['standard']} {name}: {table['source']}",
                elastic_source=elastic["source"],
            )
    return grades


def known_steel(name: str) -> str:
    """The name itself, if a case file may give it as `steel`.

    Raises InputError, with the list of all names, if it may not.
    """
    if name not in _grades():
        allowed = ", ".join(f'"{known}"' for known in _grades())
        meant = [known for known in _grades() if _plain(name) in _plain(known)]
        close = f" did you mean {' or '.join(json.dumps(m) for m in meant)}?" if meant else ""
        raise InputError(f"is not a known steel;{close} allowed: {allowed}")
    return name


def _plain(name: str) -> str:
    return "".join(filter(str.isalnum, name)).lower()


def steel(name: str, thickness: float, product: Product) -> Material:
    """A named steel at the thickness, mm, that governs its yield strength.

    That is the diameter of a solid round, the wall of a tube, the thickness of a plate. A tube
    bored out of bar can be weaker than its wall suggests: state its values instead. The source of
    the material tells the table, its row, and whether the number was seen.

    Raises InputError for a name that is not known, a grade that is not made as this product, and
    a thickness beyond what its standard lists.

    >>> steel("EN 10025-2 S355", 150.0, "solid").yield_strength
    295.0
    """
    grade = _grades()[known_steel(name)]
    limit = grade.largest.get(product)
    if limit is None:
        raise InputError(
            f'"{name}" is listed as {" or ".join(grade.largest)}, not as {product}; '
            "name another steel"
        )
    if thickness > limit * _EDGE:
        raise InputError(
            f'"{name}" is listed as {product} up to {limit:g} mm thick, not {thickness:g} mm'
        )
    row = sum(thickness > edge * _EDGE for edge in grade.over) - 1
    return Material(
        name=name,
        young=grade.young,
        poisson=grade.poisson,
        yield_strength=grade.yield_strength[row],
        source=f"{grade.source}, row for over {grade.over[row]:g} mm; "
        f"elastic constants: {grade.elastic_source}",
    )
