"""The pure rooms say what goes in, what comes out, in which unit, and from where it is known."""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import pint
import pytest

from tests.rules import numpydoc
from tests.rules.tree import modules, syntax, within

PURE = (
    "materials.estimator",
    "materials.mesh",
    "materials.pricing",
    "materials.stock",
    "materials.drawing",
    "jobs.figures",
    "jobs.delivery",
)
PURE_OF_STUDIO = ("studio.money", "studio.env")
# Where formulas and figures of the trade live, and each must say from where it is known.
SOURCED = ("materials.estimator", "materials.stock", "jobs.figures", "jobs.delivery")
SOURCE = re.compile(
    r"common practice, no source|from memory|by definition|closed form|\bgeometry\b|\bSources?\b|References"
    r"|\b(?:ISO|EN|ASTM|BS|DIN|IEC|NIST|EUMOS|VDI)\b|\b(?:1[5-9]|20)[0-9]{2}\b"
)


@dataclass(frozen=True, slots=True)
class Described:
    """One public class or function of a pure room; ``owner`` is its class if it is a method."""

    place: str
    node: ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef
    owner: ast.ClassDef | None
    module: str
    module_text: str

    @property
    def docstring(self) -> numpydoc.Docstring:
        return numpydoc.read(ast.get_docstring(self.node) or "")


@cache
def units() -> pint.UnitRegistry:
    registry = pint.UnitRegistry()
    registry.define("each = []")
    return registry


def public(node: ast.Module | ast.ClassDef) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef]:
    for child in node.body:
        if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) and not child.name.startswith("_"):
            yield child


@cache
def described() -> tuple[Described, ...]:
    found = []
    for module, path in modules().items():
        if not any(within(module, room) for room in (*PURE, *PURE_OF_STUDIO)):
            continue
        text = ast.get_docstring(syntax(path)) or ""
        for node in public(syntax(path)):
            found.append(Described(f"{module}.{node.name}", node, None, module, text))
            if isinstance(node, ast.ClassDef):
                found += [
                    Described(f"{module}.{node.name}.{child.name}", child, node, module, text) for child in public(node)
                ]
    return tuple(found)


def functions() -> list[Described]:
    return [each for each in described() if isinstance(each.node, ast.FunctionDef | ast.AsyncFunctionDef)]


def decorators(node: ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) -> set[str]:
    return {ast.unparse(each).partition("(")[0].rpartition(".")[2] for each in node.decorator_list}


def parameters(each: Described) -> dict[str, str]:
    """Names in the signature's order with their annotations, without self."""
    spec = each.node.args
    arguments = [*spec.posonlyargs, *spec.args, *([spec.vararg] if spec.vararg else []), *spec.kwonlyargs]
    if spec.kwarg:
        arguments.append(spec.kwarg)
    if each.owner is not None and "staticmethod" not in decorators(each.node):
        arguments = arguments[1:]
    return {argument.arg: ast.unparse(argument.annotation) if argument.annotation else "" for argument in arguments}


def is_number(annotation: str) -> bool:
    return bool(re.search(r"\bfloat\b", annotation)) and "Callable" not in annotation


def names_unit(text: str) -> bool:
    """Whether a description holds a unit in brackets, or says which other value or text gives it."""
    return bool(numpydoc.BRACKET.search(text) or re.search(r"\bunits?\b|As in", text))


def own_statements(node: ast.AST) -> Iterator[ast.AST]:
    """The statements of a function without those of functions inside it."""
    for child in ast.iter_child_nodes(node):
        if not isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef | ast.Lambda):
            yield child
            yield from own_statements(child)


def report(faults: list[str]) -> None:
    assert not faults, "\n" + "\n".join(faults)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Area [m^2] and density [kg/m^3].", ["m^2", "kg/m^3"]),
        ("As Smith showed [1]_, a list ``[0.2, 0.8]`` of tuple[int] and a pair [x, y].", []),
        ("Mass ([kg]).", ["kg"]),
    ],
)
def test_only_units_are_read_as_units(text: str, found: list[str]) -> None:
    assert numpydoc.read(text).units() == found


