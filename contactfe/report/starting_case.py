"""A starting case: a file that runs as it is, with every key that may be added, commented out.

Keys, words, allowed values and examples are those of the records that read a case. What is stated
is invented.
"""

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal, get_args, get_origin

from contactfe.case import Case
from contactfe.case.display import DISPLAYS, ReportUnits
from contactfe.case.kinds import Number, Quantity, Several
from contactfe.case.table import Key, Table, keys
from contactfe.case.units import Dimension, dimension_of, example_of, known_units, parse_quantity
from contactfe.case.wording import listed
from contactfe.errors import InputError
from contactfe.report.files import aside
from contactfe.report.reference import toml, without

_WIDTH = 100
_REMARKS = 36  # column at which they begin

_STATED: Mapping[str, tuple[Any, Any]] = MappingProxyType(
    {
        "title": ("Example stop, invented", "Example stop, invented"),
        "post.held_by": ("beam shear", "beam shear"),
        "post.steel": ("EN 10025-2 S355", "ASTM A36"),
        "plate.width": ("400 mm", "16 in"),
        "plate.thickness": ("60 mm", "2.5 in"),
        "plate.held_by": ("rigid base", "rigid base"),
        "plate.steel": ("EN 10025-2 S355", "ASTM A36"),
        "load.force": ("120 kN", "27 kip"),
        "load.contact_length": ("300 mm", "12 in"),
        "report.units": ("SI", "US customary"),
    }
)
"""What the case states, in SI and in US customary units; all else is commented out."""

_SECTIONS: tuple[Mapping[str, tuple[str, str]], ...] = (
    {"name": ("solid", "solid"), "outside_diameter": ("150 mm", "6 in")},
    {"name": ("tube", "tube"), "outside_diameter": ("150 mm", "6 in"), "wall": ("25 mm", "1 in")},
)

_INSTEAD: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "post": ("young", "poisson", "yield", "ultimate", "hardening", "hardening_kind"),
        "plate": (
            "young",
            "poisson",
            "yield",
            "ultimate",
            "hardening",
            "hardening_kind",
            "spring",
        ),
        "load": ("line_load", "distribution"),
        "corner": ("line_load",),
        "cantilever": ("socket_depth", "socket_yield"),
        "motion": ("velocity", "level"),
        "motion.damper": ("length",),
        "contact_law": ("force", "approach", "exponent"),
        "grade": ("over",),
        "sweep": ("samples", "seed"),
        "section": ("designation", "bore", "mesh", "mesh_unit", "steel_thickness"),
    }
)
"""Keys of a table that belong to another choice than the one stated, so not beside all others."""

_ALONE = frozenset({"corner"})
"""Tables that do not stand beside others which are commented out."""

_EXAMPLES: Mapping[str, Any] = MappingProxyType(
    {
        "scale": 0.25,
        "post.poisson": 0.3,
        "plate.poisson": 0.3,
        "contact.friction": 0.15,
        "contact.angle": "10 deg",
        "check.yield_margin": 1.1,
        "cantilever.root": "fillet weld",
        "contact_law.restitution": 0.65,
    }
)
"""Of keys whose record has none, or none that suits this case."""


def write_starting_case(path: Path, units: ReportUnits) -> None:
    """Write it. Raises InputError where there is a file already, OSError where none can be made."""
    if path.exists() or path.is_symlink():
        raise InputError(f"{path}: is there already; name another file")
    with aside(path) as draft:
        draft.write_text(starting_case(path.name, units), encoding="utf-8", newline="\n")


def starting_case(name: str, units: ReportUnits) -> str:
    """The text of the file of that name."""
    return "\n".join(_Writer(units).lines(name)) + "\n"


