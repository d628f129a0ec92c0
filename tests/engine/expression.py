"""Evaluates the printed expression of a formula.

The grammar is Python's arithmetic, except that a space between two factors multiplies:
``t = C M**2``. Nothing but arithmetic, comparisons (inside ``where``), the functions below, ``pi``
and the symbols handed in is understood, so a printed expression cannot do anything else.
"""

import ast
import io
import math
import tokenize
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from scipy.special import jn_zeros

CONSTANTS = {"pi": math.pi}


@cache
def j0zero(n: float) -> float:
    """The n-th positive zero of the Bessel function J0."""
    return float(jn_zeros(0, int(n))[int(n) - 1])


FUNCTIONS: dict[str, tuple[Callable[..., float], int | None]] = {
    "sqrt": (math.sqrt, 1),
    "exp": (math.exp, 1),
    "tan": (math.tan, 1),
    "ln": (math.log, 1),
    "log10": (math.log10, 1),
    "erf": (math.erf, 1),
    "cbrt": (math.cbrt, 1),
    "asin": (math.asin, 1),
    "cos": (math.cos, 1),
    "sin": (math.sin, 1),
    "abs": (abs, 1),
    "min": (min, None),
    "max": (max, None),
    "j0zero": (j0zero, 1),
}
"""Ordinary functions by name, with the number of arguments (None: two or more)."""

SPECIAL = {"where": 3, "sum": 4}
"""Functions that do not evaluate all of their arguments, with the number of them."""

_WORDS = {"and", "or", "not"}
_ARITHMETIC: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: lambda a, b: a + b,
    ast.Sub: lambda a, b: a - b,
    ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b,
    ast.Pow: math.pow,
}
_COMPARISONS: dict[type[ast.cmpop], Callable[[float, float], bool]] = {
    ast.Lt: lambda a, b: a < b,
    ast.LtE: lambda a, b: a <= b,
    ast.Gt: lambda a, b: a > b,
    ast.GtE: lambda a, b: a >= b,
    ast.Eq: lambda a, b: a == b,
    ast.NotEq: lambda a, b: a != b,
}


class ExpressionError(ValueError):
    """The expression is not written in the grammar of printed expressions."""


def right_side(expression: str) -> str:
    """What stands right of the first equals sign: ``C M**2`` of ``t = C M**2``."""
    left, equals, right = expression.partition("=")
    if not equals or not left.strip().isidentifier():
        raise ExpressionError(f"an expression reads 'symbol = ...', not {expression!r}")
    return right.strip()


@dataclass(frozen=True)
class Expression:
    """A parsed right-hand side."""

    text: str
    tree: ast.expr

    @classmethod
    def parse(cls, text: str) -> "Expression":
        """Raises ExpressionError where the text leaves the grammar."""
        try:
            tree = ast.parse(_with_products(text), mode="eval").body
        except SyntaxError as error:
            raise ExpressionError(f"{text!r}: {error.msg}") from None
        parsed = cls(text, tree)
        _number_like(tree, text)
        return parsed

    @property
    def names(self) -> set[str]:
        """The symbols that must be handed in (without those bound by ``sum``)."""
        return {_unescaped(name) for name in _free(self.tree)} - set(CONSTANTS)

    @property
    def branches(self) -> dict[tuple[int, bool], str]:
        """Every way a ``where`` can go, in words, keyed as :meth:`evaluate` reports visits."""
        return {
            (node.col_offset, way): f"{ast.unparse(node.args[0])} is {'true' if way else 'false'}"
            for node in ast.walk(self.tree)
            if isinstance(node, ast.Call) and _called(node) == "where"
            for way in (True, False)
        }

    @property
    def thresholds(self) -> set[float]:
        """The numbers that stand in conditions: where one branch hands over to another."""
        return {
            float(number.value)
            for node in ast.walk(self.tree)
            if isinstance(node, ast.Call) and _called(node) == "where"
            for number in ast.walk(node.args[0])
            if isinstance(number, ast.Constant) and isinstance(number.value, int | float)
        }

    def evaluate(self, numbers: Mapping[str, float], visited: set[tuple[int, bool]] | None = None) -> float:
        """The value at ``numbers``; the branches taken are added to ``visited``.

        Raises KeyError for a symbol without a number, ArithmeticError or ValueError where the
        arithmetic has no real answer.
        """
        seen = set() if visited is None else visited
        return _value(self.tree, {_escaped(name): value for name, value in numbers.items()}, seen)

    def terms(self, numbers: Mapping[str, float]) -> list[float]:
        """The values of the terms that the outermost plus and minus signs join."""
        escaped = {_escaped(name): value for name, value in numbers.items()}
        return [_value(term, escaped, set()) for term in _terms(self.tree)]