def test_names_described_together_are_read_one_by_one() -> None:
    parameters = "a, b : float\n    Terms [m].\n*rest : float\n    More [m].\n"
    entries = numpydoc.read(f"Sum.\n\nParameters\n----------\n{parameters}\nReturns\n-------\nfloat").entries(
        "Parameters"
    )
    assert [entry.names for entry in entries] == [("a", "b"), ("rest",)]
    assert entries[0].text == "a, b : float\n    Terms [m]."


def test_everything_public_is_described() -> None:
    assert len(described()) > 40
    report([each.place for each in described() if not ast.get_docstring(each.node)])


def test_the_parameters_described_are_those_of_the_signature() -> None:
    faults = []
    for each in functions():
        said = [name for entry in each.docstring.entries("Parameters") for name in entry.names]
        if sorted(said) != sorted(parameters(each)):
            faults.append(f"{each.place}: takes {list(parameters(each))}, describes {said}")
    report(faults)


def fields(node: ast.ClassDef) -> dict[str, str]:
    """A dataclass's fields with their annotations."""
    lines = [line for line in node.body if isinstance(line, ast.AnnAssign)]
    return {line.target.id: ast.unparse(line.annotation) for line in lines}


def dataclasses() -> list[Described]:
    return [
        each for each in described() if isinstance(each.node, ast.ClassDef) and "dataclass" in decorators(each.node)
    ]


def test_the_attributes_described_are_fields() -> None:
    faults = []
    for each in dataclasses():
        said = [name for entry in each.docstring.entries("Attributes") for name in entry.names]
        unknown = [name for name in said if name not in fields(each.node)]
        if unknown:
            faults.append(f"{each.place}: has no field {', '.join(unknown)}")
    report(faults)


def test_what_comes_back_and_what_is_raised_is_described() -> None:
    faults = []
    for each in functions():
        sections = each.docstring.sections
        returns = ast.unparse(each.node.returns) if each.node.returns else "nothing stated"
        is_property = bool(decorators(each.node) & {"property", "cached_property"})
        if returns not in ("None", "NoReturn") and not is_property and not {"Returns", "Yields"} & set(sections):
            faults.append(f"{each.place}: returns {returns} without a Returns section")
        if any(isinstance(line, ast.Raise) for line in own_statements(each.node)) and "Raises" not in sections:
            faults.append(f"{each.place}: raises without a Raises section")
    report(faults)


def test_every_number_has_a_unit() -> None:
    faults = []
    for each in functions():
        annotations = parameters(each)
        for entry in each.docstring.entries("Parameters"):
            numbers = [name for name in entry.names if is_number(annotations.get(name, ""))]
            if numbers and not names_unit(entry.text):
                faults.append(f"{each.place}: {', '.join(numbers)} without a unit in brackets")
        if each.node.returns and is_number(ast.unparse(each.node.returns)):
            sections = each.docstring.sections
            if not names_unit(sections.get("Returns", "") + sections.get("Yields", "") + sections[""]):
                faults.append(f"{each.place}: returns a number without a unit in brackets")
    report(faults)


def test_every_number_held_has_a_unit() -> None:
    faults = []
    for each in dataclasses():
        numbers = {name for name, annotation in fields(each.node).items() if is_number(annotation)}
        entries = each.docstring.entries("Attributes")
        clear = {name for entry in entries if names_unit(entry.text) for name in entry.names}
        if entries and numbers - clear:
            faults.append(f"{each.place}: {', '.join(sorted(numbers - clear))} without a unit in brackets")
        elif numbers and not entries and not names_unit(each.docstring.text):
            faults.append(f"{each.place}: no unit in brackets")
    report(faults)


def test_every_unit_can_be_read() -> None:
    faults, read = [], 0
    for each in described():
        for text in each.docstring.units():
            try:
                units().parse_units(text)
                read += 1
            except (pint.errors.PintError, ValueError, AssertionError, TypeError):
                faults.append(f"{each.place}: [{text}] is not a unit")
    report(faults)
    assert read > 40


def test_every_formula_says_from_where_it_is_known() -> None:
    faults = [
        each.place
        for each in functions()
        if any(within(each.module, room) for room in SOURCED)
        and each.node.returns is not None
        and is_number(ast.unparse(each.node.returns))
        and any(is_number(annotation) for annotation in parameters(each).values())
        and not SOURCE.search(f"{each.module_text}\n{ast.get_docstring(each.node)}")
    ]
    report(faults)
