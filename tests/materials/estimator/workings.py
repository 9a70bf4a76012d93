"""A working read back: the formula in words, evaluated over its terms."""

import ast
import math
import operator
from collections.abc import Callable, Iterable
from functools import cache
from typing import Any

import pint

from materials.estimator.lines import Term

_LINE_UNITS = {"m2": "m^2", "m3": "m^3", "each": "dimensionless"}
_SIGNS = {"×": "*", "÷": "/", "−": "-"}
_OPERATORS: dict[type[ast.operator], Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}


@cache
def registry() -> pint.UnitRegistry:
    """A registry for tests alone."""
    return pint.UnitRegistry()


def number_of(formula: str, terms: Iterable[Term]) -> float:
    """What the formula comes to in plain numbers."""
    return _evaluated(formula, terms, lambda term: term.value)


def quantity_of(formula: str, terms: Iterable[Term], unit: str) -> float:
    """What the formula comes to when each term carries its own unit, in the unit of a line."""
    found = _evaluated(
        formula, terms, lambda term: registry().Quantity(term.value, registry().parse_units(term.unit or ""))
    )
    return float(registry().Quantity(found).to(_LINE_UNITS.get(unit, unit)).magnitude)


def _evaluated(formula: str, terms: Iterable[Term], value_of: Callable[[Term], Any]) -> Any:
    by_label = {term.label: term for term in terms}
    text, values = formula, []
    # Longest first, so that a label that contains another is read whole.
    for label in sorted(by_label, key=len, reverse=True):
        if label in text:
            text = text.replace(label, f"\x00{len(values)}\x01")
            values.append(value_of(by_label[label]))
    assert len(values) == len(by_label), f"{formula} does not use every term of {list(by_label)}"
    text = text.replace("\x00", "_t").replace("\x01", "_").replace("rounded up", "rounded_up")
    for sign, plain in _SIGNS.items():
        text = text.replace(sign, plain)
    return _walk(ast.parse(text, mode="eval").body, values)


def _walk(node: ast.expr, values: list[Any]) -> Any:
    match node:
        case ast.BinOp(left, sign, right):
            return _OPERATORS[type(sign)](_walk(left, values), _walk(right, values))
        case ast.Constant(value):
            return value
        case ast.Name(name):
            return values[int(name.strip("_t"))]
        case ast.Call(ast.Name("rounded_up"), [inner]):
            found = registry().Quantity(_walk(inner, values)).to("dimensionless").magnitude
            return math.ceil(found - 1e-9)
    raise AssertionError(f"a formula holds {ast.dump(node)}")