def _with_products(text: str) -> str:
    """The text with ``*`` written wherever a space multiplies."""
    try:
        tokens = list(tokenize.generate_tokens(io.StringIO(text.strip()).readline))
    except (tokenize.TokenError, SyntaxError, IndentationError) as error:
        raise ExpressionError(f"{text!r}: {error.args[0]}") from None
    words: list[str] = []
    previous: tokenize.TokenInfo | None = None
    for token in tokens:
        if token.type in (tokenize.NEWLINE, tokenize.NL, tokenize.ENDMARKER):
            continue
        if token.type not in (tokenize.NAME, tokenize.NUMBER, tokenize.OP):
            raise ExpressionError(f"{text!r}: {token.string!r} is not arithmetic")
        if previous is not None and _ends_factor(previous) and _starts_factor(token):
            spaced = token.start != previous.end
            call = token.string == "(" and previous.string in FUNCTIONS.keys() | SPECIAL.keys()
            if not call and not spaced:
                raise ExpressionError(
                    f"{text!r}: write a space or * between {previous.string!r} and {token.string!r}"
                )
            if not call:
                words.append("*")
        words.append(_escaped(token.string) if token.type == tokenize.NAME else token.string)
        previous = token
    return " ".join(words)


def _ends_factor(token: tokenize.TokenInfo) -> bool:
    if token.type == tokenize.NAME:
        return token.string not in _WORDS
    return token.type == tokenize.NUMBER or token.string == ")"


def _starts_factor(token: tokenize.TokenInfo) -> bool:
    if token.type == tokenize.NAME:
        return token.string not in _WORDS
    return token.type == tokenize.NUMBER or token.string == "("


def _escaped(name: str) -> str:
    """The one Greek letter that Python keeps for itself, under another name."""
    return "_lambda_" if name == "lambda" else name


def _unescaped(name: str) -> str:
    return "lambda" if name == "_lambda_" else name


def _called(node: ast.Call) -> str:
    return node.func.id if isinstance(node.func, ast.Name) else ""


def _number_like(node: ast.expr, text: str) -> None:
    """Refuse whatever is not arithmetic, before anything is evaluated."""
    match node:
        case ast.Constant(value=int() | float()) if not isinstance(node.value, bool):
            return
        case ast.Name():
            if node.id in FUNCTIONS or node.id in SPECIAL:
                raise ExpressionError(f"{text!r}: {node.id} needs brackets")
        case ast.UnaryOp(op=ast.USub() | ast.UAdd()):
            _number_like(node.operand, text)
        case ast.BinOp() if type(node.op) in _ARITHMETIC:
            _number_like(node.left, text)
            _number_like(node.right, text)
        case ast.Call():
            _call_like(node, text)
        case _:
            raise ExpressionError(f"{text!r}: {ast.unparse(node)} is not arithmetic")


