"""A formula as it is printed, from the syntax tree of its own function.

``form_of`` writes the expression that a function returns, with each argument in braces. A local
name stands for the expression that it was given, unless the function says that the name is to be
shown as a symbol, ``c = shown("c", ...)``. What has no short form (a series, a search, a choice
between two formulas) has none here.
"""

import ast
import inspect
import textwrap
from collections.abc import Callable, Iterator, Mapping
from typing import Any

_SUM, _PRODUCT, _POWER, _ATOM = range(4)

_FUNCTIONS = {
    "sqrt": "√", "log": "ln", "exp": "exp", "sin": "sin", "cos": "cos", "tan": "tan",
    "arctan": "arctan", "atan": "arctan", "acos": "arccos", "sinh": "sinh",
    "max": "max", "maximum": "max", "min": "min", "minimum": "min", "abs": "abs",
}  # fmt: skip
_TRANSPARENT = frozenset({"float", "asarray", "written_as"})
_SUPERSCRIPTS = {"2": "²", "3": "³", "4": "⁴"}


class _WithoutNought(ast.NodeTransformer):
    """Leaves x and −x of x + 0 and 0 − x, which are how code has them never be −0."""

    def visit_BinOp(self, node: ast.BinOp) -> ast.expr:
        self.generic_visit(node)
        match node:
            case ast.BinOp(left=left, op=ast.Add(), right=ast.Constant(value=0.0)):
                return left
            case ast.BinOp(left=ast.Constant(value=0.0), op=ast.Sub(), right=right):
                return ast.UnaryOp(ast.USub(), right)
        return node


class _NoFormError(Exception):
    """The function has no short form."""


def form_of(function: Callable[..., Any], part: int | None = None) -> str | None:
    """What a function returns as an expression of its arguments; None where there is no short one.

    ``part`` picks one of several results. The expression uses + − · / ( ) , √( ) ² ³ ⁴ ^( ) π and
    the functions ln, exp, sin, cos, tan, arctan, arccos, sinh, min, max and abs; each
    argument stands in braces, and so does each name that the function has shown.

    >>> from contactfe.hand.hertz import half_width
    >>> form_of(half_width.__wrapped__)
    '√(4·{line_load}·{radius}/(π·{E_star}))'
    """
    source = textwrap.dedent(inspect.getsource(function))
    (tree,) = _WithoutNought().visit(ast.parse(source)).body
    assert isinstance(tree, ast.FunctionDef)
    arguments = [one.arg for one in (*tree.args.args, *tree.args.kwonlyargs)]
    names: dict[str, ast.expr | None] = dict.fromkeys(arguments)  # None: stands in braces
    try:
        result = _result(tree.body, names)
        if part is not None:
            if not isinstance(result, ast.Tuple):
                raise _NoFormError
            result = result.elts[part]
        return _Writer(source, names, inspect.getmodule(function).__dict__).write(result)
    except _NoFormError:
        return None


def _result(body: list[ast.stmt], names: dict[str, ast.expr | None]) -> ast.expr:
    """The expression that is returned; ``names`` gets what is assigned on the way to it."""
    for statement in body:
        match statement:
            case ast.Return(value=ast.expr() as value):
                return value
            case ast.Assign(targets=[target], value=value):
                for name, given in _assigned(target, value):
                    _assign(names, name, given)
            case ast.AnnAssign(target=ast.Name(id=name), value=ast.expr() as value):
                _assign(names, name, value)
            case ast.Expr():  # a check, a limit or the docstring
                pass
            case ast.If(body=[*_, ast.Raise()], orelse=[]):
                pass
            case _:
                raise _NoFormError
    raise _NoFormError


def _assigned(target: ast.expr, value: ast.expr) -> Iterator[tuple[str, ast.expr | None]]:
    """Names and what they stand for; None for one of several results of a function, which has to
    have shown them.
    """
    match target, value:
        case ast.Name(id=name), _:
            yield name, value
        case ast.Tuple(elts=targets), ast.Tuple(elts=values) if len(targets) == len(values):
            for one, given in zip(targets, values, strict=True):
                yield from _assigned(one, given)
        case ast.Tuple(elts=targets), _:
            for one in targets:
                if isinstance(one, ast.Name):
                    yield one.id, None


