"""[grade."..."]: a steel that the case states itself, such as that of a mill certificate.

The table has its bands of thickness side by side, as certificates do; a :class:`Grade` is what it
comes to, as the built-in steels are.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any

from pydantic import AfterValidator

from contactfe.case.grades import PRODUCTS, Band, Grade
from contactfe.case.kinds import (
    Length,
    Name,
    Poisson,
    Strengths,
    Stress,
    StressFromZero,
    Text,
    ThicknessEdges,
    checked_name,
)
from contactfe.case.material import HardeningKind, hardening_faults, too_soft
from contactfe.case.steels import grades
from contactfe.case.table import Reading, Table, key, keys
from contactfe.errors import InputError


def _new(name: str) -> str:
    """A name that stands for this grade alone, as it is written."""
    if name != name.strip():
        raise InputError("must not begin or end with a blank")
    if name in {grade.name for grade in grades()}:
        raise InputError("is the name of a built-in steel; choose another")
    return checked_name(name)


def named(tables: object) -> object:
    """The tables by their names. Raises InputError for the keys of one that has none."""
    if isinstance(tables, Mapping) and tables:
        known = keys(GradeTable)
        if all(name in known and not isinstance(at, Mapping) for name, at in tables.items()):
            raise InputError('has no name; head it [grade."NAME"], by a name of your own')
    return tables


GradeName = Annotated[Text, AfterValidator(_new)]


@dataclass(frozen=True, kw_only=True)
class GradeTable(Table):
    """A steel of one's own, named as `steel` wherever a built-in one may be.

    With over, yield and ultimate are lists: each value holds for thickness over that in its place,
    up to the next. `contactfe catalogue` has the steels that are built in.
    """

    young: Annotated[Stress, key("Young's modulus", "205 GPa")]
    poisson: Annotated[Poisson, key("Poisson's ratio", 0.3)]
    over: Annotated[
        ThicknessEdges,
        key(
            "thicknesses over which the bands begin, the first 0; one band without it",
            ["0 mm", "100 mm"],
        ),
    ] = (0.0,)
    yield_strength: Annotated[
        Strengths, key("yield strength, or one for each band", "420 MPa", name="yield")
    ]
    ultimate: Annotated[
        Strengths | None,
        key("tensile strength, or one for each band; some clauses need it", "750 MPa"),
    ] = None
    hardening: Annotated[
        StressFromZero | None,
        key(
            "plastic modulus, the slope of the yield strength over plastic strain, at every"
            " thickness; at most a tenth of young; elastic, perfectly plastic without it",
            "2 GPa",
        ),
    ] = None
    hardening_kind: Annotated[
        HardeningKind, key("whether the yield surface grows or moves, beside hardening")
    ] = "isotropic"
    largest: Annotated[
        Length, key("greatest thickness that it is made in; any without it", "200 mm")
    ] = field(default=float("inf"))
    source: Annotated[Name, key("where the values are from", "mill certificate 7731")]

    def faults(self, written: Mapping[str, Any], reading: Reading) -> Iterator[tuple[str, str]]:
        """As many strengths as bands, and values that belong together."""
        count = len(self.over)
        columns = {"yield": self.yield_strength, "ultimate": self.ultimate}
        uneven = [name for name, held in columns.items() if held and len(held) != count]
        for name in uneven:
            yield (
                name,
                f"must hold as many values as over, {count}, not {len(columns[name] or ())}"
                if count > 1
                else "must be one value, or state over, the thicknesses that each begins at",
            )
        for fy, fu in zip(self.yield_strength, self.ultimate or (), strict=False):
            if fu < fy:
                least, found = (reading.shown(strength, "stress") for strength in (fy, fu))
                yield "ultimate", f"must be at least the yield strength, {least}, not {found}"
                break
        if self.largest <= self.over[-1]:
            last = reading.shown(self.over[-1], "length")
            yield "largest", f"must be greater than the last value of over, {last}"
        if soft := too_soft(written, self.young, self.yield_strength):
            yield "", soft
        yield from hardening_faults(written, self.young, self.hardening or 0.0, reading)

    def grade(self, name: str) -> Grade:
        """The grade that it states, by the name of its table."""
        ultimate = self.ultimate or (None,) * len(self.over)
        rows = zip(self.over, self.yield_strength, ultimate, strict=True)
        return Grade(
            name=name,
            young=self.young,
            poisson=self.poisson,
            bands=tuple(Band(*row) for row in rows),
            largest=dict.fromkeys(PRODUCTS, self.largest),
            source=f"{self.source}, as the case states it",
            elastic_source="stated in the case",
            hardening=self.hardening or 0.0,
            hardening_kind=self.hardening_kind,
        )