class _Writer:
    """What writes the lines of a case in one of the two systems of units."""

    def __init__(self, units: ReportUnits) -> None:
        self._units = units

    def lines(self, name: str) -> Iterator[str]:
        """All of them."""
        yield from _remark(
            f"An invented stop, to be replaced by yours; it runs as it is: contactfe compare {name}"
        )
        yield from _remark(
            "Lines that begin with # and no space are optional: take the # away to state them."
            " Every quantity is text with its unit, of"
            f" {listed(list(known_units()))}, joined by * and /."
        )
        known = keys(Case)
        yield ""
        for key in known.values():
            if key.table is None:
                yield from self._line("", key)
        tables = [key for key in known.values() if key.table is not None]
        for key in sorted(tables, key=lambda key: not (key.needed or key.name == "report")):
            assert key.table is not None
            if key.name == "section":
                yield from self._sections(key.table)
            else:
                yield from self._table(key.name, key, key.table)

    def _table(self, path: str, key: Key, table: type[Table]) -> Iterator[str]:
        mark = "" if any(of.startswith(f"{path}.") for of in _STATED) else "#"
        yield ""
        yield from _remark(_first(table.__doc__ or key.words))
        if path in _ALONE:
            yield from _remark("Not beside [envelope] or [alignment].")
        head = f'{path}."own steel"' if path == "grade" else path
        yield f"{mark}[[{head}]]" if key.several and path != "grade" else f"{mark}[{head}]"
        yield from self._keys(path, table)

    def _keys(self, path: str, table: type[Table]) -> Iterator[str]:
        """The keys of a table, and then the tables in it."""
        known, instead = keys(table), _INSTEAD.get(path, ())
        for key in known.values():
            if key.name not in instead and key.table is None:
                yield from self._line(path, key)
        if instead:
            yield from self._instead(path, [known[name] for name in instead])
        for key in known.values():
            if key.name not in instead and key.table is not None:
                yield from self._table(f"{path}.{key.name}", key, key.table)

    def _sections(self, table: type[Table]) -> Iterator[str]:
        """The candidates; the last has what any may have beside."""
        known = keys(table)
        yield ""
        yield from _remark(_first(table.__doc__ or ""))
        for number, stated in enumerate(_SECTIONS):
            yield "[[section]]"
            for name, values in stated.items():
                yield from _with_remark(
                    f"{name} = {toml(self._of(values))}",
                    _says(known[name]) if number == len(_SECTIONS) - 1 else "",
                )
            if number < len(_SECTIONS) - 1:
                yield ""
        more = [key for key in known.values() if key.name not in _SECTIONS[-1]]
        instead = _INSTEAD["section"]
        for key in more:
            if key.name not in instead and key.table is None:
                yield from self._line("section", key)
        yield from self._instead("section", [known[name] for name in instead])
        for key in more:
            if key.table is not None:
                yield from self._table(f"section.{key.name}", key, key.table)

    def _line(self, path: str, key: Key) -> Iterator[str]:
        at = f"{path}.{key.name}" if path else key.name
        stated = _STATED.get(at)
        value = self._example(at, key) if stated is None else self._of(stated)
        mark = "#" if stated is None else ""
        yield from _with_remark(f"{mark}{key.name} = {toml(value)}", _says(key))

    def _instead(self, path: str, others: Sequence[Key]) -> Iterator[str]:
        """Keys that may be stated in place of others, as a remark."""
        yield from _remark("Where another choice is made above:")
        for key in others:
            at = f"{path}.{key.name}"
            text = f"[[{at}]]" if key.table else f"{key.name} = {toml(self._example(at, key))}"
            yield from _with_remark(f"#   {text}", _says(key))

    def _of(self, values: tuple[Any, Any]) -> Any:
        return values[list(DISPLAYS).index(self._units)]

    def _example(self, at: str, key: Key) -> Any:
        """An example of a key, in the units asked for."""
        example = key.default
        for kind in reversed(key.kinds):
            match kind:
                case Several(examples=examples):
                    example = examples
                case Quantity(dimension=dimension):
                    example = example_of(dimension)
                case _ if get_origin(kind) is Literal:
                    example = key.default or get_args(kind)[0]
        example = _EXAMPLES.get(at, key.examples[0] if key.examples else example)
        return self._shown(example, key.dimension)

    def _shown(self, example: Any, dimension: Dimension | None) -> Any:
        """An example in the units asked for, to two digits where it is not in them."""
        match example:
            case dict():
                return {name: self._shown(one, dimension) for name, one in example.items()}
            case list() | tuple():
                return [self._shown(one, dimension) for one in example]
            case str() if self._units == "US customary":
                return _customary(example, dimension)
        return example


def _customary(text: str, dimension: Dimension | None) -> str:
    """A quantity in customary units, to two digits; any other text as it is."""
    try:
        measured = dimension_of(text)
        unit = DISPLAYS["US customary"].unit(dimension or measured)
    except InputError:
        return text
    except KeyError:  # of a dimension that results never state
        return example_of(dimension or measured, us=True)
    value = float(f"{unit.of(parse_quantity(text, unit.dimension)):.2g}")
    return f"{value:.12g} {unit.name.replace('·', '*')}"


def _says(key: Key) -> str:
    """What a key is, what is allowed, and what holds without it."""
    allowed = ""
    for kind in key.kinds:
        match kind:
            case Number():
                allowed = kind.allowed
            case _ if get_origin(kind) is Literal and tuple not in key.kinds:
                allowed = listed([toml(one) for one in get_args(kind)], "or")
    default = "" if key.needed or key.table else without(key).replace("`", "")
    parts = (_first(key.words), allowed, f"{default} without it" if default else "")
    return "; ".join(filter(None, parts))


def _first(docstring: str) -> str:
    return " ".join(docstring.partition("\n\n")[0].split())


def _remark(text: str) -> Iterator[str]:
    yield from textwrap.wrap(text, _WIDTH, initial_indent="# ", subsequent_indent="# ")


def _with_remark(line: str, remark: str) -> Iterator[str]:
    """A line, and a remark beside it, whose further lines stand below."""
    if not remark:
        yield line
        return
    lines = textwrap.wrap(remark, _WIDTH - _REMARKS - 2)
    if len(line) >= _REMARKS:
        yield line
    else:
        yield f"{line:{_REMARKS}}# {lines.pop(0)}"
    yield from (f"#{'':{_REMARKS - 1}}# {more}" for more in lines)
