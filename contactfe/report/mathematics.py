"""A formula as a tree that every writer can set: fractions, roots, powers, symbols with indices.

It is made from the printed form of a formula, one expression on a line
(:mod:`contactfe.hand.typeset`), which but for its signs is an expression of Python. A tree is a
text, set upright, or a record: ``row`` of parts side by side; ``frac`` of two; ``root`` of one;
``power`` of two; ``brackets`` round one; ``symbol``, a letter, with ``index`` and ``mark``; ``op``
between two.
"""

import ast
import re
from collections.abc import Callable

from contactfe.hand.formula import Worked
from contactfe.hand.quantities import Dimension
from contactfe.report.blocks import Formula

_SIGNS = {
    "·": "*", "−": "-", "²": "**2", "³": "**3", "⁴": "**4", "^(": "**(", "√(": "sqrt(",
    "{": " ", "}": " ",
}  # fmt: skip
_SIGN = re.compile("|".join(map(re.escape, _SIGNS)))

_SUM, _PRODUCT, _POWER, _ATOM = range(4)
_BINDS: dict[type[ast.operator], tuple[int, str]] = {
    ast.Add: (_SUM, "+"), ast.Sub: (_SUM, "−"), ast.Mult: (_PRODUCT, "·"),
}  # fmt: skip

_NAME = re.compile(r"([Δ½]?)(\w)([*'′]?)(.*?)(['′]?)")


def by_symbols(worked: Worked) -> Formula | None:
    """The form of a formula with its symbols; None without one."""
    return _typeset(worked, lambda name: symbol(worked.given[name].symbol))


def by_numbers(worked: Worked, text: Callable[[float, Dimension | None], str]) -> Formula | None:
    """The form with its numbers put in, each written by ``text``; None without one."""

    def number(name: str) -> Formula:
        value = worked.given[name].value
        shown = value if isinstance(value, str) else text(value, worked.given[name].dimension)
        return {"brackets": shown.replace("-", "−")} if shown.startswith("-") else shown

    return _typeset(worked, number)


def symbol(written: str) -> Formula:
    """A symbol as formulas have it on a line: the first letter with the rest as its index.

    >>> symbol("σvM"), symbol("E*"), symbol("class")
    ({'symbol': 'σ', 'index': 'vM', 'mark': ''}, {'symbol': 'E', 'index': '', 'mark': '∗'}, 'class')
    """
    parts = re.split(r"([·/])", written)
    if len(parts) > 1:
        return {"row": [{"op": part} if part in {"·", "/"} else symbol(part) for part in parts]}
    found = _NAME.fullmatch(written)
    if found is None or re.fullmatch("[a-z]{4,}", written):
        return written
    before, letter, mark, index, prime = found.groups()
    mark = (mark + prime).replace("*", "∗").replace("'", "′")
    if "²" in index:  # v², as of an energy
        return {"power": [symbol(written.replace("²", "")), "2"]}
    one: Formula = {"symbol": letter, "index": index.lstrip(","), "mark": mark}
    return {"row": [before, one]} if before else one


def _typeset(worked: Worked, name: Callable[[str], Formula]) -> Formula | None:
    if worked.form is None:
        return None
    source = _SIGN.sub(lambda sign: _SIGNS[sign.group()], worked.form)
    return _Setter(source.strip(), name).tree()


class _Setter:
    """Sets an expression of Python, its names by a function of their own."""

    def __init__(self, source: str, name: Callable[[str], Formula]) -> None:
        self._source, self._name = source, name

    def tree(self) -> Formula:
        """The whole."""
        return self._set(ast.parse(self._source, mode="eval").body)

    def _set(self, node: ast.expr, least: int = _SUM) -> Formula:
        """A part, in brackets where it binds less than what it stands in."""
        tree, binds = self._part(node)
        return {"brackets": tree} if binds < least else tree

    def _part(self, node: ast.expr) -> tuple[Formula, int]:
        match node:
            case ast.Name(id="π"):
                return {"symbol": "π", "index": "", "mark": ""}, _ATOM
            case ast.Name(id=name):
                tree = self._name(name)
                return tree, _PRODUCT if isinstance(tree, str) and " " in tree else _ATOM
            case ast.Constant():
                return ast.get_source_segment(self._source, node) or repr(node.value), _ATOM
            case ast.UnaryOp(operand=operand):
                return {"row": ["−", self._set(operand, _PRODUCT)]}, _SUM
            case ast.BinOp():
                return self._joined(node)
            case ast.Call(func=ast.Name(id=function), args=args):
                return self._called(function, args), _ATOM
        raise AssertionError(f"{self._source}: no part of a form")

    def _joined(self, node: ast.BinOp) -> tuple[Formula, int]:
        match node.op:
            case ast.Div():
                return {"frac": [self._set(node.left), self._set(node.right)]}, _PRODUCT
            case ast.Pow():
                return {"power": [self._set(node.left, _ATOM), self._set(node.right)]}, _POWER
        binds, sign = _BINDS[type(node.op)]
        after = _PRODUCT if sign == "−" else binds
        first = _SUM if isinstance(node.left, ast.UnaryOp) else binds  # −3·c needs no brackets
        parts: list[Formula] = [
            self._set(node.left, first), {"op": sign}, self._set(node.right, after)
        ]  # fmt: skip
        return {"row": parts}, binds

    def _called(self, function: str, args: list[ast.expr]) -> Formula:
        if function == "sqrt":
            return {"root": self._set(args[0])}
        listed: list[Formula] = []
        for arg in args:
            listed += [", ", self._set(arg)]
        return {"row": [function, {"brackets": {"row": listed[1:]}}]}
