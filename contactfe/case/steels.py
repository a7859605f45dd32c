"""Named steels: yield and ultimate strength by product and thickness out of steels.toml."""

import json
import math
import tomllib
from collections.abc import Iterable, Sequence
from functools import cache
from importlib.resources import files

from contactfe.case.display import SI, Display
from contactfe.case.grades import Band, Grade, Product
from contactfe.case.material import Material
from contactfe.case.units import parse_quantity
from contactfe.errors import InputError


@cache
def grades() -> tuple[Grade, ...]:
    """Every built-in grade, in the order of steels.toml."""
    data = tomllib.loads(files("contactfe.case").joinpath("steels.toml").read_text("utf-8"))
    found = []
    for table in data["table"]:
        mm = parse_quantity(f"1 {table['units']['thickness']}", "length")
        MPa = parse_quantity(f"1 {table['units']['strength']}", "stress")
        elastic = data["elastic"][table["elastic"]]
        for name, yields in table["yield"].items():
            rows = zip(table["over"], yields, table["ultimate"][name], strict=True)
            found.append(
                Grade(
                    name=f"{table['standard']} {name}",
                    young=parse_quantity(elastic["young"], "stress"),
                    poisson=elastic["poisson"],
                    bands=tuple(Band(mm * over, MPa * fy, MPa * fu) for over, fy, fu in rows),
                    largest={product: mm * limit for product, limit in table["largest"].items()},
                    source=table["source"],
                    elastic_source=elastic["source"],
                    design_wall=table.get("design_wall", 1.0),
                    widest=mm * table.get("widest", math.inf),
                    other_material=table.get("other_material", False),
                )
            )
    return tuple(found)


def known_steel(name: str, own: Iterable[str] = ()) -> str:
    """The name itself, if it is that of a built-in grade or among `own`, those that a case states.

    Raises InputError, with the list of all names, if it is neither.
    """
    known = [*(grade.name for grade in grades()), *own]
    if name not in known:
        allowed = ", ".join(json.dumps(k, ensure_ascii=False) for k in known)
        meant = [json.dumps(k, ensure_ascii=False) for k in known if _plain(name) in _plain(k)]
        close = f" did you mean {' or '.join(meant)}?" if meant else ""
        raise InputError(f"is not a known steel;{close} allowed: {allowed}")
    return name


def _plain(name: str) -> str:
    return "".join(filter(str.isalnum, name)).lower()


def thickness_steps(name: str, own: Sequence[Grade] = ()) -> tuple[float, ...]:
    """Thicknesses, mm, over which a named steel has another strength; a thickness of just that has
    the strength below. Raises InputError for a name that is not known.

    >>> thickness_steps("EN 10025-2 S355")[:3]
    (16.0, 40.0, 63.0)
    """
    known_steel(name, [grade.name for grade in own])
    named = {grade.name: grade for grade in (*grades(), *own)}
    return tuple(band.over for band in named[name].bands if band.over > 0.0)


def thickest(name: str, product: Product, own: Sequence[Grade] = ()) -> float | None:
    """Greatest thickness, mm, that a named steel is listed for as a product; None if it is not.

    Raises InputError for a name that is not known.

    >>> thickest("EN 10025-2 S355", "tube")
    250.0
    """
    known_steel(name, [grade.name for grade in own])
    return next(g for g in (*own, *grades()) if g.name == name).largest.get(product)


def widest(name: str) -> float:
    """Largest outside diameter, mm, of a tube that the standard of a steel covers.

    Infinite where no such bound is known, and of a steel that is not built in.

    >>> print(round(widest("ASTM A500-21 Gr C"), 1))
    711.5
    """
    return next((grade.widest for grade in grades() if grade.name == name), math.inf)


def steel(
    name: str,
    thickness: float,
    product: Product,
    own: Sequence[Grade] = (),
    units: Display = SI,
) -> Material:
    """A named steel, built in or of `own` grades, at the thickness, mm, that governs its strength.

    That is the diameter of a solid round, the wall of a tube, the thickness of a plate. A tube
    bored out of bar can be weaker than its wall suggests: state its values instead. The source of
    the material names the table, its row, and whether the numbers were seen. Texts state thickness
    in the units given.

    Raises InputError for a name that is not known, a grade that is not made as this product, and
    a thickness beyond what is listed for it.

    >>> bar = steel("EN 10025-2 S355", 150.0, "solid")
    >>> bar.yield_strength, bar.ultimate_strength
    (295.0, 450.0)
    """
    known_steel(name, [grade.name for grade in own])
    named = {grade.name: grade for grade in (*grades(), *own)}
    return named[name].material(thickness, product, units)