def _call_like(node: ast.Call, text: str) -> None:
    name, count = _called(node), len(node.args)
    if node.keywords or not (name in FUNCTIONS or name in SPECIAL):
        raise ExpressionError(f"{text!r}: {ast.unparse(node)} calls no function known here")
    wanted = SPECIAL[name] if name in SPECIAL else FUNCTIONS[name][1]
    if count != wanted if wanted is not None else count < 2:
        raise ExpressionError(f"{text!r}: {name} takes {wanted or 'two or more'} arguments, not {count}")
    rest = node.args
    if name == "where":
        _condition_like(rest[0], text)
        rest = rest[1:]
    elif name == "sum" and not isinstance(rest[0], ast.Name):
        raise ExpressionError(f"{text!r}: sum counts with a name, not {ast.unparse(rest[0])}")
    for argument in rest:
        _number_like(argument, text)


def _condition_like(node: ast.expr, text: str) -> None:
    match node:
        case ast.Compare() if all(type(op) in _COMPARISONS for op in node.ops):
            for side in (node.left, *node.comparators):
                _number_like(side, text)
        case ast.BoolOp():
            for part in node.values:
                _condition_like(part, text)
        case ast.UnaryOp(op=ast.Not()):
            _condition_like(node.operand, text)
        case _:
            raise ExpressionError(f"{text!r}: {ast.unparse(node)} is not a condition")


def _free(node: ast.AST) -> set[str]:
    match node:
        case ast.Name():
            return {node.id}
        case ast.Call() if _called(node) == "sum" and isinstance(node.args[0], ast.Name):
            outside = _free(node.args[1]) | _free(node.args[2])
            return outside | (_free(node.args[3]) - {node.args[0].id})
        case ast.Call():
            return set().union(*(_free(argument) for argument in node.args))
        case _:
            return set().union(*(_free(child) for child in ast.iter_child_nodes(node)))


def _terms(node: ast.expr) -> Iterator[ast.expr]:
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub):
        yield from _terms(node.left)
        yield from _terms(node.right)
    else:
        yield node


def _value(node: ast.expr, numbers: Mapping[str, float], visited: set[tuple[int, bool]]) -> float:
    match node:
        case ast.Constant():
            assert isinstance(node.value, int | float)
            return float(node.value)
        case ast.Name():
            return CONSTANTS[node.id] if node.id in CONSTANTS else numbers[node.id]
        case ast.UnaryOp():
            inner = _value(node.operand, numbers, visited)
            return -inner if isinstance(node.op, ast.USub) else inner
        case ast.BinOp():
            left = _value(node.left, numbers, visited)
            return _ARITHMETIC[type(node.op)](left, _value(node.right, numbers, visited))
        case ast.Call() if _called(node) == "where":
            way = _truth(node.args[0], numbers, visited)
            visited.add((node.col_offset, way))
            return _value(node.args[1 if way else 2], numbers, visited)
        case ast.Call() if _called(node) == "sum":
            return _sum(node, numbers, visited)
        case ast.Call():
            function = FUNCTIONS[_called(node)][0]
            return function(*(_value(argument, numbers, visited) for argument in node.args))
        case _:
            raise ExpressionError(f"{ast.unparse(node)} is not arithmetic")


def _sum(node: ast.Call, numbers: Mapping[str, float], visited: set[tuple[int, bool]]) -> float:
    counter = node.args[0]
    assert isinstance(counter, ast.Name)
    first, last = (round(_value(end, numbers, visited)) for end in node.args[1:3])
    return math.fsum(
        _value(node.args[3], {**numbers, counter.id: float(n)}, visited) for n in range(first, last + 1)
    )


def _truth(node: ast.expr, numbers: Mapping[str, float], visited: set[tuple[int, bool]]) -> bool:
    match node:
        case ast.Compare():
            sides = [_value(side, numbers, visited) for side in (node.left, *node.comparators)]
            pairs = zip(node.ops, sides, sides[1:], strict=False)
            return all(_COMPARISONS[type(op)](left, right) for op, left, right in pairs)
        case ast.BoolOp():
            parts = (_truth(part, numbers, visited) for part in node.values)
            return all(parts) if isinstance(node.op, ast.And) else any(parts)
        case ast.UnaryOp():
            return not _truth(node.operand, numbers, visited)
        case _:
            raise ExpressionError(f"{ast.unparse(node)} is not a condition")
