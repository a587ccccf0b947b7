"""Small sums in a lift file: a number, or text such as `bench_deg - 90` over the lift's set-up and the person's lengths."""

import ast
import operator
from collections.abc import Callable, Mapping
from functools import lru_cache

from lengthwise.errors import InputError, nearest

_BINARY: dict[type, Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}


def evaluate(value: float | str, names: Mapping[str, float]) -> float:
    """What `value` comes to.

    Raises:
        InputError: text that is not a sum of numbers and known names.
    """
    if not isinstance(value, str):
        return float(value)
    try:
        return _walk(_parsed(value), names, value)
    except SyntaxError:
        raise InputError(f"cannot read {value!r}; write a sum such as 'bench_deg - 90'", asked=value) from None
    except ZeroDivisionError:
        raise InputError(f"{value!r} divides by zero", asked=value) from None


@lru_cache(maxsize=4096)
def _parsed(text: str) -> ast.expr:
    return ast.parse(text, mode="eval").body


def _walk(node: ast.expr, names: Mapping[str, float], text: str) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.Name(id=name) if name in names:
            return float(names[name])
        case ast.Name(id=name):
            raise InputError(
                f"{text!r} uses {name!r}; known: {', '.join(nearest(name, names) or sorted(names))}",
                asked=name,
                allowed=sorted(names),
            )
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _BINARY:
            return _BINARY[type(op)](_walk(left, names, text), _walk(right, names, text))
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_walk(operand, names, text)
    raise InputError(f"cannot read {text!r}; only numbers, names and + - * / ( ) are allowed", asked=text)


def names_in(value: float | str) -> set[str]:
    """The names a value uses; an unreadable one gives none (its fault shows when it is evaluated)."""
    if not isinstance(value, str):
        return set()
    try:
        return {n.id for n in ast.walk(ast.parse(value, mode="eval")) if isinstance(n, ast.Name)}
    except SyntaxError:
        return set()