def _assign(names: dict[str, ast.expr | None], name: str, value: ast.expr | None) -> None:
    match value:
        case ast.Call(func=ast.Name(id="shown"), args=[ast.Constant(value=str(key)), *_]):
            assert key == name, f"{name} is shown as {key}"
            names[name] = None
        case _ if name in names:
            raise _NoFormError  # a name of two meanings
        case _:
            names[name] = value


class _Writer:
    """Writes expressions; ``names`` are local, ``scope`` has the constants of the module."""

    def __init__(
        self, source: str, names: Mapping[str, ast.expr | None], scope: Mapping[str, Any]
    ) -> None:
        self._source, self._names, self._scope = source, names, scope

    def write(self, node: ast.expr, within: int = _SUM) -> str:
        """An expression, in brackets where it binds less than what it stands in."""
        text, binds = self._written(node)
        return f"({text})" if binds < within else text

    def _written(self, node: ast.expr) -> tuple[str, int]:
        match node:
            case ast.Name(id=name) if name in self._names:
                of = self._names[name]
                return (f"{{{name}}}", _ATOM) if of is None else self._written(of)
            case ast.Name() | ast.Attribute():
                return self._constant(node)
            case ast.Constant(value=int() | float()):
                text = ast.get_source_segment(self._source, node) or repr(node.value)
                return text, _ATOM
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return "−" + self.write(operand, _PRODUCT), _SUM
            case ast.BinOp(left=left, op=op, right=right):
                return self._joined(left, op, right)
            case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name), args=[first, *rest]):
                return self._called(name, first, rest)
        raise _NoFormError

    def _called(self, name: str, first: ast.expr, rest: list[ast.expr]) -> tuple[str, int]:
        if name == "pow" and len(rest) == 1:
            return self._joined(first, ast.Pow(), rest[0])
        if name in _TRANSPARENT:
            return self._written(first)
        if name in _FUNCTIONS:
            return f"{_FUNCTIONS[name]}({', '.join(map(self.write, [first, *rest]))})", _ATOM
        raise _NoFormError

    def _joined(self, left: ast.expr, op: ast.operator, right: ast.expr) -> tuple[str, int]:
        match op:
            case ast.Add():
                return f"{self.write(left)} + {self._after(right, _SUM)}", _SUM
            case ast.Sub():
                return f"{self.write(left)} − {self._after(right, _PRODUCT)}", _SUM
            case ast.Mult():
                return f"{self._first(left)}·{self._after(right, _PRODUCT)}", self._sign(left)
            case ast.Div():
                return f"{self._first(left)}/{self._after(right, _POWER)}", self._sign(left)
            case ast.Pow():
                base, power = self.write(left, _ATOM), self.write(right)
                return base + _SUPERSCRIPTS.get(power, f"^({power})"), _POWER
        raise _NoFormError

    def _first(self, node: ast.expr) -> str:
        """The first factor of a product, where a minus needs no brackets."""
        text, binds = self._written(node)
        return text if binds >= _PRODUCT or self._negative(node) else f"({text})"

    def _sign(self, first: ast.expr) -> int:
        """How a product binds: as a sum does where it begins with a minus."""
        return _SUM if self._negative(first) else _PRODUCT

    def _after(self, node: ast.expr, within: int) -> str:
        """What follows a sign: in brackets where it begins with a minus."""
        return f"({self.write(node)})" if self._negative(node) else self.write(node, within)

    def _negative(self, node: ast.expr) -> bool:
        match node:
            case ast.UnaryOp(op=ast.USub()):
                return True
            case ast.BinOp(left=left, op=ast.Mult() | ast.Div()):
                return self._negative(left)
            case ast.Name(id=name) if (of := self._names.get(name)) is not None:
                return self._negative(of)
        return False

    def _constant(self, node: ast.expr) -> tuple[str, int]:
        """A number by the name that the module has for it."""
        match node:
            case ast.Attribute(attr="pi") | ast.Name(id="pi"):
                return "π", _ATOM
            case ast.Name(id=name):
                value = self._scope.get(name)
            case ast.Attribute(value=ast.Name(id=module), attr=name):
                value = getattr(self._scope.get(module), name, None)
            case _:
                value = None
        if isinstance(value, int | float) and value >= 0:
            return repr(value), _ATOM
        raise _NoFormError
