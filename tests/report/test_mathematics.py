"""Formulas as trees: the printed form again, sign for sign, and its numbers."""

import math
import pkgutil
import re
from importlib import import_module
from types import SimpleNamespace as Given

import pytest

import contactfe.codes
import contactfe.hand
from contactfe.hand import hertz, round_section
from contactfe.hand.formula import Formula, held
from contactfe.report.mathematics import by_numbers, by_symbols, symbol


def _formulas():
    for package in (contactfe.hand, contactfe.codes):
        for module in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            for one in vars(import_module(module.name)).values():
                if isinstance(one, Formula) and one.form is not None:
                    yield one.key, one


FORMULAS = dict(_formulas())


def _value(tree, values):
    """What a tree comes to; it is read as it is drawn, so a bracket that lacks is another value."""
    return eval(_written(tree, values), {"__builtins__": {}}, _NAMES)


_NAMES = {
    "sqrt": math.sqrt, "ln": math.log, "exp": math.exp, "sin": math.sin, "cos": math.cos,
    "tan": math.tan, "arctan": math.atan, "arccos": math.acos, "sinh": math.sinh, "min": min,
    "max": max, "abs": abs, "π": math.pi,
}  # fmt: skip


def _written(tree, values):  # noqa: PLR0911
    if isinstance(tree, str):
        return values.get(tree, tree).replace("−", "-")
    match tree:
        case {"row": parts}:
            return "".join(_written(part, values) for part in parts)
        case {"frac": [over, under]}:
            return f"(({_written(over, values)})/({_written(under, values)}))"
        case {"root": of}:
            return f"sqrt({_written(of, values)})"
        case {"power": [base, power]}:
            return f"{_written(base, values)}**({_written(power, values)})"
        case {"brackets": of}:
            return f"({_written(of, values)})"
        case {"op": sign}:
            return {"·": "*", "−": "-"}.get(sign, sign)
        case {"symbol": letter}:
            return letter
    raise AssertionError(tree)


class _Worked:
    """A form with a value of its own for each name, as the writer of numbers wants it."""

    def __init__(self, form):
        self.form = form
        names = dict.fromkeys(re.findall(r"\{(\w+)\}", form))
        self.numbers = {name: 0.3 + 0.07 * k for k, name in enumerate(names)}
        self.given = {n: Given(value=v, dimension=None, symbol=n) for n, v in self.numbers.items()}


@pytest.mark.parametrize("key", sorted(FORMULAS))
def test_a_tree_is_worth_what_the_printed_form_is(key):
    worked = _Worked(FORMULAS[key].form)
    plain = worked.form
    for sign, code in (
        ("·", "*"), ("−", "-"), ("^(", "**("), ("√(", "sqrt("),
        ("²", "**2"), ("³", "**3"), ("⁴", "**4"), ("{", "v_"), ("}", ""),
    ):  # fmt: skip
        plain = plain.replace(sign, code)
    names = {f"v_{name}": value for name, value in worked.numbers.items()}

    def worth(of):
        try:
            return of()
        except (ValueError, ZeroDivisionError) as error:  # these numbers may be out of a domain
            return type(error)

    expected = worth(lambda: eval(plain, {"__builtins__": {}}, _NAMES | names))
    tree = by_numbers(worked, lambda value, _: repr(value))
    got = worth(lambda: _value(tree, {}))
    if isinstance(expected, complex | type):
        assert type(got) is type(expected)
    else:
        assert got == pytest.approx(expected, rel=1e-12)


def test_symbols_and_numbers_with_units():
    worked = hertz.half_width.worked(1500.0, 75.0, 115384.6)
    parts = list(_parts(by_symbols(worked)))
    assert [part for part in parts if "symbol" in part] == [
        symbol(of) for of in ("q", "R", "π", "E*")
    ]
    (fraction,) = (part for part in parts if isinstance(part, dict) and "frac" in part)
    assert by_symbols(worked) == {"root": fraction}
    numbers = list(_parts(by_numbers(worked, held)))
    assert {"1500 N/mm", "75 mm", "4"} <= {part for part in numbers if isinstance(part, str)}


def test_a_number_with_a_unit_stands_in_brackets_before_a_power():
    tree = by_numbers(round_section.area.worked(150.0, 100.0), held)
    assert {"power": [{"brackets": "150 mm"}, "2"]} in list(_parts(tree))


def _parts(tree):
    yield tree
    if isinstance(tree, dict):
        for of in tree.values():
            for one in of if isinstance(of, list) else [of]:
                yield from _parts(one)


@pytest.mark.parametrize(
    ("written", "letter", "index", "mark"),
    [
        ("q", "q", "", ""), ("p0", "p", "0", ""), ("E*", "E", "", "∗"), ("E1'", "E", "1", "′"),
        ("N'Rd", "N", "Rd", "′"), ("Vpl,T,Rd", "V", "pl,T,Rd", ""), ("σx,1", "σ", "x,1", ""),
    ],
)  # fmt: skip
def test_symbols(written, letter, index, mark):
    assert symbol(written) == {"symbol": letter, "index": index, "mark": mark}
